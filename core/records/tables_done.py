"""What was worked out, concluded, fed and given at a visit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, ClassVar

from core.records.table import PersonId, Ref, Row, SystemId, VisitId


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Weighing(Row):
    """So many fish of one size in a group, weighed or estimated from length."""

    table: ClassVar[str] = "weighing"
    visit: VisitId
    system: SystemId
    group: Annotated[str, Ref("fish_group")]
    count: int | None = None
    weight_g: float
    """Mean weight of one fish."""
    length_cm: float | None = None
    how: str = "weighed"
    """``weighed``, ``from length`` or ``told``."""
    typed: str = ""
    count_low: int | None = None
    """Fewest and most of them when nobody knows how many; then `count` is empty."""
    count_high: int | None = None
    error_percent: float | None = None
    """Half of what repeated weighings lie apart, in % of their mean; empty for one weighing."""
    handling: Annotated[str | None, Ref("handling", indexed=False)] = None
    """The fish or scoop in hand that was weighed."""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Food(Row):
    """A bag or jar of food and its dates."""

    table: ClassVar[str] = "food"
    visit: VisitId
    system: SystemId
    name: str
    kind: str = "dry_pellet"
    protein_fraction: float | None = None
    opened: date | None = None
    use_by: date | None = None
    sealed: bool = False
    """Not opened yet."""
    scoop_g: float | None = None
    """What this owner's scoop holds of it, weighed once."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Feeding(Row):
    """What is fed, weighed, and how often."""

    table: ClassVar[str] = "feeding"
    visit: VisitId
    system: SystemId
    fed_g: float | None = None
    """At one feeding; empty until it is weighed."""
    fed_typed: str = ""
    every_days: float = 1.0
    target_percent: float | None = None
    gone_min: float | None = None
    """Minutes until the food is gone."""
    left_over: bool = False
    """Food was still there when nobody waited any longer."""
    new_deaths: int | None = None
    """Deaths in the last week as told here; empty when not asked."""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class FeedStep(Row):
    """One step of a planned rise, or a held ration, with the gate it must pass."""

    table: ClassVar[str] = "feed_step"
    visit: VisitId
    system: SystemId
    position: int
    day: date
    grams: float
    gate: str
    kind: str = "step"
    """``step`` of a rise, or a ration to ``hold``."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Problem(Row):
    """A problem the vet has named; its states follow it from visit to visit."""

    table: ClassVar[str] = "problem"
    visit: VisitId
    client: Annotated[str, Ref("client")]
    system: SystemId
    group: Annotated[str | None, Ref("fish_group", indexed=False)] = None
    problem: str
    """Key of the catalogue's problems, or "" when only the words say it."""
    words: str


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class ProblemState(Row):
    """What the vet held of a problem at a visit."""

    table: ClassVar[str] = "problem_state"
    visit: VisitId
    problem: Annotated[str, Ref("problem")]
    state: str
    """``suspected``, ``confirmed``, ``ruled out``, ``improving`` or ``resolved``."""
    why: str = ""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Treatment(Row):
    """Something given here, dispensed, prescribed or advised: four different things."""

    table: ClassVar[str] = "treatment"
    visit: VisitId
    system: SystemId
    group: Annotated[str | None, Ref("fish_group", indexed=False)] = None
    handling: Annotated[str | None, Ref("handling")] = None
    act: str
    """``given here``, ``dispensed``, ``prescribed`` or ``advised``."""
    medicine: str
    route: str
    dose: float
    dose_unit: str
    amount: float
    """What is drawn up or weighed out, once."""
    amount_unit: str
    product: str = ""
    strength: str = ""
    lot: str = ""
    expires: date | None = None
    place: str = ""
    """Where it was injected."""
    repeats: int = 1
    interval_days: float | None = None
    directions: str = ""
    withdrawal_until: date | None = None
    withdrawal: str = ""
    """The withdrawal in words, also when it is not known."""
    override: str = ""
    """Why a caution was gone past."""
    starts: date | None = None
    """Day of the first one; the day of the visit when empty."""
    steps: int = 1
    """In so many equal parts, a day apart."""
    off_hours: float | None = None
    """Hours until what was switched off goes on again."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class TrialRun(Row):
    """A treatment tried on a few fish first, and how that went."""

    table: ClassVar[str] = "trial_run"
    brought_by: ClassVar[int] = 3
    visit: VisitId
    treatment: Annotated[str, Ref("treatment")]
    fish: int
    minutes: float | None = None
    outcome: str = ""
    """What was seen; "" while it is awaited."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class OwnerStep(Row):
    """One line of the owner's instructions."""

    table: ClassVar[str] = "owner_step"
    visit: VisitId
    position: int
    kind: str
    """``do``, ``do not``, ``watch`` or ``stop``: stop and ring."""
    words: str
    day: date | None = None
    origin: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Figure(Row):
    """A computed figure that entered the record, with the working that was shown."""

    table: ClassVar[str] = "figure"
    visit: VisitId
    subject: str
    """Id of the row the figure belongs to."""
    name: str
    value: float
    unit: str
    working: str
    formula: str
    catalogue: str
    at: datetime
