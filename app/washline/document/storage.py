"""What the document needs of the file that it keeps its house book in."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Protocol

from washline.model.change import ChangeSet


class Entry(Protocol):
    """One entry of the journal: a change under its label, at its time (UTC)."""

    @property
    def number(self) -> int:
        """Its number, never given twice."""

    @property
    def label(self) -> str:
        """The act and its thing, as after *Undo*."""

    @property
    def when(self) -> datetime:
        """When it was made, in UTC."""

    @property
    def is_undone(self) -> bool:
        """Whether it is taken back and can be done again."""


class Storage(Protocol):
    """A house book on disk with its journal. What cannot be written raises ``UserError`` and changes nothing."""

    @property
    def path(self) -> Path:
        """Where the file is."""

    @property
    def is_read_only(self) -> bool:
        """Whether it can only be looked at."""

    @property
    def held_by(self) -> str:
        """Who has it open for writing; empty where nobody else has."""

    @property
    def why_read_only(self) -> str:
        """Why it can only be looked at, in a sentence; empty where it can be changed."""

    @property
    def position(self) -> int:
        """The number of the newest entry that is not undone."""

    @property
    def undo_entry(self) -> Entry | None:
        """The entry that the next undo takes back."""

    @property
    def redo_entry(self) -> Entry | None:
        """The entry that the next redo does again."""

    def write(
        self, change_set: ChangeSet, label: str, when: datetime, *, in_place_of: int | None = None
    ) -> Entry:
        """Writes a change and its entry of the journal in one transaction; what was undone before is forgotten.

        With ``in_place_of``, the number of the newest standing entry, that one is taken back and dropped in the same
        transaction, and ``change_set`` starts from before it.
        """

    def undo(self, when: datetime) -> tuple[Entry, ChangeSet] | None:
        """Takes the last entry back; the entry and the change that did so."""

    def redo(self, when: datetime) -> tuple[Entry, ChangeSet] | None:
        """Does the last undone entry again; the entry and the change that did so."""

    def entries(self, most: int = 200) -> Sequence[Entry]:
        """The newest entries, newest first."""

    def last_change_of_build(self, build_id: int) -> Entry | None:
        """The last entry that touched a build or its steps."""

    def backup(self) -> Path:
        """Copies the file to where backups are kept."""

    def close(self) -> None:
        """Lets go of the file."""
