"""Temperatures and times of steps."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import NUMBER_STYLES
from washline.quantity.step_text import (
    CLOCK,
    COLDEST_C,
    EXPECTED_DURATION,
    EXPECTED_TEMPERATURE,
    HOTTEST_C,
    TEMPERATURE_LIMITS,
    TIME_BELOW_ZERO,
    TypedDuration,
    TypedTemperature,
    parse_duration,
    parse_temperature,
)


@pytest.mark.parametrize(
    "text, low_c, high_c",
    [
        ("4 °C", 4.0, 4.0),
        ("4°C", 4.0, 4.0),
        ("4 C", 4.0, 4.0),
        ("4", 4.0, 4.0),
        ("4 °", 4.0, 4.0),
        ("4 ºC", 4.0, 4.0),
        ("4 ℃", 4.0, 4.0),
        ("4 deg C", 4.0, 4.0),
        ("4 degrees celsius", 4.0, 4.0),
        ("4,5 °C", 4.5, 4.5),
        ("-18 °C", -18.0, -18.0),
        ("\u221218\u202f°C", -18.0, -18.0),
        ("35-40 °C", 35.0, 40.0),
        ("35–40 °C", 35.0, 40.0),
        ("35 to 40 °C", 35.0, 40.0),
        ("35 °C – 40 °C", 35.0, 40.0),
        ("40-35 °C", 35.0, 40.0),
        ("\u221220 to \u221218 °C", -20.0, -18.0),
        ("-20--18 C", -20.0, -18.0),
        ("32 F", 0.0, 0.0),
        ("212 °F", 100.0, 100.0),
        ("-40 F", -40.0, -40.0),
        ("32-212 °F", 0.0, 100.0),
    ],
)
def test_a_temperature_is_read_in_celsius(text: str, low_c: float, high_c: float) -> None:
    assert parse_temperature(text) == TypedTemperature(low_c, high_c, text)


def test_165_fahrenheit_is_seventy_three_point_nine_celsius() -> None:
    # NIST SP 811, appendix B.9 (from memory): t/°C = (t/°F - 32) / 1.8.
    found = parse_temperature("165 F")
    assert isinstance(found, TypedTemperature)
    assert found.low_c == pytest.approx(133 / 1.8, abs=1e-8)


def test_a_bare_number_is_in_the_scale_of_the_house() -> None:
    assert parse_temperature("212", scale="°F") == TypedTemperature(100.0, 100.0, "212")


@pytest.mark.parametrize(
    "text", ["", "room", "hot", "°C", "30 °Cx", "4 °C and stir", "4 K", "35-", "35-warm"]
)
def test_a_text_that_is_no_temperature_says_what_was_expected(text: str) -> None:
    found = parse_temperature(text)
    assert isinstance(found, ParseProblem)
    assert found.expected.endswith(EXPECTED_TEMPERATURE)


@pytest.mark.parametrize("text", ["-300 C", "501 °C", "1000 F", "20-600 °C"])
def test_a_temperature_that_no_kitchen_has_is_refused(text: str) -> None:
    found = parse_temperature(text)
    assert isinstance(found, ParseProblem)
    assert found.expected == f"“{text}” is not a temperature. {TEMPERATURE_LIMITS}"


@pytest.mark.parametrize(
    "text, low_s, high_s",
    [
        ("90 s", 90, 90),
        ("90s", 90, 90),
        ("90 sec.", 90, 90),
        ("12 seconds", 12, 12),
        ("45 min", 2700, 2700),
        ("45 minutes", 2700, 2700),
        ("2 h", 7200, 7200),
        ("24 hrs", 86_400, 86_400),
        ("½ h", 1800, 1800),
        ("1,5 h", 5400, 5400),
        ("1 1/2 h", 5400, 5400),
        ("1 h 30", 5400, 5400),
        ("1h30", 5400, 5400),
        ("1 h 30 min", 5400, 5400),
        ("1 h 30 min 5 s", 5405, 5405),
        ("1 min 30", 90, 90),
        ("6 days", 518_400, 518_400),
        ("1 day 12 h", 129_600, 129_600),
        ("2 weeks", 1_209_600, 1_209_600),
        ("15-20 min", 900, 1200),
        ("15 to 20 min", 900, 1200),
        ("20–15 min", 900, 1200),
        ("2′", 120, 120),
    ],
)
def test_a_time_is_read_in_seconds(text: str, low_s: float, high_s: float) -> None:
    assert parse_duration(text) == TypedDuration(low_s, high_s, text)


@pytest.mark.parametrize(
    "text, why",
    [
        ("", EXPECTED_DURATION),
        ("45", EXPECTED_DURATION),
        ("overnight", EXPECTED_DURATION),
        ("2 h 2 h", EXPECTED_DURATION),
        ("30 min 2 h", EXPECTED_DURATION),
        ("30 s 20", EXPECTED_DURATION),
        ("15-20", EXPECTED_DURATION),
        ("1 h and a bit", EXPECTED_DURATION),
        ("15- min", EXPECTED_DURATION),
        ("4 °C", EXPECTED_DURATION),
        ("1:30", CLOCK),
        ("-5 min", TIME_BELOW_ZERO),
        ("101 weeks 999999999 d", "A time can be at most 100 years."),
        ("1/0 h", "A fraction cannot have 0 below the line."),
    ],
)
def test_a_text_that_is_no_time_says_what_was_expected(text: str, why: str) -> None:
    found = parse_duration(text)
    assert isinstance(found, ParseProblem)
    assert found.expected.endswith(why)


@given(st.text(max_size=40), st.sampled_from(sorted(NUMBER_STYLES)))
def test_no_text_makes_the_reader_of_temperatures_raise(text: str, locale: str) -> None:
    found = parse_temperature(text, NUMBER_STYLES[locale])
    assert isinstance(found, ParseProblem) or COLDEST_C <= found.low_c <= found.high_c <= HOTTEST_C


@given(
    st.lists(
        st.sampled_from(["1", "½", "h", "min", "s", "d", "-", "to", ":", " ", "30", "-5", "°F"]), max_size=8
    )
)
def test_no_order_of_pieces_makes_the_readers_of_steps_raise(pieces: list[str]) -> None:
    text = "".join(pieces)
    found = parse_duration(text)
    assert isinstance(found, ParseProblem) or 0.0 <= found.low_s <= found.high_s
    assert isinstance(parse_temperature(text), TypedTemperature | ParseProblem)
