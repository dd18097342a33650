"""The commands of the Build menu, with their keys: every one also stands in the tree's own menu."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

STEP_TITLES = {
    "infuse": "&Infuse",
    "muddle": "Mudd&le",
    "blend": "&Blend",
    "rest": "&Rest",
    "fat wash": "&Fat wash",
    "milk wash": "&Milk wash",
    "strain": "&Strain",
    "heat": "&Heat",
    "reduce": "Re&duce",
    "dry": "Dr&y",
    "ferment": "F&erment",
    "adjust": "Ad&just to a reading",
    "measure": "Meas&ure",
    "take": "T&ake",
    "note": "&Note",
    "chill": "&Chill",
    "fine strain": "Fine strain",
    "rinse": "Rinse",
    "carbonate": "Carb&onate",
    "smoke": "Smo&ke",
    "top": "&Top",
    "float": "Float as a layer",
    "rim": "Rim",
    "express": "Express a &peel",
    "garnish": "&Garnish",
}


class BuildActions(QObject):
    """The actions of the build sheet. Those that change the structure are off while a field is open."""

    def __init__(self, tree: QWidget) -> None:
        super().__init__(tree)
        self._tree = tree
        self.add_line = self._action("&Add line", "Ctrl+Return")
        self.steps: dict[str, QAction] = {word: self._action(title) for word, title in STEP_TITLES.items()}
        for word, action in self.steps.items():
            action.setData(word)
        self.duplicate = self._action("&Duplicate", "Ctrl+D")
        self.remove = self._action("&Remove")
        self.remove.setShortcuts([QKeySequence(Qt.Key.Key_Delete), QKeySequence(Qt.Key.Key_Backspace)])
        self.move_up = self._action("Move &up", "Alt+Up")
        self.move_down = self._action("Move do&wn", "Alt+Down")
        self.open_part = self._action("&Open part in place")
        self.details = self._action("De&tails", "Alt+Return")
        self.left_out = self._action("&Left out", is_checkable=True)
        self.in_liquid = self._action("In the li&quid", is_checkable=True)
        self.cut = self._action("Cu&t", QKeySequence.StandardKey.Cut)
        self.copy = self._action("&Copy", QKeySequence.StandardKey.Copy)
        self.paste = self._action("&Paste", QKeySequence.StandardKey.Paste)
        self.edit_cell = self._action("&Edit cell")

    @property
    def structure(self) -> tuple[QAction, ...]:
        """What changes rows, and must wait while a field is open."""
        return (
            self.add_line,
            *self.steps.values(),
            self.duplicate,
            self.remove,
            self.move_up,
            self.move_down,
            self.open_part,
            self.details,
            self.left_out,
            self.in_liquid,
            self.edit_cell,
        )

    @property
    def all(self) -> tuple[QAction, ...]:
        """Every action, for the finder."""
        return (*self.structure, self.cut, self.copy, self.paste)

    def fill(self, menu: QMenu) -> None:
        """Puts the actions into a menu, with the kinds of step in one of their own."""
        menu.addAction(self.add_line)
        steps = menu.addMenu("Add &step")
        for action in self.steps.values():
            steps.addAction(action)
        menu.addSeparator()
        for action in (self.edit_cell, self.details, self.open_part, self.left_out, self.in_liquid):
            menu.addAction(action)
        menu.addSeparator()
        for action in (self.move_up, self.move_down, self.duplicate, self.remove):
            menu.addAction(action)

    def fill_with_clipboard(self, menu: QMenu) -> None:
        """The tree's own menu: cut, copy and paste stand first."""
        for action in (self.cut, self.copy, self.paste):
            menu.addAction(action)
        menu.addSeparator()
        self.fill(menu)

    def connect_all(self, slots: dict[str, Callable[..., object]]) -> None:
        """Connects actions to bound methods by the names of the actions; every step goes to ``step``."""
        for name, slot in slots.items():
            if name == "step":
                for action in self.steps.values():
                    action.triggered.connect(slot)
            else:
                getattr(self, name).triggered.connect(slot)

    def _action(
        self, text: str, keys: str | QKeySequence.StandardKey | None = None, *, is_checkable: bool = False
    ) -> QAction:
        action = QAction(text, self)
        action.setMenuRole(QAction.MenuRole.NoRole)
        action.setCheckable(is_checkable)
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        if isinstance(keys, str):
            action.setShortcut(QKeySequence(keys))
        elif keys is not None:
            action.setShortcuts(keys)
        self._tree.addAction(action)
        return action
