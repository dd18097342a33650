"""The command line as a whole: help with examples, wrong use, exit codes, streams, and no Qt but to paint a card."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.running import Runner, in_its_own_process
from washline import __version__
from washline.cli.console import EXIT_CODES
from washline.cli.main import COMMANDS, command_parser, main_parser

NO_QT = """
import sys
from washline.__main__ import main
code = main(sys.argv[1:])
found = sorted(name for name in sys.modules if name.partition(".")[0] in ("PySide6", "shiboken6", "pyqtgraph"))
sys.stderr.write(f"QT {found}")
sys.exit(code)
"""


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_every_command_has_help_with_three_examples_and_the_exit_codes(command) -> None:  # type: ignore[no-untyped-def]
    module = command.load()
    text = command_parser(command, module).format_help()
    assert len(module.EXAMPLES) == 3
    for example in module.EXAMPLES:
        assert f"washline {command.name}" in example
        assert example in text
    for code, words in EXIT_CODES:
        assert f"{code:<5}{words}" in text
    for option in ("--book", "--quiet", "--verbose", "--help"):
        assert option in text


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_every_option_of_every_command_is_explained(command) -> None:  # type: ignore[no-untyped-def]
    parser = command_parser(command, command.load())
    assert [action.dest for action in parser._actions if not action.help] == []


def test_help_lists_every_command(washline: Runner) -> None:
    said = washline("--help")
    assert said.code == 0
    assert [command.name for command in COMMANDS if f"  {command.name} " not in said.out] == []
    assert main_parser().format_help() == said.out


@pytest.mark.parametrize(
    "words", [("compute", "-h"), ("-h", "compute"), ("compute", "x", "--json", "--help")]
)
def test_help_may_stand_anywhere(washline: Runner, words: tuple[str, ...]) -> None:
    said = washline(*words)
    assert said.code == 0
    assert said.out.startswith("usage: washline compute")


def test_version_is_printed(washline: Runner) -> None:
    assert washline("--version").out == f"washline {__version__}\n"


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("bake",),
        ("compute",),
        ("compute", "x", "--loud"),
        ("card", "Pear Signal"),
        ("--quiet",),
        ("compute", "a", "b"),
    ],
)
def test_wrong_use_says_how_it_is_used_and_exits_with_two(washline: Runner, words: tuple[str, ...]) -> None:
    said = washline(*words)
    assert said.code == 2
    assert "usage: washline" in said.err
    assert said.out == ""


def test_global_option_may_stand_before_the_command(washline: Runner) -> None:
    said = washline("--verbose", "compute", "Pear Signal")
    assert said.code == 0
    assert "in memory" in said.err


COMMAND_LINES = [
    ("compute", "Pear Signal"),
    ("compute", "Pear Signal", "--json"),
    ("check-values", "no such.csv"),
    ("check",),
    ("export", "Pear Signal", "--out", "-"),
    ("import", "no such.build.json"),
    ("--help",),
    ("card", "--help"),
]


@pytest.mark.parametrize("words", COMMAND_LINES, ids=" ".join)
def test_no_command_loads_qt(words: tuple[str, ...], own_home: dict[str, str]) -> None:
    assert own_home
    finished = in_its_own_process(*words, code=NO_QT)
    assert "QT []" in finished.stderr
    assert "Traceback" not in finished.stderr


def test_card_is_painted_without_a_display(tmp_path: Path, own_home: dict[str, str]) -> None:
    assert own_home
    finished = in_its_own_process("card", "Sloe Tide", "--out", str(tmp_path / "card.pdf"), code=NO_QT)
    assert finished.returncode == 0, finished.stderr
    assert "PySide6" in finished.stderr
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    "words", [("export", "Pear Signal", "--out", "-"), ("compute", "Pear Signal", "--json")]
)
def test_reader_that_has_gone_away_is_no_error(words: tuple[str, ...], own_home: dict[str, str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    variables = {**own_home, "PYTHONPATH": str(Path(__file__).resolve().parents[2] / "app")}
    finished = subprocess.run(
        [sys.executable, "-m", "washline", *words],
        env=variables,
        stdout=writing,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(writing)
    assert finished.returncode == 0
    assert finished.stderr == b""


def test_stopped_by_the_user_exits_with_130(washline: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_arguments: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("washline.cli.compute.readings_document", stop)
    said = washline("compute", "Pear Signal", "--json")
    assert said.code == 130
    assert "Traceback" not in said.err


def test_check_values_counts_passed_and_failed(washline: Runner, tmp_path: Path) -> None:
    file = tmp_path / "values.csv"
    # Density of water at 20 °C: 998.2071 kg/m³ (IAPWS-95, from memory).
    file.write_text(
        "quantity,inputs,value,unit,tolerance,source\nno_such_thing,T=20,998.2,kg/m3,0.1,memory\n"
    )
    said = washline("check-values", str(file))
    assert said.code == 1
    assert said.out.endswith("0 passed, 1 failed\n")
