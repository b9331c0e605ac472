"""What a label is asked for: a withdrawal and a pharmacy only where they belong."""

from __future__ import annotations

from datetime import date

from core.dosing.labels import ELEMENTS, Element, Label, missing


def test_a_label_asks_a_withdrawal_and_a_pharmacy_only_where_they_belong() -> None:
    by_field = {element.field: f"{element.words} ({element.rule})" for element in ELEMENTS}
    pharmacy = {by_field["pharmacy"], by_field["pharmacy_address"]}
    for food_fish, used in ((True, True), (None, False), (False, True), (False, False)):
        lacks = set(missing(Label(food_fish=food_fish, pharmacy_used=used)))
        asked = set(by_field.values())
        asked -= set() if used else pharmacy
        asked -= {by_field["withdrawal"]} if food_fish is False else set()
        assert lacks == asked


def test_what_counts_as_written() -> None:
    number = (Element("number", "number", "rule", "WORK"),)
    names = (Element("medicines", "names", "rule", "WORK"),)
    day = (Element("expiry", "expiry", "rule", "WORK"),)
    for label in (Label(number="7"), Label(number=" 7 ")):
        assert missing(label, number) == ()
    for label in (Label(), Label(number="  ")):
        assert missing(label, number) == ("number (rule)",)
    assert missing(Label(medicines=("a", "b")), names) == ()
    for few in ((), ("a", ""), (" ", "b")):
        assert missing(Label(medicines=few), names) == ("names (rule)",)
    assert missing(Label(expiry=date(2027, 5, 1)), day) == ()
    assert missing(Label(), day) == ("expiry (rule)",)
