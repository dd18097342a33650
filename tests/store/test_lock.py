"""One window at a time has a house book; a lock that nobody holds is no lock."""

import errno
import json
import os
from pathlib import Path

import pytest

from tests.store.books import NOW
from washline.store import lock


def test_lock_is_held_until_it_is_released(tmp_path: Path) -> None:
    path = tmp_path / "House.housebook"
    held = lock.take(path, NOW)
    assert held is not None
    assert lock.take(path, NOW) is None
    held.release()
    assert list(tmp_path.iterdir()) == []
    again = lock.take(path, NOW)
    assert again is not None
    again.release()


def test_text_of_a_killed_program_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "House.housebook"
    lock.lock_path(path).write_text("x" * 10_000)
    held = lock.take(path, NOW)
    assert held is not None
    assert json.loads(lock.lock_path(path).read_text())["pid"] == os.getpid()
    held.release()


def test_lock_file_that_was_removed_in_between_is_made_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The last holder removes the file just before the next one holds it: a lock on a file that nobody sees is none."""
    path = tmp_path / "House.housebook"
    hold = lock._hold
    seen: list[int] = []

    def hold_after_removal(file_number: int) -> bool:
        if not seen:
            lock.lock_path(path).unlink()
        seen.append(file_number)
        return hold(file_number)

    monkeypatch.setattr(lock, "_hold", hold_after_removal)
    held = lock.take(path, NOW)
    assert held is not None
    assert len(seen) == 2
    monkeypatch.undo()
    assert lock.take(path, NOW) is None
    held.release()


def test_disk_that_knows_no_locks_is_a_fault_and_not_another_window(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(file_number: int) -> bool:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(lock, "_hold", refuse)
    with pytest.raises(OSError, match="No locks"):
        lock.take(tmp_path / "House.housebook", NOW)


def test_holder_is_told_with_name_time_process_and_machine(tmp_path: Path) -> None:
    path = tmp_path / "House.housebook"
    who = {"pid": 4711, "host": "backbar", "user": "mara", "since": "2026-03-01T18:40:05+00:00"}
    lock.lock_path(path).write_text(json.dumps(who))
    since = NOW.astimezone()
    assert lock.holder_of(path) == f"mara, since {since:%Y-%m-%d %H:%M}, process 4711 on backbar"


@pytest.mark.parametrize("text", ["", "{", "[]", '{"pid": 1}'])
def test_holder_that_cannot_be_read_is_another_window(tmp_path: Path, text: str) -> None:
    path = tmp_path / "House.housebook"
    lock.lock_path(path).write_text(text)
    assert lock.holder_of(path) == "another window"
