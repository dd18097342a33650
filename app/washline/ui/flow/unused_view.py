"""The sheet *Unused leftovers*: what is left of every batch in the house, and what could take it."""

from collections.abc import Callable
from itertools import pairwise

from PySide6.QtCore import QModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QHeaderView, QTreeView, QVBoxLayout, QWidget

from washline.document.document import Document
from washline.document.notice import Changed
from washline.presentation.book_list import KEPT_AT_WORDS
from washline.presentation.ledger_vessel import Matter
from washline.presentation.unused import Unused, unused
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNKNOWN,
    NumberStyle,
    format_contribution,
    format_number,
)
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.controls import CloseButton, QuietChoice, ThinScrollBar, Words
from washline.ui.flow.tips import plain_tip
from washline.ui.flow.unused_rows import PADDING, UnusedDelegate, UnusedHeader, list_palette
from washline.ui.measures import SHEET_MARGIN_PX

HEADING = "Unused leftovers"
NOTHING = (
    "Every leftover of the house book is taken. A strain or a take whose leftover has a name makes a new one."
)
COLUMNS = (
    "Leftover",
    "From",
    "Left, g",
    "Of a batch, g",
    "Sugars, g",
    "Acids, g",
    "Fat, g",
    "Keeps",
    "Kept at",
)
TIPS = (
    "The leftover, and under it what could take it",
    "The part or drink that yields it",
    "Grams of one batch that nobody takes",
    "Grams of one batch in all",
    "Grams of sugars in what is left",
    "Grams of acids by weight in what is left, whatever binds them",
    "Grams of fat in what is left",
    "How long the house keeps it: its own date, else that of what it is left over from; not tested",
    "Where it stands",
)
_FIGURES = range(2, 7)
_ITEM = Qt.ItemDataRole.UserRole + 1
AT_LEAST = "at least "
LEFT = 2
LEAST_NAME = 190.0


