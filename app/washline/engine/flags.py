"""Ranges beside values: which conditions of ``chemistry.ranges`` fail, one bit each, and what they say of a reading."""

import numpy as np
from numpy.typing import NDArray

from washline.chemistry.ranges import RANGES, Severity, conditions_of, flags
from washline.engine.readings import Figures
from washline.engine.state import MASSES, Numbers
from washline.model.reading import READING_INDEX

_QUANTITIES = {
    "strength": ("strength",),
    "sweetness": ("volume",),
    "acidity": ("volume",),
    "salt": ("volume",),
    "fizz": ("volume",),
    "length": ("volume",),
    "density": ("density",),
    "chill": ("temperature",),
    "dilution": ("dilution",),
    "brix_true": ("brix_true",),
    "brix_shown": ("brix_refractometer",),
}
"""The quantities of ``chemistry`` that each reading stands on."""

_AT_20_C = tuple(
    entry.key for entry in RANGES if "temperature_c" in entry.needs and "temperature" not in entry.readings
)
"""Ranges of quantities that are taken at 20 °C whatever the drink's own temperature."""


def flags_of(state: Numbers, figures: Figures, regression_pct_vol: Numbers) -> NDArray[np.int64]:
    """The conditions that fail in each column of a state (ROWS, n), as bits in the order of ``RANGES``: an array (n,).

    ``regression_pct_vol`` (n,) is the strength that a published dilution was asked for, nan where none was.
    """
    conditions = conditions_of(state[MASSES], figures.values[READING_INDEX["chill"]], regression_pct_vol)
    bits = np.zeros(state.shape[1], dtype=np.int64)
    failed = flags(conditions)
    for index, entry in enumerate(RANGES):
        if entry.key in failed and entry.key not in _AT_20_C:
            bits |= failed[entry.key].astype(np.int64) << index
    return bits


def reasons(bits: int, key: str) -> tuple[str, ...]:
    """What the failed conditions say of one reading."""
    quantities = _QUANTITIES.get(key, ())
    return tuple(
        entry.words
        for index, entry in enumerate(RANGES)
        if bits >> index & 1 and any(quantity in entry.readings for quantity in quantities)
    )


def is_outside(bits: int, key: str) -> bool:
    """Whether a reading has left the range where its formula holds, so that it is shown greyed."""
    quantities = _QUANTITIES.get(key, ())
    return any(
        bits >> index & 1
        and entry.severity is Severity.OUTSIDE
        and any(quantity in entry.readings for quantity in quantities)
        for index, entry in enumerate(RANGES)
    )
