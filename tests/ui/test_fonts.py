"""The bundled fonts supply every glyph that the program writes, with figures of one width."""

import ast
import unicodedata
from pathlib import Path

import pytest
from PySide6.QtGui import QFont, QFontInfo, QFontMetricsF, QImage, QRawFont
from PySide6.QtWidgets import QApplication

import washline
from washline.assets import resource
from washline.ui.fonts import FONT_FILES, SANS, SERIF, Fonts, application_fonts, load_fonts, text_unit

MARKS = "½⅓¼¾⅔⅛⅜⅝⅞°±×→←−≈µ€£₂⁰¹²³≤≥✓′″‰·–—…“”‘’?"
WEIGHTS = (QFont.Weight.Normal, QFont.Weight.DemiBold, QFont.Weight.Bold)


@pytest.fixture(autouse=True)
def loaded(qapp: QApplication) -> None:
    """The fonts of the program."""
    load_fonts()


READ_ONLY = "quantity"
"""This package also holds the characters that people type and the program never writes; its formatting does write."""


def writing_modules() -> list[Path]:
    package = Path(washline.__file__).parent
    modules = [path for path in package.rglob("*.py") if READ_ONLY not in path.parts]
    return [*modules, package / READ_ONLY / "formatting.py"]


def written_characters() -> set[str]:
    """Every printable character beyond ASCII in the texts of the program, docstrings left out."""
    found: set[str] = set()
    for path in writing_modules():
        tree = ast.parse(path.read_text(encoding="utf-8"))
        told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
                found |= set(node.value)
    return {char for char in found if ord(char) > 126 and unicodedata.category(char)[0] not in "CZ"}


@pytest.mark.parametrize("name", FONT_FILES)
def test_every_font_file_is_whole_and_has_every_mark(name: str) -> None:
    raw = QRawFont(str(resource("fonts", name)), 16.0)
    assert raw.isValid()
    missing = [char for char in MARKS if not raw.supportsCharacter(ord(char))]
    assert missing == []


@pytest.mark.parametrize("name", FONT_FILES[:4])
def test_the_sans_has_every_glyph_that_the_program_writes(name: str) -> None:
    raw = QRawFont(str(resource("fonts", name)), 16.0)
    letters = set("".join(chr(code) for code in range(0x20, 0x17F)) + MARKS) | written_characters()
    wanted = {char for char in letters if unicodedata.category(char)[0] not in "CZ"}
    assert sorted(char for char in wanted if not raw.supportsCharacter(ord(char))) == []


def test_each_family_has_its_licence_beside_it() -> None:
    for name in ("SourceSans3-LICENSE.md", "SourceSerif4-LICENSE.md"):
        assert "SIL OPEN FONT LICENSE Version 1.1" in resource("fonts", name).read_text(encoding="utf-8")


@pytest.mark.parametrize("weight", WEIGHTS)
def test_figures_minus_and_plus_minus_share_one_width(weight: QFont.Weight) -> None:
    metrics = QFontMetricsF(Fonts().sans(14, weight))
    assert len({round(metrics.horizontalAdvance(char), 2) for char in "0123456789−±"}) == 1


@pytest.mark.parametrize("weight", WEIGHTS)
def test_each_weight_is_a_drawn_one(weight: QFont.Weight) -> None:
    info = QFontInfo(Fonts().sans(14, weight))
    assert (info.family(), info.weight()) == (SANS, weight)


def test_the_estimate_is_a_drawn_italic() -> None:
    assert QFontInfo(Fonts().row_estimated).italic()
    assert QFontInfo(Fonts().row_estimated).family() == SANS


def test_the_title_is_the_serif() -> None:
    info = QFontInfo(Fonts().title)
    assert (info.family(), info.weight(), info.pixelSize()) == (SERIF, QFont.Weight.DemiBold, 28)


def test_the_serif_is_refused_below_18_px() -> None:
    with pytest.raises(ValueError, match="18 px"):
        Fonts().serif(17)


@pytest.mark.parametrize(
    ("name", "size_px"),
    [
        ("reading", 16.0),
        ("row", 14.0),
        ("figure", 13.5),
        ("label", 13.0),
        ("header", 12.5),
        ("smallest", 12.0),
    ],
)
def test_the_scale_has_the_sizes_of_the_design(name: str, size_px: float) -> None:
    font: QFont = getattr(Fonts(), name)
    assert font.pointSizeF() == pytest.approx(size_px * 72 / 96, abs=0.02)


def test_one_unit_enlarges_everything_alike() -> None:
    once, twice = Fonts(1.0), Fonts(2.0)
    assert twice.row.pointSizeF() == pytest.approx(2 * once.row.pointSizeF())
    assert twice.title.pointSizeF() == pytest.approx(2 * once.title.pointSizeF())


def test_a_text_is_as_wide_on_paper_as_on_the_screen() -> None:
    paper = QImage(100, 100, QImage.Format.Format_RGB32)
    paper.setDotsPerMeterX(round(300 / 0.0254))
    paper.setDotsPerMeterY(round(300 / 0.0254))
    fine = Fonts.for_device(paper)
    assert fine.dots_per_inch == 300
    coarse = application_fonts()
    text = "pear-sorrel cordial 22.5 ml"
    assert fine.width(fine.row, text) == pytest.approx(coarse.width(coarse.row, text), rel=0.01)


@pytest.mark.parametrize(
    ("size_px", "scale", "unit"), [(12, 1.0, 1.0), (14, 1.0, 1.0), (28, 1.0, 2.0), (14, 1.5, 1.5)]
)
def test_the_unit_grows_with_the_systems_text(size_px: int, scale: float, unit: float) -> None:
    font = QFont(SANS)
    font.setPixelSize(size_px)
    assert text_unit(font, scale) == unit
