"""The sheet of a target: its name, its aims in order, and the drink that is open judged by it while it is edited."""

from msgspec import structs
from PySide6.QtCore import QEvent, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPalette
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from washline.document.commands.command import Command, next_id
from washline.document.commands.targets import (
    add_aim,
    move_aim,
    new_target,
    remove_aim,
    remove_target,
    rename_target,
    set_aim,
    set_gate,
)
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.reading import BY_KEY
from washline.model.target import FEWEST_AXES, MOST_AXES, Aim, Target
from washline.presentation.radar_of import radar_shape, target_alone
from washline.presentation.readings import Readings
from washline.presentation.target import (
    addable,
    first_aim,
    first_aims,
    free_target_name,
    why_no_axis,
    why_not_fewer,
)
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.balance.aim_row import FIELD_WIDTH, NAME_WIDTH, AimRow
from washline.ui.balance.radar_place import RadarPlace, page_area
from washline.ui.balance.radar_widget import RadarWidget
from washline.ui.bridge import Bridge
from washline.ui.controls import CloseButton, PlainButton, QuietChoice, ThinScrollBar, Words
from washline.ui.field_undo import leaves_to_the_book
from washline.ui.measures import SHEET_MARGIN_PX
from washline.ui.session import Session


class TargetName(QLineEdit):
    """The name of the target, which can be typed where it stands."""

    def event(self, event: QEvent) -> bool:
        return False if leaves_to_the_book(self, event) else super().event(event)


