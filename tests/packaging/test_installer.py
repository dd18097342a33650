"""How pip or another installer is found, and where pip's own settings come from."""

import hashlib
from io import BytesIO
from pathlib import Path
from urllib.error import URLError

import pytest

import debian
import installer

LOCK, TARGET = Path("lock.txt"), Path("venv/bin/python")


@pytest.fixture(autouse=True)
def no_settings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """pip is set to nothing, whatever this machine has set."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / ".config"))
    for name in ("PIP_INDEX_URL", "PIP_CERT", "PIP_CONFIG_FILE", "APPDATA"):
        monkeypatch.delenv(name, raising=False)


class TestSettings:
    def test_file_of_the_user_is_read(self, tmp_path: Path) -> None:
        folder = tmp_path / ".config/pip"
        folder.mkdir(parents=True)
        (folder / "pip.conf").write_text("[global]\nindex-url = here\n")
        assert installer.pip_setting("index-url") == "here"

    def test_environment_comes_before_files(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        (tmp_path / "own.conf").write_text("[global]\nindex-url = here\n")
        monkeypatch.setenv("PIP_CONFIG_FILE", str(tmp_path / "own.conf"))
        assert installer.pip_setting("index-url") == "here"
        monkeypatch.setenv("PIP_INDEX_URL", "there")
        assert installer.pip_setting("index-url") == "there"

    def test_section_of_the_command_comes_before_the_global_one(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        (tmp_path / "own.conf").write_text("[global]\nindex-url = here\n[install]\nindex-url = there\n")
        monkeypatch.setenv("PIP_CONFIG_FILE", str(tmp_path / "own.conf"))
        assert installer.pip_setting("index-url") == "there"


@pytest.fixture
def commands(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The commands given to a uv and a pip that always succeed."""
    given: list[str] = []

    def note(*words: object, **options: object) -> bool:
        given.append(" ".join(map(str, words)))
        return True

    monkeypatch.setattr("shutil.which", lambda name: f"/bin/{name}")
    monkeypatch.setattr(installer, "succeeds", note)
    monkeypatch.setattr(installer, "run", note)
    monkeypatch.setattr(installer, "pip_command", lambda python, venv: ["pip"])
    return given


def install() -> None:
    installer.install("python3", Path("venv"), TARGET, LOCK, ["-e", "."])


def test_uv_installs_the_lock_with_digests_and_then_the_project(commands: list[str]) -> None:
    install()
    words = f"/bin/uv pip install -q --python {TARGET} --no-deps"
    assert commands == [f"{words} --require-hashes -r lock.txt", f"{words} --no-build-isolation -e ."]


def test_pip_is_used_where_an_index_is_set_for_it(
    commands: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PIP_INDEX_URL", "there")
    install()
    words = f"pip --python {TARGET} install -q --no-compile --no-deps"
    assert commands == [f"{words} --require-hashes -r lock.txt", f"{words} --no-build-isolation -e ."]


def test_pip_goes_on_where_uv_fails(commands: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(installer, "succeeds", lambda *words: False)
    install()
    assert [command.split()[0] for command in commands] == ["pip", "pip"]


@pytest.fixture
def answers(monkeypatch: pytest.MonkeyPatch) -> dict[str, str | None]:
    """What an interpreter prints, by the module that it is asked about."""
    printed: dict[str, str | None] = {"pip": None, "ensurepip": None}
    monkeypatch.setattr(installer, "output", lambda python, option, code: printed[code.split()[1].strip(";")])
    monkeypatch.setattr(debian, "pip_wheel", lambda venv: None)
    return printed


def test_own_pip_is_used_if_it_is_new_enough(answers: dict[str, str | None], tmp_path: Path) -> None:
    answers["pip"] = "22.3.1\n"
    assert installer.pip_command("python3", tmp_path) == ["python3", "-m", "pip"]


def test_old_pip_gives_way_to_the_bundled_wheel(answers: dict[str, str | None], tmp_path: Path) -> None:
    (tmp_path / "_bundled").mkdir()
    (tmp_path / "_bundled/pip-24.0-py3-none-any.whl").touch()
    answers.update(pip="20.3.4", ensurepip=f"{tmp_path}\n")
    wheel = tmp_path / "_bundled/pip-24.0-py3-none-any.whl"
    assert installer.pip_command("python3", tmp_path) == ["python3", f"{wheel}/pip"]


def test_debian_gives_the_wheel_that_it_splits_off(
    answers: dict[str, str | None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(debian, "pip_wheel", lambda venv: venv / "pip-23.whl")
    assert installer.pip_command("python3", tmp_path) == ["python3", f"{tmp_path}/pip-23.whl/pip"]


def test_no_pip_anywhere_ends_with_a_sentence(answers: dict[str, str | None], tmp_path: Path) -> None:
    with pytest.raises(
        SystemExit, match=r"this Python has no pip. Install it .*sudo apt-get install python3-pip"
    ):
        installer.pip_command("python3", tmp_path)


class Answer(BytesIO):
    """What a server answers for one address."""

    def __init__(self, address: str, data: bytes) -> None:
        super().__init__(data)
        self.geturl = lambda: address


PAGE = "https://index.example/simple/pip/"
WHEEL = f"https://index.example/files/{installer.PIP_NAME}"


@pytest.fixture
def index(monkeypatch: pytest.MonkeyPatch) -> dict[str, bytes]:
    """What an index that is set for pip holds, by address: a page that links to one wheel."""
    link = f'<a href="../../files/{installer.PIP_NAME}#sha256=0">pip</a>'
    held = {PAGE: link.encode(), WHEEL + "#sha256=0": b"wheel"}

    def urlopen(address: str, **options: object) -> Answer:
        if address not in held:
            raise URLError(f"{address} is not held")
        return Answer(address, held[address])

    monkeypatch.setenv("PIP_INDEX_URL", "https://index.example/simple")
    monkeypatch.setattr("urllib.request.urlopen", urlopen)
    return held


def test_wheel_of_the_set_index_is_kept(
    index: dict[str, bytes], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(installer, "PIP_SHA256", hashlib.sha256(b"wheel").hexdigest())
    wheel = installer.wheel_from_index(tmp_path)
    assert wheel == tmp_path / installer.PIP_NAME
    assert wheel.read_bytes() == b"wheel"


def test_wheel_with_another_digest_is_refused(index: dict[str, bytes], tmp_path: Path) -> None:
    with pytest.raises(SystemExit, match="is not the file expected; nothing was run"):
        installer.wheel_from_index(tmp_path)
    assert not (tmp_path / installer.PIP_NAME).exists()


@pytest.mark.parametrize("page", [b'<a href="pip-1.0.tar.gz">pip</a>', None], ids=["no wheel", "no page"])
def test_index_without_the_wheel_is_said_and_passed_over(
    page: bytes | None, index: dict[str, bytes], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    del index[PAGE]
    if page:
        index[PAGE] = page
    assert installer.wheel_from_index(tmp_path) is None
    assert "pip could not be fetched from the index that is set for it" in capsys.readouterr().err


def test_no_index_is_asked_where_none_is_set(tmp_path: Path) -> None:
    assert installer.wheel_from_index(tmp_path) is None
