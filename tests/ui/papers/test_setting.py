"""Setting text: lines break at blanks, never lose a letter, and never run over their room."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.ui.fonts import Fonts
from washline.ui.papers.setting import Piece, Setter, Style

BODY, BOLD = Style(17.0), Style(22.0)


@pytest.fixture(scope="module")
def setter(paper_fonts: Fonts) -> Setter:
    return Setter(paper_fonts)


def lines(setter: Setter, pieces: list[Piece], width: float) -> list[str]:
    """The texts of a paragraph line by line."""
    found: dict[float, list[str]] = {}
    for mark in setter.paragraph(pieces, width, 24.0).marks:
        found.setdefault(round(mark.baseline, 2), []).append(mark.text)
    return ["".join(texts) for texts in found.values()]


def test_line_breaks_at_blanks(setter: Setter) -> None:
    width = setter.width("down the spoon", BODY) + 1.0
    assert lines(setter, [Piece("down the spoon, one slow lift", BODY)], width) == [
        "down the", "spoon, one slow", "lift",
    ]  # fmt: skip


def test_word_wider_than_the_line_is_broken(setter: Setter) -> None:
    width = setter.width("unbreak", BODY) + 0.5
    assert "".join(lines(setter, [Piece("unbreakable", BODY)], width)) == "unbreakable"


def test_unit_stays_with_its_number(setter: Setter) -> None:
    width = setter.width("serve 60", BODY) + 2.0
    assert lines(setter, [Piece("serve 60\u202fml", BODY)], width) == ["serve", "60\u00a0ml"]


def test_letters_of_two_sizes_stand_on_one_baseline(setter: Setter) -> None:
    marks = setter.paragraph([Piece("verjus", BOLD), Piece("  ours", BODY)], 400.0, 26.0).marks
    assert marks[0].baseline == marks[1].baseline
    assert marks[1].rect.left() >= marks[0].rect.right() - 0.01


def test_flush_right_ends_at_the_edge(setter: Setter) -> None:
    mark = setter.paragraph([Piece("1 oz = 30 ml", BODY)], 300.0, 20.0, is_right=True).marks[0]
    assert mark.rect.right() == pytest.approx(300.0)


def test_nothing_takes_no_room(setter: Setter) -> None:
    assert setter.paragraph([Piece("", BODY)], 100.0, 20.0).height == 0.0
    assert setter.paragraph([Piece("   ", BODY)], 100.0, 20.0).marks == ()


@given(
    st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "Zs", "Sm"]), max_size=120),
    st.floats(20, 300),
)
def test_no_letter_is_lost_and_no_line_is_too_long(text: str, width: float) -> None:
    setter = Setter(Fonts())
    paragraph = setter.paragraph([Piece(text, BODY)], width, 24.0)
    written = "".join(mark.text for mark in paragraph.marks)
    assert "".join(written.replace("\u00a0", "").split()) == "".join(
        text.replace("\u202f", "").replace("\u00a0", "").split()
    )
    for mark in paragraph.marks:
        assert mark.rect.right() <= width + 0.01 or len(mark.text) == 1


@pytest.fixture(autouse=True)
def fonts_are_loaded(paper_fonts: Fonts) -> None:
    assert paper_fonts
