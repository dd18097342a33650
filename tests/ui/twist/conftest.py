"""The demo house in a file, for the comparison of a twist with its parent."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from tests.presentation.demo import demo
from tests.ui.balance.bench import Bench
from washline.document.opening import create_document
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.session import Session
from washline.ui.theme import light_theme


@pytest.fixture
def bench(qapp: QApplication, tmp_path: Path) -> Iterator[Bench]:
    """An open house book with Pear Signal on the screen."""
    load_fonts()
    document = create_document(tmp_path / "demo.housebook", demo(), "start", clock=lambda: datetime.now(UTC))
    bridge = Bridge(document)
    session = Session(document, bridge)
    look = Appearance(light_theme(), application_fonts(), Measures(), is_calm=True)
    made = Bench(document, bridge, session, look)
    made.show("Pear Signal")
    yield made
    session.show(None)
    bridge.close()
    document.close()
