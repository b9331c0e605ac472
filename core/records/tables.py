"""Every table of the practice's records, as frozen dataclasses: the rows everybody works with.

`models` makes the peewee models from these, `read` gives them back, `journal` writes them.
A class says under `closing` when the database refuses to change its rows:

- ``visit``: once the visit is signed;
- ``grows``: rows are added and never changed (payments, papers, addenda);
- ``invoice``: once the row stands on an issued invoice;
- ``open``: never closed (clients, bookings).

Rows are never deleted: `struck` holds the reason why a row no longer counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, ClassVar, Literal


@dataclass(frozen=True)
class Ref:
    """Marks a column that holds the id of a row in another table."""

    table: str
    indexed: bool = True


@dataclass(frozen=True)
class Indexed:
    """Marks a column that the app looks rows up by."""


@dataclass(frozen=True)
class Since:
    """Marks a column that a table which is older has from this schema number on."""

    schema: int


Closing = Literal["visit", "grows", "invoice", "open"]
VisitId = Annotated[str, Ref("visit")]
PersonId = Annotated[str, Ref("person", indexed=False)]
SystemId = Annotated[str, Ref("system")]


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Row:
    """What every row has: a UUIDv7 key made on the device, and why it was struck, if it was."""

    table: ClassVar[str] = ""
    closing: ClassVar[Closing] = "visit"
    brought_by: ClassVar[int] = 1
    """The schema number that brought the table."""
    id: str
    struck: str | None = None

    def __eq__(self, other: object) -> bool:
        """Compare by table and values; written once, since making it for each table is slow."""
        return type(self) is type(other) and vars(self) == vars(other)

    def __hash__(self) -> int:
        """Hash by the key: rows that are equal have the same one."""
        return hash((self.table, self.id))

    def __repr__(self) -> str:
        """Name the table and every value."""
        values = ", ".join(f"{name}={value!r}" for name, value in vars(self).items())
        return f"{type(self).__name__}({values})"


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Practice(Row):
    """The practice itself: one row."""

    table: ClassVar[str] = "practice"
    closing: ClassVar[Closing] = "open"
    name: str
    address: str
    phone: str
    email: str = ""
    licence: str = ""
    currency: str
    currency_exponent: int = 2
    units: str = "metric"
    """``metric`` or ``us``: what figures are shown in; any unit may be typed."""
    paper: str = "A4"
    zone: str
    """Name of the time zone, as in ``Europe/Lisbon``."""
    tax_rounding: str = "once"
    """``once`` per invoice or per ``line``."""
    terms: str = ""
    authority: str = ""
    """Who is told of a suspected listed disease, in the practice's own words."""
    opens: str = "08:00"
    closes: str = "18:00"
    open_days: str = "1234567"
    """Days of the week with visits, 1 for Monday; a booking outside needs a reason."""
    invented: bool = False
    """True for a demonstration: every screen and paper says so."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class TaxClass(Row):
    """A class of tax: every charge line has one."""

    table: ClassVar[str] = "tax_class"
    closing: ClassVar[Closing] = "open"
    code: str
    name: str
    rate_percent: Decimal


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Price(Row):
    """A line of the practice's price list."""

    table: ClassVar[str] = "price"
    closing: ClassVar[Closing] = "open"
    code: Annotated[str, Indexed()]
    name: str
    unit_minor: int
    tax_class: str


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Person(Row):
    """Somebody at work in the practice."""

    table: ClassVar[str] = "person"
    closing: ClassVar[Closing] = "open"
    name: str
    role: str
    """``veterinarian``, ``technician``, ``reception`` or ``read only``."""
    licence: str = ""
    active: bool = True


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Client(Row):
    """Whoever owns the fish and pays."""

    table: ClassVar[str] = "client"
    closing: ClassVar[Closing] = "open"
    name: Annotated[str, Indexed()]
    phone: str = ""
    email: str = ""
    address: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Site(Row):
    """A place the truck drives to."""

    table: ClassVar[str] = "site"
    closing: ClassVar[Closing] = "open"
    client: Annotated[str, Ref("client")]
    name: str
    address: str = ""
    access: str = ""
    """Gate, dog, key, who will be there."""
    caution: str = ""
    bring: str = ""
    elevation_m: float = 0.0
    travel_min: int = 30


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class System(Row):
    """A body of water with its fish."""

    table: ClassVar[str] = "system"
    closing: ClassVar[Closing] = "open"
    site: Annotated[str, Ref("site")]
    name: str
    kind: str
    """Key of the catalogue's kinds of system."""
    volume_l: float | None = None
    """Net volume of water."""
    volume_typed: str = ""
    volume_how: str = ""
    """How the volume is known: measured, geometry, salt, told."""
    volume_error_percent: float | None = None
    flow: str = "recirculated"
    """``still``, ``recirculated`` or ``flowing``."""
    flow_l_s: float | None = None
    food_fish: bool = False
    plants: str = "unknown"
    """``yes``, ``no`` or ``unknown``; so are the next two."""
    invertebrates: str = "unknown"
    zeolite: str = "unknown"
    filter: str = ""
    source_water: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class FishGroup(Row):
    """A single named fish, or a group counted by number."""

    table: ClassVar[str] = "fish_group"
    closing: ClassVar[Closing] = "open"
    system: SystemId
    """The water they live in, moves aside."""
    species: str
    name: str
    single: bool = False
    count: int | None = None
    tag: str = ""
    stage: str = "adult"


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Visit(Row):
    """One visit to one site, from the booking to the signature."""

    table: ClassVar[str] = "visit"
    client: Annotated[str, Ref("client")]
    site: Annotated[str, Ref("site")]
    system: SystemId
    vet: PersonId
    day: Annotated[date, Indexed()]
    starts: str
    """Wall time at the site, as in ``08:30``."""
    minutes: int = 90
    kind: str = "new"
    """Key of the catalogue's kinds of visit."""
    reason: str = ""
    rank: int = 2
    """Infection rank: 1 clean to 4 suspected listed disease or unexplained deaths."""
    rank_why: str = ""
    """What gave the rank, or why a person set another."""
    state: str = "booked"
    """``booked``, ``open``, ``no access``, ``cancelled`` or ``signed``."""
    why: str = ""
    """Why there was no access, or why it was cancelled."""
    advice: str = ""
    """What the desk told the owner to do until the visit."""
    booked_why: str = ""
    """Why it stands although it clashes with another visit or lies outside the hours."""
    recheck_of: str | None = None
    estimate_low_minor: int | None = None
    estimate_high_minor: int | None = None
    estimate_by: str = ""
    """Who accepted the estimate."""
    estimate_at: datetime | None = None
    signed_at: datetime | None = None
    signed_by: str | None = None
    sign_hash: str | None = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class StageMark(Row):
    """How far one stage of a visit has come."""

    table: ClassVar[str] = "stage_mark"
    visit: VisitId
    stage: str
    state: str
    """``begun``, ``waiting``, ``done`` or ``passed over``; no row means not begun."""
    why: str = ""
    """What is waited for, or why it was passed over."""


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


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Recheck(Row):
    """A visit or a call to come, with the window in which it should happen."""

    table: ClassVar[str] = "recheck"
    closing: ClassVar[Closing] = "open"
    visit: VisitId
    client: Annotated[str, Ref("client")]
    system: SystemId
    kind: str = "visit"
    """``visit`` or ``phone``."""
    reason: str
    earliest: date
    target: Annotated[date, Indexed()]
    latest: date
    booked: Annotated[str | None, Indexed()] = None
    """The visit it was booked as."""
    origin: str = ""
    """The offer it was taken from; "" for one of the vet's own."""
    closed_at: datetime | None = None
    outcome: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Attempt(Row):
    """One attempt to reach the owner about a recheck."""

    table: ClassVar[str] = "attempt"
    closing: ClassVar[Closing] = "grows"
    recheck: Annotated[str, Ref("recheck")]
    result: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Charge(Row):
    """One line to be charged; it leads back to what was done, or says it is manual."""

    table: ClassVar[str] = "charge"
    closing: ClassVar[Closing] = "invoice"
    visit: VisitId
    position: int
    code: str
    words: str
    quantity: Decimal
    unit_minor: int
    tax_class: str
    origins: str = ""
    """The rows that made the line, as ``table:id`` with spaces between; "" for a manual one."""
    invoice: Annotated[str | None, Ref("invoice")] = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Invoice(Row):
    """An issued invoice; it never changes."""

    table: ClassVar[str] = "invoice"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    client: Annotated[str, Ref("client")]
    number: Annotated[str, Indexed()]
    day: date
    net_minor: int
    tax_minor: int
    gross_minor: int
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Payment(Row):
    """Money taken."""

    table: ClassVar[str] = "payment"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    client: Annotated[str, Ref("client")]
    amount_minor: int
    how: str
    reference: str = ""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Document(Row):
    """A paper as issued: its bytes lie in the papers folder under this name and hash."""

    table: ClassVar[str] = "document"
    closing: ClassVar[Closing] = "grows"
    visit: Annotated[str | None, Ref("visit")] = None
    """None for a paper of the whole day; so is the client."""
    client: Annotated[str | None, Ref("client")] = None
    kind: str
    number: str
    version: int = 1
    supersedes: str | None = None
    file: str
    sha256: str
    content: str = ""
    """Hash of the data it was made from, so that a later change marks it out of date."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Delivery(Row):
    """How and to whom a paper was given."""

    table: ClassVar[str] = "delivery"
    closing: ClassVar[Closing] = "grows"
    visit: Annotated[str | None, Ref("visit")] = None
    document: Annotated[str, Ref("document")]
    how: str
    to: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Addendum(Row):
    """What is said after the signature, with its own author and time."""

    table: ClassVar[str] = "addendum"
    closing: ClassVar[Closing] = "grows"
    visit: VisitId
    words: str
    why: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class DayMark(Row):
    """A line of the end-of-day list that somebody has seen to."""

    table: ClassVar[str] = "day_mark"
    closing: ClassVar[Closing] = "open"
    day: Annotated[date, Indexed()]
    line: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Setting(Row):
    """One setting of the practice, by name."""

    table: ClassVar[str] = "setting"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 2
    key: Annotated[str, Indexed()]
    value: str


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Signature(Row):
    """One signed record in the chain of signed records that a device has made."""

    table: ClassVar[str] = "signature"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 2
    visit: VisitId
    device: str
    count: int
    """Its place in the chain of its device, from 1 without a gap."""
    record_hash: str
    before: str
    """The chain's hash at the signature before; "" at the first."""
    chain: str
    """Hash of all of the above, of the visit, the signer and the moment."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Proposed(Row):
    """What came in for a visit that was signed already: kept until a veterinarian settles it."""

    table: ClassVar[str] = "proposed"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 2
    visit: VisitId
    kind: str
    """Kind of the edit that could not be made."""
    words: str
    """What it would have said, in words for a person."""
    body: str
    """The lines that were refused, as JSON."""
    by: PersonId
    at: datetime
    outcome: str = ""
    """``addendum`` or ``set aside``; "" while nobody has settled it."""
    outcome_why: str = ""
    addendum: Annotated[str | None, Ref("addendum", indexed=False)] = None
    settled_by: Annotated[str | None, Ref("person", indexed=False)] = None
    settled_at: datetime | None = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Hold(Row):
    """Records that are kept beyond their date, for a dispute, until somebody ends it."""

    table: ClassVar[str] = "hold"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 2
    client: Annotated[str, Ref("client")]
    visit: Annotated[str | None, Ref("visit")] = None
    """One visit, or None for all of the client's."""
    why: str
    by: PersonId
    at: datetime
    ended_why: str = ""
    ended_by: Annotated[str | None, Ref("person", indexed=False)] = None
    ended_at: datetime | None = None


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class AccessMark(Row):
    """Something about who may open the app: a PIN set, a recovery code made or used."""

    table: ClassVar[str] = "access_mark"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 2
    person: Annotated[str, Ref("person")]
    what: str
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class MedicineRead(Row):
    """A veterinarian has read a row of the medicines, and switched it on or off here."""

    table: ClassVar[str] = "medicine_read"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 3
    medicine: Annotated[str, Indexed()]
    """Key of the catalogue's medicines, or the id of one of the practice's own."""
    state: str
    """``on`` or ``off``; no row means off."""
    fingerprint: str
    """Hash of the row as it was read: a row that has changed since is off until it is read anew."""
    note: str = ""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class OwnMedicine(Row):
    """A row of medicines that the practice has written itself, in the catalogue's own form."""

    table: ClassVar[str] = "own_medicine"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 3
    name: Annotated[str, Indexed()]
    body: str
    """The row as JSON, with the keys of the catalogue's medicines."""
    by: PersonId
    at: datetime


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Product(Row):
    """A product on the shelf: what it holds, and in what pack."""

    table: ClassVar[str] = "product"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 3
    medicine: Annotated[str, Indexed()]
    """Key of the catalogue's medicines, or the id of one of the practice's own."""
    name: str
    strength: float
    strength_unit: str
    """What the strength counts, as in ``mg/mL``, ``percent w/w``, ``percent w/v`` or ``mg/g``."""
    density_g_ml: float | None = None
    pack: float
    pack_unit: str
    """``mL``, ``g`` or ``piece``: what stock is counted in."""
    price: str = ""
    """Code of the price list; "" when it is not sold."""
    controlled: bool = False
    """Kept in the controlled-drug log."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Lot(Row):
    """One batch of a product, at one place."""

    table: ClassVar[str] = "lot"
    closing: ClassVar[Closing] = "open"
    brought_by: ClassVar[int] = 3
    product: Annotated[str, Ref("product")]
    number: str
    expires: date | None = None
    opened: date | None = None
    place: str = ""
    """The truck, or the cupboard."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class StockLine(Row):
    """One line of the stock of a lot; the controlled-drug log is made of the same lines."""

    table: ClassVar[str] = "stock_line"
    closing: ClassVar[Closing] = "grows"
    brought_by: ClassVar[int] = 3
    lot: Annotated[str, Ref("lot")]
    kind: str
    """``received``, ``given here``, ``dispensed``, ``waste``, ``returned``, ``count`` or
    ``put right``."""
    amount: Decimal
    """What came in, or, less than nothing, what went out; for a count, what was found."""
    balance: Decimal
    """What the log says is left after this line."""
    treatment: Annotated[str | None, Ref("treatment", indexed=False)] = None
    visit: Annotated[str | None, Ref("visit")] = None
    witness: str = ""
    why: str = ""
    """Why another lot was taken, why it was wasted, or why the count differs."""
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


TABLES: tuple[type[Row], ...] = (
    Practice,
    TaxClass,
    Price,
    Person,
    Client,
    Site,
    System,
    FishGroup,
    Visit,
    StageMark,
    Answer,
    Loss,
    Move,
    Tried,
    Sign,
    Reading,
    Handling,
    DepthMark,
    Lesion,
    Sample,
    Slide,
    Finding,
    SentTest,
    TestResult,
    OwnerTold,
    Weighing,
    Food,
    Feeding,
    FeedStep,
    Problem,
    ProblemState,
    Treatment,
    OwnerStep,
    Figure,
    Recheck,
    Attempt,
    Invoice,
    Charge,
    Payment,
    Document,
    Delivery,
    Addendum,
    DayMark,
    Setting,
    Signature,
    Proposed,
    Hold,
    AccessMark,
    MedicineRead,
    OwnMedicine,
    Product,
    Lot,
    StockLine,
    TrialRun,
)
"""Every table, each after those it refers to."""
