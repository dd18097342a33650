"""What a step that was written as one line says, part by part."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from washline.quantity.amount_text import TypedAmount
from washline.quantity.line_text import TypedLine


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedStep:
    """A step as it was understood; ``kind`` is the word for it. ``alternative`` is the other way to read its numbers."""

    kind: str
    duration_s: float | None = None
    low_c: float | None = None
    high_c: float | None = None
    words: str = ""
    alternative: "TypedStep | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedInfusion(TypedStep):
    """So much of a solid goes in; ``given_pct`` holds the shares that it gives, by group."""

    line: TypedLine
    given_pct: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedWash(TypedStep):
    """A wash with *fat* or *milk*."""

    washes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedStrain(TypedStep):
    """A strain: by which way, and what was weighed, or is expected in percent with its range."""

    way: str = ""
    weighed_g: float | None = None
    expected_pct: float | None = None
    low_pct: float | None = None
    high_pct: float | None = None
    leftover: str = ""
    leftover_g: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedEvaporation(TypedStep):
    """Heat, reduce or dry: how far, at most one of three ways, and how much of the alcohol stays."""

    final_g: float | None = None
    final_pct: float | None = None
    final_brix: float | None = None
    ethanol_kept_pct: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedFerment(TypedStep):
    """A ferment by *lactic* or *yeast*, with what was measured."""

    ferments: str
    gas_lost_g: float | None = None
    final_acidity_pct: float | None = None
    final_brix: float | None = None
    final_ph: float | None = None
    discard_above_ph: float | None = None
    discard_on_day: float | None = None


@dataclass(frozen=True, slots=True)
class TypedPortion:
    """The name of one item of several, and its parts by weight."""

    name: str
    parts: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedAdjustment(TypedStep):
    """What is added, and the reading that it brings the vessel to: ``goal`` is brix, acidity, strength or salt; of
    ``value`` and ``like`` (the name of what it shall be like) one is given. No portions: the house's usual."""

    portions: tuple[TypedPortion, ...]
    goal: str
    value: float | None = None
    is_by_volume: bool = False
    like: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedMeasurement(TypedStep):
    """A measured value; ``quantity`` is mass, volume, density, brix, ph, acidity or strength."""

    quantity: str
    value: float
    instrument: str = ""
    uncertainty: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedTake(TypedStep):
    """So much is set aside, under a name or without one."""

    amount: TypedAmount
    leftover: str = ""
