"""Where things of a user are, and the house books opened last."""

from pathlib import Path

import pytest

from washline.document.places import MOST_RECENT, Places, book_to_open, user_places


@pytest.fixture
def places(tmp_path: Path) -> Places:
    return Places(tmp_path / "data", tmp_path / "state", tmp_path / "cache")


def made(path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.touch()
    return path


def test_last_opened_comes_first_and_once(places: Places, tmp_path: Path) -> None:
    one, two = tmp_path / "one.housebook", tmp_path / "two.housebook"
    for path in (one, two, one):
        places.recent.add(path)
    assert places.recent.paths() == [one, two]


def test_list_is_not_endless(places: Places, tmp_path: Path) -> None:
    for number in range(MOST_RECENT + 5):
        places.recent.add(tmp_path / f"{number}.housebook")
    assert len(places.recent.paths()) == MOST_RECENT


def test_removed_path_is_gone(places: Places, tmp_path: Path) -> None:
    places.recent.add(tmp_path / "one.housebook")
    places.recent.remove(tmp_path / "one.housebook")
    assert places.recent.paths() == []


def test_clearing_keeps_the_one_that_the_next_start_opens(places: Places, tmp_path: Path) -> None:
    for name in ("one", "two"):
        places.recent.add(tmp_path / name)
    places.recent.clear()
    assert places.recent.paths() == [tmp_path / "two"]


def test_list_that_cannot_be_read_is_taken_as_empty(places: Places) -> None:
    made(places.state / "recent.json").write_text("{not json")
    assert places.recent.paths() == []


def test_list_of_strange_things_keeps_only_paths(places: Places) -> None:
    made(places.state / "recent.json").write_text('["/a", 3, null]')
    assert places.recent.paths() == [Path("/a")]


def test_list_that_cannot_be_written_stops_nothing(places: Places, tmp_path: Path) -> None:
    places.state.touch()
    places.recent.add(tmp_path / "one.housebook")
    assert places.recent.paths() == []


def test_first_start_opens_the_demo(places: Places) -> None:
    assert book_to_open(places) == places.demo_book


def test_later_the_last_opened_is_opened(places: Places, tmp_path: Path) -> None:
    own = made(tmp_path / "own.housebook")
    places.recent.add(own)
    assert book_to_open(places) == own


def test_book_that_is_gone_is_not_opened(places: Places, tmp_path: Path) -> None:
    places.recent.add(tmp_path / "gone.housebook")
    assert book_to_open(places) == places.demo_book


def test_folders_of_the_user_are_those_of_the_system(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    for kind in ("DATA", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(tmp_path / kind))
    found = user_places()
    assert (found.data.name, found.state.name, found.cache.name) == ("washline",) * 3
    assert found.backups == found.data / "backups"
