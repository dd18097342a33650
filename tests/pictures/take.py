"""Opens the window on a fresh demo house book in a folder of its own and writes what it shows to a PNG.

python tests/pictures/take.py FILE light|dark|system [build|mass|unused|costs|ingredient|card|glass|batch|free|house]
"""

import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings, QTimer

from washline.document.places import Places
from washline.presentation.book_rows import Section
from washline.ui.application import Program, WashlineApplication
from washline.ui.theme import ThemeChoice

if TYPE_CHECKING:
    from washline.ui.workspace import Workspace

SIZE = (1440, 900)
SETTLE_MS = 800
SHEETS = {
    "mass": "mass_flow", "unused": "unused", "costs": "costs", "card": "card", "glass": "in_the_glass", "batch": "batch",
    "free": "alcohol_free", "house": "house_data",
}  # fmt: skip
"""The sheets that are opened by a command of the menus."""

PART, INGREDIENT = "quince shrub", "lemon-juice"
"""Whose mass is shown, and which ingredient."""


class Picture:
    """One window, and the moment at which it is taken."""

    def __init__(self, folder: Path, target: Path, choice: ThemeChoice, sheet: str) -> None:
        QSettings.setDefaultFormat(QSettings.Format.IniFormat)
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(folder / "settings"))
        self.application = WashlineApplication(["washline"])
        self.program = Program(self.application, Places(folder / "data", folder / "state", folder / "cache"))
        self.program.preferences.theme = choice
        self.target, self.sheet = target, sheet
        self.window = self.program.open_first([])
        self.window.resize(*SIZE)
        self.program.opening_of(self.window).ready.connect(self.open_sheet)

    def open_sheet(self, workspace: "Workspace") -> None:
        """Opens what the picture shows, and waits until everything has come to rest."""
        book = workspace.document.book
        if self.sheet == "ingredient":
            workspace.show(Section.RAWS, next(raw.id for raw in book.raws.values() if raw.slug == INGREDIENT))
        elif self.sheet in SHEETS:
            if self.sheet == "mass":
                workspace.show_build(next(part.id for part in book.parts() if part.name == PART))
            self.window.menus.actions[SHEETS[self.sheet]].trigger()
        else:
            self.open_a_part(workspace)
        QTimer.singleShot(SETTLE_MS, self.take)

    def open_a_part(self, workspace: "Workspace") -> None:
        """Opens the cordial in its drink."""
        tree, model = workspace.sheet.tree, workspace.sheet.model
        for row in range(model.rowCount()):
            index = model.index(row, 0)
            shown = model.row_at(index)
            if shown is not None and shown.can_open:
                tree.expand(index)
                break

    def take(self) -> None:
        """Writes the picture and leaves."""
        self.target.parent.mkdir(parents=True, exist_ok=True)
        if not self.window.grab().save(str(self.target)):
            sys.stderr.write(f"washline: {self.target} cannot be written\n")
        self.application.closeAllWindows()


def main() -> int:
    """Takes the picture that the arguments ask for: a file, light or dark, and which sheet."""
    target, choice = Path(sys.argv[1]), ThemeChoice(sys.argv[2])
    sheet = sys.argv[3] if len(sys.argv) > 3 else "build"
    with tempfile.TemporaryDirectory(prefix="washline-picture-") as name:
        picture = Picture(Path(name), target, choice, sheet)
        picture.application.exec()
        picture.program.close()
    return 0 if target.exists() else 1


if __name__ == "__main__":
    raise SystemExit(main())
