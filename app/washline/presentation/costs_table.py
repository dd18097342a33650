"""The two tables of costs: their columns, what stands in each cell, how they sort, and what a row rests on in words."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from washline.presentation.costs import Costs, DrinkCost, PartCost, money_decimals, price_step
from washline.presentation.costs_sources import Sources, joint_words
from washline.presentation.readings import AT_LEAST, NOTHING_POURED, currency_sign
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_trimmed,
)

AT_MOST = "at most"
NOT_COUNTED = "not counted"
NO_PRICE = "No price is set yet. Type what a guest pays, tax included."
TEXT_THAT_CALCULATES = ("=", "+", "-", "@")
"""A pasted text that begins so is taken for a formula by other programs; it is marked as a text."""

Row = DrinkCost | PartCost


@dataclass(frozen=True, slots=True)
class Column:
    """One column. ``unit`` stands behind the head; ``width`` is in pixels of 100 %. Columns of a higher ``folds`` give way
    first where there is little room; 0 never does. ``field`` is the field of a build that is typed into it."""

    key: str
    head: str
    width: float
    definition: str
    unit: str = ""
    folds: int = 0
    field: str = ""

    @property
    def is_editable(self) -> bool:
        """Whether the house types into it."""
        return bool(self.field)


MONEY = "money"
"""Stands for the sign of the house's currency."""

DRINK_COLUMNS: tuple[Column, ...] = (
    Column("name", "drink", 210, "The drink"),
    Column("serve_ml", "serve", 58, "What is served of it, at 20 °C", "ml", 5),
    Column("cost", "cost", 92, "What is poured for one serve, with the waste of it; no labour", MONEY),
    Column("price", "price", 72, "What a guest pays, tax included", MONEY, field="price"),
    Column("tax", "tax", 58, "The tax that is in the price", MONEY, 7),
    Column("pour_cost_pct", "pour cost", 86, "Cost in percent of the price before tax", "%"),
    Column("wanted_price", "wanted price", 104, "The price with tax that gives the wanted pour cost, rounded up", MONEY, 2),
    Column("margin", "margin", 86, "The price before tax less cost, and less labour where it is counted", MONEY, 1),
    Column("labour_min", "labour", 86, "Minutes of labour for one serve, its parts included", "min", 4, "labour_min"),
    Column("waste_pct", "waste", 78, "What is poured and not sold, in percent of the cost", "%", 6, "waste_pct"),
    Column("alcohol_g", "alcohol", 78, "Grams of pure alcohol in one serve", "g", 8),
    Column("oldest", "oldest price", 100, "The day of the oldest price that the cost rests on", "", 3),
)  # fmt: skip

