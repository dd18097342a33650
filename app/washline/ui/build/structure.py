"""What the Build menu does to the rows that are selected: put in, take out, move, copy, leave out."""

from collections.abc import Callable, Collection

import msgspec
from PySide6.QtCore import QMimeData, QModelIndex, QObject, Signal, Slot
from PySide6.QtGui import QAction, QGuiApplication

from washline.document.commands import labels, steps
from washline.document.commands.copies import StepCopies, copy_steps, paste_steps
from washline.document.commands.placing import AT_START
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.step import AnyStep, Garnish
from washline.presentation.build_rows import BuildRow, Key
from washline.presentation.clipboard import as_html, as_text, cell_as_text, lines_of_table
from washline.presentation.row_words import RowKind
from washline.problem import UserError
from washline.ui.build.actions import BuildActions
from washline.ui.build.columns import AMOUNT, NAME, ROWS_MIME
from washline.ui.build.editing import BuildEditing
from washline.ui.build.model import NEW_LINE_KEY, BuildTreeModel
from washline.ui.build.names import AT_THE_GLASS, WRITTEN_STEPS
from washline.ui.build.nodes import NewLine
from washline.ui.build.paste import PastedLine, putting_in, read_pasted
from washline.ui.build.tree import BuildTree

_WRITTEN = ("top", "garnish", *WRITTEN_STEPS)
"""Kinds that are put in by writing them in the line for adding."""


