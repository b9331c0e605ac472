"""The shelf: the practice's products, their lots, and what is left of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from core.dates import said
from core.dosing.quantities import density
from core.errors import BadInput, Refusal
from core.practice import own_rows, read_medicines, stock_log
from core.practice.door import edit
from core.practice.keep import Act
from core.practice.own_products import PACKS, strength_of
from core.records import read
from core.records.keys import new_key
from core.records.tables import Lot, Price, Product


@dataclass(frozen=True)
class OnShelf:
    """A lot with what is left of it."""

    lot: Lot
    left: Decimal
    unit: str

    def expired(self, day: date) -> bool:
        """Return whether the lot is past its expiry; it may be used on the day itself."""
        return self.lot.expires is not None and self.lot.expires < day

    def words(self, day: date) -> str:
        """Return the lot in a line: number, expiry, what is left, where."""
        parts = [self.lot.number, f"{stock_log.shown(self.left)} {self.unit} left"]
        if self.lot.expires:
            until = "EXPIRED" if self.expired(day) else "expires"
            parts.insert(1, f"{until} {said(self.lot.expires, day)}")
        parts += [f"opened {said(self.lot.opened, day)}"] if self.lot.opened else []
        return ", ".join([*parts, *filter(None, (self.lot.place,))])


@dataclass(frozen=True)
class ProductView:
    """A product with its lots, the first to expire first."""

    product: Product
    medicine: str
    """Name of the medicine."""
    strength: str
    lots: tuple[OnShelf, ...]

    @property
    def left(self) -> Decimal:
        """All that is left of it."""
        return sum((lot.left for lot in self.lots), Decimal(0))

    def usable(self, day: date) -> tuple[OnShelf, ...]:
        """Return the lots that something may be taken from, the oldest first."""
        return tuple(lot for lot in self.lots if lot.left > 0 and not lot.expired(day))


def first_of(usable: tuple[OnShelf, ...], last: date | None) -> OnShelf:
    """Return the lot that is taken unless another is said: the oldest still good on a last day."""
    return next((x for x in usable if last is None or not x.expired(last)), usable[0])


def products() -> tuple[ProductView, ...]:
    """Return the practice's products, by name, as the records say now."""
    own = own_rows.read_again()
    rows = sorted(own.products.values(), key=lambda p: (p.name.casefold(), p.id))
    return tuple(_view(row) for row in rows)


def held(product: str) -> ProductView | None:
    """Return a product as last read: nothing is asked of the records; None for another's."""
    row = own_rows.held().products.get(product)
    return None if row is None else _view(row)


def holding(agent: str, day: date) -> tuple[ProductView, ...]:
    """Return the products with an agent of which a lot can be used, as last read, by name."""
    known = read_medicines.merged()
    mine = (
        _view(row)
        for row in own_rows.held().products.values()
        if row.medicine in known and known[row.medicine].name == agent
    )
    usable = (view for view in mine if view.usable(day))
    return tuple(sorted(usable, key=lambda v: (v.product.name.casefold(), v.product.id)))


def _view(row: Product) -> ProductView:
    own = own_rows.held()
    medicine = read_medicines.merged().get(row.medicine)
    lots = tuple(
        OnShelf(lot, own.left.get(lot.id, Decimal(0)), row.pack_unit) for lot in own.lots_of(row.id)
    )
    return ProductView(
        row, medicine.name if medicine else row.medicine, str(strength_of(row)), lots
    )


@dataclass(frozen=True)
class NewProduct:
    """A product as its label says it."""

    medicine: str
    name: str
    strength: float
    strength_unit: str
    pack: float
    pack_unit: str
    density_g_ml: float | None = None
    price: str = ""
    controlled: bool = False


def add_product(act: Act, new: NewProduct) -> str:
    """Put a product on the shelf; return its key.

    Raises
    ------
    BadInput
        For a product that can not be, with a sentence for each fault.
    """
    row = Product(id=new_key(), **{**vars(new), "name": new.name.strip()})
    if found := tuple(faults(row)):
        raise BadInput(" ".join(found))
    with edit("product", who=act.by, at=act.at) as doing:
        doing.add(row)
    own_rows.read_again()
    return row.id


def faults(row: Product) -> Iterator[str]:
    """Give what is wrong in a product, a sentence for each fault; none when it can be."""
    if not row.name:
        yield "A product needs a name."
    medicine = read_medicines.merged().get(row.medicine)
    if medicine is None:
        yield f"There is no medicine {row.medicine} in the list."
    elif medicine.controlled and not row.controlled:
        yield f"{medicine.name} is a controlled drug: the product stands in the drug log."
    if row.pack_unit not in PACKS or not row.pack > 0:
        yield (
            f"A pack holds more than nothing, in {' or '.join(PACKS)}; a vial or a sachet is "
            "entered by what it holds."
        )
    if row.price and read.first(Price, code=row.price) is None:
        yield f"{row.price} is not a code of the price list."
    try:
        strength_of(row)
        if row.density_g_ml is not None:
            density(row.density_g_ml, "g/mL")
    except BadInput as error:
        yield f"{error.sentence} {error.todo}".strip()


@dataclass(frozen=True)
class Received:
    """What came in: a batch, as its pack says it."""

    number: str
    amount: Decimal
    expires: date | None = None
    place: str = ""
    note: str = ""


def receive(act: Act, product: str, came: Received) -> str:
    """Put what came in on the shelf; return the id of its lot, which may be there already.

    Raises
    ------
    Refusal
        Without a number; for a lot that expires on another day than the one of its number and
        place; for one that has expired.
    """
    number, place = came.number.strip(), came.place.strip()
    if not number:
        raise BadInput("A batch has a number.", "It is printed on the pack.")
    row = read.one(Product, product)
    day = stock_log.day_of(act)
    if came.expires is not None and came.expires < day:
        raise Refusal(f"Lot {number} expired on {said(came.expires, day)}.", "Send it back.")
    lot = read.first(Lot, product=product, number=number, place=place)
    if lot is not None and lot.expires != came.expires:
        raise Refusal(
            f"Lot {number} is on the shelf with another expiry, {lot.expires or 'none'}.",
            "Look at the pack again.",
        )
    with edit("stock received", who=act.by, at=act.at) as doing:
        if lot is None:
            key = new_key()
            lot = Lot(id=key, product=row.id, number=number, expires=came.expires, place=place)
            doing.add(lot)
        stock_log.write(doing, act, lot, "received", came.amount, why=came.note)
    own_rows.read_again()
    return lot.id


def set_lot(act: Act, lot: str, *, opened: date | None = None, place: str | None = None) -> None:
    """Say when a lot was opened, or where it is now.

    Raises
    ------
    BadInput
        For a day that has not come yet.
    """
    if opened is not None and opened > stock_log.day_of(act):
        raise BadInput("That day has not come yet.", "Type the day it was opened.")
    wanted = {"opened": opened, "place": None if place is None else place.strip()}
    with edit("lot", who=act.by, at=act.at) as doing:
        doing.change(Lot, lot, **{k: v for k, v in wanted.items() if v is not None})
    own_rows.read_again()
