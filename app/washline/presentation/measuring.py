"""What is measured on a vessel, with which instrument, and why a measured value may lie far from the computed one."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from washline.chemistry.reconcile import instrument_sigma
from washline.model.step import Measurable

FAR_SIGMAS = 3.0
"""Beyond so many standard uncertainties a measured value and the computed one are not of the same liquid."""


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument: what a person calls it, and the key of its usual uncertainty in ``chemistry.reconcile``."""

    name: str
    key: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """How one measurable is said and written, and its instruments, the usual one first."""

    name: str
    unit: str
    decimals: int
    instruments: tuple[Instrument, ...]
    high: tuple[str, ...]
    low: tuple[str, ...]


QUANTITIES: Mapping[Measurable, Quantity] = MappingProxyType(
    {
        Measurable.MASS: Quantity(
            "mass",
            "g",
            1,
            (Instrument("scale", "kitchen_scale"), Instrument("pocket scale", "pocket_scale")),
            ("something went in that is not in the build", "the scale still carried a jug"),
            ("some was lost or taken out", "more steam left than the build says"),
        ),
        Measurable.VOLUME: Quantity(
            "volume",
            "ml",
            0,
            (Instrument("jug", "measuring_jug"),),
            ("foam: let it settle", "read warm: read it at 20 °C"),
            ("some was lost in jug and filter", "read cold: read it at 20 °C"),
        ),
        Measurable.DENSITY: Quantity(
            "density",
            "g/ml",
            3,
            (Instrument("hydrometer", "hydrometer"),),
            ("read cold", "more sugar than the table says", "more water left as steam"),
            ("read warm", "gas still in it", "fruit less sweet than the table"),
        ),
        Measurable.BRIX: Quantity(
            "°Bx",
            "°Bx",
            1,
            (Instrument("refractometer", "refractometer"),),
            ("fruit sweeter than the table", "steam that was not counted", "syrup not stirred in"),
            ("fruit less sweet than the table", "sugar not yet dissolved", "a warm sample"),
        ),
        Measurable.PH: Quantity(
            "pH",
            "",
            2,
            (Instrument("strip", "ph_strip"), Instrument("pH meter", "ph_meter")),
            ("a meter not calibrated", "a strip misread in coloured liquid", "more buffer than is known"),
            ("a meter not calibrated", "more acid than the build says", "a ferment that has begun"),
        ),
        Measurable.ACIDITY: Quantity(
            "acidity",
            "% acidity",
            2,
            (Instrument("titration", "titration"),),
            ("gas still in the sample", "fruit sharper than the table", "the end point overrun"),
            ("fruit milder than the table", "weak or old lye", "the end point taken early"),
        ),
        Measurable.STRENGTH: Quantity(
            "strength",
            "% vol",
            1,
            (Instrument("alcoholmeter", "alcoholmeter"),),
            ("read warm", "less water went in than the build says"),
            ("sugar in the sample", "alcohol that left with heat", "read cold"),
        ),
    }
)
"""By measurable; the likely causes of a far too high and a far too low value are common practice, no source."""


def instrument_named(quantity: Measurable, name: str) -> Instrument | None:
    """The instrument of a quantity that is called so; ``None`` where none is."""
    wanted = name.strip().casefold()
    known = QUANTITIES[quantity].instruments
    return next((one for one in known if one.name.casefold() == wanted), None)


def usual_uncertainty(quantity: Measurable, value: float, instrument: str = "") -> float:
    """One standard uncertainty of an instrument at ``value``, of the usual one where it is not known."""
    found = instrument_named(quantity, instrument) or QUANTITIES[quantity].instruments[0]
    return float(instrument_sigma(found.key, value))


def likely_causes(quantity: Measurable, residual_sigmas: float) -> tuple[str, ...]:
    """Why a value lies so far off, by its side, the likeliest first; common practice, no source."""
    known = QUANTITIES[quantity]
    return known.high if residual_sigmas > 0.0 else known.low
