"""The long way of the set-up: one at a time, repaired after a cut, and finished before it is stamped."""

import subprocess
import sys
import threading
from pathlib import Path

import pytest

import environment
import installer
import interpreter
import preparation
import system_libraries

FOLDER = Path(__file__).resolve().parents[2] / "packaging"


@pytest.fixture
def venv(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty place for a virtual environment."""
    folder = tmp_path / ".venv"
    folder.mkdir()
    monkeypatch.setattr(environment, "VENV", folder)
    monkeypatch.setattr(environment, "PYTHON", folder / "bin/python")
    monkeypatch.setattr(preparation, "LOCK", folder / "washline-set-up.lock")
    monkeypatch.setattr(preparation, "UNFINISHED", folder / "washline-unfinished")
    return folder


def made(venv: Path, monkeypatch: pytest.MonkeyPatch, version: tuple[int, int] | None) -> list[str]:
    """The names left in ``venv`` before a new environment is made there; empty if the old one is kept."""
    names: list[str] = []
    monkeypatch.setattr(interpreter, "version_of", lambda python: version)
    monkeypatch.setattr(preparation, "run", lambda *words: names.extend(file.name for file in venv.iterdir()))
    preparation.make_virtual_environment(sys.executable)
    return sorted(names)


def test_working_environment_is_kept(venv: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert made(venv, monkeypatch, (3, 11)) == []


def test_environment_whose_python_does_not_start_is_made_anew(
    venv: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (venv / "lib/old").mkdir(parents=True)
    preparation.LOCK.touch()
    assert made(venv, monkeypatch, None) == ["washline-set-up.lock", "washline-unfinished"]


def test_environment_of_an_old_python_is_made_anew(venv: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert made(venv, monkeypatch, (3, 9)) == ["washline-unfinished"]


def test_half_finished_environment_is_made_anew(venv: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    preparation.UNFINISHED.touch()
    (venv / "half-unpacked").touch()
    assert made(venv, monkeypatch, (3, 11)) == ["washline-unfinished"]


def test_link_to_a_folder_is_removed_and_the_folder_kept(venv: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (venv / "lib64").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    preparation.clear(venv)
    assert (tmp_path / "elsewhere").is_dir()
    assert list(venv.iterdir()) == []


def test_cut_off_installation_leaves_its_mark(venv: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def cut_off(*arguments: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(installer, "install", cut_off)
    with pytest.raises(KeyboardInterrupt):
        preparation.install_packages(sys.executable, "run")
    assert preparation.UNFINISHED.exists()


def test_finished_installation_leaves_no_mark(venv: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(installer, "install", lambda *arguments: None)
    preparation.install_packages(sys.executable, "run")
    assert not preparation.UNFINISHED.exists()


@pytest.fixture
def steps(venv: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The steps of a set-up, recorded instead of done."""
    done: list[str] = []
    monkeypatch.setattr(environment, "PYTHON", Path(sys.executable))
    monkeypatch.setattr(preparation, "make_virtual_environment", lambda python: done.append("environment"))
    monkeypatch.setattr(preparation, "install_packages", lambda python, kind: done.append(kind))
    monkeypatch.setattr(system_libraries, "provide", lambda for_tests: done.append(f"libraries {for_tests}"))
    return done


def test_set_up_for_the_tests_serves_the_program_too(steps: list[str]) -> None:
    preparation.prepare("check")
    preparation.prepare("run")
    assert steps == ["environment", "check", "libraries True"]


def test_set_up_for_the_program_is_not_stamped_for_the_tests(steps: list[str]) -> None:
    preparation.prepare("run")
    assert environment.is_set_up("run")
    assert not environment.is_set_up("check")


def test_set_up_that_stops_is_not_stamped(steps: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(for_tests: bool) -> None:
        raise SystemExit("washline: no libraries")

    monkeypatch.setattr(system_libraries, "provide", stop)
    with pytest.raises(SystemExit):
        preparation.prepare("run")
    assert not environment.is_set_up("run")


HOLDER = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
import preparation
with preparation.alone(Path(sys.argv[2])):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_second_set_up_waits_for_the_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lock = tmp_path / "lock"
    command = [sys.executable, "-c", HOLDER, str(FOLDER), str(lock)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as holder:
        assert holder.stdin
        assert holder.stdout
        assert holder.stdout.readline().strip() == b"held"
        entered = threading.Event()

        def second() -> None:
            with preparation.alone(lock):
                entered.set()

        waiting = threading.Thread(target=second)
        waiting.start()
        assert not entered.wait(0.3)
        holder.kill()
        waiting.join(timeout=20)
        assert entered.is_set()
    assert "waiting for it" in capsys.readouterr().err
