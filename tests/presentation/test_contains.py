"""What is contained: nothing promises absence, the unknown is named, every caution ends with the deferral."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.presentation import small_house
from tests.presentation.demo import build, demo
from washline.model.book import HouseBook
from washline.model.item import UNKNOWN
from washline.presentation.cautions import DEFERRAL, cautions
from washline.presentation.contains import (
    DELETED_ITEM,
    NONE_RECORDED,
    contained_caution,
    contains_box,
    joined_and_left,
    short_name,
)


def with_verjus(**fields: object) -> HouseBook:
    """The small house with these fields on its verjus, which Pear Signal pours."""
    book = small_house.house()
    verjus = structs.replace(book.raws[small_house.VERJUS], **fields)
    return book.with_raw(verjus)


def test_nothing_recorded_promises_no_absence() -> None:
    assert contains_box(small_house.house(), small_house.SIGNAL).contains_text == NONE_RECORDED


def test_an_allergen_names_what_brings_it() -> None:
    assert contains_box(demo(), build("Pear Signal").id).contains_text == "sulphites from the vermouth"


def test_an_allergen_rises_through_a_part_on_the_glass() -> None:
    assert contains_box(demo(), build("Orchard Bell").id).contains_text == (
        "gluten from the barley malt syrup and oats; milk from the butter"
    )


def test_an_unknown_allergen_is_named_with_what_to_do() -> None:
    box = contains_box(with_verjus(allergens=(UNKNOWN,)), small_house.SIGNAL)
    assert box.unknown_text == "verjus; read the label"
    assert "Unknown: verjus" in box.full_text


def test_an_item_that_is_gone_is_unknown_and_not_none() -> None:
    book = small_house.house()
    raws = {key: raw for key, raw in book.raws.items() if key != small_house.VERJUS}
    box = contains_box(replace(book, raws=raws), small_house.SIGNAL)
    assert box.unknown == (DELETED_ITEM,)


def test_the_house_may_add_an_allergen() -> None:
    book = small_house.house()
    drink = structs.replace(book.builds[small_house.SIGNAL], added_allergens=("celery",))
    assert contains_box(book.with_build(drink), drink.id).contains_text == "celery added by the house"


@pytest.mark.parametrize("key", sorted(cautions()))
def test_every_caution_reaches_the_box_and_ends_with_the_deferral(key: str) -> None:
    box = contains_box(with_verjus(cautions=(key,)), small_house.SIGNAL)
    found = next(one for one in box.cautions if one.key == key)
    assert "verjus" in found.origin
    assert found.text.endswith(DEFERRAL)
    assert cautions()[key].bar in box.full_text
    assert cautions()[key].bench in box.full_text


def test_a_caution_without_a_text_is_told_all_the_same() -> None:
    one = contained_caution("new-danger", ["root"])
    assert one.short == "new danger: root"
    assert one.text.endswith(DEFERRAL)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Vermouth, dry, 18 %", "vermouth"),
        ("Verjus (unripe grape juice)", "verjus"),
        ("DHA oil", "DHA oil"),
        ("(odd)", "(odd)"),
    ],
)
def test_a_name_is_said_without_its_form(name: str, expected: str) -> None:
    assert short_name(name) == expected


def test_two_that_would_be_called_the_same_keep_their_names() -> None:
    book = with_verjus(allergens=(UNKNOWN,), name="vermouth, red")
    vermouth = structs.replace(book.raws[small_house.VERMOUTH], allergens=(UNKNOWN,), name="vermouth, dry")
    box = contains_box(book.with_raw(vermouth), small_house.SIGNAL)
    assert set(box.unknown) == {"vermouth, red", "vermouth, dry"}


def test_a_twist_says_what_joined_and_what_stayed() -> None:
    before, after = (
        contains_box(demo(), build(name).id) for name in ("Pear Signal", "Pear Signal, bay twist")
    )
    assert joined_and_left(before, after) == (
        "contains sulphites as before",
        "caution joins: quinine (tonic water)",
    )
    assert joined_and_left(after, before)[-1] == "caution leaves: quinine"
