"""What is given to a fish in hand: stops first, then the dose, then what the syringe can draw."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from core.catalogue import load
from core.dosing import syringe
from core.dosing.arithmetic import AnyStrength, dose_mass, draw_up_volume
from core.dosing.kinds import ProductVolume, Strength
from core.dosing.medicines import Medicine
from core.dosing.quantities import body, dose, strength
from core.dosing.stops import Stop, check
from core.dosing.syringe import Drawn, Syringe
from core.dosing.withdrawal import withdrawal
from core.errors import BadInput, Refusal
from core.numbers import plain
from core.practice.giving_context import Context, Wanted, shelf, syringes, usual_syringe
from core.practice.read_medicines import merged
from core.sourced import lines, working


@dataclass(frozen=True)
class Worked:
    """What follows: what stands against it, the dose, and what is drawn."""

    medicine: Medicine
    route: str
    stops: tuple[str, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    mass: str
    volume: str
    """The volume of the product as it is; "" while weight, dose or strength is not said."""
    drawn: Drawn | None
    dilution: syringe.Dilution | None
    """The proposal, when the volume is under five graduations."""
    finer: str
    """What another syringe at hand would draw without a dilution; "" when none would."""
    amount_ml: float | None
    strength: str
    """Of what is drawn: of the product, or of its dilution."""
    held: str
    """The strength of the product as it is."""
    withdrawal_until: date | None
    withdrawal: str
    working: str
    missing: tuple[str, ...]


def medicine_of(wanted: Wanted) -> Medicine:
    """Return the row of the medicine.

    Raises
    ------
    BadInput
        When the catalogue does not have it.
    """
    found = merged().get(wanted.medicine)
    if found is None:
        raise BadInput("This medicine is not in the catalogue.", "Choose it from the list.")
    return found


def worked(at: Context, wanted: Wanted) -> Worked:
    """Return what follows from what is wanted: stops before any arithmetic.

    Raises
    ------
    BadInput
        For a number that can not be.
    Refusal
        When no syringe can draw it.
    """
    medicine = medicine_of(wanted)
    route = wanted.route or medicine.routes[0]
    said = _standing(medicine, at, wanted)
    stops = tuple(_with_rule(s) for s in said if s.kind == "stop")
    ends, words = _withdrawal(medicine, at, wanted)
    missing = _missing(at, medicine, wanted)
    empty = Worked(
        medicine,
        route,
        stops,
        (*_own_cautions(at, medicine, wanted), *_sentences(said, "caution")),
        _sentences(said, "note"),
        *("", "", None, None, "", None, "", ""),
        ends,
        words,
        "",
        missing,
    )
    return empty if stops or missing else _drawn(empty, at, wanted)


def _sentences(said: tuple[Stop, ...], kind: str) -> tuple[str, ...]:
    return tuple(s.sentence for s in said if s.kind == kind)


def _with_rule(stop: Stop) -> str:
    return stop.sentence if stop.rule in stop.sentence else f"{stop.sentence} ({stop.rule})"


def _standing(medicine: Medicine, at: Context, wanted: Wanted) -> tuple[Stop, ...]:
    """Return what stands against it; days set by the vet answer an unknown withdrawal."""
    found = check(medicine, at.recipient)
    if wanted.withdrawal_days is None:
        return found
    return tuple(s for s in found if not (s.kind == "stop" and s.subject == "withdrawal"))


def _withdrawal(medicine: Medicine, at: Context, wanted: Wanted) -> tuple[date | None, str]:
    try:
        last = wanted.days(at.day)[-1]
        at_c = at.recipient.temperature_c
        found = withdrawal(medicine, last, at.recipient.food_fish, wanted.withdrawal_days, at_c)
    except Refusal as error:
        return None, error.sentence
    return found.ends, found.sentence


def _missing(at: Context, medicine: Medicine, wanted: Wanted) -> tuple[str, ...]:
    needs_strength = medicine.unit != "mL/kg"
    wanting = {
        "the weight of the fish": at.weight_g,
        "the dose": wanted.dose,
        "the product or its strength": not needs_strength or wanted.product or wanted.strength,
    }
    return tuple(name for name, held in wanting.items() if not held)


def _own_cautions(at: Context, medicine: Medicine, wanted: Wanted) -> tuple[str, ...]:
    found = [*at.doubts, *at.today.get(medicine.name, ())]
    if at.weight_g is not None and at.weight_how != "weighed":
        found.append("The weight is estimated from the length, not weighed.")
    low = medicine.dose_high if medicine.dose_low is None else medicine.dose_low
    if wanted.dose is not None and not low <= wanted.dose <= medicine.dose_high:
        span = (
            plain(low)
            if low == medicine.dose_high
            else f"{plain(low)} to {plain(medicine.dose_high)}"
        )
        found.append(
            f"{plain(wanted.dose)} {medicine.unit} is not the {span} {medicine.unit} on record."
        )
    return tuple(found)


def strength_of(medicine: Medicine, wanted: Wanted) -> AnyStrength | None:
    """Return the strength of what is drawn from, before any dilution."""
    if medicine.unit == "mL/kg":
        return None
    on_shelf = {p.key: p for p in shelf(medicine)}
    if wanted.product in on_shelf:
        return on_shelf[wanted.product].strength
    unit = "IU/mL" if medicine.unit.startswith("IU") else "mg/mL"
    return strength(wanted.strength or 0.0, unit)


def _drawn(empty: Worked, at: Context, wanted: Wanted) -> Worked:
    medicine, held = empty.medicine, strength_of(empty.medicine, wanted)
    assert at.weight_g is not None
    assert wanted.dose is not None
    per_kg, fish = dose(wanted.dose, medicine.unit), body(at.weight_g, "g")
    with working() as steps:
        mass = "" if held is None else str(dose_mass(per_kg, fish))
        volume = draw_up_volume(per_kg, fish, held)
        used = _syringe(wanted.syringe, volume)
        drawn = syringe.draw(volume, used)
        proposal = _proposal(volume, held, used) if drawn.too_small else None
    taken = proposal if proposal is not None and wanted.diluted else None
    route_limit = _route_limit(volume, at.weight_g, empty.route)
    values = vars(empty) | {
        "mass": mass,
        "volume": f"{volume.m_as('mL'):.3f}".rstrip("0").rstrip(".") + " mL",
        "drawn": taken.drawn if taken else drawn,
        "dilution": proposal,
        "finer": _finer(volume) if drawn.too_small else "",
        "amount_ml": taken.drawn.drawn_ml if taken else drawn.drawn_ml,
        "strength": _strength_words(held, taken),
        "held": "" if held is None else str(held),
        "working": "\n".join(lines(steps, load.citations())),
        "cautions": (*empty.cautions, *route_limit),
    }
    return Worked(**values)


def _syringe(name: str, volume: ProductVolume) -> Syringe:
    named = next((s for s in syringes() if s.name == name), None)
    return named or usual_syringe(volume)


def _proposal(
    volume: ProductVolume, held: AnyStrength | None, used: Syringe
) -> syringe.Dilution | None:
    return syringe.propose_dilution(volume, held, used) if isinstance(held, Strength) else None


def _finer(volume: ProductVolume) -> str:
    fits = (s for s in syringes() if s.capacity_ml >= volume.m_as("mL"))
    enough = [d for d in (syringe.draw.plain(volume, s) for s in fits) if not d.too_small]
    return f"Or undiluted: {enough[0]}." if enough else ""


def _strength_words(held: AnyStrength | None, taken: syringe.Dilution | None) -> str:
    if taken is None:
        return "" if held is None else str(held)
    more = taken.factor - 1
    return f"{taken.strength} (1 part of {held} with {more} part{'s' * (more > 1)} diluent)"


def _route_limit(volume: ProductVolume, weight_g: float, route: str) -> tuple[str, ...]:
    rows = load.table("routes")
    most = {key: row["most_ml_kg"] for key, row in rows.items() if "most_ml_kg" in row}
    if route not in most:
        return ()
    said = syringe.over_route_limit.plain(volume, body(weight_g, "g"), route, most)
    return (said,) if said else ()
