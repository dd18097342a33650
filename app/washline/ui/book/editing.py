"""What can be done with whole drinks, parts, raw ingredients and targets: made, renamed, copied, removed."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import QObject, Signal, Slot

from washline.document.commands import labels
from washline.document.commands.command import Command, Refusal, next_id
from washline.document.commands.copies import copy_steps, paste_steps
from washline.document.commands.items import new_drink, new_part, remove_item, rename, set_build
from washline.document.commands.raws import new_raw
from washline.document.commands.targets import new_target, remove_target, rename_target
from washline.document.commands.twisting import default_twist_name, make_twist
from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.target import Aim
from washline.presentation.book_rows import Section
from washline.problem import UserError

FIRST_AIMS = (
    Aim("strength", 10.0, 15.0, 20.0),
    Aim("sweetness", 4.0, 7.0, 10.0),
    Aim("acidity", 0.4, 0.7, 1.0),
)
"""A new target begins with three readings in wide bands, which the house then sets."""

_NEW_NAMES = {
    Section.DRINKS: "New drink",
    Section.PARTS: "New house-made part",
    Section.RAWS: "New raw ingredient",
    Section.TARGETS: "New target",
}


class BookEditing(QObject):
    """Makes the changes. ``refused`` carries why one could not be made, ``removed`` the name of what is gone,
    ``failed`` that the file could not be written."""

    refused = Signal(str)
    removed = Signal(str)
    failed = Signal(str)
    made = Signal(object, object)

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document

    @property
    def _book(self) -> HouseBook:
        return self._document.book

    def _do(self, command: Command, label: str) -> Changed | None:
        try:
            return self._document.do(command, label, self)
        except UserError as refusal:
            self.refused.emit(str(refusal))
            if not isinstance(refusal, Refusal):
                self.failed.emit(refusal.what)
            return None

    @Slot(object)
    def make_new(self, section: Section, name: str = "") -> int | None:
        """Makes something new and tells its id, so that it is shown with its name open for typing."""
        wish = name or free_name(_NEW_NAMES[section], names_in(self._book, section))
        makers: dict[Section, Callable[[], Command]] = {
            Section.DRINKS: lambda: new_drink(wish),
            Section.PARTS: lambda: new_part(wish),
            Section.RAWS: lambda: new_raw(wish),
            Section.TARGETS: lambda: new_target(wish, FIRST_AIMS),
        }
        new_id = next_id(self._book)
        if self._do(makers[section](), labels.making(wish)) is None:
            return None
        self.made.emit(section, new_id)
        return new_id

    @Slot(object, object, str)
    def rename(self, section: Section, key: int, name: str) -> None:
        """Gives another name."""
        row = row_of(self._book, section, key)
        if row is None:
            return
        command = rename_target(key, name) if section is Section.TARGETS else rename(key, name)
        self._do(command, labels.renaming(row, " ".join(name.split())))

    def duplicate(self, section: Section, key: int) -> None:
        """Makes a copy that stands by itself, with all its steps."""
        book = self._book
        if section is Section.TARGETS and key in book.targets:
            target = book.targets[key]
            name = free_name(f"{target.name} copy", names_in(book, section))
            new_id = next_id(book)
            if self._do(new_target(name, target.aims), labels.making(name)) is not None:
                self.made.emit(section, new_id)
        elif key in book.builds:
            build = book.builds[key]
            name = free_name(f"{build.name} copy", names_in(book, section))
            new_id = next_id(book)
            if self._do(duplicate_build(build, name), labels.making(name)) is not None:
                self.made.emit(section, new_id)

    def twist(self, build_id: int) -> int | None:
        """Makes a twist of a drink or part."""
        new_id = next_id(self._book)
        name = default_twist_name(self._book, build_id)
        if self._do(make_twist(build_id, name), labels.twisting(self._book, build_id)) is None:
            return None
        return new_id

    def remove(self, section: Section, key: int) -> bool:
        """Removes; refused where it is used, with the names of the users."""
        name = row_of(self._book, section, key)
        if name is None:
            return False
        command = remove_target(key) if section is Section.TARGETS else remove_item(key)
        if self._do(command, labels.removing_item(name)) is None:
            return False
        self.removed.emit(name)
        return True


def row_of(book: HouseBook, section: Section, key: int) -> str | None:
    """The name of a row, if it is there."""
    if section is Section.TARGETS:
        return book.targets[key].name if key in book.targets else None
    items: Mapping[int, Any] = book.raws if section is Section.RAWS else book.builds
    return str(items[key].name) if key in items else None


def names_in(book: HouseBook, section: Section) -> set[str]:
    """The names that are taken."""
    if section is Section.TARGETS:
        return {target.name for target in book.targets.values()}
    builds = {build.name for build in book.builds.values()}
    raws = {raw.name for raw in book.raws.values()}
    return builds | raws | {leftover.name for leftover in book.leftovers.values()}


def free_name(wish: str, taken: set[str]) -> str:
    """A name that nothing has: the wish, else with a number."""
    name, number = wish, 1
    while name in taken:
        number += 1
        name = f"{wish} {number}"
    return name


def duplicate_build(build: Build, name: str) -> Command:
    """A copy of a build under another name, its leftovers copied too, as one step."""

    def command(book: HouseBook) -> HouseBook:
        new_id = next_id(book)
        maker = new_drink if build.is_drink else new_part
        book = maker(name)(book)
        fields = {key: getattr(build, key) for key in _COPIED}
        book = set_build(new_id, **fields)(book)
        copies = copy_steps(book, build.id, [step.id for step in build.steps])
        return paste_steps(copies, new_id)(book)

    return command


_COPIED: Sequence[str] = (
    "note", "glass", "ice", "ice_g", "wash_line_ml", "target_id", "kept_at", "house_days", "bitterness", "drop_ml",
    "dash_ml", "piece_g", "pour_ml", "added_allergens", "tastes_like", "if_off",
    "may_contain", "acts_as_id", "value_per_kg", "keeps_by", "price", "labour_min", "waste_pct",
)  # fmt: skip
