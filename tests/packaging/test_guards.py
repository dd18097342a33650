"""The guards of ``tests/conftest.py`` are tried on planted faults, in a test run of their own."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

PLANTED = """
import logging
import threading
import warnings

from PySide6.QtCore import QTimer, qWarning
from PySide6.QtWidgets import QWidget

kept = []

def test_timer_left_running(qapp):
    timer = QTimer(qapp)
    timer.start(1000)

def test_thread_left_running():
    threading.Thread(target=threading.Event().wait, args=(30,), name="idler", daemon=True).start()

def test_window_kept(qapp):
    kept.append(QWidget())

def test_warning_logged():
    logging.getLogger("washline").warning("salt is out")

def test_qt_warning_printed(qapp):
    qWarning("ice is out")

def test_deprecated_call_made():
    warnings.warn("stirred in the old way", DeprecationWarning)
"""

CAUGHT = {
    "test_timer_left_running": "left behind by this test: [\"QTimer ''",
    "test_thread_left_running": "left behind by this test: ['thread idler']",
    "test_window_kept": "left behind by this test: [\"widget QWidget ''\"]",
    "test_warning_logged": "unexpected log records: ['washline: salt is out']",
    "test_qt_warning_printed": "QtWarningMsg: ice is out",
    "test_deprecated_call_made": "DeprecationWarning: stirred in the old way",
}

CLEAN = """
import logging
from pathlib import Path

from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QWidget

def test_window_closed_by_qtbot(qtbot):
    widget = QWidget()
    QTimer(widget).start(1000)
    qtbot.addWidget(widget)
    widget.show()

def test_expected_warning(caplog):
    logging.getLogger("washline").warning("expected")
    assert caplog.messages == ["expected"]
    caplog.clear()

def test_settings_written(qapp):
    QSettings("washline", "washline").setValue("width", 3)
    QSettings("washline", "washline").sync()

def test_settings_start_empty(qapp):
    assert QSettings("washline", "washline").allKeys() == []

def test_home_is_not_the_users():
    assert "washline-tests-" in str(Path.home())
"""


def output_of(folder: Path, source: str) -> str:
    """What a test run over ``source`` prints, with this project's guards and options."""
    (folder / "test_planted.py").write_text(source)
    shutil.copy(ROOT / "tests/conftest.py", folder)
    shutil.copy(ROOT / "pyproject.toml", folder)
    options = ["-q", "--no-xvfb", "-p", "no:randomly", "-p", "no:cacheprovider", "-p", "no:xdist"]
    environment = {name: text for name, text in os.environ.items() if not name.startswith("PYTEST_")}
    run = subprocess.run(
        [sys.executable, "-m", "pytest", *options, "test_planted.py"],
        cwd=folder,
        env={**environment, "QT_QPA_PLATFORM": "offscreen", "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    return run.stdout + run.stderr


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> str:
    return output_of(tmp_path_factory.mktemp("planted"), PLANTED)


@pytest.mark.parametrize("name", CAUGHT)
def test_planted_fault_is_caught(name: str, planted: str) -> None:
    parts = planted.split(f"_ {name} _")[1:] or planted.split(f" {name} _")[1:]
    assert parts, planted
    assert CAUGHT[name] in parts[0].split("\n____")[0], planted


def test_clean_tests_pass(tmp_path: Path) -> None:
    assert "5 passed" in output_of(tmp_path, CLEAN)
