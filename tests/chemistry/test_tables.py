"""The tables of constants: unchanged, complete, and read by their names."""

import hashlib
import math
import re

import pytest

from washline.assets import resource
from washline.chemistry.coefficients import TABLES, keys, series, table, value, word
from washline.chemistry.components import TABLE


def stated_checksums():
    text = resource("tables", "README.md").read_text(encoding="utf-8")
    return dict(re.findall(r"^\| `(\w+\.csv)` .*`([0-9a-f]{64})` \|$", text, re.MULTILINE))


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_as_its_readme_says(name):
    assert stated_checksums()[name] == hashlib.sha256(resource("tables", name).read_bytes()).hexdigest()


def test_no_constant_stands_twice():
    for place, rows in table().items():
        indices = [row.index for row in rows]
        assert len(set(indices)) == len(indices), place


def test_every_constant_has_a_source_and_a_finite_value():
    for (group, _), rows in table().items():
        for row in rows:
            assert row.source
            assert group == "solute_class" or math.isfinite(float(row.value))


@pytest.mark.parametrize(
    "group, key, coefficients",
    [
        # OIML R 22 (1975), general formula: from memory of the printed table, digit by digit.
        (
            "oiml_B",
            "B",
            (-2.0618513e-1, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.169354e-9, -9.9739231e-11),
        ),
        (
            "oiml_C",
            "C1",
            (
                1.693443461530087e-1,
                -1.046914743455169e1,
                7.196353469546523e1,
                -7.047478054272792e2,
                3.924090430035045e3,
                -1.210164659068747e4,
                2.248646550400788e4,
                -2.605562982188164e4,
                1.852373922069467e4,
                -7.420201433430137e3,
                1.285617841998974e3,
            ),
        ),
        # Kell 1975, equation 16.
        (
            "water_kell",
            "num",
            (999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12),
        ),
    ],
)
def test_a_series_has_the_published_coefficients(group, key, coefficients):
    assert series(group, key) == pytest.approx(coefficients, rel=1e-12)


@pytest.mark.parametrize("power, count", [(1, 11), (2, 10), (3, 9), (4, 4), (5, 2)])
def test_the_cross_terms_of_the_alcohol_formula_are_all_there(power, count):
    # OIML R 22 (1975): 12 + 6 + 11 + 10 + 9 + 4 + 2 = 54 coefficients.
    assert len(series("oiml_C", f"C{power}")) == count
    assert len(series("oiml_A", "A")) == 12


def test_every_solute_of_a_component_has_volume_class_and_refraction():
    for component in TABLE:
        if component.solute_key:
            assert len(series("phi", component.solute_key)) == 3
            kind = word("solute_class", component.solute_key)
            assert kind == "i" or len(series("refraction", component.solute_key)) == 3


def test_the_keys_of_a_group_keep_their_order():
    assert keys("energy")[:3] == ("carb", "polyol", "protein")
    assert keys("no such group") == ()


def test_an_unknown_constant_is_an_error():
    with pytest.raises(KeyError):
        value("energy", "carb", "BTU/lb")
    with pytest.raises(KeyError):
        series("phi", "unobtainium")


def test_what_is_from_memory_says_so():
    assert table()["dilution", "shaken"][0].from_memory
    assert not table()["oiml_A", "A"][0].from_memory
