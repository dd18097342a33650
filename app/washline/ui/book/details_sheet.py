"""What a drink, part or leftover is besides its steps: where it is kept, what it costs, the house's own words for it."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.items import rename, set_build
from washline.document.commands.leftovers import set_leftover
from washline.document.document import Document
from washline.document.notice import Changed
from washline.engine.items import foam_allowance_ml
from washline.model.book import HouseBook
from washline.model.house import wash_line_ml
from washline.model.item import Build, KeptAt, Leftover, Sign
from washline.model.step import Strain
from washline.presentation.book_list import KEPT_AT_WORDS
from washline.presentation.cautions import allergens
from washline.presentation.costs_sources import JOINT_SENTENCES
from washline.presentation.readings import currency_sign
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.ui.appearance import Appearance
from washline.ui.book.makings_view import MakingsView
from washline.ui.book.raw_choice import RawChoiceRow
from washline.ui.bridge import Bridge
from washline.ui.controls import PlainButton, Words
from washline.ui.form import ChoiceRow, ChoicesRow, FormSheet, NumberRow, ParagraphRow, Row, TextRow

_Write = Callable[[Any], str]
NOT_COUNTED = "not counted"
NOT_SET = "not set"
BELOW_TITLE = 2
"""Where the first row stands: under the title and what it is about."""
ACTS_HINT = (
    "Empty: as computed. Else its composition is that of a raw ingredient: the juice of a lemon broken down"
)
VALUE_HINT = "Beside the other outputs; counts where joint cost goes by value"
SIGNS_HINT = "One sign a line: what is tasted, a colon, what to do. “too sharp: 2.5 ml more cordial”"


def _now() -> datetime:
    return datetime.now(UTC)


class DetailsSheet(FormSheet):
    """Shows one drink, part or leftover; ``closed``: Done was pressed, ``said`` carries a sentence for the status line.

    ``clock`` gives the present moment, for the day of a making.
    """

    closed = Signal()
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
        *,
        clock: Callable[[], datetime] = _now,
    ) -> None:
        super().__init__(look, parent=parent)
        self._document, self._style, self._clock = document, style, clock
        self._build_id = 0
        self._leftover_id: int | None = None
        self._is_from_part = False
        self._leftover_shows: list[Callable[[Leftover], None]] = []
        self._leftover_buttons: list[PlainButton] = []
        self._shows: list[Callable[[Build], None]] = []
        self._for_drinks: list[Row] = []
        self._for_parts: list[Row] = []
        self._add_serving()
        self._add_keeping()
        self._add_costs()
        self._add_makings()
        self._add_words()
        self._add_leftover()
        self._done = PlainButton(look, "Done", is_first=True)
        self._done.clicked.connect(self._leave)
        self.rows.addSpacing(look.px(14))
        line = QHBoxLayout()
        line.addWidget(self._done)
        line.addStretch(1)
        self.rows.addLayout(line)
        self.end()
        self.set_read_only(document.is_read_only)
        bridge.changed.connect(self._follow)

    @property
    def _build(self) -> Build | None:
        return self._document.book.builds.get(self._build_id)

    @property
    def _leftover(self) -> Leftover | None:
        return self._document.book.leftovers.get(self._leftover_id) if self._leftover_id is not None else None

    def show_build(self, build_id: int) -> None:
        """Turns to a drink or part."""
        self._turn_to(build_id, None)

    def show_leftover(self, leftover_id: int) -> None:
        """Turns to a leftover."""
        leftover = self._document.book.leftovers.get(leftover_id)
        if leftover is not None:
            self._is_from_part = False
            self._turn_to(leftover.build_id, leftover_id)

    def _turn_to(self, build_id: int, leftover_id: int | None) -> None:
        if (build_id, leftover_id) != (self._build_id, self._leftover_id):
            self._build_id, self._leftover_id = build_id, leftover_id
            for row in self.findChildren(Row):
                row.say("")
            self.verticalScrollBar().setValue(0)
        self._refresh()

    @Slot()
    def _leave(self) -> None:
        """From a leftover that was opened here back to its part, else away."""
        if self._leftover_id is not None and self._is_from_part:
            self.show_build(self._build_id)
            self.focus_first()
        else:
            self.closed.emit()

    def _refresh(self) -> None:
        build, leftover = self._build, self._leftover
        if build is None:
            return
        if leftover is None:
            self._leftover_id = None
        self._show_parts(build, leftover)
        if leftover is not None:
            self.title.setText(leftover.name)
            self.about.setText(f"Left over from {build.name}")
            for show_leftover in self._leftover_shows:
                show_leftover(leftover)
            return
        self.title.setText(build.name)
        self.about.setText("Drink" if build.is_drink else "House-made part")
        for show in self._shows:
            show(build)

    def _show_parts(self, build: Build, leftover: Leftover | None) -> None:
        """Shows the rows of what is shown, and no others."""
        is_leftover = leftover is not None
        for part in self._parts[BELOW_TITLE:]:
            part.setVisible((part in self._of_leftover) is is_leftover)
        if not is_leftover:
            for row in self._for_drinks:
                row.setVisible(build.is_drink)
            for row in self._for_parts:
                row.setVisible(not build.is_drink)
        for widget in (self._joint_words, self._leftovers):
            widget.setVisible(not is_leftover and not build.is_drink)
        has_makings = not is_leftover and not build.is_drink and _is_strained(build)
        self.makings.setVisible(has_makings)
        if has_makings:
            self.makings.show_build(build.id)

    def _set(self, name: str) -> _Write:
        def write(value: Any) -> str:
            whole = round(value) if name == "house_days" and value is not None else value
            return self._do(**{name: whole})

        return write

    def _do(self, **fields: Any) -> str:
        label = labels.change_of_item(self._document.book, self._build_id)
        try:
            self._document.do(set_build(self._build_id, **fields), label, self)
        except UserError as refusal:
            return str(refusal)
        return ""

    def _rename(self, name: str) -> str:
        build = self._build
        try:
            label = labels.renaming(build.name if build else "", name)
            self._document.do(rename(self._build_id, name), label, self)
        except UserError as refusal:
            return str(refusal)
        return ""

    def _set_signs(self, text: str) -> str:
        signs = []
        for line in filter(None, (part.strip() for part in text.splitlines())):
            taste, colon, remedy = line.partition(":")
            if not colon or not taste.strip() or not remedy.strip():
                return f"“{line[:40]}” has no colon between what is tasted and what to do."
            signs.append(Sign(taste.strip(), remedy.strip()))
        return self._do(if_off=tuple(signs))

    def _set_leftover(self, name: str) -> _Write:
        def write(value: Any) -> str:
            whole = round(value) if name == "house_days" and value is not None else value
            leftover = self._leftover
            if leftover is None:
                return "This leftover is no longer in the house book."
            label = labels.change_of_item(self._document.book, leftover.id)
            try:
                self._document.do(set_leftover(leftover.id, **{name: whole}), label, self)
            except UserError as refusal:
                return str(refusal)
            return ""

        return write

    # Rows

    def _number(self, name: str, label: str, unit: str, hint: str = "") -> NumberRow:
        row = NumberRow(self._look, label, unit, self._set(name), style=self._style, hint=hint)
        self.add_row(row)
        self._shows.append(lambda build: row.show_value(getattr(build, name)))
        return row

    def _leftover_row(self, row: Any, name: str) -> None:
        self._parts.append(row)
        self.rows.insertWidget(BELOW_TITLE + len(self._leftover_shows), row)
        self._leftover_shows.append(lambda leftover: row.show_value(getattr(leftover, name)))

    def _add_leftover(self) -> None:
        """The rows of a leftover; they stand in the place of the others."""
        look, first = self._look, len(self._parts)

        def number(name: str, label: str, unit: str, hint: str = "") -> NumberRow:
            row = NumberRow(look, label, unit, self._set_leftover(name), style=self._style, hint=hint)
            self._leftover_row(row, name)
            return row

        self._leftover_row(TextRow(look, "Name", self._set_leftover("name")), "name")
        kept = [(where, KEPT_AT_WORDS[where]) for where in KeptAt]
        self._leftover_row(ChoiceRow(look, "Kept at", kept, self._set_leftover("kept_at")), "kept_at")
        number("house_days", "House date", "days", "Empty: as long as what it is left over from; not tested")
        number("piece_g", "A piece weighs", "g")
        number("bitterness", "Bitterness", "of 10", "Empty: computed from what it holds")
        value = number("value_per_kg", "Worth a kilogram", "", VALUE_HINT)
        value.field.setPlaceholderText(NOT_SET)  # type: ignore[attr-defined]
        acts = RawChoiceRow(look, "Acts as", self._book, self._set_leftover("acts_as_id"), hint=ACTS_HINT)
        self._leftover_row(acts, "acts_as_id")
        self._leftover_row(self._may_contain(self._set_leftover("may_contain")), "may_contain")
        self._leftover_shows.append(lambda _: value.unit.setText(self._sign))
        self._of_leftover = set(self._parts[first:])

    def _may_contain(self, write: _Write) -> ChoicesRow:
        known = [(one.key, one.word, one.group) for one in allergens().values()]
        hint = "What can get in by shared machines and tins, beside what the shared places of the house bring"
        return ChoicesRow(self._look, "May contain", known, write, hint=hint)

    def _book(self) -> HouseBook:
        return self._document.book

    @property
    def _sign(self) -> str:
        return currency_sign(self._document.book.settings.currency)

    def _money(self, name: str, label: str, hint: str) -> NumberRow:
        row = self._number(name, label, self._sign, hint)
        row.field.setPlaceholderText(NOT_SET)  # type: ignore[attr-defined]
        self._shows.append(lambda _: row.unit.setText(self._sign))
        return row

    def _add_costs(self) -> None:
        self.add_head("Costs")
        price = self._money("price", "Price", "What a guest pays, tax included")
        labour = self._number("labour_min", "Labour", "min", "For one serve, or one batch of a part")
        waste = self._number(
            "waste_pct", "Waste", "%", "What is made and neither sold nor used, in percent of the cost"
        )
        for row in (labour, waste):
            row.field.setPlaceholderText(NOT_COUNTED)  # type: ignore[attr-defined]
        value = self._money("value_per_kg", "Worth a kilogram", VALUE_HINT)
        acts = RawChoiceRow(self._look, "Acts as", self._book, self._set("acts_as_id"), hint=ACTS_HINT)
        self.add_row(acts)
        self._shows.append(lambda build: acts.show_value(build.acts_as_id))
        self._joint_words = Words(self._look, "", token="ink3", style="header", wraps=True)
        self.rows.addWidget(self._joint_words)
        self._leftovers = QWidget()
        self._leftover_line = QHBoxLayout(self._leftovers)
        self._leftover_line.setContentsMargins(0, 0, 0, 0)
        self._leftover_line.addStretch(1)
        self.rows.addWidget(self._leftovers)
        self._for_drinks.append(price)
        self._for_parts += [value, acts]
        self._shows.append(self._show_leftovers)

    def _show_leftovers(self, build: Build) -> None:
        """A way to each leftover, and by which rule the cost is shared among them."""
        own = [row for row in self._document.book.leftovers.values() if row.build_id == build.id]
        rule = JOINT_SENTENCES[self._document.book.settings.joint_cost]
        self._joint_words.setText(f"Joint cost: {rule[:1].lower()}{rule[1:]}" if own else "")
        while len(self._leftover_buttons) < len(own):
            button = PlainButton(self._look, "")
            button.clicked.connect(self._open_leftover)
            self._leftover_line.insertWidget(len(self._leftover_buttons), button)
            self._leftover_buttons.append(button)
        for number, button in enumerate(self._leftover_buttons):
            button.setVisible(number < len(own))
            if number < len(own):
                button.setText(f"Details of {own[number].name}".replace("&", "&&"))
                button.setProperty("leftover", own[number].id)
                button.updateGeometry()

    @Slot()
    def _open_leftover(self) -> None:
        sender = self.sender()
        if sender is not None:
            self._is_from_part = True
            self._turn_to(self._build_id, int(sender.property("leftover")))
            self.focus_first()

    def focus_first(self) -> None:
        """Puts the cursor into the first field that is shown."""
        for part in self._parts:
            if isinstance(part, Row) and not part.isHidden():
                part.field.setFocus(Qt.FocusReason.OtherFocusReason)
                return

    def _add_makings(self) -> None:
        self.rows.addSpacing(self._look.px(12))
        self.makings = MakingsView(self._document, self._look, self._clock, self._style)
        self.makings.said.connect(self.said)
        self.rows.addWidget(self.makings)

    def _add_serving(self) -> None:
        name = TextRow(self._look, "Name", self._rename)
        self.add_row(name)
        self._shows.append(lambda build: name.show_value(build.name))
        self._glass = ChoiceRow(self._look, "Glass", [(None, "no glass")], self._set("glass"))
        self.add_row(self._glass)
        self._shows.append(self._show_glass)
        ice = TextRow(
            self._look, "Ice", lambda text: self._do(ice=text or None), hint="Empty: as usual for the glass"
        )
        self.add_row(ice)
        self._shows.append(lambda build: ice.show_value(build.ice or ""))
        ice_g = self._number("ice_g", "Ice weighs", "g", "Empty: as usual for the glass; 0: none")
        self._mark = self._number("wash_line_ml", "Wash line", "ml")
        self._shows.append(self._show_mark)
        self._for_drinks += [self._glass, ice, ice_g, self._mark]

    def _show_glass(self, build: Build) -> None:
        glasses = self._document.book.glasses.values()
        choices: list[tuple[str | None, str]] = [(None, "no glass")]
        choices += [
            (glass.slug, f"{glass.name}, {format_trimmed(glass.brim_ml, 0, self._style)} ml")
            for glass in glasses
        ]
        self._glass.set_choices(choices)
        self._glass.show_value(build.glass)

    def _show_mark(self, build: Build) -> None:
        book = self._document.book
        foam_ml = foam_allowance_ml(book, build)
        usual = wash_line_ml(book.settings, book.glass_of(build), None, build.ice_g, foam_ml)
        words = "no glass is chosen" if usual is None else f"{format_trimmed(usual, 0, self._style)} ml"
        self._mark.hint.setText(f"Empty: as usual for the glass, {words}")
        self._mark.hint.show()

    def _add_keeping(self) -> None:
        kept = [(where, KEPT_AT_WORDS[where]) for where in KeptAt]
        where = ChoiceRow(
            self._look, "Kept at", kept, self._set("kept_at"), hint="It is poured as cold as that"
        )
        self.add_row(where)
        self._shows.append(lambda build: where.show_value(build.kept_at))
        days = self._number("house_days", "House date", "days", "How long the house keeps it; not tested")
        pour = self._number("pour_ml", "A pour is", "ml")
        piece = self._number("piece_g", "A piece weighs", "g")
        dash = self._number("dash_ml", "A dash holds", "ml", "Empty: as the house's measures")
        drop = self._number("drop_ml", "A drop holds", "ml", "Empty: as the house's measures")
        by = TextRow(
            self._look,
            "Keeps by",
            self._set("keeps_by"),
            hint="What lets it outlive its shortest input: boiled, salted, frozen. In the house's own words; not tested",
        )
        self.add_row(by)
        self._shows.append(lambda build: by.show_value(build.keeps_by))
        self._for_parts += [where, days, by, pour, piece, dash, drop]
        self._number("bitterness", "Bitterness", "of 10", "Empty: computed from what is poured")
        known = [(one.key, one.word, one.group) for one in allergens().values()]
        added = ChoicesRow(
            self._look,
            "Also contains",
            known,
            self._set("added_allergens"),
            hint="The house may add what the recipe does not show, and never take away",
        )
        self.add_row(added)
        self._shows.append(lambda build: added.show_value(build.added_allergens))
        may = self._may_contain(self._set("may_contain"))
        self.add_row(may)
        self._shows.append(lambda build: may.show_value(build.may_contain))

    def _add_words(self) -> None:
        self.add_head("The house's own words", "For the card; what is empty leaves no gap there.")
        tastes = ParagraphRow(self._look, "Tastes like", self._set("tastes_like"))
        signs = ParagraphRow(self._look, "If it is off", self._set_signs, hint=SIGNS_HINT)
        note = ParagraphRow(self._look, "Note", self._set("note"))
        for row in (tastes, signs, note):
            self.add_row(row)
        self._shows.append(lambda build: tastes.show_value(build.tastes_like))
        self._shows.append(
            lambda build: signs.show_value("\n".join(f"{sign.taste}: {sign.remedy}" for sign in build.if_off))
        )
        self._shows.append(lambda build: note.show_value(build.note))

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if changed.change_set and self.isVisible():
            self._refresh()

    def set_appearance(self, look: Appearance) -> None:
        super().set_appearance(look)
        if hasattr(self, "_done"):
            self._done.set_appearance(look)
            self.makings.set_appearance(look)
            self._joint_words.set_appearance(look)
            for button in self._leftover_buttons:
                button.set_appearance(look)


def _is_strained(build: Build) -> bool:
    return any(isinstance(step, Strain) for step in build.steps)
