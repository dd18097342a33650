"""The sheet of costs: one table over all drinks and one over all parts, with the figures of the house above them."""

from collections.abc import Callable
from itertools import pairwise
from typing import Any

from PySide6.QtCore import QPoint, QSize, Qt, Signal, Slot
from PySide6.QtGui import QAction, QGuiApplication, QKeyEvent, QPalette, QShowEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QMenu, QStackedWidget, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.command import Command
from washline.document.commands.house import set_settings
from washline.document.commands.items import set_build
from washline.document.commands.leftovers import set_leftover
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.book import HouseBook
from washline.presentation.book_list import folded
from washline.presentation.costs import Costs, PartCost
from washline.presentation.costs_sources import JOINT_SENTENCES
from washline.presentation.costs_table import DRINK_COLUMNS, MONEY, PART_COLUMNS, CostTable, Row
from washline.presentation.readings import currency_sign
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.book.field import FindField
from washline.ui.bridge import Bridge
from washline.ui.controls import CloseButton, PlainButton, Words
from washline.ui.costs.bar import HouseNumber, LabelledChoice, RowFoot, TabButton, Taken, read_typed
from washline.ui.costs.header import CELL_GAP
from washline.ui.costs.model import ROW_ROLE, CostModel, Index, SortKey
from washline.ui.costs.table import CostTableView
from washline.ui.measures import SHEET_MARGIN_PX

BOTTLES_ML = (200.0, 250.0, 350.0, 500.0, 700.0, 750.0, 1000.0)
USUAL_BOTTLE_ML = 700.0
MOST_WAYS = 3
LONG_LIST = 2000
NO_DRINKS = "No drinks yet. Start one, and its cost stands here."
NO_PARTS = "No house-made parts yet. What the house makes itself stands here with its cost."


