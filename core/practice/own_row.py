"""A row of the practice's own: what it says of who must not have it, and the medicine it makes.

A row says of each subject that it is harmful or allowed; what it does not say is not known, and
what is not known counts as harmful until somebody knows it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

from core.dosing.medicines import BATHS, NEVER, Medicine, from_row

COMMON = "common practice, no source"
MEMORY = "from memory"
READ = ("read", "read in part", "computed")
"""How something is known that has a source."""
HOW = (*READ, MEMORY, COMMON)
EXTRA = ("allowed", "grounds", "elsewhere")
"""What a row of the practice's own says beside the columns of the catalogue."""
NOT_KNOWN: Final = "not known"
NOT_FOR_FOOD = "not known whether food fish may have it; it counts as not for them until it is"

Stance = Literal["harmful", "allowed", "not known"]


@dataclass(frozen=True)
class Subject:
    """Somebody or something a medicine may harm, and the column of the catalogue that says so.

    A `limit` is a figure; it stands for harm beyond it.
    """

    key: str
    label: str
    flag: str = ""
    unknown: str = ""
    """The flag that is set while it is not known."""
    limit: str = ""
    subject: str = ""
    """What the limit is held against, as a stop names it."""
    water: bool = False
    """Asked only of what goes into the water."""


SUBJECTS = (
    Subject("elasmobranch", "Sharks and rays", "elasmobranch_stop", "elasmobranch_caution"),
    Subject("scaleless", "Scaleless fish", "scaleless_caution", "scaleless_caution"),
    Subject(
        "invertebrates", "Invertebrates", "harms_invertebrates", "harms_invertebrates", water=True
    ),
    Subject("plants", "Plants", "harms_plants", "harms_plants", water=True),
    Subject("biofilter", "Biofilter", "harms_biofilter", "harms_biofilter", water=True),
    Subject(
        "alkalinity",
        "Low alkalinity",
        limit="minimum_alkalinity_mg_l",
        subject="alkalinity",
        water=True,
    ),
    Subject("heat", "Heat", limit="max_temperature_c", subject="temperature", water=True),
    Subject(
        "oxygen", "Low oxygen", limit="minimum_oxygen_mg_l", subject="oxygen", water=True
    ),
)  # fmt: skip
"""Food fish stand beside these: their status says it."""


def subjects(routes: tuple[str, ...] | list[str]) -> tuple[Subject, ...]:
    """Return the subjects that a medicine by these routes is asked about."""
    wet = bool(BATHS & set(routes))
    return tuple(s for s in SUBJECTS if wet or not s.water)


def stance(row: Mapping[str, Any], subject: Subject) -> Stance:
    """Return what a row says of a subject."""
    names = (subject.flag, subject.unknown) if subject.flag else (subject.limit,)
    if any(row.get(name) for name in names):
        return "harmful"
    return "allowed" if subject.key in row.get("allowed", ()) else NOT_KNOWN


def food_stance(row: Mapping[str, Any]) -> Stance:
    """Return what a row says of food fish."""
    status = row.get("us_food_fish", NOT_KNOWN)
    if status == NOT_KNOWN:
        return NOT_KNOWN
    return "harmful" if status in NEVER else "allowed"


def unknown(row: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the names of all that a row does not say."""
    found = ["Food fish"] if food_stance(row) == NOT_KNOWN else []
    found += [s.label for s in subjects(row["routes"]) if stance(row, s) == NOT_KNOWN]
    return tuple([*found, *([] if row.get("hazards") else ["Hazard to people"])])


def medicine_of(key: str, row: Mapping[str, Any]) -> Medicine:
    """Return a row of the practice's own as the calculation takes it.

    What is not known is set as harmful; what is known by common practice only counts as from
    memory. Of several withdrawals the longest counts; none while the first is not known.
    """
    values = {name: value for name, value in row.items() if name not in EXTRA}
    values["known"] = _known(row)
    values["remarks"] = dict(row.get("remarks", {}))
    values["dangers"] = []
    for subject in subjects(row["routes"]):
        if stance(row, subject) == NOT_KNOWN:
            _count_as_harmful(values, subject)
    if not row.get("hazards"):
        values["hazards"] = ["not known; handle it as harmful to people"]
    return from_row(key, values | _food(row))


def _known(row: Mapping[str, Any]) -> dict[str, str]:
    said: Mapping[str, str] = row["known"]
    found = {name: MEMORY if how == COMMON else how for name, how in said.items()}
    for subject in SUBJECTS:
        if subject.key in found:
            found[subject.flag or subject.limit] = found.pop(subject.key)
    return found


def _count_as_harmful(values: dict[str, Any], subject: Subject) -> None:
    name = values["name"]
    if subject.flag:
        values[subject.unknown] = True
        values["remarks"].setdefault(
            subject.unknown, f"whether {name} harms them is not known; it counts as harmful."
        )
        return
    values["dangers"].append(
        {
            "kind": "caution",
            "subject": subject.subject,
            "says": f"What {name} does in {subject.label.lower()} is not known; "
            f"it counts as harmful there.",
            "source": "",
            "how": MEMORY,
        }
    )


def _food(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return the columns of food fish: their status, with what other places say of them."""
    found: dict[str, Any] = {}
    notes = [str(row["us_food_fish_note"])] if row.get("us_food_fish_note") else []
    if food_stance(row) == NOT_KNOWN:
        found["us_food_fish"] = "not for food fish"
        notes.append(NOT_FOR_FOOD)
    notes += list(elsewhere_words(row))
    days = [e.get("withdrawal_days") for e in row.get("elsewhere", ())]
    first = row.get("withdrawal_days")
    if first is not None:
        found["withdrawal_days"] = max([first, *(d for d in days if d is not None)])
    return found | ({"us_food_fish_note": "; ".join(notes)} if notes else {})


def elsewhere_words(row: Mapping[str, Any]) -> Iterator[str]:
    """Give what a row says of food fish in each other place."""
    for one in row.get("elsewhere", ()):
        days = one.get("withdrawal_days")
        until = "withdrawal not known" if days is None else f"withdrawal {days} days"
        yield f"{one['place']}: {one['status']}, {until}"


def how_words(row: Mapping[str, Any], name: str) -> str:
    """Return how a field of a row is known, with its source where it has one."""
    how = row["known"].get(name, MEMORY)
    ground = row.get("grounds", {}).get(name, "")
    if how not in READ:
        return str(how)
    return f"{how}: {ground or '; '.join(row.get('sources', ()))}"
