"""What the label of a dispensed medicine must hold, and what one still lacks.

The elements are those of the rule for medicines used outside their label, and what a State
adds to them (one State's rule was read; the practice checks its own).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Label:
    """A label as it would be printed; an empty field is one that is missing."""

    veterinarian: str = ""
    address: str = ""
    telephone: str = ""
    pharmacy_used: bool = False
    pharmacy: str = ""
    pharmacy_address: str = ""
    medicines: tuple[str, ...] = ()
    strength: str = ""
    quantity: str = ""
    client: str = ""
    species: str = ""
    animals: str = ""
    dose: str = ""
    frequency: str = ""
    route: str = ""
    duration: str = ""
    cautions: tuple[str, ...] = ()
    food_fish: bool | None = None
    withdrawal: str = ""
    dispensed: date | None = None
    batch: str = ""
    expiry: date | None = None
    approved_by: str = ""


@dataclass(frozen=True)
class Element:
    """One element of a label: the field that holds it, its words, and the rule that asks it."""

    field: str
    words: str
    rule: str
    source: str


_FEDERAL = "21 CFR 530.12 (2015 edition)"
_STATE = "Texas rule 573.40, as one State's example"
_OURS = "common practice"


def _federal(field: str, words: str) -> Element:
    return Element(field, words, _FEDERAL, "RX_C53012")


def _state(field: str, words: str) -> Element:
    return Element(field, words, _STATE, "RX_TXLAB")


def _ours(field: str, words: str) -> Element:
    return Element(field, words, _OURS, "CUSTOM_CLINIC")


ELEMENTS: tuple[Element, ...] = (
    _federal("veterinarian", "name of the veterinarian"),
    _federal("address", "address of the veterinarian"),
    _federal("pharmacy", "name of the dispensing pharmacy"),
    _federal("pharmacy_address", "address of the dispensing pharmacy"),
    _federal("medicines", "established name of each active substance"),
    _federal("animals", "which animal or group it is for"),
    _federal("dose", "dose"),
    _federal("frequency", "how often"),
    _federal("route", "by which route"),
    _federal("duration", "for how long"),
    _federal("cautions", "cautions"),
    _federal("withdrawal", "withdrawal time"),
    _state("telephone", "telephone of the veterinarian"),
    _state("dispensed", "date dispensed"),
    _state("client", "name of the client"),
    _state("species", "species"),
    _state("strength", "strength"),
    _state("quantity", "quantity"),
    _ours("batch", "batch"),
    _ours("expiry", "expiry date"),
    _ours("approved_by", "check of the veterinarian before it is handed over"),
)
"""Every element, the federal ones first."""


def missing(label: Label, elements: tuple[Element, ...] = ELEMENTS) -> tuple[str, ...]:
    """Name each element that a label lacks, in the order of the list.

    Parameters
    ----------
    label : Label
    elements : tuple of Element
        What is asked; the practice may add those of its State.

    Returns
    -------
    tuple of str
        Words of each missing element with its rule; empty when the label may be printed.
        A pharmacy is asked for only when one is used, a withdrawal unless it is known that
        the fish are not food.
    """
    return tuple(
        f"{element.words} ({element.rule})"
        for element in elements
        if _asked(element, label) and not _held(getattr(label, element.field))
    )


def _asked(element: Element, label: Label) -> bool:
    if element.field.startswith("pharmacy"):
        return label.pharmacy_used
    if element.field == "withdrawal":
        return label.food_fish is not False
    return True


def _held(value: object) -> bool:
    if isinstance(value, tuple):
        return bool(value) and all(str(part).strip() for part in value)
    return bool(str(value).strip()) if value is not None else False
