"""The radar's data: words, curves, soft edge, legend, and the paper's version."""

import math
from dataclasses import replace

import pytest

from washline.presentation.radar import (
    LegendEntry,
    RadarAxis,
    RadarShape,
    for_paper,
    legend,
    radar_curves,
    shares_between,
)


def axis(key: str = "sweetness", value: float | None = 7.2, *, state: str = "") -> RadarAxis:
    text = "" if value is None else f"{value:g}"
    return RadarAxis(key, key.capitalize(), value, text, state, 4.5, 7.0, 9.5, 1.0, "g per 100 ml")


def shape(*values: float | None) -> RadarShape:
    return RadarShape(tuple(axis(f"axis{index}", value) for index, value in enumerate(values)))


def test_a_reading_that_is_not_known_says_so() -> None:
    assert axis(value=None).shown_value == "?"
    assert axis(value=None).sentence == "Sweetness not known"


def test_an_axis_is_read_with_its_unit_and_its_state() -> None:
    assert axis().sentence == "Sweetness 7.2 g per 100 ml, in band"
    over = axis(value=10.1, state="over by 0.6")
    assert over.sentence == "Sweetness 10.1 g per 100 ml, over by 0.6"


def test_a_sentence_of_its_own_replaces_the_one_made() -> None:
    assert replace(axis(), spoken_text="Sweetness about 7").sentence == "Sweetness about 7"


def test_the_short_words_are_used_where_axes_stand_close() -> None:
    over = replace(axis(value=10.1, state="over by 0.6"), short_state_text="over 0.6")
    assert over.state_words(is_dense=False) == "over by 0.6"
    assert over.state_words(is_dense=True) == "over 0.6"


def test_room_is_kept_for_words_that_may_come() -> None:
    assert axis().kept_words(is_dense=False) == "under by 7.2"


def test_a_reading_beyond_its_edge_is_out() -> None:
    assert axis(value=9.6).is_out
    assert not axis(value=9.5).is_out
    assert not axis(value=None).is_out


def test_an_eleventh_axis_is_refused() -> None:
    with pytest.raises(ValueError, match="at most 10 axes"):
        shape(*[7.0] * 11)


def test_two_axes_make_no_radar() -> None:
    assert not shape(7.0, 7.0).has_radar
    assert shape(7.0, 7.0, 7.0).has_radar


def test_values_of_another_length_are_refused() -> None:
    with pytest.raises(ValueError, match="2 values for 3 axes"):
        replace(shape(7.0, 7.0, 7.0), parent=(7.0, 7.0))


def test_the_chart_names_what_is_out_and_what_is_not_known() -> None:
    assert shape(7.0, 7.0, 7.0).sentence == "All 3 readings in band."
    mixed = RadarShape((axis(), axis("salt", 10.0, state="over by 0.5"), axis("fizz", None)))
    assert mixed.sentence == "Salt 10 g per 100 ml, over by 0.5; Fizz not known."


def test_an_empty_drink_draws_its_target_alone() -> None:
    empty = replace(shape(None, None, None), is_empty=True)
    assert radar_curves(empty).drink == ()
    assert empty.sentence == "Nothing poured yet; the ring shows the target."


def test_a_drink_on_target_is_a_circle() -> None:
    (run,) = radar_curves(shape(7.0, 7.0, 7.0)).drink
    assert {round(math.hypot(x, y), 9) for x, y in run.points} == {0.62}


def test_the_soft_edge_has_four_steps_between_the_shapes_at_their_sigmas() -> None:
    blurred = replace(shape(7.0, 7.0, 7.0), sigma=((0.5, 0.5),) * 3)
    edges = radar_curves(blurred).soft_edge
    assert [edge.opacity for edge in edges] == [0.12, 0.10, 0.08, 0.07]
    one_sigma = edges[1]
    assert math.hypot(*one_sigma.outer[0].points[0]) == pytest.approx(0.62 + 0.17 * 0.5 / 2.5)
    assert math.hypot(*one_sigma.inner[0].points[0]) == pytest.approx(0.62 - 0.17 * 0.5 / 2.5)


def test_at_least_gives_an_edge_to_one_side_only() -> None:
    at_least = replace(shape(7.0, 7.0, 7.0), sigma=((0.0, 0.5), None, None))
    edge = radar_curves(at_least).soft_edge[3]
    assert math.hypot(*edge.inner[0].points[0]) == pytest.approx(0.62)
    assert math.hypot(*edge.outer[0].points[0]) == pytest.approx(0.62 + 0.17 * 1.0 / 2.5)


def test_no_spread_draws_no_soft_edge() -> None:
    sure = replace(shape(7.0, 7.0, 7.0), sigma=(None, (0.0, 0.0), None))
    assert radar_curves(sure).soft_edge == ()


def test_the_soft_edge_is_open_where_the_reading_is_missing() -> None:
    blurred = replace(shape(7.0, None, 7.0, 7.0), sigma=((0.5, 0.5),) * 4)
    edge = radar_curves(blurred).soft_edge[0]
    assert [run.is_closed for run in (*edge.outer, *edge.inner)] == [False, False]


def test_a_travelling_shape_takes_its_soft_edge_along() -> None:
    blurred = replace(shape(7.0, 7.0, 7.0), sigma=((0.5, 0.5),) * 3)
    edge = radar_curves(blurred, (0.72, 0.62, 0.62)).soft_edge[1]
    assert math.hypot(*edge.outer[0].points[0]) == pytest.approx(0.72 + 0.034)


def test_radii_on_the_way_lie_between_start_and_end() -> None:
    on_the_way = shares_between((0.5, None, 0.6), (0.75, 0.6, None), 0.5)
    assert on_the_way == (0.625, 0.6, None)


def test_the_paper_says_it_as_the_bar_does_and_shows_no_figures() -> None:
    keys = ("strength", "sweetness", "acidity", "bitterness", "fizz", "length")
    printed = for_paper(RadarShape(tuple(axis(key) for key in keys), parent=(7.0,) * 6))
    names = [each.name for each in printed.axes]
    assert names == ["strong", "sweet", "sour", "bitter", "fizz", "volume"]
    assert {each.value_text for each in printed.axes} == {""}
    assert printed.words_only
    assert printed.parent is None


def test_the_legend_names_only_what_is_drawn() -> None:
    plain = replace(shape(7.0, 7.0, 7.0), sigma=((0.1, 0.1),) * 3)
    assert legend(plain) == (
        LegendEntry("drink", "this drink, ±"),
        LegendEntry("target", "target, band"),
    )
    typing = replace(plain, is_preview=True, before=(7.0, 7.0, 7.0), parent=(6.0, 7.0, 7.0))
    assert [entry.text for entry in legend(typing)] == ["preview", "target, band", "parent", "before typing"]


def test_the_legend_of_an_empty_drink_holds_the_target_alone() -> None:
    assert legend(replace(shape(None, None, None), is_empty=True)) == (LegendEntry("target", "target, band"),)
