"""The tables of costs as they are read: cells, what is said of them, and the text for other programs."""

import pytest
from msgspec import structs

from tests.presentation.costing import (
    GUESS,
    LEFT,
    MIXED,
    NEAT,
    NOTHING,
    SPENT,
    SYRUP,
    TINCTURE,
    changed,
    house,
    worked_out,
)
from washline.model.book import HouseBook
from washline.presentation.costs import Costs
from washline.presentation.costs_table import DRINK_COLUMNS, NO_PRICE, PART_COLUMNS, Cell, CostTable, Row
from washline.quantity.formatting import ENGLISH_STYLE, NUMBER_STYLES, NumberStyle

COLUMNS = {column.key: column for column in DRINK_COLUMNS}
PARTS = {column.key: column for column in PART_COLUMNS}


class Bench:
    def __init__(self, book: HouseBook, style: NumberStyle = ENGLISH_STYLE) -> None:
        self.costs = Costs(worked_out(book))
        self.table = CostTable(self.costs, style)

    def drink(self, build_id: int) -> Row:
        row = self.costs.drink(build_id)
        assert row is not None
        return row

    def part(self, item_id: int) -> Row:
        row = self.costs.part(item_id, 700.0)
        assert row is not None
        return row

    def cell(self, build_id: int, key: str) -> Cell:
        return self.table.cell(COLUMNS[key], self.drink(build_id))

    def part_cell(self, item_id: int, key: str) -> Cell:
        return self.table.cell(PARTS[key], self.part(item_id))

    def said(self, row: Row) -> str:
        return " ".join(self.table.explanation(row)).replace("\u202f", " ")


def plain(text: str) -> str:
    return text.replace("\u202f", " ")


def test_row_of_a_drink_with_its_price() -> None:
    bench = Bench(changed(house(), NEAT, price=6.0))
    keys = ("name", "cost", "price", "tax", "pour_cost_pct", "wanted_price", "margin", "alcohol_g", "oldest")
    cells = [bench.cell(NEAT, key).text for key in keys]
    assert cells == ["Neat", "1.00", "6.00", "1.00", "20.0", "6.00", "4.00", "0.0", "2026-05-01"]


def test_price_that_is_not_set_is_a_question_mark_with_what_to_do() -> None:
    bench = Bench(house())
    assert bench.cell(NEAT, "price") == Cell("?", NO_PRICE)
    assert bench.cell(NEAT, "pour_cost_pct") == Cell("?", NO_PRICE)
    assert bench.cell(NEAT, "margin").text == "?"


def test_lower_bounds_are_said_to_be_so() -> None:
    bench = Bench(changed(house(), GUESS, price=6.0))
    texts = [bench.cell(GUESS, key).text for key in ("cost", "pour_cost_pct", "wanted_price", "margin")]
    assert texts == ["at least 1.00", "at least 20.0", "at least 6.00", "at most 4.00"]
    assert bench.cell(GUESS, "cost").tip == "No price is known for secret."


def test_cost_of_which_nothing_is_known_names_what_has_no_price() -> None:
    book = house()
    only = structs.replace(book.builds[GUESS], steps=book.builds[GUESS].steps[1:])
    assert Bench(book.with_build(only)).cell(GUESS, "cost") == Cell("?", "No price is known for secret.")


def test_empty_drink_says_so() -> None:
    bench = Bench(house())
    assert bench.cell(NOTHING, "cost") == Cell("?", "Nothing is poured yet.")
    assert bench.cell(NOTHING, "oldest").is_quiet


def test_wanted_price_is_exact_in_the_tooltip() -> None:
    bench = Bench(house(wanted_pour_cost_pct=18.0))
    cell = bench.cell(NEAT, "wanted_price")
    assert cell.text == "6.70"
    assert plain(cell.tip) == (
        "6.6667 exactly, for a pour cost of 18 % and 20 % tax; rounded up to the next 0.10 €"
    )


def test_labour_that_is_not_counted_is_a_quiet_stroke_and_never_zero() -> None:
    cell = Bench(house()).cell(NEAT, "labour_min")
    assert (cell.text, cell.is_quiet, cell.tip) == ("–", True, "Labour is not counted.")


def test_labour_of_nothing_is_zero() -> None:
    assert Bench(changed(house(), NEAT, labour_min=0.0)).cell(NEAT, "labour_min").text == "0"


def test_labour_of_parts_is_added_and_told() -> None:
    book = changed(house(labour_per_hour=20.0), TINCTURE, labour_min=60.0)
    cell = Bench(book).cell(MIXED, "labour_min")
    assert cell.text == "3"
    assert plain(cell.tip) == "none of its own; with its parts, 1.00 €"


def test_margin_says_whether_labour_is_in_it() -> None:
    book = changed(house(), NEAT, price=6.0)
    assert plain(Bench(book).cell(NEAT, "margin").tip) == (
        "5.00 € before tax less 1.00 €; labour is not counted"
    )
    book = changed(
        book.with_settings(structs.replace(book.settings, labour_per_hour=20.0)), NEAT, labour_min=3.0
    )
    assert plain(Bench(book).cell(NEAT, "margin").tip).endswith("less 1.00 € of labour")