class CostsView(QWidget):
    """``closed``: back to what was open before; ``item_asked`` carries the id of a drink, part or raw ingredient to go to;
    ``new_drink_asked``: there are none yet; ``said`` a sentence for the status line."""

    closed = Signal()
    item_asked = Signal(object)
    new_drink_asked = Signal()
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
        self._costs = Costs(document.workings)
        self._texts = CostTable(self._costs, style)
        self._sorted: dict[int, tuple[int, Qt.SortOrder]] = {}
        self._is_behind = True
        self._listed_ids: tuple[Any, ...] = ()
        self._make(sort_key)
        self._lay_out()
        self._connect(bridge)
        self.set_appearance(look)

    # Making

    def _make(self, sort_key: SortKey) -> None:
        look, style = self._look, self._style
        self.title = Words(look, "Costs", style="title")
        self.drinks_button, self.parts_button = TabButton(look, "Drinks"), TabButton(look, "House-made")
        self._tabs = QButtonGroup(self)
        for button in (self.drinks_button, self.parts_button):
            self._tabs.addButton(button)
        self.drinks_button.setChecked(True)
        self.field = FindField(look, "Find in the table")
        self.close_button = CloseButton(look)
        self.wanted = HouseNumber(look, "Wanted pour cost", "%", self._setting("wanted_pour_cost_pct"), style)
        self.tax = HouseNumber(look, "Tax", "%", self._setting("tax_pct"), style)
        self.labour = HouseNumber(
            look, "Labour", "an hour", self._setting("labour_per_hour"), style, unset="not counted"
        )
        sizes = [(size, f"{size:.0f} ml") for size in BOTTLES_ML]
        self.bottle = LabelledChoice(look, "Bottle", sizes)
        self.bottle.choose(USUAL_BOTTLE_ML)
        self.copy_button = PlainButton(look, "Copy table")
        self._problem = Words(look, "", token="alert", style="label", wraps=True)
        self._about = Words(look, "", token="ink3", style="header", wraps=True)
        drinks = CostModel(DRINK_COLUMNS, self._texts, self._costs.drink, sort_key, self)
        parts = CostModel(PART_COLUMNS, self._texts, self._part, sort_key, self)
        for model in (drinks, parts):
            model.is_read_only = self._document.is_read_only
        self.drinks = CostTableView(drinks, look, self._write, "Costs of drinks")
        self.parts = CostTableView(parts, look, self._write, "Costs of house-made parts")
        self._empty = Words(look, "", token="ink2", style="row", wraps=True)
        self.start_button = PlainButton(look, "Start a drink", is_first=True)
        self.foot = RowFoot(look)
        self.stack = QStackedWidget()

    def _lay_out(self) -> None:
        head = self._head = QHBoxLayout()
        head.addWidget(self.title)
        head.addWidget(self.drinks_button)
        head.addWidget(self.parts_button)
        head.addStretch(1)
        head.addWidget(self.field, 2)
        head.addWidget(self.close_button)
        line = self._line = QHBoxLayout()
        for widget in (self.wanted, self.tax, self.labour, self.bottle):
            line.addWidget(widget)
        line.addStretch(1)
        line.addWidget(self.copy_button)
        top = self._top = QVBoxLayout()
        top.addLayout(head)
        top.addLayout(line)
        top.addWidget(self._problem)
        top.addWidget(self._about)
        empty = QWidget()
        column = QVBoxLayout(empty)
        column.addStretch(1)
        column.addWidget(self._empty, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addWidget(self.start_button, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(2)
        for page in (self.drinks, self.parts, empty):
            self.stack.addWidget(page)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(top)
        outer.addWidget(self.stack, 1)
        outer.addWidget(self.foot)
        self._problem.hide()
        self.setAccessibleName("Costs")
        order = [self.drinks_button, self.parts_button, self.field, self.close_button, self.wanted.field]
        order += [
            self.tax.field,
            self.labour.field,
            self.bottle.field,
            self.copy_button,
            self.drinks,
            self.parts,
        ]
        for before, after in pairwise(order):
            self.setTabOrder(before, after)

    def _connect(self, bridge: Bridge) -> None:
        bridge.changed.connect(self._follow)
        self._tabs.buttonToggled.connect(self._turn)
        self.close_button.clicked.connect(self.closed)
        self.copy_button.clicked.connect(self._copy_all)
        self.start_button.clicked.connect(self.new_drink_asked)
        self.foot.asked.connect(self.item_asked)
        self.bottle.chosen.connect(self._refresh)
        self.field.textChanged.connect(self._list)
        self.field.moved.connect(self._enter_table)
        self.field.taken.connect(self._enter_table)
        self.field.left.connect(self._leave_field)
        for number in (self.wanted, self.tax, self.labour):
            number.field.setEnabled(not self._document.is_read_only)
            number.refused.connect(self._say_problem)
        for table in (self.drinks, self.parts):
            table.opened.connect(self.item_asked)
            table.sort_asked.connect(self._sort)
            table.typed_elsewhere.connect(self._find)
            table.menu_asked.connect(self._show_menu)
            table.copy_asked.connect(self._copy_chosen)
            table.cleared.connect(self._clear)
            table.current_moved.connect(self._tell_row)

    # What is shown

    @property
    def _book(self) -> HouseBook:
        return self._document.book

    @property
    def table(self) -> CostTableView:
        """The table that is chosen."""
        return self.drinks if self.drinks_button.isChecked() else self.parts

    def _part(self, key: int) -> PartCost | None:
        return self._costs.part(key, self.bottle.key)

    def _named(self) -> list[tuple[str, int]]:
        """Name and id of the rows of the chosen table that hold what is to be found."""
        book = self._book
        if self.table is self.drinks:
            named = [(build.name, build.id) for build in book.drinks()]
        else:
            named = [(build.name, build.id) for build in book.parts()]
            named += [(leftover.name, leftover.id) for leftover in book.leftovers.values()]
        wanted = folded(self.field.text()).split()
        if not wanted:
            return named
        return [(name, key) for name, key in named if all(word in folded(name) for word in wanted)]

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._is_behind:
            self._is_behind = False
            self._costs.forget()
            for table in (self.drinks, self.parts):
                table.costs.refresh()
            self._show_settings()
            self._list()

    def focus_first(self) -> None:
        """Puts the cursor into the table, or on the first thing to do."""
        target = self.start_button if self.stack.currentIndex() == 2 else self.table
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _list(self) -> None:
        """Lays the rows of the chosen table in order."""
        table = self.table
        named = self._named()
        place = table.keep_place()
        column, order = self._sorted.get(id(table), (0, Qt.SortOrder.AscendingOrder))
        table.show_sorted(column, order)
        # Ten thousand figures may take longer than a blink.
        is_long = len(named) > LONG_LIST and column > 0
        if is_long:
            QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            table.costs.set_keys(table.costs.ordered(named, column, order))
        finally:
            if is_long:
                QGuiApplication.restoreOverrideCursor()
        self._show_page(bool(named))
        if named:
            table.go_to(*place)
        self._listed_ids = self._ids()
        self._tell_row()

    def _show_page(self, has_rows: bool) -> None:
        if has_rows:
            self.stack.setCurrentWidget(self.table)
        else:
            is_drinks, words = self.table is self.drinks, self.field.text().strip()
            nothing = NO_DRINKS if is_drinks else NO_PARTS
            self._empty.setText(f"Nothing here is called “{words[:40]}”." if words else nothing)
            self.start_button.setVisible(is_drinks and not words and not self._document.is_read_only)
            self.stack.setCurrentIndex(2)
        self.foot.setVisible(has_rows)

    def _ids(self) -> tuple[Any, ...]:
        """What decides which rows there are: when it is the same the rows stay where they are."""
        book = self._book
        return tuple(book.builds), tuple(book.leftovers)

    def _show_settings(self) -> None:
        settings, book = self._book.settings, self._book
        sign = currency_sign(settings.currency)
        self.wanted.show_value(settings.wanted_pour_cost_pct)
        self.tax.show_value(settings.tax_pct)
        self.labour.show_value(settings.labour_per_hour)
        self.labour.set_unit(f"{sign} an hour")
        drinks = sum(1 for _ in book.drinks())
        self.drinks_button.set_words(f"&Drinks {drinks}")
        self.parts_button.set_words(f"House-&made {len(book.builds) - drinks}")
        is_drinks = self.table is self.drinks
        self.wanted.setVisible(is_drinks)
        self.tax.setVisible(is_drinks)
        self.bottle.setVisible(not is_drinks)
        rule = JOINT_SENTENCES[settings.joint_cost]
        about = (
            "Pour cost is cost in percent of the price before tax."
            if is_drinks
            else "Labour stands beside the cost, never in it."
        )
        self._about.setText(f"Joint cost: {rule[:1].lower()}{rule[1:]} {about}")

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        """Figures follow at once; rows stay where they are until somebody sorts, or something comes or goes."""
        if not self.isVisible():
            self._is_behind = True
            return
        self._costs.forget()
        if self._ids() != self._listed_ids:
            self._show_settings()
            self.table.costs.refresh()
            self._list()
            return
        if changed.change_set:
            self._show_settings()
        self._refresh()

    @Slot()
    def _refresh(self) -> None:
        self.table.costs.refresh()
        other = self.parts if self.table is self.drinks else self.drinks
        other.costs.refresh()
        self._tell_row()

    @Slot()
    def _turn(self) -> None:
        self._say_problem("")
        self._show_settings()
        self._list()

    @Slot()
    def _tell_row(self) -> None:
        index = self.table.currentIndex()
        row = index.data(ROW_ROLE) if index.isValid() else None
        if row is None:
            self.foot.say("", (), ())
            return
        self.foot.say(row.name, self._texts.explanation(row), self._ways(row))

    def _ways(self, row: Row) -> list[tuple[int, str]]:
        """Where one can go from a row: to itself, and to what has no price."""
        book = self._book
        maker = book.builds[row.build_id]
        ways = [(row.build_id, f"Open {maker.name}")]
        key = row.item_id if isinstance(row, PartCost) else row.build_id
        unpriced = self._costs.sources(key).unpriced[:MOST_WAYS]
        return ways + [
            (raw_id, f"Price of {book.raws[raw_id].name}") for raw_id in unpriced if raw_id in book.raws
        ]

    # Writing

    def _setting(self, name: str) -> Callable[[Taken], str]:
        def write(value: Taken) -> str:
            return self._do(set_settings(**{name: value}), labels.change_of_settings())

        return write

    def _do(self, command: Command, label: str) -> str:
        """Makes a change; why it was refused, or nothing."""
        try:
            self._document.do(command, label, self)
        except UserError as refusal:
            return str(refusal)
        return ""

    def _write(self, index: Index, text: str) -> str:
        """Takes what was typed into a cell as one step that can be undone."""
        row = index.data(ROW_ROLE)
        column = self.table.costs.columns[index.column()]
        if row is None:
            return "This row is no longer in the house book."
        sign, code = currency_sign(self._book.settings.currency), self._book.settings.currency
        units = (sign, code) if column.unit == MONEY else (column.unit,)
        named = sign if column.unit == MONEY else column.unit
        value, problem = read_typed(text, units, self._style, f"a number in {named}, or nothing")
        if problem:
            return problem
        fields = {column.field: value}
        is_leftover = isinstance(row, PartCost) and row.is_leftover
        command = set_leftover(row.item_id, **fields) if is_leftover else set_build(row.build_id, **fields)
        return self._do(command, f"change of {column.head} of {row.name}"[:120])

    @Slot(object)
    def _clear(self, index: Index) -> None:
        self._say_problem(self._write(index, ""))

    @Slot(str)
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
        if self.table.costs.keys:
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _leave_field(self) -> None:
        if self.table.costs.keys:
            self._enter_table()
        else:
            self.closed.emit()

    @Slot(int, object)
    def _sort(self, column: int, order: Qt.SortOrder) -> None:
        self._sorted[id(self.table)] = (column, order)
        self._list()
        way = "rising" if order == Qt.SortOrder.AscendingOrder else "falling"
        self.said.emit(
            f"Sorted by {self.table.costs.columns[column].head}, {way}; what is not known stands last."
        )

    @Slot()
    def _copy_chosen(self) -> None:
        self._copy(self.table.chosen)

    @Slot()
    def _copy_all(self) -> None:
        self._copy(range(len(self.table.costs.keys)))

    def _copy(self, numbers: Any) -> None:
        costs = self.table.costs
        rows = [row for row in (costs.row(number) for number in numbers) if row is not None]
        if not rows:
            return
        QGuiApplication.clipboard().setText(self._texts.tab_separated(costs.columns, rows))
        self.said.emit("One row was copied." if len(rows) == 1 else f"{len(rows):,} rows were copied.")

    @Slot(QPoint)
    def _show_menu(self, where: QPoint) -> None:
        menu = self.menu()
        if menu is not None:
            menu.exec(where)
            menu.deleteLater()

    def menu(self) -> QMenu | None:
        """What can be done with the current row; ``None`` where there is none."""
        index = self.table.currentIndex()
        row = index.data(ROW_ROLE) if index.isValid() else None
        if row is None:
            return None
        menu = QMenu(self)
        for key, words in self._ways(row):
            action = menu.addAction(words.replace("&", "&&"))
            action.setData(key)
            action.triggered.connect(self._go_from_menu)
        menu.addSeparator()
        column = self.table.costs.columns[index.column()]
        if self.table.costs.is_typed(index):
            menu.addAction(f"Change {column.head}\tF2", self._edit_current)
        menu.addAction(f"Sort by {column.head}, rising\tCtrl+↑", self._sort_rising)
        menu.addAction(f"Sort by {column.head}, falling\tCtrl+↓", self._sort_falling)
        menu.addSeparator()
        menu.addAction("Copy rows\tCtrl+C", self._copy_chosen)
        return menu

    @Slot()
    def _go_from_menu(self) -> None:
        sender = self.sender()
        if isinstance(sender, QAction):
            self.item_asked.emit(sender.data())

    @Slot()
    def _edit_current(self) -> None:
        self.table.edit(self.table.currentIndex())

    @Slot()
    def _sort_rising(self) -> None:
        self._sort(self.table.currentIndex().column(), Qt.SortOrder.AscendingOrder)

    @Slot()
    def _sort_falling(self) -> None:
        self._sort(self.table.currentIndex().column(), Qt.SortOrder.DescendingOrder)

    # Look

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
        self._line.setSpacing(look.px(18))
        self.field.setMaximumWidth(look.px(320))
        # With the gap behind its figures the last column ends at the margin of the sheet.
        self.stack.setContentsMargins(0, 0, round(margin - look.px(CELL_GAP)), 0)
        for part in (
            self.title, self.drinks_button, self.parts_button, self.field, self.close_button, self.wanted, self.tax,
            self.labour, self.bottle, self.copy_button, self._problem, self._about, self.drinks, self.parts, self._empty,
            self.start_button, self.foot,
        ):  # fmt: skip
            part.set_appearance(look)
