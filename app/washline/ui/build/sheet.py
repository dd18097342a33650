"""The build sheet: head, tree and the questions that open in it, wired to the session."""

from itertools import pairwise
from typing import Any

from PySide6.QtCore import (
    QMimeData,
    QModelIndex,
    QPoint,
    QSize,
    Qt,
    QTimer,
    Signal,
    Slot,
)
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QAbstractItemDelegate, QHBoxLayout, QLabel, QMenu, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.items import rename
from washline.document.notice import Changed
from washline.model.book import HouseBook
from washline.model.change import Table
from washline.model.graph import path_between
from washline.model.step import Line
from washline.presentation.build_rows import Key
from washline.presentation.keeping import house_date_of
from washline.presentation.pour_view import PourUnit
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.build.actions import BuildActions
from washline.ui.build.columns import AMOUNT
from washline.ui.build.drafts import Draft, drafts_as_json, drafts_from_json
from washline.ui.build.editing import BuildEditing, Question
from washline.ui.build.fields import CellFields
from washline.ui.build.look import Look
from washline.ui.build.model import BuildTreeModel
from washline.ui.build.paste import PastedLine
from washline.ui.build.pour_choice import PourChoice
from washline.ui.build.strips import OutlineButton, QuestionStrip
from washline.ui.build.structure import BuildStructure
from washline.ui.build.title import INSET, QuietLine, TitleEdit
from washline.ui.build.tree import BuildTree
from washline.ui.session import Session, View

