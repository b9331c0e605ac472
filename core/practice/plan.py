"""The plan of a visit: treatments, the owner's steps and the rechecks, as its screen shows them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from core.dosing.withdrawal import Withdrawal, latest
from core.errors import Refusal
from core.practice import (
    course_cost,
    goes_with,
    in_hand_food,
    own_rows,
    plan_elsewhere,
    plan_rechecks,
    plan_steps,
    repeats,
    treatment_fish,
    treatment_said,
    trials,
    water,
)
from core.practice.in_hand_bath import row_for
from core.practice.medicines import catalogue
from core.practice.plan_rechecks import RecheckOffer
from core.practice.problem_list import movement_stop
from core.practice.recheck_visits import standing
from core.practice.repeats import Repeat
from core.practice.step_offer import StepOffer
from core.practice.stock import fish_here
from core.practice.treatment_fish import OWN_BATHS
from core.practice.visits import Opened, opened
from core.records import read
from core.records.tables import (
    Handling,
    OwnerStep,
    Person,
    Recheck,
    System,
    Treatment,
    Visit,
)

ACTS = ("given here", "dispensed", "prescribed", "advised")
"""Four different things, kept apart."""


@dataclass(frozen=True)
class TreatmentLine:
    """A treatment with its words."""

    treatment: Treatment
    name: str
    whom: str
    amount: str
    days: tuple[date, ...]
    trial: str = ""
    """How a trial on a few fish went, or that one is asked for."""
    beside: tuple[str, ...] = ()
    """What goes with it, in sentences: what is off and until when, staying by, the drain."""
    scoops: str = ""
    """What is measured out in level scoops, the rounding with it."""
    cost: str = ""
    """What the course costs, where it is dispensed and has a price."""
    unsaid: str = ""
    """What the order leaves open: when things go on again."""


@dataclass(frozen=True)
class Target:
    """Who can receive a treatment: a whole water, a group where it is now, a fish in hand."""

    label: str
    system: str
    group: str | None = None
    handling: str | None = None

    @property
    def key(self) -> str:
        """Name by which a screen picks it."""
        return " ".join((self.system, self.group or "-", self.handling or "-"))


@dataclass(frozen=True)
class PlanView:
    """Everything the plan shows of one water."""

    opened: Opened
    system: System
    treatments: tuple[TreatmentLine, ...]
    steps: tuple[OwnerStep, ...]
    step_offers: tuple[StepOffer, ...]
    rechecks: tuple[Recheck, ...]
    booked: Mapping[str, Visit]
    """The visit of each recheck that is booked, by the id of the recheck."""
    vets: tuple[tuple[str, str], ...]
    """Id and name of who can be booked."""
    recheck_offers: tuple[RecheckOffer, ...]
    withdrawals: tuple[Withdrawal, ...]
    """Of what was given to food fish in this water, sedation in hand too."""
    unknown_withdrawals: tuple[str, ...]
    movement: tuple[str, ...]
    targets: tuple[Target, ...]
    temperature_c: float | None
    repeats: tuple[Repeat, ...] = ()
    """What the life cycles of the named parasites ask for."""
    elsewhere: tuple[str, ...] = ()
    """What is ordered at this visit for other waters: their plans stand by themselves."""

    def of(self, act: str) -> tuple[TreatmentLine, ...]:
        """Return the treatments of one of the four acts."""
        return tuple(t for t in self.treatments if t.treatment.act == act)

    @property
    def withdrawal(self) -> Withdrawal | None:
        """The withdrawal that ends last: the one that counts."""
        return latest(self.withdrawals)

    @property
    def has_stop_rule(self) -> bool:
        """Whether the owner is told when to stop and ring."""
        return any(s.kind == "stop" for s in self.steps)


def view(visit_id: str, system_id: str) -> PlanView:
    """Return the plan of a water as this visit has it."""
    found = opened(visit_id)
    own_rows.read_again()
    system = read.one(System, system_id)
    rows = read.find(Treatment, visit=visit_id, system=system_id)
    known, unknown = withdrawals(visit_id, system)
    seen = water.view(visit_id, system_id)
    temperature = seen.readings(seen.judged_place).get("temperature")
    warm = temperature.value if temperature else None
    rechecks = read.find(Recheck, visit=visit_id, order="target, id")
    return PlanView(
        found,
        system,
        tuple(line(row) for row in rows),
        read.find(OwnerStep, visit=visit_id, order="position, id"),
        plan_steps.offers(visit_id, system_id),
        rechecks,
        {r.id: held for r in rechecks if (held := standing(r)) is not None},
        tuple((p.id, p.name) for p in read.find(Person, active=True, role="veterinarian")),
        plan_rechecks.offers(visit_id, system_id, warm),
        known,
        unknown,
        movement_stop(visit_id),
        tuple(targets(visit_id, system_id)),
        warm,
        repeats.of_visit(visit_id, system_id, warm, found.visit.day),
        tuple(plan_elsewhere.lines(found, system_id)),
    )


def targets(visit_id: str, system_id: str) -> Iterator[Target]:
    """Give who can receive a treatment at a visit, this water and its fish first."""
    systems = sorted(opened(visit_id).systems, key=lambda s: s.id != system_id)
    for system in systems:
        yield Target(f"{system.name}, all of it", system.id)
        for here in fish_here(system.id):
            number = "" if here.alive is None else f" ({here.alive})"
            yield Target(f"{here.group.name}{number} in {system.name}", system.id, here.group.id)
        for fish in read.find(Handling, visit=visit_id, system=system.id):
            label = f"{fish.label}, in hand from {system.name}"
            yield Target(label, system.id, fish.group, fish.id)


def line(row: Treatment) -> TreatmentLine:
    """Return a treatment with its words and its days."""
    found = catalogue().get(row.medicine)
    days = treatment_said.days_of(row)
    return TreatmentLine(
        row,
        found.name if found else row.medicine,
        treatment_said.whom(row),
        treatment_said.amount_words(row),
        days,
        trials.said(row),
        goes_with.of_row(row, found) if found else (),
        treatment_said.scoop_words(row),
        course_cost.said(row),
        goes_with.unsaid_end(row, found) if found else "",
    )


def withdrawals(visit_id: str, system: System) -> tuple[tuple[Withdrawal, ...], tuple[str, ...]]:
    """Return the withdrawals of all that food fish of a water were given at a visit.

    Returns
    -------
    tuple
        Those that are known, a sedative in hand counted like any other; and sentences about
        those that are not.
    """
    if not system.food_fish:
        return (), ()
    known, unknown = [], []
    rows = read.find(Treatment, visit=visit_id, system=system.id)
    for row in rows:
        if row.withdrawal_until is not None:
            known.append(Withdrawal(row.medicine, row.withdrawal_until, row.withdrawal))
    kept = {row.handling for row in rows if row.route in OWN_BATHS}
    for fish in read.find(Handling, visit=visit_id, system=system.id):
        if fish.agent and fish.id not in kept:
            now = treatment_fish.temperature_c(visit_id, system)
            got, why = _of_sedation(fish, read.one(Visit, visit_id).day, now)
            known += [got] if got else []
            unknown += [why] if why else []
    return tuple(known), tuple(dict.fromkeys(unknown))


def _of_sedation(
    fish: Handling, day: date, temperature_c: float | None
) -> tuple[Withdrawal | None, str]:
    row = catalogue().get(fish.agent) or row_for(fish.agent, fish.agent_mg_l)
    if row is None:
        return None, f"{fish.label}: the withdrawal of {fish.agent} is not known."
    try:
        got, _ = in_hand_food.ends(fish, row, day, temperature_c)
    except Refusal as error:
        return None, f"{fish.label}: {error.sentence}"
    return Withdrawal(got.medicine, got.ends, f"{fish.label}: {got.sentence}"), ""
