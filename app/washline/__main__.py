"""Washline: ``washline`` opens the window, ``washline COMMAND`` stays in the console.

Exit codes: 0 all went well · 1 something was wrong with the data, said on stderr · 2 wrong use. Commands add codes of
their own, see ``washline --help``.
"""

import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from washline import __version__

if TYPE_CHECKING:
    from washline.presentation.card import Card
    from washline.problem import UserError

ENDINGS = (".housebook", ".build.json")


def main(arguments: Sequence[str] | None = None) -> int:
    """Opens the window; with a command, stays in the console."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    if "--version" in words:
        return _say_version()
    if is_for_window(words):
        from washline.ui.application import run

        return run([Path(word) for word in words if word != "--"])
    return _run_command(words)


def command_line(arguments: Sequence[str] | None = None) -> int:
    """Runs a command and never opens the window; without one it says how it is used."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    return _say_version() if "--version" in words else _run_command(words or ["--help"])


def is_for_window(words: Sequence[str]) -> bool:
    """Whether the words name no command: nothing at all, or only files to open."""
    if any(word in ("-h", "--help") for word in words):
        return False
    files = [word for word in words if word != "--"]
    return all(word.lower().endswith(ENDINGS) or ("--" in words and word) for word in files)


def _say_version() -> int:
    sys.stdout.write(f"washline {__version__}\n")
    return 0


def _run_command(words: Sequence[str]) -> int:
    from washline.cli.main import run

    return run(words, _paint_cards)


def _paint_cards(
    cards: "Iterable[tuple[Card, Path]]",
    page: str,
    dpi: int,
    after: "Callable[[Path, int | UserError], None] | None",
) -> None:
    """Hands cards to the painter; Qt is loaded here and nowhere else on the command line."""
    from washline.ui.papers.printing import print_card

    print_card(cards, page, dpi, after)


if __name__ == "__main__":
    sys.exit(main())
