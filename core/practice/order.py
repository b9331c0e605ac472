"""What a vet orders, and what an order comes to before anything is recorded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from core.dosing.medicines import Medicine
from core.dosing.quantity import Quantity
from core.dosing.withdrawal import Withdrawal
from core.practice.dose_parts import Ask
from core.practice.doses import Dosed
from core.practice.medicines import Place

ACTS = ("given here", "dispensed", "prescribed", "advised")


@dataclass(frozen=True)
class Order:
    """What the vet orders.

    Attributes
    ----------
    medicine : str
        Key of the catalogue.
    ask : Ask
        Dose, product, weight or volume, each with its unit; what is left out is taken from
        the record.
    system : str
        The water; a group must be in it now.
    off_hours : float or None
        Hours until what was switched off goes on again.
    reason : str
        Why a stop, a caution or the range of the source is gone past.
    withdrawal_days : int or None
        Set by the vet for food fish.
    said : mapping
        What no record holds and was asked with the order, by `core.dosing.dangers.ASKED`.
    from_lot, lot_why : str
        Id of a lot of the shelf, the oldest when empty; why it is another than the oldest.
    """

    act: str
    medicine: str
    ask: Ask
    system: str
    group: str | None = None
    handling: str | None = None
    repeats: int = 1
    interval_days: float | None = None
    starts: date | None = None
    off_hours: float | None = None
    lot: str = ""
    expires: date | None = None
    place: str = ""
    directions: str = ""
    reason: str = ""
    withdrawal_days: int | None = None
    said: Mapping[str, bool] = field(default_factory=dict)
    from_lot: str = ""
    lot_why: str = ""


@dataclass(frozen=True)
class Prepared:
    """An order looked at; nothing is recorded yet.

    Attributes
    ----------
    dosed : Dosed or None
        None when no amount can be worked out; `why_not` says why.
    refused : tuple of str
        What no reason can go past.
    stops, cautions : tuple of str
        What asks for a reason in a sentence, and for any reason; both are kept.
    past_stops, past_cautions : tuple of str
        What those are about, a word or two each.
    fish : int
        How many fish each get the amount: above 1 only when several are injected.
    """

    row: Medicine
    ask: Ask
    where: Place
    dosed: Dosed | None
    why_not: str
    refused: tuple[str, ...]
    stops: tuple[str, ...]
    cautions: tuple[str, ...]
    past_stops: tuple[str, ...]
    past_cautions: tuple[str, ...]
    notes: tuple[str, ...]
    days: tuple[date, ...]
    total: Quantity | None
    withdrawal: Withdrawal | None
    off_hours: float | None = None
    """Hours until what is switched off goes on again, as ordered."""
    cost: str = ""
    """What the course costs where it is dispensed, in words; "" where no price answers."""
    fish: int = 1
    tub: bool = False
    """Whether it goes into a tub of its own, and not into the water the fish live in."""

    @property
    def reasons(self) -> tuple[str, ...]:
        """All that asks for a reason, stops first."""
        return (*self.stops, *self.cautions)

    @property
    def gone_past(self) -> tuple[str, ...]:
        """What that is about."""
        return tuple(dict.fromkeys((*self.past_stops, *self.past_cautions)))
