"""Invoice totals: net, tax by rate and gross, in whole minor units."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from core.billing.charges import ChargeLine
from core.billing.money import half_up
from core.errors import BadInput

Rounding = Literal["line", "once"]


@dataclass(frozen=True)
class TaxRules:
    """Which tax class pays how much, and where it is rounded.

    Parameters
    ----------
    percent : mapping
        Tax class to its rate in per cent; 0 for exempt.
    rounding : str
        ``line`` rounds the tax of every line, ``once`` that of each rate over the invoice.
    source : str
        Key of the source, or the practice's own setting.
    """

    percent: Mapping[str, Decimal]
    rounding: Rounding = "once"
    source: str = ""

    @classmethod
    def from_row(cls, row: Mapping[str, Any]) -> TaxRules:
        """Make the rules from their catalogue row; rates are text, so that none is a float."""
        rates = {name: Decimal(rate) for name, rate in row["percent"].items()}
        if row["rounding"] not in ("line", "once"):
            raise BadInput("Tax is rounded per line or once.", "Set rounding to line or once.")
        return cls(rates, row["rounding"], row["source"])


@dataclass(frozen=True)
class TaxAmount:
    """Tax of one rate: the net amount it is taken from and the tax, in minor units."""

    percent: Decimal
    taxable: int
    tax: int


@dataclass(frozen=True)
class Totals:
    """What an invoice comes to, in minor units."""

    net: int
    tax_by_rate: tuple[TaxAmount, ...]
    tax: int
    gross: int
    rounding: Rounding


def totals(lines: Iterable[ChargeLine], tax_rules: TaxRules) -> Totals:
    """Add up an invoice.

    Parameters
    ----------
    lines : iterable of ChargeLine
        Each already a whole amount (quantity x price, rounded half up).
    tax_rules : TaxRules
        Rates by class and where tax is rounded.

    Raises
    ------
    BadInput
        When a line is of a tax class the rules do not know: never quietly untaxed.
    """
    held = tuple(lines)
    by_rate: dict[Decimal, list[int]] = {}
    for line in held:
        by_rate.setdefault(_rate(line, tax_rules), []).append(line.amount)
    taxed = tuple(
        TaxAmount(rate, sum(amounts), _tax(amounts, rate, tax_rules.rounding))
        for rate, amounts in sorted(by_rate.items())
        if rate
    )
    net, tax = sum(line.amount for line in held), sum(amount.tax for amount in taxed)
    return Totals(net, taxed, tax, net + tax, tax_rules.rounding)


def _rate(line: ChargeLine, rules: TaxRules) -> Decimal:
    rate = rules.percent.get(line.tax_class)
    if rate is None:
        known = ", ".join(sorted(rules.percent))
        raise BadInput(
            f"{line.description} has the tax class {line.tax_class}, which has no rate.",
            f"Choose one of {known}, or give it a rate.",
        )
    return rate


def _tax(amounts: list[int], percent: Decimal, rounding: Rounding) -> int:
    if rounding == "once":
        return half_up(sum(amounts) * percent / 100)
    return sum(half_up(amount * percent / 100) for amount in amounts)
