"""The practice and its people, as the screens know them."""

from __future__ import annotations

from dataclasses import dataclass

from core.practice.roles import VET, Rule, refusal
from core.records import read, tables


@dataclass(frozen=True)
class Worker:
    """Somebody at work."""

    id: str
    name: str
    role: str

    @property
    def signs(self) -> bool:
        """Whether this person may sign, prescribe and name a problem."""
        return self.role == VET


Practice = tables.Practice


def practice() -> Practice | None:
    """Return the practice, or None before the first start is done."""
    return read.first(tables.Practice)


def people() -> tuple[Worker, ...]:
    """Return everybody who may be at work."""
    return tuple(worker_of(p) for p in read.find(tables.Person, active=True))


def worker_of(person: tables.Person) -> Worker:
    """Return a person of the records as somebody at work."""
    return Worker(person.id, person.name, person.role)


def must_be_vet(person_id: str, act: str) -> None:
    """Refuse an act that only a veterinarian may do.

    Raises
    ------
    NotAllowed
        When the person is not a veterinarian; the sentence names the act.
    """
    person = read.one(tables.Person, person_id)
    if person.role != VET:
        raise refusal(Rule(frozenset((VET,)), act), person.name, person.role, person_id)
