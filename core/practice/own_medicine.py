"""Medicines that the practice writes itself, in the catalogue's form, and what is wrong in one."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from math import isfinite
from typing import Any

from core.dosing.medicines import ROUTES, STATUSES, SWITCHES, SYSTEMS, Medicine
from core.errors import BadInput, Refusal
from core.practice import own_rows
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.medicines import refused_by_name, refused_names
from core.practice.own_row import (
    EXTRA,
    HOW,
    NOT_KNOWN,
    READ,
    SUBJECTS,
    food_stance,
    medicine_of,
    stance,
)
from core.practice.who import must_be_vet
from core.records import read
from core.records.keys import new_key
from core.records.tables import OwnMedicine, Product, Treatment

NOT_TYPED = ("key", "prohibited", "dangers")
"""What a row of the practice's own does not say: what forbids it is in the catalogue."""
_FORM = {f.name: f for f in fields(Medicine) if f.name not in NOT_TYPED}
MUST = tuple(
    name for name, f in _FORM.items() if f.default is MISSING and f.default_factory is MISSING
)
"""What every row has to say."""
_LISTS: dict[str, frozenset[str]] = {
    "routes": ROUTES,
    "systems": frozenset(SYSTEMS),
    "switch_off": SWITCHES,
}
_FLAGS = tuple(name for name, f in _FORM.items() if f.type == "bool")
_NUMBERS = tuple(name for name, f in _FORM.items() if f.type in ("float", "float | None"))
_WHOLE = tuple(name for name, f in _FORM.items() if f.type == "int | None")
_TEXTS = tuple(name for name, f in _FORM.items() if f.type == "str")
_MANY = tuple(name for name, f in _FORM.items() if f.type == "tuple[str, ...]")
_MAPS = ("known", "remarks", "grounds")
MAY_BE_ZERO = ("withdrawal_days",)


def own(act: Act, row: Mapping[str, Any], key: str = "") -> str:
    """Write a medicine of the practice's own, or change one; return its key. It is off until read.

    Parameters
    ----------
    row : mapping
        In the form of the catalogue's medicines: the same keys, lists and words; beside them
        ``allowed`` (subjects of `own_row.SUBJECTS` that it does not harm), ``grounds`` (a source
        for each field that is read) and ``elsewhere`` (food fish outside the United States).
    key : str
        The row to change; "" for a new one.

    Raises
    ------
    BadInput
        For a row that can not be, with a sentence for each fault.
    NotAllowed
        For anybody but a veterinarian.
    """
    must_be_vet(act.by, "writes a medicine of the practice's own")
    if found := tuple(faults(row)):
        raise BadInput(" ".join(found))
    values: dict[str, Any] = {
        "name": str(row["name"]),
        "body": json.dumps(dict(row), ensure_ascii=False, sort_keys=True),
        "by": act.by,
        "at": act.at,
    }
    if key and read.one(OwnMedicine, key).struck:
        raise Refusal(f"{row['name']} was struck.", "Write it anew.")
    with edit("own medicine", who=act.by, at=act.at) as doing:
        if key:
            doing.change(OwnMedicine, key, **values)
        else:
            key = new_key()
            doing.add(OwnMedicine(id=key, **values))
    own_rows.read_again()
    return key


def strike(act: Act, key: str, why: str) -> None:
    """Strike a medicine of the practice's own that nothing was ordered of.

    Raises
    ------
    NotAllowed
        For anybody but a veterinarian.
    BadInput
        Without a reason.
    Refusal
        When a treatment or a product rests on it: it is switched off instead.
    """
    must_be_vet(act.by, "strikes a medicine of the practice's own")
    if not why.strip():
        raise BadInput("A medicine is struck with a reason.", "Say why in a few words.")
    row = read.one(OwnMedicine, key)
    for table, what in ((Treatment, "treatment"), (Product, "product")):
        if many := len(read.find(table, medicine=key)):
            rests = f"{many} {what}{'s rest' if many > 1 else ' rests'} on it"
            raise Refusal(
                f"{row.name} can not be struck: {rests}.", "Switch it off instead, with r."
            )
    with edit("own medicine struck", who=act.by, at=act.at) as doing:
        doing.strike(OwnMedicine, key, why.strip())
    own_rows.read_again()


