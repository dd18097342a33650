"""How sure: one column per cause, correlation by construction, checked against drawing at random."""

from dataclasses import replace

import numpy as np
import pytest
from msgspec import structs

from tests.engine.kitchen import (
    BITTERS,
    CORDIAL,
    EGG,
    LEMON,
    LONG,
    PEAR,
    SOUR,
    SPIRIT,
    SUGAR,
    WATER,
    Vessel,
    house,
    pantry,
    with_raw,
)
from washline.engine.spread import Spread
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind, KeptAt
from washline.model.step import Goal, Measurable


def spread(build: Build, book: HouseBook | None = None) -> Spread:
    return Workings((book or pantry()).with_build(build)).spread(build.id)


def test_a_reading_without_a_cause_shows_none() -> None:
    found = spread(Vessel(1001).add(SPIRIT, 50.0, "ml").build())
    assert not found.causes
    assert found.plus_minus("strength") is None


def test_the_pantry_s_uncertainty_of_an_acid_is_the_drink_s() -> None:
    """Ten percent of the acid of lemon juice alone is ten percent of its acid before the bound part is taken off, and a
    little more because acid takes up less room than water."""
    found = spread(Vessel(1001).add(LEMON, 100.0).build())
    reading = Workings(pantry().with_build(Vessel(1001).add(LEMON, 100.0).build())).result_now(1001)
    bound = 3.0 * 64.04 / 1000.0
    assert (found.plus_minus("acidity") or 0) / (reading.value("acidity") or 1) == pytest.approx(
        0.1 * 5.0 / (5.0 - bound), rel=0.03
    )


def test_a_lemon_that_enters_by_two_ways_is_one_cause() -> None:
    book = pantry().with_build(Vessel(CORDIAL).add(LEMON, 100.0).build(BuildKind.PART))
    twice = spread(Vessel(1001).add(LEMON, 50.0).add(CORDIAL, 50.0).build(), book)
    once = spread(Vessel(1001).add(LEMON, 100.0).build())
    assert twice.plus_minus("acidity") == pytest.approx(once.plus_minus("acidity"), rel=1e-9)
    assert [cause.words for cause in twice.causes] == ["sugars of lemon juice", "acids of lemon juice"]


def test_a_dash_is_not_a_volume() -> None:
    """0.4 to 1.1 ml around 0.8: half-widths over the square root of three (JCGM 100:2008, 4.3.7)."""
    found = spread(Vessel(1001).add(BITTERS, 1.0, "dash").add(WATER, 99.2, "ml").build())
    assert [cause.key for cause in found.causes] == ["dash"]
    index = 13
    assert found.up[index] / found.down[index] == pytest.approx(0.3 / 0.4, rel=0.01)


def test_an_estimated_yield_is_a_cause_and_a_weighed_one_is_not() -> None:
    def part(**fields: object) -> Build:
        vessel = (
            Vessel(1001).add(PEAR, 1000.0).strain(expected_pct=70.0, low_pct=62.0, high_pct=76.0, **fields)
        )
        return vessel.add(SUGAR, 300.0).build(BuildKind.PART)

    kinds = {cause.kind for cause in spread(part()).causes}
    assert "yield" in kinds
    assert "yield" not in {cause.kind for cause in spread(part(weighed_g=690.0)).causes}


def test_an_estimated_melt_is_a_cause_and_a_weighed_one_is_not() -> None:
    def drink(**fields: object) -> Build:
        return Vessel(1001).add(SPIRIT, 60.0, "ml").chill("throw", **fields).build()

    assert spread(drink()).plus_minus("length") == pytest.approx(60.0 * 0.05 / 3.0**0.5, rel=0.01)
    assert spread(drink(melted_g=20.0)).plus_minus("length") is None


def test_a_stirred_regression_carries_five_ml_each_way() -> None:
    drink = Vessel(1001).add(SPIRIT, 50.0, "ml").add(WATER, 50.0, "ml").chill("stir").build()
    assert spread(drink).plus_minus("dilution") == pytest.approx(5.0 / 3.0**0.5, rel=1e-6)


def test_the_end_of_a_chill_is_known_to_one_kelvin() -> None:
    drink = Vessel(1001).add(SPIRIT, 60.0, "ml").chill("throw", melted_g=20.0).build()
    assert spread(drink).plus_minus("chill") == pytest.approx(1.0 / 3.0**0.5, rel=1e-6)


def test_a_preview_has_its_own_spread() -> None:
    workings = Workings(house())
    doubted = with_raw(house(), LEMON)
    doubted = doubted.with_raw(structs.replace(doubted.raws[LEMON], acid_uncertainty_pct=20.0))
    assert (workings.spread(SOUR, doubted).plus_minus("acidity") or 0) > 1.9 * (
        workings.spread(SOUR).plus_minus("acidity") or 1
    )


