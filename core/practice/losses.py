"""Fish found dead, by date: what was told, and what it makes a day and of the stock."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from core.errors import BadInput
from core.fish import losses as rates
from core.practice.door import edit
from core.practice.keep import Act, begin_stage, keep_figure, put
from core.practice.kept import Standing, counted, local_day, standing
from core.practice.questions import GROUP, STOCK_BEFORE, of_group
from core.records import read
from core.records.journal import OpenEdit
from core.records.keys import new_key
from core.records.tables import Answer, Figure, FishGroup, Loss, System, Visit
from core.sourced import Step, working


@dataclass(frozen=True)
class Told:
    """Some dead fish as a person tells it; without days when nobody knows them."""

    number: int
    day: date | None = None
    day_to: date | None = None
    group: str | None = None
    note: str = ""


@dataclass(frozen=True)
class LossLine:
    """One line of the list of losses."""

    loss: Loss
    group: str
    """Name of the group; "" when it was not told."""
    percent: float | None
    """Share of the fish alive that morning; None when the day or the stock is not known."""


@dataclass(frozen=True)
class Summary:
    """All losses of one water: what they make a day, and of the stock."""

    lines: tuple[LossLine, ...]
    total: rates.Losses | None
    """None when there are none, or when no day at all is known."""
    dead: int
    stock: int | None
    stock_how: str
    sentence: str


def add_loss(act: Act, visit: str, system: str, told: Told) -> str:
    """Add dead fish to the history; return the row's id."""
    _check(act, told)
    row = Loss(id=new_key(), visit=visit, system=system, **vars(told))
    with edit("loss", who=act.by, at=act.at, visit=visit) as doing:
        begin_stage(doing, visit, "History")
        doing.add(row)
        where = {"visit": visit, "system": system, "question": "deaths"}
        put(doing, Answer, where, {"state": "value", "value": "yes", "at": act.at})
        keep_rates(doing, act, visit, system)
    return row.id


