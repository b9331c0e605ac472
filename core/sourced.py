"""A formula with its equation, range and source, and the working of anything built from them.

`sourced` declares a function; calling it checks its range. `working` collects what was
called inside a block, nested, so that a screen or a paper shows every step of a figure.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from math import isnan
from typing import Any, Generic, ParamSpec, TypeVar

from core.errors import OutOfRange
from core.numbers import figures, plain

P = ParamSpec("P")
R = TypeVar("R")

SUFFIXES: dict[str, str] = {
    "mg_l": "mg/L",
    "g_l": "g/L",
    "g_kg": "g/kg",
    "mg_kg": "mg/kg",
    "mg_ml": "mg/mL",
    "ul_l": "µL/L",
    "kg_m3": "kg/m³",
    "l_s": "L/s",
    "l_min": "L/min",
    "l_h": "L/h",
    "ms_cm": "mS/cm",
    "mg_min": "mg/min",
    "mg_h": "mg/h",
    "g_h": "g/h",
    "g_d": "g/d",
    "g_m2_d": "g/m²/d",
    "mg_kg_h": "mg/kg/h",
    "kg_l_min": "kg per L/min",
    "kpa": "kPa",
    "c": "°C",
    "k": "K",
    "l": "L",
    "ml": "mL",
    "g": "g",
    "kg": "kg",
    "mg": "mg",
    "cm": "cm",
    "mm": "mm",
    "m": "m",
    "m2": "m²",
    "m3": "m³",
    "s": "s",
    "min": "min",
    "minutes": "min",
    "hours": "h",
    "h": "h",
    "degree_days": "degree-days",
    "days": "d",
    "weeks": "weeks",
    "percent": "%",
    "per_day": "1/d",
    "per_minute": "1/min",
}
"""Unit of a parameter by the end of its name, longest first; a whole name counts as an end."""

WITHOUT_UNIT = frozenset(
    {
        "ph",
        "practical_salinity",
        "specific_gravity",
        "times",
        "ratio",
        "mg_per_mg",
        "glass_expansion",
        "reading",
        "a",
        "b",
        "value",
        "start",
        "incoming",
        "target",
    }
)
"""Names that carry no unit, or mean *in the unit of the result*."""

_BY_LENGTH = sorted(SUFFIXES, key=len, reverse=True)


@dataclass(frozen=True)
class Formula:
    """What was declared about one formula."""

    name: str
    module: str
    equation: str
    source: str
    unit: str
    valid: Mapping[str, tuple[float, float]]
    parameters: tuple[str, ...]
    opaque: bool

    @property
    def key(self) -> str:
        """Return the dotted name by which figures refer to it."""
        return f"{self.module}.{self.name}"


@dataclass
class Step:
    """One line of working; `within` are the lines it stands on."""

    formula: Formula
    inputs: dict[str, object]
    value: object = None
    within: list[Step] = field(default_factory=list)


FORMULAS: dict[str, Formula] = {}
"""Every declared formula by its dotted name; the house tests read it."""

_open: ContextVar[list[Step] | None] = ContextVar("open working", default=None)


def unit_of(name: str) -> str | None:
    """Return the unit a parameter name carries, ``""`` for none, None when it says nothing."""
    if name in WITHOUT_UNIT or name == "fraction" or name.endswith("_fraction"):
        return ""
    for suffix in _BY_LENGTH:
        if name == suffix or name.endswith("_" + suffix):
            return SUFFIXES[suffix]
    return None


class Sourced(Generic[P, R]):
    """A declared formula: call it to have its range checked and its working noted."""

    def __init__(self, plain_body: Callable[P, R], formula: Formula) -> None:
        functools.update_wrapper(self, plain_body)
        self.plain = plain_body
        """The bare body, for loops whose range was checked once."""
        self.formula = formula
        self._signature = inspect.signature(plain_body)
        names = formula.parameters
        self._limits = tuple((names.index(n), n, lo, hi) for n, (lo, hi) in formula.valid.items())
        self._defaults = {
            n: p.default
            for n, p in self._signature.parameters.items()
            if p.default is not inspect.Parameter.empty
        }

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """Check the range, then work it out, noting the step if somebody asked for the working."""
        for position, name, low, high in self._limits:
            given: Any = args[position] if position < len(args) else kwargs.get(name)
            if given is None:
                given = self._defaults.get(name)
            if given is not None and not low <= given <= high:
                raise OutOfRange(_outside(name, given, low, high))
        outer = _open.get()
        if outer is None:
            return self.plain(*args, **kwargs)
        bound = self._signature.bind(*args, **kwargs)
        bound.apply_defaults()
        step = Step(self.formula, dict(bound.arguments))
        outer.append(step)
        mark = _open.set(None if self.formula.opaque else step.within)
        try:
            got = self.plain(*args, **kwargs)
        finally:
            _open.reset(mark)
        step.value = got
        return got


def _outside(name: str, given: float, low: float, high: float) -> str:
    unit = unit_of(name) or ""
    said = "not a number" if isnan(given) else f"{plain(float(given))} {unit}".rstrip()
    what = words(name)
    return f"No figure: {what} is {said}; the formula holds from {plain(low)} to {plain(high)}" + (
        f" {unit}." if unit else "."
    )


def words(name: str) -> str:
    """Return a parameter or formula name as words, without its unit.

    Examples
    --------
    >>> words("temperature_c"), words("ph"), words("tan_mg_l")
    ('temperature', 'pH', 'TAN')
    """
    bare = name
    for suffix in _BY_LENGTH:
        if name.endswith("_" + suffix):
            bare = name[: -len(suffix) - 1]
            break
    special = {"ph": "pH", "tan": "TAN"}
    return " ".join(special.get(word, word) for word in bare.split("_"))


def sourced(
    *,
    equation: str,
    source: str,
    valid: Mapping[str, tuple[float, float]] | None = None,
    gives: str | None = None,
    opaque: bool = False,
) -> Callable[[Callable[P, R]], Sourced[P, R]]:
    """Declare a formula.

    Parameters
    ----------
    equation : str
        The formula as a person writes it.
    source : str
        Key of `core/catalogue/sources.toml`; ``ARITHMETIC`` for plain sums.
    valid : mapping
        Parameter name to the closed range in which the formula holds.
    gives : str
        Unit of the result, when the function's own name does not say it.
    opaque : bool
        Show the whole call as one line of working (simulations).

    Raises
    ------
    TypeError
        When a float parameter's name carries no unit, a range names no parameter, or the
        unit of the result is not said: at import, so that it can not reach a person.
    """

    def declare(body: Callable[P, R]) -> Sourced[P, R]:
        limits = dict(valid or {})
        parameters = inspect.signature(body).parameters
        for name, parameter in parameters.items():
            numeric = parameter.annotation in ("float", float, "float | None")
            if numeric and unit_of(name) is None:
                raise TypeError(f"{body.__qualname__}({name}): the name carries no unit")
        if set(limits) - set(parameters):
            raise TypeError(f"{body.__qualname__}: a range for an unknown parameter")
        unit = gives if gives is not None else unit_of(body.__name__)
        if unit is None:
            raise TypeError(f"{body.__qualname__}: say what it gives")
        formula = Formula(
            body.__name__,
            body.__module__,
            equation,
            source,
            unit,
            limits,
            tuple(parameters),
            opaque,
        )
        FORMULAS[formula.key] = formula
        return Sourced(body, formula)

    return declare


@contextmanager
def working() -> Iterator[list[Step]]:
    """Collect the steps of every declared formula called inside the block."""
    steps: list[Step] = []
    mark = _open.set(steps)
    try:
        yield steps
    finally:
        _open.reset(mark)


def lines(steps: list[Step], citations: Mapping[str, str] | None = None) -> Iterator[str]:
    """Give the working as lines for a person, indented by depth.

    Parameters
    ----------
    steps : list of Step
        As collected by `working`.
    citations : mapping, optional
        Source key to citation; without it the key itself is shown.
    """
    yield from _lines(steps, citations or {}, 0)


def _lines(steps: list[Step], citations: Mapping[str, str], depth: int) -> Iterator[str]:
    pad = "  " * depth
    for step in steps:
        formula = step.formula
        yield f"{pad}{words(formula.name)} = {shown(step.value, formula.unit)}"
        yield f"{pad}  {formula.equation}"
        for name, value in step.inputs.items():
            if value is None:
                continue  # what was not given has no part in it
            held = formula.valid.get(name)
            holds = f"  (holds {plain(held[0])} to {plain(held[1])})" if held else ""
            # A quantity says its unit itself.
            unit = (unit_of(name) or "") if isinstance(value, int | float) else ""
            yield f"{pad}  {words(name)} {shown(value, unit)}{holds}"
        yield f"{pad}  source: {citations.get(formula.source, formula.source)}"
        yield from _lines(step.within, citations, depth + 1)


def shown(value: object, unit: str) -> str:
    """Return a value of a step with its unit, floats to four figures, several with commas."""
    if isinstance(value, tuple):
        return ", ".join(shown(one, unit) for one in value)
    text = figures(value, 4) if isinstance(value, float) else str(value)
    return f"{text} {unit}".rstrip()
