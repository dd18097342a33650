"""One start of the program on one house book: when its sheet takes a key, and what it holds in memory afterwards."""

import time

BEGAN = time.perf_counter()

import json  # noqa: E402
import os  # noqa: E402
import sys  # noqa: E402
from pathlib import Path  # noqa: E402

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "app")]

from PySide6.QtCore import QTimer  # noqa: E402

from washline.document.places import user_places  # noqa: E402
from washline.ui.application import Program, WashlineApplication  # noqa: E402


def memory_mb() -> float:
    """Memory of this process that is its own, in MB (from the kernel's books)."""
    lines = Path("/proc/self/smaps_rollup").read_text().splitlines()
    return sum(int(line.split()[1]) for line in lines if line.startswith("Private_")) / 1024.0


class Start:
    """Follows one start to its end."""

    def __init__(self, path: Path) -> None:
        self.application = WashlineApplication(["washline"])
        self.program = Program(self.application, user_places())
        self.found: dict[str, float] = {}
        window = self.program.open_first([path])
        self.program.opening_of(window).ready.connect(self.ready)
        self.workspace = None

    def ready(self, workspace) -> None:
        """The house book is in its window: what is left is one frame."""
        self.workspace = workspace
        QTimer.singleShot(0, self.framed)

    def framed(self) -> None:
        """The frame after it: the sheet is painted and takes a key."""
        self.application.processEvents()
        self.found["editable_ms"] = (time.perf_counter() - BEGAN) * 1000.0
        self.wait()

    def wait(self) -> None:
        """Until nothing is left to evaluate."""
        if self.workspace.document.workings.pending:
            QTimer.singleShot(20, self.wait)
            return
        QTimer.singleShot(300, self.finish)

    def finish(self) -> None:
        """Reads the memory and leaves."""
        self.found["memory_mb"] = memory_mb()
        self.application.closeAllWindows()


start = Start(Path(sys.argv[1]))
start.application.exec()
start.program.close()
sys.stdout.write(json.dumps(start.found) + "\n")
sys.stdout.flush()
os._exit(0)
