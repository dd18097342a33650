"""Fonts and themes for painting tests."""

import pytest
from PySide6.QtWidgets import QApplication

from washline.ui.fonts import Fonts, load_fonts
from washline.ui.theme import Theme, dark_theme, light_theme


@pytest.fixture(scope="session")
def fonts(qapp: QApplication) -> Fonts:
    """The bundled fonts at 100 %."""
    load_fonts()
    return Fonts()


@pytest.fixture(scope="session", params=["light", "dark"])
def theme(request: pytest.FixtureRequest) -> Theme:
    """Each of the two themes."""
    return light_theme() if request.param == "light" else dark_theme()
