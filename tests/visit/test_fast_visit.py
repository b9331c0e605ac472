"""Water, charges and the invoice of a demo visit in a real terminal, typed without waiting."""

from __future__ import annotations

import random
import sqlite3
import sys
from contextlib import closing
from decimal import Decimal
from pathlib import Path

from core.practice.desk import Desk
from core.practice.who import people
from core.records import engine, read
from core.records.tables import Charge, Invoice, Payment, Reading, Visit
from fixtures.demo.build import build
from tests.core.records.checks import all_hold
from tests.terminal import DOWN, ENTER, ESC, RIGHT, Terminal
from tests.visit.driver import pdf_text
from tests.visit.expect import bare, half_up

GOODS = "Filter wool & <b>"


def started(file: Path, who: str) -> Terminal:
    return Terminal(
        [sys.executable, "-m", "tui.cli", "--as", who],
        env={"FINROUNDS_DATABASE": f"sqlite:///{file}"},
    )


def count(file: Path, table: str, where: str) -> int:
    with closing(sqlite3.connect(file)) as found:
        return int(found.execute(f'SELECT count(*) FROM "{table}" WHERE {where}').fetchone()[0])


def go_to(app: Terminal, stage: str) -> None:
    """Press the right arrow until a stage is open; the demo has a line above the heading."""
    for _ in range(12):
        if stage.upper() in app.lines[2].split():
            return
        before = app.lines[2]
        app.send(RIGHT)
        app.wait_for(lambda before=before: app.lines[2] != before, 20, "the next stage")
        app.settle(0.06)
    raise AssertionError(f"no stage {stage}:\n{app.text}")


def test_water_charges_and_invoice_with_fast_keys(tmp_path: Path) -> None:
    seed = random.SystemRandom().randrange(10**9)
    print(f"seed {seed}")
    r = random.Random(seed)
    oxygen, warm, ph = (f"{r.uniform(*ends):.2f}" for ends in ((5, 9), (16, 24), (7, 8.4)))
    minor, many = r.randint(101, 9999), r.randint(2, 9)
    file = build(tmp_path)
    desk = Desk(file)
    try:
        vet = next(p for p in desk.look(people) if p.signs)
    finally:
        desk.close()
    with started(file, vet.name) as app:
        app.wait(r"(?m)^> ")
        app.settle(0.06)
        app.send(DOWN * 3)
        app.settle(0.1)
        app.send(ENTER)
        app.wait(r"\bHISTORY\b|\b[A-Z]{5,}\b")
        app.settle(0.1)
        go_to(app, "Water")
        app.send(ENTER + oxygen + ENTER + warm + ENTER + ph + ENTER + ESC)
        app.wait_for(
            lambda: all(count(file, "reading", f"typed = '{t}'") for t in (oxygen, warm, ph)),
            20,
            "three readings",
        )
        app.settle(0.1)
        go_to(app, "Charges")
        app.send("v")
        app.wait_for(lambda: "lines offered" not in app.text, 10, "the offered lines, taken,")
        app.send("a")
        app.wait("Add a line to the bill")
        app.settle(0.1)
        app.send(ENTER + f"{many}" + ENTER + GOODS + ENTER + bare(minor) + ENTER + "g" + "f")
        app.wait_for(lambda: count(file, "charge", f"words = '{GOODS}'") == 1, 10, "the goods")
        app.settle(0.1)
        app.send("j")
        app.wait(r"Issue the invoice\?")
        app.send("j")
        app.wait(r"Invoice \d{4}-\d{4} issued")
        app.settle(0.1)
        app.send("y")
        app.wait("Amount taken")
        app.settle(0.1)
        app.send("10.00" + ENTER + "c" + ENTER + "f")
        app.wait("Paid 10.00")
    engine.open_records(file)
    with engine.connection():
        (goods,) = read.find(Charge, words=GOODS)
        invoice = read.one(Invoice, goods.invoice or "")
        lines = read.find(Charge, visit=goods.visit)
        assert (goods.quantity, goods.unit_minor) == (Decimal(many), minor)
        net = sum(half_up(c.quantity * c.unit_minor) for c in lines)
        assert invoice.net_minor == net
        assert [p.amount_minor for p in read.find(Payment, visit=goods.visit)][-1] == 1000
        held = {x.analyte: x.typed for x in read.find(Reading, visit=goods.visit, place="here")}
        assert (held["oxygen"], held["temperature"], held["ph"]) == (oxygen, warm, ph)
        (paper,) = (file.parent / "papers").glob(f"invoice-{invoice.number}-*.pdf")
        said = pdf_text(paper)
        assert f"{GOODS} goods {many} {bare(minor)} {bare(many * minor)}" in said
        assert f"Total {bare(invoice.gross_minor)} USD" in said
        assert read.one(Visit, goods.visit).state == "open"
        all_hold()
