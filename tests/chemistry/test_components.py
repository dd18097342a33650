"""The fixed order of the components and their groups."""

from washline.chemistry import components
from washline.chemistry.components import (
    ACIDS,
    COMPONENT_COUNT,
    COMPONENTS,
    DISSOLVED,
    SUGARS,
    SUSPENDED,
    TABLE,
    indicator,
)


def test_the_order_is_the_documented_one():
    assert " ".join(COMPONENTS) == (
        "water ethanol sucrose glucose fructose lactose maltose other_carbohydrate polyol citric malic tartaric lactic"
        " acetic ascorbic phosphoric other_acid nacl other_solids protein fat fibre insoluble co2"
    )
    assert COMPONENT_COUNT == 24


def test_every_component_has_a_constant_of_its_name():
    for index, key in enumerate(COMPONENTS):
        assert getattr(components, key.upper()) == index


def test_groups_hold_what_their_name_says():
    assert [COMPONENTS[index] for index in SUGARS] == ["sucrose", "glucose", "fructose", "lactose", "maltose"]
    assert len(ACIDS) == 8
    rest = set(range(COMPONENT_COUNT)) - set(DISSOLVED) - set(SUSPENDED)
    assert {COMPONENTS[index] for index in rest} == {"water", "ethanol", "co2"}


def test_pantry_columns_are_named_once():
    columns = [component.pantry_column for component in TABLE]
    assert len(set(columns)) == COMPONENT_COUNT
    assert "salt_NaCl_g_per_100g" in columns
    assert "polyol_glycerol_g_per_100g" in columns


def test_a_row_of_weights_cannot_be_changed_by_its_user():
    assert not indicator(SUGARS).flags.writeable
    assert indicator(SUGARS).tolist().count(1.0) == 5
