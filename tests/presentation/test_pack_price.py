"""Prices as they stand on an invoice."""

import pytest

from washline.presentation.pack_price import PackPrice, read_pack_price
from washline.quantity.formatting import NUMBER_STYLES


@pytest.mark.parametrize(
    "text, per_unit, unit",
    [
        ("24.50 for 700 ml", 35.0, "l"),
        ("24.50/700ml", 35.0, "l"),
        ("21 for 70 cl", 30.0, "l"),
        ("36 for 6 x 2 kg", 3.0, "kg"),
        ("36 for 6 × 500 g", 12.0, "kg"),
        ("4 / 1 l", 4.0, "l"),
    ],
)
def test_price_of_a_pack_becomes_that_of_a_litre_or_a_kilogram(text: str, per_unit: float, unit: str) -> None:
    assert read_pack_price(text) == PackPrice(pytest.approx(per_unit), unit, text)


def test_plain_number_is_for_the_unit_beside_it() -> None:
    assert read_pack_price("12.40") == PackPrice(12.4, "")
    assert read_pack_price("12.40 EUR", "EUR") == PackPrice(12.4, "")


def test_decimal_comma_is_read_where_it_is_written() -> None:
    assert read_pack_price("24,50 for 0,7 l", "", NUMBER_STYLES["de_DE"]) == PackPrice(
        pytest.approx(35.0), "l", "24,50 for 0,7 l"
    )


@pytest.mark.parametrize(
    "text", ["", "dear", "12 GBP", "24 for", "24 for 0 ml", "24 for 700", "24 for 3 pieces", "24 for a x 1 l"]
)
def test_what_is_no_price_is_none(text: str) -> None:
    assert read_pack_price(text, "EUR") is None
