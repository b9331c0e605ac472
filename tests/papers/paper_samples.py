"""Invented papers for the tests, and how they are read back."""

from __future__ import annotations

import io
import re
from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal

import pypdf
import pypdfium2
import pypdfium2.raw as pdfium

from core.papers import care_sheet, day_summary, invoice, preventive, receipt, visit_record
from core.papers.care_sheet import CareSheet, Readings, Step
from core.papers.day_summary import DaySummary, DayVisit, Taking
from core.papers.invoice import Invoice, InvoiceLine, Payment, TaxLine
from core.papers.label import Label
from core.papers.parts import Currency, Party, Practice
from core.papers.preventive import Preventive, Rations
from core.papers.receipt import Receipt
from core.papers.sample_labels import SampleLabel, SampleLabels
from core.papers.visit_data import (
    Addendum,
    Awaited,
    Feeding,
    Figure,
    InHand,
    Problem,
    RampStep,
    Reading,
    Recheck,
    Sample,
    Signature,
    Slide,
    Treatment,
    VisitRecord,
    Watched,
)

D = date(2025, 11, 25)
NOW = datetime(2025, 11, 25, 16, 40, 12, tzinfo=timezone(timedelta(hours=1)))
POUND = Currency("GBP", "£")
PRACTICE = Practice(
    "Tregg & Holloway-Brandt <b>Aquatic</b> Rounds",
    ("4 Weir Lane", "Millbrook"),
    "+44 1632 960 111",
    "desk@example.org",
    "Tax no. 000 0000 00",
    "en-GB",
)
DUNNOCK = Party("Casimir Dunnock", ("Long Pond House", "Dunnock End"), "+44 1632 960 222")
NAMES = (
    "Łucja Żółć-Wąsowska",
    "Νίκος Παπαδόπουλος",
    "Nguyễn Thị Ánh Tuyết",
    "<b>&amp; Söhne</b>",
    "สมชาย",
)


def bill(lines: int = 4, client: Party = DUNNOCK) -> Invoice:
    """Return an invoice of so many lines and one taxed good, with a part payment."""
    work = tuple(
        InvoiceLine(f"Work number {n} on tank {n % 7}", Decimal(1), 1000 + n, "no tax", 1000 + n)
        for n in range(1, lines + 1)
    )
    kit = InvoiceLine("Test kit", Decimal("2.5"), 1280, "goods", 3200, "pcs")
    net = sum(line.amount for line in work) + kit.amount
    return Invoice(
        number="2025-0042",
        practice=PRACTICE,
        client=client,
        issued=NOW,
        visited=D,
        system="garden koi pond 18 000 L",
        lines=(*work, kit),
        net=net,
        taxes=(TaxLine("no tax", net - 3200, 0), TaxLine("7 % on goods", 3200, 224)),
        gross=net + 224,
        currency=POUND,
        payments=(Payment(D, "card", 2000),),
        terms="Please pay within 30 days by transfer.",
        due=date(2025, 12, 25),
        veterinarian="Marlo Tregg",
    )


RECEIPT = Receipt(
    number="R-0009",
    practice=PRACTICE,
    client=DUNNOCK,
    issued=NOW,
    invoice_number="2025-0042",
    gross=61392,
    payment=Payment(D, "transfer", 25000),
    currency=POUND,
    earlier=(Payment(date(2025, 11, 20), "cash", 10000),),
    received_by="Pell",
)

CARE = CareSheet(
    number="CS-0007",
    version=2,
    practice=PRACTICE,
    client=Party("Odile Fennimar"),
    issued=NOW,
    system="planted tank, 235 L",
    fish="14 tetras, soft-water shrimp",
    visited=D,
    found=("Your water holds much waste that is harmless only while the pH stays low.",),
    phone="+44 1632 960 111",
    stop_rules=("the pH is over 6.5 while ammonia is over 1", "a fish dies"),
    emergency_signs=("fish lie on their side", "two or more fish die in a day"),
    today=(
        Step(D, "Turn the air pump to full."),
        Step(D, "Feed nothing."),
        Step(D, "Change 35 L this evening."),
    ),
    steps=(
        Step(date(2025, 11, 27), "We ring you: have pH, ammonia and KH ready.", by_practice=True),
        Step(date(2025, 11, 26), "Change 35 L: two and a half of your 14 L buckets."),
        Step(date(2025, 11, 26), "Feed nothing."),
        Step(date(2025, 11, 27), "Change 35 L."),
        Step(date(2025, 12, 2), "We come to look again.", by_practice=True),
    ),
    avoid=("Do not raise the pH.", "No copper and no salt: shrimp live here."),
    watch=("Breathing: count one fish for a minute each evening.",),
    forgotten=("Never make up for it by two at once.",),
    dead=("Into a bag, chilled, not frozen.",),
    readings=Readings(("Temp. °C", "pH", "Ammonia mg/L as N"), ("26.0", "5.9", "3.0")),
    closing="The law of the place comes first.",
    cautions=("Wash hands and arms after touching tank water; cover cuts.",),
    withdrawal=(("The ten sedated trout", date(2025, 12, 16)),),
    after_hours="+44 1632 960 999",
    veterinarian="Marlo Tregg",
)

