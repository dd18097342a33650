"""The house's own words on a card, typed beside its preview: what it tastes like, and three signs with what to do."""

from collections.abc import Callable

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from washline.model.item import Build, Sign
from washline.ui.appearance import Appearance
from washline.ui.controls import Words
from washline.ui.form import PlainField

SIGNS = 3
_WIDE = 420


class WordsFields(QWidget):
    """Fields for *tastes like* and *if it is off*.

    ``typing`` is sent with every keystroke, ``left`` when a field is left with other words; ``tastes_like`` and ``signs``
    then hold what stands in the fields. Signs beyond the third, which a build file may bring, are kept as they are.
    """

    typing = Signal()
    left = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._more: tuple[Sign, ...] = ()
        self._heads = [
            Words(look, "Tastes like", style="row_strong"),
            Words(look, "If it is off", style="row_strong"),
            Words(look, "sign", token="ink3", style="header"),
            Words(look, "what to do", token="ink3", style="header"),
        ]
        self._taste = PlainField(look, "Tastes like", _WIDE)
        self._taste.setPlaceholderText("in your own words")
        self._signs = [
            (PlainField(look, f"Sign {n}", 120), PlainField(look, f"What to do about sign {n}", 300))
            for n in range(1, SIGNS + 1)
        ]
        self._lay_out()
        for field in self.fields:
            field.textEdited.connect(self._type)
            field.left_with.connect(self._leave)

    @property
    def fields(self) -> list[PlainField]:
        """All fields in the order of reading."""
        return [self._taste, *(field for pair in self._signs for field in pair)]

    @property
    def tastes_like(self) -> str:
        """What stands in the first field."""
        return self._taste.text().strip()

    @property
    def signs(self) -> tuple[Sign, ...]:
        """The signs that have words."""
        typed = (Sign(taste.text().strip(), remedy.text().strip()) for taste, remedy in self._signs)
        return (*(sign for sign in typed if sign.taste or sign.remedy), *self._more)

    @property
    def is_being_typed_in(self) -> bool:
        """Whether somebody is in the middle of a word."""
        return any(field.hasFocus() and field.isModified() for field in self.fields)

    def show_build(self, build: Build) -> None:
        """Shows what is kept for a drink; what is being typed stays."""
        self._more = build.if_off[SIGNS:]
        self._taste.set_kept(build.tastes_like)
        for index, (taste, remedy) in enumerate(self._signs):
            sign = build.if_off[index] if index < len(build.if_off) else Sign("", "")
            taste.set_kept(sign.taste)
            remedy.set_kept(sign.remedy)

    def set_read_only(self, is_read_only: bool) -> None:
        """Has fields that can only be looked at."""
        for field in self.fields:
            field.setReadOnly(is_read_only)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        parts: list[Callable[[Appearance], None]] = [head.set_appearance for head in self._heads]
        for take in (*parts, *(field.set_appearance for field in self.fields)):
            take(look)

    def _lay_out(self) -> None:
        look = self._look
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(6))
        column.addWidget(self._heads[0])
        column.addWidget(self._taste)
        column.addSpacing(look.px(8))
        column.addWidget(self._heads[1])
        grid = QGridLayout()
        grid.setHorizontalSpacing(look.px(8))
        grid.setVerticalSpacing(look.px(6))
        grid.addWidget(self._heads[2], 0, 0)
        grid.addWidget(self._heads[3], 0, 1)
        for row, (taste, remedy) in enumerate(self._signs, start=1):
            grid.addWidget(taste, row, 0)
            grid.addWidget(remedy, row, 1)
        grid.setColumnStretch(1, 1)
        column.addLayout(grid)

    @Slot()
    def _type(self) -> None:
        self.typing.emit()

    @Slot()
    def _leave(self) -> None:
        self.left.emit()
