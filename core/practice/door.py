"""The practice's door to the journal: every line is asked for by somebody with a role."""

from __future__ import annotations

from contextlib import AbstractContextManager
from datetime import datetime

from core.practice import roles
from core.records import journal
from core.records.journal import OpenEdit


def edit(
    kind: str, *, who: str, at: datetime, visit: str | None = None, reverses: str | None = None
) -> AbstractContextManager[OpenEdit]:
    """Open an edit as `journal.edit` does; what the person's role does not allow is refused."""
    may = roles.asked()
    return journal.edit(kind, who=who, at=at, visit=visit, reverses=reverses, may=may)
