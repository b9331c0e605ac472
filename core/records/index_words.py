"""Words as the search index holds them: small letters without accents, and runs of digits."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

MOST_ASKED = 200
"""Characters of a question that are read; the rest of a pasted book is not."""
MOST_HELD = 2000
"""Characters of one row that are held."""
MOST_TERMS = 6
LONGEST = 40
KEY = "="
"""Begins a word that stands for a key of the catalogue; nobody can type one."""
HEAD = 5
"""Letters at the beginning of a word by which a word typed wrongly is looked up."""
LEAST_DIGITS = 3
MOST_DIGITS = 20
_LEAST_ABROAD, _LONG_NUMBER = 6, 11
_LONG_NAME = 10

_ONE_LETTER = {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"}
_APOSTROPHES = "'’‘ʼ`´"
_DASHES = "-‐‑–"


class _Plain(dict[int, int | str | None]):
    """What each character becomes: itself, plainer letters, nothing, or a space."""

    def __missing__(self, code: int) -> int | str | None:
        letter = chr(code)
        self[code] = _plainer(letter)
        return self[code]


def _plainer(letter: str) -> str | None:
    if unicodedata.combining(letter):
        return None
    if letter.isdecimal():
        return str(unicodedata.decimal(letter))
    if letter in _ONE_LETTER:
        return _ONE_LETTER[letter]
    marks = unicodedata.category(letter).startswith("M")
    return letter if letter.isalnum() or marks else " "


_PLAIN = _Plain()


def _unfolded(text: str) -> str:
    return text if text.isascii() else unicodedata.normalize("NFKD", text)


def words(text: str) -> list[str]:
    """Return the words of a text in order, without accents, capitals and signs.

    What an apostrophe parts is one word.

    Examples
    --------
    >>> words("Zoë O'Dwyer-Ærø"), words("12 Mill\\x1b[31m Bank;--")
    (['zoe', 'odwyer', 'aero'], ['12', 'mill', '31m', 'bank'])
    """
    bare = _unfolded(_unfolded(text).casefold())
    for sign in _APOSTROPHES:
        bare = bare.replace(sign, "")
    return [word[:LONGEST] for word in bare.translate(_PLAIN).split()]


def held_words(text: str) -> list[str]:
    """Return the words under which a text can be found: also those that signs part or join.

    A number is held without the noughts it begins with, too.

    Examples
    --------
    >>> held_words("O'Dwyer-Reed")
    ['odwyer', 'reed', 'o', 'dwyer', 'odwyerreed']
    """
    text = text[:MOST_HELD]
    found = words(text)
    if any(sign in text for sign in _APOSTROPHES):
        found += words(re.sub(f"[{_APOSTROPHES}]", " ", text))
    if any(sign in text for sign in _DASHES):
        found += words(re.sub(f"[{_DASHES}]", "", text))
    bare = (word.lstrip("0") for word in found if word.startswith("0") and word.isdigit())
    return list(dict.fromkeys([*found, *(word for word in bare if word)]))


def key_word(key: str) -> str:
    """Return the word that stands for a key of the catalogue.

    Examples
    --------
    >>> key_word("common_carp")
    '=common_carp'
    """
    return KEY + "_".join(words(key.replace("_", " ")))


_HELD_RUN = re.compile(r"\d[\d\s().\-]*")


def held_digits(text: str) -> list[str]:
    """Return the numbers in a text as runs of digits, however they are spaced.

    Examples
    --------
    >>> held_digits("+44 (0)7700 900-123, or 555.0101")
    ['4407700900123', '5550101']
    """
    runs = (re.sub(r"\D", "", run) for run in _HELD_RUN.findall(_unfolded(text[:MOST_HELD])))
    return [run[:MOST_DIGITS] for run in runs if len(run) >= LEAST_DIGITS]


def tails(digits: str) -> list[str]:
    """Return every end of a run of digits, so that any digits in a row begin one of them."""
    found = [digits[n:] for n in range(len(digits) - LEAST_DIGITS + 1)]
    return [*found, digits.lstrip("0")] if digits.lstrip("0") else found


@dataclass(frozen=True)
class Term:
    """One thing that was typed: a word, or a number in every form it may be held in."""

    text: str
    forms: tuple[str, ...] = ()
    """Digits, as typed and without the signs of a call from abroad; () for a word."""


_ASKED_RUN = re.compile(r"(?<!\w)\+?[ ]?\(?\d[\d\s()./\-]*(?!\w)")


def terms(asked: str) -> tuple[Term, ...]:
    """Return what was typed as words and numbers, the numbers put together.

    Examples
    --------
    >>> [t.text for t in terms("Fennimar 555 01 01")]
    ['fennimar', '5550101']
    >>> terms("+44 7700 900123")[0].forms
    ('447700900123', '47700900123', '7700900123', '700900123')
    """
    text = " ".join(_unfolded(asked[:MOST_ASKED]).split())
    found: list[Term] = []
    at = 0
    for run in _ASKED_RUN.finditer(text):
        found += [Term(word) for word in words(text[at : run.start()])]
        found.append(_number(run.group()))
        at = run.end()
    found += [Term(word) for word in words(text[at:])]
    return tuple(dict.fromkeys(found))[:MOST_TERMS]


def _number(run: str) -> Term:
    digits = "".join(str(unicodedata.decimal(c)) for c in run if c.isdecimal())[:MOST_DIGITS]
    bare = digits.lstrip("0")
    forms = [digits, bare]
    if "+" in run or digits.startswith("00") or len(bare) >= _LONG_NUMBER:
        cut = (bare[n:].lstrip("0") for n in (1, 2, 3))
        forms += [rest for rest in cut if len(rest) >= _LEAST_ABROAD]
    return Term(digits, tuple(dict.fromkeys(form for form in forms if form)))


def slips(word: str) -> set[str]:
    """Return the head of a word, and the head with each one letter left out.

    Two words whose heads differ by one letter dropped, doubled, wrong or swapped with its
    neighbour have one of these in common.
    """
    head = word[:HEAD]
    if len(head) < 3:
        return {head}
    return {head, *(head[:n] + head[n + 1 :] for n in range(len(head)))}


def may_slip(word: str) -> bool:
    """Whether a word is one of letters, in which slips are forgiven."""
    return word.isalpha() and len(word) > 1


def likeness(typed: str, word: str) -> float:
    """Return how like a held word is to what was typed: 1 the same, 0 something else.

    The beginning of a word is nearly as good as the word; a letter dropped, doubled, wrong or
    swapped is forgiven, in longer words two.
    """
    if typed == word:
        return 1.0
    if word.startswith(typed):
        return 0.9 + 0.08 * len(typed) / len(word)
    return max(_whole(typed, word), _begun(typed, word))


def _allowed(typed: str) -> int:
    return 0 if len(typed) < 2 else 1 if len(typed) < 6 else 2


def _whole(typed: str, word: str) -> float:
    from rapidfuzz.distance import OSA

    allowed = _allowed(typed)
    steps = OSA.distance(typed, word, score_cutoff=allowed)
    if steps > allowed:
        return 0.0
    same_start = 0.02 if typed[0] == word[0] else 0.0
    return 0.98 - 1.2 * steps / max(len(typed), len(word)) + same_start


def _begun(typed: str, word: str) -> float:
    """Return the likeness of a word that was typed in part, with a slip."""
    if len(typed) < HEAD or len(word) <= len(typed):
        return 0.0
    heads = (word[:n] for n in range(len(typed) - 1, len(typed) + 2))
    return max(_whole(typed, head) for head in heads) - 0.08


def like_name(one: str, other: str) -> float:
    """Return how like two whole names are, in any order of their words: 0 for two people.

    Examples
    --------
    >>> like_name("Fennimar Odile", "Odile Fennimar"), like_name("Odile", "Odile Fennimar")
    (1.0, 0.0)
    """
    from rapidfuzz.distance import OSA

    first, second = (" ".join(sorted(words(name[:MOST_HELD]))) for name in (one, other))
    steps = OSA.distance(first, second)
    allowed = 1 if len(first) < _LONG_NAME else 2
    return 1 - steps / max(len(first), len(second), 1) if first and steps <= allowed else 0.0


def national_digits(text: str) -> list[str]:
    """Return the phone numbers in a text, each without the noughts it begins with.

    Examples
    --------
    >>> national_digits("00 44 7700 900123"), national_digits("07700 900123")
    (['447700900123'], ['7700900123'])
    """
    return [bare for run in held_digits(text) if (bare := run.lstrip("0"))]
