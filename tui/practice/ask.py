"""Dialogs about a person: somebody new, a change of role, leaving, a PIN set anew."""

from __future__ import annotations

from collections.abc import Callable

from core.practice import people
from core.practice.keep import Act
from core.records.tables import Person
from tui.base import RoundsApp
from tui.widgets.choices import ROLES, YES_NO, label
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Entry, Field
from tui.widgets.row import Widths

Now = Callable[[], Act]
WIDTHS = Widths(label=24, value=30)
_WHO = (
    Field("name", "Name", example="Vera Moss", required=True),
    Field("role", "Role", "choice", choices=ROLES, required=True),
    Field("licence", "Licence", example="V-1234", hint="printed where a vet signs"),
)
MEANS = (
    "A veterinarian may do everything; a technician measures; the reception books, bills and "
    "prints; read only writes nothing."
)


class PersonDialog(FormDialog):
    """A person who is there already: filled in, and done with `f`."""

    OPENS = False
    REMEMBERS = False
    ENTER_MAKES = False


def somebody_new(app: RoundsApp, now: Now) -> FormDialog:
    """Return the dialog that adds a person."""

    async def done(answers: Answers) -> None:
        licence = answers["licence"].words if "licence" in answers else ""
        told = (answers["name"].words, answers["role"].words, licence)
        await app.save(people.add, now(), *told)

    return FormDialog("Somebody new at work", _WHO, done, lambda _: MEANS, widths=WIDTHS)


def about(
    app: RoundsApp, person: Person, now: Now, pin_anew: Callable[[], None] | None
) -> FormDialog:
    """Return the dialog that changes a person.

    Parameters
    ----------
    pin_anew : callable or None
        Told that the PIN of this person is set anew; None where that is not offered.
    """
    yes, no = (Entry(c.label, c.value) for c in YES_NO)
    rows = [*_WHO, Field("active", "Still at work here", "choice", choices=YES_NO, required=True)]
    if pin_anew is not None:
        hint = "when it is forgotten and the code is lost"
        rows.append(Field("anew", "Set a new PIN now", "choice", choices=YES_NO, hint=hint))
    answers = {
        "name": Entry(person.name, person.name),
        "role": Entry(label(ROLES, person.role), person.role),
        "licence": Entry(person.licence, person.licence),
        "active": yes if person.active else no,
    }

    async def done(answers: Answers) -> None:
        await _change(app, person, now, answers)
        if pin_anew is not None and answers.get("anew", no).words == "yes":
            pin_anew()

    return PersonDialog(person.name, rows, done, lambda _: MEANS, answers, WIDTHS)


async def _change(app: RoundsApp, person: Person, now: Now, answers: Answers) -> None:
    new = {key: answers[key].words for key in ("name", "role", "licence")}
    new = {key: value for key, value in new.items() if value != getattr(person, key)}
    if new:
        await app.save(people.change, now(), person.id, **new)
    active = answers["active"].words == "yes"
    if active != person.active:
        await app.save(people.come_back if active else people.leave, now(), person.id)
