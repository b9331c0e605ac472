"""Clients who are likely in the records already, said before they are made again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.records import index, read
from core.records.index_words import like_name, national_digits, words
from core.records.tables import Client

MOST = 3
_LOOKED_AT = 20
_LEAST_DIGITS = 6


@dataclass(frozen=True)
class Likely:
    """A client who may be the one about to be made."""

    client: str
    name: str
    phone: str
    address: str
    why: str
    """What is the same, in words."""

    @property
    def sentence(self) -> str:
        """Say who is there already, and ask."""
        where = self.address or self.phone
        who = f"{self.name}, {where}," if where else self.name
        return f"{who} is in the records ({self.why}): take that one?"


def likely(name: str, phone: str = "", address: str = "") -> tuple[Likely, ...]:
    """Return the clients who are likely the same, those with the same phone first.

    A name that differs by a letter or two counts, unless both addresses are known and
    neither is like the other.
    """
    found = [
        (order, Likely(row.id, row.name, row.phone, row.address, why))
        for row in _near(name, phone, address)
        for order, why in [_judged(row, name, phone, address)]
        if why
    ]
    found.sort(key=lambda pair: (pair[0], pair[1].name, pair[1].client))
    return tuple(one for _, one in found[:MOST])


def _near(name: str, phone: str, address: str) -> Iterator[Client]:
    """Give clients who share something with what was typed."""
    asked = [text for text in (phone, name, f"{name} {address}" if address else "") if text.strip()]
    rows = {
        hit.row: None
        for text in asked
        for hit in index.search(text, most=_LOOKED_AT)
        if hit.table == "client"
    }
    return (read.one(Client, row) for row in rows)


def _judged(row: Client, name: str, phone: str, address: str) -> tuple[int, str]:
    """Return how likely it is the same client, 0 the most, and what is the same; "" for no."""
    called, where = like_name(name, row.name), _same_place(address, row.address)
    if _same_phone(phone, row.phone):
        return 0, "the same phone"
    if called == 1.0:
        return (1, "the same name and address") if where else (2, "the same name")
    if called > 0 and (where or not (address.strip() and row.address.strip())):
        return 3, "nearly the same name"
    return 9, ""


def _same_phone(typed: str, held: str) -> bool:
    return any(
        len(short) >= _LEAST_DIGITS and long.endswith(short)
        for one in national_digits(typed)
        for other in national_digits(held)
        for short, long in [sorted((one, other), key=len)]
    )


def _same_place(typed: str, held: str) -> bool:
    """Tell whether every word of the shorter address is one of the other."""
    one, other = words(typed), words(held)
    shorter, longer = sorted((one, other), key=len)
    return bool(shorter) and set(shorter) <= set(longer)
