"""Ranges beside values: which conditions of ``chemistry.ranges`` fail, one bit each, and what they say of a reading."""

from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from washline.chemistry.freezing import highest_molality
from washline.chemistry.molality import SOLUTES
from washline.chemistry.ranges import RANGES, Range, Severity, conditions_of, flags
from washline.engine.items import is_buffer_known
from washline.engine.readings import Figures
from washline.engine.run import RANGED
from washline.engine.state import MASSES, UNKNOWN_BUFFER, Numbers, mass_g
from washline.model.book import HouseBook
from washline.model.graph import raws_below
from washline.model.reading import READING_INDEX

BUFFER_BIT = 62
"""The flag of a liquid that holds more than ``BUFFER_LIMIT`` of what has a buffer that nobody knows."""

BUFFER_LIMIT = 0.02
BUFFER_WORDS = "It holds something whose buffer is not known: measure it."

_QUANTITIES = {
    "strength": ("strength",),
    "sweetness": ("volume",),
    "acidity": ("volume",),
    "salt": ("volume",),
    "fizz": ("volume", "carbonation"),
    "length": ("volume",),
    "length_served": ("volume",),
    "density": ("density",),
    "chill": ("temperature", "chilling"),
    "dilution": ("dilution", "chilling"),
    "brix_true": ("brix_true",),
    "brix_shown": ("brix_refractometer",),
    "ph": ("ph",),
    "water_activity": ("water_activity",),
    "freezing": ("freezing_point",),
}
"""The quantities of ``chemistry`` that each reading stands on."""

_AS_SERVED = ("length_served",)
"""Readings that are taken at the drink's own temperature."""

_AT_20_C = tuple(
    entry.key for entry in RANGES if "temperature_c" in entry.needs and "temperature" not in entry.readings
)
"""Ranges of quantities that all other readings take at 20 °C."""

_UNUSED = tuple(key for key in _AT_20_C if key != "volume-temperature")
_NO_END = "chill-below-table"
"""Where a chill has no end, nothing after it has a value."""


def flags_of(state: Numbers, figures: Figures, ranged: Numbers) -> NDArray[np.int64]:
    """The conditions that fail in each column of a state (ROWS, n), as bits in the order of ``RANGES``: an array (n,).

    ``ranged`` (len(RANGED), n) is what the ranges of ice and gas look at, nan where there is none.
    """
    values, beside = figures.values, figures.beside
    conditions = conditions_of(
        state[MASSES],
        values[READING_INDEX["chill"]],
        ph=values[READING_INDEX["ph"]],
        ionic_strength_mol_per_l=beside.ionic_strength if beside else None,
        water_activity=values[READING_INDEX["water_activity"]],
        freezing_point_c=values[READING_INDEX["freezing"]],
        molalities=_beyond(beside.molalities) if beside else None,
    )
    is_there = ~np.all(np.isnan(ranged), axis=1)
    conditions.update({key: row for key, row, is_any in zip(RANGED, ranged, is_there, strict=True) if is_any})
    if "chilled_from_c" in conditions:
        conditions.setdefault("chilled_c", ranged[RANGED.index("chilled_c")])
    has_unknown = state[UNKNOWN_BUFFER] > BUFFER_LIMIT * mass_g(state)
    bits: NDArray[np.int64] = has_unknown.astype(np.int64) << BUFFER_BIT
    failed = flags(conditions)
    for index, entry in enumerate(RANGES):
        if entry.key in failed and entry.key not in _UNUSED and bool(failed[entry.key].any()):
            bits |= failed[entry.key].astype(np.int64) << index
    return bits


def _beyond(molalities: Numbers) -> Numbers | None:
    """Molalities of the solutes, (solutes, n), where one of them anywhere lies beyond its table; most often none does, and
    as many conditions need not be looked at."""
    return molalities if bool(np.any(molalities > _highest())) else None


@cache
def _highest() -> Numbers:
    return np.array([[highest_molality(solute)] for solute in SOLUTES])


@lru_cache(maxsize=4096)
def reasons(bits: int, key: str) -> tuple[str, ...]:
    """What the failed conditions say of one reading."""
    buffer = (BUFFER_WORDS,) if key == "ph" and bits >> BUFFER_BIT & 1 else ()
    return buffer + tuple(
        entry.words for index, entry in enumerate(RANGES) if bits >> index & 1 and _concerns(entry, key)
    )


def _concerns(entry: Range, key: str) -> bool:
    """Whether a range has something to say of a reading."""
    if entry.key == _NO_END:
        return True
    if entry.key in _AT_20_C and key not in _AS_SERVED:
        return False
    return any(quantity in entry.readings for quantity in _QUANTITIES.get(key, ()))


@lru_cache(maxsize=4096)
def is_outside(bits: int, key: str) -> bool:
    """Whether a reading has left the range where its formula holds, so that it is shown greyed."""
    if key == "ph" and bits >> BUFFER_BIT & 1:
        return True
    return any(
        bits >> index & 1 and entry.severity is Severity.OUTSIDE and _concerns(entry, key)
        for index, entry in enumerate(RANGES)
    )


def raws_of_unknown_buffer(book: HouseBook, build_id: int) -> tuple[int, ...]:
    """The raw ingredients below a build whose buffer nobody knows, for the words of the flag on its pH."""
    return tuple(raw_id for raw_id in raws_below(book, build_id) if not is_buffer_known(book.raws[raw_id]))
