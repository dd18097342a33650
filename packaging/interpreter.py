"""Finds a Python that the locked packages are made for."""

from __future__ import annotations

import os
import platform
import shutil
import sys
from typing import Iterator

from console import output, say, stop

OLDEST = (3, 11)
NEWEST_TESTED = (3, 13)
NEWEST_TRIED = 16  # minor versions looked for on PATH
OLDEST_GLIBC = (2, 34)  # PySide6's wheel is manylinux_2_34: Debian 12, Ubuntu 22.04, Fedora 35


def find() -> str:
    """This interpreter if it is a tested one, else the newest tested one on PATH, else a newer one with a warning."""
    if OLDEST <= sys.version_info[:2] <= NEWEST_TESTED:
        return this()
    tested = range(NEWEST_TESTED[1], OLDEST[1] - 1, -1)
    newer = range(NEWEST_TESTED[1] + 1, NEWEST_TRIED + 1)
    found = next(installed(tested), None)
    if found:
        return found
    found = this() if sys.version_info[:2] > NEWEST_TESTED else next(installed(newer), None)
    if found:
        say(
            f"{found} is newer than Python {text(NEWEST_TESTED)}, the newest one that was tested; going on with it"
        )
        return found
    running = text(sys.version_info[:2])
    stop(f"needs Python {text(OLDEST)} to {text(NEWEST_TESTED)}; this is {running}, and no other is on PATH")


def this() -> str:
    """The running interpreter; the one behind it if it runs from a virtual environment, which may be ours."""
    return getattr(sys, "_base_executable", None) or sys.executable


def installed(minors: range) -> Iterator[str]:
    """Interpreters on PATH that really start: a version manager leaves names there that do not."""
    for minor in minors:
        for command in candidates(minor):
            if version_of(*command) == (3, minor):
                printed = output(*command, "-c", "import sys; print(sys.executable)")
                yield (printed or command[0]).strip()


def candidates(minor: int) -> Iterator[list[str]]:
    """The command words that may start Python 3.``minor``."""
    if os.name == "nt":
        yield ["py", f"-3.{minor}"]
    found = shutil.which(f"python3.{minor}")
    if found:
        yield [found]


def version_of(*command: object) -> tuple[int, int] | None:
    """Major and minor version of an interpreter, or None if it does not start."""
    printed = output(*command, "-c", "import sys; print(*sys.version_info[:2])")
    numbers = printed.split() if printed else []
    return (int(numbers[0]), int(numbers[1])) if len(numbers) == 2 else None


def check_platform() -> None:
    """Stops with a sentence where no wheel of Qt can run."""
    library, version = platform.libc_ver()
    if library == "glibc" and tuple(int(part) for part in version.split(".")[:2]) < OLDEST_GLIBC:
        stop(
            f"Qt needs glibc {text(OLDEST_GLIBC)} or newer (Debian 12, Ubuntu 22.04), and this system has {version}"
        )
    if sys.maxsize < 2**32:
        stop("Qt needs a 64-bit Python, and this one has 32 bits")


def text(version: tuple[int, ...]) -> str:
    """A version as people write it."""
    return ".".join(str(number) for number in version)
