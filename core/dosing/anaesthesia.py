"""Anaesthetic baths, the depth of anaesthesia by the clock, and euthanasia in two steps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from core.dosing.arithmetic import AnyConcentration, AnyMass, AnyStrength, bath_mass, bath_volume
from core.dosing.kinds import ActiveMass, ProductMass, ProductVolume, Water
from core.dosing.quantity import expect
from core.errors import BadInput, Refusal
from core.sourced import sourced


@dataclass(frozen=True)
class AnaestheticBath:
    """What an anaesthetic bath needs: the agent weighed or poured from stock, and its buffer."""

    agent: AnyMass
    stock: ProductVolume | None
    buffer: ProductMass | None

    def __str__(self) -> str:
        poured = f" ({self.stock} of stock, in the volume)" if self.stock else ""
        buffered = f", with {self.buffer} of buffer" if self.buffer else ""
        return f"{self.agent}{poured}{buffered}"


@sourced(equation="buffer = agent x g of buffer per g", source="ARITHMETIC", gives="")
def buffer_mass(agent: AnyMass, ratio: float) -> ProductMass:
    """Return the buffer for a mass of agent, in g.

    Parameters
    ----------
    agent : ActiveMass
    ratio : float
        Grams of buffer for each gram of agent, from the row of the medicine.

    Raises
    ------
    WrongKind
        For anything but a mass of active substance.
    BadInput
        For a ratio that is not above zero.
    """
    expect(agent, ActiveMass)
    return ProductMass(agent.m_as("g") * ratio, "g")


@sourced(
    equation="agent = concentration x water; stock = agent / strength; buffer = agent x ratio",
    source="ARITHMETIC",
    gives="",
)
def anaesthetic_bath(
    concentration: AnyConcentration,
    water: Water,
    stock: AnyStrength | None = None,
    ratio: float | None = None,
) -> AnaestheticBath:
    """Return what an anaesthetic bath needs, made up *to* the water volume.

    Parameters
    ----------
    concentration : Concentration
        By weight.
    water : Water
        The finished bath.
    stock : Strength, optional
        Of the stock solution, if one is used.
    ratio : float, optional
        Grams of buffer for each gram of agent.

    Raises
    ------
    WrongKind
        For any other pairing.
    """
    agent = bath_mass(concentration, water)
    poured = None if stock is None else bath_volume(concentration, water, stock)
    return AnaestheticBath(agent, poured, None if ratio is None else buffer_mass(agent, ratio))


@dataclass(frozen=True)
class Stage:
    """One stage of depth or recovery; authors number them differently, so the scale is named."""

    scale: str
    number: int
    name: str
    signs: str
    sources: tuple[str, ...]


@dataclass(frozen=True)
class Depth:
    """One line of the anaesthetic log."""

    at: datetime
    stage: int
    opercular_per_minute: float | None = None


def stages(rows: Iterable[dict[str, object]], scale: str, source: str) -> tuple[Stage, ...]:
    """Return the stages of a scale from rows of the catalogue, numbered from 1."""
    return tuple(
        Stage(scale, n, str(row["name"]), str(row["signs"]), (source,))
        for n, row in enumerate(rows, 1)
    )


def minutes_to_stage(started: datetime, log: Sequence[Depth], stage: int) -> float | None:
    """Return the minutes from the start to the first line at a stage or deeper; None if never.

    Raises
    ------
    BadInput
        When a line of the log is earlier than the start.
    """
    if any(line.at < started for line in log):
        raise BadInput("A line of the log is earlier than the start of the bath.")
    reached = [line.at for line in log if line.stage >= stage]
    return (min(reached) - started) / timedelta(minutes=1) if reached else None


@dataclass(frozen=True)
class FirstStep:
    """Euthanasia, first step: overdose by immersion or injection."""

    agent: str
    amount: str
    started: datetime
    last_opercular_beat: datetime | None = None


@dataclass(frozen=True)
class SecondStep:
    """Euthanasia, second step: physical or injected, on the fish that no longer reacts."""

    method: str
    done: datetime
    by: str


@dataclass(frozen=True)
class Euthanasia:
    """The record of a euthanasia; it can be closed only when nothing is missing."""

    patient: str
    consent_of: str
    first: FirstStep | None = None
    second: SecondStep | None = None
    signs_of_death: frozenset[str] = frozenset()
    confirmed_by: str = ""


def missing_before_closing(record: Euthanasia, wait_minutes: float) -> tuple[str, ...]:
    """Name everything that a euthanasia record still lacks.

    Parameters
    ----------
    record : Euthanasia
    wait_minutes : float
        From the last opercular beat to the second step; sources disagree (10, 30, 60
        minutes, hours without a second step), the catalogue holds them all.

    Raises
    ------
    BadInput
        For a wait below zero.
    """
    if not wait_minutes >= 0:
        raise BadInput(f"A wait of {wait_minutes} minutes can not be; type for example 30.")
    wanting = {
        "whose consent": record.consent_of.strip(),
        "the first step": record.first,
        "the moment of the last opercular beat": record.first and record.first.last_opercular_beat,
        "the second step": record.second and record.second.method.strip(),
        "who did the second step": record.second and record.second.by.strip(),
        "the signs of death": record.signs_of_death,
        "who confirmed death": record.confirmed_by.strip(),
    }
    lacking = [name for name, held in wanting.items() if not held]
    return (*lacking, *_too_early(record, wait_minutes))


def close(record: Euthanasia, wait_minutes: float) -> Euthanasia:
    """Return the record when it may be closed.

    Raises
    ------
    Refusal
        Naming what is missing; an empty second step is enough.
    """
    lacking = missing_before_closing(record, wait_minutes)
    if lacking:
        raise Refusal(f"This euthanasia can not be closed: missing {', '.join(lacking)}.")
    return record


def _too_early(record: Euthanasia, wait_minutes: float) -> tuple[str, ...]:
    first, second = record.first, record.second
    if first is None or second is None or first.last_opercular_beat is None:
        return ()
    waited = second.done - first.last_opercular_beat
    if first.last_opercular_beat < first.started or waited < timedelta(minutes=wait_minutes):
        return (f"{wait_minutes:g} minutes from the last opercular beat to the second step",)
    return ()
