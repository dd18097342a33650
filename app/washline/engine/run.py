"""What a program works on while it runs: the vessel with its liquid and what is held in it, and all that is noted down.

Every gram that leaves the vessel is named in an outflow, so that masses in equal masses out.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from washline.chemistry import heat, mixture
from washline.engine.melting import Melt
from washline.engine.program import NONE
from washline.engine.state import ENTHALPY, MASSES, Numbers, empty_state, mass_g

ALREADY_ABOVE = "already above its mark: nothing was added"
ALREADY_BELOW = "already below its mark: nothing was added"
NOTHING_TAKEN = "already below its mark: nothing was taken"
OUT_OF_REACH = "cannot be reached with these: nothing was added"
MORE_THAN_THERE_IS = "weighed more than there is: the rest of the vessel was taken"

RANGED = (
    "before_ice_pct_vol",
    "chilled_from_pct_vol",
    "chilled_from_c",
    "chilled_c",
    "cold_left_j",
    "co2_temperature_c",
    "co2_kpa",
    "co2_pct_vol",
)
"""What the ranges of ``chemistry.ranges`` look at that is no property of the liquid as it stands: of the last chill and of
the last carbonating."""

POURED, LIQUID, HELD, OUTPUT, AWAY = "poured", "liquid", "held", "output", "away"
"""Places that matter moves between: the line of the step, the two of the vessel, the leftover, and all that is lost."""


@dataclass(slots=True)
class Outflow:
    """What left the vessel at an op: masses and passengers, (ROWS, n)."""

    op: int
    kind: str
    state: Numbers


@dataclass(slots=True)
class Move:
    """What went from one place to another at an op, (ROWS, n)."""

    source: str
    target: str
    rows: Numbers


@dataclass(slots=True)
class Gas:
    """How a carbonating went, each (n,): g/L of CO2 reached and in equilibrium, kPa over the atmosphere as typed, where it
    is warmest, as rated and as the level needs, and °C; nan where there is none."""

    co2_g_per_l: Numbers
    equilibrium_g_per_l: Numbers
    over_kpa: Numbers
    at_c: Numbers
    warmest_c: Numbers
    warm_over_kpa: Numbers
    rated_kpa: Numbers
    needed_over_kpa: Numbers


@dataclass(slots=True)
class Run:
    """A program while it runs on n columns. ``per_gram`` is (ROWS, lines, n) and ``per_unit`` (lines, n): the grams in
    one unit of each line's amount; ``amounts`` (lines, n) and ``numbers`` (numbers, n) are what was typed.

    ``state`` (ROWS, n) is the liquid with its pulp, ``held`` (ROWS, n) what is in the vessel but no part of the liquid
    (infused solids, curd, fat); ``None`` until a step holds something. After the run ``state`` is all of it, and
    ``held_at_end`` what of it was held; ``before_acting`` is what its own lines make of a main output that acts as
    another item.

    ``found`` grams (n,) per line; ``yields`` grams (n,) of the steps that leave one, in order, and ``yield_of`` by op;
    ``outputs`` one state each; ``melted_g`` and ``before_ice_ml`` (n,); ``garnish`` (ROWS, n) is what sits on the glass;
    ``missed`` holds (op, words, columns) where a number could not be met; ``measured`` computed and reconciled values
    (n,) by op. ``ranged`` (len(RANGED), n) is what the ranges of ice and gas look at, nan where there is none;
    ``densities`` (lines, n) are known to a run of one build. ``moves`` says what went where at an op that a ratio of the
    liquid after to before does not tell. ``tin_ice`` and ``glass_ice`` are grams and °C (n,) of the ice that chills left,
    ``None`` before them. A run that ``keeps`` also notes how each chill (``chills``) and each carbonating (``gases``) went,
    by op; ``gained`` grams (n,) of gas by op.
    """

    per_gram: Numbers
    per_unit: Numbers
    amounts: Numbers
    numbers: Numbers
    state: Numbers
    garnish: Numbers
    melted_g: Numbers
    before_ice_ml: Numbers
    ranged: Numbers
    keeps: bool = False
    densities: Numbers | None = None
    held: Numbers | None = None
    held_at_end: Numbers | None = None
    before_acting: Numbers | None = None
    found: list[Numbers] = field(default_factory=list)
    yields: list[Numbers] = field(default_factory=list)
    yield_of: dict[int, Numbers] = field(default_factory=dict)
    outputs: list[Numbers] = field(default_factory=list)
    outflows: list[Outflow] = field(default_factory=list)
    missed: list[tuple[int, str, NDArray[np.bool_]]] = field(default_factory=list)
    after: list[Numbers] = field(default_factory=list)
    held_after: list[Numbers | None] = field(default_factory=list)
    melts: dict[int, Numbers] = field(default_factory=dict)
    moves: dict[int, list[Move]] = field(default_factory=dict)
    measured: dict[int, tuple[Numbers, Numbers]] = field(default_factory=dict)
    tin_ice: tuple[Numbers, Numbers] | None = None
    glass_ice: tuple[Numbers, Numbers] | None = None
    chills: dict[int, Melt] = field(default_factory=dict)
    gained: dict[int, Numbers] = field(default_factory=dict)
    gases: dict[int, Gas] = field(default_factory=dict)
    op: int = 0

    @property
    def vessel_g(self) -> Numbers:
        """Grams (n,) of all that is in the vessel."""
        liquid = mass_g(self.state)
        return liquid if self.held is None else liquid + mass_g(self.held)

    @property
    def vessel_ml(self) -> Numbers:
        """Volume (n,) at 20 °C of all that is in the vessel."""
        liquid = mixture.volume_ml(self.state[MASSES])
        return liquid if self.held is None else liquid + mixture.volume_ml(self.held[MASSES])

    @property
    def held_or_nothing(self) -> Numbers:
        """What is held, (ROWS, n)."""
        return empty_state(self.state.shape[1]) if self.held is None else self.held

    def poured(self, line: int, grams: Numbers, temperature: int) -> Numbers:
        """What so many grams (n,) of a line bring, (ROWS, n), at its own temperature or at a typed one."""
        self.found[line] = grams
        poured = self.per_gram[:, line] * grams
        if temperature != NONE:
            poured[ENTHALPY] = heat.enthalpy_j(poured[MASSES], self.numbers[temperature])
        return poured

    def mix(self, line: int, grams: Numbers, temperature: int) -> None:
        """Puts grams (n,) of a line into the liquid."""
        self.state = self.state + self.poured(line, grams, temperature)

    def leave_yield(self, grams: Numbers) -> None:
        """Notes what a step left or put in, (n,), so that a later share can refer to it."""
        self.yields.append(grams)
        self.yield_of[self.op] = grams

    def referred_g(self, refers: tuple[int, ...]) -> Numbers:
        """The grams (n,) of the lines and yields that a share is of."""
        total = np.zeros(self.state.shape[1])
        for index in refers:
            total = total + (self.found[index] if index >= 0 else self.yields[-2 - index])
        return total

    def leave(self, kind: str, state: Numbers) -> None:
        """Names what left."""
        self.outflows.append(Outflow(self.op, kind, state))

    def move(self, source: str, target: str, rows: Numbers) -> None:
        """Notes what went where."""
        self.moves.setdefault(self.op, []).append(Move(source, target, rows))

    def miss(self, words: str, columns: NDArray[np.bool_]) -> None:
        """Notes the columns in which a number could not be met."""
        if bool(np.any(columns)):
            self.missed.append((self.op, words, columns))

    def set_range(self, key: str, values: Numbers) -> None:
        """Notes what a range looks at, (n,)."""
        self.ranged[RANGED.index(key)] = values

    def leave_ice(self, grams: Numbers, celsius: Numbers, is_in_glass: bool) -> None:
        """Notes the ice that a chill left, (n,) each."""
        if is_in_glass:
            self.glass_ice = grams, celsius
        else:
            self.tin_ice = grams, celsius
