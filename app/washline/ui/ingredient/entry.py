"""A new raw ingredient in a minute: from its label, or from °Bx, pH and acidity. What was understood is shown first."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

from PySide6.QtCore import QObject, QSize, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.chemistry.components import ACIDS, SUGARS
from washline.document.commands import labels
from washline.document.commands.command import next_id
from washline.document.commands.raws import new_raw
from washline.document.document import Document
from washline.model.item import UNKNOWN, KeptAt, Price, RawIngredient
from washline.presentation.book_list import KEPT_AT_WORDS
from washline.presentation.cautions import allergens
from washline.presentation.entry_parts import SugarsLike, Understood
from washline.presentation.juice_entry import ACID_CHOICES, Juice, from_juice
from washline.presentation.label_entry import KJ_PER_KCAL, Label, Per, from_label
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import NumberProblem, read_number
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.form import ChoiceRow, ChoicesRow, FormSheet, NumberRow, PlainField, Row, TextRow
from washline.ui.ingredient.words import READ_THE_LABEL

LABEL, READINGS = "label", "readings"
_WAYS = ((LABEL, "its label"), (READINGS, "°Bx, pH and acidity"))
_LABEL_FIELDS = (
    ("energy_kj", "Energy", "kJ", "Only a check: it is computed from the rest"),
    ("energy_kcal", "or in kilocalories", "kcal", ""),
    ("fat", "Fat", "g", ""),
    ("carbohydrate", "Carbohydrate", "g", ""),
    ("sugars", "of which sugars", "g", ""),
    ("protein", "Protein", "g", ""),
    ("salt", "Salt", "g", ""),
    ("strength_pct_vol", "Alcohol", "% vol", "0 if it has none; empty is not known"),
    ("gas_g_per_l", "Dissolved gas", "g/l", "For what is sold with gas; empty: still, or not known"),
)
_JUICE_FIELDS = (
    ("brix", "Refractometer", "°Bx", ""),
    ("ph", "pH", "", "By strip or meter; it tells what binds part of the acid"),
    ("acidity_pct", "Acidity", "g in 100 g", "Titrated to pH 8.1, as citric acid"),
)
_TAKEN_WORDS = "There is an ingredient of that name already; the new one stands beside it."


class Understanding(QWidget):
    """What was made of the figures so far, line by line, with what does not fit under it."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._words: list[Words] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)

    @property
    def texts(self) -> list[str]:
        """What it says."""
        return [words.text() for words in self._words if not words.isHidden()]

    def say(
        self,
        lines: Sequence[tuple[str, str]],
        doubts: Sequence[str] = (),
        problem: str = "",
        token: str = "alert",
    ) -> None:
        """Shows other lines; ``token`` is the ink of the problem, which is none yet in an empty form."""
        said = [(f"{what}: {value}", "ink") for what, value in lines]
        said += [(f"? {doubt}", "ink2") for doubt in doubts]
        said += [(problem, token)] if problem else []
        while len(self._words) < len(said):
            words = Words(self._look, "", style="label", wraps=True, parent=self)
            words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self._words.append(words)
            self._layout.addWidget(words)
        for number, words in enumerate(self._words):
            words.setVisible(number < len(said))
            if number < len(said):
                words.setText(said[number][0])
                words.set_token(said[number][1])
        self.setAccessibleName("What was understood: " + " ".join(text for text, _ in said))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._layout.setSpacing(look.px(3))
        for words in self._words:
            words.set_appearance(look)


