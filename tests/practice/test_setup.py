"""The first start: the practice, its people, taxes and a first price list, in one edit."""

from __future__ import annotations

from decimal import Decimal

import pytest

from core.errors import BadInput
from core.practice import setup, who
from core.practice.keep import Act
from core.practice.setup import NewPerson
from core.records import read
from core.records.engine import query
from core.records.tables import Practice, Price, TaxClass

VERA = NewPerson("Vera Vet", "veterinarian", "L-1")


def details(**other: object) -> Practice:
    values: dict[str, object] = {
        "id": "",
        "name": "Reed Row",
        "address": "1 Reed Row",
        "phone": "555",
        "currency": "eur",
        "zone": "europe/lisbon",
    }
    return Practice(**{**values, **other})  # type: ignore[arg-type]


@pytest.mark.usefixtures("records")
def test_one_edit_makes_everything(act: Act) -> None:
    pell = NewPerson("Pell", "reception")
    ids = setup.begin(act, details(), [VERA, pell], {"goods": Decimal(7), "service": Decimal(0)})
    made = who.practice()
    assert made is not None
    assert (made.currency, made.zone, made.invented) == ("EUR", "Europe/Lisbon", False)
    assert [(p.id, p.name) for p in who.people()] == [(ids[0], "Vera Vet"), (ids[1], "Pell")]
    rates = {t.code: t.rate_percent for t in read.find(TaxClass)}
    assert rates == {"service": Decimal(0), "medicine": Decimal(0), "goods": Decimal(7)}
    assert {p.tax_class for p in read.find(Price)} <= set(rates)
    assert len(query('SELECT "id" FROM "edit"')) == 1


@pytest.mark.usefixtures("records")
@pytest.mark.parametrize(
    "wrong", [{"zone": "Europe/Nowhere"}, {"zone": "../etc/passwd"}, {"currency": "€"}]
)
def test_what_is_wrong_is_refused_and_nothing_is_made(act: Act, wrong: dict[str, str]) -> None:
    with pytest.raises(BadInput, match="for example"):
        setup.begin(act, details(**wrong), [VERA], {})
    assert who.practice() is None


@pytest.mark.usefixtures("records")
def test_a_practice_needs_somebody(act: Act) -> None:
    with pytest.raises(BadInput, match="somebody"):
        setup.begin(act, details(), [], {})
    assert who.practice() is None


def test_prices_are_scaled_to_the_minor_unit_of_the_currency() -> None:
    cents, yen, fils = ({p.code: p.unit_minor for p in setup.first_prices(e)} for e in (2, 0, 3))
    assert cents["exam"] == 100 * yen["exam"]
    assert fils["exam"] == 10 * cents["exam"]
