"""Anaesthesia and euthanasia at the minute: the first moment that counts, and the last."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from core.dosing.anaesthesia import (
    Depth,
    Euthanasia,
    FirstStep,
    SecondStep,
    anaesthetic_bath,
    close,
    minutes_to_stage,
    missing_before_closing,
    stages,
)
from core.dosing.quantities import concentration, strength, water
from core.errors import BadInput, Refusal

START = datetime(2026, 11, 25, 23, 50, tzinfo=UTC)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


DONE = Euthanasia(
    patient="koi",
    consent_of="the owner",
    first=FirstStep("tricaine", "10 g in 25 L", START, at(6)),
    second=SecondStep("pithing", at(36), "the vet"),
    signs_of_death=frozenset({"no opercular movement"}),
    confirmed_by="the vet",
)


def test_a_bath_without_stock_or_buffer_is_the_agent_alone() -> None:
    """75 mg/L in 200 L is 15 g; from a stock of 10 g/L that is 1.5 L, with twice as much buffer."""
    level, tub = concentration(75, "mg/L"), water(200, "L")
    assert str(anaesthetic_bath(level, tub)) == "15 g"
    assert str(anaesthetic_bath(level, tub, strength(10, "g/L"))) == (
        "15 g (1500 mL of stock, in the volume)"
    )
    assert str(anaesthetic_bath(level, tub, None, 2.0)) == "15 g, with 30 g of buffer"


def test_stages_are_numbered_from_one_and_carry_their_source() -> None:
    rows: list[dict[str, object]] = [{"name": n, "signs": f"signs of {n}"} for n in "ab"]
    light, deep = stages(rows, "a scale", "WORK")
    assert (light.number, light.name, light.signs) == (1, "a", "signs of a")
    assert (deep.number, deep.scale, deep.sources) == (2, "a scale", ("WORK",))


def test_minutes_to_a_stage_by_the_clock_over_midnight() -> None:
    log = (Depth(START, 1), Depth(at(12.5), 3), Depth(at(15), 3), Depth(at(20), 5))
    reached = [minutes_to_stage(START, log, stage) for stage in (1, 2, 3, 4, 5, 6)]
    assert reached == [0, 12.5, 12.5, 20, 20, None]
    assert minutes_to_stage(START, (), 1) is None
    with pytest.raises(BadInput) as caught:
        minutes_to_stage(at(0.5), log, 1)
    assert str(caught.value) == "A line of the log is earlier than the start of the bath."


def test_the_second_step_waits_to_the_minute() -> None:
    assert close(DONE, 30) is DONE
    assert close(DONE, 0) is DONE
    late = "31 minutes from the last opercular beat to the second step"
    assert missing_before_closing(DONE, 31) == (late,)
    with pytest.raises(Refusal) as caught:
        close(replace(DONE, consent_of=""), 31)
    assert str(caught.value) == (
        f"This euthanasia can not be closed: missing whose consent, {late}."
    )
    with pytest.raises(BadInput) as wrong:
        close(DONE, -0.5)
    assert str(wrong.value) == "A wait of -0.5 minutes can not be; type for example 30."


def test_a_last_beat_at_the_start_is_possible_and_one_before_it_is_not() -> None:
    first = FirstStep("tricaine", "10 g", START, START)
    second = SecondStep("pithing", at(30), "the vet")
    at_once = replace(DONE, first=first, second=second)
    assert missing_before_closing(at_once, 30) == ()
    before = replace(at_once, first=replace(first, last_opercular_beat=at(-0.1)))
    assert len(missing_before_closing(before, 30)) == 1


def test_an_empty_record_lacks_all_seven_in_their_order() -> None:
    empty = Euthanasia(patient="koi", consent_of=" ")
    assert missing_before_closing(empty, 30) == (
        "whose consent",
        "the first step",
        "the moment of the last opercular beat",
        "the second step",
        "who did the second step",
        "the signs of death",
        "who confirmed death",
    )
    no_method = replace(DONE, second=SecondStep(" ", at(36), " "), confirmed_by=" ")
    assert missing_before_closing(no_method, 30) == (
        "the second step",
        "who did the second step",
        "who confirmed death",
    )
