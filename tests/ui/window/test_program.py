"""The program as a process: one per user, ended by a signal, told of what nobody caught."""

import json
import logging
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray, QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from washline.document.opening import open_document
from washline.problem import UserError
from washline.ui.errors import ErrorReporter
from washline.ui.preferences import MOST_BOOKS, Preferences
from washline.ui.single import Single
from washline.ui.theme import ThemeChoice

from tests.ui.window.conftest import now  # isort: skip


def variables_in(home: Path) -> dict[str, str]:
    folders = {f"XDG_{kind}_HOME": str(home / kind.lower()) for kind in ("CONFIG", "DATA", "STATE", "CACHE")}
    return {**os.environ, **folders, "HOME": str(home), "QT_QPA_PLATFORM": "offscreen"}


def begin(home: Path, *arguments: str) -> "subprocess.Popen[str]":
    return subprocess.Popen(
        [sys.executable, "-m", "washline", *arguments],
        env=variables_in(home),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def wait_for(path: Path, seconds: float = 40.0) -> None:
    end = time.monotonic() + seconds
    while not path.exists():
        assert time.monotonic() < end, f"{path} never came"
        time.sleep(0.05)


def said(errors: str) -> list[str]:
    """What was written beside the remark that a platform without windows makes."""
    return [line for line in errors.splitlines() if not line.startswith("This plugin does not support ")]


def test_signal_closes_the_window_with_everything_kept(tmp_path: Path) -> None:
    process = begin(tmp_path)
    book = tmp_path / "data/washline/The Saltmarsh Rooms.housebook"
    wait_for(tmp_path / "state/washline/recent.json")
    time.sleep(0.5)
    process.send_signal(signal.SIGTERM)
    _, errors = process.communicate(timeout=20)
    assert (process.returncode, said(errors)) == (0, [])
    assert not book.with_name(f"{book.name}.lock").exists()
    document = open_document(book, clock=now)
    assert len(list(document.book.drinks())) == 10
    document.close()


def test_second_start_hands_over_to_the_first_and_ends(tmp_path: Path) -> None:
    first = begin(tmp_path)
    wait_for(tmp_path / "state/washline/recent.json")
    second = begin(tmp_path)
    _, errors = second.communicate(timeout=30)
    assert (second.returncode, said(errors)) == (0, [])
    assert first.poll() is None
    first.send_signal(signal.SIGTERM)
    first.communicate(timeout=20)


def test_first_process_is_asked_to_open_what_the_second_was_given(tmp_path: Path, qtbot: QtBot) -> None:
    first = Single(tmp_path)
    assert not first.is_taken([])
    call = (
        "import sys; from pathlib import Path; from PySide6.QtCore import QCoreApplication\n"
        "from washline.ui.single import Single\n"
        "a = QCoreApplication([]); print(Single(Path(sys.argv[1])).is_taken([Path('/b/x.housebook')]))\n"
    )
    with qtbot.waitSignal(first.asked, timeout=20_000) as asked:
        second = subprocess.Popen(
            [sys.executable, "-c", call, str(tmp_path)], stdout=subprocess.PIPE, text=True
        )
    assert asked.args == [[Path("/b/x.housebook")]]
    printed, _ = second.communicate(timeout=20)
    assert printed == "True\n"
    first.close()


def test_name_of_a_killed_process_is_taken_over(tmp_path: Path, qtbot: QtBot) -> None:
    call = (
        "import os, sys; from pathlib import Path; from PySide6.QtCore import QCoreApplication\n"
        "from washline.ui.single import Single\n"
        "a = QCoreApplication([]); Single(Path(sys.argv[1])).is_taken([]); os.kill(os.getpid(), 9)\n"
    )
    subprocess.run([sys.executable, "-c", call, str(tmp_path)], check=False)
    single = Single(tmp_path)
    assert not single.is_taken([])
    assert single._server.isListening()
    single.close()


def raised(error: Exception) -> Exception:
    try:
        raise error
    except Exception as caught:  # noqa: BLE001  the trace is what is wanted
        return caught


def test_fault_is_logged_and_told_once(
    tmp_path: Path, qtbot: QtBot, caplog: pytest.LogCaptureFixture
) -> None:
    reporter = ErrorReporter(tmp_path / "log/washline.log")
    told: list[tuple[str, str]] = []
    reporter.reported.connect(lambda words, detail: told.append((words, detail)))
    error = raised(ValueError("17"))
    for _ in range(3):
        reporter._take(type(error), error, error.__traceback__)
    qtbot.waitUntil(lambda: bool(told))
    reporter.close()
    caplog.clear()
    assert len(told) == 1
    assert told[0][0].startswith("Something went wrong in the program (test_program.py, line ")
    assert "ValueError: 17" in told[0][1]
    assert (tmp_path / "log/washline.log").read_text().count("ValueError: 17") == 1


def test_fault_of_the_world_is_told_in_its_own_words(tmp_path: Path, qtbot: QtBot) -> None:
    reporter = ErrorReporter(None)
    told: list[tuple[str, str]] = []
    reporter.reported.connect(lambda words, detail: told.append((words, detail)))
    error = raised(UserError("The disk is full.", "", "Free some space."))
    reporter._take(type(error), error, error.__traceback__)
    qtbot.waitUntil(lambda: bool(told))
    reporter.close()
    assert told == [("The disk is full. Free some space.", "")]


def test_hook_is_put_in_and_given_back(tmp_path: Path) -> None:
    before = sys.excepthook
    reporter = ErrorReporter(None)
    reporter.install()
    assert sys.excepthook == reporter._take
    reporter.close()
    assert sys.excepthook is before


def test_log_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    reporter = ErrorReporter(tmp_path / "file/washline.log")
    assert logging.getLogger("washline").handlers == []
    reporter.close()


def test_preferences_come_back_with_their_kinds(qapp: QApplication) -> None:
    first = Preferences()
    first.theme, first.is_roomy, first.is_calm = ThemeChoice.DARK, True, False
    first.set_names("sections", ["drinks"])
    first.set_bytes("geometry", QByteArray(b"abc"))
    first.flush()
    second = Preferences()
    assert (second.theme, second.is_roomy, second.is_calm) == (ThemeChoice.DARK, True, False)
    assert second.names("sections", []) == ["drinks"]
    assert second.bytes_of("geometry") == QByteArray(b"abc")


def test_preferences_that_make_no_sense_are_as_at_first(qapp: QApplication) -> None:
    store = QSettings()
    store.setValue("view/theme", "plaid")
    store.setValue("view/text_scale", 99.0)
    store.setValue("window/sections", "{broken")
    preferences = Preferences()
    assert preferences.theme is ThemeChoice.SYSTEM
    assert preferences.text_scale == 3.0
    assert preferences.names("sections", ["drinks"]) == ["drinks"]


def test_text_grows_and_shrinks_by_steps_and_ends(qapp: QApplication) -> None:
    preferences = Preferences()
    for _ in range(20):
        preferences.step_text(1)
    assert preferences.text_scale == 3.0
    for _ in range(20):
        preferences.step_text(-1)
    assert preferences.text_scale == 0.75


def test_state_of_old_books_is_forgotten(qapp: QApplication, tmp_path: Path) -> None:
    preferences = Preferences()
    for number in range(MOST_BOOKS + 3):
        preferences.set_book_state(tmp_path / f"{number}.housebook", {"number": number})
    assert preferences.book_state(tmp_path / "0.housebook") == {}
    assert preferences.book_state(tmp_path / f"{MOST_BOOKS + 2}.housebook") == {"number": MOST_BOOKS + 2}


def test_recent_list_is_plain_json_that_the_commands_can_read(tmp_path: Path) -> None:
    process = begin(tmp_path)
    recent = tmp_path / "state/washline/recent.json"
    wait_for(recent)
    process.send_signal(signal.SIGTERM)
    process.communicate(timeout=20)
    assert json.loads(recent.read_text()) == [str(tmp_path / "data/washline/The Saltmarsh Rooms.housebook")]
