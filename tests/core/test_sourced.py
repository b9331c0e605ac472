"""Declared formulas: their range, their working, and what is refused when they are declared."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable
from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import OutOfRange
from core.sourced import FORMULAS, SUFFIXES, WITHOUT_UNIT, Step, lines, sourced, unit_of, working


@pytest.fixture(autouse=True)
def _own_formulas(monkeypatch: pytest.MonkeyPatch) -> None:
    """Formulas declared in a test do not stay in the list of all."""
    monkeypatch.setattr("core.sourced.FORMULAS", dict(FORMULAS))


@dataclass(frozen=True)
class Three:
    inner: Callable[[float, float], float]
    outer: Callable[[float], float]
    whole: Callable[[float], float]


@pytest.fixture
def three() -> Three:
    @sourced(equation="a t + p", source="X", valid={"temperature_c": (0, 40), "ph": (5, 11)})
    def inner_mg_l(temperature_c: float, ph: float = 7.0) -> float:
        return 2 * temperature_c + ph

    @sourced(equation="2 inner", source="Y", gives="")
    def outer(temperature_c: float) -> float:
        return 2 * inner_mg_l(temperature_c, ph=8.0)

    @sourced(equation="outer in one line", source="Z", gives="", opaque=True)
    def whole(temperature_c: float) -> float:
        return outer(temperature_c)

    return Three(inner_mg_l, outer, whole)


def test_inside_its_range_it_is_the_plain_function(three: Three) -> None:
    assert three.inner(0, 5) == 5
    assert three.inner(40, 11) == 91
    assert three.inner(temperature_c=10) == 27
    assert three.inner.plain(99, 99) == 297


@pytest.mark.parametrize(
    "arguments",
    [
        (-0.001, 7),
        (40.001, 7),
        (20, 4.999),
        (20, 11.001),
        (math.nan, 7),
        (20, math.nan),
        (math.inf, 7),
        (20, -math.inf),
    ],
)
def test_outside_its_range_it_refuses_with_a_sentence(
    three: Three, arguments: tuple[float, float]
) -> None:
    by_name = dict(zip(("temperature_c", "ph"), arguments, strict=True))
    for call in (lambda: three.inner(*arguments), lambda: three.inner(**by_name)):
        with pytest.raises(OutOfRange, match=r"^No figure: .* holds from .* to .*\.$"):
            call()


def test_the_sentence_names_what_is_outside_and_the_range(three: Three) -> None:
    with pytest.raises(OutOfRange) as refused:
        three.inner(55.0, 7)
    assert refused.value.sentence == (
        "No figure: temperature is 55 °C; the formula holds from 0 to 40 °C."
    )
    with pytest.raises(OutOfRange, match="pH is not a number"):
        three.inner(20, math.nan)


def test_a_range_is_checked_in_nested_calls_too(three: Three) -> None:
    with pytest.raises(OutOfRange):
        three.outer(41)


def test_the_working_nests(three: Three) -> None:
    with working() as steps:
        got = three.outer(10.0)
    (step,) = steps
    assert (step.formula.name, step.value, step.inputs) == ("outer", got, {"temperature_c": 10.0})
    (within,) = step.within
    assert (within.formula.source, within.value) == ("X", 28.0)
    assert within.inputs == {"temperature_c": 10.0, "ph": 8.0}


def test_an_opaque_formula_is_one_line(three: Three) -> None:
    with working() as steps:
        three.whole(10.0)
    assert [(s.formula.name, s.within) for s in steps] == [("whole", [])]


def test_defaults_are_part_of_the_working(three: Three) -> None:
    with working() as steps:
        three.inner(1.0)
    assert steps[0].inputs == {"temperature_c": 1.0, "ph": 7.0}


def test_working_inside_working_keeps_its_own_lines(three: Three) -> None:
    with working() as outside:
        three.inner(1.0)
        with working() as inside:
            three.inner(2.0)
        three.inner(3.0)
    assert [s.inputs["temperature_c"] for s in outside] == [1.0, 3.0]
    assert [s.inputs["temperature_c"] for s in inside] == [2.0]


def test_a_refusal_leaves_the_working_as_it_was(three: Three) -> None:
    with working() as steps:
        with pytest.raises(OutOfRange):
            three.outer(99)
        three.inner(1.0)
    assert [s.formula.name for s in steps][-1] == "inner_mg_l"
    assert steps[-1].within == []


def test_outside_a_block_nothing_is_collected(three: Three) -> None:
    with working() as steps:
        pass
    three.inner(1.0)
    assert steps == []


def test_threads_do_not_see_each_others_working(three: Three) -> None:
    both = threading.Barrier(2, timeout=10)
    found: dict[float, list[Step]] = {}

    def work(value: float) -> None:
        with working() as steps:
            for _ in range(50):
                both.wait()
                three.outer(value)
        found[value] = steps

    threads = [threading.Thread(target=work, args=(value,)) for value in (1.0, 2.0)]
    for thread in threads:
        thread.start()
    with working() as mine:
        for thread in threads:
            thread.join()
    assert mine == []
    for value, steps in found.items():
        assert [s.inputs["temperature_c"] for s in steps] == [value] * 50


def test_the_lines_for_a_person(three: Three) -> None:
    with working() as steps:
        three.outer(10.0)
    text = list(lines(steps, {"X": "Somebody (1999). Something."}))
    assert text == [
        "outer = 56.00",
        "  2 inner",
        "  temperature 10.00 °C",
        "  source: Y",
        "  inner = 28.00 mg/L",
        "    a t + p",
        "    temperature 10.00 °C  (holds 0 to 40)",
        "    pH 8.000  (holds 5 to 11)",
        "    source: Somebody (1999). Something.",
    ]


def _no_unit(speed: float) -> float:
    return speed


def _optional_without_unit(speed: float | None = None) -> float:
    return speed or 0


def _fine_g(volume_l: float) -> float:
    return volume_l


def _says_nothing(volume_l: float) -> float:
    return volume_l


@pytest.mark.parametrize(
    ("body", "more", "sentence"),
    [
        (_no_unit, {"gives": ""}, "carries no unit"),
        (_optional_without_unit, {"gives": ""}, "carries no unit"),
        (_says_nothing, {}, "say what it gives"),
        (_fine_g, {"valid": {"volume": (0, 1)}}, "unknown parameter"),
    ],
)
def test_a_bad_declaration_fails_at_import(
    body: Callable[..., float], more: dict[str, object], sentence: str
) -> None:
    with pytest.raises(TypeError, match=sentence):
        sourced(equation="", source="X", **more)(body)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("rise_g_l", "g/L"),
        ("volume_l", "L"),
        ("l", "L"),
        ("conductivity_ms_cm", "mS/cm"),
        ("length_cm", "cm"),
        ("flow_l_min", "L/min"),
        ("gone_min", "min"),
        ("dose_mg_kg", "mg/kg"),
        ("rate_mg_kg_h", "mg/kg/h"),
        ("days", "d"),
        ("every_days", "d"),
        ("percent", "%"),
        ("protein_fraction", ""),
        ("fraction", ""),
        ("ph", ""),
        ("target", ""),
        ("density_kg_m3", "kg/m³"),
        ("speed", None),
        ("al", None),
        ("form", None),
        ("ph_low", None),
    ],
)
def test_the_unit_stands_in_the_name(name: str, unit: str | None) -> None:
    assert unit_of(name) == unit


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_the_longest_suffix_wins(suffix: str) -> None:
    assert unit_of(f"anything_{suffix}") == SUFFIXES[suffix]
    if suffix not in WITHOUT_UNIT:
        assert unit_of(suffix) == SUFFIXES[suffix]


@given(st.floats(0, 40), st.floats(5, 11))
def test_the_check_changes_no_value(temperature_c: float, ph: float) -> None:
    @sourced(equation="", source="X", valid={"temperature_c": (0, 40), "ph": (5, 11)}, gives="")
    def product(temperature_c: float, ph: float) -> float:
        return temperature_c * ph

    assert product(temperature_c, ph) == product.plain(temperature_c, ph)
