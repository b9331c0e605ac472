"""The lines of the Paperwork desk, each made to fit the window."""

from __future__ import annotations

from datetime import date

from core.practice.owing import Owing
from core.practice.paperwork import EndOfDay, Paper, paper_text
from tui.widgets.lines import fit

ENTER = {
    "unsigned": "Enter opens the visit",
    "unpaid": "Enter takes a payment",
    "to bill": "Enter opens its charges",
    "awaited": "Enter takes the result",
    "tell": "Enter notes how the owner was told",
    "unsent": "Enter opens the slides",
    "ring": "Enter logs the call",
    "recheck": "Enter logs the call",
    "waiting": "Enter opens the stage",
    "late": "Enter opens the visit, where a veterinarian settles it",
    "paper": "Enter notes how it was handed over",
    "count": "Enter writes down what was counted",
}
"""What Enter does on each kind of line."""


def heading(view: EndOfDay, today: date, in_papers: bool, width: int) -> str:
    """Return the first line: which day, how much is open or issued, and where the desks are."""
    when = f"{view.day:%a} {view.day.day} {view.day:%b}"
    when += {-1: ", yesterday", 0: ", today", 1: ", tomorrow"}.get((view.day - today).days, "")
    count = len(view.papers)
    papers = f"{count} paper{'' if count == 1 else 's'}"
    what = papers if in_papers else f"{len(view.open)} open"
    right = "d Day  b Bookings  PAPERWORK "
    return f" {when}: {what}".ljust(width - len(right)) + right


def owing_line(view: EndOfDay, line: Owing, width: int) -> str:
    """Return an open thing as one line."""
    money = "" if line.amount_minor is None else view.currency.bare(line.amount_minor)
    spare = max(0, width - 77)
    words = (
        (line.kind, 8),
        ("seen" if line.seen else "", 4),
        (line.client, 16 + spare // 4),
        (line.what, 34 + spare - spare // 4),
    )
    return " ".join(fit(text, cells) for text, cells in words) + f" {money:>10}"


def owing_detail(line: Owing) -> str:
    """Return the whole of an open thing, and what can be done about it."""
    if line.seen:
        act = f"Seen to by {line.seen.by} at {line.seen.at}; f takes that back."
    else:
        act = f"{enter_words(line)}; f marks it seen to."
    return f"{line.client}: {line.what}\n{act}"


def enter_words(line: Owing) -> str:
    """Return what Enter does on a line."""
    no_sheet = line.key.startswith(("sheet:", "label:"))
    return "Enter opens the plan" if no_sheet else ENTER[line.kind]


def paper_line(paper: Paper, width: int) -> str:
    """Return a paper as one line."""
    version = f"v{paper.version}" if paper.version > 1 else ""
    given = paper.delivered or ("replaced" if paper.superseded else "not handed over")
    spare = max(0, width - 77)
    if paper.visit is None:
        own = ((paper.kind, 17), (paper.number, 22), (version, 3))
        given = "replaced" if paper.superseded else "the practice's own"
        return " ".join(fit(text, cells) for text, cells in (*own, (given, 32 + spare)))
    words = (
        (paper.kind, 13),
        (paper.number, 12),
        (version, 3),
        (paper.client, 20 + spare // 2),
        (given, 25 + spare // 2),
    )
    return " ".join(fit(text, cells) for text, cells in words)


def paper_detail(paper: Paper) -> str:
    """Return the whole of a paper, and what can be done with it."""
    keys = "Enter opens its file, w shows it as text, h notes the hand-over; j prints a log."
    return f"{paper_text(paper)}\n{keys}"


def money(view: EndOfDay) -> str:
    """Return the money of the day: what its visits come to, and what was taken by method."""
    show, bare = view.currency.show, view.currency.bare
    taken = ", ".join(f"{t.how} {bare(t.amount_minor)} ({t.payments})" for t in view.takings)
    return (
        f"{len(view.visits)} visits come to {show(view.charged_minor)}; "
        f"still owed {show(view.owed_minor)}\n"
        f"Taken on the day {show(view.taken_minor)}{f': {taken}' if taken else ''}"
    )


def only_seen(line: Owing) -> tuple[str, str]:
    """Return what is asked before labels that wait are marked as seen to."""
    return (
        "Mark it as seen to, and not handed over?",
        f"{line.client}: {line.what}.\nh hands them over, with what leaves the shelf. Seen to "
        "hands nothing over.\nf marks the line as seen to; Esc leaves it.",
    )
