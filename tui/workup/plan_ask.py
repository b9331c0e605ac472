"""The dialogs that the plan opens, and what each saves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.practice import corrections, level_ramps, plan_steps, treatments, trials
from core.practice.corrections import Correction
from core.practice.level_ramps import Change
from core.practice.plan import TreatmentLine
from core.records.tables import OwnerStep
from tui.widgets.dialog import Answers
from tui.workup import plan_dialogs
from tui.workup.plan_levels import LevelDialog

if TYPE_CHECKING:
    from tui.workup.plan import PlanStage


def step(stage: PlanStage, row: OwnerStep | None) -> None:
    """Ask for a line for the owner, new or changed."""

    async def done(answers: Answers) -> None:
        kind, words = answers["kind"].words, answers["words"].words
        day = answers["day"].day if "day" in answers else None
        act, app = stage.act(), stage.app
        if row is None:
            await app.save(plan_steps.add_step, act, stage.visit_id, kind, words, day)
        else:
            await app.save(plan_steps.change_step, act, row.id, kind=kind, words=words, day=day)

    stage.ask(plan_dialogs.step_dialog(done, row, stage.app.today()))


def correction(stage: PlanStage) -> None:
    """Ask what corrects the water."""

    async def made(wanted: Correction) -> None:
        await stage.app.save(corrections.correct_water, stage.act(), stage.visit_id, wanted)

    stage.ask(plan_dialogs.CorrectDialog(stage.visit_id, stage.system.id, made, stage.app.today()))


def level(stage: PlanStage) -> None:
    """Ask which level of the water is changed, and how far."""

    async def made(wanted: Change) -> None:
        await stage.app.save(level_ramps.make, stage.act(), stage.visit_id, wanted)

    stage.ask(LevelDialog(stage.visit_id, stage.system.id, made))


def details(stage: PlanStage, line: TreatmentLine) -> None:
    """Ask for lot, place and directions of a treatment, and for its trial."""

    async def done(answers: Answers) -> None:
        columns = plan_dialogs.details_of(answers)
        key, act = line.treatment.id, stage.act()
        await stage.app.save(treatments.set_details, act, key, **columns)
        if tried := plan_dialogs.trial_of(answers):
            await stage.app.save(trials.note, act, key, *tried)

    stage.ask(plan_dialogs.details_dialog(done, line.treatment, stage.app.today()))
