"""The sheet of a raw ingredient: a plain form. Every field is one step that can be undone; what is not known says so."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from washline.document.commands import labels
from washline.document.commands.command import Command
from washline.document.commands.items import rename
from washline.document.commands.raws import add_price, remove_price, set_component, set_raw
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.book import HouseBook
from washline.model.item import UNKNOWN, KeptAt, Price, RawIngredient
from washline.presentation.book_list import KEPT_AT_WORDS
from washline.presentation.cautions import allergens, cautions
from washline.presentation.raw_facts import GROUPS, at_strength, component, newest_price, sum_words, users_of
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.controls import Words
from washline.ui.form import ChoiceRow, ChoicesRow, FormSheet, NumberRow, ParagraphRow, Row, TextRow

READ_THE_LABEL = "unknown: nobody has read the label"
_FORMS = (("liquid", "liquid, poured"), ("solid", "solid, weighed"), ("powder", "powder"), ("gas", "gas"))

_NUMBERS: tuple[tuple[str, str, str, str], ...] = (
    ("sugar_uncertainty_pct", "Sugars vary by", "%", "One standard deviation between deliveries"),
    ("acid_uncertainty_pct", "Acids vary by", "%", "One standard deviation between deliveries"),
    (
        "density_g_per_ml",
        "Density",
        "g/ml",
        "At 20 °C, without its gas; empty: computed from the composition",
    ),
    ("co2_g_per_l", "Dissolved gas", "g/l", ""),
    ("bitterness", "Bitterness", "of 10", "On the house scale"),
    ("drop_ml", "A drop holds", "ml", "Empty: as the house's measures"),
    ("dash_ml", "A dash holds", "ml", "Empty: as the house's measures"),
    ("piece_g", "A piece weighs", "g", ""),
    ("house_days", "House date", "days", "How long the house keeps it; not tested"),
)


class RawSheet(FormSheet):
    """Shows one raw ingredient of the document; ``show_raw`` turns to another."""

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
        self._price: NumberRow | None = None
        self._add_first()
        self._add_label()
        self._add_figures()
        self._add_composition()
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
            self.verticalScrollBar().setValue(0)
        self._refresh()

    def _refresh(self) -> None:
        raw = self._raw
        if raw is None:
            return
        self.title.setText(raw.name)
        self.about.setText(self._about(raw))
        for show in self._shows:
            show(raw)

    def _about(self, raw: RawIngredient) -> str:
        users = users_of(self._document.book, raw.id)
        shown = ", ".join(users[:6]) + (f" and {len(users) - 6} more" if len(users) > 6 else "")
        return " · ".join(
            word
            for word in (
                "Raw ingredient",
                raw.category.replace("-", " "),
                f"used in {shown}" if users else "not used yet",
            )
            if word
        )

    # Writing

    def _do(self, command: Command, label: str = "") -> str:
        """Makes a change; why it was refused, or nothing."""
        try:
            self._document.do(
                command, label or labels.change_of_item(self._document.book, self._raw_id), self
            )
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

    def _set_strength(self, strength_pct_vol: float | None) -> str:
        raw_id = self._raw_id

        def command(book: HouseBook) -> HouseBook:
            return book.with_raw(at_strength(book.raws[raw_id], strength_pct_vol))

        return self._do(command)

    def _set_price(self, per_unit: float | None) -> str:
        raw = self._raw
        if raw is None:
            return ""
        newest = newest_price(raw)
        if per_unit is None:
            return self._do(remove_price(raw.id, newest[0])) if newest is not None else ""
        unit = newest[1].unit if newest is not None else "l" if raw.is_poured else "kg"
        return self._do(add_price(raw.id, self._paid(per_unit, unit)))

    def _set_price_unit(self, unit: str) -> str:
        raw = self._raw
        newest = newest_price(raw) if raw is not None else None
        if raw is None or newest is None:
            return "Enter the price first."
        return self._do(add_price(raw.id, self._paid(newest[1].per_unit, unit)))

    def _paid(self, per_unit: float, unit: str) -> Price:
        return Price(per_unit, unit, self._clock().astimezone().date().isoformat())

    def _set_allergens(self, keys: Sequence[str]) -> str:
        return self._do(set_raw(self._raw_id, allergens=tuple(keys)))

    def _set_component(self, key: str) -> Callable[[float | None], str]:
        return lambda value: self._do(set_component(self._raw_id, key, value))

    # Rows

    def _number(
        self,
        label: str,
        unit: str,
        write: Callable[[float | None], str],
        read: Callable[[RawIngredient], float | None],
        hint: str = "",
        decimals: int | None = None,
    ) -> NumberRow:
        row = NumberRow(self._look, label, unit, write, style=self._style, hint=hint, decimals=decimals)
        self.add_row(row)
        self._shows.append(lambda raw: row.show_value(read(raw)))
        return row

    def _add_first(self) -> None:
        name = TextRow(self._look, "Name", self._rename)
        self.add_row(name)
        self._shows.append(lambda raw: name.show_value(raw.name))
        kept = [(where, KEPT_AT_WORDS[where]) for where in KeptAt]
        where = ChoiceRow(
            self._look, "Kept at", kept, self._set("kept_at"), hint="It is poured as cold as that"
        )
        self.add_row(where)
        self._shows.append(lambda raw: where.show_value(raw.kept_at))
        form = ChoiceRow(self._look, "Form", _FORMS, self._set("form"))
        self.add_row(form)
        self._shows.append(lambda raw: form.show_value(raw.form))
        currency = self._document.book.settings.currency
        self._price = self._number("Price", currency, self._set_price, _newest_per_unit, decimals=2)
        per = ChoiceRow(self._look, "Priced by", (("l", "litre"), ("kg", "kilogram")), self._set_price_unit)
        self.add_row(per)
        self._shows.append(lambda raw: per.show_value(_price_unit(raw)))
        self._shows.append(self._show_price)

    def _show_price(self, raw: RawIngredient) -> None:
        newest = newest_price(raw)
        currency = self._document.book.settings.currency
        if self._price is not None:
            self._price.unit.setText(f"{currency} per {_price_unit(raw)}")
            since = (
                f"Since {newest[1].date}" if newest is not None else "Costs that rest on it say “at least”"
            )
            self._price.hint.setText(since)
            self._price.hint.show()

    def _add_label(self) -> None:
        self.add_head("Contains")
        choices = [(UNKNOWN, READ_THE_LABEL, "Until somebody has, every drink that pours it says so")]
        choices += [(one.key, one.word, one.group) for one in allergens().values()]
        contains = ChoicesRow(
            self._look,
            "Allergens",
            choices,
            self._set_allergens,
            hint="The fourteen groups of Regulation (EU) No 1169/2011. Nothing ticked: none recorded; check labels",
        )
        self.add_row(contains)
        self._shows.append(lambda raw: contains.show_value(raw.allergens))
        known = [(one.key, one.title, one.bar) for one in cautions().values()]
        warned = ChoicesRow(self._look, "Cautions", known, self._set("cautions"))
        self.add_row(warned)
        self._shows.append(lambda raw: warned.show_value(raw.cautions))

    def _add_figures(self) -> None:
        self.add_head("Figures", "Empty is not known, which is not the same as 0.")
        self._number(
            "Strength",
            "% vol",
            self._set_strength,
            lambda raw: raw.strength_pct_vol,
            "Sets ethanol and water in the composition",
        )
        for name, label, unit, hint in _NUMBERS:
            self._number(label, unit, self._set(name), _reader(name), hint)

    def _add_composition(self) -> None:
        self.add_head("Composition", "Grams in 100 g. Empty is not known, 0 is none.")
        total = Words(self._look, "", token="ink2", style="label", wraps=True)
        self._parts.append(total)
        self.rows.addWidget(total)
        self._shows.append(lambda raw: total.setText(sum_words(raw)))
        for group in GROUPS:
            self.add_head(group.name)
            for key, words in group.components:
                self._number(words, "g", self._set_component(key), _component_reader(key))

    def _add_last(self) -> None:
        self.add_head("Note and source")
        note = ParagraphRow(self._look, "Note", self._set("note"))
        self.add_row(note)
        self._shows.append(lambda raw: note.show_value(raw.note))
        source = Words(self._look, "", token="ink2", style="label", wraps=True)
        self._parts.append(source)
        self.rows.addWidget(source)
        self._shows.append(lambda raw: source.setText(_source_words(raw)))

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if changed.change_set and self._raw is not None and self.isVisible():
            self._refresh()


def _reader(name: str) -> Callable[[RawIngredient], float | None]:
    def read(raw: RawIngredient) -> float | None:
        value: float | None = getattr(raw, name)
        return value

    return read


def _component_reader(key: str) -> Callable[[RawIngredient], float | None]:
    return lambda raw: component(raw, key)


def _newest_per_unit(raw: RawIngredient) -> float | None:
    newest = newest_price(raw)
    return newest[1].per_unit if newest is not None else None


def _price_unit(raw: RawIngredient) -> str:
    newest = newest_price(raw)
    return newest[1].unit if newest is not None else "l" if raw.is_poured else "kg"


def _source_words(raw: RawIngredient) -> str:
    if not raw.source:
        return "Source: none recorded."
    memory = f" From memory: {raw.from_memory_fields}." if raw.from_memory_fields else ""
    return f"Source of the figures: {raw.source}.{memory}"
