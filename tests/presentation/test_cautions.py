"""Every caution has its texts, and none is ever dropped."""

import csv
import re

import pytest

from washline.assets import database_file, resource
from washline.presentation.cautions import DEFERRAL, allergens, caution, cautions


def keys_of_the_pantry() -> set[str]:
    with database_file("seed", "pantry", "ingredients.csv").open(encoding="utf-8", newline="") as file:
        cells = [row["caution_key"] for row in csv.DictReader(file)]
    return {key for cell in cells for key in cell.split(";") if key}


def keys_of_the_readme() -> set[str]:
    text = database_file("seed", "pantry", "README.md").read_text(encoding="utf-8")
    table = text.split("### Caution keys")[1].split("## Sources")[0]
    cells = re.findall(r"^\| ([a-z][^|]*) \|", table, re.MULTILINE)[1:]
    return {key.strip() for cell in cells for key in re.split(r"[,/]", cell)}


ALL_KEYS = sorted(keys_of_the_pantry() | keys_of_the_readme() | {"spirit-near-heat", "raw-juice"})


def test_the_readme_and_the_table_of_the_pantry_name_the_same_keys() -> None:
    assert keys_of_the_pantry() == keys_of_the_readme()
    assert len(keys_of_the_pantry()) == 28


@pytest.mark.parametrize("key", ALL_KEYS)
def test_every_key_has_a_title_a_sentence_for_the_bar_and_one_for_the_bench(key: str) -> None:
    found = cautions()[key]
    assert found.key == key
    assert 0 < len(found.title) <= 30
    for sentence in (found.bar, found.bench):
        assert sentence.endswith(".")
        assert 0 < len(sentence) <= 160


def test_no_key_has_a_text_that_nothing_uses() -> None:
    assert sorted(cautions()) == ALL_KEYS


def test_every_text_names_its_source() -> None:
    with resource("texts", "cautions.csv").open(encoding="utf-8", newline="") as file:
        assert [row["key"] for row in csv.DictReader(file) if not row["source"]] == []


def test_no_text_promises_absence_or_safety() -> None:
    """No wording that promises absence or safety, here or on any paper."""
    words = [one.bar + one.bench for one in cautions().values()]
    assert [
        text for text in words if re.search(r"\b(is safe|safely|guarantee|free from)\b", text, re.IGNORECASE)
    ] == []


def test_a_key_without_a_text_is_still_told() -> None:
    found = caution("glowing-jellyfish")
    assert (found.title, found.bar) == (
        "glowing jellyfish",
        "Caution: glowing jellyfish. Nothing more is recorded here: ask before serving.",
    )


def test_a_known_key_gives_its_own_text() -> None:
    assert caution("raw-egg") is cautions()["raw-egg"]


def test_the_deferral_is_the_agreed_text() -> None:
    assert DEFERRAL == (
        "Information from published sources; not legal or safety advice. Rules change and differ by country: "
        "follow your local food code and ask a qualified person."
    )


def test_the_deferral_is_kept_once_and_in_no_single_text() -> None:
    text = resource("texts", "cautions.csv").read_text(encoding="utf-8")
    assert "not legal or safety advice" not in text


def test_the_fourteen_allergens_have_words_in_the_order_of_the_annex() -> None:
    """Regulation (EU) No 1169/2011, Annex II, order from memory."""
    assert [one.key for one in allergens().values()] == [
        "gluten", "crustaceans", "eggs", "fish", "peanuts", "soy", "milk", "nuts", "celery", "mustard", "sesame",
        "sulphites", "lupin", "molluscs",
    ]  # fmt: skip
    assert all(one.word and one.group for one in allergens().values())
