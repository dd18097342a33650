"""The commands that concern the open house book: undo and history, what is in the list, targets, copies, build files."""

from pathlib import Path

from PySide6.QtCore import QObject, QPoint, Qt, Slot
from PySide6.QtGui import QAccessible, QAction, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QApplication, QFileDialog, QMenu, QWidget

from washline.document.commands import labels
from washline.document.commands.adopting import adopt
from washline.document.commands.items import set_build
from washline.document.document import Document
from washline.document.house_files import save_copy
from washline.document.notice import Changed
from washline.exchange.build_file import Resolution, adoption, read_build, resolve, write_build
from washline.presentation.book_rows import Section
from washline.presentation.finder import Candidate, FoundKind, candidate, candidates_of
from washline.presentation.status import when_words
from washline.problem import UserError
from washline.ui.about_page import AboutPage
from washline.ui.finder.panel import FinderPanel
from washline.ui.import_page import ImportPage
from washline.ui.main_window import MainWindow
from washline.ui.workspace import Surroundings, Workspace, is_of_lines

MOST_HISTORY = 25
BUILD_FILES = "Build files (*.build.json)"
READ_ONLY = "Its file or folder cannot be written."
DEMO_WORDS = "This is the demo house. Change what you like: every change can be undone."
NOTHING_TO_EXPLAIN = (
    "Put the cursor on a reading, a line or a field, then press F1: its meaning and unit stand here."
)


