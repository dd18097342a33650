"""The house book: everything a house knows, as one immutable value with shared parts."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from washline.model.house import (
    Calibration,
    Glass,
    Ice,
    Measure,
    Method,
    Settings,
    Vessel,
    Weighing,
    calibration_slug,
)
from washline.model.item import Build, Item, Leftover, Making, RawIngredient
from washline.model.step import AnyStep
from washline.model.target import Target


@dataclass(frozen=True, slots=True)
class HouseBook:
    """All items, builds and settings of a house, by id or slug. No mapping is ever changed in place.

    Ids of items, steps and targets are drawn from one sequence; ``top_id`` is the highest one given so far.
    """

    settings: Settings = field(default_factory=Settings)
    raws: Mapping[int, RawIngredient] = field(default_factory=dict)
    builds: Mapping[int, Build] = field(default_factory=dict)
    leftovers: Mapping[int, Leftover] = field(default_factory=dict)
    targets: Mapping[int, Target] = field(default_factory=dict)
    glasses: Mapping[str, Glass] = field(default_factory=dict)
    methods: Mapping[str, Method] = field(default_factory=dict)
    measures: Mapping[str, Measure] = field(default_factory=dict)
    makings: Mapping[int, Making] = field(default_factory=dict)
    ices: Mapping[str, Ice] = field(default_factory=dict)
    vessels: Mapping[str, Vessel] = field(default_factory=dict)
    weighings: Mapping[int, Weighing] = field(default_factory=dict)
    calibrations: Mapping[str, Calibration] = field(default_factory=dict)
    top_id: int = 0

    def item(self, item_id: int) -> Item | None:
        """The item with that id, whatever its kind."""
        return self.raws.get(item_id) or self.builds.get(item_id) or self.leftovers.get(item_id)

    def drinks(self) -> Iterator[Build]:
        """The builds that end in a glass, in the order of the book."""
        return (build for build in self.builds.values() if build.is_drink)

    def parts(self) -> Iterator[Build]:
        """The builds that end in a bottle, in the order of the book."""
        return (build for build in self.builds.values() if not build.is_drink)

    def step(self, build_id: int, step_id: int) -> AnyStep | None:
        """One step of a build."""
        build = self.builds.get(build_id)
        return next((step for step in build.steps if step.id == step_id), None) if build else None

    def glass_of(self, build: Build) -> Glass | None:
        """The glass in which a drink is served."""
        return self.glasses.get(build.glass) if build.glass else None

    def ice_named(self, words: str) -> Ice | None:
        """The house's ice that these words mean: its slug, its name, or words that hold its name ("one fresh 50 mm cube");
        the longest name counts."""
        said = words.strip().casefold()
        if not said:
            return None
        if said in self.ices:
            return self.ices[said]
        held = [ice for ice in self.ices.values() if ice.name.casefold() in said]
        return max(held, key=lambda ice: (len(ice.name), ice.slug), default=None)

    def calibration_of(self, method: str, ice: Ice | None) -> Calibration | None:
        """What the house's own weighings say of a method on an ice."""
        return None if ice is None else self.calibrations.get(calibration_slug(method, ice.slug))

    def with_raw(self, raw: RawIngredient) -> "HouseBook":
        """The book with a raw ingredient put in or replaced."""
        return replace(self, raws={**self.raws, raw.id: raw}, top_id=max(self.top_id, raw.id))

    def with_build(self, build: Build) -> "HouseBook":
        """The book with a build put in or replaced."""
        top = (
            max(self.top_id, build.id, *(step.id for step in build.steps))
            if build.steps
            else max(self.top_id, build.id)
        )
        return replace(self, builds={**self.builds, build.id: build}, top_id=top)

    def with_leftover(self, leftover: Leftover) -> "HouseBook":
        """The book with a leftover put in or replaced."""
        return replace(
            self, leftovers={**self.leftovers, leftover.id: leftover}, top_id=max(self.top_id, leftover.id)
        )

    def with_making(self, making: Making) -> "HouseBook":
        """The book with a making put in or replaced."""
        return replace(self, makings={**self.makings, making.id: making}, top_id=max(self.top_id, making.id))

    def with_weighing(self, weighing: Weighing) -> "HouseBook":
        """The book with a weighing put in or replaced."""
        weighings = {**self.weighings, weighing.id: weighing}
        return replace(self, weighings=weighings, top_id=max(self.top_id, weighing.id))

    def with_calibration(self, calibration: Calibration) -> "HouseBook":
        """The book with a calibration put in or replaced."""
        return replace(self, calibrations={**self.calibrations, calibration.slug: calibration})

    def with_target(self, target: Target) -> "HouseBook":
        """The book with a target put in or replaced."""
        return replace(self, targets={**self.targets, target.id: target}, top_id=max(self.top_id, target.id))

    def with_settings(self, settings: Settings) -> "HouseBook":
        """The book with other settings."""
        return replace(self, settings=settings)
