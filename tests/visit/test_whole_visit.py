"""A whole visit by keys only, read back from the records and from the papers.

The seed is printed; what is expected comes from `expect`, which calls nothing of the app.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar

import pytest

from core.practice import sign
from core.practice.day import STAGES
from core.records import read
from core.records.tables import (
    Charge,
    DepthMark,
    FeedStep,
    Figure,
    Finding,
    Handling,
    Invoice,
    Loss,
    ProblemState,
    Reading,
    Recheck,
    Row,
    Sign,
    Slide,
    StageMark,
    Treatment,
    Visit,
)
from tests.core.records.checks import all_hold
from tests.visit.conftest import Walked
from tests.visit.driver import flat
from tests.visit.expect import Step, bare, paper_day, short

T = TypeVar("T", bound=Row)
NAMED = {"enter", "backspace", "escape", "up", "down", "left", "right"}
LATER = re.compile(r"\b(?:This week|Later|Day by day)\b")
HEADING = re.compile(r"(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d{1,2} [A-Z][a-z]{2} \d{4}")


def one(kind: type[T], walked: Walked, **where: Any) -> T:
    """Return the only row of its kind that the visit has."""
    (row,) = read.find(kind, visit=walked.visit, **where)
    return row


def today(sheet: str) -> str:
    """Return what a care sheet says of the day itself."""
    return LATER.split(sheet, maxsplit=1)[0]


def on(sheet: str, day: date) -> str:
    """Return what a care sheet says under a later day."""
    later = LATER.split(sheet, maxsplit=1)[1]
    said = later.split(paper_day(day), 1)[1]
    return HEADING.split(said, maxsplit=1)[0]


def said(text: str, part: str) -> bool:
    """Whether a paper says something; a sentence may begin with a capital there."""
    return part.casefold() in text.casefold()


def test_it_is_signed_and_the_journal_replays_to_the_rows(walked: Walked) -> None:
    visit = read.one(Visit, walked.visit)
    assert visit.state == "signed"
    assert sign.verify(walked.visit)
    marks = {m.stage: m.state for m in read.find(StageMark, visit=walked.visit)}
    assert marks == {stage: "done" for stage in STAGES}
    assert "Nothing is missing" in walked.walk.seen["before signing"]
    assert "closes" in walked.walk.seen["sign asks"]
    assert "z signs" in walked.walk.seen["not signed"]
    all_hold()


def test_letters_digits_arrows_enter_backspace_and_escape_are_enough(walked: Walked) -> None:
    pressed = {*walked.hands.pressed}
    print(f"{len(walked.hands.pressed)} keys, {len(pressed)} different ones")
    assert [key for key in pressed - NAMED if not (len(key) == 1 and key.isprintable())] == []
    assert pressed >= NAMED - {"left"} | {"f", "z"}


def test_nothing_is_cut_at_80_by_24(walked: Walked) -> None:
    assert walked.hands.cut == []


def test_what_a_person_typed_is_never_markup(walked: Walked) -> None:
    case, seen = walked.case, walked.walk.seen
    assert case.client.split(" [")[0] in seen["day"]
    for kind in ("invoice", "care sheet", "labels", "sample labels", "visit record"):
        assert case.client in walked.papers[kind], kind
    assert "they hang at the inlet [why?]" in walked.papers["visit record"]
    assert said(walked.papers["care sheet"], case.step)
    assert case.goods[0] in walked.papers["invoice"]


def test_history_and_watching(walked: Walked) -> None:
    case, seen = walked.case, walked.walk.seen
    loss = one(Loss, walked)
    assert (loss.number, loss.group) == (2, walked.house.group)
    assert f"{Decimal(200) / case.count:.1f} %" in seen["losses"]
    breaths = one(Sign, walked, sign="breaths")
    assert breaths.value == pytest.approx(case.rate)
    assert f"Breaths a minute {case.rate} " in seen["breaths"]
    states = {s.state for s in read.find(Sign, visit=walked.visit)}
    assert states >= {"ok", "problem", "seen", "not seen"}


def test_readings_are_kept_in_one_unit_whatever_was_typed(walked: Walked) -> None:
    case, want = walked.case, walked.want
    rows = {(r.place, r.analyte): r for r in read.find(Reading, visit=walked.visit)}
    expected = {
        "oxygen": want.oxygen,
        "temperature": case.temperature_c,
        "ph": case.ph,
        "ammonia": want.ammonia_n,
        "nitrite": want.nitrite_n,
        "kh": want.alkalinity_mg_l,
    }
    for analyte, value in expected.items():
        assert rows["here", analyte].value == pytest.approx(float(value), rel=2e-4), analyte
    assert rows["here", "nitrite"].below
    assert rows["here", "ammonia"].below == case.good
    assert ("here", "salinity") in rows or case.salinity is None
    assert rows["tap", "ph"].value == float(case.tap_ph)
    assert str(case.tap_ph) in walked.walk.seen["tap"]


def test_toxic_ammonia_and_oxygen_agree_with_other_libraries(walked: Walked) -> None:
    want, seen = walked.want, walked.walk.seen
    kept = {f.name: f for f in read.find(Figure, visit=walked.visit, subject=walked.house.system)}
    # PHREEQC and Emerson lie within 1.2 %, PyCO2SYS and Johansson & Wedborg within 8 %.
    near = 0.02 if walked.case.salinity is None else 0.1
    toxic = kept["toxic ammonia"]
    assert toxic.value == pytest.approx(want.toxic_ammonia, rel=near)
    assert kept["oxygen saturation"].value == pytest.approx(want.oxygen_percent, rel=0.005)
    percent = re.search(r"(\d+) % of what ", seen["oxygen"])
    assert percent is not None
    assert int(percent[1]) == pytest.approx(want.oxygen_percent, abs=1)
    assert "toxic" in seen["ammonia"]
    equation = "Emerson" if walked.case.salinity is None else "Johansson"
    assert equation in seen["ammonia working"]


def test_in_hand(walked: Walked) -> None:
    case, want = walked.case, walked.want
    fish = one(Handling, walked)
    assert fish.weight_g == case.weight_g
    bath = re.search(r"weigh ([\d.]+) g and ([\d.]+) g", walked.walk.seen["bath"])
    assert bath is not None
    weighed = [float(g) for g in bath.groups()]
    assert weighed == pytest.approx([float(want.sedation_g), 2 * float(want.sedation_g)], rel=0.005)
    events = [m.event.split(",")[0] for m in read.find(DepthMark, visit=walked.visit)]
    assert events[0] == "into the bath"
    assert events[-1] == "recovered"
    injected = [t for t in read.find(Treatment, visit=walked.visit) if t.route == "injection IM"]
    if case.kind.food_fish:
        assert injected == []
        assert "21 CFR 530.41" in walked.walk.seen["stop"]
        assert "21 CFR 530.41" in walked.walk.seen["refused"]
        return
    assert [Decimal(str(t.amount)) for t in injected] == [want.drawn_ml.normalize()]
    assert f"{short(want.drawn_ml)} mL" in walked.papers["visit record"]
    assert f"Lot: {case.lot}" in walked.papers["visit record"]


def test_slides(walked: Walked) -> None:
    record, worms = walked.papers["visit record"], walked.case.worms
    assert [s.normal for s in read.find(Slide, visit=walked.visit)] == [False, True]
    assert one(Finding, walked).counts == " ".join(map(str, worms))
    assert f"({sum(worms)} in 3" in record
    assert "Skin mucus, Wet mount, 40x, 4 nothing abnormal" in record


def test_the_ration_its_gate_and_its_steps(walked: Walked) -> None:
    case, want, seen = walked.case, walked.want, walked.walk.seen
    assert f"To feed {short(want.to_feed)} g ({short(case.target)} %)" in seen["feeding"]
    fed = re.search(r"Fed ([\d.]+) % of body weight", seen["feeding"])
    assert fed is not None
    assert float(fed[1]) == pytest.approx(float(want.ration_percent), rel=0.02, abs=0.0051)
    rows = read.find(FeedStep, visit=walked.visit, order="position")
    expected = want.steps or (Step(want.day, want.hold),)
    assert [(r.day, Decimal(str(r.grams))) for r in rows] == [(s.day, s.grams) for s in expected]
    gate = (
        f"nly if ammonia is under {short(case.gate_tan)} mg/L N, nitrite under 0.1 mg/L N, "
        "food gone in 5 min and no new deaths"
    )
    sheet = walked.papers["care sheet"]
    for step in expected:
        told = today(sheet) if step.day == want.day else on(sheet, step.day)
        verb = "Feed" if want.steps else "Hold"
        assert f"{verb} {short(step.grams)} g a day" in told
        assert gate in told or "Only when “Before each rise” holds" in told
        assert gate in sheet.rsplit("Before each rise", 1)[-1]
    assert gate in today(sheet)
    assert sheet.count(f" {short(expected[-1].grams)} g a day") == 1
    if not want.steps:
        assert "No rise now" in flat(seen["no rise"])


def test_the_dose_and_its_days(walked: Walked) -> None:
    case, want = walked.case, walked.want
    row = one(Treatment, walked, act="dispensed")
    assert row.amount == pytest.approx(float(want.dose_g))
    amount = f"{short(want.dose_g)} g of {case.medicine.product}"
    assert amount in walked.walk.seen["order"]
    sheet = walked.papers["care sheet"]
    assert said(today(sheet), f"{case.medicine.name}: {amount}")
    for day in want.dose_days[1:]:
        assert said(on(sheet, day), f"{case.medicine.name}: {amount}")
    assert "do not give two together" in sheet
    assert said(sheet, "they jump or roll: drain a third")


def test_the_label_has_every_element(walked: Walked) -> None:
    case, want, label = walked.case, walked.want, walked.papers["labels"]
    amount = f"{short(want.dose_g)} g"
    for part in (
        "Practice of the Drawn Visits",
        "1 Invented Lane, Millbrook",
        "555 0190",
        f"For: {case.client}",
        f"Animals: {case.fish} (",
        case.medicine.name,
        f"{short(100 * case.medicine.purity)} % w/w",
        f"Quantity: {case.repeats} x {amount}",
        f"Dosage: {amount} each time, for {case.water}. stir into a bucket & pour all round",
        f"Frequency: every {case.every} days, {case.repeats} times in all",
        "Route: ",
        "Cautions: ",
        "Prescriber: Vera Drawn",
        "Checked by: Vera Drawn",
        f"Dispensed: {paper_day(want.day)}",
        f"Lot: {case.medicine_lot}",
    ):
        assert said(label, part), part
    eaten = want.eaten_from.isoformat() if case.kind.food_fish else "Not for fish that may be eaten"
    assert eaten in label.split("Withdrawal: ", 1)[1]


def test_withdrawal(walked: Walked) -> None:
    case, want, sheet = walked.case, walked.want, walked.papers["care sheet"]
    if not case.kind.food_fish:
        assert "not to be eaten by anyone before" not in sheet
        return
    assert "the withdrawal of" in flat(walked.walk.seen["unknown withdrawal"]).lower()
    assert f"{case.water} ({case.medicine.name}): not to be eaten by anyone before " in sheet
    assert f"before {paper_day(want.eaten_from)}" in sheet
    assert f"before {paper_day(want.sedated_until)}" in sheet
    assert f"Not before: {want.eaten_from.isoformat()}" in walked.papers["visit record"]
    assert want.eaten_from.isoformat() in walked.walk.seen["plan"]


def test_problems_and_the_recheck(walked: Walked) -> None:
    want, record = walked.want, walked.papers["visit record"]
    states = [s.state for s in read.find(ProblemState, visit=walked.visit)]
    assert states == ["suspected", "ruled out"]
    found = today(walked.papers["care sheet"]).split("Do today")[0]
    assert said(found, "gill flukes, egg-laying")
    assert said(found, "suspect")
    assert not said(walked.papers["care sheet"], "nitrite (brown blood)")
    assert "So far ruled out: Vera Drawn none read" in record
    assert one(Recheck, walked).target == want.recheck
    booked = read.find(Visit, state="booked")
    assert [(v.day, v.reason) for v in booked] == [(want.recheck, "gill snip again")]
    assert "gill snip again" in on(walked.papers["care sheet"], want.recheck)
    assert f"{paper_day(want.recheck)} visit gill snip again" in record


def test_every_charge_and_the_total(walked: Walked) -> None:
    case, want, paper = walked.case, walked.want, walked.papers["invoice"]
    for line in want.lines:
        parts = (line.words, line.tax, short(line.quantity), bare(line.unit), bare(line.amount))
        assert " ".join(parts) in paper
    assert len(read.find(Charge, visit=walked.visit)) == len(want.lines)
    for rate, (base, tax) in want.taxes.items():
        assert f"Tax {rate} %, on {bare(base)} EUR {bare(tax)} EUR" in paper
    assert f"Net {bare(want.net)} EUR" in paper
    assert f"Total {bare(want.gross)} EUR" in paper
    assert f"Paid {paper_day(want.day)}, card -{bare(want.paid)} EUR" in paper
    assert f"Balance due {bare(want.gross - want.paid)} EUR" in paper
    assert f"Total {bare(want.gross)} EUR" in flat(walked.walk.seen["bill"])
    row = one(Invoice, walked)
    assert (row.net_minor, row.gross_minor) == (want.net, want.gross)
    by_hand = [c.words for c in read.find(Charge, visit=walked.visit) if not c.origins]
    assert by_hand == [case.goods[0]]
    assert "without a price" not in walked.walk.seen["offered"]


def test_the_record_holds_what_was_charged(walked: Walked) -> None:
    record = walked.papers["visit record"]
    for line in walked.want.lines:
        assert f"{line.words}, {short(line.quantity)} {bare(line.amount)} EUR" in record
    assert "Signed by Vera Drawn" in record


@pytest.mark.parametrize("kind", ["care sheet", "labels", "sample labels", "visit record"])
def test_the_text_twin_says_what_the_pdf_says(walked: Walked, kind: str) -> None:
    twin, paper = flat(walked.walk.texts[kind]), walked.papers[kind]
    assert_same_words(twin, paper)


def test_the_twin_of_the_invoice(walked: Walked) -> None:
    twin = walked.walk.texts.get("invoice", "")
    assert bool(twin) == walked.case.from_list
    if twin:
        assert_same_words(flat(twin), walked.papers["invoice"])


EMPTY_COLUMNS = {"Beats", "Condition", "Length", "Lesions", "Predicted", "Dead", "Food"}
"""Heads of columns in which nothing stands; the twin leaves them out."""
AT_THE_FOOT = {"page", "of", "care", "sheet"}


def assert_same_words(twin: str, paper: str) -> None:
    """Check that each figure of either paper is in the other, and each word of the PDF too."""
    words = re.compile(r"[\w.,%&<>\[\]/-]*\w")
    assert {*words.findall(twin)} - {*words.findall(paper)} == set()
    more = {*words.findall(paper)} - {*words.findall(twin)} - EMPTY_COLUMNS
    assert {word for word in more if not word.isdigit()} <= AT_THE_FOOT
    assert {int(word) for word in more if word.isdigit()} <= {*range(1, 20)}
