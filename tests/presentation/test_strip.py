"""The strip is a spoke laid flat; the small scale of a weighed yield."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.presentation.shape import Band
from washline.presentation.strip import (
    EDGE_PLACE,
    BandStrip,
    WeightScale,
    spaced_ticks,
    spread_places,
    strip_place,
    value_place,
)

STRENGTH = Band(5.0, 8.0, 11.0, 1.0)


def test_the_edges_of_the_band_stand_at_0_447_of_the_half_width() -> None:
    assert pytest.approx(0.447, abs=5e-4) == EDGE_PLACE
    assert strip_place(1.0) == EDGE_PLACE
    assert strip_place(-1.0) == -EDGE_PLACE


def test_the_ideal_stands_in_the_middle_on_every_strip() -> None:
    assert value_place(STRENGTH, 8.0) == 0.0


@given(st.floats(-1e5, 1e5))
def test_the_tick_never_leaves_the_strip(share: float) -> None:
    assert -1.0 <= strip_place(share) <= 1.0


@given(st.floats(0.0, 100.0))
def test_both_sides_have_the_same_scale(share: float) -> None:
    assert strip_place(-share) == -strip_place(share)


def test_what_is_not_known_has_no_place() -> None:
    assert value_place(STRENGTH, None) is None


def test_the_bar_of_one_sigma_runs_from_low_to_high() -> None:
    ends = spread_places(BandStrip(STRENGTH, 8.0, sigma=(0.3, 0.6)))
    assert ends == pytest.approx((-0.1 * EDGE_PLACE, 0.2 * EDGE_PLACE))


@pytest.mark.parametrize(
    "strip", [BandStrip(STRENGTH, None, (0.1, 0.1)), BandStrip(STRENGTH, 8.0, (0.0, 0.0))]
)
def test_without_value_or_spread_there_is_no_bar(strip: BandStrip) -> None:
    assert spread_places(strip) is None


def test_ticks_that_would_stand_too_close_are_thinned_to_equal_steps() -> None:
    fine = Band(0.0, 50.0, 100.0, 1.0)
    shares = spaced_ticks(fine, places_per_px=0.02, closest_px=4.0)
    steps = {round((after - before) * 50) for before, after in pairwise(shares)}
    assert steps == {5}


def test_with_room_every_house_step_has_its_tick() -> None:
    assert spaced_ticks(STRENGTH, places_per_px=0.01) == STRENGTH.ticks()


def test_a_weighed_yield_within_its_estimate_stands_between_the_ends() -> None:
    low, estimate, high, weighed = WeightScale(821.0, 927.0, 1007.0, 905.0).places()
    assert weighed is not None
    assert 0.0 < low < weighed < estimate < high < 1.0


def test_a_weight_beyond_the_estimate_stays_on_the_scale() -> None:
    weighed = WeightScale(821.0, 927.0, 1007.0, 1200.0).places()[3]
    assert weighed is not None
    assert weighed < 1.0


def test_an_estimate_without_a_range_still_has_a_scale() -> None:
    assert WeightScale(500.0, 500.0, 500.0, None).places() == (0.5, 0.5, 0.5, None)
