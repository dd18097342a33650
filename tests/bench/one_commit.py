"""Enter and undo in a drink of a large house book: with the change made, and with ready figures, in turns."""

import gc
import json
import os
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "app")]

from PySide6.QtCore import QEvent, Qt  # noqa: E402
from PySide6.QtGui import QKeyEvent  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from tests.bench.painted import Painted  # noqa: E402
from washline.document.places import user_places  # noqa: E402
from washline.ui.application import Program, WashlineApplication  # noqa: E402
from washline.ui.build.columns import AMOUNT  # noqa: E402

BETWEEN_S = 0.25
"""Between two acts, as a person leaves it: the work in the background comes to its end."""


class Commits:
    """Types an amount, writes it with Enter and takes it back, again and again, and times Enter and undo."""

    def __init__(self, path: Path, times: int) -> None:
        self.application = WashlineApplication(["washline"])
        self.program = Program(self.application, user_places())
        self.times = times
        self.workspace = None
        self.painted = Painted(self.application.processEvents)
        self.window = self.program.open_first([path])
        self.program.opening_of(self.window).ready.connect(self.ready)

    def ready(self, workspace) -> None:
        """Remembers the panels of the open house book."""
        self.workspace = workspace

    def settle(self, seconds: float = BETWEEN_S) -> None:
        """Lets everything that waits come to its end."""
        end = time.perf_counter() + seconds
        while time.perf_counter() < end:
            self.application.processEvents()

    def run(self) -> dict[str, list[float]]:
        """The samples, in ms."""
        while self.workspace is None or self.workspace.document.workings.pending:
            self.application.processEvents()
        session = self.session = self.workspace.session
        drink = next(build for build in session.document.book.builds.values() if build.name == "Pear Signal")
        self.window.resize(1440, 900)
        session.show(drink.id)
        self.settle(2.0)
        self.workspace.sheet.tree.setFocus()
        found = {name: [] for name in ("enter_floor", "enter", "undo_floor", "undo")}
        gc.collect()
        gc.freeze()
        gc.disable()
        for number in range(self.times):
            self.turn(number, found)
        self.application.closeAllWindows()
        return found

    def turn(self, number: int, found: dict[str, list[float]]) -> None:
        """One amount: written and taken back, each once with the change made and once with ready figures."""
        session, undo = self.session, self.window.menus.actions["undo"]
        before = session.view
        found["enter"].append(self.enter(number))
        after = session.view
        self.settle()
        kept = session.view
        found["undo_floor"].append(
            self.painted.milliseconds(lambda: session._publish(before_figures(before)))
        )
        self.put_back(kept)
        found["undo"].append(self.painted.milliseconds(undo.trigger))
        self.settle()
        kept = session.view
        written = session.commit

        def with_ready_figures(*_):
            session._preview = None
            session._publish(after)
            return after

        session.commit = with_ready_figures
        found["enter_floor"].append(self.enter(number))
        session.commit = written
        self.put_back(kept)

    def put_back(self, kept) -> None:
        """After ready figures: what stands in the house book."""
        self.settle()
        self.session._kept = kept
        self.session._publish(kept)
        self.settle()

    def enter(self, number: int) -> float:
        """Types an amount into the first line and times Enter."""
        tree, model = self.workspace.sheet.tree, self.workspace.sheet.model
        tree.setCurrentIndex(model.index(0, AMOUNT))
        first, *others = f"{50 + number % 40}"
        self.press(tree, first)
        for figure in others:
            self.press(tree.editor, figure)
        self.settle()
        editor = tree.editor
        return self.painted.milliseconds(lambda: self.press(editor, "\r", Qt.Key.Key_Return))

    @staticmethod
    def press(widget, text: str, key: Qt.Key | None = None) -> None:
        """A key event, pressed and released."""
        key = Qt.Key(ord(text)) if key is None else key
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            QApplication.sendEvent(widget, QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, text))


def before_figures(view):
    """A view as it is published right after a change: its spread is still on its way."""
    return type(view)(view.build, view.book, view.result, view.trace, view.spread)


commits = Commits(Path(sys.argv[1]), int(sys.argv[2]))
samples = commits.run()
commits.program.close()
sys.stdout.write(json.dumps(samples) + "\n")
sys.stdout.flush()
os._exit(0)
