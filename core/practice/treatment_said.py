"""Treatments and rations as they are told to people: which days, how much, for whom."""

from __future__ import annotations

from datetime import date

from core.dosing import course
from core.numbers import figures, plain
from core.practice.medicines import shelf
from core.practice.names import name
from core.records import read
from core.records.tables import FeedStep, FishGroup, Handling, System, Treatment, Visit


def days_of(row: Treatment) -> tuple[date, ...]:
    """Return the days of a treatment: every repeat, or every part of one given in parts."""
    start = row.starts or read.one(Visit, row.visit).day
    if row.steps > 1 and row.repeats == 1:
        return course.dates(start, 1, row.steps)
    every = max(1, round(row.interval_days or 1))
    return course.dates(start, every, row.repeats)


def short(value: float) -> str:
    """Return a figure to four figures without trailing zeros.

    Examples
    --------
    >>> short(6.78), short(5508.0)
    ('6.78', '5508')
    """
    return plain(float(figures(value, 4)))


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


def dose_words(row: Treatment) -> str:
    """Return one dose for the owner: what, how much of what, where to, and how."""
    words = f"{name('medicine', row.medicine)}: {each_words(row)}, {_where_to(row)}."
    return f"{words} {sentence(row.directions)}".strip()


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
    said = plain(float(figures(amount, 3))) if row.amount_unit == "mL" else short(amount)
    return f"{said} {row.amount_unit}"


def each_words(row: Treatment) -> str:
    """Return what is given at one time, with its product or its strength."""
    product = shelf()[row.product].name if row.product in shelf() else ""
    of = product or row.strength
    return each_amount(row) + (f" of {of}" if of else "")


def amount_words(row: Treatment) -> str:
    """Return the amount of a treatment with its repeats or parts and what it needs in all."""
    text = f"{short(row.amount)} {row.amount_unit}"
    if row.steps > 1:
        text += f" in {row.steps} parts of {short(row.amount / row.steps)}, a day apart"
    if row.repeats > 1:
        whole = short(row.amount * row.repeats)
        text += f", {row.repeats} times ({whole} {row.amount_unit} in all)"
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
