"""PINs: set, looked at, slowed, forgotten, and set anew; hashes only, and every set noted."""

from __future__ import annotations

import re
import unicodedata
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.errors import BadInput, Refusal
from core.practice import access, people, settings
from core.practice.access import WrongPin
from core.practice.desk import Desk
from core.practice.keep import Act
from core.records import journal, secrets
from core.records.engine import query
from tests.conftest import MOMENT
from tests.pins import OTHER, PIN, cheap
from tests.small import Small, build

__all__ = ["cheap"]
NOBODY = "nobody knows this"


def at(person: str, moment: datetime = MOMENT, **later: float) -> Act:
    return Act(person, moment + timedelta(**later))


def wrong(person: str, when: datetime) -> str:
    with pytest.raises(WrongPin) as told:
        access.check(Act(person, when), person, NOBODY)
    return f"{told.value.sentence} {told.value.todo}"


def whats(person: str) -> list[str]:
    return [mark.what for mark in access.marks(person)]


@pytest.fixture
def vet(practice: Small) -> str:
    return practice.vet


def test_without_a_pin_everybody_comes_in_as_before(practice: Small) -> None:
    assert not access.has_pin(practice.vet)
    assert access.idle_minutes() == 0
    access.check(at(practice.vet), practice.vet, "anything")
    assert query('SELECT count(*) FROM "secret"') == [(0,)]


def test_a_pin_is_kept_as_a_hash_and_noted(vet: str, records: Path) -> None:
    code = access.set_pin(at(vet), vet, PIN)
    assert access.has_pin(vet)
    access.check(at(vet), vet, PIN)
    kept = secrets.of(vet)
    assert kept.pin_hash.startswith("$argon2id$v=19$")
    assert kept.recovery_hash.startswith("$argon2id$")
    assert whats(vet) == [access.SET]
    said = str(journal.replay()) + str(query('SELECT * FROM "secret"'))
    assert PIN not in said.replace(kept.pin_hash, "").replace(kept.recovery_hash, "")
    assert code not in said
    assert code.replace("-", "") not in said


def test_a_pin_is_changed_with_the_old_one(vet: str) -> None:
    access.set_pin(at(vet), vet, PIN)
    with pytest.raises(WrongPin):
        access.set_pin(at(vet), vet, OTHER, "1234x")
    access.set_pin(at(vet), vet, OTHER, PIN)
    access.check(at(vet), vet, OTHER)
    with pytest.raises(WrongPin):
        access.check(at(vet), vet, PIN)
    assert whats(vet) == [access.SET, access.CHANGED]


def test_everybody_sets_their_own(practice: Small) -> None:
    with pytest.raises(Refusal, match="their own PIN"):
        access.set_pin(at(practice.technician), practice.vet, PIN)


@pytest.mark.parametrize(
    "pin", ["", "123", "1234567890123", "12 34", "12-34", "1111", "1234", "9876", "0000"]
)
def test_what_is_no_pin_is_refused(vet: str, pin: str) -> None:
    with pytest.raises(BadInput):
        access.set_pin(at(vet), vet, pin)
    assert not access.has_pin(vet)


def test_letters_of_any_script_are_one_spelling(vet: str) -> None:
    access.set_pin(at(vet), vet, "Zoe\u0308s9")
    access.check(at(vet), vet, "Zo\u00ebs9")


def test_five_wrong_pins_slow_the_next_try_and_each_after_it_twice_as_long(vet: str) -> None:
    access.set_pin(at(vet), vet, PIN)
    now = MOMENT
    for left in (4, 3, 2, 1):
        assert f"{left} more" in wrong(vet, now)
    waits = []
    for _ in range(7):
        assert "Wait" in wrong(vet, now)
        until = secrets.of(vet).wait_until
        assert until is not None
        waits.append((until - now).total_seconds())
        with pytest.raises(WrongPin, match="has to wait"):
            access.check(Act(vet, until - timedelta(seconds=1)), vet, PIN)
        now = until
    assert waits == [30, 60, 120, 240, 480, 900, 900]
    access.check(Act(vet, now), vet, PIN)
    assert "4 more" in wrong(vet, now), "the right one begins the count anew"
    marked = [w for w in whats(vet) if w.startswith("wrong PIN")]
    assert marked == [f"wrong PIN, {n} in a row" for n in range(5, 12)]


