"""Recording what was given to a fish in hand, after everything that stands against it."""

from __future__ import annotations

from core.errors import BadInput, Refusal
from core.practice import in_hand, own_rows, read_medicines, stock_ordered, stock_take
from core.practice.door import edit
from core.practice.giving import Worked, worked
from core.practice.giving_context import Context, Wanted, context
from core.practice.in_hand import Fish
from core.practice.keep import Act, Shown, begin_stage, keep_figures
from core.practice.kept import local_day
from core.practice.who import must_be_vet
from core.records.keys import new_key
from core.records.tables import Treatment


def needs_reason(found: Worked, wanted: Wanted) -> tuple[str, ...]:
    """Return the cautions that are gone past only with a reason, kept in the record."""
    drawn = found.drawn
    undecided = found.dilution is not None and wanted.diluted is not False
    if drawn is None or not drawn.too_small or undecided:
        return found.cautions
    few = f"{found.volume} is only {drawn.graduations:.1f} marks of the {drawn.syringe.name}."
    return (*found.cautions, few)


def give(act: Act, handling_id: str, wanted: Wanted) -> str:
    """Record a medicine as given here and now; return the id of the treatment.

    Raises
    ------
    Refusal
        When the person is no veterinarian, a stop stands against it (naming its rule), a
        small volume was neither diluted nor accepted, or a caution has no reason.
    BadInput
        When weight, dose or strength are not said.
    """
    must_be_vet(act.by, "gives a medicine")
    fish = in_hand.one(handling_id)
    at = context(fish, local_day(act.at))
    found = worked(at, wanted)
    if off := read_medicines.refused(found.medicine.key):
        raise Refusal(off)
    _may(found, wanted)
    taken = stock_ordered.of_injection(act, wanted, found, fish.handling.count)
    row = stock_take.named(_row(act, fish, at, found, wanted), taken)
    visit = fish.handling.visit
    with edit("given here", who=act.by, at=act.at, visit=visit) as doing:
        begin_stage(doing, visit, in_hand.STAGE)
        doing.add(row)
        stock_take.write(doing, act, taken, row)
        key = "core.dosing.arithmetic.draw_up_volume"
        shown = Shown(row.amount, "mL", found.working, key)
        keep_figures(doing, act, visit, row.id, {f"{found.medicine.name}, to draw": shown})
    own_rows.read_again()
    return row.id


def _may(found: Worked, wanted: Wanted) -> None:
    if found.stops:
        raise Refusal(" ".join(found.stops), "Choose another medicine.")
    if found.missing:
        raise BadInput(f"Still needed: {', '.join(found.missing)}.", "Enter it first.")
    if wanted.repeats > 1 and wanted.interval_days is None:
        raise BadInput("Say how far apart the doses are.", "For example 72 hours.")
    if found.dilution is not None and wanted.diluted is None:
        raise Refusal(
            f"{found.volume} is under five marks. {found.dilution.sentence}",
            "Say whether it was diluted.",
        )
    cautions = needs_reason(found, wanted)
    if cautions and not wanted.reason.strip():
        raise Refusal(" ".join(cautions), "Type the reason for giving it all the same.")


def _row(act: Act, fish: Fish, at: Context, found: Worked, wanted: Wanted) -> Treatment:
    assert found.amount_ml is not None
    assert wanted.dose is not None
    row, medicine = fish.handling, found.medicine
    cautions = needs_reason(found, wanted)
    each = f"each of {row.count} fish, by their mean weight; " if row.count > 1 else ""
    return Treatment(
        id=new_key(),
        visit=row.visit,
        system=row.system,
        group=row.group,
        handling=row.id,
        act="given here",
        medicine=medicine.key,
        route=found.route,
        dose=wanted.dose,
        dose_unit=medicine.unit,
        amount=found.amount_ml,
        amount_unit="mL",
        product=wanted.product,
        strength=found.strength,
        lot=wanted.lot.strip(),
        expires=wanted.expires,
        place=wanted.place.strip(),
        repeats=wanted.repeats,
        interval_days=float(wanted.interval_days) if wanted.interval_days else None,
        directions=f"{each}for {at.weight_g:g} g, {at.weight_how}",
        withdrawal_until=found.withdrawal_until,
        withdrawal=found.withdrawal,
        override=f"{' '.join(cautions)} Reason: {wanted.reason.strip()}" if cautions else "",
        by=act.by,
        at=act.at,
    )
