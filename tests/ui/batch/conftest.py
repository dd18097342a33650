"""The demo house in memory with a stirred drink on the screen, for the sheet of batches."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from PySide6.QtWidgets import QApplication

from tests.document.fakes import MemoryFile
from tests.presentation.batch_house import base
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
    """An open house book with Drift on the screen."""
    load_fonts()
    file = MemoryFile(base())
    workings = Workings(base())
    results = StoredResults(file, workings, "test")
    document = Document(file, base(), workings, results, lambda: datetime(2026, 11, 21, tzinfo=UTC))
    bridge = Bridge(document)
    session = Session(document, bridge)
    made = Bench(
        document, bridge, session, Appearance(light_theme(), application_fonts(), Measures(), is_calm=True)
    )
    made.show("Drift")
    yield made
    session.show(None)
    session.after_paint.close()
    bridge.close()
