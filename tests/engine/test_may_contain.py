"""What may get in without being an ingredient: by items, by shared places, and never what is contained anyway."""

from dataclasses import replace

from msgspec import structs

from tests.engine.kitchen import CORDIAL, EGG, LEMON, SOUR, SPENT, SPIRIT, TEA, WATER, Vessel, house, pantry
from washline.engine.contents import Contents, Handling, contents
from washline.model.book import HouseBook
from washline.model.house import Method, MethodKind, Shared
from washline.model.item import BuildKind, KeptAt, Leftover

PART = 101


def shared(book: HouseBook, *places: Shared) -> HouseBook:
    return book.with_settings(structs.replace(book.settings, shared=places))


def ways(found: Contents, key: str) -> tuple[Handling, ...]:
    return dict(found.may_contain).get(key, ())


def drink_of(*lines: int) -> HouseBook:
    vessel = Vessel(SOUR)
    for item_id in lines:
        vessel.add(item_id, 20.0)
    return pantry().with_build(vessel.build())


def test_what_an_ingredient_may_contain_rises_through_a_part() -> None:
    book = pantry().with_build(Vessel(PART).add(WATER, 20.0).build(BuildKind.PART))
    book = book.with_build(Vessel(SOUR).add(PART, 5.0).build())
    book = book.with_raw(structs.replace(book.raws[WATER], may_contain=("nuts",)))
    assert contents(book, SOUR).may_contain == (("nuts", (Handling(WATER),)),)


def test_what_a_part_and_its_leftover_may_contain_is_told() -> None:
    part = Vessel(PART).add(WATER, 20.0).strain(expected_pct=50.0, leftover_id=102).build(BuildKind.PART)
    book = pantry().with_build(structs.replace(part, may_contain=("soy",)))
    book = book.with_leftover(Leftover(id=102, build_id=PART, name="cake", may_contain=("lupin",)))
    book = book.with_build(Vessel(SOUR).add(PART, 5.0).add(102, 5.0).build())
    found = contents(book, SOUR)
    assert ways(found, "soy") == (Handling(PART),)
    assert ways(found, "lupin") == (Handling(102),)


def test_a_leftover_that_is_not_poured_adds_nothing_of_its_own() -> None:
    part = Vessel(PART).add(WATER, 20.0).strain(expected_pct=50.0, leftover_id=102).build(BuildKind.PART)
    book = pantry().with_build(part)
    book = book.with_leftover(Leftover(id=102, build_id=PART, name="cake", may_contain=("lupin",)))
    book = book.with_build(Vessel(SOUR).add(PART, 5.0).build())
    assert contents(book, SOUR).may_contain == ()


def test_what_is_contained_is_not_told_again_as_something_that_may_get_in() -> None:
    book = shared(drink_of(EGG), Shared("room", ("eggs", "milk")))
    found = contents(book, SOUR)
    assert found.allergens == (("eggs", (EGG,)),)
    assert [key for key, _ways in found.may_contain] == ["milk"]


def test_what_the_house_added_is_not_told_again_either() -> None:
    book = shared(drink_of(WATER), Shared("room", ("milk",)))
    book = book.with_build(structs.replace(book.builds[SOUR], added_allergens=("milk",)))
    assert contents(book, SOUR).may_contain == ()


def test_a_shared_fridge_holds_for_what_is_kept_in_it_only() -> None:
    book = shared(drink_of(WATER, LEMON), Shared("fridge", ("milk",)))
    assert ways(contents(book, SOUR), "milk") == (Handling(LEMON, "fridge"),)
    assert contents(shared(drink_of(WATER), Shared("fridge", ("milk",))), SOUR).may_contain == ()


