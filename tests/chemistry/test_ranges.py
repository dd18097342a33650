"""Every range flags where it should, beside values that are still there."""

import numpy as np
import pytest

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.methods import METHODS
from washline.chemistry.mixture import composition_from_label
from washline.chemistry.ranges import RANGES, Severity, conditions_of, flags

# Key of a range, a condition just inside, a condition just outside.
EDGES = {
    "no-liquid": ({"liquid_g": 0.001}, {"liquid_g": 0.0}),
    "volume-temperature": ({"temperature_c": 40.0}, {"temperature_c": 40.1}),
    "water-temperature": ({"temperature_c": 0.0}, {"temperature_c": -0.1}),
    "sucrose-temperature": ({"temperature_c": 80.0}, {"temperature_c": 80.1}),
    "refraction-temperature": ({"temperature_c": 20.0}, {"temperature_c": 21.0}),
    "sugar-fraction": ({"sugar_fraction": 0.85}, {"sugar_fraction": 0.86}),
    "salt-fraction": ({"salt_fraction": 0.26}, {"salt_fraction": 0.27}),
    "strong-sweet": (
        {"strength_pct_vol": 28.0, "sugar_fraction": 0.2},
        {"strength_pct_vol": 35.0, "sugar_fraction": 0.2},
    ),
    "brix-with-ethanol": ({"strength_pct_vol": 0.5}, {"strength_pct_vol": 0.6}),
    "heat-ethanol": ({"ethanol_fraction": 0.6}, {"ethanol_fraction": 0.61}),
    "heat-temperature": ({"temperature_c": -10.0}, {"temperature_c": -10.1}),
    "dilution-strength": ({"before_ice_pct_vol": 10.0}, {"before_ice_pct_vol": 9.9}),
}


def conditions(numbers):
    return {name: np.array([number]) for name, number in numbers.items()}


@pytest.mark.parametrize("entry", RANGES, ids=lambda entry: entry.key)
def test_a_range_flags_outside_its_edge_and_not_inside(entry):
    inside, outside = EDGES[entry.key]
    assert not flags(conditions(inside))[entry.key][0]
    assert flags(conditions(outside))[entry.key][0]


@pytest.mark.parametrize("temperature_c, key", [(-20.1, "volume-temperature"), (100.1, "water-temperature")])
def test_both_ends_of_a_temperature_range_are_watched(temperature_c, key):
    assert flags(conditions({"temperature_c": temperature_c}))[key][0]


def test_a_drink_above_35_pct_vol_leaves_the_regression():
    assert flags(conditions({"before_ice_pct_vol": 35.1}), "dilution")["dilution-strength"][0]


@pytest.mark.parametrize("entry", RANGES, ids=lambda entry: entry.key)
def test_a_range_has_words_and_names_known_readings(entry):
    assert entry.words.endswith(".")
    assert set(entry.readings) <= set(METHODS)


def test_keys_are_not_used_twice():
    assert len({entry.key for entry in RANGES}) == len(RANGES)


def test_an_everyday_drink_at_fridge_temperature_has_no_flag_but_the_note_on_brix():
    drink = composition_from_label(16.0, liquid(sucrose=80.0, citric=7.0))
    raised = flags(conditions_of(drink, 4.0, before_ice_pct_vol=22.0))
    raising = [key for key, failed in raised.items() if failed[0] and key != "refraction-temperature"]
    assert raising == ["brix-with-ethanol"]
    severities = {entry.key: entry.severity for entry in RANGES}
    assert severities["brix-with-ethanol"] is Severity.NOTE


def test_flags_stand_beside_each_column():
    both = columns(liquid(water=50.0, sucrose=50.0), liquid(water=10.0, sucrose=90.0))
    assert flags(conditions_of(both), "density")["sugar-fraction"].tolist() == [False, True]


def test_without_a_temperature_no_temperature_is_judged():
    assert "volume-temperature" not in flags(conditions_of(liquid(water=1.0)))


def test_no_liquid_is_flagged_as_no_value_and_nothing_else_is_judged():
    raised = flags(conditions_of(liquid(fat=1.0), 20.0))
    assert [key for key, failed in raised.items() if failed[0]] == ["no-liquid"]


def test_only_the_ranges_of_a_reading_are_asked():
    found = flags(conditions_of(liquid(water=1.0), 60.0), "heat_capacity")
    assert set(found) == {"no-liquid", "heat-ethanol", "heat-temperature"}
