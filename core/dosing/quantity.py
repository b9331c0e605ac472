"""What every quantity of dosing has in common: a number, a unit, and a kind that is checked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from math import floor, inf, isfinite, log10
from typing import Any, ClassVar, Generic, Self, TypeVar

from core.dosing.registry import registry
from core.errors import BadInput, UnitError
from core.numbers import plain

Kind = TypeVar("Kind", bound="Quantity")


class WrongKind(UnitError, TypeError):
    """One kind of quantity was given where another is wanted."""

    title = "No figure"


@dataclass(frozen=True)
class Quantity:
    """A number with a unit and a kind; built through `core.dosing.quantities`.

    Parameters
    ----------
    magnitude : float
        In `unit`; above zero and finite.
    unit : str
        One of the spellings in `units`.

    Raises
    ------
    BadInput
        For a magnitude that is not a number above zero, or above `most`.
    UnitError
        For a unit that this kind is not written in.
    """

    magnitude: float
    unit: str

    word: ClassVar[str] = "quantity"
    """What it is called in a sentence."""
    units: ClassVar[Mapping[str, str]] = {}
    """Spelling to unit of the registry; the first is the usual one."""
    most: ClassVar[float] = inf
    """Largest magnitude that can be true, in the usual unit."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "unit", self._spelling(self.unit))
        object.__setattr__(self, "magnitude", _number(self.magnitude, self))
        if self.most < inf and self.m_as(next(iter(self.units))) > self.most:
            most = f"{plain(self.most)} {next(iter(self.units))}"
            raise BadInput(f"A {self.word} of {self} is more than can be; the most is {most}.")

    def _spelling(self, unit: str) -> str:
        for known in self.units:
            if unit in _ways(known):
                return known
        listed = ", ".join(self.units)
        raise UnitError(f"A {self.word} is written in {listed}; not in {unit or 'a bare number'}.")

    @property
    def pint(self) -> Any:
        """The same as a pint quantity of the registry of dosing."""
        return registry().Quantity(self.magnitude, self.units[self.unit])

    def to(self, unit: str) -> Self:
        """Return the same quantity in another unit of its kind.

        Raises
        ------
        UnitError
            For a unit that this kind is not written in.
        """
        return type(self)(self.m_as(unit), unit)

    def m_as(self, unit: str) -> float:
        """Return the bare number in a unit of its kind."""
        known = self._spelling(unit)
        if known == self.unit:
            return self.magnitude
        return float(self.pint.m_as(self.units[known]))

    def scaled(self, factor: float) -> Self:
        """Return so many times the quantity, in the same unit."""
        return type(self)(self.magnitude * factor, self.unit)

    def __str__(self) -> str:
        return f"{_shown(self.magnitude)} {self.unit}"


def _number(value: object, who: Quantity) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        raise BadInput(f"A {who.word} needs a plain number, for example 10 {who.unit}.")
    number = float(value)
    if not isfinite(number) or number <= 0:
        raise BadInput(f"A {who.word} must be a number above zero; {value} {who.unit} is not.")
    return number


def spelled(kind: type[Quantity], unit: str) -> bool:
    """Tell whether a kind is written in this unit; L may be typed l, and u as the micro sign."""
    return any(unit in _ways(known) for known in kind.units)


def _ways(known: str) -> tuple[str, ...]:
    small = known.replace("L", "l")
    return known, small, known.replace("u", "µ"), small.replace("u", "µ"), known.replace("u", "μ")


def _shown(value: float) -> str:
    places = max(0, 3 - floor(log10(value)))
    return plain(float(round(value, places)))


def expect_nothing(value: object, why: str) -> None:
    """Refuse any value where none belongs.

    Raises
    ------
    WrongKind
        With the reason and what was given.
    """
    if value is not None:
        raise WrongKind(f"No figure: {why}; there is no place here for {_given(value)}.")


def _given(value: object) -> str:
    return f"a {value.word}, {value}" if isinstance(value, Quantity) else repr(value)


def made(kind: type[Kind], value: Any, unit: str) -> Kind:
    """Return a pint result as a quantity of a kind; the second lock behind the types.

    Raises
    ------
    WrongKind
        When the dimensions of `value` are not those of `kind`.
    """
    wanted = registry().Unit(kind.units[unit])
    if not value.is_compatible_with(wanted):
        raise WrongKind(f"No figure: the result is not a {kind.word}.")
    return kind(float(value.m_as(wanted)), unit)


def expect(value: object, *kinds: type[Quantity]) -> None:
    """Refuse anything but a quantity of the listed kinds.

    Raises
    ------
    WrongKind
        Naming what is wanted and what was given.
    """
    if not isinstance(value, kinds):
        wanted = " or ".join(f"a {k.word} ({next(iter(k.units), 'with its unit')})" for k in kinds)
        raise WrongKind(f"No figure: {wanted} is wanted here, not {_given(value)}.")


@dataclass(frozen=True)
class Between(Generic[Kind]):
    """A quantity known only to lie between two of the same kind."""

    low: Kind
    high: Kind

    def __post_init__(self) -> None:
        expect(self.high, type(self.low))
        if self.high.m_as(self.low.unit) < self.low.magnitude:
            raise BadInput(f"Not a range: {self.low} is more than {self.high}.")

    def __iter__(self) -> Iterator[Kind]:
        yield self.low
        yield self.high

    def __str__(self) -> str:
        return f"{_shown(self.low.magnitude)} to {self.high.to(self.low.unit)}"
