"""What a text typed into a cell means, for every kind of step and every way to write an amount."""

import pytest

from tests.presentation.small_house import (
    CORDIAL,
    DRYING,
    ICE,
    LEAF_LINE,
    LEATHER,
    MALIC_LINE,
    PEAR_LINE,
    RESTING,
    SIGNAL,
    SODA_LINE,
    SPIN,
    SUGAR_LINE,
    VERMOUTH_LINE,
    house,
)
from washline.model.amount import Amount, Basis
from washline.model.step import Chill, Dry, Rest, Strain
from washline.quantity.formatting import NumberStyle
from washline.ui.build.edits import amount_edit, leftover_edit, step_size, stepped
from washline.ui.build.meaning import NotUnderstood, Understood

GERMAN = NumberStyle(",", ".")


def amount_after(build_id: int, step_id: int, text: str, style: NumberStyle | None = None) -> Amount:
    book = house()
    edit = (
        amount_edit(book, build_id, step_id, text, style)
        if style
        else amount_edit(book, build_id, step_id, text)
    )
    assert isinstance(edit, Understood), edit
    amount = edit.command(book).step(build_id, step_id).amount  # type: ignore[union-attr]
    assert isinstance(amount, Amount)
    return amount


def step_after(build_id: int, step_id: int, text: str) -> object:
    book = house()
    edit = amount_edit(book, build_id, step_id, text)
    assert isinstance(edit, Understood), edit
    return edit.command(book).step(build_id, step_id)


def expected(build_id: int, step_id: int, text: str) -> str:
    edit = amount_edit(house(), build_id, step_id, text)
    assert isinstance(edit, NotUnderstood), edit
    return edit.expected


@pytest.mark.parametrize(
    "text, number, unit",
    [
        ("45", 45.0, "ml"),
        ("45 ml", 45.0, "ml"),
        ("3 cl", 3.0, "cl"),
        ("1 1/2 oz", 1.5, "oz"),
        ("1½oz", 1.5, "oz"),
        (".75 oz", 0.75, "oz"),
        ("2 dashes", 2.0, "dash"),
        ("200g", 200.0, "g"),
        ("0,5 l", 0.5, "l"),
    ],
)
def test_amounts_are_read_as_people_write_them(text: str, number: float, unit: str) -> None:
    amount = amount_after(SIGNAL, VERMOUTH_LINE, text)
    assert (amount.number, amount.unit, amount.basis) == (number, unit, Basis.ABSOLUTE)


def test_a_decimal_comma_is_read_as_one() -> None:
    assert amount_after(SIGNAL, VERMOUTH_LINE, "22,5 ml", GERMAN).number == 22.5


def test_a_bare_number_on_a_share_keeps_what_it_is_a_share_of() -> None:
    amount = amount_after(CORDIAL, SUGAR_LINE, "40")
    assert (amount.number, amount.unit, amount.basis, amount.of) == (
        40.0,
        "%",
        Basis.PERCENT_OF_LINES,
        (SPIN,),
    )


def test_a_percent_on_a_share_keeps_what_it_is_a_share_of() -> None:
    assert amount_after(CORDIAL, SUGAR_LINE, "40 %").of == (SPIN,)


def test_a_percent_of_nothing_named_is_of_the_vessel() -> None:
    amount = amount_after(CORDIAL, MALIC_LINE, "2 %")
    assert (amount.basis, amount.of) == (Basis.PERCENT_OF_VESSEL, ())


@pytest.mark.parametrize(
    "text, of",
    [("42 % of line 1", (PEAR_LINE,)), ("42 % of lines 1-2", (PEAR_LINE, MALIC_LINE)), ("42 % of the yield", (SPIN,)),
     ("42 % of weighed", (SPIN,)), ("42 % of malic acid", (MALIC_LINE,))],
)  # fmt: skip
def test_a_share_names_the_line_it_is_of(text: str, of: tuple[int, ...]) -> None:
    amount = amount_after(CORDIAL, SUGAR_LINE, text)
    assert (amount.number, amount.of) == (42.0, of)


def test_a_share_of_a_line_further_down_is_not_understood() -> None:
    assert "no such line above" in expected(CORDIAL, PEAR_LINE, "42 % of line 3")


def test_parts_are_of_the_first_line() -> None:
    amount = amount_after(CORDIAL, SUGAR_LINE, "3 parts")
    assert (amount.basis, amount.of) == (Basis.PARTS, (PEAR_LINE,))


@pytest.mark.parametrize(
    "text, basis, number",
    [
        ("to 180 ml", Basis.TO_VOLUME, 180.0),
        ("to 200 g", Basis.TO_MASS, 200.0),
        ("to the wash line", Basis.TO_WASH_LINE, 0.0),
    ],
)
def test_a_line_goes_up_to_a_mark(text: str, basis: Basis, number: float) -> None:
    amount = amount_after(SIGNAL, SODA_LINE, text)
    assert (amount.basis, amount.number) == (basis, number)


def test_a_part_has_no_wash_line() -> None:
    assert expected(CORDIAL, SUGAR_LINE, "to the wash line") == "Only a drink has a wash line."


def test_a_garnish_is_no_share_and_goes_to_no_mark() -> None:
    assert "not as a share" in expected(SIGNAL, LEAF_LINE, "3 %")
    assert "mark" in expected(SIGNAL, LEAF_LINE, "to 20 ml")


@pytest.mark.parametrize(
    "text", ["", "abc", "-5 ml", "inf ml", "nan", "10 mll", "1/0", "5 to 7 ml", "1e999", "5 furlongs"]
)
def test_nonsense_says_what_was_expected(text: str) -> None:
    assert expected(SIGNAL, VERMOUTH_LINE, text)


