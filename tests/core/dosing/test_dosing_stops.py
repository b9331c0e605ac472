"""Every medicine against every hazard gives exactly what its row says, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any

import pytest

from core.catalogue.load import table
from core.dosing.dangers import ASKED, Danger, from_rows
from core.dosing.medicines import NEVER, Medicine, from_table
from core.dosing.stops import Recipient, Stop, check

RAW: dict[str, Any] = table("medicines")
MEDICINES = from_table(RAW)

SAFE = Recipient(
    food_fish=False,
    groups=frozenset(),
    scaleless=False,
    elasmobranch=False,
    invertebrates=False,
    plants=False,
    biofilter=False,
    system="fresh",
    alkalinity_mg_l=150.0,
    temperature_c=20.0,
    ph=7.6,
    oxygen_mg_l=8.0,
    running=frozenset(),
    flowing=False,
    said=dict.fromkeys(ASKED, False),
)
"""Nothing about it is a hazard, for a row that is for fresh water."""

HAZARDS: dict[str, dict[str, Any]] = {
    "food fish": {"food_fish": True},
    "elasmobranch": {"elasmobranch": True},
    "scaleless": {"scaleless": True},
    "invertebrates": {"invertebrates": True},
    "low alkalinity": {"alkalinity_mg_l": 20.0},
    "heat": {"temperature_c": 32.0},
    "low oxygen": {"oxygen_mg_l": 3.0},
    "plants": {"plants": True},
    "biofilter": {"biofilter": True},
}


def against(key: str, recipient: Recipient) -> set[tuple[str, str]]:
    found = check(MEDICINES[key], recipient)
    return {(stop.kind, stop.subject) for stop in found if stop.kind != "note"}


def at_home(key: str) -> Recipient:
    row = RAW[key]
    cold = row.get("max_temperature_c", 99) < 20
    return replace(SAFE, system=row["systems"][0], temperature_c=9.0 if cold else 20.0)


def food_lines(row: dict[str, Any]) -> set[tuple[str, str]]:
    status = row["us_food_fish"]
    if status in ("prohibited", "not for food fish", "barred in feed"):
        return {("stop", "food fish")}
    said = set() if "withdrawal_days" in row else {("stop", "withdrawal")}
    fed = status == "approved with feed directive"
    if "approved_groups" in row and fed:
        said |= {("stop", "feed directive"), ("stop", "withdrawal")}
    elif not status.startswith("approved") or "approved_groups" in row:
        said.add(("caution", "food fish"))
    named = {(d["kind"], d["subject"]) for d in row.get("dangers", ()) if d.get("food_fish")}
    return said | named


def bathes(row: dict[str, Any]) -> bool:
    mends = row["unit"].startswith(("mg/mg", "g/g"))
    return not mends and bool({"bath", "prolonged bath"} & set(row["routes"]))


def expected(row: dict[str, Any], hazard: str) -> set[tuple[str, str]]:
    flags = {
        "scaleless": ("scaleless_caution", "caution", "scaleless"),
        "invertebrates": ("harms_invertebrates", "stop", "invertebrates"),
        "low alkalinity": ("minimum_alkalinity_mg_l", "stop", "alkalinity"),
        "low oxygen": ("minimum_oxygen_mg_l", "stop", "oxygen"),
        "plants": ("harms_plants", "caution", "plants"),
        "biofilter": ("harms_biofilter", "caution", "biofilter"),
    }
    if hazard == "food fish":
        return food_lines(row)
    if hazard == "elasmobranch":
        both = (("elasmobranch_stop", "stop"), ("elasmobranch_caution", "caution"))
        return {(kind, "elasmobranch") for flag, kind in both if row.get(flag)}
    if hazard == "heat":
        both = (("max_temperature_c", "stop"), ("caution_above_c", "caution"))
        return {(kind, "temperature") for flag, kind in both if flag in row}
    if hazard == "low oxygen" and bathes(row):
        return {("stop", "oxygen")}
    flag, kind, subject = flags[hazard]
    return {(kind, subject)} if row.get(flag) else set()


@pytest.mark.parametrize("key", MEDICINES)
def test_nothing_stands_against_a_medicine_where_there_is_no_hazard(key: str) -> None:
    assert against(key, at_home(key)) == set()


@pytest.mark.parametrize(("key", "hazard"), list(product(MEDICINES, HAZARDS)))
def test_a_hazard_gives_exactly_what_the_row_says(key: str, hazard: str) -> None:
    found = against(key, replace(at_home(key), **HAZARDS[hazard]))
    assert found == expected(RAW[key], hazard)


def grounds() -> dict[tuple[str, str, str], str]:
    """Every stop and caution that the data makes, once for a row and a subject, with its ground."""
    worst = replace(
        SAFE,
        food_fish=True,
        elasmobranch=True,
        scaleless=True,
        invertebrates=True,
        plants=True,
        biofilter=True,
        alkalinity_mg_l=20.0,
        temperature_c=32.0,
        oxygen_mg_l=3.0,
        ph=5.5,
        said=dict.fromkeys(ASKED, True),
    )
    found: dict[tuple[str, str, str], str] = {}
    for key, medicine in MEDICINES.items():
        named = {g for d in medicine.dangers for g in d.groups}
        groups = frozenset({*medicine.stop_groups, *medicine.caution_groups, *named})
        facts = replace(worst, groups=groups, running=frozenset(medicine.not_with))
        for system in ("fresh", "marine"):
            for cold in (facts, replace(facts, temperature_c=2.0)):
                for stop in check(medicine, replace(cold, system=system)):
                    if stop.kind != "note" and stop.subject != "system":
                        found[key, stop.kind, stop.subject] = stop.rule
    return found


def test_how_many_stops_and_cautions_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    found = grounds()
    stops = [line for line in found if line[1] == "stop"]
    kinds = {(MEDICINES[key].name, kind, subject) for key, kind, subject in found}
    with capsys.disabled():
        print(
            f"\nStops of dosing: {len(stops)} stops and {len(found) - len(stops)} cautions of "
            f"{len(MEDICINES)} rows; {len(kinds)} when rows of one medicine count once"
        )
    assert len(stops) >= 60
    assert len(kinds) >= 60
    assert all(found.values())


def test_every_danger_cites_where_it_was_read() -> None:
    cited = table("sources")
    for medicine in MEDICINES.values():
        for danger in medicine.dangers:
            assert danger.source in cited, (medicine.key, danger.source)
            assert danger.how in ("read", "read in part", "from memory")
            assert danger.says.endswith(".")


def test_a_danger_needs_all_that_it_names() -> None:
    acid = replace(SAFE, ph=6.0, alkalinity_mg_l=20.0)
    key = "chloramine-t-warmwater"
    assert ("stop", "soft acid water") in against(key, acid)
    assert ("stop", "soft acid water") not in against(key, replace(acid, alkalinity_mg_l=150.0))
    assert ("stop", "soft acid water") not in against(key, replace(acid, ph=6.5))
    assert ("caution", "soft acid water") in against(key, replace(acid, alkalinity_mg_l=None))
    assert ("stop", "soft acid water") in against(key, replace(acid, ph=float("nan")))


@pytest.mark.parametrize("asked", ASKED)
def test_what_is_asked_stops_when_true_cautions_when_unknown(asked: str) -> None:
    groups = frozenset({"goldfish"})
    mine = [m for m in MEDICINES.values() if any(asked in d.asks for d in m.dangers)]
    assert mine
    for medicine in mine:
        [danger] = [d for d in medicine.dangers if asked in d.asks]
        for answer, kind in ((True, danger.kind), (False, ""), (None, "caution")):
            said = dict.fromkeys(danger.asks, True) | {asked: answer}
            known = {k: v for k, v in said.items() if v is not None}
            lines = check(medicine, replace(SAFE, groups=groups, said=known))
            got = {s.kind for s in lines if danger.says in s.sentence}
            assert got == ({kind} if kind else set()), (medicine.key, answer)


def test_a_danger_of_an_unknown_kind_is_refused() -> None:
    row = {"kind": "stop", "subject": "x", "says": "y.", "source": "z", "how": "read"}
    assert from_rows([row]) == (Danger("stop", "x", "y.", "z", "read"),)
    for wrong in ({"kind": "note"}, {"asks": ["the moon"]}):
        with pytest.raises(ValueError, match="not known here"):
            from_rows([row | wrong])


def test_every_bath_says_what_goes_with_it_or_that_its_sources_say_nothing() -> None:
    for medicine in MEDICINES.values():
        if not medicine.in_water:
            continue
        notes = {s.subject: s.sentence for s in check(medicine, SAFE) if s.kind == "note"}
        silent = notes.get("not said", "")
        for subject, words in (
            ("switch off", "what is switched off"),
            ("air", "extra air"),
            ("stay by", "how long to stay by"),
            ("stop at", "signs to stop at"),
            ("trial", "a trial on a few fish"),
            ("water after", "where the water goes"),
            ("test kit", "which test kit it falsifies"),
        ):
            assert (subject in notes) is not (words in silent), (medicine.key, subject)


ABOUT: dict[str, tuple[str, ...]] = {
    "harms_invertebrates": ("invertebrate", "crustacean"),
    "harms_plants": ("plants",),
    "harms_biofilter": ("biofilter",),
    "scaleless_caution": ("scaleless",),
    "elasmobranch_stop": ("elasmobranch",),
    "minimum_alkalinity_mg_l": ("alkalinity <",),
}


@pytest.mark.parametrize(("key", "flag"), list(product(MEDICINES, ABOUT)))
def test_what_the_words_of_a_row_name_is_flagged(key: str, flag: str) -> None:
    """The words came from the sources; the flags were set by hand: they must agree."""
    words = "; ".join(RAW[key].get("avoid", ())).replace("biofilter effect small", "")
    if any(word in words for word in ABOUT[flag]):
        assert RAW[key].get(flag), words


NAMED: dict[str, tuple[dict[str, Any], str, str]] = {
    "copper-fresh": ({"alkalinity_mg_l": 49.9}, "stop", "50 mg/L"),
    "copper-marine": ({"invertebrates": True, "system": "marine"}, "stop", "corals"),
    "formalin-bath": ({"running": frozenset({"potassium permanganate"})}, "stop", "explode"),
    "permanganate-bath": ({"running": frozenset({"formalin"})}, "stop", "explode"),
    "formalin-prolonged": ({"oxygen_mg_l": 4.9}, "stop", "below 5 mg/L"),
    "formalin-bath-salmonids-warm": ({"temperature_c": 22.0}, "caution", "150 µL/L"),
    "formalin-bath-salmonids-cold": ({"temperature_c": 11.0}, "stop", "at most 170"),
    "salt-prolonged": ({"running": frozenset({"zeolite"})}, "stop", "ammonia"),
    "permanganate-prolonged": ({"system": "marine"}, "caution", "for fresh water"),
    "levamisole-bath": ({"scaleless": True}, "caution", "scaleless"),
    "lufenuron": ({"invertebrates": True}, "stop", "shrimp"),
    "peroxide-bath-columnaris": ({"groups": frozenset({"paddlefish"})}, "stop", "paddlefish"),
    "chloramine-t-warmwater": ({"ph": 6.2}, "caution", "soft water"),
    "eugenol-anaesthesia": ({"temperature_c": 14.0}, "caution", "below 15"),
    "tricaine-euthanasia": ({"groups": frozenset({"goldfish"})}, "caution", "second step"),
    "florfenicol-injection": ({"elasmobranch": True}, "caution", "sharks"),
    "metronidazole-feed": ({"food_fish": True}, "stop", "530.41 (nitroimidazoles"),
    "nitrofurans-bath": ({"food_fish": True}, "stop", "530.41 (furazolidone"),
    "enrofloxacin-bath": ({"food_fish": True}, "stop", "530.41 (fluoroquinolones"),
    "levamisole-feed": ({"food_fish": True}, "stop", "barred in feed"),
    "gnrh-analogue-domperidone": ({"food_fish": True}, "stop", "indexed"),
    "thiosulfate": ({"running": frozenset({"potassium permanganate"})}, "stop", "uses it up"),
    "praziquantel-prolonged": ({"food_fish": True}, "stop", "withdrawal"),
    "oxytetracycline-feed": (
        {"temperature_c": 15.0, "groups": frozenset({"catfish"})},
        "stop",
        "16.7",
    ),
}


@pytest.mark.parametrize("key", NAMED)
def test_named_dangers_are_caught_in_words(key: str) -> None:
    facts, kind, words = NAMED[key]
    lines = [s for s in check(MEDICINES[key], replace(at_home(key), **facts)) if s.kind == kind]
    assert any(words in line.sentence for line in lines), lines


@pytest.mark.parametrize("key", MEDICINES)
def test_unknown_facts_give_cautions_and_never_silence(key: str) -> None:
    medicine = MEDICINES[key]
    lines = check(medicine, Recipient())
    stops = {line.subject for line in lines if line.kind == "stop"}
    assert stops == ({"alkalinity"} if medicine.unknown_stops else set())
    unknown = [line for line in lines if line.sentence.startswith("Not known")]
    assert {line.kind for line in unknown if line.subject not in stops} == {"caution"}
    subjects = {line.subject for line in unknown}
    # Of the oxygen that every bath needs a note is enough: it asks to measure.
    subjects |= {line.subject for line in lines if line.sentence.startswith("Measure the oxygen")}
    assert "food fish" in subjects
    assert ("system" in subjects) is (len(medicine.systems) < 3)
    for hazard in HAZARDS:
        for _, subject in expected(RAW[key], hazard) if hazard != "food fish" else ():
            assert subject in subjects, hazard
    assert set(medicine.not_with) <= subjects
    assert {*medicine.stop_groups, *medicine.caution_groups} <= subjects


def test_several_may_be_true_at_once_stops_first() -> None:
    worst = replace(
        SAFE,
        food_fish=True,
        invertebrates=True,
        elasmobranch=True,
        plants=True,
        biofilter=True,
        temperature_c=30.0,
        oxygen_mg_l=2.0,
        running=frozenset({"potassium permanganate"}),
    )
    kinds = [line.kind for line in check(MEDICINES["formalin-bath"], worst)]
    assert kinds == sorted(kinds, key=("stop", "caution", "note").index)
    assert kinds.count("stop") == 5


def test_never_with_is_said_from_both_sides() -> None:
    names = {medicine.name for medicine in MEDICINES.values()}
    for medicine, other in ((m, o) for m in MEDICINES.values() for o in m.not_with):
        if other in names:
            rows = [row for row in MEDICINES.values() if row.name == other and row.in_water]
            in_water = [row for row in rows if row.not_with]
            assert any(medicine.name in row.not_with for row in in_water), (medicine.key, other)


def test_every_line_says_what_it_rests_on() -> None:
    cited = set(table("sources"))
    for medicine in MEDICINES.values():
        for line in check(medicine, Recipient(flowing=True)):
            assert line.rule
            assert line.sentence.endswith((".", "again")), line
            assert set(line.sources) <= cited
            assert line.sources or line.rule in ("from memory", "ARITHMETIC"), line


def test_notes_name_what_goes_with_it() -> None:
    notes = {s.subject: s for s in check(MEDICINES["praziquantel-prolonged"], SAFE)}
    assert notes["switch off"].sentence == "Switch off or take out: UV, ozone, carbon, skimmer."
    assert notes["air"].sentence == "Give extra air."
    sedation = {s.subject for s in check(MEDICINES["tricaine-sedation"], SAFE)}
    assert {"buffer", "people", "from memory"} <= sedation
    assert "controlled" in {s.subject for s in check(MEDICINES["pentobarbital"], SAFE)}


def test_flowing_water_asks_for_feed_in() -> None:
    flowing = replace(SAFE, flowing=True)
    assert against("chloramine-t-salmonids", flowing) == {("caution", "flow")}
    assert against("ceftazidime-injection", flowing) == set()


def test_approved_fish_are_not_cautioned() -> None:
    trout = replace(SAFE, food_fish=True, groups=frozenset({"salmonid"}))
    assert against("tricaine-anaesthesia", trout) == set()
    carp = replace(trout, groups=frozenset({"cyprinid"}))
    assert against("tricaine-anaesthesia", carp) == {("caution", "food fish")}


def test_limits_hold_at_their_edge() -> None:
    def copper(alkalinity: float) -> set[tuple[str, str]]:
        return against("copper-fresh", replace(SAFE, alkalinity_mg_l=alkalinity))

    assert copper(50.0) == set()
    assert copper(49.99) == copper(float("nan")) == {("stop", "alkalinity")}


def test_a_medicine_is_refused_by_exactly_its_status() -> None:
    for medicine in MEDICINES.values():
        assert medicine.never_in_food_fish is (medicine.us_food_fish in NEVER)
        assert (medicine.prohibited is not None) is (medicine.us_food_fish == "prohibited")
        assert isinstance(medicine, Medicine)
        assert all(isinstance(line, Stop) for line in check(medicine, SAFE))
