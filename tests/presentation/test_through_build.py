"""Through the build: what each column and lane shows. Figures follow from ``small_house``."""

import pytest

from tests.presentation.small_house import CORDIAL, SIGNAL, house
from washline.document.commands import lines, steps
from washline.document.commands.command import Command
from washline.engine.workings import Workings
from washline.model.amount import millilitres
from washline.model.target import Aim
from washline.presentation.through_build import Point, ThroughBuild, merged, through_build

STRENGTH = Aim("strength", 5.0, 7.0, 11.0)


def columns_of(build_id: int, *commands: Command, most: int = 8, aims: tuple[Aim, ...] = ()) -> ThroughBuild:
    book = house()
    for command in commands:
        book = command(book)
    return through_build(Workings(book).trace(build_id), aims, most=most)


def test_each_step_that_changes_the_vessel_is_a_column_and_the_last_is_served() -> None:
    labels = [point.label for point in columns_of(SIGNAL).points]
    assert labels == [
        "dry white vermouth", "+ pear cordial", "+ verjus", "build on the cube", "+ soda water, served",
    ]  # fmt: skip


def test_a_part_ends_in_a_bottle_and_its_blend_and_rest_are_no_columns() -> None:
    labels = [point.label for point in columns_of(CORDIAL).points]
    assert labels == ["ripe pear", "+ malic acid", "strain", "+ white sugar, bottled"]


def test_topping_with_soda_lowers_strength_and_raises_the_level() -> None:
    through = columns_of(SIGNAL)
    before, served = through.points[-2], through.points[-1]
    assert served.values[0] is not None
    assert before.values[0] is not None
    assert served.values[0] < before.values[0]
    assert served.level_ml is not None
    assert before.level_ml == pytest.approx(served.level_ml - 60.0, abs=1.0)


def test_a_drink_that_holds_a_trace_or_nothing_is_never_written_as_none() -> None:
    lane = columns_of(CORDIAL).lanes[0]
    assert lane.values[-1] == 0.0
    assert lane.texts[-1] == "below 0.05"
    assert "strength ends at below 0.05 % vol" in columns_of(CORDIAL).sentence.casefold()


def test_lanes_start_at_zero_and_end_above_their_highest_value_and_the_band() -> None:
    lane = columns_of(SIGNAL, aims=(Aim("strength", 5.0, 20.0, 40.0),)).lanes[0]
    assert lane.top > 40.0
    assert lane.aim is not None


def test_a_lane_without_an_aim_has_no_band() -> None:
    lanes = columns_of(SIGNAL, aims=(STRENGTH,)).lanes
    assert [lane.aim is not None for lane in lanes] == [True, False, False]


def test_the_wash_line_lies_within_the_vessels() -> None:
    through = columns_of(SIGNAL)
    assert through.wash_line_ml == 175.0
    assert through.level_top_ml > 175.0


def test_a_level_over_the_wash_line_lies_within_the_vessels_too() -> None:
    through = columns_of(SIGNAL, lines.set_amount(SIGNAL, 124, millilitres(120.0)))
    assert through.points[-1].level_ml is not None
    assert through.level_top_ml > through.points[-1].level_ml > 175.0


def test_a_step_that_is_left_out_is_no_column() -> None:
    assert len(columns_of(SIGNAL, steps.set_step(SIGNAL, 122, left_out=True)).points) == 4


def test_an_empty_build_has_no_columns_and_says_so() -> None:
    every = [step.id for step in house().builds[SIGNAL].steps]
    through = columns_of(SIGNAL, steps.remove_steps(SIGNAL, every))
    assert through.points == ()
    assert through.sentence == "Nothing is in the vessel yet."


def test_neighbouring_pours_are_told_together_where_there_is_no_room() -> None:
    through = columns_of(SIGNAL, most=4)
    assert [point.label for point in through.points] == [
        "2 lines", "+ verjus", "build on the cube", "+ soda water, served",
    ]  # fmt: skip


def test_merged_columns_keep_what_stood_at_their_end() -> None:
    points = [Point(str(level), float(level), (None,) * 3, True, (str(level),)) for level in range(6)]
    few = merged(points, 2)
    assert len(few) == 2
    assert few[-1].level_ml == 5.0
    assert sum(len(point.names) for point in few) == 6


def test_steps_that_are_no_pours_are_never_told_together() -> None:
    points = [Point("strain", 1.0, (None,) * 3, False, ("strain",)) for _ in range(5)]
    assert len(merged(points, 2)) == 5


def test_the_sentence_for_a_screen_reader_ends_with_the_figures_served() -> None:
    through = columns_of(SIGNAL)
    assert "Strength ends at" in through.sentence
    assert through.sentence.endswith(f"level ends at {through.level_texts[-1]} ml")
