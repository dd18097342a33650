"""What stands in the window while a build file waits for its doubts to be settled."""

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline.exchange.build_file import Choice, Doubt, Resolution, settled
from washline.model.book import HouseBook
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.form import ChoiceRow, FormSheet

MOST_DIFFERENCES = 4
_WORDS = {Choice.OURS: "keep what stands here", Choice.THEIRS: "take the file's as something new"}


class ImportPage(FormSheet):
    """Shows what a file brings and asks what a name means where the two differ.

    ``confirmed`` carries the settled ``Resolution``, ``cancelled`` that nothing should come in.
    """

    confirmed = Signal(object)
    cancelled = Signal()

    def __init__(
        self,
        resolution: Resolution,
        book: HouseBook,
        name: str,
        look: Appearance,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(look, f"Import of {name}", parent)
        self._resolution, self._book = resolution, book
        self._rows: dict[str, ChoiceRow] = {}
        self.about.setText(counted(resolution))
        for note in resolution.notes:
            words = Words(look, note, token="ink2", style="label", wraps=True)
            self._parts.append(words)
            self.rows.addWidget(words)
        self._asked = QWidget()
        for doubt in resolution.doubts:
            self._add_doubt(doubt)
        self.take = PlainButton(look, "Import", is_first=True)
        self.leave = PlainButton(look, "Leave it")
        self.take.clicked.connect(self._confirm)
        self.leave.clicked.connect(self.cancelled)
        line = QHBoxLayout()
        line.addWidget(self.take)
        line.addWidget(self.leave)
        line.addStretch(1)
        self.rows.addSpacing(look.px(14))
        self.rows.addLayout(line)
        self.end()
        self._update()

    def _add_doubt(self, doubt: Doubt) -> None:
        self.add_head(doubt.words)
        for one in doubt.differences[:MOST_DIFFERENCES]:
            words = Words(
                self._look,
                f"{one.what}: here {one.ours[:120]}, in the file {one.theirs[:120]}",
                token="ink2",
                style="label",
                wraps=True,
            )
            self._parts.append(words)
            self.rows.addWidget(words)
        choices = [(None, "choose…"), *((choice, _WORDS[choice]) for choice in doubt.choices)]
        row = ChoiceRow(self._look, "Use", choices, _Settle(self, doubt.key))
        row.show_value(doubt.choice)
        self._rows[doubt.key] = row
        self.add_row(row)

    def settle(self, key: str, choice: Choice | None) -> str:
        """Settles one doubt; others may come or go by it."""
        if choice is None:
            return "Choose what the name should mean."
        self._resolution = settled(self._resolution, self._book, key, choice)
        for doubt in self._resolution.doubts:
            if doubt.key not in self._rows:
                self._add_doubt(doubt)
        self._update()
        return ""

    def _update(self) -> None:
        self.take.setEnabled(not self._resolution.open_doubts)

    @Slot()
    def _confirm(self) -> None:
        self.confirmed.emit(self._resolution)


class _Settle:
    """Settles the doubt of one row."""

    def __init__(self, page: ImportPage, key: str) -> None:
        self._page, self._key = page, key

    def __call__(self, choice: Choice | None) -> str:
        return self._page.settle(self._key, choice)


def counted(resolution: Resolution) -> str:
    """What is new and what is there already."""
    new, reused = len(resolution.new), len(resolution.reused)
    return f"{new} new, {reused} there already. Nothing comes in before you press Import; it is one step to undo."
