"""Antimicrobials used, the dispensing log and the controlled-drug log, on screen and paper."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from core.errors import BadInput, Refusal
from core.papers import logs
from core.papers.logs import DrugLot, Moved, unbalanced
from core.practice import (
    antimicrobial,
    antimicrobial_paper,
    documents,
    label_paper,
    log_paper,
    paperwork,
    treatments,
)
from core.practice.antimicrobial import active_mg, months, used
from core.practice.recipient import medicines
from core.records import engine, read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import (
    Delivery,
    Document,
    Handling,
    Lot,
    Product,
    StockLine,
    Treatment,
    Weighing,
)
from tests.papers.paper_samples import NOW, PRACTICE, body, boxes, pages, sizes, squeezed
from tests.practice.plan_cases import MOMENT, Case, D, case
from tui import cli

YEAR = (date(2026, 1, 1), date(2026, 12, 31))


def planted(made: Case, *rows: object) -> None:
    with edit("planted", who=made.act.by, at=made.act.at, visit=made.visit) as doing:
        for row in rows:
            doing.add(row)


def treatment(made: Case, medicine: str, **more: object) -> Treatment:
    known = {
        "id": new_key(),
        "visit": made.visit,
        "system": made.system,
        "group": made.group,
        "act": "given here",
        "medicine": medicine,
        "route": "injection IM",
        "dose": 10.0,
        "dose_unit": "mg/kg",
        "amount": 0.5,
        "amount_unit": "mL",
        "strength": "22.7 mg/mL",
        "by": made.act.by,
        "at": made.act.at,
    }
    return Treatment(**known | more)


def in_hand(made: Case, count: int, grams: float | None) -> Handling:
    return Handling(
        id=new_key(),
        visit=made.visit,
        system=made.system,
        group=made.group,
        number=1,
        label="one",
        count=count,
        weight_g=grams,
        at=MOMENT,
    )


def weighing(made: Case, count: int | None, grams: float) -> Weighing:
    return Weighing(
        id=new_key(),
        visit=made.visit,
        system=made.system,
        group=made.group,
        count=count,
        weight_g=grams,
        at=MOMENT,
    )


@pytest.mark.parametrize(
    ("amount", "unit", "strength", "mg"),
    [
        (0.5, "mL", "22.7 mg/mL", 11.35),
        (0.5, "mL", "2.27 mg/mL, made 1 in 10 from 22.7 mg/mL", 1.135),
        (12.8, "g", "10 % w/w", 1280.0),
        (2.0, "g", "", 2000.0),
        (300.0, "mg", "10 % w/w, not reckoned in", 300.0),
        (300.0, "mg", "100 mg/mL", 300.0),
        (0.5, "mL", "", None),
        (0.5, "mL", "10 % w/w", None),
        (0.5, "mL", "a strong one", None),
        (5.0, "IU", "", None),
    ],
)
def test_active_substance_comes_from_amount_and_strength(records, amount, unit, strength, mg):
    row = treatment(case(), "x", amount=amount, amount_unit=unit, strength=strength)
    assert active_mg(row) == (None if mg is None else pytest.approx(mg))


def labels_handed_over(made: Case, at: datetime = MOMENT) -> tuple[Document, Delivery]:
    known = {"client": made.client, "visit": made.visit, "kind": "labels", "number": "L1"}
    paper = Document(id=new_key(), **known, file="l.pdf", sha256="", by=made.act.by, at=at)
    given = {"visit": made.visit, "document": paper.id, "how": "by hand", "to": "owner"}
    return paper, Delivery(id=new_key(), **given, by=made.act.by, at=at)


def test_use_by_month_says_what_is_not_known(records: Path) -> None:
    pond = case()
    scoop, unweighed = in_hand(pond, 3, 3405.0), in_hand(pond, 1, None)
    planted(
        pond,
        scoop,
        unweighed,
        treatment(pond, "enrofloxacin-injection", handling=scoop.id),
        treatment(pond, "enrofloxacin-injection", amount_unit="mL", strength=""),
        treatment(
            pond,
            "oxytetracycline-bath",
            *(),
            route="bath",
            dose=20.0,
            dose_unit="mg/L",
            amount=67.8,
            amount_unit="g",
            strength="",
        ),
        treatment(
            pond,
            "florfenicol-feed",
            route="medicated feed",
            act="dispensed",
            dose=10.0,
            dose_unit="mg/kg/day",
            amount=50.0,
            amount_unit="mg",
            strength="",
            repeats=10,
        ),
        treatment(pond, "enrofloxacin-injection", act="prescribed"),
        treatment(pond, "praziquantel-injection"),
    )
    assert "florfenicol" not in {m.medicine for m in months(used(*YEAR))}, "not handed over"
    planted(pond, *labels_handed_over(pond))
    found = {m.medicine: m for m in months(used(*YEAR))}
    assert set(found) == {"enrofloxacin", "oxytetracycline", "florfenicol"}
    enro, oxy, flor = (found[k] for k in ("enrofloxacin", "oxytetracycline", "florfenicol"))
    # Three fish, 11.35 mg each, at 10 mg/kg: 34.05 mg for 3.405 kg.
    assert (enro.mg, enro.kg, enro.mg_per_kg) == tuple(map(pytest.approx, (34.05, 3.405, 10.0)))
    assert enro.unknown == "the mg of 1 of 2; the weight of the fish of 1 of 2"
    assert (oxy.mg, oxy.mg_per_kg) == (67800.0, None)
    assert oxy.unknown == "the weight of the fish of 1 of 1"
    # 50 mg a day for 5 kg, ten days handed over.
    assert (flor.mg, flor.kg, flor.mg_per_kg) == tuple(map(pytest.approx, (500.0, 5.0, 100.0)))
    assert used(date(2026, 12, 1), YEAR[1]) == ()

    rows = list(csv.DictReader(io.StringIO(antimicrobial_paper.as_csv(*YEAR))))
    assert [r["medicine"] for r in rows] == ["enrofloxacin", "florfenicol", "oxytetracycline"]
    assert (rows[2]["active_mg"], rows[2]["mg_per_kg"]) == ("67800.0", "")
    text = antimicrobial_paper.text(pond.act, *YEAR)
    assert "Medicine: oxytetracycline; Times: 1; mg: 67800; Fish, kg: not known" in text
    assert antimicrobial.HOW[0] in text

    # The same bath with every fish weighed and counted.
    planted(pond, weighing(pond, 13, 300.0))
    oxy = next(m for m in months(used(*YEAR)) if m.medicine == "oxytetracycline")
    assert oxy.kg == pytest.approx(3.9)


def test_dispensed_counts_in_the_month_of_the_hand_over(records: Path) -> None:
    pond = case()
    row = treatment(pond, "florfenicol-feed", route="medicated feed", act="dispensed")
    row = replace(row, amount=50.0, amount_unit="mg", strength="", repeats=10)
    planted(pond, row)
    assert used(*YEAR) == ()
    planted(pond, *labels_handed_over(pond, MOMENT + timedelta(days=10)))
    [line] = used(*YEAR)
    assert (line.day, line.mg) == (D + timedelta(10), 500.0)
    assert used(D, D + timedelta(9)) == ()


def test_what_counts_as_an_antimicrobial() -> None:
    counted = {row.name for row in medicines().values() if row.antimicrobial}
    assert counted == {
        *("amikacin", "ceftazidime", "enrofloxacin", "florfenicol", "metronidazole"),
        *("nitrofurans", "oxytetracycline", "sulfadimethoxine+ormetoprim", "sulfamerazine"),
    }


def test_use_is_written_in_the_form_the_ending_names(records: Path, tmp_path: Path) -> None:
    pond = case()
    for ending in antimicrobial_paper.ENDINGS:
        file = antimicrobial_paper.write(pond.act, *YEAR, tmp_path / f"use{ending}")
        assert file.stat().st_size
    text = antimicrobial_paper.text(pond.act, *YEAR)
    assert "No antimicrobial was given here or dispensed" in text
    with pytest.raises(BadInput, match="ends in none"):
        antimicrobial_paper.write(pond.act, *YEAR, tmp_path / "use.doc")
    with pytest.raises(Refusal, match="before the first"):
        used(YEAR[1], YEAR[0])


def dispensed(made: Case) -> str:
    wanted = made.order(
        "praziquantel-prolonged",
        "2 mg/L",
        "prolonged bath",
        product="praziquantel-powder",
        act="dispensed",
        lot="PZ-1",
        expires=D + timedelta(200),
        reason="tests",
    )
    return treatments.order_treatment(made.act, made.visit, wanted)


@pytest.fixture
def pond(records: Path) -> Case:
    made = case()
    made.read(temperature=17.0, ph=8.0, oxygen=9.0, ammonia=0.1)
    return made


def test_nothing_is_handed_over_before_a_veterinarian_has_checked(
    pond: Case, tmp_path: Path
) -> None:
    key = dispensed(pond)
    with pytest.raises(Refusal, match="No veterinarian has checked"):
        label_paper.must_be_checked(pond.visit)
    prepared = label_paper.label_of(pond.technician, read.one(Treatment, key))
    assert prepared.approved_by == ""
    with pytest.raises(Refusal, match="approves a label"):
        documents.issue_labels(pond.technician, pond.visit, tmp_path)

    issued = documents.issue_labels(pond.act, pond.visit, tmp_path)
    assert issued.file.read_bytes()
    assert "PZ-1" in " ".join(pages(issued.file.read_bytes()))
    paperwork.deliver(pond.technician, issued.document.id, "by hand", "owner")

    treatments.set_details(pond.act, key, directions="in two parts")
    with pytest.raises(Refusal, match="has changed since"):
        paperwork.deliver(pond.technician, issued.document.id, "by hand", "owner")
    again = documents.issue_labels(pond.act, pond.visit, tmp_path)
    assert again.document.version == 2
    with pytest.raises(Refusal, match="Version 2 of these labels took their place"):
        paperwork.deliver(pond.technician, issued.document.id, "by hand", "owner")
    paperwork.deliver(pond.technician, again.document.id, "by hand", "owner")

    row = replace(again.document, id=new_key(), by=pond.technician.by, version=3)
    planted(pond, row)
    with pytest.raises(Refusal, match="not checked by a veterinarian"):
        label_paper.must_be_checked(pond.visit)


def test_the_size_of_labels_is_the_practice_s(pond: Case, tmp_path: Path) -> None:
    dispensed(pond)
    assert label_paper.size() == label_paper.USUAL
    with pytest.raises(BadInput, match="There is no label of"):
        label_paper.set_size(pond.act, "1 x 1 mm")
    label_paper.set_size(pond.act, "4 x 3 1/3 in")
    issued = documents.issue_labels(pond.act, pond.visit, tmp_path)
    ((wide, high, _),) = boxes(issued.file.read_bytes())
    assert (wide, high) == (612, 792), "its own paper, whatever the practice's is"


def test_the_feed_directive_waits_for_its_text(pond: Case, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"558\.6 has not been read"):
        documents.issue_feed_directive(pond.act, pond.visit, tmp_path)


def test_the_dispensing_log_keeps_what_was_struck(pond: Case, tmp_path: Path) -> None:
    key = dispensed(pond)
    (line,) = log_paper.dispensing_log(pond.act, *YEAR).lines
    assert (line.medicine, line.amount, line.lot, line.by) == (
        "praziquantel",
        "6.78 g",
        "PZ-1",
        "Vera Test",
    )
    assert (line.client, line.label, line.on) == ("Clara Test", "none printed", D)
    issued = documents.issue_labels(pond.act, pond.visit, tmp_path)
    treatments.strike_treatment(pond.act, key, "wrong pond")
    (line,) = log_paper.dispensing_log(pond.act, *YEAR).lines
    assert line.note == "STRUCK: wrong pond; not handed over"
    assert line.label in issued.text
    assert "Nothing was dispensed" in log_paper.text(pond.act, "dispensing", D, D) or line


def moved(n: int, amount: str, balance: str, **more: object) -> Moved:
    known = {"whom": "Clara Test, koi pond, Biscuit", "by": "Vera Test", "witness": "", "why": ""}
    at = NOW + timedelta(hours=n)
    return Moved(at, "given here", Decimal(amount), Decimal(balance), **known | more)


def test_the_drug_log_is_made_of_the_stock_lines(pond: Case, tmp_path: Path) -> None:
    drug = Product(
        id=new_key(),
        medicine="alfaxalone-anaesthesia",
        name="alfaxalone solution",
        strength=10.0,
        strength_unit="mg/mL",
        pack=10.0,
        pack_unit="mL",
        controlled=True,
    )
    lot = Lot(id=new_key(), product=drug.id, number="AX-1", place="truck")
    steps = [("received", "10", "10"), ("given here", "-1.5", "8.5"), ("count", "8.4", "8.5")]
    rows = [
        StockLine(
            id=new_key(),
            lot=lot.id,
            kind=kind,
            amount=Decimal(amount),
            balance=Decimal(balance),
            visit=pond.visit if kind == "given here" else None,
            by=pond.act.by,
            at=MOMENT + timedelta(days=n),
        )
        for n, (kind, amount, balance) in enumerate(steps)
    ]
    planted(pond, drug, lot, *rows)
    (found,) = log_paper.drug_log(pond.act, D + timedelta(1), D + timedelta(9)).lots
    assert (found.brought, found.carried, unbalanced(found)) == (Decimal(10), Decimal("8.5"), ())
    assert [line.whom for line in found.lines] == ["Clara Test", ""]
    assert found.lines[1].said == "differs from the log by -0.10"
    text = log_paper.text(pond.act, "drugs", D, D)
    assert "What: brought forward to 2026-11-25; Balance, mL: 0.00" in text
    for which in log_paper.LOGS:
        assert log_paper.write(pond.act, which, *YEAR, tmp_path / f"{which}.pdf").stat().st_size
    with pytest.raises(BadInput, match=r"neither in \.pdf"):
        log_paper.write(pond.act, "drugs", *YEAR, tmp_path / "log.csv")


def drug_log(count: int) -> logs.DrugLog:
    lines = tuple(moved(n, "-0.1", f"{Decimal(50) - Decimal('0.1') * n}") for n in range(1, count))
    lot = DrugLot("alfaxalone, 10 mg/mL", "AX-1", D, "truck", "mL", Decimal(50), lines)
    return logs.DrugLog(PRACTICE, NOW, *YEAR, (lot,))


def dispensing_log(count: int) -> logs.DispensingLog:
    line = logs.Dispensed(
        D,
        "Casimir Dunnock, Long Pond House, Dunnock End",
        "koi of the long pond",
        "sulfadimethoxine+ormetoprim",
        "25 % w/w",
        "10 x 12.8 g",
        "LV-2207-B",
        D,
        "Ines Holloway-Brandt",
        "20261125-ab12",
    )
    return logs.DispensingLog(PRACTICE, NOW, *YEAR, (line,) * count)


@pytest.mark.parametrize("log", [drug_log(90), dispensing_log(60)], ids=["drugs", "dispensing"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_long_logs_repeat_their_heads_and_number_their_pages(log, paper):
    data = logs.pdf(log, paper)
    texts = pages(data)
    assert len(texts) > 1
    assert min(sizes(data)) >= 6
    for number, text in enumerate(texts, start=1):
        assert f"page {number} of {len(texts)}" in text
        assert "Witness" in text or "Label" in text
    for wide, high, rectangles in boxes(data):
        assert wide > high
        assert all(b[0] > 20 and b[2] < wide - 20 and b[1] > 20 for b in rectangles)


def test_the_balance_is_carried_to_the_head_of_each_page() -> None:
    log = drug_log(90)
    texts = [squeezed(text) for text in pages(logs.pdf(log))]
    balances = [f"{line.balance:.2f}" for line in log.lots[0].lines]
    carried = [text.split(" brought ")[0].split()[-1] for text in texts[1:]]
    ends = [[b for b in balances if f"-0.10 {b} Clara" in text][-1] for text in texts[:-1]]
    assert carried == ends
    assert f"carried forward after {YEAR[1]} {balances[-1]}" in texts[-1]
    assert body(logs.pdf(log)).count("given here") == 89


def test_a_line_that_does_not_balance_is_named() -> None:
    lot = replace(drug_log(4).lots[0], brought=Decimal(51))
    assert unbalanced(drug_log(4).lots[0]) == ()
    (said,) = unbalanced(lot)
    assert "the balance says 49.90 mL, and the lines before it give 50.90 mL" in said
    wrong = replace(drug_log(4), lots=(lot,))
    assert "This lot does not balance" in logs.text(wrong)
    assert "No controlled product" in logs.text(replace(wrong, lots=()))


def test_the_commands_print_and_write(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    engine.open_records(tmp_path / "practice.db")
    with engine.connection():
        made = case()
        made.read(temperature=17.0, ph=8.0, oxygen=9.0, ammonia=0.1)
        dispensed(made)
    monkeypatch.setenv("FINROUNDS_DATABASE", f"sqlite:///{tmp_path / 'practice.db'}")
    out = tmp_path / "out.pdf"
    for words, wanted in (
        (["antimicrobial"], "No antimicrobial was given"),
        (["antimicrobial", "--from", "2026-01-01", "--out", str(out)], "Written:"),
        (["log", "dispensing", "--from", "2026-01-01", "--to", "2026-12-31"], "praziquantel"),
        (["log", "drugs", "--out", str(tmp_path / "drugs.pdf")], "Written:"),
    ):
        monkeypatch.setattr("sys.argv", ["finrounds", *words])
        assert cli.main() == 0
        assert wanted in capsys.readouterr().out
    assert out.read_bytes().startswith(b"%PDF")
