"""Many invented clients with names that lie near each other, and slips made in them.

Names are put together from syllables by a seeded draw: nobody is meant. First names and the
ends of surnames are near each other on purpose, so that one slip often leads to another name
that is there too.
"""

from __future__ import annotations

import random
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import cycle, product

from core.records.keys import new_key
from core.records.tables import Client

_FIRST = """
Anna Anne Ana Hanna Hannah Johanna Joanna Jana Jane Jan John Jon Joan Johan Jonah Jonas Joel
Maria Marie Mario Marian Marina Marit Marta Martha Marten Martin Mark Marc Marco Mara Mary
Karl Carl Karla Carla Karol Carol Kara Cara Karin Karen Carin Kristin Christin Kirsten Kristof
Erik Eric Erika Erin Eirin Elin Ellen Helen Helena Elena Alena Alina Lina Lena Leena Lene Lea
Leah Leo Leon Leona Leonie Noel Noelle Nora Norah Nils Niels Nele Nell Nelly Ella Elle Elsa
Else Ilse Elias Elian Ian Iain Ivan Iva Eva Eve Ava Ada Ida Ina Inga Inge Inger Ingrid Astrid
Peter Petra Pedro Piet Pieter Paul Paula Pavel Pawel Pia Mia Maja Maya Max Mats Matt Matti
Zoë Chloé René Renée Renata José Josef Joseph Josie Jörg Jürgen Götz Günter Gunther Gunnar
Bjørn Søren Sören Sara Sarah Zara Tara Tom Tomas Thomas Tomasz Tim Timo Timon Simon Simone
"""
_HEADS = """
Ol Al El Il Ul Ber Bar Bor Bir Fen Fan Fin Fon Hal Hol Hel Hil Kar Kor Kir Lin Lan Len Lun
Mar Mor Mer Mil Mal Nor Ner Ros Ras Res San Sen Son Sun Tor Ter Tar Vin Van Ven Wal Wil Wel
"""
FIRST, HEADS = _FIRST.split(), _HEADS.split()
MIDDLES = ("", "l", "n", "m", "de", "da", "di", "ke", "ka", "li", "le", "ni", "ne", "ste", "sti")
ENDS = (
    "sen",
    "son",
    "ssen",
    "mar",
    "mer",
    "mann",
    "man",
    "berg",
    "burg",
    "by",
    "dal",
    "ård",
    "lin",
)
SURNAMES = tuple("".join(parts) for parts in product(HEADS, MIDDLES, ENDS))
STREETS = ("Mill Bank", "Mill Lane", "Reed Row", "Reed Road", "Pond Street", "Pool Street", "Weir")
WRITTEN = ("0{0} {1}{2}", "+44 {0} {1} {2}", "0{0}-{1}-{2}", "+44 (0){0} {1}{2}", "0044{0}{1}{2}")
ASKED = (
    "0{0}{1}{2}",
    "+44 {0} {1} {2}",
    "0044 {0} {1}{2}",
    "0{0}.{1}.{2}",
    "{0} {1} {2}",
    "{1}{2}",
)
"""How a number may be written in the records, and how it may be asked for; the last, its end."""
VOWELS = {"a": "á", "e": "é", "i": "î", "o": "ö", "u": "ü"}


@dataclass(frozen=True)
class Someone:
    """A client with the parts of the number."""

    client: Client
    number: tuple[str, str, str]


def people(many: int, seed: int = 7) -> list[Someone]:
    """Make so many clients, no two with the same name or number."""
    draw = random.Random(seed)
    pairs = draw.sample(range(len(FIRST) * len(SURNAMES)), many)
    numbers = draw.sample(range(10**9), many)
    return [
        _someone(draw, *divmod(p, len(SURNAMES)), f"7{n:09}")
        for p, n in zip(pairs, numbers, strict=True)
    ]


def _someone(draw: random.Random, first: int, last: int, digits: str) -> Someone:
    number = (digits[:4], digits[4:7], digits[7:])
    name = f"{FIRST[first]} {SURNAMES[last]}"
    client = Client(
        id=new_key(),
        name=name,
        phone=draw.choice(WRITTEN).format(*number),
        email=f"{FIRST[first]}{draw.randrange(1000)}@pond.example".lower(),
        address=f"{draw.randrange(1, 200)} {draw.choice(STREETS)}",
    )
    return Someone(client, number)


Slip = Callable[[random.Random, Someone], str]


def _in_a_word(change: Callable[[random.Random, str, int], str]) -> Slip:
    """Make a slip at one place of a name, in a word of four letters or more if it has one."""

    def slip(draw: random.Random, one: Someone) -> str:
        parts = one.client.name.split()
        at = draw.choice([n for n, p in enumerate(parts) if len(p) > 3] or [0])
        parts[at] = change(draw, parts[at], draw.randrange(len(parts[at]) - 1))
        return " ".join(parts)

    return slip


def swapped(draw: random.Random, word: str, at: int) -> str:
    places = [n for n in range(len(word) - 1) if word[n].lower() != word[n + 1].lower()]
    at = draw.choice(places)
    return word[:at] + word[at + 1] + word[at] + word[at + 2 :]


def dropped(draw: random.Random, word: str, at: int) -> str:
    return word[:at] + word[at + 1 :]


def doubled(draw: random.Random, word: str, at: int) -> str:
    return word[:at] + word[at] + word[at:]


def wrong(draw: random.Random, word: str, at: int) -> str:
    letters = "abcdefghijklmnopqrstuvwxyz".replace(word[at].lower(), "")
    return word[:at] + draw.choice(letters) + word[at + 1 :]


def accented(draw: random.Random, one: Someone) -> str:
    """Put accents where there are none, and leave out those that there are."""
    bare = unicodedata.normalize("NFKD", one.client.name)
    if len(bare) != len(one.client.name):
        return "".join(c for c in bare if not unicodedata.combining(c))
    return "".join(VOWELS.get(c, c) for c in bare)


def by_number(draw: random.Random, one: Someone) -> str:
    return draw.choice(ASKED).format(*one.number)


SLIPS: dict[str, Slip] = {
    "swapped": _in_a_word(swapped),
    "dropped": _in_a_word(dropped),
    "doubled": _in_a_word(doubled),
    "wrong letter": _in_a_word(wrong),
    "accents": accented,
    "phone": by_number,
}


def made(known: list[Someone], many: int = 200, seed: int = 11) -> list[tuple[str, str, str]]:
    """Return so many slips: of which kind, what is typed, and the client that is meant."""
    draw = random.Random(seed)
    chosen = draw.sample(known, many)
    pairs = zip(cycle(SLIPS.items()), chosen, strict=False)
    return [(kind, slip(draw, one), one.client.id) for (kind, slip), one in pairs]


def shares(found: Iterable[tuple[str, bool]]) -> dict[str, float]:
    """Return the share that was found, of each kind of slip and of all."""
    kept: dict[str, list[bool]] = {"all": []}
    for kind, good in found:
        kept["all"].append(good)
        kept.setdefault(kind, []).append(good)
    return {kind: sum(of) / len(of) for kind, of in kept.items()}
