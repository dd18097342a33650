"""Every range flags where it should, beside values that are still there."""

import numpy as np
import pytest

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.freezing import freezing_point_c
from washline.chemistry.methods import METHODS
from washline.chemistry.mixture import composition_from_label
from washline.chemistry.molality import molalities
from washline.chemistry.ph import ph_and_ionic_strength
from washline.chemistry.ranges import RANGES, UNCERTAIN, Severity, conditions_of, flags
from washline.chemistry.water_activity import water_activity

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
    "no-water": ({"liquid_g": 1.0, "water_g": 0.001}, {"liquid_g": 1.0, "water_g": 0.0}),
    "ph-ionic-strength": ({"ionic_strength_mol_per_l": 0.5}, {"ionic_strength_mol_per_l": 0.51}),
    "ph-strength": ({"strength_pct_vol": 20.0}, {"strength_pct_vol": 20.1}),
    "ph-protein": ({"protein_fraction": 0.007}, {"protein_fraction": 0.033}),
    "ph-alkaline": ({"ph": 8.0}, {"ph": 8.1}),
    "ph-near-4.6": ({"ph": 4.29}, {"ph": 4.31}),
    "water-activity-low": ({"water_activity": 0.6}, {"water_activity": 0.59}),
    "water-activity-near-0.85": ({"water_activity": 0.871}, {"water_activity": 0.869}),
    "water-activity-ethanol": ({"strength_pct_vol": 5.0}, {"strength_pct_vol": 5.1}),
    "freezing-below-table": (
        {"freezing_point_c": -45.0, "water_g": 1.0},
        {"freezing_point_c": np.nan, "water_g": 1.0},
    ),
    "freezing-cold": ({"freezing_point_c": -35.0}, {"freezing_point_c": -35.1}),
    "freezing-strong-sweet": (
        {"strength_pct_vol": 20.0, "sugar_fraction": 0.2},
        {"strength_pct_vol": 25.0, "sugar_fraction": 0.2},
    ),
    "chill-below-table": (
        {"chilled_c": -44.0, "chilled_from_c": -20.0},
        {"chilled_c": np.nan, "chilled_from_c": -20.0},
    ),
    "chill-strong": ({"chilled_from_pct_vol": 35.0}, {"chilled_from_pct_vol": 35.1}),
    "chill-temperature": ({"chilled_from_c": 30.0}, {"chilled_from_c": 30.1}),
    "chill-would-freeze": ({"cold_left_j": 0.0}, {"cold_left_j": 5.0}),
    "carbonation-temperature": ({"co2_temperature_c": 0.0}, {"co2_temperature_c": -0.1}),
    "carbonation-pressure": ({"co2_kpa": 600.0}, {"co2_kpa": 600.1}),
    "carbonation-strength": ({"co2_pct_vol": 20.0}, {"co2_pct_vol": 20.1}),
    "cooking-time": ({"cooking_minutes": 150.0}, {"cooking_minutes": 151.0}),
    # Ends of the CRC freezing tables, mol per kg of water: physical reference, section d.
    **{
        f"freezing-{solute}": ({f"molality_{solute}": highest}, {f"molality_{solute}": highest + 0.01})
        for solute, highest in {
            "ethanol": 14.0,
            "sucrose": 2.2,
            "glucose": 2.5,
            "fructose": 2.2,
            "lactose": 0.3,
            "maltose": 2.5,
            "glycerol": 7.0,
            "citric": 2.2,
            "malic": 1.0,
            "tartaric": 1.0,
            "lactic": 2.5,
            "acetic": 6.0,
            "ascorbic": 1.0,
            "phosphoric": 4.0,
            "succinic": 1.0,
            "nacl": 5.2,
            "minerals": 1.0,
        }.items()
    },
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


@pytest.mark.parametrize(
    "name, number, key",
    [("chilled_from_c", -10.1, "chill-temperature"), ("co2_temperature_c", 30.1, "carbonation-temperature")],
)
def test_both_ends_of_the_ranges_of_ice_and_gas_are_watched(name, number, key):
    assert flags(conditions({name: number}))[key][0]


