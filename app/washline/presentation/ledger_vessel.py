"""What went into one vessel and what came out of it, to the gram: the entries that every ledger is made of."""

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from washline.chemistry.components import ACIDS, CO2, COMPONENT_COUNT, ETHANOL, FAT, NACL, SUGARS, WATER
from washline.engine.items import raw_per_gram
from washline.engine.state import MASSES, UNKNOWN_ACID, UNKNOWN_SUGAR, Numbers, mass_g
from washline.engine.trace import Outflow, StepTrace, Trace
from washline.model.book import HouseBook
from washline.model.item import Build, Leftover, RawIngredient
from washline.model.step import (
    Adjust,
    AnyStep,
    BarStrain,
    Carbonate,
    Chill,
    Ferment,
    Line,
    Measurable,
    Measurement,
)
from washline.presentation.row_words import item_name

SMALLEST_G = 1e-9
"""Less than this is nothing: it is what is left over of a sum."""

GROUPS: tuple[tuple[str, tuple[int, ...]], ...] = (
    ("water", (WATER,)),
    ("sugars", SUGARS),
    ("acids", ACIDS),
    ("ethanol", (ETHANOL,)),
    ("salt", (NACL,)),
    ("fat", (FAT,)),
    (
        "the rest",
        tuple(
            row for row in range(COMPONENT_COUNT) if row not in (WATER, ETHANOL, NACL, FAT, *SUGARS, *ACIDS)
        ),
    ),
)
"""The groups of components of which a ledger says whether they close."""


class Origin(StrEnum):
    """Where something that went in came from."""

    BOUGHT = "bought"
    MADE = "from house-made parts"
    LEFTOVER = "from leftovers"
    ICE = "melted from ice"
    DISSOLVED = "dissolved"


class Fate(StrEnum):
    """What became of something, in the order in which it is told."""

    MAIN = "in the glass"
    ON_GLASS = "on the glass"
    REUSED = "reused"
    KEPT = "kept"
    EVAPORATED = "evaporated"
    GAS = "gas"
    LOST = "lost on filter and jug"
    HELD_BACK = "held back in tin and strainer"
    POURED_AWAY = "poured away"
    THROWN = "thrown away"
    DIFFERENCE = "difference of a measurement"


_SIZES = (Measurable.MASS, Measurable.VOLUME)
"""Measured on the whole vessel: what was found more or less is an outflow, and nothing is turned into anything."""

_FATES = {
    "vapour": Fate.EVAPORATED,
    "gas": Fate.GAS,
    "loss": Fate.LOST,
    "difference": Fate.DIFFERENCE,
    "held back": Fate.HELD_BACK,
    "poured away": Fate.POURED_AWAY,
    "thrown away": Fate.THROWN,
}


@dataclass(frozen=True, slots=True)
class Matter:
    """Grams of each component, (24,). ``may_be_sugar_g`` and ``may_be_acid_g`` are grams of which nobody knows it."""

    masses: Numbers
    may_be_sugar_g: float = 0.0
    may_be_acid_g: float = 0.0

    @property
    def grams(self) -> float:
        """Grams in all."""
        return float(mass_g(self.masses[:, None])[0])

    @property
    def water_g(self) -> float:
        """Grams of water."""
        return float(self.masses[WATER])

    @property
    def sugars_g(self) -> float:
        """Grams of sugars."""
        return self.of(SUGARS)

    @property
    def acids_g(self) -> float:
        """Grams of acids by weight, whatever binds them."""
        return self.of(ACIDS)

    @property
    def fat_g(self) -> float:
        """Grams of fat."""
        return float(self.masses[FAT])

    @property
    def is_known(self) -> bool:
        """Whether every component has a figure."""
        return bool(np.isfinite(self.masses).all())

    def of(self, rows: tuple[int, ...]) -> float:
        """Grams of some components together."""
        return float(np.add.accumulate(self.masses[list(rows)])[-1])

    def scaled(self, factor: float) -> "Matter":
        """So many times as much."""
        return Matter(self.masses * factor, self.may_be_sugar_g * factor, self.may_be_acid_g * factor)

    def plus(self, other: "Matter") -> "Matter":
        """Both together."""
        return Matter(
            self.masses + other.masses,
            self.may_be_sugar_g + other.may_be_sugar_g,
            self.may_be_acid_g + other.may_be_acid_g,
        )


NOTHING = Matter(np.zeros(COMPONENT_COUNT))


def matter_of(rows: Numbers) -> Matter:
    """The matter of a state of one column, (ROWS,)."""
    return Matter(rows[MASSES].copy(), float(rows[UNKNOWN_SUGAR]), float(rows[UNKNOWN_ACID]))