class TargetSheet(QWidget):
    """Edits one target; every change is one step that can be undone. ``show_target`` says which.

    ``closed`` is emitted when it is left or gone, ``said`` carries a sentence for the status line.
    """

    closed = Signal()
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
        self._target_id: int | None = None
        self._typed: dict[str, Aim] = {}
        self.rows: list[AimRow] = []
        self._make()
        self._lay_out()
        self.set_appearance(look)
        self.name.editingFinished.connect(self._rename)
        self.add_choice.activated.connect(self._add)
        self.new_button.clicked.connect(self.make_new)
        self.duplicate_button.clicked.connect(self._duplicate)
        self.remove_button.clicked.connect(self._remove)
        self.close_button.clicked.connect(self._close)
        bridge.changed.connect(self._follow)
        session.view_changed.connect(self._show_radar)
        session.spread_changed.connect(self._show_radar)

    def _make(self) -> None:
        look = self._look
        self.name = TargetName()
        self.name.setAccessibleName("Name of the target")
        self.name.setFrame(False)
        self._used = Words(look, token="ink2", style="label", wraps=True)
        self.close_button = CloseButton(look)
        self._heads = [
            Words(look, text, token="ink3", style="header") for text in ("Reading", "low", "ideal", "high")
        ]
        self.problem = Words(look, token="alert", style="label_strong", wraps=True)
        self._add_label = Words(look, "Add a reading", style="label")
        self.add_choice = QuietChoice()
        self.add_choice.setSizeAdjustPolicy(QuietChoice.SizeAdjustPolicy.AdjustToContents)
        self.add_choice.setAccessibleName("Add a reading to the target")
        self._add_words = Words(look, token="ink2", style="label", wraps=True)
        self.radar = RadarWidget(look.theme, look.fonts)
        self._radar_place = RadarPlace(look, self.radar)
        self.new_button = PlainButton(look, "New target")
        self.duplicate_button = PlainButton(look, "Duplicate")
        self.remove_button = PlainButton(look, "Remove")
        self._bar = ThinScrollBar(look)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.name, 1)
        top.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self._top = QVBoxLayout()
        self._top.setSpacing(0)
        self._top.addLayout(top)
        self._top.addWidget(self._used)
        heads = QHBoxLayout()
        for head in self._heads:
            heads.addWidget(head)
        heads.addStretch(1)
        self._heads_row = heads
        self._body = QWidget()
        self._column = QVBoxLayout(self._body)
        self._column.setSpacing(0)
        self._column.addLayout(heads)
        self._rows_column = QVBoxLayout()
        self._rows_column.setSpacing(0)
        self._column.addLayout(self._rows_column)
        adding = QHBoxLayout()
        for widget in (self._add_label, self.add_choice):
            adding.addWidget(widget)
        adding.addWidget(self._add_words, 1)
        self._adding = adding
        self._column.addLayout(adding)
        self._column.addWidget(self.problem)
        self._column.addWidget(self._radar_place, 1)
        self._scroll = page_area(self._body, self._bar)
        self._foot = QHBoxLayout()
        for button in (self.new_button, self.duplicate_button, self.remove_button):
            self._foot.addWidget(button)
        self._foot.addStretch(1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(self._top)
        outer.addWidget(self._scroll, 1)
        outer.addLayout(self._foot)
        self.problem.hide()
        self.setAccessibleName("Target")

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin = look.px(SHEET_MARGIN_PX)
        self._top.setContentsMargins(margin, look.px(12), margin, look.px(6))
        self._column.setContentsMargins(margin, look.px(4), margin - look.px(10), look.px(4))
        self._foot.setContentsMargins(margin, look.px(10), margin, look.px(12))
        self._foot.setSpacing(look.px(8))
        self._heads_row.setSpacing(look.px(8))
        self._adding.setSpacing(look.px(8))
        self._adding.setContentsMargins(0, look.px(8), 0, look.px(4))
        self.name.setFont(look.fonts.title)
        for words in self.findChildren(Words):
            words.set_appearance(look)
        for button in (self.close_button, self.new_button, self.duplicate_button, self.remove_button):
            button.set_appearance(look)
        self._heads[0].setFixedWidth(look.px(NAME_WIDTH))
        for head in self._heads[1:]:
            head.setFixedWidth(look.px(FIELD_WIDTH))
            head.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.add_choice.setFont(look.fonts.row)
        self._radar_place.set_appearance(look)
        self._bar.set_appearance(look)
        for row in self.rows:
            row.set_appearance(look)
        for ground in (self, self._body, self._scroll.viewport(), self.name):
            palette = QPalette(look.theme.palette())
            palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
            ground.setPalette(palette)
            ground.setAutoFillBackground(True)

    # What is shown

    @property
    def target_id(self) -> int | None:
        """The target that is shown."""
        return self._target_id

    @property
    def target(self) -> Target | None:
        """The target as the house book holds it."""
        return self._document.book.targets.get(self._target_id) if self._target_id is not None else None

    def show_target(self, target_id: int) -> None:
        """Shows a target."""
        self._leave_preview()
        self._target_id = target_id
        self.say("")
        self._refresh(anew=True)
        if self.rows:
            self.rows[0].fields["low"].setFocus()

    def say(self, words: str) -> None:
        """Puts a sentence of what could not be done beneath the aims; empty takes it away."""
        self.problem.setText(words)
        self.problem.setVisible(bool(words))

    def _refresh(self, *, anew: bool = False) -> None:
        target = self.target
        if target is None:
            return
        if not (self.name.hasFocus() and self.name.isModified()):
            self.name.setText(target.name)
        users = [build.name for build in self._document.book.builds.values() if build.target_id == target.id]
        listed = ", ".join(users[:4]) + (f" and {len(users) - 4} more" if len(users) > 4 else "")
        self._used.setText(f"judges {listed}" if users else "judges no drink yet")
        keys = [aim.reading for aim in target.aims]
        if anew or keys != [row.key for row in self.rows]:
            self._make_rows(target)
        for index, (row, aim) in enumerate(zip(self.rows, target.aims, strict=True)):
            row.set_aim(aim)
            row.set_places(
                is_first=index == 0,
                is_last=index == len(keys) - 1,
                is_read_only=self._document.is_read_only,
            )
        self._refresh_choices(target)
        self._show_radar(self._session.view)

    def _make_rows(self, target: Target) -> None:
        focused = next(((row.key, field) for row in self.rows for field, editor in row.fields.items()
                        if editor.hasFocus()), None)  # fmt: skip
        for row in self.rows:
            row.hide()
            row.deleteLater()
        self.rows = [AimRow(self._look, aim, self._style, self._body) for aim in target.aims]
        for row in self.rows:
            row.typed.connect(self._type)
            row.committed.connect(self._commit)
            row.gate_asked.connect(self._make_gate)
            row.move_asked.connect(self._move)
            row.remove_asked.connect(self._take_out)
            self._rows_column.addWidget(row)
            row.show()
            if focused is not None and row.key == focused[0]:
                row.fields[focused[1]].setFocus()

    def _refresh_choices(self, target: Target) -> None:
        why_not = why_no_axis(target)
        is_open = not self._document.is_read_only
        self.add_choice.clear()
        self.add_choice.addItem("choose…", "")
        for reading in addable(target):
            unit = f", {reading.unit}" if reading.unit else ""
            self.add_choice.addItem(f"{reading.name}{unit}", reading.key)
        self.add_choice.setEnabled(is_open and self.add_choice.count() > 1)
        count = len(target.axes)
        self._add_words.setText(why_not or f"{count} of {FEWEST_AXES} to {MOST_AXES} axes")
        for button in (self.new_button, self.duplicate_button, self.remove_button):
            button.setEnabled(is_open)
        self.name.setReadOnly(not is_open)

    @Slot(object)
    def _show_radar(self, _view: object) -> None:
        target = self._target_as_typed()
        if target is None or self.isHidden():
            return
        view = self._session.view
        if view is None:
            self.radar.set_shape(target_alone(target))
            return
        readings = Readings(view.build, view.book.settings, view.result, view.spread, style=self._style)
        is_preview = bool(self._typed) or view.is_preview
        self.radar.set_shape(radar_shape(readings, target, is_preview=is_preview, drink_name=view.build.name))

    def _target_as_typed(self) -> Target | None:
        target = self.target
        if target is None or not self._typed:
            return target
        aims = tuple(self._typed.get(aim.reading, aim) for aim in target.aims)
        return structs.replace(target, aims=aims)

    # What is done

    def _do(self, command: Command, label: str) -> bool:
        try:
            self._document.do(command, label, self)
        except UserError as problem:
            self.say(str(problem))
            return False
        self.say("")
        return True

    @Slot(str, object)
    def _type(self, key: str, aim: Aim | None) -> None:
        """The balance moves while a number is typed; nothing is written."""
        target = self.target
        if target is None:
            return
        if aim is None or aim in target.aims:
            self._typed.pop(key, None)
        else:
            self._typed[key] = aim
        if aim is not None and aim not in target.aims:
            self._session.set_preview(set_aim(target.id, aim))
        else:
            self._session.set_preview(None)
        self._show_radar(None)

    @Slot(str, object)
    def _commit(self, key: str, aim: Aim) -> None:
        target = self.target
        self._typed.pop(key, None)
        if target is not None:
            self._session.set_preview(None)
            self._do(set_aim(target.id, aim), f"change of {BY_KEY[key].name.lower()} in {target.name}")

    @Slot(str, bool)
    def _make_gate(self, key: str, is_gate: bool) -> None:
        target = self.target
        if target is None:
            return
        why_not = why_not_fewer(target, key) if is_gate else why_no_axis(target)
        row = next(row for row in self.rows if row.key == key)
        if why_not:
            row.say(why_not)
            row.gate.setChecked(not is_gate)
            return
        row.say("")
        name = BY_KEY[key].name.lower()
        label = f"making {name} a gate" if is_gate else f"making {name} an axis"
        self._do(set_gate(target.id, key, is_gate), label)

    @Slot(str, int)
    def _move(self, key: str, by: int) -> None:
        target = self.target
        if target is None:
            return
        index = [aim.reading for aim in target.aims].index(key) + by
        if 0 <= index < len(target.aims):
            self._do(move_aim(target.id, key, index), f"moving {BY_KEY[key].name.lower()} in {target.name}")
            row = next(row for row in self.rows if row.key == key)
            wanted = row.up if by < 0 else row.down
            (wanted if wanted.isEnabled() else row.fields["low"]).setFocus()

    @Slot(str)
    def _take_out(self, key: str) -> None:
        target = self.target
        if target is None:
            return
        why_not = why_not_fewer(target, key)
        if why_not:
            next(row for row in self.rows if row.key == key).say(why_not)
            return
        self._do(remove_aim(target.id, key), f"removing {BY_KEY[key].name.lower()} from {target.name}")

    @Slot(int)
    def _add(self, index: int) -> None:
        target, key = self.target, self.add_choice.itemData(index)
        if target is None or not key:
            return
        why_not = why_no_axis(target)
        if why_not:
            self.say(why_not)
            self.add_choice.setCurrentIndex(0)
            return
        view = self._session.view
        aim = first_aim(key, view.result if view is not None else None)
        if self._do(add_aim(target.id, aim), f"adding {BY_KEY[key].name.lower()} to {target.name}"):
            row = self.rows[-1]
            row.fields["low"].setFocus()
            row.fields["low"].selectAll()

    @Slot()
    def _rename(self) -> None:
        target, name = self.target, self.name.text().strip()
        if target is None or name == target.name or not self.name.isModified():
            return
        self.name.setModified(False)
        if not name:
            self.name.setText(target.name)
            self.say("A target needs a name; the old one stands.")
            return
        self._do(rename_target(target.id, name), f"renaming {target.name}")

    @Slot()
    def make_new(self) -> None:
        """Makes a target around what the drink that is open reads, and shows it."""
        view = self._session.view
        aims = first_aims(view.result if view is not None else None)
        self._make_target("new target", aims)

    @Slot()
    def _duplicate(self) -> None:
        target = self.target
        if target is not None:
            self._make_target(f"{target.name}, copy", target.aims)

    def _make_target(self, wanted: str, aims: tuple[Aim, ...]) -> None:
        book = self._document.book
        name = free_target_name({target.name for target in book.targets.values()}, wanted)
        target_id = next_id(book)
        if self._do(new_target(name, aims), f"making {name}"):
            self.show_target(target_id)
            self.name.setFocus()
            self.name.selectAll()

    @Slot()
    def _remove(self) -> None:
        target = self.target
        if target is None:
            return
        target_id, self._target_id = self._target_id, None
        if self._do(remove_target(target.id), f"removing {target.name}"):
            self.said.emit(f"{target.name} was removed. Ctrl+Z brings it back.")
            self.closed.emit()
        else:
            self._target_id = target_id

    @Slot()
    def _close(self) -> None:
        self._leave_preview()
        self.closed.emit()

    def _leave_preview(self) -> None:
        if self._typed:
            self._typed.clear()
            self._session.set_preview(None)

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if self._target_id is None:
            return
        if self.target is None:
            self._target_id = None
            self.closed.emit()
            return
        if changed.kind != "computed":
            self._refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc closes the sheet when no field has anything to put back."""
        if event.key() == Qt.Key.Key_Escape:
            self._close()
            return
        super().keyPressEvent(event)
