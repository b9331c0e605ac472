"""What a drawn visit must come to, worked out without the app.

Money, doses, rations and weights are sums in `Decimal`; the oxygen that water holds is gsw's
(Garcia & Gordon's fit of Benson & Krause), the share of ammonia that is toxic PHREEQC's in
fresh water (phreeqpython) and in the sea PyCO2SYS's (Clegg & Whitfield). Nothing here calls a
calculation of the app.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from functools import cache, cached_property

from tests.visit.draw import Draw

LOW_AMMONIA, LOW_NITRITE = Decimal("0.1"), Decimal("0.05")
"""The steps under which a good water reads."""
N, H, O = Decimal("14.007"), Decimal("1.008"), Decimal("15.999")  # noqa: E741 (the elements)
IONS = {"N": N, "NH3": N + 3 * H, "NH4": N + 4 * H, "NO2": N + 2 * O}
DKH_MG_L = Decimal("17.848")
SEDATION_DAYS = 21
"""Withdrawal on the label of tricaine, days."""
MARK_ML = Decimal("0.01")
"""Between two marks of a 1 mL syringe."""


def half_up(amount: Decimal) -> int:
    return int(amount.quantize(Decimal(1), ROUND_HALF_UP))


def bare(minor: int) -> str:
    """Write minor units as the papers do: thousands apart from five digits up."""
    whole, cents = f"{minor // 100}", f"{minor % 100:02d}"
    if len(whole) > 4:
        whole = f"{minor // 100:,}".replace(",", " ")
    return f"{whole}.{cents}"


def short(amount: Decimal) -> str:
    """Write an amount without zeros at its end."""
    return format(amount.normalize(), "f")


def weighable(grams: Decimal) -> Decimal:
    """Return grams as a kitchen scale has them: tenths under 10 g, then grams, then tens."""
    step = "0.1" if grams < 10 else "1" if grams < 1000 else "10"
    if step != "10":
        return grams.quantize(Decimal(step), ROUND_HALF_EVEN)
    return (grams / 10).quantize(Decimal(1), ROUND_HALF_EVEN) * 10


def paper_day(day: date) -> str:
    """Write a date as the papers do."""
    return f"{day:%a} {day.day} {day:%b} {day.year}"


@dataclass(frozen=True)
class Line:
    """A line of the invoice."""

    words: str
    quantity: Decimal
    unit: int
    tax: str

    @property
    def amount(self) -> int:
        return half_up(self.quantity * self.unit)


@dataclass(frozen=True)
class Step:
    """A step of the rise."""

    day: date
    grams: Decimal


@cache
def _phreeqc() -> object:
    import phreeqpython

    return phreeqpython.PhreeqPython()


class Expected:
    """All that is expected of one case on one day."""

    def __init__(self, case: Draw, prices: dict[str, tuple[str, int, str]], day: date) -> None:
        self.case = case
        self.prices = prices
        self.day = day

    # Water

    @property
    def salinity(self) -> float:
        return float(self.case.salinity or 0)

    @cached_property
    def oxygen_held_mg_l(self) -> float:
        """What this water holds at its elevation, by gsw."""
        import gsw

        t, s = float(self.case.temperature_c), self.salinity
        density = gsw.rho(s * 35.16504 / 35, gsw.CT_from_t(s * 35.16504 / 35, t, 0), 0) / 1000
        at_sea = float(gsw.O2sol_SP_pt(s, t)) * 31.9988e-3 * float(density)
        pressure = (1 - 2.25577e-5 * self.case.elevation_m) ** 5.25588
        vapour = 0.0233 * 2 ** ((t - 20) / 11)  # atm, a rule of thumb: it enters only here
        return at_sea * (pressure - vapour) / (1 - vapour)

    @cached_property
    def oxygen(self) -> Decimal:
        """The reading that is typed, mg/L."""
        held = Decimal(self.oxygen_held_mg_l)
        return (held * self.case.saturation / 100).quantize(Decimal("0.01"))

    @property
    def oxygen_percent(self) -> float:
        return 100 * float(self.oxygen) / self.oxygen_held_mg_l

    @property
    def ammonia_typed(self) -> str:
        case = self.case
        return f"<{LOW_AMMONIA}" if case.good else str(case.ammonia)

    @property
    def ammonia_n(self) -> Decimal:
        """Total ammonia in mg/L as N."""
        case = self.case
        value = LOW_AMMONIA if case.good else case.ammonia
        return value * N / IONS[case.ammonia_basis]

    @property
    def nitrite_n(self) -> Decimal:
        return LOW_NITRITE * N / IONS[self.case.nitrite_basis]

    @property
    def alkalinity_mg_l(self) -> Decimal:
        exact = self.case.kh_d * DKH_MG_L
        return exact.quantize(Decimal(1)) if self.case.kh_as_mg else exact

    @cached_property
    def toxic_share(self) -> float:
        """Un-ionised part of the ammonia, by PHREEQC or, with salt, by PyCO2SYS."""
        t, ph = float(self.case.temperature_c), float(self.case.ph)
        if self.case.salinity is None:
            asked = {"temp": t, "pH": ph, "units": "mg/l", "N(-3)": "0.5"}
            found = _phreeqc().add_solution(asked).species  # type: ignore[attr-defined]
            return float(found["NH3"] / (found["NH3"] + found["NH4+"]))
        import PyCO2SYS

        asked = {"par1": ph, "par1_type": 3, "par2": 2400, "par2_type": 1}
        more = {"salinity": self.salinity, "temperature": t, "total_ammonia": 10}
        k = float(PyCO2SYS.sys(**asked, **more, opt_pH_scale=4)["k_ammonia"])
        return k / (k + 10**-ph)

    @property
    def toxic_ammonia(self) -> float:
        return float(self.ammonia_n) * self.toxic_share

    # Fish and food

    @property
    def sizes_g(self) -> tuple[Decimal, Decimal]:
        """Mean weight of one fish of each of the two lines of the stock."""
        first, second = self.case.stock_sizes
        if self.case.by_length:
            a, b = map(Decimal, self.case.kind.length_weight)
            first = a * first**b
        return first, second

    @property
    def biomass_g(self) -> Decimal:
        pairs = zip(self.case.stock_counts, self.sizes_g, strict=True)
        return sum((count * each for count, each in pairs), Decimal(0))

    @property
    def to_feed(self) -> Decimal:
        """Grams a day at the target."""
        return weighable(self.biomass_g * self.case.target / 100)

    @property
    def fed_each(self) -> Decimal:
        """Grams at one of the two feedings of a day, as typed."""
        return (self.to_feed * self.case.fed_share / 200).quantize(Decimal("0.1"))

    @property
    def ration_percent(self) -> Decimal:
        return 200 * self.fed_each / self.biomass_g

    @property
    def may_rise(self) -> bool:
        """Whether no gate is broken: soft water has less alkalinity than the gate asks."""
        return self.case.good and self.alkalinity_mg_l >= 50

    @property
    def hold(self) -> Decimal:
        """Grams a day at which it is held when it may not rise: what is fed, as typed."""
        return weighable(2 * self.fed_each)

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps of the rise, one a week."""
        if not self.may_rise:
            return ()
        low, high, weeks = 2 * self.fed_each, self.to_feed, self.case.weeks
        return tuple(
            Step(
                self.day + timedelta(days=7 * n),
                weighable(low + (high - low) * (n + 1) / weeks),
            )
            for n in range(weeks)
        )

    # Medicines

    @property
    def sedation_g(self) -> Decimal:
        return Decimal(self.case.bath_mg_l * self.case.bath_l) / 1000

    @property
    def drawn_ml(self) -> Decimal:
        """20 mg/kg from 100 mg/mL, or from the dilution for a small fish."""
        strength = 25 if self.case.small else 100
        exact = Decimal(20) * self.case.weight_g / 1000 / strength
        return (exact / MARK_ML).quantize(Decimal(1), ROUND_HALF_EVEN) * MARK_ML

    @property
    def dose_g(self) -> Decimal:
        """Product for one bath of 2 mg/L."""
        return Decimal(2) * self.case.litres / 1000 / self.case.medicine.purity

    @property
    def dose_days(self) -> tuple[date, ...]:
        case = self.case
        return tuple(self.day + timedelta(days=n * case.every) for n in range(case.repeats))

    @property
    def eaten_from(self) -> date:
        """First day on which food fish may be eaten again."""
        return self.dose_days[-1] + timedelta(days=self.case.withdrawal)

    @property
    def sedated_until(self) -> date:
        return self.day + timedelta(days=SEDATION_DAYS)

    @property
    def recheck(self) -> date:
        return self.day + timedelta(days=self.case.recheck_days)

    # Money

    @property
    def lines(self) -> tuple[Line, ...]:
        """The invoice, line by line: what was done by the price list, then the goods."""
        done = {
            "call_out": 1,
            "exam": 1,
            "water_panel": 1,
            "sedation": 1,
            "slide": 2,
            # Weighing belongs to the examination; reckoning a stock from its lengths does not.
            **({"lengths": 1} if self.case.by_length else {}),
            "dispensing": 1,
            self.case.medicine.price: self.case.repeats,
        }
        by_list = [
            Line(name, Decimal(done[code]), minor, tax)
            for code, (name, minor, tax) in self.prices.items()
            if code in done
        ]
        words, many = self.case.goods
        return (*by_list, Line(words, Decimal(many), self.case.goods_minor, "goods"))

    @property
    def net(self) -> int:
        return sum(line.amount for line in self.lines)

    @property
    def taxes(self) -> dict[Decimal, tuple[int, int]]:
        """Rate to what it is taken from and the tax; classes of one rate are one line."""
        by_rate: dict[Decimal, list[int]] = {}
        for line in self.lines:
            by_rate.setdefault(self.case.tax[line.tax], []).append(line.amount)
        return {
            rate: (sum(amounts), self._tax(amounts, rate))
            for rate, amounts in by_rate.items()
            if rate
        }

    def _tax(self, amounts: list[int], rate: Decimal) -> int:
        if self.case.rounding == "line":
            return sum(half_up(amount * rate / 100) for amount in amounts)
        return half_up(sum(amounts) * rate / 100)

    @property
    def gross(self) -> int:
        return self.net + sum(tax for _, tax in self.taxes.values())

    @property
    def paid(self) -> int:
        return self.gross * self.case.share // 100
