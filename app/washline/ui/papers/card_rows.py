"""The rows of a spec card from its head to its keeping, set for one width; which page they stand on is decided later."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFont

from washline.presentation.card import Card
from washline.presentation.card_box import READ_THE_LABELS
from washline.presentation.card_words import Pour
from washline.presentation.contains import ASK_BEFORE_SERVING, NONE_RECORDED
from washline.ui.papers.marks import FrameMark, Row, RuleMark, row_of
from washline.ui.papers.setting import Paragraph, Piece, Setter, Style

_SEMIBOLD, _BOLD = QFont.Weight.DemiBold, QFont.Weight.Bold

SMALLER_TITLES = (46.0, 38.0, 32.0)
SMALL_TITLE = 28.0
_TWO_LINES_PX = 38.0
SMALLEST_PX = 13.0
"""The smallest letters on paper, 6.5 points, as at the foot of the model card."""

GLASS_NAME = Style(20, _SEMIBOLD)
ICE = Style(20)
STAMP, STAMP_SECOND = Style(15.5, _SEMIBOLD), Style(15.5, token="ink2")
COLUMN_HEAD = Style(13.5, token="ink2")
POUR, POUR_NOTE = Style(22), Style(15, token="ink3")
ML, OZ, COUNT = Style(26, _BOLD), Style(19, token="ink2"), Style(20, _BOLD)
HEADING, HEADING_NOTE = Style(17.5, _BOLD), Style(15, token="ink2")
NUMBER, STEP = Style(18, _BOLD), Style(18.5)
CONTAINS, CONTAINS_TEXT = Style(19, _BOLD), Style(17)
UNKNOWN, UNKNOWN_TEXT = Style(19, _BOLD), Style(17)
LABEL, TEXT, TEXT_SECOND = Style(15.5, _SEMIBOLD), Style(15.5), Style(15.5, token="ink2")
BODY = Style(17.5)
SIGN, REMEDY = Style(16.5, _SEMIBOLD), Style(16.5, token="ink2")
FIGURE_LABEL, FIGURE = Style(13.5, token="ink2"), Style(19, _SEMIBOLD)
SMALL, SMALL_INK, SMALL_STRONG = Style(13.5, token="ink2"), Style(13.5), Style(13.5, _BOLD)

_TEXT_COLUMN = 116.0
_BOX_PAD = 20.0
_ML_COLUMN = 82.0
_GUTTER = 44.0
_SIGN_MOST = 170.0
_LONGEST_PARAGRAPH = 1500
"""Letters of cautions that run on in one paragraph: a longer one could not be torn between two pages."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """How wide a card is set, from 0 (tightest) to 1: the letters stay as large as they are, but for the name.

    ``gap`` multiplies the room between blocks, ``pitch`` that between lines. ``runs_on``: cautions follow one another in
    one paragraph.
    """

    width: float = 1.0
    runs_on: bool = False

    @property
    def gap(self) -> float:
        """What the room between rows is multiplied by."""
        return 0.32 + 0.68 * self.width

    @property
    def pitch(self) -> float:
        """What the distance of lines is multiplied by."""
        return 0.76 + 0.24 * self.width

    @property
    def title_px(self) -> float:
        """The largest size of the name."""
        return 46.0 + 8.0 * self.width


class CardRows:
    """Sets the rows of one card for one width and spacing."""

    def __init__(self, card: Card, width: float, setter: Setter, spacing: Spacing) -> None:
        self._card = card
        self._width = width
        self._set = setter
        self._spacing = spacing
        has_pictures = card.served is not None or card.shape is not None
        self.left_width = round(width * 0.59) if has_pictures else width
        self.right_x = self.left_width + _GUTTER

    def rows(self) -> list[Row]:
        """Every row below the head, in the order in which the card is read."""
        beside = [*self._pours(), *self._method(), *self._garnish()]
        for row in beside:
            row.is_beside = True
        boxed = list(self._box())
        for row in boxed:
            row.is_boxed = True
        boxed[0].gap = 26 * self._spacing.gap + _BOX_PAD / 2
        return [*beside, *boxed, *self._taste(), *self._figures(), *self._keeps()]

    def head(self, *, is_continued: bool = False) -> Row:
        """The name and the glass, under a rule; on further pages smaller."""
        stamps = [
            self._set.line(text, style, 21.0)
            for text, style in zip(self._card.change, (STAMP, STAMP_SECOND), strict=False)
        ]
        stamp_width = max((stamp.width for stamp in stamps), default=0.0)
        title = self._title(self._width - stamp_width - 24.0, is_continued=is_continued)
        down = 0.0 if is_continued else 10.0
        row = Row(title.height, [mark.moved(0.0, 0.0) for mark in title.marks])
        for index, stamp in enumerate(stamps):
            x = self._width - stamp.width
            row.marks += (mark.moved(x, down + index * 21.0) for mark in stamp.marks)
        row.height = max(row.height, down + 21.0 * len(stamps))
        if not is_continued:
            glass = self._set.paragraph(self._glass_words(), self._width, 26.0)
            row.marks += (mark.moved(0.0, row.height + 2.0) for mark in glass.marks)
            row.height += glass.height + 2.0
        row.height += 12.0
        row.marks.append(RuleMark(QRectF(0.0, row.height, self._width, 0.0), 2.0, "ink"))
        return row

    def _title(self, width: float, *, is_continued: bool) -> Paragraph:
        name = self._card.name
        if is_continued:
            pieces = [Piece(name, Style(SMALL_TITLE, is_serif=True)), Piece("  continued", HEADING_NOTE)]
            return self._set.paragraph(pieces, width, 0.0)
        for size in (self._spacing.title_px, *SMALLER_TITLES):
            style = Style(size, is_serif=True)
            title = self._set.paragraph([Piece(name, style)], width, 0.0)
            is_whole = all(self._set.width(word, style) <= width for word in name.split())
            if is_whole and len(title.marks) <= (1 if size > _TWO_LINES_PX else 2):
                return title
        return title

    def _glass_words(self) -> list[Piece]:
        pieces = [Piece(self._card.glass_name, GLASS_NAME)]
        if self._card.ice:
            pieces.append(Piece(f"  ·  {self._card.ice}", ICE))
        return [*pieces, Piece(f"  ·  {self._card.level}", SMALL)] if self._card.level else pieces

    def _pours(self) -> Iterator[Row]:
        right = self.left_width
        has_ml = any(pour.ml for pour in self._card.pours)
        words = self._set.line(self._card.order_words, COLUMN_HEAD)
        columns = [(0.0, words)]
        if has_ml:
            ml, oz = (self._set.line(text, COLUMN_HEAD) for text in ("ml", "oz"))
            columns += [(right - _ML_COLUMN - ml.width, ml), (right - oz.width, oz)]
        head = row_of(columns, 8 * self._spacing.gap)
        head.holds_next = True
        if not self._card.pours:
            yield row_of([(0.0, self._set.line("Nothing is poured yet.", POUR))], 8 * self._spacing.gap)
            return
        yield head
        for pour in self._card.pours:
            yield self._pour(pour)

    def _pour(self, pour: Pour) -> Row:
        right = self.left_width
        columns: list[tuple[float, Paragraph]] = []
        if pour.ml:
            ml, oz = self._set.line(pour.ml, ML), self._set.line(pour.oz, OZ)
            columns = [(right - _ML_COLUMN - ml.width, ml), (right - oz.width, oz)]
            room = right - _ML_COLUMN - max(ml.width, 62.0) - 14.0
        else:
            words = self._set.paragraph([Piece(pour.words, COUNT)], right * 0.4, 24.0, is_right=True)
            columns = [(right - right * 0.4, words)]
            room = right - words.width - 16.0
        name = self._pour_name(pour, room)
        spare = 16 * self._spacing.gap * self._spacing.pitch
        height = max(name.height + spare, *(column.height for _, column in columns), 44 * self._spacing.pitch)
        row = row_of([(0.0, name), *columns], least=height, is_middle=True)
        row.marks.append(RuleMark(QRectF(0.0, row.height, right, 0.0), 1.2, "rule2"))
        return row

    def _pour_name(self, pour: Pour, room: float) -> Paragraph:
        """The name with its note behind it, or below it where the line is too short."""
        note = " · ".join(part for part in (pour.note, pour.problem) if part)
        pitch = 26 * self._spacing.pitch
        beside = [Piece(pour.name, POUR), Piece(f"  {note}" if note else "", POUR_NOTE)]
        name, both = self._set.paragraph(beside[:1], room, pitch), self._set.paragraph(beside, room, pitch)
        if both.height <= name.height:
            return both
        return name.above(self._set.paragraph([Piece(note, POUR_NOTE)], room, 18.0))

    def _method(self) -> Iterator[Row]:
        if not self._card.method:
            return
        heading = self._set.line("Method", HEADING)
        note = self._set.paragraph([Piece(self._card.method_note, HEADING_NOTE)], self.left_width - 82, 20)
        head = row_of([(0.0, heading), (82.0, note)], 18 * self._spacing.gap)
        head.holds_next = True
        yield head
        for number, words in enumerate(self._card.method, start=1):
            numeral = self._set.line(str(number), NUMBER)
            indent = max(28.0, numeral.width + 12.0)
            text = self._set.paragraph(
                [Piece(words, STEP)], self.left_width - indent, 24 * self._spacing.pitch
            )
            yield row_of([(2.0, numeral), (indent, text)], 6 * self._spacing.gap)

    def _garnish(self) -> Iterator[Row]:
        for index, words in enumerate(self._card.garnishes):
            heading = self._set.line("" if index else "Garnish", HEADING)
            text = self._set.paragraph([Piece(words, STEP)], self.left_width - 82, 24 * self._spacing.pitch)
            yield row_of([(0.0, heading), (82.0, text)], (3 if index else 12) * self._spacing.gap)

    def _box(self) -> Iterator[Row]:
        yield self._in_box("Contains", CONTAINS, self._contained(), 25)
        unknown = self._card.box.unknown
        if unknown:
            pieces = [
                Piece(f"Unknown: {'; '.join(unknown)}.", UNKNOWN),
                Piece(f"  {READ_THE_LABELS}", UNKNOWN_TEXT),
            ]
            row = self._in_box("", CONTAINS, pieces, 25)
            row.marks.append(FrameMark(QRectF(_BOX_PAD, 3.0, 18.0, 18.0), 1.8, "?"))
            yield row
        if self._card.box.may_contain:
            yield self._in_box("May contain", LABEL, self._may_contain(), 20)
        rule = RuleMark(QRectF(_BOX_PAD, 0.0, self._width - 2 * _BOX_PAD, 0.0), 1.2, "rule2")
        yield Row(0.0, [rule], 8 * self._spacing.gap)
        wording = f"  {self._card.wording}" if self._card.wording else ""
        alcohol = [Piece(self._card.box.alcohol, TEXT), Piece(wording, SMALL)]
        yield self._in_box("Alcohol", LABEL, alcohol, 20, 7)
        if self._card.pressure:
            yield self._in_box("Pressure", LABEL, [Piece(" ".join(self._card.pressure), TEXT)], 20)
        if self._card.box.diet:
            yield self._in_box(
                "Diet", LABEL, [Piece(". ".join((*self._card.box.diet, "")).strip(), TEXT)], 20
            )
        for index, pieces in enumerate(self._cautions()):
            yield self._in_box("" if index else "Caution", LABEL, pieces, 20)
        deferral = self._set.paragraph(
            [Piece(self._card.box.deferral, SMALL)], self._width - 2 * _BOX_PAD, 16.5
        )
        yield row_of([(_BOX_PAD, deferral)], 7 * self._spacing.gap)

    def _cautions(self) -> list[list[Piece]]:
        cautions = self._card.box.cautions
        if self._spacing.runs_on and cautions:
            return [
                [Piece("  ".join(texts), TEXT)] for texts in _together(caution.text for caution in cautions)
            ]
        return [
            [Piece(caution.text, TEXT), Piece(f"  {', '.join(caution.sources)}", SMALL)]
            for caution in cautions
        ]

    def _may_contain(self) -> list[Piece]:
        """What may get in, apart from what is contained."""
        pieces: list[Piece] = []
        for index, one in enumerate(self._card.box.may_contain):
            pieces += [
                Piece("; " if index else "", TEXT),
                Piece(", ".join(one.words), LABEL),
                Piece(f" {one.ways}", TEXT),
            ]
        return [*pieces, Piece(f": {ASK_BEFORE_SERVING}.", TEXT)]

    def _contained(self) -> list[Piece]:
        groups = self._card.box.groups
        if not groups:
            return [Piece(NONE_RECORDED, CONTAINS)]
        pieces: list[Piece] = []
        for index, (words, source) in enumerate(groups):
            end = "" if index == len(groups) - 1 else "; "
            pieces += [Piece(", ".join(words), CONTAINS), Piece(f" {source}{end}", CONTAINS_TEXT)]
        return pieces

    def _in_box(
        self, label: str, label_style: Style, pieces: Sequence[Piece], pitch: float, gap: float = 4
    ) -> Row:
        heading = self._set.line(label, label_style, pitch * self._spacing.pitch)
        room = self._width - 2 * _BOX_PAD - 96.0
        text = self._set.paragraph(pieces, room, pitch * self._spacing.pitch)
        return row_of([(_BOX_PAD, heading), (_BOX_PAD + 96.0, text)], gap * self._spacing.gap)

    def _taste(self) -> Iterator[Row]:
        first = 18 * self._spacing.gap + _BOX_PAD / 2
        if self._card.tastes_like:
            heading = self._set.line("Tastes like", HEADING)
            text = self._set.paragraph(
                [Piece(self._card.tastes_like, BODY)],
                self._width - _TEXT_COLUMN,
                23 * self._spacing.pitch,
            )
            yield row_of([(0.0, heading), (_TEXT_COLUMN, text)], first)
            first = 14 * self._spacing.gap
        widths = [self._set.width(taste, SIGN) for taste, _ in self._card.signs]
        column = min(max(widths, default=0.0), _SIGN_MOST) + 20.0
        for index, (taste, remedy) in enumerate(self._card.signs):
            heading = self._set.line("" if index else "If it is off", HEADING)
            pitch = 22 * self._spacing.pitch
            sign = self._set.paragraph([Piece(taste, SIGN)], column - 16.0, pitch)
            x = _TEXT_COLUMN + column
            text = self._set.paragraph([Piece(remedy, REMEDY)], self._width - x, pitch)
            yield row_of(
                [(0.0, heading), (_TEXT_COLUMN, sign), (x, text)], 4 * self._spacing.gap if index else first
            )

    def _figures(self) -> Iterator[Row]:
        column = self._width / max(len(self._card.figures), 1)
        row = Row(0.0, [], 18 * self._spacing.gap + _BOX_PAD / 2)
        row.marks.append(RuleMark(QRectF(0.0, 0.0, self._width, 0.0), 1.6, "ink"))
        top = 9 * self._spacing.gap + 1
        for index, figure in enumerate(self._card.figures):
            y = top
            for words, style in (
                (figure.label, FIGURE_LABEL),
                (figure.value, FIGURE),
                (figure.second, FIGURE_LABEL),
            ):
                inset = 0.0 if index == 0 else 14.0
                set_text = self._set.paragraph([Piece(words, style)], column - inset - 6.0, 0.0)
                row.marks += (mark.moved(index * column + inset, y) for mark in set_text.marks)
                y += set_text.height
            row.height = max(row.height, y)
        for index in range(1, len(self._card.figures)):
            rule = QRectF(index * column, top, 0.0, row.height - top)
            row.marks.append(RuleMark(rule, 1.0, "rule"))
        yield row
        for reason in self._card.reasons:
            text = self._set.paragraph([Piece(reason, SMALL_INK)], self._width, 17.0)
            yield row_of([(0.0, text)], 3 * self._spacing.gap)

    def _keeps(self) -> Iterator[Row]:
        if not self._card.keeps:
            return
        rule = Row(0.0, [RuleMark(QRectF(0.0, 0.0, self._width, 0.0), 1.2, "rule2")], 8 * self._spacing.gap)
        rule.holds_next = True
        yield rule
        heading = self._set.line("Keeps", LABEL)
        room = self._width - _TEXT_COLUMN
        pieces = [
            Piece(" · ".join(self._card.keeps), TEXT),
            Piece(f"  {self._card.house_dates}", TEXT_SECOND),
        ]
        text = self._set.paragraph(pieces, room, 21 * self._spacing.pitch)
        yield row_of([(0.0, heading), (_TEXT_COLUMN, text)], 7 * self._spacing.gap)
        yield from self._hurdles(room)

    def _hurdles(self, room: float) -> Iterator[Row]:
        """A part's place and the hurdles beside their thresholds, with what they do not show."""
        keeping = self._card.keeping
        if keeping is None:
            return
        offered = keeping.proposal.text if keeping.proposal is not None else keeping.no_proposal
        dated = (*keeping.date.reasons, offered)
        lines = (
            ("Kept at", [Piece(keeping.kept_at, TEXT), Piece(f"  {' '.join(dated)}".rstrip(), TEXT_SECOND)]),
            ("Hurdles", [Piece(" · ".join(one.text for one in keeping.hurdles), TEXT)]),
            ("", [Piece(keeping.caution, SMALL)]),
        )
        for label, pieces in lines:
            text = self._set.paragraph(pieces, room, 19 * self._spacing.pitch)
            yield row_of([(0.0, self._set.line(label, LABEL)), (_TEXT_COLUMN, text)], 4 * self._spacing.gap)


def _together(texts: Iterable[str]) -> Iterator[list[str]]:
    """Texts in groups that are no longer than a paragraph may be."""
    group: list[str] = []
    for text in texts:
        if group and sum(map(len, group)) + len(text) > _LONGEST_PARAGRAPH:
            yield group
            group = []
        group.append(text)
    yield group
