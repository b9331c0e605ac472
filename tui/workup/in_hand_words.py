"""A dose in words: while it is worked out, and after it was given."""

from __future__ import annotations

from core.numbers import plain
from core.practice import given
from core.practice.giving import Worked
from core.practice.giving_context import Wanted
from core.records.tables import Treatment


def dose_words(row: Treatment) -> str:
    """Return a dose that was given, in words."""
    parts = (
        f"{plain(row.dose)} {row.dose_unit} {row.route}",
        row.strength,
        row.place,
        f"lot {row.lot}" if row.lot else "no lot",
        _to_come(row.repeats, row.interval_days),
        row.withdrawal,
        row.override,
    )
    return "; ".join(filter(None, parts))


def _to_come(repeats: int, days: float | None) -> str:
    """Return the doses that are still to come, for which a visit each is offered in Plan."""
    if repeats <= 1 or days is None:
        return ""
    apart = f"{plain(days)} day{'s' * (days > 1)} apart"
    return f"{repeats - 1} more to come, {apart}: Plan offers a visit for each"


def _draw(found: Worked, wanted: Wanted) -> str:
    """Return what the syringe draws, or the proposal while nothing was chosen."""
    if found.dilution is None or wanted.diluted is False:
        return f"Draw {found.drawn}."
    if wanted.diluted:
        return f"Diluted to {found.strength}: draw {found.drawn}."
    return f"Under five marks. {found.dilution.sentence} {found.finer}".strip()


def said(found: Worked, wanted: Wanted) -> str:
    """Return what follows, most pressing first."""
    lines = [f"STOP. {stop}" for stop in found.stops]
    if found.missing:
        lines.append(f"Still needed: {', '.join(found.missing)}.")
    if found.drawn is not None and not found.stops:
        mass = f"{found.mass} = " if found.mass else ""
        lines.append(
            f"{mass}{found.volume} of {found.held or 'the product'}. {_draw(found, wanted)}"
        )
    lines += [f"Caution: {c}" for c in given.needs_reason(found, wanted)]
    if found.medicine.hazards:
        lines.append(f"Take care: {'; '.join(found.medicine.hazards)}.")
    lines.append(_to_come(wanted.repeats, wanted.interval_days))
    lines.append(found.withdrawal)
    lines += found.notes
    return "\n".join(filter(None, lines))