class BuildStructure(QObject):
    """Carries out the actions on the selected rows of one tree.

    ``pasted`` is emitted with the lines of a pasted text and where they would go, before anything is written.
    """

    pasted = Signal(object, object)

    def __init__(
        self, tree: BuildTree, model: BuildTreeModel, editing: BuildEditing, actions: BuildActions
    ) -> None:
        super().__init__(tree)
        self._tree = tree
        self._model = model
        self._editing = editing
        self._actions = actions
        actions.connect_all(
            {
                "add_line": self.add_line, "step": self.add_step, "remove": self.remove, "duplicate": self.duplicate,
                "move_up": self.move_up, "move_down": self.move_down, "open_part": self.open_part,
                "details": self.show_details, "left_out": self.leave_out, "in_liquid": self.put_in_liquid,
                "cut": self.cut, "copy": self.copy, "paste": self.paste, "edit_cell": self.edit_cell,
            }
        )  # fmt: skip
        tree.selectionModel().selectionChanged.connect(self.update_actions)
        tree.selectionModel().currentChanged.connect(self.update_actions)
        tree.editing_changed.connect(self.update_actions)
        tree.expanded.connect(self.update_actions)
        tree.collapsed.connect(self.update_actions)

    # Which rows

    def chosen(self) -> list[BuildRow]:
        """The selected steps of one build: where rows of several are selected, those beside the current row."""
        rows = [row for row in self._tree.selected_rows() if row.is_step]
        current = self._tree.current_row()
        if current is None or not rows:
            return rows
        home = current.build_id if current.is_step else rows[0].build_id
        prefix = current.key[:-1] if current.is_step else rows[0].key[:-1]
        return [row for row in rows if row.build_id == home and row.key[:-1] == prefix]

    def _ids(self, rows: list[BuildRow]) -> list[int]:
        return [row.step_id for row in rows if row.step_id is not None]

    def _build(self, row: BuildRow) -> Build:
        return self._editing.session.document.book.builds[row.build_id]

    def _step(self, row: BuildRow) -> AnyStep | None:
        book = self._editing.session.document.book
        return book.step(row.build_id, row.step_id) if row.step_id is not None else None

    @Slot()
    def update_actions(self) -> None:
        """Which actions make sense now."""
        rows, current = self.chosen(), self._tree.current_row()
        may = not self._model.is_read_only and not self._tree.is_editing and self._model.view is not None
        actions = self._actions
        is_inside = current is not None and current.depth > 0
        is_drink = self._model.view is not None and self._model.view.build.is_drink
        for action in (
            actions.remove,
            actions.duplicate,
            actions.cut,
            actions.move_up,
            actions.move_down,
            actions.left_out,
        ):
            action.setEnabled(may and bool(rows))
        for word, action in actions.steps.items():
            has_place = is_drink or word not in AT_THE_GLASS
            action.setEnabled(may and has_place and not (is_inside and word in _WRITTEN))
        actions.add_line.setEnabled(may and not is_inside)
        actions.paste.setEnabled(may and not is_inside)
        actions.copy.setEnabled(current is not None and not self._tree.is_editing)
        actions.edit_cell.setEnabled(may and current is not None)
        can_open = current is not None and current.can_open
        actions.open_part.setEnabled(can_open and not self._tree.is_editing)
        is_open = can_open and self._tree.isExpanded(self._tree.currentIndex().siblingAtColumn(NAME))
        actions.open_part.setText("Cl&ose part" if is_open else "&Open part in place")
        self._update_details(current)
        actions.left_out.setChecked(bool(rows) and all(row.is_left_out for row in rows))
        step = self._step(current) if current is not None else None
        actions.in_liquid.setEnabled(may and isinstance(step, Garnish))
        actions.in_liquid.setChecked(isinstance(step, Garnish) and step.in_liquid)

    def _update_details(self, current: BuildRow | None) -> None:
        step_row = self._step_row(current)
        action = self._actions.details
        action.setEnabled(step_row is not None and step_row.has_details and not self._tree.is_editing)
        is_shown = step_row is not None and self._tree.isExpanded(self._model.index_of(step_row.key))
        action.setText(
            "Hide de&tails" if step_row is not None and step_row.has_details and is_shown else "De&tails"
        )

    def _step_row(self, row: BuildRow | None) -> BuildRow | None:
        """The row of a step, from itself or from one of its details."""
        if row is None or row.detail is None:
            return row
        return self._model.row_at(self._model.index_of(row.key[:-1]))

    @Slot()
    def show_details(self) -> None:
        """Unfolds the details of the current step and goes to the first, or folds them and goes back to the step."""
        row = self._step_row(self._tree.current_row())
        if row is None or not row.has_details:
            return
        index = self._model.index_of(row.key)
        if self._tree.isExpanded(index):
            column = self._tree.currentIndex().column()
            self._tree.collapse(index)
            self._tree.go_to(row.key, column)
        else:
            self._tree.expand(index)
            first = self._first_to_type(self._model.index_of(row.key))
            if first.isValid():
                self._tree.setCurrentIndex(first)
                self._tree.scrollTo(self._model.index(self._model.rowCount(index) - 1, NAME, index))
                self._tree.scrollTo(first)
        self.update_actions()

    def _first_to_type(self, parent: QModelIndex) -> QModelIndex:
        """The first detail that can be typed; the first of all where there is none."""
        all_of_them = [
            self._model.index(place, AMOUNT, parent) for place in range(self._model.rowCount(parent))
        ]
        typed = (
            one for one in all_of_them if (row := self._model.row_at(one)) is not None and row.has_amount
        )
        return next(typed, all_of_them[0] if all_of_them else QModelIndex())

    # Putting in

    def _after(self) -> int | None:
        """The step of the build that is shown behind which something new goes; ``None``: at the end."""
        row = self._tree.current_row()
        if row is None:
            return None
        if row.depth:
            return row.key[0]
        if row.kind is RowKind.NEW_LINE:
            return self._model.new_line.after
        return row.step_id

    @Slot()
    def add_line(self) -> None:
        """Opens the line for adding behind the current row."""
        self._open_new_line("line")

    def _open_new_line(self, kind: str) -> None:
        last = [row for row in self._model.rows() if not row.depth and row.is_step]
        after = self._after()
        is_at_end = not last or after == last[-1].step_id
        self._model.set_new_line(NewLine(None if is_at_end else after, kind))
        self._tree.edit_cell(self._tree.new_line_index(NAME))

    @Slot()
    def add_step(self) -> None:
        """Puts in a step of the kind that the action stands for, behind the current row."""
        sender = self.sender()
        word = sender.data() if isinstance(sender, QAction) else ""
        row = self._tree.current_row()
        if word in _WRITTEN:
            self._open_new_line(word)
            return
        view = self._editing.session.view
        if not word or view is None:
            return
        is_inside = row is not None and row.depth > 0
        build_id = row.build_id if row is not None and is_inside else view.build.id
        after = row.step_id if row is not None and is_inside else self._after()
        edit = self._editing.step_edit(build_id, word, after)
        new_id = self._editing.written_line()
        anchor = row if row is not None and is_inside else self._any_row()
        if anchor is not None and self._editing.apply(anchor, edit.command, edit.label) is not None:
            key: Key = (*row.key[:-1], new_id) if row is not None and is_inside else (new_id,)
            self._tree.go_to(key, NAME if word == "note" else AMOUNT)

    def _any_row(self) -> BuildRow | None:
        return next((row for row in self._model.rows() if not row.depth), None)

    @Slot()
    def edit_cell(self) -> None:
        """Opens the field of the current cell."""
        index = self._tree.currentIndex()
        self._tree.edit_cell(index if index.column() in (NAME, AMOUNT) else index.siblingAtColumn(AMOUNT))

    @Slot()
    def open_part(self) -> None:
        """Opens or closes the current part."""
        index = self._tree.currentIndex().siblingAtColumn(NAME)
        self._tree.setExpanded(index, not self._tree.isExpanded(index))
        self.update_actions()

    # Taking out and moving

    @Slot()
    def remove(self) -> None:
        """Removes the selected steps; the row below becomes the current one, else the row above."""
        rows = self.chosen()
        if rows:
            self._remove(rows, labels.removing)

    def _remove(self, rows: list[BuildRow], label: Callable[[HouseBook, int, Collection[int]], str]) -> None:
        ids = self._ids(rows)
        book = self._editing.session.document.book
        neighbour = self._neighbour(rows)
        column = self._tree.currentIndex().column()
        command = steps.remove_steps(rows[0].build_id, ids, self._found(rows[0]))
        if (
            self._editing.apply(rows[0], command, label(book, rows[0].build_id, ids)) is not None
            and neighbour
        ):
            self._tree.go_to(neighbour, column)

    def _found(self, row: BuildRow) -> dict[int, float]:
        trace = self._editing.session.document.workings.trace(row.build_id)
        return {step.step_id: step.found_g for step in trace.steps if step.found_g is not None}

    def _neighbour(self, rows: list[BuildRow]) -> Key | None:
        gone = {row.key for row in rows}
        same = [
            row for row in self._model.rows()
            if len(row.key) == len(rows[0].key) and row.key[:-1] == rows[0].key[:-1]
        ]  # fmt: skip
        places = [place for place, row in enumerate(same) if row.key in gone]
        after = [row for row in same[places[-1] + 1 :] if row.is_step]
        before = [row for row in same[: places[0]] if row.is_step]
        if after:
            return after[0].key
        return before[-1].key if before else NEW_LINE_KEY if rows[0].depth == 0 else None

    @Slot()
    def move_up(self) -> None:
        """Moves the selected steps up by one place."""
        rows = self.chosen()
        if not rows:
            return
        order = [step.id for step in self._build(rows[0]).steps]
        ids = self._ids(rows)
        first = min(order.index(step_id) for step_id in ids)
        if first > 0:
            self._move(rows, order[first - 1])

    @Slot()
    def move_down(self) -> None:
        """Moves the selected steps down by one place."""
        rows = self.chosen()
        if not rows:
            return
        ids = self._ids(rows)
        order = [step.id for step in self._build(rows[0]).steps]
        last = max(order.index(step_id) for step_id in ids)
        if last < len(order) - 1:
            rest = [step_id for step_id in order[last + 2 :] if step_id not in ids]
            self._move(rows, rest[0] if rest else None)

    def _move(self, rows: list[BuildRow], before: int | None) -> None:
        ids = self._ids(rows)
        label = labels.moving(self._editing.session.document.book, rows[0].build_id, ids)
        self._editing.apply(rows[0], steps.move_steps(rows[0].build_id, ids, before), label)
        self._tree.scrollTo(self._tree.currentIndex())

    @Slot()
    def duplicate(self) -> None:
        """Puts a copy of the selected steps behind them."""
        rows = self.chosen()
        if not rows:
            return
        book = self._editing.session.document.book
        ids = self._ids(rows)
        new_id = self._editing.written_line()
        copies = copy_steps(book, rows[0].build_id, ids, self._found(rows[0]))
        command = paste_steps(copies, rows[0].build_id, ids[-1])
        label = f"duplicating {rows[0].name}" if len(ids) == 1 else labels.pasting(len(ids))
        if self._editing.apply(rows[0], command, label) is not None:
            self._tree.go_to((*rows[0].key[:-1], new_id), self._tree.currentIndex().column())

    @Slot()
    def leave_out(self) -> None:
        """Leaves the selected steps out, or takes them in again."""
        rows = self.chosen()
        if not rows:
            return
        is_left_out = not all(row.is_left_out for row in rows)
        ids = self._ids(rows)
        label = labels.leaving_out(self._editing.session.document.book, rows[0].build_id, ids, is_left_out)
        self._editing.apply(rows[0], steps.leave_out(rows[0].build_id, ids, is_left_out), label)
        self.update_actions()

    @Slot()
    def put_in_liquid(self) -> None:
        """Counts a garnish as in the liquid, or as on the glass."""
        row = self._tree.current_row()
        step = self._step(row) if row is not None else None
        if row is not None and isinstance(step, Garnish):
            label = labels.change_of_step(self._editing.session.document.book, row.build_id, step.id)
            self._editing.apply(
                row, steps.set_step(row.build_id, step.id, in_liquid=not step.in_liquid), label
            )
            self.update_actions()

    # Clipboard and drops

    @Slot()
    def copy(self) -> None:
        """Copies the selected rows; a single cell goes as its own text beside the row."""
        mime = self.mime()
        if mime is not None:
            QGuiApplication.clipboard().setMimeData(mime)

    @Slot()
    def cut(self) -> None:
        """Copies the selected steps and removes them."""
        rows = self.chosen()
        if rows:
            self.copy()
            self._remove(rows, labels.cutting)

    def mime(self) -> QMimeData | None:
        """The selected rows as steps, as text and as a table."""
        rows = self._tree.selected_rows()
        if not rows:
            return None
        mime = QMimeData()
        is_cell = len(rows) == 1 and self._tree.currentIndex().column() != NAME
        text = cell_as_text(rows[0], self._tree.currentIndex().column()) if is_cell else as_text(rows)
        mime.setText(text)
        mime.setHtml(as_html(rows))
        steps_of = self.chosen()
        if steps_of:
            book = self._editing.session.document.book
            copies = copy_steps(book, steps_of[0].build_id, self._ids(steps_of), self._found(steps_of[0]))
            mime.setData(ROWS_MIME, msgspec.json.encode(copies))
        return mime

    @Slot()
    def paste(self) -> None:
        """Puts in what is on the clipboard behind the current row: steps at once, text after a look at it."""
        self.put_in(QGuiApplication.clipboard().mimeData(), self._after())

    def put_in(self, mime: QMimeData, after: int | None) -> None:
        """Puts steps or lines of text in behind a step (``None``: at the end)."""
        view = self._editing.session.view
        if view is None:
            return
        if mime.hasFormat(ROWS_MIME):
            self._put_in_steps(bytes(mime.data(ROWS_MIME).data()), view.build.id, after)
            return
        table = lines_of_table(mime.html()) if mime.hasHtml() else []
        texts = table if len(table) > 0 else mime.text().splitlines()
        pasted = read_pasted(self._editing.session.document.book, view.build.id, texts, self._editing.style)
        if pasted:
            self.pasted.emit(pasted, after)

    def _put_in_steps(self, data: bytes, build_id: int, after: int | None) -> None:
        anchor = self._any_row()
        try:
            copies = msgspec.json.decode(data, type=StepCopies)
        except (msgspec.DecodeError, msgspec.ValidationError):
            self._editing.said.emit("What is on the clipboard cannot be read as steps.")
            return
        if anchor is None or not copies.steps:
            return
        new_id = self._editing.written_line()
        command = paste_steps(copies, build_id, after)
        if self._editing.apply(anchor, command, labels.pasting(len(copies.steps))) is not None:
            self._tree.go_to((new_id,), AMOUNT)

    def write_pasted(self, pasted: list[PastedLine], after: int | None) -> None:
        """Writes pasted lines as one step of the history."""
        anchor = self._any_row()
        if anchor is None:
            return
        new_id = self._editing.written_line()
        command = putting_in(anchor.build_id, pasted, after)
        if self._editing.apply(anchor, command, labels.pasting(len(pasted))) is not None:
            self._tree.go_to((new_id,), AMOUNT)

    def preview_pasted(self, pasted: list[PastedLine], after: int | None) -> UserError | None:
        """Shows pasted lines in the tree before they are written."""
        view = self._editing.session.view
        return (
            self._editing.session.set_preview(putting_in(view.build.id, pasted, after))
            if view is not None
            else None
        )

    def drop_rows(self, parent: Key, place: int, *, copies: bool) -> None:
        """Moves the selected steps, or copies of them, to a place among the rows of the build that is shown."""
        rows = self.chosen()
        if not rows:
            return
        if parent != rows[0].key[:-1]:
            self._editing.said.emit(
                "Rows move within their own build; copy and paste takes them into another."
            )
            return
        siblings = [row for row in self._model.rows() if row.key[:-1] == parent or row.key[:-2] == parent]
        level = [row for row in siblings if row.depth == len(parent) and row.detail is None]
        following = [row for row in level[place:] if row.is_step]
        before = following[0].step_id if following else None
        if not copies:
            self._move(rows, before)
            return
        order = [step.id for step in self._build(rows[0]).steps]
        at = order.index(before) if before is not None else len(order)
        after = order[at - 1] if at else AT_START
        book = self._editing.session.document.book
        made = copy_steps(book, rows[0].build_id, self._ids(rows), self._found(rows[0]))
        self._editing.apply(rows[0], paste_steps(made, rows[0].build_id, after), labels.pasting(len(rows)))
