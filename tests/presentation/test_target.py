"""The numbers of a target as typed: what is understood, what is refused and why."""

import pytest

from tests.presentation.demo import readings
from washline.model.reading import BY_KEY
from washline.model.target import Aim, Target
from washline.presentation.target import (
    AimProblem,
    AimTexts,
    addable,
    aim_texts,
    first_aim,
    first_aims,
    free_target_name,
    read_aim,
    read_edge,
    why_no_axis,
    why_not_fewer,
)
from washline.quantity.formatting import ENGLISH_STYLE, NUMBER_STYLES

SWEET = Aim("sweetness", 4.5, 7.0, 9.5)


def target(count: int, gates: int = 0) -> Target:
    keys = list(BY_KEY)[: count + gates]
    aims = tuple(Aim(key, 1.0, 2.0, 3.0, index >= count) for index, key in enumerate(keys))
    return Target(id=1, name="ours", aims=aims)


@pytest.mark.parametrize("text", ["7.5", " 7,5 ", "7½", "7.5 g/100 ml", "7.5 g"])
def test_a_number_is_read_as_people_type_it(text: str) -> None:
    assert read_edge("ideal", text, BY_KEY["sweetness"], ENGLISH_STYLE) == 7.5


@pytest.mark.parametrize("text", ["", "sweet", "7 ml", "-1", "∞", "1e400", "7.5.5", "1/0", "9" * 400])
def test_nonsense_says_what_was_expected(text: str) -> None:
    found = read_edge("low", text, BY_KEY["sweetness"], ENGLISH_STYLE)
    assert isinstance(found, AimProblem)
    assert found.field == "low"
    assert found.words


def test_below_zero_is_for_temperatures_only() -> None:
    assert read_edge("low", "−6", BY_KEY["chill"], ENGLISH_STYLE) == -6.0
    assert isinstance(read_edge("low", "−6", BY_KEY["strength"], ENGLISH_STYLE), AimProblem)


def test_a_strength_above_100_is_refused() -> None:
    found = read_edge("high", "120", BY_KEY["strength"], ENGLISH_STYLE)
    assert isinstance(found, AimProblem)
    assert found.words == "Strength is 0 to 100 % vol."


def test_a_comma_is_decimal_where_the_house_writes_it_so() -> None:
    german = NUMBER_STYLES["de_DE"]
    assert aim_texts(SWEET, german).low == "4,5"
    assert read_edge("low", "4,75", BY_KEY["sweetness"], german) == 4.75


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        (AimTexts("8", "7", "9.5"), "low"),
        (AimTexts("4.5", "7", "6"), "high"),
        (AimTexts("4.5", "12", "9.5"), "ideal"),
        (AimTexts("7", "7", "7"), "high"),
    ],
)
def test_edges_that_do_not_rise_are_refused_at_the_field_that_was_typed(texts: AimTexts, field: str) -> None:
    found = read_aim(SWEET, texts, ENGLISH_STYLE)
    assert isinstance(found, AimProblem)
    assert found.field == field


def test_what_was_not_touched_keeps_its_full_precision() -> None:
    aim = Aim("acidity", 0.123456789, 0.5, 0.75)
    found = read_aim(aim, AimTexts("0.1235", "0.6", "0.75"), ENGLISH_STYLE)
    assert found == Aim("acidity", 0.123456789, 0.6, 0.75)


def test_ten_axes_are_the_most_and_gates_do_not_count() -> None:
    assert why_no_axis(target(9, gates=2)) == ""
    assert why_no_axis(target(10)).startswith("A radar has at most 10 axes.")


def test_three_axes_are_the_fewest() -> None:
    assert why_not_fewer(target(4), "strength") == ""
    assert why_not_fewer(target(3), "strength").startswith("A radar needs 3 axes.")
    assert why_not_fewer(target(3, gates=1), "bitterness") == ""


def test_a_reading_can_be_added_once() -> None:
    assert "strength" not in {reading.key for reading in addable(target(3))}
    assert len(addable(target(3))) == len(BY_KEY) - 3


def test_a_new_aim_lies_around_what_the_drink_reads() -> None:
    aim = first_aim("strength", readings("Pear Signal").result)
    assert (aim.low, aim.ideal, aim.high) == (3.7, 6.7, 9.7)


@pytest.mark.parametrize("key", list(BY_KEY))
def test_a_first_aim_is_in_order_for_every_reading(key: str) -> None:
    for result in (None, readings("Pear Signal").result):
        aim = first_aim(key, result)
        assert aim.low <= aim.ideal <= aim.high
        assert aim.low < aim.high


def test_a_new_target_has_the_fewest_axes() -> None:
    assert [aim.reading for aim in first_aims(None)] == ["strength", "sweetness", "acidity"]


def test_a_name_that_is_taken_gets_a_number() -> None:
    assert free_target_name({"sour", "sour 2"}, "sour") == "sour 3"
