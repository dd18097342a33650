"""Tables are read cell by cell; what is wrong is told with file, line and column."""

from collections.abc import Callable
from pathlib import Path

import pytest

from washline.exchange.table import CellProblem, TableRow, read_table


def row(**cells: str) -> TableRow:
    return TableRow("some.csv", 7, cells)


def words(of: TableRow) -> list[str]:
    return [problem.words for problem in of.problems]


def test_a_number_is_read() -> None:
    assert row(mass=" 12.5 ").number("mass") == 12.5


def test_a_blank_is_not_known_and_no_problem() -> None:
    cells = row(mass=" ")
    assert cells.number("mass") is None
    assert cells.is_good


def test_a_blank_that_must_not_be_is_a_problem() -> None:
    cells = row(mass="", name=" ")
    cells.needed_number("mass")
    cells.name("name")
    assert words(cells) == ["expected a number, the cell is blank", "expected a text, the cell is blank"]


@pytest.mark.parametrize("text", ["nan", "inf", "-1", "2e7"])
def test_a_number_out_of_range_or_not_finite_is_a_problem(text: str) -> None:
    cells = row(mass=text)
    assert cells.number("mass") is None
    assert words(cells) == [f"expected a number from 0 to 1e+06, found “{text}”"]


def test_a_decimal_comma_is_a_problem_and_not_another_number() -> None:
    cells = row(mass="1,5")
    assert cells.number("mass") is None
    assert words(cells) == ["expected a number, found “1,5”"]


def test_half_a_day_is_no_whole_number() -> None:
    cells = row(days="1.5")
    cells.whole("days")
    assert words(cells) == ["expected a whole number, found “1.5”"]


def test_a_whole_number_may_be_blank() -> None:
    assert row(days="").whole("days") is None


def test_a_word_that_is_none_of_the_few_is_a_problem() -> None:
    cells = row(form="foam")
    cells.one_of("form", ("liquid", "solid"))
    assert words(cells) == ["expected one of liquid, solid, found “foam”"]


def test_keys_are_parted_by_semicolons() -> None:
    assert row(keys="soy; gluten;").keys("keys") == ("soy", "gluten")


def test_a_problem_says_where_it_is() -> None:
    assert str(CellProblem("some.csv", 7, "mass", "wrong")) == "some.csv, line 7, column mass: wrong"


def names(path: Path, check: Callable[[TableRow], object] = lambda row: None) -> tuple[list[str], list[str]]:
    problems: list[CellProblem] = []
    good = []
    for one in read_table(path, ("slug", "mass"), problems, own_key="slug"):
        check(one)
        if one.is_good:
            good.append(one.text("slug"))
    return good, [str(problem) for problem in problems]


def write(folder: Path, text: str) -> Path:
    path = folder / "some.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_lines_are_counted_as_an_editor_counts_them(tmp_path: Path) -> None:
    path = write(tmp_path, "slug,mass\na,1\n\nb,x\n")
    assert names(path, lambda one: one.number("mass")) == (
        ["a"],
        ["some.csv, line 4, column mass: expected a number, found “x”"],
    )


def test_a_cell_of_two_lines_does_not_upset_the_count(tmp_path: Path) -> None:
    path = write(tmp_path, 'slug,mass\n"a\nb",1\nc,x\n')
    assert names(path, lambda one: one.number("mass"))[1] == [
        "some.csv, line 4, column mass: expected a number, found “x”"
    ]


def test_a_byte_order_mark_is_no_part_of_the_first_head(tmp_path: Path) -> None:
    assert names(write(tmp_path, "\ufeffslug,mass\na,1\n")) == (["a"], [])


def test_columns_may_stand_in_any_order_and_more_may_be_there(tmp_path: Path) -> None:
    assert names(write(tmp_path, "colour,mass,slug\nred,1,a\n")) == (["a"], [])


def test_an_empty_table_says_which_columns_it_lacks(tmp_path: Path) -> None:
    assert names(write(tmp_path, ""))[1] == [
        "some.csv, line 1, column slug: the column is missing",
        "some.csv, line 1, column mass: the column is missing",
    ]


def test_a_row_without_its_own_key_is_listed(tmp_path: Path) -> None:
    assert names(write(tmp_path, "slug,mass\n,1\n"))[1] == [
        "some.csv, line 2, column slug: expected a text, the cell is blank"
    ]
