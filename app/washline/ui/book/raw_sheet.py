"""The sheet of a raw ingredient: everything known of it. Every field is one step that can be undone; what is not known
says so."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.command import Command
from washline.document.commands.items import rename
from washline.document.commands.raws import add_price, remove_price, set_raw
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.book import HouseBook
from washline.model.item import UNKNOWN, KeptAt, Price, RawIngredient
from washline.presentation.book_list import KEPT_AT_WORDS
from washline.presentation.cautions import allergens, cautions
from washline.presentation.raw_facts import (
    YIELD_BASES,
    at_component,
    at_strength,
    newest_price,
    segments,
    source_lines,
    sum_words,
    users_of,
    uses_of,
    yield_words,
)
from washline.presentation.today import figures, list_words
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.controls import PlainButton, Words
from washline.ui.form import ChoiceRow, ChoicesRow, FormSheet, NumberRow, ParagraphRow, Row, TextRow
from washline.ui.ingredient.composition_bar import CompositionBar
from washline.ui.ingredient.composition_table import CompositionTable
from washline.ui.ingredient.doubt_section import DoubtSection
from washline.ui.ingredient.links import LinkList
from washline.ui.ingredient.price_section import PriceSection
from washline.ui.ingredient.today_section import TodaySection
from washline.ui.ingredient.words import READ_THE_LABEL

MOST_NAMED = 6
_FORMS = (("liquid", "liquid, poured"), ("solid", "solid, weighed"), ("powder", "powder"), ("gas", "gas"))
_DIET = (("", "not known"), ("yes", "yes, by recipe"), ("no", "no"))
_Read = Callable[[RawIngredient], Any]

_FIGURES = (
    (
        "density_g_per_ml",
        "Density",
        "g/ml",
        "At 20 °C, without its gas; empty: computed from the composition",
    ),
    ("co2_g_per_l", "Dissolved gas", "g/l", ""),
    ("bitterness", "Bitterness", "of 10", "On the house scale"),
    (
        "strong_cation_mmol_per_100g",
        "Bound acid",
        "mmol",
        "Strong cations in 100 g; empty: its pH is not computed",
    ),
    (
        "titratable_acidity_pct",
        "Acidity as published",
        "g",
        "Titratable, as citric acid in 100 g; for comparison",
    ),
    ("soluble_solids_pct", "°Bx as published", "°Bx", "For comparison"),
    ("typical_ph_low", "Usual pH from", "", ""),
    ("typical_ph_high", "to", "", ""),
    ("house_days", "House date", "days", "How long the house keeps it; not tested"),
)
_SIZES = (
    ("piece_g", "A piece weighs", "g", ""),
    ("drop_ml", "A drop holds", "ml", "Empty: as the house's measures"),
    ("dash_ml", "A dash holds", "ml", "Empty: as the house's measures"),
)
_SPREADS = (
    ("sugar_uncertainty_pct", "Sugars vary by", "%", "One standard deviation between deliveries"),
    ("acid_uncertainty_pct", "Acids vary by", "%", "One standard deviation between deliveries"),
)


class RawSheet(FormSheet):
    """Shows one raw ingredient of the document; ``show_raw`` turns to another.

    ``item_asked`` carries the id of a drink or part to go to; ``moved_asked``: show what a correction did to the drinks.
    """

    item_asked = Signal(object)
    moved_asked = Signal()

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        look: Appearance,
        clock: Callable[[], datetime],
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(look, parent=parent)
        self._document, self._clock, self._style = document, clock, style
        self._raw_id = 0
        self._shows: list[Callable[[RawIngredient], None]] = []
        self._sections: list[
            CompositionBar
            | CompositionTable
            | DoubtSection
            | LinkList
            | PriceSection
            | TodaySection
            | PlainButton
        ] = []
        self._add_moved()
        self._add_first()
        self._add_today()
        self._add_composition()
        self._add_figures()
        self._add_contains()
        self._add_prices()
        self._add_yield()
        self._add_doubts()
        self._add_users()
        self._add_last()
        self.end()
        self.set_read_only(document.is_read_only)
        bridge.changed.connect(self._follow)

    @property
    def raw_id(self) -> int:
        """What is shown."""
        return self._raw_id

    @property
    def _raw(self) -> RawIngredient | None:
        return self._document.book.raws.get(self._raw_id)

    def show_raw(self, raw_id: int) -> None:
        """Turns to a raw ingredient; what was not understood in a field of another one is let go."""
        if raw_id != self._raw_id:
            self._raw_id = raw_id
            for row in self.findChildren(Row):
                row.say("")
            self.moved_words.hide()
            self.moved_button.hide()
            self.verticalScrollBar().setValue(0)
        self._refresh()

    def say_moved(self, raw_ids: Sequence[int], words: str) -> None:
        """Tells, where this ingredient was corrected, how many drinks moved, with the way to them."""
        if self._raw_id in raw_ids:
            self.moved_words.setText(words)
            self.moved_words.show()
            self.moved_button.setVisible(not words.startswith("No "))

    def _refresh(self) -> None:
        raw = self._raw
        if raw is None:
            return
        self.title.setText(raw.name)
        self.about.setText(self._about(raw))
        for show in self._shows:
            show(raw)

    def _about(self, raw: RawIngredient) -> str:
        today = list_words(raw.today, self._style) if raw.today is not None else ""
        users = users_of(self._document.book, raw.id)
        more = f" and {len(users) - MOST_NAMED} more" if len(users) > MOST_NAMED else ""
        used = f"used in {', '.join(users[:MOST_NAMED])}{more}" if users else "not used yet"
        said = ("Raw ingredient", raw.category.replace("-", " "), used, today)
        return " · ".join(word for word in said if word)

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if changed.change_set and self._raw is not None and self.isVisible():
            self._refresh()

    # Writing

    def _do(self, command: Command, label: str = "") -> str:
        """Makes a change; why it was refused, or nothing."""
        words = label or labels.change_of_item(self._document.book, self._raw_id)
        try:
            self._document.do(command, words, self)
        except UserError as refusal:
            return str(refusal)
        return ""

    def _set(self, name: str) -> Callable[[Any], str]:
        """A writer of one field. Days are whole."""

        def write(value: Any) -> str:
            whole = round(value) if name == "house_days" and value is not None else value
            return self._do(set_raw(self._raw_id, **{name: whole}))

        return write

    def _rename(self, name: str) -> str:
        raw = self._raw
        return self._do(rename(self._raw_id, name), labels.renaming(raw.name if raw else "", name))

    def _change(self, change: Callable[[RawIngredient], RawIngredient]) -> str:
        """Makes a change that follows from the ingredient as it stands."""
        raw_id = self._raw_id

        def command(book: HouseBook) -> HouseBook:
            return book.with_raw(change(book.raws[raw_id]))

        return self._do(command) if raw_id in self._document.book.raws else ""

    def _set_strength(self, strength_pct_vol: float | None) -> str:
        return self._change(lambda raw: at_strength(raw, strength_pct_vol))

    def _set_component(self, key: str) -> Callable[[float | None], str]:
        def write(grams: float | None) -> str:
            return self._change(lambda raw: at_component(raw, key, grams))

        return write

    def _set_price(self, per_unit: float | None) -> str:
        """What is paid from today on; emptied, the newest price goes."""
        raw = self._raw
        if raw is None:
            return ""
        newest = newest_price(raw)
        if per_unit is None:
            return self._do(remove_price(raw.id, newest[0])) if newest is not None else ""
        today = self._clock().astimezone().date().isoformat()
        return self._do(add_price(raw.id, Price(per_unit, _price_unit(raw), today)))

    # Rows

    def _show(self, row: Any, read: _Read) -> None:
        self._shows.append(lambda raw: row.show_value(read(raw)))

    def _number(
        self,
        label: str,
        unit: str,
        write: Callable[[Any], str],
        read: _Read,
        hint: str = "",
        decimals: int | None = None,
    ) -> NumberRow:
        row = NumberRow(self._look, label, unit, write, style=self._style, hint=hint, decimals=decimals)
        self.add_row(row)
        self._show(row, read)
        return row

    def _numbers(self, fields: Sequence[tuple[str, str, str, str]]) -> None:
        for name, label, unit, hint in fields:
            self._number(label, unit, self._set(name), _reader(name), hint)

    def _choice(self, label: str, name: str, choices: Sequence[tuple[Any, str]], hint: str = "") -> None:
        row = ChoiceRow(self._look, label, choices, self._set(name), hint=hint)
        self.add_row(row)
        self._show(row, _reader(name))

    def _sentence(self, words_of: Callable[[RawIngredient], str], token: str = "ink2") -> None:
        words = Words(self._look, "", token=token, style="label", wraps=True)
        self._parts.append(words)
        self.rows.addWidget(words)

        def show(raw: RawIngredient) -> None:
            text = words_of(raw)
            words.setText(text)
            words.setVisible(bool(text))

        self._shows.append(show)

    def _section(
        self,
        section: CompositionBar | CompositionTable | DoubtSection | LinkList | PriceSection | TodaySection,
    ) -> None:
        self._sections.append(section)
        self.rows.addWidget(section)

    def _add_moved(self) -> None:
        self.moved_words = Words(self._look, "", token="ink", style="row_strong")
        self._parts.append(self.moved_words)
        self.moved_button = PlainButton(self._look, "Show the drinks")
        self.moved_button.clicked.connect(self.moved_asked)
        self._sections.append(self.moved_button)
        line = QHBoxLayout()
        line.addWidget(self.moved_words)
        line.addWidget(self.moved_button)
        line.addStretch(1)
        self.rows.addLayout(line)
        self.moved_words.hide()
        self.moved_button.hide()

    def _add_first(self) -> None:
        name = TextRow(self._look, "Name", self._rename)
        self.add_row(name)
        self._show(name, lambda raw: raw.name)
        kept = [(where, KEPT_AT_WORDS[where]) for where in KeptAt]
        self._choice("Kept at", "kept_at", kept, "It is poured as cold as that")
        self._choice("Form", "form", _FORMS)
        category = TextRow(self._look, "Category", self._set("category"))
        self.add_row(category)
        self._show(category, lambda raw: raw.category)
        season = TextRow(self._look, "Season, months", self._set("season_months"), width=180)
        self.add_row(season)
        self._show(season, lambda raw: raw.season_months)

    def _add_today(self) -> None:
        self.add_head(
            "Today", "Without a laboratory: move a slider, or enter what you read on today's fruit."
        )
        self.today = TodaySection(self._document, self._look, self._clock, self._style)
        self._section(self.today)
        self._shows.append(self.today.show_raw)

    def _add_composition(self) -> None:
        self.add_head(
            "Composition",
            "Grams in 100 g. Empty is not known, 0 is none. What it has more takes the place of water.",
        )
        self.bar = CompositionBar(self._look, self._style)
        self._section(self.bar)
        self._shows.append(lambda raw: self.bar.show_segments(segments(raw)))
        self._sentence(sum_words)
        self.table = CompositionTable(self._look, self._set_component, self._style)
        self._section(self.table)
        self._shows.append(self.table.show_raw)

    def _add_figures(self) -> None:
        self.add_head("Figures", "Empty is not known, which is not the same as 0.")
        self._sentence(self._computed)
        strength = self._set_strength
        hint = "Sets ethanol and water in the composition"
        self._number("Strength", "% vol", strength, lambda raw: raw.strength_pct_vol, hint)
        self._numbers(_FIGURES)

    def _computed(self, raw: RawIngredient) -> str:
        found, style = figures(self._document.book, raw), self._style
        said = [
            words.format(format_number(value, decimals, style))
            for words, value, decimals in (
                ("{} °Bx as a refractometer shows it", found.brix, 1),
                ("pH {}", found.ph, 2),
                ("{} g of titratable acid in 100 g", found.acidity_pct, 2),
            )
            if value is not None
        ]
        return f"Computed: {', '.join(said)}." if said else ""

    def _add_contains(self) -> None:
        self.add_head("Contains")
        known = [(one.key, one.word, one.group) for one in allergens().values()]
        unread = (UNKNOWN, READ_THE_LABEL, "Until somebody has, every drink that pours it says so")
        contains = ChoicesRow(
            self._look,
            "Allergens",
            [unread, *known],
            self._set("allergens"),
            hint="The fourteen groups of Regulation (EU) No 1169/2011. Nothing ticked: none recorded; check labels",
        )
        self.add_row(contains)
        self._show(contains, lambda raw: raw.allergens)
        may = ChoicesRow(
            self._look,
            "May contain",
            known,
            self._set("may_contain"),
            hint="By what is shared: machines, tins, the label's own words",
        )
        self.add_row(may)
        self._show(may, lambda raw: raw.may_contain)
        self._choice("Vegan", "vegan", _DIET, "Fining aids and bone char are on no label")
        self._choice("Vegetarian", "vegetarian", _DIET)
        warned = ChoicesRow(
            self._look,
            "Cautions",
            [(one.key, one.title, one.bar) for one in cautions().values()],
            self._set("cautions"),
        )
        self.add_row(warned)
        self._show(warned, lambda raw: raw.cautions)

    def _add_prices(self) -> None:
        self.add_head("Prices")
        price = self._number("Price", "", self._set_price, _newest_per_unit, decimals=2)

        def show_unit(raw: RawIngredient) -> None:
            price.unit.setText(f"{self._document.book.settings.currency} per {_price_unit(raw)}, from today")

        self._shows.append(show_unit)
        self.prices = PriceSection(self._document, self._look, self._clock, self._style)
        self._section(self.prices)
        self._shows.append(self.prices.show_raw)

    def _add_yield(self) -> None:
        self.add_head("As bought and as used")
        self._sentence(lambda raw: yield_words(raw, self._style))
        hint = "Grams used of one gram bought, from 0 to 1"
        self._number("Edible yield", "g per g", self._set("edible_yield"), _reader("edible_yield"), hint)
        self._choice("What is used", "edible_yield_basis", YIELD_BASES)
        self._numbers(_SIZES)

    def _add_doubts(self) -> None:
        self.add_head("How sure it is")
        self._numbers(_SPREADS)
        self.doubts = DoubtSection(self._document, self._look, self._style)
        self.doubts.asked.connect(self.item_asked)
        self._section(self.doubts)
        self._shows.append(self.doubts.show_raw)

    def _add_users(self) -> None:
        self.add_head("Used by")
        self.users = LinkList(self._look, "Not used yet.")
        self.users.asked.connect(self.item_asked)
        self._section(self.users)
        self._shows.append(self._show_users)

    def _show_users(self, raw: RawIngredient) -> None:
        self.users.show_links(
            [
                (
                    use.build_id,
                    use.name,
                    f"{', '.join(use.amounts)}{'' if use.is_drink else ' · house-made part'}",
                )
                for use in uses_of(self._document.book, raw.id, self._style)
            ]
        )

    def _add_last(self) -> None:
        self.add_head("Note and source")
        note = ParagraphRow(self._look, "Note", self._set("note"))
        self.add_row(note)
        self._show(note, lambda raw: raw.note)
        source = TextRow(self._look, "Source of the figures", self._set("source"), width=440)
        self.add_row(source)
        self._show(source, lambda raw: raw.source)
        self._sentence(lambda raw: "\n".join(source_lines(raw)))

    # Look

    def set_read_only(self, is_read_only: bool) -> None:
        """Has fields that can only be looked at."""
        super().set_read_only(is_read_only)
        self.today.set_read_only(is_read_only)
        self.table.set_read_only(is_read_only)
        self.prices.set_read_only(is_read_only)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        super().set_appearance(look)
        for section in getattr(self, "_sections", ()):
            section.set_appearance(look)


def _reader(name: str) -> _Read:
    return lambda raw: getattr(raw, name)


def _newest_per_unit(raw: RawIngredient) -> float | None:
    newest = newest_price(raw)
    return newest[1].per_unit if newest is not None else None


def _price_unit(raw: RawIngredient) -> str:
    newest = newest_price(raw)
    return newest[1].unit if newest is not None else "l" if raw.is_poured else "kg"
