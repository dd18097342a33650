"""The commands of the window as actions, and the menu bar that shows them."""

from collections.abc import Iterable

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from washline.ui.theme import ThemeChoice

Keys = QKeySequence.StandardKey | str | None
_Std = QKeySequence.StandardKey

_ACTIONS: tuple[tuple[str, str, Keys], ...] = (
    ("new_book", "&New house book…", None),
    ("open_book", "&Open…", _Std.Open),
    ("save_copy", "Save a &copy…", _Std.SaveAs),
    ("import_build", "&Import build file…", None),
    ("export_build", "&Export build file…", None),
    ("costs", "Cos&ts", "Ctrl+Shift+C"),
    ("house_data", "Glasses, methods and ice", "Ctrl+Shift+G"),
    ("unused", "&Unused leftovers", None),
    ("settings", "&Settings", "Ctrl+,"),
    ("close_window", "Close &window", _Std.Close),
    ("quit", "&Quit", "Ctrl+Q"),
    ("undo", "&Undo", _Std.Undo),
    ("redo", "&Redo", _Std.Redo),
    ("find", "&Find in the house book", _Std.Find),
    ("finder", "&Quick finder", "Ctrl+K"),
    ("flush", "&Keep now", _Std.Save),
    ("new_drink", "New &drink", _Std.New),
    ("new_part", "New house-made &part", "Ctrl+Shift+N"),
    ("new_target", "&New target", None),
    ("new_raw", "New raw in&gredient", None),
    ("from_label", "New ingredient from a &label…", None),
    ("twist", "&Make a twist", "Ctrl+T"),
    ("compare", "&Compare with its parent", "Ctrl+Shift+T"),
    ("mass_flow", "Where the mass went", "Ctrl+Shift+M"),
    ("in_the_glass", "In the &glass", "Ctrl+G"),
    ("batch", "Batc&h", "Ctrl+B"),
    ("alcohol_free", "Alcohol-&free version…", None),
    ("moved", "Drinks that mo&ved", None),
    ("rename", "Re&name", None),
    ("details", "Deta&ils of drink or part", "Ctrl+I"),
    ("duplicate", "Duplicate drink or &part", None),
    ("remove", "Delete drin&k or part", None),
    ("edit_target", "&Edit the target", None),
    ("card", "&Spec card", _Std.Print),
    ("next_region", "&Next region", "F6"),
    ("previous_region", "&Previous region", "Shift+F6"),
    ("larger", "&Larger text", _Std.ZoomIn),
    ("smaller", "&Smaller text", _Std.ZoomOut),
    ("usual_size", "&Usual text size", "Ctrl+0"),
    ("reset_layout", "R&eset layout", None),
    ("full_screen", "&Full screen", _Std.FullScreen),
    ("explain", "&Explain what is focused", _Std.HelpContents),
    ("about", "&About Washline", None),
)

_AS_SOON_AS_SHOWN = {
    "new_book", "open_book", "close_window", "quit", "next_region", "previous_region", "larger", "smaller",
    "usual_size", "reset_layout", "full_screen", "about", "find",
}  # fmt: skip
"""What works before a house book is open."""


