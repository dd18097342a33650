"""The command line: finds the command, reads its arguments, runs it, and turns what happens into an exit code.

Only the module of the command that is wanted is loaded.
"""

import argparse
import contextlib
import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import TextIO, cast

from washline import __version__
from washline.cli.console import (
    DATA_ERROR,
    DONE,
    EXIT_CODES,
    INTERRUPTED,
    WRONG_USE,
    CommandError,
    Console,
    Module,
    Printer,
)
from washline.problem import UserError


@dataclass(frozen=True, slots=True)
class Command:
    """A command: its word, what it does in one line, how its own words stand, and the module that does it."""

    name: str
    summary: str
    module: str

    def load(self) -> Module:
        """The module of the command."""
        return cast("Module", import_module(f"washline.cli.{self.module}"))


COMMANDS = (
    Command("compute", "print the readings of a drink or house-made part", "compute"),
    Command("batch", "weigh out a drink that is made ahead", "batch"),
    Command("card", "write spec cards as PDF or PNG", "card"),
    Command("check-values", "compare computed values with those of check files", "values"),
    Command("check", "look whether a house book is whole", "integrity"),
    Command("export", "write a build file", "export"),
    Command("import", "take a build file into a house book", "take_in"),
)

EXAMPLES = (
    "washline                                      open the window",
    "washline compute 'Pear Signal' --json         the readings as JSON",
    "washline card --all --out cards               a card of every drink",
    "washline COMMAND --help                       more about one command",
)


def run(arguments: Sequence[str], printer: Printer) -> int:
    """Runs a command and returns its exit code; nothing of Qt is loaded unless ``printer`` is called."""
    _write_utf_8(sys.stdout, sys.stderr)
    console = Console(printer)
    try:
        code = _run(list(arguments), console)
        console.out.flush()
    except BrokenPipeError:
        _leave_pipe()
        return DONE
    except KeyboardInterrupt:
        console.err.write("\nstopped\n")
        return INTERRUPTED
    return code


def command_parser(command: Command, module: Module) -> argparse.ArgumentParser:
    """The parser of one command, with the options that all have."""
    parser = argparse.ArgumentParser(
        prog=f"washline {command.name}",
        description=f"{command.summary[0].upper()}{command.summary[1:]}.",
        epilog=_epilog(module.EXAMPLES),
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    module.declare(parser)
    _add_common(parser)
    return parser


def main_parser() -> argparse.ArgumentParser:
    """The parser that stands for the program as a whole: it knows how to say what there is."""
    listed = "\n".join(f"  {command.name:<14}{command.summary}" for command in COMMANDS)
    parser = argparse.ArgumentParser(
        prog="washline",
        usage="washline [COMMAND] [ARGUMENTS] [--book FILE]",
        description=f"Without a command, opens the window.\n\ncommands:\n{listed}",
        epilog=_epilog(EXAMPLES),
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"washline {__version__}")
    _add_common(parser)
    return parser


def _run(words: list[str], console: Console) -> int:
    place = _place_of_command(words)
    try:
        if place is None:
            return _without_command(words, console)
        command = next((one for one in COMMANDS if one.name == words[place]), None)
        if command is None:
            main_parser().error(f"there is no command “{words[place]}”")
        module = command.load()
        parser = command_parser(command, module)
        options = parser.parse_args([*words[:place], *words[place + 1 :]])
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else WRONG_USE
    console.is_quiet, console.is_verbose = options.quiet, options.verbose
    try:
        return module.run(options, console)
    except CommandError as failure:
        console.complain(failure)
        return failure.exit_code
    except UserError as error:
        console.complain(error)
        return DATA_ERROR


def _without_command(words: Sequence[str], console: Console) -> int:
    parser = main_parser()
    parser.parse_args(words)
    console.err.write(parser.format_usage())
    console.err.write("washline: a command is missing; --help lists them\n")
    return WRONG_USE


def _place_of_command(words: Sequence[str]) -> int | None:
    """Where the first word stands that is neither an option nor the file of ``--book``."""
    is_value = False
    for place, word in enumerate(words):
        if is_value:
            is_value = False
        elif word == "--book":
            is_value = True
        elif not word.startswith("-"):
            return place
    return None


def _add_common(parser: argparse.ArgumentParser) -> None:
    common = parser.add_argument_group("options that every command has")
    common.add_argument(
        "--book", metavar="FILE", help="the house book; else the one opened last, else the demo house"
    )
    loudness = common.add_mutually_exclusive_group()
    loudness.add_argument("--quiet", action="store_true", help="say nothing but results and errors")
    loudness.add_argument("--verbose", action="store_true", help="say what is used and done")


def _epilog(examples: Sequence[str]) -> str:
    lines = ["examples:", *(f"  {example}" for example in examples), "", "exit codes:"]
    lines += [f"  {code:<5}{words}" for code, words in EXIT_CODES]
    return "\n".join(lines)


def _write_utf_8(*streams: TextIO) -> None:
    """A redirected console may want an older encoding, which lacks a true minus."""
    for stream in streams:
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None and (stream.encoding or "").lower().replace("-", "") != "utf8":
            reconfigure(encoding="utf-8")


def _leave_pipe() -> None:
    """The reader has gone: what Python would still write at its end goes nowhere."""
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
