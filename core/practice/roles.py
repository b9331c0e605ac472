"""What each role may write: the table of roles, asked before each line of every edit."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from core.catalogue import load
from core.errors import Refusal
from core.records import secrets
from core.records.engine import query
from core.records.journal import Change

SETUP = "setup"
"""Who the app itself is, before there are people; a person's id is a UUID and never this."""
VET = "veterinarian"
WITH_PIN = "A colleague with a PIN can take over: ! locks the app. Or quit (q) and start again."
WITHOUT_PIN = "Somebody else can take over: quit (q) and start as somebody else."
_PERSON = 'SELECT "name", "role", "active" FROM "person" WHERE "id" = ?'


class NotAllowed(Refusal):
    """The role of the person at work does not allow it."""

    title = "Not with this role"


@dataclass(frozen=True)
class Rule:
    """Who may write a table, a column of it, or certain values of the column.

    Attributes
    ----------
    roles : frozenset of str
        Who may.
    does : str
        The act in plain words, as after *only a veterinarian*.
    column : str
        "" when the rule is about the whole table.
    values : tuple of str
        Empty when any value of the column counts.
    """

    roles: frozenset[str]
    does: str
    column: str = ""
    values: tuple[str, ...] = ()

    def speaks_of(self, change: Change) -> bool:
        """Return whether a change touches what the rule is about."""
        if not self.column:
            return True
        touched = [v for v in change.get(self.column, ()) if v not in (None, "")]
        return any(not self.values or v in self.values for v in touched)


@functools.cache
def words() -> dict[str, str]:
    """Return every role with what it is called in a sentence."""
    found: dict[str, str] = load.table("roles")["role"]
    return found


@functools.cache
def rules(table: str) -> tuple[Rule, ...]:
    """Return the rules of a table, those of single columns before that of the whole."""
    known = load.table("roles")
    fine = [_rule(row) for row in known["only"] if row["table"] == table]
    return (*fine, _rule(known["table"][table]))


def _rule(row: dict[str, Any]) -> Rule:
    roles = frozenset((VET, *row.get("also", ())))
    return Rule(roles, row["does"], row.get("column", ""), tuple(row.get("values", ())))


def broken(role: str, table: str, change: Change) -> Rule | None:
    """Return the rule that a change by somebody of this role would break, or None."""
    return next((r for r in rules(table) if role not in r.roles and r.speaks_of(change)), None)


def asked() -> Callable[[str, str, str, Change], None]:
    """Return what one edit asks before each of its lines; the person is looked up once."""
    known: dict[str, tuple[str, str]] = {}

    def may(who: str, table: str, _: str, change: Change) -> None:
        if who == SETUP:
            return
        if who not in known:
            known[who] = _person(who)
        name, role = known[who]
        rule = broken(role, table, change)
        if rule is not None:
            raise refusal(rule, name, role, who)

    return may


def _person(who: str) -> tuple[str, str]:
    found = query(_PERSON, (who,))
    if not found:
        raise NotAllowed("Nobody of this practice is at work.", "Start the app again.")
    name, role, active = found[0]
    if not active:
        raise NotAllowed(f"{name} is not at work here any more.", take_over(who))
    return name, role


def must_be_allowed(who: str, table: str, **values: str) -> None:
    """Refuse at the door what the edit would refuse: asked before a form is filled in for it.

    Parameters
    ----------
    who : str
        Id of the person at work.
    table : str
        Table that would be written.
    **values : str
        What a column would hold, where the rule is about that.

    Raises
    ------
    NotAllowed
        As the edit itself would.
    """
    asked()(who, table, "", {column: [None, value] for column, value in values.items()})


def take_over(who: str) -> str:
    """Return how somebody else gets to work here: the app locks only for who has a PIN."""
    return WITH_PIN if secrets.of(who).pin_hash else WITHOUT_PIN


def refusal(rule: Rule, name: str, role: str, who: str) -> NotAllowed:
    """Return the sentence that names the act, who may do it, and who is at work as what."""
    may = [said for key, said in words().items() if key in rule.roles]
    who = may[0] if len(may) == 1 else f"{', '.join(may[:-1])} or {may[-1]}"
    return NotAllowed(f"Only {who} {rule.does}; {name} is at work as {role}.", take_over(who))
