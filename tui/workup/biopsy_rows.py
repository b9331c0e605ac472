"""The rows of the slides: each sample, its mounts, and what was seen on them."""

from __future__ import annotations

from core.practice import biopsy, biopsy_words
from core.practice.biopsy import BiopsyView, FoundLine, SampleLine, SlideLine
from core.practice.sent_tests import Awaited
from tui.widgets.field import Choice, Field
from tui.widgets.row import Shown

NORMAL = Choice("", "normal", "nothing abnormal")
SEND = Field("send", "Send a test out", "act", hint="Enter or a: culture, PCR, histology ..")
GREW = "no growth after 5 days"
NONE = Field("none", "No sample was got", "act", hint="samples are taken in In hand")


def fields(view: BiopsyView, tests: tuple[Awaited, ...]) -> list[Field]:
    """Return every row, sample by sample, then the tests sent out."""
    rows = [row for sample in view.samples for row in _sample(sample)]
    sent = [
        Field(f"test {t.test.id}", t.test.name, hint=_due(t), section=_head(n), example=GREW)
        for n, t in enumerate(tests)
    ]
    send = Field(**{**vars(SEND), "section": "" if tests else "Results awaited"})
    return [*(rows or [NONE]), *sent, send]


def _head(number: int) -> str:
    return "" if number else "Results awaited: type the result when it comes"


def _due(line: Awaited) -> str:
    due = f"due {line.test.due:%d %b}" if line.test.due else "no date"
    return ", ".join(filter(None, (line.sample, line.test.where, due)))


def _sample(line: SampleLine) -> list[Field]:
    listed = tuple(Choice(s.letter, s.key, s.name) for s in biopsy.stains().values())
    new = Field(
        f"new {line.sample.id}",
        "New slide",
        "choice",
        choices=listed,
        hint="Enter, then its stain; n: nothing abnormal",
        section=f"{line.sample.number}  {line.tissue.name}, {line.whom}",
    )
    return [new, *(row for slide in line.slides for row in _slide(slide))]


def _slide(line: SlideLine) -> list[Field]:
    key = line.slide.id
    powers = tuple(
        Choice(letter, str(m), f"{m}x")
        for letter, m in zip("abcdef", line.stain.magnifications, strict=False)
    )
    seen = tuple(Choice("", o.key, o.name) for o in biopsy.organisms().values())
    rows = [
        Field(f"power {key}", f"{line.name} {line.stain.name}", "choice", choices=powers),
        Field(f"fields {key}", "  fields looked at", "count", low=1, high=9999, example="20"),
        Field(f"seen {key}", "  what was seen", "pick", choices=(NORMAL, *seen)),
    ]
    found = [
        Field(
            f"found {f.finding.id}",
            f"  {f.name}",
            hint="counts, one a field: 4 3 0",
            example="4 3 0",
        )
        for f in line.found
    ]
    return [*rows, *found, Field(f"note {key}", "  note", example="sluggish, half of them dead")]


def slide_of(view: BiopsyView, key: str) -> SlideLine | None:
    """Return the slide that a row is about, its own or that of a finding."""
    part, _, row = key.partition(" ")
    if part not in ("power", "fields", "seen", "found", "note"):
        return None
    slides = (slide for sample in view.samples for slide in sample.slides)
    return next(
        (s for s in slides if s.slide.id == row or any(f.finding.id == row for f in s.found)), None
    )


def found_of(view: BiopsyView, key: str) -> FoundLine | None:
    """Return the finding that a row is about."""
    slide = slide_of(view, key)
    row = key.partition(" ")[2]
    return next((f for f in slide.found if f.finding.id == row), None) if slide else None


def sample_of(view: BiopsyView, key: str) -> SampleLine | None:
    """Return the sample that a row is about, whichever of its rows that is."""
    part, _, row = key.partition(" ")
    if part == "new":
        return next((s for s in view.samples if s.sample.id == row), None)
    slide = slide_of(view, key)
    return next((s for s in view.samples if slide in s.slides), None) if slide else None


def shown(view: BiopsyView, tests: tuple[Awaited, ...], field: Field) -> Shown:
    """Return what stands in a row."""
    part, _, row = field.key.partition(" ")
    if part == "new":
        line = sample_of(view, field.key)
        return Shown(note=_read_so_far(line) if line and line.slides else field.hint)
    if part == "test":
        return _test(next(t for t in tests if t.test.id == row))
    found, slide = found_of(view, field.key), slide_of(view, field.key)
    if found is not None:
        return _found(found)
    return _of_slide(slide, part) if slide is not None else Shown(note=field.hint)


def _read_so_far(line: SampleLine) -> str:
    return "; ".join(f"{s.name} {s.state}" for s in reversed(line.slides))


def _test(line: Awaited) -> Shown:
    if not line.results:
        return Shown(word="wait", note=_due(line))
    return Shown(line.results[-1].value, note=line.results[-1].value)


def _of_slide(line: SlideLine, part: str) -> Shown:
    slide = line.slide
    caution = f" {line.stain.caution}" if line.stain.caution else ""
    if part == "power":
        return Shown(f"{slide.magnification}x", note=f"{line.stain.decides}{caution}")
    if part == "fields":
        return Shown(str(slide.fields))
    if part == "note":
        return Shown(slide.note, note=slide.note)
    if slide.normal:
        return Shown("nothing abnormal", note="recorded as a finding")
    hint = "type part of its name; n: nothing abnormal"
    return Shown(note=hint if not line.found else "another? type part of its name")


def _found(line: FoundLine) -> Shown:
    graded = line.speaks.grade
    word = "act" if graded and graded.act else ""
    return Shown(line.finding.counts, word, note=biopsy_words.grade_line(line))
