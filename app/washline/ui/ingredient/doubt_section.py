"""Where the uncertainty of an ingredient comes from, and which drinks it makes most unsure: looked for in slices."""

from collections import deque
from collections.abc import Sequence
from time import perf_counter

from PySide6.QtCore import QTimer, Signal, Slot
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from washline.document.document import Document
from washline.model.item import RawIngredient
from washline.model.reading import BY_KEY
from washline.presentation.moved import drinks_resting_on
from washline.presentation.raw_facts import OwnDoubt, doubt_words, own_doubt
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.ingredient.links import LinkList

SLICE_S = 0.008
MOST_SHOWN = 5
LOOKED_AT_ONCE = 200
"""So many drinks are looked at before it is asked whether to go on."""

REST_MS = 300
"""It begins when the sheet has stood still for so long."""


class DoubtSection(QWidget):
    """``asked`` carries the id of a drink to go to."""

    asked = Signal(object)

    def __init__(
        self,
        document: Document,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._style = document, style
        self._raw: RawIngredient | None = None
        self._queue: deque[int] = deque()
        self._found: list[OwnDoubt] = []
        self._looked, self._pause_at = 0, LOOKED_AT_ONCE
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.links = LinkList(look, "")
        self.links.asked.connect(self.asked)
        self.progress = Words(look, "", token="ink3", style="header", wraps=True)
        self.more_button = PlainButton(look, "Look at the rest")
        self.more_button.clicked.connect(self._go_on)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (self.about, self.links, self.progress, self.more_button):
            layout.addWidget(widget)
        self._starter = QTimer(self)
        self._starter.setSingleShot(True)
        self._starter.setInterval(REST_MS)
        self._starter.timeout.connect(self._begin)
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._work)

    @property
    def found(self) -> Sequence[OwnDoubt]:
        """What was found so far, the most unsure first."""
        return self._found

    @property
    def is_working(self) -> bool:
        """Whether it is looking, or about to."""
        return self._timer.isActive() or self._starter.isActive()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        for words in (self.about, self.progress):
            words.set_appearance(look)
        self.links.set_appearance(look)
        self.more_button.set_appearance(look)

    def show_raw(self, raw: RawIngredient) -> None:
        """Turns to an ingredient, as it stands now."""
        is_other = self._raw is None or self._raw.id != raw.id
        self._raw = raw
        self.about.setText(doubt_words(raw, self._style))
        self.stop()
        if is_other:
            self._found, self._looked = [], 0
            self._show()
        if raw.sugar_uncertainty_pct or raw.acid_uncertainty_pct:
            self._starter.start()
        else:
            self.stop()
            self._found = []
            self.progress.hide()
            self.more_button.hide()
            self.links.set_empty("")
            self.links.show_links(())

    def stop(self) -> None:
        """Looks no further."""
        self._starter.stop()
        self._timer.stop()
        self._queue.clear()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.stop()

    @Slot()
    def _begin(self) -> None:
        if self._raw is None or not self.isVisible():
            return
        self._queue = deque(drinks_resting_on(self._document.book, (self._raw.id,)))
        # What was found before stays on the screen until this is done.
        self._found, self._looked, self._pause_at = [], 0, LOOKED_AT_ONCE
        self._go_on()

    @Slot()
    def _go_on(self) -> None:
        self._pause_at = self._looked + LOOKED_AT_ONCE
        self._timer.start()

    @Slot()
    def _work(self) -> None:
        if not self.isVisible():
            self.stop()
            return
        end = perf_counter() + SLICE_S
        while self._queue and self._looked < self._pause_at and perf_counter() < end:
            self._look_at(self._queue.popleft())
        if not self._queue or self._looked >= self._pause_at:
            self._timer.stop()
            self._show()

    def _look_at(self, build_id: int) -> None:
        self._looked += 1
        build = self._document.book.builds.get(build_id)
        if build is None or self._raw is None:
            return
        spread = self._document.workings.spread(build_id)
        found = own_doubt(build_id, build.name, self._raw.id, spread)
        if found is not None:
            self._found = sorted([*self._found, found], key=lambda one: -one.share)[:MOST_SHOWN]

    def _show(self) -> None:
        links = [(one.build_id, one.name, self._words(one)) for one in self._found]
        self.links.set_empty("" if self._queue or not self._looked else "No drink is made unsure by it.")
        self.links.show_links(links)
        whole = self._looked + len(self._queue)
        self.progress.setText(f"{self._looked:,} of {whole:,} drinks looked at" if self._queue else "")
        self.progress.setVisible(bool(self._queue))
        self.more_button.setVisible(bool(self._queue))

    def _words(self, one: OwnDoubt) -> str:
        reading = BY_KEY[one.reading]
        own, whole = (format_number(value, reading.decimals, self._style) for value in (one.own, one.whole))
        percent = format_number(100.0 * one.share, 0, self._style)
        return f"{reading.name.lower()} ± {whole}: {own} of it from here, {percent} % of the variance"