_POUR = "poured lines in"
_EndEdit = QAbstractItemDelegate.EndEditHint
_CURRENCY_SIGNS = {"EUR": "€", "GBP": "£", "USD": "$", "JPY": "¥"}
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class BuildSheet(QWidget):
    """The sheet of the build that the session shows.

    ``twist_asked`` and ``papers_asked`` are its two buttons; ``said`` carries words for the status line,
    ``height_changed`` that the rows want another height, ``new_drink_asked`` the button of the empty sheet.
    """

    twist_asked = Signal()
    papers_asked = Signal()
    new_drink_asked = Signal()
    said = Signal(str)
    height_changed = Signal()

    def __init__(
        self, session: Session, look: Look, style: NumberStyle = ENGLISH_STYLE, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._look = look
        self._style = style
        self._states: dict[int, dict[str, Any]] = {}
        self._shown: int | None = None
        self._after: Changed | None = None
        self._has_old_about = False
        self._pasted: tuple[list[PastedLine], int | None] | None = None
        self.model = BuildTreeModel(session.document.workings.users_of, style, self)
        self.model.is_read_only = session.document.is_read_only
        self.tree = BuildTree(look, self.model, self)
        self.actions_of_build = BuildActions(self.tree)
        self.editing = BuildEditing(session, self.model, style, self)
        self.fields = CellFields(session, self.tree, self.model, self.editing, style)
        self.structure = BuildStructure(self.tree, self.model, self.editing, self.actions_of_build)
        self.strip = QuestionStrip(look, self.tree.viewport())
        self._lay_out()
        self._connect()
        self.set_look(look)
        self._show(session.view)

    def _lay_out(self) -> None:
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        self._make_head()
        self._make_empty_states()
        for widget in (self._head, self._first, self.tree, self._empty):
            outer.addWidget(widget)
        outer.setStretchFactor(self.tree, 1)
        outer.setStretchFactor(self._empty, 1)
        order = (
            self.title,
            self.pour_choice,
            self.twist_button,
            self.papers_button,
            self._first_button,
            self.tree,
        )
        for before, after in pairwise(order):
            self.setTabOrder(before, after)
        self.setAutoFillBackground(True)
        self.setFocusProxy(self.tree)

    def _make_head(self) -> None:
        look = self._look
        self.title = TitleEdit(look, self)
        self.subtitle = QuietLine(look, self)
        self.pour_choice = PourChoice(look, self)
        self.twist_button = OutlineButton(look, "Twist", self)
        self.papers_button = OutlineButton(look, "Papers", self)
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.title)
        names.addWidget(self.subtitle)
        self._head = QWidget(self)
        head = QHBoxLayout(self._head)
        head.setContentsMargins(0, 0, 0, 0)
        head.setSpacing(round(look.px(12)))
        head.addLayout(names, 1)
        head.addWidget(self.pour_choice, 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.twist_button, 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.papers_button, 0, Qt.AlignmentFlag.AlignTop)

    def _make_empty_states(self) -> None:
        self._empty = QWidget(self)
        self._empty_words = QLabel(
            "No drink is open. Start one, or choose one in the house book.", self._empty
        )
        self._empty_words.setWordWrap(True)
        self._empty_button = OutlineButton(self._look, "New drink", self._empty)
        empty = QVBoxLayout(self._empty)
        empty.setContentsMargins(0, 0, 0, 0)
        empty.addWidget(self._empty_words)
        empty.addWidget(self._empty_button)
        empty.addStretch(1)
        self._first = QWidget(self)
        words = "Nothing is poured yet. Type the first line, such as 45 ml dry gin."
        self._first_words = QLabel(words, self._first)
        self._first_button = OutlineButton(self._look, "Add a line", self._first)
        first = QHBoxLayout(self._first)
        first.setContentsMargins(0, 0, 0, 0)
        first.addWidget(self._first_words)
        first.addWidget(self._first_button)
        first.addStretch(1)

    def _connect(self) -> None:
        session, tree = self._session, self.tree
        session.view_changed.connect(self._show)
        session.leaving.connect(self.finish_typing)
        session.shown_changed.connect(self._leave)
        session.told.connect(self._follow)
        session.after_paint.passed.connect(self._show_about)
        tree.menu_asked.connect(self._open_menu)
        tree.dropped.connect(self._drop)
        tree.drag_asked.connect(self._drag)
        tree.verticalScrollBar().valueChanged.connect(self._place_strip)
        tree.row_opened.connect(self._opened)
        tree.lines_pasted.connect(self.structure.paste)
        self.model.rowsInserted.connect(self.height_changed)
        self.model.rowsRemoved.connect(self.height_changed)
        self.editing.asked.connect(self._ask)
        self.editing.said.connect(self.said)
        self.structure.pasted.connect(self._offer_pasted)
        self.strip.answered.connect(self._answer)
        self.title.renamed.connect(self._rename)
        self.pour_choice.chosen.connect(self._show_in)
        self.twist_button.clicked.connect(self.twist_asked)
        self.papers_button.clicked.connect(self.papers_asked)
        self._empty_button.clicked.connect(self.new_drink_asked)
        self._first_button.clicked.connect(self.actions_of_build.add_line.trigger)

    # Look

    def set_look(self, look: Look) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin = round(look.px(20))
        self._head.setContentsMargins(
            margin - round(look.px(INSET)), round(look.px(14)), margin, round(look.px(8))
        )
        self._first.setContentsMargins(margin, 0, margin, round(look.px(8)))
        self._empty.setContentsMargins(margin, margin, margin, margin)
        for label in (self._empty_words, self._first_words):
            label.setFont(look.fonts.row)
        self.title.set_look(look)
        self.subtitle.set_look(look)
        for button in (
            self.pour_choice,
            self.twist_button,
            self.papers_button,
            self._empty_button,
            self._first_button,
        ):
            button.set_look(look)
        was_asking = self.strip.isVisible()
        if was_asking:
            self.editing.settle(None)
        self.strip.deleteLater()
        self.strip = QuestionStrip(look, self.tree.viewport())
        self.strip.answered.connect(self._answer)
        for widget in (self, self.tree, self.tree.viewport()):
            palette = widget.palette()
            palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
            palette.setColor(QPalette.ColorRole.Base, look.theme.sheet)
            widget.setPalette(palette)
        self.tree.set_look(look)
        self.height_changed.emit()

    @property
    def wanted_height(self) -> int:
        """The height at which no row is scrolled away."""
        rows = sum(1 for _ in self.model.rows())
        head = self._head.sizeHint().height() + (
            self._first.sizeHint().height() if self._first.isVisible() else 0
        )
        return head + self.tree.header().height() + rows * self.tree.row_height + round(self._look.px(6))

    def sizeHint(self) -> QSize:
        return QSize(round(self._look.px(780)), self.wanted_height)

    def minimumSizeHint(self) -> QSize:
        return QSize(round(self._look.px(330)), round(self._look.px(200)))

    # What is shown

    @Slot(object)
    def _show(self, view: View | None) -> None:
        self._empty.setVisible(view is None)
        self._head.setVisible(view is not None)
        self.tree.setVisible(view is not None)
        is_new = view is not None and not view.build.steps
        self._first.setVisible(is_new and not self.model.is_read_only)
        if view is None:
            self.model.show(None)
            return
        is_other = view.build.id != self._shown
        place = None if is_other else self.tree.top_place()
        self.model.shows_new_rows = self._pasted is not None
        self.model.set_part(not view.build.is_drink)
        self.model.set_currency(_CURRENCY_SIGNS.get(view.book.settings.currency, view.book.settings.currency))
        self.model.show(view)
        self.tree.keep_place(place)
        if is_other:
            self._shown = view.build.id
            self._return(view.build.id)
        if not view.is_preview:
            self.title.set_name(view.build.name)
            self._has_old_about = True
            if is_other:
                self._show_about()
            self._session.after_paint.wait()
            # A field that closes says so, and then they are looked at.
            if not self.tree.is_editing:
                self.structure.update_actions()
        self.tree.refresh_field()
        self._place_strip()

    @Slot()
    def _show_about(self) -> None:
        """The line under the name: it follows an edit once that is painted, for it looks through the history."""
        view = self._session.view
        if self._has_old_about and view is not None and not view.is_preview:
            self._has_old_about = False
            self.subtitle.setText(self._about(view))
            self.subtitle.setToolTip("")

    def _about(self, view: View) -> str:
        build, book = view.build, view.book
        target = book.targets.get(build.target_id) if build.target_id is not None else None
        parts = [target.name[:1].upper() + target.name[1:]] if target else []
        if build.is_drink:
            parts.append(_glass_words(view))
        else:
            parts += ["House-made", f"{build.kept_at.value.replace('_', ' ')}"]
            days = house_date_of(book, build.id).days
            if days is not None:
                parts.append(f"house date {days} days, not tested")
        entry = self._session.document.last_change(build.id)
        if entry is not None:
            when = entry.when.astimezone()
            parts.append(f"last change {when.day} {_MONTHS[when.month - 1]} {when.year}")
        return " · ".join(part for part in parts if part)

    @Slot(object)
    def _leave(self, build_id: int | None) -> None:
        """Keeps the state of the build that is left; called before the new one is shown."""
        if self.editing.question is not None:
            self._keep_question_as_draft()
        self.strip.hide()
        self._pasted = None
        if self._shown is not None:
            self._states[self._shown] = self._state_of_shown()
        if build_id is None:
            self._shown = None

    def _keep_question_as_draft(self) -> None:
        question = self.editing.question
        if question is not None and question.text:
            index = self.model.index_of(question.key, question.column)
            self.model.set_draft(index, Draft(question.text, "Not written: choose where it counts."))
        self.editing.settle(None)

    def _return(self, build_id: int) -> None:
        state = self._states.get(build_id, {})
        self.model.drafts = drafts_from_json(state.get("drafts") or [])
        self.tree.restore_place(state)
        if not self.tree.currentIndex().isValid():
            self.tree.setCurrentIndex(self.model.index(0, AMOUNT))
        self.structure.update_actions()
        self.height_changed.emit()

    def _state_of_shown(self) -> dict[str, Any]:
        return {**self.tree.place_state(), "drafts": drafts_as_json(self.model.drafts)}

    def state(self) -> dict[str, Any]:
        """Open branches, current cell, scroll and texts not understood, by build, and what poured lines are shown in, for
        JSON."""
        if self._shown is not None:
            self._states[self._shown] = self._state_of_shown()
        by_build = {str(build_id): state for build_id, state in self._states.items()}
        return {**by_build, _POUR: self.pour_choice.unit.value}

    def restore_state(self, state: dict[str, Any]) -> None:
        """Takes back what ``state`` gave."""
        self._states = {
            int(key): value for key, value in state.items() if key.isdecimal() and isinstance(value, dict)
        }
        known = {unit.value: unit for unit in PourUnit}
        self.show_in(known.get(str(state.get(_POUR)), PourUnit.AS_TYPED))
        if self._shown is not None:
            self._return(self._shown)

    def show_in(self, unit: PourUnit) -> None:
        """Shows poured lines as they were typed, in ml, in ounces or in parts."""
        self.pour_choice.show_unit(unit)
        self._show_in(unit)

    @Slot(object)
    def _show_in(self, unit: PourUnit) -> None:
        self.finish_typing()
        self.model.set_pour_unit(unit)

    # Questions

    @Slot(object)
    def _ask(self, question: Question | None) -> None:
        if question is None:
            self.strip.hide()
            return
        view = self._session.view
        kind = "drink" if view is None or view.build.is_drink else "part"
        count = len(question.drinks)
        part = self._session.document.book.builds[question.way[-1]]
        everywhere = f"Change in all {count} drinks" if count > 1 else "Change it everywhere"
        self._question_key = question.key
        left, bottom = self._strip_place(question.key)
        self.strip.ask(
            # Not "is in": some may hold only what is made of its leftover.
            f"A change of {part.name} reaches {count} drinks. Where does it count?"
            if count > 1
            else f"{part.name} is used elsewhere too.",
            (("everywhere", everywhere), ("twist", f"Make a twist of it for this {kind}")),
            left,
            bottom,
        )

    def _strip_place(self, key: Key) -> tuple[int, int]:
        rect = self.tree.visualRect(self.model.index_of(key))
        return round(self._look.px(38)), rect.bottom() + 1

    @Slot()
    def _place_strip(self) -> None:
        if self.strip.isVisible():
            self.strip.place(*self._strip_place(self._question_key))

    @Slot(str)
    def _answer(self, name: str) -> None:
        if self._pasted is not None:
            pasted, after = self._pasted
            self._pasted = None
            self._session.set_preview(None)
            if name:
                self.structure.write_pasted(pasted, after)
        else:
            self.editing.settle(name or None)
        self.tree.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot(object, object)
    def _offer_pasted(self, pasted: list[PastedLine], after: int | None) -> None:
        """Says what of a pasted text was understood, shows it in the tree, and writes it when that is wanted."""
        understood = [line for line in pasted if line.is_understood]
        if len(pasted) == 1 and understood:
            self.structure.write_pasted(pasted, after)
            return
        self._pasted = (pasted, after)
        refusal = self.structure.preview_pasted(pasted, after)
        if refusal is not None:
            self._pasted = None
            self.said.emit(str(refusal))
            return
        row = self.tree.current_row()
        self._question_key = row.key if row is not None else ()
        left, bottom = self._strip_place(self._question_key)
        self.strip.ask(pasted_words(pasted), (("add", f"Add {_lines(len(pasted))}"),), left, bottom)

    @Slot()
    def finish_typing(self) -> None:
        """Before the window closes or another build is shown: valid text is written, text that is not understood and an
        open question are kept."""
        editor = self.tree.editor
        if editor is not None:
            self.tree.commitData(editor)
            self.tree.closeEditor(editor, QAbstractItemDelegate.EndEditHint.NoHint)
        if self.editing.question is not None:
            self._keep_question_as_draft()

    # Menu, drag, undo

    @Slot(QPoint)
    def _open_menu(self, place: QPoint) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.actions_of_build.fill_with_clipboard(menu)
        menu.popup(place)

    @Slot()
    def _drag(self) -> None:
        mime = self.structure.mime()
        if mime is not None and self.structure.chosen():
            self.tree.run_drag(mime, len(self.structure.chosen()))

    @Slot(object, object, int, bool)
    def _drop(self, mime: QMimeData, parent: Key, place: int, is_own: bool) -> None:
        if is_own:
            self.structure.drop_rows(parent, place, copies=self.tree.copies_on_drop)
            return
        steps = [row for row in self.model.rows() if not row.depth and row.detail is None]
        before = [row for row in steps[:place] if row.is_step]
        self.structure.put_in(mime, before[-1].step_id if before else 0)

    @Slot(QModelIndex)
    def _opened(self, index: QModelIndex) -> None:
        self.structure.update_actions()
        self.height_changed.emit()

    @Slot(str)
    def _rename(self, name: str) -> None:
        view = self._session.view
        if view is None:
            return
        try:
            self._session.commit(rename(view.build.id, name), labels.renaming(view.build.name, name), self)
        except UserError as refusal:
            self.title.set_name(view.build.name)
            self.said.emit(str(refusal))

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        """After undo and redo: goes to where the change was, in another build if need be."""
        if changed.kind in ("undo", "redo") and changed.change_set:
            self._after = changed
            QTimer.singleShot(0, self, self._go_to_change)

    @Slot()
    def _go_to_change(self) -> None:
        changed, self._after = self._after, None
        if changed is None:
            return
        book = self._session.document.book
        place = _changed_place(book, changed)
        if place is None:
            return
        build_id, step_id = place
        shown = self._session.build_id
        way = _way(book, shown, build_id) if shown is not None else None
        if way is None:
            self._session.show(build_id)
            self.said.emit(
                f"{changed.kind.capitalize()} changed {book.builds[build_id].name}, which is shown now."
            )
            way = ()
        if step_id is not None:
            self.tree.go_to((*way, step_id), AMOUNT)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_strip()


