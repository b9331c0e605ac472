"""All eight visits finished: signed, and their papers read back from the PDFs."""

from __future__ import annotations

import io
import re

import pypdf
import pytest

from core.papers import care_sheet, visit_record
from core.papers.parts import day
from core.practice import care_paper, paperwork, record_paper, sign
from core.records import read
from core.records.tables import Charge, Invoice, Recheck, Visit
from fixtures.demo.build import VISITS
from tests.demo.conftest import NOW, D, Demo

CLIENTS = {
    "a1": "Larkspur Hotel",
    "a2": "Odile Fennimar",
    "a3": "Jory Brackwell",
    "a4": "Casimir Dunnock",
    "b1": "Ashgill Trout",
    "b2": "Rosalind Vey",
    "b3": "Okonjo-Marsh Dental Rooms",
    "b4": "Corner Aquatics",
}
NET_TAX_GROSS = {
    "a1": (30_700, 224, 30_924),
    "a2": (30_900, 0, 30_900),
    "a3": (44_400, 42, 44_442),
    "a4": (50_200, 0, 50_200),
    "b1": (65_000, 0, 65_000),
    "b2": (23_600, 35, 23_635),
    "b3": (43_200, 0, 43_200),
    "b4": (37_900, 0, 37_900),
}
ON_SHEET = {
    "a1": ("63 g", "117 g", "ammonia is under 0.25 mg/L N", "nitrite under 0.1 mg/L N"),
    "a2": ("No food for 2 days", "Do NOT raise the pH", "2.55, 2.17, 1.84, 1.57", "no salt"),
    "a3": ("458.3 g", "6.78 g", "5.8 g", "Biscuit"),
    "a4": ("no fish, water, net or plant leaves this site", "chilled, not frozen"),
    "b1": ("864 g at once, then 972 g fed in evenly over 60 min", "Hold 7950 g a day", "16 Dec"),
    "b2": ("11.27 g", "No copper"),
    "b3": ("10.8 mL", "6 January 2027", "hospital tank"),
    "b4": ("12.8 g", "Change 30 %", "Tanks 5 and 6", "nets of their own"),
}
ON_LABEL = {
    "a3": ("praziquantel", "6.78 g", "PZ-2210", "every 8 days"),
    "b3": ("copper sulfate", "32.4 mL", "10.8 mL each time, for hospital tank", "CU-0098"),
    "b4": ("levamisole", "12.8 g", "LV-1130", "every 18 days"),
}
EVERY = pytest.mark.parametrize("key", CLIENTS)


def text_of(demo: Demo, key: str, paper: str) -> str:
    """Return the text of a paper, every gap made one space."""
    data = demo.house.issued[key][paper].file.read_bytes()
    pages = (page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)
    return " ".join(" ".join(pages).split())


def test_the_eight_are_the_eight() -> None:
    assert set(VISITS) == set(CLIENTS)


@EVERY
def test_signed_and_unchanged_since(demo: Demo, key: str) -> None:
    visit = read.one(Visit, demo.visit(key))
    assert visit.state == "signed"
    assert sign.verify(visit.id)
    assert not [m for m in sign.missing(visit.id) if m.blocks]


@EVERY
def test_invoice_read_back(demo: Demo, key: str) -> None:
    [invoice] = read.find(Invoice, visit=demo.visit(key))
    assert (invoice.net_minor, invoice.tax_minor, invoice.gross_minor) == NET_TAX_GROSS[key]
    said = text_of(demo, key, "invoice")
    assert CLIENTS[key] in said
    assert "invented" in said
    gross = NET_TAX_GROSS[key][2]
    assert f"Total {gross // 100}.{gross % 100:02d} USD" in said
    for charge in read.find(Charge, visit=demo.visit(key)):
        assert charge.words in said


@EVERY
def test_care_sheet_read_back(demo: Demo, key: str) -> None:
    said = text_of(demo, key, "care sheet")
    for part in ("What to do for your fish", CLIENTS[key], "555-0100", *ON_SHEET[key]):
        assert part in said


@EVERY
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_care_sheet_is_one_leaf_with_today_on_its_front(demo: Demo, key: str, paper: str) -> None:
    sheet = care_paper.care_sheet(demo.visit(key), "1", 1, NOW)
    read_back = pypdf.PdfReader(io.BytesIO(care_sheet.pdf(sheet, paper)))
    front, *back = [" ".join(page.extract_text().split()) for page in read_back.pages]
    assert len(back) <= 1
    listed = (*sheet.avoid, *sheet.stop_rules, *sheet.movement, *sheet.withheld)
    for part in (*(step.do for step in sheet.today), *listed, "Ring 555-0100"):
        assert part.replace("\u00a0", " ") in front.replace("\u00a0", " ")
    dates = {sheet.visited, *(step.on for step in sheet.steps)}
    eaten = [first for _, first in sheet.withdrawal]
    whole = " ".join((front, *back))
    assert {on: whole.count(day(on)) for on in dates} == {on: 1 + eaten.count(on) for on in dates}


@EVERY
def test_visit_record_read_back(demo: Demo, key: str) -> None:
    said = text_of(demo, key, "record")
    assert CLIENTS[key] in said
    vet = "Marlo Tregg" if key.startswith("a") else "Ines Holloway-Brandt"
    assert vet in said


@pytest.mark.parametrize("key", ON_LABEL)
def test_label_read_back(demo: Demo, key: str) -> None:
    said = text_of(demo, key, "labels")
    for part in (CLIENTS[key], *ON_LABEL[key]):
        assert part in said


def test_the_day_adds_up(demo: Demo) -> None:
    del demo
    ended = paperwork.end_of_day(D)
    assert ended.charged_minor == 326_201
    assert ended.taken_minor == 105_459
    assert ended.owed_minor == 220_742
    assert not [line for line in ended.lines if line.kind == "unsigned"]


@pytest.mark.parametrize(
    ("key", "code", "times"),
    [("a3", "praziquantel_dose", 2), ("b3", "copper_solution", 1), ("b4", "levamisole_powder", 2)],
)
def test_what_was_dispensed_leads_from_its_charge(
    demo: Demo, key: str, code: str, times: int
) -> None:
    [charge] = read.find(Charge, visit=demo.visit(key), code=code)
    assert charge.quantity == times
    assert charge.origins.startswith("treatment:")


def test_the_rechecks_of_the_day_are_booked_inside_their_window(demo: Demo) -> None:
    planned = [r for key in NET_TAX_GROSS for r in read.find(Recheck, visit=demo.visit(key))]
    booked = [r for r in planned if r.booked]
    assert len(booked) >= 6
    assert {r.kind for r in booked} == {"visit"}
    for row in booked:
        assert row.earliest <= read.one(Visit, row.booked or "").day <= row.latest


KEYS = re.compile(r"\b[a-z]+_[a-z_]+\b|\b[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f-]{20,}")
"""What only the records should hold: keys of the catalogue and ids of rows."""


@pytest.mark.parametrize("key", VISITS)
def test_the_papers_speak_in_words(demo: Demo, key: str) -> None:
    visit = demo.visit(key)
    record = visit_record.text(record_paper.record_of(visit))
    sheet = care_sheet.text(care_paper.care_sheet(visit, "1", 1, NOW))
    assert not KEYS.findall(record + sheet)
