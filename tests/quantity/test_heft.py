"""Scant and heavy pours, and fractions."""

import pytest

from washline.quantity.amount_text import HEFT_OF_A_VOLUME, ParseProblem, TypedAmount, parse_amount
from washline.quantity.line_text import TypedLine, parse_line


@pytest.mark.parametrize(
    "text, number, unit, heft",
    [
        ("scant 3/4 oz", 0.75, "oz", "scant"),
        ("scant ¾ oz", 0.75, "oz", "scant"),
        ("a scant ¾ oz", 0.75, "oz", "scant"),
        ("heavy 22.5 ml", 22.5, "ml", "heavy"),
        ("Heavy 1 1/2 oz", 1.5, "oz", "heavy"),
        ("scant half oz", 0.5, "oz", "scant"),
        ("scant 20", 20.0, None, "scant"),
        ("3/4 oz", 0.75, "oz", ""),
    ],
)
def test_scant_and_heavy_stand_before_the_number(
    text: str, number: float, unit: str | None, heft: str
) -> None:
    found = parse_amount(text)
    assert isinstance(found, TypedAmount)
    assert (found.number, found.unit, found.heft) == (number, unit, heft)


@pytest.mark.parametrize(
    "text", ["heavy 2 dashes", "scant 3 drops", "heavy 20 g", "scant 1 piece", "scant 30 %"]
)
def test_only_what_is_poured_is_scant_or_heavy(text: str) -> None:
    found = parse_amount(text)
    assert isinstance(found, ParseProblem)
    assert HEFT_OF_A_VOLUME in found.expected


@pytest.mark.parametrize("text", ["heavy cream 20 ml", "20 ml heavy cream"])
def test_a_name_that_begins_with_heavy_is_a_name(text: str) -> None:
    found = parse_line(text)
    assert isinstance(found, TypedLine)
    assert (found.name, found.amount.number, found.amount.heft) == ("heavy cream", 20.0, "")


def test_a_line_can_be_scant() -> None:
    found = parse_line("scant 3/4 oz lemon juice")
    assert isinstance(found, TypedLine)
    assert (found.name, found.amount.number, found.amount.heft) == ("lemon juice", 0.75, "scant")


def test_a_scant_top_is_so_much_or_up_to_a_mark_that_is_none() -> None:
    found = parse_amount("top scant 45 ml")
    assert isinstance(found, TypedAmount)
    assert (found.basis, found.heft) == ("absolute", "scant")
    assert found.alternative is not None
    assert (found.alternative.basis, found.alternative.heft) == ("to_mark", "")