class IngredientEntry(QWidget):
    """``made`` carries the id of what was written; ``closed``: nothing was. ``start`` empties the form."""

    made = Signal(object)
    closed = Signal()

    def __init__(
        self,
        document: Document,
        look: Appearance,
        clock: Callable[[], datetime],
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._look, self._clock, self._style = document, look, clock, style
        self.form = FormSheet(look, "New ingredient")
        self._values: dict[str, Any] = {}
        self._numbers: dict[str, NumberRow] = {}
        self._bad: set[str] = set()
        self._likes: dict[int, RawIngredient] = {}
        self.form.about.setText(
            "What is left empty is not known, and stays so. Nothing is written before you press Write it."
        )
        self._add_first()
        self._add_label()
        self._add_readings()
        self._add_sugars()
        self._add_contains()
        self.form.end()
        self._add_foot()
        self.form.set_read_only(document.is_read_only)
        self.set_appearance(look)
        self.start()

    # Rows

    def _add_first(self) -> None:
        self.name = TextRow(self._look, "Name", self._put("name"))
        self.form.add_row(self.name)
        self._live(self.name, "name")
        self.way = ChoiceRow(self._look, "From", _WAYS, self._put("way"))
        self.form.add_row(self.way)
        kept = [(where, KEPT_AT_WORDS[where]) for where in KeptAt]
        self.kept = ChoiceRow(
            self._look, "Kept at", kept, self._put("kept_at"), hint="It is poured as cold as that"
        )
        self.form.add_row(self.kept)

    def _add_label(self) -> None:
        self.per = ChoiceRow(
            self._look, "The label is per", [(per, str(per)) for per in Per], self._put("per")
        )
        self._label_rows: list[Row] = [self.form.add_row(self.per)]
        self._label_rows += [self._number(*field) for field in _LABEL_FIELDS]

    def _add_readings(self) -> None:
        self._reading_rows: list[Row] = [self._number(*field) for field in _JUICE_FIELDS]
        self.acid = ChoiceRow(self._look, "Its acids are", (), self._put("acid"))
        self._reading_rows.append(self.form.add_row(self.acid))

    def _add_sugars(self) -> None:
        self.like = ChoiceRow(
            self._look,
            "Its sugars are",
            (),
            self._put("like"),
            hint="A label does not say which sugars; another ingredient may be like it",
        )
        self.form.add_row(self.like)

    def _add_contains(self) -> None:
        choices = [(UNKNOWN, READ_THE_LABEL, "Until somebody has, every drink that pours it says so")]
        choices += [(one.key, one.word, one.group) for one in allergens().values()]
        self.contains = ChoicesRow(
            self._look,
            "Allergens",
            choices,
            self._put("allergens"),
            hint="Tick what the label names, and untick the first once it is read",
        )
        self.form.add_row(self.contains)
        self.price = self._number("price", "Price", "", "")
        self.priced_by = ChoiceRow(
            self._look, "Priced by", (("l", "litre"), ("kg", "kilogram")), self._put("price_unit")
        )
        self.form.add_row(self.priced_by)

    def _add_foot(self) -> None:
        """What was understood stands below the fields and never scrolls away."""
        self.understanding = Understanding(self._look)
        self.write_button = PlainButton(self._look, "&Write it", is_first=True)
        self.write_button.setToolTip("Makes the ingredient; one step that can be undone (Ctrl+Return)")
        self.cancel_button = PlainButton(self._look, "Cancel")
        self.write_button.clicked.connect(self._write)
        self.cancel_button.clicked.connect(self.closed)
        self._head = Words(self._look, "What was understood", style="row_strong")
        buttons = QHBoxLayout()
        buttons.addWidget(self._head, 1)
        buttons.addWidget(self.write_button)
        buttons.addWidget(self.cancel_button)
        self._foot = QVBoxLayout()
        self._foot.addLayout(buttons)
        self._foot.addWidget(self.understanding)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.form, 1)
        layout.addLayout(self._foot)
        self.setAccessibleName("New ingredient")

    def _number(self, key: str, label: str, unit: str, hint: str) -> NumberRow:
        row = NumberRow(self._look, label, unit, self._put(key), style=self._style, hint=hint)
        self.form.add_row(row)
        self._numbers[key] = row
        self._live(row, key)
        return row

    def _live(self, row: Row, key: str) -> None:
        """What is being typed is understood at once; what is not understood is told when the field is left."""
        if isinstance(row.field, PlainField):
            row.field.textEdited.connect(_Typed(self, key, row).take)

    def number(self, key: str) -> NumberRow:
        """The row of one figure."""
        return self._numbers[key]

    # What is typed

    def start(self, name: str = "") -> None:
        """An empty form, with a name if one was asked for."""
        self._values = {
            "name": name,
            "way": LABEL,
            "kept_at": KeptAt.ROOM,
            "per": Per.ML,
            "like": SugarsLike.UNKNOWN,
            "acid": ACID_CHOICES[0][0],
            "allergens": (UNKNOWN,),
            "price_unit": "l",
        }
        self._bad.clear()
        self._offer_likes()
        for row in self.form.findChildren(Row):
            row.say("")
        for number in self._numbers.values():
            number.show_value(None)
        self.name.show_value(name)
        self.way.show_value(LABEL)
        self.kept.show_value(KeptAt.ROOM)
        self.per.show_value(Per.ML)
        self.contains.show_value((UNKNOWN,))
        self.priced_by.show_value("l")
        self.price.unit.setText(self._document.book.settings.currency)
        self.form.verticalScrollBar().setValue(0)
        self._refresh()

    def _offer_likes(self) -> None:
        raws = sorted(self._document.book.raws.values(), key=lambda raw: raw.name.casefold())
        self._likes = {raw.id: raw for raw in raws}
        sugary = [
            (raw.id, f"as in {raw.name}") for raw in raws if any(raw.composition[part] for part in SUGARS)
        ]
        sour = [(raw.id, f"as in {raw.name}") for raw in raws if any(raw.composition[part] for part in ACIDS)]
        self.like.set_choices(
            [(SugarsLike.UNKNOWN, "of unknown kind"), (SugarsLike.SUCROSE, "table sugar (sucrose)"), *sugary]
        )
        self.like.show_value(SugarsLike.UNKNOWN)
        # Keys of components stand beside ids of ingredients: negative, so that they do not meet.
        self.acid.set_choices([*((-1 - part, f"counted as {words}") for part, words in ACID_CHOICES), *sour])
        self.acid.show_value(-1 - ACID_CHOICES[0][0])
        self._values["acid"] = -1 - ACID_CHOICES[0][0]

    def _put(self, key: str) -> Callable[[Any], str]:
        def write(value: Any) -> str:
            self._bad.discard(key)
            self._values[key] = value
            self._refresh()
            return ""

        return write

    def take_typed(self, key: str, text: str) -> None:
        """A key was pressed in a field."""
        if key == "name":
            self._values["name"] = text.strip()
            self._refresh()
            return
        words = text.strip()
        reading = (
            read_number(words, self._style.decimal, self._style.grouping or None, signed=True)
            if words
            else None
        )
        self._bad.discard(key)
        if isinstance(reading, NumberProblem):
            self._bad.add(key)
        else:
            self._values[key] = reading.value if reading is not None else None
        self._refresh()

    # What it means

    def understood(self) -> Understood:
        """What the form means now. Raises ``UserError`` for what cannot be, or is not understood yet."""
        if self._bad:
            raise UserError("A figure is not understood yet.")
        return from_label(self._label()) if self._values["way"] == LABEL else from_juice(self._juice())

    def _label(self) -> Label:
        told = {key: self._values.get(key) for key, *_ in _LABEL_FIELDS}
        kcal = told.pop("energy_kcal")
        if told["energy_kj"] is None and kcal is not None:
            told["energy_kj"] = kcal * KJ_PER_KCAL
        return Label(name=self._values["name"], per=self._values["per"], sugars_like=self._like(), **told)

    def _juice(self) -> Juice:
        acid = self._values["acid"]
        told = {key: self._values.get(key) for key, *_ in _JUICE_FIELDS}
        return Juice(
            name=self._values["name"],
            acid=-1 - acid if acid < 0 else self._likes[acid],
            sugars_like=self._like(),
            **told,
        )

    def _like(self) -> SugarsLike | RawIngredient:
        like = self._values["like"]
        return like if isinstance(like, SugarsLike) else self._likes[like]

    def _refresh(self) -> None:
        is_label = self._values["way"] == LABEL
        for row in self._label_rows:
            row.setVisible(is_label)
        for row in self._reading_rows:
            row.setVisible(not is_label)
        per = str(self._values["per"])
        for key, _, unit, _ in _LABEL_FIELDS:
            if unit == "g":
                self._numbers[key].unit.setText(f"g in {per}")
        try:
            found = self.understood()
        except UserError as refusal:
            is_empty = all(self._values.get(key) is None for key in self._numbers)
            self.understanding.say((), (), str(refusal), token="ink2" if is_empty else "alert")
            self.write_button.setEnabled(False)
            return
        doubts = list(found.doubts)
        if any(raw.name == self._values["name"] for raw in self._likes.values()):
            doubts.append(_TAKEN_WORDS)
        if UNKNOWN in self._values["allergens"]:
            doubts.append(
                "Its allergens are not known until the label is read: every drink that pours it will say so."
            )
        problem = "" if self._values["name"] else "A name is missing."
        self.understanding.say(found.lines, doubts, problem)
        self.write_button.setEnabled(not problem and not self._document.is_read_only)

    @Slot()
    def _write(self) -> None:
        if not self.write_button.isEnabled():
            return
        book = self._document.book
        raw_id, name = next_id(book), self._values["name"]
        fields = dict(self.understood().fields)
        fields |= {"kept_at": self._values["kept_at"], "allergens": tuple(self._values["allergens"])}
        if self._values.get("price") is not None:
            today = self._clock().astimezone().date().isoformat()
            fields["prices"] = (Price(self._values["price"], self._values["price_unit"], today),)
        try:
            self._document.do(new_raw(name, **fields), labels.making(name), self)
        except UserError as refusal:
            self.understanding.say((), (), str(refusal))
            return
        self.made.emit(raw_id)
        self.start()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        elif (
            event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
            and event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            self._write()
        else:
            super().keyPressEvent(event)

    def focus_first(self) -> None:
        """Puts the cursor into the name."""
        self.form.focus_first()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.form.set_appearance(look)
        self.understanding.set_appearance(look)
        self._head.set_appearance(look)
        self.write_button.set_appearance(look)
        self.cancel_button.set_appearance(look)
        self._foot.setContentsMargins(look.px(20), look.px(10), look.px(20), look.px(12))
        self._foot.setSpacing(look.px(6))
        self.update()

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(320), self._look.px(300))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.sheet)
        painter.setPen(self._look.theme.rule2)
        painter.drawLine(0, self.form.height(), self.width(), self.form.height())
        painter.end()


class _Typed(QObject):
    """Hands on what is typed into one field."""

    def __init__(self, form: IngredientEntry, key: str, parent: QObject) -> None:
        super().__init__(parent)
        self._form, self._key = form, key

    @Slot(str)
    def take(self, text: str) -> None:
        """A key was pressed."""
        self._form.take_typed(self._key, text)
