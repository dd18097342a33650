"""The sheet of the house's own data: a table for each kind of it, and the current row in words and pictures."""

from itertools import pairwise
from typing import Any

from PySide6.QtCore import QPoint, QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QGuiApplication, QKeyEvent, QPalette, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QButtonGroup,
    QHBoxLayout,
    QMenu,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from washline.document.commands import labels
from washline.document.commands.command import Command
from washline.document.commands.weighings import forget_calibration
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.book import HouseBook
from washline.model.house import Glass, Weighing
from washline.presentation.book_list import folded
from washline.presentation.glass import glass_form
from washline.presentation.house_data import HouseTexts, why_fixed
from washline.presentation.house_data_columns import TABLES, HouseRow, HouseTable, Key, Kind
from washline.presentation.house_data_entry import read_entry
from washline.presentation.house_data_rows import changed
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.book.field import FindField
from washline.ui.bridge import Bridge
from washline.ui.controls import CloseButton, PlainButton, Words
from washline.ui.costs.bar import TabButton
from washline.ui.house_data import edits
from washline.ui.house_data.choice_menu import add_choices
from washline.ui.house_data.model import ROW_ROLE, HouseModel, Index, SortKey
from washline.ui.house_data.panel import RowPanel
from washline.ui.house_data.table import HouseTableView
from washline.ui.measures import SHEET_MARGIN_PX

ROOM_BESIDE = 1000.0
"""So wide, in pixels of 100 %, must the sheet be for the picture of a glass to stand beside its table."""

ROOM_FOR_TITLE, ROOM_FOR_COUNTS = 830.0, 690.0
"""In a narrower sheet the tabs stand without the title before them, and without how many rows there are."""

GONE = "This row is no longer in the house book."
READ_ONLY = "This house book is open to read only."


