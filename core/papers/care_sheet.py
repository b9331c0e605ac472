"""The owner's care sheet: what was decided, in plain words and in the owner's own measures.

Its first page is today: what was found, what to do, what not to do, when to ring and where.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from core.errors import Refusal
from core.papers.blocks import (
    Beside,
    Block,
    Bullets,
    Heading,
    KeyValues,
    Notice,
    Paragraph,
    Sheet,
    Table,
    Tick,
    Ticks,
    twin,
)
from core.papers.blocks import pdf as draw
from core.papers.parts import PaperSize, Party, Practice, day

TITLE = "What to do for your fish"
TEXT_SIZE = 10.5
WEEK = timedelta(days=7)
LINES_TO_WRITE = 5
"""Empty lines of the owner's own table."""


@dataclass(frozen=True)
class Step:
    """One thing on one day.

    Parameters
    ----------
    on : date
        The day.
    do : str
        What to do with how much of what, in the owner's units.
    by_practice : bool
        True when the practice does it (we come, we ring): it then has no box to tick.
    """

    on: date
    do: str
    by_practice: bool = False


@dataclass(frozen=True)
class Readings:
    """The table for the owner's own readings."""

    heads: tuple[str, ...]
    """What is read or counted, with the unit to write in."""
    ours: tuple[str, ...]
    """What the practice read at the visit; "" where nothing was read."""
    water: str = ""
    """Which water, where there are several."""


@dataclass(frozen=True)
class CareSheet:
    """What goes home with the owner.

    Parameters
    ----------
    number : str
        Own number of the sheet; a changed plan has a new one.
    version : int
        Of the plan it was made from.
    practice, client : Practice, Party
        From whom and for whom.
    issued : datetime
        Aware, in the practice's zone.
    visited : date
        Day of the visit: *today* on the sheet.
    system, fish : str
        Which water and which fish.
    found : tuple of str
        What was found, in whole sentences.
    today : tuple of Step
        To do on the day of the visit.
    steps : tuple of Step
        To do later, and when the practice comes or rings.
    before_rise : tuple of str
        What must hold before each rise of the food, where several steps have it in common.
    avoid, watch : tuple of str
        What not to do; what to look at.
    movement : tuple of str
        That nothing leaves the site; empty for most.
    stop_rules, emergency_signs : tuple of str
        When to stop and ring; when to ring at once.
    forgotten, dead : tuple of str
        What to do about a forgotten dose; about a dead fish.
    phone, after_hours : str
        Where to ring, and at night.
    cautions : tuple of str
        For people: germs that pass from fish to man, formalin, anaesthetics, gloves.
    unread : tuple of str
        Which doses rest on memory and were read in no source.
    withdrawal : tuple of (str, date)
        Food fish: which fish, and the first day they may be eaten.
    withheld : tuple of str
        What else is to be said of fish that may be eaten, for example that no date is known.
    readings : Readings or None
        The table for the owner's own readings.
    closing : str
        Where the sheet defers to: law, label, veterinarian.
    veterinarian : str
        Who decided.
    superseded_by : str
        Number of the newer sheet; this one then says on every page that it is out of date.
    """

    number: str
    version: int
    practice: Practice
    client: Party
    issued: datetime
    visited: date
    system: str
    fish: str
    found: tuple[str, ...]
    phone: str
    stop_rules: tuple[str, ...]
    emergency_signs: tuple[str, ...]
    today: tuple[Step, ...] = ()
    steps: tuple[Step, ...] = ()
    before_rise: tuple[str, ...] = ()
    avoid: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    movement: tuple[str, ...] = ()
    forgotten: tuple[str, ...] = ()
    dead: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    withdrawal: tuple[tuple[str, date], ...] = ()
    withheld: tuple[str, ...] = ()
    readings: Readings | None = None
    closing: str = ""
    after_hours: str = ""
    veterinarian: str = ""
    superseded_by: str = ""


def missing(care: CareSheet) -> tuple[str, ...]:
    """Name what a sheet must have and has not, in the words of the screen."""
    needed = {
        "its number": care.number,
        "the client": care.client.name,
        "the system": care.system,
        "what was found": _filled(care.found),
        "a stop rule": _filled(care.stop_rules),
        "an emergency sign": _filled(care.emergency_signs),
        "a phone number": care.phone,
    }
    return tuple(name for name, value in needed.items() if not value)


def pdf(care: CareSheet, paper: PaperSize = "A4") -> bytes:
    """Draw a care sheet.

    Raises
    ------
    Refusal
        When something it must have is missing: the sentence names it.
    """
    return draw(sheet(care), paper)


def text(care: CareSheet) -> str:
    """Write a care sheet as plain text, in the order of the PDF; raises as `pdf` does."""
    return twin(sheet(care))


