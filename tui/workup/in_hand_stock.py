"""The row of a fish in hand that says what its bath took from the shelf, and what Enter does."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from core.practice import stock_bath, stock_bath_view
from core.practice.in_hand import Fish
from core.practice.stock_bath_view import BathStock
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Field
from tui.widgets.row import Shown, Widths

if TYPE_CHECKING:
    from tui.workup.in_hand import InHandStage

TAKE = Choice("t", "take", "taken from a lot")
FRESH = Choice("t", "take", "a fresh bath, from a lot")
BACK = Choice("b", "back", "not used: back on the shelf")
WIDTHS = Widths(label=16, value=44)


def row(key: str) -> list[Field]:
    """Return the row, where the practice has an agent on its shelf."""
    if not stock_bath_view.kept():
        return []
    return [Field(f"shelf {key}", "Bath, from shelf", "act", hint="Enter: from which lot")]


def shown(fish: Fish, field: Field) -> Shown:
    """Return what stands in the row."""
    stock = fish.stock
    word = "act" if stock.open else ""
    value = "taken" if stock.taken else "not taken" if stock.open else ""
    hint = field.hint if stock.lots else ""
    return Shown(value, word, note="; ".join(filter(None, (stock.words, hint))))


def enter(stage: InHandStage, fish: Fish) -> None:
    """Ask from which lot the bath was taken, or say that it was not used."""
    stage.ask(_dialog(stage, fish))


def _dialog(stage: InHandStage, fish: Fish) -> FormDialog:
    key, stock = fish.handling.id, fish.stock

    async def done(answers: Answers) -> None:
        why = answers["why"].words if "why" in answers else ""
        if answers["what"].words == TAKE.value:
            lot = answers["lot"].words if "lot" in answers else ""
            much = answers["amount"].exact if "amount" in answers else None
            await stage.app.save(stock_bath.take, stage.act(), key, lot, much, why)
        else:
            seen = answers["witness"].words if "witness" in answers else ""
            await stage.app.save(stock_bath.unused, stage.act(), key, why, seen)

    title = f"Bath of {fish.handling.label}, and the shelf"
    return FormDialog(
        title, lambda answers: _fields(answers, stock), done, lambda _: stock.words, widths=WIDTHS
    )


def _fields(answers: Answers, stock: BathStock) -> Sequence[Field]:
    listed = (FRESH, BACK) if stock.taken else (TAKE,)
    found = [Field("what", "What", "choice", choices=listed, required=True)]
    if "what" not in answers:
        return found
    if answers["what"].words == BACK.value:
        found.append(Field("why", "Why", example="the fish woke up first", required=True))
        seen = Field("witness", "Seen by", required=True)
        return [*found, seen] if stock.controlled else found
    lots = tuple(Choice("", key, words) for key, words in stock.lots)
    hint = "what the bath needs, unless said"
    found.append(Field("lot", "Lot", "pick", choices=lots, hint="the oldest, unless said"))
    found.append(Field("amount", "How much", "money", example="1.20", hint=hint))
    if "lot" in answers and answers["lot"].words != stock.lots[0][0]:
        found.append(Field("why", "Why this lot", example="the oldest is in truck 2"))
    return found