class HouseDataView(QWidget):
    """``closed``: back to what was open before; ``item_asked`` carries the id of a drink to go to; ``said`` a sentence for
    the status line."""

    closed = Signal()
    item_asked = Signal(object)
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        sort_key: SortKey = folded,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._look, self._style = document, look, style
        self._texts = HouseTexts(lambda: self._document.book, style)
        self._sorted: dict[str, tuple[int, Qt.SortOrder]] = {}
        self._is_behind = True
        self._listed: tuple[Any, ...] = ()
        self._make(sort_key)
        self._lay_out()
        self._connect(bridge)
        self.set_appearance(look)

    # Making

    def _make(self, sort_key: SortKey) -> None:
        look = self._look
        self.title = Words(look, "House data", style="title")
        self.tabs = {table.key: TabButton(look, table.tab) for table in TABLES}
        self._group = QButtonGroup(self)
        for button in self.tabs.values():
            self._group.addButton(button)
        self.tabs["glass"].setChecked(True)
        self.field = FindField(look, "Find in the table")
        self.close_button = CloseButton(look)
        self.add_button = PlainButton(look, "A&dd")
        self.copy_button = PlainButton(look, "D&uplicate")
        self.remove_button = PlainButton(look, "&Remove")
        self._about = Words(look, "", token="ink3", style="header", wraps=True)
        self._problem = Words(look, "", token="alert", style="label", wraps=True)
        self._empty = Words(look, "", token="ink2", style="row", wraps=True)
        self.tables: dict[str, HouseTableView] = {}
        for table in TABLES:
            model = HouseModel(table, self._texts, lambda: self._document.book, sort_key, self)
            model.is_read_only = self._document.is_read_only
            self.tables[table.key] = HouseTableView(model, look, self._write)
        self.panel = RowPanel(look, self._style)
        self.stack = QStackedWidget()

    def _lay_out(self) -> None:
        head = self._head = QHBoxLayout()
        head.addWidget(self.title)
        for button in self.tabs.values():
            head.addWidget(button)
        head.addStretch(1)
        head.addWidget(self.close_button)
        line = self._line = QHBoxLayout()
        for widget in (self.add_button, self.copy_button, self.remove_button):
            line.addWidget(widget)
        line.addWidget(self._about, 1)
        line.addWidget(self.field)
        top = self._top = QVBoxLayout()
        top.addLayout(head)
        top.addLayout(line)
        top.addWidget(self._problem)
        for view in self.tables.values():
            self.stack.addWidget(view)
        self._empty_page = QWidget()
        column = QVBoxLayout(self._empty_page)
        column.addStretch(1)
        column.addWidget(self._empty, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(2)
        self.stack.addWidget(self._empty_page)
        body = self._body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        body.setSpacing(0)
        body.addWidget(self.stack, 1)
        body.addWidget(self.panel)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(top)
        outer.addLayout(body, 1)
        self._problem.hide()
        self.setAccessibleName("House data")
        order: list[QWidget] = [*self.tabs.values(), self.add_button, self.copy_button, self.remove_button]
        order += [self.field, *self.tables.values(), self.panel, self.close_button]
        for before, after in pairwise(order):
            self.setTabOrder(before, after)

    def _connect(self, bridge: Bridge) -> None:
        bridge.changed.connect(self._follow)
        self._group.buttonToggled.connect(self._turn)
        self.close_button.clicked.connect(self.closed)
        self.add_button.clicked.connect(self._add)
        self.copy_button.clicked.connect(self._duplicate)
        self.remove_button.clicked.connect(self._remove)
        self.panel.calibrations.forgotten.connect(self._forget)
        self.field.textChanged.connect(self._list)
        self.field.moved.connect(self._enter_table)
        self.field.taken.connect(self._enter_table)
        self.field.left.connect(self._leave_field)
        for view in self.tables.values():
            view.sort_asked.connect(self._sort)
            view.typed_elsewhere.connect(self._find)
            view.menu_asked.connect(self._show_menu)
            view.copy_asked.connect(self._copy_rows)
            view.cleared.connect(self._clear)
            view.added.connect(self._add)
            view.duplicated.connect(self._duplicate)
            view.removed.connect(self._remove)
            view.fixed.connect(self._say_fixed)
            view.current_moved.connect(self._tell_row)

    # What is shown

    @property
    def _book(self) -> HouseBook:
        return self._document.book

    @property
    def table(self) -> HouseTableView:
        """The table that is chosen."""
        return self.tables[self._shown.key]

    @property
    def _shown(self) -> HouseTable:
        return next(table for table in TABLES if self.tabs[table.key].isChecked())

    @property
    def row(self) -> HouseRow | None:
        """The current row."""
        index = self.table.currentIndex()
        found = index.data(ROW_ROLE) if index.isValid() else None
        return found if isinstance(found, HouseRow) else None

    @property
    def problem(self) -> str:
        """What was refused."""
        return self._problem.text() if not self._problem.isHidden() else ""

    def show_table(self, key: str) -> None:
        """Turns to a table: glass, method, ice, vessel, measure or weighing."""
        self.tabs[key].setChecked(True)

    def show_entry(self, table: str, key: Key) -> None:
        """Turns to a row of a table."""
        self.show_table(table)
        self.field.clear()
        self.tables[table].go_to(key, 0)

    def focus_first(self) -> None:
        """Puts the cursor into the table, or on the first thing to do."""
        target = self.table if self.table.rows.keys else self.add_button
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._is_behind:
            self._is_behind = False
            for view in self.tables.values():
                view.rows.refresh()
            self._list()

    def _named(self) -> list[tuple[str, Key]]:
        """Name and key of the rows that hold what is to be found, in any of their words."""
        model = self.table.rows
        wanted = folded(self.field.text()).split()
        if not wanted:
            return model.named()
        entries = self._shown.entries(self._book)
        return [
            (name, key)
            for name, key in model.named()
            if all(word in folded(self._said_of(name, entries[key])) for word in wanted)
        ]

    def _said_of(self, name: str, row: HouseRow) -> str:
        columns = self._shown.columns
        wordy = (
            self._texts.text(column, row) for column in columns if column.kind in (Kind.TEXT, Kind.CHOICE)
        )
        return " ".join((name, *(words for words in wordy)))

    @Slot()
    def _list(self) -> None:
        """Lays the rows of the chosen table in order."""
        view, table = self.table, self._shown
        place = view.keep_place()
        column, order = self._sorted.get(table.key, (0, Qt.SortOrder.AscendingOrder))
        view.show_sorted(column, order)
        view.rows.set_keys(view.rows.ordered(self._named(), column, order))
        if view.rows.keys:
            self.stack.setCurrentWidget(view)
            view.go_to(*place)
        else:
            words = self.field.text().strip()
            self._empty.setText(f"Nothing here is called “{words[:40]}”." if words else table.nothing)
            self.stack.setCurrentWidget(self._empty_page)
        self._listed = self._ids()
        self._show_head()
        self._tell_row()

    def _ids(self) -> tuple[Any, ...]:
        """What decides which rows there are: when it is the same the rows stay where they are."""
        return tuple(tuple(table.entries(self._book)) for table in TABLES)

    def _show_head(self) -> None:
        table, may_change = self._shown, not self._document.is_read_only
        self._name_tabs()
        self.add_button.setVisible(table.adds)
        self.copy_button.setVisible(table.adds)
        self.remove_button.setVisible(table.key in edits.REMOVE)
        self.add_button.setToolTip(f"A new {table.one} with usual figures to correct (Insert)")
        self.copy_button.setToolTip(f"The same {table.one} once more, to be changed (Ctrl+D)")
        self.remove_button.setToolTip(f"Remove this {table.one} (Ctrl+Delete)")
        has_rows = bool(self.table.rows.keys)
        self.add_button.setEnabled(may_change)
        for button in (self.copy_button, self.remove_button):
            button.setEnabled(may_change and has_rows)

    def _name_tabs(self) -> None:
        has_counts = self.width() >= ROOM_FOR_COUNTS * self._look.unit
        for one in TABLES:
            count = f" {len(one.entries(self._book))}" if has_counts else ""
            self.tabs[one.key].set_words(f"{one.tab}{count}")

    @Slot(object)
    def _follow(self, notice: Changed) -> None:
        """Figures follow at once; rows stay where they are until somebody sorts, or something comes or goes."""
        if not self.isVisible():
            self._is_behind = True
            return
        if not notice.change_set:
            return
        self.table.rows.refresh()
        if self._ids() != self._listed:
            self._list()
        else:
            self._tell_row()

    @Slot()
    def _turn(self) -> None:
        self._say_problem("")
        self.table.rows.refresh()
        self._arrange()
        self._list()

    @Slot()
    def _tell_row(self) -> None:
        self._say_problem("")
        is_read_only = self._document.is_read_only
        self.panel.show_row(self._book, self._texts, self._shown, self.row, is_read_only=is_read_only)

    # Writing

    def _do(self, command: Command, label: str) -> str:
        """Makes a change; why it was refused, or nothing."""
        try:
            self._document.do(command, label[:120], self)
        except UserError as refusal:
            return str(refusal)
        return ""

    def _write(self, index: Index, text: str) -> str:
        """Takes what was typed into a cell as one step that can be undone."""
        row = index.data(ROW_ROLE)
        if not isinstance(row, HouseRow):
            return GONE
        column = self.table.rows.columns[index.column()]
        entry = read_entry(
            column, row, text, self._texts.choices(column), oz_ml=self._book.settings.oz_ml, style=self._style
        )
        if entry.problem:
            return entry.problem
        if column.key == "form" and isinstance(row, Glass):
            return self._reshape(row, entry.fields["form"])
        command, label, _ = edits.put(self._book, self._shown, changed(row, column, entry.fields))
        return self._do(command, label)

    def _reshape(self, glass: Glass, form: str) -> str:
        if glass_form(glass.slug).name == form:
            return ""
        command, label, slug = edits.reshaped(self._book, glass, form)
        column = self.table.currentIndex().column()
        problem = self._do(command, label)
        if not problem:
            self.table.go_to(slug, column)
        return problem

    @Slot(object)
    def _clear(self, index: Index) -> None:
        column = self.table.rows.columns[index.column()]
        if not self.table.rows.is_typed(index):
            self._say_fixed(index)
        elif column.unset:
            self._say_problem(self._write(index, ""))
        else:
            self._say_problem(f"{column.head[:1].upper()}{column.head[1:]} cannot be empty.")

    @Slot()
    def _add(self) -> None:
        table = self._shown
        if table.adds and not self._document.is_read_only:
            self._put_new(*edits.added(self._book, table))

    @Slot()
    def _duplicate(self) -> None:
        table, row = self._shown, self.row
        if table.adds and row is not None and not self._document.is_read_only:
            self._put_new(*edits.duplicated(self._book, table, row))

    def _put_new(self, command: Command, label: str, key: Key) -> None:
        self.field.clear()
        problem = self._do(command, label)
        self._say_problem(problem)
        if not problem:
            self.table.go_to(key, 0)
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)
            # The key that asked for the row must not be the first that its field hears.
            QTimer.singleShot(0, self, self._edit_current)

    @Slot()
    def _remove(self) -> None:
        row = self.row
        if row is None:
            return
        if self._document.is_read_only:
            self._say_problem(READ_ONLY)
            return
        found = edits.removed(self._book, self._shown, row)
        if found is None:
            self._say_problem("A measure stays: amounts are told in it.")
            return
        command, label, _ = found
        number, column = self.table.currentIndex().row(), self.table.currentIndex().column()
        problem = self._do(command, label)
        if not problem and self.table.rows.keys:
            keys = self.table.rows.keys
            self.table.go_to(keys[min(number, len(keys) - 1)], column)
        self._say_problem(problem)

    @Slot(str)
    def _forget(self, slug: str) -> None:
        self._say_problem(self._do(forget_calibration(slug), labels.forgetting_calibration(self._book, slug)))

    @Slot(object)
    def _say_fixed(self, index: Index) -> None:
        """Why a cell cannot be typed into."""
        row = index.data(ROW_ROLE)
        column = self.table.rows.columns[index.column()]
        if self._document.is_read_only:
            self._say_problem(READ_ONLY)
        elif isinstance(row, Weighing) and index.column() == 0 and row.build_id is not None:
            self.item_asked.emit(row.build_id)
        elif isinstance(row, HouseRow):
            reason = why_fixed(column, row) or f"{column.definition}. Nothing is typed here."
            self.said.emit(reason)

    def _say_problem(self, problem: str) -> None:
        self._problem.setText(problem)
        self._problem.setVisible(bool(problem))

    # Finding, sorting, copying

    @Slot(str)
    def _find(self, text: str) -> None:
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)
        self.field.setText(self.field.text() + text)

    @Slot()
    def _enter_table(self) -> None:
        if self.table.rows.keys:
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _leave_field(self) -> None:
        if self.table.rows.keys:
            self._enter_table()
        else:
            self.closed.emit()

    @Slot(int, object)
    def _sort(self, column: int, order: Qt.SortOrder) -> None:
        self._sorted[self._shown.key] = (column, order)
        self._list()
        way = "rising" if order == Qt.SortOrder.AscendingOrder else "falling"
        self.said.emit(f"Sorted by {self._shown.columns[column].head}, {way}; what is not set stands last.")

    @Slot()
    def _copy_rows(self) -> None:
        rows = [self.table.rows.row(number) for number in self.table.chosen]
        text = self._texts.tab_separated(self._shown.columns, [row for row in rows if row is not None])
        QGuiApplication.clipboard().setText(text)
        self.said.emit("One row was copied." if len(rows) == 1 else f"{len(rows):,} rows were copied.")

    # Menu

    @Slot(QPoint)
    def _show_menu(self, where: QPoint) -> None:
        menu = self.menu()
        if menu is not None:
            menu.exec(where)
            menu.deleteLater()

    def menu(self) -> QMenu | None:
        """What can be done with the current cell; ``None`` where there is none."""
        index, row = self.table.currentIndex(), self.row
        if row is None:
            return None
        menu, column = QMenu(self), self.table.rows.columns[index.column()]
        if self.table.rows.is_typed(index):
            menu.addAction(f"Change {column.head}\tF2", self._edit_current)
            add_choices(menu, self.table.rows, index, self._choose)
        build = self._book.builds.get(row.build_id or 0) if isinstance(row, Weighing) else None
        if build is not None:
            menu.addAction(f"Open {build.name}".replace("&", "&&"), self._open_build)
        menu.addSeparator()
        for button, keys, slot in (
            (self.add_button, "Insert", self._add),
            (self.copy_button, "Ctrl+D", self._duplicate),
            (self.remove_button, "Ctrl+Delete", self._remove),
        ):
            if not button.isHidden() and button.isEnabled():
                menu.addAction(f"{button.text().replace('&', '')} {self._shown.one}\t{keys}", slot)
        menu.addSeparator()
        menu.addAction(f"Sort by {column.head}, rising\tCtrl+↑", self._sort_rising)
        menu.addAction(f"Sort by {column.head}, falling\tCtrl+↓", self._sort_falling)
        menu.addAction("Copy rows\tCtrl+C", self._copy_rows)
        return menu

    def _choose(self, words: str) -> None:
        self._say_problem(self._write(self.table.currentIndex(), words))

    @Slot()
    def _open_build(self) -> None:
        row = self.row
        if isinstance(row, Weighing) and row.build_id is not None:
            self.item_asked.emit(row.build_id)

    @Slot()
    def _edit_current(self) -> None:
        index = self.table.currentIndex()
        if self.table.rows.is_typed(index):
            self.table.edit(index)

    @Slot()
    def _sort_rising(self) -> None:
        self._sort(self.table.currentIndex().column(), Qt.SortOrder.AscendingOrder)

    @Slot()
    def _sort_falling(self) -> None:
        self._sort(self.table.currentIndex().column(), Qt.SortOrder.DescendingOrder)

    # Look

    def _arrange(self) -> None:
        """The picture of a glass stands beside its table where there is room; all else stands under it."""
        is_beside = self._shown.key == "glass" and self.width() >= ROOM_BESIDE * self._look.unit
        direction = QBoxLayout.Direction
        self._body.setDirection(direction.LeftToRight if is_beside else direction.TopToBottom)
        self.panel.stand(is_beside=is_beside)
        has_room = self.width() >= ROOM_FOR_TITLE * self._look.unit
        self.title.setVisible(has_room)
        # It keeps its place, so that the buttons and the field keep theirs.
        self._about.setText(self._shown.about if has_room else "")

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()
        self._name_tabs()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc closes the sheet; nothing is lost by it."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(460), self._look.px(320))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        self.setPalette(palette)
        self.setAutoFillBackground(True)
        margin = look.px(SHEET_MARGIN_PX)
        self._top.setContentsMargins(margin, look.px(14), margin, look.px(8))
        self._top.setSpacing(look.px(8))
        self._head.setSpacing(look.px(8))
        self._line.setSpacing(look.px(8))
        self.field.setFixedWidth(look.px(190))
        parts: tuple[Any, ...] = (
            self.title, *self.tabs.values(), self.field, self.close_button, self.add_button, self.copy_button,
            self.remove_button, self._about, self._problem, self._empty, *self.tables.values(), self.panel,
        )  # fmt: skip
        for part in parts:
            part.set_appearance(look)
        self._arrange()