def faults(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what is wrong in a row, a sentence for each fault; none when it can be."""
    strange = [name for name in row if name not in (*_FORM, *EXTRA)]
    yield from (f"{name} is nothing that a medicine of the practice's own has." for name in strange)
    missing = [name for name in MUST if not row.get(name)]
    yield from (f"{name} is missing." for name in missing)
    found = [*_kinds(row), *_words(row), *_stances(row), *_elsewhere(row)]
    yield from found
    if not (strange or missing or found):
        yield from _dose(row)


def _kinds(row: Mapping[str, Any]) -> Iterator[str]:
    """Give the values that are of another kind than their column."""
    for name in _TEXTS:
        if name in row and not isinstance(row[name], str):
            yield f"{name} has to be words."
    for name in _FLAGS:
        if name in row and not isinstance(row[name], bool):
            yield f"{name} has to be true or false."
    for name in (*_MANY, "allowed"):
        value = row.get(name, ())
        if not isinstance(value, list | tuple) or not all(isinstance(v, str) for v in value):
            yield f"{name} has to be a list of words."
    for name in _MAPS:
        value = row.get(name, {})
        if not isinstance(value, Mapping) or not all(isinstance(v, str) for v in value.values()):
            yield f"{name} has to name a word for each field."
    yield from _figures(row)


def _figures(row: Mapping[str, Any]) -> Iterator[str]:
    for name in (*_NUMBERS, *_WHOLE):
        value = row.get(name)
        if value is None:
            continue
        whole = name in _WHOLE
        right = isinstance(value, int if whole else int | float) and not isinstance(value, bool)
        if not right or not isfinite(value):
            yield f"{name} has to be a {'whole ' if whole else ''}number."
        elif value < 0 or (value == 0 and name not in MAY_BE_ZERO):
            yield f"{name} has to be above 0; it is {value}."


def _words(row: Mapping[str, Any]) -> Iterator[str]:
    """Give the words that are not in their closed list, with what is."""
    for name, allowed in _LISTS.items():
        value = row.get(name, ())
        if isinstance(value, list | tuple):
            strange = sorted(str(v) for v in value if v not in allowed)
            yield from (f"{name}: {v} is not one of {_listed(allowed)}." for v in strange)
    status, statuses = row.get("us_food_fish"), STATUSES | {NOT_KNOWN}
    if isinstance(status, str) and status and status not in statuses:
        yield f"us_food_fish: {status} is not one of {_listed(statuses)}."
    name = str(row.get("name", ""))
    barred = own_rows.forbidden(name)
    if barred and status in statuses and status != "prohibited":
        yield f"us_food_fish has to be prohibited: {barred.citation} forbids {name}."
    if left_out := refused_inside(name):
        yield left_out
    yield from _known(row)


def refused_inside(name: str) -> str:
    """Return why a medicine that is left out on purpose can not be written either; "" if it can."""
    words = name.casefold()
    for key, listed in refused_names().items():
        called = (key, *listed.split(", "))
        if any(re.search(rf"\b{re.escape(one.casefold())}\b", words) for one in called):
            return refused_by_name(key)
    return ""


def _known(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what is wrong in how each field is known."""
    known, grounds = row.get("known"), row.get("grounds")
    if not isinstance(known, Mapping):
        return
    for name, how in known.items():
        if how not in HOW:
            yield f"known: {name} is {how}, which is not one of {_listed(frozenset(HOW))}."
        elif how in READ and isinstance(grounds, Mapping) and not grounds.get(name):
            yield f"grounds: {name} is {how}: say in which source."
    if "dose" not in known:
        yield "known: say how the dose is known."


def _stances(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what is said to be allowed and harmful at once, and subjects that there are not."""
    allowed = row.get("allowed", ())
    if not isinstance(allowed, list | tuple):
        return
    names = frozenset(s.key for s in SUBJECTS)
    yield from (f"allowed: {a} is not one of {_listed(names)}." for a in allowed if a not in names)
    for subject in SUBJECTS:
        if subject.key in allowed and stance(row, subject) == "harmful":
            yield f"{subject.key} is allowed and harmful at once."
    if row.get("withdrawal_days") is not None and food_stance(row) == NOT_KNOWN:
        yield "withdrawal_days: there is none while it is not known whether food fish may have it."


def _elsewhere(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what is wrong in what other places say of food fish."""
    found = row.get("elsewhere", ())
    if not isinstance(found, list | tuple) or not all(isinstance(one, Mapping) for one in found):
        yield "elsewhere has to be a list of places, each with its status."
        return
    for one in found:
        place, days = one.get("place"), one.get("withdrawal_days")
        if not (place and one.get("status")):
            yield "elsewhere: a place is named, with what it says of food fish."
        if days is not None and (isinstance(days, bool) or not isinstance(days, int) or days < 0):
            yield f"elsewhere: the withdrawal in {place} has to be a whole number of days."
        if one.get("how") not in HOW:
            yield f"elsewhere: say how it is known for {place}."
        elif one["how"] in READ and not one.get("source"):
            yield f"elsewhere: {place} is {one['how']}: say in which source."


def _listed(allowed: frozenset[str]) -> str:
    return ", ".join(sorted(allowed))


def _dose(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what is wrong with the dose of a row that is otherwise whole."""
    low, high = row.get("dose_low"), row["dose_high"]
    if low is not None and low > high:
        yield f"The lowest dose, {low:g}, is over the highest, {high:g}."
        return
    try:
        made = medicine_of("own", row)
        made.highest()
        made.lowest()
    except Refusal as error:
        yield error.sentence
