"""The starter pantry. Expected values are cells of its tables, and figures that follow from them by its own README."""

import csv
import shutil
from pathlib import Path

import pytest

from washline.assets import database_file, resource
from washline.chemistry.components import COMPONENTS
from washline.exchange.pantry import Pantry, read_pantry
from washline.exchange.rows import ALLERGENS
from washline.model.book import HouseBook
from washline.model.house import Method, MethodKind
from washline.model.item import UNKNOWN, KeptAt, RawIngredient
from washline.problem import UserError


def raw(pantry: Pantry, slug: str) -> RawIngredient:
    return next(one for one in pantry.raws if one.slug == slug)


def part(ingredient: RawIngredient, component: str) -> float | None:
    return ingredient.composition[COMPONENTS.index(component)]


def cells() -> list[dict[str, str]]:
    with database_file("seed", "pantry", "ingredients.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def replace_in(path: Path, old: str, new: str) -> None:
    text = path.read_bytes().decode()
    assert old in text
    path.write_bytes(text.replace(old, new, 1).encode())


def test_the_whole_pantry_is_read_without_a_problem(pantry: Pantry) -> None:
    counts = [
        len(rows) for rows in (pantry.raws, pantry.targets, pantry.glasses, pantry.methods, pantry.measures)
    ]
    assert (counts, pantry.problems) == ([324, 7, 33, 19, 56], ())
    assert (len(pantry.ices), len(pantry.vessels)) == (8, 15)


def test_complete_rows_add_up_to_100_g(pantry: Pantry) -> None:
    complete = {row["slug"] for row in cells() if row["composition_complete"] == "yes"}
    sums = [sum(p or 0.0 for p in one.composition) for one in pantry.raws if one.slug in complete]
    assert len(sums) == 303
    assert sums == pytest.approx([100.0] * 303, abs=1e-4)


def test_every_source_memory_field_and_note_is_carried(pantry: Pantry) -> None:
    for one, row in zip(pantry.raws, cells(), strict=True):
        assert one.source == row["source"].strip()
        assert one.from_memory_fields == row["from_memory_fields"].strip()
        assert row["note"].strip() in one.note


def test_what_is_published_for_comparison_is_carried(pantry: Pantry) -> None:
    sorrel, verjus = raw(pantry, "sorrel-leaf"), raw(pantry, "verjus")
    assert (sorrel.other_acid_name, sorrel.ph_model, sorrel.season_months) == (
        "oxalic",
        "fitted",
        "4;5;6;7;8;9",
    )
    assert (verjus.typical_ph_low, verjus.typical_ph_high) == (2.5, 2.9)
    assert (verjus.titratable_acidity_pct, verjus.soluble_solids_pct) == (2.1, 6.6)
    assert sorrel.titratable_acidity_pct is None


def test_strength_follows_from_ethanol_and_density(pantry: Pantry) -> None:
    """Strength = ethanol mass x density / 0.78924, OIML R 22 (1975), as the pantry's README says."""
    for one in pantry.raws:
        if one.strength_pct_vol and one.density_g_per_ml:
            ethanol = (part(one, "ethanol") or 0.0) * one.density_g_per_ml / 0.78924
            assert ethanol == pytest.approx(one.strength_pct_vol, abs=0.06), one.slug


PROTONS = {  # molar mass in g/mol and protons titrated to pH 8.1: the check script of the pantry
    "citric": (192.12, 3), "malic": (134.09, 2), "tartaric": (150.09, 2), "lactic": (90.08, 1), "acetic": (60.05, 1),
    "ascorbic": (176.12, 1), "phosphoric": (97.995, 2),
}  # fmt: skip
OTHER_PROTONS = {"quinic": (192.17, 1), "oxalic": (90.03, 2), "succinic": (118.09, 2), "isocitric": (192.12, 3),
                 "gluconic": (196.16, 1), "": (150.0, 1)}  # fmt: skip


def test_acids_less_the_strong_cation_give_the_stated_titratable_acidity(pantry: Pantry) -> None:
    """The pantry's README: 94 rows agree within 15 % or 0.06 g per 100 g, as citric acid."""
    checked = 0
    for one, row in zip(pantry.raws, cells(), strict=True):
        stated = row["titratable_acidity_citric_g_per_100g"]
        if not stated or row["ph_model"] != "potassium":
            continue
        checked += 1
        molar, protons = OTHER_PROTONS[row["other_acid_name"]]
        meq = (part(one, "other_acid") or 0.0) / molar * 1000 * protons
        meq += sum((part(one, name) or 0.0) / m * 1000 * n for name, (m, n) in PROTONS.items())
        acidity = (meq - (one.strong_cation_mmol_per_100g or 0.0)) * 192.12 / 3 / 1000
        assert acidity == pytest.approx(float(stated), rel=0.16, abs=0.061), one.slug
    assert checked == 94


def test_the_strong_cation_is_potassium_or_the_fitted_one_or_not_known(pantry: Pantry) -> None:
    assert raw(pantry, "pear").strong_cation_mmol_per_100g == pytest.approx(116 / 39.0983)
    assert raw(pantry, "sorrel-leaf").strong_cation_mmol_per_100g == 8.57
    assert raw(pantry, "rosehip-fresh").strong_cation_mmol_per_100g is None
    assert raw(pantry, "tonic-water").strong_cation_mmol_per_100g is None


def test_a_row_whose_allergens_are_not_known_says_unknown(pantry: Pantry) -> None:
    assert raw(pantry, "verjus").allergens == (UNKNOWN,)


def test_only_the_word_none_means_no_allergens(pantry: Pantry) -> None:
    assert raw(pantry, "pear").allergens == ()


def test_several_allergens_are_all_carried(pantry: Pantry) -> None:
    assert raw(pantry, "soy-sauce").allergens == ("soy", "gluten")


def test_a_blank_allergen_cell_is_unknown(pantry_copy: Path) -> None:
    path = pantry_copy / "ingredients.csv"
    replace_in(path, ",potassium,2.79,0.2,,3.6,4.4,,,15,20,none,", ",potassium,2.79,0.2,,3.6,4.4,,,15,20,,")
    assert raw(read_pantry(pantry_copy), "pear").allergens == (UNKNOWN,)


def test_every_allergen_is_one_of_the_fourteen_or_unknown(pantry: Pantry) -> None:
    assert {key for one in pantry.raws for key in one.allergens} <= {*ALLERGENS, UNKNOWN}


def test_several_cautions_are_all_carried(pantry: Pantry) -> None:
    assert raw(pantry, "absinthe-65").cautions == ("high-proof-flammable", "thujone-wormwood")


def test_a_blank_is_not_known_and_never_zero(pantry: Pantry) -> None:
    tea = raw(pantry, "tea-black-leaf")
    assert (part(tea, "sucrose"), part(tea, "water"), tea.density_g_per_ml) == (None, 7.0, None)


def test_a_leaf_that_is_said_to_hold_no_alcohol_holds_none(pantry: Pantry) -> None:
    assert part(raw(pantry, "tea-black-leaf"), "ethanol") == 0.0


def test_where_alcohol_is_not_spoken_of_as_absent_a_blank_stays_unknown(pantry_copy: Path) -> None:
    replace_in(
        pantry_copy / "ingredients.csv",
        "unknown,yes,yes,no,no,,0.05,,,,,365",
        "unknown,yes,yes,no,trace,,0.05,,,,,365",
    )
    assert part(raw(read_pantry(pantry_copy), "pectinase-liquid"), "ethanol") is None


def test_prices_are_dated_and_marked_as_invented(pantry: Pantry) -> None:
    (price,) = raw(pantry, "gin-dry-40").prices
    assert (price.per_unit, price.unit, price.date, price.note) == (
        20.0,
        "l",
        "2026-11-21",
        "invented demo data",
    )


def test_every_ingredient_has_a_price(pantry: Pantry) -> None:
    assert [one.slug for one in pantry.raws if len(one.prices) != 1] == []


@pytest.mark.parametrize(
    "slug, place",
    [
        ("verjus", KeptAt.FRIDGE),
        ("vermouth-dry-18", KeptAt.FRIDGE),
        ("sherry-fino-15", KeptAt.FRIDGE),
        ("soda-water", KeptAt.FRIDGE),
        ("apple-juice-cloudy", KeptAt.FRIDGE),
        ("egg-white", KeptAt.FRIDGE),
        ("gin-dry-47", KeptAt.ROOM),
        ("sloe-gin-26", KeptAt.ROOM),
        ("bitters-aromatic-45", KeptAt.ROOM),
        ("sugar-white", KeptAt.ROOM),
        ("water-still", KeptAt.ROOM),
        ("tea-black-leaf", KeptAt.ROOM),
        ("mint-fresh", KeptAt.FRIDGE),
        ("ice", KeptAt.FREEZER),
    ],
)
def test_ingredients_stand_where_a_bar_keeps_them(pantry: Pantry, slug: str, place: KeptAt) -> None:
    """Common practice, no source; wine, verjus and mixers at 4 °C and spirits at 20 °C as in the demo builds."""
    assert raw(pantry, slug).kept_at is place


def test_a_target_family_has_its_axes_in_order_and_its_gate_apart(pantry: Pantry) -> None:
    family = next(target for target in pantry.targets if target.name == "alcohol-free")
    assert [aim.reading for aim in family.axes] == ["sweetness", "acidity", "length", "salt", "bitterness"]
    assert [(aim.reading, aim.high) for aim in family.gates] == [("strength", 0.5)]


def test_a_glass_has_its_brim_and_its_ice(pantry: Pantry) -> None:
    glass = next(one for one in pantry.glasses if one.slug == "highball")
    assert (glass.brim_ml, glass.ice, glass.ice_g) == (350.0, "cubes 30 mm", 130.0)


def test_a_glass_without_ice_has_none(pantry: Pantry) -> None:
    glass = next(one for one in pantry.glasses if one.slug == "coupe-large")
    assert (glass.ice, glass.ice_g) == ("", 0.0)


def test_a_method_has_the_published_ranges(pantry: Pantry) -> None:
    method = next(one for one in pantry.methods if one.slug == "throw")
    assert (method.dilution_low_pct, method.dilution_high_pct) == (25.0, 42.0)
    assert (method.end_low_c, method.end_high_c) == (-3.0, 2.0)


def test_a_dash_has_its_range(pantry: Pantry) -> None:
    dash = next(one for one in pantry.measures if one.slug == "dash")
    assert (dash.value, dash.unit, dash.low, dash.high) == (0.8, "ml", 0.4, 1.1)


def test_a_bad_number_is_listed_with_its_place_and_only_its_row_is_left_out(pantry_copy: Path) -> None:
    replace_in(pantry_copy / "ingredients.csv", "liquid,0.8074,computed,96", "liquid,0.8o74,computed,96")
    found = read_pantry(pantry_copy)
    assert len(found.raws) == 323
    assert [str(problem) for problem in found.problems] == [
        "ingredients.csv, line 2, column density_kg_per_l: expected a number, found “0.8o74”"
    ]


def test_parts_that_do_not_add_up_are_listed(pantry_copy: Path) -> None:
    replace_in(pantry_copy / "ingredients.csv", "96,6.161,93.839", "96,26.161,93.839")
    (problem,) = read_pantry(pantry_copy).problems
    assert (problem.line, problem.column) == (2, "composition_complete")
    assert problem.words == "the parts add up to 120.00 g in 100 g"


def test_a_slug_that_stands_twice_is_listed(pantry_copy: Path) -> None:
    replace_in(pantry_copy / "ingredients.csv", "\r\nvodka-40,", "\r\nneutral-spirit-96,")
    (problem,) = read_pantry(pantry_copy).problems
    assert (
        str(problem) == "ingredients.csv, line 3, column slug: “neutral-spirit-96” stands in line 2 already"
    )


def test_an_aim_out_of_order_is_listed(pantry_copy: Path) -> None:
    replace_in(pantry_copy / "target_families.csv", "strength,13,16,20", "strength,13,26,20")
    (problem,) = read_pantry(pantry_copy).problems
    assert problem.words == "expected low ≤ ideal ≤ high, found 13, 26, 20"


def test_an_axis_that_is_no_reading_is_listed(pantry_copy: Path) -> None:
    replace_in(pantry_copy / "target_families.csv", "sour,length,", "sour,lenght,")
    (problem,) = read_pantry(pantry_copy).problems
    assert (problem.file, problem.line, problem.column) == ("target_families.csv", 5, "axis")


def test_a_line_with_a_cell_too_few_is_listed(pantry_copy: Path) -> None:
    replace_in(
        pantry_copy / "measures.csv", "cl,Centilitre,10,ml,10,10,definition,standard,", "cl,Centilitre,10"
    )
    (problem,) = read_pantry(pantry_copy).problems
    assert str(problem) == "measures.csv, line 3: expected 9 cells, found 3"


def test_a_missing_column_is_listed(pantry_copy: Path) -> None:
    replace_in(pantry_copy / "demo_prices.csv", "price_unit", "unit_of_price")
    found = read_pantry(pantry_copy)
    assert str(found.problems[0]) == "demo_prices.csv, line 1, column price_unit: the column is missing"
    assert len(found.raws) == 324


def test_a_missing_table_is_an_error_that_names_it(pantry_copy: Path) -> None:
    (pantry_copy / "measures.csv").unlink()
    with pytest.raises(UserError, match=r"measures\.csv cannot be read"):
        read_pantry(pantry_copy)


def test_a_table_that_is_not_text_is_an_error_that_says_so(pantry_copy: Path) -> None:
    (pantry_copy / "measures.csv").write_bytes(b"slug,name\xff\xfe\n")
    with pytest.raises(UserError, match="not text in UTF-8"):
        read_pantry(pantry_copy)


def test_a_table_with_an_open_quote_is_an_error_that_says_so(pantry_copy: Path) -> None:
    with (pantry_copy / "measures.csv").open("ab") as file:
        file.write(b'"open\r\n')
    with pytest.raises(UserError, match="not a whole CSV file"):
        read_pantry(pantry_copy)


def test_the_pantry_is_found_wherever_its_folder_is(pantry: Pantry, tmp_path: Path) -> None:
    shutil.copytree(database_file("seed", "pantry"), tmp_path / "elsewhere")
    assert read_pantry(tmp_path / "elsewhere") == pantry


def test_the_allergens_of_the_format_are_those_that_have_words() -> None:
    with resource("texts", "allergens.csv").open(encoding="utf-8", newline="") as file:
        assert tuple(row["key"] for row in csv.DictReader(file)) == ALLERGENS


def method(pantry: Pantry, slug: str) -> Method:
    return next(one for one in pantry.methods if one.slug == slug)


def test_methods_of_the_regressions_say_so_and_have_the_presets_that_reproduce_them(pantry: Pantry) -> None:
    """Presets of the balance of heat: shaken approach 1, whole ice, 2 g per ml, 3 g of water on 100 g of it; stirred
    approach 0.9, half the core, the same ice, dry (fitted to the published regressions; common practice, no source)."""
    stir, shake = method(pantry, "stir"), method(pantry, "shake")
    assert (stir.published, stir.approach, stir.core, stir.ice_g_per_ml, stir.surface_water_pct) == (
        "stirred",
        0.9,
        0.5,
        2.0,
        0.0,
    )
    assert (shake.published, shake.approach, shake.core, shake.ice_g_per_ml, shake.surface_water_pct) == (
        "shaken",
        1.0,
        1.0,
        2.0,
        3.0,
    )
    assert {one.slug for one in pantry.methods if one.published} == {"stir", "shake"}


@pytest.mark.parametrize(
    ("kind", "slugs"),
    [
        (MethodKind.IN_GLASS, {"build", "build-long", "swizzle"}),
        (MethodKind.ALL_IN, {"whip-shake", "blend"}),
        (MethodKind.NO_ICE, {"dry-shake"}),
        (MethodKind.COLD_STORE, {"freezer-batch", "fridge-batch"}),
        (MethodKind.HOT, {"hot-build"}),
        (MethodKind.OTHER, {"carbonate", "soda-siphon", "top-up", "rinse"}),
    ],
)
def test_each_method_is_of_its_kind(pantry: Pantry, kind: MethodKind, slugs: set[str]) -> None:
    assert {one.slug for one in pantry.methods if one.kind is kind} == slugs


def test_a_cold_store_says_where(pantry: Pantry) -> None:
    places = {one.slug: one.kept_at for one in pantry.methods if one.kept_at is not None}
    assert places == {"freezer-batch": KeptAt.FREEZER, "fridge-batch": KeptAt.FRIDGE}


def test_glasses_stand_in_the_room_and_tins_are_cold_by_habit(pantry: Pantry) -> None:
    warm = {one.slug for one in pantry.methods if not one.vessel_is_cold}
    assert warm == {"build", "build-long", "hot-build", "shake-foam", "swizzle"}


def test_egg_white_aquafaba_and_pineapple_foam(pantry: Pantry) -> None:
    assert [one.slug for one in pantry.raws if one.foams] == ["pineapple-juice", "egg-white", "aquafaba"]


def test_every_ice_and_vessel_says_where_its_figures_come_from(pantry: Pantry) -> None:
    for one in (*pantry.ices, *pantry.vessels):
        assert "common practice, no source" in one.source
        assert one.source_kind == "common-practice"


def test_words_for_ice_in_glasses_and_methods_mean_an_ice_of_the_pantry(pantry: Pantry) -> None:
    book = HouseBook(ices={ice.slug: ice for ice in pantry.ices})
    found = {}
    for one in (*pantry.glasses, *pantry.methods):
        if one.ice and not one.ice.startswith("none"):
            ice = book.ice_named(one.ice)
            found[one.ice] = ice.slug if ice is not None else None
    assert found == {
        "cubes 30 mm": "cubes",
        "one 50 mm cube": "cube-50",
        "one 50 mm cube or 4 cubes": "cube-50",
        "spear or 3 cubes": "spear",
        "cubes or crushed": "crushed",
        "crushed": "crushed",
        "crushed, mounded": "crushed",
        "machine cubes 20 mm, wet": "machine-cubes",
        "pebble ice": "pebble",
        "crushed or cubes": "crushed",
    }


def test_only_what_is_made_for_gas_has_a_rating(pantry: Pantry) -> None:
    rated = {one.slug: one.rated_kpa for one in pantry.vessels if one.rated_kpa is not None}
    assert rated == {
        "crown-bottle-200": 600.0,
        "swing-top-200": 600.0,
        "crown-bottle-330": 600.0,
        "crown-bottle-500": 600.0,
        "swing-top-500": 600.0,
        "swing-top-750": 600.0,
        "sparkling-wine-bottle-750": 600.0,
        "keg-19": 900.0,
        "siphon-1000": 1200.0,
    }
    assert all(one.fill_ml is not None and one.fill_ml < one.volume_ml for one in pantry.vessels)


@pytest.mark.parametrize(
    ("file", "old", "new", "problem"),
    [
        (
            "ice.csv",
            "Crushed,3,",
            "Crushed,fast,",
            "ice.csv, line 7, column pace: expected a number, found “fast”",
        ),
        (
            "ice.csv",
            "Crushed,3,0,",
            "Crushed,3,4,",
            "column temperature_c: expected a number from -100 to 0, found “4”",
        ),
        (
            "vessels.csv",
            ",212,180,600,",
            ",212,280,600,",
            "vessels.csv, line 2, column fill_ml: expected at most 212",
        ),
        (
            "vessels.csv",
            ",212,180,600,",
            ",212,180,0,",
            "column rated_kpa: expected a number from 1 to 10000",
        ),
        (
            "glassware_methods.csv",
            ",on_ice,stirred,",
            ",on_ice,whirled,",
            "column published: expected one of",
        ),
        (
            "glassware_methods.csv",
            ",on_ice,stirred,",
            ",on_rocks,stirred,",
            "column method_kind: expected one of",
        ),
        (
            "glassware_methods.csv",
            ",on_ice,stirred,0.9,",
            ",on_ice,stirred,1.9,",
            "column approach: expected a number",
        ),
    ],
)
def test_what_is_wrong_in_the_kit_is_listed_with_its_place(
    tmp_path: Path, file: str, old: str, new: str, problem: str
) -> None:
    folder = tmp_path / "pantry"
    shutil.copytree(database_file("seed", "pantry"), folder)
    replace_in(folder / file, old, new)
    problems = read_pantry(folder).problems
    assert len(problems) == 1
    assert problem in str(problems[0])
