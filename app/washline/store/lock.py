"""A house book is edited in one window at a time: a small file beside it says who has it, and the system holds it.

The lock is the system's own on the open file, so a crash sets it free; what is written in the file is for people. A file
that nobody holds, left by a program that was killed, is simply taken over.
"""

import getpass
import json
import os
import socket
import sys
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Final

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_FAR_BYTE: Final = 2**30
"""Windows locks bytes for readers too: one far behind the text leaves the text readable."""

_ATTEMPTS = 20


class Lock:
    """Held from ``take`` to ``release``."""

    def __init__(self, file_number: int, path: Path) -> None:
        self._file_number = file_number
        self._path = path

    def release(self) -> None:
        """Removes the file and lets go."""
        if sys.platform != "win32":
            with suppress(OSError):
                self._path.unlink()
        os.close(self._file_number)
        if sys.platform == "win32":
            # An open file cannot be removed there; somebody who opened it since keeps it.
            with suppress(OSError):
                self._path.unlink()


def lock_path(path: Path) -> Path:
    """The file that says who has the house book at ``path``."""
    return path.with_name(f"{path.name}.lock")


def take(path: Path, since: datetime) -> Lock | None:
    """Takes the lock of the house book at ``path``; ``None`` if another window has it. ``since`` is now.

    Raises OSError where no file can be made in the folder, or its disk knows no locks.
    """
    own = lock_path(path)
    for _ in range(_ATTEMPTS):
        file_number = os.open(own, os.O_RDWR | os.O_CREAT | getattr(os, "O_CLOEXEC", 0), 0o644)
        try:
            is_held = _hold(file_number)
            if is_held and _is_still(own, file_number):
                _write(file_number, since)
                lock, file_number = Lock(file_number, own), -1
                return lock
        finally:
            if file_number >= 0:
                os.close(file_number)
        if not is_held:
            return None
    raise OSError(f"{own} is being made and removed all the time")


def holder_of(path: Path) -> str:
    """Who has the house book, in words, after ``take`` said that somebody has."""
    try:
        who = json.loads(lock_path(path).read_text())
        since = datetime.fromisoformat(who["since"]).astimezone()
        return f"{who['user'] or 'somebody'}, since {since:%Y-%m-%d %H:%M}, process {who['pid']} on {who['host']}"
    except (OSError, ValueError, KeyError, TypeError):
        return "another window"


def _hold(file_number: int) -> bool:
    """Holds an open file; ``False`` if somebody else does. Raises OSError where the disk knows no locks."""
    if sys.platform == "win32":
        os.lseek(file_number, _FAR_BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(file_number, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
    else:
        try:
            # flock, not lockf: two windows of one process are two holders.
            fcntl.flock(file_number, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
    return True


def _is_still(own: Path, file_number: int) -> bool:
    """Whether the file that is held is the one at that place: its last holder may have removed it in between."""
    try:
        return os.path.samestat(os.stat(own), os.fstat(file_number))
    except FileNotFoundError:
        return False


def _write(file_number: int, since: datetime) -> None:
    text = json.dumps(
        {"pid": os.getpid(), "host": socket.gethostname(), "user": _user(), "since": since.isoformat()}
    )
    os.ftruncate(file_number, 0)
    os.lseek(file_number, 0, os.SEEK_SET)
    os.write(file_number, text.encode())


def _user() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return ""
