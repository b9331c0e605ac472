"""An order in words, and the order that a row of the medicines suggests."""

from __future__ import annotations

from core import dates
from core.numbers import plain
from core.practice import going_past
from core.practice.dose_parts import Ask
from core.practice.doses import usual_steps
from core.practice.medicines import dose_words, medicine, shelf
from core.practice.treatments import Order, Prepared, shown


def sentences(ready: Prepared) -> tuple[str, ...]:
    """Return an order that was looked at in plain sentences, what stands against it first."""
    found = [f"REFUSED: {s}" for s in ready.refused]
    found += going_past.asked(ready.stops, ())
    if ready.dosed is None:
        found.append(f"No amount: {ready.why_not}")
    else:
        product = shelf()[ready.ask.product].name if ready.ask.product in shelf() else ""
        of = "".join(f" of {w}" for w in (product,) if w)
        of += f" ({ready.dosed.strength})" if ready.dosed.strength else ""
        whole = f"; {ready.total} in all" if ready.total is not None else ""
        found.append(f"Amount: {ready.dosed.amount}{of}{whole}.")
    if ready.row.hazards:
        found.append(f"Take care: {'; '.join(ready.row.hazards)}.")
    found += ready.dosed.said if ready.dosed else ()
    found += going_past.asked((), ready.cautions)
    if len(ready.days) > 1:
        found.append(f"On {', '.join(dates.said(d, ready.days[0]) for d in ready.days)}.")
    found += [ready.withdrawal.sentence] if ready.withdrawal else []
    found.append(
        f"On record for {ready.row.indication}: {dose_words(ready.row)}; "
        f"{ready.row.duration or 'no time said'}."
    )
    return (*found, *ready.notes)


def working_text(ready: Prepared) -> str:
    """Return the working of an order as lines; "" while there is no amount."""
    return "" if ready.dosed is None else shown(ready.dosed)["amount"].working


def usual(key: str) -> Order:
    """Return an order as the row of a medicine has it: lowest dose, its repeats and interval.

    Where the source gives only a highest dose, none is put forward: the vet types it.
    """
    row = medicine(key)
    every = row.interval_h / 24 if row.interval_h and row.interval_h % 24 == 0 else None
    unit = row.unit.removesuffix(" feed")
    lowest = "" if row.dose_low is None else f"{plain(row.dose_low)} {unit}"
    ask = Ask(lowest, row.routes[0], steps=usual_steps(row))
    return Order("given here", key, ask, "", repeats=row.repeats or 1, interval_days=every)
