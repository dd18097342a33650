"""Where the program keeps things of a user, and which house books were opened last: for the window and the commands."""

import json
import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import platformdirs

PROGRAM = "washline"
DEMO_FILE = "The Saltmarsh Rooms.housebook"
MOST_RECENT = 12


@dataclass(frozen=True, slots=True)
class Places:
    """The user's folders for this program; none of them need exist."""

    data: Path
    state: Path
    cache: Path

    @property
    def backups(self) -> Path:
        """The folder below which the backups of house books go."""
        return self.data / "backups"

    @property
    def demo_book(self) -> Path:
        """The house book of the demo house."""
        return self.data / DEMO_FILE

    @property
    def log(self) -> Path:
        """What went wrong, for a report."""
        return self.state / "washline.log"

    @property
    def recent(self) -> "Recent":
        """The house books opened last."""
        return Recent(self.state / "recent.json")


def user_places() -> Places:
    """The folders of this user, as the system wants them."""
    return Places(
        Path(platformdirs.user_data_dir(PROGRAM, appauthor=False)),
        Path(platformdirs.user_state_dir(PROGRAM, appauthor=False)),
        Path(platformdirs.user_cache_dir(PROGRAM, appauthor=False)),
    )


def book_to_open(places: Places) -> Path:
    """The house book last opened, if its file is still there; else the demo's, which may have to be made first."""
    last = next(iter(places.recent.paths()), None)
    return last if last is not None and last.is_file() else places.demo_book


class Recent:
    """A list of paths in a small file, newest first. A list that cannot be read or written is no reason to stop: it is
    taken as empty, and the next one that can be written takes its place."""

    def __init__(self, file: Path) -> None:
        self._file = file

    def paths(self) -> list[Path]:
        """The house books, the one opened last first. Whether they are still there is not looked at."""
        try:
            entries = json.loads(self._file.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return []
        known = entries if isinstance(entries, list) else []
        return [Path(entry) for entry in known if isinstance(entry, str)]

    def add(self, path: Path) -> None:
        """Puts a house book first."""
        own = path.resolve()
        self._write([own, *(other for other in self.paths() if other != own)][:MOST_RECENT])

    def remove(self, path: Path) -> None:
        """Takes a house book off the list."""
        self._write([other for other in self.paths() if other != path])

    def clear(self) -> None:
        """Forgets all but the house book opened last, which the next start needs."""
        self._write(self.paths()[:1])

    def _write(self, paths: Sequence[Path]) -> None:
        beside = self._file.with_suffix(f".{os.getpid()}")
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            beside.write_text(json.dumps([str(path) for path in paths], indent=1), encoding="utf-8")
            beside.replace(self._file)
        except OSError:
            with suppress(OSError):
                beside.unlink(missing_ok=True)