def sheet(care: CareSheet) -> Sheet:
    """Lay a care sheet out as blocks; raises as `pdf` does."""
    if lacking := missing(care):
        raise Refusal(
            f"This care sheet can not print: it lacks {', '.join(lacking)}.",
            "Add it to the plan.",
        )
    mark = f"OUT OF DATE: replaced by care sheet {care.superseded_by}" if care.superseded_by else ""
    return Sheet(
        practice=care.practice,
        title=TITLE,
        subject=f"{care.client.name}, {care.system}, care sheet {care.number}",
        issued=care.issued,
        blocks=(*_first_page(care), *_later(care)),
        mark=mark,
        text_size=TEXT_SIZE,
    )


def _first_page(care: CareSheet) -> list[Block]:
    signs = "; ".join(_filled(care.emergency_signs))
    return [
        _facts(care),
        *(Paragraph(sentence, strong=True) for sentence in _filled(care.found)),
        *_notice("Nothing leaves this site", care.movement),
        Heading(_today(care)),
        Ticks((("", tuple(map(_tick, care.today))),) if care.today else ()),
        *_bullets("Do not", care.avoid),
        *_bullets("Stop and ring us when", care.stop_rules),
        Notice(f"Ring {_phones(care)}", (f"At once when {signs}.",), large=True),
        *_food(care),
    ]


def _later(care: CareSheet) -> list[Block]:
    week = tuple(step for step in care.steps if step.on <= care.visited + WEEK)
    return [
        *_days("This week", week),
        *_days("Later", tuple(step for step in care.steps if step not in week)),
        *_bullets("Before each rise", care.before_rise),
        *_always(care),
        # Before the table: a last line of its own could fall alone on another page.
        *_closing(care),
        *_own_readings(care),
    ]


def _facts(care: CareSheet) -> Beside:
    left = (("For", care.client.name), ("Water", care.system))
    right = (("Fish", care.fish), ("Care sheet", f"{care.number}, version {care.version}"))
    return Beside((KeyValues(left),), (KeyValues(right),))


def _today(care: CareSheet) -> str:
    same = care.issued.date() == care.visited
    return f"{'Do today' if same else 'Do on the day of our visit'}, {day(care.visited)}"


def _tick(step: Step) -> Tick:
    return Tick(step.do, not step.by_practice)


def _days(name: str, steps: tuple[Step, ...]) -> tuple[Block, ...]:
    """Group steps by day, so that each date stands once and in order."""
    days: dict[date, list[Tick]] = {}
    for step in sorted(steps, key=lambda step: step.on):
        days.setdefault(step.on, []).append(_tick(step))
    rows = tuple((day(on), tuple(ticks)) for on, ticks in days.items())
    return (Heading(name), Ticks(rows)) if rows else ()


def _bullets(name: str, items: tuple[str, ...]) -> tuple[Block, ...]:
    filled = _filled(items)
    return (Heading(name), Bullets(filled)) if filled else ()


def _notice(name: str, lines: tuple[str, ...]) -> tuple[Block, ...]:
    return (Notice(name, _filled(lines)),) if _filled(lines) else ()


def _phones(care: CareSheet) -> str:
    return care.phone + (f", at night {care.after_hours}" if care.after_hours else "")


def _food(care: CareSheet) -> tuple[Block, ...]:
    eaten = (
        f"{which}: not to be eaten by anyone before {day(first)}."
        for which, first in care.withdrawal
    )
    return _notice("Fish that may be eaten", (*eaten, *care.withheld))


def _always(care: CareSheet) -> tuple[Block, ...]:
    told = (
        ("Watch", care.watch),
        ("A forgotten dose", care.forgotten),
        ("A dead fish", care.dead),
        ("Hands", care.cautions),
        ("Known from", care.unread),
    )
    rows = tuple((name, "\n".join(_filled(lines))) for name, lines in told)
    return (Heading("Every day"), KeyValues(rows)) if any(lines for _, lines in rows) else ()


def _own_readings(care: CareSheet) -> tuple[Block, ...]:
    if care.readings is None:
        return ()
    of = f": {care.readings.water}" if care.readings.water else ""
    heads = ("Day", *care.readings.heads)
    ours = (("at our visit", *care.readings.ours),) if any(care.readings.ours) else ()
    empty = (("",) * len(heads),) * LINES_TO_WRITE
    shares = (1.3, *(1.25 if " as " in head else 1.0 for head in care.readings.heads))
    return (Heading(f"Your own readings{of}"), Table(heads, (*ours, *empty), shares))


def _closing(care: CareSheet) -> tuple[Block, ...]:
    by = f"Decided by {care.veterinarian}, veterinarian." if care.veterinarian else ""
    said = " ".join(_filled((by, care.closing)))
    return (Paragraph(said, small=True),) if said else ()


def _filled(lines: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(line for line in lines if line.strip())
