"""Steps written as one line: each line of the grammar, °F, decimal comma, and what is said of what is not understood."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import NUMBER_STYLES, NumberStyle
from washline.quantity.goal_line import EXPECTED_GOAL, EXPECTED_PORTIONS, parse_portions
from washline.quantity.measure_line import ACIDITY_BY_WEIGHT, EXPECTED_MEASUREMENT
from washline.quantity.step_line import (
    EXPECTED_EVAPORATION,
    EXPECTED_FERMENT,
    EXPECTED_INFUSION,
    EXPECTED_TAKE,
    NOTHING_HELD,
    parse_infusion,
    parse_step,
)
from washline.quantity.strain_line import EXPECTED_STRAIN, STRAIN_WAYS
from washline.quantity.typed_step import (
    TypedAdjustment,
    TypedEvaporation,
    TypedFerment,
    TypedInfusion,
    TypedMeasurement,
    TypedPortion,
    TypedStep,
    TypedStrain,
    TypedTake,
    TypedWash,
)

GERMAN = NumberStyle(",", ".")
HOUR, DAY = 3600.0, 86_400.0


def infusion(text: str, style: NumberStyle | None = None) -> TypedInfusion:
    found = parse_step(text, style) if style else parse_step(text)
    assert isinstance(found, TypedInfusion), found
    return found


def strain(text: str) -> TypedStrain:
    found = parse_step(text)
    assert isinstance(found, TypedStrain), found
    return found


def evaporation(text: str) -> TypedEvaporation:
    found = parse_step(text)
    assert isinstance(found, TypedEvaporation), found
    return found


def ferment(text: str) -> TypedFerment:
    found = parse_step(text)
    assert isinstance(found, TypedFerment), found
    return found


def adjustment(text: str) -> TypedAdjustment:
    found = parse_step(text)
    assert isinstance(found, TypedAdjustment), found
    return found


def measurement(text: str) -> TypedMeasurement:
    found = parse_step(text)
    assert isinstance(found, TypedMeasurement), found
    return found


def expected(text: str) -> str:
    found = parse_step(text)
    assert isinstance(found, ParseProblem), found
    return found.expected


@pytest.mark.parametrize(
    "text",
    [
        "infuse 20 g bay leaf 48 h at 20 C",
        "infuse bay leaf 20 g, 48 h, 20 °C",
        "steep 20 g bay leaf for 2 days at 68 F",
    ],
)
def test_an_infusion_is_an_amount_a_name_a_time_and_a_temperature(text: str) -> None:
    found = infusion(text)
    assert (found.line.name, found.line.amount.number, found.line.amount.unit) == ("bay leaf", 20.0, "g")
    assert found.duration_s == 48 * HOUR
    assert found.low_c == pytest.approx(20.0)


def test_nothing_needs_a_space_that_is_plain_without_it() -> None:
    found = infusion("infuse 60g samphire 6 h 4°C")
    assert (found.line.name, found.line.amount.number, found.duration_s, found.low_c) == (
        "samphire",
        60.0,
        6 * HOUR,
        4.0,
    )


def test_a_decimal_comma_is_one_in_every_number() -> None:
    found = infusion("infuse 22,5 g bay leaf 1,5 h at 4,5 °C", GERMAN)
    assert (found.line.amount.number, found.duration_s, found.low_c) == (22.5, 1.5 * HOUR, 4.5)


def test_an_infusion_may_say_what_it_gives() -> None:
    found = infusion(
        "infuse 60 g samphire 6 h, gives 60 % of its salt, half of its water, none of its sugars"
    )
    assert found.given_pct == {"salt": 60.0, "water": 50.0, "sugars": 0.0}
    assert found.line.name == "samphire"


def test_which_weight_is_meant_goes_with_an_infusion_too() -> None:
    assert infusion("infuse 60 g fennel as bought 2 h").line.weight == "bought"


def test_an_infusion_without_its_word_is_read_where_one_is_asked_for() -> None:
    found = parse_infusion("20 g bay leaf 48 h at 20 °C")
    assert isinstance(found, TypedInfusion)
    assert found.line.name == "bay leaf"


@pytest.mark.parametrize(
    "text, kind, words",
    [
        ("muddle 6 leaves of mint", "muddle", "6 leaves of mint"),
        ("note cut 48, interleave paper", "note", "cut 48, interleave paper"),
        ("blend high 90 s", "blend", "high"),
        ("rest covered, 4 °C, 24 h, stir twice", "rest", "covered, stir twice"),
    ],
)
def test_words_are_kept_as_words(text: str, kind: str, words: str) -> None:
    found = parse_step(text)
    assert isinstance(found, TypedStep)
    assert (found.kind, found.words) == (kind, words)


def test_a_range_of_temperatures_keeps_both_ends() -> None:
    found = parse_step("rest 45 min at 35-40 °C")
    assert isinstance(found, TypedStep)
    assert (found.duration_s, found.low_c, found.high_c) == (2700.0, 35.0, 40.0)


@pytest.mark.parametrize(
    "text, seconds", [("rest 1 h 30", 5400.0), ("rest 2-3 h", 10_800.0), ("rest 8 h 30 min", 30_600.0)]
)
def test_a_time_of_parts_or_a_range_is_one_time(text: str, seconds: float) -> None:
    found = parse_step(text)
    assert isinstance(found, TypedStep)
    assert found.duration_s == seconds


@pytest.mark.parametrize(
    "text, washes",
    [
        ("wash fat", "fat"),
        ("fat wash", "fat"),
        ("butter wash", "fat"),
        ("milk wash", "milk"),
        ("wash with milk", "milk"),
    ],
)
def test_a_wash_is_with_fat_or_with_milk(text: str, washes: str) -> None:
    found = parse_step(f"{text} 4 h at 20 °C")
    assert isinstance(found, TypedWash)
    assert (found.washes, found.duration_s, found.low_c) == (washes, 4 * HOUR, 20.0)


@pytest.mark.parametrize(
    "text, way, grams",
    [
        ("strain through paper 905 g", "paper", 905.0),
        ("clarify with agar 860 g", "agar", 860.0),
        ("spin 905 g", "spin", 905.0),
        ("spin 15 min to 905 g", "spin", 905.0),
        ("strain through a nut bag 1.27 kg", "cloth", 1270.0),
        ("fine strain 751 g weighed", "fine", 751.0),
        ("freeze-thaw 600 g", "freeze-thaw", 600.0),
        ("skim 622 g", "skim", 622.0),
        ("strain 406 g", "", 406.0),
    ],
)
def test_a_strain_says_its_way_and_what_was_weighed(text: str, way: str, grams: float) -> None:
    found = strain(text)
    assert (found.way, found.weighed_g) == (way, grams)


@pytest.mark.parametrize("text", ["press 70 % 62-76", "press 70 % (62–76 %)", "press 70 %, 62 to 76 %"])
def test_a_strain_says_what_is_expected(text: str) -> None:
    found = strain(text)
    assert (found.expected_pct, found.low_pct, found.high_pct, found.weighed_g) == (70.0, 62.0, 76.0, None)


def test_of_a_range_alone_the_middle_is_expected() -> None:
    assert strain("press 60-76 %").expected_pct == 68.0


def test_a_strain_may_name_and_weigh_what_it_leaves() -> None:
    found = strain("spin 905 g leaving spent pear 405.9 g")
    assert (found.weighed_g, found.leftover, found.leftover_g) == (905.0, "spent pear", 405.9)


@pytest.mark.parametrize("words, key", STRAIN_WAYS.items())
def test_every_word_for_a_way_names_it(words: str, key: str) -> None:
    assert strain(f"strain with {words} 905 g").way == key


def test_a_reduction_goes_to_a_weight_a_share_or_a_reading() -> None:
    assert evaporation("reduce to 400 g").final_g == 400.0
    assert evaporation("reduce to 68 % of its mass").final_pct == 68.0
    assert evaporation("reduce to 50 °Bx").final_brix == 50.0
    assert evaporation("reduce to 50 brix").final_brix == 50.0


def test_heating_has_words_a_time_and_an_end() -> None:
    found = evaporation("heat simmer 20 min to 1,000 g")
    assert (found.kind, found.words, found.duration_s, found.final_g) == ("heat", "simmer", 1200.0, 1000.0)
    assert isinstance(found.alternative, TypedEvaporation)
    assert found.alternative.final_g == 1.0


def test_what_stays_of_the_alcohol_can_be_said() -> None:
    found = evaporation("simmer 30 min, lid ajar, to 1045 g, keeps 35 % of the alcohol")
    assert (found.words, found.ethanol_kept_pct, found.final_g) == ("simmer lid ajar", 35.0, 1045.0)


def test_degrees_fahrenheit_are_read_as_such() -> None:
    assert evaporation("heat 2 min at 212 °F").low_c == pytest.approx(100.0)


def test_drying_is_a_step_only_where_a_manner_of_drying_follows() -> None:
    found = evaporation("dry 65 °C 6 h to 42 %")
    assert (found.low_c, found.duration_s, found.final_pct) == (65.0, 6 * HOUR, 42.0)
    assert parse_step("dry gin 45 ml") is None
    assert parse_step("dry white vermouth") is None


def test_a_ferment_says_what_was_measured() -> None:
    found = ferment("ferment lactic 6 days 18-20 °C to pH 3.5")
    assert (found.ferments, found.duration_s, found.low_c, found.high_c, found.final_ph) == (
        "lactic",
        6 * DAY,
        18.0,
        20.0,
        3.5,
    )
    assert ferment("ferment yeast 4 g gas").gas_lost_g == 4.0
    assert ferment("ferment yeast 4 g CO2 to 3.2 °Bx").final_brix == 3.2


def test_a_ferment_says_when_it_is_thrown_away() -> None:
    found = ferment("ferment lactic to 0.73 % acidity, discard above pH 4.2 on day 4")
    assert (found.final_acidity_pct, found.discard_above_ph, found.discard_on_day) == (0.73, 4.2, 4.0)
    assert found.final_ph is None


@pytest.mark.parametrize(
    "text, goal, value",
    [
        ("sugar to 50 °Bx", "brix", 50.0),
        ("sugar to 50 brix", "brix", 50.0),
        ("water to 60 % vol", "strength", 60.0),
        ("water to 60 % abv", "strength", 60.0),
        ("citric to 6 % acidity", "acidity", 6.0),
        ("salt to 2 %", "salt", 2.0),
        ("saline to 2 % salt", "salt", 2.0),
        ("adjust sugar up to 50 °Bx", "brix", 50.0),
    ],
)
def test_an_adjustment_is_known_by_the_reading_it_reaches(text: str, goal: str, value: float) -> None:
    found = adjustment(text)
    assert (found.goal, found.value, found.is_by_volume) == (goal, value, False)


def test_an_acidity_can_be_meant_by_volume() -> None:
    assert adjustment("citric to 0.6 % acidity by volume").is_by_volume
    assert adjustment("citric to 0.6 g/100 ml acidity").is_by_volume


@pytest.mark.parametrize(
    "text", ["citric + malic 2:3", "2 citric + 3 malic", "2 parts citric and 3 parts malic"]
)
def test_several_are_added_in_parts_by_weight(text: str) -> None:
    assert adjustment(f"{text} to 6 % acidity").portions == (
        TypedPortion("citric", 2.0),
        TypedPortion("malic", 3.0),
    )
    assert parse_portions(text) == (TypedPortion("citric", 2.0), TypedPortion("malic", 3.0))


def test_an_adjustment_can_be_to_be_like_an_item() -> None:
    found = adjustment("citric + malic 2:3 as sour as lime juice")
    assert (found.goal, found.like, found.value, len(found.portions)) == ("acidity", "lime juice", None, 2)


def test_what_is_as_sour_as_an_item_may_leave_open_by_what() -> None:
    assert adjustment("juice as sour as lime juice").portions == ()
    assert adjustment("as sour as lime juice").portions == ()


@pytest.mark.parametrize(
    "text, quantity, value, instrument",
    [
        ("measure 6.6 °Bx", "brix", 6.6, ""),
        ("refractometer 6.6", "brix", 6.6, "refractometer"),
        ("measure pH 3.5 strip", "ph", 3.5, "strip"),
        ("pH 3.5", "ph", 3.5, ""),
        ("titration 0.70", "acidity", 0.7, "titration"),
        ("titration 0.70 %", "acidity", 0.7, "titration"),
        ("measure 905 g", "mass", 905.0, ""),
        ("measure 1.2 kg", "mass", 1200.0, ""),
        ("measure 840 ml", "volume", 840.0, ""),
        ("hydrometer 1.046", "density", 1.046, "hydrometer"),
        ("measure 1046 g/l", "density", 1.046, ""),
        ("measure 65.4 % vol", "strength", 65.4, ""),
    ],
)
def test_a_measurement_is_known_by_its_unit_or_its_instrument(
    text: str, quantity: str, value: float, instrument: str
) -> None:
    found = measurement(text)
    assert (found.quantity, found.value, found.instrument) == (quantity, pytest.approx(value), instrument)


def test_a_measurement_may_bring_its_uncertainty() -> None:
    found = measurement("measure 6.6 °Bx ± 0.1 refractometer")
    assert (found.uncertainty, found.instrument) == (0.1, "refractometer")
    assert measurement("pH 3.5 +/- 0.3").uncertainty == 0.3


def test_a_take_may_name_what_is_set_aside() -> None:
    found = parse_step("take 160 g lemon peel")
    assert isinstance(found, TypedTake)
    assert (found.amount.number, found.amount.unit, found.leftover) == (160.0, "g", "lemon peel")


@pytest.mark.parametrize(
    "text, why",
    [
        ("infuse", EXPECTED_INFUSION),
        ("infuse bay leaf", EXPECTED_INFUSION),
        ("wash", NOTHING_HELD),
        ("strain 905", EXPECTED_STRAIN),
        ("press 70 % 76-62", EXPECTED_STRAIN),
        ("press 170 %", EXPECTED_STRAIN),
        ("reduce to 50 moons", EXPECTED_EVAPORATION),
        ("reduce to 400 g to 50 °Bx", EXPECTED_EVAPORATION),
        ("ferment 6", EXPECTED_FERMENT),
        ("water to 60 %", EXPECTED_GOAL),
        ("adjust sugar", EXPECTED_GOAL),
        ("citric + malic 2:3:4 to 6 % acidity", EXPECTED_PORTIONS),
        ("measure", EXPECTED_MEASUREMENT),
        ("measure 12", EXPECTED_MEASUREMENT),
        ("titration 0.73 g/100 ml", ACIDITY_BY_WEIGHT),
        ("take some", EXPECTED_TAKE),
    ],
)
def test_what_is_not_understood_says_what_was_expected(text: str, why: str) -> None:
    assert expected(text) == why


@pytest.mark.parametrize(
    "text",
    [
        "45 ml dry gin",
        "soda to 180 ml",
        "42 % of line 1 sugar",
        "top to the wash line",
        "",
        "   ",
        "pressed apple 20 ml",
    ],
)
def test_a_line_is_no_step(text: str) -> None:
    assert parse_step(text) is None


PIECES = [
    *("infuse ", "strain ", "to ", "at ", "20 g", " °C", "°Bx", "% vol", "pH", "+", ":", "1,333", "½", "-"),
    *(
        "as sour as ",
        "gives ",
        "ferment ",
        "measure ",
        "leaving ",
        "70 % 62-76",
        "2:3",
        " ",
        "bay",
        "±",
        "keeps",
    ),
    *("\u202f", "(", ")"),
]


@given(
    st.lists(st.one_of(st.sampled_from(PIECES), st.text(max_size=6)), max_size=10).map("".join),
    st.sampled_from(sorted(NUMBER_STYLES)),
)
def test_no_text_makes_the_reader_of_steps_raise_or_read_no_number(text: str, locale: str) -> None:
    found = parse_step(text, NUMBER_STYLES[locale])
    if isinstance(found, ParseProblem):
        assert found.expected
    if isinstance(found, TypedMeasurement):
        assert math.isfinite(found.value)
