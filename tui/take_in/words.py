"""The words of the dry run."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from core.numbers import grouped
from core.practice.csv_cells import shown
from core.practice.csv_plan import Plan
from core.records.tables import Client, Site, System
from tui.widgets.lines import fit

LONGEST = 300
"""So much of a cell is shown when the whole row is."""
LISTED = 500
"""So many are listed; a list of thousands is read by nobody, and the file says them all."""


def many(number: int, one: str) -> str:
    """Return a number of things in words.

    Examples
    --------
    >>> many(1, "row"), many(12000, "row"), many(0, "client")
    ('1 row', '12 000 rows', 'no clients')
    """
    if number == 0:
        return f"no {one}s"
    return f"{grouped(number)} {one}" + ("" if number == 1 else "s")


def heading(plan: Plan, path: Path, in_doubles: bool, *, without: bool) -> str:
    """Return the first line."""
    bad, doubles = len(plan.bad_lines), len(plan.doubles)
    name = shown(path.name)
    if in_doubles:
        left = f"; {len(plan.skipped)} left out" if plan.skipped else ""
        return f" {name}: {many(doubles, 'likely double')}{left}"
    if not bad:
        return f" {name}: no bad rows"
    said = "are LEFT OUT" if without else "can NOT be taken in: nothing is made yet"
    return f" {name}: {many(bad, 'row')} {said}"


def counts(plan: Plan) -> str:
    """Return what would be made, and what is there already."""
    made = ", ".join(
        many(plan.count(kind), word)
        for kind, word in ((Client, "client"), (Site, "site"), (System, "water"))
    )
    known = f" {many(plan.known, 'row')}: there already." if plan.known else ""
    doubles = len(plan.doubles)
    likely = f" s shows {many(doubles, 'likely double')}." if doubles else ""
    return f"Of {many(len(plan.file.lines), 'row')} would be made: {made}.{likely}{known}"


def bad(plan: Plan, width: int) -> Iterator[tuple[str, str]]:
    """Give the lines of the list of bad rows."""
    for number, one in enumerate(plan.bad[:LISTED]):
        yield str(number), fit(one.sentence, width)


def doubles(plan: Plan, width: int) -> Iterator[tuple[str, str]]:
    """Give the lines of the list of likely doubles."""
    for number, one in enumerate(plan.doubles[:LISTED]):
        yield str(number), fit(one.sentence, width)


def detail(plan: Plan, in_doubles: bool, current: str) -> str:
    """Return the whole of the current line, or what there is to do."""
    listed = plan.doubles if in_doubles else plan.bad
    if not current or int(current) >= len(listed):
        if in_doubles:
            return "Nobody in the file is likely there already. f makes them."
        return "Every row can be taken in. f makes them, as one act that - takes back."
    more = len(listed) - LISTED
    rest = f" {grouped(more)} more are not listed here." if more > 0 else ""
    todo = "o leaves the likely doubles out; f makes them too." if in_doubles else ""
    return f"{listed[int(current)].sentence}{rest} {todo}".strip()


def whole(plan: Plan, in_doubles: bool, current: str) -> tuple[str, str]:
    """Return a title and every cell of the row that the current line is about."""
    one = plan.doubles[int(current)] if in_doubles else plan.bad[int(current)]
    line = next(line for line in plan.file.lines if line.number == one.line)
    columns = [plan.file.column(at) for at in range(len(plan.file.header))]
    columns += ["more than the first line names"] * (len(line.cells) - len(columns))
    cells = zip(columns, line.cells, strict=True)
    said = [f"{shown(column)}: {shown(cell, LONGEST)}" for column, cell in cells]
    return f"Line {line.number} of the file", "\n".join([one.sentence, "", *said])


def leaving_out(number: int, path: Path) -> tuple[str, str]:
    """Return what is asked before bad rows are left out."""
    body = (
        f"They are not taken in. When the others are made, these are put beside the file as "
        f"{shown(path.stem)}-left-out.csv with the reasons, so that they can be mended and taken "
        f"in later.\n\no once more says so. Esc leaves it."
    )
    return f"Leave the {grouped(number)} bad row{'s' if number != 1 else ''} out", body
