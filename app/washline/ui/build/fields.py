"""The fields of the tree at work: what is typed is said and previewed, then written, or kept in its cell."""

from PySide6.QtCore import QObject, QPersistentModelIndex, Slot
from PySide6.QtWidgets import QAbstractItemDelegate

from washline.document.commands import labels
from washline.presentation.build_rows import BuildRow
from washline.presentation.row_words import RowKind
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed
from washline.ui.build.columns import AMOUNT, NAME
from washline.ui.build.drafts import Draft
from washline.ui.build.editing import AMOUNT_MISSING, BuildEditing
from washline.ui.build.editors import AmountEditor, CellEditor, NameEditor, Proposal
from washline.ui.build.edits import step_size, stepped
from washline.ui.build.meaning import Edit, NotUnderstood, Understood
from washline.ui.build.model import BuildTreeModel
from washline.ui.build.names import NewIngredient
from washline.ui.build.nodes import NewLine
from washline.ui.build.tree import BuildTree
from washline.ui.session import Session

_EndEdit = QAbstractItemDelegate.EndEditHint


class CellFields(QObject):
    """Hears the fields of one tree, and carries out what they say."""

    def __init__(
        self,
        session: Session,
        tree: BuildTree,
        model: BuildTreeModel,
        editing: BuildEditing,
        style: NumberStyle = ENGLISH_STYLE,
    ) -> None:
        super().__init__(tree)
        self._session = session
        self._tree = tree
        self._model = model
        self._editing = editing
        self._style = style
        self._committing = False
        self._understood: tuple[object, Edit] = None, NotUnderstood("")
        tree.propose = self.propose
        tree.typed.connect(self.type)
        tree.committed.connect(self.commit)
        tree.reverted.connect(self.revert)
        tree.closed.connect(self.after)
        tree.stepped.connect(self.step)

    def propose(self, index: QPersistentModelIndex, text: str) -> list[Proposal]:
        """What is offered under a name that is being typed."""
        row = self._model.row_at(index)
        return self._editing.proposals(row, text) if row is not None else []

    def _edit_of(self, editor: CellEditor, row: BuildRow, column: int) -> Edit:
        """What a field means. The same text is understood once, so that what was shown is what Enter writes."""
        choice = editor.choice if isinstance(editor, NameEditor) else None
        text, revision = editor.text(), self._session.document.revision
        place = row.build_id, row.key, row.kind, row.detail, self._model.new_line, column
        asked = place, text, choice, revision
        if self._understood[0] != asked:
            self._understood = asked, self._editing.understand(row, column, text, choice)
        edit = self._understood[1]
        if isinstance(edit, Understood) and editor.reads_other and edit.alternative is not None:
            return edit.alternative
        return edit

    @Slot(object, object)
    def type(self, editor: CellEditor, index: QPersistentModelIndex) -> None:
        """At every key: what is understood is said beneath the field and shown in all figures."""
        row = self._model.row_at(index)
        if row is None:
            return
        edit = self._edit_of(editor, row, index.column())
        refusal: UserError | None = None
        if editor.isModified():
            if isinstance(editor, NameEditor) and editor.popup.isVisible() and editor.choice is None:
                edit_shown: Edit = NotUnderstood("")
            else:
                edit_shown = edit
            refusal = self._editing.preview(row, edit_shown)
        self._say_beneath(editor, row, edit, refusal)

    def _say_beneath(self, editor: CellEditor, row: BuildRow, edit: Edit, refusal: UserError | None) -> None:
        bubble = self._tree.bubble
        if isinstance(editor, NameEditor):
            self._say_of_words(editor, row, edit, refusal)
            return
        draft = self._model.draft(self._tree.edited_index)
        restores = f"Esc restores {row_amount(row, self._kept_row(row))}" if row.amount else "Esc leaves it"
        keys = [f"Enter keeps · {restores}", self._step_words(editor, row)]
        if isinstance(edit, NotUnderstood) or refusal is not None:
            words = edit.expected if isinstance(edit, NotUnderstood) else str(refusal)
            is_waiting = editor.isModified() and refusal is None and draft is None
            bubble.say(
                "" if is_waiting else words, words if is_waiting else "", keys[0], is_error=not is_waiting
            )
        else:
            if edit.alternative is not None or editor.reads_other:
                other = edit.alternative.meaning if edit.alternative is not None else "the first reading"
                keys.append(f"F2: {other}")
            bubble.say(edit.meaning, edit.aside, " · ".join(part for part in keys if part))
        bubble.stand_below(editor)

    def _say_of_words(self, editor: NameEditor, row: BuildRow, edit: Edit, refusal: UserError | None) -> None:
        """What a step was understood as that is written out, and the value of a detail; a name says itself."""
        bubble = self._tree.bubble
        is_written = row.kind is RowKind.NEW_LINE and self._editing.written(editor.text()) is not None
        is_line = row.kind is RowKind.NEW_LINE and isinstance(edit, Understood) and bool(edit.label)
        if not editor.isModified() or not (is_written or is_line or row.detail is not None):
            bubble.hide()
            return
        keys = (
            "Enter adds it · Esc leaves it"
            if row.detail is None
            else "Enter keeps · Esc restores · down lists"
        )
        if isinstance(edit, NotUnderstood) or refusal is not None:
            words = edit.expected if isinstance(edit, NotUnderstood) else str(refusal)
            # While somebody types it is not wrong yet.
            bubble.say("", words, keys, is_error=False)
        else:
            if edit.alternative is not None or editor.reads_other:
                other = edit.alternative.meaning if edit.alternative is not None else "the first reading"
                keys = f"{keys} · F2: {other}"
            bubble.say(edit.meaning, edit.aside, keys)
        if editor.popup.isVisible():
            bubble.stand_above(editor)
        else:
            bubble.stand_below(editor)

    def _kept_row(self, row: BuildRow) -> BuildRow:
        node = self._model.node(self._model.index_of(row.key))
        return node.kept if node is not None and node.kept is not None else row

    def _step_words(self, editor: CellEditor, row: BuildRow) -> str:
        up = stepped(editor.text(), 1, row.unit.split(" ")[0], self._style)
        if up is None:
            return ""
        found = up.strip().split(" ", 1)
        unit = found[1] if len(found) > 1 else row.unit.split(" ")[0]
        size = step_size(unit or "ml", _leading_number(editor.text()))
        return f"up, down {format_trimmed(size, 3, self._style)}{UNIT_SPACE}{unit}"

    @Slot(object, int)
    def step(self, editor: AmountEditor, presses: int) -> None:
        """An arrow key in a field of an amount: to the next whole step."""
        row = self._model.row_at(self._tree.edited_index)
        if row is None:
            return
        text = stepped(editor.text(), presses, row.unit.split(" ")[0], self._style)
        if text is not None:
            editor.replace_text(text)

    @Slot(object, object)
    def commit(self, editor: CellEditor, index: QPersistentModelIndex) -> None:
        """When a field is left with what is in it: written, or kept in the cell as a draft."""
        row = self._model.row_at(index)
        self._tree.commit_went_well = True
        # A write repaints the tree, and a field that closes meanwhile asks to be committed again.
        if row is None or self._committing or not editor.isModified():
            return
        self._committing = True
        try:
            self._take_over(editor, row, index)
        finally:
            self._committing = False

    def _take_over(self, editor: CellEditor, row: BuildRow, index: QPersistentModelIndex) -> None:
        column, text = index.column(), editor.text()
        if row.kind is RowKind.NEW_LINE and not text.strip():
            self._drop_new_line(index)
            return
        edit = self._edit_of(editor, row, column)
        if isinstance(edit, NotUnderstood):
            self._keep_draft(index, text, edit.expected)
            return
        new_id = self._editing.written_line()
        try:
            if row.kind is RowKind.NEW_LINE and column == NAME and self._waits_for_amount(editor, row, edit):
                return
            changed = self._editing.write(row, column, text, edit)
        except UserError as refusal:
            self._keep_draft(index, text, str(refusal))
            return
        editor.setModified(False)
        if self._model.draft(index) is not None:
            self._model.set_draft(index, None)
        if row.kind is RowKind.NEW_LINE and changed is not None:
            pending = self._model.new_line
            # The next line goes behind this one, where it was not added at the end.
            self._model.set_new_line(NewLine(new_id if pending.after is not None else None))

    def _waits_for_amount(self, editor: CellEditor, row: BuildRow, edit: Understood) -> bool:
        """A name alone: the line is written once its amount is there."""
        choice = editor.choice if isinstance(editor, NameEditor) else None
        if isinstance(choice, NewIngredient) and edit.label == labels.making(choice.name):
            new_id = self._editing.written_line()
            if self._session.commit(edit.command, edit.label, self._editing) is not None:
                self._editing.wait_for_amount(new_id)
            editor.setModified(False)
            return True
        if edit.label:
            return False
        item_id = self._editing.chosen_item(row, editor.text(), choice)
        if item_id is not None:
            editor.setModified(False)
            self._editing.wait_for_amount(item_id)
        return item_id is not None

    def _keep_draft(self, index: QPersistentModelIndex, text: str, expected: str) -> None:
        self._tree.commit_went_well = False
        self._model.set_draft(index, Draft(text, expected))
        self._editing.end_preview()

    def _drop_new_line(self, index: QPersistentModelIndex) -> None:
        self._model.set_draft(index, None)
        self._editing.end_preview()
        self._model.set_new_line(NewLine())

    @Slot(object)
    def revert(self, index: QPersistentModelIndex) -> None:
        """Esc: the cell is as it was before, a text that was not understood is let go."""
        self._editing.end_preview()
        row = self._model.row_at(index)
        if row is not None and row.kind is RowKind.NEW_LINE:
            self._drop_new_line(index)
        else:
            self._model.set_draft(index, None)

    @Slot(object, object)
    def after(self, index: QPersistentModelIndex, hint: _EndEdit) -> None:
        """When a field has closed: where the keyboard goes."""
        if self._editing.question is not None or not index.isValid():
            return
        self._editing.end_preview()
        pending = self._model.new_line
        is_new = self._tree.is_new_line(index)
        goes_on = hint in (_EndEdit.SubmitModelCache, _EndEdit.EditNextItem)
        if is_new and goes_on and self._tree.commit_went_well:
            if pending.item_id is not None:
                self._tree.edit_cell(self._tree.new_line_index(AMOUNT))
                return
            if hint == _EndEdit.SubmitModelCache and self._has_just_added:
                self._tree.edit_cell(self._tree.new_line_index(NAME))
                return
        if is_new and pending.item_id is not None and hint == _EndEdit.NoHint:
            # Left before the amount was there: the name stays in its cell.
            draft = Draft(pending.name, AMOUNT_MISSING)
            self._model.set_draft(self._tree.new_line_index(NAME), draft)
        if self._tree.commit_went_well or hint != _EndEdit.SubmitModelCache:
            self._tree.move_on(index, hint)

    @property
    def _has_just_added(self) -> bool:
        entry = self._session.document.undo_entry
        return entry is not None and entry.label.startswith(("adding", "making"))


def row_amount(row: BuildRow, kept: BuildRow) -> str:
    """The amount as it stands in the house book."""
    shown = kept if kept.amount else row
    return f"{shown.amount}{UNIT_SPACE}{shown.unit.split(',')[0]}".strip()


def _leading_number(text: str) -> float:
    digits = "".join(
        character for character in text.split(" ")[0] if character.isdecimal() or character == "."
    )
    try:
        return float(digits)
    except ValueError:
        return 0.0
