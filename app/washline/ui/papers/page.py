"""The pages that a paper may have, in the pixels of the design: two of them are one point."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from PySide6.QtCore import QMarginsF
from PySide6.QtGui import QPageLayout, QPageSize

from washline.problem import UserError

PX_PER_POINT = 2.0
POINTS_PER_INCH = 72.0
PX_PER_INCH = PX_PER_POINT * POINTS_PER_INCH


@dataclass(frozen=True, slots=True)
class Page:
    """A page size: the key for files and commands, the word for people, Qt's own id."""

    key: str
    name: str
    size_id: QPageSize.PageSizeId

    @property
    def width_px(self) -> float:
        """The width in pixels of the design."""
        return QPageSize(self.size_id).sizePoints().width() * PX_PER_POINT

    @property
    def height_px(self) -> float:
        """The height in pixels of the design."""
        return QPageSize(self.size_id).sizePoints().height() * PX_PER_POINT

    def layout(self) -> QPageLayout:
        """The page upright and without margins: the drawing keeps its own."""
        none = QMarginsF(0, 0, 0, 0)
        return QPageLayout(
            QPageSize(self.size_id), QPageLayout.Orientation.Portrait, none, QPageLayout.Unit.Point, none
        )


A5 = Page("a5", "A5", QPageSize.PageSizeId.A5)
HALF_LETTER = Page("half-letter", "half letter", QPageSize.PageSizeId.Statement)
PAGES: Mapping[str, Page] = MappingProxyType({page.key: page for page in (A5, HALF_LETTER)})


def page_of(key: str) -> Page:
    """The page of a key, also as house settings write it (*half_letter*); raises ``UserError`` for another word."""
    page = PAGES.get(key.replace("_", "-"))
    if page is None:
        raise UserError(f"“{key}” is no page of a spec card.", remedy=f"Choose one of: {', '.join(PAGES)}.")
    return page