def test_a_step_that_is_gone_says_so() -> None:
    assert "no longer" in expected(SIGNAL, 9999, "45 ml")


@pytest.mark.parametrize(
    "text, field, value",
    [("905 g", "weighed_g", 905.0), ("905", "weighed_g", 905.0), ("0.9 kg", "weighed_g", 900.0), ("", "weighed_g", None),
     ("70 %", "expected_pct", 70.0), ("62–76 %", "low_pct", 62.0), ("70 % (60–80 %)", "high_pct", 80.0)],
)  # fmt: skip
def test_a_strain_takes_what_was_weighed_or_what_is_expected(
    text: str, field: str, value: float | None
) -> None:
    strain = step_after(CORDIAL, SPIN, text)
    assert isinstance(strain, Strain)
    assert getattr(strain, field) == value


def test_what_is_expected_of_a_strain_takes_back_what_was_weighed() -> None:
    strain = step_after(CORDIAL, SPIN, "70 %")
    assert isinstance(strain, Strain)
    assert strain.weighed_g is None


@pytest.mark.parametrize("text", ["76–62 %", "120 %", "9 dashes", "about 900"])
def test_a_strain_says_what_it_expects(text: str) -> None:
    assert "905 g" in expected(CORDIAL, SPIN, text)


def test_a_leftover_is_weighed_or_all_that_is_not_liquid() -> None:
    book = house()
    weighed = leftover_edit(book, CORDIAL, SPIN, "310 g")
    emptied = leftover_edit(book, CORDIAL, SPIN, " ")
    assert isinstance(weighed, Understood)
    assert isinstance(emptied, Understood)
    assert weighed.command(book).step(CORDIAL, SPIN).leftover_weighed_g == 310.0  # type: ignore[union-attr]
    assert emptied.command(book).step(CORDIAL, SPIN).leftover_weighed_g is None  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "text, field, value",
    [("12 turns", "count", 12.0), ("12", "count", 12.0), ("25 s", "duration_s", 25.0), ("9.8 g", "melted_g", 9.8),
     ("to 124 g", "final_g", 124.0), ("to 108 ml", "final_ml", 108.0)],
)  # fmt: skip
def test_a_chill_takes_turns_time_or_a_weight(text: str, field: str, value: float) -> None:
    chill = step_after(SIGNAL, ICE, text)
    assert isinstance(chill, Chill)
    assert getattr(chill, field) == value


def test_a_measured_final_mass_takes_the_place_of_the_weighed_melt() -> None:
    chill = step_after(SIGNAL, ICE, "to 124 g")
    assert isinstance(chill, Chill)
    assert chill.melted_g is None


@pytest.mark.parametrize(
    "text, field, value",
    [("42 %", "final_pct", 42.0), ("128 g", "final_g", 128.0), ("6 h", "duration_s", 21600.0)],
)
def test_drying_takes_what_is_left_or_a_time(text: str, field: str, value: float) -> None:
    dry = step_after(LEATHER, DRYING, text)
    assert isinstance(dry, Dry)
    assert getattr(dry, field) == value


def test_a_rest_takes_a_time_and_keeps_the_longer_end_of_a_range() -> None:
    rest = step_after(CORDIAL, RESTING, "15-20 min")
    assert isinstance(rest, Rest)
    assert rest.duration_s == 1200.0


def test_a_rest_takes_nothing_else() -> None:
    assert "unit of time" in expected(CORDIAL, RESTING, "45 ml")


def test_what_was_understood_is_said_with_what_it_rests_on() -> None:
    edit = amount_edit(house(), SIGNAL, VERMOUTH_LINE, "3 dashes")
    assert isinstance(edit, Understood)
    # 3 x 0.8 ml, the house's dash.
    assert (edit.meaning, edit.aside) == ("3 dashes = 2.4\u202fml", "1 dash is 0.8\u202fml in this house")


def test_both_readings_of_a_number_are_offered() -> None:
    edit = amount_edit(house(), SIGNAL, VERMOUTH_LINE, "1,200 ml")
    assert isinstance(edit, Understood)
    assert edit.alternative is not None
    assert (edit.meaning, edit.alternative.meaning) == ("1,200\u202fml", "1.2\u202fml")


@pytest.mark.parametrize(
    "text, presses, usual, wanted",
    [
        ("22.5 ml", 1, "ml", "25 ml"),
        ("23 ml", 1, "ml", "25 ml"),
        ("23 ml", -1, "ml", "22.5 ml"),
        ("1 ml", -1, "ml", "0 ml"),
        ("22.5", 1, "ml", "25"),
        ("1¼ oz", 1, "oz", "1.5 oz"),
        ("2 dashes", -1, "dash", "1 dash"),
        ("905 g", 10, "g", "955 g"),
        ("42 %", 1, "%", "43 %"),
        ("to 180 ml", 1, "ml", "to 182.5 ml"),
        ("90 s", 1, "s", "95 s"),
        ("42 % of line 1", 1, "%", "43 % of line 1"),
    ],
)
def test_an_arrow_key_goes_to_the_next_whole_step(text: str, presses: int, usual: str, wanted: str) -> None:
    assert stepped(text, presses, usual) == wanted


def test_there_is_no_step_where_there_is_no_number() -> None:
    assert stepped("some", 1, "ml") is None


@pytest.mark.parametrize(
    "unit, number, size",
    [("ml", 60.0, 2.5), ("oz", 2.0, 0.25), ("g", 2.0, 0.1), ("g", 905.0, 5.0), ("leaf", 1.0, 1.0)],
)
def test_a_step_fits_its_unit(unit: str, number: float, size: float) -> None:
    assert step_size(unit, number) == size
