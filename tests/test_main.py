"""The one command: a window without words or with files, the console with a command."""

import subprocess
import sys

import pytest

from washline import __main__ as program
from washline import __version__

CONSOLE = """
import sys
sys.argv = ["washline", *sys.argv[1:]]
from washline.__main__ import main
code = main()
print([name for name in ("PySide6", "shiboken6", "pyqtgraph") if name in sys.modules], code)
"""


@pytest.mark.parametrize(
    "words, is_window",
    [
        ([], True),
        (["mine.housebook"], True),
        (["Mine.HouseBook", "ferry.build.json"], True),
        (["--", "odd name"], True),
        (["compute", "Pear Signal"], False),
        (["check-values", "a.csv"], False),
        (["mine.housebook", "-h"], False),
        (["--help"], False),
        (["--nonsense"], False),
    ],
)
def test_words_decide_between_window_and_console(words: list[str], is_window: bool) -> None:
    assert program.is_for_window(words) is is_window


def test_version_is_printed_wherever_it_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert program.main(["compute", "--version"]) == 0
    assert program.command_line(["--version"]) == 0
    assert capsys.readouterr().out == f"washline {__version__}\n" * 2


def test_version_loads_nothing_of_qt() -> None:
    done = subprocess.run(
        [sys.executable, "-c", CONSOLE, "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[] 0"
