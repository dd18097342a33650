"""A drink made ahead: the build that goes into the vessel, what waits for service, and the figures of both."""

import math
from dataclasses import dataclass, field
from typing import Any

from msgspec import structs

from washline.document.commands.batch_steps import scaled_step, waits_for
from washline.document.commands.command import Refusal, next_id
from washline.document.naming import item_name
from washline.model.amount import grams
from washline.model.book import HouseBook
from washline.model.item import Batch, BatchService, Build, BuildKind, KeptAt
from washline.model.step import (
    Add,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    Garnish,
    Infuse,
    Line,
    Rinse,
    Top,
    Weight,
)
from washline.presentation.batch_plan import (
    AtService,
    BatchFacts,
    BatchLine,
    BatchPlan,
    Role,
    Why,
)

USUAL_CO2_G_PER_L = 7.0
"""What a carbonated batch is brought to where no step of the drink says so: the middle of the target family of bottled,
carbonated drinks (common practice, no source)."""
MOST_SERVES = 100_000.0
_DIGITS = 6
_KEPT_AT = {BatchService.FREEZER: KeptAt.FREEZER}


def batch_build(book: HouseBook, drink: Build, batch: Batch, facts: BatchFacts, serves: float) -> BatchPlan:
    """The build that goes into the vessel for so many serves of a drink, with every weight rounded to what the scale can
    show, and what waits for service.

    A weight that rounding would make nothing stays exact. Refused where a line has no weight, and where dilution is to be
    added and the house book has no still water.
    """
    if not (math.isfinite(serves) and 0.0 < serves <= MOST_SERVES):
        raise Refusal(
            f"{serves:g} serves cannot be made.",
            f"A batch has more than none and at most {MOST_SERVES:,.0f}.",
            "Type another number of serves, or choose another vessel.",
        )
    maker = _Maker(book, drink, batch, facts, serves)
    for step in drink.steps:
        if not step.left_out:
            maker.take(step)
    if batch.service is BatchService.CARBONATED and not maker.is_carbonated:
        maker.carbonate()
    build = Build(
        id=next_id(book),
        kind=BuildKind.PART,
        name=f"{drink.name}, batch",
        steps=tuple(maker.steps),
        kept_at=_KEPT_AT.get(batch.service, KeptAt.FRIDGE),
        added_allergens=drink.added_allergens,
        may_contain=drink.may_contain,
        house_days=drink.house_days,
    )
    return BatchPlan(build, batch, serves, tuple(maker.lines), tuple(maker.waiting), tuple(maker.dropped))


