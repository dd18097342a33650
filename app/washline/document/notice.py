"""The one notice that an edit sends out, and who listens."""

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from typing import Literal

from washline.model.change import ChangeSet


@dataclass(frozen=True, slots=True)
class Changed:
    """What an edit, or the work in the background, has changed.

    ``change_set`` holds the rows before and after (empty for ``computed``); ``items`` are the builds whose results
    changed so far; ``revision`` counts the edits of this opening; ``origin`` is whoever asked for it; ``label`` names
    the edit as the history does.
    """

    change_set: ChangeSet
    items: frozenset[int]
    revision: int
    origin: object | None
    label: str
    kind: Literal["do", "undo", "redo", "computed"]


Listener = Callable[[Changed], None]


class Notices:
    """Hands each notice to every listener, in the order in which they came."""

    def __init__(self) -> None:
        self._listeners: list[Listener] = []
        self._is_publishing = False

    def subscribe(self, listener: Listener) -> Callable[[], None]:
        """Adds a listener; the function returned takes it off again, once or more often."""
        self._listeners.append(listener)

        def unsubscribe() -> None:
            if listener in self._listeners:
                self._listeners.remove(listener)

        return unsubscribe

    def check_quiet(self) -> None:
        """Raises ``RuntimeError`` while a notice is on its way: a listener may look, but not change."""
        if self._is_publishing:
            raise RuntimeError("a listener of the document tried to change it while being told of a change")

    def publish(self, notice: Changed) -> None:
        """Tells every listener. One that fails does not keep the others from hearing it; its error is raised after."""
        self.check_quiet()
        self._is_publishing = True
        try:
            with ExitStack() as calls:
                for listener in reversed(self._listeners):
                    calls.callback(listener, notice)
        finally:
            self._is_publishing = False
