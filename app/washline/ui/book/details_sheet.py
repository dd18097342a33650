"""What a drink or part is besides its steps: its glass and ice, where it is kept, and the house's own words for it."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.items import rename, set_build
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.house import wash_line_ml
from washline.model.item import Build, KeptAt, Sign
from washline.presentation.book_list import KEPT_AT_WORDS
from washline.presentation.cautions import allergens
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.controls import PlainButton
from washline.ui.form import ChoiceRow, ChoicesRow, FormSheet, NumberRow, ParagraphRow, Row, TextRow

_Write = Callable[[Any], str]
SIGNS_HINT = "One sign a line: what is tasted, a colon, what to do. “too sharp: 2.5 ml more cordial”"


class DetailsSheet(FormSheet):
    """Shows one drink or part; ``closed``: Done was pressed."""

    closed = Signal()

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(look, parent=parent)
        self._document, self._style = document, style
        self._build_id = 0
        self._shows: list[Callable[[Build], None]] = []
        self._for_drinks: list[Row] = []
        self._for_parts: list[Row] = []
        self._add_serving()
        self._add_keeping()
        self._add_words()
        self._done = PlainButton(look, "Done", is_first=True)
        self._done.clicked.connect(self.closed)
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

    def show_build(self, build_id: int) -> None:
        """Turns to a drink or part."""
        if build_id != self._build_id:
            self._build_id = build_id
            for row in self.findChildren(Row):
                row.say("")
        self._refresh()

    def _refresh(self) -> None:
        build = self._build
        if build is None:
            return
        self.title.setText(build.name)
        self.about.setText("Drink" if build.is_drink else "House-made part")
        for row in self._for_drinks:
            row.setVisible(build.is_drink)
        for row in self._for_parts:
            row.setVisible(not build.is_drink)
        for show in self._shows:
            show(build)

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

    # Rows

    def _number(self, name: str, label: str, unit: str, hint: str = "") -> NumberRow:
        row = NumberRow(self._look, label, unit, self._set(name), style=self._style, hint=hint)
        self.add_row(row)
        self._shows.append(lambda build: row.show_value(getattr(build, name)))
        return row

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
        usual = wash_line_ml(book.settings, book.glass_of(build), None, build.ice_g)
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
        self._for_parts += [where, days, pour, piece, dash, drop]
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
