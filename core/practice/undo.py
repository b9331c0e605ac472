"""Taking back what one has done oneself, and doing it again, at any screen."""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from core.errors import Refusal
from core.practice import changed
from core.practice.door import edit
from core.practice.edit_words import Telling
from core.practice.keep import Act
from core.records import edits, read, undo
from core.records.edits import Edit
from core.records.engine import query
from core.records.never import NeverUndone
from core.records.tables import Practice
from core.records.undo import StandsOn

MOST = 20
"""So many acts, the newest of a person, may be taken back."""

_DONE = 'SELECT {} FROM "edit" e WHERE e."who" = ? AND e."reverses" IS NULL{} {} LIMIT ?'
_UNDONE = (
    'SELECT {} FROM "edit" e JOIN "edit" o ON o."id" = e."reverses" '
    'WHERE e."who" = ? AND e."clock" > ? AND o."reverses" IS NULL {}'
)
_CLIENT = 'SELECT c."name" FROM "visit" v JOIN "client" c ON c."id" = v."client" WHERE v."id" = ?'
_NEWEST_FIRST = 'ORDER BY e."clock" DESC'


@dataclass(frozen=True)
class Done:
    """Something that a person did.

    Attributes
    ----------
    words : str
        What it was, as *What changed* tells it.
    taken_back : bool
        Whether it is taken back now.
    """

    edit: str
    visit: str | None
    words: str
    taken_back: bool


@dataclass(frozen=True)
class Turned:
    """What was taken back, or done again.

    Attributes
    ----------
    words : str
        What it was, as *What changed* tells it.
    visit : str or None
        The visit it was at.
    client : str
        Whose visit that is; "" when it was at none.
    """

    words: str
    visit: str | None
    client: str


def last(worker: str, visit: str | None = None, most: int = MOST) -> tuple[Done, ...]:
    """Return the last acts of a person, the newest first, at any desk and after any restart.

    Parameters
    ----------
    visit : str, optional
        Only those at this visit.
    """
    found = _acts(worker, visit, most)
    gone = edits.taken_back(one.id for one in found)
    said = _words(found)
    return tuple(Done(one.id, one.visit, said[one.id], one.id in gone) for one in found)


def take_back(act: Act) -> Turned:
    """Take back the newest act of a person that stands; return what it was.

    Raises
    ------
    Refusal
        When there is none, it is of a kind that is never taken back, or something later
        stands on it: the sentence says what.
    """
    found = _acts(act.by, None, MOST)
    gone = edits.taken_back(one.id for one in found)
    newest = next((one for one in found if one.id not in gone), None)
    if newest is None:
        raise _nothing(bool(found))
    follows = Telling([newest], None).follows(newest)
    said = "; ".join(filter(None, (_words([newest])[newest.id], follows)))
    return _reverse(act, newest, said)


def do_again(act: Act) -> Turned:
    """Do again what the person took back last; return what it was.

    Raises
    ------
    Refusal
        When nothing was taken back since the person's newest act, or something else stands
        in its place by now.
    """
    newest = _acts(act.by, None, 1)
    since = newest[0].clock if newest else ""
    rows = query(_UNDONE.format(edits.COLUMNS, _NEWEST_FIRST), (act.by, since))
    undone = [edits.from_values(row) for row in rows]
    gone = edits.taken_back(one.id for one in undone)
    standing = next((one for one in undone if one.id not in gone), None)
    if standing is None or standing.reverses is None:
        raise Refusal("There is nothing to do again.", "Only what was just taken back is.")
    done = edits.one(standing.reverses)
    return _reverse(act, standing, _words([done])[done.id])


def _acts(worker: str, visit: str | None, most: int) -> list[Edit]:
    where, values = (' AND e."visit" = ?', (worker, visit)) if visit else ("", (worker,))
    rows = query(_DONE.format(edits.COLUMNS, where, _NEWEST_FIRST), (*values, most))
    return [edits.from_values(row) for row in rows]


def _words(told: list[Edit]) -> dict[str, str]:
    practice = read.first(Practice)
    zone = ZoneInfo(practice.zone if practice else "Etc/UTC")
    telling = Telling(told, practice)
    return {one.id: telling.words(one, one.at.astimezone(zone).date()) or one.kind for one in told}


def _reverse(act: Act, asked: Edit, words: str) -> Turned:
    try:
        with edit(undo.KIND, who=act.by, at=act.at, visit=asked.visit, reverses=asked.id) as doing:
            undo.reverse(doing, asked)
    except StandsOn as error:
        raise _standing(error, words) from error
    except NeverUndone as error:
        raise NeverUndone(
            error.sentence, f"The last thing you did: {words}. {error.todo}"
        ) from error
    return Turned(words, asked.visit, _client(asked.visit))


def _client(visit: str | None) -> str:
    found = query(_CLIENT, (visit,)) if visit else []
    return str(found[0][0]) if found else ""


def _standing(error: StandsOn, words: str) -> Refusal:
    """Return the refusal that names what was done and what stands on it."""
    by = changed.sentences([error.edit])[0] if error.edit else None
    told = f"later, {by.time}, {by.who}: {by.words}" if by else error.sentence
    found = Refusal(f"{words}: {told}", error.todo)
    found.title = error.title
    return found


def _nothing(tried: bool) -> Refusal:
    if tried:
        return Refusal(
            f"Your last {MOST} acts are taken back already.",
            "Correct what is older where it stands.",
        )
    return Refusal("You have done nothing yet that could be taken back.")
