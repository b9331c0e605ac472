"""Every cross-reference of the clinical tables exists, letters are unique, labels fit."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest

from core.assessment.catalogue import LIKELIHOODS, URGENCIES, Clue, Complaint, ProblemKind, Test
from core.assessment.history import UNKNOWN_LETTER, Question, Sign, WalkItem
from core.catalogue.load import citations, table
from core.microscopy.catalogue import Choice, Organism, Stain, Tissue

SIGNS = {k: Sign.from_row(k, r) for k, r in table("signs")["sign"].items()}
WALK = {k: WalkItem.from_row(k, r) for k, r in table("signs")["walk"].items()}
QUESTIONS = {k: Question.from_row(k, r) for k, r in table("questions")["question"].items()}
ORGANISMS = {k: Organism.from_row(k, r) for k, r in table("organisms")["organism"].items()}
TISSUES = {k: Tissue.from_row(k, r) for k, r in table("tissues")["tissue"].items()}
REASONS = {k: Choice.from_row(k, r) for k, r in table("tissues")["reason"].items()}
STAINS = {k: Stain.from_row(k, r) for k, r in table("stains")["stain"].items()}
LESIONS = {k: Choice.from_row(k, r) for k, r in table("lesions")["lesion"].items()}
PLACES = {k: Choice.from_row(k, r) for k, r in table("lesions")["place"].items()}
KINDS = {k: ProblemKind.from_row(k, r) for k, r in table("problems")["problem"].items()}
TESTS = {k: Test.from_row(k, r) for k, r in table("problems")["test"].items()}
COMPLAINTS = {k: Complaint.from_row(k, r) for k, r in table("complaints")["complaint"].items()}
SUBJECTS = {f"{a}.{b}" for a, rows in table("problems")["subject"].items() for b in rows}

FACTS = (
    SUBJECTS
    | {f"sign.{k}" for k in SIGNS}
    | {f"walk.{k}" for k in WALK}
    | {f"history.{k}" for k in QUESTIONS}
    | {f"found.{k}" for k in ORGANISMS}
    | {f"slide.{k}" for k in TISSUES}
    | {f"lesion.{k}" for k in LESIONS}
)
STATES = {
    "sign": {"seen", "not seen"},
    "found": {"seen", "not seen"},
    "lesion": {"seen", "not seen"},
    "slide": {"clear", "abnormal"},
    "walk": {"ok", "problem"},
    "water": {"good", "watch", "act"},
    "fish": {"yes", "no", "high"},
    "feeding": {"below", "inside", "above"},
    "lab": {"positive", "negative"},
}


def unknown(named: Iterable[str], known: Iterable[str]) -> set[str]:
    return set(named) - set(known)


def test_organisms_name_what_exists() -> None:
    scales = table("organisms")["scale"]
    for organism in ORGANISMS.values():
        assert not unknown(organism.tissues, TISSUES), organism.key
        assert not unknown([*organism.speaks_for, *organism.speaks_against], KINDS), organism.key
        assert not unknown(organism.like, ORGANISMS), organism.key
        assert organism.scale in scales
        assert organism.key not in organism.like
        assert organism.water in ("fresh", "sea", "both")
        assert organism.decide, organism.key


def test_hatching_rows_belong_to_organisms() -> None:
    assert not unknown(table("organisms")["hatch"], ORGANISMS)


def test_organisms_and_problems_tell_the_same_story() -> None:
    """What a finding says of a problem is what the problem says of the finding."""

    def found(kind: str, clues: tuple[Clue, ...]) -> set[tuple[str, str]]:
        return {
            (clue.fact.removeprefix("found."), kind)
            for clue in clues
            if clue.fact.startswith("found.")
        }

    says_for = {(o.key, kind) for o in ORGANISMS.values() for kind in o.speaks_for}
    says_against = {(o.key, kind) for o in ORGANISMS.values() for kind in o.speaks_against}
    assert says_for == set().union(*(found(k.key, k.clues_for) for k in KINDS.values()))
    assert says_against == set().union(*(found(k.key, k.clues_against) for k in KINDS.values()))


def test_every_organism_is_evidence_for_some_problem() -> None:
    mute = [o.key for o in ORGANISMS.values() if not o.speaks_for]
    assert mute == ["melanomacrophages", "guanine_crystals", "air_bubbles"]


def test_problems_name_facts_states_and_tests_that_exist() -> None:
    for kind in KINDS.values():
        assert kind.urgency in URGENCIES
        assert kind.clues_for, kind.key
        assert kind.tests, kind.key
        assert not unknown(kind.tests, TESTS), kind.key
        for clue in (*kind.clues_for, *kind.clues_against):
            assert clue.fact in FACTS, f"{kind.key}: {clue.fact}"
            assert bool(clue.is_) != (clue.low is not None or clue.high is not None)
            if clue.is_:
                assert clue.is_ in allowed(clue.fact), f"{kind.key}: {clue.fact}={clue.is_}"


def allowed(fact: str) -> set[str]:
    family, key = fact.split(".", 1)
    if family != "history":
        return STATES[family]
    question = QUESTIONS[key]
    return {"yes", "no"} if question.kind == "yes_no" else {c.name for c in question.choices}


def test_no_clue_stands_for_and_against_alike() -> None:
    for kind in KINDS.values():
        for_ = {(c.fact, c.is_, c.low, c.high) for c in kind.clues_for}
        assert not for_ & {(c.fact, c.is_, c.low, c.high) for c in kind.clues_against}, kind.key


def test_tests_record_facts_that_exist() -> None:
    for test in TESTS.values():
        assert test.answers
        assert not unknown(test.answers, FACTS), test.key


def test_complaints_name_what_exists() -> None:
    for complaint in COMPLAINTS.values():
        assert complaint.urgency in URGENCIES
        assert not unknown(complaint.slides, TISSUES), complaint.key
        assert not unknown(complaint.tests, TESTS), complaint.key
        assert not unknown([d.problem for d in complaint.differentials], KINDS), complaint.key
        order = [LIKELIHOODS.index(d.likelihood) for d in complaint.differentials]
        assert order.count(0) <= 1, f"{complaint.key} has two that are very likely"


def test_every_listed_disease_stops_movement_and_says_so() -> None:
    listed = {k for k, kind in KINDS.items() if kind.stops_movement}
    assert listed == {"khv", "svc", "eus"}
    assert all("law of the place" in KINDS[k].notifiable for k in listed)


def test_mycobacteria_carry_their_caution_wherever_they_are_named() -> None:
    assert "Gloves" in KINDS["mycobacteriosis"].zoonotic
    for key in ("acid_fast_rods", "granuloma"):
        assert "gloves" in ORGANISMS[key].zoonotic


@pytest.mark.parametrize(
    "rows",
    [TISSUES, REASONS, STAINS, LESIONS, PLACES, WALK, COMPLAINTS],
    ids=["tissues", "reasons", "stains", "lesions", "places", "walk", "complaints"],
)
def test_letters_are_unique_in_their_list(rows: dict[str, Any]) -> None:
    letters = [row.letter for row in rows.values()]
    assert all(len(letter) == 1 for letter in letters)
    assert len(set(letters)) == len(letters)


def test_letters_of_signs_are_unique_in_their_part() -> None:
    keys = [(sign.part, sign.letter) for sign in SIGNS.values()]
    assert len(set(keys)) == len(keys)
    assert all(set(sign.levels) <= {"fish", "group", "system"} for sign in SIGNS.values())


def test_choices_never_use_the_letter_of_unknown() -> None:
    for question in QUESTIONS.values():
        letters = [choice.letter for choice in question.choices]
        assert UNKNOWN_LETTER not in letters
        assert len(set(letters)) == len(letters)
        assert bool(letters) == (question.kind == "choice")


def test_questions_are_well_made() -> None:
    for question in QUESTIONS.values():
        assert question.kind in ("yes_no", "choice", "number", "date", "words")
        assert bool(question.quantity) == (question.kind == "number")
        assert question.where
        assert not unknown(question.where, {"pond", "tank", "marine", "farm"})


@pytest.mark.parametrize(
    "rows", [QUESTIONS, SIGNS, WALK, COMPLAINTS], ids=["questions", "signs", "walk", "complaints"]
)
def test_short_labels_fit_a_row(rows: dict[str, Any]) -> None:
    long = [row.label for row in rows.values() if len(row.label) > 34]
    assert not long


@pytest.mark.parametrize(
    "rows",
    [ORGANISMS, TISSUES, STAINS, REASONS, LESIONS, PLACES, KINDS, TESTS],
    ids=["organisms", "tissues", "stains", "reasons", "lesions", "places", "problems", "tests"],
)
def test_names_fit_a_line_and_are_unique(rows: dict[str, Any]) -> None:
    names = [row.name for row in rows.values()]
    assert not [name for name in names if len(name) > 60]
    assert len(set(names)) == len(names)


def sources(value: object) -> Iterable[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from [inner] if key == "source" and isinstance(inner, str) else sources(inner)


@pytest.mark.parametrize(
    "name",
    ["organisms", "stains", "tissues", "problems", "complaints", "rechecks", "prices",
     "visit_types", "ranks"],
)  # fmt: skip
def test_every_source_is_cited(name: str) -> None:
    named = set(sources(table(name)))
    assert named
    assert not named - set(citations())
