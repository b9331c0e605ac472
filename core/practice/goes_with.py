"""What goes with a medicine: what is off or out and until when, air, staying by, stopping, drain.

Every sentence comes from the row of the medicine: what the row does not say is not said here.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from core import dates
from core.dosing import course
from core.dosing.medicines import BATHS, Medicine
from core.numbers import plain
from core.practice import trials
from core.practice.step_offer import StepOffer
from core.practice.treatment_said import days_of, sentence
from core.records.tables import Treatment

OUT = ("carbon", "zeolite")
"""What is taken out; the rest is switched off."""
PARTS = ("goes", "again", "time", "stay", "trial", "tried", "ends", "drain", "kit")
"""First words of the origins of these lines."""
LASTING = "prolonged bath"
"""The route that goes on after the practice has left."""
DAYS_FROM_H = 72
Spell = tuple[date, date, date | None]
"""A time during which things are off: its first day, the day of its last dose, its end."""


def for_owner(row: Treatment, found: Medicine) -> Iterator[StepOffer]:
    """Give the lines of a treatment that its owner must know.

    A bath of the practice's own tub is none of the owner's, and of a single bath that we give
    and end ourselves the owner needs no more than what goes off and on, the drain and the kit.
    """
    if row.act == "given here" and own_bath(row):
        return
    yield from _switched(row, found)
    yield from _beside(row, found, told=row.act != "given here" or _goes_on(row))


def for_vet(
    found: Medicine, days: tuple[date, ...], off_hours: float | None, *, parts: bool = False
) -> tuple[str, ...]:
    """Return all that goes with a medicine in sentences, whoever gives it.

    `parts` says that the days are those of the parts of one dose.
    """
    off = _off(found)
    over = _over_words(found, spells(days, off_hours, one=parts), off_hours) if off else ""
    lines = (
        f"Meanwhile {off}; {over}" if off else "",
        found.stay,
        f"Stop at: {found.stop_at}" if found.stop_at else "",
        f"Try it on a few fish first: {found.trial}" if found.trial else "",
        f"Where the water goes: {found.water_goes}" if found.water_goes else "",
        f"Test kits: {found.kit}" if found.kit else "",
    )
    return tuple(sentence(line) for line in lines if line)


def of_row(row: Treatment, found: Medicine) -> tuple[str, ...]:
    """Return all that goes with a treatment in sentences, as `for_vet`."""
    return for_vet(found, days_of(row), row.off_hours, parts=_in_parts(row))


def unsaid_end(row: Treatment, found: Medicine) -> str:
    """Return that it is not said when what a lasting bath switches off goes on again."""
    if not _off(found) or row.off_hours is not None or row.route != LASTING:
        return ""
    return f"{found.name}: not said after how many hours things go on again; order it with them."


def own_bath(row: Treatment) -> bool:
    """Whether it is a bath in a tub, of fish in hand or of fish put to sleep."""
    asleep = "sedation" in row.route or "anaesthetic" in row.route
    return row.handling is not None or asleep


def _goes_on(row: Treatment) -> bool:
    """Whether a treatment given here goes on when we have left."""
    later = len(days_of(row)) > 1 and not row.route.startswith("injection")
    return row.route == LASTING or later


def spells(
    days: tuple[date, ...], off_hours: float | None, *, one: bool = False
) -> tuple[Spell, ...]:
    """Return the times during which things stay off: first day, day of the last dose, end.

    Doses that come before things would go on again are one time; so are the parts of one dose
    (`one`). Without hours there is no end.

    Examples
    --------
    >>> spells((date(2026, 11, 29), date(2026, 11, 30)), 48.0)
    ((datetime.date(2026, 11, 29), datetime.date(2026, 11, 30), datetime.date(2026, 12, 2)),)
    """
    found: list[Spell] = []
    for day in days:
        over = None if off_hours is None else course.end(day, int(off_hours // 24))
        first, _, ends = found[-1] if found else (day, day, None)
        if found and (one or (ends is not None and day <= ends)):
            found[-1] = (first, day, over)
        else:
            found.append((day, day, over))
    return tuple(found)


def ends_on(row: Treatment) -> date:
    """Return the day on which a course is over: its last dose, or the end of what it lasts."""
    days = days_of(row)
    last = spells(days, row.off_hours, one=_in_parts(row))[-1]
    return last[2] or days[-1]


def lasting(hours: float) -> str:
    """Return hours in words, whole days from three on.

    Examples
    --------
    >>> lasting(48.0), lasting(336.0), lasting(80.0)
    ('48 h', '14 days', '80 h')
    """
    return (
        f"{hours / 24:g} days" if hours >= DAYS_FROM_H and hours % 24 == 0 else f"{plain(hours)} h"
    )


def _switched(row: Treatment, found: Medicine) -> Iterator[StepOffer]:
    words = _off(found)
    if not words:
        return
    days, parts = days_of(row), _in_parts(row)
    for first, last, over in spells(days, row.off_hours, one=parts):
        number = days.index(first)
        text = f"{sentence(words)[:-1]} before the {found.name}; {_until(row, found)}."
        yield StepOffer(f"goes:{row.id}:{number}", "do", text, first)
        if row.off_hours is not None and over is not None:
            after = f"the last {'part' if parts else 'dose'} of the " if last != first else "the "
            text = f"{_on_again(found)}: {lasting(row.off_hours)} after {after}{found.name}."
            yield StepOffer(f"again:{row.id}:{number}", "do", text, over)


def _beside(row: Treatment, found: Medicine, *, told: bool) -> Iterator[StepOffer]:
    """Give what must be known besides; who gives it stays by and stops it."""
    bathed = row.route in BATHS and not row.directions
    timed = found.duration and not (_off(found) and row.off_hours is None)
    lines = (
        ("time", "do", f"how long, by its source: {found.duration}" if bathed and timed else ""),
        ("stay", "do", found.stay),
        ("ends", "stop", found.stop_at),
    )
    always = (("drain", "do", found.water_goes), ("kit", "watch", found.kit))
    for origin, kind, words in (*(lines if told else ()), *always):
        if words:
            yield _line(row, found, origin, kind, words)
    yield from _trial(row, found, told=told)


def _trial(row: Treatment, found: Medicine, *, told: bool) -> Iterator[StepOffer]:
    if noted := trials.noted(row):
        yield _line(row, found, "tried", "watch", noted)
    elif told and found.trial:
        yield _line(row, found, "trial", "do", f"try it on a few fish first; {found.trial}")


def _line(row: Treatment, found: Medicine, origin: str, kind: str, words: str) -> StepOffer:
    text = sentence(f"{sentence(found.name)[:-1]}: {words}")
    return StepOffer(f"{origin}:{row.id}", kind, text)


def _in_parts(row: Treatment) -> bool:
    return row.steps > 1 and row.repeats == 1


def _off(found: Medicine) -> str:
    """Return what is switched off, taken out and put on before, in words; "" for nothing."""
    off = [s for s in found.switch_off if s not in OUT]
    out = [s for s in found.switch_off if s in OUT]
    parts = (
        f"{_and(off)} off" if off else "",
        f"{_and(out)} out" if out else "",
        "extra air on" if found.extra_air else "",
    )
    return ", ".join(part for part in parts if part)


def _until(row: Treatment, found: Medicine) -> str:
    if row.off_hours is None:
        return f"as before only when the bath is over ({found.duration or 'as told'})"
    return f"as before after {lasting(row.off_hours)}"


def _over_words(found: Medicine, times: tuple[Spell, ...], off_hours: float | None) -> str:
    if off_hours is None:
        return f"as before only when the bath is over ({found.duration or 'as told'})"
    ends = [dates.said(over, times[0][0]) for _, _, over in times if over is not None]
    return f"as before {lasting(off_hours)} after, {_and(ends)}"


def _on_again(found: Medicine) -> str:
    off = [s for s in found.switch_off if s not in OUT]
    out = [s for s in found.switch_off if s in OUT]
    parts = (f"{_and(off)} on again" if off else "", f"fresh {_and(out)} in" if out else "")
    return sentence(", ".join(p for p in parts if p) or "air as before")[:-1]


def _and(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
