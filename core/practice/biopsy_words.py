"""What a finding is worth, in plain words with its source; never a diagnosis."""

from __future__ import annotations

from core.catalogue import load
from core.microscopy.catalogue import Scale
from core.numbers import plain
from core.practice.biopsy import FoundLine, SlideLine, organisms, scales
from core.practice.names import name


def rule(scale: Scale) -> str:
    """Return the rule of a scale: from which mean count which grade holds."""
    parts = [f"{n}+ from {plain(start)}" for n, start in enumerate(scale.starts[1:], 2)]
    acts = "; any at all = act" if scale.any_is_act else ""
    return f"mean per {scale.per}: 1+ any, {', '.join(parts)}{acts}"


def grade_line(line: FoundLine) -> str:
    """Return the grade of a finding with its rule, borderline said; or that none was counted."""
    graded = line.speaks.grade
    scale = scales()[organisms()[line.finding.finding].scale]
    if graded is None:
        return f"seen, not counted ({rule(scale)})"
    edge = f" {graded.borderline}" if graded.borderline else ""
    acts = " Any = act." if graded.act else ""
    return f"{graded.said}.{edge}{acts} Rule: {rule(scale)}."


def _problems(keys: tuple[str, ...]) -> str:
    return ", ".join(name("problem", key) for key in keys)


def worth(line: FoundLine, authority: str) -> tuple[str, ...]:
    """Return what a finding speaks for and against, what it is taken for, and what would decide.

    Parameters
    ----------
    authority : str
        Who is told of a suspected listed disease, in the practice's own words.
    """
    row, said = organisms()[line.finding.finding], line.speaks
    found = [*_cautions(line, authority)]
    if said.problems_for:
        found.append(f"Speaks for: {_problems(said.problems_for)}")
    if said.problems_against:
        found.append(f"Speaks against: {_problems(said.problems_against)}")
    if said.like:
        found.append(f"Taken for: {', '.join(name('organism', k) for k in said.like)}")
    if said.decide:
        found.append(f"Would decide: {said.decide}")
    return (*found, f"Source: {load.citations()[row.source]}")


def _cautions(line: FoundLine, authority: str) -> list[str]:
    row, said = organisms()[line.finding.finding], line.speaks
    found = []
    for text in said.cautions:
        lead = {row.zoonotic: "People: ", row.notifiable: "Listed? "}.get(text, "")
        found.append(f"{lead}{text}")
    if row.notifiable and row.notifiable in said.cautions:
        found.append(
            f"Who to ring: {authority or 'no authority is entered for this practice yet'}."
        )
    return found


def about(line: FoundLine, authority: str) -> str:
    """Return the whole page about a finding: its look, its grade, what it is worth."""
    row = organisms()[line.finding.finding]
    size = " to ".join(plain(x) for x in row.size_um)
    scale = scales()[row.scale]
    lines = [
        row.name,
        row.look,
        f"Size: {size} µm" if size else "",
        grade_line(line),
        *worth(line, authority),
        f"Source of the rule: {load.citations()[scale.source]}",
    ]
    return "\n".join(filter(None, lines))


def clean_worth(line: SlideLine, clean_means: str) -> str:
    """Return what a slide with nothing abnormal is worth."""
    fields = line.slide.fields
    plural = "s" if fields > 1 else ""
    return (
        f"Nothing abnormal in {fields} field{plural} at {line.slide.magnification}x. {clean_means}"
    )
