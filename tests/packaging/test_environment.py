"""The short way of the set-up: the stamp, and the environment of the program."""

import os
from pathlib import Path

import pytest

import environment
from washline.__main__ import is_for_window


@pytest.fixture
def checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A checkout of stand-in files whose set-up for ``run`` is finished."""
    folder, venv = tmp_path / "packaging", tmp_path / ".venv"
    folder.mkdir()
    venv.mkdir()
    for name in (*environment.SET_UP_FILES, "lock-run.txt", "lock-check.txt", "../pyproject.toml"):
        (folder / name).write_text(name)
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    monkeypatch.setattr(environment, "FOLDER", folder)
    monkeypatch.setattr(environment, "VENV", venv)
    monkeypatch.setattr(environment, "PYTHON", venv / "python")
    (venv / "python").touch()
    environment.stamp_file("run").write_text(environment.stamp("run"))
    return tmp_path


def test_unchanged_checkout_is_set_up(checkout: Path) -> None:
    assert environment.is_set_up("run")


def test_set_up_for_the_program_is_not_enough_for_the_tests(checkout: Path) -> None:
    assert not environment.is_set_up("check")


@pytest.mark.parametrize("name", ["packaging/lock-run.txt", "pyproject.toml", "packaging/debian.py"])
def test_changed_file_asks_for_a_new_set_up(checkout: Path, name: str) -> None:
    (checkout / name).write_text("changed")
    assert not environment.is_set_up("run")


def test_missing_interpreter_asks_for_a_new_set_up(checkout: Path) -> None:
    (checkout / ".venv/python").unlink()
    assert not environment.is_set_up("run")


def test_other_python_asks_for_a_new_set_up(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.version_info", (3, 99))
    assert not environment.is_set_up("run")


def test_moved_checkout_asks_for_a_new_set_up(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    other = checkout / "moved"
    other.mkdir()
    (other / "pyproject.toml").write_text((checkout / "pyproject.toml").read_text())
    monkeypatch.setattr(environment, "ROOT", other)
    assert not environment.is_set_up("run")


def test_child_may_write_byte_code(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    assert "PYTHONDONTWRITEBYTECODE" not in environment.child_variables()


def test_foreign_packages_stay_out_of_the_child(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    monkeypatch.setenv("PYTHONHOME", "elsewhere")
    assert environment.child_variables().keys().isdisjoint({"PYTHONPATH", "PYTHONHOME"})


def test_unpacked_libraries_are_found_before_others(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    unpacked = checkout / ".venv/system/usr/lib/x86_64-linux-gnu"
    unpacked.mkdir(parents=True)
    monkeypatch.setenv("LD_LIBRARY_PATH", "/elsewhere")
    monkeypatch.delenv("FONTCONFIG_PATH", raising=False)
    variables = environment.child_variables()
    assert variables["LD_LIBRARY_PATH"] == f"{unpacked}:/elsewhere"
    assert variables["FONTCONFIG_PATH"] == str(checkout / ".venv/system/etc/fonts")


def test_nothing_unpacked_changes_no_library_path(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("LD_LIBRARY_PATH", raising=False)
    assert "LD_LIBRARY_PATH" not in environment.child_variables()


@pytest.mark.parametrize(
    ("arguments", "opens"),
    [
        ([], True),
        (["compute", "Pear Signal"], False),
        (["check", "own.housebook"], False),
        (["--help"], False),
        (["Own.housebook"], True),
        (["pear.build.json"], True),
        (["--", "book"], True),
    ],
)
def test_only_files_or_nothing_open_the_window(arguments: list[str], opens: bool) -> None:
    assert environment.opens_window(arguments) is opens
    assert is_for_window(arguments) is opens


def test_start_without_a_display_says_so(
    checkout: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    assert environment.start([]) == 1
    assert "there is no display here" in capsys.readouterr().err


def test_a_mac_needs_no_display_variable(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "darwin")
    assert environment.has_display({})


def test_setup_only_stops_after_the_set_up(checkout: Path) -> None:
    assert environment.start(["--setup-only"]) == 0


def test_start_becomes_the_program(checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    became: list[tuple[str, list[str]]] = []
    monkeypatch.setattr(os, "execve", lambda path, words, variables: became.append((path, words)))
    environment.start(["compute", "Pear Signal"])
    python = str(checkout / ".venv/python")
    assert became == [(python, [python, "-m", "washline", "compute", "Pear Signal"])]