PART_COLUMNS: tuple[Column, ...] = (
    Column("name", "part", 210, "The house-made part, or what it leaves over"),
    Column("batch_g", "batch", 76, "What one batch leaves of it", "g", 3),
    Column("batch", "a batch", 92, "What one batch of it costs, with the waste of it; no labour", MONEY),
    Column("per_kg", "a kg", 82, "Cost of a kilogram", MONEY, 2),
    Column("per_litre", "a litre", 82, "Cost of a litre at 20 °C", MONEY),
    Column("per_bottle", "a bottle", 82, "Cost of a bottle of the size that is chosen above", MONEY, 1),
    Column("per_pour", "a pour", 82, "Cost of one pour of it, as its details say how much that is", MONEY),
    Column("labour_min", "labour", 86, "Minutes of labour for one batch, its parts included", "min", 5, "labour_min"),
    Column("waste_pct", "waste", 78, "What is made and not used, in percent of the cost", "%", 6, "waste_pct"),
    Column(
        "value_per_kg", "worth a kg", 92,
        "What a kilogram is worth beside the other outputs, where joint cost goes by value", MONEY, 7,
        "value_per_kg",
    ),
    Column("oldest", "oldest price", 100, "The day of the oldest price that the cost rests on", "", 4),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a cell, and what is to be said of it."""

    text: str
    tip: str = ""
    is_quiet: bool = False


class CostTable:
    """Writes the cells of both tables for one house book."""

    def __init__(self, costs: Costs, style: NumberStyle = ENGLISH_STYLE) -> None:
        self._costs, self._style = costs, style

    @property
    def _currency(self) -> str:
        return self._costs.book.settings.currency

    def head(self, column: Column) -> str:
        """The head of a column with its unit."""
        unit = currency_sign(self._currency) if column.unit == MONEY else column.unit
        return f"{column.head}, {unit}" if unit else column.head

    def cell(self, column: Column, row: Row) -> Cell:
        """What stands in a cell."""
        if isinstance(row, DrinkCost):
            return _DRINK_CELLS[column.key](self, row)
        return _PART_CELLS[column.key](self, row)

    def sort_value(self, column: Column, row: Row) -> Any:
        """What a column is sorted by; ``None`` where nothing is known."""
        if column.key == "oldest":
            oldest = self._costs.sources(_key_of(row)).oldest
            return None if oldest is None else oldest[0]
        return getattr(row, column.key)

    def typed(self, column: Column, row: Row) -> str:
        """What stands in the field of a cell when it is opened for typing."""
        value = self._own(column, row)
        return "" if value is None else format_trimmed(value, 6, self._style)

    def _own(self, column: Column, row: Row) -> float | None:
        fields = {"labour_min": row.own_labour_min, "waste_pct": row.waste_pct}
        if column.key in fields:
            return fields[column.key]
        return row.price if isinstance(row, DrinkCost) else row.value_per_kg

    def money(self, value: float | None) -> str:
        """An amount of money, without its sign."""
        return format_number(value, money_decimals(self._currency), self._style)

    def with_sign(self, value: float | None) -> str:
        """An amount of money with the sign of the currency."""
        return f"{self.money(value)}{UNIT_SPACE}{currency_sign(self._currency)}"

    def tab_separated(self, columns: Sequence[Column], rows: Iterable[Row]) -> str:
        """Rows as text for other programs, the heads first; figures ungrouped, an unknown is ``?``."""
        heads = "\t".join(self.head(column) for column in columns)
        cells = ("\t".join(self._plain(self.cell(column, row).text) for column in columns) for row in rows)
        return "\n".join([heads, *cells])

    def _plain(self, text: str) -> str:
        grouping = self._style.grouping
        words = " ".join(text.replace(UNIT_SPACE, " ").split())
        is_figure = words[:1].isdigit() or words.startswith((AT_LEAST, AT_MOST, self._style.minus))
        if is_figure:
            return words.replace(grouping, "") if grouping.strip() else words
        return f"'{words}" if words.startswith(TEXT_THAT_CALCULATES) else words

    # What a row rests on

    def explanation(self, row: Row) -> tuple[str, ...]:
        """What is to be known of a row, a sentence each: what is missing first."""
        sources = self._costs.sources(_key_of(row))
        sentences = [*self._missing(row, sources), *self._shares(row)]
        if sources.oldest is not None:
            day, raw_id = sources.oldest
            sentences.append(f"Oldest price: {self._raw(raw_id)}, {day}.")
        if sources.yields:
            used = ", ".join(
                f"{self._raw(one.raw_id)} {format_number(one.share * 100.0, 0, self._style)}{UNIT_SPACE}%"
                for one in sources.yields
            )
            sentences.append(f"Edible yields used: {used}.")
        joint = joint_words(self._costs.book, sources.joint)
        return tuple([*sentences, joint] if joint else sentences)

    def _raw(self, raw_id: int) -> str:
        raw = self._costs.book.raws.get(raw_id)
        return raw.name if raw is not None else "what is no longer there"

    def _missing(self, row: Row, sources: Sources) -> list[str]:
        found = [f"It cannot be computed: {words}" for words in row.problems]
        if isinstance(row, DrinkCost) and row.is_empty:
            found.append(NOTHING_POURED)
        if sources.unpriced:
            found.append(f"No price is known for {', '.join(self._raw(one) for one in sources.unpriced)}.")
        if row.is_stale:
            found.append("Being computed again.")
        return found

    def _shares(self, row: Row) -> list[str]:
        """What of the cost is waste, and what labour comes to."""
        found = []
        if row.waste > 0.0:
            found.append(f"Waste is {self.with_sign(row.waste)} of the cost.")
        if row.labour is not None:
            minutes = format_trimmed(row.labour_min, 1, self._style)
            found.append(f"Labour: {minutes}{UNIT_SPACE}min, {self.with_sign(row.labour)}; not in the cost.")
        elif row.labour_min is not None:
            found.append("Labour is not counted: the house has not set what an hour costs.")
        return found

    # Cells

    def figure(self, value: float | None, decimals: int, tip: str = "", word: str = "") -> Cell:
        """A figure, with *at least* or *at most* before it where ``word`` says so."""
        number = format_number(value, decimals, self._style)
        if value is None:
            return Cell(UNKNOWN, tip)
        return Cell(f"{word} {number}" if word else number, tip)

    def amount(self, value: float | None, tip: str = "", word: str = "") -> Cell:
        """An amount of money as a cell."""
        return self.figure(value, money_decimals(self._currency), tip, word)

    def optional(self, value: float | None, unset: str) -> Cell:
        """A figure that need not be: a quiet stroke where the house has set none, and what that means."""
        if value is None:
            return Cell("–", unset, is_quiet=True)
        return Cell(format_trimmed(value, 2, self._style))

    def why(self, row: Row) -> str:
        """Why a cost is missing, or is more than is shown."""
        return "\n".join(self._missing(row, self._costs.sources(_key_of(row))))

    def oldest(self, row: Row) -> Cell:
        """The day of the oldest price."""
        oldest = self._costs.sources(_key_of(row)).oldest
        if oldest is None:
            return Cell("–", "No price is in it.", is_quiet=True)
        return Cell(oldest[0], f"{self._raw(oldest[1])}, {oldest[0]}")

    def price(self, row: DrinkCost) -> Cell:
        """What a guest pays."""
        if row.price is None:
            return Cell(UNKNOWN, NO_PRICE)
        return self.amount(row.price, f"{self.with_sign(row.net_price)} before tax")

    def pour_cost(self, row: DrinkCost) -> Cell:
        """Cost in percent of the price before tax."""
        if row.pour_cost_pct is None:
            return Cell(UNKNOWN, self._why_no_share(row))
        tip = f"{self.with_sign(row.cost)} of {self.with_sign(row.net_price)} before tax"
        return self.figure(row.pour_cost_pct, 1, tip, _least(row))

    def _why_no_share(self, row: DrinkCost) -> str:
        if row.cost is None:
            return self.why(row)
        return NO_PRICE if row.price is None else "The price is zero."

    def wanted(self, row: DrinkCost) -> Cell:
        """The price for the wanted pour cost, to the last digit in the tooltip."""
        settings = self._costs.book.settings
        if row.wanted_price is None:
            return Cell(UNKNOWN, self.why(row) if row.cost is None else "No pour cost is wanted.")
        wanted = format_trimmed(settings.wanted_pour_cost_pct, 2, self._style)
        tax = format_trimmed(settings.tax_pct, 2, self._style)
        exact = format_number(row.wanted_exact, money_decimals(self._currency) + 2, self._style)
        step = self.with_sign(price_step(self._currency))
        tip = f"{exact} exactly, for a pour cost of {wanted} % and {tax} % tax; rounded up to the next {step}"
        return self.amount(row.wanted_price, tip, _least(row))

    def margin(self, row: DrinkCost) -> Cell:
        """What is left of the price before tax."""
        if row.margin is None:
            return Cell(UNKNOWN, self._why_no_share(row))
        labour = (
            f"less {self.with_sign(row.labour)} of labour"
            if row.labour is not None
            else "labour is not counted"
        )
        tip = f"{self.with_sign(row.net_price)} before tax less {self.with_sign(row.cost)}; {labour}"
        return self.amount(row.margin, tip, AT_MOST if row.is_at_least else "")

    def labour(self, row: Row) -> Cell:
        """Minutes of labour; those of parts are added."""
        if row.labour_min is None:
            return Cell("–", f"Labour is {NOT_COUNTED}.", is_quiet=True)
        own = (
            format_trimmed(row.own_labour_min, 2, self._style)
            if row.own_labour_min is not None
            else "none of its own"
        )
        cost = (
            f", {self.with_sign(row.labour)}" if row.labour is not None else ", what an hour costs is not set"
        )
        tip = f"{own}{' min of its own' if row.own_labour_min is not None else ''}; with its parts{cost}"
        return Cell(format_trimmed(row.labour_min, 1, self._style), tip)

    def alcohol(self, row: DrinkCost) -> Cell:
        """Grams of pure alcohol."""
        return self.figure(row.alcohol_g, 1, "", AT_LEAST if row.is_alcohol_at_least else "")

    def part_cost(self, row: PartCost, value: float | None, missing: str = "") -> Cell:
        """One of the costs of a part."""
        if value is None:
            return Cell(UNKNOWN, self.why(row) or missing)
        return self.amount(value, self.why(row), _least(row))

    def pour(self, row: PartCost) -> Cell:
        """What a pour costs."""
        if row.pour_ml is None:
            return Cell("–", "How much a pour is has not been set.", is_quiet=True)
        cell = self.part_cost(row, row.per_pour)
        pour = f"{format_trimmed(row.pour_ml, 2, self._style)}{UNIT_SPACE}ml"
        return Cell(cell.text, "\n".join(word for word in (pour, cell.tip) if word))


def _key_of(row: Row) -> int:
    return row.build_id if isinstance(row, DrinkCost) else row.item_id


def _least(row: Row) -> str:
    return AT_LEAST if row.is_at_least else ""


_NO_VOLUME = "Its volume is not known."

_DRINK_CELLS: dict[str, Callable[[CostTable, DrinkCost], Cell]] = {
    "name": lambda table, row: Cell(row.name, row.name),
    "serve_ml": lambda table, row: table.figure(row.serve_ml, 0, table.why(row)),
    "cost": lambda table, row: table.amount(row.cost, table.why(row), _least(row)),
    "price": lambda table, row: table.price(row),
    "tax": lambda table, row: table.amount(row.tax, NO_PRICE if row.tax is None else ""),
    "pour_cost_pct": lambda table, row: table.pour_cost(row),
    "wanted_price": lambda table, row: table.wanted(row),
    "margin": lambda table, row: table.margin(row),
    "labour_min": lambda table, row: table.labour(row),
    "waste_pct": lambda table, row: table.optional(row.waste_pct, f"Waste is {NOT_COUNTED}."),
    "alcohol_g": lambda table, row: table.alcohol(row),
    "oldest": lambda table, row: table.oldest(row),
}  # fmt: skip

_PART_CELLS: dict[str, Callable[[CostTable, PartCost], Cell]] = {
    "name": lambda table, row: Cell(row.name, row.name),
    "batch_g": lambda table, row: table.figure(row.batch_g, 1, table.why(row)),
    "batch": lambda table, row: table.part_cost(row, row.batch),
    "per_kg": lambda table, row: table.part_cost(row, row.per_kg),
    "per_litre": lambda table, row: table.part_cost(row, row.per_litre, _NO_VOLUME),
    "per_bottle": lambda table, row: table.part_cost(row, row.per_bottle, _NO_VOLUME),
    "per_pour": lambda table, row: table.pour(row),
    "labour_min": lambda table, row: table.labour(row),
    "waste_pct": lambda table, row: table.optional(row.waste_pct, f"Waste is {NOT_COUNTED}."),
    "value_per_kg": lambda table, row: table.optional(row.value_per_kg, "The house has not said what it is worth."),
    "oldest": lambda table, row: table.oldest(row),
}  # fmt: skip
