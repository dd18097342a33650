"""Every caution has its texts, and none is ever dropped."""

import csv
import math
import re

import pytest

from washline.assets import database_file, resource
from washline.engine.contents import Contents
from washline.engine.step_cautions import StepCaution
from washline.presentation.cautions import (
    DEFERRAL,
    allergens,
    caution,
    cautions,
    detail_words,
    due_cautions,
)


def keys_of_the_pantry() -> set[str]:
    with database_file("seed", "pantry", "ingredients.csv").open(encoding="utf-8", newline="") as file:
        cells = [row["caution_key"] for row in csv.DictReader(file)]
    return {key for cell in cells for key in cell.split(";") if key}


def keys_of_the_readme() -> set[str]:
    text = database_file("seed", "pantry", "README.md").read_text(encoding="utf-8")
    table = re.split(r"^#{2,3} ", text.split("### Caution keys")[1], flags=re.MULTILINE)[0]
    cells = re.findall(r"^\| ([a-z][^|]*) \|", table, re.MULTILINE)[1:]
    return {key.strip() for cell in cells for key in re.split(r"[,/]", cell)}


STEP_KEYS = {
    "spirit-near-heat", "raw-juice", "raw-milk", "low-acid-infusion", "oil-infusion", "sealed-warm-infusion",
    "ferment-salt", "ferment-ph", "ferment-gas", "ferment-alcohol", "sub-zero-pour",
    "pressure", "refermentation", "hot-scald",
}  # fmt: skip
"""What follows from what is done, in ``engine.step_cautions``."""


def keys_of_names() -> set[str]:
    with resource("texts", "hazard_names.csv").open(encoding="utf-8", newline="") as file:
        return {row["key"] for row in csv.DictReader(file)}


ALL_KEYS = sorted(keys_of_the_pantry() | keys_of_the_readme() | STEP_KEYS | keys_of_names())


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


def step_caution(key: str, **figures: float) -> StepCaution:
    return StepCaution(key, 1, 2, (), tuple(figures.items()))


@pytest.mark.parametrize(
    ("key", "figures", "words"),
    [
        ("ferment-salt", {"salt_pct": 1.9607}, "2 % salt of all that ferments."),
        ("ferment-salt", {"salt_pct": math.nan}, ""),
        (
            "ferment-ph",
            {"final_ph": 3.5, "discard_above_ph": 4.2, "discard_on_day": 4.0},
            "Measured pH 3.5. Discard above pH 4.2 on day 4.",
        ),
        (
            "ferment-ph",
            {"final_ph": math.nan, "discard_above_ph": 4.2, "discard_on_day": math.nan},
            "Discard above pH 4.2 on day ?.",
        ),
        (
            "low-acid-infusion",
            {"ph": math.nan, "strength_pct_vol": 0.0},
            "pH ?, below 0.05 % vol when infused.",
        ),
        ("sub-zero-pour", {"temperature_c": -18.0}, "Poured at −18 °C."),
        (
            "sub-zero-pour",
            {"temperature_c": -18.0, "strength_pct_vol": 36.3},
            "Poured at −18 °C. 36.3 % vol: a small pour.",
        ),
        (
            "pressure",
            {"warm_over_kpa": 412.4, "warmest_c": 25.0, "rated_kpa": 800.0},
            "412 kPa over the atmosphere computed at 25 °C. The vessel is rated for 800 kPa.",
        ),
        (
            "pressure",
            {"warm_over_kpa": math.nan, "warmest_c": 25.0, "rated_kpa": math.nan},
            "? kPa over the atmosphere computed at 25 °C.",
        ),
        ("refermentation", {"sugar_g_per_l": math.nan}, ""),
        ("hot-scald", {"temperature_c": 85.0}, "Handled at 85 °C."),
        ("raw-egg", {}, ""),
    ],
)
def test_figures_stand_in_sentences_and_the_unknown_is_no_number(
    key: str, figures: dict[str, float], words: str
) -> None:
    assert detail_words(step_caution(key, **figures)) == words


def test_a_key_of_ingredients_and_steps_is_due_once() -> None:
    held = Contents(allergens=(), unknown=(), cautions=(("raw-egg", (7,)),), added=())
    steps = (step_caution("raw-egg"), step_caution("ferment-gas"))
    assert [(one.key, one.raw_ids, len(one.steps)) for one in due_cautions(held, steps)] == [
        ("ferment-gas", (), 1),
        ("raw-egg", (7,), 1),
    ]


def test_every_figure_named_in_a_text_is_one_that_a_step_gives() -> None:
    given = {
        "ph", "strength_pct_vol", "fat_pct", "salt_pct", "final_ph", "discard_above_ph", "discard_on_day",
        "mg_per_l", "temperature_c", "warm_over_kpa", "warmest_c", "rated_kpa", "sugar_g_per_l",
    }  # fmt: skip
    named = {name for one in cautions().values() for name in re.findall(r"\{(\w+)\}", one.detail)}
    assert named == given
