"""What every paper needs from the records: the practice, the client, money, wall times."""

from __future__ import annotations

from datetime import datetime

from core.clock import local
from core.papers.parts import Currency, PaperSize, Party
from core.papers.parts import Practice as Head
from core.records.tables import Client, Practice


def head(practice: Practice) -> Head:
    """Return the practice as a letterhead names it; an invented one says so."""
    name = f"{practice.name} (invented)" if practice.invented else practice.name
    return Head(name, _lines(practice.address), practice.phone, practice.email, practice.licence)


def party(client: Client) -> Party:
    """Return a client as a paper addresses them."""
    return Party(client.name, _lines(client.address), client.phone, client.email)


def currency(practice: Practice) -> Currency:
    """Return the practice's currency."""
    return Currency(practice.currency, exponent=practice.currency_exponent)


def paper(practice: Practice) -> PaperSize:
    """Return the practice's paper size."""
    return "Letter" if practice.paper == "Letter" else "A4"


def wall(moment: datetime, practice: Practice) -> datetime:
    """Return a moment in the practice's own zone."""
    return local(moment, practice.zone)


def _lines(address: str) -> tuple[str, ...]:
    parts = (part.strip() for part in address.replace("\n", ",").split(","))
    return tuple(part for part in parts if part)
