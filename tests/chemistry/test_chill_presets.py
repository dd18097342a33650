"""The presets of chilling: complete, in bounds, and honest about where they come from."""

import pytest

from washline.chemistry.chill_presets import chill_preset, chill_presets
from washline.chemistry.coefficients import table


def test_every_usual_way_has_its_preset():
    assert [preset.key for preset in chill_presets()] == [
        "shaken",
        "stirred",
        "throw",
        "swizzle",
        "blend",
        "build_on_ice",
        "dry_shake",
    ]


def test_the_fitted_presets_have_the_numbers_of_the_reference():
    # Physical reference, section e: shaken a = 1, core 1, 2 g of ice per mL with 6 g of water per 100 mL of drink; stirred
    # a = 0.90, core 0.5, the same ice, drained.
    shaken, stirred = chill_preset("shaken"), chill_preset("stirred")
    assert (shaken.approach, shaken.core, shaken.ice_g_per_ml) == (1.0, 1.0, 2.0)
    assert shaken.ice_g_per_ml * 100.0 * shaken.surface_water_g_per_g == pytest.approx(6.0)
    assert (stirred.approach, stirred.core, stirred.ice_g_per_ml) == (0.9, 0.5, 2.0)
    assert stirred.surface_water_g_per_g == 0.0


def test_time_constants_lie_where_bench_reports_put_them():
    # D. Arnold, bench reports 2009-2010 (from memory): shaken 4 to 5 s, stirred 20 to 40 s.
    assert 4.0 <= chill_preset("shaken").tau_s <= 5.0
    assert 20.0 <= chill_preset("stirred").tau_s <= 40.0


@pytest.mark.parametrize("preset", chill_presets(), ids=lambda preset: preset.key)
def test_a_preset_is_within_its_bounds_and_says_its_source(preset):
    assert 0.0 < preset.approach <= 1.0
    assert 0.0 <= preset.core <= 1.0
    assert preset.tau_s > 0.0
    assert preset.seconds > 0.0
    assert 0.0 <= preset.surface_water_g_per_g < 0.1
    is_fitted = preset.key in ("shaken", "stirred")
    assert ("Arnold" in preset.source) == is_fitted
    assert (preset.source == "common practice, no source") != is_fitted


def test_presets_are_marked_as_from_memory():
    for preset in chill_presets():
        assert all(row.from_memory for row in table()["chill_preset", preset.key])


def test_without_ice_there_is_no_water_on_it():
    assert chill_preset("dry_shake").ice_g_per_ml == 0.0


def test_an_unknown_way_is_an_error():
    with pytest.raises(KeyError):
        chill_preset("juggled")
