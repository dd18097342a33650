"""Keys in one amount of a build: with the figures computed, and with ready ones, in turns.

python one_key.py FILE TIMES BUILD ROW [PART ...]: the number of the row, and the parts that are opened to come to it.
"""

import gc
import json
import os
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "app")]

from PySide6.QtCore import QEvent, QModelIndex, Qt  # noqa: E402
from PySide6.QtGui import QKeyEvent  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from tests.bench.painted import Painted  # noqa: E402
from washline.document.places import user_places  # noqa: E402
from washline.ui.application import Program, WashlineApplication  # noqa: E402


class Keys:
    """Types one digit and takes it back, again and again, and times the digit until its frame is painted."""

    def __init__(self, path: Path, times: int, build: str, row: int, parts: list[str]) -> None:
        self.build, self.row, self.parts = build, row, parts
        self.application = WashlineApplication(["washline"])
        self.program = Program(self.application, user_places())
        self.times = times
        self.painted = Painted(self.application.processEvents)
        self.window = self.program.open_first([path])
        self.workspace = None
        self.program.opening_of(self.window).ready.connect(self.ready)

    def ready(self, workspace) -> None:
        """Remembers the panels of the open house book."""
        self.workspace = workspace

    def settle(self) -> None:
        """Lets everything that waits come to its end."""
        end = time.perf_counter() + 2.0
        while time.perf_counter() < end:
            self.application.processEvents()

    def run(self) -> dict[str, list[float]]:
        """The samples, in ms."""
        while self.workspace is None or self.workspace.document.workings.pending:
            self.application.processEvents()
        session, sheet = self.workspace.session, self.workspace.sheet
        build = next(build for build in session.document.book.builds.values() if build.name == self.build)
        self.window.resize(1440, 900)
        self.workspace.show_build(build.id)
        self.settle()
        tree = sheet.tree
        tree.setFocus()
        tree.setCurrentIndex(self.line())
        self.settle()
        self.press(tree, Qt.Key.Key_3, "3")
        self.settle()
        editor = tree.editor
        self.press(editor, Qt.Key.Key_5, "5")
        longer = session.view
        self.press(editor, Qt.Key.Key_Backspace, "")
        gc.collect()
        gc.freeze()
        gc.disable()
        floors, samples = [], []
        compute = session.set_preview

        def ready_numbers(_command):
            session._preview = _command
            session._publish(longer)

        for _ in range(self.times):
            for numbers, times in ((ready_numbers, floors), (compute, samples)):
                session.set_preview = numbers
                times.append(self.timed(editor))
                session.set_preview = compute
                self.press(editor, Qt.Key.Key_Backspace, "")
                self.settle_one()
        self.press(editor, Qt.Key.Key_Escape, "")
        self.application.processEvents()
        self.application.closeAllWindows()
        return {"floors": floors, "samples": samples}

    def line(self):
        """The amount that is typed over: the parts on the way to it are opened."""
        model, tree = self.workspace.sheet.model, self.workspace.sheet.tree
        parent = QModelIndex()
        for name in self.parts:
            rows = (model.index(row, 0, parent) for row in range(model.rowCount(parent)))
            parent = next(index for index in rows if model.row_at(index).name == name)
            tree.expand(parent)
            self.settle_one()
        return model.index(self.row, 1, parent)

    def settle_one(self) -> None:
        """A few turns of the loop, as between two keys of a person."""
        for _ in range(4):
            self.application.processEvents()

    def timed(self, editor) -> float:
        """One digit, from the event until the frame with the new figures is painted.

        The spread follows a frame later and is no part of it.
        """
        return self.painted.milliseconds(lambda: self.press(editor, Qt.Key.Key_5, "5"))

    @staticmethod
    def press(widget, key: Qt.Key, text: str) -> None:
        """A key event, pressed and released."""
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            QApplication.sendEvent(widget, QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, text))


keys = Keys(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3], int(sys.argv[4]), sys.argv[5:])
found = keys.run()
keys.program.close()
sys.stdout.write(json.dumps(found) + "\n")
sys.stdout.flush()
os._exit(0)
