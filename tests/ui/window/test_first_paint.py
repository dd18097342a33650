"""What the first paint does not need is not loaded before it."""

import os
import subprocess
import sys
from pathlib import Path

PROGRAM = """
import sys
from PySide6.QtCore import QTimer
from washline.document.places import Places
from washline.ui.application import Program, WashlineApplication
from pathlib import Path
from washline.presentation.book_rows import Section

folder = Path(sys.argv[1])
application = WashlineApplication(["washline"])
program = Program(application, Places(folder / "data", folder / "state", folder / "cache"))
window = program.open_first([])
late = ("sqlalchemy", "alembic", "pint", "scipy", "pyqtgraph", "numpy")

def look():
    rows = window.book.views[Section.DRINKS].rows.rowCount()
    sys.stdout.write(" ".join(name for name in late if name in sys.modules) + f"|{window.isVisible()}|{rows}\\n")

window.painted.connect(look)

def ready(workspace):
    sys.stdout.write(workspace.sheet.title.text() + "\\n")
    sys.stdout.write(" ".join(name for name in ("alembic", "scipy") if name in sys.modules) + "\\n")
    QTimer.singleShot(0, application.closeAllWindows)

# The look comes first: the opening starts to load in the same moment.
window.painted.disconnect()
window.painted.connect(look)
window.painted.connect(program.opening_of(window).go_on)
program.opening_of(window).ready.connect(ready)
application.exec()
program.close()
"""


def run(folder: Path) -> list[str]:
    variables = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(folder)],
        env=variables,
        capture_output=True,
        text=True,
        timeout=50,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def test_first_paint_needs_neither_database_nor_figures_nor_curves(tmp_path: Path) -> None:
    loaded, shown, *_ = run(tmp_path)
    assert loaded == "|True|0"
    assert shown == "Pear Signal"


def test_second_start_shows_the_last_list_before_anything_is_read(tmp_path: Path) -> None:
    run(tmp_path)
    loaded, shown, *_ = run(tmp_path)
    assert loaded == "|True|10"
    assert shown == "Pear Signal"
