"""A medicine of the practice's own: typed with units, known field by field, harmful until known."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from core.dosing.medicines import BATHS, ROUTES, Medicine
from core.dosing.recipient import Recipient
from core.dosing.stops import check
from core.errors import BadInput, Refusal
from core.practice import (
    medicine_words,
    medicines,
    own_medicine,
    own_rows,
    own_typed,
    own_units,
    read_medicines,
    shelf,
    treatment_words,
)
from core.practice.dose_parts import Ask
from core.practice.keep import Act
from core.practice.own_row import COMMON, MEMORY, SUBJECTS, medicine_of, unknown
from core.practice.own_typed import Elsewhere, Written
from core.practice.roles import NotAllowed
from core.practice.shelf import NewProduct
from core.practice.treatments import Order, order_treatment, prepare
from core.records import read
from core.records.tables import OwnMedicine, Treatment
from tests.conftest import MOMENT
from tests.small import Small

MINT = Written(
    name="garden mint oil",
    form="steam distilled",
    routes=("bath",),
    indication="calming, by our own trials",
    dose_low="5 mg/L",
    dose_high="10 mg/L",
    systems=("fresh",),
    known={"dose": COMMON, "system": MEMORY},
)
ALL_THERE = Recipient(
    food_fish=True,
    groups=frozenset(),
    scaleless=True,
    elasmobranch=True,
    invertebrates=True,
    plants=True,
    biofilter=True,
    system="fresh",
    alkalinity_mg_l=20.0,
    temperature_c=29.0,
    ph=7.2,
    oxygen_mg_l=6.0,
    running=frozenset(),
    flowing=False,
)
FACT = {"alkalinity": "alkalinity", "heat": "temperature", "oxygen": "oxygen"}
LIMITS = {"alkalinity": 50.0, "heat": 24.0, "oxygen": 7.0}

FULL = replace(
    MINT,
    routes=("bath", "dip"),
    dose_of="free menthol",
    interval="3 d",
    repeats=2,
    duration="30 min",
    stances={s.key: "harmful" for s in SUBJECTS},
    limits=LIMITS,
    avoid="loaches",
    hazards="stings the eyes",
    controlled=True,
    antimicrobial=True,
    food="allowed",
    status="extra-label",
    status_note="on prescription",
    withdrawal_days=0,
    elsewhere=(Elsewhere("Canada", "authorised", 3, MEMORY),),
    known={"dose": "read", "hazards": MEMORY},
    grounds={"dose": "Author (2020). Fish oils, p. 12"},
)
"""Everything that a row of the practice's own may say."""


