"""The common scale and the outline: exact circle, exact ring, no overshoot, gaps where a reading is missing."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.presentation.shape import (
    BAND_INNER_RADIUS,
    BAND_OUTER_RADIUS,
    FLOOR_RADIUS,
    IDEAL_RADIUS,
    Band,
    axis_direction,
    outline,
    share_radius,
    small_shape,
    value_radius,
)

BITTERNESS = Band(low=0.5, ideal=2.0, high=4.0, house_step=0.5)
ONE_SIDED = Band(low=0.0, ideal=0.0, high=0.5, house_step=0.1)

radii = st.floats(0.1, 1.0)


def test_the_ideal_uses_none_of_the_tolerance() -> None:
    assert BITTERNESS.share(2.0) == 0.0


def test_each_edge_of_an_uneven_band_uses_all_of_its_own_side() -> None:
    assert (BITTERNESS.share(0.5), BITTERNESS.share(4.0)) == (-1.0, 1.0)


def test_the_same_distance_uses_more_of_the_stricter_side() -> None:
    assert BITTERNESS.share(1.25) == pytest.approx(-0.5)
    assert BITTERNESS.share(2.75) == pytest.approx(0.375)


def test_a_value_on_a_side_without_room_lies_beyond_the_edge() -> None:
    assert ONE_SIDED.share(-0.1) == pytest.approx(-1.2)
    assert ONE_SIDED.share(0.25) == pytest.approx(0.5)


def test_a_band_of_a_single_value_counts_in_house_steps() -> None:
    assert Band(4.0, 4.0, 4.0, 0.5).share(4.5) == pytest.approx(2.0)


def test_edges_belong_to_the_band() -> None:
    assert BITTERNESS.contains(0.5)
    assert BITTERNESS.contains(4.0)
    assert not BITTERNESS.contains(4.0 + 1e-9)


@pytest.mark.parametrize("edges", [(3.0, 2.0, 4.0), (1.0, 5.0, 4.0)])
def test_a_band_with_edges_out_of_order_is_refused(edges: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="not in order"):
        Band(*edges, house_step=1.0)


@pytest.mark.parametrize("step", [0.0, -1.0, math.inf, math.nan])
def test_a_house_step_that_is_no_step_is_refused(step: float) -> None:
    with pytest.raises(ValueError, match="house step"):
        Band(0.0, 1.0, 2.0, step)


def test_ticks_stand_on_multiples_of_the_house_step() -> None:
    shares = Band(5.0, 8.0, 11.0, 1.0).ticks()
    assert [round(8 + share * 3) for share in shares] == [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]


def test_ticks_are_denser_on_the_generous_side() -> None:
    shares = Band(0.0, 1.0, 4.0, 0.5).ticks(reach=1.0)
    assert (len([s for s in shares if s < 0]), len([s for s in shares if s > 0])) == (2, 6)


def test_ideal_and_edges_lie_on_the_circles_of_the_plate() -> None:
    assert share_radius(0.0) == 0.62
    assert share_radius(1.0) == pytest.approx(0.79)
    assert share_radius(-1.0) == pytest.approx(0.45)
    assert pytest.approx((0.45, 0.79)) == (BAND_INNER_RADIUS, BAND_OUTER_RADIUS)


@given(st.floats(-1e6, 1e6))
def test_nothing_leaves_the_plate_or_folds_through_the_centre(share: float) -> None:
    assert FLOOR_RADIUS <= share_radius(share) <= 1.0


@given(st.floats(-50, 50), st.floats(-50, 50))
def test_more_of_the_tolerance_is_never_drawn_nearer(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert share_radius(low) <= share_radius(high)


@pytest.mark.parametrize("knee", [-1.5, 1.5])
def test_the_radius_eases_out_without_a_kink(knee: float) -> None:
    step = 1e-6
    before = (share_radius(knee) - share_radius(knee - step)) / step
    after = (share_radius(knee + step) - share_radius(knee)) / step
    assert before == pytest.approx(after, rel=1e-3)


@pytest.mark.parametrize("value", [None, math.nan, math.inf])
def test_what_is_not_known_has_no_radius(value: float | None) -> None:
    assert value_radius(BITTERNESS, value) is None


def test_the_first_axis_points_straight_up_and_the_next_lies_clockwise() -> None:
    assert axis_direction(0, 4) == pytest.approx((0.0, -1.0))
    assert axis_direction(1, 4) == pytest.approx((1.0, 0.0))


def test_equal_radii_draw_a_true_circle() -> None:
    (run,) = outline([IDEAL_RADIUS] * 6)
    assert len(run.points) == 6 * 28
    assert {round(math.hypot(x, y), 12) for x, y in run.points} == {0.62}


def test_the_line_passes_through_every_vertex() -> None:
    values = [0.5, 0.7, 0.6, 0.9, 0.3]
    (run,) = outline(values)
    drawn = [math.hypot(*run.points[index * 28]) for index in range(5)]
    assert drawn == pytest.approx(values)


@given(st.lists(radii, min_size=3, max_size=10))
def test_the_line_never_overshoots_the_two_vertices_of_a_span(values: list[float]) -> None:
    (run,) = outline(values)
    for axis in range(len(values)):
        ends = values[axis], values[(axis + 1) % len(values)]
        for x, y in run.points[axis * 28 : axis * 28 + 28]:
            assert min(ends) - 1e-9 <= math.hypot(x, y) <= max(ends) + 1e-9


def test_a_missing_reading_leaves_both_its_spans_open() -> None:
    (run,) = outline([0.6, 0.7, None, 0.5, 0.6, 0.6])
    assert not run.is_closed
    assert len(run.points) == 4 * 28 + 1
    assert math.hypot(*run.points[0]) == pytest.approx(0.5)
    assert math.hypot(*run.points[-1]) == pytest.approx(0.7)


def test_two_missing_readings_leave_a_lone_one_as_a_point() -> None:
    runs = outline([0.6, None, 0.5, None, 0.7, 0.6])
    assert sorted(len(run.points) for run in runs) == [1, 2 * 28 + 1]


def test_nothing_known_draws_nothing() -> None:
    assert outline([None, None, None]) == ()
    assert outline([]) == ()


def test_a_small_shape_counts_the_readings_that_are_out() -> None:
    shape = small_shape([BITTERNESS] * 4, [2.0, 4.1, 0.1, None])
    assert shape.out_count == 2
    assert shape.radii[3] is None


def test_a_small_shape_with_two_axes_has_no_outline() -> None:
    assert small_shape([BITTERNESS] * 2, [2.0, 2.0]).runs == ()


def test_a_small_shape_wants_a_value_for_every_axis() -> None:
    with pytest.raises(ValueError, match="zip"):
        small_shape([BITTERNESS], [2.0, 2.0])
