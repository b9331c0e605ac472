"""Medicines that the practice writes itself, in the catalogue's form, and what is wrong in one."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from math import isfinite
from typing import Any

from core.dosing.medicines import (
    KNOWN,
    ROUTES,
    STATUSES,
    SWITCHES,
    SYSTEMS,
    Medicine,
    from_row,
)
from core.errors import BadInput, Refusal
from core.practice import own_rows
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.who import must_be_vet
from core.records import read
from core.records.keys import new_key
from core.records.tables import OwnMedicine

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
_MAPS = ("known", "remarks")
MAY_BE_ZERO = ("withdrawal_days",)


def own(act: Act, row: Mapping[str, Any], key: str = "") -> str:
    """Write a medicine of the practice's own, or change one; return its key. It is off until read.

    Parameters
    ----------
    row : mapping
        In the form of the catalogue's medicines: the same keys, lists and words.
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
    with edit("own medicine", who=act.by, at=act.at) as doing:
        if key:
            doing.change(OwnMedicine, read.one(OwnMedicine, key).id, **values)
        else:
            key = new_key()
            doing.add(OwnMedicine(id=key, **values))
    own_rows.read_again()
    return key


def faults(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what is wrong in a row, a sentence for each fault; none when it can be."""
    strange = [name for name in row if name not in _FORM]
    yield from (f"{name} is nothing that a medicine of the practice's own has." for name in strange)
    missing = [name for name in MUST if not row.get(name)]
    yield from (f"{name} is missing." for name in missing)
    found = [*_kinds(row), *_words(row)]
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
    for name in _MANY:
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
    status = row.get("us_food_fish")
    if isinstance(status, str) and status and status not in STATUSES:
        yield f"us_food_fish: {status} is not one of {_listed(STATUSES)}."
    barred = own_rows.forbidden(str(row.get("name", "")))
    if barred and status in STATUSES and status != "prohibited":
        yield f"us_food_fish has to be prohibited: {barred.citation} forbids {row['name']}."
    known = row.get("known")
    if isinstance(known, Mapping):
        for name, how in known.items():
            if how not in KNOWN:
                yield f"known: {name} is {how}, which is not one of {_listed(KNOWN)}."
        if "dose" not in known:
            yield "known: say how the dose is known."


def _listed(allowed: frozenset[str]) -> str:
    return ", ".join(sorted(allowed))


def _dose(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what is wrong with the dose of a row that is otherwise whole."""
    low, high = row.get("dose_low"), row["dose_high"]
    if low is not None and low > high:
        yield f"dose_low is {low} and dose_high {high}: the low end is over the high end."
        return
    try:
        made = from_row("own", row)
        made.highest()
        made.lowest()
    except Refusal as error:
        yield error.sentence
