"""A danger of several facts: each at its edge, unknown and absent, and food fish in words."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from core.dosing.danger_facts import met
from core.dosing.dangers import ASKED, Danger, from_rows
from core.dosing.medicines import Medicine, from_row
from core.dosing.recipient import Recipient
from core.dosing.stops import check

PLAIN = Danger("stop", "heat", "it burns.", "WORK", "read")
CONDITIONS: list[tuple[dict[str, Any], str, Any, Any, str]] = [
    ({"groups": ("koi", "eel")}, "groups", {"eel"}, {"tench"}, "whether there are koi or eel"),
    ({"systems": ("marine",)}, "system", "marine", "fresh", "whether this is fresh or sea water"),
    ({"food_fish": True}, "food_fish", True, False, "whether these are food fish"),
    ({"above_c": 20.0}, "temperature_c", 20.1, 20.0, "the temperature"),
    ({"below_c": 10.0}, "temperature_c", 9.9, 10.0, "the temperature"),
    ({"below_ph": 6.5}, "ph", 6.4, 6.5, "the pH"),
    ({"below_alkalinity_mg_l": 50.0}, "alkalinity_mg_l", 49.9, 50.0, "the alkalinity"),
]
BARE: dict[str, Any] = {
    "name": "balm",
    "form": "powder",
    "routes": ["oral"],
    "indication": "itch",
    "dose_high": 2.0,
    "unit": "mg/kg",
    "us_food_fish": "approved",
    "systems": ["fresh", "brackish", "marine"],
    "sources": ["WORK"],
    "known": {"dose": "read", "us_food_fish": "read", "withdrawal": "read"},
}
BALM = from_row("balm", BARE)
FOOD = Recipient(food_fish=True)


def fact(value: Any) -> Any:
    return frozenset(value) if isinstance(value, set) else value


@pytest.mark.parametrize(("condition", "name", "there", "away", "words"), CONDITIONS)
def test_each_fact_there_away_and_unknown(
    condition: dict[str, Any], name: str, there: Any, away: Any, words: str
) -> None:
    danger = replace(PLAIN, **condition)
    assert met(danger, Recipient(**{name: fact(there)})) == (True, ())
    assert met(danger, Recipient(**{name: fact(away)})) == (False, ())
    assert met(danger, Recipient()) == (None, (words,))
    if isinstance(there, float):
        assert met(danger, Recipient(**{name: float("nan")})) == (True, ())


def test_several_facts_must_all_be_true_and_one_false_is_enough() -> None:
    danger = replace(PLAIN, groups=("koi",), above_c=20.0, asks=("no air", "bloom"))
    koi = Recipient(groups=frozenset({"koi", "eel"}))
    unknown = ("the temperature", f"whether {ASKED['no air']}", f"whether {ASKED['bloom']}")
    assert met(danger, koi) == (None, unknown)
    asked = replace(koi, temperature_c=21.0, said={"no air": True, "bloom": True})
    assert met(danger, asked) == (True, ())
    assert met(danger, replace(asked, said={"no air": True, "bloom": False})) == (False, ())
    assert met(danger, replace(koi, temperature_c=20.0)) == (False, ())
    assert met(PLAIN, Recipient()) == (True, ())


def test_a_danger_between_two_temperatures_needs_both() -> None:
    danger = replace(PLAIN, above_c=10.0, below_c=20.0)
    found = [met(danger, Recipient(temperature_c=celsius))[0] for celsius in (9, 10, 15, 20, 21)]
    assert found == [False, False, True, False, False]
    assert met(danger, Recipient()) == (None, ("the temperature",))


def test_the_line_of_a_danger_there_and_of_one_that_nobody_can_rule_out() -> None:
    danger = replace(PLAIN, above_c=20.0, below_ph=6.5)
    hot = Recipient(food_fish=False, temperature_c=21.0)
    row = replace(BALM, dangers=(danger,))
    [unknown] = [s for s in check(row, hot) if s.subject == "heat"]
    assert (unknown.kind, unknown.sentence) == ("caution", "Not known the pH: it burns.")
    [there] = [s for s in check(row, replace(hot, ph=6.0)) if s.subject == "heat"]
    assert (there.kind, there.sentence, there.rule) == ("stop", "it burns.", "read")
    assert there.sources == ("WORK",)
    computed = replace(row, dangers=(replace(danger, how="computed"),))
    [line] = [s for s in check(computed, replace(hot, ph=6.0)) if s.subject == "heat"]
    assert (line.rule, line.sources) == ("computed", ("WORK",))
    memory = replace(row, dangers=(replace(danger, how="".join(["from ", "memory"])),))
    [line] = [s for s in check(memory, replace(hot, ph=6.0)) if s.subject == "heat"]
    assert (line.rule, line.sources) == ("from memory", ())
    both = check(row, replace(hot, temperature_c=None))
    assert "Not known the temperature or the pH: it burns." in [s.sentence for s in both]


def test_rows_become_dangers_or_are_refused() -> None:
    row: dict[str, Any] = {
        "kind": "caution",
        "subject": "heat",
        "says": "it burns.",
        "source": "WORK",
        "how": "read",
        "groups": ["koi"],
        "asks": ["bloom", "no air"],
    }
    [danger] = from_rows([row])
    assert (danger.groups, danger.asks, danger.food_fish) == (("koi",), ("bloom", "no air"), False)
    for wrong in ({"kind": "note"}, {"asks": ["bloom", "a full moon"]}):
        with pytest.raises(ValueError, match=r"heat: .* is not known here"):
            from_rows([row, row | wrong])


def food_lines(medicine: Medicine, who: Recipient) -> list[tuple[str, str, str]]:
    lines = check(medicine, who)
    return [(s.kind, s.subject, s.sentence) for s in lines if s.sentence.startswith("Food fish: ")]


def test_food_fish_and_a_withdrawal_on_record_or_not() -> None:
    unknown = "the withdrawal of balm is not known; the veterinarian sets it."
    assert food_lines(BALM, FOOD) == [("stop", "withdrawal", f"Food fish: {unknown}")]
    for days in (0, 21):
        said = f"Food fish: withdrawal {days} days, counted from the last time it is given."
        row = replace(BALM, withdrawal_days=days)
        assert food_lines(row, FOOD) == [("note", "withdrawal", said)]
        assert food_lines(row, replace(FOOD, food_fish=False)) == []


@pytest.mark.parametrize("status", ["extra-label", "low regulatory priority", "not approved"])
def test_food_fish_and_a_medicine_that_is_not_approved(status: str) -> None:
    row = replace(BALM, us_food_fish=status, withdrawal_days=1)
    assert food_lines(row, FOOD)[0] == (
        "caution",
        "food fish",
        f"Food fish: balm is listed as {status} in the United States.",
    )
    unknown = [s for s in check(row, Recipient()) if s.subject == "food fish"]
    assert [(s.kind, s.sentence) for s in unknown] == [
        (
            "caution",
            "Not known whether these are food fish: "
            f"balm is listed as {status} in the United States.",
        )
    ]


@pytest.mark.parametrize("status", ["prohibited", "not for food fish", "barred in feed"])
def test_food_fish_and_a_medicine_that_is_never_given_to_them(status: str) -> None:
    row = replace(BALM, us_food_fish=status)
    assert food_lines(row, FOOD) == [
        ("stop", "food fish", f"Food fish: balm is listed as {status} in the United States.")
    ]


DIRECTIVE = " ".join(["approved", "with feed directive"])
ON_DIRECTIVE = "Food fish: in feed on the directive of a veterinarian only."


def test_feed_on_a_directive_says_so_and_nothing_else_does() -> None:
    for status, said in ((DIRECTIVE, True), ("approved", False), ("extra-label", False)):
        row = replace(BALM, us_food_fish=status, withdrawal_days=1)
        lines = food_lines(row, FOOD)
        assert (("note", "food fish", ON_DIRECTIVE) in lines) is said


@pytest.mark.parametrize("status", ["approved", "extra-label", "low regulatory priority"])
def test_fish_that_the_label_does_not_name(status: str) -> None:
    """Outside feed it is a caution, and the days found for other fish are a note."""
    row = replace(BALM, us_food_fish=status, withdrawal_days=9, approved_groups=("koi", "eel"))
    lines = food_lines(row, replace(FOOD, groups=frozenset({"tench"})))
    only = "9 days of withdrawal were found for koi, eel only"
    assert ("caution", "food fish", "Food fish: approved only for koi, eel.") in lines
    assert (
        "note",
        "withdrawal",
        f"Food fish: {only}; the veterinarian sets as many or more.",
    ) in lines
    named = food_lines(row, replace(FOOD, groups=frozenset({"tench", "eel"})))
    assert not [line for line in named if "only" in line[2]]


def test_a_withdrawal_in_days_in_degree_days_and_in_both() -> None:
    said = {
        "9 days": {"withdrawal_days": 9},
        "150 degree-days": {"withdrawal_degree_days": 150.0},
        "9 days or 150 degree-days, whichever is longer": {
            "withdrawal_days": 9,
            "withdrawal_degree_days": 150.0,
        },
    }
    for words, columns in said.items():
        assert food_lines(replace(BALM, **columns), FOOD) == [
            (
                "note",
                "withdrawal",
                f"Food fish: withdrawal {words}, counted from the last time it is given.",
            )
        ]
