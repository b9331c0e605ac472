"""The smaller dialogs of the plan: correct the water, a line for the owner, details."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from datetime import date

from core import dates
from core.dosing.medicines import BATHS
from core.errors import BadInput
from core.practice import corrections, going_past, treatment_said
from core.practice.corrections import Correction
from core.practice.plan import ACTS
from core.records.tables import OwnerStep, Treatment
from tui.shelf.lots import taken_fields, takes
from tui.widgets import answers as answered
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Entry, Field
from tui.widgets.row import Widths

WIDTHS = Widths(label=20, value=32)
Made = Callable[[Answers], Awaitable[None]]
WHAT = (
    Choice("n", "nitrite", "salt for nitrite"),
    Choice("s", "salt", "salt, by rise"),
    Choice("b", "alkalinity", "bicarbonate"),
    Choice("c", "chlorine", "bind chlorine"),
)
ACT_CHOICES = tuple(Choice(act[0], act, act) for act in ACTS)
KINDS = (
    Choice("d", "do", "do"),
    Choice("n", "do not", "do not"),
    Choice("w", "watch", "watch"),
    Choice("s", "stop", "stop and ring"),
)


class CorrectDialog(FormDialog):
    """Asks how the water is corrected and shows the grams after each answer."""

    REMEMBERS = False

    def __init__(
        self, visit: str, system: str, made: Callable[[Correction], Awaitable[None]], today: date
    ) -> None:
        async def done(answers: Answers) -> None:
            await made(correction_of(answers, system))

        super().__init__(
            "Correct the water",
            lambda answers: correct_fields(answers, today),
            done,
            lambda _: self._text,
            widths=WIDTHS,
        )
        self._visit, self._system, self._text = visit, system, ""

    async def _keep(self, field: Field, entry: Entry) -> None:
        self.answers[field.key] = entry
        await self._look()
        await super()._keep(field, entry)

    async def _forgotten(self, field: Field) -> None:
        await self._look()

    async def _look(self) -> None:
        """Work the grams out anew."""
        if "what" in self.answers:
            try:
                found = await self.app.look(
                    corrections.work_out, self._visit, correction_of(self.answers, self._system)
                )
            except BadInput as error:
                self._text = f"{error.sentence} {error.todo}".strip()
            else:
                asks = going_past.asked(found.stops, found.cautions)
                self._text = "\n".join((found.sentence, *asks))


TRIAL = ("trial_fish", "trial_minutes")


def correct_fields(answers: Answers, day: date) -> list[Field]:
    """Return the rows of a correction; how far is asked only where it is a choice."""
    found = [Field("what", "With what", "choice", choices=WHAT, required=True)]
    what = answered.words(answers, "what")
    if what == "salt":
        hint = "g/L"
        found.append(
            Field("rise", "Rise, g/L", "quantity", low=0.01, high=40, example="1", hint=hint)
        )
    elif what == "alkalinity":
        found.append(Field("kh", "Alkalinity to reach", "quantity", "alkalinity", low=1, high=500))
    return [
        *found,
        Field("parts", "Parts, a day apart", "count", low=1, high=30, hint="fewest"),
        Field("act", "What is done", "choice", choices=ACT_CHOICES, required=True),
        *taken_fields(corrections.agent_of(what) if what else "", answers, day),
        Field("directions", "Directions", example="dissolved, round the edge"),
        Field("reason", "Reason to go past", hint="if asked", example="weighed twice"),
    ]


def correction_of(answers: Answers, system: str) -> Correction:
    """Return the answers as a correction."""
    aim = answers.get("rise") or answers.get("kh")
    parts = answers.get("parts")
    return Correction(
        act=answered.words(answers, "act") or "advised",
        system=system,
        what=answered.words(answers, "what"),
        aim=aim.number if aim else None,
        parts=int(parts.number) if parts else None,
        directions=answered.words(answers, "directions"),
        reason=answered.words(answers, "reason"),
        from_lot=answered.words(answers, "from_lot") if takes(answers) else "",
        lot_why=answered.words(answers, "lot_why"),
    )


def step_dialog(made: Made, row: OwnerStep | None, today: date) -> FormDialog:
    """Return the dialog of a line for the owner, new or changed."""
    fields = [
        Field("kind", "Kind", "choice", choices=KINDS, required=True),
        Field("words", "Words", required=True, example="net off dead fish, keep them cold"),
        Field("day", "Day", "date"),
    ]
    answers: Answers = {}
    if row is not None:
        kind = next(c for c in KINDS if c.value == row.kind)
        answers = {"kind": Entry(kind.label, kind.value), "words": Entry(row.words, row.words)}
        answers |= dated("day", row.day, today)
    return FormDialog("A line for the owner", fields, made, answers=answers, widths=WIDTHS)


def details_dialog(made: Made, row: Treatment, today: date) -> FormDialog:
    """Return the dialog of lot, expiry, place and directions; the amount is ordered anew."""
    fields = [
        Field("lot", "Lot", example="A123"),
        Field("expires", "Expires", "date", example=dates.EXPIRY_EXAMPLE, expiry=True),
        Field("place", "Place of injection", example="left epaxial"),
        Field("directions", "Directions", example="siphon the floor after 24 h"),
    ]
    if row.route in BATHS:
        fields += [
            Field("trial_fish", "Tried first on, fish", "count", low=1, high=1000),
            Field("trial_minutes", "Trial lasted, min", "count", low=1, high=100000),
            Field("trial_outcome", "Trial, what was seen", example="all eat after 24 h"),
        ]
    held = {"lot": row.lot, "place": row.place, "directions": row.directions}
    answers = {k: Entry(v, v) for k, v in held.items() if v} | dated("expires", row.expires, today)
    title = f"Details: {treatment_said.amount_words(row)}"
    return FormDialog(title, fields, made, answers=answers, widths=WIDTHS)


def details_of(answers: Answers) -> dict[str, object]:
    """Return the answers as columns of a treatment."""
    return {
        "lot": answered.words(answers, "lot"),
        "expires": answers["expires"].day if "expires" in answers else None,
        "place": answered.words(answers, "place"),
        "directions": answered.words(answers, "directions"),
    }


def trial_of(answers: Answers) -> tuple[int | None, float | None, str] | None:
    """Return on how many fish it was tried, for how long, and what was seen; None without any."""
    fish, lasted = (answers[k].number if k in answers else None for k in TRIAL)
    seen = answered.words(answers, "trial_outcome")
    return (int(fish) if fish else None, lasted, seen) if fish or seen else None


def dated(key: str, day: date | None, today: date) -> Answers:
    """Return a day as the answer of a row; nothing without one."""
    return {} if day is None else {key: Entry(dates.said(day, today), day)}
