"""Fonts for tests of papers."""

import pytest
from PySide6.QtWidgets import QApplication

from washline.ui.fonts import Fonts, load_fonts
from washline.ui.papers.page import A5
from washline.ui.papers.printing import blank_picture


@pytest.fixture(scope="session")
def paper_fonts(qapp: QApplication) -> Fonts:
    """The bundled fonts as a picture of 300 dots per inch measures them."""
    load_fonts()
    return Fonts.for_device(blank_picture(A5, 300))
