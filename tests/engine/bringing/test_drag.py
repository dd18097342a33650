"""A dragged vertex: the reading comes to the value by the least change, held readings and lines hold."""

from collections.abc import Mapping
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.engine.bringing.kit import DRINKS, columns, drink, line, only, poured, ready, request
from washline.engine.bringing.drag import drag, reach
from washline.engine.bringing.quick import quick_reading
from washline.engine.bringing.request import Dragged, Limit
from washline.model.amount import Amount
from washline.model.item import Build
from washline.model.reading import BY_KEY, READING_INDEX, READING_KEYS
from washline.model.step import Add, Top

UNMOVED = {("Orchard Bell", "strength"), ("Quince Ferry", "length")}
"""No alcohol in one, and the other is topped to its wash line."""


def _dragged(build: Build, reading: str, value: float, **fields: object) -> Dragged:
    book, workings = ready(build)
    return drag(book, request(build, **fields), reading, value, workings)


def _now(build: Build, key: str) -> float:
    value = ready(build)[1].result_now(build.id).value(key)
    assert value is not None
    return value


def _with(build: Build, amounts: Mapping[int, Amount]) -> Build:
    return structs.replace(
        build,
        steps=tuple(
            structs.replace(step, amount=amounts[step.id])
            if isinstance(step, Add | Top) and step.id in amounts
            else step
            for step in build.steps
        ),
    )


MOVED = sorted(set(product(DRINKS, ("strength", "sweetness", "acidity", "length"))) - UNMOVED)


@pytest.mark.parametrize("name, key", MOVED)
def test_a_reading_comes_to_where_it_is_dragged(name: str, key: str) -> None:
    build = drink(name)
    for factor in (0.93, 1.05):
        value = _now(build, key) * factor
        assert _dragged(build, key, value).value(key) == pytest.approx(value, abs=0.02 * BY_KEY[key].step)


@pytest.mark.parametrize("name, key", sorted(UNMOVED))
def test_what_no_line_moves_stays_where_it_is(name: str, key: str) -> None:
    build = drink(name)
    dragged = _dragged(build, key, _now(build, key) + 2.0)
    assert dragged.value(key) == pytest.approx(_now(build, key))
    assert dragged.amounts == {}


@pytest.mark.parametrize("name", ["Sloe Tide", "Beet Lantern", "Drift", "Ebb"])
def test_volume_and_strength_hold_while_acidity_is_dragged(name: str) -> None:
    build = drink(name)
    length, strength = _now(build, "length"), _now(build, "strength")
    value = _now(build, "acidity") * 1.1
    dragged = _dragged(
        build, "acidity", value, hold={"length": (length, length), "strength": (strength, strength)}
    )
    assert dragged.value("acidity") == pytest.approx(value, abs=0.002)
    assert dragged.value("length") == pytest.approx(length, abs=0.05)
    assert dragged.value("strength") == pytest.approx(strength, abs=0.02)


def test_a_held_range_is_not_left() -> None:
    build = drink("Sloe Tide")
    length = _now(build, "length")
    free = _dragged(build, "strength", 17.0)
    assert (free.value("length") or 0.0) > length + 5.0
    bound = _dragged(build, "strength", 17.0, hold={"length": (length - 2.0, length + 2.0)})
    assert bound.value("length") == pytest.approx(length + 2.0, abs=0.05)
    assert bound.value("strength") == pytest.approx(17.0, abs=0.02)


def test_the_dragged_reading_is_not_held_against_itself() -> None:
    build = drink("Sloe Tide")
    now = _now(build, "acidity")
    assert _dragged(build, "acidity", 0.8, hold={"acidity": (now, now)}).value("acidity") == pytest.approx(
        0.8, abs=0.002
    )


@pytest.mark.parametrize("name", DRINKS)
def test_its_values_are_those_of_the_drink_at_its_amounts_to_the_bit(name: str) -> None:
    build = drink(name)
    dragged = _dragged(build, "sweetness", _now(build, "sweetness") * 1.1)
    values = ready(_with(build, dragged.amounts))[1].result_now(build.id).values
    assert dragged.values.tobytes() == values.tobytes()


