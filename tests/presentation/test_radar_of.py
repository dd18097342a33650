"""From readings to the radar: values, band, parent, what is unknown, and an empty drink."""

from dataclasses import replace

import numpy as np
import pytest

from tests.presentation.demo import readings, target_of
from tests.presentation.test_readings import result
from washline.model.reading import READING_INDEX
from washline.presentation.radar_of import compared, radar_shape, short_figure, target_alone


def test_the_axes_are_the_targets_in_its_order() -> None:
    shape = radar_shape(readings("Pear Signal"), target_of("Pear Signal"))
    assert [axis.key for axis in shape.axes] == [aim.reading for aim in target_of("Pear Signal").axes]
    assert shape.axes[0].value_text == "6.7 %"


def test_the_parent_lies_under_its_twist() -> None:
    parent = readings("Pear Signal").result
    shape = radar_shape(
        replace(readings("Pear Signal, bay twist"), parent=parent),
        target_of("Pear Signal"),
        parent_name="Pear Signal",
    )
    assert shape.parent is not None
    assert shape.parent[0] == parent.value("strength")
    assert shape.parent_name == "Pear Signal"


def test_a_reading_that_may_be_higher_has_its_soft_edge_on_that_side_only() -> None:
    found = replace(readings("Pear Signal"), result=result({"sweetness": 1.0}, sweetness=7.0), spread=None)
    shape = radar_shape(found, target_of("Pear Signal"))
    assert shape.sigma is not None
    assert shape.sigma[1] == (0.0, 0.5)
    assert shape.axes[1].value_text == "at least 7.0"


def test_a_missing_reading_leaves_its_axis_open_with_a_question_mark() -> None:
    values = readings("Pear Signal").result.values.copy()
    values[READING_INDEX["fizz"]] = np.nan
    found = replace(readings("Pear Signal"), result=replace(readings("Pear Signal").result, values=values))
    shape = radar_shape(found, target_of("Pear Signal"))
    fizz = next(axis for axis in shape.axes if axis.key == "fizz")
    assert (fizz.value, fizz.shown_value) == (None, "?")


def test_out_of_band_says_by_how_much() -> None:
    found = replace(readings("Pear Signal"), result=result(sweetness=10.2))
    sweet = radar_shape(found, target_of("Pear Signal")).axes[1]
    assert (sweet.state_text, sweet.short_state_text) == ("over by 0.7", "over 0.7")


def test_an_empty_drink_shows_the_wish_alone() -> None:
    found = replace(readings("Pear Signal"), result=result(cost=0.0))
    assert radar_shape(found, target_of("Pear Signal")).is_empty
    assert target_alone(target_of("Pear Signal")).is_empty


def test_every_axis_is_heard_with_its_band_and_explained() -> None:
    axis = radar_shape(readings("Pear Signal"), target_of("Pear Signal")).axes[1]
    assert axis.sentence.startswith("Sweetness 7.2 g/100 ml, plus or minus 0.2, in band, band 4.5 to 9.5")
    assert "Grams of sucrose" in axis.tool_tip


def test_two_drinks_have_both_figures_without_units() -> None:
    shape = compared(radar_shape(readings("Pear Signal"), target_of("Pear Signal")), ("6.7",) * 6)
    assert (shape.axes[0].parent_text, shape.axes[0].value_text) == ("6.7", "6.7")


@pytest.mark.parametrize(("key", "text"), [("strength", "6.7 %"), ("length", "169 ml"), ("sweetness", "7.2")])
def test_only_short_units_stand_at_the_spoke(key: str, text: str) -> None:
    assert short_figure(readings("Pear Signal").figure(key)) == text
