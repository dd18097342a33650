"""Builds the wheel, installs it into an empty environment, and tries it from another folder."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

import environment
import installer
import interpreter
from console import say

VALUES = environment.ROOT / "tests/packaging/values.csv"


def run(variables: dict[str, str]) -> int:
    """The exit status of the first step that failed, or 0."""
    with TemporaryDirectory(prefix="washline-wheel-") as name:
        folder = Path(name)
        build = [environment.PYTHON, "-m", "hatchling", "build", "-t", "wheel", "-d", folder]
        code = call(build, variables, environment.ROOT)
        if code:
            return code
        programs = install_alone(next(folder.glob("*.whl")), folder / "venv")
        elsewhere = folder / "elsewhere"
        elsewhere.mkdir()
        code = call([programs / "washline-cli", "--version"], variables, elsewhere)
        return code or call(
            [programs / "python", "-m", "washline", "check-values", VALUES], variables, elsewhere
        )


def install_alone(wheel: Path, venv: Path) -> Path:
    """The folder of programs of a new environment that holds the wheel and the locked packages, nothing else."""
    python = interpreter.find()
    subprocess.run([python, "-m", "venv", "--without-pip", str(venv)], check=True)
    programs = venv / ("Scripts" if os.name == "nt" else "bin")
    lock = environment.FOLDER / "lock-run.txt"
    installer.install(python, environment.VENV, programs / environment.PYTHON.name, lock, [str(wheel)])
    return programs


def call(words: list[object], variables: dict[str, str], folder: Path) -> int:
    """Runs a program in ``folder``; its exit status."""
    say(f"trying {' '.join(str(word) for word in words)}")
    return subprocess.run([str(word) for word in words], cwd=folder, env=variables, check=False).returncode
