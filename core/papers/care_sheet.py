"""The owner's care sheet: what was decided, in plain words and in the owner's own measures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

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
    Tick,
    Ticks,
    twin,
)
from core.papers.blocks import pdf as draw
from core.papers.parts import PaperSize, Party, Practice, day

TEXT_SIZE = 10.5


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
        Aware, in the practice's zone; its date is the day meant by *today*.
    system, fish : str
        Which water and which fish.
    found : str
        What was found, in one sentence.
    today : tuple of str
        To do today.
    steps : tuple of Step
        To do later, and when the practice comes or rings.
    avoid, watch : tuple of str
        What not to do; what to look at.
    stop_rules, emergency_signs : tuple of str
        When to stop and ring; when to ring at once.
    phone, after_hours : str
        Where to ring, and at night.
    cautions : tuple of str
        For people: germs that pass from fish to man, formalin, anaesthetics, gloves.
    withdrawal : tuple of (str, date)
        Food fish: which fish, and the first day they may be eaten.
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
    system: str
    fish: str
    found: str
    phone: str
    stop_rules: tuple[str, ...]
    emergency_signs: tuple[str, ...]
    today: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    avoid: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    withdrawal: tuple[tuple[str, date], ...] = ()
    after_hours: str = ""
    veterinarian: str = ""
    superseded_by: str = ""


def missing(care: CareSheet) -> tuple[str, ...]:
    """Name what a sheet must have and has not, in the words of the screen."""
    needed = {
        "its number": care.number,
        "the client": care.client.name,
        "the system": care.system,
        "what was found": care.found,
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
        title=f"Care sheet {care.number}, version {care.version}",
        subject=f"{care.client.name}, {care.system}",
        issued=care.issued,
        blocks=tuple(_blocks(care)),
        mark=mark,
        text_size=TEXT_SIZE,
    )


def _blocks(care: CareSheet) -> list[Block]:
    return [
        _facts(care),
        Paragraph(care.found, strong=True),
        *_section("Do today", _tick_list(care.today, _on_day(care, today=True))),
        *_section("Day by day", Ticks(_by_day(care))),
        *_bullets("Do not", care.avoid),
        *_bullets("Watch", care.watch),
        *_bullets("Stop and ring us when", care.stop_rules),
        Notice(f"Ring at once: {_phones(care)}", _filled(care.emergency_signs)),
        *_cautions(care),
    ]


def _facts(care: CareSheet) -> Beside:
    whose = (("For", care.client.name), ("System", care.system), ("Fish", care.fish))
    when = (("Today is", day(care.issued)), ("Veterinarian", care.veterinarian))
    return Beside((KeyValues(whose),), (KeyValues(when),))


def _on_day(care: CareSheet, today: bool) -> tuple[Step, ...]:
    return tuple(step for step in care.steps if (step.on == care.issued.date()) == today)


def _tick_list(today: tuple[str, ...], steps: tuple[Step, ...]) -> Ticks:
    ticks = (*map(Tick, _filled(today)), *(Tick(step.do, not step.by_practice) for step in steps))
    return Ticks((("", ticks),) if ticks else ())


def _by_day(care: CareSheet) -> tuple[tuple[str, tuple[Tick, ...]], ...]:
    """Group later steps, so that each date stands once and in order."""
    days: dict[date, list[Tick]] = {}
    for step in sorted(_on_day(care, today=False), key=lambda step: step.on):
        days.setdefault(step.on, []).append(Tick(step.do, not step.by_practice))
    return tuple((day(on), tuple(ticks)) for on, ticks in days.items())


def _section(name: str, ticks: Ticks) -> tuple[Block, ...]:
    return (Heading(name), ticks) if ticks.rows else ()


def _bullets(name: str, items: tuple[str, ...]) -> tuple[Block, ...]:
    filled = _filled(items)
    return (Heading(name), Bullets(filled)) if filled else ()


def _phones(care: CareSheet) -> str:
    return care.phone + (f", at night {care.after_hours}" if care.after_hours else "")


def _cautions(care: CareSheet) -> tuple[Block, ...]:
    eaten = tuple(
        f"{which}: not to be eaten by anyone before {day(first)}."
        for which, first in care.withdrawal
    )
    food = (Notice("Fish that may be eaten", eaten),) if eaten else ()
    return (*food, *_bullets("Take care of yourself", care.cautions))


def _filled(lines: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(line for line in lines if line.strip())
