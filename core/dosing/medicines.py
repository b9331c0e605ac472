"""Medicines as the catalogue gives them: one row for each agent, form, route and indication."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from core.dosing.dangers import Danger, from_rows
from core.dosing.quantities import concentration, dose, feed_level
from core.dosing.quantity import Quantity
from core.errors import Refusal

BATHS = frozenset(
    {
        "bath",
        "dip",
        "prolonged bath",
        "egg bath",
        "sedation bath",
        "anaesthetic bath",
        "maintenance bath",
        "euthanasia bath",
    }
)
ROUTES = frozenset(
    {*BATHS, "injection IM", "injection ICe", "injection IV", "oral", "medicated feed"}
)
"""Every route there is."""

STATUSES = frozenset(
    {
        "approved",
        "approved with feed directive",
        "low regulatory priority",
        "regulatory status deferred",
        "extra-label",
        "feed additive",
        "not approved",
        "barred in feed",
        "not for food fish",
        "prohibited",
    }
)
"""Where a medicine stands for food fish in the United States."""

SYSTEMS = ("fresh", "brackish", "marine")
SWITCHES = frozenset({"UV", "ozone", "carbon", "zeolite", "skimmer", "flow", "lights"})
KNOWN = frozenset({"read", "computed", "read in part", "from memory"})
NEVER = frozenset({"barred in feed", "not for food fish", "prohibited"})


@dataclass(frozen=True)
class Prohibition:
    """A rule that forbids a medicine in food animals, and the date of the text that was read."""

    rule: str
    item: str
    text_of: date

    @property
    def citation(self) -> str:
        """Rule, item and date of the text as one line."""
        return f"{self.rule} ({self.item}; text of {self.text_of.isoformat()})"


@dataclass(frozen=True)
class Medicine:
    """One row of the catalogue of medicines.

    `dose_low` is None where the source gives only a highest dose, or a rule (`dose_rule`).
    `known` says for each field how it is known; the flags below `prohibited` are the
    structured form of `avoid`, and are known no better than from memory unless listed.
    """

    key: str
    name: str
    form: str
    routes: tuple[str, ...]
    indication: str
    dose_high: float
    unit: str
    us_food_fish: str
    systems: tuple[str, ...]
    sources: tuple[str, ...]
    known: Mapping[str, str]
    dose_low: float | None = None
    dose_of: str = ""
    dose_rule: str = ""
    dose_note: str = ""
    interval_h: int | None = None
    repeats: int | None = None
    duration: str = ""
    avoid: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    us_food_fish_note: str = ""
    withdrawal_days: int | None = None
    withdrawal_degree_days: float | None = None
    step_up_h: tuple[int, ...] = ()
    """Least and most hours over which the dose is stepped up; empty for one at once."""
    prohibited: Prohibition | None = None
    approved_groups: tuple[str, ...] = ()
    harms_invertebrates: bool = False
    harms_plants: bool = False
    harms_biofilter: bool = False
    scaleless_caution: bool = False
    elasmobranch_stop: bool = False
    elasmobranch_caution: bool = False
    lowers_oxygen: bool = False
    minimum_oxygen_mg_l: float | None = None
    minimum_alkalinity_mg_l: float | None = None
    max_temperature_c: float | None = None
    caution_above_c: float | None = None
    caution_below_c: float | None = None
    caution_below_ph: float | None = None
    stop_groups: tuple[str, ...] = ()
    caution_groups: tuple[str, ...] = ()
    not_with: tuple[str, ...] = ()
    switch_off: tuple[str, ...] = ()
    extra_air: bool = False
    buffer_g_per_g: float | None = None
    controlled: bool = False
    antimicrobial: bool = False
    """Counted in the practice's use of antimicrobials; disinfectants in the water are not."""
    unknown_stops: tuple[str, ...] = ()
    """Limits whose figure must be known: not measured is a stop, not a caution."""
    dangers: tuple[Danger, ...] = ()
    stay: str = ""
    """How long somebody stays by; this and the next four are "" where the sources say nothing."""
    stop_at: str = ""
    """Signs at which it is ended, and what is done then."""
    trial: str = ""
    """Why it is tried on a few fish first."""
    water_goes: str = ""
    """Where the water goes afterwards."""
    kit: str = ""
    """The test kit that it falsifies."""
    remarks: Mapping[str, str] = field(default_factory=dict)
    """A sentence for a flag that needs one, by the name of the flag."""

    @property
    def in_water(self) -> bool:
        """Whether it goes into the water."""
        return bool(BATHS & set(self.routes))

    @property
    def bathes(self) -> bool:
        """Whether it is a bath in the water that fish live in; what mends the water is none."""
        mends = self.unit.startswith(("mg/mg", "g/g"))
        return not mends and bool({"bath", "prolonged bath"} & set(self.routes))

    @property
    def unsaid(self) -> tuple[str, ...]:
        """What goes with a bath and its sources say nothing of, in words."""
        said = {
            "what is switched off": self.switch_off,
            "extra air": self.extra_air,
            "how long to stay by": self.stay,
            "signs to stop at": self.stop_at,
            "a trial on a few fish": self.trial,
            "where the water goes": self.water_goes,
            "which test kit it falsifies": self.kit,
        }
        return tuple(words for words, there in said.items() if not there)

    @property
    def never_in_food_fish(self) -> bool:
        """Whether it may not be given to food fish at all."""
        return self.us_food_fish in NEVER

    @property
    def food_fish_ground(self) -> str:
        """Where it stands for food fish, with the rule that forbids it."""
        if self.prohibited is not None:
            return f"prohibited in food animals by {self.prohibited.citation}."
        note = f" ({self.us_food_fish_note})" if self.us_food_fish_note else ""
        return f"listed as {self.us_food_fish} in the United States{note}."

    @property
    def from_memory(self) -> bool:
        """Whether the dose itself was not read anywhere."""
        return self.known["dose"] == "from memory"

    def highest(self) -> Quantity:
        """Return the highest dose of the row as a quantity.

        Raises
        ------
        Refusal
            For the few rows dosed by something else than water, fish or food.
        """
        return self._quantity(self.dose_high)

    def lowest(self) -> Quantity:
        """Return the lowest dose of the row; the highest where the source gives no lowest."""
        return self._quantity(self.dose_high if self.dose_low is None else self.dose_low)

    def _quantity(self, value: float) -> Quantity:
        if self.unit.endswith(" feed"):
            return feed_level(value, self.unit.removesuffix(" feed"))
        if self.unit in ("mg/L", "g/L", "uL/L"):
            return concentration(value, self.unit)
        if "/kg" in self.unit:
            return dose(value, self.unit)
        raise Refusal(f"{self.name} is dosed in {self.unit}, not by water, fish or food.")