@dataclass(slots=True)
class _Maker:
    """A batch while it is written, step by step of the drink."""

    book: HouseBook
    drink: Build
    batch: Batch
    facts: BatchFacts
    serves: float
    steps: list[AnyStep] = field(default_factory=list)
    lines: list[BatchLine] = field(default_factory=list)
    waiting: list[AtService] = field(default_factory=list)
    dropped: list[str] = field(default_factory=list)
    is_carbonated: bool = False

    def take(self, step: AnyStep) -> None:
        """Takes one step of the drink over, leaves it for service, or drops it."""
        why = waits_for(step, self.batch, self.facts)
        if why is not None:
            self._wait(step, why)
        elif isinstance(step, Add | Infuse | Top | Rinse | Garnish):
            self._weigh(step)
        elif isinstance(step, Chill):
            self._dilute(step)
        elif isinstance(step, BarStrain):
            self._strain(step)
        elif isinstance(step, Carbonate):
            self._carbonate(step)
        else:
            self.steps.append(structs.replace(scaled_step(step, self.serves), **self._place()))

    def carbonate(self) -> None:
        """Carbonates to what is usual, in the vessel of the batch."""
        at_c = self.book.settings.fridge_c
        self.steps.append(
            Carbonate(vessel=self.batch.vessel, co2_g_per_l=USUAL_CO2_G_PER_L, at_c=at_c, **self._place())
        )

    def _place(self) -> dict[str, Any]:
        """Number and place of the next step of the batch."""
        step_id = next_id(self.book) + 2 + len(self.steps)
        return {"id": step_id, "build_id": next_id(self.book), "place": float(len(self.steps) + 1)}

    def _found(self, step: Line) -> float:
        found = self.facts.found_g.get(step.id)
        if found is None or not math.isfinite(found):
            raise Refusal(
                f"{item_name(self.book, step.item_id)} has no weight yet, so no batch can be weighed out.",
                remedy="Give it an amount in the build.",
            )
        return found

    def _share(self, role: Role) -> float:
        settings, batch = self.book.settings, self.batch
        if role is Role.SALT:
            return (settings.salt_batch_pct if batch.salt_pct is None else batch.salt_pct) / 100.0
        if role is Role.BITTERS:
            return (settings.bitters_batch_pct if batch.bitters_pct is None else batch.bitters_pct) / 100.0
        return 1.0

    def _wait(self, step: AnyStep, why: Why) -> None:
        is_line = isinstance(step, Line)
        serve_g = self.facts.found_g.get(step.id) if is_line else None
        serve_ml = self.facts.found_ml.get(step.id) if is_line else None
        self.waiting.append(AtService(step, why, serve_g, serve_ml))

    def _weigh(self, step: Line) -> None:
        found = self._found(step)
        role, why = self.facts.roles.get(step.id, (Role.LINE, ""))
        share = self._share(role)
        line = self._line(step.id, step.item_id, role, why, share, found, self.facts.found_ml.get(step.id))
        amount = grams(line.batch_g)
        if isinstance(step, Infuse):
            taken: AnyStep = structs.replace(
                step, amount=amount, weight=Weight.USED, bought_g=None, **self._place()
            )
        else:
            at_c = getattr(step, "temperature_c", None)
            taken = Add(
                item_id=step.item_id, amount=amount, temperature_c=at_c, words=step.words, **self._place()
            )
        self.lines.append(line)
        self.steps.append(taken)

    def _line(
        self,
        step_id: int,
        item_id: int,
        role: Role,
        why: str,
        share: float,
        serve_g: float,
        serve_ml: float | None,
    ) -> BatchLine:
        exact = serve_g * share * self.serves
        weighed = rounded_to(exact, self.batch.round_g)
        is_below = weighed <= 0.0 < exact
        return BatchLine(
            step_id=step_id,
            batch_step_id=self._place()["id"],
            item_id=item_id,
            role=role,
            why=why,
            share=share,
            serve_g=serve_g * share,
            serve_ml=None if serve_ml is None else serve_ml * share,
            exact_g=exact,
            batch_g=exact if is_below else weighed,
            is_below_scale=is_below,
        )

    def _dilute(self, step: Chill) -> None:
        """The same water as the ice would have given."""
        melted = self.facts.melted_g.get(step.id, 0.0)
        if not melted > 0.0:
            return
        water_id = self.facts.water_id
        if water_id is None:
            raise Refusal(
                "The dilution has no water to be made of.",
                "The house book has no still water among its raw ingredients.",
                "Add still water there.",
            )
        why = "the water that the ice would give"
        line = self._line(step.id, water_id, Role.WATER, why, 1.0, melted, None)
        self.lines.append(line)
        self.steps.append(Add(item_id=water_id, amount=grams(line.batch_g), **self._place()))

    def _strain(self, step: BarStrain) -> None:
        if step.way is BarStrainWay.FINE:
            kept = structs.replace(step, held_back_ml=None, fresh_ice="", fresh_ice_g=None, **self._place())
            self.steps.append(kept)

    def _carbonate(self, step: Carbonate) -> None:
        if self.batch.service is not BatchService.CARBONATED:
            self.dropped.append(
                "The drink is carbonated, and this batch is not: choose the service Carbonated."
            )
            return
        self.is_carbonated = True
        self.steps.append(structs.replace(step, vessel=self.batch.vessel or step.vessel, **self._place()))


def rounded_to(weight_g: float, step_g: float) -> float:
    """A weight to the nearest step of a scale, halves up; as it is where the scale has no step."""
    if not step_g > 0.0:
        return weight_g
    return round(math.floor(weight_g / step_g + 0.5) * step_g, _DIGITS)
