"""What was paid for a raw ingredient and when: a dated list that can be added to, with a small curve of the newest unit."""

from collections.abc import Callable
from datetime import date, datetime

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Slot
from PySide6.QtGui import QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.command import Command
from washline.document.commands.raws import add_price, remove_price
from washline.document.document import Document
from washline.model.item import Price, RawIngredient
from washline.presentation.pack_price import read_pack_price
from washline.presentation.raw_facts import newest_price, price_change_words, price_history
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, QuietChoice, Words
from washline.ui.draw.pens import hairline, solid, square
from washline.ui.form import PlainField

SHOWN_AT_FIRST = 6
UNITS = (("l", "a litre"), ("kg", "a kilogram"))
_NUMBER_WIDTH, _DATE_WIDTH, _NOTE_WIDTH = 84, 110, 200


class PriceCurve(QWidget):
    """The prices of one unit over time, from zero at the foot; the dots are data."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._points: tuple[tuple[int, float], ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Price over time")

    def show_prices(self, prices: list[Price]) -> None:
        """Shows prices of one unit, oldest first; dates that cannot be read are left out."""
        points = []
        for price in prices:
            try:
                points.append((date.fromisoformat(price.date).toordinal(), price.per_unit))
            except ValueError:
                continue
        self._points = tuple(points)
        self.setVisible(len(points) > 1)
        said = ", ".join(f"{price.date} {price.per_unit:g}" for price in prices)
        self.setAccessibleDescription(said)
        self.setToolTip(said.replace(", ", "\n"))
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(220), self._look.px(44))

    def paintEvent(self, event: QPaintEvent) -> None:
        if len(self._points) < 2:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        look, theme = self._look, self._look.theme
        box = QRectF(self.rect()).adjusted(look.px(4), look.px(5), -look.px(4), -look.px(3))
        painter.setPen(square(theme.rule2, hairline(painter)))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        first, last = self._points[0][0], self._points[-1][0]
        top = max(value for _, value in self._points) or 1.0
        places = [
            QPointF(
                box.left() + (day - first) / max(1, last - first) * box.width(),
                box.bottom() - value / top * box.height(),
            )
            for day, value in self._points
        ]
        painter.setPen(solid(theme.ink, 1.6 * look.unit))
        painter.drawPolyline(QPolygonF(places))
        painter.setBrush(theme.ink)
        painter.setPen(Qt.PenStyle.NoPen)
        for place in places:
            painter.drawEllipse(place, 2.4 * look.unit, 2.4 * look.unit)
        painter.end()


class _PriceLine(QWidget):
    """One price: its date, what was paid, the note, and a button that takes it off."""

    def __init__(
        self, look: Appearance, texts: tuple[str, str, str], remove: Callable[[], None], *, counts: bool
    ) -> None:
        super().__init__()
        day, paid, note = texts
        strong = "row_strong" if counts else "row"
        self.words = [
            Words(look, day, style="row"),
            Words(look, paid, style=strong),
            Words(look, note, token="ink2"),
        ]
        self.words[1].setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.button = PlainButton(look, "Remove")
        self.button.setAccessibleName(f"Remove the price of {day}, {paid}")
        self.button.clicked.connect(remove)
        self._line = QHBoxLayout(self)
        self._line.setContentsMargins(0, 0, 0, 0)
        for widget in self.words:
            self._line.addWidget(widget)
        self._line.addStretch(1)
        self._line.addWidget(self.button)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        for widget, width in zip(self.words, (110, 130, 0), strict=True):
            widget.set_appearance(look)
            if width:
                widget.setFixedWidth(look.px(width))
        self._line.setSpacing(look.px(14))
        self.button.set_appearance(look)


class PriceSection(QWidget):
    """``show_raw`` turns to another ingredient. Every price added or removed is one step that can be undone."""

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
        self._lines: list[_PriceLine] = []
        self._shown: tuple[object, ...] = ()
        self._is_whole = False
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.curve = PriceCurve(look)
        self.problem = Words(look, "", token="alert", style="label", wraps=True)
        self.more_button = PlainButton(look, "")
        self.more_button.clicked.connect(self._show_all)
        self._make_fields(look)
        self._list = QVBoxLayout()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        for part in (self.about, self.curve):
            self._layout.addWidget(part)
        self._layout.addLayout(self._list)
        self._layout.addWidget(self.more_button)
        self._layout.addLayout(self._entry)
        self._layout.addWidget(self.problem)
        self.problem.hide()
        self.set_appearance(look)

    def _make_fields(self, look: Appearance) -> None:
        self.day = PlainField(look, "Date of the price, year-month-day", _DATE_WIDTH)
        self.paid = PlainField(look, "Price", _NUMBER_WIDTH)
        self.paid.setPlaceholderText("price")
        self.paid.setToolTip(
            "A number for one litre or kilogram, or what a pack cost: 24.50 for 700 ml, 36 for 6 x 2 kg"
        )
        self.unit = QuietChoice()
        self.unit.setAccessibleName("Priced by")
        for _, words in UNITS:
            self.unit.addItem(words)
        self.note = PlainField(look, "Note on the price", _NOTE_WIDTH)
        self.note.setPlaceholderText("from whom, which size")
        self.add_button = PlainButton(look, "Add price")
        self.add_button.clicked.connect(self._add)
        for field in (self.day, self.paid, self.note):
            field.returnPressed.connect(self._add)
        self._currency = Words(look, "", token="ink2", style="label")
        self._entry = QHBoxLayout()
        for widget in (self.day, self.paid, self._currency, self.unit, self.note, self.add_button):
            self._entry.addWidget(widget)
        self._entry.addStretch(1)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._layout.setSpacing(look.px(6))
        self._list.setSpacing(look.px(2))
        self._entry.setSpacing(look.px(6))
        for words in (self.about, self.problem, self._currency):
            words.set_appearance(look)
        for field in (self.day, self.paid, self.note):
            field.set_appearance(look)
        for button in (self.more_button, self.add_button):
            button.set_appearance(look)
        self.unit.setFont(look.fonts.row)
        self.curve.set_appearance(look)
        for line in self._lines:
            line.set_appearance(look)

    def set_read_only(self, is_read_only: bool) -> None:
        """Has fields that can only be looked at."""
        for widget in (self.day, self.paid, self.unit, self.note, self.add_button):
            widget.setEnabled(not is_read_only)

    def show_raw(self, raw: RawIngredient) -> None:
        """Shows the prices of an ingredient."""
        if self._raw is None or self._raw.id != raw.id:
            self._say("")
            self._is_whole = False
            for field in (self.paid, self.note):
                field.setText("")
                field.setModified(False)
            self.day.set_kept(self._clock().astimezone().date().isoformat())
            newest = newest_price(raw)
            unit = newest[1].unit if newest is not None else "l" if raw.is_poured else "kg"
            self.unit.setCurrentIndex([key for key, _ in UNITS].index(unit) if unit in dict(UNITS) else 0)
        self._raw = raw
        self._currency.setText(self._document.book.settings.currency)
        self._fill()

    def _fill(self) -> None:
        raw = self._raw
        if raw is None:
            return
        shown = (raw.id, raw.prices, self._is_whole, self._document.book.settings.currency)
        if shown == self._shown:
            return
        self._shown = shown
        for line in self._lines:
            self._list.removeWidget(line)
            line.hide()
            line.deleteLater()
        self._lines = []
        history = price_history(raw)
        for number, (index, price) in enumerate(history if self._is_whole else history[:SHOWN_AT_FIRST]):
            self._add_line(index, price, counts=number == 0)
        left = len(history) - len(self._lines)
        self.more_button.setVisible(left > 0)
        self.more_button.setText(f"Show {left} older")
        self.more_button.updateGeometry()
        self._show_about(raw)

    def _add_line(self, index: int, price: Price, *, counts: bool) -> None:
        currency = self._document.book.settings.currency
        paid = f"{format_number(price.per_unit, 2, self._style)} {currency}/{price.unit}"
        line = _PriceLine(
            self._look, (price.date, paid, price.note), lambda: self._remove(index), counts=counts
        )
        line.button.setEnabled(not self._document.is_read_only)
        self._lines.append(line)
        self._list.addWidget(line)

    def _show_about(self, raw: RawIngredient) -> None:
        newest = newest_price(raw)
        if newest is None:
            self.about.setText("No price is known: costs that rest on it say “at least”.")
        else:
            change = price_change_words(raw, self._style)
            self.about.setText(f"The newest by date counts{'; ' + change if change else ''}.")
        unit = newest[1].unit if newest is not None else ""
        self.curve.show_prices([price for _, price in reversed(price_history(raw)) if price.unit == unit])

    @Slot()
    def _show_all(self) -> None:
        self._is_whole = True
        self._fill()

    # Writing

    @Slot()
    def _add(self) -> None:
        raw = self._raw
        if raw is None:
            return
        try:
            day = date.fromisoformat(self.day.text().strip()).isoformat()
        except ValueError:
            self._say(
                f"“{self.day.text()[:20]}” is no date. Expected year-month-day, such as 2026-11-21.", self.day
            )
            return
        currency = self._document.book.settings.currency
        paid = read_pack_price(self.paid.text(), currency, self._style)
        if paid is None:
            self._say(
                f"“{self.paid.text()[:20]}” is no price. Expected a number in {currency}, or what a pack cost: "
                "24.50 for 700 ml.",
                self.paid,
            )
            return
        note = ", ".join(words for words in (paid.pack, self.note.text().strip()) if words)
        price = Price(paid.per_unit, paid.unit or UNITS[self.unit.currentIndex()][0], day, note)
        problem = self._do(add_price(raw.id, price))
        self._say(problem, self.paid if problem else None)
        if not problem:
            for field in (self.paid, self.note):
                field.setText("")
                field.setModified(False)

    def _remove(self, index: int) -> None:
        if self._raw is not None:
            self._say(self._do(remove_price(self._raw.id, index)))

    def _do(self, command: Command) -> str:
        raw = self._raw
        if raw is None:
            return ""
        try:
            self._document.do(command, labels.change_of_item(self._document.book, raw.id), self)
        except UserError as refusal:
            return str(refusal)
        return ""

    def _say(self, problem: str, field: PlainField | None = None) -> None:
        self.problem.setText(problem)
        self.problem.setVisible(bool(problem))
        for each in (self.day, self.paid):
            each.has_error = each is field
            each.update()
