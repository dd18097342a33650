"""The sheet of a twist beside its parent, with what can become of the two."""

from html import escape
from itertools import pairwise

from PySide6.QtCore import QPointF, QRect, QSize, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from washline.document.commands.command import Command
from washline.document.commands.twisting import keep_both, let_go, take_parents_place
from washline.document.document import Document
from washline.document.notice import Changed
from washline.document.twists import in_words, line_pairs, reading_differences
from washline.engine.step_cautions import step_cautions
from washline.model.item import Build
from washline.model.target import Target
from washline.presentation.book_list import short_name
from washline.presentation.contains import ContainsBox, contains_box, joined_and_left
from washline.presentation.radar_of import compared, radar_shape
from washline.presentation.readings import Readings, axis_band
from washline.presentation.shape import SmallShape, small_shape
from washline.presentation.twist import (
    Side,
    changed_words,
    longest_move_ml,
    only_differences,
    out_words,
    served_line,
    twist_lines,
    twist_readings,
)
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.balance.contains_box import UnknownMark
from washline.ui.balance.radar_place import RadarPlace, page_area
from washline.ui.balance.radar_widget import RadarWidget
from washline.ui.bridge import Bridge
from washline.ui.controls import CloseButton, PlainButton, ThinScrollBar, Words
from washline.ui.measures import BALANCE_MARGIN_PX, SHEET_MARGIN_PX
from washline.ui.session import Session
from washline.ui.twist.lineage import Ancestor, Lineage
from washline.ui.twist.table import TwistTable, TwistTexts

SIDE_WIDTH = 412.0
MOST_ANCESTORS = 6


class TogglePlainButton(PlainButton):
    """A plain button that stays down."""

    def __init__(self, look: Appearance, text: str) -> None:
        super().__init__(look, text)
        self.setCheckable(True)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.isChecked():
            painter = QPainter(self)
            inset = self._look.px(6)
            painter.fillRect(
                inset, self.height() - self._look.px(4), self.width() - 2 * inset, 2, self._look.theme.ink
            )
            painter.end()


class TwistHeading(QWidget):
    """*Pear Signal* and its *bay twist*: two names in the serif, cut where there is no room, whole in the tooltip."""

    def __init__(self, look: Appearance) -> None:
        super().__init__()
        self._look = look
        self._words = ("", "", "")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def words(self) -> tuple[str, str, str]:
        """The first name, what stands between, the second name."""
        return self._words

    def set_words(self, words: tuple[str, str, str], tool_tip: str) -> None:
        """Shows other names."""
        self._words = words
        self.setToolTip(tool_tip)
        self.setAccessibleName(" ".join(words))
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(400), round(self._look.fonts.metrics(self._look.fonts.title).height()) + 2)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(150), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        fonts, theme, gap = self._look.fonts, self._look.theme, self._look.px(10)
        first, between, second = self._words
        metrics, room = fonts.metrics(fonts.title), self.width()
        middle = fonts.width(fonts.title_second, between)
        wanted = metrics.horizontalAdvance(first), metrics.horizontalAdvance(second)
        left_over = max(room - middle - 2 * gap, 0.0)
        if sum(wanted) > left_over:
            shares = min(wanted[0], max(left_over / 2, left_over - wanted[1])), 0.0
            first = metrics.elidedText(first, Qt.TextElideMode.ElideRight, shares[0])
            rest = left_over - metrics.horizontalAdvance(first)
            second = metrics.elidedText(second, Qt.TextElideMode.ElideRight, rest)
        x, y = 0.0, metrics.ascent()
        for text, font, token in (
            (first, fonts.title, "ink"),
            (between, fonts.title_second, "ink2"),
            (second, fonts.title, "ink"),
        ):
            painter.setFont(font)
            painter.setPen(theme.colour(token))
            painter.drawText(QPointF(x, y), text)
            x += fonts.width(font, text) + gap
        painter.end()


