"""The slides: grades from counts, nothing abnormal as a finding, cautions, and tests sent out."""

from __future__ import annotations

from datetime import timedelta

import pytest

from core.errors import BadInput, Refusal
from core.practice import biopsy, biopsy_slides, biopsy_words, in_hand, samples, sent_tests, sign
from core.practice.keep import Act, mark_stage
from core.practice.sent_tests import Sending
from core.records import read, tables
from core.records.journal import Closed
from core.records.tables import Finding, Practice, Sample, SentTest, Slide
from tests.conftest import MOMENT
from tests.small import Small


@pytest.fixture
def vet(practice: Small) -> Act:
    return Act(practice.vet, MOMENT)


@pytest.fixture
def gill(practice: Small, vet: Act) -> str:
    """Give the id of a gill sample of the first fish."""
    fish = in_hand.add_fish(vet, practice.visit, practice.system, "fish 1", 1, practice.group)
    samples.got(vet, fish, "gill")
    return read.find(Sample, handling=fish)[0].id


def lines(practice: Small) -> tuple[biopsy.SampleLine, ...]:
    return biopsy.view(practice.visit, practice.system).samples


def test_a3_flukes_are_graded_from_their_counts(practice: Small, vet: Act, gill: str) -> None:
    slide = biopsy_slides.add_slide(vet, gill, "wet_mount", 40)
    finding = biopsy_slides.add_finding(vet, slide, "gill_fluke", "4, 3, 0")
    row = read.one(Finding, finding)
    assert row.counts == "4 3 0"
    assert row.grade.startswith("2+ (7 in 3")
    assert read.one(Slide, slide).fields == 3
    line = lines(practice)[0].slides[0]
    assert line.name == "A1-1a"
    said = biopsy_words.grade_line(line.found[0])
    assert "borderline" in said
    assert "Rule: mean per snip or scrape at 40x" in said
    worth = "\n".join(biopsy_words.worth(line.found[0], ""))
    assert "Speaks for: " in worth
    assert "gill_flukes" not in worth
    assert "Would decide: Eyespots" in worth
    assert "Source: Zhang" in worth


@pytest.mark.parametrize("text", ["3 0 x", "-1 2", "1.5", "٣", "1234567", "3e2"])
def test_only_whole_numbers_are_counts(vet: Act, gill: str, text: str) -> None:
    slide = biopsy_slides.add_slide(vet, gill, "wet_mount")
    with pytest.raises(BadInput, match="for example 4 3 0"):
        biopsy_slides.add_finding(vet, slide, "gill_fluke", text)
    assert read.find(Finding, slide=slide) == ()


def test_one_organism_that_always_counts_is_act(practice: Small, vet: Act, gill: str) -> None:
    slide = biopsy_slides.add_slide(vet, gill, "wet_mount")
    biopsy_slides.add_finding(vet, slide, "ich", "0 0 1")
    said = biopsy_words.grade_line(lines(practice)[0].slides[0].found[0])
    assert "Any = act" in said
    assert said.startswith("1+ (1 in 3")


def test_nothing_abnormal_is_a_finding(practice: Small, vet: Act, gill: str) -> None:
    slide = biopsy_slides.normal_slide(vet, gill)
    assert read.one(Slide, slide).normal
    line = lines(practice)[0]
    assert line.slides[0].state == "nothing abnormal"
    said = biopsy_words.clean_worth(line.slides[0], line.tissue.clean_means)
    assert said.startswith("Nothing abnormal in 1 field at 40x.")
    assert "does not remove it" in said
    biopsy_slides.add_finding(vet, slide, "trichodina")
    assert not read.one(Slide, slide).normal
    with pytest.raises(Refusal, match="Trichodina"):
        biopsy_slides.nothing_abnormal(vet, slide)


def test_a_new_slide_is_not_read_yet_and_takes_over_the_last_ones_settings(
    practice: Small, vet: Act, gill: str
) -> None:
    first = biopsy_slides.add_slide(vet, gill, "wet_mount", 400, 12)
    second = read.one(Slide, biopsy_slides.add_slide(vet, gill, "wet_mount"))
    assert (second.magnification, second.fields) == (400, 12)
    assert [s.name for s in lines(practice)[0].slides] == ["A1-1b", "A1-1a"]
    assert lines(practice)[0].slides[0].state == "not read yet"
    biopsy_slides.strike_slide(vet, first, "cover slip broke")
    assert [s.name for s in lines(practice)[0].slides] == ["A1-1b"]


