"""Starts programs that edit a house book and kills them."""

import json
import os
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any

KILL = getattr(signal, "SIGKILL", signal.SIGTERM)
"""Windows has one way to end a process, and it gives no warning."""

ROOT = Path(__file__).resolve().parents[2]


class Victims:
    """One warm process that makes a victim per order; ``heard`` is what the last victim said."""

    def __init__(self) -> None:
        paths = os.pathsep.join((str(ROOT / "app"), str(ROOT)))
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.store.victim"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": paths},
            cwd=ROOT,
        )
        self._child = 0
        self.heard: list[tuple[str, Any]] = []

    def start(self, act: str, path: Path, seed: int = 0, *, until: str = "") -> None:
        """Starts a victim; waits until it said ``until``."""
        assert self._process.stdin is not None
        self._process.stdin.write(json.dumps({"act": act, "path": str(path), "seed": seed}).encode() + b"\n")
        self._process.stdin.flush()
        self.heard.clear()
        while not (self._child and (not until or until in self.words)):
            self._listen()
            if "gone" in self.words:
                self.wait()

    def kill(self) -> None:
        """Kills the victim without warning and hears what it had said."""
        with suppress(ProcessLookupError):
            os.kill(self._child, KILL)
        self.wait()

    def wait(self) -> None:
        """Waits for the end of the victim."""
        while "gone" not in self.words:
            self._listen()
        self._child = 0
        failures = [state for kind, state in self.heard if kind == "failed"]
        assert not failures, failures

    @property
    def process_id(self) -> int:
        """The victim's process."""
        return self._child

    @property
    def words(self) -> list[str]:
        """What kinds of things the victim said."""
        return [kind for kind, _ in self.heard]

    def last(self, kind: str) -> Any:
        """What it said last of one kind."""
        return next(state for word, state in reversed(self.heard) if word == kind)

    def close(self) -> None:
        """Ends the warm process."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.close()
        self._process.wait(10)
        self._process.stdout.close()

    def _listen(self) -> None:
        assert self._process.stdout is not None
        line = self._process.stdout.readline()
        if not line:
            raise RuntimeError("the warm process ended")
        kind, state = json.loads(line)
        if kind == "started":
            self._child = state
        self.heard.append((kind, state))
