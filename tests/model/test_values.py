"""Small values of the model: amounts, targets, readings, items."""

import msgspec
import pytest

from tests.document.house import LIME, PEAR, SODA, house
from washline.model.amount import Amount, Basis, grams, millilitres
from washline.model.change import Row
from washline.model.item import UNKNOWN, RawIngredient
from washline.model.reading import BY_KEY, READING_INDEX, READING_KEYS, READINGS
from washline.model.target import Aim, Target

HOUSE = house()
ROWS = [
    HOUSE.settings,
    *HOUSE.raws.values(),
    *HOUSE.leftovers.values(),
    *HOUSE.targets.values(),
    *HOUSE.glasses.values(),
    *HOUSE.methods.values(),
    *HOUSE.measures.values(),
    *HOUSE.builds.values(),
    *(step for build in HOUSE.builds.values() for step in build.steps),
]


def test_plain_amounts_are_absolute() -> None:
    assert grams(5.0) == Amount(5.0, "g", Basis.ABSOLUTE, (), "")
    assert millilitres(22.5).unit == "ml"


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{type(row).__name__} {getattr(row, 'id', '')}")
def test_any_row_survives_being_written_down(row: object) -> None:
    assert msgspec.json.decode(msgspec.json.encode(row), type=Row) == row


def test_axes_and_gates_of_a_target_keep_their_order() -> None:
    aims = (
        Aim("strength", 1.0, 2.0, 3.0),
        Aim("ethanol", 0.0, 0.0, 1.0, is_gate=True),
        Aim("acidity", 0.1, 0.2, 0.3),
    )
    target = Target(id=1, name="sour", aims=aims)
    assert [aim.reading for aim in target.axes] == ["strength", "acidity"]
    assert [aim.reading for aim in target.gates] == ["ethanol"]


def test_an_ingredient_nobody_has_read_the_label_of_has_unknown_allergens() -> None:
    raw = RawIngredient(id=1, slug="x", name="x", composition=(None,) * 24)
    assert raw.allergens == (UNKNOWN,)


def test_liquids_are_poured_and_fruit_is_not() -> None:
    assert [HOUSE.raws[key].is_poured for key in (LIME, SODA, PEAR)] == [True, True, False]


def test_readings_are_found_by_key_and_by_place() -> None:
    assert len(set(READING_KEYS)) == len(READINGS)
    assert all(READINGS[READING_INDEX[key]] is BY_KEY[key] for key in READING_KEYS)