def test_a_stain_is_read_at_its_own_magnifications(vet: Act, gill: str) -> None:
    with pytest.raises(BadInput, match="1000x"):
        biopsy_slides.add_slide(vet, gill, "gram", 40)


def test_fields_are_never_fewer_than_counts(vet: Act, gill: str) -> None:
    slide = biopsy_slides.add_slide(vet, gill, "wet_mount", 40, 20)
    biopsy_slides.add_finding(vet, slide, "gill_fluke", "4 3 0")
    with pytest.raises(BadInput, match="3 fields were counted"):
        biopsy_slides.set_slide(vet, slide, fields=2)
    biopsy_slides.set_slide(vet, slide, fields=5)
    assert read.one(Slide, slide).fields == 5


def test_what_is_zoonotic_or_listed_is_said_with_whom_to_ring(
    practice: Small, vet: Act, gill: str
) -> None:
    slide = biopsy_slides.add_slide(vet, gill, "wet_mount")
    for key in ("gill_necrosis", "motile_rods"):
        biopsy_slides.add_finding(vet, slide, key)
    rods, necrosis = lines(practice)[0].slides[0].found
    assert any("gloves" in line for line in biopsy_words.worth(rods, "the district office"))
    said = "\n".join(biopsy_words.worth(necrosis, "the district office"))
    assert "Who to ring: the district office." in said
    assert "no authority is entered" in "\n".join(biopsy_words.worth(necrosis, ""))
    assert read.find(Practice)[0].authority == ""


def test_a_finding_of_none_seen_speaks_for_nothing(practice: Small, vet: Act, gill: str) -> None:
    slide = biopsy_slides.add_slide(vet, gill, "wet_mount")
    biopsy_slides.add_finding(vet, slide, "gill_fluke", "0")
    said = "\n".join(biopsy_words.worth(lines(practice)[0].slides[0].found[0], ""))
    assert "Speaks for" not in said
    assert "None seen in 1" in said


def test_a_sample_not_got_has_no_slide(practice: Small, vet: Act, gill: str) -> None:
    fish = read.one(Sample, gill).handling
    assert fish is not None
    samples.not_got(vet, fish, "faeces", "nothing passed")
    row = read.first(Sample, handling=fish, tissue="faeces")
    assert row is not None
    with pytest.raises(Refusal, match="not got"):
        biopsy_slides.add_slide(vet, row.id, "wet_mount")
    assert biopsy.view(practice.visit, practice.system).not_got == (
        ("fish 1, koi", "Faeces", "nothing passed"),
    )


def test_a_sample_with_slides_stays_got(vet: Act, gill: str) -> None:
    biopsy_slides.add_slide(vet, gill, "wet_mount")
    fish = read.one(Sample, gill).handling
    assert fish is not None
    with pytest.raises(Refusal, match="has slides"):
        samples.not_got(vet, fish, "gill", "lost")


def test_a_result_comes_after_the_record_is_signed(practice: Small, vet: Act, gill: str) -> None:
    due = MOMENT.date() + timedelta(days=5)
    sending = Sending("PCR", "koi herpesvirus", gill, "state laboratory", due)
    test = sent_tests.send(vet, practice.visit, practice.system, sending)
    assert read.one(SentTest, test).name.split()[0].lower() == "pcr"
    for stage in sign.WALKED:
        mark_stage(vet, practice.visit, stage, "done")
    sign.sign(vet, practice.visit)
    with pytest.raises(Closed):
        biopsy_slides.normal_slide(vet, gill)
    after = Act(practice.vet, MOMENT + timedelta(days=5))
    sent_tests.enter_result(after, test, "detected")
    line = sent_tests.awaited(practice.visit)[0]
    assert (line.sample, line.results[0].value, line.late) == ("A1-1", "detected", False)
    assert read.find(tables.TestResult, test=test)[0].at == after.at


def test_a_test_is_not_due_before_today(practice: Small, vet: Act) -> None:
    past = MOMENT.date() - timedelta(days=1)
    with pytest.raises(BadInput, match="before today"):
        sent_tests.send(vet, practice.visit, practice.system, Sending("culture", due=past))
    with pytest.raises(BadInput, match="no kind"):
        sent_tests.send(vet, practice.visit, practice.system, Sending("guess"))
