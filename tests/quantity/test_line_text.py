"""Pasted lines."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from washline.quantity.amount_text import UNIT_NOT_KNOWN, Basis, ParseProblem
from washline.quantity.formatting import NUMBER_STYLES
from washline.quantity.line_text import EXPECTED_LINE, LONGEST_LINE, TypedLine, parse_line, parse_lines

LINES: list[tuple[str, float, str | None, str, float]] = [
    ("45 ml dry gin", 45.0, "ml", "dry gin", 1.0),
    ("45ml dry gin", 45.0, "ml", "dry gin", 1.0),
    ("1½oz dry gin", 1.5, "oz", "dry gin", 1.0),
    ("1 1/2 oz dry gin", 1.5, "oz", "dry gin", 1.0),
    ("2 dashes bay tincture", 2.0, "dash", "bay tincture", 1.0),
    ("2 dashes of bay tincture", 2.0, "dash", "bay tincture", 1.0),
    ("a dash of bay tincture", 1.0, "dash", "bay tincture", 1.0),
    ("dash bay tincture", 1.0, "dash", "bay tincture", 1.0),
    ("Pinch of salt", 1.0, "pinch", "salt", 1.0),
    ("verjus 15", 15.0, None, "verjus", 1.0),
    ("verjus 15 ml", 15.0, "ml", "verjus", 1.0),
    ("verjus, 15 ml", 15.0, "ml", "verjus", 1.0),
    ("verjus: 15 ml", 15.0, "ml", "verjus", 1.0),
    ("verjus – 15 ml", 15.0, "ml", "verjus", 1.0),
    ("verjus (15 ml)", 15.0, "ml", "verjus", 1.0),
    ("verjus ..... 15 ml", 15.0, "ml", "verjus", 1.0),
    ("verjus 1 1/2 oz", 1.5, "oz", "verjus", 1.0),
    ("- 22.5 ml lemon juice x 2", 22.5, "ml", "lemon juice", 2.0),
    ("22.5 ml lemon juice ×2", 22.5, "ml", "lemon juice", 2.0),
    ("22.5 ml lemon juice (x2)", 22.5, "ml", "lemon juice", 2.0),
    ("2 x 45 ml dry gin", 45.0, "ml", "dry gin", 2.0),
    ("2x45 ml dry gin", 45.0, "ml", "dry gin", 2.0),
    ("• ½ oz verjus\t", 0.5, "oz", "verjus", 1.0),
    ("* 45 ml dry gin", 45.0, "ml", "dry gin", 1.0),
    ("1. 45 ml dry gin", 45.0, "ml", "dry gin", 1.0),
    ("2) 45 ml dry gin", 45.0, "ml", "dry gin", 1.0),
    ("[ ] 45 ml dry gin", 45.0, "ml", "dry gin", 1.0),
    ("45 ml; dry gin", 45.0, "ml", "dry gin", 1.0),
    ("45\tml\tdry gin", 45.0, "ml", "dry gin", 1.0),
    ("dry white vermouth\t60\tml\t59.6\t1.80", 60.0, "ml", "dry white vermouth", 1.0),
    ("dry white vermouth\t60\u202fml", 60.0, "ml", "dry white vermouth", 1.0),
    ("45 ml (1½ oz) dry gin", 45.0, "ml", "dry gin", 1.0),
    ("45 ml / 1½ oz dry gin", 45.0, "ml", "dry gin", 1.0),
    ("22.5 ml lemon juice x 0", 22.5, "ml", "lemon juice x 0", 1.0),
    ("dry gin\tcold\t45\tml", 45.0, "ml", "dry gin", 1.0),
    ("45 ml (dry) gin", 45.0, "ml", "(dry) gin", 1.0),
    ("1 leaf sorrel", 1.0, "leaf", "sorrel", 1.0),
    ("1 egg white", 1.0, None, "egg white", 1.0),
    ("22,5 ml jus", 22.5, "ml", "jus", 1.0),
    ("12 year rum 45 ml", 45.0, "ml", "12 year rum", 1.0),
    ("7-herb syrup 30 ml", 30.0, "ml", "7-herb syrup", 1.0),
    ("neutral spirit 96 160 g", 160.0, "g", "neutral spirit 96", 1.0),
    ("45 ml Vodka, 40 %", 45.0, "ml", "Vodka, 40 %", 1.0),
    ("2 Vodka, 40 %", 2.0, None, "Vodka, 40 %", 1.0),
    ("Dry gin, 47 % 45 ml", 45.0, "ml", "Dry gin, 47 %", 1.0),
    ("45 ml Old (malty) genever, 40 %", 45.0, "ml", "Old (malty) genever, 40 %", 1.0),
    ("45 ml rosé n° 5½", 45.0, "ml", "rosé n° 5½", 1.0),
    ("1,200 g pear", 1200.0, "g", "pear", 1.0),
]

SHARES: list[tuple[str, float, Basis, str | None, str]] = [
    ("sugar 42 % of yield", 42.0, "percent", "yield", "sugar"),
    ("sugar 60 % of line 1", 60.0, "percent", "line 1", "sugar"),
    ("42 % of the weighed yield sugar", 42.0, "percent", "weighed yield", "sugar"),
    ("60 % of line 1, sugar", 60.0, "percent", "line 1", "sugar"),
    ("0.2 % agar", 0.2, "percent", None, "agar"),
    ("2 % of salt", 2.0, "percent", None, "salt"),
    ("3 parts water", 3.0, "parts", None, "water"),
    ("3 parts of water", 3.0, "parts", None, "water"),
    ("water 3 parts", 3.0, "parts", None, "water"),
    ("top to 180 ml soda water", 180.0, "to_mark", None, "soda water"),
    ("soda water to 180 ml", 180.0, "to_mark", None, "soda water"),
    ("soda water, top to the wash line", 0.0, "wash_line", None, "soda water"),
    ("soda water top", 0.0, "wash_line", None, "soda water"),
    ("top soda water", 0.0, "wash_line", None, "soda water"),
    ("top with soda water", 0.0, "wash_line", None, "soda water"),
]


def line(text: str) -> TypedLine:
    found = parse_line(text)
    assert isinstance(found, TypedLine), found
    assert found.typed == text
    return found


def expected(text: str) -> str:
    found = parse_line(text)
    assert isinstance(found, ParseProblem), found
    assert found.text == text
    return found.expected


@pytest.mark.parametrize("text, number, unit, name, times", LINES)
def test_a_line_is_an_amount_and_a_name(
    text: str, number: float, unit: str | None, name: str, times: float
) -> None:
    found = line(text)
    assert (found.amount.number, found.amount.unit, found.name, found.multiplied_by) == (
        number,
        unit,
        name,
        times,
    )


@pytest.mark.parametrize("text, number, basis, of, name", SHARES)
def test_a_line_may_be_a_share_or_go_to_a_mark(
    text: str, number: float, basis: Basis, of: str | None, name: str
) -> None:
    found = line(text)
    assert (found.amount.number, found.amount.basis, found.amount.of, found.name) == (number, basis, of, name)


def test_topping_with_an_amount_of_something_is_that_amount() -> None:
    found = line("top soda water 60 ml")
    assert (found.amount.number, found.amount.basis, found.amount.tops) == (60.0, "absolute", True)
    assert found.name == "soda water"


@pytest.mark.parametrize("text", ["45 ml dry gin", "dry gin 45 ml", "• 45 ml dry gin x 2", "45\tml\tdry gin"])
def test_the_amount_of_a_line_keeps_only_its_own_text(text: str) -> None:
    assert line(text).amount.typed == "45 ml"


def test_the_typed_amount_of_a_share_says_of_what() -> None:
    assert line("42 % of the weighed yield sugar").amount.typed == "42 % of the weighed yield"


def test_a_doubtful_number_of_a_line_offers_its_other_reading() -> None:
    other = line("1,200 g pear").amount.alternative
    assert other is not None
    assert (other.number, other.typed) == (1.2, "1,200 g")


@pytest.mark.parametrize(
    "text, why",
    [
        ("dry gin", EXPECTED_LINE),
        ("45 ml", EXPECTED_LINE),
        ("lemon juice (x2)", EXPECTED_LINE),
        ("to taste", EXPECTED_LINE),
        ("•", EXPECTED_LINE),
        ("45 ml\t15 ml", EXPECTED_LINE),
        ("45 mll dry gin", UNIT_NOT_KNOWN),
        ("2 cups flour", UNIT_NOT_KNOWN),
        ("-5 ml dry gin", "An amount cannot be below zero."),
        ("1/0 oz dry gin", "A fraction cannot have 0 below the line."),
        ("9999999 ml dry gin", "An amount can be at most 1,000,000."),
    ],
)
def test_a_line_that_is_not_understood_says_what_was_expected(text: str, why: str) -> None:
    assert expected(text).endswith(why)


def test_a_text_of_several_lines_keeps_order_and_what_was_not_understood() -> None:
    found = parse_lines("45 ml dry gin\n\n  \r\nshake hard\n2 dashes bay tincture\n")
    assert [type(one).__name__ for one in found] == ["TypedLine", "ParseProblem", "TypedLine"]
    assert isinstance(found[1], ParseProblem)
    assert found[1].text == "shake hard"


def test_an_endless_line_is_refused_at_once() -> None:
    assert expected("45 ml " + " " * 100_000 + "x").endswith(EXPECTED_LINE)


@given(st.text(max_size=80), st.sampled_from(sorted(NUMBER_STYLES)))
def test_no_text_makes_the_reader_of_lines_raise(text: str, locale: str) -> None:
    for found in parse_lines(text, NUMBER_STYLES[locale]):
        if isinstance(found, TypedLine):
            assert found.name.strip() == found.name != ""
            assert found.multiplied_by > 0.0
        else:
            assert found.text in text


LINE_PIECES = [
    "45",
    "ml",
    "gin",
    "x 2",
    "- ",
    "\t",
    ";",
    "(",
    ")",
    "of",
    "%",
    "top",
    "to",
    "1/2",
    "½",
    "/",
    "oz",
    "2 x",
    "…",
]


@given(st.lists(st.sampled_from(LINE_PIECES), max_size=9), st.sampled_from(["", " "]))
def test_no_order_of_the_pieces_of_lines_makes_the_reader_raise(pieces: list[str], between: str) -> None:
    assert isinstance(parse_line(between.join(pieces)), TypedLine | ParseProblem)


@given(st.text(alphabet="gin vermouthé", min_size=1, max_size=20))
def test_amount_first_and_name_first_mean_the_same(words: str) -> None:
    name = " ".join(["dry", *words.split()])
    assume(not name.endswith(" to"))
    first, last = line(f"45 ml {name}"), line(f"{name} 45 ml")
    assert (first.amount, first.name) == (last.amount, last.name)


def test_the_longest_line_that_is_read_ends_at_its_limit() -> None:
    assert isinstance(parse_line("45 ml " + "g" * (LONGEST_LINE - 6)), TypedLine)


@pytest.mark.parametrize(
    "text, weight",
    [
        ("buy 1,333 g pear", "bought"),
        ("1,333 g pear as bought", "bought"),
        ("1,333 g pear, bought", "bought"),
        ("1,333 g pear trimmed", "trimmed"),
        ("1,333 g pear as used", "used"),
        ("1,333 g pear", ""),
    ],
)
def test_a_line_says_which_weight_of_produce_it_means(text: str, weight: str) -> None:
    found = parse_line(text)
    assert isinstance(found, TypedLine)
    assert (found.name, found.amount.number, found.weight) == ("pear", 1333.0, weight)


def test_what_was_bought_for_a_trimmed_weight_can_be_said() -> None:
    found = parse_line("1,200 g pear, trimmed (buy 1,333 g)")
    assert isinstance(found, TypedLine)
    assert (found.name, found.weight, found.bought_g) == ("pear", "trimmed", 1333.0)


@pytest.mark.parametrize("text, degrees", [("180 g water at 80 °C", 80.0), ("180 g water at 176 F", 80.0)])
def test_how_warm_it_goes_in_can_be_said(text: str, degrees: float) -> None:
    found = parse_line(text)
    assert isinstance(found, TypedLine)
    assert (found.name, found.temperature_c) == ("water", pytest.approx(degrees))


def test_a_place_behind_at_stays_part_of_the_name() -> None:
    found = parse_line("45 ml gin at home")
    assert isinstance(found, TypedLine)
    assert (found.name, found.temperature_c) == ("gin at home", None)
