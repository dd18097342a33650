"""What a typed text means: a command with its label and words, or what was expected instead."""

from dataclasses import dataclass

from washline.document.commands.command import Command


@dataclass(frozen=True, slots=True)
class Understood:
    """A text that means something: ``command`` carries it out, ``label`` names it for undo.

    ``meaning`` says what was understood, ``aside`` what it rests on; ``alternative`` is the other way to read it. What
    would take away the row in which it is typed ``shows`` only when it is written.
    """

    command: Command
    label: str
    meaning: str
    aside: str = ""
    alternative: "Understood | None" = None
    shows: bool = True


@dataclass(frozen=True, slots=True)
class NotUnderstood:
    """A text that means nothing here, and in one line what was expected."""

    expected: str


Edit = Understood | NotUnderstood
