"""Where files go: the dialogs of the system, and the one place that writes bytes whole or not at all."""

from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QIODevice, QSaveFile
from PySide6.QtWidgets import QFileDialog, QWidget

from washline.problem import UserError


class Asker(Protocol):
    """Asks a person for a place to write to."""

    def file(self, parent: QWidget, title: str, wish: Path, kinds: str, suffix: str) -> Path | None:
        """A file to write; asks itself before one is replaced. ``None``: changed their mind."""

    def folder(self, parent: QWidget, title: str, wish: Path) -> Path | None:
        """A folder to write to."""


class DialogAsker:
    """Asks through the dialogs of the system."""

    def file(self, parent: QWidget, title: str, wish: Path, kinds: str, suffix: str) -> Path | None:
        """A file to write; the ending is put on before the question whether to replace."""
        dialog = QFileDialog(parent, title, str(wish.parent), kinds)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(suffix)
        dialog.selectFile(wish.name)
        chosen = dialog.selectedFiles() if dialog.exec() else []
        dialog.deleteLater()
        return Path(chosen[0]) if chosen else None

    def folder(self, parent: QWidget, title: str, wish: Path) -> Path | None:
        """A folder to write to."""
        chosen = QFileDialog.getExistingDirectory(parent, title, str(wish))
        return Path(chosen) if chosen else None


def write_bytes(path: Path, data: bytes) -> None:
    """Writes a file whole or not at all. Raises ``UserError``."""
    file = QSaveFile(str(path))
    is_written = file.open(QIODevice.OpenModeFlag.WriteOnly) and file.write(data) == len(data)
    if not (is_written and file.commit()):
        raise UserError(
            f"“{path.name}” could not be written.",
            f"The system says: {file.errorString()}.",
            "Choose another folder.",
        )
