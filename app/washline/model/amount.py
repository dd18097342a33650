"""An amount: a number, a unit and what the number is a share of."""

from enum import StrEnum

from msgspec import Struct


class Basis(StrEnum):
    """What the number of an amount refers to."""

    ABSOLUTE = "absolute"
    PERCENT_OF_VESSEL = "percent_of_vessel"
    """Percent by mass of all that is in the vessel when the line is added."""
    PERCENT_OF_LINES = "percent_of_lines"
    """Percent by mass of named earlier lines, or of what named earlier steps left (a yield)."""
    PARTS = "parts"
    """So many times the mass of one part of the named earlier line."""
    TO_VOLUME = "to_volume"
    """As much as brings the vessel to a volume at 20 °C."""
    TO_MASS = "to_mass"
    """As much as brings the vessel to a mass."""
    TO_WASH_LINE = "to_wash_line"
    """As much as brings the drink to the wash line of its glass; the number is not used."""


class Heft(StrEnum):
    """Whether a poured amount is meant a little short or a little over: by how much is a setting of the house."""

    EVEN = ""
    SCANT = "scant"
    HEAVY = "heavy"


class Amount(Struct, frozen=True, gc=False):
    """An amount as a person typed it.

    ``number`` is in ``unit`` ("g", "ml", "oz", "dash", "piece", "%", "parts" …); ``of`` holds the ids of the steps that a
    share refers to; ``typed`` is the text as it was typed, so that editing opens what was written. ``heft`` is for
    absolute volumes only.
    """

    number: float
    unit: str
    basis: Basis = Basis.ABSOLUTE
    of: tuple[int, ...] = ()
    typed: str = ""
    heft: Heft = Heft.EVEN


def grams(number: float) -> Amount:
    """An absolute amount by weight."""
    return Amount(number, "g")


def millilitres(number: float) -> Amount:
    """An absolute amount by volume at 20 °C."""
    return Amount(number, "ml")
