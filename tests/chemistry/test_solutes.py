"""The mixing model for any solutes of the tables."""

import numpy as np
import pytest

from washline.chemistry.coefficients import keys, series, word
from washline.chemistry.components import COMPONENTS
from washline.chemistry.solutes import component_table, solute_table, sums_of, volume_of


def volume_ml(temperature_c=20.0, **grams):
    masses = np.array([[mass_g] for mass_g in grams.values()])
    return volume_of(sums_of(solute_table(tuple(grams)), masses), temperature_c).item()


# CRC Handbook 102nd ed. 2021, Concentrative Properties of Aqueous Solutions, g/mL at 20 degC.
@pytest.mark.parametrize(
    "solute, percent, density",
    [
        ("kcl", 10, 1.0633),
        ("kcl", 20, 1.1328),
        ("nahco3", 4, 1.0266),
        ("k2co3", 10, 1.0904),
        ("k2co3", 24, 1.2320),
        ("trisodium_citrate_2h2o", 10, 1.0708),
        ("trisodium_citrate_2h2o", 20, 1.1492),
        ("mannitol", 10, 1.0338),
    ],
)
def test_a_salt_solution_has_the_density_of_the_handbook(solute, percent, density):
    volume = volume_ml(**{"water": 100.0 - percent, solute: percent})
    assert 100.0 / volume == pytest.approx(density, abs=0.0008)


@pytest.mark.parametrize("solute", keys("phi"))
def test_a_trace_of_a_solute_takes_its_apparent_volume(solute):
    change = volume_ml(**{"water": 1000.0, solute: 1e-3}) - volume_ml(water=1000.0)
    assert change / 1e-3 == pytest.approx(series("phi", solute)[0], abs=1e-4)


@pytest.mark.parametrize("solute", [key for key in keys("phi") if word("solute_class", key) == "e"])
def test_salts_do_not_swell_of_themselves_when_warmed(solute):
    with_salt = volume_ml(30.0, **{"water": 1000.0, solute: 10.0}) - volume_ml(30.0, water=1000.0)
    cold = volume_ml(20.0, **{"water": 1000.0, solute: 10.0}) - volume_ml(20.0, water=1000.0)
    assert with_salt == pytest.approx(cold, abs=1e-9)


def test_fat_swells_by_eight_parts_in_ten_thousand_of_a_millilitre():
    # Physical reference, section c: +0.0008 mL/g per K; 0.917 g/mL at 20 degC.
    assert volume_ml(fat=100.0) == pytest.approx(100 / 0.917, abs=0.1)
    assert volume_ml(30.0, fat=100.0) - volume_ml(20.0, fat=100.0) == pytest.approx(0.8, abs=1e-9)


def test_fat_and_pulp_do_not_crowd_what_is_dissolved():
    # z counts only what is dissolved, so a suspended gram adds its own volume and nothing else.
    syrup = {"water": 50.0, "sucrose": 50.0}
    alone = volume_ml(**syrup)
    assert volume_ml(**syrup, insoluble=10.0) == pytest.approx(alone + 6.5, abs=1e-9)


def test_the_components_stand_in_their_order():
    table = component_table()
    assert table.weights.shape == (12, len(COMPONENTS))
    sums = sums_of(table, np.eye(len(COMPONENTS)))
    assert [COMPONENTS[i] for i in np.flatnonzero(sums.solvent_g)] == ["water", "ethanol"]
    assert [COMPONENTS[i] for i in np.flatnonzero(sums.salt_g)] == ["nacl"]
    assert [COMPONENTS[i] for i in np.flatnonzero(sums.suspended_volume)] == ["fat", "insoluble"]
    assert [COMPONENTS[i] for i in np.flatnonzero(sums.total_g == 0.0)] == ["co2"]


def test_an_unknown_solute_is_an_error():
    with pytest.raises(KeyError):
        solute_table(("water", "unobtainium"))
