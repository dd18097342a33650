"""The pantry's columns become a composition of disjoint parts. The rule is the project's own (MODEL: insoluble solids are
an *of which*, taken out of fibre, protein and starch, so that the sum stays 100)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.components import COMPONENTS
from washline.exchange.composition import CompositionError, composition


def row(**grams: float) -> list[float | None]:
    return [grams.get(component, 0.0) for component in COMPONENTS]


def by_name(parts: tuple[float | None, ...]) -> dict[str, float | None]:
    return dict(zip(COMPONENTS, parts, strict=True))


def test_insoluble_solids_come_out_of_fibre_first() -> None:
    parts = by_name(composition(row(water=96.0, fibre=3.0, protein=1.0), 2.0, True))
    assert (parts["fibre"], parts["protein"], parts["insoluble"]) == (1.0, 1.0, 2.0)


def test_insoluble_solids_beyond_fibre_come_out_of_protein_then_starch() -> None:
    parts = by_name(composition(row(water=90, fibre=3, protein=2, other_carbohydrate=5), 7.0, True))
    assert (parts["fibre"], parts["protein"], parts["other_carbohydrate"]) == (0.0, 0.0, 3.0)


def test_clay_is_insoluble_although_it_is_mineral() -> None:
    parts = by_name(composition(row(water=10, other_solids=90), 90.0, True))
    assert (parts["other_solids"], parts["insoluble"]) == (0.0, 90.0)


def test_the_cells_of_a_nut_hold_back_oil_when_all_else_is_used_up() -> None:
    parts = by_name(composition(row(water=5, fibre=10, protein=20, fat=50, sucrose=15), 70.0, True))
    assert (parts["fat"], parts["insoluble"]) == (10.0, 70.0)


def test_pulp_that_no_part_names_comes_from_what_is_missing_to_100() -> None:
    parts = by_name(composition(row(water=92.0, citric=6.5), 1.5, True))
    assert parts["insoluble"] == pytest.approx(1.5)


def test_insoluble_solids_that_are_in_no_part_are_refused() -> None:
    with pytest.raises(CompositionError, match=r"4\.00 g of the insoluble solids are in none"):
        composition(row(water=95.0, sucrose=5.0), 4.0, True)


def test_a_complete_row_is_scaled_to_100() -> None:
    parts = by_name(composition(row(water=90.0, sucrose=11.0), None, True))
    assert parts["water"] == pytest.approx(9000.0 / 101.0, abs=1e-6)


def test_a_complete_row_far_from_100_is_refused() -> None:
    with pytest.raises(CompositionError, match=r"add up to 95\.00 g"):
        composition(row(water=90.0, sucrose=5.0), None, True)


def test_a_row_above_100_is_refused_even_if_incomplete() -> None:
    with pytest.raises(CompositionError, match=r"add up to 120\.00 g"):
        composition(row(water=100.0, sucrose=20.0), None, False)


def test_what_is_not_known_stays_not_known() -> None:
    parts = [None] * len(COMPONENTS)
    found = by_name(composition([7.0, *parts[1:]], 60.0, False))
    assert (found["water"], found["insoluble"], found["sucrose"]) == (7.0, 60.0, None)


def test_an_incomplete_row_is_not_scaled() -> None:
    parts = [None] * len(COMPONENTS)
    assert composition([50.0, *parts[1:]], None, False)[0] == 50.0


def test_insoluble_solids_that_nobody_measured_are_not_zero() -> None:
    assert by_name(composition(row(water=100.0), None, True))["insoluble"] is None


def test_dissolved_gas_is_no_part_of_the_sum() -> None:
    assert by_name(composition(row(water=100.0, co2=7.5), None, True))["co2"] == 0.0


@given(
    st.lists(st.floats(0.0, 20.0), min_size=5, max_size=5),
    st.floats(0.0, 1.0),
)
def test_splitting_off_insoluble_solids_keeps_the_sum(parts: list[float], share: float) -> None:
    fibre, protein, starch, solids, fat = parts
    named = {
        "fibre": fibre,
        "protein": protein,
        "other_carbohydrate": starch,
        "other_solids": solids,
        "fat": fat,
    }
    whole = row(water=100.0 - sum(parts), **named)
    found = composition(whole, share * sum(parts), True)
    assert sum(part or 0.0 for part in found) == pytest.approx(100.0, abs=1e-4)
