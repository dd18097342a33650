"""The two lock files hold what ``pyproject.toml`` asks for, whole and with digests. No network is needed."""

import re
import tomllib
from importlib.metadata import PackageNotFoundError, requires
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from packaging.markers import Marker, default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
GROUP_OF = {"run": "build", "check": "check"}
PYTHONS = ("3.11", "3.12", "3.13")
PLATFORMS = (("linux", "Linux"), ("win32", "Windows"), ("darwin", "Darwin"))


class Pin(NamedTuple):
    name: str
    version: str
    marker: Marker | None
    hashes: int


def pins(kind: str) -> list[Pin]:
    text = (ROOT / f"packaging/lock-{kind}.txt").read_text().replace("\\\n", " ")
    lines = [line for line in text.splitlines() if line.strip()]
    return [pin(line) for line in lines]


def pin(line: str) -> Pin:
    requirement = Requirement(line.split(" --hash")[0].strip())
    (specifier,) = requirement.specifier
    assert specifier.operator == "=="
    hashes = len(re.findall(r"--hash=sha256:[0-9a-f]{64}\b", line))
    return Pin(canonicalize_name(requirement.name), specifier.version, requirement.marker, hashes)


def asked_for(kind: str) -> list[Requirement]:
    table = tomllib.loads((ROOT / "pyproject.toml").read_text())
    own = [Requirement(text) for text in table["project"]["dependencies"]]
    return own + group(table["dependency-groups"], GROUP_OF[kind])


def group(groups: dict[str, Any], name: str) -> list[Requirement]:
    found = []
    for entry in groups[name]:
        found += [Requirement(entry)] if isinstance(entry, str) else group(groups, entry["include-group"])
    return found


def machine(python: str, platform: tuple[str, str]) -> dict[str, str]:
    return {
        **{key: str(value) for key, value in default_environment().items()},
        "python_version": python,
        "python_full_version": f"{python}.4",
        "sys_platform": platform[0],
        "platform_system": platform[1],
        "extra": "",
    }


@pytest.mark.parametrize("kind", GROUP_OF)
@pytest.mark.parametrize("python", PYTHONS)
@pytest.mark.parametrize("platform", PLATFORMS, ids=lambda platform: platform[0])
def test_every_requirement_has_one_pin_in_its_range(
    kind: str, python: str, platform: tuple[str, str]
) -> None:
    here = machine(python, platform)
    locked = [one for one in pins(kind) if one.marker is None or one.marker.evaluate(here)]
    for requirement in asked_for(kind):
        versions = [one.version for one in locked if one.name == canonicalize_name(requirement.name)]
        assert len(versions) == 1, requirement
        assert requirement.specifier.contains(versions[0]), requirement


@pytest.mark.parametrize("kind", GROUP_OF)
def test_every_pin_has_a_digest_and_no_other_option(kind: str) -> None:
    assert [one.name for one in pins(kind) if not one.hashes] == []
    text = (ROOT / f"packaging/lock-{kind}.txt").read_text()
    assert re.findall(r"--(?!hash=sha256:)\S+", text) == []
    assert "//" not in text


def test_check_holds_everything_that_run_holds() -> None:
    wanted = {(one.name, one.version, str(one.marker)) for one in pins("run")}
    assert wanted <= {(one.name, one.version, str(one.marker)) for one in pins("check")}


def test_locked_packages_need_nothing_that_is_not_locked() -> None:
    here = {**{key: str(value) for key, value in default_environment().items()}, "extra": ""}
    names = {one.name for one in pins("check") if one.marker is None or one.marker.evaluate()}
    for name in sorted(names):
        try:
            needed = [Requirement(text) for text in requires(name) or ()]
        except PackageNotFoundError:
            pytest.fail(f"{name} is locked and not installed")
        for requirement in needed:
            if requirement.marker is None or requirement.marker.evaluate(here):
                assert canonicalize_name(requirement.name) in names, f"{name} needs {requirement}"


def test_run_holds_no_package_of_the_tests() -> None:
    names = {one.name for one in pins("run")}
    assert names & {"pytest", "hypothesis", "scipy", "pandas", "iapws", "chemicals", "mypy", "ruff"} == set()
