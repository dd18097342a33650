"""Paints one row of the build: spine and mark, name and note, amount, contributions with share bars, and its state."""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen, QPixmap

from washline.presentation.build_rows import BuildRow, Tone
from washline.presentation.row_words import AmountState, RowKind
from washline.quantity.formatting import LESS_THAN_LAST_DIGIT, UNKNOWN
from washline.ui.build.columns import ACIDS, AMOUNT, COLUMN_COUNT, ETHANOL, FIRST_FIGURE, NAME, SUGARS, UNIT
from washline.ui.build.drafts import Draft
from washline.ui.build.look import CHEVRON_WIDTH, INDENT, NAME_X, SPINE_X, UNIT_GAP, Columns, Look
from washline.ui.draw.marks import (
    SQUARE_GAP,
    STEP_GAP,
    draw_error_ring,
    draw_focus_ring,
    draw_line_dot,
    draw_moved_line,
    draw_part_square,
    draw_row_spine,
    draw_served_foot,
    draw_spine,
    draw_weighed_line,
)
from washline.ui.draw.pens import on_pixel
from washline.ui.draw.share_bar import BAR_HEIGHT, WHOLE_COLUMN_PX, draw_weight_scale
from washline.ui.draw.texts import Texts
from washline.ui.icons import STEP_ICONS, draw_icon
from washline.ui.measures import RULE_PX, SHEET_MARGIN_PX

_MARK_ICONS: dict[RowKind, str] = {
    RowKind.INFUSE: "infuse",
    RowKind.MUDDLE: "muddle",
    RowKind.WASH: "wash",
    RowKind.FERMENT: "ferment",
    RowKind.ADJUST: "adjust",
    RowKind.MEASURE: STEP_ICONS["measure"],
    RowKind.BLEND: STEP_ICONS["blend"],
    RowKind.REST: STEP_ICONS["rest"],
    RowKind.NOTE: STEP_ICONS["note"],
    RowKind.STRAIN: STEP_ICONS["strain"],
    RowKind.HEAT: STEP_ICONS["heat"],
    RowKind.REDUCE: STEP_ICONS["reduce"],
    RowKind.DRY: STEP_ICONS["dry"],
    RowKind.TAKE: STEP_ICONS["take"],
    RowKind.CHILL: STEP_ICONS["chill"],
    RowKind.BAR_STRAIN: "strain-glass",
    RowKind.RINSE: "rinse",
    RowKind.SMOKE: "smoke",
    RowKind.CARBONATE: "carbonate",
    RowKind.TOP: STEP_ICONS["top"],
    RowKind.FLOAT: "float",
    RowKind.RIM: "rim",
    RowKind.EXPRESS: "express",
    RowKind.GARNISH: STEP_ICONS["garnish"],
    RowKind.LEFTOVER: STEP_ICONS["left over"],
    RowKind.BOTTLE: STEP_ICONS["bottle"],
    RowKind.NEW_LINE: "add",
}
_BAR_TOKENS = {SUGARS: "sugar", ACIDS: "acid", ETHANOL: "ethanol"}
_GAP = 10.0
_ALERT_ROOM = 20.0
_DETAIL_INDENT = 16.0
_DETAIL_CHEVRON = 5.0
_WIDE_VALUE = 64.0


@dataclass(frozen=True, slots=True)
class RowState:
    """What is true of a row at the moment it is painted."""

    is_current: bool = False
    is_selected: bool = False
    is_hovered: bool = False
    is_first: bool = False
    is_last: bool = False
    is_open: bool = False
    focus_column: int | None = None
    editing_column: int | None = None
    moved: frozenset[int] = frozenset()
    draft: Draft | None = None
    draft_column: int = AMOUNT