class UnusedView(QWidget):
    """The list. It is made when it is shown and follows the document then. ``closed``: the person is done; ``opened``
    carries the id of a leftover, part or drink that is to be shown."""

    closed = Signal()
    opened = Signal(int)

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._look, self._style = document, look, style
        self._rows: tuple[Unused, ...] = ()
        self._make()
        self._lay_out()
        self.set_appearance(look)
        self.close_button.clicked.connect(self.closed)
        self.tree.activated.connect(self._open)
        self.tree.clicked.connect(self._click)
        self.header.sorted_by.connect(self.sort_by)
        self.sort_choice.activated.connect(self.sort_by)
        bridge.changed.connect(self._follow)

    @property
    def rows(self) -> tuple[Unused, ...]:
        """What is listed, in the order in which it stands."""
        return self._rows

    def _make(self) -> None:
        look = self._look
        self.setAccessibleName(HEADING)
        self.title = Words(look, HEADING, style="title")
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.close_button = CloseButton(look)
        self.empty = Words(look, NOTHING, token="ink2", wraps=True)
        self.model = QStandardItemModel(0, len(COLUMNS), self)
        self.tree = QTreeView()
        self.tree.setModel(self.model)
        self.tree.setAccessibleName(HEADING)
        self.tree.setFrameShape(QTreeView.Shape.NoFrame)
        self.tree.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.tree.setRootIsDecorated(False)
        self.tree.setItemsExpandable(False)
        self.tree.setUniformRowHeights(True)
        self.tree.setExpandsOnDoubleClick(False)
        self.tree.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.header = UnusedHeader(look, self.tree)
        self.header.set_order(LEFT, is_falling=True)
        self.tree.setHeader(self.header)
        self._delegate = UnusedDelegate(look, self.tree)
        self.tree.setItemDelegate(self._delegate)
        self._sort_words = Words(look, "Sort by", token="ink2", style="label")
        self.sort_choice = QuietChoice()
        self.sort_choice.addItems([column.removesuffix(", g") for column in COLUMNS])
        self.sort_choice.setCurrentIndex(LEFT)
        self.sort_choice.setAccessibleName("Sort by")
        self._sort_words.setBuddy(self.sort_choice)
        self._bar = ThinScrollBar(look)
        self.tree.setVerticalScrollBar(self._bar)

    def _lay_out(self) -> None:
        names = QHBoxLayout()
        names.addWidget(self.title, 1)
        names.setSpacing(self._look.px(8))
        names.addWidget(self._sort_words)
        names.addWidget(self.sort_choice)
        names.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self._head = QVBoxLayout()
        self._head.addLayout(names)
        self._head.addWidget(self.about)
        self._foot = QVBoxLayout()
        self._foot.addWidget(self.tree, 1)
        self._foot.addWidget(self.empty)
        self._foot.addStretch(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._head)
        column.addLayout(self._foot, 1)
        for before, after in pairwise((self.sort_choice, self.close_button, self.tree)):
            self.setTabOrder(before, after)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin = look.px(SHEET_MARGIN_PX)
        self._head.setContentsMargins(margin, look.px(12), margin, look.px(8))
        self._foot.setContentsMargins(look.px(12), 0, look.px(8), look.px(12))
        self.empty.setContentsMargins(look.px(8), look.px(24), look.px(8), look.px(24))
        for part in (
            self.title,
            self.about,
            self.empty,
            self.close_button,
            self._bar,
            self._sort_words,
            self.header,
        ):
            part.set_appearance(look)
        self.sort_choice.setFont(look.fonts.row)
        palette = list_palette(look)
        for ground in (self, self.tree, self.header):
            ground.setPalette(palette)
        self.setAutoFillBackground(True)
        self._delegate.look = look
        self.tree.setIndentation(look.px(20))
        self._fill()

    def focus_first(self) -> None:
        """Puts the cursor on the list, or on the way out where it is empty."""
        (self.tree if self._rows else self.close_button).setFocus(Qt.FocusReason.OtherFocusReason)

    # What is shown

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if self.isVisible() and changed.kind != "computed":
            self.refresh()

    def refresh(self) -> None:
        """Looks through the house book again."""
        self._rows = unused(self._document.workings, self._style)
        self._fill()

    @Slot()
    def _fill(self) -> None:
        """Writes the rows in the chosen order; the row that was chosen stays chosen."""
        chosen = self._chosen()
        key = _sort_key(self.header.column)
        self._rows = tuple(sorted(self._rows, key=key, reverse=self.header.is_falling))
        self.model.removeRows(0, self.model.rowCount())
        self.model.setHorizontalHeaderLabels(list(COLUMNS))
        for column, tip in enumerate(TIPS):
            head = self.model.horizontalHeaderItem(column)
            head.setToolTip(tip)
            if column in _FIGURES:
                head.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        for row in self._rows:
            self._put(row)
        self.tree.expandAll()
        self._fit_columns()
        self._choose(chosen)
        self._show_state()

    @Slot(int)
    def sort_by(self, column: int) -> None:
        """Sorts by a column; by the same one again, the other way round. Figures begin with the largest."""
        is_same = column == self.header.column
        self.header.set_order(
            column, is_falling=not self.header.is_falling if is_same else column in _FIGURES
        )
        self.sort_choice.setCurrentIndex(column)
        self._fill()

    def _show_state(self) -> None:
        count = len(self._rows)
        total = sum(row.left_g for row in self._rows if row.left_g is not None)
        grams = format_number(total, 0, self._style)
        what = "1 leftover" if count == 1 else f"{count} leftovers"
        words = f"{what}; of one batch each, {grams} g in all. Under each stands what could take it; Enter opens it."
        self.about.setText(words if count else "")
        self.tree.setVisible(count > 0)
        self.empty.setVisible(count == 0)

    def _put(self, row: Unused) -> None:
        items = [QStandardItem(text) for text in self.texts(row)]
        for column, item in enumerate(items):
            item.setData(row.item_id, _ITEM)
            if column in _FIGURES:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        items[0].setToolTip(plain_tip(f"{row.name}, from {row.maker_name}"))
        self.model.appendRow(items)
        for taker in row.takers:
            child = QStandardItem(f"{taker.name}  ·  {taker.reason}")
            child.setData(taker.build_id, _ITEM)
            child.setAccessibleText(f"could go into {taker.name}, which {taker.reason}")
            items[0].appendRow(child)
            self.tree.setFirstColumnSpanned(items[0].rowCount() - 1, items[0].index(), True)
        if not row.takers:
            child = QStandardItem("nothing in the house book takes in anything of the kind yet")
            child.setFlags(Qt.ItemFlag.ItemIsEnabled)
            items[0].appendRow(child)
            self.tree.setFirstColumnSpanned(0, items[0].index(), True)

    def texts(self, row: Unused) -> tuple[str, ...]:
        """What the cells of a leftover say, in the order of ``COLUMNS``."""
        style, matter = self._style, row.matter
        held = (
            (UNKNOWN, UNKNOWN, UNKNOWN)
            if matter is None
            else (
                _at_least(matter.sugars_g, matter.may_be_sugar_g, 1, style),
                _at_least(matter.acids_g, matter.may_be_acid_g, 2, style),
                format_contribution(matter.fat_g, 1, style),
            )
        )
        return (
            row.name, row.maker_name, format_number(row.left_g, 1, style), format_number(row.batch_g, 1, style),
            *held, row.keeps_words(), KEPT_AT_WORDS[row.kept_at],
        )  # fmt: skip

    def _fit_columns(self) -> None:
        """Every column as wide as its texts, the name what is left."""
        look, fonts = self._look, self._look.fonts
        self.header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        for column in range(1, len(COLUMNS)):
            widest = fonts.width(fonts.header, COLUMNS[column]) + look.px(12)
            for row in self._rows:
                widest = max(widest, fonts.width(fonts.row, self.texts(row)[column]))
            self.tree.setColumnWidth(column, round(min(widest, look.px(190))) + look.px(2 * PADDING + 4))
        others = sum(self.tree.columnWidth(column) for column in range(1, len(COLUMNS)))
        margins = self._foot.contentsMargins()
        room = self.width() - margins.left() - margins.right() - self._bar.width()
        self.tree.setColumnWidth(0, max(look.px(LEAST_NAME), room - others))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_columns()

    # Choosing and opening

    def _chosen(self) -> int | None:
        index = self.tree.currentIndex()
        found = index.siblingAtColumn(0).data(_ITEM) if index.isValid() else None
        return int(found) if found is not None else None

    def _choose(self, item_id: int | None) -> None:
        for place in range(self.model.rowCount()):
            if item_id is None or self.model.item(place).data(_ITEM) == item_id:
                self.tree.setCurrentIndex(self.model.index(place, 0))
                return

    @Slot(QModelIndex)
    def _open(self, index: QModelIndex) -> None:
        item_id = index.siblingAtColumn(0).data(_ITEM)
        if item_id is not None:
            self.opened.emit(int(item_id))

    @Slot(QModelIndex)
    def _click(self, index: QModelIndex) -> None:
        """A click on what could take a leftover opens it; on the leftover it only chooses."""
        if index.parent().isValid():
            self._open(index)


def _at_least(grams: float, may_be_g: float, decimals: int, style: NumberStyle) -> str:
    if may_be_g > 0.5 * 10.0**-decimals:
        return AT_LEAST + format_number(grams, decimals, style)
    return format_contribution(grams, decimals, style)


def _sort_key(column: int) -> Callable[[Unused], tuple[bool, float, str]]:
    """What rows are ordered by: unknown before known, figures by their value, words by their letters."""

    def held(matter: Matter | None) -> tuple[float | None, float | None, float | None]:
        return (matter.sugars_g, matter.acids_g, matter.fat_g) if matter is not None else (None, None, None)

    def key(row: Unused) -> tuple[bool, float, str]:
        figures = (row.left_g, row.batch_g, *held(row.matter), None if row.days is None else float(row.days))
        if 2 <= column <= 7:
            figure = figures[column - 2]
            return figure is not None, figure or 0.0, row.name
        words = {0: row.name, 1: row.maker_name, 8: KEPT_AT_WORDS[row.kept_at]}
        return True, 0.0, words.get(column, row.name).casefold()

    return key