@dataclass(frozen=True, slots=True)
class Inflow:
    """One thing that went in: what of it was used, and ``trimmed_g`` more that was bought and cut away."""

    step_id: int
    item_id: int | None
    name: str
    origin: Origin
    used: Matter
    trimmed_g: float = 0.0
    kept_g: float = 0.0
    """What of it is in the vessel in the end."""

    @property
    def grams(self) -> float:
        """Grams as they came."""
        return self.used.grams + self.trimmed_g

    def scaled(self, factor: float) -> "Inflow":
        """So many times as much."""
        return replace(
            self,
            used=self.used.scaled(factor),
            trimmed_g=self.trimmed_g * factor,
            kept_g=self.kept_g * factor,
        )


@dataclass(frozen=True, slots=True)
class Outlet:
    """One thing that left the vessel at a step; ``item_id`` is the leftover that it is."""

    step_id: int | None
    fate: Fate
    item_id: int | None
    matter: Matter

    def scaled(self, factor: float) -> "Outlet":
        """So many times as much."""
        return replace(self, matter=self.matter.scaled(factor))


@dataclass(frozen=True, slots=True)
class Turned:
    """What a step or an output made of the components without weighing anything: grams gained by group of ``GROUPS``."""

    words: str
    gained_g: tuple[float, ...]

    def scaled(self, factor: float) -> "Turned":
        """So many times as much."""
        return replace(self, gained_g=tuple(gained * factor for gained in self.gained_g))


@dataclass(frozen=True, slots=True)
class Vessel:
    """One build as entries. ``main`` is what is in the vessel in the end, ``on_glass`` what sits on it."""

    build: Build
    trace: Trace
    inflows: tuple[Inflow, ...]
    outlets: tuple[Outlet, ...]
    main: Matter
    on_glass: Matter
    turned: tuple[Turned, ...]

    @property
    def is_known(self) -> bool:
        """Whether everything that went in and came out has a figure; a line that cannot be computed leaves none."""
        is_whole = self.trace.result.value("mass") is not None
        return (
            is_whole
            and self.main.is_known
            and all(
                entry.is_known
                for entry in (*(one.used for one in self.inflows), *(one.matter for one in self.outlets))
            )
        )

    @property
    def is_empty(self) -> bool:
        """Whether nothing went in."""
        return sum((one.grams for one in self.inflows), 0.0) <= SMALLEST_G

    @property
    def trimmed_g(self) -> float:
        """Grams that were bought and cut away."""
        return sum((one.trimmed_g for one in self.inflows), 0.0)

    @property
    def thrown_from_glass_g(self) -> dict[int, float]:
        """Grams of the garnishes, by step, of which a part never stays on the glass."""
        on_glass = {step.step_id for step in self.trace.steps if step.is_on_glass}
        thrown = [one for one in self.outlets if one.fate is Fate.THROWN and one.step_id in on_glass]
        return {one.step_id: one.matter.grams for one in thrown if one.step_id is not None}

    def scaled(self, factor: float) -> "Vessel":
        """So many times as much of the same; the trace stays that of one batch."""
        return replace(
            self,
            inflows=tuple(one.scaled(factor) for one in self.inflows),
            outlets=tuple(one.scaled(factor) for one in self.outlets),
            main=self.main.scaled(factor),
            on_glass=self.on_glass.scaled(factor),
            turned=tuple(one.scaled(factor) for one in self.turned),
        )


def vessel_of(trace: Trace) -> Vessel:
    """The entries of a build. What acts as a raw ingredient has that one's composition here, as it has for its users."""
    book = trace.book
    made = trace.final_state if trace.acted_from is None else trace.acted_from
    main, acted_main = _acting(book, trace.build, matter_of(made))
    outlets, acted = _outlets(trace)
    turned = (*_turned_by_steps(trace), *acted, *acted_main)
    inflows = tuple(one for step, at in _steps(trace) for one in _inflows(trace, step, at))
    return Vessel(trace.build, trace, inflows, outlets, main, matter_of(trace.garnish.rows), turned)


def _steps(trace: Trace) -> list[tuple[AnyStep, StepTrace]]:
    pairs = zip(trace.build.steps, trace.steps, strict=True)
    return [(step, at) for step, at in pairs if not step.left_out]


