"""Who may do what: each denied act is tried through the practice's own functions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from core.catalogue import load
from core.practice import (
    access,
    charges,
    documents,
    people,
    problem_list,
    roles,
    settings,
    setup,
    sign,
    treatments,
    visits,
    water,
)
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.roles import NotAllowed, broken
from core.practice.water import Measured
from core.records import journal, read
from core.records.engine import query
from core.records.keys import new_key
from core.records.tables import TABLES, Person, Price, TaxClass, Treatment, Visit
from tests.pins import PIN, cheap
from tests.practice.plan_cases import MOMENT, Case, case

__all__ = ["cheap"]


@dataclass(frozen=True)
class House(Case):
    """A practice with somebody of each role, and a visit whose lines can be billed."""

    papers: Path
    staff: dict[str, Act]


@pytest.fixture
def house(records: Path, tmp_path: Path) -> House:
    pond, by = case(), Act("setup", MOMENT)
    staff = {"veterinarian": pond.act, "technician": pond.technician}
    for role in ("reception", "read only"):
        staff[role] = Act(setup.add_person(by, role, role), MOMENT)
    made = House(**vars(pond), papers=tmp_path / "papers", staff=staff)
    with journal.edit("taxes", who="setup", at=MOMENT) as doing:
        for row in (*setup.first_prices(), GOODS):
            doing.add(row)
    charges.add_manual(made.act, made.visit, "test kit", Decimal(1), 3200, "goods")
    return made


GOODS = TaxClass(id=new_key(), code="goods", name="goods", rate_percent=Decimal(7))


def reading(house: House, act: Act) -> None:
    water.record_reading(act, house.visit, house.system, Measured("ph", 7.6, "7.6"))


def signed(house: House, act: Act) -> None:
    with edit("sign", who=act.by, at=act.at, visit=house.visit) as doing:
        columns = {"state": "signed", "signed_at": act.at, "signed_by": act.by}
        doing.change(Visit, house.visit, **columns)


def problem(house: House, act: Act) -> None:
    problem_list.name_problem(act, house.visit, house.system, problem="khv", why="seen")


def prescribed(house: House, act: Act) -> None:
    row = Treatment(
        id=new_key(),
        visit=house.visit,
        system=house.system,
        act="prescribed",
        medicine="salt",
        route="bath",
        dose=1.0,
        dose_unit="g/L",
        amount=9.0,
        amount_unit="kg",
        by=act.by,
        at=act.at,
    )
    with edit("treatment", who=act.by, at=act.at, visit=house.visit) as doing:
        doing.add(row)


def booking(house: House, act: Act) -> None:
    visits.book(act, house.system, date(2026, 11, 26), "09:00", house.act.by, "check")


def invoice(house: House, act: Act) -> None:
    documents.issue_invoice(act, house.visit, house.papers)


def payment(house: House, act: Act) -> None:
    charges.pay(act, house.visit, 100, "card")


def price(house: House, act: Act) -> None:
    people.set_price(act, read.find(Price)[0].id, Decimal("12.50"))


def person(house: House, act: Act) -> None:
    people.add(act, "Nell New", "technician")


def detail(house: House, act: Act) -> None:
    people.set_detail(act, "phone", "555 0000")


def setting(house: House, act: Act) -> None:
    settings.put(act, "keep_years.record", "9")


def own_pin(house: House, act: Act) -> None:
    access.set_pin(act, act.by, PIN)


VET, TECH, DESK, READER = "veterinarian", "technician", "reception", "read only"
Do = Callable[[House, Act], None]
ROWS: list[tuple[str, Do, bool, str]] = [
    (VET, signed, True, ""),
    (TECH, signed, False, "Only a veterinarian signs a record; Tim Test is at work as technician."),
    (VET, problem, True, ""),
    (DESK, problem, False, "Only a veterinarian names a problem; reception is at work as"),
    (VET, prescribed, True, ""),
    (TECH, prescribed, False, "Only a veterinarian prescribes a medicine; Tim Test is at work"),
    (TECH, reading, True, ""),
    (DESK, reading, False, "Only a veterinarian or a technician enters a reading; reception is"),
    (DESK, booking, True, ""),
    (READER, booking, False, "Only a veterinarian, a technician or the reception books or"),
    (DESK, invoice, True, ""),
    (TECH, invoice, False, "Only a veterinarian or the reception issues an invoice; Tim Test"),
    (TECH, payment, True, ""),
    (READER, payment, False, "Only a veterinarian, a technician or the reception takes a payment"),
    (VET, price, True, ""),
    (DESK, price, False, "Only a veterinarian changes a price; reception is at work"),
    (VET, person, True, ""),
    (TECH, person, False, "Only a veterinarian says who is at work and as what; Tim Test"),
    (DESK, detail, False, "Only a veterinarian changes the details of the practice;"),
    (TECH, setting, False, "Only a veterinarian changes a setting;"),
    (READER, own_pin, True, ""),
    (READER, reading, False, "Only a veterinarian, a technician or the reception works on a visit"),
]
"""Role, act, allowed, and how the sentence begins where it is not."""


@pytest.mark.parametrize(
    ("role", "do", "allowed", "says"),
    ROWS,
    ids=[f"{role} {do.__name__} {'may' if ok else 'may not'}" for role, do, ok, _ in ROWS],
)
def test_who_may_do_what(
    house: House, monkeypatch: pytest.MonkeyPatch, role: str, do: Do, allowed: bool, says: str
) -> None:
    # The door alone must hold, without the early look of a single function.
    monkeypatch.setattr(problem_list, "must_be_vet", lambda *_: None)
    before = journal.replay()
    count = query('SELECT count(*) FROM "edit"')
    if allowed:
        do(house, house.staff[role])
        assert journal.replay() != before
        return
    with pytest.raises(NotAllowed) as told:
        do(house, house.staff[role])
    assert told.value.sentence.startswith(says)
    assert "quit (q)" in told.value.todo, "nobody has a PIN, so ! would not lock"
    assert journal.replay() == before
    assert query('SELECT count(*) FROM "edit"') == count


@pytest.mark.parametrize("role", [TECH, DESK, READER])
def test_the_early_refusals_say_the_same(house: House, role: str) -> None:
    act = house.staff[role]
    tries: list[tuple[Callable[[], object], str]] = [
        (lambda: sign.sign(act, house.visit), "signs a record"),
        (lambda: problem(house, act), "names a problem"),
        (
            lambda: treatments.order_treatment(
                act, house.visit, house.order("praziquantel", "2 mg/L", "bath")
            ),
            "orders a treatment",
        ),
        (lambda: documents.issue_labels(act, house.visit, house.papers), "approves a label"),
    ]
    for go, does in tries:
        with pytest.raises(NotAllowed, match=f"Only a veterinarian {does}; .* is at work as"):
            go()


def test_every_table_stands_in_the_table_of_roles() -> None:
    known = load.table("roles")
    assert set(known["table"]) == {row.table for row in TABLES}
    assert set(roles.words()) == {VET, TECH, DESK, READER}
    for rule in known["table"].values():
        assert set(rule["also"]) <= set(roles.words()) - {VET}
        assert rule["does"]
    for rule in known["only"]:
        kind = next(row for row in TABLES if row.table == rule["table"])
        assert rule["column"] in kind.__dataclass_fields__


def test_the_values_named_there_are_the_ones_that_are_written() -> None:
    values = {v for rule in load.table("roles")["only"] for v in rule.get("values", ())}
    assert access.SET_ANEW in values
    assert values >= {"signed", "prescribed", "dispensed", "labels"}


def test_a_veterinarian_may_write_every_table() -> None:
    for kind in TABLES:
        anything = {name: [None, "x"] for name in kind.__dataclass_fields__}
        assert broken(VET, kind.table, anything) is None
        assert (broken(READER, kind.table, anything) is None) == (kind.table == "access_mark")


def test_one_person_is_looked_up_once_for_an_edit(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    real = roles._person

    def noted(who: str) -> tuple[str, str]:
        asked.append(who)
        return real(who)

    monkeypatch.setattr(roles, "_person", noted)
    with edit("two lines", who=house.act.by, at=MOMENT) as doing:
        for number in (1, 2):
            doing.change(Visit, house.visit, minutes=100 + number)
    assert asked == [house.act.by]


def test_who_is_nobody_writes_nothing(house: House) -> None:
    for who in ("", "somebody", new_key()):
        with pytest.raises(NotAllowed, match="Nobody of this practice"):
            booking(house, Act(who, MOMENT))


def test_the_app_itself_is_no_person_and_no_screen_is_the_app() -> None:
    assert roles.SETUP == "setup"
    root = Path(__file__).parents[2] / "tui"
    said = [p.name for p in root.rglob("*.py") if '"setup"' in p.read_text("utf-8")]
    assert said == ["app.py"], "only the first start, before there is anybody"


def test_who_has_left_writes_nothing(house: House) -> None:
    desk = house.staff[DESK]
    people.leave(house.act, desk.by)
    with pytest.raises(NotAllowed, match="reception is not at work here any more"):
        booking(house, desk)


def test_a_new_role_holds_from_the_next_edit(house: House) -> None:
    people.change(house.act, house.technician.by, role=VET)
    prescribed(house, house.technician)
    assert read.one(Person, house.technician.by).role == VET


def test_what_joins_an_edit_is_held_to_the_person_who_opened_it(house: House) -> None:
    reader = house.staff[READER].by
    with (
        pytest.raises(NotAllowed, match="takes a payment"),
        edit("outer", who=reader, at=MOMENT),
    ):
        payment(house, house.act)


def test_striking_is_held_as_writing_is(house: House) -> None:
    reading(house, house.technician)
    ((row,),) = query('SELECT "id" FROM "reading"')
    with pytest.raises(NotAllowed, match="enters a reading"):
        water.strike_reading(house.staff[DESK], row, "wrong place")


def test_the_way_out_that_is_named_is_there(house: House) -> None:
    who = house.staff["technician"].by
    assert "!" not in roles.take_over(who)
    access.set_pin(house.staff["technician"], who, PIN)
    assert roles.take_over(who).startswith("A colleague with a PIN can take over: ! locks")


def test_the_door_asks_what_the_edit_would(house: House) -> None:
    technician = house.staff["technician"].by
    for table, column in (("problem", {}), ("treatment", {"act": "given here"})):
        with pytest.raises(NotAllowed):
            roles.must_be_allowed(technician, table, **column)
        roles.must_be_allowed(house.act.by, table, **column)
    roles.must_be_allowed(technician, "owner_step")
