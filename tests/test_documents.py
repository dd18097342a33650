"""The guide for users and the guide for contributors say what is there."""

import csv
import io
import re
from pathlib import Path

import pytest

from washline.cli.main import COMMANDS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
DATA = ("ciqual", "cofid", "usda-sr28", "source-sans-3", "source-serif-4")


def test_the_readme_opens_with_the_job_then_the_two_commands_then_a_picture() -> None:
    places = [
        README.index(text)
        for text in (
            "# Washline",
            "packaging/start.py",
            "packaging/check.py",
            "packaging/pictures/window.png",
            "Credits",
        )
    ]
    assert places == sorted(places)


@pytest.mark.parametrize("name", [command.name for command in COMMANDS])
def test_every_command_of_the_console_is_in_the_readme(name: str) -> None:
    assert f"`{name} " in README


@pytest.mark.parametrize("key", DATA)
def test_the_readme_gives_the_credits_that_licences_ask_for(key: str) -> None:
    text = (ROOT / "resources/texts/credits.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(io.StringIO(text))
    assert next(row["text"] for row in rows if row["key"] == key) in README


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_files_that_a_guide_names_exist(document: str) -> None:
    text = (ROOT / document).read_text(encoding="utf-8")
    named = set(
        re.findall(r"(?:app|db|packaging|resources|tests)/[\w./-]+\.(?:py|md|csv|png|txt|toml)", text)
    )
    inside = {
        f"app/washline/{name}"
        for name in re.findall(r"`((?:chemistry|engine|model|ui|cli|presentation)/\w+\.py)`", text)
    }
    missing = sorted(name for name in named | inside if not (ROOT / name).exists())
    assert missing == []


def test_every_dependency_earns_its_place_in_one_line_of_the_guide() -> None:
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    names = set(re.findall(r'^    "([A-Za-z0-9-]+)[><=]', project, flags=re.MULTILINE))
    table = GUIDE[GUIDE.index("## Dependencies") : GUIDE.index("## Decisions")]
    assert sorted(name for name in names if name.lower() not in table.lower()) == []