@pytest.fixture
def vet(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


def made(**more: Any) -> Medicine:
    return medicine_of("own", own_typed.body_of(replace(MINT, **more)))


def against(row: Medicine, subject: str) -> list[str]:
    found = check(row, ALL_THERE)
    return [s.kind for s in found if s.subject == FACT.get(subject, subject) and s.kind != "note"]


def test_what_is_not_known_is_never_taken_as_safe(practice: Small) -> None:
    silent = made()
    for subject in SUBJECTS:
        assert against(silent, subject.key), subject.key
        for said, lines in (("allowed", []), ("not known", None), ("harmful", None)):
            row = made(stances={subject.key: said}, limits=LIMITS)
            found = against(row, subject.key)
            assert (found == lines) if lines is not None else found, (subject.key, said)


@pytest.mark.parametrize("subject", [s.key for s in SUBJECTS])
def test_not_known_weighs_no_less_than_the_order_can_do_without_a_reason(
    practice: Small, subject: str
) -> None:
    stops = [s for s in check(made(), ALL_THERE) if s.subject == FACT.get(subject, subject)]
    assert any(medicines.answer(s) in ("reason", "refused") for s in stops)
    assert any("not known" in s.sentence for s in stops)


def test_food_fish_that_is_not_known_is_refused_as_if_it_were_harmful(practice: Small) -> None:
    for food in ("not known", "harmful"):
        [stop] = [s for s in check(made(food=food), ALL_THERE) if s.subject == "food fish"]
        assert (stop.kind, medicines.answer(stop)) == ("stop", "refused")
    row = made(food="allowed", status="approved", withdrawal_days=None)
    [stop] = [s for s in check(row, ALL_THERE) if s.subject == "withdrawal"]
    assert medicines.answer(stop) == "refused"
    assert "is not known; the veterinarian sets it" in stop.sentence


def test_harm_to_people_that_is_not_known_is_said(practice: Small) -> None:
    [line] = [s for s in check(made(), ALL_THERE) if s.subject == "people"]
    assert "not known; handle it as harmful to people" in line.sentence


def test_of_several_withdrawals_the_longest_counts_and_each_place_is_said(vet: Act) -> None:
    places = (
        Elsewhere("Canada", "authorised", 12, "read", "Our vet authority (2024). List, p. 3"),
        Elsewhere("Norway", "not authorised", None, MEMORY),
    )
    new = replace(
        MINT,
        food="allowed",
        status="approved",
        withdrawal_days=5,
        elsewhere=places,
        known={**MINT.known, "us_food_fish": MEMORY, "withdrawal": "read"},
        grounds={"withdrawal": "Label of the product, 2025"},
    )
    key = own_typed.write(vet, new)
    row = read_medicines.one(key)
    assert row.withdrawal_days == 12
    assert "Canada: authorised, withdrawal 12 days" in row.food_fish_ground
    assert "Norway: not authorised, withdrawal not known" in row.food_fish_ground
    text = medicine_words.whole(row)
    assert "withdrawal, United States: 5 days (read: Label of the product, 2025)" in text
    assert "Canada: authorised, withdrawal 12 days (read: Our vet authority (2024)" in text
    assert f"Norway: not authorised, withdrawal NOT KNOWN ({MEMORY})" in text


@pytest.mark.parametrize(
    ("text", "route", "kept"),
    [
        ("5 mg/L", "bath", (5.0, "mg/L")),
        ("500 ug/L", "dip", (0.5, "mg/L")),
        ("3 g/L", "bath", (3.0, "g/L")),
        ("250 µL/L", "bath", (250.0, "uL/L")),
        ("10 mg/kg", "injection IM", (10.0, "mg/kg")),
        ("100 IU/lb", "injection IM", (220.462, "IU/kg")),
        ("1 mL/kg", "injection ICe", (1.0, "mL/kg")),
        ("10 mg/kg/day", "medicated feed", (10.0, "mg/kg/day")),
        ("2 g/kg feed", "medicated feed", (2.0, "g/kg feed")),
        ("2 g/kg of food", "medicated feed", (2.0, "g/kg feed")),
        ("4 g/100 lb", "oral", (88.1849, "mg/kg")),
    ],
)
def test_a_dose_is_kept_in_a_unit_of_its_route(
    text: str, route: str, kept: tuple[float, str]
) -> None:
    assert own_units.dose_typed(text, route) == kept


@pytest.mark.parametrize("route", sorted(ROUTES))
def test_the_wrong_kind_of_dose_is_refused_at_every_route(route: str) -> None:
    wet, dry = ("5 mg/L", "250 uL/L", "3 g/L"), ("10 mg/kg", "10 mg/kg/day", "100 IU/kg")
    never = ("5", "5 %", "5 ppm", "5 mL/L", "0.5 % w/v", "-5 mg/L", "0 mg/kg", "five mg/L", "")
    for text in (*never, *(dry if route in BATHS else wet)):
        with pytest.raises(BadInput) as told:
            own_units.dose_typed(text, route)
        assert told.value.sentence
    if route == "medicated feed":
        with pytest.raises(BadInput, match="of food, or of fish in a day"):
            own_units.dose_typed("10 mg/kg", route)


def test_both_ends_are_kept_in_one_unit(practice: Small) -> None:
    row = own_typed.body_of(replace(MINT, dose_low="5 mg/L", dose_high="0.02 g/L"))
    assert (row["dose_low"], row["dose_high"], row["unit"]) == (0.005, 0.02, "g/L")
    with pytest.raises(BadInput, match="low end is in mg/L and the high end in uL/L"):
        own_typed.body_of(replace(MINT, dose_high="20 uL/L"))
    feed = replace(MINT, routes=("medicated feed",), dose_low="5 mg/kg/day")
    with pytest.raises(BadInput, match="low end is in mg/kg/day"):
        own_typed.body_of(replace(feed, dose_high="20 mg/kg feed"))


def test_the_times_between_doses_need_their_unit() -> None:
    assert [own_units.hours_typed(t) for t in ("48 h", "3 d", "1 week")] == [48, 72, 168]
    for text in ("3", "3 months", "0.3 h", "0 d", "400 d", "3 %"):
        with pytest.raises(BadInput):
            own_units.hours_typed(text)


def test_nothing_is_read_without_its_source(vet: Act) -> None:
    for how in ("read", "read in part", "computed"):
        with pytest.raises(BadInput, match=r"dose is .*: in which source"):
            own_typed.write(vet, replace(MINT, known={"dose": how}))
    assert read.find(OwnMedicine) == ()
    said = tuple(own_medicine.faults({**own_typed.body_of(MINT), "known": {"dose": "read"}}))
    assert said == ("grounds: dose is read: say in which source.",)


def test_how_a_field_is_known_is_said_of_each_and_nothing_becomes_read(vet: Act) -> None:
    new = replace(MINT, duration="30 min", stances={"plants": "allowed"})
    new = replace(
        new, known={"dose": COMMON, "plants": "read"}, grounds={"plants": "Our log, p. 4"}
    )
    key = own_typed.write(vet, new)
    text = medicine_words.whole(read_medicines.one(key))
    assert f"dose: 5 to 10 mg/L ({COMMON})" in text
    assert f"lasts: 30 min ({MEMORY})" in text
    assert "plants: allowed (read: Our log, p. 4)" in text
    assert "biofilter: NOT KNOWN whether it harms; it counts as harmful" in text
    assert "COMMON PRACTICE: it was read in no source" in text
    assert text.count("(read") == 1
    # Where it is ordered it is from memory: no source stands behind it.
    assert "(dose from memory)" in medicines.label(medicines.medicine(key))


def test_a_row_that_is_corrected_stands_as_it_was_written(vet: Act) -> None:
    new = FULL
    key = own_typed.write(vet, new)
    assert own_typed.written(key) == new
    own_typed.write(vet, new, key)
    assert own_typed.written(key) == new
    assert unknown(own_rows.held().bodies[key]) == ()
    assert own_typed.written("formalin-bath") is None


def test_what_is_not_asked_stays_when_a_row_is_corrected(vet: Act) -> None:
    key = own_medicine.own(vet, {**own_typed.body_of(MINT), "stay": "Stay by all the while."})
    row = own_typed.written(key)
    assert row is not None
    own_typed.write(vet, replace(row, dose_high="12 mg/L"), key)
    again = read_medicines.one(key)
    assert (again.stay, again.dose_high) == ("Stay by all the while.", 12.0)


@pytest.mark.parametrize(
    "changed",
    [
        {"grounds": {"dose": "Author (2021). Fish oils, page 13"}},
        {"dose_high": "11 mg/L"},
        {"stances": {"plants": "allowed"}},
        {"elsewhere": (Elsewhere("Canada", "authorised", 3, MEMORY),)},
        {"known": {"dose": MEMORY}},
    ],
)
def test_whatever_is_changed_switches_it_off_again(vet: Act, changed: dict[str, Any]) -> None:
    new = replace(MINT, known={"dose": "read"}, grounds={"dose": "Author (2020). Oils"})
    key = own_typed.write(vet, new)
    assert not read_medicines.state(key).on
    read_medicines.switch(vet, key, "on")
    own_typed.write(vet, new, key)
    assert read_medicines.state(key).on
    own_typed.write(vet, replace(new, **changed), key)
    assert "it has changed since it was read" in read_medicines.state(key).words


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("Malachite green oxalate", "never registered"),
        ("chloramphenicol drops", "prohibited in food animals"),
        ("gentamicin sulfate", "kidney tubules"),
    ],
)
def test_what_is_left_out_on_purpose_can_not_be_written_either(
    vet: Act, name: str, said: str
) -> None:
    with pytest.raises(BadInput, match=said):
        own_typed.write(vet, replace(MINT, name=name))


