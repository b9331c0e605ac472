"""What goes back into the water of a lasting bath when a part of it is changed."""

from __future__ import annotations

from collections.abc import Iterator

from core.dosing.medicines import Medicine
from core.dosing.quantity import Quantity
from core.numbers import figures, plain
from core.practice.short import short
from core.practice.step_offer import StepOffer
from core.practice.treatment_said import sentence
from core.records.tables import System, Treatment

LASTING = "prolonged bath"
SHARE = 10
"""Per cent of the water for which it is said: an owner changes tenths, fifths and halves."""
ONLY = "only the share that went out, never a whole dose"


def note(row: Medicine, route: str, amount: Quantity, steps: int) -> tuple[str, ...]:
    """Return what is put back after a change of water, for who orders; empty for a short bath."""
    if route != LASTING:
        return ()
    share = _measured(amount.magnitude * SHARE / 100, amount.unit)
    return (sentence(_said(row.name, share, steps)),)


def for_owner(row: Treatment, found: Medicine, system: System) -> Iterator[StepOffer]:
    """Give the owner the same; water that runs changes all the while and takes none of it."""
    if row.route == LASTING and row.handling is None and system.flow != "flowing":
        share = _measured(row.amount * SHARE / 100, row.amount_unit)
        words = sentence(_said(found.name, share, row.steps))
        yield StepOffer(f"change:{row.id}", "do", words)


def _measured(amount: float, unit: str) -> str:
    """Return a share as it can be measured out: no syringe shows a ten thousandth."""
    fine = unit == "mL" and amount < 100
    return f"{plain(float(figures(amount, 3))) if fine else short(amount)} {unit}"


def _said(name: str, share: str, steps: int) -> str:
    whole = ", once all parts are in" if steps > 1 else ""
    return (
        f"{name}, after a water change{whole}: put back {share} for each {SHARE} % of the water "
        f"that was changed; {ONLY}"
    )
