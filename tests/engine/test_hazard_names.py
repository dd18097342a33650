"""Cautions by what an ingredient is called: a house's own ingredient brings them as the pantry's does."""

import pytest

from tests.engine.kitchen import SOUR, WATER, Vessel, pantry, raw
from washline.engine.contents import contents
from washline.engine.hazard_names import named_hazards


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("Potassium sorbate", ("additive-limit",)),
        ("Wormwood, dried", ("thujone-wormwood",)),
        ("Bitter almond essence", ("stone-kernel",)),
        ("Essential oil of lime", ("essential-oil",)),
        ("Wild garlic, foraged", ("foraged-lookalike",)),
        ("Dry ice", ("cryogenic",)),
        ("Calamus root", ("restricted-botanical",)),
        ("Almond, blanched", ()),
        ("Rue de la mer gin", ("restricted-botanical",)),
        ("Truest vermouth", ()),
        ("Honeydew melon", ()),
    ],
)
def test_a_name_stands_for_its_caution_by_whole_words(name: str, keys: tuple[str, ...]) -> None:
    assert named_hazards("", name) == keys


def test_a_slug_counts_as_a_name() -> None:
    assert named_hazards("liquid-nitrogen", "LN2") == ("cryogenic",)


def test_an_own_ingredient_brings_its_caution_into_the_drink() -> None:
    tansy = raw(900, "tansy from the dyke", {"water": 100.0})
    book = pantry().with_raw(tansy).with_build(Vessel(SOUR).add(WATER, 50.0).add(900, 1.0).build())
    assert contents(book, SOUR).cautions == (("restricted-botanical", (900,)),)


def test_a_caution_of_row_and_name_is_told_once() -> None:
    sorrel = raw(900, "sorrel", {"water": 100.0}, cautions=("oxalic-leaf",))
    assert contents(pantry().with_raw(sorrel), 900).cautions == (("oxalic-leaf", (900,)),)
