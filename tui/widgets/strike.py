"""Striking something of a visit, with the reason, and with what becomes of what it took."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from core.practice import stock_back
from core.practice.keep import Act
from core.practice.stock_back import Back
from tui.base import RoundsApp
from tui.widgets.dialog import Answers, FormDialog
from tui.widgets.field import Choice, Field
from tui.widgets.row import Widths

WIDTHS = Widths(label=16, value=44)
STAYS = (Choice("y", "yes", "yes"), Choice("n", "no", "no: given or thrown away"))


async def strike_dialog(
    app: RoundsApp,
    act: Callable[[], Act],
    label: str,
    write: Callable[..., None],
    key: str,
    example: str,
) -> FormDialog:
    """Return the dialog that strikes a row with the reason.

    Parameters
    ----------
    write : callable
        Takes who and when, the row and the reason; of a treatment that took something from the
        shelf also whether it was not used, and who saw it come back.
    key : str
        Id of the row.
    """
    back = await app.look(stock_back.of_row, key, app.today())

    def asked(answers: Answers) -> Sequence[Field]:
        return _fields(answers, back, example)

    async def done(answers: Answers) -> None:
        await app.save(write, act(), key, answers["why"].words, **_said(answers, back))

    return FormDialog(
        f"Strike {label}", asked, done, lambda answers: _below(answers, back), widths=WIDTHS
    )


def _fields(answers: Answers, back: Back | None, example: str) -> list[Field]:
    found = [Field("why", "Why", example=example, required=True)]
    if back is None:
        return found
    if back.given:
        found.append(Field("unused", "Was it unused", "choice", choices=STAYS, required=True))
    if back.controlled and _comes_back(answers, back):
        found.append(Field("witness", "Seen by", required=True))
    return found


def _comes_back(answers: Answers, back: Back) -> bool:
    return not back.given or ("unused" in answers and answers["unused"].words == "yes")


def _said(answers: Answers, back: Back | None) -> dict[str, Any]:
    if back is None:
        return {}
    witness = answers["witness"].words if "witness" in answers else ""
    return {"unused": _comes_back(answers, back), "witness": witness}


def _below(answers: Answers, back: Back | None) -> str:
    if back is None:
        return ""
    if _comes_back(answers, back):
        return f"{back.words}: goes back to the shelf, with a line of its own."
    if "unused" in answers:
        return f"{back.words}: stays taken."
    return f"Taken from the shelf: {back.words}."
