"""The credits that the licences ask for, in the wording that they ask for."""

import csv

from washline.assets import database_file, resource
from washline.presentation.credits import credit_list


def texts() -> dict[str, str]:
    return {credit.key: credit.text for credit in credit_list()}


def test_ciqual_is_credited_in_its_own_wording() -> None:
    """The wording that the pantry's README quotes."""
    assert texts()["ciqual"] == "Anses. 2020. Ciqual French food composition table."


def test_the_open_government_licence_is_credited_in_its_own_wording() -> None:
    """The wording that the pantry's README quotes."""
    wording = "Contains public sector information licensed under the Open Government Licence v3.0."
    assert texts()["cofid"].endswith(wording)


def test_the_fonts_are_credited_as_their_licence_files_say() -> None:
    for key, name in (("source-sans-3", "SourceSans3"), ("source-serif-4", "SourceSerif4")):
        head = resource("fonts", f"{name}-LICENSE.md").read_text(encoding="utf-8").splitlines()[0]
        assert "Adobe (http://www.adobe.com/)" in head
        assert "Adobe (http://www.adobe.com/), with Reserved Font Name 'Source'" in texts()[key]


def test_every_source_table_that_the_pantry_names_has_a_credit() -> None:
    with resource("texts", "credits.csv").open(encoding="utf-8", newline="") as file:
        words = [word.strip() for row in csv.DictReader(file) for word in row["named_in_source"].split(";")]
    with database_file("seed", "pantry", "ingredients.csv").open(encoding="utf-8", newline="") as file:
        sources = [row["source"] for row in csv.DictReader(file)]
    for table in ("USDA", "CIQUAL", "M&W", "CRC", "OIML"):
        assert any(table in source for source in sources)
        assert table in words


def test_data_comes_first_and_is_marked() -> None:
    marks = [credit.is_data for credit in credit_list()]
    assert marks == sorted(marks, reverse=True)
    assert sum(marks) == 5


def test_a_credit_has_its_licence_in_its_line() -> None:
    first = credit_list()[0]
    assert first.line == f"{first.text} ({first.licence})"
    assert all(credit.name and credit.licence for credit in credit_list())
