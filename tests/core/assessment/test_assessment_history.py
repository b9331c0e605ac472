from __future__ import annotations

import pytest

from core.assessment.history import Answer, Question, Said, answer, asked_for, letters
from core.catalogue.load import table
from core.errors import BadInput

QUESTIONS = {k: Question.from_row(k, r) for k, r in table("questions")["question"].items()}


def test_value_no_unknown_and_not_asked_are_four_things() -> None:
    question = QUESTIONS["new_fish"]
    answers = [answer(question, key) for key in "ynu"] + [Answer("new_fish")]
    assert [a.said for a in answers] == [Said.VALUE, Said.NO, Said.UNKNOWN, Said.NOT_ASKED]
    assert [a.words for a in answers] == ["yes", "no", "unknown", "not asked"]
    assert len(set(answers)) == 4


@pytest.mark.parametrize(
    ("question", "letter", "words"),
    [("hour", "d", "dawn"), ("who", "A", "all"), ("size_first", "n", "no difference")],
)
def test_letters_choose(question: str, letter: str, words: str) -> None:
    assert answer(QUESTIONS[question], letter).words == words


def test_a_letter_that_answers_nothing_names_those_that_do() -> None:
    with pytest.raises(BadInput, match="y yes, n no, u unknown"):
        answer(QUESTIONS["new_fish"], "x")
    assert letters(QUESTIONS["course"]) == "w worse, s the same, b better, u unknown"


@pytest.mark.parametrize(
    ("said", "value"), [(Said.VALUE, " "), (Said.NO, "x"), (Said.NOT_ASKED, "x")]
)
def test_an_answer_is_one_thing(said: Said, value: str) -> None:
    with pytest.raises(BadInput):
        Answer("new_fish", said, value)


def test_each_kind_of_system_is_asked_its_own() -> None:
    farm = {q.key for q in asked_for(QUESTIONS.values(), "farm")}
    tank = {q.key for q in asked_for(QUESTIONS.values(), "tank")}
    assert "market_date" in farm - tank
    assert "heater_fault" in tank - farm
    assert asked_for(QUESTIONS.values(), "pond")[0].group == "why now"
