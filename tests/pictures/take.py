"""Opens the window on a fresh demo house book in a folder of its own and writes what it shows to a PNG."""

import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings, QTimer

from washline.document.places import Places
from washline.ui.application import Program, WashlineApplication
from washline.ui.theme import ThemeChoice

if TYPE_CHECKING:
    from washline.ui.workspace import Workspace

SIZE = (1440, 900)
SETTLE_MS = 800


class Picture:
    """One window, and the moment at which it is taken."""

    def __init__(self, folder: Path, target: Path, choice: ThemeChoice) -> None:
        QSettings.setDefaultFormat(QSettings.Format.IniFormat)
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(folder / "settings"))
        self.application = WashlineApplication(["washline"])
        self.program = Program(self.application, Places(folder / "data", folder / "state", folder / "cache"))
        self.program.preferences.theme = choice
        self.target = target
        self.window = self.program.open_first([])
        self.window.resize(*SIZE)
        self.program.opening_of(self.window).ready.connect(self.open_a_part)

    def open_a_part(self, workspace: "Workspace") -> None:
        """Opens the cordial in its drink, and waits until everything has come to rest."""
        tree, model = workspace.sheet.tree, workspace.sheet.model
        for row in range(model.rowCount()):
            index = model.index(row, 0)
            shown = model.row_at(index)
            if shown is not None and shown.can_open:
                tree.expand(index)
                break
        QTimer.singleShot(SETTLE_MS, self.take)

    def take(self) -> None:
        """Writes the picture and leaves."""
        self.target.parent.mkdir(parents=True, exist_ok=True)
        if not self.window.grab().save(str(self.target)):
            sys.stderr.write(f"washline: {self.target} cannot be written\n")
        self.application.closeAllWindows()


def main() -> int:
    """Takes the picture that the arguments ask for: a file, and light or dark."""
    target, choice = Path(sys.argv[1]), ThemeChoice(sys.argv[2])
    with tempfile.TemporaryDirectory(prefix="washline-picture-") as name:
        picture = Picture(Path(name), target, choice)
        picture.application.exec()
        picture.program.close()
    return 0 if target.exists() else 1


if __name__ == "__main__":
    raise SystemExit(main())
