"""A raw ingredient chosen by typing its name, with what fits offered under the field."""

from collections.abc import Callable

from PySide6.QtCore import QStringListModel, Qt, Slot
from PySide6.QtWidgets import QCompleter

from washline.model.book import HouseBook
from washline.quantity.names import fold
from washline.ui.appearance import Appearance
from washline.ui.form import WIDE_FIELD, PlainField, Row

NOTHING = "nothing: it is as computed"


class RawChoiceRow(Row):
    """A row for the id of a raw ingredient; an empty field is none.

    ``book`` gives the house book as it is, ``write`` takes the id (``None``: none) and says why it was refused, or nothing.
    """

    def __init__(
        self,
        look: Appearance,
        label: str,
        book: Callable[[], HouseBook],
        write: Callable[[int | None], str],
        *,
        hint: str = "",
    ) -> None:
        field = PlainField(look, label, WIDE_FIELD)
        super().__init__(look, label, field, hint=hint)
        self._field, self._book, self._write = field, book, write
        self._listed: object = None
        field.setPlaceholderText(NOTHING)
        self._names = QStringListModel(self)
        completer = QCompleter(self._names, self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setMaxVisibleItems(9)
        field.setCompleter(completer)
        completer.activated.connect(self._take)
        self.completer = completer
        field.left_with.connect(self._take)

    def show_value(self, raw_id: int | None) -> None:
        """Shows what is kept, and offers the raw ingredients that there are now."""
        raws = self._book().raws
        if raws is not self._listed:
            self._listed = raws
            self._names.setStringList(sorted((raw.name for raw in raws.values()), key=fold))
        raw = raws.get(raw_id) if raw_id is not None else None
        self._field.set_kept(raw.name if raw is not None else "")

    @Slot(str)
    def _take(self, text: str) -> None:
        wanted = fold(text)
        self._field.setModified(False)
        if not wanted:
            self.say(self._write(None))
            return
        raws = self._book().raws.values()
        fitting = [raw for raw in raws if fold(raw.name) == wanted]
        fitting = fitting or [raw for raw in raws if wanted in fold(raw.name)]
        if len(fitting) != 1:
            why = "is no raw ingredient" if not fitting else "fits several raw ingredients"
            self.say(f"“{text.strip()[:40]}” {why}. Expected the name of one.")
            return
        self.say(self._write(fitting[0].id))
