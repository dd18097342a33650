"""The files by which a desktop knows the program agree with one another and with the program."""

import re
import tomllib
from configparser import ConfigParser
from pathlib import Path
from xml.etree import ElementTree

import washline
from washline.store.peek import APPLICATION_ID

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "packaging"
ID = "org.washline.Washline"
MIME = "{http://www.freedesktop.org/standards/shared-mime-info}"


def entry() -> dict[str, str]:
    parser = ConfigParser(interpolation=None)
    parser.optionxform = str  # type: ignore[assignment, method-assign]  # keys of a desktop entry have their case
    parser.read(FOLDER / f"{ID}.desktop")
    return dict(parser["Desktop Entry"])


def metainfo() -> ElementTree.Element:
    return ElementTree.parse(FOLDER / f"{ID}.metainfo.xml").getroot()


def mime_types() -> dict[str, str]:
    root = ElementTree.parse(FOLDER / f"{ID}.xml").getroot()
    return {
        kind.attrib["type"]: glob.attrib["pattern"]
        for kind in root
        for glob in kind
        if glob.tag == f"{MIME}glob"
    }


def test_desktop_entry_starts_the_installed_program() -> None:
    scripts = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["gui-scripts"]
    assert entry()["Exec"] == "washline %F"
    assert "washline" in scripts


def test_icon_and_identifiers_have_the_name_of_the_files() -> None:
    assert entry()["Icon"] == ID
    assert (FOLDER / f"{ID}.svg").exists()
    assert metainfo().findtext("id") == ID
    assert metainfo().findtext("launchable") == f"{ID}.desktop"


def test_the_same_kinds_of_file_are_named_everywhere() -> None:
    offered = set(entry()["MimeType"].strip(";").split(";"))
    provided = {element.text for element in metainfo().iter("mediatype")}
    assert offered == provided == set(mime_types())


def test_kinds_of_file_have_their_endings() -> None:
    assert mime_types() == {
        "application/vnd.washline.housebook": "*.housebook",
        "application/vnd.washline.build+json": "*.build.json",
    }


def test_house_book_is_known_by_the_mark_that_the_store_writes() -> None:
    root = ElementTree.parse(FOLDER / f"{ID}.xml").getroot()
    marks = {match.attrib["offset"]: match.attrib["value"] for match in root.iter(f"{MIME}match")}
    assert marks["68"].encode() == APPLICATION_ID.to_bytes(4)


def test_icon_is_a_square_picture() -> None:
    root = ElementTree.parse(FOLDER / f"{ID}.svg").getroot()
    assert root.attrib["viewBox"] == "0 0 128 128"


def test_version_is_the_newest_of_change_list_and_releases() -> None:
    headings = re.findall(r"^## (\S+)", (FOLDER / "CHANGES.md").read_text(), re.MULTILINE)
    releases = [release.attrib["version"] for release in metainfo().iter("release")]
    assert headings[0] == releases[0] == washline.__version__


def test_change_list_sorts_its_entries() -> None:
    kinds = set(re.findall(r"^### (.+)$", (FOLDER / "CHANGES.md").read_text(), re.MULTILINE))
    assert kinds <= {"Added", "Changed", "Fixed"}


def test_licence_is_named_alike() -> None:
    assert (FOLDER / "LICENSE").read_text().startswith("MIT License\n")
    assert metainfo().findtext("project_license") == "MIT"
