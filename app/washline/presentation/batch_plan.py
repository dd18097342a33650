"""What goes into a batch and what is left for service: plain facts, made by ``document.commands.batching``."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from washline.engine.traced import Trace
from washline.model.book import HouseBook
from washline.model.house import Vessel
from washline.model.item import Batch, Build
from washline.model.step import AnyStep


class Role(StrEnum):
    """How a line is scaled."""

    LINE = "line"
    SALT = "salt"
    BITTERS = "bitters"
    WATER = "water"
    """The dilution, added as water."""


class Why(StrEnum):
    """Why something waits for service."""

    CITRUS = "citrus"
    FIZZ = "fizz"
    RINSE = "rinse"
    FLOAT = "float"
    GARNISH = "garnish"
    ICE = "ice"
    SMOKE = "smoke"


@dataclass(frozen=True, slots=True)
class BatchFacts:
    """What is known of the drink before it is scaled. By step: grams and millilitres found for one serve, grams that a
    chill melts, and its ``roles`` with their reasons; ``citrus`` and ``fizzy`` are steps too. ``water_id`` is the item
    that the dilution is made of, ``None`` where the house book has no still water."""

    found_g: Mapping[int, float]
    found_ml: Mapping[int, float]
    melted_g: Mapping[int, float]
    roles: Mapping[int, tuple[Role, str]] = field(default_factory=dict)
    citrus: frozenset[int] = frozenset()
    fizzy: frozenset[int] = frozenset()
    water_id: int | None = None


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One weight. ``step_id`` is the line of the drink (for the water: the chill that it stands for), ``batch_step_id``
    that of the batch. ``share`` is how much of the drink's amount goes in, 0 to 1; ``exact_g`` is before rounding.
    ``serve_ml`` is what a serve of the drink has at 20 °C, with ``share``; ``None`` where it is not poured."""

    step_id: int
    batch_step_id: int
    item_id: int
    role: Role
    why: str
    share: float
    serve_g: float
    serve_ml: float | None
    exact_g: float
    batch_g: float
    is_below_scale: bool = False

    @property
    def is_rounded_much(self) -> bool:
        """Whether the scale's step moves it by more than a twentieth."""
        return self.exact_g > 0.0 and abs(self.batch_g - self.exact_g) > 0.05 * self.exact_g


@dataclass(frozen=True, slots=True)
class AtService:
    """One step that waits for service, with what each serve then gets; ``None`` where it has no weight."""

    step: AnyStep
    why: Why
    serve_g: float | None = None
    serve_ml: float | None = None


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """What to weigh. ``build`` is what goes into the vessel, a house-made part that is in no house book; ``dropped`` are
    sentences on steps of the drink that a batch does without."""

    build: Build
    batch: Batch
    serves: float
    lines: tuple[BatchLine, ...]
    at_service: tuple[AtService, ...]
    dropped: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Batched:
    """A plan with its figures: traces of the drink, of the batch and of one serve from it, in a ``book`` that is kept
    nowhere. ``volume_ml`` (20 °C) and ``mass_g`` are of the whole batch, ``None`` where they cannot be computed.
    ``vessel`` is the vessel it goes into, ``None`` where none is chosen or it is gone."""

    plan: BatchPlan
    book: HouseBook
    drink: Trace
    trace: Trace
    serve: Trace
    volume_ml: float | None
    mass_g: float | None
    vessel: Vessel | None

    @property
    def portion_ml(self) -> float | None:
        """What of the batch one serve gets, at 20 °C."""
        return None if self.volume_ml is None else self.volume_ml / self.plan.serves

    @property
    def fill_ml(self) -> float | None:
        """What one vessel is filled to."""
        return None if self.vessel is None else fill_of(self.vessel)


NECK_SHARE = 0.05
"""What a vessel keeps empty where the house has not said: common practice, no source."""


def fill_of(vessel: Vessel) -> float:
    """What a vessel is filled to: as set by the house, else its brim less a twentieth."""
    return vessel.fill_ml if vessel.fill_ml is not None else vessel.volume_ml * (1.0 - NECK_SHARE)