def test_a_shared_freezer_holds_for_a_part_and_for_a_batch_that_is_frozen() -> None:
    part = structs.replace(Vessel(PART).add(WATER, 20.0).build(BuildKind.PART), kept_at=KeptAt.FREEZER)
    book = shared(pantry().with_build(part), Shared("freezer", ("fish",)))
    book = book.with_build(Vessel(SOUR).add(PART, 5.0).build())
    assert ways(contents(book, SOUR), "fish") == (Handling(PART, "freezer"),)
    frozen = shared(pantry(), Shared("freezer", ("fish",)))
    frozen = frozen.with_build(Vessel(SOUR).add(SPIRIT, 45.0).chill("freezer-batch").build())
    assert ways(contents(frozen, SOUR), "fish") == (Handling(SOUR, "freezer"),)


def test_a_shared_oven_holds_for_what_is_dried_or_heated() -> None:
    book = shared(pantry(), Shared("oven", ("gluten",)))
    dried = Vessel(PART).add(WATER, 20.0).dry(final_pct=50.0).build(BuildKind.PART)
    book = book.with_build(dried).with_build(Vessel(SOUR).add(PART, 5.0).build())
    assert ways(contents(book, SOUR), "gluten") == (Handling(PART, "oven"),)
    plain = shared(drink_of(WATER), Shared("oven", ("gluten",)))
    assert contents(plain, SOUR).may_contain == ()


def test_shared_tins_hold_for_what_is_shaken_thrown_or_stirred_and_not_for_what_is_built() -> None:
    for method in ("shake", "dry-shake", "throw", "stir", "whip-shake"):
        book = shared(pantry(), Shared("tins", ("eggs",)))
        book = book.with_build(Vessel(SOUR).add(SPIRIT, 45.0).chill(method).build())
        assert ways(contents(book, SOUR), "eggs") == (Handling(SOUR, "tins"),), method
    book = shared(pantry(), Shared("tins", ("eggs",)))
    book = book.with_build(Vessel(SOUR).add(SPIRIT, 45.0).chill("build").build())
    assert contents(book, SOUR).may_contain == ()


def test_an_item_that_acts_as_a_raw_ingredient_brings_what_that_one_brings() -> None:
    book = house()
    book = book.with_build(structs.replace(book.builds[CORDIAL], acts_as_id=EGG))
    assert contents(book, SOUR).allergens == (("eggs", (EGG,)),)
    assert contents(book, SOUR).cautions == (("raw-egg", (EGG,)),)


def test_an_item_that_acts_as_something_unknown_is_unknown() -> None:
    book = house()
    leftover = structs.replace(book.leftovers[SPENT], acts_as_id=TEA)
    book = book.with_leftover(leftover).with_build(Vessel(SOUR).add(SPENT, 5.0).build())
    assert contents(book, SOUR).unknown == (TEA,)


def test_an_item_that_acts_as_something_that_is_gone_has_something_missing() -> None:
    book = house()
    book = book.with_build(structs.replace(book.builds[CORDIAL], acts_as_id=99_999))
    assert contents(book, SOUR).has_missing


def test_what_is_known_not_to_be_vegan_is_named_and_nothing_else_is_claimed() -> None:
    book = drink_of(EGG, WATER)
    book = book.with_raw(structs.replace(book.raws[EGG], vegan="no", vegetarian="yes"))
    found = contents(book, SOUR)
    assert (found.not_vegan, found.not_vegetarian) == ((EGG,), ())


def test_shared_tins_hold_for_a_method_of_the_house_that_whips_or_blends_all_in() -> None:
    book = shared(pantry(), Shared("tins", ("eggs",)))
    froth = Method(
        slug="froth", name="Froth", kind=MethodKind.ALL_IN,
        dilution_low_pct=40.0, dilution_high_pct=60.0, end_low_c=-4.0, end_high_c=0.0,
    )  # fmt: skip
    book = replace(book, methods={**book.methods, "froth": froth})
    book = book.with_build(Vessel(SOUR).add(SPIRIT, 50.0).chill("froth").build())
    assert ways(contents(book, SOUR), "eggs") == (Handling(SOUR, "tins"),)