def from_row(key: str, row: Mapping[str, Any]) -> Medicine:
    """Return a medicine from a row of the catalogue, as TOML gives it.

    Raises
    ------
    TypeError
        For a column that a medicine does not have, or one that is missing.
    ValueError
        For a word outside the closed lists: route, status, system, switch, how known.
    """
    values: dict[str, Any] = {
        name: tuple(v) if isinstance(v, list) else v for name, v in row.items()
    }
    if "prohibited" in values:
        values["prohibited"] = Prohibition(**values["prohibited"])
    values["dangers"] = from_rows(values.get("dangers", ()))
    medicine = Medicine(key=key, **values)
    _closed(medicine)
    return medicine


def from_table(table: Mapping[str, Mapping[str, Any]]) -> dict[str, Medicine]:
    """Return every medicine of the catalogue by its key."""
    return {key: from_row(key, row) for key, row in table.items()}


def _closed(medicine: Medicine) -> None:
    if not medicine.routes or not medicine.systems:
        raise ValueError(f"{medicine.key}: a route and a kind of water are needed")
    for words, allowed in (
        (medicine.routes, ROUTES),
        ((medicine.us_food_fish,), STATUSES),
        (medicine.systems, frozenset(SYSTEMS)),
        (medicine.switch_off, SWITCHES),
        (tuple(medicine.known.values()), KNOWN),
    ):
        if strange := set(words) - allowed:
            raise ValueError(f"{medicine.key}: {sorted(strange)} is not in the closed list")
