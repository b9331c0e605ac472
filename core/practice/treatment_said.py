"""Treatments and rations as they are told to people: which days, how much, for whom."""

from __future__ import annotations

from datetime import date

from core.numbers import figures, plain
from core.practice import course_words, fed_in
from core.practice.dose_fish import fish_of_row
from core.practice.medicines import shelf
from core.practice.names import name
from core.practice.short import short as short
from core.records import read
from core.records.tables import FeedStep, Figure, FishGroup, Handling, System, Treatment, Visit


def days_of(row: Treatment) -> tuple[date, ...]:
    """Return the days of a treatment: every repeat, or every part of one given in parts."""
    start = row.starts or read.one(Visit, row.visit).day
    times = row.steps if row.repeats == 1 else row.repeats
    return course_words.part_days(start, times, apart_h(row))


def apart_h(row: Treatment) -> int:
    """Return the hours from one part or repeat of a treatment to the next."""
    return max(1, round(24 * (row.interval_days or 1)))


def frequency(row: Treatment) -> str:
    """Return how often a treatment is given, as its label and its record say it."""
    return course_words.frequency(row.repeats, row.steps, apart_h(row))


def sentence(text: str) -> str:
    """Return a text with a capital and a full stop.

    Examples
    --------
    >>> sentence("stir it in"), sentence("")
    ('Stir it in.', '')
    """
    bare = text.strip()
    if not bare:
        return ""
    stop = "" if bare.endswith((".", "!", "?")) else "."
    first = bare[0] if bare[1:2].isupper() else bare[0].upper()  # pH stays pH.
    return f"{first}{bare[1:]}{stop}"


def dose_words(row: Treatment, number: int = 0) -> str:
    """Return one dose for the owner: what, how much of what, where to, when, and how."""
    words = f"{name('medicine', row.medicine)}: {each_words(row)}, {_where_to(row)}."
    more = (_hour(row, number), scoop_words(row), sentence(row.directions))
    return " ".join((words, *filter(None, more)))


def _hour(row: Treatment, number: int) -> str:
    """Return when a part is given, where it is not at the same time of the day as the first."""
    apart = apart_h(row)
    if row.steps == 1 or row.repeats > 1 or apart % 24 == 0:
        return ""
    if not number:
        return f"Part 1 of {row.steps}."
    return f"Part {number + 1} of {row.steps}, {number * apart} h after the first."


def scoop_words(row: Treatment) -> str:
    """Return what is measured out in level scoops, the rounding with it; "" when not asked."""
    held = read.first(Figure, visit=row.visit, subject=row.id, name="scoops")
    return f"With a scoop: {held.working}" if held is not None else ""


def _where_to(row: Treatment) -> str:
    """Return the route in words of every day."""
    if row.route in ("bath", "prolonged bath") and row.handling is None:
        return f"into the water of {read.one(System, row.system).name}"
    if row.route in ("oral", "medicated feed"):
        return f"in the food of {whom(row)}"
    if row.route == "injection IM":
        return f"injected into muscle of {whom(row)}"
    return f"{row.route} for {whom(row)}"


def each_amount(row: Treatment) -> str:
    """Return the bare amount that is given at one time, as it can be measured out."""
    amount = row.amount / row.steps if row.steps > 1 else row.amount
    # No syringe shows a ten thousandth of a millilitre.
    fine = row.amount_unit == "mL" and amount < 100
    said = plain(float(figures(amount, 3))) if fine else short(amount)
    return f"{said} {row.amount_unit}"


def each_words(row: Treatment) -> str:
    """Return what is given at one time, with its product or its strength."""
    product = shelf()[row.product].name if row.product in shelf() else ""
    of = product or row.strength
    if product and is_diluted(row):
        of = f"{product} diluted to {row.strength}"
    each = fed_in.words(row) or each_amount(row)
    return each + (f" of {of}" if of else "")


def is_diluted(row: Treatment) -> bool:
    """Return whether what is given is a dilution of its product, not the product as it is."""
    return ", made 1 in " in row.strength or " diluent)" in row.strength


def amount_words(row: Treatment) -> str:
    """Return the amount of a treatment with its repeats or parts and what it needs in all."""
    text = f"{short(row.amount)} {row.amount_unit}"
    if parts := fed_in.words(row):
        text += f": {parts}"
    if row.steps > 1:
        each = short(row.amount / row.steps)
        text += f" in {row.steps} parts of {each}, {course_words.apart(apart_h(row))}"
    fish = fish_of_row(row)
    text += f" for each of {fish} fish" if fish > 1 else ""
    if row.repeats > 1:
        whole = short(row.amount * row.repeats * fish)
        text += f", {frequency(row)} ({whole} {row.amount_unit} together)"
    return text


def whom(row: Treatment) -> str:
    """Return which fish or water a treatment is for."""
    if row.handling is not None:
        return read.one(Handling, row.handling).label
    if row.group is not None:
        return read.one(FishGroup, row.group).name
    return read.one(System, row.system).name


def feed_words(step: FeedStep) -> str:
    """Return a ration with its gate, which is a whole sentence; a hold says its grams itself."""
    grams = "" if step.kind == "hold" else f"Feed {short(step.grams)} g a day. "
    return f"{grams}{step.gate}".strip()
