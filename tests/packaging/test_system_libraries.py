"""What is done about shared libraries that Qt needs and the system lacks."""

import subprocess
from pathlib import Path

import pytest

import debian
import environment
import system_libraries
from system_libraries import MANAGERS, PACKAGES, Manager

APT = MANAGERS[0]


class System:
    """A machine of Debian's kind without root: what it lacks, and what was done."""

    def __init__(self) -> None:
        self.missing = ["libEGL.so.1", "libxcb-cursor.so.0"]
        self.programs = {"apt-get", "ldd"}
        self.installed: list[str] = []
        self.unpacked: list[str] = []
        self.may_install = False
        self.can_unpack = True

    def install(self, manager: Manager, packages: list[str]) -> bool:
        if self.may_install:
            self.installed, self.missing = packages, []
        return self.may_install

    def unpack(self, packages: list[str], manager: Manager) -> bool:
        self.unpacked = packages
        return self.can_unpack


@pytest.fixture
def system(monkeypatch: pytest.MonkeyPatch) -> System:
    one = System()
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setattr("shutil.which", lambda name: name if name in one.programs else None)
    monkeypatch.setattr(system_libraries, "missing_libraries", lambda: one.missing)
    monkeypatch.setattr(system_libraries, "install", one.install)
    monkeypatch.setattr(system_libraries, "unpack", one.unpack)
    return one


def test_root_installs_libraries_and_programs_of_the_tests(system: System) -> None:
    system.may_install = True
    system_libraries.provide(for_tests=True)
    assert system.installed == ["libegl1", "libxcb-cursor0", "xdotool", "xvfb"]


def test_program_alone_needs_no_program_of_the_tests(system: System) -> None:
    system.may_install = True
    system_libraries.provide(for_tests=False)
    assert system.installed == ["libegl1", "libxcb-cursor0"]


def test_ordinary_user_gets_the_libraries_unpacked(system: System) -> None:
    system_libraries.provide(for_tests=False)
    assert system.unpacked == ["libegl1", "libxcb-cursor0"]


def test_what_cannot_be_unpacked_ends_with_the_line_to_give(system: System) -> None:
    system.can_unpack = False
    line = "sudo apt-get update && sudo apt-get install libegl1 libxcb-cursor0"
    with pytest.raises(SystemExit, match=line):
        system_libraries.provide(for_tests=False)


def test_missing_programs_of_the_tests_never_stop(system: System, capsys: pytest.CaptureFixture[str]) -> None:
    system.missing = []
    system_libraries.provide(for_tests=True)
    assert system.unpacked == []
    assert "sudo apt-get install xdotool xvfb" in capsys.readouterr().err


def test_unknown_package_manager_ends_with_the_names(
    system: System, capsys: pytest.CaptureFixture[str]
) -> None:
    system.programs = {"ldd"}
    with pytest.raises(SystemExit, match="no package manager known here"):
        system_libraries.provide(for_tests=False)
    assert "libEGL.so.1 libxcb-cursor.so.0" in capsys.readouterr().err


def test_complete_system_is_left_alone(system: System) -> None:
    system.missing = []
    system.may_install = True
    system_libraries.provide(for_tests=False)
    assert system.installed == []


def test_other_systems_bring_their_libraries(system: System, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "darwin")
    system.can_unpack = False
    system_libraries.provide(for_tests=True)
    assert system.unpacked == []


@pytest.mark.parametrize(
    ("manager", "line"),
    [
        (MANAGERS[0], "sudo apt-get update && sudo apt-get install libegl1 libxcb-cursor0"),
        (MANAGERS[1], "sudo dnf install libglvnd-egl xcb-util-cursor"),
        (MANAGERS[2], "sudo pacman -S libglvnd xcb-util-cursor"),
    ],
    ids=["Debian", "Fedora", "Arch"],
)
def test_line_to_give_by_hand(manager: Manager, line: str) -> None:
    assert system_libraries.by_hand(["libEGL.so.1", "libxcb-cursor.so.0"], manager) == line


def test_library_of_no_known_package_is_left_to_the_message() -> None:
    assert system_libraries.packages_of(["libnobody.so.1", "libGL.so.1"], APT) == ["libgl1"]


