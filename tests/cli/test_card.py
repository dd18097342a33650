"""``card``: which cards are made, where they go, and what is said of those that could not be written."""

from pathlib import Path

import pytest

from tests.cli.running import Runner, house_book_file
from washline.exchange.build_file import write_build
from washline.exchange.demo import demo_house
from washline.presentation.cautions import DEFERRAL


def test_card_of_one_drink_goes_to_the_file_that_was_named(washline: Runner, tmp_path: Path) -> None:
    said = washline("card", "Pear Signal", "--out", str(tmp_path / "pear.pdf"))
    assert said.code == 0
    assert [(card.name, path.name) for card, path in washline.printer.cards] == [("Pear Signal", "pear.pdf")]
    assert washline.printer.pages == ["a5"]
    assert "1 card written." in said.err
    assert said.err.rstrip().endswith(DEFERRAL)


def test_page_may_be_chosen(washline: Runner, tmp_path: Path) -> None:
    washline("card", "Pear Signal", "--page", "half-letter", "--out", str(tmp_path / "pear.png"))
    assert washline.printer.pages == ["half-letter"]


def test_page_that_is_none_is_wrong_use(washline: Runner) -> None:
    assert washline("card", "Pear Signal", "--page", "a3", "--out", "x.pdf").code == 2


def test_card_of_a_house_made_part_is_written(washline: Runner, tmp_path: Path) -> None:
    said = washline("card", "quince shrub", "--out", str(tmp_path / "shrub.pdf"))
    assert said.code == 0
    card, _path = washline.printer.cards[0]
    assert (card.name, card.glass_name) == ("quince shrub", "House-made part")
    assert card.keeping is not None


def test_card_of_a_build_file(washline: Runner, tmp_path: Path) -> None:
    book = demo_house()
    drink = next(build for build in book.drinks() if build.name == "Sloe Tide")
    (tmp_path / "sloe.build.json").write_bytes(write_build(book, drink.id))
    assert washline("card", str(tmp_path / "sloe.build.json"), "--out", str(tmp_path / "s.pdf")).code == 0
    assert washline.printer.cards[0][0].name == "Sloe Tide"
    assert washline.printer.cards[0][0].box.contained_text == "egg from the egg white"


def test_all_cards_go_into_a_folder_that_is_made(washline: Runner, tmp_path: Path) -> None:
    path = house_book_file(tmp_path / "winter.housebook")
    said = washline("card", "--all", "--out", str(tmp_path / "new" / "cards"), "--book", str(path))
    assert said.code == 0
    assert [target.name for _card, target in washline.printer.cards] == [
        "Pear Signal – spec card.pdf",
        "Pear Signal, bay twist – spec card.pdf",
        "Sloe Tide – spec card.pdf",
        "Quince Ferry – spec card.pdf",
        "Drift – spec card.pdf",
        "Orchard Bell – spec card.pdf",
        "Fennel Rye – spec card.pdf",
        "Saltings – spec card.pdf",
        "Beet Lantern – spec card.pdf",
        "Ebb – spec card.pdf",
    ]
    assert (tmp_path / "new" / "cards").is_dir()


def test_all_cards_may_be_pictures(washline: Runner, tmp_path: Path) -> None:
    washline("card", "--all", "--format", "png", "--out", str(tmp_path))
    assert {path.suffix for _card, path in washline.printer.cards} == {".png"}


def test_card_that_cannot_be_written_is_told_and_the_others_are_written(
    washline: Runner, tmp_path: Path
) -> None:
    washline.printer.broken = ("Sloe Tide – spec card.pdf",)
    said = washline("card", "--all", "--out", str(tmp_path))
    assert said.code == 1
    assert "“Sloe Tide – spec card.pdf” could not be written." in said.err
    assert "9 cards written." in said.err


@pytest.mark.parametrize(
    "words", [("card", "--out", "x.pdf"), ("card", "Pear Signal", "--all", "--out", "x")]
)
def test_either_a_drink_or_all(washline: Runner, words: tuple[str, ...]) -> None:
    said = washline(*words)
    assert said.code == 2
    assert "Say which drink, or --all." in said.err


def test_file_that_does_not_say_its_kind_is_wrong_use(washline: Runner) -> None:
    said = washline("card", "Pear Signal", "--out", "pear.doc")
    assert said.code == 2
    assert "end in .pdf or .png" in said.err


def test_folder_that_is_a_file_is_told(washline: Runner, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("x")
    said = washline("card", "--all", "--out", str(tmp_path / "taken"))
    assert said.code == 1
    assert "no folder to write to" in said.err
