"""The two commands, and the short way when nothing changed: one stamp is compared, nothing else is read.

The files of the set-up use the standard library only and can be read by Python 3.8, so that an old interpreter gets a
sentence or finds a newer one. What only the long way needs is imported there: it would cost every start its time.
"""

from __future__ import annotations

import hashlib
import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "packaging"
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
SETUP_ONLY = "--setup-only"
WINDOW_FILES = (".housebook", ".build.json")
SET_UP_FILES = (
    "environment.py",
    "preparation.py",
    "interpreter.py",
    "installer.py",
    "debian.py",
    "system_libraries.py",
    "console.py",
)


def start(arguments: list[str]) -> int:
    """Sets up what the program needs and becomes the program."""
    set_up("run")
    if SETUP_ONLY in arguments:
        return 0
    variables = child_variables()
    if opens_window(arguments) and not has_display(variables):
        print(
            "washline: set up, but there is no display here (neither DISPLAY nor WAYLAND_DISPLAY is set)",
            file=sys.stderr,
        )
        return 1
    command = [str(PYTHON), "-m", "washline", *arguments]
    if os.name == "nt":  # exec would give the console back before the program ends
        import subprocess

        return subprocess.run(command, env=variables).returncode
    os.execve(command[0], command, variables)


def check(arguments: list[str]) -> int:
    """Sets up what the tests need and runs them."""
    set_up("check")
    if SETUP_ONLY in arguments:
        return 0
    import stages

    return stages.run(arguments, child_variables())


def set_up(kind: str) -> None:
    """Makes ``.venv`` hold the packages of ``lock-<kind>.txt`` and Qt find its libraries; ``kind`` is run or check."""
    if not is_set_up(kind):
        import preparation

        preparation.prepare(kind)


def is_set_up(kind: str) -> bool:
    """Whether the last set-up was made from the same files, in the same place, for the same Python."""
    try:
        return stamp_file(kind).read_text() == stamp(kind) and PYTHON.exists()
    except FileNotFoundError:
        return False


def stamp_file(kind: str) -> Path:
    """Where the stamp of a finished set-up lies."""
    return VENV / f"washline-{kind}.stamp"


def stamp(kind: str) -> str:
    """The digest of everything that a set-up depends on."""
    digest = hashlib.sha256(f"{ROOT} {sys.version_info[:2]}".encode())
    names = (f"lock-{kind}.txt", *SET_UP_FILES)
    for file in (ROOT / "pyproject.toml", *(FOLDER / name for name in names)):
        digest.update(file.read_bytes())
    return digest.hexdigest()


def child_variables() -> dict[str, str]:
    """The environment for the program and the tests.

    Byte code is never forbidden: packages are installed without it, and a ban would cost every start double.
    """
    unwanted = ("PYTHONDONTWRITEBYTECODE", "PYTHONHOME", "PYTHONPATH")
    variables = {name: text for name, text in os.environ.items() if name not in unwanted}
    system = VENV / "system"
    folders = [
        str(folder) for part in ("usr/lib", "lib") for folder in sorted(system.glob(f"{part}/*-linux-gnu*"))
    ]
    if folders:
        before = [variables["LD_LIBRARY_PATH"]] if variables.get("LD_LIBRARY_PATH") else []
        variables["LD_LIBRARY_PATH"] = ":".join([*folders, *before])
        variables.setdefault("XKB_CONFIG_ROOT", str(system / "usr/share/X11/xkb"))
        variables.setdefault("FONTCONFIG_PATH", str(system / "etc/fonts"))
    return variables


def opens_window(arguments: list[str]) -> bool:
    """Whether these arguments open the window: none, or files to open; the commands stay in the console."""
    return not arguments or arguments[0] == "--" or arguments[0].lower().endswith(WINDOW_FILES)


def has_display(variables: dict[str, str]) -> bool:
    """Whether Qt will find a place for a window; only Linux can be without."""
    names = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    return not sys.platform.startswith("linux") or any(variables.get(name) for name in names)
