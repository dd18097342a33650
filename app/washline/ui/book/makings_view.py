"""The makings of a part: what each strain left, one making a row, and the button that starts the next one."""

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from washline.document.commands.command import Command
from washline.document.commands.makings import (
    record_making,
    recording_label,
    remove_making,
    removing_label,
    start_making,
    starting_label,
    weighed_strains,
)
from washline.document.document import Document
from washline.model.item import Build
from washline.presentation.makings import (
    MakingRow,
    grams_before_strains,
    making_rows,
    makings_of,
    ready_words,
    strain_name,
    yield_histories,
)
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.form import PlainField

FIRST_SHOWN = 12
NO_MAKINGS = "No making is kept yet. What is kept here tells what to expect the next time."


class MakingsView(QWidget):
    """Shows the makings of one build; ``show_build`` turns to another, ``said`` carries a sentence for the status line.

    ``clock`` gives the present moment, for the day of a new making.
    """

    said = Signal(str)

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
        self._build_id = 0
        self._shows_all = False
        self._rows: tuple[MakingRow, ...] = ()
        self._row_widgets: list[tuple[Words, Words, PlainButton]] = []
        self._make()
        self._lay_out()
        self.start_button.clicked.connect(self._start)
        self.keep_button.clicked.connect(self._keep)
        self.all_button.clicked.connect(self._show_all)
        self.set_appearance(look)

    def _make(self) -> None:
        look = self._look
        self._head = Words(look, "Makings", style="row_strong")
        self._yields = Words(look, style="row", wraps=True)
        self._ready = Words(look, token="ink2", style="label", wraps=True)
        self._date_label = Words(look, "Made on", style="row")
        self.date = PlainField(look, "Made on, as 2026-11-25", 110)
        self._note_label = Words(look, "Note", style="row")
        self.note = PlainField(look, "Note on the making", 260)
        self._date_label.setBuddy(self.date)
        self._note_label.setBuddy(self.note)
        self.start_button = PlainButton(look, "Start the next making")
        self.keep_button = PlainButton(look, "Keep this making")
        self.start_button.setToolTip(
            "Keeps the weighed yields and clears them; what is expected follows from all makings"
        )
        self.keep_button.setToolTip("Keeps the weighed yields as a making and leaves the build as it is")
        self._problem = Words(look, token="alert", style="label", wraps=True)
        self.all_button = PlainButton(look, "")

    def _lay_out(self) -> None:
        fields = self._fields = QHBoxLayout()
        for widget in (self._date_label, self.date, self._note_label, self.note):
            fields.addWidget(widget)
        fields.addStretch(1)
        buttons = self._buttons = QHBoxLayout()
        buttons.addWidget(self.start_button)
        buttons.addWidget(self.keep_button)
        buttons.addStretch(1)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(1, 1)
        layout = self._layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._head)
        layout.addWidget(self._yields)
        layout.addWidget(self._ready)
        layout.addLayout(fields)
        layout.addLayout(buttons)
        layout.addWidget(self._problem)
        layout.addLayout(self._grid)
        layout.addWidget(self.all_button)
        self._problem.hide()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)

    # What is shown

    @property
    def _build(self) -> Build | None:
        return self._document.book.builds.get(self._build_id)

    @property
    def text(self) -> str:
        """What the makings make one expect, as it is shown."""
        return self._yields.text()

    @property
    def problem(self) -> str:
        """Why the last thing could not be done."""
        return self._problem.text()

    @property
    def remove_buttons(self) -> list[PlainButton]:
        """The buttons that remove a making, newest first."""
        return [button for _, _, button in self._row_widgets[: self._count_shown]]

    @property
    def _count_shown(self) -> int:
        return len(self._rows) if self._shows_all else min(len(self._rows), FIRST_SHOWN)

    def show_build(self, build_id: int) -> None:
        """Turns to the makings of a build."""
        if build_id != self._build_id:
            self._build_id, self._shows_all = build_id, False
            self._say("")
            self.note.set_kept("")
            self.date.set_kept(self._today)
        self.refresh()

    @property
    def _today(self) -> str:
        return self._clock().astimezone().date().isoformat()

    def refresh(self) -> None:
        """Shows what is kept now."""
        build = self._build
        if build is None:
            return
        makings = makings_of(self._document.book, build.id)
        self._rows = making_rows(build, makings, self._style)
        lines = [
            f"{strain_name(build, history.step_id)}: {history.words(self._style)}"
            for history in yield_histories(build, makings)
        ]
        self._yields.setText("\n".join(f"{line[:1].upper()}{line[1:]}" for line in lines) or NO_MAKINGS)
        before = self._before(build)
        self._ready.setText(ready_words(build, before))
        weighed = weighed_strains(build)
        can_keep = bool(weighed) and all(step.id in before for step in weighed)
        for widget in (self.start_button, self.keep_button, self.date, self.note):
            widget.setEnabled(can_keep and not self._document.is_read_only)
        self._show_rows()

    def _before(self, build: Build) -> dict[int, float]:
        return grams_before_strains(self._document.workings.trace(build.id))

    def _show_rows(self) -> None:
        count = self._count_shown
        while len(self._row_widgets) < count:
            self._add_row()
        for number, (date, words, button) in enumerate(self._row_widgets):
            for widget in (date, words, button):
                widget.setVisible(number < count)
            if number < count:
                row = self._rows[number]
                date.setText(row.date)
                words.setText(" · ".join(word for word in (row.yields, row.note) if word))
                button.setAccessibleName(f"Remove: {row.spoken}")
                button.setEnabled(not self._document.is_read_only)
        self.all_button.setVisible(count < len(self._rows))
        self.all_button.setText(f"Show all {len(self._rows)}")
        self.all_button.updateGeometry()

    def _add_row(self) -> None:
        look, number = self._look, len(self._row_widgets)
        date, words = Words(look, style="row"), Words(look, token="ink2", style="row", wraps=True)
        button = PlainButton(look, "Remove")
        button.clicked.connect(self._remove)
        for column, widget in enumerate((date, words, button)):
            self._grid.addWidget(widget, number, column)
        self._row_widgets.append((date, words, button))

    @Slot()
    def _show_all(self) -> None:
        self._shows_all = True
        self._show_rows()

    # What is done

    @Slot()
    def _start(self) -> None:
        build = self._build
        if build is not None:
            command = start_making(build.id, self.date.text().strip(), self._before(build), self.note.text())
            label = starting_label(self._document.book, build.id)
            self._kept(self._do(command, label), "The yields are kept; the next making can start.")

    @Slot()
    def _keep(self) -> None:
        build = self._build
        if build is not None:
            command = record_making(build.id, self.date.text().strip(), self._before(build), self.note.text())
            label = recording_label(self._document.book, build.id)
            self._kept(self._do(command, label), "The making is kept.")

    def _kept(self, is_done: bool, words: str) -> None:
        if is_done:
            self.note.setModified(False)
            self.note.set_kept("")
            self.said.emit(f"{words} Ctrl+Z takes it back.")

    @Slot()
    def _remove(self) -> None:
        number = next(
            (at for at, row in enumerate(self._row_widgets) if row[2] is self.sender()), len(self._rows)
        )
        if number < len(self._rows):
            making_id = self._rows[number].making_id
            label = removing_label(self._document.book, making_id)
            if self._do(remove_making(making_id), label):
                self.said.emit("The making was removed. Ctrl+Z brings it back.")

    def _do(self, command: Command, label: str) -> bool:
        try:
            self._document.do(command, label, self)
        except UserError as refusal:
            self._say(str(refusal))
            return False
        self._say("")
        self.refresh()
        return True

    def _say(self, problem: str) -> None:
        self._problem.setText(problem)
        self._problem.setVisible(bool(problem))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._layout.setSpacing(look.px(6))
        for layout in (self._fields, self._buttons):
            layout.setSpacing(look.px(8))
        self._grid.setHorizontalSpacing(look.px(14))
        self._grid.setVerticalSpacing(look.px(4))
        for words in (
            self._head,
            self._yields,
            self._ready,
            self._date_label,
            self._note_label,
            self._problem,
        ):
            words.set_appearance(look)
        for field in (self.date, self.note):
            field.set_appearance(look)
        for button in (self.start_button, self.keep_button, self.all_button):
            button.set_appearance(look)
        for date, text, button in self._row_widgets:
            date.set_appearance(look)
            text.set_appearance(look)
            button.set_appearance(look)
