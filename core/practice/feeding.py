"""What is put down at a feeding check: sizes of fish, food and its dates, what is fed."""

from __future__ import annotations

from typing import Any

from core.errors import Refusal
from core.practice import fish, stock
from core.practice.door import edit
from core.practice.feeding_typed import understand_fed, understand_gone, understand_often
from core.practice.feeding_view import view
from core.practice.feeding_work import shown
from core.practice.fish import Sized, StockLine
from core.practice.keep import Act, begin_stage, keep_figures, put
from core.records import read
from core.records.engine import query
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import Feeding, FishGroup, Food, Weighing

STAGE = "Feeding"


def _keep_worked(doing: OpenEdit, act: Act, visit_id: str, system_id: str) -> None:
    begin_stage(doing, visit_id, STAGE)
    found = view(visit_id, system_id)
    subject = f"{system_id} feeding"
    keep_figures(doing, act, visit_id, subject, shown(found.worked), whole=True)


def record_size(
    act: Act, visit_id: str, system_id: str, group_id: str, sized: Sized, line_id: str = ""
) -> str:
    """Put fish of one size on a line of the stock, or correct a line; return its id.

    Raises
    ------
    BadInput
        When the count is not known, or the length gives no weight.
    """
    group = read.one(FishGroup, group_id)
    alive = next((h.alive for h in stock.fish_here(system_id) if h.group.id == group_id), None)
    values = _line_values(fish.line_of(group, sized, alive), sized.typed)
    with edit("weighing", who=act.by, at=act.at, visit=visit_id) as doing:
        key = line_id or new_key()
        if line_id:
            doing.change(Weighing, line_id, **values, at=act.at, handling=None)
        else:
            doing.add(_row(key, visit_id, system_id, group_id, values, act))
        _keep_worked(doing, act, visit_id, system_id)
    return key


def _row(
    key: str, visit: str, system: str, group: str, values: dict[str, Any], act: Act
) -> Weighing:
    return Weighing(id=key, visit=visit, system=system, group=group, at=act.at, **values)


def _line_values(line: StockLine, typed: str) -> dict[str, Any]:
    counted = line.stock.count is not None
    return {
        "count": line.stock.count,
        "count_low": None if counted else line.stock.count_low,
        "count_high": None if counted else line.stock.count_high,
        "weight_g": line.stock.mean_weight_g,
        "length_cm": line.length_cm,
        "how": line.how,
        "typed": typed,
        "error_percent": line.stock.error_percent,
    }


def take_in_hand(act: Act, visit_id: str, system_id: str) -> int:
    """Put every fish weighed or measured in hand on a line of its own; return how many lines."""
    with edit("weights taken over", who=act.by, at=act.at, visit=visit_id) as doing:
        found = stock.untaken(visit_id, system_id)
        for handled in found:
            assert handled.group is not None
            line = stock.in_hand(read.one(FishGroup, handled.group), handled)
            values = _line_values(line, handled.weight_typed or handled.length_typed)
            values["handling"] = handled.id
            doing.add(_row(new_key(), visit_id, system_id, handled.group, values, act))
        if found:
            _keep_worked(doing, act, visit_id, system_id)
    return len(found)