LABEL = Label(
    number="D-0031",
    practice=PRACTICE,
    issued=NOW,
    prescriber="Ines Holloway-Brandt",
    client="Corner Aquatics",
    species="platy (Xiphophorus maculatus)",
    animals="140 in the quarantine rack, 640 L",
    ingredients="Levamisole hydrochloride",
    strength="10 % powder (100 mg/g)",
    quantity="25.6 g in 2 sachets of 12.8 g",
    dosage="One sachet (12.8 g) dissolved in 2 L of rack water: 2 mg/L in the rack",
    frequency="once, again on 13 Dec 2025",
    route="bath",
    duration="24 h each",
    cautions="Wear gloves. UV and carbon off. Not for shrimp or snails.",
    withdrawal="Ornamental fish only: never for fish that will be eaten.",
    dispensed=D,
    expires=date(2026, 5, 25),
    approved_by="Marlo Tregg",
    lot="LV2207",
)

SAMPLES = SampleLabels(
    PRACTICE,
    "A3",
    NOW,
    tuple(
        SampleLabel(
            f"A3-{n}", "gill clip", "Biscuit", "Jory Brackwell", "goldfish pond", D, "13:40"
        )
        for n in range(1, 24)
    ),
)

SUMMARY = DaySummary(
    practice=PRACTICE,
    on=D,
    issued=NOW,
    visits=(
        DayVisit("08:30", "Larkspur Hotel", "koi pool", "signed", "Tregg", 30924, 30924),
        DayVisit("10:30", "Odile Fennimar", "planted tank", "signed", "Tregg", 30900, 30900),
        DayVisit("13:00", "Jory Brackwell", "goldfish pond", "waiting", "Tregg", 44442, 20000),
        DayVisit("15:30", "Casimir Dunnock", "koi pond", "not signed", "Tregg", 50200, 0),
    ),
    currency=POUND,
    unsigned=("Casimir Dunnock, 15:30",),
    waiting=(day_summary.Awaited("Gill swab PCR", "Casimir Dunnock", date(2025, 11, 30)),),
    takings=(Taking("card", 2, 61824), Taking("cash", 1, 20000)),
)

RECORD = VisitRecord(
    number="V-0118",
    version=2,
    practice=PRACTICE,
    client=Party("Jory Brackwell", ("Pond Cottage",), "+44 1632 960 333"),
    issued=NOW,
    visited=D,
    veterinarian="Marlo Tregg",
    system=(("System", "goldfish pond, 3 390 L ± 10 %"), ("Filter", "new, 3 weeks")),
    patients=("Group: 12 goldfish, age and sex unknown", "Biscuit: goldfish, orange"),
    complaint="Rubbing, one fish with a sore.",
    arrived="13:00",
    left="14:40",
    history=(("Losses", "none"),),
    watched=(Watched("group", "breathing", "84 a minute, tapped"),),
    water=(
        Reading("Temperature", "17.0 °C", "12.5 °C"),
        Reading("Nitrite, as N", "0.60 mg/L", "0.02 mg/L", "act", "over 0.1 mg/L", "drops, 13:10"),
    ),
    do_first=("salt to 100 mg/L chloride", "hold the food"),
    figures=(
        Figure(
            "Toxic ammonia, as N",
            "0.012 mg/L",
            "unionised fraction, fresh water",
            "f = 1 / (1 + 10^(pKa - pH))",
            "T = 290.15 K, pH = 8.0: 0.40 × 0.0306 = 0.012 mg/L",
            "Emerson et al. (1975)",
        ),
    ),
    in_hand=(
        InHand("Biscuit", "goldfish", "238 g", "weighed", "24 cm", lesions="sore 9 mm"),
        InHand("the others", "goldfish", "140 g", "estimated from length"),
    ),
    samples=(
        Sample("A3-1", "Biscuit", "swab", True, sent="culture"),
        Sample("A3-2", "group", "faeces", False, "feed-and-wait"),
    ),
    slides=(Slide("S1", "A3-3", "none", "100x", "10 fields", (("gill flukes", "4, 3, 0", "2+"),)),),
    awaited=(Awaited("bacterial culture", "laboratory", date(2025, 11, 30)),),
    feeding=Feeding(
        (("Biomass", "1 918 g"),),
        (RampStep("now", "5.8 g/d", "0.2 g N/d", "nitrite as N under 0.1 mg/L"),),
        "Nitrite 0.60 mg/L: no rise until under 0.1.",
    ),
    problems=(
        Problem("Gill flukes", "confirmed", ("2 of 3 fish",), ("no deaths",), ("a second look",)),
        Problem("Nitrite poisoning", "suspected", ("0.60 mg/L",)),
    ),
    treatments=(
        Treatment(
            "given here",
            "ceftazidime 25 mg/mL",
            "0.19 mL",
            "IM",
            "Biscuit",
            "13:40",
            (("Dose", "20 mg/kg × 0.238 kg = 4.76 mg"), ("Lot", "CF118")),
        ),
        Treatment("dispensed", "praziquantel", "6.78 g", "bath", "pond", "3 Dec"),
        Treatment("prescribed", "a refill", "6.78 g", "bath", "pond", "11 Dec"),
        Treatment("advised", "salt", "458 g", "in the water", "pond", "today"),
    ),
    consents=(("Sedation", "agreed by the owner, 13:20"),),
    rechecks=(Recheck(date(2025, 11, 28), "visit", "second injection"),),
    passed_over=(("X-ray", "not carried"),),
    charges=(("Call-out", 6000), ("Examination", 15000)),
    currency=POUND,
    signature=Signature("Marlo Tregg", NOW, "9f2c" * 16),
    addenda=(
        Addendum(
            "Culture grew nothing.",
            "result came",
            "Ines H.",
            datetime(2025, 12, 1, 9, 5, tzinfo=UTC),
            "ab12" * 16,
        ),
    ),
)

