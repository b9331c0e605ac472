"""The Paperwork desk without its screen: the end of a day, its money, its papers, settling."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pypdf
import pytest

from core.errors import Refusal
from core.practice import charges, day_paper, documents, paperwork, results, setup, visits
from core.practice.keep import Act
from core.practice.owing import Owing
from core.practice.paperwork import end_of_day, end_of_day_text
from core.records import read, tables
from core.records.keys import new_key
from core.records.tables import (
    Addendum,
    DayMark,
    Delivery,
    Document,
    Handling,
    OwnerStep,
    Payment,
    Sample,
    Visit,
)
from tests.conftest import MOMENT
from tests.practice import planted
from tests.practice.planted import another, counted, recheck
from tests.small import Small

TODAY = MOMENT.date()
YESTERDAY = TODAY - timedelta(days=1)

DEMO = (
    ("A1", (("fees", 27500, "service"), ("test kit", 3200, "goods")), 30924),
    ("A2", (("fees", 30900, "service"),), 30900),
    ("A3", (("fees", 43800, "service"), ("salt", 600, "goods")), 20000),
    ("A4", (("fees", 50200, "service"),), 0),
    ("B1", (("fees", 65000, "service"),), 0),
    ("B2", (("fees", 23100, "service"), ("bicarbonate", 500, "goods")), 23635),
    ("B3", (("fees", 43200, "service"),), 0),
    ("B4", (("fees", 37900, "service"),), 0),
)
"""Eight visits as in the reference: their lines and what is taken; 7 % on goods only."""


def pages(file: Path) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(file).pages)


@pytest.fixture
def quiet(practice: Small, act: Act) -> Small:
    """Give a practice with taxes whose one visit is off, so that nothing is owed."""
    planted.taxes(act)
    visits.cancel(act, practice.visit, "owner rang")
    return practice


def kinds(lines: tuple[Owing, ...]) -> list[str]:
    return [line.kind for line in lines]


def test_a_quiet_day_owes_nothing(quiet: Small) -> None:
    view = end_of_day(TODAY)
    assert (view.lines, view.takings, view.papers) == ((), (), ())
    assert "Still open: 0" in end_of_day_text(view)


def test_the_money_of_eight_visits(quiet: Small, act: Act, tmp_path: Path) -> None:
    at = Act(quiet.vet, act.at)
    for number, (name, lines, taken) in enumerate(DEMO):
        client = setup.add_client(act, name)
        site = setup.add_site(act, client, "home")
        system = setup.add_system(act, site, "pond", "koi_pond")
        visit = visits.book(act, system, TODAY, f"{8 + number:02d}:00", quiet.vet, "check")
        planted.bill(at, visit, *lines)
        if number % 2 == 0:
            documents.issue_invoice(at, visit, tmp_path)
        if taken:
            how = "cash" if name == "A3" else "card"
            charges.pay(at, visit, taken, how)
    view = end_of_day(TODAY)
    assert (view.charged_minor, view.taken_minor, view.owed_minor) == (326201, 105459, 220742)
    assert view.taken_minor + view.owed_minor == view.charged_minor
    assert [(t.how, t.payments, t.amount_minor) for t in view.takings] == [
        ("card", 3, 85459),
        ("cash", 1, 20000),
    ]
    open_money = [x for x in view.lines if x.kind in ("unpaid", "to bill")]
    assert sum(x.amount_minor or 0 for x in open_money) == 220742
    said = end_of_day_text(view)
    assert "9 visits" not in said
    assert "3262.01 EUR" in said
    assert "2207.42 EUR" in said
    assert "1054.59 EUR" in said


def test_what_is_paid_another_day_is_not_taken_today(quiet: Small, act: Act) -> None:
    visit = another(act, quiet, YESTERDAY, "09:00")
    late = Act(quiet.vet, act.at - timedelta(days=1))
    planted.bill(late, visit, ("fees", 10000, "service"))
    charges.pay(late, visit, 4000, "cash")
    charges.pay(Act(quiet.vet, act.at), visit, 1000, "card")
    today, before = end_of_day(TODAY), end_of_day(YESTERDAY)
    assert (today.taken_minor, today.charged_minor) == (1000, 0)
    assert (before.taken_minor, before.charged_minor, before.owed_minor) == (4000, 10000, 5000)


def omissions(small: Small, act: Act) -> None:
    """Plant eight things that the day still owes, each alone on a visit of its own."""
    made = [another(act, small, YESTERDAY, f"{8 + n:02d}:00") for n in range(7)]
    _unsigned, unpaid, uninvoiced, awaited, waiting, paper, unsent = made
    planted.bill(act, uninvoiced, ("fees", 5000, "service"))
    planted.invoice(act, unpaid, "2026-0001", 50200)
    planted.sent(act, small, awaited, TODAY - timedelta(days=2))
    planted.waiting(act, waiting, "Biopsy", "stain to dry")
    planted.paper(act, small, paper)
    fish = planted.add(
        act,
        Handling(
            id=new_key(), visit=unsent, system=small.system, number=1, label="fish 1", at=act.at
        ),
    )
    planted.add(
        act,
        Sample(
            id=new_key(),
            visit=unsent,
            system=small.system,
            handling=fish.id,
            number="1-1",
            tissue="gill",
            at=act.at,
        ),
    )
    for number, visit in enumerate((unpaid, awaited, waiting, paper, unsent), start=2):
        if visit != unpaid:
            planted.invoice(act, visit, f"2026-{number:04d}", 6000)
            charges.pay(act, visit, 6000, "cash")
        planted.signed(act, visit)
    planted.signed(act, uninvoiced)
    recheck(act, small, TODAY - timedelta(days=4), kind="phone")


def test_eight_planted_omissions_give_eight_lines(quiet: Small, act: Act) -> None:
    omissions(quiet, Act(quiet.vet, act.at))
    lines = end_of_day(TODAY).lines
    assert sorted(kinds(lines)) == sorted(
        ["unsigned", "unpaid", "to bill", "awaited", "waiting", "paper", "unsent", "ring"]
    )
    said = {line.kind: line.what for line in lines}
    assert said["unsigned"].startswith("not begun, 1 d old: koi pond")
    assert said["awaited"] == "culture at the laboratory: due 23 Nov, 2 d late"
    assert said["waiting"] == "Biopsy waits: stain to dry"
    assert said["paper"] == "care sheet 7 not handed over"
    assert said["unsent"] == "neither read nor sent: 1-1 gill"
    assert said["ring"].startswith("2 d overdue, not rung yet: count of worms")
    assert {line.kind: line.amount_minor for line in lines if line.amount_minor} == {
        "unpaid": 50200,
        "to bill": 5000,
    }


def test_done_marks_stay_and_are_taken_back(quiet: Small, act: Act) -> None:
    omissions(quiet, Act(quiet.vet, act.at))
    desk = Act(quiet.technician, act.at + timedelta(hours=9))
    first = end_of_day(TODAY).lines[0]
    paperwork.see_to(desk, TODAY, first)
    view = end_of_day(TODAY)
    [seen] = [line for line in view.lines if line.seen]
    assert seen.seen is not None
    assert (seen.key, seen.seen.by, seen.seen.at) == (first.key, "Tim Test", "17:30")
    assert len(view.open) == 7
    assert "(seen to by Tim Test, 17:30)" in end_of_day_text(view)
    assert len(end_of_day(TODAY + timedelta(days=1)).open) == 8
    paperwork.see_to(desk, TODAY, seen)
    assert len(end_of_day(TODAY).open) == 8
    assert [m.struck for m in read.find(DayMark, struck=True)] == ["taken back"]


def test_a_day_owes_nothing_of_the_days_after_it(quiet: Small, act: Act) -> None:
    omissions(quiet, Act(quiet.vet, act.at))
    assert end_of_day(TODAY - timedelta(days=9)).lines == ()


def test_a_result_settles_its_test_and_asks_to_tell(quiet: Small, act: Act) -> None:
    at = Act(quiet.vet, act.at)
    visit = another(act, quiet, TODAY, "09:00")
    test = planted.sent(at, quiet, visit, TODAY)
    planted.signed(at, visit)
    with pytest.raises(Refusal):
        results.enter_result(at, test, "  ")
    result = results.enter_result(at, test, "no growth", addendum=True)
    row = read.one(tables.TestResult, result)
    assert (row.value, row.by, row.at) == ("no growth", quiet.vet, act.at)
    assert [a.words for a in read.find(Addendum, visit=visit)] == ["culture: no growth"]
    said = {x.kind: x.what for x in end_of_day(TODAY).lines}
    assert "awaited" not in said
    assert said["tell"] == "owner not told: culture: no growth; 555 0100"
    results.tell_owner(at, result, "by telephone")
    assert "tell" not in kinds(end_of_day(TODAY).lines)


def test_a_result_told_at_once_leaves_nothing_open(quiet: Small, act: Act) -> None:
    at = Act(quiet.vet, act.at)
    visit = another(act, quiet, TODAY, "09:00")
    results.enter_result(at, planted.sent(at, quiet, visit, TODAY), "clear", told="in person")
    assert kinds(end_of_day(TODAY).lines) == ["unsigned"]


def test_a_paper_is_handed_over_once(quiet: Small, act: Act) -> None:
    at = Act(quiet.vet, act.at)
    visit = another(act, quiet, TODAY, "09:00")
    document = planted.paper(at, quiet, visit)
    with pytest.raises(Refusal, match="to whom"):
        paperwork.deliver(at, document, "by hand", " ")
    paperwork.deliver(at, document, "by hand", "the owner")
    assert [d.to for d in read.find(Delivery, document=document)] == ["the owner"]
    view = end_of_day(TODAY)
    assert "paper" not in kinds(view.lines)
    assert view.papers[0].delivered == "by hand, the owner"


def test_a_signed_visit_without_its_care_sheet_is_named(quiet: Small, act: Act) -> None:
    visit = another(act, quiet, TODAY, "09:00")
    planted.add(act, OwnerStep(id=new_key(), visit=visit, position=1, kind="do", words="more air"))
    planted.signed(act, visit)
    assert "care sheet not made" in end_of_day(TODAY).lines[-1].what


def test_payments_and_their_receipts(quiet: Small, act: Act, tmp_path: Path) -> None:
    """The sample of the reference: a deposit of 100 and 250 more leave 263.92."""
    at = Act(quiet.vet, act.at)
    visit = another(act, quiet, TODAY, "09:00")
    planted.bill(at, visit, ("fees", 61392, "service"))
    first = paperwork.take_payment(at, visit, 10000, "cash", "", tmp_path)
    invoice = documents.issue_invoice(at, visit, tmp_path)
    later = Act(quiet.technician, act.at + timedelta(hours=1))
    second = paperwork.take_payment(later, visit, 25000, "card", "1234", tmp_path)
    assert charges.bill(visit).owed_minor == 26392
    assert "Invoice to follow" in pages(first.file)
    printed = pages(second.file)
    assert f"Invoice {invoice.document.number}" in printed
    for figure in ("613.92", "-100.00", "-250.00", "263.92", "Tim Test"):
        assert figure in printed
    assert first.document.number != second.document.number
    again = paperwork.issue_receipt(later, read.find(Payment, visit=visit)[1].id, tmp_path)
    assert again.document.id == second.document.id
    assert day_paper.twin(second.document.id) == second.text
    assert day_paper.twin(invoice.document.id) == invoice.text
    with pytest.raises(Refusal, match="more than is owed"):
        paperwork.take_payment(later, visit, 26393, "card", "", tmp_path)


def test_the_summary_of_a_day_is_kept_by_version(quiet: Small, act: Act, tmp_path: Path) -> None:
    at = Act(quiet.vet, act.at)
    omissions(quiet, at)
    first = day_paper.keep_summary(at, day_paper.drawn(at, YESTERDAY), tmp_path)
    printed = pages(first.file)
    for words in ("Day summary", "not begun", "502.00", "stain to dry"):
        assert words in printed
    paperwork.see_to(at, YESTERDAY, end_of_day(YESTERDAY).lines[0])
    second = day_paper.keep_summary(at, day_paper.drawn(at, YESTERDAY), tmp_path)
    assert (second.document.version, second.document.visit) == (2, None)
    own = [p for p in end_of_day(YESTERDAY).papers if p.kind == "day summary"]
    assert [p.superseded for p in own] == [True, False]
    assert [p.number for p in end_of_day(TODAY).papers if p.visit is None] == [str(YESTERDAY)] * 2
    assert day_paper.twin(second.document.id) == second.text
    with pytest.raises(Refusal, match="own"):
        paperwork.deliver(at, first.document.id, "by hand", "the owner")
    assert read.one(Document, first.document.id).client is None


def test_the_number_of_statements_does_not_grow(quiet: Small, act: Act) -> None:
    def statements() -> int:
        with counted() as said:
            end_of_day(TODAY)
        return len(said)

    few = statements()
    omissions(quiet, Act(quiet.vet, act.at))
    assert len(read.find(Visit)) == 8
    assert statements() == few
