"""The answers of a medicine of the practice's own as it is written down, and back."""

from __future__ import annotations

from collections.abc import Iterator

from core.numbers import plain
from core.practice.own_row import NOT_KNOWN, Stance, subjects
from core.practice.own_typed import Elsewhere, Written
from core.units import KINDS
from tui.shelf.own_fields import LIMITS, MOST_PLACES, fields, fill_in, routes, words
from tui.widgets.dialog import Answers
from tui.widgets.field import Entry


def written(answers: Answers) -> Written:
    """Return the answers as a medicine that is written down."""
    asked = {f.key for f in fields(answers)}
    given = {key: entry for key, entry in answers.items() if key in asked}
    names = [key.removeprefix("how ") for key in given if key.startswith("how ")]
    names = [name for name in names if not name.startswith("place")]
    return Written(
        name=words(given, "name"),
        form=words(given, "form"),
        routes=routes(given),
        indication=words(given, "for"),
        dose_high=words(given, "high"),
        systems=tuple(words(given, "water").split(", ")),
        dose_low=words(given, "low"),
        dose_of=words(given, "counts"),
        interval=words(given, "every"),
        repeats=_count(given, "times"),
        duration=words(given, "lasts"),
        stances={s.key: _stance(given, s.key) for s in subjects(routes(given))},
        limits={key: given[f"limit {key}"].number for key in LIMITS if f"limit {key}" in given},
        avoid=words(given, "avoid"),
        hazards=words(given, "hazards"),
        controlled=words(given, "controlled") == "yes",
        antimicrobial=words(given, "antimicrobial") == "yes",
        food=_stance(given, "food"),
        status=words(given, "status"),
        status_note=words(given, "note"),
        withdrawal_days=_count(given, "days"),
        elsewhere=tuple(_elsewhere(given)),
        known={name: words(given, f"how {name}") for name in names},
        grounds={name: words(given, f"source {name}") for name in names},
    )


def _stance(answers: Answers, key: str) -> Stance:
    said = words(answers, key)
    return "harmful" if said == "harmful" else "allowed" if said == "allowed" else NOT_KNOWN


def _count(answers: Answers, key: str) -> int | None:
    return int(answers[key].number) if words(answers, key) else None


def _elsewhere(answers: Answers) -> Iterator[Elsewhere]:
    for n in range(MOST_PLACES):
        if where := words(answers, f"place{n}"):
            yield Elsewhere(
                where,
                words(answers, f"status{n}"),
                _count(answers, f"days{n}"),
                words(answers, f"how place{n}"),
                words(answers, f"source place{n}"),
            )


def answers_of(row: Written) -> Answers:
    """Return a medicine as answers, to be corrected."""
    texts = {
        "name": row.name,
        "form": row.form,
        "for": row.indication,
        "low": row.dose_low,
        "high": row.dose_high,
        "counts": row.dose_of,
        "every": row.interval,
        "lasts": row.duration,
        "water": ", ".join(row.systems),
        "avoid": row.avoid,
        "hazards": row.hazards,
        "food": row.food,
        "status": row.status,
        "note": row.status_note if row.food == "allowed" else "",
        "controlled": "yes" if row.controlled else "no",
        "antimicrobial": "yes" if row.antimicrobial else "no",
        **{f"route{n}": route for n, route in enumerate(row.routes)},
        **row.stances,
        **{f"how {name}": how for name, how in row.known.items()},
        **{f"source {name}": source for name, source in row.grounds.items()},
        **dict(_place_texts(row)),
    }
    found = {key: Entry(text, text) for key, text in texts.items() if text}
    counts = {"times": row.repeats, "days": row.withdrawal_days}
    counts |= {f"days{n}": one.withdrawal_days for n, one in enumerate(row.elsewhere)}
    found |= {key: Entry(str(n), n) for key, n in counts.items() if n is not None}
    for key, value in row.limits.items():
        unit = KINDS[LIMITS[key][1]].canonical
        found[f"limit {key}"] = Entry(f"{plain(value)} {unit}", value)
    fill_in(found)
    return found


def _place_texts(row: Written) -> Iterator[tuple[str, str]]:
    for n, one in enumerate(row.elsewhere):
        yield f"place{n}", one.place
        yield f"status{n}", one.status
        yield f"how place{n}", one.how
        yield f"source place{n}", one.source