PREVENTION = Preventive(
    number="20251125-ab12-1",
    practice=PRACTICE,
    client=DUNNOCK,
    issued=NOW,
    title="Filter work order",
    about="For whoever sees to the filter. Power off before a hand goes into the water.",
    facts=(("Water", "garden koi pond"), ("Volume", "18 000 L"), ("Fish", "koi (22, 610 g each)")),
    dated=tuple(
        (D + timedelta(days=n), ("Measure ammonia and nitrite; change a fifth, 3 600 L. [a]",) * 3)
        for n in range(0, 40, 2)
    ),
    always=tuple(f"Look at the koi of {name}, 22 of them. [a]" for name in NAMES[:3]),
    rations=Rations((("10 to 15 °C", "0.2 to 0.5 %, aim 0.3 %", "40.3 g", "1", "read"),) * 7),
    record=True,
    grounds=("[a] common practice, no source",),
    veterinarian="Ines Holloway-Brandt",
)

PAPERS = {
    "invoice": (invoice, bill(4)),
    "long invoice": (invoice, bill(40)),
    "receipt": (receipt, RECEIPT),
    "care sheet": (care_sheet, CARE),
    "day": (day_summary, SUMMARY),
    "record": (visit_record, RECORD),
    "preventive plan": (preventive, PREVENTION),
}


def pages(data: bytes) -> list[str]:
    """Return the text of each page."""
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


def squeezed(text: str) -> str:
    """Return a text with every gap made one space."""
    return " ".join(text.split())


def body(data: bytes) -> str:
    """Return the text of all pages without head and foot strips, which are drawn last."""
    kept = []
    for text in pages(data):
        lines = text.split("\n")
        counted = next(n for n, line in enumerate(lines) if re.fullmatch(r"page \d+ of \d+", line))
        kept += lines[: counted - 1]
    return "\n".join(kept)


def figures(text: str) -> list[str]:
    """Return every figure in order."""
    return re.findall(r"\d+(?:[.,:]\d+)*", text)


def fonts(data: bytes) -> dict[str, bool]:
    """Return the fonts of a paper, and whether each is embedded."""
    found = {}
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        for font in page["/Resources"]["/Font"].values():
            about = font.get_object()
            kept = about.get("/FontDescriptor")
            found[str(about["/BaseFont"])] = bool(kept and "/FontFile2" in kept.get_object())
    return found


def boxes(data: bytes) -> list[tuple[float, float, list[tuple[float, float, float, float]]]]:
    """Return for each page its width, height and the boxes of its text, in points."""
    found = []
    for page in pypdfium2.PdfDocument(data):
        text = page.get_textpage()
        rectangles = [text.get_rect(n) for n in range(text.count_rects())]
        found.append((*page.get_size(), rectangles))
    return found


def sizes(data: bytes) -> list[float]:
    """Return the type size of every character drawn, in points."""
    found = []
    for page in pypdfium2.PdfDocument(data):
        text = page.get_textpage()
        for n in range(text.count_chars()):
            if not pdfium.FPDFText_IsGenerated(text.raw, n):
                found.append(pdfium.FPDFText_GetFontSize(text.raw, n))
    return found
