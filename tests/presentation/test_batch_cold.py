"""What a freezer makes of a batch. Freezing points of ethanol in water: CRC Handbook, 102nd ed. 2021."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.components import ETHANOL, WATER
from washline.chemistry.freezing import freezing_point_c
from washline.chemistry.mixture import strength_pct_vol
from washline.engine.state import MASSES, ROWS, Numbers
from washline.model.house import Settings
from washline.model.item import BatchService
from washline.presentation.batch_cold import Cold, Pours, cold_of, cold_words

HOUSE = Settings()
FREEZER = BatchService.FREEZER


def spirit(pct_by_weight: float) -> Numbers:
    """1 kg of ethanol and water."""
    state = np.zeros(ROWS)
    state[ETHANOL] = 10.0 * pct_by_weight
    state[WATER] = 1000.0 - state[ETHANOL]
    return state


def cold(pct_by_weight: float, service: BatchService = FREEZER, settings: Settings = HOUSE) -> Cold:
    state = spirit(pct_by_weight)
    freezing = float(freezing_point_c(state[MASSES, None])[0])
    return cold_of(state, freezing if freezing == freezing else None, service, settings)


def test_to_stay_liquid_at_minus_18_takes_about_34_percent_by_volume() -> None:
    # DEMO, open point 2: 33.5 % vol ice-starts at about -18 °C, "34 % or more to stay pourable".
    assert cold(20.0).pourable_pct_vol == pytest.approx(33.7, abs=0.7)


@pytest.mark.parametrize("pct_by_weight", [5.0, 10.0, 20.0, 26.0])
def test_the_pourable_strength_does_not_depend_on_how_much_water_there_is(pct_by_weight: float) -> None:
    assert cold(pct_by_weight).pourable_pct_vol == pytest.approx(cold(15.0).pourable_pct_vol, abs=0.1)


def test_ten_percent_by_weight_starts_to_freeze_where_the_handbook_says() -> None:
    # CRC: 10 % ethanol by mass freezes at -4.47 °C; the house's model is good to 0.28 K.
    assert cold(10.0).freezing_c == pytest.approx(-4.47, abs=0.28)


@pytest.mark.parametrize(
    ("pct_by_weight", "pours"),
    [(40.0, Pours.LIQUID), (27.5, Pours.CRYSTALS), (24.0, Pours.SLUSH), (10.0, Pours.FROZEN)],
)
def test_the_stronger_it_is_the_better_it_pours(pct_by_weight: float, pours: Pours) -> None:
    assert cold(pct_by_weight).pours is pours


@given(st.floats(2.0, 38.0), st.floats(2.0, 38.0))
def test_more_alcohol_never_means_more_ice(one: float, other: float) -> None:
    weak, strong = (cold(pct).ice_share for pct in sorted((one, other)))
    assert weak is not None
    assert strong is not None
    assert weak >= strong - 1e-9


@given(st.floats(3.0, 28.0))
def test_without_its_ice_the_rest_freezes_just_there(pct_by_weight: float) -> None:
    found, state = cold(pct_by_weight), spirit(pct_by_weight)
    assert found.ice_share is not None
    state[WATER] -= found.ice_share * 1000.0
    assert float(freezing_point_c(state[MASSES, None])[0]) <= -17.9
    if found.pourable_pct_vol is not None:
        assert float(strength_pct_vol(state[MASSES, None])[0]) == pytest.approx(
            found.pourable_pct_vol, abs=1e-6
        )


def test_it_is_this_houses_freezer_that_counts() -> None:
    mild = Settings(freezer_c=-10.0)
    assert cold(24.0).pours is Pours.SLUSH
    assert cold(24.0, settings=mild).pours is Pours.LIQUID


def test_a_fridge_above_zero_freezes_nothing() -> None:
    found = cold(0.5, BatchService.FRIDGE)
    assert (found.at_c, found.ice_share, found.pours) == (4.0, 0.0, Pours.LIQUID)


def test_ice_grows_by_a_tenth_of_what_it_was() -> None:
    # Water at 0 °C 0.9998 g/ml, ice 0.917 g/ml: 9 % more.
    found = cold(10.0)
    assert found.ice_share is not None
    assert found.grows_pct == pytest.approx(100.0 * found.ice_share * (1.0 / 0.917 - 1.0 / 0.9998))


def test_what_has_no_freezing_point_is_not_said_to_stay_liquid() -> None:
    found = cold_of(spirit(20.0), None, FREEZER, HOUSE)
    assert found.pours is Pours.UNKNOWN
    assert "not known" in cold_words(found, FREEZER)[0]


def test_words_for_what_freezes_say_how_much_water_to_leave_out() -> None:
    words = " ".join(cold_words(cold(24.0), FREEZER, serve_g=100.0, water_g=30.0))
    assert "slush" in words
    assert "of the 30" in words
    assert "% vol" in words


def test_words_say_when_leaving_the_dilution_out_is_not_enough() -> None:
    assert "more than leaving its dilution out would give" in " ".join(
        cold_words(cold(10.0), FREEZER, serve_g=100.0, water_g=5.0)
    )


def test_words_for_what_stays_liquid_say_how_far_it_is_from_freezing() -> None:
    words = cold_words(cold(32.0), FREEZER)[0]
    assert words.startswith("It stays liquid and pours in this house's freezer, −18")
    assert "below it" in words
