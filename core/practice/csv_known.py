"""Clients that are there already, in the records or on an earlier line: the same ones, the likely.

Each is looked up by a few words and digits of its own, so that ten thousand lines are compared
with those they have something in common with, and not with all.
"""

from __future__ import annotations

import functools
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain

from rapidfuzz.distance import OSA

from core.records import exchange
from core.records.index_words import national_digits, words
from core.records.tables import Client, Site, System

_TAIL = 6
"""Digits at the end of two numbers that must be alike before the rest is compared."""
_HEAD = 4
_CROWD = 100
"""A word that so many have says nothing; another word of the same name will."""
_SHORT_NAME = 10


@dataclass(frozen=True)
class Who:
    """A client, ready to be compared.

    Attributes
    ----------
    line : int
        The line of the file that it stands on; 0 for one in the records.
    """

    client: str
    line: int
    name: str
    named: str
    numbers: tuple[str, ...]
    email: str
    place: frozenset[str]

    @property
    def where(self) -> str:
        """Where it stands, in words."""
        return f"on line {self.line}" if self.line else "in the records"


def who(client: str, line: int, name: str, phone: str, email: str, address: str) -> Who:
    """Return a client ready to be compared."""
    numbers = tuple(n for n in national_digits(phone) if len(n) >= _TAIL)
    named = " ".join(sorted(words(name)))
    place = frozenset(words(address))
    return Who(client, line, name, named, numbers, email.strip().casefold(), place)


def _same_phone(one: Who, other: Who) -> bool:
    return any(a.endswith(b) or b.endswith(a) for a in one.numbers for b in other.numbers)


def _same_place(one: Who, other: Who) -> bool:
    return bool(one.place and other.place) and (
        one.place <= other.place or other.place <= one.place
    )


def _apart(one: Who, other: Who) -> bool:
    """Whether both have a phone number or an address for e-mail, and not the same."""
    phones = bool(one.numbers and other.numbers) and not _same_phone(one, other)
    return phones or bool(one.email and other.email and one.email != other.email)


@dataclass
class Known:
    """Clients by what they may be recognised by."""

    _by_name: dict[str, list[Who]] = field(default_factory=lambda: defaultdict(list))
    _by_phone: dict[str, list[Who]] = field(default_factory=lambda: defaultdict(list))
    _by_word: dict[str, list[Who]] = field(default_factory=lambda: defaultdict(list))

    def add(self, one: Who) -> None:
        """Let later ones be compared with this one."""
        self._by_name[one.named].append(one)
        for number in one.numbers:
            self._by_phone[number[-_TAIL:]].append(one)
        for word in _marks(one):
            self._by_word[word].append(one)

    def same(self, one: Who) -> Who | None:
        """Return the client that this is without a doubt: the same name, and nothing against it.

        A name alone is enough when only one has it and nothing else is known here.
        """
        called = self._by_name.get(one.named, [])
        alike = [other for other in called if not _apart(one, other) and _proved(one, other)]
        bare = not (one.numbers or one.email or one.place)
        if not alike and bare and len(called) == 1:
            return called[0]
        return alike[0] if alike else None

    def likely(self, one: Who) -> tuple[Who, str] | None:
        """Return the client that this may be, and what is the same; None when there is none."""
        by_phone = (o for n in one.numbers for o in self._by_phone.get(n[-_TAIL:], ()))
        for other in by_phone:
            if _same_phone(one, other):
                return other, "the same phone"
        if called := self._by_name.get(one.named):
            near = next((o for o in called if _same_place(one, o)), None)
            return (near, "the same name and address") if near else (called[0], "the same name")
        near = next((o for o in self._near(one) if _like(one, o)), None)
        return (near, "nearly the same name") if near else None

    def _near(self, one: Who) -> Iterator[Who]:
        crowds = (self._by_word.get(word, ()) for word in _marks(one))
        return chain.from_iterable(crowd for crowd in crowds if len(crowd) <= _CROWD)


def _marks(one: Who) -> set[str]:
    found = {word for word in one.named.split() if len(word) >= _HEAD - 1}
    return {*found, f"{one.named[:_HEAD]}…"}


def _proved(one: Who, other: Who) -> bool:
    email = bool(one.email) and one.email == other.email
    return email or _same_phone(one, other) or _same_place(one, other)


def _like(one: Who, other: Who) -> bool:
    allowed = 1 if len(one.named) < _SHORT_NAME else 2
    if abs(len(one.named) - len(other.named)) > allowed:
        return False
    if OSA.distance(one.named, other.named, score_cutoff=allowed) > allowed:
        return False
    elsewhere = bool(one.place and other.place) and not _same_place(one, other)
    return not (_apart(one, other) or elsewhere)


@dataclass(frozen=True)
class Places:
    """Sites and waters that are in the records, by client and by site."""

    sites: dict[str, dict[str, str]]
    """By client: id of a site by its name as compared."""
    waters: dict[str, set[str]]
    """By site: names of its waters as compared."""


@functools.lru_cache(4096)
def called(name: str) -> str:
    """Return a name as it is compared."""
    return " ".join(words(name))


def in_the_records() -> tuple[Known, Places]:
    """Return every client of the open records that counts, and their sites and waters."""
    known, places = Known(), Places(defaultdict(dict), defaultdict(set))
    for row in exchange.rows(Client):
        if row.struck is None:
            known.add(who(row.id, 0, row.name, row.phone, row.email, row.address))
    for site in exchange.rows(Site):
        if site.struck is None:
            places.sites[site.client].setdefault(called(site.name), site.id)
    for water in exchange.rows(System):
        if water.struck is None:
            places.waters[water.site].add(called(water.name))
    return known, places
