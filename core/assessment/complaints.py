"""What a complaint makes worth asking, watching and sampling."""

from __future__ import annotations

from collections.abc import Mapping

from core.assessment.catalogue import LIKELIHOODS, Complaint, ProblemKind


def worth_knowing(
    complaint: Complaint, kinds: Mapping[str, ProblemKind], family: str
) -> tuple[str, ...]:
    """Return the keys of one family of facts that tell most about a complaint, best first.

    Best is what bears on most of the problems kept in mind, then on the likelier one.

    Parameters
    ----------
    complaint : Complaint
        Row of the catalogue.
    kinds : mapping
        Kinds of problem by key.
    family : str
        ``history`` for questions, ``sign``, ``walk``, ``water``, ``slide`` or another
        first part of a fact.
    """
    bears: dict[str, list[int]] = {}
    for differential in complaint.differentials:
        kind = kinds[differential.problem]
        likely = LIKELIHOODS.index(differential.likelihood)
        facts = dict.fromkeys(c.fact for c in (*kind.clues_for, *kind.clues_against))
        for fact in facts:
            bears.setdefault(fact, []).append(likely)
    wanted = [fact for fact in bears if fact.startswith(f"{family}.")]
    ordered = sorted(wanted, key=lambda fact: (-len(bears[fact]), min(bears[fact])))
    return tuple(fact.removeprefix(f"{family}.") for fact in ordered)
