"""What a house-made part is made of and how it keeps: its house date, where it stands, hurdles beside their thresholds."""

from collections.abc import Iterator

from PySide6.QtCore import QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from washline.presentation.keeping import Keeping, days_words
from washline.presentation.part_composition import Group, composition_words
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.draw.share_bar import draw_composition
from washline.ui.theme import Theme

_GROUP_TOKENS = {"sugars": "sugar", "acids": "acid", "ethanol": "ethanol"}


class CompositionBar(QWidget):
    """The shares of a part's mass as one bar; water is left open. The line beneath it says the same in words."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._groups: tuple[Group, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_groups(self, groups: tuple[Group, ...], words: str) -> None:
        """Shows other shares."""
        self._groups = groups
        self.setAccessibleName(f"Composition by mass: {words}")
        self.setToolTip(words)
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(200), self._look.px(14))

    def paintEvent(self, event: QPaintEvent) -> None:
        look = self._look
        painter = QPainter(self)
        rect = QRectF(0.5, look.px(2), self.width() - 1.0, look.px(9))
        shares = [(one.share, _colour(one.key, look.theme)) for one in self._groups if one.key != "water"]
        draw_composition(painter, rect, shares, look.theme, look.unit)
        painter.end()


def _colour(key: str, theme: Theme) -> QColor:
    return theme.colour(_GROUP_TOKENS.get(key, "rule2"))


class KeepingView(QWidget):
    """Shows the composition and the keeping of a part. ``days_chosen`` carries proposed days that a person takes over as
    the house's own. Every text wraps, and none is cut off."""

    days_chosen = Signal(int)

    def __init__(
        self, look: Appearance, style: NumberStyle = ENGLISH_STYLE, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._look, self._style = look, style
        self._keeping: Keeping | None = None
        self._is_read_only = False
        self._make()
        self._lay_out()
        self.setAccessibleName("Keeping")

    @property
    def keeping(self) -> Keeping | None:
        """What is shown."""
        return self._keeping

    @property
    def words(self) -> tuple[str, ...]:
        """All texts that are shown, in order."""
        return tuple(one.text() for one in self._all_words() if not one.isHidden() and one.text())

    def show_part(self, keeping: Keeping, groups: tuple[Group, ...], *, is_read_only: bool = False) -> None:
        """Shows a part. ``is_read_only``: no days can be taken over."""
        words = composition_words(groups, self._style)
        self.bar.set_groups(groups, words)
        self._made_of.setText(words)
        if keeping != self._keeping or is_read_only != self._is_read_only:
            self._keeping, self._is_read_only = keeping, is_read_only
            self._fill(keeping)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        for one in self._all_words():
            one.set_appearance(look)
        self.bar.set_appearance(look)
        self.take_over.set_appearance(look)
        self._emphasise()

    def _make(self) -> None:
        look = self._look
        self._composition = Words(look, "Composition", style="label_strong")
        self.bar = CompositionBar(look)
        self._made_of = Words(look, "", token="ink2", style="label", wraps=True)
        self._heading = Words(look, "Keeping", style="label_strong")
        self._date = Words(look, "", style="row", wraps=True)
        self._reasons = Words(look, "", token="ink2", style="label", wraps=True)
        self._offer = Words(look, "", token="ink2", style="label", wraps=True)
        self.take_over = PlainButton(look, "Take over")
        self.take_over.clicked.connect(self._take_over)
        self._caution = Words(look, "", token="ink2", style="label", wraps=True)
        self._hurdles = [Words(look, "", style="label", wraps=True) for _ in range(4)]
        for texts in (self._made_of, self._date, self._reasons, self._offer, self._caution):
            texts.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            texts.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def _lay_out(self) -> None:
        look = self._look
        layout = QVBoxLayout(self)
        layout.setContentsMargins(look.px(6), look.px(4), look.px(6), look.px(10))
        layout.setSpacing(look.px(4))
        made_of: tuple[QWidget, ...] = (self._composition, self.bar, self._made_of)
        dated = (self._heading, self._date, self._reasons, self._offer, self.take_over)
        for group in (made_of, dated, (*self._hurdles, self._caution)):
            for widget in group:
                layout.addWidget(widget)
            layout.addSpacing(look.px(4))
        layout.addStretch(1)

    def _fill(self, keeping: Keeping) -> None:
        self._date.setText(f"House date {keeping.date.text} · {keeping.kept_at}")
        _put(self._reasons, " ".join(keeping.date.reasons))
        _put(self._offer, keeping.proposal.text if keeping.proposal is not None else keeping.no_proposal)
        self.take_over.setVisible(keeping.proposal is not None)
        self.take_over.setEnabled(not self._is_read_only)
        if keeping.proposal is not None:
            days = days_words(keeping.proposal.days)
            self.take_over.setText(f"Set {days}")
            self.take_over.setAccessibleName(f"Set {days} as the house date, not tested")
        for words, hurdle in zip(self._hurdles, keeping.hurdles, strict=True):
            words.setText(hurdle.text)
            words.setToolTip(f"Threshold: {hurdle.source}")
        self._emphasise()
        self._caution.setText(keeping.caution)
        self.setAccessibleDescription(" ".join(keeping.sentences))

    def _emphasise(self) -> None:
        """What is uncertain stands out by its weight, not by a colour."""
        fonts = self._look.fonts
        shown = self._keeping.hurdles if self._keeping is not None else ()
        for words, hurdle in zip(self._hurdles, shown, strict=False):
            words.setFont(fonts.label_strong if hurdle.is_uncertain else fonts.label)

    @Slot()
    def _take_over(self) -> None:
        if self._keeping is not None and self._keeping.proposal is not None:
            self.days_chosen.emit(self._keeping.proposal.days)

    def _all_words(self) -> Iterator[Words]:
        yield from (self._composition, self._made_of, self._heading, self._date, self._reasons, self._offer)
        yield from (*self._hurdles, self._caution)


def _put(words: Words, text: str) -> None:
    words.setText(text)
    words.setVisible(bool(text))