def test_the_wait_is_kept_over_a_restart(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    person = build(file).vet
    desk = Desk(file)
    desk.save(access.set_pin, at(person), person, PIN).result(timeout=30)
    for _ in range(5):
        with pytest.raises(WrongPin):
            desk.save(access.check, at(person), person, NOBODY).result(timeout=30)
    desk.close()
    again = Desk(file)
    try:
        with pytest.raises(WrongPin, match="Wait 20 s"):
            again.save(access.check, at(person, seconds=10), person, PIN).result(timeout=30)
        again.save(access.check, at(person, seconds=30), person, PIN).result(timeout=30)
    finally:
        again.close()


def test_nobody_waits_for_a_clock_that_was_moved(vet: str) -> None:
    access.set_pin(at(vet), vet, PIN)
    for _ in range(5):
        wrong(vet, MOMENT + timedelta(days=400))
    access.check(at(vet), vet, PIN)


def test_the_code_is_of_four_groups_of_letters_that_are_easily_read(vet: str) -> None:
    codes = {access.set_pin(at(vet), vet, PIN, PIN) for _ in range(20)}
    assert len(codes) == 20
    for code in codes:
        assert re.fullmatch(r"([2-9A-HJ-NP-Z]{5}-){3}[2-9A-HJ-NP-Z]{5}", code)


def test_the_code_sets_a_new_pin_once_and_a_new_code_is_made(vet: str) -> None:
    code = access.set_pin(at(vet), vet, PIN)
    typed = code.lower().replace("-", " ")
    new = access.recover(at(vet, hours=1), vet, typed, OTHER)
    access.check(at(vet), vet, OTHER)
    with pytest.raises(WrongPin, match="recovery code"):
        access.recover(at(vet), vet, code, PIN)
    assert new != code
    access.recover(at(vet), vet, new, PIN)
    assert whats(vet) == [access.SET, access.RECOVERED, access.RECOVERED]


def test_the_code_helps_while_the_pin_has_to_wait(vet: str) -> None:
    code = access.set_pin(at(vet), vet, PIN)
    for _ in range(5):
        wrong(vet, MOMENT)
    access.recover(at(vet), vet, code, OTHER)
    access.check(at(vet), vet, OTHER)


def test_a_wrong_code_sets_nothing(vet: str) -> None:
    access.set_pin(at(vet), vet, PIN)
    for code in ("", "A" * 20, "x"):
        with pytest.raises(WrongPin):
            access.recover(at(vet), vet, code, OTHER)
    access.check(at(vet), vet, PIN)


def test_without_a_pin_no_code_opens(vet: str) -> None:
    with pytest.raises(WrongPin):
        access.recover(at(vet), vet, "", PIN)


def test_another_veterinarian_sets_a_pin_anew(practice: Small) -> None:
    vet, technician = practice.vet, practice.technician
    access.set_pin(at(technician), technician, PIN)
    with pytest.raises(Refusal, match="a PIN of their own"):
        access.reset_pin(at(vet), technician, OTHER)
    access.set_pin(at(vet), vet, PIN)
    access.reset_pin(at(vet), technician, OTHER)
    access.check(at(technician), technician, OTHER)
    (_, last) = access.marks(technician)
    assert (last.what, last.by) == (access.SET_ANEW, vet)
    with pytest.raises(Refusal, match="Only a veterinarian sets the PIN of somebody else"):
        access.reset_pin(at(technician), vet, OTHER)
    with pytest.raises(Refusal, match="somebody else's PIN"):
        access.reset_pin(at(vet), vet, OTHER)


def test_the_app_locks_after_ten_minutes_once_anybody_has_a_pin(practice: Small) -> None:
    access.set_pin(at(practice.technician), practice.technician, PIN)
    assert access.idle_minutes() == 10
    people.set_idle(at(practice.vet), 3)
    assert access.idle_minutes() == 3
    people.set_idle(at(practice.vet), 0)
    assert access.idle_minutes() == 0


@pytest.mark.parametrize(("kept", "minutes"), [("soon", 10), ("-3", 10), ("99999", 240)])
def test_a_setting_that_is_no_number_of_minutes_never_opens(
    practice: Small, kept: str, minutes: int
) -> None:
    access.set_pin(at(practice.vet), practice.vet, PIN)
    settings.put(at(practice.vet), access.IDLE_KEY, kept)
    assert access.idle_minutes() == minutes


@given(st.text(max_size=20))
def test_whatever_is_typed_is_a_pin_or_a_sentence(typed: str) -> None:
    same = unicodedata.normalize("NFC", typed)
    if access.LEAST <= len(same) <= access.MOST and same.isalnum():
        assume(len(set(same)) > 1 and not same.isdigit())
        access.fit(typed)
    else:
        with pytest.raises(BadInput, match="digits or letters"):
            access.fit(typed)


@pytest.mark.parametrize("pin", ["1212", "Zoës9", "012345678901", "k9k9k9"])
def test_what_is_a_pin(pin: str) -> None:
    access.fit(pin)


def test_a_wait_says_until_when(vet: str) -> None:
    access.set_pin(at(vet), vet, PIN)
    for _ in range(5):
        with pytest.raises(WrongPin) as told:
            access.check(at(vet), vet, NOBODY)
    until = at(vet, seconds=30).at
    assert told.value.todo == f"Wait 30 s, until {until:%H:%M:%S}."


def test_without_the_code_it_is_said_who_helps_and_where(vet: str) -> None:
    access.set_pin(at(vet), vet, PIN)
    with pytest.raises(WrongPin) as told:
        access.check_code(vet, "AAAAA-AAAAA")
    assert "a veterinarian with a PIN sets a new one for you under *, People" in told.value.todo
