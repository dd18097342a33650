"""Amounts as people type them."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.amount_text import (
    EXPECTED_AMOUNT,
    EXPECTED_MARK,
    NO_RANGE,
    NOT_BELOW_ZERO,
    NOT_SO_LARGE,
    STRENGTH,
    UNIT_NOT_KNOWN,
    Basis,
    ParseProblem,
    TypedAmount,
    parse_amount,
    unit_of,
)
from washline.quantity.formatting import ENGLISH_STYLE, NUMBER_STYLES, format_amount
from washline.quantity.unit_names import UNITS

TYPED: list[tuple[str, float, str | None]] = [
    ("1 1/2 oz", 1.5, "oz"),
    ("1½oz", 1.5, "oz"),
    ("1½ oz", 1.5, "oz"),
    ("¾oz", 0.75, "oz"),
    (".75 oz", 0.75, "oz"),
    ("3/4 oz.", 0.75, "oz"),
    ("2 ounces", 2.0, "oz"),
    ("1 ounce", 1.0, "oz"),
    ("2 fl oz", 2.0, "oz"),
    ("2 fl. oz.", 2.0, "oz"),
    ("2 FLUID OUNCES", 2.0, "oz"),
    ("2floz", 2.0, "oz"),
    ("2 US fl oz", 2.0, "US fl oz"),
    ("2 imperial oz", 2.0, "imp fl oz"),
    ("half oz", 0.5, "oz"),
    ("half an ounce", 0.5, "oz"),
    ("45", 45.0, None),
    ("22,5", 22.5, None),
    ("45 ml", 45.0, "ml"),
    ("45ml", 45.0, "ml"),
    ("45 ML", 45.0, "ml"),
    ("45 mL", 45.0, "ml"),
    ("45\u202fml", 45.0, "ml"),
    ("45\u00a0ml", 45.0, "ml"),
    ("45 ml.", 45.0, "ml"),
    (" 45 ml ", 45.0, "ml"),
    ("45 millilitres", 45.0, "ml"),
    ("45 milliliters", 45.0, "ml"),
    ("45 mls", 45.0, "ml"),
    ("45 cc", 45.0, "ml"),
    ("45ｍｌ", 45.0, "ml"),
    ("45㎖", 45.0, "ml"),
    ("22.5 ml", 22.5, "ml"),
    ("3 cl", 3.0, "cl"),
    ("4,5 cl", 4.5, "cl"),
    ("3 centilitres", 3.0, "cl"),
    ("1 dl", 1.0, "dl"),
    ("2 decilitres", 2.0, "dl"),
    ("1 L", 1.0, "l"),
    ("½ l", 0.5, "l"),
    ("1.5 litres", 1.5, "l"),
    ("2 liters", 2.0, "l"),
    ("200g", 200.0, "g"),
    ("380.1 g", 380.1, "g"),
    ("12 grams", 12.0, "g"),
    ("12 gr", 12.0, "g"),
    ("1 gramme", 1.0, "g"),
    ("2 kg", 2.0, "kg"),
    ("1.2 kilos", 1.2, "kg"),
    ("1 dash", 1.0, "dash"),
    ("2 dashes", 2.0, "dash"),
    ("a dash", 1.0, "dash"),
    ("two dashes", 2.0, "dash"),
    ("½ dash", 0.5, "dash"),
    ("4 drops", 4.0, "drop"),
    ("1 drop", 1.0, "drop"),
    ("1 bsp", 1.0, "barspoon"),
    ("2 barspoons", 2.0, "barspoon"),
    ("2 bar spoons", 2.0, "barspoon"),
    ("1 tsp", 1.0, "teaspoon"),
    ("2 teaspoons", 2.0, "teaspoon"),
    ("1 tbsp", 1.0, "tablespoon"),
    ("1 tablespoon", 1.0, "tablespoon"),
    ("3 pcs", 3.0, "piece"),
    ("1 piece", 1.0, "piece"),
    ("17 pieces", 17.0, "piece"),
    ("1 pinch", 1.0, "pinch"),
    ("2 pinches", 2.0, "pinch"),
    ("1 splash", 1.0, "splash"),
    ("1 leaf", 1.0, "leaf"),
    ("3 leaves", 3.0, "leaf"),
    ("1 strip", 1.0, "strip"),
    ("2 cubes", 2.0, "cube"),
    ("1 slice", 1.0, "slice"),
    ("1 tip", 1.0, "tip"),
    ("1 die", 1.0, "die"),
    ("2 twists", 2.0, "twist"),
    ("3 sprays", 3.0, "spray"),
    ("1 200 g", 1200.0, "g"),
    ("1,200.5 g", 1200.5, "g"),
    ("١٥ ml", 15.0, "ml"),
    ("１５ ml", 15.0, "ml"),
    ("0 ml", 0.0, "ml"),
    ("1000000 g", 1e6, "g"),
]

SHARED: list[tuple[str, float, Basis, str | None]] = [
    ("30%", 30.0, "percent", None),
    ("30 %", 30.0, "percent", None),
    ("30\u202f%", 30.0, "percent", None),
    ("0,2 %", 0.2, "percent", None),
    ("30 percent", 30.0, "percent", None),
    ("30 per cent", 30.0, "percent", None),
    ("30％", 30.0, "percent", None),
    ("2 % of vessel", 2.0, "percent", "vessel"),
    ("2 % of what is in the vessel", 2.0, "percent", "what is in the vessel"),
    ("42 % of yield", 42.0, "percent", "yield"),
    ("42 % of the weighed yield", 42.0, "percent", "weighed yield"),
    ("60% of line 1", 60.0, "percent", "line 1"),
    ("60 % of pear", 60.0, "percent", "pear"),
    ("100 % of lines 1-2", 100.0, "percent", "lines 1-2"),
    ("42%of yield", 42.0, "percent", "yield"),
    ("3 parts", 3.0, "parts", None),
    ("1 part", 1.0, "parts", None),
    ("1 part by weight", 1.0, "parts", None),
    ("4 parts of salt", 4.0, "parts", "salt"),
    ("4 parts by weight of the salt", 4.0, "parts", "salt"),
]

MARKED: list[tuple[str, float, str | None]] = [
    ("top to 180 ml", 180.0, "ml"),
    ("top up to 180 ml", 180.0, "ml"),
    ("fill to 18 cl", 18.0, "cl"),
    ("to 1 L", 1.0, "l"),
    ("to 180", 180.0, None),
    ("to 1,000 g", 1000.0, "g"),
    ("to 6 oz", 6.0, "oz"),
    ("to 42 %", 42.0, "%"),
]

TO_THE_WASH_LINE = [
    "to the wash line",
    "to wash line",
    "top to wash line",
    "top to the wash line",
    "Top up to the washline",
    "wash line",
    "wash-line",
    "top",
    "top up",
]


def amount(text: str, locale: str = "en_US") -> TypedAmount:
    found = parse_amount(text, NUMBER_STYLES[locale])
    assert isinstance(found, TypedAmount), found
    return found


def expected(text: str) -> str:
    found = parse_amount(text)
    assert isinstance(found, ParseProblem), found
    assert found.text == text
    return found.expected


@pytest.mark.parametrize("text, number, unit", TYPED)
def test_an_absolute_amount_is_read_as_typed(text: str, number: float, unit: str | None) -> None:
    assert amount(text) == TypedAmount(number, unit, "absolute", text.strip())


@pytest.mark.parametrize("text, number, basis, of", SHARED)
def test_a_share_keeps_what_it_is_a_share_of(text: str, number: float, basis: Basis, of: str | None) -> None:
    found = amount(text)
    assert (found.number, found.basis, found.of) == (number, basis, of)
    assert found.unit == {"percent": "%", "parts": "parts"}[basis]


@pytest.mark.parametrize("text, number, unit", MARKED)
def test_an_amount_to_a_mark_is_read_as_typed(text: str, number: float, unit: str | None) -> None:
    found = amount(text, "de_DE" if "," not in text else "en_US")
    assert (found.number, found.unit, found.basis) == (number, unit, "to_mark")


@pytest.mark.parametrize("text", TO_THE_WASH_LINE)
def test_the_wash_line_needs_no_number(text: str) -> None:
    assert (amount(text).basis, amount(text).number, amount(text).unit) == ("wash_line", 0.0, None)


def test_topping_with_an_amount_adds_it_and_offers_the_mark() -> None:
    found = amount("top 45 ml")
    assert (found.number, found.unit, found.basis, found.tops) == (45.0, "ml", "absolute", True)
    assert found.alternative is not None
    assert (found.alternative.number, found.alternative.basis) == (45.0, "to_mark")


def test_topping_with_a_doubtful_number_offers_its_other_reading_first() -> None:
    found = amount("top 1,200 ml")
    assert found.alternative is not None
    assert (found.number, found.alternative.number, found.alternative.basis) == (1200.0, 1.2, "absolute")


def test_topping_with_a_bare_number_leaves_the_unit_to_the_line() -> None:
    assert (amount("top 45").number, amount("top 45").unit) == (45.0, None)


def test_topping_to_a_mark_says_that_it_tops() -> None:
    assert amount("top to 180 ml").tops
    assert not amount("to 180 ml").tops


@pytest.mark.parametrize(
    "text, locale, number, other",
    [
        ("1,200 g", "en_US", 1200.0, 1.2),
        ("1,200 g", "de_DE", 1.2, 1200.0),
        ("1.200 g", "de_DE", 1200.0, 1.2),
        ("1.200 g", "en_US", 1.2, 1200.0),
        ("1.200 g", "fr_FR", 1.2, 1200.0),
        ("1,200 g", "sv_SE", 1.2, 1200.0),
    ],
)
def test_the_other_reading_of_a_doubtful_number_is_a_whole_amount(
    text: str, locale: str, number: float, other: float
) -> None:
    found = amount(text, locale)
    assert found.number == number
    assert found.alternative == TypedAmount(other, "g", "absolute", text)


def test_the_other_reading_of_a_share_keeps_what_it_is_a_share_of() -> None:
    found = amount("1.200 % of line 1", "de_DE")
    assert found.alternative is not None
    assert (found.number, found.alternative.number, found.alternative.of) == (1200.0, 1.2, "line 1")


@pytest.mark.parametrize(
    "text, why",
    [
        ("", EXPECTED_AMOUNT),
        ("ml", EXPECTED_AMOUNT),
        ("45 ml gin", EXPECTED_AMOUNT),
        ("45 50", EXPECTED_AMOUNT),
        ("one", EXPECTED_AMOUNT),
        ("-5 ml", NOT_BELOW_ZERO),
        ("\u22125 ml", NOT_BELOW_ZERO),
        ("to -5 ml", NOT_BELOW_ZERO),
        ("top -5 ml", NOT_BELOW_ZERO),
        ("inf ml", "A number has to be finite."),
        ("nan", "A number has to be finite."),
        ("1/0 oz", "A fraction cannot have 0 below the line."),
        ("9999999 ml", NOT_SO_LARGE),
        ("to 9999999 ml", NOT_SO_LARGE),
        ("20-25 ml", NO_RANGE),
        ("20 to 25 ml", NO_RANGE),
        ("20–25 ml", NO_RANGE),
        ("40 % vol", STRENGTH),
        ("to 50 °Bx", EXPECTED_MARK),
        ("to 20 % vol", EXPECTED_MARK),
        ("to 5 dashes", EXPECTED_MARK),
        ("to 3 parts", EXPECTED_MARK),
        ("to pH 3.5", EXPECTED_MARK),
        ("30 % sugar", "Expected a share, such as 30 %, 42 % of line 1 or 3 parts."),
    ],
)
def test_a_text_that_is_no_amount_says_what_was_expected(text: str, why: str) -> None:
    assert expected(text).endswith(why)


@pytest.mark.parametrize(
    "text", ["45 mll", "10 mll", "2 cups", "1 jigger", "3 m", "5 of line 1", "1e5 ml", "2 oz²"]
)
def test_an_unknown_unit_is_answered_with_the_units_that_are_known(text: str) -> None:
    assert expected(text) == UNIT_NOT_KNOWN


def test_the_words_for_an_unknown_unit_are_those_of_the_design() -> None:
    assert expected("10 mll") == "unit not known: ml, cl, oz, g, dash, drop, %"


def test_the_words_for_a_text_that_is_no_amount_name_the_text() -> None:
    assert (
        expected("45 ml gin") == "“45 ml gin” is not an amount. Expected a number and a unit, such as 45 ml."
    )


def test_a_long_text_is_shortened_in_its_message_and_kept_whole_beside_it() -> None:
    text = "gin " * 100
    assert expected(text) == f"“{'gin ' * 9}gin…” is not an amount. {EXPECTED_AMOUNT}"


@given(st.text(max_size=60), st.sampled_from(sorted(NUMBER_STYLES)))
def test_no_text_makes_the_parser_raise(text: str, locale: str) -> None:
    found = parse_amount(text, NUMBER_STYLES[locale])
    assert isinstance(found, TypedAmount | ParseProblem)
    if isinstance(found, ParseProblem):
        assert found.text == text
        assert "\n" not in found.expected
        assert "invalid" not in found.expected.replace(text, "")


AMOUNT_PIECES = [
    "top",
    "to",
    "the",
    "wash line",
    "of",
    "line 1",
    "%",
    "ml",
    "oz",
    "dash",
    "1",
    "½",
    "1/0",
    "-",
    ",",
    "g",
]


@given(st.lists(st.sampled_from(AMOUNT_PIECES), max_size=7), st.sampled_from(["", " "]))
def test_no_order_of_the_words_of_amounts_makes_the_parser_raise(pieces: list[str], between: str) -> None:
    assert isinstance(parse_amount(between.join(pieces)), TypedAmount | ParseProblem)


@given(
    st.integers(0, 10**8).map(lambda hundredths: hundredths / 100),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from(sorted(NUMBER_STYLES)),
)
def test_every_amount_that_is_shown_reads_back(number: float, unit: str, locale: str) -> None:
    style = NUMBER_STYLES[locale]
    found = parse_amount(format_amount(number, unit, style), style)
    assert isinstance(found, TypedAmount)
    assert (found.number, found.unit) == (number, unit)


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_word_of_a_unit_is_read_as_that_unit(unit: str) -> None:
    for word in UNITS[unit].all_words():
        assert amount(f"2 {word}").unit == unit
        assert amount(f"2{word.upper()}").unit == unit


def test_no_word_stands_for_two_units() -> None:
    words = [{word.casefold().replace(" ", "") for word in unit.all_words()} for unit in UNITS.values()]
    assert sum(map(len, words)) == len(set.union(*words))


def test_a_bare_number_has_no_unit_record() -> None:
    assert unit_of(amount("45")) is None
    assert unit_of(amount("45 g")) == UNITS["g"]


def test_a_typed_amount_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        amount("45 ml").number = 50.0  # type: ignore[misc]


def test_without_a_locale_numbers_are_read_as_in_english() -> None:
    assert parse_amount("1,200 g") == parse_amount("1,200 g", ENGLISH_STYLE)
