"""What holds for every test: a home of its own, nothing left behind, no unexpected log record.

A test that expects a warning in the log asserts it through ``caplog`` and then calls ``caplog.clear()``.
"""

import gc
import logging
import os
import sys
import tempfile
import threading
import weakref
from collections.abc import Callable, Generator, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile("local", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", settings.get_profile("local"), derandomize=True, database=None)
settings.load_profile("ci" if os.environ.get("CI") else "local")

has_passed = pytest.StashKey[bool]()


def pytest_configure(config: pytest.Config) -> None:
    """Moves home and settings folders away, so that no test meets or changes the user's own."""
    folder = tempfile.TemporaryDirectory(prefix="washline-tests-", ignore_cleanup_errors=True)
    config.add_cleanup(folder.cleanup)
    home = Path(folder.name)
    for variable in ("HOME", "USERPROFILE", "APPDATA", "LOCALAPPDATA"):
        os.environ[variable] = str(home)
    for kind in ("CONFIG", "DATA", "STATE", "CACHE"):
        os.environ[f"XDG_{kind}_HOME"] = str(home / kind.lower())
    if "XDG_RUNTIME_DIR" not in os.environ:
        (home / "runtime").mkdir(mode=0o700)
        os.environ["XDG_RUNTIME_DIR"] = str(home / "runtime")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item,
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Notes whether the test itself passed: a failed one keeps widgets alive through its traceback."""
    report = yield
    if report.when == "call":
        item.stash[has_passed] = report.passed
    return report


@pytest.fixture(autouse=True)
def no_unexpected_log_record(caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    """Fails a test during which something was logged at WARNING or above and not cleared by the test."""
    yield
    records = caplog.get_records("setup") + caplog.get_records("call")
    loud = [f"{r.name}: {r.getMessage()}" for r in records if r.levelno >= logging.WARNING]
    assert not loud, f"unexpected log records: {loud}"


@pytest.fixture(autouse=True)
def nothing_left_behind(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fails a test that leaves a thread, a running timer or an open window to the next one."""
    threads = set(threading.enumerate())
    watch = request.getfixturevalue("qt_watch") if "qapp" in request.fixturenames else None
    if watch:
        watch.begin()
    yield
    left = [f"thread {thread.name}" for thread in _threads_left(threads)]
    if watch:
        left += watch.left()
    if request.node.stash.get(has_passed, False):
        assert not left, f"left behind by this test: {left}"


def _threads_left(before: set[threading.Thread]) -> list[threading.Thread]:
    new = [thread for thread in threading.enumerate() if thread not in before]
    for thread in new:
        thread.join(timeout=2.0)
    return [thread for thread in new if thread.is_alive()]


@pytest.fixture(autouse=True)
def own_settings(request: pytest.FixtureRequest) -> None:
    """Gives each window test a settings folder that starts empty."""
    if "qapp" in request.fixturenames:
        core = request.getfixturevalue("qt_watch").core
        folder = request.getfixturevalue("tmp_path_factory").mktemp("settings")
        core.QSettings.setDefaultFormat(core.QSettings.Format.IniFormat)
        for kind in (core.QSettings.Format.IniFormat, core.QSettings.Format.NativeFormat):
            core.QSettings.setPath(kind, core.QSettings.Scope.UserScope, str(folder))


@pytest.fixture(scope="session")
def qt_watch(qapp: Any) -> Iterator["QtWatch"]:
    """The one watch over timers, threads and top-level widgets; Qt is loaded by the test that asks for it."""
    watch = QtWatch(qapp)
    yield watch
    watch.stop()


class QtWatch:
    """Knows which timers and threads were started, and which windows are new, since ``begin``."""

    def __init__(self, application: Any) -> None:
        self.application = application
        self.core: Any = sys.modules["PySide6.QtCore"]
        self.pointer: Callable[[Any], tuple[int, ...]] = sys.modules["shiboken6"].getCppPointer
        self.is_valid: Callable[[Any], bool] = sys.modules["shiboken6"].isValid
        self.started: list[weakref.ref[Any]] = []
        self.windows: set[tuple[int, ...]] = set()
        self.originals = [(kind, kind.start) for kind in (self.core.QTimer, self.core.QThread)]
        for kind, original in self.originals:
            kind.start = self._recording(original)

    def _recording(self, original: Callable[..., None]) -> Callable[..., None]:
        def start(started: Any, *arguments: Any) -> None:
            self.started.append(weakref.ref(started))
            original(started, *arguments)

        return start

    def stop(self) -> None:
        """Puts Qt's own methods back."""
        for kind, original in self.originals:
            kind.start = original

    def begin(self) -> None:
        """Forgets what earlier tests did."""
        self.started.clear()
        self.windows = {self.pointer(widget) for widget in self.application.topLevelWidgets()}

    def left(self) -> list[str]:
        """Names what is still running or open; the garbage collector runs only if something seems to be."""
        self._settle()
        if self._names():
            gc.collect()
            self._settle()
        return self._names()

    def _settle(self) -> None:
        self.application.sendPostedEvents(None, self.core.QEvent.Type.DeferredDelete.value)
        self.application.processEvents()
        self.core.QThreadPool.globalInstance().waitForDone(2000)

    def _names(self) -> list[str]:
        return [*self._open_windows(), *self._running()]

    def _open_windows(self) -> list[str]:
        widgets = self.application.topLevelWidgets()
        new = [widget for widget in widgets if self.pointer(widget) not in self.windows]
        return [f"widget {type(w).__name__} {w.objectName()!r}" for w in new if not w.inherits("QTipLabel")]

    def _running(self) -> list[str]:
        objects = [reference() for reference in self.started]
        alive = [one for one in objects if one is not None and self.is_valid(one)]
        timer, thread = self.core.QTimer, self.core.QThread
        return [
            f"{type(one).__name__} {one.objectName()!r} of {one.parent()!r}"
            for one in dict.fromkeys(alive)
            if (isinstance(one, timer) and one.isActive()) or (isinstance(one, thread) and one.isRunning())
        ]