def strike_line(act: Act, weighing_id: str, why: str) -> None:
    """Strike a line of the stock with a reason."""
    row = read.one(Weighing, weighing_id)
    with edit("weighing struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Weighing, weighing_id, why)
        _keep_worked(doing, act, row.visit, row.system)


def record_food(
    act: Act, visit_id: str, system_id: str, food_id: str = "", /, **columns: Any
) -> str:
    """Put down a bag or jar of food, or correct one; return its id.

    A new one of a name that this client had before brings its scoop with it.
    """
    if not food_id and not columns.get("name"):
        columns = {**columns, "name": "food"}
    with edit("food", who=act.by, at=act.at, visit=visit_id) as doing:
        if food_id:
            doing.change(Food, food_id, **columns)
        else:
            food_id = new_key()
            scoop = {"scoop_g": last_scoop(visit_id, columns["name"])}
            row = Food(id=food_id, visit=visit_id, system=system_id, **{**scoop, **columns})
            doing.add(row)
        _scoops_again(doing, visit_id, system_id)
        _keep_worked(doing, act, visit_id, system_id)
    return food_id


def _scoops_again(doing: OpenEdit, visit_id: str, system_id: str) -> None:
    """Work out again what was typed in scoops, when the scoop was weighed anew."""
    feeding = read.first(Feeding, visit=visit_id, system=system_id)
    foods = read.find(Food, visit=visit_id, system=system_id)
    if feeding is None or "scoop" not in feeding.fed_typed or not foods:
        return
    if foods[0].scoop_g is not None:
        grams = understand_fed(feeding.fed_typed, foods[0].scoop_g)
        doing.change(Feeding, feeding.id, fed_g=grams)


def strike_food(act: Act, food_id: str, why: str) -> None:
    """Strike a bag or jar with a reason."""
    row = read.one(Food, food_id)
    with edit("food struck", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Food, food_id, why)
        _keep_worked(doing, act, row.visit, row.system)


_SCOOP = """
SELECT f."scoop_g" FROM "food" f JOIN "visit" v ON v."id" = f."visit"
WHERE v."client" = (SELECT "client" FROM "visit" WHERE "id" = ?) AND lower(f."name") = lower(?)
  AND f."scoop_g" IS NOT NULL AND f."struck" IS NULL ORDER BY f."id" DESC LIMIT 1
"""


def last_scoop(visit_id: str, name: str) -> float | None:
    """Return what this client's scoop holds of a food of that name, as weighed before."""
    found = query(_SCOOP, (visit_id, name))
    return float(found[0][0]) if found else None


_FOOD_BEFORE = """
SELECT f."id" FROM "food" f JOIN "visit" v ON v."id" = f."visit"
WHERE f."system" = ? AND f."visit" <> ? AND f."struck" IS NULL
  AND v."day" <= (SELECT "day" FROM "visit" WHERE "id" = ?)
ORDER BY v."day" DESC, f."id" LIMIT 1
"""


def food_as_last(act: Act, visit_id: str, system_id: str) -> str:
    """Put down the food of the visit before again, for its dates to be looked at; return its id.

    Raises
    ------
    Refusal
        When no earlier visit to this water has one, or one stands here already.
    """
    if read.first(Food, visit=visit_id, system=system_id) is not None:
        raise Refusal("A food stands here already.", "Correct it, or strike it first.")
    found = query(_FOOD_BEFORE, (system_id, visit_id, visit_id))
    if not found:
        raise Refusal("No earlier visit to this water has a food.", "Type its name.")
    old = read.one(Food, found[0][0])
    names = ("name", "kind", "protein_fraction", "opened", "use_by", "sealed", "scoop_g")
    return record_food(act, visit_id, system_id, **{n: getattr(old, n) for n in names})


def record_fed(act: Act, visit_id: str, system_id: str, /, **columns: Any) -> None:
    """Put down columns of what is fed, or correct them."""
    with edit("feeding", who=act.by, at=act.at, visit=visit_id) as doing:
        where = {"visit": visit_id, "system": system_id}
        put(doing, Feeding, where, {**columns, "at": act.at})
        _keep_worked(doing, act, visit_id, system_id)


def fed_columns(key: str, text: str, scoop_g: float | None) -> dict[str, Any]:
    """Return the columns that one answer in words stands for: ``fed``, ``often`` or ``gone``.

    Raises
    ------
    BadInput
        When it can not be read.
    """
    if key == "fed":
        return {"fed_g": understand_fed(text, scoop_g), "fed_typed": text.strip()}
    if key == "often":
        return {"every_days": understand_often(text)}
    minutes, left = understand_gone(text)
    return {"gone_min": minutes, "left_over": left}
