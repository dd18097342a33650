"""A runner of commands, and folders of the user that start empty."""

import os
from pathlib import Path

import pytest

from tests.cli.running import Runner
from washline.document import places


@pytest.fixture
def own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> places.Places:
    """Folders of a user who has never opened anything."""
    found = places.Places(tmp_path / "data", tmp_path / "state", tmp_path / "cache")
    monkeypatch.setattr("washline.cli.console.user_places", lambda: found)
    return found


@pytest.fixture
def washline(capsys: pytest.CaptureFixture[str], own_places: places.Places) -> Runner:
    """Runs a command in this process."""
    assert own_places
    return Runner(capsys)


@pytest.fixture
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """An environment whose user has never opened anything, for processes of their own."""
    for kind in ("CONFIG", "DATA", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(tmp_path / kind.lower()))
    monkeypatch.setenv("HOME", str(tmp_path))
    return dict(os.environ)