def change_loss(act: Act, loss_id: str, told: Told) -> None:
    """Correct a line of the losses; the journal keeps what stood."""
    _check(act, told)
    row = read.one(Loss, loss_id)
    with edit("loss", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.change(Loss, loss_id, **vars(told))
        keep_rates(doing, act, row.visit, row.system)


def strike_loss(act: Act, loss_id: str, why: str) -> None:
    """Strike a line of the losses, with the reason."""
    row = read.one(Loss, loss_id)
    with edit("loss", who=act.by, at=act.at, visit=row.visit) as doing:
        doing.strike(Loss, loss_id, why)
        keep_rates(doing, act, row.visit, row.system)


def _check(act: Act, told: Told) -> None:
    if told.number < 1:
        raise BadInput("A line of losses needs at least one dead fish.")
    if told.day and told.day_to and told.day_to < told.day:
        raise BadInput("The last day of a loss lies before its first.", "Turn the two round.")
    last = max((d for d in (told.day, told.day_to) if d), default=None)
    if last is not None and last > local_day(act.at):
        raise BadInput("That day is still to come.", "Give a day up to today, or leave it blank.")


def days_of(loss: Loss) -> rates.Loss:
    """Return a row as the calculation takes it: one day, a range, or open sides."""
    only = loss.day is not None and loss.day_to is None
    return rates.Loss(loss.number, loss.day, loss.day if only else loss.day_to)


def stock(
    rows: Iterable[Loss],
    groups: Iterable[FishGroup],
    stood: Mapping[str, Standing],
    said: Answer | None,
) -> tuple[int | None, str]:
    """Return how many fish there were before the losses, and how that is known.

    What was said for it at this visit holds. Otherwise it is the number that stood before
    the visit, of the one group that lost fish where all losses name the same, of all else.
    """
    if said is not None and said.state == "value" and said.value.isdigit():
        return int(said.value), "as told"
    named = {row.group for row in rows}
    only = next(iter(named)) if len(named) == 1 else None
    wanted = [g for g in groups if only is None or g.id == only]
    numbers = [_stood(g, stood) for g in wanted]
    if not numbers or None in numbers:
        return None, ""
    return sum(n for n in numbers if n is not None), "as kept before this visit"


def _stood(group: FishGroup, stood: Mapping[str, Standing]) -> int | None:
    before = counted(stood.get(GROUP + group.id))
    if before is not None:
        return before
    return 1 if group.single and group.count is None else group.count


def loss_summary(visit: Visit, system: System) -> Summary:
    """Return the losses told at a visit, with what they make a day and of the stock."""
    groups = read.find(FishGroup, system=system.id)
    rows = sorted(
        read.find(Loss, visit=visit.id, system=system.id),
        key=lambda r: (r.day or r.day_to or date.max, r.id),
    )
    said = read.first(Answer, visit=visit.id, system=system.id, question=STOCK_BEFORE)
    stood = standing(visit, system, [of_group(g) for g in groups])
    return summed(tuple(rows), groups, stood, said)


def summed(
    rows: tuple[Loss, ...],
    groups: tuple[FishGroup, ...],
    stood: Mapping[str, Standing],
    said: Answer | None,
) -> Summary:
    """Return losses with what they make a day and of the stock; see `stock` for the rest."""
    alive, how = stock(rows, groups, stood, said)
    names = {g.id: g.name for g in groups}
    lines = tuple(LossLine(r, names.get(r.group or "", ""), _share(r, rows, alive)) for r in rows)
    dead = sum(r.number for r in rows)
    total, words = _total(rows, alive)
    return Summary(lines, total, dead, alive, how, words)


def _share(row: Loss, rows: tuple[Loss, ...], alive: int | None) -> float | None:
    if row.day is None or row.day_to is not None or alive is None:
        return None
    before = sum(r.number for r in rows if (r.day_to or r.day or row.day) < row.day)
    left = alive - before
    return rates.loss_percent.plain(row.number, left) if 0 < row.number <= left else None


def _total(rows: tuple[Loss, ...], alive: int | None) -> tuple[rates.Losses | None, str]:
    known = sorted(d for r in rows for d in (r.day, r.day_to) if d)
    if not rows:
        return None, ""
    dead = sum(r.number for r in rows)
    if not known:
        return None, f"{dead} dead, on days that nobody knows: no rate can be given."
    if alive is not None and dead > alive:
        text = f"{dead} dead are more than the {alive} fish kept: say how many there were before."
        return rates.losses_between(map(days_of, rows), known[0], known[-1]), text
    found = rates.losses_between(map(days_of, rows), known[0], known[-1], alive)
    return found, f"{found.sentence.rstrip('.')}; {_a_day(found)} a day."


def _a_day(found: rates.Losses) -> str:
    low, high = f"{found.per_day_least:.1f}", f"{found.per_day_most:.1f}"
    return low if low == high else f"{low} to {high}"


def keep_rates(doing: OpenEdit, act: Act, visit: str, system: str) -> None:
    """Keep the figures of the losses as they now are; strike those that no longer hold."""
    found = loss_summary(read.one(Visit, visit), read.one(System, system))
    subject = f"{system} losses"
    now = {} if found.total is None else dict(_figures(found.total, found.stock))
    for name, (value, steps) in now.items():
        keep_figure(doing, act, visit, subject, name, value, steps)
    for figure in read.find(Figure, visit=visit, subject=subject):
        if figure.name not in now:
            doing.strike(Figure, figure.id, "the losses were corrected")


def _figures(
    total: rates.Losses, alive: int | None
) -> Iterable[tuple[str, tuple[float, list[Step]]]]:
    days = (total.last - total.first).days + 1
    counts = {"": total.most}
    if total.least != total.most:
        counts = {", at least": total.least, ", at most": total.most}
    for words, dead in counts.items():
        with working() as steps:
            value = rates.losses_per_day(dead, days)
        yield f"losses a day{words}", (value, steps)
        if total.percent_most is not None and alive is not None:
            with working() as steps:
                value = rates.loss_percent(dead, alive)
            yield f"losses of the stock{words}", (value, steps)
