"""The rows of the history: what each question asks for, and what stands in it."""

from __future__ import annotations

from datetime import date

from core import dates
from core.assessment.history import UNKNOWN_LETTER
from core.practice.complaints import WorthDoing
from core.practice.complaints import catalogue as complaints
from core.practice.history import HistoryView, Line
from core.practice.losses import LossLine
from core.practice.moves import MoveLine
from core.practice.questions import Asked
from core.records.tables import Tried
from core.units import KINDS
from tui.widgets.field import Choice, Entry, Field, FieldKind
from tui.widgets.row import Shown

UNKNOWN = Choice(UNKNOWN_LETTER, "unknown", "unknown")
YES_NO = (Choice("y", "yes", "yes"), Choice("n", "no", "no"), UNKNOWN)
SECTIONS = {
    "why now": "Why now",
    "losses": "Losses (a adds some by date)",
    "moves": "Fish moved to another water (a adds)",
    "tried": "Already tried (a adds)",
    "kept": "Kept about this water: still true? (v confirms)",
    "fish": "Fish in this water",
    "estimate": "Estimate",
}


def fields_of(view: HistoryView) -> list[Field]:
    """Return the rows of a history in order; the first row of each section carries its name."""
    rows = [
        ("kept" if li.asked.question.kept else li.asked.question.group, li) for li in view.lines
    ]
    made: list[tuple[str, Field]] = []
    for section, line in rows:
        if section == "tried" and not any(s == "moves" for s, _ in made):
            made += [("moves", f) for f in _moves(view)]
        made.append((section, _question(line.asked)))
        if line.asked.opens == "tried":
            made += [("tried", _line(f"tried {t.id}", t.agent)) for t in view.tried]
        if line.asked.key == "stock_before":
            made += [("losses", f) for f in _losses(view)]
    made.append(("fish", Field("fish new", "Add fish to this water", "act", hint="enter")))
    made += [("estimate", f) for f in _ESTIMATE]
    return _with_sections(made)


def _with_sections(made: list[tuple[str, Field]]) -> list[Field]:
    last, found = "", []
    for section, field in made:
        title = SECTIONS.get(section, section.capitalize()) if section != last else ""
        last = section
        found.append(Field(**{**vars(field), "section": title}))
    return found


def _line(key: str, label: str) -> Field:
    return Field(key, label, "act", hint="enter opens, r strikes")


def _moves(view: HistoryView) -> list[Field]:
    found = [_line(f"move {m.move.id}", f"{m.group} to {m.target}") for m in view.moves]
    return found or [Field("move new", "None told", "act")]


def _losses(view: HistoryView) -> list[Field]:
    return [
        _line(f"loss {row.id}", days_said(row.day, row.day_to, view.today))
        for row in (line.loss for line in view.losses.lines)
    ]


_ESTIMATE = [
    Field("est low", "From", "money", low=0, high=10_000_000, example="250"),
    Field("est high", "To", "money", low=0, high=10_000_000, example="400"),
    Field("est by", "Accepted by", "words", example="C. Dunnock, by telephone"),
]


TO_COME = ("market_date",)
"""Questions for a day that lies ahead; the day of every other one has been."""
EXAMPLES = {
    "filter": "drum and moving bed",
    "own_tests": "strip: nitrite 0.5, pH 7",
    "decides": "the owner, by telephone",
}
"""Of questions that are answered in words."""


def _question(asked: Asked) -> Field:
    question = asked.question
    kind, quantity = _kind(asked)
    choices: tuple[Choice, ...] = ()
    if question.kind == "yes_no":
        choices = YES_NO
    elif question.kind == "choice":
        choices = (*(Choice(c.letter, c.name, c.name) for c in question.choices), UNKNOWN)
    elif asked.opens == "complaints":
        choices = (*(Choice("", c.key, c.label) for c in complaints().values()), UNKNOWN)
    past = kind == "date" and question.key not in TO_COME
    return Field(
        f"q {asked.key}",
        question.label,
        kind,
        quantity,
        low=asked.low,
        high=asked.high,
        choices=choices,
        asked=kind not in ("choice", "pick"),
        example=EXAMPLES.get(question.key, dates.PAST_EXAMPLE if past else ""),
        hint=question.prompt,
        past=past,
    )


