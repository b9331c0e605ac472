"""What Enter and `r` do on the rows of a fish that are not typed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from core.practice import in_hand, in_hand_clock, samples
from core.practice.in_hand import Fish, HandView, Sore
from core.practice.keep import figures
from core.practice.names import name
from tui.widgets.dialog import reason
from tui.widgets.field import Entry
from tui.widgets.panel import Panel
from tui.widgets.strike import strike_dialog
from tui.workup import in_hand_ask, in_hand_fields, in_hand_stock
from tui.workup.in_hand_words import dose_words

if TYPE_CHECKING:
    from tui.workup.in_hand import InHandStage


def not_closed(view: HandView | None) -> Iterator[str]:
    """Give what each euthanasia of a water still lacks, a sentence for each fish."""
    for fish in view.fish if view else ():
        if fish.anaesthesia.lacking:
            yield in_hand_clock.not_closed(fish.handling, fish.anaesthesia.lacking)


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
    elif part == "shelf" and stage.fish is not None:
        in_hand_stock.enter(stage, stage.fish)
    elif stage.fish is not None:
        _lesion(stage, stage.fish, rest if part == "lesion" else "")


async def keep_sample(stage: InHandStage, tissue: str, entry: Entry) -> None:
    """Save whether a sample was got; another reason than the listed ones is asked for."""
    key = stage.fish_id
    if entry.words == "got":
        await stage.app.save(samples.got, stage.act(), key, tissue)
    elif entry.words != in_hand_fields.OTHER:
        await stage.app.save(samples.not_got, stage.act(), key, tissue, entry.words)
    else:

        async def done(why: str) -> None:
            await stage.app.save(samples.not_got, stage.act(), key, tissue, why)

        what = in_hand.tissues()[tissue].name
        stage.ask(reason(f"{what} not got", done, "the fish is too small"))


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


_STRUCK = {"lesion": "lesion", "given": "treatment", "sample": "sample"}
"""Part of the row to the table that a strike there writes; the others strike the fish."""


async def strike(stage: InHandStage, fish: Fish) -> None:
    """Strike what the current row is about, with a reason."""
    part, *rest = stage.form.field.key.split()
    found: tuple[Callable[..., None], str, str] = (
        in_hand.strike_fish,
        fish.handling.id,
        fish.handling.label,
    )
    if part == "lesion":
        found = (in_hand.strike_lesion, rest[0], "this lesion")
    elif part == "given":
        found = (in_hand.strike_given, rest[0], "this dose")
    elif part == "sample" and rest[1] in fish.samples:
        row = fish.samples[rest[1]]
        found = (samples.strike, row.id, f"sample {row.number}".strip())
    write, key, label = found
    await stage.may(_STRUCK.get(part, "handling"))
    stage.ask(await strike_dialog(stage.app, stage.act, label, write, key, "wrong fish"))
