"""What is drawn of a volume: to the mark, on the syringe chosen, diluted or as it is."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.dosing.kinds import ProductVolume
from core.dosing.quantities import strength
from core.errors import BadInput, Refusal
from core.practice import doses, shelf, stock_log
from core.practice.dose_drawn import drawn
from core.practice.dose_parts import Ask
from core.practice.giving_context import syringes
from core.practice.keep import figures
from core.practice.label_paper import quantity
from core.practice.medicines import catalogue
from core.practice.shelf import NewProduct, Received
from core.practice.treatment_said import amount_words, each_words
from core.practice.treatment_words import sentences, working_text
from core.practice.treatments import Order, order_treatment, prepare
from core.records import read
from core.records.tables import Treatment
from tests.practice.plan_cases import Case, D, case

HELD = strength(100, "mg/mL")


def test_it_is_drawn_to_the_nearest_mark_of_the_syringe_that_was_chosen() -> None:
    got = drawn(ProductVolume(0.6314, "mL"), HELD, "3 mL syringe")
    assert str(got.amount) == "0.6 mL"
    assert got.said[0].startswith("Draw 0.6 mL on 3 mL syringe, marks every 0.1 mL")
    assert str(drawn(ProductVolume(0.6314, "mL"), HELD).amount) == "0.63 mL"


def test_under_five_marks_it_has_to_be_said_whether_it_is_diluted() -> None:
    volume = ProductVolume(0.0476, "mL")
    with pytest.raises(Refusal, match=r"4\.8 marks .* Dilute 1 in 4: 0\.1 mL .* 0\.3 mL") as error:
        drawn(volume, HELD)
    assert "Or undiluted: 0.05 mL on 0.3 mL insulin syringe, half units" in error.value.sentence
    diluted = drawn(volume, HELD, diluted=True)
    assert (str(diluted.amount), diluted.warn) == ("0.19 mL", "")
    as_it_is = drawn(volume, HELD, diluted=False)
    assert str(as_it_is.amount) == "0.05 mL"
    assert as_it_is.warn == "0.0476 mL is only 4.8 marks of the 1 mL syringe."


def test_less_than_half_a_mark_is_never_drawn_as_nothing() -> None:
    with pytest.raises(Refusal, match="under half a mark"):
        drawn(ProductVolume(0.004, "mL"), HELD, diluted=False)


def test_a_product_in_units_is_not_diluted_here_but_warned_of() -> None:
    got = drawn(ProductVolume(0.03, "mL"), strength(1000, "IU/mL"))
    assert (got.thinner, got.warn) == (None, "0.03 mL is only 3.0 marks of the 1 mL syringe.")


@given(volume=st.floats(0.002, 18.0), tool=st.sampled_from(syringes()))
def test_what_is_injected_holds_what_was_wanted_within_half_a_mark(
    volume: float, tool: object
) -> None:
    name = getattr(tool, "name", "")
    try:
        got = drawn(ProductVolume(volume, "mL"), HELD, name, diluted=True)
    except Refusal:
        return
    parts = got.thinner.factor if got.thinner else 1
    marks = Decimal(repr(got.drawn.drawn_ml)) / Decimal(repr(got.drawn.syringe.graduation_ml))
    assert marks == marks.to_integral_value()
    assert math.isclose(got.drawn.drawn_ml / parts, volume, rel_tol=0.11)
    assert got.drawn.syringe.name == name


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("dose", "20", "20 is not a number with its unit"),
        ("dose", "2 mL/L", "mL/L is not how ceftazidime is dosed here: mg/kg"),
        ("dose", "2 %", "% is not how"),
        ("weight", "3157", "3157 is not a number with its unit"),
        ("weight", "2 L", "L"),
        ("strength", "5 %", "%"),
        ("volume", "12 kg", "kg"),
    ],
)
def test_a_figure_of_the_wrong_kind_is_refused_by_itself(key: str, text: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        doses.must_be_understood(catalogue()["ceftazidime-injection"], key, text)


def test_ppm_in_water_is_said_to_be_read_in_two_ways() -> None:
    with pytest.raises(BadInput, match="read in two ways"):
        doses.must_be_understood(catalogue()["praziquantel-prolonged"], "dose", "2 ppm")


def stocked(made: Case, pack: Decimal = Decimal(10)) -> tuple[str, str]:
    """Put a vial of 100 mg/mL on the shelf; return the keys of product and lot."""
    new = NewProduct("ceftazidime-injection", "vial", 100.0, "mg/mL", float(pack), "mL")
    key = shelf.add_product(made.act, new)
    return key, shelf.receive(made.act, key, Received("V-1", pack, D + timedelta(days=90)))


def injection(made: Case, key: str, weight: str, act: str = "given here") -> Order:
    ask = Ask("20 mg/kg", "injection IM", product=key, weight=weight, diluted=True)
    return Order(act, "ceftazidime-injection", ask, made.system, made.group)


def test_each_fish_of_a_group_gets_its_own_and_the_shelf_gives_for_all(records: Path) -> None:
    made = case("koi_pond", 9000.0, "koi", 3)
    key, lot = stocked(made)
    ready = prepare(made.visit, injection(made, key, "1 kg"))
    assert ready.fish == 3
    assert "0.2 mL of vial (100 mg/mL), for 1 kg, each of 3 fish; 0.6 mL in all." in " ".join(
        sentences(ready)
    )
    row = read.one(Treatment, order_treatment(made.act, made.visit, injection(made, key, "1 kg")))
    assert row.amount == 0.2
    assert amount_words(row) == "0.2 mL for each of 3 fish"
    assert stock_log.left(lot) == Decimal("9.400")
    other = injection(made, key, "1 kg", "dispensed")
    other = replace(other, reason="a second one is kept for the owner")
    other = replace(other, reason="for the owner to give tomorrow")
    kept = read.one(Treatment, order_treatment(made.act, made.visit, other))
    assert quantity(kept) == "3 x 0.2 mL"


def test_a_dilution_is_never_called_by_the_name_of_its_product_alone(records: Path) -> None:
    made = case("koi_pond", 9000.0, "koi", 1)
    key, _ = stocked(made)
    order = injection(made, key, "38 g")
    with pytest.raises(Refusal, match=r"0\.15 mL is more than the 1 mL/kg taken"):
        order_treatment(made.act, made.visit, order)
    order = replace(order, reason="halved over both sides")
    row = read.one(Treatment, order_treatment(made.act, made.visit, order))
    said = "0.15 mL of vial diluted to 5 mg/mL, made 1 in 20 from 100 mg/mL"
    assert each_words(row) == said
    assert (made_of := figures(made.visit, row.id)["amount"].working)
    assert "draw = 0.01 mL" not in made_of, "nothing of what was not drawn"
    assert "0.1 mL of the 100 mg/mL with 1.9 mL of diluent make 2 mL of 5 mg/mL" in made_of


def test_an_injection_of_a_group_nobody_has_counted_is_refused(records: Path) -> None:
    made = case("koi_pond", 9000.0, "koi", None)
    key, _ = stocked(made)
    with pytest.raises(Refusal, match="How many fish are injected is not known"):
        order_treatment(made.act, made.visit, injection(made, key, "1 kg"))


def test_what_is_refused_has_no_amount_and_no_working(records: Path) -> None:
    made = case("trout_flowing", 57_600.0, "rainbow_trout", 3200, food_fish=True)
    ask = Ask("5 mg/kg", "injection IM", weight="1 kg", strength="22.7 mg/mL")
    wanted = Order("given here", "enrofloxacin-injection", ask, made.system, made.group)
    ready = prepare(made.visit, wanted)
    assert ready.refused
    assert "mL" not in " ".join(s for s in sentences(ready) if not s.startswith("On record"))
    assert working_text(ready) == ""
