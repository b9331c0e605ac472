"""What the label of a dispensed medicine must hold, and what one still lacks.

The elements are those of the rule for medicines used outside their label, and what a State
adds to them (the rules of three States were read, as examples; the practice checks its own).
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
    number: str = ""


@dataclass(frozen=True)
class Element:
    """One element of a label: the field that holds it, its words, and the rule that asks it."""

    field: str
    words: str
    rule: str
    source: str


_FEDERAL = "21 CFR 530.12 (text of 2026-04-05)"
_STATE = "Texas rule 573.40, as one State's example"
_DATED = "Maryland COMAR 15.14.01.12-2, as one State's example"
_CHECKED = "Washington RCW 18.92.013, as one State's example"
_OURS = "common practice"


def _federal(field: str, words: str) -> Element:
    return Element(field, words, _FEDERAL, "RX_C53012_NOW")


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
    Element("expiry", "expiry date", _DATED, "RX_MDLAB"),
    Element(
        "approved_by",
        "check of the veterinarian before it is handed over",
        _CHECKED,
        "RX_WALAB",
    ),
    _ours("batch", "batch"),
    _ours("number", "number of the label"),
)
"""Every element, the federal ones first."""

NOT_READ = (
    "Regulation (EU) 2019/6 leaves the rules of retail to national law (art. 103, read in part); "
    "no national rule on the label of a dispensed medicine was read, nor art. 105.",
    "The rules of other States than Texas, Maryland and Washington were not read.",
    "21 CFR 201.105 is about the manufacturer's own package and was read in part.",
)
"""What was not read, and so is not asked here: the law of the place decides."""


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
