"""The pane of the house book: find as you type, and under it the groups that can be opened."""

from collections.abc import Iterable, Mapping
from typing import Any, Protocol, TypeVar

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QAction, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from washline.presentation.book_rows import BookRow, LastList, Section, SectionRows
from washline.ui.appearance import Appearance
from washline.ui.book.field import FindField
from washline.ui.book.model import Placed
from washline.ui.book.view import SectionHead, SectionView
from washline.ui.controls import NoticeStrip, PlainButton, Words

MOST_KEPT = 300
"""So many rows of a group are kept for the next start; more are not on the screen at once."""

RAIL_WIDTH = 80.0
"""Narrower than this the pane is a rail: small shapes, and no words."""

_EMPTY = {
    Section.DRINKS: ("No drinks yet.", "New drink"),
    Section.PARTS: ("Nothing house-made yet.", "New house-made part"),
    Section.RAWS: ("No raw ingredients yet.", "New raw ingredient"),
    Section.TARGETS: ("No targets yet.", "New target"),
}


P = TypeVar("P", bound=Placed)


class Source(Protocol[P]):
    """Where the rows come from."""

    def count(self, section: Section) -> int:
        """How many rows a group has in all."""

    def places(self, section: Section, words: str = "") -> list[P]:
        """The rows that match, in order."""

    def name(self, section: Section, key: int) -> str:
        """The name of a row."""

    def row(self, section: Section, place: P) -> BookRow | None:
        """What a row says."""

    def column(self, section: Section) -> str:
        """What stands in the column at the right."""


