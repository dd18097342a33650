"""The sheet after a corrected fact: which drinks moved, which left their band, and the pour that would put each back."""

from itertools import pairwise

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QListView,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from washline.document.commands import labels
from washline.document.commands.lines import set_amount
from washline.document.naming import item_name
from washline.engine.mending import Mend
from washline.presentation.moved import (
    NO_SINGLE_POUR,
    MovedDrink,
    Standing,
    move_words,
    pour_effect,
    pour_words,
    shown_moves,
    standing_words,
)
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import CloseButton, PlainButton, ThinScrollBar, Words
from washline.ui.moved.corrections import Corrections
from washline.ui.moved.rows import MovedDelegate, MovedModel, MovedRow
from washline.ui.session import Session

NOTHING_YET = (
    "Nothing was corrected yet. Change the sugars, acids, strength or price of a raw ingredient, "
    "and the drinks that move stand here."
)
MOST_WAYS = 3


class MovedList(QListView):
    """The list; ``opened``: Return or a double click, ``taken``: Ctrl and Return."""

    opened = Signal()
    taken = Signal()
    moved = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            is_take = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            (self.taken if is_take else self.opened).emit()
            return
        super().keyPressEvent(event)

    def currentChanged(self, current: object, previous: object) -> None:
        super().currentChanged(current, previous)  # type: ignore[arg-type]
        self.moved.emit()