def _kind(asked: Asked) -> tuple[FieldKind, str]:
    question = asked.question
    if asked.opens == "complaints":
        return "pick", "plain"
    if question.kind == "number" and question.quantity in KINDS:
        return "quantity", question.quantity
    if question.kind == "number":
        return ("money" if question.quantity == "money" else "count"), "plain"
    found: dict[str, FieldKind] = {"date": "date", "words": "words"}
    return found.get(question.kind, "choice"), "plain"


def answered(asked: Asked, entry: Entry) -> tuple[str, str, float | None]:
    """Return an entry as state, value in words and, for a number, its canonical amount."""
    said = entry.said
    if entry.value == "unknown" or said == "unknown":
        return "unknown", "", None
    if said == "no" or (asked.question.kind == "yes_no" and entry.value == "no"):
        return "no", "", None
    if isinstance(entry.value, date):
        return "value", entry.value.isoformat(), None
    if asked.question.quantity in KINDS:
        return "value", with_unit(entry, asked.question.quantity), entry.number
    amount = entry.number if isinstance(entry.value, int) else None
    return "value", str(entry.value), amount


def with_unit(entry: Entry, quantity: str) -> str:
    """Return what was typed, with the unit it was understood in when none was typed."""
    unit = "" if entry.unit else KINDS[quantity].canonical
    return f"{entry.text} {unit}".strip()


def shown_question(line: Line, today: date) -> Shown:
    """Return what stands in the row of a question."""
    if line.waits and line.stood is not None:
        value = in_row(line, line.stood_words, today)
        day = dates.said(line.stood.day, today)
        return Shown(value, "true?", note=day, again=line.stood.value, pending=True)
    if line.answer is None:
        return Shown(note="not asked")
    return Shown(in_row(line, line.words, today), note=_beside(line, today), again=_again(line))


def _again(line: Line) -> str:
    assert line.answer is not None
    return line.answer.value if line.asked.question.kind != "words" else line.words


def _beside(line: Line, today: date) -> str:
    if line.stood is None:
        return ""
    day = dates.said(line.stood.day, today)
    return f"was {line.stood_words}, {day}" if line.changed else f"as on {day}"


def in_row(line: Line, words: str, today: date) -> str:
    """Return an answer as shown; a date in the way people say it."""
    if line.asked.question.kind == "date" and words[:1].isdigit():
        return dates.said(date.fromisoformat(words), today)
    return words


def shown_loss(line: LossLine) -> Shown:
    """Return what stands in the row of a loss."""
    share = f"{line.percent:.1f} % that day" if line.percent is not None else ""
    note = ", ".join(part for part in (share, line.loss.note) if part)
    return Shown(f"{line.loss.number} {line.group or 'dead'}", note=note)


def days_said(first: date | None, last: date | None, today: date) -> str:
    """Return a day, a range of days, or that nobody knows, in words."""
    if first and last and first != last:
        return f"{dates.said(first, today)} to {dates.said(last, today)}"
    if first:
        return dates.said(first, today)
    return f"up to {dates.said(last, today)}" if last else "day not known"


def shown_move(line: MoveLine, today: date) -> Shown:
    """Return what stands in the row of a move."""
    number = "not counted" if line.move.number is None else str(line.move.number)
    parts = (dates.said(line.day, today), f"from {line.source}", line.move.why)
    return Shown(number, note=", ".join(part for part in parts if part))


def shown_tried(row: Tried, today: date) -> Shown:
    """Return what stands in the row of a treatment already tried."""
    day = dates.said(row.day, today) if row.day else "day not known"
    since = f"; since then {row.since}" if row.since else ""
    return Shown(row.amount or "amount unknown", note=day + since)


def worth_words(worth: WorthDoing) -> list[str]:
    """Return what a complaint makes worth testing and taking, as lines under the form."""
    samples = "; ".join(worth.samples).lower() or "none at first"
    return [
        f"Worth testing ({worth.urgency}): {'; '.join(worth.tests)}.",
        f"Samples to take: {samples}.",
    ]


def worth_page(worth: WorthDoing) -> str:
    """Return all that a complaint makes worth doing, a line each."""
    lists: list[tuple[str, tuple[str, ...]]] = [
        ("Ask first", worth.ask),
        ("Watch for", worth.watch),
        ("Test, in this order", worth.tests),
        ("Samples to take", worth.samples),
    ]
    parts = [f"{' and '.join(worth.labels)}: {worth.urgency}."]
    parts += [
        f"\n{title}\n" + "\n".join(f"  {n}" for n in names) for title, names in lists if names
    ]
    parts.append("\nThis says what is worth looking at. What is wrong is for the vet to name.")
    return "\n".join(parts)
