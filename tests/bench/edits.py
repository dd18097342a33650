"""What it costs to keep a change: against a write and sync of 4 KiB on the same disk, and the undo against the edit.

An edit here is command, difference, validation and transaction; no build is on the screen, so that its evaluation, which
*key-to-painted* measures, waits for the background.
"""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from tests.bench.measure import Measured, in_turns, measured, write_and_sync
from washline.document.commands.lines import set_amount
from washline.document.document import Document
from washline.document.opening import create_document
from washline.exchange.demo import demo_house
from washline.model.amount import Amount

TIMES = 300


def clock() -> datetime:
    """Now, in UTC."""
    return datetime.now(UTC)


@contextmanager
def open_demo(folder: Path) -> Iterator[tuple[Document, int, int]]:
    """The demo house as a file of its own, with the drink and the line that are edited."""
    document = create_document(
        folder / "bench.housebook", demo_house(), "bench", clock=clock, backups=folder / "backups"
    )
    drink = next(build for build in document.book.builds.values() if build.name == "Pear Signal")
    while document.work_on():
        pass
    try:
        yield document, drink.id, drink.steps[0].id
    finally:
        document.close()


class _Edits:
    """Edits of one amount, each different from the one before."""

    def __init__(self, document: Document, build_id: int, step_id: int) -> None:
        self.document, self.build_id, self.step_id = document, build_id, step_id
        self.count = 0

    def edit(self) -> None:
        self.count += 1
        amount = Amount(50.0 + self.count % 40 / 4.0, "ml")
        self.document.do(set_amount(self.build_id, self.step_id, amount), "change of vermouth")

    def undo(self) -> None:
        self.document.undo()


def saved_edit() -> Measured:
    """One typed amount, written with its journal entry."""
    with tempfile.TemporaryDirectory() as name, open_demo(Path(name)) as (document, build_id, step_id):
        edits = _Edits(document, build_id, step_id)
        floors, samples = in_turns(write_and_sync(Path(name) / "floor"), edits.edit, TIMES)
    return measured("saved-edit", floors, samples, 6.0)


def undo() -> Measured:
    """Taking an edit back, against the edit itself."""
    with tempfile.TemporaryDirectory() as name, open_demo(Path(name)) as (document, build_id, step_id):
        edits = _Edits(document, build_id, step_id)
        floors, samples = in_turns(edits.edit, edits.undo, TIMES)
    return measured("undo", floors, samples, 2.0)
