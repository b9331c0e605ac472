"""Every row whose dose was read in no source says so wherever it appears; the others do not."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from core.dosing.medicines import Medicine
from core.papers import care_sheet as care_text
from core.papers import label as label_text
from core.papers import visit_record as record_text
from core.practice import care_paper, medicine_words, plan, record_paper, visits
from core.practice.dose_parts import Ask
from core.practice.from_memory import MEMORY, said
from core.practice.label_paper import label_of
from core.practice.medicines import catalogue, dose_words, label
from core.practice.order import Order
from core.practice.preparing import prepare
from core.practice.treatment_words import sentences
from core.records import read
from core.records.journal import edit
from core.records.keys import new_key
from core.records.tables import OwnerStep, Treatment
from tests.practice.plan_cases import MOMENT, Case, D, case
from tui.workup.plan_words import treatment_note


def treated(made: Case, row: Medicine) -> str:
    """Book a visit at which one row is dispensed; return the visit."""
    visit = visits.book(made.act, made.system, D, "14:30", made.act.by, "from memory")
    treatment = Treatment(
        id=new_key(),
        visit=visit,
        system=made.system,
        act="dispensed",
        medicine=row.key,
        route=row.routes[0],
        dose=row.dose_high,
        dose_unit=row.unit,
        amount=1.0,
        amount_unit="g",
        strength="100 % w/w",
        lot="L-1",
        expires=D + timedelta(200),
        by=made.act.by,
        at=MOMENT,
    )
    with edit("treatment", who=made.act.by, at=MOMENT, visit=visit) as doing:
        doing.add(treatment)
        stop = OwnerStep(id=new_key(), visit=visit, position=1, kind="stop", words="Stop and ring.")
        doing.add(stop)
    return visit


def places(made: Case, row: Medicine) -> dict[str, str]:
    """Return everything that is shown or printed of a row, by where."""
    visit = treated(made, row)
    [line] = plan.view(visit, made.system).treatments
    [treatment] = read.find(Treatment, visit=visit)
    order = Order("dispensed", row.key, Ask(f"{row.dose_high:g} {row.unit}", ""), made.system)
    return {
        "list to choose from": label(row),
        "dose in words": dose_words(row),
        "plan screen": treatment_note(line, D),
        "order dialog": " ".join(sentences(prepare(visit, order))),
        "shelf reading screen": medicine_words.whole(row).splitlines()[0].lower(),
        "label": label_text.text(label_of(made.act, treatment)),
        "care sheet": care_text.text(care_paper.care_sheet(visit, "7-1", 1, MOMENT)),
        "record": record_text.text(record_paper.record_of(visit)),
    }


def told(where: str, text: str) -> bool:
    """Whether a text says of its dose that it is from memory; wrapped lines are made one."""
    words = " ".join(text.split())
    if where in ("plan screen", "label", "care sheet", "record"):
        return MEMORY in words
    if where == "order dialog":
        return "The dose of this row is from memory" in words
    return "from memory" in words


def test_every_row_from_memory_says_so_wherever_it_appears(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = case("tropical_fresh", 100.0, "platy", 5)
    rows = catalogue()
    looked = {(k, where): told(where, text) for k in rows for where, text in _of(made, rows[k])}
    wrong = sorted(one for one, yes in looked.items() if yes is not rows[one[0]].from_memory)
    from_memory = [row for row in rows.values() if row.from_memory]
    with capsys.disabled():
        print(f"\nFrom memory: {len(from_memory)} of {len(rows)} rows, {len(looked)} places looked")
    assert not wrong
    assert len(from_memory) == 16


def _of(made: Case, row: Medicine) -> list[tuple[str, str]]:
    return list(places(made, row).items())


def test_a_row_that_is_not_in_the_list_says_nothing_of_itself(records: Path) -> None:
    assert said("no such row") == ""
