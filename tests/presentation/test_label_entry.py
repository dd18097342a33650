"""From a label or readings to a composition: against published densities and factors, and read back by the engine."""

import pytest

from washline.chemistry.components import (
    CITRIC,
    COMPONENTS,
    ETHANOL,
    FRUCTOSE,
    GLUCOSE,
    NACL,
    OTHER_CARBOHYDRATE,
    SUCROSE,
    SUGARS,
    WATER,
)
from washline.engine.workings import Workings
from washline.model.amount import millilitres
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind, RawIngredient
from washline.model.step import Add
from washline.presentation.entry_parts import SugarsLike, Understood, filled
from washline.presentation.label_entry import Label, Per, energy_gap_kj, from_label, rounding_kj
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


def test_a_sugar_syrup_by_volume_has_the_published_density() -> None:
    # 103.8 g of sucrose in a litre is a 10 % solution of 1.0381 g/ml (CRC Handbook, 102nd ed.); the gram in 100 ml that a
    # label may leave out counts as minerals and adds about 0.007.
    found = from_label(Label("s", Per.ML, sugars=10.38, strength_pct_vol=0.0, sugars_like=SugarsLike.SUCROSE))
    assert found.composition[SUCROSE] == pytest.approx(10.38 / 1.0381, rel=0.008)
    assert found.lines[0] == ("Density", "1.045 g/ml, solved on the model")


def test_a_liqueur_reads_the_strength_and_sugar_of_its_label() -> None:
    found = from_label(Label("l", Per.ML, sugars=30.0, strength_pct_vol=25.0, sugars_like=SugarsLike.SUCROSE))
    result = _poured(found).result_now(10)
    assert result.value("strength") == pytest.approx(25.0, abs=0.05)
    assert result.value("sweetness") == pytest.approx(30.0, abs=0.1)


def test_a_label_by_weight_keeps_its_grams() -> None:
    found = from_label(Label("s", Per.G, sugars=65.0, carbohydrate=66.0, sugars_like=SugarsLike.SUCROSE))
    assert found.composition[SUCROSE] == 65.0
    assert found.composition[OTHER_CARBOHYDRATE] == pytest.approx(1.0)
    assert found.composition[WATER] == pytest.approx(33.0)


def test_a_strength_on_a_label_by_weight_is_met() -> None:
    found = from_label(Label("l", Per.G, sugars=20.0, strength_pct_vol=30.0, sugars_like=SugarsLike.SUCROSE))
    assert _poured(found).result_now(10).value("strength") == pytest.approx(30.0, abs=0.02)


def test_what_is_not_on_the_label_stays_not_known() -> None:
    parts = from_label(Label("t", Per.ML, sugars=9.0, sugars_like=SugarsLike.SUCROSE)).composition
    assert parts[CITRIC] is None
    assert parts[NACL] is None
    assert parts[ETHANOL] is None
    result = _poured(from_label(Label("t", Per.ML, sugars=9.0, sugars_like=SugarsLike.SUCROSE))).result_now(
        10
    )
    assert result.more_than("acidity") > 0.0
    assert result.more_than("salt") > 0.0
    assert result.more_than("strength") > 0.0


def test_sugars_of_unknown_kind_read_at_least() -> None:
    found = from_label(Label("t", Per.ML, sugars=9.0, strength_pct_vol=0.0))
    assert all(found.composition[part] is None for part in SUGARS)
    result = _poured(found).result_now(10)
    assert result.value("sweetness") == 0.0
    assert result.more_than("sweetness") >= 9.0


def test_sugars_like_another_ingredient_are_split_as_its_are() -> None:
    parts = from_label(Label("j", Per.ML, sugars=10.0, sugars_like=FRUIT)).composition
    assert (parts[FRUCTOSE] or 0.0) / (parts[GLUCOSE] or 1.0) == pytest.approx(3.0, rel=1e-3)


def test_no_sugars_at_all_need_no_kind() -> None:
    parts = from_label(Label("g", Per.ML, sugars=0.0, strength_pct_vol=40.0)).composition
    assert [parts[part] for part in SUGARS] == [0.0] * 5


def test_energy_that_fits_is_said_to_agree() -> None:
    # 17 kJ for a gram of carbohydrate (Regulation (EU) 1169/2011, Annex XIV).
    found = from_label(
        Label("t", Per.ML, energy_kj=170.0, carbohydrate=10.0, sugars=10.0, strength_pct_vol=0.0)
    )
    assert ("Energy", "label 170 kJ, figures 170 kJ: they agree") in found.lines
    assert found.doubts == ()


def test_energy_beyond_the_figures_bounds_what_is_left_out_as_acids() -> None:
    # 26 kJ more are 2 g of organic acid at 13 kJ/g (Annex XIV).
    label = Label("t", Per.G, energy_kj=196.0, carbohydrate=10.0, sugars=10.0, sugars_like=SugarsLike.SUCROSE)
    assert energy_gap_kj(label) == pytest.approx(26.0)
    parts = from_label(label).composition
    assert 100.0 - sum(part for part in parts if part is not None) == pytest.approx(2.0, abs=1e-3)


def test_alcohol_brings_its_energy() -> None:
    # 40 % vol are 31.6 g of ethanol in 100 ml, at 29 kJ/g (Annex XIV).
    label = Label("g", Per.ML, energy_kj=916.0, sugars=0.0, strength_pct_vol=40.0)
    assert energy_gap_kj(label) == pytest.approx(0.0, abs=1.0)


def test_energy_that_cannot_be_is_doubted() -> None:
    found = from_label(
        Label("t", Per.ML, energy_kj=40.0, carbohydrate=10.0, sugars=10.0, strength_pct_vol=0.0)
    )
    assert any("energy does not fit" in doubt for doubt in found.doubts)


def test_rounding_of_a_label_is_half_a_digit_of_each_figure() -> None:
    assert rounding_kj(Label("t", carbohydrate=12.0)) == pytest.approx(0.5 + 0.5 * 17.0)
    assert rounding_kj(Label("t", carbohydrate=9.0)) == 4.0


@pytest.mark.parametrize(
    ("label", "words"),
    [
        (Label("t"), "Nothing of the label"),
        (Label("t", carbohydrate=5.0, sugars=6.0), "more than the carbohydrate"),
        (Label("t", Per.ML, sugars=190.0), "no room for water"),
        (Label("t", Per.G, sugars=80.0, fat=40.0), "add up to"),
        (Label("t", Per.G, sugars=80.0, strength_pct_vol=60.0), "do not go into it"),
        (Label("t", sugars=-1.0), "from 0 to 200"),
        (Label("t", strength_pct_vol=120.0), "from 0 to 100"),
        (Label("t", sugars=5.0, sugars_like=BLANK), "no known sugars"),
    ],
)
def test_figures_that_cannot_be_together_are_refused(label: Label, words: str) -> None:
    with pytest.raises(UserError, match=words):
        from_label(label)


def test_gas_needs_the_density_that_was_solved() -> None:
    raw = filled(BLANK, from_label(Label("s", Per.ML, sugars=0.0, gas_g_per_l=7.0, strength_pct_vol=0.0)))
    assert raw.co2_g_per_l == 7.0
    assert raw.density_g_per_ml is not None
