"""Every reading unfolds: shares add up to it, differences say that they do not, and the method has a source."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.presentation import small_house
from tests.presentation.demo import build, demo, workings
from washline.engine.workings import Workings
from washline.model.reading import READING_KEYS
from washline.presentation.contributions import ADDITIVE, contributions, differences, unfolded
from washline.presentation.readings import contributions as from_readings

DRINKS = ("Pear Signal", "Pear Signal, bay twist", "Sloe Tide", "Quince Ferry", "Orchard Bell")


@pytest.mark.parametrize("key", ADDITIVE)
@pytest.mark.parametrize("name", DRINKS)
def test_the_shares_of_the_lines_add_up_to_the_reading(name: str, key: str) -> None:
    trace = workings().trace(build(name).id)
    total = trace.result.value(key)
    shares = [line.value for line in contributions(trace, key)]
    assert total is not None
    assert sum(value for value in shares if value is not None) == pytest.approx(total, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("key", ADDITIVE)
def test_they_add_up_in_every_house_made_part_too(key: str) -> None:
    for part in demo().parts():
        trace = workings().trace(part.id)
        total = trace.result.value(key)
        if total is not None:
            shares = [line.value or 0.0 for line in contributions(trace, key)]
            assert sum(shares) == pytest.approx(total, rel=1e-9, abs=1e-9), part.name


def test_the_gin_alone_brings_the_strength_of_a_drink_of_gin_and_soda() -> None:
    # 45 ml at 39 % by mass is one line with ethanol: the whole strength is its share.
    book = small_house.house()
    add = book.builds[small_house.OTHER].steps[0]
    drink = structs.replace(
        book.builds[small_house.OTHER], steps=(structs.replace(add, item_id=small_house.GIN),)
    )
    engine = Workings(book.with_build(drink))
    found = contributions(engine.trace(drink.id), "strength")
    assert [(line.name, line.value) for line in found] == [
        ("dry gin", engine.result_now(drink.id).value("strength"))
    ]


def test_a_garnish_on_the_glass_counts_in_the_cost_and_not_in_the_sweetness() -> None:
    trace = workings().trace(build("Orchard Bell").id)
    assert "malted oat lace" in [line.name for line in contributions(trace, "cost")]
    assert "malted oat lace" not in [line.name for line in contributions(trace, "sweetness")]


def test_a_line_that_is_left_out_brings_nothing() -> None:
    book = demo()
    drink = build("Pear Signal")
    steps = (structs.replace(drink.steps[0], left_out=True), *drink.steps[1:])
    changed = replace(book, builds={**book.builds, drink.id: structs.replace(drink, steps=steps)})
    trace = workings().trace(drink.id, changed)
    assert drink.steps[0].id not in [line.step_id for line in contributions(trace, "cost")]


def test_a_difference_is_what_the_reading_loses_without_the_line() -> None:
    trace = workings().trace(build("Pear Signal").id)
    found = {line.name: line.value for line in differences(workings(), trace, "length")}
    # 60 ml of soda lengthen the drink by about 60 ml: water with water does not contract.
    assert found["Soda water, strongly carbonated"] == pytest.approx(60.0, abs=0.2)


def test_a_line_that_others_are_a_share_of_cannot_be_taken_out() -> None:
    part = build("pear-sorrel cordial")
    trace = workings().trace(part.id)
    values = {line.step_id: line.value for line in differences(workings(), trace, "density")}
    strain = next(step for step in part.steps if type(step).__name__ == "Strain")
    assert values[strain.id] is None


@pytest.mark.parametrize("key", READING_KEYS)
def test_every_reading_unfolds_with_formula_method_error_and_source(key: str) -> None:
    found = unfolded(workings(), workings().trace(build("Pear Signal").id), key)
    assert all((found.definition, found.formula, found.method, found.error, found.source))
    assert found.lines
    assert ("do not add up" in found.note) == (key not in ADDITIVE)


def test_a_drink_without_acid_has_no_ratio_to_take_apart() -> None:
    book = small_house.house()
    add = book.builds[small_house.OTHER].steps[0]
    drink = structs.replace(
        book.builds[small_house.OTHER], steps=(structs.replace(add, item_id=small_house.GIN),)
    )
    engine = Workings(book.with_build(drink))
    assert unfolded(engine, engine.trace(drink.id), "sugar_acid_ratio").lines == ()


def test_another_reading_has_no_shares() -> None:
    with pytest.raises(KeyError):
        contributions(workings().trace(build("Pear Signal").id), "length")


def test_the_readings_hand_out_the_same_function() -> None:
    assert from_readings is contributions
