"""A house's own weighings: what a weighing takes down, and that a fit gives back what made the figures."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.engine.bar import mixed, poured, traced
from tests.engine.kitchen import Vessel, pantry
from washline.engine.calibrating import Fit, chill_start, fitted
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.house import Calibration, Weighing
from washline.model.step import ChillBy


def weighing(number: int, vessel: Vessel, melted_g: float, book: HouseBook | None = None) -> Weighing:
    start = chill_start(traced(vessel, book), vessel.steps[-1].id)
    assert start is not None
    return Weighing(
        id=number,
        method="stir",
        ice="cubes",
        date="2026-05-01",
        composition=start.composition,
        liquid_c=start.liquid_c,
        ice_g=start.ice_g,
        ice_c=start.ice_c,
        surface_water_g=start.surface_water_g,
        seconds=start.seconds,
        vessel_j_per_k=start.vessel_j_per_k,
        vessel_c=start.vessel_c,
        melted_g=melted_g,
    )


def stirred(strength: float, seconds: float | None = None, by: ChillBy = ChillBy.USUAL) -> Vessel:
    return mixed(strength, 30.0).chill("stir", ice="cubes", duration_s=seconds, by=by)


def fit(*weighings: Weighing) -> Fit:
    book = pantry()
    return fitted(book.methods["stir"], book.ices["cubes"], weighings)


def as_calibrated(found: Fit) -> HouseBook:
    calibration = Calibration(
        slug="stir/cubes",
        method="stir",
        ice="cubes",
        date="2026-05-01",
        tau_s=found.tau_s,
        surface_water_pct=found.surface_water_pct,
        factor=found.factor,
        offset=found.offset,
        left_ml_per_100_ml=found.left_ml_per_100_ml,
    )
    return pantry().with_calibration(calibration)


def test_a_weighing_takes_down_what_stood_there() -> None:
    build = poured(25.0, ml=90.0).chill("stir", ice="cubes", ice_g=140.0, duration_s=30.0).build()
    workings = Workings(pantry().with_build(build))
    start = workings.chill_start(1001, build.steps[-1].id)
    assert start is not None
    assert (start.ice_g, start.ice_c, start.seconds) == (140.0, 0.0, 30.0)
    assert sum(start.composition) == pytest.approx(workings.trace(1001).steps[-2].vessel_g)
    assert workings.chill_start(1001, build.steps[0].id) is None


def test_one_weighing_is_met_by_both() -> None:
    vessel = stirred(25.0, 25.0)
    found = fit(weighing(1, vessel, 33.0))
    assert found.surface_water_pct is None
    assert found.left_ml_per_100_ml is None
    assert found.factor == 1.0
    assert found.computed_g[0] == pytest.approx(38.0, abs=0.1)
    assert found.fitted_g[0] == pytest.approx(33.0, abs=1e-6)
    book = as_calibrated(found)
    assert traced(vessel, book).melted_g == pytest.approx(33.0, abs=1e-6)
    assert traced(stirred(25.0, 25.0, ChillBy.BALANCE), book).melted_g == pytest.approx(33.0, abs=0.1)


def test_a_fit_finds_the_time_constant_and_the_wet_ice_that_made_the_figures() -> None:
    truth = Calibration(
        slug="stir/cubes", method="stir", ice="cubes", date="", tau_s=21.0, surface_water_pct=2.5
    )
    book = pantry().with_calibration(truth)
    made = []
    for number, (strength, seconds) in enumerate(((20.0, 10.0), (28.0, 20.0), (33.0, 45.0)), start=1):
        vessel = stirred(strength, seconds, ChillBy.BALANCE)
        made.append(weighing(number, vessel, traced(vessel, book).melted_g))
    found = fit(*made)
    assert found.tau_s == pytest.approx(21.0, rel=0.02)
    assert found.surface_water_pct == pytest.approx(2.5, abs=0.1)


def test_several_weighings_find_factor_and_offset_of_the_published_dilution() -> None:
    truth = Calibration(slug="stir/cubes", method="stir", ice="cubes", date="", factor=0.8, offset=0.03)
    book = pantry().with_calibration(truth)
    vessels = [stirred(strength, 30.0) for strength in (16.0, 22.0, 30.0)]
    found = fit(
        *(weighing(place, vessel, traced(vessel, book).melted_g) for place, vessel in enumerate(vessels))
    )
    assert found.factor == pytest.approx(0.8, rel=1e-6)
    assert found.offset == pytest.approx(0.03, abs=1e-6)
    assert found.left_ml_per_100_ml == pytest.approx(0.0, abs=0.01)


def test_equal_strengths_tell_an_offset_alone_and_what_is_left() -> None:
    """31 and 33 g where some 38 are published: 32 on average, one standard deviation of 1.41 g for two."""
    found = fit(*(weighing(place, stirred(25.0, 30.0), grams) for place, grams in enumerate((31.0, 33.0))))
    assert found.factor == 1.0
    assert found.fitted_g == pytest.approx((32.0, 32.0), abs=1e-6)
    assert found.left_ml_per_100_ml == pytest.approx(2.0**0.5 / 0.9982, rel=1e-3)


def test_a_shake_that_goes_all_the_way_is_fitted_by_the_water_on_its_ice() -> None:
    book = pantry()
    vessel = mixed(20.0, 60.0).chill("shake", ice="cubes")
    one = structs.replace(weighing(1, vessel, 55.0), method="shake")
    found = fitted(book.methods["shake"], book.ices["cubes"], [one])
    assert found.tau_s is None
    assert (found.surface_water_pct or 0.0) > 4.0


def test_a_fit_stays_within_bounds() -> None:
    found = fit(weighing(1, stirred(25.0, 30.0), 500.0))
    assert found.tau_s == pytest.approx(13.0 / 8.0)


def test_nothing_is_no_fit() -> None:
    with pytest.raises(ValueError, match="nothing to fit"):
        fit()


def test_quicker_ice_has_its_pace_taken_out() -> None:
    """What melts on ice of pace 2 in half the time has the same time constant."""
    book = pantry()
    quick = structs.replace(book.ices["cubes"], slug="quick", name="quick ice", pace=2.0)
    book = replace(book, ices={**book.ices, "quick": quick})
    vessel = mixed(25.0, 30.0).chill("stir", ice="quick", duration_s=10.0, by=ChillBy.BALANCE)
    same = weighing(1, vessel, traced(vessel, book).melted_g, book)
    assert fitted(book.methods["stir"], quick, [same]).tau_s == pytest.approx(13.0, rel=0.01)


def test_weighings_under_equal_conditions_tell_the_time_constant_alone() -> None:
    """Water on the ice and a slower chill would answer one another."""
    found = fit(
        weighing(1, stirred(38.0, 25.0, ChillBy.BALANCE), 27.6),
        weighing(2, stirred(38.0, 25.0, ChillBy.BALANCE), 29.1),
    )
    assert found.surface_water_pct is None
    assert found.tau_s is not None
    assert sum(found.fitted_g) == pytest.approx(27.6 + 29.1, abs=0.1)
