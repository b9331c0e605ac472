"""When treated food fish may be eaten: the end of withdrawal, sedation included."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from core.dosing.degree_days import DegreeDays, days_needed
from core.dosing.medicines import Medicine
from core.errors import BadInput, Refusal
from core.numbers import plain


@dataclass(frozen=True)
class Withdrawal:
    """What is known about the end of withdrawal of one medicine.

    `ends` is None only for fish that are not food; `sentence` says it either way.
    """

    medicine: str
    ends: date | None
    sentence: str


def withdrawal_end(last_given: date, days: int) -> date:
    """Return the first day on which the withdrawal is over.

    Parameters
    ----------
    last_given : date
        Day of the last treatment.
    days : int
        Withdrawal in days.

    Raises
    ------
    BadInput
        For days below zero.

    Examples
    --------
    >>> withdrawal_end(date(2026, 11, 25), 21)
    datetime.date(2026, 12, 16)
    """
    if isinstance(days, bool) or days < 0:
        raise BadInput(f"A withdrawal of {days} days can not be; type 0 or more, for example 21.")
    return last_given + timedelta(days=days)


def days_not_saleable(treatment_days: int, withdrawal_days: int) -> int:
    """Return the days from the first treatment to the end of withdrawal.

    Raises
    ------
    BadInput
        For fewer than one day of treatment or a withdrawal below zero.

    Examples
    --------
    >>> days_not_saleable(10, 21)
    31
    """
    if treatment_days < 1 or withdrawal_days < 0:
        raise BadInput("Treatment is at least 1 day and withdrawal at least 0 days.")
    return treatment_days + withdrawal_days


def withdrawal(
    medicine: Medicine,
    last_given: date,
    food_fish: bool | None,
    set_days: int | None = None,
    temperature_c: float | None = None,
) -> Withdrawal:
    """Return the end of withdrawal of a medicine; a sedative counts like any other.

    Parameters
    ----------
    medicine : Medicine
    last_given : date
    food_fish : bool or None
        None, not known, is taken as food fish.
    set_days : int, optional
        Days set by the veterinarian, for use outside the label; never below those of the
        label.
    temperature_c : float, optional
        Mean of the water that is expected, the lowest that can come; for a withdrawal that
        the label states in degree-days.

    Raises
    ------
    Refusal
        For food fish when the medicine may not be given to them at all, when no withdrawal
        is known and none was set, or when it is in degree-days and the temperature is not
        known.
    BadInput
        When the days set are below those of the label.
    OutOfRange
        For degree-days below 1 or above 35 °C.
    """
    if food_fish is False:
        return Withdrawal(medicine.name, None, "Not food fish: never to be eaten or sold as food.")
    if medicine.never_in_food_fish:
        raise Refusal(f"{medicine.name}: {medicine.food_fish_ground}", "Choose another medicine.")
    least = _of_label(medicine, temperature_c)
    days = _longest(medicine, least, set_days)
    if days is None:
        raise Refusal(
            f"The withdrawal of {medicine.name} ({medicine.form}) is not known for food fish.",
            "The veterinarian sets the days, with the ground for them, before it is given.",
        )
    ends = withdrawal_end(last_given, days)
    sentence = _sentence(medicine, days, ends, set_days)
    return Withdrawal(
        medicine.name, ends, f"{sentence} {by_heat(medicine, temperature_c)}".rstrip()
    )


def latest(ends: Iterable[Withdrawal]) -> Withdrawal | None:
    """Return the withdrawal that ends last, which is the one that counts; None for none."""
    dated = [one for one in ends if one.ends is not None]
    return max(dated, key=lambda one: one.ends or date.min, default=None)


def _of_label(medicine: Medicine, temperature_c: float | None) -> int | None:
    """Return the days of the label; what it states in degree-days needs the temperature."""
    needed = medicine.withdrawal_degree_days
    if needed is None:
        return medicine.withdrawal_days
    if temperature_c is None:
        raise Refusal(
            f"The withdrawal of {medicine.name} is {plain(needed)} degree-days, and the "
            "temperature of the water is not known.",
            "Measure it; take the lowest that can come.",
        )
    by_heat = days_needed(DegreeDays(needed), temperature_c)
    return max(by_heat, medicine.withdrawal_days or by_heat)


def _longest(medicine: Medicine, least: int | None, set_days: int | None) -> int | None:
    if set_days is None or least is None:
        return least if set_days is None else set_days
    if set_days < least:
        raise BadInput(
            f"{medicine.name}: {set_days} days is less than the {least} on "
            "record; set as many or more."
        )
    return set_days


def by_heat(medicine: Medicine, temperature_c: float | None) -> str:
    """Say what a withdrawal in degree-days comes to, beside the days of another source; else ""."""
    needed = medicine.withdrawal_degree_days
    if needed is None or temperature_c is None:
        return ""
    asks = (
        f"The label asks {plain(needed)} degree-days; expected at {plain(temperature_c)} °C, "
        "longer when it is colder."
    )
    if medicine.withdrawal_days is None:
        return asks
    warm = days_needed(DegreeDays(needed), temperature_c)
    both = f"{medicine.withdrawal_days} days, and {warm} days by the degree-days"
    return f"{asks} On record are both {both}: the longer counts."


def _sentence(medicine: Medicine, days: int, ends: date, set_days: int | None) -> str:
    known = medicine.known.get("withdrawal", "from memory")
    ground = "set by the veterinarian" if set_days is not None else known
    return f"{medicine.name}: {days} days of withdrawal ({ground}), over on {ends.isoformat()}."
