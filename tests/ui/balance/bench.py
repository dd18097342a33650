"""What the window tests of the balance stand on."""

from dataclasses import dataclass

from PySide6.QtWidgets import QApplication

from washline.document.commands.lines import set_amount
from washline.document.document import Document
from washline.model.amount import millilitres
from washline.model.item import Build
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.session import Session


@dataclass(frozen=True)
class Bench:
    """A document, the bridge, the session and how everything is painted."""

    document: Document
    bridge: Bridge
    session: Session
    look: Appearance

    def build(self, name: str) -> Build:
        """A build by its name."""
        return next(one for one in self.document.book.builds.values() if one.name == name)

    def show(self, name: str) -> None:
        """Opens a build."""
        self.session.show(self.build(name).id)
        self.settle()

    def type_cordial(self, number: float) -> None:
        """Somebody types another amount of cordial into Pear Signal; nothing is written."""
        drink = self.build("Pear Signal")
        self.session.set_preview(set_amount(drink.id, drink.steps[1].id, millilitres(number)))
        self.settle()

    def settle(self) -> None:
        """Lets what waits for the event loop happen."""
        for _ in range(5):
            QApplication.processEvents()