class RowPainter:
    """Paints rows with one look; texts and marks are laid out once and kept."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self._texts = Texts(look.fonts)
        self._marks: dict[tuple[object, ...], QPixmap] = {}
        self._ratio = 1.0
        self._rights_of: Columns | None = None
        self._rights: tuple[float, ...] = ()
        self._bar_gap, self._bar_height = look.px(1.4), BAR_HEIGHT * look.unit
        self._bar_whole = WHOLE_COLUMN_PX * look.unit
        self._bar_colours = [
            look.theme.colour(_BAR_TOKENS.get(column, "ink2")) for column in range(COLUMN_COUNT)
        ]
        self._name = look.fonts.row
        self._strong = look.fonts.row_strong
        self._estimated = look.fonts.row_estimated
        self._figure = look.fonts.figure
        self._figure_strong = look.fonts.figure_strong
        self._quiet = look.fonts.header
        self._words = look.fonts.header_strong
        self._cap_height = look.fonts.metrics(self._name).capHeight()

    def name_left(self, row: BuildRow) -> float:
        """Where the name of a row begins."""
        left = NAME_X + INDENT * row.depth + (_DETAIL_INDENT if row.detail is not None else 0.0)
        return self.look.px(left + CHEVRON_WIDTH) if row.can_open else self.look.px(left)

    def chevron_rect(self, row: BuildRow, top: float, height: float) -> QRectF:
        """Where a part, or the details of a step, are opened with the pointer: at least 24 px wide."""
        width = self.look.measures.smallest_target
        beside = -_DETAIL_CHEVRON if row.has_details else CHEVRON_WIDTH / 2
        middle = self.look.px(NAME_X + INDENT * row.depth + beside)
        return QRectF(middle - width / 2 - self.look.px(2), top, width, height)

    def paint_row(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns, shown: QRectF
    ) -> None:
        """Paints a row over the whole width of ``rect``; what lies outside ``shown`` may be left out."""
        self._ratio = painter.device().devicePixelRatioF()
        self.paint_ground(painter, rect, row, state)
        if shown.left() < columns.rights[NAME]:
            self._paint_spine(painter, rect, row, state)
            self._paint_details_mark(painter, rect, row, state)
        reaches_far = _is_sentence(row)
        for column in (NAME, AMOUNT, UNIT):
            right = rect.right() if reaches_far and column == AMOUNT else columns.rights[column]
            if right >= shown.left() and columns.lefts[column] <= shown.right():
                self.paint_cell(painter, rect, row, state, columns, column)
        if row.figures and not row.is_left_out and shown.right() > columns.rights[UNIT]:
            self._paint_figures(painter, rect, row, state, columns, range(FIRST_FIGURE, COLUMN_COUNT))
        self._paint_remark(painter, rect, row, state, columns)
        self._paint_rings(painter, rect, row, state, columns)

    def paint_ground(self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState) -> None:
        """The tint, the bar of the current row, and the rule under the row."""
        theme = self.look.theme
        if state.is_selected or state.is_current:
            painter.fillRect(rect, theme.select)
        elif state.is_hovered:
            painter.fillRect(rect, theme.hover)
        elif row.depth or row.detail is not None:
            painter.fillRect(rect, theme.inner)
        if state.is_current:
            painter.fillRect(QRectF(rect.left(), rect.top(), self.look.px(3), rect.height()), theme.ink)
        if row.kind is RowKind.SERVED or (row.kind is RowKind.BOTTLE and not row.depth):
            painter.fillRect(QRectF(rect.left(), rect.top(), rect.width(), self.look.px(RULE_PX)), theme.ink)
            return
        left = self.look.px(NAME_X + INDENT * row.depth)
        thin = 1.0 / self._ratio
        painter.fillRect(QRectF(left, rect.bottom() - thin, rect.right() - left, thin), theme.rule)

    def _paint_details_mark(self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState) -> None:
        """What says that a step can be unfolded: only where somebody looks, for every step has something to unfold."""
        if row.has_details and (state.is_open or state.is_current or state.is_hovered):
            x = self.look.px(NAME_X + INDENT * row.depth - _DETAIL_CHEVRON)
            icon = "chevron-down" if state.is_open else "chevron-right"
            self._paint_icon(painter, x, rect.center().y(), icon, "ink2")

    def _paint_spine(self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState) -> None:
        """The spines and the mark of a row: drawn once for each kind of row, and kept as a picture."""
        key = (row.kind, row.depth, row.can_open, state.is_open, state.is_first, rect.height(), self._ratio)
        picture = self._marks.get(key)
        if picture is None:
            width = self.look.px(NAME_X + INDENT * row.depth + CHEVRON_WIDTH)
            picture = QPixmap(round(width * self._ratio), round(rect.height() * self._ratio))
            picture.setDevicePixelRatio(self._ratio)
            picture.fill(Qt.GlobalColor.transparent)
            inner = QPainter(picture)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing, True)
            self._paint_marks(inner, QRectF(0.0, 0.0, rect.width(), rect.height()), row, state)
            inner.end()
            self._marks[key] = picture
        painter.drawPixmap(rect.topLeft(), picture)

    def _paint_marks(self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState) -> None:
        theme, unit, depth = self.look.theme, self.look.unit, row.depth
        for level in range(depth):
            x = self.look.px(SPINE_X + INDENT * level)
            draw_spine(painter, x, rect.top(), rect.bottom(), theme, unit, is_inner=level > 0)
        x, y = self.look.px(SPINE_X + INDENT * depth), rect.center().y()
        is_inner = depth > 0
        if row.kind is RowKind.SERVED:
            draw_served_foot(painter, x, rect, theme, unit)
            return
        is_dot = row.kind is RowKind.LINE
        gap = (
            0.0
            if is_dot or row.kind is RowKind.DETAIL
            else SQUARE_GAP
            if row.kind is RowKind.PART
            else STEP_GAP
        )
        draw_row_spine(
            painter, x, rect, theme, unit,
            is_first=state.is_first and not is_inner, is_last=row.kind is RowKind.BOTTLE, gap=gap, is_inner=is_inner,
        )  # fmt: skip
        if is_dot:
            draw_line_dot(painter, x, y, theme, unit, is_inner=is_inner)
        elif row.kind is RowKind.PART:
            draw_part_square(painter, x, y, theme, unit)
        elif row.kind is not RowKind.DETAIL:
            token = "ink3" if row.kind is RowKind.NEW_LINE else "ink2" if is_inner else "ink"
            self._paint_icon(painter, x, y, _MARK_ICONS[row.kind], token)
        if row.can_open:
            self._paint_icon(
                painter,
                self.look.px(NAME_X + INDENT * depth + CHEVRON_WIDTH / 2 - 3),
                y,
                "chevron-down" if state.is_open else "chevron-right",
                "ink2",
            )

    def _paint_icon(self, painter: QPainter, x: float, y: float, icon: str, token: str) -> None:
        colour = self.look.theme.colour(token)
        ratio = self._ratio
        side = self.look.px(14)
        key = (icon, colour.rgba(), ratio)
        pixmap = self._marks.get(key)
        if pixmap is None:
            pixels = max(1, round(side * ratio))
            pixmap = QPixmap(pixels, pixels)
            pixmap.setDevicePixelRatio(ratio)
            pixmap.fill(Qt.GlobalColor.transparent)
            inner = QPainter(pixmap)
            draw_icon(inner, QRectF(0, 0, pixels / ratio, pixels / ratio), icon, colour)
            inner.end()
            self._marks[key] = pixmap
        # On a whole device pixel the strokes stay as sharp as they were drawn.
        left, top = round((x - side / 2) * ratio) / ratio, round((y - side / 2) * ratio) / ratio
        painter.drawPixmap(QPointF(left, top), pixmap)

    def paint_cell(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns, column: int
    ) -> None:
        """Paints one cell of a row; a cell that is being edited is left to its editor."""
        if columns.is_folded(column) or state.editing_column == column:
            return
        if column == NAME:
            self._paint_name(painter, rect, row, state, columns)
        elif column == AMOUNT:
            self._paint_amount(painter, rect, row, state, columns)
        elif column == UNIT:
            if state.editing_column != AMOUNT and not (state.draft and state.draft_column == AMOUNT):
                self._paint_unit(painter, rect, row, columns)
        elif row.figures and not row.is_left_out:
            self._paint_figures(painter, rect, row, state, columns, range(column, column + 1))

    def _paint_name(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns
    ) -> None:
        theme = self.look.theme
        left, right = self.name_left(row), self._name_right(row, state, columns)
        is_weighed = row.kind is RowKind.STRAIN and row.amount_state is AmountState.WEIGHED
        is_foot = row.kind is RowKind.SERVED or (row.kind is RowKind.BOTTLE and not row.depth)
        is_strong = state.is_open or is_weighed or is_foot
        font = self._strong if is_strong else self._name
        if row.detail is not None:
            font = self._quiet if not row.detail.item_id else self._name
        colour = (
            theme.ink2
            if row.detail is not None and not row.detail.item_id
            else theme.ink3
            if row.is_left_out or (row.kind is RowKind.NEW_LINE and row.item_id is None)
            else theme.ink
        )
        text = row.name
        if state.draft and state.draft_column == NAME:
            text, colour = state.draft.text, theme.alert
            left += self.look.px(_ALERT_ROOM)
        baseline = self._baseline(rect)
        end = self._text(painter, left, baseline, text, font, colour, right)
        if row.is_left_out:
            self._strike(painter, left, end, rect)
        self._paint_note(painter, end + self.look.px(_GAP), right, baseline, row, state)

    def _name_right(self, row: BuildRow, state: RowState, columns: Columns) -> float:
        """Names and notes reach as far as the amount leaves room."""
        if state.editing_column == AMOUNT or state.draft is not None:
            return columns.rights[NAME] - self.look.px(4)
        if row.detail is not None and row.detail.is_wide:
            return self._wide_left(columns) - self.look.px(8)
        if not row.amount:
            return columns.rights[UNIT] if not row.unit else columns.rights[NAME]
        width = self._texts.laid_out(row.amount, self._strong).width
        return columns.rights[AMOUNT] - self.look.px(UNIT_GAP) - width - self.look.px(12)

    def _paint_note(
        self, painter: QPainter, left: float, right: float, baseline: float, row: BuildRow, state: RowState
    ) -> None:
        theme = self.look.theme
        if right - left < self.look.px(20):
            return
        if row.note:
            colour = theme.drink if row.note_tone is Tone.OUT else theme.ink3
            font = self._words if row.note_tone is Tone.OUT else self._quiet
            left = self._text(painter, left, baseline, row.note, font, colour, right) + self.look.px(_GAP)
        if row.goes_to and right - left > self.look.px(40):
            middle = baseline - self._texts.metrics(self._quiet).xHeight() / 2
            self._paint_icon(painter, left + self.look.px(7), middle, "arrow-right", "ink2")
            self._text(
                painter, left + self.look.px(18), baseline, row.goes_to, self._words, theme.ink2, right
            )

    def _strike(self, painter: QPainter, left: float, right: float, rect: QRectF) -> None:
        y = on_pixel(painter, rect.center().y() + self.look.px(0.5))
        painter.setPen(QPen(self.look.theme.ink3, self.look.px(1.2)))
        painter.drawLine(QLineF(left, y, right, y))

    def _paint_amount(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns
    ) -> None:
        theme = self.look.theme
        right = columns.rights[AMOUNT] - self.look.px(UNIT_GAP)
        if state.draft and state.draft_column == AMOUNT:
            room = right - columns.lefts[AMOUNT] - self.look.px(24)
            text = self._texts.elided(state.draft.text, self._strong, max(room, self.look.px(20)))
            self._right(painter, right, self._baseline(rect), text, self._strong, theme.ink)
            return
        if not row.amount:
            return
        if row.detail is not None and row.detail.is_wide:
            self._paint_words(painter, rect, row, state, columns)
            return
        font = self._estimated if row.amount_state is AmountState.ESTIMATED else self._strong
        colour = theme.ink3 if row.is_left_out else theme.ink
        if AMOUNT in state.moved:
            font, colour = self._strong, theme.preview
        baseline = self._baseline(rect)
        left = self._right(painter, right, baseline, row.amount, font, colour)
        below = baseline + self.look.px(3.5)
        if AMOUNT in state.moved:
            draw_moved_line(painter, left, right, below, theme, self.look.unit)
        elif row.amount_state is AmountState.WEIGHED and row.kind is RowKind.STRAIN:
            draw_weighed_line(painter, left, right, below - self.look.px(0.7), theme, self.look.unit)

    def _wide_left(self, columns: Columns) -> float:
        """Where the words of a detail begin: they need the room of words."""
        return columns.rights[NAME] - self.look.px(_WIDE_VALUE)

    def _paint_words(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns
    ) -> None:
        theme = self.look.theme
        has_moved = AMOUNT in state.moved
        left, baseline = self._wide_left(columns) + self.look.px(5), self._baseline(rect)
        font = self._strong if has_moved else self._name
        colour = theme.preview if has_moved else theme.ink
        right = rect.right() - self.look.px(SHEET_MARGIN_PX) if _is_sentence(row) else columns.rights[UNIT]
        end = self._text(painter, left, baseline, row.amount, font, colour, right)
        if has_moved:
            draw_moved_line(painter, left, end, baseline + self.look.px(3.5), theme, self.look.unit)

    def _paint_unit(self, painter: QPainter, rect: QRectF, row: BuildRow, columns: Columns) -> None:
        if row.unit:
            # Where no contributions follow, a range may reach as far as the scale beside it.
            room = -4 if any(figure.text for figure in row.figures) else 32
            self._text(
                painter, columns.lefts[UNIT], self._baseline(rect), row.unit, self._quiet, self.look.theme.ink2,
                columns.rights[UNIT] + self.look.px(room),
            )  # fmt: skip

    def figure_rights(self, columns: Columns) -> tuple[float, ...]:
        """The right edge of the figures of each column; the last one shown ends at the margin of the sheet."""
        if self._rights_of is not columns:
            shown = [column for column in range(COLUMN_COUNT) if not columns.is_folded(column)]
            margin = self.look.px(SHEET_MARGIN_PX)
            rights = [
                right - (margin if column == shown[-1] else 0.0)
                for column, right in enumerate(columns.rights)
            ]
            self._rights_of, self._rights = columns, tuple(rights)
        return self._rights

    def _paint_figures(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns, shown: range
    ) -> None:
        """The contributions of a row. Every key repaints this for many rows, so that nothing is worked out twice."""
        theme, baseline = self.look.theme, self._baseline(rect)
        is_total = row.kind is RowKind.SERVED or (row.kind is RowKind.BOTTLE and not row.depth)
        rights = self.figure_rights(columns)
        foot = self._on_edge(rect.bottom() - self._bar_gap)
        top = self._on_edge(rect.bottom() - self._bar_gap - self._bar_height)
        plain = theme.ink2 if row.depth else theme.ink
        for column in shown:
            figure, right = row.figures[column - FIRST_FIGURE], rights[column]
            if columns.is_folded(column):
                continue
            if figure.share > 0.0 and not is_total:
                left, end = self._on_edge(right - self._bar_whole * figure.share), self._on_edge(right)
                width = max(end - left, 1.0 / self._ratio)
                painter.fillRect(QRectF(left, top, width, foot - top), self._bar_colours[column])
            if not figure.text:
                continue
            has_moved = column in state.moved
            is_strong = is_total or has_moved or figure.text == UNKNOWN
            font = self._figure_strong if is_strong else self._figure
            left = self._right(
                painter, right, baseline, figure.text, font, theme.preview if has_moved else plain
            )
            if has_moved and figure.text != LESS_THAN_LAST_DIGIT:
                draw_moved_line(painter, left, right, baseline + self.look.px(3.5), theme, self.look.unit)

    def _on_edge(self, place: float) -> float:
        return round(place * self._ratio) / self._ratio

    def _paint_remark(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns
    ) -> None:
        theme = self.look.theme
        left, right = columns.rights[UNIT], rect.right() - self.look.px(SHEET_MARGIN_PX)
        trouble = state.draft.expected if state.draft else row.problem
        if trouble and state.editing_column is None:
            has_name_draft = state.draft is not None and state.draft_column == NAME
            self._paint_trouble(painter, rect, trouble, columns, right, is_behind_name=has_name_draft)
            return
        if row.is_left_out:
            return
        words_left = left
        if row.scale is not None and right - left > self.look.px(120):
            box = QRectF(left + self.look.px(36), rect.top(), self.look.px(130), rect.height())
            draw_weight_scale(painter, box, row.scale, theme, self.look.unit)
            words_left = box.right() + self.look.px(12)
        if row.remark and not any(figure.text for figure in row.figures):
            text = self._texts.elided(row.remark, self._quiet, right - words_left)
            self._right(painter, right, self._baseline(rect), text, self._quiet, theme.ink2)

    def _paint_trouble(
        self,
        painter: QPainter,
        rect: QRectF,
        trouble: str,
        columns: Columns,
        right: float,
        *,
        is_behind_name: bool = False,
    ) -> None:
        """One line of what is wrong, over the contributions, which mean nothing until it is put right."""
        theme = self.look.theme
        left = columns.rights[UNIT] - self.look.px(20)
        if is_behind_name or right - left < self.look.px(120):
            left = columns.lefts[AMOUNT]
        ground = QRectF(left, rect.top() + 1, rect.right() - left, rect.height() - 2)
        painter.fillRect(ground, theme.sheet)
        self._paint_icon(painter, left + self.look.px(8), rect.center().y(), "alert", "alert")
        self._text(
            painter, left + self.look.px(20), self._baseline(rect), trouble, self._words, theme.alert, right
        )

    def _paint_rings(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, columns: Columns
    ) -> None:
        theme, unit = self.look.theme, self.look.unit
        if state.editing_column is not None:
            return
        if state.draft is not None:
            draw_error_ring(painter, self.cell_box(rect, row, columns, state.draft_column), theme, unit)
        if state.focus_column is not None and (
            state.draft is None or state.focus_column != state.draft_column
        ):
            box = self.cell_box(rect, row, columns, state.focus_column)
            is_wide = row.detail is not None and row.detail.is_wide
            if state.focus_column in (AMOUNT, UNIT) and row.amount and not is_wide:
                # A long name reaches close to its amount: the ring keeps to the figures.
                width = self._texts.laid_out(row.amount, self._strong).width
                box.setLeft(columns.rights[AMOUNT] - self.look.px(UNIT_GAP + 8) - width)
            draw_focus_ring(painter, box, theme, unit)

    def cell_box(self, rect: QRectF, row: BuildRow, columns: Columns, column: int) -> QRectF:
        """The box of a cell that is ringed or edited."""
        unit = self.look.unit
        if column in (AMOUNT, UNIT) and row.detail is not None and row.detail.is_wide:
            left = self._wide_left(columns)
            return QRectF(left, rect.top(), columns.rights[UNIT] - left, rect.height() - 1)
        if column in (AMOUNT, UNIT):
            return columns.amount_cell(rect.top(), rect.height() - 1, unit)
        if column == NAME:
            left = self.name_left(row) - 4 * unit
            return QRectF(left, rect.top(), columns.rights[NAME] - left - 2 * unit, rect.height() - 1)
        right = self.figure_rights(columns)[column] + 5 * unit
        return QRectF(right - self.look.px(62), rect.top(), self.look.px(62), rect.height() - 1)

    def _baseline(self, rect: QRectF) -> float:
        # Cap height is what looks centred; a descender may hang.
        return rect.top() + (rect.height() + self._cap_height) / 2 - self.look.px(0.5)

    def _text(
        self,
        painter: QPainter,
        left: float,
        baseline: float,
        text: str,
        font: QFont,
        colour: QColor,
        right: float,
    ) -> float:
        """Draws a text from ``left``, elided at ``right``; where it ends."""
        shown = self._texts.elided(text, font, right - left)
        return left + self._texts.draw(painter, left, baseline, shown, font, colour)

    def _right(
        self, painter: QPainter, right: float, baseline: float, text: str, font: QFont, colour: QColor
    ) -> float:
        """Draws a text that ends at ``right``; where it begins."""
        left = right - self._texts.laid_out(text, font).width
        self._texts.draw(painter, left, baseline, text, font, colour)
        return left


def _is_sentence(row: BuildRow) -> bool:
    """Whether a detail is words that nobody types and nothing stands behind: they may reach to the margin."""
    detail = row.detail
    return detail is not None and detail.is_wide and not detail.can_edit and not row.remark
