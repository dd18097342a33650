"""Numbers as they are written."""

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.formatting import (
    FILE_STYLE,
    NUMBER_STYLES,
    format_amount,
    format_contribution,
    format_number,
    format_quantity,
    format_range,
    format_spread,
    format_trimmed,
    rounded,
    spread_columns,
    spread_decimals,
    with_unit,
)
from washline.quantity.number import NumberReading, read_number

STYLES = sorted(NUMBER_STYLES)


@pytest.mark.parametrize(
    "value, decimals, text",
    [
        (2.675, 2, "2.68"),
        (0.125, 2, "0.13"),
        (-2.675, 2, "\u22122.68"),
        (1.005, 2, "1.01"),
        (0.5, 0, "1"),
        (1.5, 0, "2"),
        (2.5, 0, "3"),
        (-0.04, 1, "0.0"),
        (-0.0, 1, "0.0"),
        (-0.05, 1, "\u22120.1"),
        (999.95, 1, "1,000.0"),
        (1285.1, 1, "1,285.1"),
        (1234567.0, 0, "1,234,567"),
        (-1234.5, 0, "\u22121,235"),
        (1234.0, -1, "1,230"),
        (1235.0, -1, "1,240"),
        (4.0, -1, "0"),
        (1e22, 0, "10,000,000,000,000,000,000,000"),
        (1e-7, 2, "0.00"),
        (0.1 + 0.2, 17, "0.30000000000000004"),
    ],
)
def test_half_is_rounded_away_from_zero_on_the_decimal_value(value: float, decimals: int, text: str) -> None:
    assert format_number(value, decimals) == text


@pytest.mark.parametrize(
    "locale, text",
    [
        ("en_US", "\u22121,234.5"),
        ("de_DE", "\u22121.234,5"),
        ("fr_FR", "\u22121\u202f234,5"),
        ("sv_SE", "\u22121\u00a0234,5"),
    ],
)
def test_every_locale_has_its_marks_and_a_true_minus(locale: str, text: str) -> None:
    assert format_number(-1234.5, 1, NUMBER_STYLES[locale]) == text


def test_numbers_in_files_are_ascii_without_grouping() -> None:
    assert format_number(-1234.5, 2, FILE_STYLE) == "-1234.50"


@pytest.mark.parametrize("value", [None, math.nan, math.inf, -math.inf])
def test_an_unknown_is_a_question_mark_and_never_a_number(value: float | None) -> None:
    assert format_number(value, 2) == "?"
    assert format_trimmed(value, 2) == "?"
    assert format_contribution(value, 2) == "?"
    assert format_quantity(value, 2, "ml") == "?"
    assert format_amount(value, "ml") == "?"


def test_a_number_of_an_array_is_written_like_any_other() -> None:
    assert format_number(np.float64(2.675), 2) == "2.68"


@pytest.mark.parametrize(
    "value, text",
    [(60.0, "60"), (22.5, "22.5"), (0.25, "0.25"), (2.675, "2.68"), (100.0, "100"), (0.001, "0")],
)
def test_a_trimmed_number_has_no_zeros_at_its_end(value: float, text: str) -> None:
    assert format_trimmed(value, 2) == text


@pytest.mark.parametrize(
    "value, text", [(0.0, ""), (0.004, "·"), (-0.004, "·"), (0.005, "0.01"), (1.8, "1.80")]
)
def test_a_contribution_tells_nothing_from_less_than_the_last_digit(value: float, text: str) -> None:
    assert format_contribution(value, 2) == text


def test_a_unit_stands_behind_a_thin_no_break_space() -> None:
    assert format_quantity(-0.8, 1, "°C") == "\u22120.8\u202f°C"
    assert format_quantity(42.0, 0, "%") == "42\u202f%"


def test_blank_dot_and_question_mark_take_no_unit() -> None:
    assert [with_unit(text, "g") for text in ("", "·", "?", "5")] == ["", "·", "?", "5\u202fg"]


@pytest.mark.parametrize(
    "number, unit, text",
    [
        (22.5, "ml", "22.5\u202fml"),
        (1.0, "dash", "1\u202fdash"),
        (2.0, "dash", "2\u202fdashes"),
        (42.0, "%", "42\u202f%"),
        (3.0, "parts", "3\u202fparts"),
        (1285.1, "g", "1,285.1\u202fg"),
    ],
)
def test_an_amount_is_written_with_the_word_of_its_unit(number: float, unit: str, text: str) -> None:
    assert format_amount(number, unit) == text