class TwistView(QWidget):
    """A twist and its parent. ``show_twist`` says which; ``closed`` carries the id of the drink to show then (or ``None``),
    ``said`` a sentence for the status line."""

    closed = Signal(object)
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        session: Session,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._session = session
        self._look = look
        self._style = style
        self._twist_id: int | None = None
        self._is_swapped = False
        self._make()
        self._lay_out()
        self.set_appearance(look)
        self.only_button.toggled.connect(self._refresh)
        self.swap_button.clicked.connect(self._swap)
        self.close_button.clicked.connect(self._close)
        self.keep_button.clicked.connect(self._keep)
        self.place_button.clicked.connect(self._take_place)
        self.let_go_button.clicked.connect(self._let_go)
        self.table.current_changed.connect(self._keep_in_sight)
        bridge.changed.connect(self._follow)

    def _make(self) -> None:
        look = self._look
        self.heading = TwistHeading(look)
        self._subtitle = Words(look, token="ink2", style="label", wraps=True)
        self.only_button = TogglePlainButton(look, "Only differences")
        self.swap_button = PlainButton(look, "Swap")
        self.close_button = CloseButton(look)
        self.table = TwistTable(look)
        self._also_head = Words(look, "Also", style="label_strong")
        self.also = Words(look, style="label", wraps=True)
        self._mark = UnknownMark(look, self)
        self.unknown = Words(look, style="label", wraps=True)
        self.unknown.setTextFormat(Qt.TextFormat.RichText)
        self.keep_button = PlainButton(look, "Keep both", is_first=True)
        self.place_button = PlainButton(look, "Twist takes its place")
        self.let_go_button = PlainButton(look, "Let the twist go")
        self._undo_words = Words(
            look, "Each is one step back with Ctrl+Z.", token="ink2", style="label", wraps=True
        )
        self._problem = Words(look, token="alert", style="label", wraps=True)
        self._side_head = Words(look, "Two shapes", style="label_strong")
        self._side_target = Words(look, token="ink2", style="label")
        self.radar = RadarWidget(look.theme, look.fonts)
        self._radar_place = RadarPlace(look, self.radar)
        self._lineage_head = Words(look, "Lineage", style="label_strong")
        self.lineage = Lineage(look)
        self._bars = [ThinScrollBar(look), ThinScrollBar(look)]

    def _lay_out(self) -> None:
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._laid_out_sheet(), 1)
        outer.addWidget(self._laid_out_side())
        # The shapes give way below a width, so that they must not be part of the smallest one.
        outer.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)
        self._problem.hide()
        order = [self.only_button, self.swap_button, self.close_button, self.table, self.keep_button]
        order += [self.place_button, self.let_go_button, self.radar]
        for before, after in pairwise(order):
            self.setTabOrder(before, after)
        self.setAccessibleName("Twist beside its parent")

    def _laid_out_sheet(self) -> QVBoxLayout:
        """Head, table and words, and what can be decided."""
        names = QHBoxLayout()
        self._names_row = names
        names.addWidget(self.heading, 1)
        for button in (self.only_button, self.swap_button, self.close_button):
            names.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self._head = QVBoxLayout()
        self._head.addLayout(names)
        self._head.addWidget(self._subtitle)
        self._body = self._laid_out_body()
        self._scroll = page_area(self._body, self._bars[0])
        self._foot = QHBoxLayout()
        for button in (self.keep_button, self.place_button, self.let_go_button):
            self._foot.addWidget(button)
        self._foot.addWidget(self._undo_words, 1)
        sheet = QVBoxLayout()
        sheet.setSpacing(0)
        sheet.addLayout(self._head)
        sheet.addWidget(self._scroll, 1)
        sheet.addWidget(self._problem)
        sheet.addLayout(self._foot)
        return sheet

    def _laid_out_body(self) -> QWidget:
        """What scrolls: the table, then what joined or left and what is unknown."""
        also = QHBoxLayout()
        also.addWidget(self._also_head, 0, Qt.AlignmentFlag.AlignTop)
        also.addWidget(self.also, 1)
        unknown = QHBoxLayout()
        unknown.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        unknown.addWidget(self.unknown, 1)
        self._words = QVBoxLayout()
        self._words.addLayout(also)
        self._words.addLayout(unknown)
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.table)
        column.addLayout(self._words)
        column.addStretch(1)
        return body

    def _laid_out_side(self) -> QWidget:
        """Both shapes, and where the twist comes from."""
        side_body = QWidget()
        self._side_column = QVBoxLayout(side_body)
        side_head = QHBoxLayout()
        side_head.addWidget(self._side_head)
        side_head.addWidget(self._side_target, 1)
        self._side_column.addLayout(side_head)
        self._side_column.addWidget(self._radar_place, 1)
        self._side_column.addWidget(self._lineage_head)
        self._side_column.addWidget(self.lineage)
        self._side_column.addStretch(0)
        self._side_body = side_body
        self.side = page_area(side_body, self._bars[1])
        return self.side

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin, side = look.px(SHEET_MARGIN_PX), look.px(BALANCE_MARGIN_PX)
        self._head.setContentsMargins(margin, look.px(12), margin, look.px(6))
        self._names_row.setSpacing(look.px(10))
        self._words.setContentsMargins(margin, look.px(10), margin, look.px(8))
        self._words.setSpacing(look.px(6))
        self._foot.setContentsMargins(margin, look.px(12), margin, look.px(12))
        self._foot.setSpacing(look.px(8))
        self._problem.setContentsMargins(margin, 0, margin, 0)
        self._side_column.setContentsMargins(side, look.px(10), side - look.px(10), look.px(10))
        self.side.setFixedWidth(look.px(SIDE_WIDTH))
        self._mark.look = look
        self._mark.setFixedSize(look.px(14), look.px(14))
        self._radar_place.set_appearance(look)
        for words in self.findChildren(Words):
            words.set_appearance(look)
        for button in self.findChildren(PlainButton):
            button.set_appearance(look)
        for bar in self._bars:
            bar.set_appearance(look)
        self.heading.set_appearance(look)
        self.table.set_appearance(look)
        self.lineage.set_appearance(look)
        for ground in (self, self._body, self._side_body, self._scroll.viewport(), self.side.viewport()):
            palette = QPalette(look.theme.palette())
            palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
            ground.setPalette(palette)
            ground.setAutoFillBackground(True)

    # What is shown

    @property
    def twist_id(self) -> int | None:
        """The twist that is shown."""
        return self._twist_id

    def show_twist(self, twist_id: int) -> None:
        """Shows a twist beside its parent; a build that has none closes the sheet."""
        self._twist_id = twist_id
        self._is_swapped = False
        self._problem.hide()
        self._refresh()
        self.table.setFocus()

    def _pair(self) -> tuple[Build, Build] | None:
        """Parent and twist, or ``None`` where one of them is gone."""
        builds = self._document.book.builds
        twist = builds.get(self._twist_id) if self._twist_id is not None else None
        parent = builds.get(twist.parent_id) if twist is not None and twist.parent_id is not None else None
        return (parent, twist) if parent is not None and twist is not None else None

    def _side_of(self, build: Build) -> Side:
        workings, settings = self._document.workings, self._document.book.settings
        trace = workings.trace(build.id)
        spread = workings.spread(build.id)
        return Side(Readings(build, settings, trace.result, spread, style=self._style), trace)

    @Slot()
    def _refresh(self) -> None:
        found = self._pair()
        if found is None:
            return
        parent, twist = found
        target = self._target(parent, twist)
        first, second = (twist, parent) if self._is_swapped else (parent, twist)
        sides = self._side_of(first), self._side_of(second)
        self._show_head(parent, twist)
        self._show_table(first, second, sides, target)
        self._show_contained(first, second)
        self._show_radar(sides, target, self._names(first, second))
        self._show_lineage(twist)
        is_open = not self._document.is_read_only
        for button in (self.keep_button, self.place_button, self.let_go_button):
            button.setEnabled(is_open)
        self.keep_button.setEnabled(is_open and twist.is_tried)
        self.keep_button.setToolTip("" if twist.is_tried else "Both are kept already.")

    def _target(self, parent: Build, twist: Build) -> Target | None:
        targets = self._document.book.targets
        chosen = twist.target_id if twist.target_id is not None else parent.target_id
        return targets.get(chosen) if chosen is not None else None

    def _names(self, first: Build, second: Build) -> tuple[str, str]:
        return short_name(first.name, second.name), short_name(second.name, first.name)

    def _show_head(self, parent: Build, twist: Build) -> None:
        short = short_name(twist.name, parent.name)
        names = (short, parent.name) if self._is_swapped else (parent.name, short)
        between = "and its parent" if self._is_swapped else "and its"
        self.heading.set_words((names[0], between, names[1]), f"{parent.name}\n{twist.name}")
        pairs = line_pairs(parent, twist)
        state = "being tried" if twist.is_tried else "both kept"
        self._subtitle.setText(f"Twisted from {parent.name} · {in_words(pairs)} · {state}")

    def _show_table(
        self, first: Build, second: Build, sides: tuple[Side, Side], target: Target | None
    ) -> None:
        pairs = line_pairs(first, second)
        lines = twist_lines(pairs, *sides)
        if self.only_button.isChecked():
            lines = only_differences(lines)
        one, other = sides
        differences = reading_differences(
            one.result, other.result, one.readings.spread, other.readings.spread
        )
        names = self._names(first, second)
        self.table.set_texts(
            TwistTexts(
                parent_name=names[0],
                twist_name=names[1],
                lines=lines,
                served=served_line(one, other, longest_move_ml(pairs, one, other)),
                readings=twist_readings(differences, one, other, target),
            )
        )

    def _show_contained(self, first: Build, second: Build) -> None:
        book = self._document.book
        workings = self._document.workings
        before, after = (
            contains_box(book, build.id, step_cautions(workings.trace(build.id))) for build in (first, second)
        )
        sentences = joined_and_left(before, after)
        self.also.setText("; ".join(sentences) + ".")
        unknown = _unknown_words(after)
        self.unknown.setText(unknown)
        self.unknown.setVisible(bool(unknown))
        self._mark.setVisible(bool(unknown))

    def _show_radar(self, sides: tuple[Side, Side], target: Target | None, names: tuple[str, str]) -> None:
        self._side_target.setText(f"against {target.name}" if target is not None else "no target is chosen")
        self._radar_place.setVisible(target is not None)
        if target is None:
            return
        before, after = sides
        readings = Readings(
            after.build,
            self._document.book.settings,
            after.result,
            after.readings.spread,
            parent=before.result,
            style=self._style,
        )
        shape = radar_shape(readings, target, parent_name=names[0], drink_name=names[1])
        texts = [before.readings.figure(aim.reading).text for aim in target.axes]
        self.radar.set_shape(compared(shape, tuple(texts)))

    def _show_lineage(self, twist: Build) -> None:
        chain: list[Build] = []
        build: Build | None = twist
        while build is not None and build not in chain and len(chain) < MOST_ANCESTORS:
            chain.insert(0, build)
            builds = self._document.book.builds
            build = builds.get(build.parent_id) if build.parent_id is not None else None
        self.lineage.set_ancestors(
            tuple(
                self._ancestor(one, chain[index + 1] if index + 1 < len(chain) else None)
                for index, one in enumerate(chain)
            )
        )

    def _ancestor(self, build: Build, heir: Build | None) -> Ancestor:
        side = self._side_of(build)
        target = self._document.book.targets.get(build.target_id) if build.target_id is not None else None
        strength, length = (side.readings.figure(key) for key in ("strength", "length"))
        changes = ""
        if heir is not None:
            heirs = self._side_of(heir)
            changes = changed_words(twist_lines(line_pairs(build, heir), side, heirs))
        is_twist, is_parent = heir is None, heir is not None and heir.id == self._twist_id
        return Ancestor(
            name=build.name,
            note="being tried" if build.is_tried else f"{len(build.steps)} steps",
            state=out_words(side.readings, target),
            figures=f"{strength.text} % · {length.text} ml",
            shape=_small(side.readings, target),
            changes=changes,
            token="drink" if is_twist else "parent" if is_parent else "ink2",
        )

    # What is done

    @Slot()
    def _swap(self) -> None:
        self._is_swapped = not self._is_swapped
        self._refresh()

    @Slot()
    def _close(self) -> None:
        self.closed.emit(self._twist_id)

    @Slot()
    def _keep(self) -> None:
        found = self._pair()
        if found is not None:
            self._do(keep_both(found[1].id), f"keeping {found[1].name}", found[1].id)

    @Slot()
    def _take_place(self) -> None:
        found = self._pair()
        if found is not None:
            parent, twist = found
            label = f"putting {twist.name} in the place of {parent.name}"
            self._do(take_parents_place(twist.id), label, parent.id)

    @Slot()
    def _let_go(self) -> None:
        found = self._pair()
        if found is not None:
            self._do(let_go(found[1].id), f"letting {found[1].name} go", found[0].id)

    def _do(self, command: Command, label: str, then_show: int) -> None:
        twist_id, self._twist_id = self._twist_id, None
        try:
            self._document.do(command, label, self)
        except UserError as problem:
            self._twist_id = twist_id
            self._problem.setText(str(problem))
            self._problem.show()
            return
        self.said.emit(f"{label[:1].upper()}{label[1:]}: done. Ctrl+Z takes it back.")
        self.closed.emit(then_show)

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if self._twist_id is None or not self.isVisible():
            return
        if self._pair() is None:
            gone, self._twist_id = self._twist_id, None
            self.closed.emit(gone if gone in self._document.book.builds else None)
            return
        self._refresh()

    @Slot(QRect)
    def _keep_in_sight(self, rect: QRect) -> None:
        placed = rect.translated(self.table.pos())
        self._scroll.ensureVisible(placed.center().x(), placed.bottom(), 0, self._look.px(8))
        self._scroll.ensureVisible(placed.center().x(), placed.top(), 0, self._look.px(8))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc closes the sheet; nothing is lost by it."""
        if event.key() == Qt.Key.Key_Escape:
            self._close()
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The rules beside the shapes and above the buttons."""
        painter = QPainter(self)
        painter.setPen(self._look.theme.rule2)
        right = self.width()
        if self.side.isVisible():
            right = self.side.x() - 1
            painter.drawLine(right, 0, right, self.height())
        y = self._scroll.geometry().bottom() + 1
        painter.drawLine(0, y, right, y)
        painter.end()

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(460), self._look.px(320))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The shapes give way where the window is narrow: the lines and readings stand alone."""
        self.side.setVisible(self.width() >= self._look.px(SIDE_WIDTH + 440))


def _unknown_words(box: ContainsBox) -> str:
    """The unknown as mark-up, as loud as in the balance pane."""
    if not box.unknown:
        return ""
    names, strong = escape(", ".join(box.unknown)), '<span style="font-weight:600">'
    return f"{strong}Unknown:</span> {names}; {strong}{box.what_to_do}</span> before it is listed."


def _small(readings: Readings, target: Target | None) -> SmallShape:
    axes = target.axes if target is not None else ()
    return small_shape([axis_band(aim) for aim in axes], [readings.result.value(aim.reading) for aim in axes])