class BookPanel(QWidget):
    """Find field, groups and a strip for what has just happened.

    ``chosen`` carries group and id of the row that the cursor came to, ``opened`` of the one that was opened,
    ``menu_asked`` also where; ``renamed`` the name that was typed; ``new_asked`` the group that should get something new.
    """

    chosen = Signal(object, object)
    opened = Signal(object, object)
    menu_asked = Signal(object, object, QPoint)
    renamed = Signal(object, object, str)
    new_asked = Signal(object)
    left = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("book")
        self._look = look
        self._source: Source[Any] | None = None
        self._shown: tuple[Section, int] | None = None
        self.field = FindField(look, "Find", "Ctrl+F", self)
        self.notice = NoticeStrip(look, self, is_narrow=True)
        self.heads = {section: SectionHead(section, look, self) for section in Section}
        self.views = {section: SectionView(section, look, self) for section in Section}
        self._empty_words = {
            section: Words(look, "", token="ink3", style="label", parent=self) for section in Section
        }
        self._empty_buttons = {section: PlainButton(look, "", self) for section in Section}
        self._nothing = Words(look, "", token="ink3", style="label", wraps=True, parent=self)
        self._clear = PlainButton(look, "Clear search", self)
        self._connect()
        self.set_open({Section.DRINKS, Section.PARTS})

    def _connect(self) -> None:
        self.field.textChanged.connect(self._search)
        self.field.moved.connect(self._move_from_field)
        self.field.taken.connect(self._take_first)
        self.field.left.connect(self.left)
        self._clear.clicked.connect(self.field.clear)
        self.notice.closed.connect(self._lay_out)
        for section in Section:
            self.heads[section].toggled.connect(self._lay_out)
            view = self.views[section]
            view.chosen.connect(self._choose)
            view.opened.connect(self._open)
            view.menu_asked.connect(self._ask_menu)
            view.left_at.connect(self._leave)
            view.rows.renamed.connect(self._rename)
            for signal in (view.rows.rowsInserted, view.rows.rowsRemoved, view.rows.modelReset):
                signal.connect(self._lay_out)
            words, name = _EMPTY[section]
            self._empty_words[section].setText(words)
            button = self._empty_buttons[section]
            button.setText(name)
            button.setObjectName(section.value)
            button.clicked.connect(self._ask_new)

    # What is shown

    def show_last(self, last: LastList) -> None:
        """Shows the list that was kept, until the house book is read."""
        for kept in last.sections:
            self.views[kept.section].rows.show_kept(kept.rows)
            self.heads[kept.section].set_count(str(kept.count), "")
        if last.current is not None:
            self.show_row(*last.current)
        self._lay_out()

    def set_source(self, source: Source[Any], *, is_read_only: bool) -> None:
        """Shows a house book."""
        self._source = source
        for section, view in self.views.items():
            view.rows.is_read_only = is_read_only
            view.rows.set_fill(_Fill(source, section).row, _Fill(source, section).name)
        self.relist()

    def relist(self) -> None:
        """Rows may have come, gone or changed their name."""
        if self._source is None:
            return
        words = self.field.text()
        for section, view in self.views.items():
            view.set_places(self._source.places(section, words))
            all_of_them = self._source.count(section)
            found = view.rows.rowCount()
            count = f"{found} of {all_of_them}" if words.strip() else f"{all_of_them:,}"
            self.heads[section].set_count(count, self._source.column(section))
        if self._shown is not None:
            self.show_row(*self._shown)
        self._lay_out()

    def refresh(self, keys: Iterable[int] | None = None) -> None:
        """Figures of these items have changed; of all where ``None``."""
        wanted = None if keys is None else set(keys)
        for view in self.views.values():
            view.rows.refresh(wanted)

    def show_row(self, section: Section | None, key: int | None) -> None:
        """Marks the row whose sheet is open; nobody is told."""
        self._shown = (section, key) if section is not None and key is not None else None
        for each, view in self.views.items():
            if not (each is not section and view.painter_of_rows.shown_key is None and not view.hasFocus()):
                view.show_key(key if each is section else None)

    def start_find(self) -> None:
        """Puts the cursor into the field."""
        self.field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.field.selectAll()

    def focus_list(self) -> None:
        """Puts the cursor where the shown row stands, else on the first group that has rows."""
        section = self._shown[0] if self._shown is not None else None
        if section is not None and self.views[section].isVisible():
            self.views[section].setFocus(Qt.FocusReason.ShortcutFocusReason)
            return
        self._enter(0, 1)

    def current(self) -> tuple[Section, int] | None:
        """Group and id at the cursor, else of the row that is shown."""
        for section, view in self.views.items():
            if view.hasFocus() and view.current_key is not None:
                return section, view.current_key
        return self._shown

    def edit_name(self, section: Section, key: int) -> None:
        """Opens a name for typing, in its row."""
        self.heads[section].setChecked(True)
        self.views[section].setFocus(Qt.FocusReason.OtherFocusReason)
        self.views[section].edit_name(key)

    def neighbour(self, section: Section, key: int) -> int | None:
        """The row after one, else the one before it: where the cursor goes when it is removed."""
        rows = self.views[section].rows
        number = rows.row_of(key)
        after = rows.key_at(number + 1)
        return after if after is not None else rows.key_at(number - 1)

    def kept_sections(self) -> tuple[SectionRows, ...]:
        """The rows as they are on the screen, for the next start."""
        kept = []
        for section, view in self.views.items():
            rows = view.rows
            shown = range(min(rows.rowCount(), MOST_KEPT)) if self.heads[section].isChecked() else range(0)
            filled = tuple(row for number in shown if (row := rows.book_row(number)) is not None)
            kept.append(SectionRows(section, self._source.count(section) if self._source else 0, filled))
        return tuple(kept)

    @property
    def open_sections(self) -> set[Section]:
        """The groups that are open."""
        return {section for section, head in self.heads.items() if head.isChecked()}

    def set_open(self, sections: Iterable[Section]) -> None:
        """Opens these groups and closes the others."""
        wanted = set(sections)
        for section, head in self.heads.items():
            head.setChecked(section in wanted)

    def scroll_places(self) -> dict[str, int]:
        """How far each group is scrolled."""
        return {section.value: view.verticalScrollBar().value() for section, view in self.views.items()}

    def scroll_to(self, places: Mapping[str, int]) -> None:
        """Scrolls each group to where it was."""
        for section, view in self.views.items():
            view.doItemsLayout()
            view.verticalScrollBar().setValue(places.get(section.value, 0))

    def say(
        self, text: str, action: QAction | None = None, button: str = "", *, is_alert: bool = False
    ) -> None:
        """Says in the pane what has just happened, with a button to do something about it."""
        self.notice.say(text, action, button, is_alert=is_alert)
        self._lay_out()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        self.field.set_appearance(look)
        self.notice.set_appearance(look)
        self._nothing.set_appearance(look)
        self._clear.set_appearance(look)
        for section in Section:
            for widget in (
                self.heads[section],
                self.views[section],
                self._empty_words[section],
                self._empty_buttons[section],
            ):
                widget.set_appearance(look)
        self._lay_out()
        self.update()

    # Layout

    @property
    def is_rail(self) -> bool:
        """Whether there is room for small shapes only."""
        return self.width() < self._look.px(RAIL_WIDTH)

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(248), self._look.px(600))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(44), self._look.px(120))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    @Slot()
    def _lay_out(self) -> None:
        look, width, top = self._look, self.width(), self._look.px(12)
        rail = self.is_rail
        self.field.setVisible(not rail)
        if not rail:
            height = self.field.sizeHint().height()
            self.field.setGeometry(look.px(12), top, width - look.px(24), height)
            top += height + look.px(6)
        bottom = self._lay_out_notice()
        searching = bool(self.field.text().strip()) and not rail
        listed = [section for section in Section if not searching or self.views[section].rows.rowCount()]
        if rail:
            listed = [Section.DRINKS]
        for section in Section:
            if section not in listed:
                self._hide(section)
        self._lay_out_nothing(top, searching and not listed)
        self._lay_out_sections(listed, top, bottom, searching, rail)

    def _hide(self, section: Section) -> None:
        for widget in (
            self.heads[section],
            self.views[section],
            self._empty_words[section],
            self._empty_buttons[section],
        ):
            widget.hide()

    def _lay_out_notice(self) -> int:
        bottom = self.height()
        if self.notice.isVisibleTo(self):
            self.notice.setVisible(not self.is_rail)
            height = self.notice.height_for(self.width())
            bottom -= height
            self.notice.setGeometry(0, bottom, self.width(), height)
            self.notice.raise_()
        return bottom

    def _lay_out_nothing(self, top: int, is_empty: bool) -> None:
        look = self._look
        self._nothing.setVisible(is_empty)
        self._clear.setVisible(is_empty)
        if is_empty:
            self._nothing.setText(f"Nothing here is called “{self.field.text().strip()}”.")
            width = self.width() - look.px(32)
            height = self._nothing.heightForWidth(width)
            self._nothing.setGeometry(look.px(16), top + look.px(6), width, height)
            self._clear.move(look.px(16), top + height + look.px(14))
            self._clear.resize(self._clear.sizeHint())

    def _lay_out_sections(
        self, listed: list[Section], top: int, bottom: int, searching: bool, rail: bool
    ) -> None:
        look = self._look
        head_height = 0 if rail else self.heads[Section.DRINKS].sizeHint().height()
        opened = [section for section in listed if rail or searching or self.heads[section].isChecked()]
        empty_height = look.px(62)
        wanted = {
            section: self.views[section].wanted_height or (0 if searching else empty_height)
            for section in opened
        }
        room = max(0, bottom - top - head_height * len(listed) - look.px(4) * len(opened))
        heights = shared_out(wanted, room)
        for section in listed:
            self.heads[section].setVisible(not rail)
            if not rail:
                self.heads[section].setGeometry(0, top, self.width(), head_height)
                top += head_height
            height = heights.get(section, 0)
            self._lay_out_rows(section, QRect(0, top, self.width(), height), section in opened, rail)
            top += height + (look.px(4) if section in opened else 0)

    def _lay_out_rows(self, section: Section, box: QRect, is_open: bool, rail: bool) -> None:
        look, view = self._look, self.views[section]
        is_empty = is_open and not rail and not view.rows.rowCount() and self._source is not None
        view.setVisible(is_open and not is_empty)
        if is_open and not is_empty:
            view.setGeometry(box)
        words, button = self._empty_words[section], self._empty_buttons[section]
        words.setVisible(is_empty)
        button.setVisible(is_empty)
        if is_empty:
            words.setGeometry(look.px(28), box.top() + look.px(2), box.width() - look.px(40), look.px(20))
            button.resize(button.sizeHint())
            button.move(look.px(28), box.top() + look.px(26))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.ground)
        painter.setPen(self._look.theme.rule)
        painter.drawLine(QRectF(self.rect()).topRight(), QRectF(self.rect()).bottomRight())
        painter.end()

    # What the person does

    @Slot(str)
    def _search(self, text: str) -> None:
        self.relist()

    @Slot(object)
    def _move_from_field(self, key: Qt.Key) -> None:
        if key in (Qt.Key.Key_Down, Qt.Key.Key_PageDown):
            self._enter(0, 1)

    @Slot()
    def _take_first(self) -> None:
        for section, view in self.views.items():
            key = view.rows.key_at(0)
            if key is not None and view.isVisible():
                self.opened.emit(section, key)
                return

    def _enter(self, start: int, step: int) -> None:
        sections = list(Section)
        for number in range(start, len(sections) if step > 0 else -1, step):
            view = self.views[sections[number]]
            if view.isVisibleTo(self) and view.rows.rowCount():
                view.enter(from_below=step < 0)
                return
        if step < 0:
            self.start_find()

    def _sender_section(self) -> Section | None:
        sender = self.sender()
        for section, view in self.views.items():
            if sender in (view, view.rows):
                return section
        return None

    @Slot(object)
    def _choose(self, key: int) -> None:
        section = self._sender_section()
        if section is not None and key is not None:
            self.chosen.emit(section, key)

    @Slot(object)
    def _open(self, key: int) -> None:
        section = self._sender_section()
        if section is not None:
            self.opened.emit(section, key)

    @Slot(object, QPoint)
    def _ask_menu(self, key: object, place: QPoint) -> None:
        section = self._sender_section()
        if section is not None:
            self.menu_asked.emit(section, key, place)

    @Slot(object, str)
    def _rename(self, key: int, name: str) -> None:
        section = self._sender_section()
        if section is not None:
            self.renamed.emit(section, key, name)

    @Slot(int)
    def _leave(self, step: int) -> None:
        section = self._sender_section()
        if section is not None:
            self._enter(list(Section).index(section) + step, step)

    @Slot()
    def _ask_new(self) -> None:
        sender = self.sender()
        if sender is not None:
            self.new_asked.emit(Section(sender.objectName()))


class _Fill:
    """Makes the rows of one group for its model."""

    def __init__(self, source: Source[Any], section: Section) -> None:
        self._source, self._section = source, section

    def row(self, place: Placed) -> BookRow | None:
        """What a row says."""
        return self._source.row(self._section, place)

    def name(self, key: int) -> str:
        """The name of a row."""
        return self._source.name(self._section, key)


def shared_out(wanted: Mapping[Section, int], room: int) -> dict[Section, int]:
    """How high each open group may be: all of what it wants where there is room; else each is sure of half an equal
    share, and what is left goes to the upper ones first."""
    if sum(wanted.values()) <= room:
        return dict(wanted)
    sure = room // (2 * len(wanted))
    heights = {section: min(want, sure) for section, want in wanted.items()}
    left = room - sum(heights.values())
    for section, want in wanted.items():
        more = min(left, want - heights[section])
        heights[section] += more
        left -= more
    return heights
