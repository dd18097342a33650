"""A drink on ice over the minutes, as lanes and as a table."""

from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from washline.engine.serving import Serving
from washline.presentation.serving import serving_curves
from washline.quantity.formatting import NUMBER_STYLES


def on_ice(**fields: Any) -> Serving:
    """A drink whose figures move in straight lines: made up for these tests."""

    def line(first: float, last: float) -> NDArray[np.float64]:
        return np.linspace(first, last, 41)

    usual: dict[str, Any] = {
        "minutes": line(0.0, 20.0), "strength": line(28.0, 22.0), "sweetness": line(7.0, 6.0),
        "acidity": line(0.6, 0.5), "chill_c": line(-3.0, -1.0), "length_ml": line(104.0, 124.0),
        "ice_left_g": line(100.0, 80.0),
    }  # fmt: skip
    return Serving(**{**usual, "assumptions": ("The room is at 20 °C.",), **fields})


def test_the_table_has_the_moments_that_count_with_all_figures() -> None:
    curves = serving_curves(on_ice())
    assert [row.name.replace("\u202f", " ") for row in curves.rows] == [
        "0 min", "2 min", "5 min", "10 min", "15 min", "20 min"
    ]  # fmt: skip
    assert curves.rows[3].cells == ("25.0", "6.5", "0.55", "\u22122.0", "114", "90")
    assert curves.heads == (
        "strength, % vol", "sweetness, g/100 ml", "acidity, g/100 ml", "temperature, °C", "volume, ml", "ice left, g"
    )  # fmt: skip


def test_scales_start_at_zero_and_a_temperature_below_it_has_room() -> None:
    lanes = {lane.key: lane for lane in serving_curves(on_ice()).lanes}
    assert (lanes["strength"].low, lanes["strength"].high) == (0.0, 28.0)
    assert (lanes["chill"].low, lanes["chill"].high) == (-3.0, 0.0)


def test_the_sentence_says_where_every_figure_goes() -> None:
    sentence = serving_curves(on_ice()).sentence
    assert sentence.startswith("In 20 minutes: strength 28.0 to 22.0 % vol, sweetness 7.0 to 6.0 g/100 ml")


def test_a_drink_without_alcohol_is_below_and_never_none() -> None:
    curves = serving_curves(on_ice(strength=np.zeros(41)))
    assert (curves.lanes[0].first, curves.rows[0].cells[0]) == ("below 0.05", "below 0.05")


def test_what_is_not_known_leaves_a_gap_and_a_question_mark() -> None:
    curves = serving_curves(on_ice(sweetness=np.full(41, np.nan)))
    assert set(curves.lanes[1].values) == {None}
    assert curves.rows[0].cells[1] == "?"


def test_a_shorter_time_has_the_moments_within_it() -> None:
    curves = serving_curves(on_ice(minutes=np.linspace(0.0, 10.0, 41)))
    assert [row.name.split()[0] for row in curves.rows] == ["0", "2", "5", "10"]


def test_figures_follow_the_number_style() -> None:
    assert serving_curves(on_ice(), NUMBER_STYLES["de_DE"]).rows[0].cells[0] == "28,0"


def test_what_is_assumed_is_passed_on_in_words() -> None:
    assert serving_curves(on_ice()).assumptions == ("The room is at 20 °C.",)


def test_a_moment_is_read_aloud_with_its_heads() -> None:
    curves = serving_curves(on_ice())
    assert curves.spoken(curves.rows[0]).startswith("0 min: strength, % vol 28.0, sweetness")


@pytest.mark.parametrize("count", [1, 2])
def test_a_curve_of_one_point_or_two_has_a_scale(count: int) -> None:
    flat = {
        name: np.zeros(count)
        for name in ("strength", "sweetness", "acidity", "chill_c", "length_ml", "ice_left_g")
    }
    curves = serving_curves(on_ice(minutes=np.arange(count, dtype=np.float64), **flat))
    assert all(lane.high > lane.low for lane in curves.lanes)
