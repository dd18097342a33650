"""Steps of the bar written as one line, in the words of a house: chilling, straining, rinsing, rims, peels, smoke, gas."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.amount_text import ParseProblem
from washline.quantity.bar_line import (
    EXPECTED_CARBONATION,
    EXPECTED_RIM,
    EXPECTED_RINSE,
)
from washline.quantity.formatting import NumberStyle
from washline.quantity.house_words import HouseWords, entries
from washline.quantity.pressure_text import EXPECTED_PRESSURE
from washline.quantity.step_line import parse_step
from washline.quantity.typed_step import (
    TypedBarStrain,
    TypedCarbonation,
    TypedChill,
    TypedFloat,
    TypedGarnish,
    TypedRinse,
    TypedStep,
    TypedStrain,
)

BAR = HouseWords(
    methods=entries(
        [("stir", "stir"), ("stir on ice", "stir"), ("shake", "shake"), ("dry shake", "dry-shake"), ("blend", "blend"),
         ("throw", "throw"), ("build", "build"), ("roll", "roll")]
    ),
    ices=entries([("cubes", "cubes"), ("cube", "cubes"), ("50 mm cube", "50 mm cube"), ("cracked", "cracked"),
                  ("machine cubes", "machine cubes")]),
    vessels=entries([("crown bottle 200 ml", "crown-bottle-200"), ("keg, 19 l", "keg-19")]),
    is_drink=True,
)  # fmt: skip
GERMAN = NumberStyle(",", ".")


def chill(text: str, style: NumberStyle | None = None) -> TypedChill:
    found = parse_step(text, style, BAR) if style else parse_step(text, house=BAR)
    assert isinstance(found, TypedChill), found
    return found


def carbonation(text: str) -> TypedCarbonation:
    found = parse_step(text, house=BAR)
    assert isinstance(found, TypedCarbonation), found
    return found


def strain(text: str) -> TypedBarStrain:
    found = parse_step(text, house=BAR)
    assert isinstance(found, TypedBarStrain), found
    return found


def expected(text: str) -> str:
    found = parse_step(text, house=BAR)
    assert isinstance(found, ParseProblem), found
    return found.expected


def test_a_chill_names_its_method_ice_weight_state_and_time() -> None:
    found = chill("stir 180 g cubes wet 30 s")
    assert (found.method, found.ice, found.ice_g, found.ice_state, found.duration_s, found.words) == (
        "stir", "cubes", 180.0, "wet", 30.0, "",
    )  # fmt: skip


@pytest.mark.parametrize(
    "text",
    ["stir on cubes (180 g) 25 s", "stir 180 g of cubes for 25 s", "Stir on ice, 180 g cubes, 25 s",
     "chill stir 25 s over cubes 180 g"],
)  # fmt: skip
def test_the_words_of_a_chill_stand_in_any_order(text: str) -> None:
    found = chill(text)
    assert (found.method, found.ice, found.ice_g, found.duration_s) == ("stir", "cubes", 180.0, 25.0)


@pytest.mark.parametrize(
    "text, field, value",
    [
        ("stir ice at -10 °C", "ice_c", -10.0),
        ("stir, ice at −10 C", "ice_c", -10.0),
        ("shake tin at 20 °C", "vessel_c", 20.0),
        ("stir glass at -18 °C", "vessel_c", -18.0),
        ("stir mixing glass at 68 °F", "vessel_c", 20.0),
        ("stir melted 24 g", "melted_g", 24.0),
        ("stir 24 g melted", "melted_g", 24.0),
        ("shake to 120 g", "final_g", 120.0),
        ("shake to 118 ml", "final_ml", 118.0),
        ("stir ends at -4 °C", "end_c", -4.0),
        ("stir to −4 °C", "end_c", -4.0),
        ("stir by heat balance", "by", "balance"),
        ("stir as published", "by", "published"),
        ("stir dry ice", "ice_state", "dry"),
        ("throw 6 passes", "count", 6.0),
        ("build on 50 mm cube", "ice", "50 mm cube"),
        ("shake machine cubes", "ice", "machine cubes"),
        ("shake on cubes 30 mm", "ice", "cubes"),
        ("build on one fresh 50 mm cube", "ice", "50 mm cube"),
        ("stir 200 g ice", "ice_g", 200.0),
    ],
)
def test_each_part_of_a_chill_is_read(text: str, field: str, value: float | str) -> None:
    found = chill(text)
    assert getattr(found, field) == (pytest.approx(value) if isinstance(value, float) else value)
    assert found.words == ""


def test_temperatures_of_ice_tin_and_end_do_not_mix() -> None:
    found = chill("stir 180 g cubes, ice at -12 °C, tin at 20 °C, ends at -4 °C, 30 s")
    assert (found.ice_c, found.vessel_c, found.end_c, found.duration_s) == (-12.0, 20.0, -4.0, 30.0)


def test_a_decimal_comma_is_one_in_a_chill_too() -> None:
    assert chill("stir 27,6 g melted, ends at -4,5 °C", GERMAN).melted_g == 27.6


def test_a_dry_shake_is_a_method_and_no_drying() -> None:
    assert chill("dry shake 12 s").method == "dry-shake"


def test_a_word_of_the_kitchen_is_a_chill_only_with_ice() -> None:
    assert chill("blend 150 g cracked 20 s").method == "blend"
    found = parse_step("blend high 90 s", house=BAR)
    assert isinstance(found, TypedStep)
    assert (found.kind, found.words) == ("blend", "high")


@pytest.mark.parametrize("text", ["stir bar syrup 20 ml", "roll dry gin 45 ml", "build bitters 2 dashes"])
def test_a_line_whose_name_begins_with_a_method_is_a_line(text: str) -> None:
    assert parse_step(text, house=BAR) is None


def test_ice_that_the_house_does_not_have_is_refused_with_what_it_has() -> None:
    assert expected("shake with pebbly ice") == (
        "Expected ice of this house: cubes, 50 mm cube, cracked, machine cubes."
    )


def test_of_what_was_weighed_only_one_can_be_given() -> None:
    assert "24 g melted" in expected("stir 24 g melted to 120 g")


@pytest.mark.parametrize(
    "text, way, held_back, ice, grams",
    [
        ("strain", "strain", None, "", None),
        ("fine strain", "fine", None, "", None),
        ("double strain into the glass", "fine", None, "", None),
        ("strain over 50 mm cube", "strain", None, "50 mm cube", None),
        ("strain over a fresh 50 mm cube, 3 ml held back", "strain", 3.0, "50 mm cube", None),
        ("fine strain over 120 g cracked", "fine", None, "cracked", 120.0),
        ("strain over 115 g ice", "strain", None, "", 115.0),
        ("pour unstrained", "unstrained", None, "", None),
    ],
)
def test_a_drink_is_strained_into_its_glass(
    text: str, way: str, held_back: float | None, ice: str, grams: float | None
) -> None:
    found = strain(text)
    assert (found.way, found.held_back_ml, found.fresh_ice, found.fresh_ice_g) == (way, held_back, ice, grams)


@pytest.mark.parametrize(
    "text, glass_c, ice, low_c, words",
    [
        ("strain into a glass at 4 °C", 4.0, "", None, ""),
        ("fine strain over 50 mm cube, glass at -18 °C", -18.0, "50 mm cube", None, ""),
        ("strain into the glass at 39.2 °F", 4.0, "", None, ""),
        ("pour unstrained into a glass −18 °C", -18.0, "", None, ""),
        ("fine strain into a coupe at 4 °C", 4.0, "", None, "into a coupe"),
        ("strain at 2 °C", None, "", 2.0, ""),
        ("strain at 2 °C, glass at 4 °C", 4.0, "", 2.0, ""),
        ("strain from the mixing glass at 2 °C", None, "", 2.0, "from the mixing glass"),
    ],
)
def test_how_cold_the_glass_is_is_no_temperature_of_the_drink(
    text: str, glass_c: float | None, ice: str, low_c: float | None, words: str
) -> None:
    found = strain(text)
    assert found.vessel_c == (None if glass_c is None else pytest.approx(glass_c))
    assert (found.fresh_ice, found.low_c, found.words) == (ice, low_c, words)


@pytest.mark.parametrize(
    "text", ["strain through paper 905 g", "strain 905 g", "strain 70 %", "strain leaving peel"]
)
def test_what_speaks_of_a_yield_is_the_kitchens_strain_in_a_drink_too(text: str) -> None:
    assert isinstance(parse_step(text, house=BAR), TypedStrain)


def test_in_a_part_to_strain_is_the_kitchens() -> None:
    assert isinstance(parse_step("fine strain"), TypedStrain)


@pytest.mark.parametrize(
    "text",
    ["rinse absinthe 5 ml, 1.5 ml stays", "rinse the glass with 5 ml absinthe, poured out, 1.5 ml stays"],
)
def test_a_rinse_says_how_much_and_what_stays(text: str) -> None:
    found = parse_step(text, house=BAR)
    assert isinstance(found, TypedRinse)
    assert (found.line.name, found.line.amount.number, found.line.amount.unit, found.film_ml) == (
        "absinthe", 5.0, "ml", 1.5,
    )  # fmt: skip


def test_a_rinse_without_an_amount_says_what_is_missing() -> None:
    assert expected("rinse absinthe") == EXPECTED_RINSE


def test_a_float_is_a_line() -> None:
    found = parse_step("float 10 ml cream at 4 °C", house=BAR)
    assert isinstance(found, TypedFloat)
    assert (found.line.name, found.line.amount.number, found.line.temperature_c) == ("cream", 10.0, 4.0)


@pytest.mark.parametrize(
    "text, way, name, number, unit, stays",
    [
        ("rim 2 g salt, 0.5 g stays", "rim", "salt", 2.0, "g", 0.5),
        ("express lemon peel, thrown away", "express", "lemon peel", 1.0, "piece", 0.0),
        ("express 1 strip lemon peel, 0.05 g stays", "express", "lemon peel", 1.0, "strip", 0.05),
        ("garnish 1 leaf sorrel", "garnish", "sorrel", 1.0, "leaf", None),
    ],
)
def test_what_goes_on_the_glass(
    text: str, way: str, name: str, number: float, unit: str, stays: float | None
) -> None:
    found = parse_step(text, house=BAR)
    assert isinstance(found, TypedGarnish)
    assert (found.way, found.line.name, found.line.amount.number, found.line.amount.unit, found.stays_g) == (
        way, name, number, unit, stays,
    )  # fmt: skip


def test_a_rim_without_an_amount_says_what_is_missing() -> None:
    assert expected("rim salt") == EXPECTED_RIM


def test_smoke_is_words_and_a_time() -> None:
    found = parse_step("smoke oak 20 s", house=BAR)
    assert isinstance(found, TypedStep)
    assert (found.kind, found.words, found.duration_s) == ("smoke", "oak", 20.0)
    assert parse_step("smoke oil 2 ml", house=BAR) is None


def test_carbonating_to_a_level() -> None:
    found = carbonation("carbonate to 7 g/l at 2 °C in crown bottle 200 ml, 3 fills")
    assert (found.co2_g_per_l, found.at_c, found.vessel, found.fills, found.over_kpa) == (
        7.0, 2.0, "crown-bottle-200", 3.0, None,
    )  # fmt: skip


@pytest.mark.parametrize(
    "text, kpa",
    [
        ("carbonate at 2.2 bar over", 220.0),
        ("carbonate at 220 kPa", 220.0),
        ("carbonate 2.2 bar gauge", 220.0),
        # NIST Special Publication 811, appendix B.8: 1 psi is 6.894 757 kPa; the standard atmosphere is 101.325 kPa.
        ("carbonate at 30 psi", 206.84271),
        ("carbonate at 320 kPa absolute", 218.675),
    ],
)
def test_a_pressure_is_typed_in_bar_kpa_or_psi(text: str, kpa: float) -> None:
    assert carbonation(text).over_kpa == pytest.approx(kpa, rel=1e-6)


def test_the_rest_of_carbonating() -> None:
    found = carbonation("carbonate 7 g/l 90 % reached, warmest 25 °C, opening loses 10 %, 2 h, keg, 19 l")
    assert (found.reached_pct, found.warmest_c, found.opening_loss_pct, found.duration_s, found.vessel) == (
        90.0, 25.0, 10.0, 7200.0, "keg-19",
    )  # fmt: skip


def test_a_vessel_that_the_house_does_not_have_is_refused_with_what_it_has() -> None:
    assert expected("carbonate 7 g/l in jug") == (
        "Expected a vessel of this house: crown bottle 200 ml, keg, 19 l."
    )


def test_below_the_atmosphere_is_no_pressure_to_carbonate_at() -> None:
    assert expected("carbonate at 50 kPa absolute") == EXPECTED_PRESSURE
    assert expected("carbonate 7 or 8") == EXPECTED_CARBONATION


@given(st.text(max_size=60))
def test_no_text_raises(text: str) -> None:
    for verb in ("", "stir ", "strain ", "rinse ", "express ", "carbonate ", "float ", "rim ", "chill "):
        found: Any = parse_step(verb + text, house=BAR)
        assert found is None or isinstance(found, TypedStep | ParseProblem)