@pytest.mark.parametrize("name", ["metronidazole benzoate", "Enrofloxacin 10 %"])
def test_a_salt_of_what_is_forbidden_keeps_its_rule(vet: Act, name: str) -> None:
    with pytest.raises(BadInput, match="has to be prohibited"):
        own_typed.write(vet, replace(MINT, name=name, food="allowed", status="approved"))
    for food in ("not known", "harmful"):
        row = read_medicines.one(own_typed.write(vet, replace(MINT, name=name, food=food)))
        assert row.us_food_fish == "prohibited"
        assert row.prohibited is not None


def test_only_a_veterinarian_writes_corrects_or_strikes(practice: Small, vet: Act) -> None:
    key = own_typed.write(vet, MINT)
    tech = Act(practice.technician, MOMENT)
    for write in (
        lambda: own_typed.write(tech, MINT),
        lambda: own_typed.write(tech, replace(MINT, form="pressed"), key),
        lambda: own_medicine.strike(tech, key, "no use"),
    ):
        with pytest.raises(NotAllowed, match="Only a veterinarian"):
            write()


def test_it_is_struck_with_a_reason_and_keeps_its_name(practice: Small, vet: Act) -> None:
    key = own_typed.write(vet, MINT)
    with pytest.raises(BadInput, match="with a reason"):
        own_medicine.strike(vet, key, " ")
    own_medicine.strike(vet, key, "written twice")
    assert key not in medicines.catalogue()
    assert read.one(OwnMedicine, key).struck == "written twice"
    assert own_rows.named(key) == "garden mint oil"
    with pytest.raises(Refusal, match="was struck"):
        own_typed.write(vet, MINT, key)


