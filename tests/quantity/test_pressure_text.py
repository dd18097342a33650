"""Pressures as they are typed, in one unit as they are shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import NumberStyle
from washline.quantity.pressure_text import EXPECTED_PRESSURE, KILOPASCALS, bar_text, parse_pressure
from washline.quantity.units import convert_with_pint


@pytest.mark.parametrize("unit", KILOPASCALS)
def test_the_factors_are_those_of_the_unit_library(unit: str) -> None:
    assert convert_with_pint(1.0, unit, "kPa") == pytest.approx(KILOPASCALS[unit], rel=1e-15)


@pytest.mark.parametrize(
    "text, kpa",
    [("2.2 bar", 220.0), ("2.2", 220.0), ("220 kPa", 220.0), ("32 psi", 220.632233), ("2.2 bar over", 220.0),
     ("2.2 barg", 220.0), ("3 bar absolute", 198.675), ("½ bar", 50.0)],
)  # fmt: skip
def test_a_pressure_is_over_the_atmosphere(text: str, kpa: float) -> None:
    assert parse_pressure(text) == pytest.approx(kpa, rel=1e-8)


@pytest.mark.parametrize("text", ["", "much", "2 bar 3", "0.5 bar absolute", "1000 bar", "7 g/l"])
def test_what_is_no_pressure_says_what_was_expected(text: str) -> None:
    found = parse_pressure(text)
    assert isinstance(found, ParseProblem)
    assert EXPECTED_PRESSURE in found.expected


def test_it_is_shown_in_bar() -> None:
    assert bar_text(221.7) == "2.22\u202fbar"
    assert bar_text(None) == "?\u202fbar"
    assert bar_text(250.0, NumberStyle(",", ".")) == "2,5\u202fbar"


@given(st.integers(0, 1000))
def test_what_is_shown_reads_as_the_same_pressure(hundredths: int) -> None:
    assert parse_pressure(bar_text(float(hundredths))) == pytest.approx(float(hundredths), abs=1e-9)
