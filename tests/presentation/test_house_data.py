"""The house's data in cells, sentences, pictures and curves."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.presentation.demo import demo
from tests.presentation.glass_house import bar, method
from washline.chemistry.mixture import strength_pct_vol, volume_ml
from washline.engine.calibrating import fitted
from washline.model.book import HouseBook
from washline.model.house import Calibration, Glass, Ice, Measure, MethodKind, Settings, Vessel, Weighing
from washline.presentation.glass import glass_form
from washline.presentation.glass_weighing import calibration_of
from washline.presentation.house_data import HouseTexts, is_defined, why_fixed
from washline.presentation.house_data_columns import NO_SOURCE, TABLES, Column, HouseRow, table_of
from washline.presentation.house_data_glass import forms, pictured, slug_start
from washline.presentation.house_data_melt import at, melt_curve, no_curve_words, reference_g
from washline.presentation.house_data_rows import changed, copied, copy_name, fresh
from washline.presentation.house_data_weighings import calibrated_g, usual_g

BOTTLE = Vessel(slug="jar", name="Jar", volume_ml=500.0)
WATER_60_SPIRIT_20 = (60.0, 20.0, *([0.0] * 22))


def column(table: str, key: str) -> Column:
    return next(one for one in table_of(table).columns if one.key == key)


def texts(book: HouseBook) -> HouseTexts:
    return HouseTexts(lambda: book)


def cell(table: str, key: str, row: HouseRow, book: HouseBook | None = None) -> str:
    return texts(book or bar()).text(column(table, key), row)


def weighing(**fields: object) -> Weighing:
    whole = {
        "id": 7, "method": "stir", "ice": "cubes", "date": "2026-11-25", "composition": WATER_60_SPIRIT_20,
        "liquid_c": 20.0, "ice_g": 180.0, "seconds": 30.0, "melted_g": 30.0,
    }  # fmt: skip
    return Weighing(**{**whole, **fields})  # type: ignore[arg-type]


# Cells


def test_every_row_of_the_demo_house_has_a_text_and_a_tip_in_every_cell() -> None:
    book = demo()
    said = texts(book)
    for table in TABLES:
        assert table.entries(book)
        for row in table.entries(book).values():
            for one in table.columns:
                shown = said.cell(one, row)
                assert shown.text
                assert shown.tip.startswith(one.definition)


def test_rating_that_is_not_known_is_not_shown_as_none() -> None:
    shown = texts(bar()).cell(column("vessel", "rating"), BOTTLE)
    assert shown.text == "not known"
    assert "not for pressure" in shown.tip
    assert texts(bar()).explanation(table_of("vessel"), BOTTLE)[0].endswith("not for pressure.")


def test_rating_is_shown_in_bar() -> None:
    rated = structs.replace(BOTTLE, rated_kpa=600.0)
    assert cell("vessel", "rating", rated) == "6"
    assert "6\u202fbar" in texts(bar()).cell(column("vessel", "rating"), rated).tip


def test_tip_says_definition_unit_and_source() -> None:
    coupe = Glass(slug="coupe", name="Coupe", brim_ml=180.0)
    tip = texts(bar()).cell(column("glass", "brim"), coupe).tip
    assert tip.splitlines() == [
        "What it holds to the brim, without ice.",
        "180\u202fml",
        f"Source: {NO_SOURCE}",
    ]


def test_ice_that_the_house_does_not_have_is_said_in_the_tip() -> None:
    glass = Glass(slug="rocks", name="Rocks", brim_ml=300.0, ice="hailstones", ice_g=100.0)
    assert "No ice of the house is named so" in texts(bar()).cell(column("glass", "ice"), glass).tip
    assert (
        "The house’s ice: Spear"
        in texts(bar()).cell(column("glass", "ice"), structs.replace(glass, ice="one spear")).tip
    )


def test_time_constant_says_nothing_for_a_method_without_ice() -> None:
    dry = bar().methods["dry-shake"]
    shown = texts(bar()).cell(column("method", "tau"), dry)
    assert shown.is_quiet
    assert "no ice melts by this method" in shown.tip


def test_ranges_are_written_with_both_ends() -> None:
    stir = method("stir", MethodKind.ON_ICE, time_low_s=20.0, time_high_s=40.0)
    assert cell("method", "time", stir) == "20–40"
    assert cell("method", "end", stir) == "−5 – 0"
    assert cell("method", "time", bar().methods["stir"]) == "–"


def test_unit_by_definition_is_not_typed_into_but_a_standard_with_a_range_is() -> None:
    ounce = Measure(
        slug="oz-us", name="Ounce", value=29.57, unit="ml", low=29.57, high=29.57, source_kind="standard"
    )
    drop = Measure(
        slug="drop", name="Drop", value=0.05, unit="ml", low=0.04, high=0.06, source_kind="standard"
    )
    said = texts(bar())
    assert is_defined(ounce)
    assert not said.is_typed(column("measure", "value"), ounce)
    assert "by definition" in why_fixed(column("measure", "value"), ounce)
    assert said.is_typed(column("measure", "value"), drop)


def test_copied_rows_are_tab_separated_and_no_text_calculates() -> None:
    glass = Glass(slug="coupe", name="=Coupe", brim_ml=1800.0)
    lines = texts(bar()).tab_separated(table_of("glass").columns[:2], [glass]).splitlines()
    assert lines == ["name\tbrim, ml", "'=Coupe\t1800"]


# Glasses


def test_own_glass_is_drawn_like_the_glass_with_whose_key_it_begins() -> None:
    assert glass_form("coupe-large-2") is glass_form("coupe-large")
    assert glass_form("flute-3") is glass_form("flute")
    assert glass_form("heirloom") is glass_form("rocks")


def test_every_form_has_a_glass_that_is_drawn_so() -> None:
    for form, _ in forms():
        assert glass_form(slug_start(form)).name == form


def test_picture_names_its_levels() -> None:
    rocks = bar().glasses["rocks"]
    level = pictured(Settings(wash_line_pct=80.0), structs.replace(rocks, usual_fill_ml=95.0))
    assert level is not None
    # 80 % of what 114.6 g of ice at 0.917 g/ml leave of 300 ml: 0.8 x (300 - 125.0) = 140 ml.
    assert (level.brim_label, level.wash_label, level.level_label) == (
        "brim 300\u202fml", "wash line 140\u202fml", "usual fill 95\u202fml",
    )  # fmt: skip
    assert level.drawn.ice is not None


def test_glass_that_holds_nothing_is_not_drawn() -> None:
    assert pictured(Settings(), Glass(slug="x", name="X", brim_ml=0.0)) is None


# Melt


def test_reference_drink_is_what_its_words_say() -> None:
    masses = reference_g()
    assert volume_ml(masses).item() == pytest.approx(100.0, abs=1e-6)
    assert strength_pct_vol(masses).item() == pytest.approx(20.0, abs=1e-6)
    assert masses[2].item() == pytest.approx(6.0)


def test_more_time_melts_more_and_gets_colder() -> None:
    curve = melt_curve(demo(), demo().methods["stir"])
    assert curve is not None
    assert all(later >= earlier for earlier, later in zip(curve.melted_g, curve.melted_g[1:], strict=False))
    assert all(later <= earlier for earlier, later in zip(curve.end_c, curve.end_c[1:], strict=False))
    assert curve.end_c[0] == pytest.approx(20.0)


def test_stir_of_the_pantry_comes_to_its_published_dilution_in_thirty_seconds() -> None:
    # Published for 20 % vol: -1.21 x 0.04 + 1.246 x 0.2 + 0.145 = 0.3458 ml/ml (Arnold 2014, from memory); the balance is
    # honest to 5 g for each 100 ml.
    curve = melt_curve(demo(), demo().methods["stir"])
    assert curve is not None
    assert at(30.0, curve, curve.melted_g) == pytest.approx(34.6, abs=5.0)


def test_shorter_time_constant_melts_more_in_the_same_time() -> None:
    stir = demo().methods["stir"]
    slow, quick = melt_curve(demo(), stir), melt_curve(demo(), structs.replace(stir, tau_s=6.0))
    assert slow is not None
    assert quick is not None
    assert at(15.0, quick, quick.melted_g) > at(15.0, slow, slow.melted_g) + 3.0


def test_water_on_the_ice_is_taken_up_from_the_first_second() -> None:
    shake = structs.replace(demo().methods["shake"], surface_water_pct=10.0, ice_g=200.0)
    curve = melt_curve(demo(), shake)
    assert curve is not None
    assert curve.melted_g[0] == pytest.approx(20.0, abs=0.5)


def test_calibration_of_the_house_counts_in_the_curve() -> None:
    book, stir = demo(), demo().methods["stir"]
    calibration = Calibration(
        slug="stir/cubes", method="stir", ice="cubes", date="2026-11-25", tau_s=5.0, weighings=1
    )
    usual, own = melt_curve(book, stir), melt_curve(book.with_calibration(calibration), stir)
    assert usual is not None
    assert own is not None
    assert at(10.0, own, own.melted_g) > at(10.0, usual, usual.melted_g)


def test_method_without_ice_has_words_and_no_curve() -> None:
    dry = bar().methods["dry-shake"]
    assert melt_curve(bar(), dry) is None
    assert no_curve_words(bar(), dry).startswith("Nothing melts by this method")


# Rows


@pytest.mark.parametrize("table", ["glass", "method", "ice", "vessel"])
def test_new_row_marks_its_figures_as_common_practice(table: str) -> None:
    row = fresh(table, "new", "New")
    assert row.source == NO_SOURCE
    assert (row.slug, row.name) == ("new", "New")


def test_new_vessel_is_not_rated_for_any_pressure() -> None:
    row = fresh("vessel", "new", "New")
    assert isinstance(row, Vessel)
    assert row.rated_kpa is None


def test_copy_takes_another_name_each_time() -> None:
    assert copy_name("Coupe", {"coupe"}) == "Coupe, copy"
    assert copy_name("Coupe", {"coupe", "coupe, copy"}) == "Coupe, copy 2"
    assert copied(BOTTLE, "jar-2", "Jar, copy") == structs.replace(BOTTLE, slug="jar-2", name="Jar, copy")


def test_figure_typed_by_the_house_says_so_and_keeps_where_the_rest_is_from() -> None:
    ice = Ice(slug="cubes", name="Cubes", source="catalogue")
    once = changed(ice, column("ice", "pace"), {"pace": 1.2})
    twice = changed(once, column("ice", "piece"), {"piece_g": 24.0})
    again = changed(twice, column("ice", "pace"), {"pace": 1.1})
    assert once.source == "pace: this house; else catalogue"
    assert again.source == "pace, piece (g): this house; else catalogue"
    assert again.pace == 1.1


def test_another_name_changes_no_source() -> None:
    ice = Ice(slug="cubes", name="Cubes", source="catalogue")
    assert changed(ice, column("ice", "name"), {"name": "Our cubes"}).source == "catalogue"


# Weighings


def test_what_is_computed_now_is_what_was_computed_then_without_a_calibration() -> None:
    stir, cubes = demo().methods["stir"], demo().ices["cubes"]
    then = usual_g(stir, cubes, weighing())
    assert then is not None
    assert calibrated_g(stir, cubes, weighing(), None) == then


def test_calibration_moves_what_is_computed_now_by_its_offset() -> None:
    stir, cubes = demo().methods["stir"], demo().ices["cubes"]
    calibration = Calibration(
        slug="stir/cubes", method="stir", ice="cubes", date="2026-11-25", offset=0.05, weighings=1
    )
    then = usual_g(stir, cubes, weighing())
    now = calibrated_g(stir, cubes, weighing(), calibration)
    assert then is not None
    assert now is not None
    # 0.05 ml for each of the 84.3 ml that 60 g of water and 20 g of ethanol fill; all of it by the published dilution.
    assert now - then == pytest.approx(0.05 * 84.3 * 0.9982, abs=0.1)


@pytest.mark.parametrize("name", ["stir", "swizzle"])
def test_what_is_computed_now_is_what_the_fit_of_the_calibration_says(name: str) -> None:
    book = demo()
    ice = book.ices["crushed" if name == "swizzle" else "cubes"]
    own = [
        weighing(method=name, ice=ice.slug, melted_g=30.0),
        weighing(
            method=name, ice=ice.slug, melted_g=41.0, seconds=45.0, composition=(55.0, 25.0, *([0.0] * 22))
        ),
    ]
    usual = book.ice_named(book.methods[name].ice)
    fit = fitted(book.methods[name], ice, own, usual)
    calibration = calibration_of(name, ice.slug, "2026-11-25", fit, 2)
    found = [calibrated_g(book.methods[name], ice, one, calibration, usual) for one in own]
    assert found == pytest.approx(fit.fitted_g, abs=1e-9)


def test_weighing_of_a_method_that_is_gone_says_not_known() -> None:
    book = replace(demo(), methods={})
    assert cell("weighing", "computed_g", weighing(), book) == "not known"
