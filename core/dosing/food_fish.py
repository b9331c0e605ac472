"""What the law and the label say about a medicine for fish that people may eat."""

from __future__ import annotations

from collections.abc import Iterator

from core.dosing.medicines import Medicine
from core.dosing.recipient import Recipient, Stop, Weight, line


def food_fish(medicine: Medicine, recipient: Recipient) -> Iterator[Stop]:
    """Give the lines about food fish; none for fish that are not food."""
    if recipient.food_fish is False:
        return
    stands = f"{medicine.name} is {medicine.food_fish_ground}"
    if recipient.food_fish is None:
        yield _law(medicine, "caution", f"Not known whether these are food fish: {stands}")
    elif medicine.never_in_food_fish:
        yield _law(medicine, "stop", f"Food fish: {stands}")
    else:
        yield _withdrawal(medicine)
        yield from _labelled(medicine, recipient, stands)


def _law(medicine: Medicine, kind: Weight, sentence: str) -> Stop:
    if medicine.prohibited is not None:
        citation = medicine.prohibited.citation
        return Stop(kind, "food fish", sentence, citation, medicine.sources)
    return line(medicine, kind, "food fish", sentence, "us_food_fish")


def _withdrawal(medicine: Medicine) -> Stop:
    days = medicine.withdrawal_days
    if days is None:
        sentence = f"the withdrawal of {medicine.name} is not known; the veterinarian sets it."
        return line(medicine, "stop", "withdrawal", f"Food fish: {sentence}", "withdrawal")
    sentence = f"Food fish: withdrawal {days} days, counted from the last time it is given."
    return line(medicine, "note", "withdrawal", sentence, "withdrawal")


def _labelled(medicine: Medicine, recipient: Recipient, stands: str) -> Iterator[Stop]:
    if not medicine.us_food_fish.startswith("approved"):
        yield _law(medicine, "caution", f"Food fish: {stands}")
    elif medicine.us_food_fish == "approved with feed directive":
        yield _law(medicine, "note", "Food fish: in feed on the directive of a veterinarian only.")
    approved = medicine.approved_groups
    if approved and not (recipient.groups or frozenset()) & set(approved):
        yield _law(medicine, "caution", f"Food fish: approved only for {', '.join(approved)}.")
