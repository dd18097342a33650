"""Rounding on paper. Which fractions are poured and where dials stand is common practice, no source."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.rounding import fraction_text, ounces_on_card, served_ounces, trade_fahrenheit

EIGHTHS_AND_SIXTHS = sorted({Fraction(n, d) for d in (1, 2, 3, 4, 6, 8) for n in range(1, 8 * d)})


@pytest.mark.parametrize("oz_ml", [30.0, 29.5735])
@pytest.mark.parametrize(
    "volume_ml, text",
    [
        (5.0, "⅙"),
        (7.5, "¼"),
        (10.0, "⅓"),
        (15.0, "½"),
        (20.0, "⅔"),
        (22.5, "¾"),
        (25.0, "⅚"),
        (30.0, "1"),
        (35.0, "1⅙"),
        (37.5, "1¼"),
        (40.0, "1⅓"),
        (45.0, "1½"),
        (50.0, "1⅔"),
        (52.5, "1¾"),
        (60.0, "2"),
    ],
)
def test_a_pour_is_written_in_the_fractions_of_a_jigger(volume_ml: float, oz_ml: float, text: str) -> None:
    found = ounces_on_card(volume_ml, oz_ml)
    assert found.text == text
    assert not found.is_declared


def test_an_exact_pour_has_no_error() -> None:
    assert ounces_on_card(52.5).relative_error == 0.0


def test_an_ounce_as_poured_is_off_by_what_the_definition_says() -> None:
    # 1.5 US fluid ounces (NIST Handbook 44) are 44.36 ml.
    assert ounces_on_card(45.0, 29.5735).relative_error == pytest.approx(44.36025 / 45 - 1)


@pytest.mark.parametrize(
    "volume_ml, text, error", [(12.5, "⅜", -0.1), (17.5, "⅝", 0.0714), (2.5, "⅛", 0.5), (1.0, "⅛", 2.75)]
)
def test_a_pour_between_the_fractions_declares_its_error(volume_ml: float, text: str, error: float) -> None:
    found = ounces_on_card(volume_ml)
    assert found.text == text
    assert found.relative_error == pytest.approx(error, abs=1e-4)
    assert found.is_declared


def test_equally_near_fractions_go_to_the_smaller_denominator() -> None:
    assert ounces_on_card(0.354 * 30).text == "⅓"
    assert ounces_on_card(0.355 * 30).text == "⅓"
    assert ounces_on_card(0.360 * 30).text == "⅜"


def test_an_exact_quarter_of_a_large_volume_is_not_given_up_for_a_third() -> None:
    assert ounces_on_card(262.5).text == "8¾"


@pytest.mark.parametrize(
    "volume_ml, text", [(168.0, "5⅔"), (194.0, "6⅓"), (180.0, "6"), (110.0, "3⅔"), (104.0, "3⅓")]
)
def test_a_served_volume_is_written_to_a_third(volume_ml: float, text: str) -> None:
    assert served_ounces(volume_ml).text == text


def test_nothing_is_nothing_and_an_unknown_is_a_question_mark() -> None:
    assert ounces_on_card(0.0).text == "0"
    assert ounces_on_card(math.nan).text == "?"
    assert math.isnan(ounces_on_card(math.nan).relative_error)


@pytest.mark.parametrize("value", EIGHTHS_AND_SIXTHS)
def test_every_fraction_that_is_poured_is_written_as_itself(value: Fraction) -> None:
    assert ounces_on_card(float(value) * 30.0).text == fraction_text(value)


@given(st.floats(3.75, 3000.0), st.sampled_from([30.0, 29.5735]))
def test_no_pour_is_off_by_more_than_a_twelfth_of_an_ounce(volume_ml: float, oz_ml: float) -> None:
    found = ounces_on_card(volume_ml, oz_ml)
    # The widest gaps of the fractions are those beside a whole number, an eighth wide; a tie adds a hundredth.
    assert abs(found.ounces - volume_ml / oz_ml) <= 1 / 16 + 0.01 + 1e-9
    assert found.relative_error == pytest.approx(found.ounces / (volume_ml / oz_ml) - 1)


@pytest.mark.parametrize(
    "temperature_c, temperature_f",
    [
        (80, 175),
        (75, 165),
        (60, 140),
        (4, 40),
        (-18, 0),
        (65, 150),
        (100, 210),
        (160, 320),
        (72.5, 160),
        (67.5, 155),
        (-4, 25),
    ],
)
def test_a_kitchen_temperature_goes_by_fives(temperature_c: float, temperature_f: int) -> None:
    assert trade_fahrenheit(temperature_c).temperature_f == temperature_f


def test_a_drink_is_served_at_a_temperature_to_the_degree() -> None:
    assert trade_fahrenheit(1.0, step_f=1).temperature_f == 34


def test_the_error_of_a_rounded_temperature_is_known() -> None:
    assert trade_fahrenheit(75.0).error_f == pytest.approx(-2.0)


def test_between_two_fives_the_rounder_ten_is_written() -> None:
    # 72.5 °C is 162.5 °F and 75.2777… °C is 167.5 °F.
    assert trade_fahrenheit(72.5).temperature_f == 160
    assert trade_fahrenheit(135.5 / 1.8).temperature_f == 170
    assert trade_fahrenheit((-2.5 - 32) / 1.8).temperature_f == 0


@given(st.floats(-200.0, 500.0), st.sampled_from([1, 5, 10]))
def test_a_rounded_temperature_is_off_by_half_a_step_at_most(temperature_c: float, step_f: int) -> None:
    found = trade_fahrenheit(temperature_c, step_f)
    assert found.temperature_f % step_f == 0
    assert abs(found.error_f) <= step_f / 2 + 1e-6
