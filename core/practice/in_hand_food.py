"""When food fish that were put to sleep are food again: the agent's withdrawal, or the vet's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.dosing.medicines import Medicine
from core.dosing.withdrawal import Withdrawal, by_heat, withdrawal
from core.errors import BadInput, Refusal
from core.practice.in_hand_agents import ENDS
from core.practice.in_hand_agents import row_for as agent_row
from core.practice.keep import Act, Shown, keep_figures
from core.practice.who import must_be_vet
from core.records import read
from core.records.journal import OpenEdit
from core.records.tables import Figure, Handling, System

SET = "withdrawal set by the veterinarian"
"""Name of the figure that holds the days, with their ground."""
CARCASS = "Food fish: the carcass is not food."
FORMULA = "core.dosing.withdrawal.withdrawal_end"


@dataclass(frozen=True)
class Food:
    """What a bath means for fish that people may eat; all empty for fish that are not food."""

    until: date | None = None
    words: str = ""
    unknown: str = ""
    """Why no day can be named; while it is, the bath is stopped."""


@dataclass(frozen=True)
class SetDays:
    """Days of withdrawal that a veterinarian set, and the ground for them."""

    days: int
    ground: str


def set_days(row: Handling) -> SetDays | None:
    """Return the days that a veterinarian set for a fish in hand; None when none were."""
    found = read.first(Figure, visit=row.visit, subject=row.id, name=SET)
    return None if found is None else SetDays(int(found.value), _ground(found))


def _ground(found: Figure) -> str:
    return found.working.partition("\n")[2].strip()


def of(
    row: Handling, medicine: Medicine, system: System, day: date, temperature_c: float | None
) -> Food:
    """Return the end of withdrawal of a bath, in words that say what it rests on."""
    if not system.food_fish:
        return Food()
    if ENDS in medicine.routes:
        return Food(None, CARCASS)
    try:
        found, own = ends(row, medicine, day, temperature_c)
    except Refusal as error:
        return Food(None, error.sentence, error.sentence)
    return Food(found.ends, _words(row, medicine, found, own, day, temperature_c))


def ends(
    row: Handling, medicine: Medicine, day: date, temperature_c: float | None
) -> tuple[Withdrawal, SetDays | None]:
    """Return the withdrawal of a bath of food fish, and the days the vet set for it, if any.

    Raises
    ------
    Refusal
        When it is not known, or in degree-days and the temperature was not measured.
    """
    own = set_days(row)
    return withdrawal(medicine, day, True, own.days if own else None, temperature_c), own


def _words(
    row: Handling,
    medicine: Medicine,
    found: Withdrawal,
    own: SetDays | None,
    day: date,
    temperature_c: float | None,
) -> str:
    assert found.ends is not None
    fish = "this fish is" if row.count == 1 else f"these {row.count} fish are"
    known = medicine.known.get("withdrawal", "from memory")
    how = f"set by the veterinarian: {own.ground}" if own else known
    days = f"{(found.ends - day).days} days, {how}"
    said = (
        f"Food fish: {fish} not food before {found.ends} ({days}).",
        "Keep them apart, or kill them.",
        by_heat(medicine, temperature_c),
    )
    return " ".join(filter(None, said))


def keep_days(
    doing: OpenEdit, act: Act, row: Handling, days: int, ground: str, temperature_c: float | None
) -> None:
    """Keep the days that a veterinarian sets, with the ground for them.

    Raises
    ------
    BadInput
        Without a ground, or for fewer days than are on record.
    NotAllowed
        For anybody but a veterinarian.
    """
    must_be_vet(act.by, "sets a withdrawal")
    if not ground.strip():
        raise BadInput(
            "The days need the ground they rest on.", "For example: 28, twice the longest found."
        )
    medicine = agent_row(row.agent, row.agent_mg_l)
    if medicine is not None:
        withdrawal(medicine, act.at.date(), True, days, temperature_c)
    shown = Shown(float(days), "days", f"{SET}\n  {ground.strip()}", FORMULA)
    keep_figures(doing, act, row.visit, row.id, {SET: shown})
