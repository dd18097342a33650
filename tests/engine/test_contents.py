"""Allergens, unknowns and cautions travel with the lines, through every part, and no step takes them out."""

from msgspec import structs

from tests.engine.kitchen import CORDIAL, EGG, LEMON, PEAR, SOUR, TEA, WATER, Vessel, cordial, house, pantry
from washline.engine.contents import contents
from washline.model.item import BuildKind


def test_an_allergen_and_a_caution_reach_the_drink() -> None:
    book = pantry().with_build(Vessel(1001).add(EGG, 20.0).add(LEMON, 20.0).build())
    found = contents(book, 1001)
    assert found.allergens == (("eggs", (EGG,)),)
    assert found.cautions == (("raw-egg", (EGG,)),)


def test_what_was_strained_off_still_counts() -> None:
    part = (
        Vessel(101)
        .add(EGG, 20.0)
        .add(WATER, 500.0)
        .strain(weighed_g=400.0, leftover_id=102)
        .build(BuildKind.PART)
    )
    book = pantry().with_build(part).with_build(Vessel(1001).add(101, 20.0).build())
    assert contents(book, 1001).allergens == (("eggs", (EGG,)),)


def test_unknown_rises_through_a_part_into_the_drink() -> None:
    book = house().with_build(Vessel(CORDIAL).add(PEAR, 10.0).add(TEA, 1.0).build(BuildKind.PART))
    assert contents(book, SOUR).unknown == (TEA,)
    assert contents(book, SOUR).allergens == ()


def test_a_step_left_out_brings_nothing() -> None:
    book = pantry().with_build(Vessel(1001).add(EGG, 20.0, left_out=True).build())
    assert contents(book, 1001).allergens == ()


def test_a_garnish_brings_its_allergens() -> None:
    book = pantry().with_build(Vessel(1001).add(WATER, 20.0).garnish(EGG, 1.0).build())
    assert contents(book, 1001).allergens == (("eggs", (EGG,)),)


def test_a_house_may_add_an_allergen_to_a_part_and_the_drink_shows_it() -> None:
    book = house().with_build(structs.replace(cordial(), added_allergens=("nuts",)))
    assert contents(book, SOUR).added == ("nuts",)


def test_a_raw_ingredient_shows_its_own() -> None:
    assert contents(pantry(), TEA).unknown == (TEA,)
