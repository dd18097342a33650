"""The house book as a value: finding things in it, and books made from it."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.document.house import APERITIF, CORDIAL, GIN, LEATHER, SIGNAL, SIGNAL_GIN, SPENT, TIDE, house
from washline.model.house import Calibration, Ice, Settings, Weighing
from washline.model.item import Build, BuildKind, Making
from washline.model.step import Blend
from washline.model.target import Aim, Target

HOUSE = house()


def test_an_item_is_found_whatever_its_kind() -> None:
    assert [HOUSE.item(key).name for key in (GIN, CORDIAL, SPENT)] == [
        "dry gin",
        "pear cordial",
        "spent pear",
    ]  # type: ignore[union-attr]
    assert HOUSE.item(999) is None


def test_drinks_end_in_a_glass_and_parts_in_a_bottle() -> None:
    assert [build.id for build in HOUSE.drinks()] == [SIGNAL, TIDE]
    assert [build.id for build in HOUSE.parts()] == [CORDIAL, LEATHER]


def test_a_step_is_found_in_its_own_build_only() -> None:
    step = HOUSE.step(SIGNAL, SIGNAL_GIN)
    assert step is not None
    assert step.place == 1.0
    assert HOUSE.step(TIDE, SIGNAL_GIN) is None
    assert HOUSE.step(999, SIGNAL_GIN) is None


def test_a_drink_without_a_glass_has_none() -> None:
    assert HOUSE.glass_of(HOUSE.builds[TIDE]) is None
    glass = HOUSE.glass_of(HOUSE.builds[SIGNAL])
    assert glass is not None
    assert glass.slug == "rocks"


def test_a_changed_copy_leaves_the_book_as_it_was() -> None:
    other = HOUSE.with_raw(structs.replace(HOUSE.raws[GIN], name="gin"))
    assert HOUSE.raws[GIN].name == "dry gin"
    assert other.raws[GIN].name == "gin"
    assert other.builds is HOUSE.builds


def test_the_highest_id_counts_items_steps_and_targets() -> None:
    step = Blend(id=301, build_id=300, place=1.0)
    with_build = HOUSE.with_build(Build(id=300, kind=BuildKind.PART, name="part", steps=(step,)))
    assert with_build.top_id == 301
    assert HOUSE.with_build(Build(id=300, kind=BuildKind.PART, name="part")).top_id == 300
    assert (
        HOUSE.with_target(Target(id=400, name="sour", aims=(Aim("strength", 1.0, 2.0, 3.0),))).top_id == 400
    )
    assert HOUSE.with_leftover(structs.replace(HOUSE.leftovers[SPENT], id=500)).top_id == 500
    assert HOUSE.with_target(HOUSE.targets[APERITIF]).top_id == HOUSE.top_id
    assert HOUSE.with_making(Making(id=600, build_id=CORDIAL, date="2026-11-02")).top_id == 600


def test_settings_are_replaced_as_a_whole() -> None:
    assert (
        HOUSE.with_settings(Settings(house_name="The Saltmarsh Rooms")).settings.house_name
        == "The Saltmarsh Rooms"
    )


ICES = {
    slug: Ice(slug=slug, name=name)
    for slug, name in (
        ("cubes", "Cubes"),
        ("cube-50", "50 mm cube"),
        ("machine", "Machine cubes"),
        ("spear", "Spear"),
    )
}
WITH_ICE = replace(HOUSE, ices=ICES)


@pytest.mark.parametrize(
    ("words", "slug"),
    [
        ("cubes", "cubes"),
        ("cube-50", "cube-50"),
        ("Cubes", "cubes"),
        ("cubes 30 mm", "cubes"),
        ("one fresh 50 mm cube", "cube-50"),
        ("wet MACHINE CUBES", "machine"),
        ("spear or 3 cubes", "spear"),
        (" cubes ", "cubes"),
        ("", None),
        ("hail", None),
    ],
)
def test_words_mean_the_ice_with_the_longest_name_in_them(words: str, slug: str | None) -> None:
    ice = WITH_ICE.ice_named(words)
    assert (ice.slug if ice is not None else None) == slug


def test_a_calibration_is_of_a_method_on_an_ice() -> None:
    row = Calibration(slug="stir/cubes", method="stir", ice="cubes", date="2026-11-02")
    book = WITH_ICE.with_calibration(row)
    assert book.calibration_of("stir", ICES["cubes"]) is row
    assert book.calibration_of("stir", ICES["spear"]) is None
    assert book.calibration_of("shake", ICES["cubes"]) is None
    assert book.calibration_of("stir", None) is None


def test_a_weighing_counts_in_the_highest_id() -> None:
    row = Weighing(
        id=700, method="stir", ice="cubes", date="2026-11-02", composition=(1.0,) * 24, liquid_c=20.0, ice_g=180.0,
        melted_g=30.0,
    )  # fmt: skip
    assert WITH_ICE.with_weighing(row).top_id == 700
    assert WITH_ICE.with_weighing(row).weighings[700] is row
