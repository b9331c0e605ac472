"""What Enter and `r` do on the rows of a fish that are not typed."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import TYPE_CHECKING

from core.practice import in_hand, samples
from core.practice.in_hand import Fish, Sore
from core.practice.keep import Act, figures
from core.practice.names import name
from tui.widgets.dialog import reason
from tui.widgets.panel import Panel
from tui.workup import in_hand_ask
from tui.workup.in_hand_words import dose_words

if TYPE_CHECKING:
    from tui.workup.in_hand import InHandStage


async def enter(stage: InHandStage, part: str, rest: str) -> None:
    """Do what Enter means on an act row: its name, and the id after it."""
    if part == "first":
        stage.action_add()
    elif part == "clock":
        stage.action_clock()
    elif part == "give":
        await stage.action_give()
    elif part == "given":
        _working(stage, rest)
    elif stage.fish is not None:
        _lesion(stage, stage.fish, rest if part == "lesion" else "")


def _lesion(stage: InHandStage, fish: Fish, lesion_id: str) -> None:
    old = next((x for x in fish.lesions if x.id == lesion_id), None)

    async def done(seen: Sore) -> None:
        if old is None:
            await stage.app.save(in_hand.add_lesion, stage.act(), fish.handling.id, seen)
        else:
            await stage.app.save(in_hand.change_lesion, stage.act(), old.id, seen)

    stage.ask(in_hand_ask.lesion(done, old))


def _working(stage: InHandStage, treatment_id: str) -> None:
    row = next((t for t in stage.fish.given if t.id == treatment_id), None) if stage.fish else None
    if row is not None:
        kept = stage.app.desk.look(figures, stage.visit_id, treatment_id).values()
        body = "\n\n".join([dose_words(row), *(f.working for f in kept)])
        stage.app.push_screen(Panel(f"Given: {name('medicine', row.medicine)}", body))


Strike = Callable[[Act, str, str], None]


def strike(stage: InHandStage, fish: Fish) -> None:
    """Strike what the current row is about, with a reason."""
    part, *rest = stage.form.field.key.split()
    found: tuple[Strike, str, str] = (in_hand.strike_fish, fish.handling.id, fish.handling.label)
    if part == "lesion":
        found = (in_hand.strike_lesion, rest[0], "this lesion")
    elif part == "given":
        found = (in_hand.strike_given, rest[0], "this dose")
    elif part == "sample" and rest[1] in fish.samples:
        row = fish.samples[rest[1]]
        found = (samples.strike, row.id, f"sample {row.number}".strip())
    stage.ask(reason(f"Strike {found[2]}", _striker(stage, found[0], found[1]), "wrong fish"))


def _striker(stage: InHandStage, write: Strike, row_id: str) -> Callable[[str], Awaitable[None]]:
    async def done(why: str) -> None:
        await stage.app.save(write, stage.act(), row_id, why)

    return done
