"""A document in memory for each test."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from tests.ui.costs.bench import Opener


@pytest.fixture
def make_bench(qtbot: QtBot) -> Iterator[Opener]:
    """Opens house books in memory."""
    opener = Opener(qtbot)
    yield opener
    opener.close()
