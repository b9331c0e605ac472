"""Writing what a file of clients brings: one edit, all of it or nothing."""

from __future__ import annotations

import csv
import io
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from core.errors import Refusal
from core.papers.files import write_whole
from core.practice.csv_plan import Plan, Progress
from core.practice.door import edit
from core.practice.export_cells import guarded, seen
from core.practice.keep import Act
from core.records.tables import Client, Site, System

KIND = "clients taken in"
_TELL_EVERY = 500


@dataclass(frozen=True)
class Made:
    """What came of it."""

    clients: int
    sites: int
    waters: int
    left_out: Path | None
    """Where the rows that were left out lie, with the reasons."""

    @property
    def text(self) -> str:
        """Say it to a person."""
        said = f"Made: {self.clients} clients, {self.sites} sites, {self.waters} waters."
        return f"{said} What was left out: {self.left_out}" if self.left_out else said


def write(act: Act, plan: Plan, source: Path, leave_out: int, progress: Progress) -> Made:
    """Make everything that a plan holds, in one edit.

    Parameters
    ----------
    source : Path
        The file it came from; what is left out is put beside it.
    leave_out : int
        How many bad rows the person has said are left out.

    Raises
    ------
    Refusal
        When there are bad rows and not exactly so many were said to be left out, when there is
        nothing to make, or when the rows left out can not be written beside the file. Nothing
        is written then.
    """
    many = len(plan.bad_lines)
    if many != leave_out:
        raise Refusal(
            f"{many} rows can not be taken in: nothing was written.",
            f"Mend the file, or say: leave the {many} bad rows out.",
        )
    if not plan.rows:
        raise Refusal("There is nothing in this file to make.", "Nothing was written.")
    left = _leave_out(plan, source)
    try:
        with edit(KIND, who=act.by, at=act.at) as doing:
            for number, row in enumerate(plan.rows, start=1):
                doing.add(row)
                if number % _TELL_EVERY == 0:
                    progress(number, len(plan.rows))
    except BaseException:
        if left is not None:
            with suppress(OSError):
                left.unlink()
        raise
    return Made(plan.count(Client), plan.count(Site), plan.count(System), left)


def _leave_out(plan: Plan, source: Path) -> Path | None:
    """Put the rows that are left out beside the file, with the reasons."""
    if not (plan.bad or plan.skipped):
        return None
    file = _free(source)
    try:
        return write_whole(file, left_out(plan).encode("utf-8-sig", "backslashreplace"))
    except OSError as error:
        raise Refusal(
            f"The rows left out can not be put beside the file: {file.parent}: {error.strerror}.",
            "Nothing was written. Copy the file into a folder that can be written.",
        ) from error


def _free(source: Path) -> Path:
    """Return a name beside the file that is not taken."""
    file = source.with_name(f"{source.stem}-left-out.csv")
    number = 2
    while file.exists():
        file = source.with_name(f"{source.stem}-left-out-{number}.csv")
        number += 1
    return file


def left_out(plan: Plan) -> str:
    """Return the rows that are left out as CSV: the columns of the file, the line, the reason."""
    reasons: dict[int, list[str]] = {}
    for bad in plan.bad:
        reasons.setdefault(bad.line, []).append(f"{bad.column}: {bad.reason}".removeprefix(": "))
    for line in plan.skipped:
        reasons.setdefault(line, []).append("likely there already")
    out = io.StringIO()
    table = csv.writer(out, delimiter=plan.file.separator)
    header = [*plan.file.header, "line", "reason"]
    table.writerow([guarded(seen(name)) for name in header])
    for one in plan.file.lines:
        if one.number in reasons:
            said = [*one.cells[: len(plan.file.header)], str(one.number)]
            said.append("; ".join(reasons[one.number]))
            table.writerow([guarded(seen(cell)) for cell in said])
    return out.getvalue()
