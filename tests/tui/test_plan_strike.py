"""Who may not strike a part of the plan is told at the key, before a form opens."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from core import clock
from core.practice import plan_steps, setup, treatments
from core.practice.desk import Desk
from core.practice.who import people
from core.records import read
from core.records.keys import new_key
from core.records.tables import OwnerStep, Recheck, Treatment
from tests.practice.plan_cases import Case, case
from tests.practice.planted import add
from tests.small import ZONE
from tests.tui.stage_app import opened
from tui.widgets.dialog import FormDialog
from tui.workup.screen import WorkupScreen


async def test_who_may_not_strike_is_told_at_the_key(tmp_path: Path) -> None:
    file = tmp_path / "practice.db"

    def fill() -> Case:
        made = case(day=clock.today(ZONE), plants="no")
        setup.add_person(made.act, "Rae Desk", "reception")
        plan_steps.add_step(made.act, made.visit, "do", "net off dead fish")
        made.read(temperature=17.0, ph=8.0, nitrite=0.60, chloride=18.0, oxygen=8.0, ammonia=0.4)
        order = made.order(
            *("praziquantel-prolonged", "2 mg/L", "prolonged bath"),
            product="praziquantel-powder",
            off_hours=48.0,
        )
        treatments.order_treatment(made.act, made.visit, order)
        day = clock.today(ZONE) + timedelta(days=7)
        recheck = Recheck(
            id=new_key(),
            visit=made.visit,
            client=made.client,
            system=made.system,
            reason="count of worms",
            earliest=day,
            target=day,
            latest=day,
        )
        add(made.act, recheck)
        return made

    desk = Desk(file)
    try:
        made = desk.save(fill).result(timeout=30)
    finally:
        desk.close()
    async with opened(file, made.visit, "Plan") as here:
        here.app.worker = next(p for p in here.app.desk.look(people) if p.name == "Rae Desk")
        [treatment] = here.app.desk.look(read.find, Treatment)
        await here.go(f"treatment {treatment.id}")
        await here.press("r")
        assert isinstance(here.app.screen, WorkupScreen)
        told = str([n.message for n in here.app._notifications])
        assert "Only a veterinarian orders a treatment" in told
        [step] = here.app.desk.look(read.find, OwnerStep)
        await here.go(f"step {step.id}")
        await here.press("r")
        assert isinstance(here.app.screen, WorkupScreen)
        told = str([n.message for n in here.app._notifications])
        assert "Only a veterinarian or a technician writes what the owner is to do" in told
        # A recheck is hers to strike.
        [recheck] = here.app.desk.look(read.find, Recheck)
        await here.go(f"recheck {recheck.id}")
        await here.press("r")
        assert isinstance(here.app.screen, FormDialog)
