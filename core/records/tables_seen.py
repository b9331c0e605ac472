"""What was told, measured and seen at a visit, before anything is concluded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, ClassVar

from core.records.table import Closing, Indexed, PersonId, Ref, Row, SystemId, VisitId


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Answer(Row):
    """One answer of the history. No row means *not asked*."""

    table: ClassVar[str] = "answer"
    visit: VisitId
    system: SystemId
    question: str
    state: str
    """``value``, ``no`` or ``unknown``."""
    value: str = ""
    told_by: str = ""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Loss(Row):
    """Fish found dead or missing on one day."""

    table: ClassVar[str] = "loss"
    visit: VisitId
    system: SystemId
    group: Annotated[str | None, Ref("fish_group", indexed=False)] = None
    day: date | None = None
    day_to: date | None = None
    """The end of the range when the day is not known exactly."""
    number: int
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Move(Row):
    """Fish taken from one water to another."""

    table: ClassVar[str] = "move"
    visit: VisitId
    group: Annotated[str, Ref("fish_group")]
    from_system: SystemId
    to_system: SystemId
    number: int | None = None
    at: datetime
    why: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Tried(Row):
    """A treatment the owner has already tried."""

    table: ClassVar[str] = "tried"
    visit: VisitId
    system: SystemId
    agent: str
    amount: str = ""
    """As told; empty when not known."""
    day: date | None = None
    since: str = ""
    """Water changes or carbon since."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Sign(Row):
    """Something seen on a fish, in a group or about the system."""

    table: ClassVar[str] = "sign"
    visit: VisitId
    system: SystemId
    subject: str
    """``system``, ``group`` or ``fish``."""
    subject_id: str
    sign: str
    state: str
    """``seen``, ``not seen``, ``ok`` or ``problem``."""
    value: float | None = None
    """Breaths a minute for the sign ``breaths``."""
    note: str = ""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Reading(Row):
    """One reading of one water at one place."""

    table: ClassVar[str] = "reading"
    visit: VisitId
    system: SystemId
    place: str = "here"
    """``here``, ``tap``, ``inlet`` or ``outlet``."""
    depth_cm: float | None = None
    analyte: Annotated[str, Indexed()]
    value: float
    """In the canonical unit of its kind; the step itself when below or above."""
    below: bool = False
    above: bool = False
    typed: str
    unit: str = ""
    basis: str = ""
    """``N`` or ``ion`` as the kit gives it."""
    method: str = ""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Handling(Row):
    """One fish, or one scoop of them, in hand."""

    table: ClassVar[str] = "handling"
    visit: VisitId
    system: SystemId
    group: Annotated[str | None, Ref("fish_group")] = None
    number: int
    label: str
    count: int = 1
    weight_g: float | None = None
    weight_typed: str = ""
    weight_how: str = ""
    """``weighed``, ``from length`` or ``told``."""
    length_cm: float | None = None
    length_typed: str = ""
    agent: str = ""
    agent_mg_l: float | None = None
    bath_l: float | None = None
    note: str = ""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class DepthMark(Row):
    """One moment of an anaesthesia: into the bath, a depth reached, out, recovered, dead."""

    table: ClassVar[str] = "depth_mark"
    visit: VisitId
    handling: Annotated[str, Ref("handling")]
    event: str
    breaths: float | None = None
    note: str = ""
    by: str = ""
    """Id of the person who did it, where that is asked for: the steps of a euthanasia."""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Lesion(Row):
    """A lesion with its place and size."""

    table: ClassVar[str] = "lesion"
    visit: VisitId
    handling: Annotated[str, Ref("handling")]
    kind: str
    place: str
    size_mm: float | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Sample(Row):
    """A numbered sample, got or not got."""

    table: ClassVar[str] = "sample"
    visit: VisitId
    system: SystemId
    handling: Annotated[str | None, Ref("handling")] = None
    number: str
    tissue: str
    got: bool = True
    why: str = ""
    place: str = ""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Slide(Row):
    """One mount or smear that was read."""

    table: ClassVar[str] = "slide"
    visit: VisitId
    sample: Annotated[str, Ref("sample")]
    stain: str = "wet_mount"
    magnification: int = 100
    fields: int = 1
    normal: bool = False
    """True when nothing abnormal was seen: that is a finding too."""
    note: str = ""
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Finding(Row):
    """Something seen on a slide, with its counts."""

    table: ClassVar[str] = "finding"
    visit: VisitId
    slide: Annotated[str, Ref("slide")]
    finding: str
    counts: str = ""
    """Counts field by field, as typed."""
    grade: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class SentTest(Row):
    """A test whose result is awaited."""

    table: ClassVar[str] = "sent_test"
    visit: VisitId
    system: SystemId
    sample: Annotated[str | None, Ref("sample", indexed=False)] = None
    name: str
    where: str = ""
    day: date
    due: date | None = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class TestResult(Row):
    """The result of a test sent out; may come after the visit is signed."""

    table: ClassVar[str] = "test_result"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    test: Annotated[str, Ref("sent_test")]
    value: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class OwnerTold(Row):
    """The owner was told the result of a test."""

    table: ClassVar[str] = "owner_told"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    result: Annotated[str, Ref("test_result")]
    how: str
    by: PersonId
    at: datetime
