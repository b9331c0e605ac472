"""An order in words, and the order that a row of the medicines suggests."""

from __future__ import annotations

from dataclasses import replace

from core import dates
from core.dosing.quantities import body
from core.numbers import plain
from core.practice import as_sold, goes_with, going_past
from core.practice.dose_parts import Ask
from core.practice.doses import usual_steps
from core.practice.medicines import dose_words, medicine, shelf, typed
from core.practice.treatments import Order, Prepared, shown


def sentences(ready: Prepared) -> tuple[str, ...]:
    """Return an order that was looked at in plain sentences, what stands against it first.

    What is refused has no amount: nobody is to have a figure for what may not be given.
    """
    found = [f"REFUSED: {s}" for s in ready.refused]
    found += going_past.asked(ready.stops, ())
    if not ready.refused:
        found.append(_amount(ready))
        # At once beside it: the whole of a bath in running water never goes in together.
        found += ready.dosed.said if ready.dosed else ()
    if ready.row.from_memory:
        found.append("The dose on record is from memory: it was read in no source.")
    if ready.row.hazards:
        found.append(f"Take care: {'; '.join(ready.row.hazards)}.")
    found += going_past.asked((), ready.cautions)
    if len(ready.days) > 1 and not ready.refused:
        found.append(f"On {', '.join(dates.said(d, ready.days[0]) for d in ready.days)}.")
    found += [ready.withdrawal.sentence] if ready.withdrawal else []
    found += [ready.cost] if ready.cost else []
    found.append(
        f"On record for {ready.row.indication}: {dose_words(ready.row)}; "
        f"{ready.row.duration or 'no time said'}."
    )
    parts = ready.ask.steps > 1
    # Nothing runs in a tub that could be switched off.
    row = replace(ready.row, switch_off=()) if ready.tub else ready.row
    beside = goes_with.for_vet(row, ready.days, ready.off_hours, parts=parts)
    hazards = ready.row.hazards
    said = {f"{hazard}.".lower() for hazard in (*hazards, "; ".join(hazards))}
    once = (n for n in ready.notes if not any(n.removesuffix(".") in b for b in beside))
    if beside and beside[0].startswith("Meanwhile"):
        once = (n for n in once if not n.startswith("Switch off or take out"))
    return (*found, *(n for n in once if n.lower() not in said), *beside)


def _amount(ready: Prepared) -> str:
    """Return what is given each time, of what, for how much fish, and in all."""
    if ready.dosed is None:
        return f"No amount: {ready.why_not}"
    product = shelf()[ready.ask.product].name if ready.ask.product in shelf() else ""
    of = "".join(f" of {w}" for w in (product,) if w)
    of += f" ({ready.dosed.strength})" if ready.dosed.strength else ""
    of = of or (f" of {as_sold.words(ready.row)}" if as_sold.words(ready.row) else "")
    of += _weighing(ready)
    whole = f", each of {ready.fish} fish" if ready.fish > 1 else ""
    whole += f"; {ready.total} in all" if ready.total is not None else ""
    return f"Amount: {ready.dosed.amount}{of}{whole}."


def _weighing(ready: Prepared) -> str:
    """Return the weight that an amount is reckoned for; "" for what goes into water."""
    if ready.row.in_water or not ready.ask.weight:
        return ""
    return f", for {body(*typed(ready.ask.weight, '238 g'))}"


def working_text(ready: Prepared) -> str:
    """Return the working of an order as lines; "" while there is no amount or it is refused."""
    return "" if ready.dosed is None or ready.refused else shown(ready.dosed)["amount"].working


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
