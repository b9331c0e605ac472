"""The one table of keys: the same key means the same thing on every screen.

Letters are commands while a form is in *moving*; while it is in *typing* every printable
key belongs to the field.
"""

from __future__ import annotations

from textual.binding import Binding

EVERYWHERE = {
    "day": ("d", "Day"),
    "bookings": ("b", "Bookings"),
    "paperwork": ("p", "Paperwork"),
    "find": ("slash", "Find"),
    "help": ("question_mark", "Help"),
    "quit": ("q", "Quit"),
    "undo": ("minus", "Take back"),
    "redo": ("plus", "Do again"),
    "changed": ("semicolon", "What changed"),
    "lock": ("exclamation_mark", "Lock"),
    "practice": ("asterisk", "The practice"),
    "back": ("escape,backspace", "Back"),
}
"""What works on every screen: identifier to key and label."""

IN_PLACE = {
    "open": ("enter", "Open"),
    "add": ("a", "Add"),
    "no_access": ("x", "No access"),
    "cancel": ("c", "Cancel visit"),
    "move": ("m", "Move"),
    "earlier": ("left", "Day before"),
    "later": ("right", "Day after"),
    "today": ("t", "Today"),
    "working": ("w", "Working"),
    "last": ("equals_sign", "As last time"),
    "normal": ("n", "Nothing abnormal"),
    "place": ("l", "Place"),
    "look_up": ("l", "Look up"),
    "basis": ("u", "Unit"),
    "finish": ("f", "Done"),
    "pass_over": ("o", "Pass over"),
    "strike": ("r", "Strike"),
    "other_water": ("e", "Other water"),
    "other_vet": ("e", "Mine or all"),
    "tap": ("space", "Tap"),
    "true": ("v", "Still true"),
    "take_all": ("v", "Take all"),
    "switch_on": ("v", "Switch on"),
    "next_stage": ("right", "Next"),
    "previous_stage": ("left", "Before"),
    "list": ("s", "Stages"),
    "clock": ("i", "Clock"),
    "print": ("g", "Paper"),
    "sign": ("z", "Sign"),
    "pay": ("y", "Payment"),
    "invoice": ("j", "Issue"),
    "give": ("h", "Given here"),
    "hand_over": ("h", "Handed over"),
    "log_call": ("k", "Log call"),
    "seen_to": ("f", "Seen to"),
    "close": ("f", "Close"),
    "as_text": ("w", "As text"),
    "copy": ("g", "Save a copy"),
    "other_list": ("s", "Other list"),
}
"""What works where it makes sense, always on the same key."""


def bind(name: str, action: str = "", label: str = "", *, show: bool = True) -> Binding:
    """Return the binding of a named key; the action is named like it unless said."""
    key, said = EVERYWHERE.get(name) or IN_PLACE[name]
    return Binding(key, action or name, label or said, show=show, id=name)
