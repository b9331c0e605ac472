"""Medicines read and switched on at once, for tests in which doses are ordered."""

from __future__ import annotations

from core.practice import own_rows, read_medicines
from core.practice.keep import Act
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import MedicineRead


def all_read(act: Act) -> None:
    """Switch every row on, as read by somebody at a moment; one edit, since it is only a start."""
    with edit("medicines", who=act.by, at=act.at) as doing:
        for key, row in read_medicines.merged().items():
            doing.add(
                MedicineRead(
                    id=new_key(),
                    medicine=key,
                    state="on",
                    fingerprint=read_medicines.fingerprint(row),
                    by=act.by,
                    at=act.at,
                )
            )
    own_rows.read_again()