class BookCommands(QObject):
    """Connects the menus of a window to its workspace, as long as the house book is open."""

    def __init__(self, workspace: Workspace) -> None:
        super().__init__(workspace)
        self._workspace = workspace
        self._document = workspace.document
        self._window = workspace.window
        self._menus = workspace.window.menus
        self._commands: dict[str, QAction] = {}
        self._is_behind = False
        self._finder = FinderPanel(self._window.look, self.gather, self._window.centre)
        self._finder.taken.connect(self._take_found)
        self._menus.add_clipboard(
            (
                workspace.sheet.actions_of_build.cut,
                workspace.sheet.actions_of_build.copy,
                workspace.sheet.actions_of_build.paste,
            )
        )
        self._menus.build.addSeparator()
        workspace.sheet.actions_of_build.fill(self._menus.build)
        self._row_actions = self._make_row_actions()
        self._connect()
        self._enable()

    def _connect(self) -> None:
        window, workspace = self._window, self._workspace
        slots = {
            "undo": self._undo,
            "redo": self._redo,
            "flush": self._flush,
            "new_drink": self._new_drink,
            "new_part": self._new_part,
            "new_raw": self._new_raw,
            "twist": self._twist,
            "rename": self._rename,
            "duplicate": self._duplicate,
            "remove": self._remove,
            "save_copy": self._save_copy,
            "import_build": self._import,
            "export_build": self._export,
            "settings": workspace.show_settings,
            "details": workspace.show_details,
            "mass_flow": workspace.house.show_flow,
            "in_the_glass": workspace.house.show_glass,
            "batch": workspace.house.show_batch,
            "alcohol_free": workspace.house.show_alcohol_free,
            "unused": workspace.house.show_unused,
            "costs": workspace.house.show_costs,
            "house_data": workspace.house.show_house_data,
            "from_label": workspace.house.show_entry,
            "moved": workspace.house.show_moved,
            "compare": workspace.compare,
            "card": workspace.show_papers,
            "edit_target": self._edit_target,
            "new_target": self._new_target,
            "finder": self._toggle_finder,
            "about": self._about,
            "explain": self._explain,
        }
        for name, slot in slots.items():
            self._menus.actions[name].triggered.connect(slot)
        self._menus.history.aboutToShow.connect(self._fill_history)
        self._menus.history_asked.connect(self._go_to_entry)
        self._menus.targets.aboutToShow.connect(self._fill_targets)
        self._menus.target_asked.connect(self._choose_target)
        window.book.menu_asked.connect(self._open_menu)
        workspace.editing.refused.connect(self._say_refusal)
        workspace.editing.removed.connect(self._say_removed)
        workspace.shown_changed.connect(self._enable)
        workspace.bridge.changed.connect(self._follow)
        workspace.session.after_paint.passed.connect(self._catch_up)
        workspace.sheet.twist_asked.connect(self._twist)
        workspace.import_asked.connect(self.import_file)

    def _make_row_actions(self) -> tuple[QAction, ...]:
        """Keys that work while the cursor is in the list: the sheet has its own for its lines."""
        keys = {
            "duplicate": [QKeySequence("Ctrl+D")],
            "remove": [QKeySequence(Qt.Key.Key_Delete), QKeySequence(Qt.Key.Key_Backspace)],
        }
        made = []
        for name, shortcuts in keys.items():
            action = QAction(self._menus.actions[name].text(), self)
            action.setShortcuts(shortcuts)
            action.setMenuRole(QAction.MenuRole.NoRole)
            action.triggered.connect(self._duplicate if name == "duplicate" else self._remove)
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            for view in self._window.book.views.values():
                view.addAction(action)
            made.append(action)
        return tuple(made)

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        """After a change of lines undo and redo work at once, and everything else is said once the change is painted."""
        if changed.kind == "computed":
            return
        self._workspace.words.follow(changed)
        if is_of_lines(changed):
            self._is_behind = True
            self._workspace.session.after_paint.wait()
        else:
            self._enable()

    @Slot()
    def _catch_up(self) -> None:
        if self._is_behind:
            self._enable()

    @Slot()
    def _enable(self) -> None:
        self._is_behind = False
        actions, workspace = self._menus.actions, self._workspace
        may_write = not self._document.is_read_only
        shown = workspace.shown
        is_build = shown is not None and shown[0] in (Section.DRINKS, Section.PARTS)
        for name in ("new_drink", "new_part", "new_raw", "from_label", "new_target"):
            actions[name].setEnabled(may_write)
        for name in ("rename", "remove"):
            actions[name].setEnabled(may_write and shown is not None)
        actions["duplicate"].setEnabled(may_write and shown is not None and shown[0] is not Section.RAWS)
        actions["twist"].setEnabled(may_write and is_build)
        actions["details"].setEnabled(is_build)
        for name in ("mass_flow", "in_the_glass", "batch"):
            actions[name].setEnabled(is_build)
        is_drink = shown is not None and shown[0] is Section.DRINKS
        actions["alcohol_free"].setEnabled(may_write and is_drink)
        actions["compare"].setEnabled(workspace.has_parent)
        actions["card"].setEnabled(is_build)
        actions["edit_target"].setEnabled(self._shown_target is not None)
        actions["export_build"].setEnabled(is_build)
        actions["import_build"].setEnabled(may_write)
        for name in (
            "save_copy",
            "flush",
            "finder",
            "settings",
            "explain",
            "costs",
            "house_data",
            "unused",
            "moved",
        ):
            actions[name].setEnabled(True)
        self._menus.history.setEnabled(
            self._document.undo_entry is not None or bool(self._document.redo_label)
        )
        self._menus.targets.setEnabled(may_write and shown is not None and shown[0] is Section.DRINKS)
        workspace.words.refresh()

    # History

    @Slot()
    def _undo(self) -> None:
        self._step(self._document.undo, "Undone")

    @Slot()
    def _redo(self) -> None:
        self._step(self._document.redo, "Done again")

    def _step(self, step: object, word: str) -> None:
        entry = self._document.undo_entry if word == "Undone" else self._document.redo_entry
        old = entry is not None and self._document.is_from_before(entry)
        try:
            changed = step(self)  # type: ignore[operator]
        except UserError as problem:
            self._window.say_problem(str(problem))
            return
        if isinstance(changed, Changed):
            when = f", from {when_words(entry.when, self._workspace.world.clock())}" if entry and old else ""
            self._window.status.say(f"{word}: {changed.label}{when}")
            self._workspace.go_to(changed)

    @Slot()
    def _fill_history(self) -> None:
        now = self._workspace.world.clock()
        standing = self._document.journal_number
        entries = [
            (
                entry.number,
                f"{entry.label[:1].upper()}{entry.label[1:]}    {when_words(entry.when, now)}"
                + ("  (undone)" if entry.is_undone else ""),
                entry.number == standing,
            )
            for entry in self._document.history(MOST_HISTORY)
        ]
        self._menus.set_entries(entries)

    @Slot(object)
    def _go_to_entry(self, number: int) -> None:
        """Takes back, or does again, until that entry is the newest that stands."""
        undone = {entry.number for entry in self._document.history(200) if entry.is_undone}
        step = self._document.redo if number in undone else self._document.undo
        try:
            while self._document.journal_number != number and step(self) is not None:
                pass
        except UserError as problem:
            self._window.say_problem(str(problem))
        entry = self._document.undo_entry
        self._window.status.say(f"As after: {entry.label}" if entry is not None else "As it was made")

    @Slot()
    def _flush(self) -> None:
        self._window.status.say(
            "Read only: nothing is written" if self._document.is_read_only else "All changes kept"
        )

    # What is in the list

    @Slot()
    def _new_drink(self) -> None:
        self._workspace.make_new(Section.DRINKS)

    @Slot()
    def _new_part(self) -> None:
        self._workspace.make_new(Section.PARTS)

    @Slot()
    def _new_raw(self) -> None:
        self._workspace.make_new(Section.RAWS)

    @Slot()
    def _twist(self) -> None:
        shown = self._workspace.shown
        if shown is not None and shown[0] in (Section.DRINKS, Section.PARTS):
            new_id = self._workspace.editing.twist(shown[1])
            if new_id is not None:
                self._workspace.show_build(new_id)

    @Slot()
    def _rename(self) -> None:
        current = self._window.book.current()
        if current is not None:
            self._window.regions.bring_up(self._window.book)
            self._window.book.edit_name(*current)

    @Slot()
    def _duplicate(self) -> None:
        current = self._window.book.current()
        if current is not None:
            self._workspace.editing.duplicate(*current)

    @Slot()
    def _remove(self) -> None:
        current = self._window.book.current()
        if current is None:
            return
        section, key = current
        after = self._window.book.neighbour(section, key)
        if self._workspace.editing.remove(section, key) and after is not None:
            self._workspace.show(section, after)

    @Slot(str)
    def _say_refusal(self, words: str) -> None:
        self._window.book.say(words, is_alert=True)

    @Slot(str)
    def _say_removed(self, name: str) -> None:
        self._window.book.say(f"{name} was removed.", self._menus.actions["undo"], "Undo")

    @Slot(object, object, QPoint)
    def _open_menu(self, section: Section, key: int | None, place: QPoint) -> None:
        menu = QMenu(self._window)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        actions = self._menus.actions
        if key is not None and self._workspace.shown != (section, key):
            self._workspace.show(section, key)
        if key is not None:
            names = ["rename", "duplicate", "remove"]
            if section in (Section.DRINKS, Section.PARTS):
                names = ["twist", *names, "", "export_build"]
            for name in names:
                menu.addAction(actions[name]) if name else menu.addSeparator()
            menu.addSeparator()
        for name in ("new_drink", "new_part", "new_raw"):
            menu.addAction(actions[name])
        menu.popup(place)

    # Targets

    @Slot()
    def _fill_targets(self) -> None:
        shown = self._workspace.shown
        build = self._document.book.builds.get(shown[1]) if shown is not None else None
        chosen = build.target_id if build is not None else None
        entries: list[tuple[object, str, bool]] = [
            (target.id, target.name, target.id == chosen) for target in self._document.book.targets.values()
        ]
        self._menus.set_targets([*entries, (None, "No target", chosen is None)])

    @property
    def _shown_target(self) -> int | None:
        """The target of the drink that is open."""
        shown = self._workspace.shown
        build = self._document.book.builds.get(shown[1]) if shown is not None else None
        return build.target_id if build is not None else None

    @Slot()
    def _edit_target(self) -> None:
        target_id = self._shown_target
        if target_id is not None:
            self._workspace.show(Section.TARGETS, target_id)

    @Slot()
    def _new_target(self) -> None:
        self._workspace.make_new(Section.TARGETS)

    @Slot(object)
    def _choose_target(self, target_id: int | None) -> None:
        shown = self._workspace.shown
        if shown is None or shown[1] not in self._document.book.builds:
            return
        label = labels.choosing_target(self._document.book, shown[1])
        self._workspace.do(set_build(shown[1], target_id=target_id), label)

    # Finder and help

    @Slot()
    def _toggle_finder(self) -> None:
        self._finder.toggle()

    def gather(self) -> list[Candidate]:
        """Everything that the finder finds: the book, and every command that can be done now."""
        found = candidates_of(self._document.book)
        steps = self._workspace.sheet.actions_of_build
        named = [(plain_words(action), action) for action in self._menus.commands]
        named += [
            (f"Colours: {plain_words(action).lower()}", action) for action in self._menus.themes.values()
        ]
        named += [(plain_words(action), action) for action in steps.all if action not in steps.steps.values()]
        named += [(f"Add step: {plain_words(action).lower()}", action) for action in steps.steps.values()]
        self._commands = {
            words: action
            for words, action in named
            if action.isEnabled() and action.isVisible() and action is not self._menus.actions["finder"]
        }
        for words, action in self._commands.items():
            keys = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
            found.append(candidate(FoundKind.COMMAND, words, words, keys))
        return found

    @Slot(object)
    def _take_found(self, found: Candidate) -> None:
        sections = {
            FoundKind.DRINK: Section.DRINKS,
            FoundKind.PART: Section.PARTS,
            FoundKind.RAW: Section.RAWS,
            FoundKind.TARGET: Section.TARGETS,
        }
        if found.kind is FoundKind.COMMAND:
            action = self._commands.get(str(found.key))
            if action is not None and action.isEnabled():
                action.trigger()
        elif found.kind is FoundKind.LEFTOVER:
            self._workspace.show_item(int(found.key))
        else:
            self._window.book.opened.emit(sections[found.kind], found.key)

    @Slot()
    def _about(self) -> None:
        page = AboutPage(self._window.look)
        page.closed.connect(self._leave_import)
        self._workspace.show_page(page)

    @Slot()
    def _explain(self) -> None:
        words = explanation(QApplication.focusWidget())
        self._window.banner.say(words or NOTHING_TO_EXPLAIN)

    # Files

    @Slot()
    def _save_copy(self) -> None:
        path = self._document.path
        wish = str(path.with_name(f"{path.stem} copy{path.suffix}"))
        chosen, _ = QFileDialog.getSaveFileName(
            self._window, "Save a copy", wish, "House books (*.housebook)"
        )
        if chosen:
            self.copy_to(Path(chosen))

    def copy_to(self, copy: Path) -> None:
        """Copies the house book with its history; says where it is."""
        if copy.suffix != ".housebook":
            copy = copy.with_name(f"{copy.name}.housebook")
        try:
            save_copy(self._document.path, copy)
        except UserError as problem:
            self._window.say_problem(str(problem))
            return
        self._window.status.say(f"A copy is at {copy}")

    @Slot()
    def _import(self) -> None:
        chosen, _ = QFileDialog.getOpenFileName(
            self._window,
            "Import a build file",
            str(self._document.path.parent),
            f"{BUILD_FILES};;All files (*)",
        )
        if chosen:
            self.import_file(Path(chosen))

    def import_file(self, path: Path) -> None:
        """Takes a build file into the house book as one step; what is there already is used as it stands, and what
        differs comes in beside it."""
        book = self._document.book
        try:
            resolution = resolve(read_build(path.read_bytes()), book)
            if not resolution.open_doubts:
                self._take_in(resolution)
                return
        except OSError as error:
            self._window.say_problem(f"“{path.name}” could not be read. The system says: {error.strerror}.")
            return
        except UserError as problem:
            self._window.say_problem(str(problem))
            return
        page = ImportPage(resolution, book, path.name, self._window.look)
        page.confirmed.connect(self._confirm_import)
        page.cancelled.connect(self._leave_import)
        self._workspace.show_page(page)

    @Slot(object)
    def _confirm_import(self, resolution: Resolution) -> None:
        try:
            # The house book may have changed while the question stood there.
            self._take_in(resolve(resolution.draft, self._document.book, resolution.choices))
        except UserError as problem:
            self._window.say_problem(str(problem))
            self._workspace.back()
        self._drop_sender_page()

    @Slot()
    def _leave_import(self) -> None:
        self._workspace.back()
        self._drop_sender_page()

    def _drop_sender_page(self) -> None:
        page = self.sender()
        if isinstance(page, QWidget):
            self._window.regions.sheet.removeWidget(page)
            page.deleteLater()

    def _take_in(self, resolution: Resolution) -> None:
        base = self._document.book
        adopted = adoption(resolution, base)
        name = adopted.book.builds[adopted.build_id].name
        self._document.do(adopt(adopted.book, base), labels.importing(name), self)
        notes = " ".join(resolution.notes)
        self._window.status.say(f"{name} was imported. {notes}".strip())
        self._workspace.show_build(adopted.build_id)

    @Slot()
    def _export(self) -> None:
        shown = self._workspace.shown
        if shown is None:
            return
        build = self._document.book.builds[shown[1]]
        plain = "".join(letter for letter in build.name if letter not in '/\\:*?"<>|').strip(". ")
        wish = str(self._document.path.parent / f"{plain or 'build'}.build.json")
        chosen, _ = QFileDialog.getSaveFileName(self._window, "Export a build file", wish, BUILD_FILES)
        if chosen:
            self.export_to(build.id, Path(chosen))

    def export_to(self, build_id: int, path: Path) -> None:
        """Writes a drink or part with all that it depends on, whole or not at all."""
        if not path.name.endswith(".json"):
            path = path.with_name(f"{path.name}.build.json")
        beside = path.with_name(f".{path.name}.new")
        try:
            beside.write_bytes(write_build(self._document.book, build_id))
            beside.replace(path)
        except OSError as error:
            beside.unlink(missing_ok=True)
            self._window.say_problem(
                f"“{path.name}” could not be written. The system says: {error.strerror}."
            )
            return
        except UserError as problem:
            self._window.say_problem(str(problem))
            return
        self._window.status.say(f"Exported to {path}")


