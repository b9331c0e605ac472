"""What the visit record is made of: plain texts and dates, each part as the record keeps it.

Values come as they were shown, with their units: a record prints what the veterinarian saw and
works out nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from core.papers.parts import Currency, Party, Practice

Status = Literal["suspected", "confirmed", "ruled out", "resolved"]
Kind = Literal["given here", "dispensed", "prescribed", "advised"]
KINDS: tuple[Kind, ...] = ("given here", "dispensed", "prescribed", "advised")


@dataclass(frozen=True)
class Watched:
    """A thing watched: which fish or system, what, and what was seen."""

    subject: str
    what: str
    seen: str


@dataclass(frozen=True)
class Reading:
    """A reading with the tap or inlet water beside it, the verdict and the limit it names."""

    what: str
    here: str
    tap: str = ""
    verdict: str = ""
    limit: str = ""
    taken: str = ""


@dataclass(frozen=True)
class Figure:
    """A computed figure as it was shown.

    Parameters
    ----------
    what, value : str
        Its name, and the value with its unit.
    formula, equation, working, source : str
        Name of the formula, the equation, the figures put in, and the work it comes from.
    """

    what: str
    value: str
    formula: str
    equation: str
    working: str
    source: str


@dataclass(frozen=True)
class InHand:
    """A fish (or a scoop) in hand.

    Parameters
    ----------
    name, species : str
        Which.
    weight, weight_how : str
        With unit; ``weighed``, or ``estimated`` and from what.
    length, condition, lesions : str
        As found.
    sedation : str
        Drug, level and bath; its moments stand in `Depth`.
    """

    name: str
    species: str
    weight: str = ""
    weight_how: str = ""
    length: str = ""
    condition: str = ""
    lesions: str = ""
    sedation: str = ""


@dataclass(frozen=True)
class Depth:
    """One moment of an anaesthesia or a euthanasia.

    Parameters
    ----------
    fish, time, since : str
        Which; the time on the wall, and the minutes and seconds since it went in.
    what, rate, note : str
        What was marked, the opercular rate, and what belongs to it: consent, overdose, signs.
    by : str
        Who did it.
    """

    fish: str
    time: str
    since: str
    what: str
    rate: str = ""
    note: str = ""
    by: str = ""


@dataclass(frozen=True)
class Sample:
    """A sample got, or not got and why (`why`); with what became of it (`sent`)."""

    number: str
    animal: str
    what: str
    got: bool
    why: str = ""
    sent: str = ""


@dataclass(frozen=True)
class Slide:
    """A slide: its sample, stain, magnification and fields, and (what, count, grade) found."""

    number: str
    sample: str
    stain: str
    magnification: str
    fields: str
    findings: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True)
class Awaited:
    """A test sent out: what, to whom, when it is due; the result when it came."""

    test: str
    where: str
    due: date | None = None
    result: str = ""


@dataclass(frozen=True)
class RampStep:
    """A step of a feeding ramp: from when, how much, what it predicts, its gate."""

    begins: str
    food: str
    predicted: str
    gate: str


@dataclass(frozen=True)
class Feeding:
    """The feeding check: labelled facts, the ramp, and why it is held (if it is)."""

    facts: tuple[tuple[str, str], ...]
    steps: tuple[RampStep, ...] = ()
    held: str = ""


@dataclass(frozen=True)
class Problem:
    """A problem as the veterinarian named it, its states so far, and its evidence."""

    name: str
    status: Status
    states: tuple[str, ...] = ()
    speaks_for: tuple[str, ...] = ()
    speaks_against: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class Treatment:
    """Something given here, dispensed, prescribed or advised: four different things.

    Parameters
    ----------
    kind : str
        Which of the four.
    what, amount, route, whom, when : str
        Substance and strength, amount, way in, which fish or water, date or time.
    details : tuple of (str, str)
        Dose and working, lot, place of injection, withdrawal, consent and the like.
    """

    kind: Kind
    what: str
    amount: str = ""
    route: str = ""
    whom: str = ""
    when: str = ""
    details: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Recheck:
    """When to look again, how (visit or phone), and why."""

    on: date
    how: str
    why: str


@dataclass(frozen=True)
class Signature:
    """Who signed, the aware moment in the practice's zone, and the hash of what was signed."""

    name: str
    signed: datetime
    hash: str
    chain: str = ""
    """Its place in the chain of signed records, in words."""


@dataclass(frozen=True)
class Addendum:
    """A text added after the signature, with its own author, moment, reason and hash."""

    words: str
    reason: str
    author: str
    added: datetime
    hash: str
    entered: str = ""
    """Who entered it and when, of what came in after the signature and was taken later."""


@dataclass(frozen=True)
class VisitRecord:
    """A whole visit.

    Parameters
    ----------
    number, version : str, int
        Of the record; the version goes up with each addendum.
    practice, client : Practice, Party
        Whose record, and of whom.
    issued : datetime
        Aware; goes into the metadata.
    visited : date
        Day of the visit; `arrived` and `left` are wall times.
    veterinarian, present : str
        Who examined; who else was there.
    system : tuple of (str, str)
        Labelled facts about the water.
    patients : tuple of str
        Each animal or group: name, species, breed, number, age, sex (or *unknown*), look.
    complaint : str
        In the owner's words.
    history, consents : tuple of (str, str)
        Labelled facts; who agreed to what, and how.
    passed_over : tuple of (str, str)
        Stage and why it was passed over.
    charges : tuple of (str, int)
        What and how much, in minor units of `currency`.
    signature : Signature or None
        None while the visit is open: the record then says so on every page.
    waiting : int
        Entries that came in after the signature and await the veterinarian.
    """

    number: str
    version: int
    practice: Practice
    client: Party
    issued: datetime
    visited: date
    veterinarian: str
    system: tuple[tuple[str, str], ...]
    patients: tuple[str, ...]
    complaint: str
    arrived: str = ""
    left: str = ""
    present: str = ""
    history: tuple[tuple[str, str], ...] = ()
    watched: tuple[Watched, ...] = ()
    water: tuple[Reading, ...] = ()
    do_first: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    in_hand: tuple[InHand, ...] = ()
    depth: tuple[Depth, ...] = ()
    samples: tuple[Sample, ...] = ()
    slides: tuple[Slide, ...] = ()
    awaited: tuple[Awaited, ...] = ()
    feeding: Feeding | None = None
    problems: tuple[Problem, ...] = ()
    treatments: tuple[Treatment, ...] = ()
    consents: tuple[tuple[str, str], ...] = ()
    advice: tuple[str, ...] = ()
    rechecks: tuple[Recheck, ...] = ()
    passed_over: tuple[tuple[str, str], ...] = ()
    charges: tuple[tuple[str, int], ...] = ()
    currency: Currency | None = None
    signature: Signature | None = None
    addenda: tuple[Addendum, ...] = ()
    waiting: int = 0