def test_parts_row_has_every_cost() -> None:
    bench = Bench(house())
    keys = ("name", "batch_g", "batch", "per_kg", "per_litre", "per_bottle", "per_pour")
    cells = [bench.part_cell(TINCTURE, key).text for key in keys]
    assert cells == ["tincture", "800.0", "18.40", "23.00", "22.96", "16.07", "0.46"]


def test_part_without_a_pour_says_that_it_is_not_set() -> None:
    cell = Bench(house()).part_cell(SYRUP, "per_pour")
    assert (cell.text, cell.tip) == ("–", "How much a pour is has not been set.")


def test_explanation_tells_what_the_cost_rests_on() -> None:
    bench = Bench(house())
    assert bench.said(bench.part(SYRUP)) == (
        "Oldest price: herb, 2026-02-01. Edible yields used: herb 50 %. "
        "Joint cost of tincture: all stays with the main output, leftovers are free."
    )


def test_explanation_begins_with_what_is_missing() -> None:
    bench = Bench(house())
    assert bench.said(bench.drink(GUESS)).startswith("No price is known for secret.")


def test_explanation_tells_waste_and_labour_apart_from_the_cost() -> None:
    book = changed(house(labour_per_hour=20.0), NEAT, waste_pct=10.0, labour_min=3.0)
    said = Bench(book).said(Bench(book).drink(NEAT))
    assert "Waste is 0.10 € of the cost." in said
    assert "Labour: 3 min, 1.00 €; not in the cost." in said


def test_minutes_without_a_wage_are_explained() -> None:
    book = changed(house(), NEAT, labour_min=3.0)
    assert "the house has not set what an hour costs" in Bench(book).said(Bench(book).drink(NEAT))


def test_heads_carry_the_currency_of_the_house() -> None:
    assert Bench(house(currency="GBP")).table.head(COLUMNS["price"]) == "price, £"
    assert Bench(house(currency="CHF")).table.head(COLUMNS["cost"]) == "cost, CHF"
    assert Bench(house()).table.head(COLUMNS["name"]) == "drink"


def test_yen_have_no_decimals() -> None:
    bench = Bench(changed(house(currency="JPY"), NEAT, price=600.0))
    assert bench.cell(NEAT, "price").text == "600"


def test_field_opens_with_the_own_figure_and_not_with_that_of_the_parts() -> None:
    book = changed(house(), TINCTURE, labour_min=60.0)
    bench = Bench(changed(book, NEAT, price=6.25, waste_pct=2.5))
    assert bench.table.typed(COLUMNS["labour_min"], bench.drink(MIXED)) == ""
    assert bench.table.typed(COLUMNS["price"], bench.drink(NEAT)) == "6.25"
    assert bench.table.typed(COLUMNS["waste_pct"], bench.drink(NEAT)) == "2.5"
    assert bench.table.typed(PARTS["labour_min"], bench.part(TINCTURE)) == "60"
    assert bench.table.typed(PARTS["value_per_kg"], bench.part(SPENT)) == ""


@pytest.mark.parametrize(
    "key, value", [("price", 6.0), ("cost", 1.0), ("oldest", "2026-05-01"), ("labour_min", None)]
)
def test_columns_sort_by_what_they_hold(key: str, value: object) -> None:
    bench = Bench(changed(house(), NEAT, price=6.0))
    found = bench.table.sort_value(COLUMNS[key], bench.drink(NEAT))
    assert found == (pytest.approx(value) if isinstance(value, float) else value)


def test_rows_go_to_other_programs_tab_separated_with_their_heads() -> None:
    bench = Bench(changed(house(), NEAT, price=1250.0))
    columns = [COLUMNS[key] for key in ("name", "cost", "price", "margin", "labour_min")]
    assert bench.table.tab_separated(columns, [bench.drink(NEAT), bench.drink(LEFT)]) == (
        "drink\tcost, €\tprice, €\tmargin, €\tlabour, min\n"
        "Neat\t1.00\t1250.00\t1040.67\t–\n"
        "Left\t0.20\t?\t?\t–"
    )


def test_names_that_would_calculate_elsewhere_stay_text() -> None:
    book = changed(house(), NEAT, name="=1+1\tor two")
    bench = Bench(book)
    assert bench.table.tab_separated([COLUMNS["name"]], [bench.drink(NEAT)]) == "drink\n'=1+1 or two"


def test_figures_follow_the_marks_of_the_locale() -> None:
    bench = Bench(changed(house(), NEAT, price=1250.5), NUMBER_STYLES["de_DE"])
    assert bench.cell(NEAT, "price").text == "1.250,50"
    assert bench.table.typed(COLUMNS["price"], bench.drink(NEAT)) == "1.250,5"
    assert bench.table.tab_separated([COLUMNS["price"]], [bench.drink(NEAT)]) == "price, €\n1250,50"
