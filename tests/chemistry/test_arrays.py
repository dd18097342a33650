"""The array operations that chemistry is made of."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.arrays import (
    bisect_rising,
    by_column,
    by_column_each,
    choose,
    exponential,
    horner,
    is_all,
    natural_logarithm,
    ratio,
    share,
    square_root,
    weighted_total,
    weighted_totals,
)


@given(st.lists(st.floats(-100.0, 100.0), min_size=2, max_size=8), st.floats(-2.0, 2.0))
def test_a_polynomial_has_the_value_of_its_terms(coefficients, x):
    expected = math.fsum(term * x**power for power, term in enumerate(coefficients))
    assert horner(coefficients, x) == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_a_polynomial_of_an_array_is_evaluated_at_each_place():
    assert horner((1.0, 0.0, 2.0), np.array([0.0, 1.0, 3.0])).tolist() == [1.0, 3.0, 19.0]


@pytest.mark.parametrize("columns", [1, 64, 65, 200])
def test_weighted_sums_are_the_same_for_few_and_many_columns(columns):
    random = np.random.default_rng(3)
    weights, masses = random.uniform(size=(4, 24)), random.uniform(size=(24, columns))
    found = weighted_totals(weights, masses)
    assert found.shape == (4, columns)
    assert found[2, 0] == pytest.approx(math.fsum((weights[2] * masses[:, 0]).tolist()), rel=1e-12)
    assert weighted_total(weights[1], masses).tolist() == found[1].tolist()


def test_division_by_nothing_is_told_apart():
    zero, one = np.array([0.0]), np.array([1.0])
    assert np.isnan(ratio(one, zero)).all()
    assert share(one, zero).tolist() == [0.0]


def test_an_unknown_amount_stays_unknown():
    assert np.isnan(ratio(np.array([np.nan]), np.array([1.0]))).all()
    assert np.isnan(share(np.array([1.0]), np.array([np.nan]))).all()


def test_a_target_that_a_function_never_meets_has_no_place():
    assert np.isnan(bisect_rising(lambda x: x, 2.0, 0.0, 1.0))
    assert bisect_rising(lambda x: x, np.array([2.0, 0.25]), 0.0, 1.0).tolist()[1] == pytest.approx(0.25)


def test_a_kernel_sees_numbers_for_one_column_and_arrays_for_many():
    seen = []

    def kernel(x):
        seen.append(type(x))
        return x

    by_column(kernel, np.array([1.0]))
    by_column(kernel, np.array([1.0, 2.0]))
    assert seen == [float, np.ndarray]


@given(st.floats(-10.0, 10.0))
def test_bisection_finds_the_place_of_a_target(target):
    assert bisect_rising(lambda x: x * x * x, target**3, -10.0, 10.0) == pytest.approx(target, abs=1e-9)


def test_a_target_just_beyond_an_end_counts_as_the_end_if_the_slack_allows():
    assert bisect_rising(lambda x: x, -0.01, 0.0, 1.0, slack=0.02) == 0.0
    assert math.isnan(bisect_rising(lambda x: x, -0.03, 0.0, 1.0, slack=0.02))


def test_a_target_that_is_not_known_has_no_place():
    assert math.isnan(bisect_rising(lambda x: x, math.nan, 0.0, 1.0))
    assert np.isnan(bisect_rising(lambda x: x, np.array([math.nan]), 0.0, 1.0)).all()


def test_several_results_come_column_by_column():
    def kernel(x, y):
        return x + y, x * y

    one = by_column_each(kernel, np.array([3.0]), 2.0)
    many = by_column_each(kernel, np.array([3.0, 4.0]), 2.0)
    assert [found.tolist() for found in one] == [[5.0], [6.0]]
    assert [found.tolist() for found in many] == [[5.0, 6.0], [6.0, 8.0]]


def test_a_choice_is_made_at_each_place():
    assert choose(True, 1.0, 2.0) == 1.0
    assert choose(np.array([True, False]), 1.0, np.array([2.0, 3.0])).tolist() == [1.0, 3.0]


def test_all_of_a_number_is_itself():
    assert is_all(True)
    assert not is_all(False)
    assert is_all(np.array([True, True]))
    assert not is_all(np.array([True, False]))


@pytest.mark.parametrize("function", [square_root, exponential, natural_logarithm])
@given(numbers=st.lists(st.floats(1e-9, 500.0), min_size=1, max_size=40))
def test_a_function_of_a_number_has_the_bytes_of_its_place_in_an_array(function, numbers):
    together = function(np.array(numbers))
    for index, number in enumerate(numbers):
        single = function(number)
        assert type(single) is float
        assert np.float64(single).tobytes() == together[index].tobytes()