class MovedView(QWidget):
    """``closed``: back to what was open before; ``open_asked`` carries the id of a drink to go to; ``said`` a sentence for
    the status line; ``found`` that of a finished comparison, also while the view is not shown."""

    closed = Signal()
    open_asked = Signal(object)
    said = Signal(str)
    found = Signal(str)

    def __init__(
        self,
        session: Session,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._session, self._look, self._style = session, look, style
        self.corrections = Corrections(session, style, self)
        self._is_behind = True
        self._make()
        self._lay_out()
        self._connect()
        self.set_appearance(look)

    def _make(self) -> None:
        look = self._look
        self.title = Words(look, "Correct a fact", style="title", wraps=True)
        self.summary = Words(look, "", token="ink2", style="row", wraps=True)
        self.close_button = CloseButton(look)
        self.model = MovedModel(self, self)
        self.list = MovedList()
        self.list.setModel(self.model)
        self.delegate = MovedDelegate(look, self.list)
        self.list.setItemDelegate(self.delegate)
        self.list.setAccessibleName("Drinks that moved")
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setUniformItemSizes(True)
        self.list.setMouseTracking(True)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollBar(ThinScrollBar(look, self.list))
        self.name = Words(look, "", style="row_strong")
        self.detail = Words(look, "", token="ink2", style="label", wraps=True)
        self.detail.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.detail.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.problem = Words(look, "", token="alert", style="label", wraps=True)
        self.take_button = PlainButton(look, "&Take it", is_first=True)
        self.take_button.setToolTip("Pours so from now on; one step that can be undone (Ctrl+Return)")
        self.open_button = PlainButton(look, "&Open")
        self.open_button.setToolTip("Goes to the drink (Return)")
        self.progress = Words(look, "", token="ink3", style="label")
        self.stop_button = PlainButton(look, "Stop")
        self._nothing = Words(look, NOTHING_YET, token="ink2", style="row", wraps=True)
        self._nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.stack = QStackedWidget()

    def _lay_out(self) -> None:
        self._head, self._top = QHBoxLayout(), QVBoxLayout()
        self._head.addWidget(self.title, 1)
        self._head.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self._top.addLayout(self._head)
        self._progress_line = QHBoxLayout()
        self._progress_line.addWidget(self.summary, 1)
        self._progress_line.addWidget(self.progress)
        self._progress_line.addWidget(self.stop_button)
        self._top.addLayout(self._progress_line)
        self.stack.addWidget(self.list)
        self.stack.addWidget(self._nothing)
        self._buttons, self._foot = QHBoxLayout(), QVBoxLayout()
        self._buttons.addWidget(self.name, 1)
        self._buttons.addWidget(self.take_button)
        self._buttons.addWidget(self.open_button)
        self._foot.addLayout(self._buttons)
        self._foot.addWidget(self.detail)
        self._foot.addWidget(self.problem)
        self._foot_widget = QWidget()
        self._foot_widget.setLayout(self._foot)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._top)
        outer.addWidget(self.stack, 1)
        outer.addWidget(self._foot_widget)
        self.problem.hide()
        self.setAccessibleName("Drinks that moved after a correction")
        order = (self.close_button, self.stop_button, self.list, self.take_button, self.open_button)
        for before, after in pairwise(order):
            self.setTabOrder(before, after)

    def _connect(self) -> None:
        self.corrections.started.connect(self._begin)
        self.corrections.changed.connect(self._follow)
        self.corrections.found.connect(self._finish)
        self.close_button.clicked.connect(self.closed)
        self.stop_button.clicked.connect(self.corrections.toggle_stop)
        self.take_button.clicked.connect(self._take)
        self.open_button.clicked.connect(self._open)
        self.list.opened.connect(self._open)
        self.list.doubleClicked.connect(self._open)
        self.list.taken.connect(self._take)
        self.list.moved.connect(self._tell_row)

    # What is shown

    def row(self, build_id: int) -> MovedRow | None:
        """What the row of a drink says now."""
        found = self.corrections
        drink = found.drinks.get(build_id)
        taken = found.taken.get(build_id, "")
        if drink is None:
            build = self._session.document.book.builds.get(build_id)
            name = build.name if build is not None else "a drink that is no longer there"
            state = "as it was before the correction" if build is not None else "removed"
            return MovedRow(build_id, name, Standing.MOVED, state, "", "", None, taken=taken)
        moves = shown_moves(drink)
        more = ", ".join(move_words(move, self._style) for move in moves[1:])
        pour, effect, is_pour = self._pour_of(drink)
        return MovedRow(
            build_id=build_id,
            name=drink.name,
            standing=drink.standing,
            state=standing_words(drink, self._style),
            moves=move_words(moves[0], self._style),
            more_moves=more,
            strip=moves[0].strip,
            pour=pour,
            effect=effect,
            is_pour=is_pour,
            taken=taken,
        )

    def _pour_of(self, drink: MovedDrink) -> tuple[str, str, bool]:
        if not drink.is_out:
            return "", "", False
        mends = self.corrections.pours.get(drink.build_id)
        if mends is None:
            is_left = drink.standing is Standing.LEFT
            return ("looking for a pour …" if is_left and not self.corrections.is_stopped else ""), "", False
        if not mends:
            return NO_SINGLE_POUR, "open it and change more than one", False
        best = mends[0]
        return pour_words(self._name_of(best), best, self._style), pour_effect(best), True

    def _name_of(self, mend: Mend) -> str:
        return item_name(self._session.document.book, mend.item_id)

    @property
    def current(self) -> MovedRow | None:
        """The row at the cursor."""
        index = self.list.currentIndex()
        return self.model.moved_row(index.row()) if index.isValid() else None

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._is_behind:
            self._list()

    def focus_first(self) -> None:
        """Puts the cursor into the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _begin(self) -> None:
        self.problem.hide()
        self._list()

    @Slot(str)
    def _finish(self, words: str) -> None:
        """All is compared: the order is made once, and then no row moves any more."""
        self._list()
        self.found.emit(words)

    @Slot(object)
    def _follow(self, keys: tuple[int, ...]) -> None:
        if not self.isVisible():
            self._is_behind = True
            return
        known = set(self.model.keys)
        self.model.add_keys([key for key in keys if key in self.corrections.drinks and key not in known])
        for key in keys:
            if key in known:
                self.model.refresh(key)
        if not keys:
            self.model.refresh()
        self._show_head()
        self._tell_row()

    def _list(self) -> None:
        if not self.isVisible():
            self._is_behind = True
            return
        self._is_behind = False
        kept = self.current
        self.model.set_keys(self.corrections.ordered())
        if self.model.keys:
            place = self.model.keys.index(kept.build_id) if kept and kept.build_id in self.model.keys else 0
            self.list.setCurrentIndex(self.model.index(place))
        self._show_head()
        self._tell_row()

    def _show_head(self) -> None:
        found = self.corrections
        words = found.words
        self.title.setText(words or "Correct a fact")
        self.summary.setText(found.summary if words else "")
        self.stack.setCurrentIndex(0 if self.model.keys else 1)
        self._nothing.setText("No drink moved." if words else NOTHING_YET)
        self._foot_widget.setVisible(bool(self.model.keys))
        left = found.pours_left
        self.progress.setText(f"{left:,} to look for a pour" if left else "")
        self.stop_button.setVisible(left > 0)
        self.stop_button.setText("Go on" if found.is_stopped else "Stop")
        self.stop_button.updateGeometry()

    @Slot()
    def _tell_row(self) -> None:
        row = self.current
        if row is None:
            self.take_button.setEnabled(False)
            self.open_button.setEnabled(False)
            return
        if row.build_id not in self.corrections.pours:
            self.corrections.wish(row.build_id)
        self.name.setText(row.name)
        self.detail.setText("\n".join(self._sentences(row)))
        is_there = row.build_id in self._session.document.book.builds
        self.open_button.setEnabled(is_there)
        self.take_button.setEnabled(is_there and row.is_pour and not self._session.document.is_read_only)

    def _sentences(self, row: MovedRow) -> list[str]:
        drink = self.corrections.drinks.get(row.build_id)
        said = [row.taken] if row.taken else []
        if drink is not None:
            said.append(", ".join(move_words(move, self._style) for move in shown_moves(drink)) + ".")
        mends = self.corrections.pours.get(row.build_id, ())
        if row.is_pour and mends:
            best = mends[0]
            said.append(f"{pour_words(self._name_of(best), best, self._style)}: {pour_effect(best)}.")
            as_good = [mend for mend in mends[1:MOST_WAYS] if mend.strained <= best.strained]
            others = [pour_words(self._name_of(mend), mend, self._style) for mend in as_good]
            if others:
                said.append(f"Or {', or '.join(others)}.")
        elif row.pour:
            said.append(f"{row.pour[:1].upper()}{row.pour[1:]}{': ' + row.effect if row.effect else ''}.")
        return said

    # What is done

    @Slot()
    def _take(self) -> None:
        row = self.current
        mends = self.corrections.pours.get(row.build_id, ()) if row is not None else ()
        if row is None or not mends or not self.take_button.isEnabled():
            return
        best = mends[0]
        book = self._session.document.book
        words = pour_words(self._name_of(best), best, self._style)
        label = f"{labels.change_of_step(book, row.build_id, best.step_id)} in {row.name}"
        try:
            self._session.commit(set_amount(row.build_id, best.step_id, best.amount), label, self)
        except UserError as refusal:
            self.problem.setText(str(refusal))
            self.problem.show()
            return
        self.problem.hide()
        self.corrections.taken[row.build_id] = f"taken: {words}"
        self.model.refresh(row.build_id)
        self._tell_row()
        self.said.emit(f"{row.name}: {words}.")

    @Slot()
    def _open(self) -> None:
        row = self.current
        if row is not None and self.open_button.isEnabled():
            self.open_asked.emit(row.build_id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    # Look

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        self.setPalette(palette)
        self.list.setPalette(palette)
        for words in (
            self.title,
            self.summary,
            self.name,
            self.detail,
            self.problem,
            self.progress,
            self._nothing,
        ):
            words.set_appearance(look)
        for button in (self.close_button, self.take_button, self.open_button, self.stop_button):
            button.set_appearance(look)
        self.delegate.set_appearance(look)
        bar = self.list.verticalScrollBar()
        if isinstance(bar, ThinScrollBar):
            bar.set_appearance(look)
        self._top.setContentsMargins(look.px(20), look.px(16), look.px(20), look.px(10))
        self._top.setSpacing(look.px(6))
        self._progress_line.setSpacing(look.px(10))
        self._foot.setContentsMargins(look.px(20), look.px(8), look.px(20), look.px(12))
        self._foot.setSpacing(look.px(4))
        self._buttons.setSpacing(look.px(8))
        # Four lines always: nothing above moves when another row has more to say.
        self.detail.setMinimumHeight(self.detail.fontMetrics().lineSpacing() * 4)
        self.list.doItemsLayout()
        self.update()

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(320), self._look.px(240))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.sheet)
        painter.setPen(self._look.theme.rule2)
        y = self.stack.geometry().top() - 1
        painter.drawLine(0, y, self.width(), y)
        if self._foot_widget.isVisibleTo(self):
            painter.drawLine(0, self._foot_widget.y(), self.width(), self._foot_widget.y())
        painter.end()
