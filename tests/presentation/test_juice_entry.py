"""From °Bx, pH and acidity to a composition: by hand-computed acids, and read back by the engine."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from washline.chemistry.components import CITRIC, COMPONENTS, FRUCTOSE, MALIC, SUCROSE
from washline.engine.workings import Workings
from washline.model.amount import millilitres
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind, RawIngredient
from washline.model.step import Add
from washline.presentation.entry_parts import SugarsLike, Understood, filled
from washline.presentation.juice_entry import Juice, from_juice
from washline.presentation.today import figures
from washline.problem import UserError

BLANK = RawIngredient(id=1, slug="new", name="new", composition=(None,) * len(COMPONENTS))
FRUIT = RawIngredient(
    id=2,
    slug="fruit",
    name="apple juice",
    composition=tuple(
        {
            "water": 88.0,
            "sucrose": 2.0,
            "glucose": 2.0,
            "fructose": 6.0,
            "malic": 0.5,
            "other_solids": 1.0,
        }.get(key, 0.0)
        for key in COMPONENTS
    ),
)


def _poured(understood: Understood) -> Workings:
    """A drink that is a glass of it and nothing else."""
    line = Add(id=11, build_id=10, place=1.0, item_id=1, amount=millilitres(100.0))
    build = Build(id=10, kind=BuildKind.DRINK, name="a glass of it", steps=(line,))
    return Workings(HouseBook(raws={1: filled(BLANK, understood)}, builds={10: build}, top_id=11))


def test_a_juice_reads_back_what_was_read_on_it() -> None:
    found = from_juice(Juice("lemon", 8.4, 2.4, 5.9, CITRIC, SugarsLike.SUCROSE))
    raw = filled(BLANK, found)
    back = figures(HouseBook(raws={1: raw}), raw)
    assert back.ph == pytest.approx(2.4, abs=0.02)
    assert back.acidity_pct == pytest.approx(5.9, abs=0.01)
    # A tenth stays of unknown kind, for what a refractometer cannot tell from sugar.
    assert back.brix == pytest.approx(8.4, abs=0.15)


def test_without_cations_the_titratable_acidity_is_the_citric_acid_itself() -> None:
    found = from_juice(Juice("lemon", 8.0, None, 5.0, CITRIC, SugarsLike.SUCROSE))
    assert found.composition[CITRIC] == pytest.approx(5.0, abs=1e-3)


def test_acid_counted_as_malic_weighs_what_titrates_the_same() -> None:
    # 1 g of citric acid is 1.047 g of malic (two protons of 134.09 against three of 192.12; the pantry's own factor).
    found = from_juice(Juice("apple", 12.0, None, 0.5, MALIC, SugarsLike.SUCROSE))
    assert found.composition[MALIC] == pytest.approx(0.5 * 1.047, abs=1e-3)


def test_acids_and_sugars_like_a_known_juice_take_its_shares() -> None:
    parts = from_juice(Juice("apple", 12.0, 3.5, 0.4, FRUIT, FRUIT)).composition
    assert (parts[FRUCTOSE] or 0.0) / (parts[SUCROSE] or 1.0) == pytest.approx(3.0, rel=1e-3)
    assert (parts[COMPONENTS.index("other_solids")] or 0.0) > 0.0


def test_sugars_of_unknown_kind_keep_their_grams_as_unknown() -> None:
    found = from_juice(Juice("plum", 12.0, 3.3, 1.0))
    known = sum(part for part in found.composition if part is not None)
    assert 10.0 < 100.0 - known < 12.0


def test_an_acidity_not_measured_stays_not_known_and_is_doubted() -> None:
    found = from_juice(Juice("plum", 12.0, 3.3, None))
    assert found.composition[CITRIC] is None
    assert any("pH alone" in doubt for doubt in found.doubts)


def test_salt_that_nobody_measured_does_not_read_as_none() -> None:
    found = from_juice(Juice("plum", 12.0, 3.3, 1.0, CITRIC, SugarsLike.SUCROSE))
    assert _poured(found).result_now(10).more_than("salt") > 0.0


@pytest.mark.parametrize(
    ("juice", "words"),
    [
        (Juice("j", None, 3.0, 1.0), "°Bx is missing"),
        (Juice("j", 90.0), "from 0 to 85"),
        (Juice("j", 10.0, 0.5, 1.0), "pH from 1.5"),
        (Juice("j", 10.0, 3.0, 20.0), "from 0 to 15"),
        (Juice("j", 3.0, None, 5.0), "less than its acids alone"),
        (Juice("j", 10.0, 1.6, 0.3), "too low for an acidity"),
    ],
)
def test_readings_that_cannot_be_together_are_refused(juice: Juice, words: str) -> None:
    with pytest.raises(UserError, match=words):
        from_juice(juice)


@settings(max_examples=40)
@given(st.floats(2.5, 4.0), st.floats(0.2, 3.0), st.floats(8.0, 30.0))
def test_any_juice_that_is_understood_closes_to_a_hundred_grams_but_for_a_tenth_of_unknown_kind(
    ph: float, acidity: float, brix: float
) -> None:
    try:
        found = from_juice(Juice("j", brix, ph, acidity, CITRIC, FRUIT))
    except UserError:
        return
    assert sum(part for part in found.composition if part is not None) == pytest.approx(99.95, abs=0.06)
    raw = structs.replace(filled(BLANK, found))
    back = figures(HouseBook(raws={1: raw}), raw)
    assert back.acidity_pct == pytest.approx(acidity, abs=0.02)
    assert back.ph == pytest.approx(ph, abs=0.03)
