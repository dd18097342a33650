"""Names for search and for files."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.names import MOST_BYTES, fold, safe_file_name


@pytest.mark.parametrize(
    "text, folded",
    [
        ("Crème de Cassis", "creme de cassis"),
        ("CRE\u0300ME", "creme"),
        ("Łódź", "lodz"),
        ("Ærø", "aero"),
        ("Œuf", "oeuf"),
        ("Weiß", "weiss"),
        ("IŞIK", "isik"),
        ("ﬁno", "fino"),
        ("the vermouth’s fining", "the vermouth's fining"),
        ("pear–sorrel", "pear-sorrel"),
        ("  pear\u00a0 sorrel\n", "pear sorrel"),
        ("２０ %", "20 %"),
    ],
)
def test_search_sees_no_case_and_no_accents(text: str, folded: str) -> None:
    assert fold(text) == folded


@given(st.text(max_size=40))
def test_folding_twice_changes_nothing(text: str) -> None:
    assert fold(fold(text)) == fold(text)


@given(st.text(max_size=40))
def test_both_forms_of_unicode_fold_alike(text: str) -> None:
    assert fold(unicodedata.normalize("NFC", text)) == fold(unicodedata.normalize("NFD", text))


@pytest.mark.parametrize(
    "parts, name",
    [
        (["Quince Ferry", "spec card"], "Quince Ferry – spec card.pdf"),
        (["Quince Ferry", "2026-11-21", "spec card"], "Quince Ferry – 2026-11-21 – spec card.pdf"),
        (['Gin/Tonic: a "dry" <one>?*|\\'], "Gin Tonic a dry one.pdf"),
        (["Drift."], "Drift.pdf"),
        (["..", "spec card"], "spec card.pdf"),
        ([".hidden"], "hidden.pdf"),
        (["a\x00b\x1f\u202ec\td\ne"], "ab c d e.pdf"),
        (["E\u0301bb"], "Ébb.pdf"),
        (["CON"], "_CON.pdf"),
        (["nul.x"], "_nul.x.pdf"),
        (["com1"], "_com1.pdf"),
        (["Console"], "Console.pdf"),
        ([], "unnamed.pdf"),
        (["  ", "?"], "unnamed.pdf"),
    ],
)
def test_a_file_name_is_one_that_every_system_takes(parts: list[str], name: str) -> None:
    assert safe_file_name(parts, ".pdf") == name


def test_a_long_name_is_cut_and_its_paper_kept() -> None:
    name = safe_file_name(["é" * 300, "spec card"], ".pdf")
    assert name.endswith("é – spec card.pdf")
    assert MOST_BYTES - 1 <= len(name.encode()) <= MOST_BYTES


def test_a_paper_whose_name_leaves_no_room_is_cut_itself() -> None:
    name = safe_file_name(["Drift", "p" * 200], ".pdf")
    assert name.startswith("Drift – ppp")
    assert name.endswith("ppp.pdf")
    assert len(name.encode()) <= MOST_BYTES


def test_a_name_is_not_cut_between_a_letter_and_its_accents() -> None:
    # x with two dots above has no composed form with a further ring.
    name = safe_file_name(["x\u0308\u030a" * 100], ".pdf")
    assert name.removesuffix(".pdf") == "\u1e8d\u030a" * ((MOST_BYTES - 4) // 5)


@given(st.lists(st.text(max_size=80), max_size=4), st.sampled_from(["", ".pdf", ".build.json"]))
def test_no_text_makes_an_unsafe_file_name(parts: list[str], suffix: str) -> None:
    name = safe_file_name(parts, suffix)
    assert 0 < len(name.encode()) <= MOST_BYTES
    assert name.endswith(suffix)
    assert name == unicodedata.normalize("NFC", name)
    assert not set(name) & set('/\\:*?"<>|')
    assert all(unicodedata.category(character)[0] != "C" for character in name)
    assert name.strip(" .") == name