def plain_words(action: QAction) -> str:
    """The words of an action without the marks of its keys."""
    return action.text().replace("&&", "\0").replace("&", "").replace("\0", "&")


def explanation(widget: QWidget | None) -> str:
    """What is known about the thing at the cursor: of a list its row, else of the widget itself."""
    if widget is None:
        return ""
    if isinstance(widget, QAbstractItemView):
        index = widget.currentIndex()
        roles = (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleDescriptionRole)
        texts = [str(index.data(role)) for role in roles if index.isValid() and index.data(role)]
        name = index.data(Qt.ItemDataRole.AccessibleTextRole)
        return ". ".join([str(name), *texts[:1]]) if name else "".join(texts[:1])
    told = getattr(widget, "explanation", None)
    if callable(told):
        return str(told())
    own = QAccessible.queryAccessibleInterface(widget)
    focused = own.focusChild() if own is not None else None
    for one in (focused, own):
        if one is not None:
            words = [one.text(QAccessible.Text.Name), one.text(QAccessible.Text.Description)]
            if any(words):
                return ". ".join(word for word in words if word)
    return widget.toolTip()


def furnish(window: MainWindow, document: Document, world: Surroundings) -> Workspace:
    """Puts an open house book into a window, with the menus connected, and shows what was shown last."""
    workspace = Workspace(window, document, world)
    workspace.commands = BookCommands(workspace)
    workspace.restore_state()
    greet(workspace)
    workspace.take_focus()
    return workspace


def greet(workspace: Workspace) -> None:
    """Says what a person should know of this house book before they type: that it is read only, or a demo."""
    window, document = workspace.window, workspace.document
    actions = window.menus.actions
    if document.is_read_only:
        holder = (
            f"It is being edited in another window: {document.held_by}." if document.held_by else READ_ONLY
        )
        window.say_problem(
            f"“{document.path.name}” is open for reading only. {holder}", actions["save_copy"], "Save a copy…"
        )
    elif document.book.settings.is_demo and not window.preferences.has_seen_demo:
        window.book.say(DEMO_WORDS, actions["new_book"], "Start your own…")
        window.book.notice.closed.connect(workspace.note_demo_seen)
