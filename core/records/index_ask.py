"""Asking the index: what was typed, the documents that could be meant, the likeliest first."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain

from core.records.engine import query
from core.records.index_documents import KINDS
from core.records.index_engine import spoken
from core.records.index_words import Term, key_word, likeness, may_slip, slips, terms, words

Named = Sequence[tuple[str, str]]
"""Keys of the catalogue with what they are called."""
Group = list[tuple[str, bool]]
"""Words of which one must be there; True when the beginning of a word will do."""
Rest = tuple[str, int, str, str, str, str, str]

LEAST_ASKED = 2
"""Letters and digits without which nothing is looked for."""
MOST_READ = 500
"""Documents that are looked at for one question to the engine."""
MOST_ALIKE = 40
FEW_ALIKE = 8
"""Words that could be meant by one; of a single word fewer, each being in many documents."""
BESIDE_NAME = 0.93
"""What a word of an address counts beside one of the name."""


@dataclass(frozen=True)
class Hit:
    """A row that was found."""

    table: str
    row: str
    client: str
    visit: str
    """"" when it belongs to no one visit."""
    likeness: float
    """1 when every word that was typed is one of its name."""


@dataclass(frozen=True)
class _Sought:
    """One thing that was typed with what it may stand for, each with its likeness."""

    term: Term
    alike: dict[str, float] = field(default_factory=dict)
    """Words that the records have."""
    keys: dict[str, float] = field(default_factory=dict)
    """Keys of the catalogue by their names."""

    def group(self, begins: bool, forgiving: bool) -> Group:
        """Return what the engine is asked for."""
        keys = [(key, False) for key in self.keys]
        if self.term.forms:
            return [*((form, True) for form in self.term.forms), *keys]
        others = [(word, False) for word in self.alike] if forgiving else []
        return [(self.term.text, begins), *others, *keys]

    def in_words(self, held: Sequence[str]) -> float:
        """Return how like the nearest of these words is."""
        return max((self._word(word) for word in held), default=0.0)

    def _word(self, word: str) -> float:
        if self.term.forms:
            return likeness(self.term.text, word) if word.startswith(self.term.text) else 0.0
        if word.startswith(self.term.text):
            return likeness(self.term.text, word)
        return self.alike.get(word) or self.keys.get(word, 0.0)

    def in_digits(self, runs: Sequence[str]) -> float:
        """Return how much of a number is in these runs, its end counting more."""
        wanted = len(self.term.text.lstrip("0")) or 1
        return max(
            (
                min(1.0, len(form) / wanted) * (0.98 if run.endswith(form) else 0.9)
                for run in runs
                for form in self.term.forms
                if form in run
            ),
            default=0.0,
        )


def search(text: str, *, most: int = 20, named: Named = ()) -> tuple[Hit, ...]:
    """Return what is found under a text, the likeliest first; always in the same order.

    Parameters
    ----------
    text : str
        Parts of names, digits of a number, words of an address, in any order; a letter may
        be wrong. It is never read as anything but words.
    most : int
        How many are given.
    named : sequence of pairs
        Keys of the catalogue with their names, under which fish and problems are found too.
    """
    typed = terms(text)
    if sum(len(term.text) for term in typed) < LEAST_ASKED and text.isascii():
        return ()
    asked = _sought(typed, named)
    found: dict[str, Rest] = {}
    for groups in _questions(asked, found):
        found.update((row[0], row) for row in _read(groups))
        if len(found) >= most:
            break
    plain = " ".join(term.text for term in typed)
    ranked = sorted((_rank(row, asked, plain), row) for row in found.values())
    return tuple(_hit(rank[0], row) for rank, row in ranked[:most])


def _hit(less: float, row: Rest) -> Hit:
    return Hit(KINDS[row[1]], row[0], row[2], row[3], -less)


def _questions(asked: Sequence[_Sought], found: dict[str, Rest]) -> Iterator[list[Group]]:
    """Give what to ask the engine, the strictest first, until enough is found."""
    if not asked:
        return
    yield [one.group(begins=False, forgiving=False) for one in asked]
    yield [one.group(begins=True, forgiving=False) for one in asked]
    if any(one.alike for one in asked):
        yield [one.group(begins=True, forgiving=True) for one in asked]
    if not found and len(asked) > 1:
        # One of them may be in no row at all: each is left out once.
        for left in range(len(asked)):
            rest = [one for n, one in enumerate(asked) if n != left]
            if sum(len(one.term.text) for one in rest) >= LEAST_ASKED:
                yield [one.group(begins=True, forgiving=True) for one in rest]


def _read(groups: list[Group]) -> list[Rest]:
    said = spoken()
    columns = 'd."row", d."kind", d."client", d."visit", d."name", d."rest", d."digits"'
    order = 'ORDER BY d."kind", d."name", d."row" LIMIT ?'
    sql = f"SELECT {columns} {said.MATCHING} {order}"
    return [tuple(row) for row in query(sql, (said.match(groups), MOST_READ))]


def _sought(typed: Sequence[Term], named: Named) -> list[_Sought]:
    known = _known(tuple(named))
    near = _near([term.text for term in typed if not term.forms])
    most = FEW_ALIKE if len(typed) == 1 else MOST_ALIKE
    return [_Sought(term, _alike(term, near, most), _keys(term, known)) for term in typed]


def _near(typed: Sequence[str]) -> list[str]:
    """Return the words of the records whose heads are a letter or less from those typed."""
    heads = sorted(set(chain.from_iterable(slips(word) for word in typed if may_slip(word))))
    if not heads:
        return []
    marks = ", ".join("?" for _ in heads)
    sql = f'SELECT DISTINCT "word" FROM "search_slip" WHERE "slip" IN ({marks})'
    return [word for (word,) in query(sql, heads)]


def _alike(term: Term, near: Sequence[str], most: int) -> dict[str, float]:
    if term.forms:
        return {}
    # Words that begin with it are asked for anyway.
    others = (word for word in near if not word.startswith(term.text))
    like = ((likeness(term.text, word), word) for word in others)
    best = sorted((-much, word) for much, word in like if much > 0)
    return {word: -less for less, word in best[:most]}


@functools.cache
def _known(named: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str, frozenset[str]], ...]:
    """Return the words of the catalogue, each with its key and the heads that slips lead to."""
    return tuple(
        (key_word(key), word, frozenset(slips(word))) for key, name in named for word in words(name)
    )


def _keys(term: Term, known: Sequence[tuple[str, str, frozenset[str]]]) -> dict[str, float]:
    found: dict[str, float] = {}
    if term.forms or len(term.text) < LEAST_ASKED:
        return found
    heads = slips(term.text)
    for key, word, others in known:
        if word.startswith(term.text) or not heads.isdisjoint(others):
            found[key] = max(found.get(key, 0.0), likeness(term.text, word))
    return {key: much for key, much in found.items() if much > 0}


def _rank(row: Rest, asked: Sequence[_Sought], plain: str) -> tuple[float, int, float, str, str]:
    """Return what a document is ordered by: how like it is, its kind, and its name."""
    from rapidfuzz.distance import OSA

    _, kind, _, _, name, rest, digits = row
    parts = (name.split(), rest.split(), digits.split())
    # A slip in a short word says more against it than one in a long word.
    letters = sum(len(one.term.text) for one in asked)
    like = sum(len(one.term.text) * _likeness(one, *parts) for one in asked) / letters
    whole = OSA.normalized_similarity(plain, name)
    return (-round(like, 4), kind, -round(whole, 3), name, row[0])


def _likeness(one: _Sought, name: list[str], rest: list[str], runs: list[str]) -> float:
    beside = BESIDE_NAME * one.in_words(rest)
    return max(one.in_words(name), beside, one.in_digits(runs) if one.term.forms else 0.0)
