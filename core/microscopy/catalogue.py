"""What can be seen under the microscope, where it is looked for, and with which stain.

Rows of `organisms.toml`, `stains.toml`, `tissues.toml` and `lesions.toml` as frozen types.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Scale:
    """How counts become a grade.

    Parameters
    ----------
    key : str
        Name of the scale.
    per : str
        What one count belongs to, for example ``field at 100x``.
    starts : tuple of float
        Mean count per field from which grade 1, 2, 3 ... holds. The first is 0: any
        organism at all is at least grade 1.
    ends : tuple of float
        Mean count up to which that grade holds; between an end and the next start the
        published classes leave a gap.
    fields : int
        How many fields to look through before *none seen* says much.
    any_is_act : bool
        One organism is enough to act, whatever the grade.
    source : str
        Key of the source.
    """

    key: str
    per: str
    starts: tuple[float, ...]
    ends: tuple[float, ...]
    fields: int
    any_is_act: bool
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Scale:
        """Make a scale from its catalogue row."""
        return cls(
            key,
            row["per"],
            tuple(float(x) for x in row["starts"]),
            tuple(float(x) for x in row["ends"]),
            int(row["fields"]),
            bool(row.get("any_is_act", False)),
            row["source"],
        )


@dataclass(frozen=True)
class Organism:
    """Something a slide can show: an organism, a change of the fish, or an artefact.

    Parameters
    ----------
    key, name, group : str
        Identity; group is parasite, bacteria, fungus, virus, host change or artefact.
    tissues : tuple of str
        Keys of the tissues in which it is looked for.
    size_um : tuple of float
        Smallest and largest usual size in micrometres; empty where size says nothing.
    look : str
        Look and motion.
    water : str
        fresh, sea or both.
    scale : str
        Key of its scale.
    speaks_for, speaks_against : tuple of str
        Keys of problems.
    like : tuple of str
        Keys of what it is confused with.
    decide : str
        The next slide or test that would tell.
    zoonotic, notifiable : str
        The caution as a sentence; empty when none is known.
    source : str
        Key of the source.
    """

    key: str
    name: str
    group: str
    tissues: tuple[str, ...]
    size_um: tuple[float, ...]
    look: str
    water: str
    scale: str
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    like: tuple[str, ...]
    decide: str
    zoonotic: str
    notifiable: str
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Organism:
        """Make an organism from its catalogue row."""
        return cls(
            key,
            row["name"],
            row["group"],
            tuple(row["tissues"]),
            tuple(float(x) for x in row.get("size_um", ())),
            row["look"],
            row.get("water", "both"),
            row["scale"],
            tuple(row.get("for", ())),
            tuple(row.get("against", ())),
            tuple(row.get("like", ())),
            row.get("decide", ""),
            row.get("zoonotic", ""),
            row.get("notifiable", ""),
            row["source"],
        )


@dataclass(frozen=True)
class Stain:
    """A way to prepare a slide: its letter, magnifications, minutes and what it decides."""

    key: str
    name: str
    letter: str
    magnifications: tuple[int, ...]
    minutes: tuple[int, int]
    decides: str
    caution: str
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Stain:
        """Make a stain from its catalogue row."""
        return cls(
            key,
            row["name"],
            row["letter"],
            tuple(row["magnifications"]),
            (row["minutes"][0], row["minutes"][1]),
            row["decides"],
            row.get("caution", ""),
            row["source"],
        )


@dataclass(frozen=True)
class Tissue:
    """What can be sampled: its letter, how it is taken, and what a clean look is worth."""

    key: str
    name: str
    letter: str
    take: str
    clean_means: str
    from_living: bool
    source: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Tissue:
        """Make a tissue from its catalogue row."""
        return cls(
            key,
            row["name"],
            row["letter"],
            row["take"],
            row["clean_means"],
            bool(row["from_living"]),
            row["source"],
        )


@dataclass(frozen=True)
class Choice:
    """One lettered entry of a short list: a lesion, a place on the fish, a reason."""

    key: str
    name: str
    letter: str

    @classmethod
    def from_row(cls, key: str, row: Mapping[str, Any]) -> Choice:
        """Make a choice from its catalogue row."""
        return cls(key, row["name"], row["letter"])
