"""Every dose of the eight demonstration visits comes out of the catalogue and the arithmetic."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from core.catalogue.load import table
from core.dosing import products, syringe
from core.dosing.anaesthesia import anaesthetic_bath
from core.dosing.arithmetic import (
    AnyConcentration,
    bath_mass,
    bath_volume,
    dose_mass,
    draw_up_volume,
)
from core.dosing.course import dates, days_between, end, in_steps, salt_for_rise, total
from core.dosing.flowing import bath_in_flow, minutes_of_oxygen, oxygen_fall_mg_l
from core.dosing.medicines import Medicine, from_table
from core.dosing.quantities import body, concentration, dose, flow, give_or_take, minutes, water
from core.dosing.stops import Recipient, check
from core.dosing.uncertain import judge, level_between
from core.dosing.withdrawal import withdrawal
from core.errors import Refusal
from core.sourced import lines, working

MEDICINES = from_table(table("medicines"))
SHELF = products.from_table(table("products"))
RACK = syringe.from_table(table("syringes"))
D = date(2026, 11, 25)


def stops(medicine: Medicine, recipient: Recipient) -> set[str]:
    return {s.subject for s in check(medicine, recipient) if s.kind == "stop"}


def bath(value: float) -> AnyConcentration:
    return concentration(value, "mg/L")


def test_a2_shrimp_stop_copper_and_salt() -> None:
    soft = Recipient(
        food_fish=False, invertebrates=True, system="fresh", alkalinity_mg_l=9, oxygen_mg_l=7.2
    )
    assert stops(MEDICINES["copper-fresh"], soft) == {"invertebrates", "alkalinity"}
    assert stops(MEDICINES["salt-prolonged"], soft) == {"invertebrates"}


def test_a3_praziquantel_and_the_real_level() -> None:
    pond = water(3390, "l")
    with working() as steps:
        grams = bath_mass(bath(2), pond, SHELF["praziquantel-powder"].strength)
        real = level_between(bath_mass(bath(2), pond), give_or_take(pond, 10))
    assert str(grams) == "6.78 g"
    assert (round(real.low.m_as("mg/L"), 2), round(real.high.m_as("mg/L"), 2)) == (1.82, 2.22)
    said = judge(real, bath(1.5), bath(2))
    assert (said.low_inside, said.high_inside) == (True, False)
    text = "\n".join(lines(steps))
    for part in ("bath mass = 6.78 g", "water 3390 L", "purity 100 % w/w", "3051 to 3729 L"):
        assert part in text
    assert {"UV", "carbon"} <= set(MEDICINES["praziquantel-prolonged"].switch_off)
    assert MEDICINES["praziquantel-prolonged"].extra_air


def test_a3_ceftazidime_under_five_graduations_is_diluted() -> None:
    medicine = MEDICINES["ceftazidime-injection"]
    per_kg, biscuit = dose(20, "mg/kg"), body(238, "g")
    vial = SHELF["ceftazidime-made-up"].strength
    assert medicine.highest() == per_kg
    assert str(dose_mass(per_kg, biscuit)) == "4.76 mg"
    volume = draw_up_volume(per_kg, biscuit, vial)
    assert round(volume.m_as("mL"), 3) == 0.048
    one_ml = next(s for s in RACK if s.name == "1 mL syringe")
    assert syringe.draw(volume, one_ml).too_small
    proposal = syringe.propose_dilution(volume, vial, one_ml)
    assert proposal is not None
    assert str(proposal.strength) == "25 mg/mL"
    assert proposal.drawn.drawn_ml == 0.19
    assert "1 part product with 3 parts diluent" in proposal.sentence
    assert syringe.over_route_limit(volume, biscuit, "injection IM", {"injection IM": 1.0}) is None
    assert medicine.interval_h == 72
    assert dates(D, days_between(72), 3) == (D, D + timedelta(3), D + timedelta(6))


def test_a3_salt_for_chloride() -> None:
    """From 18 to 100 mg/L of chloride: 0.135 g/L of salt."""
    rise = concentration((100 - 18) / 0.6066 / 1000, "g/L")
    assert round(salt_for_rise(rise, water(3390, "l")).m_as("g")) == 458


def test_a4_euthanasia_bath() -> None:
    stock, ratio = SHELF["tricaine-stock"].strength, MEDICINES["tricaine-euthanasia"].buffer_g_per_g
    got = anaesthetic_bath(bath(400), water(25, "l"), stock, ratio)
    assert str(got) == "10 g (1000 mL of stock, in the volume), with 20 g of buffer"


def test_b1_trout_chloramine_t_in_flowing_water() -> None:
    got = bath_in_flow(bath(15), water(57_600, "l"), flow(18, "L/s"), minutes(60))
    assert (str(got.fill), str(got.feed_in), str(got.total)) == ("864 g", "972 g", "1836 g")
    assert str(got.per_minute) == "16.2 g"
    assert str(total(got.total, 3)) == "5508 g"
    assert dates(D, 2, 3)[-1] == D + timedelta(4)
    assert round(oxygen_fall_mg_l(246, 57_600, 60), 1) == 4.3
    # From 6.3 at the outlet the fish are at 5 mg/L long before the hour of a static bath is over.
    assert minutes_of_oxygen(6.3, 5.0, 246, 57_600) < 20


def test_b1_sedation_counts_and_enrofloxacin_is_stopped_with_its_rule() -> None:
    raceway = Recipient(
        food_fish=True,
        groups=frozenset({"salmonid", "rainbow trout"}),
        scaleless=False,
        elasmobranch=False,
        invertebrates=False,
        plants=False,
        biofilter=False,
        system="fresh",
        temperature_c=12.0,
        ph=7.3,
        oxygen_mg_l=6.3,
        running=frozenset(),
        flowing=True,
    )
    sedation = MEDICINES["tricaine-sedation"]
    got = anaesthetic_bath(bath(80), water(40, "l"), ratio=sedation.buffer_g_per_g)
    assert str(got) == "3.2 g, with 6.4 g of buffer"
    assert withdrawal(sedation, D, True).ends == D + timedelta(21)
    assert not stops(sedation, raceway)
    assert not stops(MEDICINES["chloramine-t-salmonids"], raceway)
    for key in ("enrofloxacin-injection", "enrofloxacin-feed", "enrofloxacin-bath"):
        first = check(MEDICINES[key], raceway)[0]
        assert first.kind == "stop"
        assert first.rule == "21 CFR 530.41 (fluoroquinolones; text of 2026-04-05)"
        with pytest.raises(Refusal, match=r"21 CFR 530\.41"):
            withdrawal(MEDICINES[key], D, True)


def test_b2_corals_stop_copper() -> None:
    reef = Recipient(food_fish=False, invertebrates=True, system="marine", alkalinity_mg_l=114)
    assert stops(MEDICINES["copper-marine"], reef) == {"invertebrates"}


def test_b3_copper_in_three_steps() -> None:
    medicine = MEDICINES["copper-marine"]
    tank = water(180, "l")
    assert str(bath_mass(bath(0.18), tank).to("mg")) == "32.4 mg"
    poured = bath_volume(bath(0.18), tank, SHELF["copper-solution"].strength)
    assert str(poured) == "32.4 mL"
    assert [str(step) for step in in_steps(poured, 3)] == ["10.8 mL"] * 3
    low, high = medicine.lowest().m_as("mg/L"), medicine.highest().m_as("mg/L")
    assert low <= 0.18 <= high
    assert end(D, 42) == D + timedelta(42)


def test_b4_levamisole_powder_and_its_repeat() -> None:
    medicine = MEDICINES["levamisole-bath"]
    rack = water(640, "l")
    assert medicine.highest() == bath(2)
    assert str(bath_mass(bath(2), rack)) == "1.28 g"
    assert str(bath_mass(bath(2), rack, SHELF["levamisole-powder"].strength)) == "12.8 g"
    assert dates(D, 18, 2) == (D, D + timedelta(18))
    # "Repeat 2-3 weeks": the row gives the lower end of it.
    assert medicine.interval_h == 14 * 24
    assert {"UV", "carbon", "lights"} <= set(medicine.switch_off)