def test_what_something_rests_on_is_not_struck(practice: Small, vet: Act) -> None:
    key = own_typed.write(vet, MINT)
    product = NewProduct(key, "mint 10", 100.0, "mg/mL", 50.0, "mL")
    shelf.add_product(vet, product)
    with pytest.raises(Refusal, match="1 product rests on it"):
        own_medicine.strike(vet, key, "no use")


def test_it_is_ordered_like_any_row_and_says_from_memory(practice: Small, vet: Act) -> None:
    key = own_typed.write(vet, replace(MINT, repeats=2, interval="3 d"))
    ask = Ask("5 mg/L", "bath")
    order = Order("advised", key, ask, practice.system, repeats=2, interval_days=3)
    with pytest.raises(Refusal, match=r"is off: no veterinarian"):
        order_treatment(vet, practice.visit, order)
    read_medicines.switch(vet, key, "on")
    with pytest.raises(Refusal):
        # What is not known asks for a reason.
        order_treatment(vet, practice.visit, order)
    order = replace(order, reason="tried on six koi here in spring")
    said = "\n".join(treatment_words.sentences(prepare(practice.visit, order)))
    assert "5 to 10 mg/L (from memory)" in said
    assert "The dose of this row is from memory" in said
    assert "What garden mint oil does in heat is not known" in said
    [row] = [read.one(Treatment, order_treatment(vet, practice.visit, order))]
    assert (row.amount, row.repeats) == (45.0, 2)
    with pytest.raises(Refusal, match="1 treatment rests on it"):
        own_medicine.strike(vet, key, "no use")
