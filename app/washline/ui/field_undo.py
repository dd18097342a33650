"""Undo and Redo in a field: its own while something was typed in it, the house book's else."""

from PySide6.QtCore import QEvent
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit

_Key = QKeySequence.StandardKey


def leaves_to_the_book(field: QLineEdit, event: QEvent) -> bool:
    """Whether an event of a field is the key for Undo or Redo and the field has nothing of its own to take back or do
    again. It is then ignored, and the window's command hears it: call this first in ``event``, and return false there.
    """
    if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
        return False
    is_undo, is_redo = event.matches(_Key.Undo), event.matches(_Key.Redo)
    if (is_undo and not field.isUndoAvailable()) or (is_redo and not field.isRedoAvailable()):
        event.ignore()
        return True
    return False
