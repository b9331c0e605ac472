from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue.load import table
from core.errors import BadInput, Refusal
from core.microscopy.catalogue import Organism, Scale, Stain
from core.microscopy.samples import (
    Sample,
    SampleNumber,
    Sent,
    advance,
    next_number,
    read_number,
)
from core.microscopy.slides import Finding, Slide, check_magnification, speaks

NOW = datetime(2026, 11, 25, 13, tzinfo=UTC)
ORGANISMS = {k: Organism.from_row(k, r) for k, r in table("organisms")["organism"].items()}
SCALES = {k: Scale.from_row(k, r) for k, r in table("organisms")["scale"].items()}
NUMBERS = st.builds(
    SampleNumber, st.sampled_from(["A", "B", "AB"]), st.integers(1, 99), st.integers(1, 999)
)


@given(NUMBERS)
def test_a_number_reads_back(number: SampleNumber) -> None:
    assert read_number(str(number).lower()) == number


@given(st.lists(NUMBERS, max_size=30), st.sampled_from(["A", "B"]), st.integers(1, 9))
def test_the_next_number_is_free(taken: list[SampleNumber], truck: str, visit: int) -> None:
    full = any((n.truck, n.visit, n.count) == (truck, visit, 999) for n in taken)
    if not full:
        assert next_number(truck, visit, taken) not in taken


def test_a_struck_number_is_not_given_again() -> None:
    taken = [SampleNumber("A", 3, 1), SampleNumber("A", 3, 2), SampleNumber("B", 3, 7)]
    assert str(next_number("A", 3, taken)) == "A3-3"
    assert str(next_number("A", 4, taken)) == "A4-1"


@pytest.mark.parametrize("text", ["A3", "3-1", "A0-1", "A3-0", "A3-1x", "", "Å3-1"])
def test_other_texts_are_no_number(text: str) -> None:
    with pytest.raises(BadInput, match="A3-2"):
        read_number(text)


def test_mounts_are_lettered_and_end_at_z() -> None:
    number = SampleNumber("A", 3, 2)
    assert [number.slide(n) for n in (0, 1, 25)] == ["A3-2a", "A3-2b", "A3-2z"]
    with pytest.raises(BadInput):
        number.slide(26)


def test_a_sample_is_got_or_explained_never_both_or_neither() -> None:
    number = SampleNumber("A", 2, 3)
    assert Sample(number, "tetra", "gill", taken=NOW).got
    assert not Sample(number, "tetra", "faeces", why_not="nothing passed").got
    for taken, why in ((None, ""), (None, "  "), (NOW, "nothing passed")):
        with pytest.raises(BadInput, match="A2-3"):
            Sample(number, "tetra", "faeces", taken=taken, why_not=why)


@pytest.mark.parametrize(("now", "to"), [(a, b) for a in Sent for b in Sent])
def test_a_sent_sample_never_goes_back_and_the_owner_hears_only_results(
    now: Sent, to: Sent
) -> None:
    allowed = to > now and not (to is Sent.OWNER_TOLD and now < Sent.PARTIAL)
    if allowed:
        assert advance(now, to) is to
    else:
        with pytest.raises(Refusal):
            advance(now, to)


def test_a_finding_speaks_with_its_grade_and_cautions() -> None:
    got = speaks(Finding("gill_fluke", (4, 3, 0)), ORGANISMS, SCALES)
    assert got.problems_for == ("gill_flukes", "ulcer_bacteria")
    assert got.grade is not None
    assert got.grade.grade == 2
    assert got.like == ("skin_fluke",)
    zoonotic = speaks(Finding("acid_fast_rods"), ORGANISMS, SCALES)
    assert zoonotic.grade is None
    assert any("gloves" in text for text in zoonotic.cautions)


def test_none_counted_speaks_for_nothing() -> None:
    got = speaks(Finding("acid_fast_rods", (0, 0)), ORGANISMS, SCALES)
    assert (got.problems_for, got.problems_against) == ((), ())
    assert not any("gloves" in text for text in got.cautions)


def test_an_artefact_speaks_for_nothing_and_says_what_decides() -> None:
    got = speaks(Finding("guanine_crystals"), ORGANISMS, SCALES)
    assert got.problems_for == ()
    assert "acid_fast_rods" in got.like
    assert got.decide


def test_what_the_catalogue_does_not_know_is_refused() -> None:
    with pytest.raises(BadInput, match="sea_serpent"):
        speaks(Finding("sea_serpent"), ORGANISMS, SCALES)


def test_nothing_seen_is_a_finding_but_not_while_a_stain_is_awaited() -> None:
    assert Slide("A3-2a", "gill", "wet_mount", 100, 20).clear
    assert not Slide("A3-2a", "kidney", "acid_fast", 1000, 20, awaited="stain").clear
    assert not Slide("A3-2a", "gill", "wet_mount", 100, 20, (Finding("ich"),)).clear
    with pytest.raises(BadInput):
        Slide("A3-2a", "gill", "wet_mount", 100, 0)


def test_a_stain_is_read_at_its_magnifications() -> None:
    stain = Stain.from_row("acid_fast", table("stains")["stain"]["acid_fast"])
    check_magnification(Slide("A3-2a", "kidney", "acid_fast", 1000, 20), stain)
    with pytest.raises(BadInput, match="1000x"):
        check_magnification(Slide("A3-2a", "kidney", "acid_fast", 40, 20), stain)
