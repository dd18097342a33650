"""Which Python the packages are installed for."""

import os
import sys
from pathlib import Path

import pytest

import interpreter


@pytest.fixture
def on_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that alone is on PATH."""
    monkeypatch.setenv("PATH", str(tmp_path))
    return tmp_path


def put(folder: Path, minor: int, script: str) -> None:
    file = folder / f"python3.{minor}"
    file.write_text(f"#!/bin/sh\n{script}\n")
    file.chmod(0o755)


def answering(folder: Path, minor: int) -> str:
    """A stand-in for Python 3.``minor``: it answers the two questions of the set-up."""
    put(folder, minor, f'case "$2" in *version_info*) echo 3 {minor};; *) echo {folder}/real-{minor};; esac')
    return f"{folder}/real-{minor}"


def test_tested_interpreter_is_taken_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 12, 1))
    assert interpreter.find() == interpreter.this()


def test_old_interpreter_finds_the_newest_tested_one(on_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 8, 18))
    answering(on_path, 11)
    real = answering(on_path, 12)
    answering(on_path, 14)
    assert interpreter.find() == real


def test_name_on_path_that_does_not_start_is_passed_over(
    on_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 10, 0))
    put(on_path, 13, "echo 'python3.13: command not found' >&2; exit 127")
    real = answering(on_path, 11)
    assert interpreter.find() == real


def test_newer_interpreter_is_taken_with_a_warning(
    on_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 14, 0))
    assert interpreter.find() == interpreter.this()
    assert "is newer than Python 3.13, the newest one that was tested" in capsys.readouterr().err


def test_newer_interpreter_prefers_a_tested_one(on_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 15, 0))
    real = answering(on_path, 13)
    assert interpreter.find() == real


def test_old_interpreter_takes_a_newer_one_if_there_is_no_other(
    on_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 0))
    real = answering(on_path, 14)
    assert interpreter.find() == real


def test_no_interpreter_ends_with_a_sentence(on_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 8, 18))
    with pytest.raises(
        SystemExit, match=r"needs Python 3\.11 to 3\.13; this is 3\.8, and no other is on PATH"
    ):
        interpreter.find()


def test_old_system_library_ends_with_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platform.libc_ver", lambda: ("glibc", "2.31"))
    with pytest.raises(SystemExit, match=r"glibc 2\.34 or newer .* this system has 2\.31"):
        interpreter.check_platform()


def test_this_machine_can_run_qt() -> None:
    interpreter.check_platform()


def test_version_of_this_interpreter() -> None:
    assert interpreter.version_of(sys.executable) == sys.version_info[:2]


def test_version_of_what_does_not_exist_is_unknown(tmp_path: Path) -> None:
    assert interpreter.version_of(tmp_path / "python") is None


def test_interpreter_behind_a_virtual_environment_is_not_inside_it() -> None:
    assert os.path.realpath(interpreter.this()) == os.path.realpath(sys.executable)
    assert Path(interpreter.this()).parent != Path(sys.prefix) / "bin" or sys.prefix == sys.base_prefix
