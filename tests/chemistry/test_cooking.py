"""Ethanol that heating leaves, against the published retention factors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.cooking import LONGEST_MINUTES, ethanol_kept_pct, ways

# USDA Table of Nutrient Retention Factors, release 6 (2007), alcohol.
SIMMERED = [(15, 40), (30, 35), (60, 25), (90, 20), (120, 10), (150, 5)]


@pytest.mark.parametrize("minutes, kept", SIMMERED)
def test_simmering_keeps_what_the_table_says(minutes, kept):
    assert ethanol_kept_pct("simmered", float(minutes)) == pytest.approx(kept, abs=1e-12)


@pytest.mark.parametrize(
    "way, kept",
    [
        ("stirred_into_boiling", 85),
        ("flamed", 75),
        ("stood_overnight", 70),
        ("baked_on_top", 45),
        ("closed", 100),
    ],
)
def test_other_ways_keep_one_part_whatever_the_time(way, kept):
    # The same table; a closed bag or jar loses nothing.
    assert ethanol_kept_pct(way, 0.0) == kept
    assert ethanol_kept_pct(way, 90.0) == kept


@pytest.mark.parametrize("minutes, kept", [(22.5, 37.5), (45.0, 30.0), (135.0, 7.5), (7.5, 62.5)])
def test_between_two_times_the_line_is_straight(minutes, kept):
    # Means of neighbouring rows; at no minutes 85, stirred into boiling liquid and taken off the heat.
    assert ethanol_kept_pct("simmered", minutes) == pytest.approx(kept, abs=1e-12)


def test_at_no_minutes_the_ethanol_was_only_stirred_in():
    assert ethanol_kept_pct("simmered", 0.0) == ethanol_kept_pct("stirred_into_boiling", 0.0)


def test_beyond_its_end_the_table_holds():
    assert LONGEST_MINUTES == 150.0
    assert ethanol_kept_pct("simmered", 600.0) == 5.0


def test_there_is_no_time_before_the_start():
    assert np.isnan(ethanol_kept_pct("simmered", -1.0))
    assert np.isnan(ethanol_kept_pct("flamed", -1.0))


def test_an_unknown_way_is_an_error():
    with pytest.raises(KeyError):
        ethanol_kept_pct("fried", 10.0)


def test_arrays_are_read_element_by_element():
    kept = ethanol_kept_pct("simmered", np.array([15.0, 30.0, 300.0, -5.0]))
    assert kept[:3].tolist() == [40.0, 35.0, 5.0]
    assert np.isnan(kept[3])


@given(st.floats(0.0, 300.0), st.floats(0.0, 100.0))
def test_longer_heating_never_keeps_more(minutes, longer):
    assert ethanol_kept_pct("simmered", minutes + longer) <= ethanol_kept_pct("simmered", minutes) + 1e-12


@given(st.sampled_from(ways()), st.floats(0.0, 1000.0))
def test_what_is_kept_is_a_part(way, minutes):
    assert 5.0 <= ethanol_kept_pct(way, minutes) <= 100.0
