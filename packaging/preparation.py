"""The long way of the set-up: interpreter, virtual environment, packages, system libraries, stamp."""

from __future__ import annotations

import shutil
import sys
import time
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Iterator

import environment
import installer
import interpreter
import system_libraries
from console import run, say

LOCK = environment.VENV / "washline-set-up.lock"
UNFINISHED = environment.VENV / "washline-unfinished"


def prepare(kind: str) -> None:
    """Sets everything up; a second set-up of the same checkout waits, and then has nothing to do."""
    began = time.monotonic()
    with alone(LOCK):
        if environment.is_set_up(kind):
            return
        python = interpreter.find()
        interpreter.check_platform()
        make_virtual_environment(python)
        install_packages(python, kind)
        system_libraries.provide(for_tests=kind == "check")
        for finished in ("run", "check") if kind == "check" else ("run",):  # check holds all that run holds
            environment.stamp_file(finished).write_text(environment.stamp(finished))
    say(f"ready in {time.monotonic() - began:.0f} s")


def make_virtual_environment(python: str) -> None:
    """Makes ``.venv``, or makes it anew if the last set-up was cut off or its interpreter is gone or too old.

    An installer that was killed can leave a package that looks installed and is not: only a fresh start repairs that.
    """
    version = interpreter.version_of(environment.PYTHON)
    if version and version >= interpreter.OLDEST and not UNFINISHED.exists():
        return
    say(f"making {environment.VENV}")
    clear(environment.VENV)
    UNFINISHED.touch()
    run(python, "-m", "venv", "--without-pip", environment.VENV)


def clear(folder: Path) -> None:
    """Empties a folder but for the lock that this process holds."""
    for entry in folder.iterdir():
        if entry == LOCK:
            continue
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        else:
            entry.unlink()


def install_packages(python: str, kind: str) -> None:
    """Installs the locked packages and the project itself, editable."""
    lock = environment.FOLDER / f"lock-{kind}.txt"
    say(f"installing the packages of {lock.name}")
    UNFINISHED.touch()
    installer.install(python, environment.VENV, environment.PYTHON, lock, ["-e", str(environment.ROOT)])
    UNFINISHED.unlink()


@contextmanager
def alone(path: Path) -> Iterator[None]:
    """Holds a lock that ends with this process, however it ends."""
    path.parent.mkdir(exist_ok=True)
    with path.open("a+b") as file:
        if not take(file, wait=False):
            say("another set-up of this checkout is running; waiting for it")
            take(file, wait=True)
        yield


if sys.platform == "win32":
    import msvcrt

    def take(file: IO[bytes], wait: bool) -> bool:
        """Takes the lock; without ``wait`` tells at once whether it was free."""
        while True:
            try:
                file.seek(0)
                msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
                return True
            except OSError:
                if not wait:
                    return False
                time.sleep(0.5)

else:
    import fcntl

    def take(file: IO[bytes], wait: bool) -> bool:
        """Takes the lock; without ``wait`` tells at once whether it was free."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
        except BlockingIOError:
            return False
        return True
