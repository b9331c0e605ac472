"""What a cell of somebody else's CSV file may hold, and what of it is kept."""

from __future__ import annotations

import functools
import re
import unicodedata
from dataclasses import dataclass

from core.catalogue import load
from core.errors import BadInput
from core.numbers import number
from core.practice.export_cells import seen, unguarded
from core.records.index_words import words
from core.units import KINDS, understand

SHOWN = 24
"""So much of a cell is shown in a sentence."""
JOINERS = "\u200c\u200d"
"""Not printable by themselves, and part of the spelling of names in several scripts."""
_PICTURES = frozenset(map(chr, range(0x2400, 0x2422)))
"""Signs in whose place a control character stood when a row was left out."""
_REMEMBERED = 4096
"""Cells that are alike are understood once: a file has the same few kinds in every row."""
_LINE_ENDS = re.compile(r"\s*[\r\n]+\s*")


def clean(cell: str) -> str:
    """Return a cell on one line, without what is not seen and the guard of a spreadsheet.

    Raises
    ------
    BadInput
        When it holds control characters, or letters that could not be read.
    """
    if cell.isascii() and cell.isprintable():
        return " ".join(unguarded(cell.strip()).split())
    text = unicodedata.normalize("NFC", _LINE_ENDS.sub(", ", unguarded(cell.strip())))
    text = " ".join(text.replace("\t", " ").split(" "))
    if any(unicodedata.category(c) in ("Cc", "Cs") or c in _PICTURES for c in text):
        raise BadInput("It holds control characters: take them out.")
    if "\ufffd" in text:
        raise BadInput("It holds a letter that can not be read: save the file as UTF-8.")
    spaced = "".join(" " if c.isspace() else c for c in text)
    return " ".join("".join(c for c in spaced if c.isprintable() or c in JOINERS).split())


def shown(cell: str, longest: int = SHOWN) -> str:
    """Return a cell as it is shown: on one line, nothing a terminal would obey, not too long."""
    text = " ".join(seen(cell[: longest * 4]).split())
    bare = "".join(c if c.isprintable() or c in JOINERS else "�" for c in text)
    return bare if len(bare) <= longest else f"{bare[:longest]}…"


def phone(text: str, _: str) -> str:
    """Return a phone number as it is written."""
    if not any(c.isdecimal() for c in text):
        raise BadInput("There is no digit in this phone number.")
    return text


def email(text: str, _: str) -> str:
    """Return an address for e-mail."""
    name, at, host = text.rpartition("@")
    if not (name and at and host) or " " in text or "@" in name:
        raise BadInput("This is not an address for e-mail.")
    return text


_UNIT_IN_HEADING = re.compile(r"[\[(/]\s*([^\])]+?)\s*[\])]?\s*\Z|\b(\w+)\s*\Z")
MOST_LITRES = 100_000_000
"""As in a new booking."""


@dataclass(frozen=True)
class Volume:
    """A volume of water, and how it was written."""

    litres: float
    typed: str


def unit_in(heading: str) -> str:
    """Return the unit of volume that a heading names, "" for none.

    Examples
    --------
    >>> unit_in("Volume (gal)"), unit_in("Litres"), unit_in("Pond volume")
    ('gal', 'litres', '')
    """
    found = _UNIT_IN_HEADING.search(heading.strip())
    said = (found.group(1) or found.group(2) or "").lower() if found else ""
    return said if said in KINDS["volume"].spellings else ""


@functools.lru_cache(_REMEMBERED)
def volume(text: str, heading: str) -> Volume:
    """Return a volume; without a unit of its own it has the one of its heading."""
    unit = unit_in(heading)
    typed = understand(text, "volume", unit)
    if typed.below or typed.above:
        raise BadInput("A sign < or > is not one number.")
    if not 1 <= typed.value <= MOST_LITRES:
        raise BadInput("This volume can not be; 1 to 100000000 L is allowed.")
    return Volume(typed.value, typed.text if typed.unit or not unit else f"{typed.text} {unit}")


def minutes(text: str, _: str) -> int:
    """Return whole minutes."""
    value = number(text.lower().removesuffix("minutes").removesuffix("min").strip())
    if not (0 <= value <= 600 and value == int(value)):
        raise BadInput("A drive takes 0 to 600 whole minutes.")
    return int(value)


def kind(text: str, _: str) -> str:
    """Return the key of a kind of water."""
    key = kind_of(text)
    if not key:
        said = ", ".join(key.replace("_", " ") for key in kinds())
        raise BadInput(f"This is none of the kinds of water: {said}.")
    return key


@functools.lru_cache(_REMEMBERED)
def kind_of(text: str) -> str:
    """Return the key of the kind of water that a text means; "" when it means none or several.

    Examples
    --------
    >>> kind_of("Koi Pond"), kind_of("reef"), kind_of("goldfish"), kind_of("tank")
    ('koi_pond', 'marine_reef', 'goldfish_pond', '')
    """
    asked = set(words(text.replace("_", " ")))
    known = {key: set(words(f"{key.replace('_', ' ')}")) for key in kinds()}
    named = {key: set(words(name)) for key, name in kinds().items()}
    same = [key for key in known if asked in (known[key], named[key])]
    part = [key for key in known if asked and asked <= known[key] | named[key]]
    found = same or part
    return found[0] if len(found) == 1 or same else ""


def kinds() -> dict[str, str]:
    """Return the kinds of water: key and name."""
    return {key: str(row["name"]) for key, row in load.table("system_kinds").items()}
