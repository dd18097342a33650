"""The demo house in memory, with Drift on the screen."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from PySide6.QtWidgets import QApplication

from tests.document.fakes import MemoryFile
from tests.presentation.demo import demo
from tests.ui.balance.bench import Bench
from washline.document.document import Document
from washline.document.stored_results import StoredResults
from washline.engine.workings import Workings
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.session import Session
from washline.ui.theme import light_theme


@pytest.fixture
def bench(qapp: QApplication) -> Iterator[Bench]:
    """An open house book with a stirred drink on a cube on the screen."""
    load_fonts()
    file = MemoryFile(demo())
    workings = Workings(demo())
    results = StoredResults(file, workings, "test")
    document = Document(file, demo(), workings, results, lambda: datetime(2026, 11, 21, tzinfo=UTC))
    bridge = Bridge(document)
    session = Session(document, bridge)
    look = Appearance(light_theme(), application_fonts(), Measures(), is_calm=True)
    made = Bench(document, bridge, session, look)
    made.show("Drift")
    yield made
    session.show(None)
    session.after_paint.close()
    bridge.close()
