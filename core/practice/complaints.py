"""From the complaint to what is worth asking, testing and sampling; never to a diagnosis."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass

from core.assessment.catalogue import URGENCIES, Complaint, ProblemKind
from core.assessment.complaints import worth_knowing
from core.assessment.history import Sign
from core.catalogue import load
from core.practice.questions import catalogue as questions

ASKED = 5
"""So many questions and signs are named; the rest stand in the form anyway."""


@dataclass(frozen=True)
class WorthDoing:
    """What a complaint makes worth doing, in plain words, the most telling first.

    Attributes
    ----------
    labels : tuple of str
        The complaints.
    urgency : str
        The soonest of them.
    ask, watch, tests, samples : tuple of str
        Questions of the history, signs, tests and samples by name.
    """

    labels: tuple[str, ...]
    urgency: str
    ask: tuple[str, ...]
    watch: tuple[str, ...]
    tests: tuple[str, ...]
    samples: tuple[str, ...]


@functools.cache
def catalogue() -> dict[str, Complaint]:
    """Return every complaint by key."""
    rows = load.table("complaints")["complaint"]
    return {key: Complaint.from_row(key, row) for key, row in rows.items()}


@functools.cache
def _kinds() -> dict[str, ProblemKind]:
    rows = load.table("problems")["problem"]
    return {key: ProblemKind.from_row(key, row) for key, row in rows.items()}


def worth_doing(keys: Iterable[str]) -> WorthDoing | None:
    """Return what the complaints make worth doing; None when there is none."""
    found = [catalogue()[key] for key in keys if key in catalogue()]
    if not found:
        return None
    return WorthDoing(
        tuple(c.label for c in found),
        min((c.urgency for c in found), key=URGENCIES.index),
        _telling(found, "history", {k: a.question.label for k, a in questions().items()}),
        _telling(found, "sign", {s.key: s.label for s in _signs()}),
        tuple(name_of_test(t) for t in _water_first(found)),
        tuple(dict.fromkeys(_sample(s) for c in found for s in c.slides)),
    )


def _water_first(found: list[Complaint]) -> list[str]:
    """Return the tests of all complaints, each once, those of the water before all else."""
    rows = load.table("problems")["test"]
    keys = dict.fromkeys(t for c in found for t in c.tests)
    return sorted(keys, key=lambda t: rows[t]["kind"] != "water")


def _telling(found: list[Complaint], family: str, names: dict[str, str]) -> tuple[str, ...]:
    keys = dict.fromkeys(k for c in found for k in worth_knowing(c, _kinds(), family)[:ASKED])
    return tuple(names[k] for k in keys if k in names)


def _signs() -> list[Sign]:
    return [Sign.from_row(key, row) for key, row in load.table("signs")["sign"].items()]


def name_of_test(key: str) -> str:
    """Return a test of the catalogue by name."""
    return str(load.table("problems")["test"][key]["name"])


def _sample(key: str) -> str:
    row = load.table("tissues")["tissue"][key]
    return str(row["name"]) + ("" if row["from_living"] else " (only from a fish that has died)")