class Menus(QObject):
    """Every command of the window by name in ``actions``, and the menus that hold them.

    ``history_asked`` carries the number of the entry to go back or forward to, ``recent_asked`` a path,
    ``target_asked`` the id of a target.
    """

    history_asked = Signal(object)
    recent_asked = Signal(str)
    target_asked = Signal(object)

    def __init__(self, window: QWidget, bar: QMenuBar) -> None:
        super().__init__(window)
        self._window = window
        self.actions: dict[str, QAction] = {}
        for name, text, keys in _ACTIONS:
            self.actions[name] = self._action(name, text, keys)
        self.actions["quit"].setMenuRole(QAction.MenuRole.QuitRole)
        self.actions["about"].setMenuRole(QAction.MenuRole.AboutRole)
        self.actions["settings"].setMenuRole(QAction.MenuRole.PreferencesRole)
        self.themes = self._theme_actions()
        self.roomy = self._checkable("roomy", "&Roomy rows")
        self.calm = self._checkable("calm", "Reduced &motion")
        self._fill(bar)

    @property
    def commands(self) -> tuple[QAction, ...]:
        """Every command of the menus, for the finder."""
        return (*self.actions.values(), self.roomy, self.calm)

    def _action(self, name: str, text: str, keys: Keys) -> QAction:
        action = QAction(text, self._window)
        action.setObjectName(name)
        action.setMenuRole(QAction.MenuRole.NoRole)
        if isinstance(keys, str):
            action.setShortcut(QKeySequence(keys))
        elif keys is not None:
            action.setShortcuts(keys)
        action.setEnabled(name in _AS_SOON_AS_SHOWN)
        self._window.addAction(action)
        return action

    def _checkable(self, name: str, text: str) -> QAction:
        action = self._action(name, text, None)
        action.setCheckable(True)
        action.setEnabled(True)
        return action

    def _theme_actions(self) -> dict[ThemeChoice, QAction]:
        group = QActionGroup(self)
        texts = {ThemeChoice.SYSTEM: "As the s&ystem", ThemeChoice.LIGHT: "L&ight", ThemeChoice.DARK: "&Dark"}
        found = {}
        for choice, text in texts.items():
            action = self._checkable(f"theme_{choice.value}", text)
            action.setData(choice.value)
            group.addAction(action)
            found[choice] = action
        return found

    def _fill(self, bar: QMenuBar) -> None:
        book = bar.addMenu("&House book")
        self._add(book, "new_drink", "new_part", "new_raw", "from_label", "", "new_book", "open_book")
        self.recent = book.addMenu("Open &recent")
        self._add(book, "save_copy", "", "import_build", "export_build", "", "costs", "house_data", "unused")
        self._add(book, "moved", "")
        self._add(book, "settings", "", "close_window", "quit")
        edit = bar.addMenu("&Edit")
        self._add(edit, "undo", "redo")
        self.history = edit.addMenu("&History")
        self._before_find = edit.addSeparator()
        self._add(edit, "find", "finder", "", "flush")
        self.edit = edit
        self.build = bar.addMenu("&Build")
        self._add(self.build, "details", "in_the_glass", "batch", "mass_flow", "", "twist", "alcohol_free")
        self._add(self.build, "compare", "rename", "duplicate", "remove")
        self.balance = bar.addMenu("B&alance")
        self.targets = self.balance.addMenu("&Target of this drink")
        self._add(self.balance, "edit_target", "new_target")
        self.papers = bar.addMenu("&Papers")
        self._add(self.papers, "card")
        view = bar.addMenu("&View")
        for action in self.themes.values():
            view.addAction(action)
        view.addSeparator()
        view.addAction(self.roomy)
        view.addAction(self.calm)
        view.addSeparator()
        self._add(view, "larger", "smaller", "usual_size", "", "next_region", "previous_region", "")
        self._add(view, "full_screen", "reset_layout")
        helping = bar.addMenu("He&lp")
        self._add(helping, "explain", "", "about")
        self.history.setEnabled(False)
        self.targets.setEnabled(False)

    def _add(self, menu: QMenu, *names: str) -> None:
        for name in names:
            if name:
                menu.addAction(self.actions[name])
            else:
                menu.addSeparator()

    def add_clipboard(self, actions: Iterable[QAction]) -> None:
        """Puts cut, copy and paste of the sheet into the Edit menu."""
        self.edit.insertSeparator(self._before_find)
        for action in actions:
            self.edit.insertAction(self._before_find, action)

    def set_entries(self, entries: Iterable[tuple[int, str, bool]]) -> None:
        """Fills the history: number, words, and whether it is the newest that stands."""
        self.history.clear()
        for number, words, is_newest in entries:
            action = self.history.addAction(words.replace("&", "&&"))
            action.setData(number)
            action.setCheckable(True)
            action.setChecked(is_newest)
            action.triggered.connect(self._ask_history)

    def set_recent(self, entries: Iterable[tuple[str, str]]) -> None:
        """Fills the recent house books: words and path."""
        self.recent.clear()
        for words, path in entries:
            action = self.recent.addAction(words.replace("&", "&&"))
            action.setData(path)
            action.triggered.connect(self._ask_recent)
        self.recent.setEnabled(not self.recent.isEmpty())

    def set_targets(self, entries: Iterable[tuple[object, str, bool]]) -> None:
        """Fills the targets: id, name, and whether it is the shown drink's."""
        self.targets.clear()
        for target_id, name, is_chosen in entries:
            action = self.targets.addAction(name.replace("&", "&&"))
            action.setData(target_id)
            action.setCheckable(True)
            action.setChecked(is_chosen)
            action.triggered.connect(self._ask_target)
        self.targets.setEnabled(not self.targets.isEmpty())

    @Slot()
    def _ask_history(self) -> None:
        sender = self.sender()
        if isinstance(sender, QAction):
            self.history_asked.emit(sender.data())

    @Slot()
    def _ask_recent(self) -> None:
        sender = self.sender()
        if isinstance(sender, QAction):
            self.recent_asked.emit(str(sender.data()))

    @Slot()
    def _ask_target(self) -> None:
        sender = self.sender()
        if isinstance(sender, QAction):
            self.target_asked.emit(sender.data())
