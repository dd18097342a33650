"""Where everything of the readings table stands: rows with strips, gates, plain figures, and what is unfolded."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFont

from washline.model.reading import BY_KEY
from washline.presentation.contributions import Contribution, Unfolded
from washline.presentation.readings import Balance, GateRow, PlainRow, ReadingRow
from washline.quantity.formatting import NumberStyle, format_contribution
from washline.ui.appearance import Appearance

NAME_GAP = 8.0
UNIT_GAP = 6.0
COLUMN_GAP = 8.0
INSET = 6.0
"""Room at both sides of every text for the ring of the focus."""
NARROWEST_STRIP = 74.0
WIDEST_STRIP = 132.0
PLAIN_ROW = 24.0
LINE_ROW = 24.0
GATE_ROW = 28.0
NARROWEST_WITH_TWO_COLUMNS = 330.0
LEFT_KEYS = (
    "ph",
    "sugar_acid_ratio",
    "dilution",
    "chill",
    "freezing",
    "brix_true",
    "brix_shown",
    "bitterness",
    "fizz",
)
"""Plain figures that stand in the left column: those with little behind them."""

SAID_TWICE = ("strength", "fizz", "length")
"""Plain figures behind which the same stands in other words: proof, volumes of gas, the volume as served."""

OWN_LINE_KEYS = ("water_activity",)
"""Plain figures whose names are too long for a column: each stands on a line of its own, last."""
OWN_LINE_X = 0.25
"""So little to the right that nobody sees it: its figure has an edge of its own, and moves none in the columns."""

WORDS_FLAGS = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop

Payload = ReadingRow | GateRow | PlainRow | Contribution | str


@dataclass(frozen=True)
class Cell:
    """One piece of the table. ``kind`` is row, gate, plain, line, or words; ``key`` the reading it belongs to."""

    kind: str
    key: str
    rect: QRectF
    payload: Payload
    is_strong: bool = False

    @property
    def is_current_able(self) -> bool:
        """Whether the arrow keys stop on it."""
        return self.kind != "words"


@dataclass(frozen=True)
class Columns:
    """The places of a row's columns, relative to its left edge; ``spread_x`` is ``None`` where ± stands in the tooltip,
    ``strip_width`` 0 where there is no strip; ``is_state_below`` where the words of the state stand under the name."""

    number_right: float
    unit_x: float
    spread_x: float | None
    strip_x: float
    strip_width: float
    is_state_below: bool = False


def columns_for(balance: Balance, width: float, look: Appearance) -> Columns:
    """The columns of the rows: names and figures first, the strip takes what is left, ± goes before the strip would be
    too narrow. Widths do not depend on the figures, so that no place moves when a figure does."""
    fonts, unit = look.fonts, look.unit
    names = [row.figure.name for row in balance.rows]
    name = max((fonts.width(fonts.row, text) for text in [*names, "at least"]), default=0.0)
    number_right = name + NAME_GAP * unit + fonts.width(fonts.reading, "00.00")
    unit_x = number_right + UNIT_GAP * unit
    units = max((fonts.width(fonts.header, row.figure.unit) for row in balance.rows), default=0.0)
    after_unit = unit_x + units
    spread = max(
        (
            fonts.width(fonts.header, text)
            for text in ("± 0.00", *(row.figure.spread for row in balance.rows))
        ),
        default=0.0,
    )
    bands = [fonts.width(fonts.smallest, row.band) for row in balance.rows]
    states = [
        fonts.width(fonts.header_strong, text)
        for text in ("over 00.0", *(r.state.words for r in balance.rows))
    ]
    state = max([*bands, *states], default=0.0)
    gap = COLUMN_GAP * unit
    room = width - state - gap - (after_unit + gap)
    has_strips = any(row.strip is not None for row in balance.rows)
    if not has_strips:
        return Columns(number_right, unit_x, after_unit + gap, width, 0.0)
    if room < NARROWEST_STRIP * unit:
        strip_x = min(after_unit + gap, width - NARROWEST_STRIP * unit)
        return Columns(number_right, unit_x, None, strip_x, width - strip_x, is_state_below=True)
    has_spread = room - spread - gap >= NARROWEST_STRIP * unit
    strip = min(
        max(room - (spread + gap if has_spread else 0.0), NARROWEST_STRIP * unit), WIDEST_STRIP * unit
    )
    strip_x = width - state - gap - strip
    return Columns(number_right, unit_x, after_unit + gap if has_spread else None, strip_x, strip)


class Arrangement:
    """Lays the cells of a balance out in a width; ``cells`` are in reading order, ``height`` is what they take."""

    def __init__(
        self,
        balance: Balance,
        width: float,
        look: Appearance,
        style: NumberStyle,
        unfolded: Unfolded | None,
        reasons: Sequence[str] = (),
    ) -> None:
        self._look = look
        self._style = style
        self._left = INSET * look.unit
        self._width = width = width - 2 * self._left
        self._unfolded = unfolded
        self.columns = columns_for(balance, width, look)
        self.cells: list[Cell] = []
        self._y = 0.0
        row_height = look.measures.reading_row(len(balance.rows))
        if self.columns.is_state_below:
            row_height = max(row_height, look.px(34))
        for row in balance.rows:
            self._put("row", row.key, row, row_height)
            self._unfold(row.key)
        for gate in balance.gates:
            self._put("gate", gate.key, gate, GATE_ROW * look.unit)
            self._unfold(gate.key)
        for reason in reasons:
            self._words("", reason)
        self._y += 6 * look.unit
        self._plain(balance.plain)
        self.height = self._y

    def _put(
        self, kind: str, key: str, payload: Payload, height: float, x: float = 0.0, width: float = 0.0
    ) -> None:
        rect = QRectF(self._left + x, self._y, width or self._width, height)
        self.cells.append(Cell(kind, key, rect, payload))
        self._y += height

    def _words(self, key: str, text: str, *, is_strong: bool = False, inset: float = 0.0) -> None:
        if not text:
            return
        font = self.words_font(is_strong=is_strong)
        width = self._width - inset
        box = self._look.fonts.metrics(font).boundingRect(QRectF(0, 0, width, 1e5), int(WORDS_FLAGS), text)
        rect = QRectF(self._left + inset, self._y, width, box.height() + 4 * self._look.unit)
        self.cells.append(Cell("words", key, rect, text, is_strong))
        self._y += rect.height()

    def words_font(self, *, is_strong: bool) -> QFont:
        """The font of explaining words."""
        return self._look.fonts.header_strong if is_strong else self._look.fonts.header

    def _unfold(self, key: str) -> None:
        found = self._unfolded
        if found is None or found.key != key:
            return
        inset = 12 * self._look.unit
        self._y += 4 * self._look.unit
        self._words(key, f"{found.definition}.", inset=inset)
        self._words(key, f"= {found.formula}", inset=inset)
        for line in found.lines:
            self._put("line", key, line, LINE_ROW * self._look.unit, inset, self._width - inset)
        self._y += 4 * self._look.unit
        if found.lines:
            self._words(key, found.note, inset=inset, is_strong=True)
        self._words(key, f"Method: {found.method}. Error: {found.error}.", inset=inset)
        self._words(key, f"Source: {found.source}", inset=inset)
        for reason in found.reasons:
            self._words(key, reason, inset=inset)
        self._y += 6 * self._look.unit

    def _plain(self, rows: Sequence[PlainRow]) -> None:
        height = max(PLAIN_ROW * self._look.unit, self._look.measures.smallest_target)
        if self._width < NARROWEST_WITH_TWO_COLUMNS * self._look.unit:
            for row in rows:
                self._put("plain", row.key, row, height)
                self._unfold(row.key)
            return
        middle = self._width * 0.455
        alone = [row for row in rows if row.key in OWN_LINE_KEYS]
        rows = [row for row in rows if row.key not in OWN_LINE_KEYS]
        left = [row for row in rows if row.key in LEFT_KEYS]
        right = [row for row in rows if row.key not in LEFT_KEYS]
        wide = [row for row in right if not self._fits(row, right, self._width - middle)]
        right = [row for row in right if row not in wide]
        while len(left) > len(right) + 1 and self._is_no_wider(left[-1], right):
            right.append(left.pop())
        while len(right) > len(left) + 1:
            left.append(right.pop())
        left = [self._shortened(row, left, middle - 8) for row in left]
        for index in range(max(len(left), len(right))):
            top = self._y
            for column, x, width in ((left, 0.0, middle - 8), (right, middle, self._width - middle)):
                if index < len(column):
                    self._y = top
                    self._put("plain", column[index].key, column[index], height, x, width)
            self._y = top + height
            for column in (left, right):
                if index < len(column):
                    self._unfold(column[index].key)
        for row in (*wide, *alone):
            x = OWN_LINE_X if row in alone else 0.0
            self._put("plain", row.key, row, height, x, self._width - x)
            self._unfold(row.key)

    def _shortened(self, row: PlainRow, column: Sequence[PlainRow], width: float) -> PlainRow:
        """The row as it is, or without its ±, or with its unit alone, where the rest would reach into the next column: that
        stands in the tooltip."""
        unit, dot, also = row.tail.partition(" · ")
        bare = unit.partition("±")[0].strip()
        shorter = (
            (f"{bare}{dot}{also}", bare) if row.key in SAID_TWICE else (row.tail.partition("±")[0].strip(),)
        )
        shown = [replace(row, tail=tail) for tail in (row.tail, *shorter)]
        return next((one for one in shown if self._fits(one, column, width)), shown[-1])

    def _is_no_wider(self, row: PlainRow, column: Sequence[PlainRow]) -> bool:
        """Whether a row can join a column without pushing its figures to the right, where the words behind them end."""
        fonts = self._look.fonts
        widest = max((fonts.width(fonts.figure, one.shown_name) for one in column), default=0.0)
        return fonts.width(fonts.figure, row.shown_name) <= widest

    def _fits(self, row: PlainRow, column: Sequence[PlainRow], width: float) -> bool:
        return self.plain_number_right(column) + self._tail_width(row) <= width

    def _tail_width(self, row: PlainRow) -> float:
        fonts = self._look.fonts
        return UNIT_GAP * self._look.unit + fonts.width(fonts.header, row.tail)

    def plain_number_right(self, rows: Sequence[PlainRow]) -> float:
        """The right edge of the figures of a column of plain rows."""
        fonts = self._look.fonts
        usual = fonts.width(fonts.figure_strong, "0.000")
        name = max((fonts.width(fonts.figure, row.shown_name) for row in rows), default=0.0)
        ends = (
            fonts.width(fonts.figure, row.shown_name) + fonts.width(fonts.figure_strong, row.number)
            for row in rows
        )
        return NAME_GAP * self._look.unit + max([name + usual, *ends])

    def plain_edges(self) -> dict[float, float]:
        """For the left edge of each column of plain figures, the right edge of its figures."""
        columns: dict[float, list[PlainRow]] = {}
        for cell in self.cells:
            if isinstance(cell.payload, PlainRow):
                columns.setdefault(cell.rect.left(), []).append(cell.payload)
        return {left: self.plain_number_right(rows) for left, rows in columns.items()}

    def line_text(self, key: str, value: float | None) -> str:
        """The figure of a contribution, one place finer than its reading; a centred dot for less than that."""
        return format_contribution(value, BY_KEY[key].decimals + 1, self._style)