def _inflows(trace: Trace, step: AnyStep, at: StepTrace) -> list[Inflow]:
    if isinstance(step, Chill | BarStrain):
        return _alone(step, at, WATER, "water from ice", Origin.ICE)
    if isinstance(step, Carbonate):
        return _alone(step, at, CO2, "carbon dioxide", Origin.DISSOLVED)
    rows = trace.poured.get(step.id)
    if rows is None:
        return []
    used = matter_of(rows)
    if isinstance(step, Line):
        trimmed = max(0.0, at.bought_g - used.grams) if at.bought_g is not None else 0.0
        return [_inflow(trace.book, step.id, step.item_id, used, trimmed, at.share.grams)]
    if isinstance(step, Adjust):
        total = sum((grams for _item, grams in at.portions_g), 0.0) or 1.0
        return [
            _inflow(
                trace.book,
                step.id,
                item_id,
                used.scaled(grams / total),
                0.0,
                at.share.grams * grams / total,
            )
            for item_id, grams in at.portions_g
            if grams > 0.0
        ]
    return []


def _alone(step: AnyStep, at: StepTrace, row: int, name: str, origin: Origin) -> list[Inflow]:
    """What came in as one component."""
    masses = np.zeros(COMPONENT_COUNT)
    masses[row] = at.found_g or 0.0
    return [Inflow(step.id, None, name, origin, Matter(masses))] if masses[row] else []


def _inflow(
    book: HouseBook, step_id: int, item_id: int, used: Matter, trimmed_g: float, kept_g: float
) -> Inflow:
    item = book.item(item_id)
    origin = Origin.BOUGHT
    if isinstance(item, Build):
        origin = Origin.MADE
    elif isinstance(item, Leftover):
        origin = Origin.LEFTOVER
    return Inflow(step_id, item_id, item_name(book, item_id), origin, used, trimmed_g, kept_g)


def _outlets(trace: Trace) -> tuple[tuple[Outlet, ...], list[Turned]]:
    outlets: list[Outlet] = []
    turned: list[Turned] = []
    for flow in trace.outflows:
        if abs(flow.grams) <= SMALLEST_G:
            continue
        matter, acted = _acting(trace.book, trace.book.item(flow.item_id or 0), _outflow_matter(trace, flow))
        outlets.append(Outlet(flow.step_id, _fate(flow), flow.item_id, matter))
        turned += acted
    return tuple(outlets), turned


def _fate(flow: Outflow) -> Fate:
    if flow.kind == "leftover":
        return Fate.THROWN if flow.item_id is None else Fate.KEPT
    return _FATES[flow.kind]


def _outflow_matter(trace: Trace, flow: Outflow) -> Matter:
    """An outflow with what nobody knows of it: a leftover's is followed by the engine, a loss is of the liquid in the
    vessel, and vapour and gas hold nothing unknown."""
    if flow.item_id is not None and flow.item_id in trace.output_shares:
        shares = trace.output_shares[flow.item_id].values()
        unknown = [sum((float(share[row]) for share in shares), 0.0) for row in (UNKNOWN_SUGAR, UNKNOWN_ACID)]
        return Matter(flow.masses, *unknown)
    if flow.kind == "loss" and flow.step_id is not None:
        after = trace.step(flow.step_id).after
        mass = float(mass_g(after[:, None])[0])
        factor = flow.grams / mass if mass > 0.0 else 0.0
        return Matter(flow.masses, float(after[UNKNOWN_SUGAR]) * factor, float(after[UNKNOWN_ACID]) * factor)
    return Matter(flow.masses)


def _acting(book: HouseBook, item: object, matter: Matter) -> tuple[Matter, list[Turned]]:
    """An output as its users meet it: with the composition of the raw ingredient it acts as, where it acts as one."""
    acts_as = item.acts_as_id if isinstance(item, Build | Leftover) else None
    raw = book.raws.get(acts_as) if acts_as is not None else None
    if raw is None or not isinstance(item, Build | Leftover):
        return matter, []
    acted = _as_raw(book, raw, matter.grams)
    gained = tuple(acted.of(rows) - matter.of(rows) for _name, rows in GROUPS)
    return acted, [Turned(f"{item.name} has the composition of {raw.name}", gained)]


def _as_raw(book: HouseBook, raw: RawIngredient, grams: float) -> Matter:
    return matter_of(raw_per_gram(book, raw) * grams)


def _turned_by_steps(trace: Trace) -> list[Turned]:
    """What ferments and measurements made of the components: the vessel after the step, with what left, less before."""
    found = []
    before = np.zeros(COMPONENT_COUNT)
    for step, at in _steps(trace):
        after = at.after[MASSES]
        if isinstance(step, Ferment) or (isinstance(step, Measurement) and step.quantity not in _SIZES):
            gained = after - before
            for flow in trace.outflows:
                if flow.step_id == step.id:
                    gained = gained + flow.masses
            words = "turned by the ferment" if isinstance(step, Ferment) else "corrected by a measurement"
            found.append(Turned(words, tuple(Matter(gained).of(rows) for _name, rows in GROUPS)))
        before = after
    return found
