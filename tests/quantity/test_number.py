"""Numbers as people type them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.number import (
    BELOW_ZERO,
    FRACTION_FORM,
    GROUPS_OF_THREE,
    LARGEST_NUMBER,
    NO_NUMBER,
    NOT_FINITE,
    RAISED_DIGIT,
    TOO_LARGE,
    ZERO_BELOW,
    NumberProblem,
    NumberReading,
    read_number,
)

VULGAR_FRACTIONS = {
    "¼": 1 / 4,
    "½": 1 / 2,
    "¾": 3 / 4,
    "⅐": 1 / 7,
    "⅑": 1 / 9,
    "⅒": 1 / 10,
    "⅓": 1 / 3,
    "⅔": 2 / 3,
    "⅕": 1 / 5,
    "⅖": 2 / 5,
    "⅗": 3 / 5,
    "⅘": 4 / 5,
    "⅙": 1 / 6,
    "⅚": 5 / 6,
    "⅛": 1 / 8,
    "⅜": 3 / 8,
    "⅝": 5 / 8,
    "⅞": 7 / 8,
    "↉": 0.0,
}


def reading(
    text: str, decimal_mark: str = ".", *, signed: bool = False, spaces_group: bool = True
) -> NumberReading:
    found = read_number(text, decimal_mark, signed=signed, spaces_group=spaces_group)
    assert isinstance(found, NumberReading), found
    return found


def reason(text: str, decimal_mark: str = ".") -> str:
    found = read_number(text, decimal_mark)
    assert isinstance(found, NumberProblem), found
    return found.reason


@pytest.mark.parametrize(
    "text, value",
    [
        ("45", 45.0),
        ("  45", 45.0),
        ("22.5", 22.5),
        ("22,5", 22.5),
        (".75", 0.75),
        (",75", 0.75),
        ("5.", 5.0),
        ("3/4", 0.75),
        ("3/2", 1.5),
        ("3 / 4", 0.75),
        ("1 1/2", 1.5),
        ("1  1/2", 1.5),
        ("1-1/2", 1.5),
        ("11/2", 5.5),
        ("1½", 1.5),
        ("1 ½", 1.5),
        ("1\u00a0½", 1.5),
        ("1⁄2", 0.5),
        ("1∕2", 0.5),
        ("⅟8", 0.125),
        ("+5", 5.0),
        ("12.5000", 12.5),
        ("1234.5", 1234.5),
        ("1234.567", 1234.567),
        ("0.750", 0.75),
        (".750", 0.75),
        ("1,234.5", 1234.5),
        ("1.234,5", 1234.5),
        ("1.234.567", 1234567.0),
        ("1,234,567", 1234567.0),
        ("1,234,567.25", 1234567.25),
        ("1 200", 1200.0),
        ("1\u00a0200", 1200.0),
        ("1\u202f200", 1200.0),
        ("1\u2009200,5", 1200.5),
        ("12 345 678.9", 12345678.9),
        ("1'200", 1200.0),
        ("1’200.5", 1200.5),
        ("١٫٥", 1.5),
        ("١٬٢٠٠", 1200.0),
        ("۱۲", 12.0),
        ("１２．５", 12.5),
        ("\u200e45", 45.0),
        ("000045", 45.0),
        ("0", 0.0),
    ],
)
def test_a_number_is_read_as_typed(text: str, value: float) -> None:
    assert reading(text).value == value


@pytest.mark.parametrize("glyph, value", VULGAR_FRACTIONS.items())
def test_every_vulgar_fraction_counts_alone_and_behind_a_whole_number(glyph: str, value: float) -> None:
    assert reading(glyph).value == value
    assert reading(f"2{glyph}oz").value == 2 + value
    assert reading(f"2{glyph}oz").rest == "oz"


def test_a_digit_behind_a_vulgar_fraction_does_not_join_its_denominator() -> None:
    assert reading("½2") == NumberReading(0.5, None, "2")


@pytest.mark.parametrize(
    "text, decimal_mark, grouping_mark, value, alternative",
    [
        ("1,200", ".", ",", 1200.0, 1.2),
        ("1.200", ".", ",", 1.2, 1200.0),
        ("1.200", ",", ".", 1200.0, 1.2),
        ("1,200", ",", ".", 1.2, 1200.0),
        ("1.200", ",", "\u202f", 1.2, 1200.0),
        ("1,200", ",", "\u202f", 1.2, 1200.0),
        ("1,200", ".", "’", 1.2, 1200.0),
        ("12.345", ",", ".", 12345.0, 12.345),
        ("123,456", ".", None, 123456.0, 123.456),
        ("123.456", ",", None, 123456.0, 123.456),
    ],
)
def test_three_digits_behind_one_separator_are_read_by_the_locale_and_the_other_reading_is_offered(
    text: str, decimal_mark: str, grouping_mark: str | None, value: float, alternative: float
) -> None:
    assert read_number(text, decimal_mark, grouping_mark) == NumberReading(value, alternative, "")


@pytest.mark.parametrize("decimal_mark", [".", ","])
@pytest.mark.parametrize("text", ["1.5", "1,5", "1.25", "1,25", "1.2345", "1,2345", "0,750", "1234,567"])
def test_any_other_number_of_digits_is_decimal_in_every_locale_and_certain(
    text: str, decimal_mark: str
) -> None:
    found = reading(text, decimal_mark)
    assert found.value == float(text.replace(",", "."))
    assert found.alternative is None


@pytest.mark.parametrize(
    "text, why",
    [
        ("", NO_NUMBER),
        ("   ", NO_NUMBER),
        ("ml", NO_NUMBER),
        (".", NO_NUMBER),
        ("五", NO_NUMBER),
        ("1/0", ZERO_BELOW),
        ("1 1/0", ZERO_BELOW),
        ("0/0", ZERO_BELOW),
        ("1 3/2", FRACTION_FORM),
        ("1/2/3", FRACTION_FORM),
        ("5/", FRACTION_FORM),
        ("1.5/2", FRACTION_FORM),
        ("1.2.3", GROUPS_OF_THREE),
        ("12.05.2024", GROUPS_OF_THREE),
        ("1,23,456", GROUPS_OF_THREE),
        ("1,234.567.8", GROUPS_OF_THREE),
        ("0,123,456", GROUPS_OF_THREE),
        ("-5", BELOW_ZERO),
        ("\u22125", BELOW_ZERO),
        ("–5", BELOW_ZERO),
        ("- 5", BELOW_ZERO),
        ("inf", NOT_FINITE),
        ("Infinity ml", NOT_FINITE),
        ("nan", NOT_FINITE),
        ("∞", NOT_FINITE),
        ("10²", RAISED_DIGIT),
        ("²", RAISED_DIGIT),
        ("1000000001", TOO_LARGE),
        ("9" * 5000, TOO_LARGE),
        ("9" * 400 + "/" + "9" * 400, TOO_LARGE),
    ],
)
def test_what_is_no_number_is_refused_with_its_reason(text: str, why: str) -> None:
    assert reason(text) == why


def test_the_largest_other_reading_has_six_digits() -> None:
    assert reading("999.999").alternative == 999_999.0
    assert reading("1000.999").alternative is None


def test_below_zero_is_read_where_it_is_allowed() -> None:
    assert reading("\u221218 °C", signed=True) == NumberReading(-18.0, None, " °C")
    assert reading("-1,234", signed=True) == NumberReading(-1234.0, -1.234, "")


def test_a_signed_zero_is_plain_zero() -> None:
    assert math.copysign(1.0, reading("-0", signed=True).value) == 1.0


def test_the_rest_is_the_original_text() -> None:
    assert reading("45 ml rosé n° 5½").rest == " ml rosé n° 5½"


def test_an_ordinary_space_marks_thousands_only_where_that_is_allowed() -> None:
    assert reading("96 160 g", spaces_group=False) == NumberReading(96.0, None, " 160 g")
    assert reading("96\u202f160 g", spaces_group=False) == NumberReading(96160.0, None, " g")


def test_two_numbers_with_a_blank_between_are_not_joined() -> None:
    assert reading("45 50") == NumberReading(45.0, None, " 50")


@given(st.text(max_size=40), st.sampled_from([".", ","]), st.booleans(), st.booleans())
def test_no_text_makes_the_reader_raise(text: str, mark: str, signed: bool, spaces_group: bool) -> None:
    found = read_number(text, mark, signed=signed, spaces_group=spaces_group)
    if isinstance(found, NumberReading):
        assert abs(found.value) <= LARGEST_NUMBER
        assert signed or found.value >= 0.0
        assert text.endswith(found.rest)


@given(st.text(alphabet="0123456789.,/ '½¼٫٬-–\u00a0\u202f²", max_size=14), st.sampled_from([".", ","]))
def test_no_mixture_of_digits_and_marks_makes_the_reader_raise(text: str, mark: str) -> None:
    found = read_number(text, mark, signed=True)
    assert isinstance(found, NumberProblem) or math.isfinite(found.value)


@given(st.integers(0, 999_999), st.integers(1, 99), st.integers(1, 100))
def test_a_mixed_number_is_its_whole_and_its_fraction(whole: int, above: int, below: int) -> None:
    if above < below:
        assert reading(f"{whole} {above}/{below} oz").value == whole + above / below
