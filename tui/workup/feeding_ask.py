"""Dialogs of the feeding check: a net of fish, a jar, a rise, a held ration, the filter model."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from datetime import date

from core import dates
from core.errors import BadInput
from core.feeding.gates import Gate
from core.numbers import figures, plain
from core.practice.feeding_model import Asked
from core.practice.feeding_plan import Rise, gate_of, hold_words, planned, usual_hold
from core.practice.feeding_view import FeedingView
from core.practice.fish import Sized, net_of_fish, weight_words
from core.units import parse
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths
from tui.workup.feeding_rows import food_fields

WIDE = Widths(label=24, value=20)


class Offered(FormDialog):
    """A dialog that comes filled in: `f` makes it as it is, or rows are changed first."""

    OPENS = False
    REMEMBERS = False


def _number(value: float, unit: str = "") -> Entry:
    return Entry(f"{plain(value)} {unit}".strip(), value)


def net(
    seen: FeedingView, group_id: str, finish: Callable[[str, Sized], Awaitable[None]]
) -> FormDialog:
    """Return the dialog that weighs fish together: gross, tare, number."""
    groups = tuple(Choice("", h.group.id, h.group.name) for h in seen.here)
    first = next((c for c in groups if c.value == group_id), groups[0])
    alive = seen.alive(first.value)
    again = "2350 g, or 2350 2410 g weighed twice"
    fields = [
        Field("group", "Whose fish", "pick", choices=groups, required=True),
        Field("gross", "Net and fish, g", example=again, hint=again, required=True),
        Field("tare", "Net alone, wet", "quantity", "mass", "g", 0, 1e6, example="1100 g"),
        Field("in_net", "Fish in the net", "count", low=1, high=10**8, required=True),
        Field("stand_for", "Stands for how many", "count", low=1, high=10**8, hint="all alike"),
    ]

    def made(answers: Answers) -> Sized:
        in_net = int(answers["in_net"].number)
        stand_for = int(answers["stand_for"].number) if "stand_for" in answers else in_net
        tare = answers["tare"].number if "tare" in answers else 0.0
        return net_of_fish(_several(answers["gross"].words), tare, in_net, stand_for)

    def preview(answers: Answers) -> str:
        if not {"gross", "in_net"} <= answers.keys():
            return ""
        try:
            found = made(answers)
        except BadInput as error:
            return f"{error.sentence} {error.todo}"
        assert found.weight_g is not None
        spread = "" if found.error_percent is None else f" ±{figures(found.error_percent, 2)} %"
        return f"{weight_words(found.weight_g)} each{spread}, for {found.count} fish."

    async def done(answers: Answers) -> None:
        await finish(answers["group"].words, made(answers))

    start: Answers = {"group": Entry(first.label, first.value)}
    if alive is not None:
        start["stand_for"] = _number(alive)
    return FormDialog("Weigh fish together", fields, done, preview, start, WIDE)


def _several(text: str) -> list[float]:
    """Return one or several weights from a line: ``2350 2410 g``, ``2.35 kg; 2.41 kg``."""
    parts = [part.strip() for part in text.replace(";", "\n").splitlines()]
    if len(parts) == 1:
        numbers = parts[0].split()
        unit = numbers.pop() if len(numbers) > 1 and numbers[-1].isalpha() else "g"
        parts = [f"{number} {unit}" for number in numbers]
    try:
        return [parse(part, "mass") for part in parts if part]
    except BadInput as error:
        raise BadInput(f"Net and fish: {error.sentence}", error.todo) from None


def jar(finish: Callable[[Answers], Awaitable[None]]) -> FormDialog:
    """Return the dialog that puts down another bag or jar."""
    fields = [f for f in food_fields() if f.key != "scoop"]
    named = [Field("name", "Food", required=True, example="koi pellet 4 mm"), *fields[1:]]
    return FormDialog("Another bag or jar of food", named, finish, widths=WIDE)


GATE = (
    Field(
        "tan",
        "Ammonia under, mg/L N",
        "quantity",
        "concentration",
        "mg/L",
        0.001,
        10,
        required=True,
    ),
    Field(
        "nitrite",
        "Nitrite under, mg/L N",
        "quantity",
        "concentration",
        "mg/L",
        0.001,
        10,
        required=True,
    ),
    Field(
        "gone",
        "Food gone in",
        "quantity",
        "duration",
        "min",
        0.1,
        1440,
        example="5 min",
        required=True,
    ),
)


def _gate(answers: Answers) -> Gate:
    return gate_of(answers["tan"].number, answers["nitrite"].number, answers["gone"].number)


def _usual_gate() -> Answers:
    usual = Gate()
    return {
        "tan": _number(usual.tan_mg_l),
        "nitrite": _number(usual.nitrite_mg_l),
        "gone": _number(usual.food_gone_min, "min"),
    }


def rise(
    seen: FeedingView, offered: Rise, today: date, finish: Callable[[Rise], Awaitable[None]]
) -> FormDialog:
    """Return the dialog that makes a stepped rise, its steps shown while it is filled in."""
    fields = [
        Field("from", "From, g a day", "quantity", "mass", "g", 0, 1e7, required=True),
        Field("to", "To, g a day", "quantity", "mass", "g", 0, 1e7, required=True),
        Field("weeks", "Over how many weeks", "count", low=1, high=26, example="4", required=True),
        Field("steps", "In how many steps", "count", low=1, high=26, example="4", required=True),
        Field("starts", "First step on", "date", required=True),
        *GATE,
    ]

    def made(answers: Answers) -> Rise:
        return Rise(
            answers["from"].number,
            answers["to"].number,
            int(answers["weeks"].number),
            int(answers["steps"].number),
            answers["starts"].day,
            _gate(answers),
        )

    def preview(answers: Answers) -> str:
        try:
            steps = planned(made(answers), seen.inputs.food)
        except BadInput as error:
            return f"{error.sentence} {error.todo}"
        told = "; ".join(f"{dates.said(s.day, today)} {plain(s.grams)} g" for s in steps[:8])
        more = f"; and {len(steps) - 8} more" if len(steps) > 8 else ""
        return f"{told}{more}\n{steps[0].gate}"

    async def done(answers: Answers) -> None:
        await finish(made(answers))

    start: Answers = {
        "from": _number(offered.from_g, "g"),
        "to": _number(offered.to_g, "g"),
        "weeks": Entry(str(offered.weeks), offered.weeks),
        "steps": Entry(str(offered.steps), offered.steps),
        "starts": Entry(dates.said(offered.starts, today), offered.starts),
        **_usual_gate(),
    }
    title = "A stepped rise: f makes it, Enter changes a row"
    return Offered(title, fields, done, preview, start, WIDE)


def hold(seen: FeedingView, finish: Callable[[float, Gate], Awaitable[None]]) -> FormDialog:
    """Return the dialog that holds a ration, or cuts it."""
    fields = [
        Field("grams", "Hold, g a day", "quantity", "mass", "g", 0, 1e7, required=True),
        *GATE,
    ]

    def preview(answers: Answers) -> str:
        if "grams" not in answers:
            return ""
        return hold_words(seen, answers["grams"].number, _gate(answers))

    async def done(answers: Answers) -> None:
        await finish(answers["grams"].number, _gate(answers))

    start = _usual_gate()
    offer = seen.worked.to_feed_g if _over(seen) else usual_hold(seen)
    if offer is not None:
        start["grams"] = _number(offer, "g")
    title = "Hold a ration: f makes it, Enter changes a row"
    return Offered(title, fields, done, preview, start, WIDE)


def _over(seen: FeedingView) -> bool:
    return seen.worked.verdict is not None and seen.worked.verdict.place == "over"


def model(
    tap_alkalinity_mg_l: float | None, finish: Callable[[Asked], Awaitable[None]]
) -> FormDialog:
    """Return the dialog that asks the filter model."""
    fields = [
        Field("area", "Filter surface", "quantity", "area", "m2", 0.01, 1e7, required=True),
        Field("change", "Water changed a day", "quantity", "percent", "%", 0, 5000, required=True),
        Field(
            "tap", "Alkalinity, new water", "quantity", "alkalinity", "mg/L", 0, 2000, required=True
        ),
        Field(
            "tan",
            "Model's ammonia under",
            "quantity",
            "concentration",
            "mg/L",
            0.001,
            10,
            required=True,
        ),
        Field(
            "nitrite",
            "Model's nitrite under",
            "quantity",
            "concentration",
            "mg/L",
            0.001,
            10,
            required=True,
        ),
    ]

    async def done(answers: Answers) -> None:
        asked = Asked(
            answers["area"].number,
            answers["change"].number,
            answers["tap"].number,
            answers["tan"].number,
            answers["nitrite"].number,
        )
        await finish(asked)

    start: Answers = {"tan": _number(0.5), "nitrite": _number(0.5)}
    if tap_alkalinity_mg_l is not None:
        start["tap"] = _number(tap_alkalinity_mg_l)

    def preview(_: Answers) -> str:
        return (
            "A model that was never checked against a real system. Its surface is what the "
            "filter's maker gives for its media."
        )

    title = "Ask the filter model how fast the ration may rise"
    return FormDialog(title, fields, done, preview, start, WIDE)
