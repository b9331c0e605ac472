"""The lines of *Medicines and shelf*, each made to fit the window."""

from __future__ import annotations

from collections.abc import Iterator

from core.dosing.medicines import Medicine
from core.practice import own_row, own_rows
from core.practice.medicines import dose_words
from core.practice.read_medicines import State
from core.practice.shelf import ProductView
from core.practice.shelf_view import ShelfView
from core.practice.stock_log import shown
from tui.widgets.lines import fit


def heading(view: ShelfView, on_shelf: bool, width: int) -> str:
    """Return the first line: which list it is, and how much of it there is."""
    if on_shelf:
        many = len(view.products)
        left = f" Shelf: {many} product{'' if many == 1 else 's'}"
        right = "s Medicines  SHELF "
    else:
        left = f" Medicines: {view.on} of {len(view.medicines)} on"
        right = "MEDICINES  s Shelf "
    return left.ljust(width - len(right)) + right


def medicine_line(row: Medicine, state: State, width: int) -> str:
    """Return a medicine as one line: on or off, name, route, what for, how its dose is known."""
    spare = max(0, width - 76)
    words = (
        ("on" if state.on else "off", 3),
        (row.name, 20 + spare // 3),
        (row.routes[0], 13),
        (row.indication, 24 + spare - spare // 3),
        (row.known["dose"], 12),
    )
    return " ".join(fit(text, cells) for text, cells in words)


def sought(row: Medicine, state: State) -> str:
    """Return a medicine as it is looked up: name, routes, what for, on or off."""
    on = "on" if state.on else "off"
    return f"{row.name}, {' or '.join(row.routes)}: {row.indication}, {on}"


def medicine_detail(row: Medicine, state: State) -> str:
    """Return what stands below the list about a medicine."""
    name = f"{row.name}, {' or '.join(row.routes)}: {row.indication}"
    ours = own_rows.held().bodies.get(row.key)
    found = [name, dose_words(row), f"It is {state.words}."]
    if ours is not None:
        counts = f" Not known, and so harmful: {', '.join(own_row.unknown(ours))}."
        found.append(f"Written by this practice.{counts if own_row.unknown(ours) else ''}")
    return "\n".join(found)


def shelf_lines(view: ShelfView, width: int) -> Iterator[tuple[str, str]]:
    """Give every product with its lots under it, each with its id."""
    for found in view.products:
        row = found.product
        log = "drug log" if row.controlled else ""
        left = f"{shown(found.left)} {row.pack_unit}"
        words = ((row.name, width - 43), (found.strength, 14), (log, 8), (left, 16))
        yield row.id, " ".join(fit(text, cells) for text, cells in words)
        for lot in found.lots:
            yield lot.lot.id, fit(f"   lot {lot.words(view.day)}", width - 2)


def shelf_detail(view: ShelfView, key: str) -> str:
    """Return what stands below the list about a product or a lot, and what Enter does."""
    product, lot = view.product_of(key), view.lot(key)
    if product is None:
        return "Nothing is on the shelf yet: a adds a product, as its label says it."
    row = product.product
    if lot is not None:
        return f"{row.name}, lot {lot.words(view.day)}\nEnter writes a line: waste, count ..."
    heavy = f", {row.density_g_ml:g} g/mL" if row.density_g_ml else ""
    pack = f"packs of {row.pack:g} {row.pack_unit}{heavy}"
    return (
        f"{row.name}: {product.medicine}, {product.strength}, {pack}\n"
        f"{_first(product, view)} Enter writes down what came in; w shows its log."
    )


def _first(product: ProductView, view: ShelfView) -> str:
    usable = product.usable(view.day)
    return f"Used first: lot {usable[0].lot.number}." if usable else "No lot that can be used."


def log_words(view: ShelfView) -> str:
    """Return how the drug log of the day stands, for the line at the foot."""
    if view.open:
        more = f", and {len(view.open) - 1} more" if len(view.open) > 1 else ""
        return f"Drug log of today is open: {view.open[0].words}{more}"
    if not any(p.product.controlled for p in view.products):
        return ""
    if view.closed:
        return "Drug log of today: closed."
    return f"Drug log of today: {counted_words(view)}; f closes it."


def counted_words(view: ShelfView) -> str:
    """Return what was counted today of the lots in the drug log that hold something."""
    logged = (p for p in view.products if p.product.controlled)
    lots = [x.lot.id for p in logged for x in p.lots if x.left > 0 or x.lot.id in view.counted]
    done = sum(lot in view.counted for lot in lots)
    if not done:
        return "not counted today"
    return "it agrees" if done == len(lots) else f"{done} of {len(lots)} lots counted today"


def closing(view: ShelfView) -> str:
    """Return what closing the drug log of the day closes: each product, and what is left."""
    logged = [p for p in view.products if p.product.controlled]
    rows = [f"{p.product.name}: {shown(p.left)} {p.product.pack_unit} left" for p in logged]
    said = f"{counted_words(view)[0].upper()}{counted_words(view)[1:]}."
    day = f"{view.day.day} {view.day:%b %Y}"
    head = f"The drug log of today, {day}, is closed:"
    return "\n".join([head, *rows, said, "f closes it; Esc leaves it open."])
