"""A case drawn at random from a seed: who, which water, what is read, given, fed and paid."""

from __future__ import annotations

import random
from dataclasses import dataclass
from decimal import Decimal

FIRST = ("Łucja", "Ægir", "Zoë", "Siân", "Núria", "Jiří", "Håkon")
LAST = ("Żółć", "O'Dálaigh", "Strauß", "Peña", "Ångström", "Škvorecký")
MARKUP = "[/b] & <x>"


@dataclass(frozen=True)
class Kind:
    """A kind of system with fish that live in it, and between what its readings are drawn."""

    key: str
    species: str
    litres: tuple[int, int]
    temperature_c: tuple[int, int]
    """In tenths."""
    ph: tuple[int, int]
    """In hundredths."""
    salinity: tuple[int, int] | None
    dkh: tuple[int, int]
    size_g: tuple[int, int]
    length_cm: tuple[int, int]
    length_weight: tuple[str, str]
    """a and b of W = a L^b as the source prints them; see `expect`."""
    medicines: tuple[str, ...]
    food: str
    food_fish: bool = False


# Length to weight: koi and carp from Balik et al. (2006); the others as FishBase lists them.
KINDS = (
    Kind("koi_pond", "koi", (6000, 30_000), (190, 240), (720, 830), None, (7, 11), (300, 1500),
         (25, 60), ("0.02354", "2.9301"), ("praziquantel", "levamisole"), "koi or gold"),
    Kind("koi_pond", "common_carp", (6000, 30_000), (190, 240), (720, 830), None, (7, 11),
         (300, 1500), (25, 60), ("0.02354", "2.9301"), ("praziquantel", "levamisole"),
         "koi or gold", True),
    Kind("goldfish_pond", "goldfish", (1500, 9000), (150, 240), (720, 830), None, (7, 11),
         (90, 400), (14, 30), ("0.01349", "3.0"), ("praziquantel", "levamisole"), "koi or gold"),
    Kind("soft_water", "discus", (300, 900), (275, 300), (600, 640), None, (1, 2), (60, 200),
         (12, 18), ("0.02692", "3.048"), ("praziquantel", "levamisole"), "cichlid"),
    Kind("marine_fish_only", "brown_tang", (400, 2000), (242, 268), (812, 828), (300, 345),
         (8, 11), (60, 200), (12, 20), ("", ""), ("praziquantel",), "marine"),
)  # fmt: skip


@dataclass(frozen=True)
class Medicine:
    """A bath as the test dispenses it: 2 mg/L, over `days` days between two."""

    key: str
    typed: str
    name: str
    product: str
    purity: Decimal
    price: str
    """Code of the price list; see `expect.charges`."""


MEDICINES = {
    "praziquantel": Medicine(
        "praziquantel-prolonged",
        "praziquantel prol",
        "praziquantel",
        "praziquantel powder",
        Decimal(1),
        "praziquantel_dose",
    ),
    "levamisole": Medicine(
        "levamisole-bath",
        "levamisole bath",
        "levamisole",
        "levamisole hydrochloride powder 10 %",
        Decimal("0.1"),
        "levamisole_powder",
    ),
}


class Draw:
    """Everything about one visit that is left to chance."""

    def __init__(self, seed: int, kind: Kind | None = None) -> None:
        self.seed = seed
        r = random.Random(seed)
        self.random = r
        self.client = f"{r.choice(FIRST)} {r.choice(LAST)} {MARKUP}"
        self.last = self.client.split()[1]
        self.kind = kind or r.choice(KINDS)
        self.water = r.choice(("pool by the wall", "long tank", "house water"))
        self.litres = r.randrange(*self.kind.litres, 10)
        self.error = r.choice((5, 10, 15))
        self.elevation_m = r.randrange(0, 800)
        self.fish = r.choice(("reds", "old ones", "the shoal"))
        self.count = r.randrange(8, 30)
        self.good = r.random() < 0.6
        """Whether nothing that is measured speaks against a rise."""
        self.draw_money()
        self.draw_readings()
        self.draw_hand()
        self.draw_food()
        self.draw_plan()

    def _decimal(self, low: int, high: int, places: int) -> Decimal:
        return Decimal(self.random.randint(low, high)).scaleb(-places)

    def draw_money(self) -> None:
        r = self.random
        self.tax = {c: self._decimal(0, 2400, 2) for c in ("service", "medicine", "goods")}
        self.rounding = r.choice(("once", "line"))
        self.price_factor = r.randrange(37, 263)
        """Each price of the list is taken so many hundredths of its usual amount."""
        self.goods = (r.choice(("Salt, bag", "Air stone <b>", "Net & pole")), r.randint(1, 4))
        self.goods_minor = r.randint(101, 9999)
        self.share = r.randint(10, 80)
        """How much of the bill is paid on the spot, in %."""
        self.from_list = r.random() < 0.5
        """Whether the invoice is issued from the list of papers instead of by its own key."""

    def draw_readings(self) -> None:
        r, k = self.random, self.kind
        self.temperature_c = self._decimal(*k.temperature_c, 1)
        self.fahrenheit = r.random() < 0.5
        self.ph = self._decimal(*k.ph, 2)
        self.salinity = None if k.salinity is None else self._decimal(*k.salinity, 1)
        self.saturation = r.randint(88, 99)
        """Oxygen in % of what the water holds."""
        self.kh_d = r.randint(*k.dkh)
        self.kh_as_mg = r.random() < 0.5
        self.ammonia_basis = r.choice(("N", "NH3", "NH4"))
        self.nitrite_basis = r.choice(("N", "NO2"))
        self.ammonia = self._decimal(60, 190, 2)
        """Of a bad water; a good one reads under the lowest step."""
        self.tap_ph = self._decimal(690, 790, 2)
        self.tap_dkh = r.randint(3, 14)

    def draw_hand(self) -> None:
        r, k = self.random, self.kind
        self.weight_g = r.randrange(*k.size_g)
        self.bath_l = r.randrange(10, 45, 5)
        self.bath_mg_l = r.randrange(100, 155, 5)
        self.rate = r.randrange(40, 120)
        self.small = self.weight_g < 300
        self.lot = f"CZ-{r.randrange(1000, 9999)}"
        self.worms = [r.randrange(3, 12) for _ in range(3)]

    def draw_food(self) -> None:
        r, k = self.random, self.kind
        some = r.randrange(2, self.count - 2)
        self.stock_counts = (some, self.count - some)
        self.by_length = bool(k.length_weight[0])
        self.stock_sizes = (
            Decimal(r.randrange(*(k.length_cm if self.by_length else k.size_g))),
            Decimal(r.randrange(*k.size_g)),
        )
        self.target = self._decimal(6, 15, 1)
        self.fed_share = r.randint(35, 70)
        """What is fed now, in % of the target."""
        self.weeks = r.randint(2, 6)
        self.gate_tan = self._decimal(15, 24, 2)

    def draw_plan(self) -> None:
        r = self.random
        self.medicine = MEDICINES[r.choice(self.kind.medicines)]
        self.repeats = r.randint(2, 3)
        self.every = r.randint(6, 15)
        self.withdrawal = r.randrange(22, 61)
        self.recheck_days = r.randint(5, 20)
        self.medicine_lot = f"PZ-{r.randrange(1000, 9999)}"
        self.step = f"net off what floats & keep {r.randint(2, 9)} [samples] <cold>"
