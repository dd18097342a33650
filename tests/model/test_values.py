"""Small values of the model: amounts, targets, readings, items."""

from typing import get_args

import msgspec
import pytest
from msgspec import structs

from tests.document.house import LIME, PEAR, SODA, house
from tests.exchange import every_kind
from washline.model.amount import Amount, Basis, Heft, grams, millilitres
from washline.model.house import JointCost, Settings, Shared
from washline.model.item import UNKNOWN, RawIngredient, Today
from washline.model.reading import BY_KEY, READING_INDEX, READING_KEYS, READINGS
from washline.model.step import AnyStep, items_of
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
    *every_kind.house().makings.values(),
    *every_kind.house().builds.values(),
    *every_kind.brew_steps(),
    Settings(shared=(Shared("tins", ("milk",)),), joint_cost=JointCost.MASS),
    structs.replace(HOUSE.raws[PEAR], today=Today(-5.0, 10.0, "2026-11-22T02:00", "tasted")),
]


def test_plain_amounts_are_absolute() -> None:
    assert grams(5.0) == Amount(5.0, "g", Basis.ABSOLUTE, (), "")
    assert millilitres(22.5).unit == "ml"


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{type(row).__name__} {getattr(row, 'id', '')}")
def test_any_row_survives_being_written_down(row: object) -> None:
    assert msgspec.json.decode(msgspec.json.encode(row), type=type(row)) == row


@pytest.mark.parametrize(
    "step",
    (*every_kind.brew_steps(), *every_kind.bar_steps()),
    ids=lambda step: f"{type(step).__name__} {step.id}",
)
def test_a_step_is_told_from_all_others_when_it_is_read_again(step: AnyStep) -> None:
    assert msgspec.json.decode(msgspec.json.encode(step), type=AnyStep) == step


def test_a_row_written_before_there_were_new_fields_has_their_usual_values() -> None:
    text = b'{"type":"add","id":1,"build_id":2,"place":1.0,"item_id":3,"amount":{"number":5.0,"unit":"g"}}'
    step = msgspec.json.decode(text, type=AnyStep)
    assert (step.weight, step.bought_g) == ("used", None)
    assert step.amount.heft is Heft.EVEN
    chill = msgspec.json.decode(
        b'{"type":"chill","id":1,"build_id":2,"place":1.0,"method":"stir","melted_g":18.0}', type=AnyStep
    )
    assert (chill.melted_g, chill.ice_state, chill.by, chill.end_c) == (18.0, "usual", "usual", None)


def test_lines_take_in_one_item_adjustments_several_and_other_steps_none() -> None:
    taken = {step.id: items_of(step) for step in every_kind.brew_steps() if items_of(step)}
    assert taken == {81: (1,), 83: (1,), 88: (1, 41), 89: (1,)}
    assert {type(step) for step in every_kind.brew_steps()} < set(get_args(AnyStep))


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
