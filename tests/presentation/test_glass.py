"""A glass is true to volume: brim, level, wash line, and ice that floats."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.presentation.glass import Glass, GlassForm, Ice, glass_form, known_glasses, read_ice

STRAIGHT = GlassForm("straight", ((0.0, 0.5), (1.0, 0.5)))
SLUGS = known_glasses()


def test_a_straight_glass_half_full_stands_at_half_its_height() -> None:
    glass = Glass(STRAIGHT, brim_ml=300.0, liquid_ml=150.0)
    assert glass.surface_mm / glass.height_mm == pytest.approx(0.5, abs=1e-6)


def test_a_cylinder_has_the_height_of_its_volume() -> None:
    # V = pi r^2 h with r = h / 2, so h = (4 V / pi)^(1/3); 300 ml gives 72.56 mm.
    glass = Glass(STRAIGHT, brim_ml=300.0, liquid_ml=0.0)
    assert glass.height_mm == pytest.approx((4 * 300e3 / math.pi) ** (1 / 3))


def test_a_cone_half_full_stands_higher_than_half() -> None:
    cone = GlassForm("cone", ((0.0, 0.0), (1.0, 1.0)))
    glass = Glass(cone, brim_ml=200.0, liquid_ml=100.0)
    assert glass.surface_mm / glass.height_mm == pytest.approx(0.5 ** (1 / 3), abs=2e-4)


@pytest.mark.parametrize("slug", SLUGS)
def test_every_glass_holds_its_brim(slug: str) -> None:
    glass = Glass(glass_form(slug), brim_ml=250.0, liquid_ml=250.0)
    assert glass.volume_ml(glass.height_mm) == pytest.approx(250.0)
    assert glass.surface_mm == pytest.approx(glass.height_mm, rel=1e-6)


@pytest.mark.parametrize("slug", SLUGS)
def test_no_profile_of_a_glass_folds_into_its_axis(slug: str) -> None:
    form = glass_form(slug)
    assert all(form.radius(step / 50) > 0 for step in range(1, 51))


@given(slug=st.sampled_from(SLUGS), liquid=st.floats(0.0, 200.0), ice=st.floats(0.0, 120.0))
def test_liquid_and_what_is_under_water_fill_the_glass_up_to_the_level(
    slug: str, liquid: float, ice: float
) -> None:
    glass = Glass(glass_form(slug), 400.0, liquid, ice=Ice(ice, "cubes", 30.0))
    level = glass.surface_mm
    if level < glass.height_mm * 0.999:
        assert glass.volume_ml(level) - glass.submerged_ml(level) == pytest.approx(liquid, abs=1e-3)


def test_floating_ice_displaces_its_own_mass() -> None:
    # Archimedes: 50 g of ice in a liquid of 1 g/ml pushes 50 ml aside.
    glass = Glass(STRAIGHT, 400.0, 200.0, ice=Ice(50.0, "cubes", 20.0))
    assert glass.submerged_ml(glass.surface_mm) == pytest.approx(50.0)


def test_a_cube_stands_out_of_water_by_a_twelfth() -> None:
    # 1 - 0.917 = 0.083: one twelfth, the share of an iceberg above fresh water.
    glass = Glass(STRAIGHT, 600.0, 400.0, ice=Ice(115.0, "cube", 50.0))
    above = glass.ice_bottom_mm + glass.ice_height_mm - glass.surface_mm
    assert above / glass.ice_height_mm == pytest.approx(0.083, abs=1e-3)


def test_a_cube_in_too_little_liquid_stands_on_the_bottom() -> None:
    glass = Glass(STRAIGHT, 350.0, 30.0, ice=Ice(115.0, "cube", 50.0))
    assert glass.ice_bottom_mm == 0.0
    assert glass.surface_mm < glass.ice_height_mm


def test_the_wash_line_counts_the_ice_that_is_there() -> None:
    bare = Glass(STRAIGHT, 350.0, 100.0, wash_line_ml=175.0)
    iced = Glass(STRAIGHT, 350.0, 100.0, wash_line_ml=175.0, ice=Ice(115.0, "cube", 50.0))
    assert bare.wash_line_mm is not None
    assert iced.wash_line_mm is not None
    assert iced.wash_line_mm > bare.wash_line_mm


def test_what_would_overflow_stands_at_the_brim() -> None:
    glass = Glass(STRAIGHT, 100.0, 500.0)
    assert glass.surface_mm == pytest.approx(glass.height_mm)


@pytest.mark.parametrize(("brim", "liquid"), [(0.0, 0.0), (100.0, -1.0), (math.nan, 1.0)])
def test_a_glass_that_holds_nothing_is_refused(brim: float, liquid: float) -> None:
    with pytest.raises(ValueError, match="cannot hold"):
        Glass(STRAIGHT, brim, liquid)


@pytest.mark.parametrize(
    ("words", "grams", "kind", "edge"),
    [
        ("one 50 mm cube", 110.0, "cube", 50.0),
        ("one 50 mm cube or 4 cubes", 115.0, "cube", 50.0),
        ("cubes 30 mm", 130.0, "cubes", 30.0),
        ("spear or 3 cubes", 110.0, "spear", 36.0),
        ("crushed, mounded", 230.0, "crushed", 8.0),
        ("cubes or crushed", 170.0, "cubes", 30.0),
    ],
)
def test_the_words_of_the_pantry_name_the_ice(words: str, grams: float, kind: str, edge: float) -> None:
    assert read_ice(words, grams) == Ice(grams, kind, edge)


@pytest.mark.parametrize(("words", "grams"), [("", 100.0), ("cubes 30 mm", None), ("cubes 30 mm", 0.0)])
def test_without_words_or_mass_there_is_no_ice(words: str, grams: float | None) -> None:
    assert read_ice(words, grams) is None


def test_one_cube_is_one_piece_and_crushed_ice_is_many() -> None:
    form = glass_form("rocks-double")
    assert len(Glass(form, 350.0, 100.0, ice=Ice(115.0, "cube", 50.0)).pieces()) == 1
    assert len(Glass(form, 350.0, 100.0, ice=Ice(115.0, "crushed", 8.0)).pieces()) > 20


def test_a_spear_is_as_long_as_its_mass_makes_it() -> None:
    # 110 g / 0.917 g/ml = 120.0 ml; over 3.6 cm square that is 92.6 mm.
    glass = Glass(glass_form("highball-slim"), 290.0, 170.0, ice=Ice(110.0, "spear", 36.0))
    assert glass.ice_height_mm == pytest.approx(92.6, abs=0.1)


def test_a_glass_that_is_not_in_the_table_is_a_straight_tumbler() -> None:
    assert glass_form("the-houses-own").name == "rocks"


def test_every_glass_of_the_pantry_has_a_form_of_its_own() -> None:
    pantry = (
        "coupe-small coupe coupe-large small-stem-bell v-stem sour-stem flute tulip-sparkling wine-white wine-red "
        "balloon-spritz rocks rocks-double highball-slim highball collins sling-tall hurricane tiki-mug julep-cup "
        "metal-mug punch-cup toddy-glass hot-coffee-stem tumbler-small shot liqueur-stem copita sake-cup beer-small "
        "beer-half-litre pint-imperial tasting-glass"
    )
    assert set(pantry.split()) <= set(SLUGS)


def test_the_room_beside_ice_is_the_brim_less_what_is_under_it() -> None:
    # 91.7 g of ice are 100 ml; afloat in water 91.7 ml of them are under its surface.
    glass = Glass(STRAIGHT, brim_ml=300.0, liquid_ml=100.0, ice=Ice(91.7, "cubes", 30.0))
    assert glass.room_ml == pytest.approx(300.0 - 91.7)
    assert Glass(STRAIGHT, brim_ml=300.0, liquid_ml=100.0).room_ml == 300.0


def test_foam_stands_on_the_liquid_up_to_the_brim() -> None:
    glass = Glass(STRAIGHT, brim_ml=300.0, liquid_ml=150.0, foam_ml=75.0)
    assert glass.foam_top_mm / glass.height_mm == pytest.approx(0.75, abs=1e-6)
    over = Glass(STRAIGHT, brim_ml=300.0, liquid_ml=250.0, foam_ml=100.0)
    assert over.foam_top_mm == pytest.approx(over.height_mm)


def test_a_layer_lies_on_the_rest_of_the_liquid() -> None:
    glass = Glass(STRAIGHT, brim_ml=300.0, liquid_ml=150.0, floats_ml=(30.0, 15.0))
    shares = [height / glass.height_mm for height in glass.float_bottoms_mm]
    assert shares == pytest.approx([105.0 / 300.0, 135.0 / 300.0], abs=1e-6)