def test_an_unknown_drink_on_ice_is_not_said_to_be_too_cold():
    unknown = conditions({"chilled_c": np.nan, "chilled_from_c": np.nan})
    assert not flags(unknown)["chill-below-table"][0]


def test_ice_and_gas_are_judged_only_where_they_were_asked_for():
    found = flags(conditions_of(composition_from_label(50.0, liquid()), 40.0))
    assert not [key for key in found if key.startswith(("chill", "carbonation"))]


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
    assert raising == ["brix-with-ethanol", "water-activity-ethanol"]
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


def keeping_conditions(masses, cations_mmol):
    """What a screen would ask for: all conditions of pH, water activity and freezing point."""
    found = ph_and_ionic_strength(masses, cations_mmol)
    return conditions_of(
        masses,
        ph=found.ph,
        ionic_strength_mol_per_l=found.ionic_strength_mol_per_l,
        water_activity=water_activity(masses),
        freezing_point_c=freezing_point_c(masses),
        molalities=molalities(masses),
    )


def raised(masses, cations_mmol, reading):
    """Keys of the ranges of a reading that one liquid leaves."""
    failing = flags(keeping_conditions(masses, cations_mmol), reading)
    return [key for key, failed in failing.items() if failed[0]]


def test_a_cordial_is_inside_every_range_of_keeping():
    cordial = liquid(water=700.0, sucrose=250.0, citric=12.0)
    assert [raised(cordial, 5.0, reading) for reading in ("ph", "water_activity", "freezing_point")] == [
        []
    ] * 3


def test_a_ph_near_the_threshold_asks_to_be_measured():
    # 21 CFR 114.3: 4.6 divides acid from low-acid food.
    vegetable = liquid(water=990.0, citric=2.0)
    assert raised(vegetable, 14.0, "ph") == ["ph-near-4.6"]
    entry = next(entry for entry in RANGES if entry.key == "ph-near-4.6")
    assert entry.severity is Severity.NOTE
    assert entry.words.startswith(UNCERTAIN)


def test_a_syrup_near_the_threshold_asks_to_be_measured():
    # 21 CFR 114.3: water activity 0.85; syrup of 67 % has 0.851.
    assert raised(liquid(water=33.0, sucrose=67.0), 0.0, "water_activity") == ["water-activity-near-0.85"]
    entry = next(entry for entry in RANGES if entry.key == "water-activity-near-0.85")
    assert entry.severity is Severity.NOTE
    assert entry.words.startswith(UNCERTAIN)


def test_milk_and_egg_leave_the_range_of_ph():
    assert "ph-protein" in raised(liquid(water=88.0, lactose=4.8, protein=3.3, citric=0.2), 2.0, "ph")


def test_more_cation_than_known_acid_is_not_believed():
    assert raised(liquid(water=90.0, other_acid=0.1), 5.0, "ph") == ["ph-alkaline"]


def test_a_spirit_has_only_an_indicative_ph():
    assert raised(composition_from_label(40.0, liquid(citric=1.0)), 0.0, "ph") == ["ph-strength"]


def test_brine_leaves_the_range_of_ph():
    assert raised(liquid(water=900.0, nacl=50.0, lactic=10.0), 10.0, "ph") == ["ph-ionic-strength"]


def test_a_syrup_leaves_the_freezing_table_of_its_sugar():
    syrup = liquid(water=40.0, sucrose=60.0)
    assert raised(syrup, 0.0, "freezing_point") == ["freezing-sucrose"]


def test_pure_spirit_has_no_freezing_point_and_says_why():
    spirit = liquid(water=5.0, ethanol=95.0)
    assert np.isnan(freezing_point_c(spirit)[0])
    assert raised(spirit, 0.0, "freezing_point") == ["freezing-below-table", "freezing-ethanol"]


def test_dry_sugar_has_no_value_and_says_why():
    assert raised(liquid(sucrose=10.0), 0.0, "water_activity") == ["no-water"]


def test_every_range_has_a_bit():
    # The engine holds the ranges of a column as bits of one signed number.
    assert len(RANGES) < 63
