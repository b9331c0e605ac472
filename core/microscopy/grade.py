"""Grade from counts per field; the raw counts are always kept beside it."""

from __future__ import annotations

from dataclasses import dataclass

from core.errors import BadInput
from core.microscopy.catalogue import Scale
from core.numbers import figures
from core.sourced import sourced


@dataclass(frozen=True)
class Grade:
    """What counts come to.

    Parameters
    ----------
    counts : tuple of int
        As counted, one a field.
    mean : float
        Organisms per field.
    grade : int
        0 for none seen, then 1 to 4.
    borderline : str
        Empty, or why the grade could as well be the next one.
    act : bool
        One organism of this kind is enough to act.
    cautions : tuple of str
        What this look does not say.
    scale : str
        Key of the scale.
    source : str
        Key of the source of the scale.
    """

    counts: tuple[int, ...]
    mean: float
    grade: int
    borderline: str
    act: bool
    cautions: tuple[str, ...]
    scale: str
    source: str

    @property
    def said(self) -> str:
        """Return the grade in words, for example ``2+ (7 in 3, borderline)``."""
        mark = f"{self.grade}+" if self.grade else "0"
        edge = ", borderline" if self.borderline else ""
        return f"{mark} ({sum(self.counts)} in {len(self.counts)}{edge})"


@sourced(
    equation="mean = sum of the counts / number of fields",
    source="ARITHMETIC",
    gives="per field",
)
def mean_count(counts: tuple[int, ...]) -> float:
    """Return the mean count per field.

    Parameters
    ----------
    counts : tuple of int
        One whole number a field, at least one field.

    Raises
    ------
    BadInput
        Without a field, or with a negative count.

    Examples
    --------
    >>> mean_count((4, 3, 2))
    3.0
    """
    if not counts:
        raise BadInput("No field was counted.", "Enter one count a field, for example 4 3 0.")
    if min(counts) < 0:
        raise BadInput("A count is below zero.", "Enter 0 for a field with none seen.")
    return sum(counts) / len(counts)


def grade(counts: tuple[int, ...], scale: Scale) -> Grade:
    """Grade the counts of one kind on one sample.

    A mean that falls into a gap between two published classes takes the higher one and
    is called borderline; so is a grade that one organism more or fewer would change.

    Parameters
    ----------
    counts : tuple of int
        One whole number a field.
    scale : Scale
        Row of the catalogue.

    Raises
    ------
    BadInput
        Without a field, or with a negative count.
    """
    mean = mean_count(counts)
    total, fields = sum(counts), len(counts)
    got = _class_of(total, fields, scale)
    return Grade(
        counts,
        mean,
        got,
        _borderline(total, fields, got, scale),
        scale.any_is_act and total > 0,
        _cautions(total, fields, scale),
        scale.key,
        scale.source,
    )


def _class_of(total: int, fields: int, scale: Scale) -> int:
    if total == 0:
        return 0
    mean = total / fields
    # Above an end means out of that class, so the next one: the cautious side of a gap.
    return 1 + sum(
        mean >= start or mean > end
        for start, end in zip(scale.starts[1:], scale.ends[:-1], strict=True)
    )


def _borderline(total: int, fields: int, got: int, scale: Scale) -> str:
    if total == 0:
        return ""
    for other in (total - 1, total + 1):
        near = _class_of(other, fields, scale)
        if other and near != got:
            side = "more" if other > total else "fewer"
            return f"One {side} would have made it {near}+."
    mean = total / fields
    ended = got >= 2 and scale.ends[got - 2] < mean < scale.starts[got - 1]
    return f"{figures(mean)} lies between {got - 1}+ and {got}+." if ended else ""


def _cautions(total: int, fields: int, scale: Scale) -> tuple[str, ...]:
    if total or fields >= scale.fields:
        return ()
    return (
        f"None seen in {fields}; look through {scale.fields} before this says much, and even "
        "then it lowers suspicion without removing it.",
    )