def test_every_file_has_a_package_for_every_manager() -> None:
    assert {len(names) for names in PACKAGES.values()} == {len(MANAGERS)}


def test_missing_libraries_are_read_from_the_loader(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    qt = tmp_path / "lib/python3.11/site-packages/PySide6"
    for name in ("QtGui.abi3.so", "Qt/plugins/platforms/libqxcb.so", "Qt/lib/libQt6Core.so.6"):
        (qt / name).parent.mkdir(parents=True, exist_ok=True)
        (qt / name).touch()
    listing = """
        libQt6Core.so.6 => not found
        libEGL.so.1 => not found
        libc.so.6 => /lib/libc.so.6 (0x1)
        libEGL.so.1 => not found
        libGL.so.1 => not found
    """
    asked: list[str] = []

    def ldd(words: list[str], **options: object) -> "subprocess.CompletedProcess[bytes]":
        asked.extend(words)
        return subprocess.CompletedProcess(words, 1, listing.encode())

    monkeypatch.setattr(environment, "VENV", tmp_path)
    monkeypatch.setattr(subprocess, "run", ldd)
    assert system_libraries.missing_libraries() == ["libEGL.so.1", "libGL.so.1"]
    assert asked == ["ldd", str(qt / "QtGui.abi3.so"), str(qt / "Qt/plugins/platforms/libqxcb.so")]


class TestWithoutRoot:
    """Packages are fetched by apt as an ordinary user, into a folder of ours."""

    LISTED = (
        "'http://a/libegl1_1.6.0-1_amd64.deb' libegl1_1.6.0-1_amd64.deb 33 SHA256:0\n"
        "'http://a/libx_2%3a1.8_amd64.deb' libx11-6_2%3a1.8.4-2_amd64.deb 33 SHA256:0\n"
        "'http://a/systemd_252_amd64.deb' systemd_252_amd64.deb 33 SHA256:0\n"
        "'http://a/xkb-data_2.35_all.deb' xkb-data_2.35-1_all.deb 33 SHA256:0\n"
    )

    @pytest.fixture
    def apt(self, monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
        """Every command given; each succeeds, and a download leaves one archive."""
        given: list[tuple[str, ...]] = []

        def succeeds(*words: object, cwd: Path | None = None, **options: object) -> bool:
            given.append(tuple(map(str, words)))
            if cwd:
                (cwd / "one.deb").touch()
            return True

        monkeypatch.setattr("shutil.which", lambda name: name)
        monkeypatch.setattr(debian, "output", lambda *words: self.LISTED)
        monkeypatch.setattr(debian, "succeeds", succeeds)
        monkeypatch.setattr(debian, "run", succeeds)
        return given

    def test_only_libraries_and_their_data_are_fetched(
        self, apt: list[tuple[str, ...]], tmp_path: Path
    ) -> None:
        assert debian.unpack_libraries(["libegl1"], tmp_path)
        (download,) = [words for words in apt if "download" in words]
        assert download[-3:] == ("libegl1=1.6.0-1", "libx11-6=2:1.8.4-2", "xkb-data=2.35-1")

    def test_archives_are_unpacked_in_the_environment(
        self, apt: list[tuple[str, ...]], tmp_path: Path
    ) -> None:
        debian.unpack_libraries(["libegl1"], tmp_path)
        assert apt[-1] == ("dpkg-deb", "-x", str(tmp_path / "apt/archives/one.deb"), str(tmp_path / "system"))
        assert not (tmp_path / "apt").exists()

    def test_lists_of_the_system_are_not_touched(self, apt: list[tuple[str, ...]], tmp_path: Path) -> None:
        debian.unpack_libraries(["libegl1"], tmp_path)
        assert all(
            f"Dir::State::Lists={tmp_path / 'apt/lists'}" in words for words in apt if words[0] == "apt-get"
        )

    def test_system_without_apt_gets_nothing(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr("shutil.which", lambda name: None)
        assert not debian.unpack_libraries(["libegl1"], tmp_path)
        assert debian.pip_wheel(tmp_path) is None
