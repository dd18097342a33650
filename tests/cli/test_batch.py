"""``batch``: the weigh-out of a drink made ahead, as a table and as CSV. Figures: DEMO 2.8, worked out there by hand."""

import csv
import io

import pytest

from tests.cli.running import FakePrinter
from washline.cli import batch
from washline.cli.console import DATA_ERROR, DONE, WRONG_USE, CommandError, Console
from washline.cli.main import Command, command_parser
from washline.document.commands.command import Refusal
from washline.problem import UserError


def answered(*words: str) -> tuple[int, str, str]:
    """Exit code, result, and what was said beside it."""
    parser = command_parser(Command("batch", "weigh out a drink that is made ahead", "batch"), batch)
    out, err = io.StringIO(), io.StringIO()
    code = batch.run(parser.parse_args(words), Console(FakePrinter(), out, err))
    return code, out.getvalue(), err.getvalue()


def test_saltings_for_ten_as_a_table() -> None:
    code, out, err = answered("Saltings", "--serves", "10", "--salt", "100", "--round", "0.1")
    lines = out.splitlines()
    assert (code, err) == (DONE, "")
    assert lines[0] == "Saltings, batch"
    weighed = next(line for line in lines if line.startswith("weighed in all"))
    assert weighed.split()[-2:] == ["811.5", "811.5"]
    assert "stays liquid and pours" in out


def test_saltings_as_csv_has_plain_numbers() -> None:
    code, out, _err = answered("Saltings", "--serves", "40", "--round", "0.1", "--csv")
    rows = list(csv.reader(io.StringIO(out)))
    gin = next(row for row in rows if row and row[0].startswith("Dry gin"))
    assert code == DONE
    assert float(gin[5]) == pytest.approx(4 * 561.5, abs=0.4)


def test_vessels_are_filled() -> None:
    _code, out, _err = answered(
        "Drift", "--vessel", "spirit-bottle-700", "--count", "2", "--service", "fridge"
    )
    assert "2 × " in out
    assert "from the fridge" in out


def test_citrus_and_fizz_go_where_they_are_sent() -> None:
    _code, kept, _err = answered("Sloe Tide", "--citrus-at-service", "--service", "fridge")
    assert "lemon juice, ours (breakdown), citrus" in kept
    _code, poured, _err = answered("Pear Signal", "--fizz-in", "--service", "fridge")
    assert "its gas leaves" in poured


def test_a_vessel_of_unknown_rating_is_said_and_is_an_error() -> None:
    code, out, err = answered("Drift", "--service", "carbonated")
    assert code == DATA_ERROR
    assert "Cannot be made so" in out
    assert "Drift" in err


def test_of_a_part_there_is_no_batch() -> None:
    with pytest.raises(CommandError) as refused:
        answered("bay tincture")
    assert refused.value.exit_code == WRONG_USE


def test_a_vessel_that_is_not_there_is_refused() -> None:
    with pytest.raises(Refusal, match="no vessel"):
        answered("Drift", "--vessel", "amphora", "--count", "2")


def test_no_serves_are_refused() -> None:
    with pytest.raises(UserError, match="cannot be made"):
        answered("Drift", "--serves", "0")
