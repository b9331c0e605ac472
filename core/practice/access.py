"""Who may open the app: a PIN for each person who wants one, and a way back without it.

A PIN keeps a careless colleague out of somebody else's name and screen. It does not hide the
records from whoever can copy their file: that is what the encrypted file is for.
"""

from __future__ import annotations

import secrets as chance
import unicodedata
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from core.clock import local
from core.errors import BadInput, Refusal
from core.practice import settings
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.who import Worker, must_be_vet, people
from core.records import read, secrets
from core.records.keys import new_key
from core.records.secrets import Kept
from core.records.tables import AccessMark, Practice

if TYPE_CHECKING:
    from argon2 import PasswordHasher

LEAST, MOST = 4, 12
"""Letters and digits of a PIN."""
TRIES = 5
"""Wrong PINs in a row before the next one waits."""
FIRST_WAIT, LONGEST_WAIT = timedelta(seconds=30), timedelta(minutes=15)
LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Of recovery codes: none that is easily read as another."""
GROUPS, IN_GROUP = 4, 5
IDLE_KEY, IDLE_MIN, IDLE_MOST = "idle_lock_min", 10, 240
SET, CHANGED, RECOVERED = "PIN set", "PIN changed", "recovery code used, PIN set"
HELP = "a veterinarian with a PIN sets a new one for you under *, People"
SET_ANEW, WRONG = "PIN set anew by a veterinarian", "wrong PIN, {} in a row"


@dataclass(frozen=True)
class Cost:
    """What a hash costs: rounds, memory in KiB, lanes. The second choice of RFC 9106."""

    rounds: int = 3
    memory_kib: int = 65536
    lanes: int = 4


COST = Cost()
"""The one place where it is set; tests make it cheap."""


class WrongPin(Refusal):
    """The PIN or the code was not the right one, or its next try has to wait."""

    title = "Not opened"


def has_pin(person: str) -> bool:
    """Return whether a person has a PIN."""
    return bool(secrets.of(person).pin_hash)


def people_with_pin() -> tuple[Worker, ...]:
    """Return everybody who may be at work and has a PIN."""
    return tuple(worker for worker in people() if has_pin(worker.id))


def set_pin(act: Act, person: str, pin: str, old: str = "") -> str:
    """Set or change one's own PIN; return the recovery code, which is shown once.

    Raises
    ------
    BadInput
        When it is too short, too long, or too plain.
    Refusal
        When it is somebody else's.
    WrongPin
        When there is a PIN and `old` is not it.
    """
    if act.by != person:
        raise Refusal("Everybody sets their own PIN.", "A veterinarian can set one anew.")
    fit(pin)
    had = has_pin(person)
    if had:
        check(act, person, old)
    return _keep(act, person, pin, CHANGED if had else SET)


def reset_pin(act: Act, person: str, pin: str) -> str:
    """Set the PIN of a colleague who has lost it, typed by the colleague; return the code.

    Raises
    ------
    Refusal
        Unless a veterinarian does it for somebody else, with a PIN of their own.
    """
    must_be_vet(act.by, "sets the PIN of somebody else")
    if act.by == person:
        raise Refusal("This is for somebody else's PIN.", "Change your own with the old one.")
    if not has_pin(act.by):
        raise Refusal(
            "Only who has a PIN of their own sets the PIN of somebody else.",
            "Set your own PIN first.",
        )
    fit(pin)
    return _keep(act, person, pin, SET_ANEW)


def recover(act: Act, person: str, code: str, pin: str) -> str:
    """Set a new PIN with the recovery code, which is used up; return the new code.

    Raises
    ------
    WrongPin
        When the code is not the one that was shown last.
    """
    fit(pin)
    check_code(person, code)
    return _keep(act, person, pin, RECOVERED)


def check_code(person: str, code: str) -> None:
    """Refuse a recovery code that is not the one shown last.

    Raises
    ------
    WrongPin
        With the form that a code has.
    """
    if not _right(secrets.of(person).recovery_hash, _bare(code)):
        raise WrongPin(
            "This is not the recovery code that was shown last.",
            f"It has {GROUPS} groups of {IN_GROUP}. Without it, {HELP}.",
        )


def check(act: Act, person: str, pin: str) -> None:
    """Refuse a wrong PIN; after five in a row the next try waits, twice as long each time.

    Parameters
    ----------
    act : Act
        Who is at the desk, and the moment: the clock that is waited by.

    Raises
    ------
    WrongPin
        With how long to wait, or how many tries are left before that.
    """
    kept = secrets.of(person)
    if not kept.pin_hash:
        return
    _refuse_while_waiting(kept, act.at)
    # Counted before it is looked at: ending the app does not give a try back.
    wrong = kept.wrong + 1
    wait = _wait(wrong)
    secrets.count(person, wrong, act.at + wait if wait else None)
    if _right(kept.pin_hash, _same(pin)):
        secrets.count(person, 0, None)
        return
    if not wait:
        left = TRIES - wrong
        raise WrongPin("This is not the PIN.", f"{left} more before the next one has to wait.")
    _mark(act, person, WRONG.format(wrong))
    raise WrongPin(f"This is not the PIN, {wrong} times now.", _wait_words(wait, act.at))


def idle_minutes() -> int:
    """Return after how many idle minutes the app locks; 0 for never.

    Ten, when nobody has said otherwise, as soon as anybody has a PIN.
    """
    said = settings.get(IDLE_KEY)
    if said.isascii() and said.isdigit():
        return min(int(said), IDLE_MOST)
    return IDLE_MIN if secrets.anybody() else 0


def marks(person: str) -> tuple[AccessMark, ...]:
    """Return what happened to a person's PIN, the oldest first."""
    return read.find(AccessMark, person=person)


