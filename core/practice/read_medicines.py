"""Which rows of the medicines are on: a row is off until a veterinarian here has read it.

A row that has changed since it was read is off again.
"""

from __future__ import annotations

import functools
import hashlib
import json
from dataclasses import asdict, dataclass

from core import clock
from core.dates import said
from core.dosing.medicines import Medicine
from core.errors import BadInput, Refusal
from core.practice import own_rows
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.own_rows import Mark
from core.practice.recipient import medicines
from core.practice.roles import VET
from core.practice.who import must_be_vet
from core.records import read
from core.records.keys import new_key
from core.records.tables import MedicineRead, Person

WHERE = "Medicines and shelf"
"""What the screen is called on which a row is read and switched on."""


@dataclass(frozen=True)
class State:
    """Whether a row of the medicines is on, and why."""

    key: str
    on: bool
    words: str


def merged() -> dict[str, Medicine]:
    """Return every row of the medicines by key: the catalogue's, then the practice's own."""
    return {**medicines(), **own_rows.held().medicines}


def one(key: str) -> Medicine:
    """Return a row of the medicines.

    Raises
    ------
    Refusal
        When there is no such row.
    """
    found = medicines().get(key) or own_rows.held().medicines.get(key)
    if found is None:
        raise Refusal(f"There is no medicine {key} in the list.", "Choose one of the list.")
    return found


def fingerprint(row: Medicine) -> str:
    """Return a hash of everything that a row says; of one of the practice's own, as written."""
    said = [asdict(row), own_rows.held().bodies.get(row.key)]
    body = json.dumps(
        said[0] if said[1] is None else said, sort_keys=True, ensure_ascii=False, default=str
    )
    return hashlib.sha256(body.encode()).hexdigest()


@functools.cache
def _of_catalogue(key: str) -> str:
    return fingerprint(medicines()[key])


def _now(key: str) -> str:
    """Return the fingerprint of a row as it stands now."""
    return _of_catalogue(key) if key in medicines() else fingerprint(one(key))


def state(key: str) -> State:
    """Return whether a row is on, as the records say now."""
    return _state(key, own_rows.read_again().marks.get(key))


def all_states() -> dict[str, State]:
    """Return the state of every row by key, as the records say now."""
    own_rows.read_again()
    return held_states()


def held_states() -> dict[str, State]:
    """Return the state of every row by key, as last read: nothing is asked of the records."""
    marks = own_rows.held().marks
    return {key: _state(key, marks.get(key)) for key in merged()}


def held_state(key: str) -> State:
    """Return the state of a row as last read: nothing is asked of the records."""
    return _state(key, own_rows.held().marks.get(key))


def _state(key: str, mark: Mark | None) -> State:
    if mark is None:
        return State(key, False, "off: no veterinarian of this practice has read it yet")
    zone = own_rows.held().zone
    day = clock.local(mark.at, zone).date()
    who = f"{mark.by}, {said(day, clock.today(zone))}"
    note = f": {mark.note}" if mark.note else ""
    if mark.state != "on":
        return State(key, False, f"off: switched off by {who}{note}")
    if mark.fingerprint != _now(key):
        return State(key, False, f"off: it has changed since it was read by {who}; read it anew")
    return State(key, True, f"on: read by {who}{note}")


def refused(key: str) -> str:
    """Return why no dose of a row may be ordered, how it is read and who may; "" when it is on."""
    found = state(key)
    if found.on or key not in merged():
        return ""
    row = one(key)
    vets = [p.name for p in read.find(Person, active=True, role=VET)]
    who = " or ".join(vets) if 0 < len(vets) < 4 else "any veterinarian of the practice"
    return (
        f"{row.name} ({row.indication}) is {found.words}. {who} may read it in {WHERE}, "
        "and switch it on there."
    )


def held_refusal(key: str) -> tuple[str, ...]:
    """Return why a row is not used, as last read; empty when it is on."""
    found, row = held_state(key), one(key)
    if found.on:
        return ()
    how = f"A veterinarian may read it in {WHERE}, and switch it on there."
    return (f"{row.name} ({row.indication}) is {found.words}. {how}",)


def switch(act: Act, key: str, to: str, note: str = "") -> None:
    """Switch a row on, as read by a veterinarian in this moment, or off.

    Raises
    ------
    NotAllowed
        For anybody but a veterinarian.
    BadInput
        For another word than ``on`` and ``off``; for *off* without a reason.
    Refusal
        When there is no such row.
    """
    must_be_vet(act.by, "switches a medicine on or off")
    if to not in ("on", "off"):
        raise BadInput(f"A medicine is switched on or off, not {to}.")
    if to == "off" and not note.strip():
        raise BadInput("A medicine is switched off with a reason.", "Say why in a few words.")
    own_rows.read_again()
    row = one(key)
    mark = MedicineRead(
        id=new_key(),
        medicine=key,
        state=to,
        fingerprint=fingerprint(row),
        note=note.strip(),
        by=act.by,
        at=act.at,
    )
    with edit(f"medicine {to}", who=act.by, at=act.at) as doing:
        doing.add(mark)
    own_rows.read_again()
