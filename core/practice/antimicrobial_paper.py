"""The use of antimicrobials as text, as CSV and as a PDF page."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path

from core.errors import BadInput, Refusal
from core.papers import antimicrobial as paper
from core.papers.files import write_whole
from core.practice import letterhead
from core.practice.antimicrobial import HOW, months, shown, used
from core.practice.export_cells import guarded, seen
from core.practice.keep import Act
from core.records import read
from core.records.tables import Practice

HEADS = (
    *("month", "medicine", "treatments", "active_mg", "fish_kg"),
    *("mg_per_kg", "treatments_with_both", "not_known"),
)
ENDINGS = (".txt", ".csv", ".pdf")


def use(act: Act, since: date, until: date) -> paper.Use:
    """Return the use of antimicrobials as the paper takes it."""
    practice = read.find(Practice)[0]
    lines = used(since, until)
    return paper.Use(
        practice=letterhead.head(practice),
        issued=letterhead.wall(act.at, practice),
        since=since,
        until=until,
        months=tuple(
            paper.MonthLine(
                m.month,
                m.medicine,
                str(len(m.lines)),
                shown(m.mg) if any(x.mg is not None for x in m.lines) else "not known",
                shown(m.kg) if m.both else "not known",
                shown(m.mg_per_kg) or "not known",
                m.unknown,
            )
            for m in months(lines)
        ),
        treatments=tuple(
            paper.TreatmentLine(
                *(x.day, x.client, x.medicine, x.act),
                shown(x.mg) or "not known",
                shown(x.kg) or "not known",
                x.unknown,
            )
            for x in lines
        ),
        how=HOW,
    )


def text(act: Act, since: date, until: date) -> str:
    """Write the use of antimicrobials as plain text."""
    return paper.text(use(act, since, until))


def as_csv(since: date, until: date) -> str:
    """Write the use of antimicrobials by month and medicine as CSV; what is not known is empty."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(HEADS)
    for m in months(used(since, until)):
        known = any(line.mg is not None for line in m.lines)
        writer.writerow(
            (
                *(m.month, guarded(seen(m.medicine)), len(m.lines)),
                repr(m.mg) if known else "",
                repr(m.kg) if m.both else "",
                "" if m.mg_per_kg is None else repr(m.mg_per_kg),
                *(len(m.both), m.unknown),
            )
        )
    return out.getvalue()


def write(act: Act, since: date, until: date, file: Path) -> Path:
    """Write the use of antimicrobials as a file, whole, in the form that its ending names.

    Raises
    ------
    BadInput
        For another ending than ``.txt``, ``.csv`` or ``.pdf``.
    Refusal
        When it can not be written there.
    """
    if file.suffix.lower() not in ENDINGS:
        raise BadInput(f"{file.name} ends in none of {', '.join(ENDINGS)}.", "Name use.csv.")
    try:
        return write_whole(file, _bytes(act, since, until, file.suffix.lower()))
    except OSError as error:
        raise Refusal(
            f"{file} can not be written: {error.strerror}.", "Name another folder."
        ) from error


def _bytes(act: Act, since: date, until: date, ending: str) -> bytes:
    if ending == ".csv":
        return as_csv(since, until).encode()
    if ending == ".txt":
        return text(act, since, until).encode()
    return paper.pdf(use(act, since, until), letterhead.paper(read.find(Practice)[0]))
