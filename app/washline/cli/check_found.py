"""What an evaluator of ``check-values`` finds: a value, and the conditions under which it was found."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from washline.chemistry import ranges
from washline.chemistry.arrays import Floats
from washline.cli.check_inputs import Inputs, Liquid
from washline.cli.check_units import Dimension


@dataclass(frozen=True, slots=True)
class Found:
    """A value in the first unit of its dimension, and the conditions under which it was found (see ``ranges``)."""

    value: float
    conditions: Mapping[str, Floats]


@dataclass(frozen=True, slots=True)
class Evaluator:
    """How one quantity is evaluated: ``reading`` is its key in the tables of methods and ranges."""

    find: Callable[[Inputs], Found]
    dimension: Dimension
    reading: str

    def remarks(self, found: Found) -> tuple[str, ...]:
        """The words of every range that the value leaves."""
        failing = ranges.flags(found.conditions, self.reading)
        return tuple(entry.words for entry in ranges.RANGES if entry.key in failing and failing[entry.key][0])


def found_at(value: float, **conditions: float) -> Found:
    """A value, and the quantities that its ranges look at, each by its name in ``ranges``."""
    return Found(value, {name: np.array([number]) for name, number in conditions.items()})


def found_in(value: float, liquid: Liquid, temperature_c: float | None = None, **conditions: float) -> Found:
    """A value of a liquid, with the conditions of the liquid and further ones."""
    of_liquid = ranges.conditions_of(liquid.component_masses_g(), temperature_c)
    return Found(value, {**of_liquid, **found_at(value, **conditions).conditions})
