"""What stands on a page besides text, and the rows of which a page is made."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QRectF

from washline.ui.papers.setting import Paragraph, TextMark


@dataclass(frozen=True, slots=True)
class RuleMark:
    """A straight line, upright or level: ``rect`` has no height or no width."""

    rect: QRectF
    thickness: float
    token: str

    def moved(self, x: float, y: float) -> "RuleMark":
        """The same further right and down."""
        return RuleMark(self.rect.translated(x, y), self.thickness, self.token)


@dataclass(frozen=True, slots=True)
class FrameMark:
    """A frame with slightly rounded corners; with a ``sign`` in it, such as ``?``, it is a mark of its own."""

    rect: QRectF
    thickness: float
    sign: str = ""

    def moved(self, x: float, y: float) -> "FrameMark":
        """The same further right and down."""
        return FrameMark(self.rect.translated(x, y), self.thickness, self.sign)


@dataclass(frozen=True, slots=True)
class PictureMark:
    """Where a picture goes: ``kind`` is glass or shape."""

    rect: QRectF
    kind: str

    def moved(self, x: float, y: float) -> "PictureMark":
        """The same further right and down."""
        return PictureMark(self.rect.translated(x, y), self.kind)


Mark = TextMark | RuleMark | FrameMark | PictureMark


@dataclass(slots=True)
class Row:
    """What is never torn apart by the end of a page. ``gap`` is the room above it, which the top of a page needs not.

    ``holds_next``: the next row belongs to it. ``is_beside``: it stands in the left column, beside the pictures.
    ``is_boxed``: it stands in the *Contains* box.
    """

    height: float
    marks: list[Mark] = field(default_factory=list)
    gap: float = 0.0
    holds_next: bool = False
    is_beside: bool = False
    is_boxed: bool = False


def row_of(
    paragraphs: Sequence[tuple[float, Paragraph]],
    gap: float = 0.0,
    least: float = 0.0,
    *,
    is_middle: bool = False,
) -> Row:
    """A row of paragraphs side by side, each at its x, their first lines on one baseline. ``least`` is its least height;
    ``is_middle`` centres each in it instead."""
    known = [(x, paragraph) for x, paragraph in paragraphs if paragraph.marks]
    base = max((paragraph.marks[0].baseline for _, paragraph in known), default=0.0)
    downs = [0.0 if is_middle else base - paragraph.marks[0].baseline for _, paragraph in known]
    height = max([least, *(down + one.height for down, (_, one) in zip(downs, known, strict=True))])
    marks: list[Mark] = []
    for baseline_down, (x, paragraph) in zip(downs, known, strict=True):
        down = (height - paragraph.height) / 2 if is_middle else baseline_down
        marks += (mark.moved(x, down) for mark in paragraph.marks)
    return Row(height, marks, gap)


def flat(marks: Iterable[Mark], x: float, y: float) -> list[Mark]:
    """Marks moved to their place on a page."""
    return [mark.moved(x, y) for mark in marks]
