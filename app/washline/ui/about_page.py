"""About: versions, licences, and the credits that the data's licences ask for."""

import platform
from importlib.metadata import PackageNotFoundError, version

from PySide6.QtCore import Qt, Signal, Slot, qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline import __version__
from washline.presentation.credits import credit_list
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.form import FormSheet

LIBRARIES = (
    "PySide6-Essentials",
    "pyqtgraph",
    "numpy",
    "pint",
    "SQLAlchemy",
    "alembic",
    "msgspec",
    "platformdirs",
)


def library_versions() -> list[tuple[str, str]]:
    """Name and version of the program, of what it runs on and of its libraries."""
    found = [("Washline", __version__), ("Python", platform.python_version()), ("Qt", qVersion() or "")]
    for name in LIBRARIES:
        try:
            found.append((name, version(name)))
        except PackageNotFoundError:
            continue
    return found


def details() -> str:
    """What to send with a report."""
    lines = [f"{name} {number}" for name, number in library_versions()]
    return "\n".join([*lines, f"System {platform.platform()}", f"Screen {QGuiApplication.platformName()}"])


class AboutPage(FormSheet):
    """``closed``: Done was pressed."""

    closed = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(look, "Washline", parent)
        self.about.setText("Composition, balance and cost of drinks made with house-made parts. MIT licence.")
        self.add_head("Versions")
        self._say("\n".join(f"{name} {number}" for name, number in library_versions()))
        self.add_head("Data and their sources")
        for credit in credit_list():
            if credit.is_data:
                self._say(credit.line)
        self.add_head("Fonts and libraries")
        for credit in credit_list():
            if not credit.is_data:
                self._say(credit.line)
        self._say(
            "Qt and PySide6 are used under the GNU Lesser General Public Licence, version 3; their source is at qt.io."
        )
        done, copying = PlainButton(look, "Done", is_first=True), PlainButton(look, "Copy details")
        done.clicked.connect(self.closed)
        copying.clicked.connect(self._copy)
        self._buttons = (done, copying)
        line = QHBoxLayout()
        line.addWidget(done)
        line.addWidget(copying)
        line.addStretch(1)
        self.rows.addSpacing(look.px(14))
        self.rows.addLayout(line)
        self.end()

    def _say(self, text: str) -> None:
        words = Words(self._look, text, style="label", wraps=True)
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._parts.append(words)
        self.rows.addWidget(words)

    @Slot()
    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(details())

    def set_appearance(self, look: Appearance) -> None:
        super().set_appearance(look)
        for button in getattr(self, "_buttons", ()):
            button.set_appearance(look)
