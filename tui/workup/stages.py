"""The stages of a workup by name; each module is loaded when its stage is first opened."""

from __future__ import annotations

from importlib import import_module

from core.practice.day import STAGES
from core.practice.visits import Opened
from core.records.tables import System
from tui.workup.stage import Stage

MODULES = {
    "History": ("tui.workup.history", "HistoryStage"),
    "Watching": ("tui.workup.watching", "WatchingStage"),
    "Water": ("tui.workup.water", "WaterStage"),
    "In hand": ("tui.workup.in_hand", "InHandStage"),
    "Biopsy": ("tui.workup.biopsy", "BiopsyStage"),
    "Feeding": ("tui.workup.feeding", "FeedingStage"),
    "Assessment": ("tui.workup.assessment", "AssessmentStage"),
    "Plan": ("tui.workup.plan", "PlanStage"),
    "Charges": ("tui.workup.charges", "ChargesStage"),
    "Sign": ("tui.workup.sign", "SignStage"),
}
"""Where each stage lives: module and class."""

BUILT = tuple(
    name
    for name in STAGES
    if name
    in (
        "History",
        "Watching",
        "Water",
        "In hand",
        "Biopsy",
        "Feeding",
        "Assessment",
        "Plan",
        "Charges",
        "Sign",
    )
)
"""The stages that are there, in the order in which they are walked."""


def make(name: str, opened: Opened, system: System) -> Stage:
    """Return a stage of a visit by its name, for one of the site's systems."""
    module, kind = MODULES[name]
    found: type[Stage] = getattr(import_module(module), kind)
    return found(opened, system)