def test_it_is_the_least_change_that_does_it() -> None:
    build = drink("Beet Lantern")
    asked = request(build, held=only(build, "Aquavit", "rosehip", "lemon juice"))
    book, workings = ready(build)
    dragged = drag(book, asked, "sweetness", 8.5, workings)
    on = columns(build, asked)
    now = np.array([pour.before.number for pour in on.pours])

    def change(numbers: np.ndarray) -> float:
        return float(np.add.accumulate(((numbers - now) / on.scales) ** 2)[-1])

    found = np.array([dragged.amounts[pour.step_id].number for pour in on.pours])
    random = np.random.default_rng(4)
    near = found[:, None] * random.normal(1.0, 0.05, (3, 4000))
    sweetness = on.figures(near).values[READING_INDEX["sweetness"]]
    as_sweet = near[:, np.abs(sweetness - 8.5) < 0.01]
    assert as_sweet.shape[1] > 20
    assert change(found) <= min(change(column) for column in as_sweet.T) * 1.02


@settings(max_examples=15)
@given(st.data())
def test_held_lines_never_move_and_limits_are_kept(data: st.DataObject) -> None:
    build = drink(data.draw(st.sampled_from(DRINKS)))
    lines = [step for step in build.steps if isinstance(step, Add | Top)]
    held = frozenset(step.id for step in lines if data.draw(st.booleans()))
    limits = {step.id: Limit(step.amount.number * 0.8, step.amount.number * 1.2) for step in lines}
    key = data.draw(st.sampled_from(["strength", "sweetness", "acidity", "length", "chill", "salt"]))
    value = _now(build, key) * data.draw(st.floats(0.2, 3.0))
    dragged = _dragged(build, key, value, held=held, limits=limits)
    for step_id, amount in dragged.amounts.items():
        before = next(step.amount.number for step in lines if step.id == step_id)
        assert step_id not in held
        assert before * 0.8 - 1e-6 <= amount.number <= before * 1.2 + 1e-6


def test_dashes_and_drops_go_in_whole_ones() -> None:
    build = drink("Orchard Bell")
    dragged = _dragged(build, "salt", 0.055)
    saline = dragged.amounts[line(build, "saline").id]
    assert saline.unit == "drop"
    assert saline.number == int(saline.number)
    assert dragged.value("salt") == pytest.approx(0.055, abs=0.001)


def test_the_way_that_the_mouse_went_makes_no_difference() -> None:
    build = drink("Sloe Tide")
    book, workings = ready(build)
    asked = request(build)
    alone = drag(book, asked, "acidity", 0.85, workings)
    for value in (0.7, 0.9, 1.2, 0.5):
        drag(book, asked, "acidity", value, workings)
    after = drag(book, asked, "acidity", 0.85, workings)
    assert alone.values.tobytes() == after.values.tobytes()
    assert alone.amounts == after.amounts


def test_with_every_line_held_the_drink_comes_back_as_it_is() -> None:
    build = drink("Sloe Tide")
    dragged = _dragged(build, "acidity", 1.0, held=frozenset(step.id for step in build.steps))
    assert dragged.amounts == {}
    assert dragged.values.tobytes() == ready(build)[1].result_now(build.id).values.tobytes()


def test_what_has_no_liquid_has_no_value_and_does_not_move() -> None:
    names = ("Dry gin", "Sloe gin", "lemon juice", "peel sugar", "Egg white")
    build = poured(drink("Sloe Tide"), dict.fromkeys(names, 0.0))
    dragged = _dragged(build, "acidity", 1.0)
    assert (dragged.amounts, dragged.value("acidity")) == ({}, None)


def test_as_far_as_it_reaches_it_follows_and_no_farther() -> None:
    build = drink("Sloe Tide")
    book, workings = ready(build)
    asked = request(build)
    ends = reach(book, asked, "acidity", workings)
    assert ends is not None
    assert ends[0] < _now(build, "acidity") < ends[1]
    assert _dragged(build, "acidity", ends[1] + 1.0).value("acidity") == pytest.approx(ends[1], abs=0.02)


WITH_GARNISH = ("cost", "energy_kcal", "energy_kj")
"""What sits on the glass counts in these, and not where a state is read by itself."""


@pytest.mark.parametrize("name", DRINKS)
@pytest.mark.parametrize("key", [key for key in READING_KEYS if key not in WITH_GARNISH])
def test_a_quick_reading_is_the_reading_to_the_bit(name: str, key: str) -> None:
    build = drink(name)
    on = columns(build, request(build))
    now = np.array([[pour.before.number] for pour in on.pours])
    whole = np.repeat(now, 5, axis=1) * np.array([1.0, 1.1, 0.9, 0.5, 0.0])
    values = on.figures(whole).values[READING_INDEX[key]]
    assert np.array_equal(quick_reading(on.run(whole), key), values, equal_nan=True)
