"""What this person set for this computer: how the window looks and how it was left. What is a house's is in its book."""

import hashlib
import json
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QObject, QSettings, Signal

from washline.ui.theme import ThemeChoice

SMALLEST_TEXT = 0.75
LARGEST_TEXT = 3.0
_STEPS = (0.75, 0.875, 1.0, 1.125, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0)
MOST_BOOKS = 30


class Preferences(QObject):
    """Typed access to the settings of this user; ``changed`` is sent for what alters the look."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._store = QSettings(self)

    @property
    def theme(self) -> ThemeChoice:
        """Which theme is wanted."""
        kept = self._text("view/theme", ThemeChoice.SYSTEM.value)
        known = {choice.value: choice for choice in ThemeChoice}
        return known.get(kept, ThemeChoice.SYSTEM)

    @theme.setter
    def theme(self, choice: ThemeChoice) -> None:
        self._look("view/theme", choice.value)

    @property
    def is_roomy(self) -> bool:
        """Whether rows are higher."""
        return self._flag("view/roomy")

    @is_roomy.setter
    def is_roomy(self, is_roomy: bool) -> None:
        self._look("view/roomy", is_roomy)

    @property
    def is_calm(self) -> bool:
        """Whether nothing may move by itself."""
        return self._flag("view/reduced_motion")

    @is_calm.setter
    def is_calm(self, is_calm: bool) -> None:
        self._look("view/reduced_motion", is_calm)

    @property
    def text_scale(self) -> float:
        """How much larger than usual text is, from 0.75 to 3."""
        kept = float(self._store.value("view/text_scale", 1.0, type=float))  # type: ignore[arg-type]
        return min(max(kept, SMALLEST_TEXT), LARGEST_TEXT) if kept == kept else 1.0

    def step_text(self, direction: int) -> None:
        """Makes text one step larger (1) or smaller (-1); 0: as usual."""
        now = self.text_scale
        if direction > 0:
            wanted = next((step for step in _STEPS if step > now + 1e-6), LARGEST_TEXT)
        elif direction < 0:
            wanted = next((step for step in reversed(_STEPS) if step < now - 1e-6), SMALLEST_TEXT)
        else:
            wanted = 1.0
        self._look("view/text_scale", wanted)

    @property
    def has_seen_demo(self) -> bool:
        """Whether the words about the demo house were closed."""
        return self._flag("start/has_seen_demo")

    @has_seen_demo.setter
    def has_seen_demo(self, has_seen: bool) -> None:
        self._store.setValue("start/has_seen_demo", has_seen)

    def bytes_of(self, key: str) -> QByteArray:
        """State that Qt made itself: geometry, splitters."""
        kept = self._store.value(f"window/{key}", QByteArray())
        return kept if isinstance(kept, QByteArray) else QByteArray()

    def set_bytes(self, key: str, value: QByteArray) -> None:
        """Keeps state that Qt made itself."""
        self._store.setValue(f"window/{key}", value)

    def names(self, key: str, default: list[str]) -> list[str]:
        """A list of words, such as the open groups."""
        kept = self._json(f"window/{key}", default)
        return [str(name) for name in kept] if isinstance(kept, list) else default

    def set_names(self, key: str, names: list[str]) -> None:
        """Keeps a list of words."""
        self._store.setValue(f"window/{key}", json.dumps(names))

    def book_state(self, path: Path) -> dict[str, Any]:
        """How a house book was left on this computer: what was open, how far it was scrolled."""
        kept = self._json(f"books/{_key(path)}", {})
        return kept if isinstance(kept, dict) else {}

    def set_book_state(self, path: Path, state: dict[str, Any]) -> None:
        """Keeps how a house book was left; those not opened for long are forgotten."""
        key = _key(path)
        self._store.setValue(f"books/{key}", json.dumps(state))
        order = [one for one in self.names("books", []) if one != key]
        for old in order[MOST_BOOKS:]:
            self._store.remove(f"books/{old}")
        self.set_names("books", [key, *order[:MOST_BOOKS]])

    def forget_layout(self) -> None:
        """Goes back to the layout that the program comes with."""
        self._store.remove("window")

    def flush(self) -> None:
        """Writes what is to be kept."""
        self._store.sync()

    def _flag(self, key: str) -> bool:
        return bool(self._store.value(key, False, type=bool))

    def _text(self, key: str, default: str) -> str:
        return str(self._store.value(key, default, type=str))

    def _json(self, key: str, default: Any) -> Any:
        try:
            return json.loads(self._text(key, json.dumps(default)))
        except ValueError:
            return default

    def _look(self, key: str, value: object) -> None:
        self._store.setValue(key, value)
        self.changed.emit()


def _key(path: Path) -> str:
    return hashlib.sha1(str(path.resolve()).encode(), usedforsecurity=False).hexdigest()[:16]
