"""Molalities, and the one table of what each component counts as."""

import numpy as np
import pytest

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.components import COMPONENTS
from washline.chemistry.molality import SOLUTES, STANDS_FOR, molalities

WITHOUT_MOLECULES = {"water", "protein", "fat", "fibre", "insoluble", "co2"}


def molality_of(solute, **grams):
    return molalities(liquid(**grams))[SOLUTES.index(solute)].item()


def test_every_component_counts_once_or_not_at_all():
    counted = [component for components in STANDS_FOR.values() for component in components]
    assert sorted(counted) == sorted(set(COMPONENTS) - WITHOUT_MOLECULES)


@pytest.mark.parametrize(
    "solute, component, grams",
    [
        ("sucrose", "sucrose", 342.30),
        ("glucose", "glucose", 180.16),
        ("ethanol", "ethanol", 46.07),
        ("nacl", "nacl", 58.44),
        ("maltose", "other_carbohydrate", 342.30),
        ("glycerol", "polyol", 92.09),
        ("succinic", "other_acid", 118.09),
    ],
)
def test_a_mole_in_a_kilogram_of_water_is_one_molal(solute, component, grams):
    # Standard atomic masses.
    assert molality_of(solute, water=1000.0, **{component: grams}) == pytest.approx(1.0, rel=1e-4)


def test_minerals_count_as_the_potassium_of_their_ash():
    # Orange juice, from memory: 0.40 g of ash and 200 mg of potassium (5.1 mmol) in 100 g.
    assert molality_of("minerals", water=1000.0, other_solids=4.0) == pytest.approx(0.052, abs=0.002)


def test_dextrins_and_maltose_are_counted_together():
    both = molality_of("maltose", water=1000.0, maltose=34.23, other_carbohydrate=34.23)
    assert both == pytest.approx(0.2, rel=1e-4)


def test_protein_and_fat_have_too_few_molecules_to_count():
    assert molalities(liquid(water=100.0, protein=5.0, fat=5.0, co2=1.0)).max() == 0.0


def test_without_water_there_is_no_molality():
    found = molalities(columns(liquid(sucrose=5.0), liquid(water=1.0)))
    assert np.isnan(found[:, 0]).all()
    assert found[:, 1].tolist() == [0.0] * len(SOLUTES)
