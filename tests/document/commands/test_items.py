from dataclasses import replace

import pytest

from tests.document.doing import done
from tests.document.house import (
    APERITIF,
    CORDIAL,
    GIN,
    LEATHER,
    LIME,
    SIGNAL,
    SPENT,
    SUGAR,
    TIDE,
    TONIC,
    TOP_ID,
    house,
)
from washline.chemistry.components import COMPONENTS
from washline.document.commands.adopting import adopt
from washline.document.commands.command import Refusal, in_turn
from washline.document.commands.house import (
    put_glass,
    put_measure,
    put_method,
    remove_glass,
    remove_method,
    set_settings,
)
from washline.document.commands.items import new_drink, new_part, remove_item, rename, set_build
from washline.document.commands.raws import add_price, new_raw, remove_price, set_component, set_raw
from washline.document.references import uses
from washline.model.house import Glass, Measure, Method
from washline.model.item import UNKNOWN, BuildKind, Price, Sign

HOUSE = house()


def test_a_new_drink_and_a_new_part_are_empty_and_differ_in_their_end() -> None:
    book = done(HOUSE, in_turn(new_drink("Ebb", glass="rocks"), new_part("bay tincture", house_days=365)))
    drink, part = book.builds[TOP_ID + 1], book.builds[TOP_ID + 2]
    assert (drink.kind, drink.name, drink.glass, drink.steps) == (BuildKind.DRINK, "Ebb", "rocks", ())
    assert (part.kind, part.name, part.house_days) == (BuildKind.PART, "bay tincture", 365)


@pytest.mark.parametrize("name", ["", "   ", "\n"])
def test_a_name_is_needed(name: str) -> None:
    for command in (new_drink(name), new_part(name), new_raw(name), rename(SIGNAL, name)):
        with pytest.raises(Refusal, match="A name is missing"):
            done(HOUSE, command)


def test_a_name_of_any_length_and_script_is_taken() -> None:
    name = "Überlanger Birnensaft mit Sauerampfer — " * 4
    assert done(HOUSE, rename(SIGNAL, name)).builds[SIGNAL].name == name.strip()


def test_a_pasted_novel_is_refused() -> None:
    with pytest.raises(Refusal, match="at most 10,000 are kept"):
        done(HOUSE, set_build(SIGNAL, note="x" * 10_001))


@pytest.mark.parametrize("item_id", [GIN, CORDIAL, SPENT])
def test_any_item_is_renamed(item_id: int) -> None:
    item = done(HOUSE, rename(item_id, "  another   name ")).item(item_id)
    assert item is not None
    assert item.name == "another name"


def test_a_drink_has_its_glass_ice_words_and_signs_set() -> None:
    command = set_build(
        TIDE, glass="rocks", ice_g=0.0, tastes_like="sharp, then round", if_off=(Sign("flat", "more lime"),)
    )
    drink = done(HOUSE, command).builds[TIDE]
    assert (drink.glass, drink.ice_g, drink.tastes_like) == ("rocks", 0.0, "sharp, then round")
    assert drink.if_off == (Sign("flat", "more lime"),)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"glass": "boot"}, "The glass of Sloe Tide is not in the house book"),
        ({"target_id": 999}, "The target of Sloe Tide is not in the house book"),
        ({"wash_line_ml": -1.0}, "The wash line in ml must be a number from 0"),
        ({"bitterness": 11.0}, "Bitterness on the house scale must be a number from 0 to 10"),
    ],
)
def test_what_a_drink_cannot_have_is_refused(fields: dict[str, object], words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_build(TIDE, **fields))


@pytest.mark.parametrize("field", ["id", "kind", "steps", "parent_id", "colour"])
def test_what_has_a_command_of_its_own_is_not_set_by_name(field: str) -> None:
    with pytest.raises(TypeError, match=field):
        set_build(TIDE, **{field: None})(HOUSE)


def test_an_item_in_use_is_not_removed_and_every_user_is_named() -> None:
    with pytest.raises(Refusal) as refused:
        done(HOUSE, remove_item(GIN))
    assert refused.value.what == "dry gin cannot be removed."
    assert refused.value.cause == "dry gin is used in Pear Signal and Sloe Tide."


def test_a_part_is_kept_for_what_is_made_of_its_leftover() -> None:
    with pytest.raises(
        Refusal, match=r"pear cordial and spent pear is used in pear leather, Pear Signal and Sloe Tide"
    ):
        done(HOUSE, remove_item(CORDIAL))


def test_an_unused_part_is_removed_with_its_leftovers() -> None:
    book = done(HOUSE, in_turn(remove_item(SIGNAL), remove_item(TIDE), remove_item(LEATHER)))
    book = done(book, remove_item(CORDIAL))
    assert not book.builds
    assert not book.leftovers


def test_an_unused_raw_ingredient_is_removed() -> None:
    assert TONIC not in done(HOUSE, remove_item(TONIC)).raws


def test_a_leftover_is_not_removed_by_itself() -> None:
    with pytest.raises(Refusal, match="It is what a step of pear cordial leaves over"):
        done(HOUSE, remove_item(SPENT))


def test_uses_count_each_build_with_its_lines() -> None:
    assert [(use.build_id, use.step_ids) for use in uses(HOUSE, CORDIAL)] == [(SIGNAL, (51,)), (TIDE, (61,))]


def test_of_a_new_raw_ingredient_nothing_is_known() -> None:
    raw = done(HOUSE, new_raw("Crème de mûre", strength_pct_vol=16.0)).raws[TOP_ID + 1]
    assert raw.slug == "creme-de-mure"
    assert raw.composition == (None,) * len(COMPONENTS)
    assert raw.allergens == (UNKNOWN,)
    assert raw.strength_pct_vol == 16.0


