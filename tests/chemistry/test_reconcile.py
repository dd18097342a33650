"""A measurement against a computation, weighted by both uncertainties."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.reconcile import instrument_sigma, instrument_unit, instruments, reconcile


def test_two_equal_uncertainties_meet_in_the_middle():
    # Weighted mean of two estimates: 10 and 12, both +- 1, give 11 +- 0.707, 1.414 sigma apart.
    found = reconcile(10.0, 1.0, 12.0, 1.0)
    assert found.value == 11.0
    assert found.sigma == pytest.approx(math.sqrt(0.5))
    assert found.gain == 0.5
    assert found.residual_sigmas == pytest.approx(math.sqrt(2.0))


def test_the_better_of_two_pulls_the_other():
    # Weights 1/0.09 and 1/0.01: (10/0.09 + 11/0.01) / (1/0.09 + 1/0.01) = 10.9, sigma 1/sqrt(111.1) = 0.0949.
    found = reconcile(10.0, 0.3, 11.0, 0.1)
    assert found.value == pytest.approx(10.9)
    assert found.sigma == pytest.approx(0.0949, abs=1e-4)
    assert found.gain == pytest.approx(0.9)


def test_an_exact_measurement_stands():
    assert reconcile(10.0, 0.3, 11.0, 0.0)[:3] == (11.0, 0.0, 1.0)


def test_an_exact_computation_stands():
    found = reconcile(10.0, 0.0, 11.0, 0.5)
    assert found[:3] == (10.0, 0.0, 0.0)
    assert found.residual_sigmas == 2.0


def test_two_exact_values_that_differ_contradict_each_other():
    assert reconcile(10.0, 0.0, 11.0, 0.0) == (10.0, 0.0, 0.0, math.inf)
    assert reconcile(10.0, 0.0, 9.0, 0.0).residual_sigmas == -math.inf
    assert reconcile(10.0, 0.0, 10.0, 0.0).residual_sigmas == 0.0


def test_an_unknown_uncertainty_has_no_gain():
    assert math.isnan(reconcile(10.0, math.nan, 11.0, 0.1).gain)


def test_columns_are_reconciled_apart():
    found = reconcile(
        np.array([10.0, 10.0]), np.array([0.3, 0.0]), np.array([11.0, 11.0]), np.array([0.1, 0.5])
    )
    assert found.value.tolist() == pytest.approx([10.9, 10.0])
    assert found.residual_sigmas.tolist() == pytest.approx([1.0 / math.sqrt(0.1), 2.0])


sigmas = st.floats(1e-3, 10.0)


@given(st.floats(-100.0, 100.0), sigmas, st.floats(-100.0, 100.0), sigmas)
def test_the_value_lies_between_and_is_surer_than_either(computed, computed_sigma, measured, measured_sigma):
    found = reconcile(computed, computed_sigma, measured, measured_sigma)
    low, high = sorted((computed, measured))
    assert low - 1e-9 <= found.value <= high + 1e-9
    assert found.sigma <= min(computed_sigma, measured_sigma) * (1 + 1e-12)
    assert 0.0 <= found.gain <= 1.0


@given(st.floats(-100.0, 100.0), sigmas, st.floats(-100.0, 100.0), sigmas)
def test_it_does_not_matter_which_of_the_two_is_called_measured(first, first_sigma, second, second_sigma):
    found, other = (
        reconcile(first, first_sigma, second, second_sigma),
        reconcile(second, second_sigma, first, first_sigma),
    )
    assert found.value == pytest.approx(other.value, abs=1e-9)
    assert found.residual_sigmas == pytest.approx(-other.residual_sigmas, abs=1e-9)


# Common practice, no source.
@pytest.mark.parametrize(
    "instrument, reading, sigma, unit",
    [
        ("ph_strip", 3.4, 0.3, "pH"),
        ("ph_meter", 3.4, 0.05, "pH"),
        ("refractometer", 50.0, 0.2, "% by mass"),
        ("kitchen_scale", 850.0, 1.0, "g"),
        ("titration", 5.0, 0.1, "1"),
    ],
)
def test_an_instrument_has_its_usual_uncertainty(instrument, reading, sigma, unit):
    assert instrument_sigma(instrument, reading) == pytest.approx(sigma)
    assert instrument_unit(instrument) == unit


def test_every_instrument_is_sure_to_some_degree_only():
    assert all(instrument_sigma(instrument, 10.0) > 0.0 for instrument in instruments())
    with pytest.raises(KeyError):
        instrument_sigma("nose", 1.0)
