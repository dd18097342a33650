"""Today's fruit on the sheet of a raw ingredient: two sliders, three readings, and until when they hold."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from msgspec import structs
from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.document.commands.command import Command
from washline.document.commands.today import change_label, clear_today, end_of_service, set_today, until_text
from washline.document.document import Document
from washline.model.item import RawIngredient, Today
from washline.presentation.today import (
    STRIP_ERROR,
    Measured,
    figures,
    of_table,
    shift_words,
    shifts,
    signed,
    strip_range,
    until_words,
)
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number, format_range
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.form import NumberRow, Row
from washline.ui.ingredient.shift_slider import ShiftSlider

_SHIFTS = (("sugars_pct", "Sweeter or less", "Sugars"), ("acids_pct", "Sharper or softer", "Acids"))


class ShiftRow(Row):
    """A slider in percent with its figure behind it. ``write`` is called when it rests."""

    def __init__(
        self, look: Appearance, label: str, name: str, write: Callable[[int], str], style: NumberStyle
    ) -> None:
        self._slider = ShiftSlider(look, f"{name} against the table, %")
        super().__init__(look, label, self._slider, "as in the table")
        self._write, self._style, self._kept = write, style, 0.0
        self._slider.valueChanged.connect(self._changed)
        self._slider.sliderMoved.connect(self._show)
        self._slider.sliderReleased.connect(self._rest)

    @property
    def slider(self) -> ShiftSlider:
        """The slider itself."""
        return self._slider

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        super().set_appearance(look)
        self._slider.set_appearance(look)

    def show_value(self, percent: float) -> None:
        """Shows what is kept."""
        self._kept = percent
        self._slider.blockSignals(True)
        self._slider.setValue(round(percent))
        self._slider.blockSignals(False)
        self._show_words(percent)

    def _show_words(self, percent: float) -> None:
        words = f"{signed(percent, self._style)} %" if percent else "as in the table"
        self.unit.setText(words)
        self._slider.setAccessibleDescription(words)

    @Slot(int)
    def _show(self, percent: int) -> None:
        self._show_words(percent)

    @Slot(int)
    def _changed(self, percent: int) -> None:
        self._show_words(percent)
        if not self._slider.isSliderDown():
            self._rest()

    @Slot()
    def _rest(self) -> None:
        if self._slider.value() != round(self._kept):
            self.say(self._write(self._slider.value()))


class TodaySection(QWidget):
    """``show_raw`` turns to another ingredient. Everything written is one step that can be undone."""

    def __init__(
        self,
        document: Document,
        look: Appearance,
        clock: Callable[[], datetime],
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._look, self._clock, self._style = document, look, clock, style
        self._raw: RawIngredient | None = None
        self._measured = Measured()
        self.state = Words(look, "", token="ink", style="row", wraps=True)
        self.back_button = PlainButton(look, "Back to the table")
        self.back_button.clicked.connect(self._clear)
        line = QHBoxLayout()
        line.addWidget(self.state, 1)
        line.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignTop)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.addLayout(line)
        self.shifts = {
            field: ShiftRow(look, label, name, self._slide(field), style) for field, label, name in _SHIFTS
        }
        self.brix = NumberRow(look, "Refractometer", "°Bx", self._read("brix"), style=style)
        self.ph = NumberRow(look, "pH strip or meter", "pH", self._read("ph"), style=style)
        self.titration = NumberRow(
            look, "Titration", "g citric acid in 100 g", self._read("acidity_pct"), style=style
        )
        for row in self._rows:
            self._layout.addWidget(row)
        for row in (self.brix, self.ph, self.titration):
            row.field.setProperty("placeholderText", "not measured")

    @property
    def _rows(self) -> tuple[Row, ...]:
        return (*self.shifts.values(), self.brix, self.ph, self.titration)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._layout.setSpacing(look.px(6))
        self.state.set_appearance(look)
        self.back_button.set_appearance(look)
        for row in self._rows:
            row.set_appearance(look)

    def set_read_only(self, is_read_only: bool) -> None:
        """Has fields that can only be looked at."""
        for row in self._rows:
            row.field.setEnabled(not is_read_only)
        self.back_button.setEnabled(not is_read_only)

    def show_raw(self, raw: RawIngredient) -> None:
        """Shows what is kept of an ingredient; readings of another one are let go."""
        is_other = self._raw is None or self._raw.id != raw.id
        self._raw = raw
        today = raw.today or Today()
        for field, row in self.shifts.items():
            row.show_value(getattr(today, field))
            if is_other:
                row.say("")
        if is_other or raw.today is None:
            self._measured = Measured()
            for measured in (self.brix, self.ph, self.titration):
                measured.say("")
                measured.show_value(None)
        self.state.setText(self._state(raw))
        self.back_button.setVisible(raw.today is not None)
        self._show_table(raw)

    def _state(self, raw: RawIngredient) -> str:
        if raw.today is None:
            ends = self._document.book.settings.service_ends
            return f"As in the table. What is set here holds until the service ends ({ends}), then the table holds again."
        until = until_words(raw.today, self._clock())
        how = f", by {raw.today.how}" if raw.today.how else ""
        return f"Today: {shift_words(raw.today, self._style)}{' ' + until if until else ''}{how}."

    def _show_table(self, raw: RawIngredient) -> None:
        """Beside each reading what the table would read, so that one sees what differs."""
        book, style = self._document.book, self._style
        table, now = figures(book, of_table(raw)), figures(book, raw)
        for row, key, decimals in (
            (self.brix, "brix", 1),
            (self.ph, "ph", 2),
            (self.titration, "acidity_pct", 2),
        ):
            of, today = getattr(table, key), getattr(now, key)
            if of is None:
                row.hint.setText("The table does not tell it, so that nothing follows from it.")
            else:
                shifted = f", today {format_number(today, decimals, style)}" if raw.today is not None else ""
                row.hint.setText(f"The table reads {format_number(of, decimals, style)}{shifted}")
            row.hint.show()

    # Writing

    def _slide(self, field: str) -> Callable[[int], str]:
        def write(percent: int) -> str:
            self._forget(field)
            before = self._raw.today if self._raw is not None else None
            how = " and ".join(word for word in (self._how(), "the slider") if word)
            return self._put(structs.replace(before or Today(), **{field: float(percent)}, how=how))

        return write

    def _forget(self, field: str) -> None:
        """A slider moved by hand takes the place of what was read."""
        if field == "sugars_pct":
            self._measured = replace(self._measured, brix=None)
            self.brix.show_value(None)
        else:
            self._measured = replace(self._measured, ph=None, acidity_pct=None)
            self.ph.show_value(None)
            self.titration.show_value(None)

    def _read(self, key: str) -> Callable[[float | None], str]:
        def write(value: float | None) -> str:
            raw = self._raw
            if raw is None:
                return ""
            measured = replace(self._measured, **{key: value})
            if value is None:
                self._measured = measured
                return ""
            try:
                sugars, acids = shifts(self._document.book, raw, self._complete(measured))
            except UserError as refusal:
                return str(refusal)
            self._measured = measured
            found = {"sugars_pct": sugars if measured.brix is not None else None, "acids_pct": acids}
            told = {field: round(percent, 2) for field, percent in found.items() if percent is not None}
            return self._put(structs.replace(raw.today or Today(), **told, how=self._how()))

        return write

    def _complete(self, measured: Measured) -> Measured:
        """A refractometer reads acids too: where only it was used they are taken as they stand today."""
        raw = self._raw
        if raw is None or measured.ph is not None or measured.acidity_pct is not None:
            return measured
        if raw.today is not None and raw.today.acids_pct:
            return replace(measured, acidity_pct=figures(self._document.book, raw).acidity_pct)
        return measured

    def _how(self) -> str:
        """What today's shift rests on, in words."""
        measured, style, said = self._measured, self._style, []
        if measured.brix is not None:
            said.append(f"a refractometer, {format_number(measured.brix, 1, style)} °Bx")
        if measured.acidity_pct is not None:
            said.append(f"a titration, {format_number(measured.acidity_pct, 2, style)} g in 100 g")
        elif measured.ph is not None:
            words = f"pH {format_number(measured.ph, 2, style)}"
            around = (
                strip_range(self._document.book, self._raw, measured.ph) if self._raw is not None else None
            )
            if around is not None:
                shown = format_range(around[0], around[1], 0, "%", style)
                words += f" (a strip reads to {STRIP_ERROR:g}: acids {shown})"
            said.append(words)
        return " and ".join(said)

    def _put(self, today: Today) -> str:
        raw = self._raw
        if raw is None:
            return ""
        try:
            end = end_of_service(self._document.book.settings.service_ends, self._clock())
        except UserError as refusal:
            return str(refusal)
        whole = structs.replace(today, until=until_text(end))
        return self._do(set_today(raw.id, whole), ("today", raw.id))

    @Slot()
    def _clear(self) -> None:
        if self._raw is not None:
            self._do(clear_today(self._raw.id))

    def _do(self, command: Command, merge_key: object = None) -> str:
        if self._raw is None:
            return ""
        try:
            self._document.do(command, change_label(self._raw.name), self, merge_key)
        except UserError as refusal:
            return str(refusal)
        return ""