def fit(pin: str) -> None:
    """Refuse what can not be a PIN.

    Raises
    ------
    BadInput
        With what is asked for.
    """
    bare = _same(pin)
    if not (LEAST <= len(bare) <= MOST and bare.isalnum()):
        raise BadInput(
            f"A PIN has {LEAST} to {MOST} digits or letters, and nothing else.",
            "For example the first letters of a sentence of yours.",
        )
    if len(set(bare)) == 1 or bare in "01234567890" or bare in "9876543210":
        raise BadInput("This PIN is the first that anybody would try.", "Choose another.")


def _refuse_while_waiting(kept: Kept, now: datetime) -> None:
    left = kept.wait_until - now if kept.wait_until else timedelta(0)
    # Longer than the longest: the clock was moved, and nobody waits for that.
    if timedelta(0) < left <= LONGEST_WAIT:
        raise WrongPin(
            f"After {kept.wrong} wrong PINs the next one has to wait.", _wait_words(left, now)
        )


def _wait(wrong: int) -> timedelta | None:
    """Return how long the try after so many wrong ones waits."""
    return min(FIRST_WAIT * 2 ** (wrong - TRIES), LONGEST_WAIT) if wrong >= TRIES else None


def _wait_words(span: timedelta, now: datetime) -> str:
    """Say how long, and until when: the sentence stays on the screen while the time passes."""
    house = read.first(Practice)
    until = local(now + span, house.zone if house else "UTC")
    return f"Wait {_said(span)}, until {until:%H:%M:%S}."


def _said(span: timedelta) -> str:
    seconds = -(-span // timedelta(seconds=1))
    return f"{seconds} s" if seconds < 60 else f"{-(-seconds // 60)} min"


def _keep(act: Act, person: str, pin: str, what: str) -> str:
    code = "-".join("".join(chance.choice(LETTERS) for _ in range(IN_GROUP)) for _ in range(GROUPS))
    pin_hash, code_hash = _hasher().hash(_same(pin)), _hasher().hash(_bare(code))
    with edit("access", who=act.by, at=act.at) as doing:
        doing.add(AccessMark(id=new_key(), person=person, what=what, by=act.by, at=act.at))
        secrets.keep(person, pin_hash, code_hash)
    return code


def _mark(act: Act, person: str, what: str) -> None:
    with edit("access", who=act.by, at=act.at) as doing:
        doing.add(AccessMark(id=new_key(), person=person, what=what, by=act.by, at=act.at))


def _hasher() -> PasswordHasher:
    from argon2 import PasswordHasher

    return PasswordHasher(COST.rounds, COST.memory_kib, COST.lanes)


def _right(kept: str, typed: str) -> bool:
    from argon2.exceptions import Argon2Error, InvalidHashError

    try:
        return bool(kept) and _hasher().verify(kept, typed)
    except (Argon2Error, InvalidHashError):
        return False


def _same(pin: str) -> str:
    """Return a PIN as it is compared: one spelling of each letter, whatever the keyboard."""
    return unicodedata.normalize("NFC", pin)


def _bare(code: str) -> str:
    """Return a code without spaces and strokes, in capitals."""
    return "".join(c for c in code.upper() if c.isalnum())