@pytest.mark.parametrize(
    "low, high, text",
    [
        (821.0, 1007.0, "821\u20131,007\u202fg"),
        (-4.0, -2.0, "\u22124 \u2013 \u22122\u202fg"),
        (35.2, 35.4, "35\u202fg"),
        (None, 5.0, "?\u20135\u202fg"),
        (None, None, "?"),
    ],
)
def test_a_range_has_an_en_dash(low: float | None, high: float | None, text: str) -> None:
    assert format_range(low, high, 0, "g") == text


@pytest.mark.parametrize(
    "value, sigma, text",
    [
        # JCGM 100:2008 (GUM), 7.2.6: y = 10.057 62 with u = 0.027 is rounded to 10.058.
        (10.05762, 0.027, "10.058 ± 0.027"),
        # JCGM 100:2008, 7.2.2 (from memory): m = 100.021 47 g with u = 0.35 mg.
        (100.02147, 0.00035, "100.02147 ± 0.00035"),
        (1234.0, 120.0, "1,230 ± 120"),
        (5.0, 0.0996, "5.00 ± 0.10"),
        (168.4, 2.04, "168.4 ± 2.0"),
        (-3.14159, 0.5, "\u22123.14 ± 0.50"),
        (6.13, 0.0, "6.13"),
    ],
)
def test_a_spread_has_two_significant_digits_and_its_value_the_same_place(
    value: float, sigma: float, text: str
) -> None:
    assert format_spread(value, sigma) == text


@pytest.mark.parametrize(
    "value, sigma, text", [(6.14, 0.14, "6.1 ± 0.1"), (184.2, 2.4, "184.2 ± 2.4"), (5.0, 0.004, "5.0 ± ·")]
)
def test_a_spread_never_shows_more_decimals_than_its_reading(value: float, sigma: float, text: str) -> None:
    assert format_spread(value, sigma, most_decimals=1) == text


@pytest.mark.parametrize(
    "sigma, text", [(0.0, ""), (None, "?"), (math.nan, "?"), (-1.0, "?"), (math.inf, "?")]
)
def test_no_spread_is_blank_and_an_unknown_one_a_question_mark(sigma: float | None, text: str) -> None:
    assert spread_columns(6.14, sigma, most_decimals=1) == ("6.1", text)


def test_an_unknown_value_has_no_spread() -> None:
    assert format_spread(None, 0.1) == "?"


def test_the_digits_of_a_spread_do_not_flicker_around_a_power_of_ten() -> None:
    shown = None
    decimals = []
    for sigma in (0.99, 1.01, 0.99, 1.01, 0.85, 0.75):
        shown = spread_decimals(sigma, shown)
        decimals.append(shown)
    assert decimals == [2, 1, 1, 1, 1, 2]


@given(st.floats(-1e9, 1e9), st.floats(1e-9, 1e9))
def test_a_spread_never_has_more_than_two_significant_digits(value: float, sigma: float) -> None:
    _, spread = spread_columns(value, sigma, FILE_STYLE)
    assert len(spread.replace(".", "").lstrip("0").rstrip("0")) <= 2


@given(st.floats(-9e8, 9e8), st.integers(0, 6), st.sampled_from(STYLES))
def test_every_number_that_is_written_reads_back(value: float, decimals: int, locale: str) -> None:
    style = NUMBER_STYLES[locale]
    found = read_number(format_number(value, decimals, style), style.decimal, style.grouping, signed=True)
    assert isinstance(found, NumberReading)
    assert found.rest == ""
    assert found.value == float(rounded(value, decimals))


@given(st.floats(allow_nan=False, allow_infinity=False), st.integers(-3, 15), st.sampled_from(STYLES))
def test_any_finite_number_is_written_without_a_negative_zero(
    value: float, decimals: int, locale: str
) -> None:
    text = format_number(value, decimals, NUMBER_STYLES[locale])
    assert not text.startswith("\u2212") or any(digit in text for digit in "123456789")


@given(st.decimals(-100_000, 100_000, places=5), st.integers(0, 4))
def test_rounding_is_off_by_half_of_the_last_place_at_most(value: Decimal, decimals: int) -> None:
    exact = Decimal(repr(float(value)))
    assert abs(rounded(float(value), decimals) - exact) <= Decimal(5).scaleb(-decimals - 1)


@given(st.floats(allow_nan=True), st.floats(allow_nan=True), st.integers(0, 4))
def test_no_value_and_spread_make_the_writer_raise(value: float, sigma: float, most_decimals: int) -> None:
    assert format_spread(value, sigma) != ""
    assert format_spread(value, sigma, most_decimals=most_decimals) != ""
