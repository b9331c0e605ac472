"""What the law and the label say about a medicine for fish that people may eat."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from core.dosing.medicines import Medicine, Prohibition
from core.dosing.recipient import Recipient, Stop, Weight, line
from core.numbers import plain

DIRECTIVE = "approved with feed directive"
FEED = Prohibition("21 CFR 530.11(b)", "extralabel use in or on feed", date(2026, 6, 20))
"""The rule that bars the use of a medicated feed outside its label, as it was read."""
FEED_SOURCES = ("RX_C53011", "RX_CPG615115")


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
        approved = frozenset(medicine.approved_groups)
        off_label = bool(approved) and not approved & (recipient.groups or frozenset())
        yield _withdrawal(medicine, off_label)
        yield from _labelled(medicine, off_label, stands)


def _law(medicine: Medicine, kind: Weight, sentence: str) -> Stop:
    if medicine.prohibited is not None:
        citation = medicine.prohibited.citation
        return Stop(kind, "food fish", sentence, citation, medicine.sources)
    return line(medicine, kind, "food fish", sentence, "us_food_fish")


def _withdrawal(medicine: Medicine, off_label: bool) -> Stop:
    days, heat = medicine.withdrawal_days, medicine.withdrawal_degree_days
    on_record = [] if days is None else [f"{days} days"]
    on_record += [] if heat is None else [f"{plain(heat)} degree-days"]
    if not on_record:
        sentence = f"the withdrawal of {medicine.name} is not known; the veterinarian sets it."
        return line(medicine, "stop", "withdrawal", f"Food fish: {sentence}", "withdrawal")
    if off_label:
        return _of_the_label(medicine, on_record)
    said = " or ".join(on_record) + (", whichever is longer" if on_record[1:] else "")
    sentence = f"Food fish: withdrawal {said}, counted from the last time it is given."
    return line(medicine, "note", "withdrawal", sentence, "withdrawal")


def _of_the_label(medicine: Medicine, on_record: list[str]) -> Stop:
    """Say that a withdrawal was found for other fish; in feed it has to be set anew."""
    only = f"{' or '.join(on_record)} of withdrawal were found for {_only(medicine)} only"
    sentence = f"Food fish: {only}; the veterinarian sets as many or more."
    kind: Weight = "stop" if medicine.us_food_fish == DIRECTIVE else "note"
    return line(medicine, kind, "withdrawal", sentence, "withdrawal")


def _only(medicine: Medicine) -> str:
    return ", ".join(medicine.approved_groups)


def _labelled(medicine: Medicine, off_label: bool, stands: str) -> Iterator[Stop]:
    if not medicine.us_food_fish.startswith("approved"):
        yield _law(medicine, "caution", f"Food fish: {stands}")
    elif medicine.us_food_fish == DIRECTIVE:
        yield _law(medicine, "note", "Food fish: in feed on the directive of a veterinarian only.")
    if off_label:
        yield _not_labelled(medicine)
    note = medicine.us_food_fish_note
    if note and medicine.us_food_fish.startswith("approved"):
        yield _law(medicine, "note", f"Food fish: approved, {note}.")


def _not_labelled(medicine: Medicine) -> Stop:
    """Say for which fish it is approved; a medicated feed has no use outside its label."""
    only = f"Food fish: approved only for {_only(medicine)}"
    if medicine.us_food_fish != DIRECTIVE:
        return _law(medicine, "caution", f"{only}.")
    sentence = (
        f"{only}, and {FEED.rule} permits no use in feed outside the label; the agency's policy "
        "guide 615.115 says when it does not act on it in minor species."
    )
    return Stop("stop", "feed directive", sentence, FEED.citation, FEED_SOURCES)
