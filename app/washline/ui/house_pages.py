"""The sheets that are opened on demand: in the glass, batch, an alcohol-free version, where the mass went, unused
leftovers, costs, the house's own data, an ingredient from its label, and the drinks that a correction moved."""

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import QObject, Signal, Slot

from washline.document.document import Document
from washline.quantity.formatting import NumberStyle
from washline.ui.alcohol_free.view import AlcoholFreeView
from washline.ui.appearance import Appearance
from washline.ui.batch.view import BatchView
from washline.ui.bridge import Bridge
from washline.ui.costs.view import CostsView
from washline.ui.flow.unused_view import UnusedView
from washline.ui.flow.view import FlowView
from washline.ui.glass.view import GlassView
from washline.ui.house_data.view import HouseDataView
from washline.ui.ingredient.entry import IngredientEntry
from washline.ui.moved.view import MovedView
from washline.ui.session import Session

HousePage = (
    FlowView | UnusedView | CostsView | IngredientEntry | MovedView | GlassView | BatchView | AlcoholFreeView
    | HouseDataView
)  # fmt: skip


class HousePages(QObject):
    """Makes each of these sheets when it is first asked for; the one of the moved drinks is there from the start, for it
    must hear every correction.

    ``page_asked`` carries the sheet that is to be shown, ``item_asked`` the id of what one of its rows names; ``closed``
    says that the sheet was left, ``said`` carries words for the status line, ``twist_made`` the id of a drink that was made
    beside its parent.
    """

    page_asked = Signal(object)
    item_asked = Signal(int)
    new_drink_asked = Signal()
    twist_made = Signal(object)
    closed = Signal()
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        session: Session,
        look: Callable[[], Appearance],
        style: NumberStyle,
        sort_key: Callable[[str], object],
        clock: Callable[[], datetime],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._document, self._bridge, self._session = document, bridge, session
        self._look, self._style, self._sort_key, self._clock = look, style, sort_key, clock
        self.flow: FlowView | None = None
        self.unused: UnusedView | None = None
        self.costs: CostsView | None = None
        self.entry: IngredientEntry | None = None
        self.house_data: HouseDataView | None = None
        self.glass: GlassView | None = None
        self.batch: BatchView | None = None
        self.alcohol_free: AlcoholFreeView | None = None
        self.moved = MovedView(session, look(), style)
        self.moved.said.connect(self.said)
        self.moved.open_asked.connect(self._pass_on)
        self.moved.closed.connect(self.closed)

    @property
    def made(self) -> tuple[HousePage, ...]:
        """Those that are there."""
        pages = (
            self.flow, self.unused, self.costs, self.entry, self.moved, self.glass, self.batch, self.alcohol_free,
            self.house_data,
        )  # fmt: skip
        return tuple(page for page in pages if page is not None)

    @Slot()
    def show_flow(self) -> None:
        """Shows where the mass of the open drink or part went."""
        if self._session.build_id is None:
            return
        if self.flow is None:
            self.flow = FlowView(self._session, self._look(), self._style)
            self.flow.said.connect(self.said)
            self.flow.opened.connect(self.item_asked)
            self.flow.closed.connect(self.closed)
        self._show(self.flow)

    @Slot()
    def show_glass(self) -> None:
        """Shows the open drink in its glass."""
        if self.glass is None:
            self.glass = GlassView(self._session, self._look(), self._clock, self._style)
            self.glass.said.connect(self.said)
            self.glass.closed.connect(self.closed)
        self._show(self.glass)

    @Slot()
    def show_batch(self) -> None:
        """Shows how the open drink is made ahead."""
        if self.batch is None:
            self.batch = BatchView(self._session, self._look(), self._style)
            self.batch.said.connect(self.said)
            self.batch.opened.connect(self.item_asked)
            self.batch.closed.connect(self.closed)
        self._show(self.batch)

    @Slot()
    def show_alcohol_free(self) -> None:
        """Asks what takes the place of each line of the open drink that brings alcohol."""
        if self.alcohol_free is None:
            self.alcohol_free = AlcoholFreeView(self._document, self._session, self._look(), self._style)
            self.alcohol_free.said.connect(self.said)
            self.alcohol_free.made.connect(self.twist_made)
            self.alcohol_free.closed.connect(self.closed)
        self._show(self.alcohol_free)

    @Slot()
    def show_unused(self) -> None:
        """Shows the leftovers of the house that nobody takes."""
        if self.unused is None:
            self.unused = UnusedView(self._document, self._bridge, self._look(), self._style)
            self.unused.opened.connect(self.item_asked)
            self.unused.closed.connect(self.closed)
        self._show(self.unused)

    @Slot()
    def show_costs(self) -> None:
        """Shows what every drink and part costs."""
        if self.costs is None:
            self.costs = CostsView(self._document, self._bridge, self._look(), self._style, self._sort_key)
            self.costs.said.connect(self.said)
            self.costs.new_drink_asked.connect(self.new_drink_asked)
            self.costs.item_asked.connect(self._pass_on)
            self.costs.closed.connect(self.closed)
        self._show(self.costs)

    @Slot()
    def show_house_data(self) -> None:
        """Shows the glasses, methods, ice, vessels, measures and weighings of the house."""
        if self.house_data is None:
            self.house_data = HouseDataView(
                self._document, self._bridge, self._look(), self._style, self._sort_key
            )
            self.house_data.said.connect(self.said)
            self.house_data.item_asked.connect(self._pass_on)
            self.house_data.closed.connect(self.closed)
        self._show(self.house_data)

    @Slot()
    def show_entry(self) -> None:
        """Asks for an own ingredient: from its label, or from what was measured on it."""
        if self.entry is None:
            self.entry = IngredientEntry(self._document, self._look(), self._clock, self._style)
            self.entry.made.connect(self._pass_on)
            self.entry.closed.connect(self.closed)
        self.entry.start()
        self._show(self.entry)

    @Slot()
    def show_moved(self) -> None:
        """Shows which drinks the last correction moved."""
        self._show(self.moved)

    def close(self) -> None:
        """Lets go of the house book."""
        self.moved.corrections.close()

    @Slot(object)
    def _pass_on(self, item_id: int) -> None:
        self.item_asked.emit(item_id)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        for page in self.made:
            page.set_appearance(look)

    def _show(self, page: HousePage) -> None:
        self.page_asked.emit(page)
        page.focus_first()