def pasted_words(pasted: list[PastedLine]) -> str:
    """What of a pasted text was understood, in one or two sentences."""
    missed = [line for line in pasted if not line.is_understood]
    words = f"{_lines(len(pasted))}: {len(pasted) - len(missed)} understood"
    if not missed:
        return f"{words}."
    shown = "; ".join(f"\u201c{line.text[:60]}\u201d" for line in missed[:3])
    more = f" and {len(missed) - 3} more" if len(missed) > 3 else ""
    return f"{words}, {len(missed)} kept as {'a note' if len(missed) == 1 else 'notes'}: {shown}{more}."


def _lines(count: int) -> str:
    return "1 line" if count == 1 else f"{count} lines"


def _glass_words(view: View) -> str:
    build = view.build
    glass = view.book.glass_of(build)
    if glass is None:
        return "no glass chosen"
    ice_g = glass.ice_g if build.ice_g is None else build.ice_g
    ice = build.ice if build.ice is not None else glass.ice
    name = glass.name[:1].lower() + glass.name[1:]
    if not ice_g:
        return f"{name}, no ice"
    return f"{name}, {ice}" if ice else name


def _changed_place(book: HouseBook, changed: Changed) -> tuple[int, int | None] | None:
    """The build, and the step if it is still there, that a change was made in."""
    for change in changed.change_set.changes:
        row = change.after or change.before
        if change.table is Table.STEP and row is not None:
            build_id = getattr(row, "build_id", None)
            if isinstance(build_id, int) and build_id in book.builds:
                return build_id, int(change.key) if change.after is not None else None
    for build_id in sorted(changed.change_set.build_ids()):
        if build_id in book.builds:
            return build_id, None
    return None


def _way(book: HouseBook, shown: int, build_id: int) -> tuple[int, ...] | None:
    """The steps that lead from the build that is shown down to another; ``None`` where there is no way."""
    path = path_between(book, shown, build_id)
    if not path:
        return None
    way: list[int] = []
    for outer, inner in pairwise(path):
        part = book.builds[inner]
        made = {
            part.id,
            *(leftover.id for leftover in book.leftovers.values() if leftover.build_id == part.id),
        }
        steps = [
            step.id for step in book.builds[outer].steps
            if isinstance(step, Line) and step.item_id in made
        ]  # fmt: skip
        way.append(steps[0])
    return tuple(way)
