"""What stands against a medicine as soon as it is chosen: before any dose is typed."""

from __future__ import annotations

from collections.abc import Mapping

from core.practice import going_past
from core.practice import treatment_fish as fish
from core.practice.medicines import answer, check_for, medicine, place


def words(
    visit_id: str,
    key: str,
    system: str,
    group: str | None = None,
    handling: str | None = None,
    said: Mapping[str, bool] | None = None,
) -> tuple[str, ...]:
    """Return what is refused and what stops a medicine for a water and its fish, as an order says
    it, and what it does to people; what hangs on the dose is said once there is one.

    Raises
    ------
    Refusal
        When there is no such medicine.
    """
    row = medicine(key)
    stops = [s for s in check_for(visit_id, place(system), row, group, said) if s.kind == "stop"]
    if fish.own_bath(row, handling):
        stops = [s for s in stops if s.subject not in fish.OF_THE_WATER]
    # Days of withdrawal are asked in a row of their own.
    refused = [s for s in stops if answer(s) == "refused" and s.subject != "withdrawal"]
    asks = [s.sentence for s in stops if answer(s) == "reason"]
    care = (f"Take care: {'; '.join(row.hazards)}.",) if row.hazards else ()
    return (*(f"REFUSED: {s.sentence}" for s in refused), *going_past.asked(asks, ()), *care)
