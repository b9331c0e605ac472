"""The label of a dispensed medicine. Every element the rules ask for is a field of its own.

Which elements are asked, and by which rule, stands in `core.dosing.labels`; the law of the place
decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from core.dosing import labels as rules
from core.errors import Refusal
from core.papers import label_box
from core.papers.blocks import Sheet
from core.papers.label_box import Field, Fields, Grid, Small
from core.papers.parts import PaperSize, Practice, day

GRID = Grid(wide=90, high=50, columns=2, rows=5)
ALWAYS = "For animal treatment only. Keep out of the reach of children."
"""Common practice, no source."""


@dataclass(frozen=True)
class Label:
    """What stands on a dispensed medicine.

    Parameters
    ----------
    number : str
        Number of the dispensing line.
    practice : Practice
        Name, address and phone are printed.
    issued : datetime
        Aware; goes into the file's metadata.
    prescriber, client : str
        The veterinarian who prescribed, and whose fish they are.
    species, animals : str
        What they are; and which: group, number, system.
    ingredients, strength, quantity : str
        Established name of each active substance; strength as repackaged; how much is handed over.
    dosage, frequency, route, duration : str
        Directions, in amounts for this system and this measure.
    cautions, withdrawal : str
        What to beware of; when fish may be eaten, or that they are not food.
    dispensed, expires : date or None
        Day of hand-over; last day of use.
    approved_by : str
        The veterinarian who checked the label before hand-over.
    lot : str
        Batch of the product.
    product : str
        Trade name; printed when known.
    pharmacy, pharmacy_address : str
        The pharmacy that dispenses, when one does; either asks for the other.
    """

    number: str
    practice: Practice
    issued: datetime
    prescriber: str
    client: str
    species: str
    animals: str
    ingredients: str
    strength: str
    quantity: str
    dosage: str
    frequency: str
    route: str
    duration: str
    cautions: str
    withdrawal: str
    dispensed: date | None
    expires: date | None
    approved_by: str
    lot: str
    product: str = ""
    pharmacy: str = ""
    pharmacy_address: str = ""


def missing(label: Label) -> tuple[str, ...]:
    """Name each element that is required and not there, with the rule that asks for it."""
    practice = label.practice
    head = () if practice.name.strip() else ("name of the practice (common practice)",)
    return head + rules.missing(
        rules.Label(
            veterinarian=label.prescriber,
            address="".join(practice.address),
            telephone=practice.phone,
            pharmacy_used=bool(label.pharmacy or label.pharmacy_address),
            pharmacy=label.pharmacy,
            pharmacy_address=label.pharmacy_address,
            medicines=(label.ingredients,),
            strength=label.strength,
            quantity=label.quantity,
            client=label.client,
            species=label.species,
            animals=label.animals,
            dose=label.dosage,
            frequency=label.frequency,
            route=label.route,
            duration=label.duration,
            cautions=(label.cautions,),
            withdrawal=label.withdrawal,
            dispensed=label.dispensed,
            batch=label.lot,
            expiry=label.expires,
            approved_by=label.approved_by,
            number=label.number,
        )
    )


def pdf(label: Label, grid: Grid = GRID) -> bytes:
    """Draw one label on a page of its own size; a long one goes on to a second page.

    Raises
    ------
    Refusal
        When an element is missing, or does not fit at 6 points: the sentence names it.
    """
    return label_box.roll(_about(label), [small(label)], grid)


def sheet_pdf(
    labels: Sequence[Label], paper: PaperSize = "A4", first: int = 1, grid: Grid = GRID
) -> bytes:
    """Draw labels on sheets, beginning at a place counted from 1; raises as `pdf` does."""
    if not labels:
        raise Refusal("There is no label to print.")
    return label_box.sheets(_about(labels[0]), [*map(small, labels)], grid, paper, first)


def text(label: Label) -> str:
    """Write a label as plain text, in the order of the PDF; raises as `pdf` does."""
    return label_box.lines_of([fields(label)])


def small(label: Label) -> Small:
    """Lay a label out with what stands again on a second one; refuses as `fields` does."""
    again = (
        (
            Field("Practice name", label.practice.name, named=False),
            Field("Practice phone", label.practice.phone, named=False),
        ),
        (
            Field("For", label.client),
            Field("Active ingredients", label.ingredients, named=False, strong=True),
            Field("Strength", label.strength, named=False, strong=True),
            Field("No.", label.number),
        ),
    )
    return Small(fields(label), again)


def fields(label: Label) -> Fields:
    """Lay a label out line by line; refuses when an element is missing."""
    if lacking := missing(label):
        raise Refusal(
            f"This label can not print: it lacks {', '.join(lacking)}.",
            "Fill in what is missing, then have the veterinarian check it.",
        )
    practice = label.practice
    return label_box.kept(
        (
            (Field("Practice name", practice.name, named=False, strong=True),),
            (
                Field("Practice address", ", ".join(practice.address), named=False),
                Field("Practice phone", practice.phone, named=False),
            ),
            (
                Field("Pharmacy", label.pharmacy),
                Field("Pharmacy address", label.pharmacy_address, named=False),
            ),
            (
                Field("For", label.client),
                Field("Species", label.species),
                Field("Animals", label.animals),
            ),
            (
                Field("Active ingredients", label.ingredients, named=False, strong=True),
                Field("Strength", label.strength, named=False, strong=True),
                Field("Product", label.product, named=False),
                Field("Quantity", label.quantity),
            ),
            (Field("Dosage", label.dosage, strong=True),),
            (
                Field("Frequency", label.frequency, strong=True),
                Field("Route", label.route),
                Field("Duration", label.duration),
            ),
            (Field("Cautions", label.cautions), Field("Always", ALWAYS, named=False)),
            (Field("Withdrawal", label.withdrawal, strong=True),),
            (
                Field("Prescriber", label.prescriber),
                Field("Checked by", label.approved_by),
            ),
            (
                Field("Dispensed", _day(label.dispensed)),
                Field("Use before the end of", _day(label.expires)),
                Field("Lot", label.lot),
                Field("No.", label.number),
            ),
        )
    )


def _about(label: Label) -> Sheet:
    return Sheet(label.practice, f"Label {label.number}", label.client, label.issued, ())


def _day(when: date | None) -> str:
    return day(when) if when else ""