def test_linear_propagation_agrees_with_drawing_at_random() -> None:
    """Root of squares against 2,000 draws of the pantry's sugar and acid uncertainties, within 5 %."""
    source = np.random.default_rng(20260101)
    book = house()
    lemons, sugars = source.normal(0.0, 1.0, 2000), source.normal(0.0, 1.0, 2000)
    values = []
    for lemon, sugar in zip(lemons[:400], sugars[:400], strict=True):
        drawn = with_raw(
            book,
            LEMON,
            citric=5.0 * (1 + 0.1 * lemon),
            glucose=1.2 * (1 + 0.2 * sugar),
            fructose=1.3 * (1 + 0.2 * sugar),
            water=91.0 - 0.5 * lemon - 0.5 * sugar,
        )
        row = Workings(drawn).result_now(SOUR)
        values.append((row.value("acidity"), row.value("sweetness")))
    book = replace(
        book,
        measures={},
        raws={**book.raws, SUGAR: structs.replace(book.raws[SUGAR], sugar_uncertainty_pct=None)},
    )
    found = Workings(book).spread(SOUR)
    without_melt = [cause for cause in found.causes if cause.kind in ("acids", "sugars")]
    acid = float(np.sqrt(sum(float(cause.higher[2]) ** 2 for cause in without_melt)))
    drawn_acid = float(np.std([value[0] for value in values], ddof=1))
    assert acid == pytest.approx(drawn_acid, rel=3.0 / (2 * 400) ** 0.5)


def test_the_long_drink_names_its_causes() -> None:
    words = {cause.words for cause in Workings(house()).spread(LONG).causes}
    assert words == {
        "sugars of lemon juice",
        "acids of lemon juice",
        "sugars of sugar",
        "size of a dash",
        "temperature at the end of the chill",
    }


def test_what_an_infusion_gives_is_as_sure_as_the_house_says() -> None:
    """3.5 g of sugars, 20 % of it known no better than 30 %: on its sucrose equivalent in 100 g."""
    vessel = Vessel(1001).add(WATER, 100.0)
    vessel.infuse(PEAR, 50.0, sugars_given_pct=20.0, given_spread_pct=30.0)
    found = spread(vessel.strain(weighed_g=90.0).build())
    assert [(cause.kind, cause.words) for cause in found.causes] == [
        ("given", "what pear gives, as the house set it")
    ]
    reading = Workings(pantry().with_build(vessel.build())).result_now(1001).value("sweetness") or 0.0
    assert found.plus_minus("sweetness") == pytest.approx(0.3 * reading, rel=0.02)


def test_a_measurement_brings_its_own_uncertainty_and_takes_that_of_the_lines() -> None:
    """Gain 0.8: what the lemon does not tell is down to a fifth, and 0.8 of the titration's is there instead."""
    vessel = Vessel(1001).add(LEMON, 100.0)
    before = {cause.kind: float(cause.higher[2]) for cause in spread(vessel.build()).causes}
    vessel.measure(Measurable.ACIDITY, 4.8, uncertainty=0.1, gain=0.8)
    after = {cause.kind: float(cause.higher[2]) for cause in spread(vessel.build()).causes}
    assert after["acids"] == pytest.approx(0.2 * before["acids"], rel=0.02)
    assert after["measurement"] == pytest.approx(0.8 * 0.1 * 1.02, rel=0.03)


def test_a_brix_measured_on_a_strain_is_as_sure_as_a_refractometer() -> None:
    """0.2 °Bx (common practice, no source)."""
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0).strain(weighed_g=600.0, measured_brix=7.0)
    found = spread(vessel.build())
    assert [cause.kind for cause in found.causes if float(cause.higher[10])] == ["measured brix"]
    assert found.plus_minus("brix_true") == pytest.approx(0.2, rel=1e-6)


def test_the_gas_and_the_acid_of_a_ferment_are_as_sure_as_scale_and_titration() -> None:
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0)
    found = spread(vessel.ferment(gas_lost_g=4.0, final_acidity_pct=0.9).build())
    assert {"gas", "measured acidity"} <= {cause.kind for cause in found.causes}
    assert found.plus_minus("ethanol") == pytest.approx(46.068 / 44.01, rel=1e-6)


def test_a_lemon_that_also_enters_by_an_output_that_acts_as_it_is_one_cause() -> None:
    """The juice of the breakdown acts as lemon juice: its acids and those of bought juice are one lemon."""
    book = pantry().with_build(
        Vessel(CORDIAL).add(WATER, 100.0).build(BuildKind.PART, acts_as_id=LEMON, kept_at=KeptAt.FRIDGE)
    )
    twice = spread(Vessel(1001).add(LEMON, 50.0).add(CORDIAL, 50.0).build(), book)
    once = spread(Vessel(1001).add(LEMON, 100.0).build())
    assert twice.plus_minus("acidity") == pytest.approx(once.plus_minus("acidity"), rel=1e-9)
    assert [cause.kind for cause in twice.causes].count("acids") == 1


def test_an_item_that_is_looked_at_brings_its_doubt() -> None:
    vessel = Vessel(1001).add(WATER, 100.0).adjust(Goal.ACIDITY, None, EGG, like_item_id=LEMON)
    assert "acids of lemon juice" in {cause.words for cause in spread(vessel.build()).causes}
