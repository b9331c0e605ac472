"""Medicines that are off until they are read: who reads them, and when they are off again."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from core.catalogue import load
from core.errors import BadInput, Refusal
from core.practice import (
    giving_context,
    in_hand,
    in_hand_bath,
    medicine_words,
    medicines,
    own_medicine,
    read_medicines,
    water,
)
from core.practice.corrections import Correction, correct_water
from core.practice.dose_parts import Ask
from core.practice.keep import Act
from core.practice.recipient import medicines as catalogue
from core.practice.roles import NotAllowed
from core.practice.treatments import Order, order_treatment, prepare
from core.records import read
from core.records.tables import MedicineRead, OwnMedicine, Treatment
from tests.conftest import MOMENT
from tests.practice.test_in_hand import take
from tests.small import VET, Small

KEY = "praziquantel-prolonged"


@pytest.fixture
def vet(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


def order(practice: Small) -> Order:
    ask = Ask("2 mg/L", "prolonged bath", product="praziquantel-powder")
    return Order("given here", KEY, ask, practice.system, reason="flukes in two gill snips today")


def row(**more: Any) -> dict[str, Any]:
    own = {
        "name": "garden mint oil",
        "form": "steam distilled",
        "routes": ["bath"],
        "indication": "calming, by our own trials",
        "dose_low": 5.0,
        "dose_high": 10.0,
        "unit": "mg/L",
        "us_food_fish": "not approved",
        "systems": ["fresh"],
        "sources": ["notes of the practice, 2024 to 2026"],
        "known": {"dose": "from memory"},
    }
    return {**own, **more}


def test_a_row_is_off_until_a_veterinarian_has_read_it(practice: Small, vet: Act) -> None:
    assert not read_medicines.state(KEY).on
    with pytest.raises(Refusal) as told:
        order_treatment(vet, practice.visit, order(practice))
    said = told.value.sentence
    assert "praziquantel" in said
    assert "off: no veterinarian of this practice has read it yet" in said
    assert f"{VET} may read it in Medicines and shelf" in said
    assert read.find(Treatment) == ()
    read_medicines.switch(vet, KEY, "on", "as for ponds")
    found = read_medicines.state(KEY)
    assert found.on
    assert found.words == f"on: read by {VET}, {found.words.split(', ')[1]}"
    assert found.words.endswith(": as for ponds")
    assert order_treatment(vet, practice.visit, order(practice))


def test_every_row_of_the_catalogue_begins_off(practice: Small) -> None:
    states = read_medicines.all_states()
    assert len(states) == len(catalogue()) > 60
    assert not any(state.on for state in states.values())


def test_a_technician_may_read_and_not_switch(practice: Small) -> None:
    act = Act(practice.technician, MOMENT)
    assert "Sources" in medicine_words.whole(read_medicines.one(KEY))
    with pytest.raises(NotAllowed, match="Only a veterinarian switches a medicine on"):
        read_medicines.switch(act, KEY, "on")
    assert read.find(MedicineRead) == ()


def test_it_is_switched_off_with_a_reason_and_says_so(practice: Small, vet: Act) -> None:
    read_medicines.switch(vet, KEY, "on")
    with pytest.raises(BadInput, match="with a reason"):
        read_medicines.switch(vet, KEY, "off")
    read_medicines.switch(vet, KEY, "off", "bad lot on the market")
    found = read_medicines.state(KEY)
    assert not found.on
    assert "switched off by Vera Test" in found.words
    assert "bad lot on the market" in found.words
    assert "bad lot" in " ".join(prepare(practice.visit, order(practice)).refused)
    assert [m.state for m in read.find(MedicineRead, medicine=KEY)] == ["on", "off"]


def test_a_row_that_has_changed_is_off_again(
    practice: Small, vet: Act, monkeypatch: pytest.MonkeyPatch
) -> None:
    read_medicines.switch(vet, KEY, "on")
    changed = replace(catalogue()[KEY], dose_high=3.0)
    known = {**catalogue(), KEY: changed}
    monkeypatch.setattr(read_medicines, "medicines", lambda: known)
    read_medicines._of_catalogue.cache_clear()
    try:
        found = read_medicines.state(KEY)
        assert not found.on
        assert "it has changed since it was read by Vera Test" in found.words
        assert "read it anew" in found.words
    finally:
        read_medicines._of_catalogue.cache_clear()


@pytest.mark.parametrize("key", catalogue())
def test_every_field_counts_in_the_fingerprint_and_is_read_out(key: str) -> None:
    one = catalogue()[key]
    assert read_medicines.fingerprint(one) != read_medicines.fingerprint(
        replace(one, duration=f"{one.duration} longer")
    )
    text = medicine_words.whole(one)
    for value in (one.indication, one.duration, *one.avoid, *one.hazards, one.us_food_fish_note):
        assert value in text
    cited = load.citations()
    assert all(cited[source] in text for source in one.sources)
    lines = text.split("\n\nSources")[0].splitlines()
    # Every line of a field ends by saying how it is known; the rest are headings.
    assert all(line.endswith(")") or line == line.upper() or "THE DOSE" in line for line in lines)
    assert ("FROM MEMORY" in text) == one.from_memory


def test_a_row_of_the_practice_s_own_is_offered_once_it_was_read(practice: Small, vet: Act) -> None:
    key = own_medicine.own(vet, row())
    assert key in medicines.catalogue()
    assert "dose from memory" in medicines.label(medicines.medicine(key))
    ask = Ask("5 mg/L", "bath")
    mine = Order("advised", key, ask, practice.system, reason="tried on six koi before this")
    with pytest.raises(Refusal, match=r"garden mint oil .* is off"):
        order_treatment(vet, practice.visit, mine)
    read_medicines.switch(vet, key, "on")
    assert read.one(Treatment, order_treatment(vet, practice.visit, mine)).amount == 45.0
    own_medicine.own(vet, row(dose_high=20.0), key)
    assert "has changed" in read_medicines.state(key).words
    assert len(read.find(OwnMedicine)) == 1


def test_an_own_injection_is_offered_in_hand(practice: Small, vet: Act) -> None:
    key = own_medicine.own(vet, row(routes=["injection IM"], unit="mg/kg"))
    assert key in {m.key for m in giving_context.injectables()}


FAULTS: dict[str, tuple[dict[str, Any], str]] = {
    "a column there is not": ({"colour": "green"}, "colour is nothing that a medicine"),
    "no name": ({"name": ""}, "name is missing"),
    "no source": ({"sources": []}, "sources is missing"),
    "a strange route": (
        {"routes": ["bath", "smoke"]},
        "routes: smoke is not one of anaesthetic bath, bath, dip",
    ),
    "strange water": ({"systems": ["heavy"]}, "systems: heavy is not one of brackish"),
    "a strange status": ({"us_food_fish": "fine"}, "us_food_fish: fine is not one of"),
    "dose unknown": ({"known": {"interval": "read"}}, "say how the dose is known"),
    "known no word": ({"known": {"dose": "heard"}}, "dose is heard, which is not one of"),
    "ends the wrong way": ({"dose_low": 11.0}, "The lowest dose, 11, is over the highest, 10"),
    "dose 0": ({"dose_high": 0.0}, "dose_high is missing"),
    "dose below 0": ({"dose_low": -1.0}, "dose_low has to be above 0"),
    "dose in words": ({"dose_high": "ten"}, "dose_high has to be a number"),
    "not a number": ({"dose_high": float("nan")}, "dose_high has to be a number"),
    "a part of a day": ({"withdrawal_days": 1.5}, "withdrawal_days has to be a whole number"),
    "a flag in words": ({"extra_air": "yes"}, "extra_air has to be true or false"),
    "one word, no list": ({"avoid": "koi"}, "avoid has to be a list of words"),
    "parts by million": ({"unit": "ppm"}, "ppm"),
    "a rule of one's own": ({"prohibited": {}}, "prohibited is nothing that a medicine"),
    "another name for it": (
        {"name": "Metronidazole", "us_food_fish": "approved"},
        "us_food_fish has to be prohibited",
    ),
}


@pytest.mark.parametrize("case", FAULTS)
def test_each_fault_of_an_own_row_has_its_sentence(practice: Small, vet: Act, case: str) -> None:
    wrong, said = FAULTS[case]
    with pytest.raises(BadInput) as told:
        own_medicine.own(vet, row(**wrong))
    assert said in told.value.sentence
    assert read.find(OwnMedicine) == ()


def test_two_faults_are_two_sentences(practice: Small, vet: Act) -> None:
    assert len(tuple(own_medicine.faults(row(name="", routes=["smoke"])))) == 2


def test_a_forbidden_agent_keeps_its_rule_under_an_own_row(practice: Small, vet: Act) -> None:
    own = row(name="metronidazole", us_food_fish="prohibited", unit="mg/L")
    key = own_medicine.own(vet, own)
    assert medicines.medicine(key).prohibited == catalogue()["metronidazole-bath"].prohibited


def test_a_technician_writes_no_medicine(practice: Small) -> None:
    with pytest.raises(NotAllowed, match="medicine of the practice's own"):
        own_medicine.own(Act(practice.technician, MOMENT), row())


@pytest.mark.parametrize("key", ["praziquantel-prolonged", "formalin-bath"])
def test_the_form_is_that_of_the_catalogue(key: str) -> None:
    held = {k: v for k, v in load.table("medicines")[key].items() if k != "dangers"}
    assert tuple(own_medicine.faults(json.loads(json.dumps(held)))) == ()


def test_a_fish_is_not_put_to_sleep_with_a_row_that_is_off(practice: Small, vet: Act) -> None:
    fish = take(vet, practice.visit)
    bath = {"agent": "tricaine methanesulfonate (MS-222)", "agent_mg_l": 50.0, "bath_l": 20.0}
    with pytest.raises(Refusal, match=r"tricaine.* is off: .* A veterinarian may read it in"):
        in_hand.set_bath(vet, fish, **bath)
    assert in_hand.one(fish).handling.agent == ""
    row = in_hand_bath.row_for("tricaine methanesulfonate (MS-222)", 50.0)
    assert row is not None
    read_medicines.switch(vet, row.key, "on")
    in_hand.set_bath(vet, fish, **bath)
    assert in_hand.one(fish).bath.agent_g == 1.0


def test_the_water_is_not_corrected_with_a_row_that_is_off(practice: Small, vet: Act) -> None:
    water.record_reading(
        vet, practice.visit, practice.system, water.Measured("alkalinity", 40.0, "40"), "here"
    )
    wanted = Correction("given here", practice.system, "alkalinity", 60.0, reason="soft water here")
    with pytest.raises(Refusal, match=r"sodium bicarbonate .* is off"):
        correct_water(vet, practice.visit, wanted)
    read_medicines.switch(vet, "bicarbonate-buffer", "on")
    assert correct_water(vet, practice.visit, wanted)
