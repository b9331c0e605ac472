"""Baths that follow the first: one that keeps a fish asleep, and the overdose of a euthanasia."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from core.dosing.recipient import Recipient
from core.errors import BadInput, Refusal
from core.numbers import plain
from core.practice import in_hand_bath, in_hand_clock, in_hand_food, own_rows, recipient
from core.practice.door import edit
from core.practice.in_hand_agents import overdose
from core.practice.in_hand_bath import Bath
from core.practice.in_hand_euthanasia import CONSENT, GIVEN
from core.practice.keep import Act, Shown, keep_figures
from core.records import read
from core.records.journal import OpenEdit
from core.records.tables import FishGroup, Handling, System


@dataclass(frozen=True)
class First:
    """The first step of a euthanasia: whose consent, and the overdose or another way in words."""

    consent: str
    agent: str = ""
    mg_l: float | None = None
    bath_l: float | None = None
    way: str = ""


def bath(row: Handling, *, kills: bool = False) -> Bath:
    """Return what a bath needs, for a fish with the agent, level and volume as they would be."""
    return in_hand_bath.of(row, read.one(System, row.system), _who(row), kills=kills)


def _who(row: Handling) -> Recipient:
    fish = [read.one(FishGroup, row.group)] if row.group else []
    return recipient.of_fish(row.visit, read.one(System, row.system), fish, own_bath=True)


def set_withdrawal(act: Act, handling_id: str, days: int, ground: str) -> None:
    """Set the days of withdrawal for a sedated food fish, with the ground for them.

    Raises
    ------
    BadInput
        Without a ground, or for fewer days than are on record.
    NotAllowed
        For anybody but a veterinarian.
    """
    row = read.one(Handling, handling_id)
    warm = _who(row).temperature_c
    with edit("withdrawal set", who=act.by, at=act.at, visit=row.visit) as doing:
        in_hand_food.keep_days(doing, act, row, days, ground, warm)
        in_hand_bath.keep_sedation(doing, act, handling_id)


def maintain(act: Act, handling_id: str, mg_l: float, bath_l: float) -> str:
    """Mark that a fish goes into a weaker bath of the same agent, and keep what was weighed.

    Raises
    ------
    Refusal
        When no agent is on record, the bath is not weaker, or a stop stands against it.
    """
    own_rows.read_again()
    row = read.one(Handling, handling_id)
    if not row.agent:
        raise Refusal("The agent of the bath is not said.", "Choose it in its row first.")
    if row.agent_mg_l is not None and mg_l >= row.agent_mg_l:
        raise Refusal(
            f"{plain(mg_l)} mg/L is not weaker than the {plain(row.agent_mg_l)} of the first bath.",
            "What keeps a fish asleep is weaker than what put it to sleep.",
        )
    found = bath(replace(row, agent_mg_l=mg_l, bath_l=bath_l))
    if found.stops:
        raise Refusal(" ".join(found.stops), "Choose another level.")
    note = f"{plain(mg_l)} mg/L: {found.text}"

    def also(doing: OpenEdit) -> None:
        _keep(doing, act, row, "maintenance", found)

    return in_hand_clock.mark(act, handling_id, in_hand_clock.MAINTAIN, note, also=also)


def _keep(doing: OpenEdit, act: Act, row: Handling, name: str, found: Bath) -> None:
    key = "core.dosing.anaesthesia.anaesthetic_bath"
    amounts = {f"{name}, agent": found.agent_g, f"{name}, buffer": found.buffer_g}
    shown = {n: Shown(v, "g", found.working, key) for n, v in amounts.items() if v is not None}
    keep_figures(doing, act, row.visit, row.id, shown)


def first_step(act: Act, handling_id: str, first: First) -> str:
    """Mark the first step of a euthanasia, with the overdose that was given.

    Raises
    ------
    BadInput
        Without consent, or without agent, level and volume or another way in words.
    Refusal
        When the level is under every overdose on record.
    """
    own_rows.read_again()
    if not first.consent.strip():
        raise BadInput("Whose consent is not said.", "It belongs to the record.")
    row = read.one(Handling, handling_id)
    if not first.agent:
        if not first.way.strip():
            raise BadInput(
                "What the overdose is, is not said.", "Choose its agent, or say the way."
            )
        return _first(act, row, first, first.way.strip(), {}, None)
    text, columns, found = _weighed(row, first)
    return _first(act, row, first, text, columns, found)


def _weighed(row: Handling, first: First) -> tuple[str, dict[str, Any], Bath]:
    known = overdose(first.agent)
    if first.mg_l is None or first.bath_l is None:
        raise BadInput(
            "Level and volume of the overdose are needed.", "For example 400 mg/L, 25 L."
        )
    if known is None or first.mg_l < known.least:
        says = known.says if known else "none is on record"
        raise Refusal(
            f"{plain(first.mg_l)} mg/L of {first.agent} is no overdose: {says}.",
            "Put it to sleep with that, and mark the overdose when it is given.",
        )
    columns: dict[str, Any] = {
        "agent": first.agent,
        "agent_mg_l": first.mg_l,
        "bath_l": first.bath_l,
    }
    found = bath(replace(row, **columns), kills=True)
    return f"{first.agent} {plain(first.mg_l)} mg/L, {found.text}", columns, found


def _first(
    act: Act, row: Handling, first: First, text: str, columns: dict[str, Any], found: Bath | None
) -> str:
    """Mark it; the bath in which a fish already lay stays what stands in its rows."""
    slept = in_hand_clock.of(row).at(in_hand_clock.INTO) is not None

    def also(doing: OpenEdit) -> None:
        if columns and not slept:
            doing.change(Handling, row.id, **columns)
        if found is not None:
            _keep(doing, act, row, "overdose", found)

    note = f"{CONSENT}{first.consent.strip()}{GIVEN}{text}"
    return in_hand_clock.mark(act, row.id, in_hand_clock.FIRST, note, also=also)
