"""The stages of a check, cheap ones first, and the count of tests that closes its output."""

from __future__ import annotations

import shutil
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Callable, NamedTuple
from xml.etree import ElementTree

import environment
import system_libraries
import wheel_check
from console import say

PYTHON = str(environment.PYTHON)
QUICK = {
    "lint": [PYTHON, "-m", "ruff", "check"],
    "format": [PYTHON, "-m", "ruff", "format", "--check"],
    "contracts": [str(environment.PYTHON.parent / "lint-imports")],
    "types": [PYTHON, "-m", "mypy"],
}
NO_TEST_CHOSEN = 5  # pytest's exit status

# Processes for the tests without a display. More than one costs half as much processor time again (each loads Qt
# and collects every test) and gains on idle cores only. The display tests share focus and clipboard: always one.
WORKERS = 0


class Outcome(NamedTuple):
    """How a stage ended."""

    name: str
    code: int
    seconds: float


class Count(NamedTuple):
    """How many tests passed, failed and were skipped."""

    passed: int
    failed: int
    skipped: int


def run(arguments: list[str], variables: dict[str, str]) -> int:
    """Runs the tests, with ``--all`` every stage; returns the exit status of the first stage that failed.

    A failed stage does not hide what the later ones have to say.
    """
    everything = "--all" in arguments
    pytest_arguments = [word for word in arguments if word != "--all"]
    outcomes: list[Outcome] = []
    if everything:
        outcomes += [timed(name, call, words, variables) for name, words in QUICK.items()]
    with TemporaryDirectory(prefix="washline-check-") as folder:
        outcomes += test_stages(pytest_arguments, variables, Path(folder))
        if everything:
            outcomes.append(timed("wheel", wheel_check.run, variables))
            say("stages: " + ", ".join(f"{one.name} {one.seconds:.0f} s" for one in outcomes))
        for outcome in outcomes:
            if outcome.code:
                say(f"failed: {outcome.name} (exit status {outcome.code})")
        counted = total(Path(folder))
    if counted:
        print(closing_line(counted), flush=True)
    return next((outcome.code for outcome in outcomes if outcome.code), 0)


def test_stages(arguments: list[str], variables: dict[str, str], folder: Path) -> list[Outcome]:
    """The tests without a display, then those with one; it is enough if one of the two finds a test."""
    stages = {"tests": (["--no-xvfb", "-m", "not display", "-n", str(WORKERS)], arguments)}
    if can_show_windows():
        stages["display"] = (["-m", "display"], [*arguments, "-n", "0"])
    outcomes = []
    for name, (options, chosen) in stages.items():
        platform = "xcb" if name == "display" else "offscreen"
        words = [PYTHON, "-m", "pytest", *options, f"--junit-xml={folder / name}.xml", *chosen]
        outcomes.append(timed(name, call, words, {**variables, "QT_QPA_PLATFORM": platform}))
    ran = [outcome for outcome in outcomes if outcome.code != NO_TEST_CHOSEN]
    return ran or outcomes[:1]


def can_show_windows() -> bool:
    """Whether the display tests can run: on Linux, with the programs that they need."""
    if not sys.platform.startswith("linux"):
        say("the tests that need an X server are left out on this system")
        return False
    absent = [name for name in system_libraries.DISPLAY_TOOLS if not shutil.which(name)]
    if absent:
        say(f"the tests that need a display are left out: no {' and no '.join(absent)} in this system")
    return not absent


def timed(name: str, stage: Callable[..., int], *arguments: object) -> Outcome:
    """Runs a stage."""
    say(f"stage {name}")
    began = time.monotonic()
    return Outcome(name, stage(*arguments), time.monotonic() - began)


def call(words: list[str], variables: dict[str, str]) -> int:
    """Runs a program in the checkout; its exit status."""
    return subprocess.run(words, cwd=environment.ROOT, env=variables, check=False).returncode


def total(folder: Path) -> Count | None:
    """The sum over the reports that pytest left in ``folder``; None if it left none."""
    suites = [
        suite for file in sorted(folder.glob("*.xml")) for suite in ElementTree.parse(file).iter("testsuite")
    ]
    if not suites:
        return None
    tests, failures, errors, skipped = (
        sum(int(suite.get(name, "0")) for suite in suites)
        for name in ("tests", "failures", "errors", "skipped")
    )
    return Count(max(0, tests - failures - errors - skipped), failures + errors, skipped)


def closing_line(count: Count) -> str:
    """The last line of a check."""
    skipped = f", {count.skipped} skipped" if count.skipped else ""
    return f"{count.passed} passed, {count.failed} failed{skipped}"
