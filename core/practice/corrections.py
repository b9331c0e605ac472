"""Correcting the water: salt, bicarbonate or thiosulfate in grams for the net volume, in parts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import ceil

from core.catalogue import load
from core.dosing import course
from core.dosing.kinds import ActiveMass
from core.errors import BadInput, Refusal
from core.numbers import figures, plain
from core.practice import (
    going_past,
    level_ramps,
    own_rows,
    read_medicines,
    recency,
    stock_ordered,
    stock_take,
    water,
)
from core.practice.door import edit
from core.practice.keep import Act, Shown, begin_stage, keep_figures
from core.practice.kept import local_day
from core.practice.medicines import answer, check_for, medicine, place
from core.practice.own_products import in_stock_unit, strength_of
from core.practice.stock_take import Take
from core.practice.treatment_said import short
from core.practice.treatments import ACTS
from core.practice.who import must_be_vet
from core.records import read
from core.records.keys import new_key
from core.records.tables import System, Treatment, Visit
from core.sourced import Step, lines, working
from core.water.carbonate import bicarbonate_for_alkalinity_g
from core.water.chlorine import thiosulfate_for_chlorine_g
from core.water.derived import chloride_wanted_mg_l
from core.water.first import ALKALINITY_STEP_MG_L
from core.water.nitrogen import salt_for_chloride_g
from core.water.readings import WaterReadings
from core.water.salinity import salt_for_rise_g


@dataclass(frozen=True)
class Correction:
    """What is corrected and how far.

    Attributes
    ----------
    what : str
        ``salt``, ``nitrite``, ``alkalinity`` or ``chlorine``.
    aim : float or None
        For salt the rise in g/L, for alkalinity the mg/L as CaCO3 to reach.
    parts : int or None
        Equal parts a day apart; as few as a day's limit allows when None.
    """

    act: str
    system: str
    what: str
    aim: float | None = None
    parts: int | None = None
    directions: str = ""
    reason: str = ""
    from_lot: str = ""
    """Id of a lot of the shelf, or `stock_take.ELSEWHERE`."""
    lot_why: str = ""


@dataclass(frozen=True)
class Corrected:
    """A correction worked out."""

    medicine: str
    product: str
    grams: float
    dose: float
    dose_unit: str
    parts: int
    steps: tuple[Step, ...]
    stops: tuple[str, ...]
    cautions: tuple[str, ...]
    past_stops: tuple[str, ...]
    past_cautions: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """The amount in words, with its parts."""
        text = f"{short(self.grams)} g for a rise of {figures(self.dose)} {self.dose_unit}"
        if self.parts > 1:
            text += f", in {self.parts} parts of {short(self.grams / self.parts)} g a day apart"
        return text + "."


Sum = tuple[float, float, str, int]
"""Grams, the rise, its unit, and the fewest parts."""


def work_out(visit_id: str, wanted: Correction) -> Corrected:
    """Return the grams of a correction for the net volume, and what stands against it.

    Raises
    ------
    Refusal
        When the volume or the reading it rests on is not known, or nothing needs correcting.
    """
    part, key, product = _part(wanted.what)
    system = read.one(System, wanted.system)
    if not system.volume_l:
        raise Refusal("The volume of the water is not known.", "Give it in the history first.")
    seen = water.view(visit_id, system.id)
    got = water.as_readings(seen.readings(seen.judged_place))
    with working() as steps:
        grams, rise, unit, least = part(got, system.volume_l, wanted.aim)
    parts = least if wanted.parts is None else wanted.parts
    if parts < 1:
        raise BadInput("A correction has at least one part.")
    past = _against(visit_id, system.id, key)
    day = read.one(Visit, visit_id).day
    if short_lot := stock_ordered.parts_too_short(wanted, parts, day):
        past.append((False, "expiry", short_lot))
    if parts < least:
        past.append(
            (
                False,
                "pace",
                f"{parts} {'part is' if parts == 1 else 'parts are'} faster "
                f"than {_PACE[wanted.what]}.",
            )
        )
    return Corrected(
        key,
        product,
        grams,
        rise,
        unit,
        parts,
        tuple(steps),
        tuple(s for stop, _, s in past if stop),
        tuple(s for stop, _, s in past if not stop),
        tuple(dict.fromkeys(w for stop, w, _ in past if stop)),
        tuple(dict.fromkeys(w for stop, w, _ in past if not stop)),
    )


def _against(visit_id: str, system_id: str, key: str) -> list[tuple[bool, str, str]]:
    stops = check_for(visit_id, place(system_id), medicine(key))
    asks = [s for s in stops if answer(s) != "note" and s.subject != "flow"]
    return [(s.kind == "stop", s.subject, s.sentence) for s in asks]


def _salt(got: WaterReadings, volume_l: float, aim: float | None) -> Sum:
    del got
    rise = _wanted(aim, "the rise in g/L", "1")
    stepped = course.parts_within(*medicine("salt-prolonged").step_up_h)[0]
    least = max(stepped, ceil(rise / level_ramps.limit("salinity") - 1e-9))
    return salt_for_rise_g(volume_l, rise), rise, "g/L", least


def _nitrite(got: WaterReadings, volume_l: float, aim: float | None) -> Sum:
    del aim
    if got.nitrite_mg_l is None:
        raise Refusal("Nitrite was not measured.", "Measure it, and chloride, first.")
    rise = chloride_wanted_mg_l(got.nitrite_mg_l) - (got.chloride_mg_l or 0.0)
    if rise <= 0:
        raise Refusal("There is chloride enough for this nitrite.")
    return salt_for_chloride_g(volume_l, rise), rise, "mg/L chloride", 1


def _alkalinity(got: WaterReadings, volume_l: float, aim: float | None) -> Sum:
    if got.alkalinity_mg_l is None:
        raise Refusal("Alkalinity was not measured.", "Measure KH first.")
    rise = _wanted(aim, "the alkalinity to reach", "8 dKH") - got.alkalinity_mg_l
    if rise <= 0:
        raise Refusal("The alkalinity is there already.")
    least = ceil(rise / ALKALINITY_STEP_MG_L - 1e-9)
    return bicarbonate_for_alkalinity_g(volume_l, rise), rise, "mg/L as CaCO3", least


def _chlorine(got: WaterReadings, volume_l: float, aim: float | None) -> Sum:
    del aim
    if not got.chlorine_mg_l:
        raise Refusal("No chlorine was measured.")
    grams = thiosulfate_for_chlorine_g(volume_l, got.chlorine_mg_l)
    return grams, got.chlorine_mg_l, "mg/L chlorine bound", 1


def _wanted(aim: float | None, what: str, example: str) -> float:
    if aim is None or not aim > 0:
        raise BadInput(f"Say {what}.", f"Type for example {example}.")
    return aim


_PARTS: dict[str, tuple[Callable[[WaterReadings, float, float | None], Sum], str, str]] = {
    "salt": (_salt, "salt-prolonged", "sodium-chloride"),
    "nitrite": (_nitrite, "salt-nitrite", "sodium-chloride"),
    "alkalinity": (_alkalinity, "bicarbonate-buffer", "sodium-bicarbonate"),
    "chlorine": (_chlorine, "thiosulfate", ""),
}
WHATS = tuple(_PARTS)
_PACE = {
    "salt": "the row of the salt, which is stepped up over 24 h at least and 2 g/L a day at most",
    "alkalinity": f"{plain(ALKALINITY_STEP_MG_L)} mg/L of alkalinity a day (common practice)",
}
"""What a day takes at most, where there is a limit."""


def _part(what: str) -> tuple[Callable[[WaterReadings, float, float | None], Sum], str, str]:
    if what not in _PARTS:
        raise BadInput(f"{what} is no correction.", f"It is one of {', '.join(WHATS)}.")
    return _PARTS[what]


def agent_of(what: str) -> str:
    """Return the agent that a correction puts into the water."""
    return medicine(_part(what)[1]).name


def correct_water(act: Act, visit_id: str, wanted: Correction) -> str:
    """Record a correction of the water as a treatment; return its id.

    Raises
    ------
    Refusal
        For anybody but a veterinarian, and without a reason where something speaks against it.
    """
    must_be_vet(act.by, "orders a treatment")
    if wanted.act not in ACTS:
        raise BadInput(f"{wanted.act} is not one of: {', '.join(ACTS)}.")
    found = work_out(visit_id, wanted)
    late = recency.refusal(visit_id, wanted.act, local_day(act.at))
    if against := read_medicines.refused(found.medicine) or late:
        raise Refusal(against)
    going_past.must_have(found.stops, found.cautions, wanted.reason)
    how = found.steps[-1].formula.key
    of = (medicine(found.medicine), ActiveMass(found.grams, "g"))
    taken = stock_ordered.of_grams(act, wanted, *of, found.parts, how)
    row = stock_take.named(_row(act, visit_id, wanted, found), taken, wanted)
    row = row if taken is None else _of_product(row, taken, of[1])
    text = "\n".join([*lines(list(found.steps), load.citations()), found.sentence])
    figure = Shown(found.grams, "g", text, how)
    with edit("water corrected", who=act.by, at=act.at, visit=visit_id) as doing:
        begin_stage(doing, visit_id, "Plan")
        doing.add(row)
        later = stock_take.write(doing, act, taken, row)
        keep_figures(doing, act, visit_id, row.id, {"amount": figure} | later)
    own_rows.read_again()
    return row.id


def _of_product(row: Treatment, taken: Take, pure: ActiveMass) -> Treatment:
    """Return a correction in grams of the product that it is taken from, in all its parts."""
    amount = float(in_stock_unit(taken.product, pure))
    return replace(
        row,
        product=taken.product.id,
        strength=str(strength_of(taken.product)),
        amount=amount,
        amount_unit=taken.product.pack_unit,
    )


def _row(act: Act, visit_id: str, wanted: Correction, found: Corrected) -> Treatment:
    food = read.one(System, wanted.system).food_fish
    return Treatment(
        id=new_key(),
        visit=visit_id,
        system=wanted.system,
        act=wanted.act,
        medicine=found.medicine,
        route="prolonged bath",
        dose=found.dose,
        dose_unit=found.dose_unit,
        amount=found.grams,
        amount_unit="g",
        product=found.product,
        directions=wanted.directions.strip(),
        withdrawal="" if not food else "No withdrawal on record: 0 days.",
        override=going_past.kept(wanted.reason, found.past_stops, found.past_cautions),
        steps=found.parts,
        by=act.by,
        at=act.at,
    )
