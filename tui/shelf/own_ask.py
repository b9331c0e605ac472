"""The dialog of a medicine of the practice's own: written down anew, or corrected."""

from __future__ import annotations

from textual.app import ComposeResult

from core import clock
from core.dosing.medicines import BATHS
from core.errors import BadInput
from core.practice import own_medicine, own_row, own_rows, own_typed, own_units
from core.practice.keep import Act
from core.practice.own_typed import Written
from tui.shelf import own_fields
from tui.shelf.own_answers import answers_of, written
from tui.shelf.own_fields import words
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.row import Widths

OFF = "It is off until a veterinarian has read it."
HELP = {
    "name": "The active agent, as a product on the shelf is matched to it.",
    "low": "Empty where only a highest dose is known.",
    "counts": "What the dose weighs, where that is not the agent itself: free copper, a salt.",
    "every": "With its unit: 48 h, 3 d, 1 week.",
    "times": "With the first; empty when it is not said.",
    "days": "Of the United States. Empty is not known: the veterinarian sets it at each order.",
    "food": "h: never for fish that people may eat. n counts as h until it is known.",
    "avoid": "In words; read with every order.",
    "hazards": "Empty is not known, and is said so.",
    "controlled": "Its products stand in the controlled-drug log.",
    "antimicrobial": "It is counted in the use of antimicrobials by month.",
    "place0": "What another country says of food fish, if it is known.",
}


class OwnDialog(FormDialog):
    """A medicine of the practice's own; what was typed stays when it is left."""

    CSS = """
    OwnDialog #dialog #form { height: auto; max-height: 12; }
    OwnDialog #dialog-below { max-height: 5; }
    """

    def __init__(self, key: str = "", row: Written | None = None) -> None:
        self.key = key
        """The row that is corrected; after a new one was written, that."""
        self._stands: Answers = answers_of(row) if row is not None else {}
        title = f"Correct {row.name}: {row.indication}" if row else "A medicine of our own"
        widths = Widths(label=27, value=34)
        super().__init__(title, own_fields.fields, self._write, widths=widths)

    def compose(self) -> ComposeResult:
        if self._asked_of() not in self.app.half_made:
            self.answers = dict(self._stands)
        self._filled_in = frozenset(self._stands)
        yield from super().compose()

    def _asked_of(self) -> tuple[str, ...]:
        return ("own medicine", self.key, "")

    async def _keep(self, field: Field, entry: Entry) -> None:
        refuse(field.key, entry, self.answers)
        before = own_fields.routes(self.answers)
        self.answers[field.key] = entry
        self._mend(field.key, before)
        own_fields.fill_in(self.answers)
        await super()._keep(field, entry)

    def _mend(self, key: str, before: tuple[str, ...]) -> None:
        """Forget doses that another route is not dosed in."""
        now = own_fields.routes(self.answers)
        if not key.startswith("route") or now == before:
            return
        for end in ("low", "high"):
            try:
                if words(self.answers, end):
                    own_units.dose_typed(words(self.answers, end), now[0])
            except BadInput:
                del self.answers[end]
        self.form.refresh_rows()

    def on_form_moved(self) -> None:
        """Say what the row asks for, and what the medicine comes to so far."""
        self._paint_below()

    def _paint_below(self) -> None:
        form = self.form
        help_words = _help(form.fields[form.index].key, self.answers) if form.fields else ""
        self._below = "\n".join(filter(None, (help_words, _unknown(self.answers), OFF)))
        self._put_below()

    async def _write(self, answers: Answers) -> None:
        act = Act(self.app.worker.id, clock.now())
        self.key = await self.app.save(own_typed.write, act, written(answers), self.key)


class CorrectDialog(OwnDialog):
    """A medicine that is there already: filled in, and done with `f`."""

    OPENS = False
    ENTER_MAKES = False


def refuse(key: str, entry: Entry, answers: Answers) -> None:
    """Refuse what can not be, beside its row.

    Raises
    ------
    BadInput
        With one sentence and what may be typed.
    """
    route = (*own_fields.routes(answers), "bath")[0]
    if key in ("low", "high") and entry.text:
        own_units.dose_typed(entry.words, route)
    elif key == "every" and entry.text:
        own_units.hours_typed(entry.words)
    elif key == "name":
        if why := own_medicine.refused_inside(entry.words):
            raise BadInput(why)
    elif key == "food" and entry.words == "allowed":
        name = words(answers, "name")
        if rule := own_rows.forbidden(name):
            raise BadInput(f"{name} is forbidden in food animals by {rule.citation}.", "Type h.")
    elif key.startswith("route") and key != "route0" and route != "":
        _alike(entry.words, route)


def _alike(other: str, route: str) -> None:
    if (other in BATHS) != (route in BATHS):
        raise BadInput(f"{route} and {other} are dosed in other units.", "Write a row for each.")


def _help(key: str, answers: Answers) -> str:
    if key in ("low", "high"):
        route = (*own_fields.routes(answers), "")[0]
        example = own_units.asked_unit(route)
        more = HELP["low"] if key == "low" else ""
        return f"By {route}: a number with its unit, as {example}. {more}" if route else more
    return HELP.get(key, "")


def _unknown(answers: Answers) -> str:
    """Return what is not known yet and counts as harmful."""
    asked = own_row.subjects(own_fields.routes(answers))
    found = [s.label.lower() for s in asked if words(answers, s.key) in ("", own_row.NOT_KNOWN)]
    found += ["food fish"] if words(answers, "food") in ("", own_row.NOT_KNOWN) else []
    return f"Not known, and so harmful: {', '.join(found)}." if found else ""
