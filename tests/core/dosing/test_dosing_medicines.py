"""What a row of the medicines says of itself, and the sentences that come of a bare one."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date
from typing import Any

import pytest

from core.catalogue.load import table
from core.dosing.kinds import Concentration, Dose, FeedLevel, VolumeConcentration
from core.dosing.medicines import BATHS, ROUTES, Medicine, Prohibition, from_row, from_table
from core.dosing.recipient import Recipient
from core.dosing.stops import check
from core.errors import Refusal

BARE: dict[str, Any] = {
    "name": "balm",
    "form": "powder",
    "routes": ["bath"],
    "indication": "itch",
    "dose_high": 2.0,
    "unit": "mg/L",
    "us_food_fish": "extra-label",
    "systems": ["fresh", "brackish", "marine"],
    "sources": ["WORK"],
    "known": {"dose": "read"},
}
BALM = from_row("balm", BARE)
PET = Recipient(food_fish=False, system="fresh", oxygen_mg_l=8.0)


def said(medicine: Medicine, who: Recipient, subject: str) -> list[tuple[str, str]]:
    return [(s.kind, s.sentence) for s in check(medicine, who) if s.subject == subject]


def test_a_row_that_says_nothing_flags_nothing() -> None:
    flags = [field.name for field in fields(Medicine) if field.type == "bool"]
    assert len(flags) > 8
    assert [flag for flag in flags if getattr(BALM, flag)] == []
    assert [(line.kind, line.subject) for line in check(BALM, PET)] == [("note", "not said")]


def test_silence_of_the_sources_is_said_of_baths_only() -> None:
    assert check(replace(BALM, routes=("oral",)), PET) == ()
    told = replace(BALM, switch_off=("UV",), extra_air=True, stay="1 h.", stop_at="rolling.")
    told = replace(told, trial="two.", water_goes="away.", kit="copper.")
    assert told.unsaid == ()
    assert "not said" not in {line.subject for line in check(told, PET)}


def test_antimicrobials_and_controlled_drugs_are_those_of_their_lists() -> None:
    """Antibacterials by class; ketamine is in schedule III, pentobarbital in II, two in IV."""
    rows = from_table(table("medicines")).values()
    assert {row.name for row in rows if row.antimicrobial} == {
        *("amikacin", "ceftazidime", "enrofloxacin", "florfenicol", "metronidazole"),
        *("nitrofurans", "oxytetracycline", "sulfadimethoxine+ormetoprim", "sulfamerazine"),
    }
    assert {row.name for row in rows if row.controlled} == {
        *("alfaxalone", "butorphanol", "ketamine+medetomidine", "pentobarbital"),
    }


@pytest.mark.parametrize("route", sorted(ROUTES))
def test_what_goes_into_the_water_and_what_is_a_bath_of_the_system(route: str) -> None:
    one = replace(BALM, routes=(route,))
    assert one.in_water is (route in BATHS) is (route.endswith(("bath", "dip")))
    assert one.bathes is (route in ("bath", "prolonged bath"))
    assert not replace(one, unit="mg/mg nitrite").bathes
    assert not replace(one, unit="g/g tricaine").bathes
    both = replace(BALM, routes=("oral", route))
    assert (both.in_water, both.bathes) == (one.in_water, one.bathes)


def test_every_route_of_the_closed_list_is_taken_and_no_other() -> None:
    assert len(ROUTES) == len(BATHS) + 5 == 13
    for route in ROUTES:
        assert from_row("balm", BARE | {"routes": [route]}).routes == (route,)
    with pytest.raises(ValueError, match=r"balm: \['gill'\] is not in the closed list"):
        from_row("balm", BARE | {"routes": ["bath", "gill"]})


@pytest.mark.parametrize(
    ("unit", "kind"),
    [
        ("mg/L", Concentration),
        ("g/L", Concentration),
        ("uL/L", VolumeConcentration),
        ("mg/kg", Dose),
        ("g/kg feed", FeedLevel),
        ("mg/kg feed", FeedLevel),
    ],
)
def test_lowest_and_highest_dose_in_the_kind_of_the_unit(unit: str, kind: type) -> None:
    alone = replace(BALM, unit=unit)
    ranged = replace(alone, dose_low=0.5)
    assert type(alone.highest()) is kind
    assert [q.magnitude for q in (alone.lowest(), alone.highest())] == [2, 2]
    assert [q.magnitude for q in (ranged.lowest(), ranged.highest())] == [0.5, 2]


def test_a_dose_by_something_else_is_refused() -> None:
    with pytest.raises(Refusal) as caught:
        replace(BALM, unit="g/g tricaine").highest()
    assert str(caught.value) == "balm is dosed in g/g tricaine, not by water, fish or food."


def test_only_a_dose_from_memory_is_from_memory() -> None:
    for how in ("read", "read in part", "computed", "from memory"):
        built = "".join([how[:2], how[2:]])
        assert replace(BALM, known={"dose": built}).from_memory is (how == "from memory")


def test_where_it_stands_for_food_fish() -> None:
    assert BALM.food_fish_ground == "listed as extra-label in the United States."
    noted = replace(BALM, us_food_fish_note="eggs only")
    assert noted.food_fish_ground == "listed as extra-label in the United States (eggs only)."
    rule = Prohibition("21 CFR 530.41", "balms", date(2026, 4, 5))
    assert replace(BALM, prohibited=rule).food_fish_ground == (
        "prohibited in food animals by 21 CFR 530.41 (balms; text of 2026-04-05)."
    )


def test_what_its_sources_say_nothing_of() -> None:
    assert len(BALM.unsaid) == 7
    told = replace(BALM, switch_off=("UV",), extra_air=True, stay="1 h", stop_at="rolling")
    assert told.unsaid == (
        "a trial on a few fish",
        "where the water goes",
        "which test kit it falsifies",
    )


FLAGS: dict[str, tuple[str, str, str]] = {
    "scaleless_caution": ("scaleless", "caution", "scaleless fish"),
    "elasmobranch_stop": ("elasmobranch", "stop", "sharks or rays"),
    "elasmobranch_caution": ("elasmobranch", "caution", "sharks or rays"),
    "harms_invertebrates": (
        "invertebrates",
        "stop",
        "invertebrates in this water (shrimp, snails, corals)",
    ),
    "harms_plants": ("plants", "caution", "live plants in this water"),
    "harms_biofilter": ("biofilter", "caution", "a biofilter on this water"),
}


@pytest.mark.parametrize("flag", FLAGS)
def test_a_flag_in_words_present_unknown_and_absent(flag: str) -> None:
    fact, kind, what = FLAGS[flag]
    row = replace(BALM, **{flag: True})
    usual = "balm harms them or is not known to be safe with them."
    if flag == "harms_biofilter":
        usual = "balm may set it back; test ammonia and nitrite every day."
    there = replace(PET, **{fact: True})
    assert said(row, there, fact) == [(kind, f"Present: {what}; {usual}")]
    assert said(row, PET, fact) == [("caution", f"Not known whether present: {what}; {usual}")]
    assert said(row, replace(PET, **{fact: False}), fact) == []
    assert said(BALM, there, fact) == []


LIMITS: dict[str, tuple[str, str, str, str]] = {
    "minimum_alkalinity_mg_l": (
        "alkalinity_mg_l",
        "alkalinity",
        " mg/L",
        "is not to be used below",
    ),
    "minimum_oxygen_mg_l": ("oxygen_mg_l", "oxygen", " mg/L", "is not to be used below"),
    "caution_below_ph": ("ph", "pH", "", "needs care below"),
    "caution_below_c": ("temperature_c", "temperature", " °C", "needs care below"),
    "max_temperature_c": ("temperature_c", "temperature", " °C", "is not to be used above"),
    "caution_above_c": ("temperature_c", "temperature", " °C", "needs care above"),
}


@pytest.mark.parametrize("limit", LIMITS)
def test_a_limit_in_words_at_its_edge_and_beside_it(limit: str) -> None:
    figure, subject, unit, held = LIMITS[limit]
    row = replace(BALM, **{limit: 6.0})
    kind = "caution" if "care" in held else "stop"
    usual = f"balm {held} 6{unit}."
    wrong, right = (5.9, 6.1) if "below" in held else (6.1, 5.9)
    assert said(row, replace(PET, **{figure: 6.0}), subject) == []
    assert said(row, replace(PET, **{figure: right}), subject) == []
    assert said(row, replace(PET, **{figure: wrong}), subject) == [
        (kind, f"The {subject} is {wrong}{unit}: {usual}")
    ]
    unknown = replace(PET, **{figure: None})
    asked = f"Not known what the {subject} is: {usual}"
    assert said(row, unknown, subject) == [("caution", asked)]
    must = replace(row, unknown_stops=(limit,))
    assert said(must, unknown, subject) == [("stop", asked)]
    assert said(must, replace(PET, **{figure: 6.0}), subject) == []


def test_water_of_another_kind() -> None:
    for systems, row in ((("fresh",), "fresh"), (("fresh", "brackish"), "fresh or brackish")):
        one = replace(BALM, systems=systems)
        end = f"this row of balm is for {row} water."
        assert said(one, replace(PET, system="marine"), "system") == [
            ("caution", f"This water is marine: {end}")
        ]
        assert said(one, replace(PET, system=None), "system") == [
            ("caution", f"Not known whether this is fresh or sea water: {end}")
        ]
        assert said(one, PET, "system") == []
    assert said(BALM, replace(PET, system=None), "system") == []


def test_groups_and_what_is_in_the_water_already() -> None:
    row = replace(BALM, stop_groups=("koi",), caution_groups=("eel",), not_with=("zeolite",))
    both = replace(PET, groups=frozenset({"koi", "eel"}), running=frozenset({"zeolite"}))
    words = "; balm harms them or is not known to be safe with them."
    assert [(s.kind, s.sentence) for s in check(row, both) if s.kind != "note"] == [
        ("stop", f"Present: koi{words}"),
        ("stop", "There is zeolite in this water: never balm with zeolite."),
        ("caution", f"Present: eel{words}"),
    ]
    assert [(s.kind, s.sentence) for s in check(row, PET) if s.kind != "note"] == [
        ("caution", f"Not known whether present: koi{words}"),
        ("caution", f"Not known whether present: eel{words}"),
        ("caution", "Not known what else is in the water: never balm with zeolite."),
    ]
    neither = replace(PET, groups=frozenset({"tench"}), running=frozenset({"carbon"}))
    assert [s for s in check(row, neither) if s.kind != "note"] == []


def test_a_bath_is_not_begun_under_five_milligrams_of_oxygen() -> None:
    begun = "no bath is begun under 5 mg/L"
    assert said(BALM, replace(PET, oxygen_mg_l=5.0), "oxygen") == []
    assert said(BALM, replace(PET, oxygen_mg_l=4.99), "oxygen") == [
        ("stop", f"The oxygen is 4.99 mg/L: {begun}; give air first.")
    ]
    assert said(BALM, replace(PET, oxygen_mg_l=None), "oxygen") == [
        ("note", f"Measure the oxygen first: {begun}.")
    ]
    for who in (replace(PET, oxygen_mg_l=1.0), replace(PET, oxygen_mg_l=None)):
        assert said(replace(BALM, routes=("oral",)), who, "oxygen") == []
    still = replace(PET, said={"no air": True})
    assert said(BALM, still, "oxygen") == [
        ("stop", "No strong aeration: a bath is aerated all the while, or not begun.")
    ]
    assert said(BALM, replace(PET, said={"no air": False}), "oxygen") == []


def test_notes_in_words() -> None:
    row = replace(
        BALM,
        lowers_oxygen=True,
        buffer_g_per_g=2.0,
        controlled=True,
        hazards=("gloves", "goggles"),
        trial="two fish for an hour.",
    )
    notes = {s.subject: s.sentence for s in check(row, PET)}
    assert notes["air"] == "Give extra air: balm lowers the oxygen."
    assert notes["buffer"] == "Buffer with 2 g sodium bicarbonate for each g, to pH 7 to 7.5."
    assert notes["controlled"] == "A controlled drug: enter it in its log."
    assert notes["people"] == "gloves; goggles."
    assert notes["trial"] == "Try it on a few fish first: two fish for an hour."
    assert said(replace(row, lowers_oxygen=False, extra_air=True), PET, "air") == [
        ("note", "Give extra air.")
    ]
