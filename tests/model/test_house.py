"""How a house counts: where things are kept, and to where a glass is filled."""

import pytest

from washline.model.house import ICE_DENSITY_G_PER_ML, Glass, Settings, calibration_slug, wash_line_ml
from washline.model.item import KeptAt

ROCKS = Glass(slug="rocks", name="Double rocks", brim_ml=350.0, ice="cube", ice_g=115.0)
SETTINGS = Settings()


@pytest.mark.parametrize(
    ("kept_at", "temperature_c"),
    [(KeptAt.FREEZER, -18.0), (KeptAt.FRIDGE, 4.0), (KeptAt.ROOM, 20.0), (KeptAt.ICE_WELL, 0.0)],
)
def test_a_thing_is_as_cold_as_the_place_where_it_is_kept(kept_at: KeptAt, temperature_c: float) -> None:
    assert SETTINGS.temperature_c(kept_at) == temperature_c


def test_without_a_glass_there_is_no_wash_line() -> None:
    assert wash_line_ml(SETTINGS, None, None, None) is None


def test_the_wash_line_of_the_drink_goes_before_that_of_the_glass() -> None:
    marked = Glass(slug="rocks", name="Double rocks", brim_ml=350.0, wash_line_ml=200.0)
    assert wash_line_ml(SETTINGS, marked, None, 115.0) == 200.0
    assert wash_line_ml(SETTINGS, marked, 175.0, 115.0) == 175.0
    assert wash_line_ml(SETTINGS, None, 175.0, None) == 175.0


def test_else_it_is_a_share_of_what_the_ice_leaves_of_the_brim() -> None:
    # 82.5 %: common practice, no source. Ice at 0 °C weighs 0.917 g/ml (from memory, handbooks agree to the digit).
    assert wash_line_ml(SETTINGS, ROCKS, None, None) == pytest.approx(0.825 * (350.0 - 115.0 / 0.917))
    assert ICE_DENSITY_G_PER_ML == 0.917


def test_a_drink_without_ice_fills_more_of_the_same_glass() -> None:
    assert wash_line_ml(SETTINGS, ROCKS, None, 0.0) == pytest.approx(288.75)


def test_foam_takes_its_room_from_a_wash_line_that_nobody_set() -> None:
    plain = wash_line_ml(SETTINGS, ROCKS, None, 0.0)
    assert plain is not None
    assert wash_line_ml(SETTINGS, ROCKS, None, 0.0, 5.0) == pytest.approx(plain - 5.0)
    assert wash_line_ml(SETTINGS, ROCKS, 175.0, 0.0, 5.0) == 175.0
    marked = Glass(slug="rocks", name="Double rocks", brim_ml=350.0, wash_line_ml=200.0)
    assert wash_line_ml(SETTINGS, marked, None, 0.0, 5.0) == 200.0


def test_a_calibration_goes_by_method_and_ice() -> None:
    assert calibration_slug("stir", "cubes") == "stir/cubes"