def test_slugs_of_raw_ingredients_stay_unique() -> None:
    book = done(HOUSE, in_turn(new_raw("dry gin"), new_raw("Dry  Gin"), new_raw("梅酒")))
    assert [book.raws[TOP_ID + n].slug for n in (1, 2, 3)] == ["dry-gin-2", "dry-gin-3", "ingredient"]


def test_one_component_is_set_or_made_unknown() -> None:
    index = COMPONENTS.index("citric")
    assert done(HOUSE, set_component(LIME, "citric", 5.5)).raws[LIME].composition[index] == 5.5
    assert done(HOUSE, set_component(LIME, "citric", None)).raws[LIME].composition[index] is None
    assert done(HOUSE, set_component(LIME, "citric", 0.0)).raws[LIME].composition[index] == 0.0
    with pytest.raises(KeyError, match="sour"):
        set_component(LIME, "sour", 1.0)


@pytest.mark.parametrize(
    ("grams", "words"),
    [
        (-0.1, "A component of lime juice in g per 100 g must be a number from 0"),
        (float("nan"), "A component of lime juice"),
        (30.0, "The components of lime juice add up to 124.0 g in 100 g"),
    ],
)
def test_a_composition_that_cannot_be_is_refused(grams: float, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_component(LIME, "citric", grams))


def test_fields_of_a_raw_ingredient_are_set_and_checked() -> None:
    assert done(HOUSE, set_raw(LIME, allergens=("sulphites",))).raws[LIME].allergens == ("sulphites",)
    with pytest.raises(Refusal, match="The density in g/ml"):
        done(HOUSE, set_raw(LIME, density_g_per_ml=-1.0))
    with pytest.raises(Refusal, match="This raw ingredient is no longer"):
        done(HOUSE, set_raw(999, note=""))


def test_prices_are_noted_and_removed() -> None:
    price = Price(24.0, "l", "2026-11-20")
    book = done(HOUSE, add_price(GIN, price))
    assert book.raws[GIN].prices[-1] == price
    assert done(book, remove_price(GIN, 1)) == HOUSE
    with pytest.raises(Refusal, match="no longer there"):
        done(HOUSE, remove_price(GIN, 1))
    with pytest.raises(Refusal, match="The price must be a number from 0"):
        done(HOUSE, add_price(GIN, Price(-1.0, "l", "2026-11-20")))


def test_how_a_house_counts_is_set_and_checked() -> None:
    assert done(HOUSE, set_settings(oz_ml=29.5735)).settings.oz_ml == 29.5735
    with pytest.raises(Refusal, match="An ounce in ml must be a number from 1 to 100"):
        done(HOUSE, set_settings(oz_ml=0.0))
    with pytest.raises(TypeError):
        done(HOUSE, set_settings(colour="red"))


def test_glasses_methods_and_measures_are_put_in_and_checked() -> None:
    swizzle = Method(
        slug="swizzle",
        name="Swizzle",
        dilution_low_pct=30.0,
        dilution_high_pct=50.0,
        end_low_c=-3.0,
        end_high_c=0.0,
    )
    spoon = Measure(slug="barspoon", name="Barspoon", value=4.0, unit="ml", low=2.5, high=5.0)
    coupe = Glass(slug="coupe", name="Coupe", brim_ml=240.0)
    book = done(HOUSE, in_turn(put_method(swizzle), put_measure(spoon), put_glass(coupe)))
    assert (book.methods["swizzle"], book.measures["barspoon"], book.glasses["coupe"]) == (
        swizzle,
        spoon,
        coupe,
    )
    with pytest.raises(Refusal, match="is above the measure"):
        done(HOUSE, put_measure(Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.9, high=1.0)))
    with pytest.raises(Refusal, match="The brim in ml"):
        done(HOUSE, put_glass(Glass(slug="coupe", name="Coupe", brim_ml=float("inf"))))


def test_a_glass_or_method_in_use_is_not_removed() -> None:
    with pytest.raises(Refusal, match="The glass Double rocks cannot be removed. It is used by Pear Signal"):
        done(HOUSE, remove_glass("rocks"))
    with pytest.raises(Refusal, match="The method Shake cannot be removed. It is used by Sloe Tide"):
        done(HOUSE, remove_method("shake"))
    assert "throw" not in done(HOUSE, remove_method("throw")).methods
    assert not done(done(HOUSE, set_build(SIGNAL, glass=None)), remove_glass("rocks")).glasses


def test_an_import_is_taken_over_if_nothing_came_between() -> None:
    made = done(HOUSE, new_drink("Ebb"))
    assert done(HOUSE, adopt(made, HOUSE)) is made
    with pytest.raises(Refusal, match="prepared for the house book as it was before"):
        done(done(HOUSE, rename(TIDE, "Ebb")), adopt(made, HOUSE))


def test_an_import_with_something_missing_is_refused() -> None:
    broken = HOUSE.with_build(HOUSE.builds[TIDE])
    raws = {key: row for key, row in HOUSE.raws.items() if key != SUGAR}
    with pytest.raises(Refusal, match="white sugar cannot be removed. It is used in pear cordial"):
        done(HOUSE, adopt(replace(broken, raws=raws), HOUSE))


def test_the_target_of_a_drink_is_chosen_by_its_id() -> None:
    assert done(HOUSE, set_build(TIDE, target_id=APERITIF)).builds[TIDE].target_id == APERITIF
