"""The figures of a card: rounding, what is unsure, and units that are explained."""

from dataclasses import replace

import numpy as np
import pytest
from msgspec import structs

from tests.presentation.small_house import SIGNAL, workings
from washline.chemistry.alcohol import standard_drinks
from washline.engine.trace import Trace
from washline.model.reading import READING_INDEX
from washline.presentation.card_figures import Figures


def traced(key: str = "strength", value: float | None = None, more: float = 0.0) -> Trace:
    """The trace of Pear Signal with one reading set by hand."""
    trace = workings().trace(SIGNAL)
    values, mores = trace.result.values.copy(), trace.result.more.copy()
    if value is not None:
        values[READING_INDEX[key]] = value
    mores[READING_INDEX[key]] = more
    trace.result = replace(trace.result, values=values, more=mores)
    return trace


@pytest.mark.parametrize(
    "value, more, text",
    [
        (6.72, 0.0, "6.7\u202f%"),
        (6.75, 0.0, "6.8\u202f%"),
        (0.0, 0.0, "below 0.05\u202f%"),
        (0.049, 0.0, "below 0.05\u202f%"),
        (0.05, 0.0, "0.1\u202f%"),
        (6.72, 0.04, "6.7\u202f%"),
        (6.72, 0.05, "at least 6.7\u202f%"),
        (0.0, 0.001, "below 0.05\u202f%"),
        (0.01, 0.25, "below 0.3\u202f%"),
        (0.0, float("inf"), "?"),
        (float("nan"), 0.0, "?"),
    ],
)
def test_reading_says_at_least_where_what_is_unknown_could_show(value: float, more: float, text: str) -> None:
    assert Figures(traced(value=value, more=more), None).reading("strength", "%") == text


def test_reading_without_a_value_gives_its_reason() -> None:
    reasons = Figures(traced("chill", float("nan")), None).reasons()
    assert reasons == ("Chill: It could not be computed.",)


@pytest.mark.parametrize("country", [drink.key for drink in standard_drinks()])
def test_units_of_every_country_stand_with_their_grams(country: str) -> None:
    trace = traced("ethanol", 28.0)
    book = trace.book.with_settings(structs.replace(trace.book.settings, alcohol_units=country))
    trace.book = book
    text = Figures(trace, None).units_text()
    grams = next(drink.grams for drink in standard_drinks() if drink.key == country)
    count, _, rest = text.partition(" units of ")
    assert float(count) == pytest.approx(28.0 / grams, abs=0.051)
    assert float(rest.removesuffix("\u202fg")) == pytest.approx(grams, abs=0.051)


def test_temperature_below_zero_has_a_true_minus_in_both_scales() -> None:
    figure = Figures(traced("chill", -20.4), None).row()[2]
    # −20 °C as shown, −4.72 °F exactly.
    assert (figure.value, figure.second) == ("−20\u202f°C", "−5\u202f°F")


def test_spread_that_shows_stands_beside_its_figure() -> None:
    trace = traced()
    spread = workings().spread(SIGNAL)
    up, down = np.zeros_like(spread.up), np.zeros_like(spread.down)
    up[READING_INDEX["strength"]] = 0.21
    up[READING_INDEX["chill"]] = 0.01
    row = Figures(trace, replace(spread, up=up, down=down)).row()
    assert row[1].second == "vol, ± 0.2"
    assert "±" not in row[2].second


def test_melt_that_nobody_could_compute_is_a_question_mark() -> None:
    trace = traced()
    trace.melted_g = float("nan")
    assert Figures(trace, None).row()[0].value == "?"


def test_volume_that_nobody_knows_has_no_ounces() -> None:
    assert Figures(traced("length", float("nan")), None).volume() == ("? ml", "")


def test_volume_stands_in_ounces_to_the_third() -> None:
    # 168 ml at 30 ml an ounce are 5.6 oz: five and two thirds on paper.
    assert Figures(traced("length", 168.0), None).volume() == ("168\u202fml", "5⅔\u202foz")
