"""Solving small symmetric systems from left to right, one or many at once: the same bytes on every machine."""

import numpy as np

from washline.engine.state import Numbers


def solved(matrix: Numbers, right: Numbers) -> Numbers:
    """The solutions (k, n) of n symmetric positive definite systems, (k, k, n) and (k, n), by the factors of Cholesky.

    A pivot that rounding brought down to nothing counts as tiny: its component does not move.
    """
    size = matrix.shape[0]
    lower = np.zeros_like(matrix)
    for column in range(size):
        below = matrix[column:, column].copy()
        for done in range(column):
            below -= lower[column:, done] * lower[column, done]
        pivot = np.sqrt(np.maximum(below[0], 1e-300))
        lower[column:, column] = below / pivot
        lower[column, column] = pivot
    found = right.copy()
    for row in range(size):
        found[row] /= lower[row, row]
        found[row + 1 :] -= lower[row + 1 :, row] * found[row]
    for row in range(size - 1, -1, -1):
        found[row] /= lower[row, row]
        found[:row] -= lower[row, :row] * found[row]
    return found
