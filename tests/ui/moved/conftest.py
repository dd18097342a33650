"""A small bar in a file, for what a correction did."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from tests.ui.balance.bench import Bench
from tests.ui.ingredient.bar import bar
from washline.document.opening import create_document
from washline.model.item import RawIngredient
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.session import Session
from washline.ui.theme import light_theme


def clock() -> datetime:
    """An evening that stands still."""
    return datetime(2026, 11, 21, 18, 0, tzinfo=UTC)


@pytest.fixture
def bench(qapp: QApplication, tmp_path: Path) -> Iterator[Bench]:
    """An open house book, everything computed."""
    load_fonts()
    document = create_document(tmp_path / "bar.housebook", bar(), "start", clock=clock)
    document.workings.evaluate_all()
    bridge = Bridge(document)
    session = Session(document, bridge)
    look = Appearance(light_theme(), application_fonts(), Measures(), is_calm=True)
    yield Bench(document, bridge, session, look)
    session.show(None)
    bridge.close()
    document.close()


def by_slug(bench: Bench, slug: str) -> RawIngredient:
    """A raw ingredient by its slug, as it stands."""
    return next(raw for raw in bench.document.book.raws.values() if raw.slug == slug)
