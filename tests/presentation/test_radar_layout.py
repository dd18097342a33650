"""The solved radius: every label inside, none meeting, nothing moving while a figure is typed."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.presentation.radar_layout import (
    LabelWidths,
    Pane,
    RadarLayout,
    solve_layout,
)

BALANCE = Pane(width=398.0, height=352.0, unit=1.0, line_height=15.5)


def labels(count: int, name: float = 60.0, state: float = 0.0, kept: float = 0.0) -> list[LabelWidths]:
    return [LabelWidths(name, name / 2, value=30.0, state=state, kept_state=kept) for _ in range(count)]


def solved(pane: Pane, widths: list[LabelWidths], keep: RadarLayout | None = None) -> RadarLayout:
    layout = solve_layout(pane, widths, keep)
    assert layout is not None
    return layout


@pytest.mark.parametrize("count", range(3, 11))
def test_every_label_lies_inside_with_room_to_spare(count: int) -> None:
    for label in solved(BALANCE, labels(count)).labels:
        left, top, right, bottom = label.box
        assert left >= 8 - 1e-6
        assert top >= 8 - 1e-6
        assert right <= 398 - 8 + 1e-6
        assert bottom <= 352 - 8 + 1e-6


@given(
    count=st.integers(3, 10),
    width=st.floats(200, 900),
    height=st.floats(200, 900),
    name=st.floats(20, 120),
)
def test_no_two_labels_meet(count: int, width: float, height: float, name: float) -> None:
    layout = solve_layout(Pane(width, height, 1.0, 15.5), labels(count, name))
    for one, other in itertools.combinations(layout.labels if layout else (), 2):
        apart = one.box[0] >= other.box[2] or other.box[0] >= one.box[2]
        above = one.box[1] >= other.box[3] or other.box[1] >= one.box[3]
        assert apart or above


def test_the_radius_is_the_largest_that_fits() -> None:
    layout = solved(BALANCE, labels(6))
    free_above = min(label.box[1] for label in layout.labels)
    free_below = 352 - max(label.box[3] for label in layout.labels)
    assert min(free_above, free_below) == pytest.approx(8.0, abs=0.01)


def test_the_radius_stops_at_160_however_large_the_pane() -> None:
    assert solved(Pane(2000.0, 2000.0, 1.0, 15.5), labels(6)).radius == 160.0


def test_at_twice_the_unit_everything_is_twice_as_large() -> None:
    twice = Pane(796.0, 704.0, 2.0, 31.0)
    wide = [LabelWidths(120.0, 60.0, 60.0, 0.0) for _ in range(6)]
    assert solved(twice, wide).radius == pytest.approx(2 * solved(BALANCE, labels(6)).radius, abs=0.01)


def test_a_pane_too_small_for_names_cuts_them_to_one_word() -> None:
    layout = solved(Pane(330.0, 352.0, 1.0, 15.5), labels(6, name=110.0))
    assert layout.is_elided


def test_a_pane_too_small_for_anything_leaves_the_table_alone() -> None:
    assert solve_layout(Pane(180.0, 150.0, 1.0, 15.5), labels(6)) is None


def test_kept_room_is_given_up_before_a_name_is_cut() -> None:
    narrow = Pane(330.0, 352.0, 1.0, 15.5)
    layout = solved(narrow, labels(6, name=70.0, kept=130.0))
    assert not layout.is_elided


def test_the_plate_stays_while_a_figure_is_typed() -> None:
    first = solved(BALANCE, labels(6))
    later = solved(BALANCE, labels(6, state=50.0), keep=first)
    assert (later.radius, later.x, later.y) == (first.radius, first.x, first.y)


def test_the_plate_gives_way_when_the_words_do_not_fit() -> None:
    pane = Pane(340.0, 352.0, 1.0, 15.5)
    first = solved(pane, labels(6))
    later = solved(pane, labels(6, state=85.0), keep=first)
    assert later.radius < first.radius


def test_a_kept_place_of_another_number_of_axes_is_not_used() -> None:
    assert len(solved(BALANCE, labels(7), keep=solved(BALANCE, labels(6))).labels) == 7


def test_a_state_below_the_figure_does_not_move_name_or_figure() -> None:
    plain, worded = solved(BALANCE, labels(6, kept=60.0)), solved(BALANCE, labels(6, state=60.0))
    assert [(p.x, p.top) for p in plain.labels] == [(w.x, w.top) for w in worded.labels]


def test_labels_stand_outward_of_their_spokes() -> None:
    sides = [label.side for label in solved(BALANCE, labels(6)).labels]
    assert sides == [0, 1, 1, 0, -1, -1]


def test_the_state_stands_below_a_level_label_and_beside_an_upright_one() -> None:
    layout = solved(BALANCE, labels(6))
    assert [label.state_is_inline for label in layout.labels] == [True, False, False, True, False, False]


@pytest.mark.parametrize("count", [9, 10])
def test_with_nine_and_ten_axes_the_state_stands_on_the_line_of_the_figure(count: int) -> None:
    assert all(label.state_is_inline for label in solved(BALANCE, labels(count)).labels)


def test_two_figures_are_stacked_at_the_sides_and_set_in_a_row_above() -> None:
    compared = [LabelWidths(60.0, 60.0, value=40.0, state=0.0, parent=30.0) for _ in range(6)]
    assert [label.value_rows for label in solved(BALANCE, compared).labels] == [1, 2, 2, 1, 2, 2]


def test_the_words_of_a_paper_take_one_line_and_may_stand_smaller() -> None:
    paper = Pane(190.0, 160.0, 1.0, 15.5, words_only=True)
    layout = solved(paper, [LabelWidths(35.0, 35.0, 0.0, 0.0) for _ in range(6)])
    assert layout.radius < 72.0
    assert layout.labels[0].box[3] - layout.labels[0].box[1] == pytest.approx(15.5)


def test_a_point_of_an_axis_lies_on_its_spoke() -> None:
    layout = solved(BALANCE, labels(4))
    assert layout.axis_point(1, 0.5) == pytest.approx((layout.x + layout.radius / 2, layout.y))
