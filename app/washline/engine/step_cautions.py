"""Cautions that follow from what is done: from the steps of a build and of every part below it, and from their computed
states. What is not known is taken as the case that asks for care."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from washline.chemistry import mixture
from washline.chemistry.components import ETHANOL, FAT, FRUCTOSE, GLUCOSE, MALTOSE, NACL, SUCROSE
from washline.chemistry.ph import ph
from washline.engine.contents import is_frozen_batch
from washline.engine.flags import BUFFER_LIMIT
from washline.engine.hazard_names import named_hazards
from washline.engine.liquid import enough_liquid
from washline.engine.live import (
    HEATED,
    PRODUCE,
    closes_a_bottle,
    is_cooked,
    is_fresh,
    is_made_ahead_closed,
    live_items,
)
from washline.engine.melting import ETHANOL_DENSITY_G_PER_ML
from washline.engine.state import CATIONS, MASSES, UNKNOWN_BUFFER, UNKNOWN_SUGAR, mass_g
from washline.engine.trace import StepTrace, Trace, trace_of
from washline.model.graph import made_of, maker_of
from washline.model.house import MethodKind
from washline.model.item import Build, Item, KeptAt, Leftover, RawIngredient
from washline.model.step import (
    Add,
    AnyStep,
    Blend,
    Carbonate,
    Chill,
    Ferment,
    FermentKind,
    Infuse,
    Line,
    Rest,
    Smoke,
    Strain,
    Top,
    Wash,
    Work,
    items_of,
)

ADDITIVE = "additive-limit"
LOW_ACID_PH = 4.6
"""Above it food counts as low-acid: 21 CFR 114.3."""
PH_MARGIN = 0.3
"""A computed pH within this of a threshold says only that it must be measured."""
KEEPING_STRENGTH_PCT_VOL = 20.0
"""A spirit above about this preserves most infusions (oenology texts, from memory)."""
FAT_SHARE = 0.1
"""From this share of fat on an infusion counts as one in fat; common practice, no source."""
BURNING_SHARE = 0.005
"""With more ethanol than this share of the vessel, heating it gives off vapour that can burn."""
HOT_C, COLD_C = 40.0, 5.0
SCALDING_C = 70.0
"""Above it a splash scalds at once (full-thickness burns of skin within a second; burn-prevention texts, from memory)."""
BOTTLED_SUGAR_G_PER_L = 2.0
"""Dry wine is bottled below about so much sugar; 1 g of it gives about 0.5 g of CO2. Common practice, no source."""
FERMENTED = (GLUCOSE, FRUCTOSE, SUCROSE, MALTOSE)

SEALED = (
    "seal",
    "vacuum",
    "sous vide",
    "sous-vide",
    "airtight",
    "air-tight",
    "closed",
    "bag",
    "jar",
    "bottle",
)
CRYOGENIC = ("dry ice", "liquid nitrogen")


@dataclass(frozen=True, slots=True)
class StepCaution:
    """One caution: its key, the build and step it arises in (``None``: the item as it is kept), the items that bring it,
    and computed figures that its sentence names, by name; one that is not known is nan."""

    key: str
    build_id: int
    step_id: int | None = None
    item_ids: tuple[int, ...] = ()
    figures: tuple[tuple[str, float], ...] = ()


def step_cautions(trace: Trace) -> tuple[StepCaution, ...]:
    """The cautions of a build by step, those of the parts it is made of first. ``trace`` is the build's own."""
    found: dict[StepCaution, None] = {}
    raw = _raw_members(trace)
    for member in made_of(trace.book, trace.build.id):
        build = _Build(trace, trace.book.builds[member], is_raw=member in raw)
        found.update(dict.fromkeys(build.cautions()))
    found.update(dict.fromkeys(_pours_below_zero(trace)))
    return tuple(found)


def is_low_acid(trace: Trace, item: Item | None) -> bool:
    """Whether an item is low in acid as far as anybody knows: it is, unless its usual pH says otherwise."""
    if isinstance(item, Build | Leftover) and item.acts_as_id is not None:
        item = trace.book.item(item.acts_as_id)
    if isinstance(item, RawIngredient) and item.typical_ph_high is not None:
        return item.typical_ph_high > LOW_ACID_PH
    return True


def _raw_members(trace: Trace) -> set[int]:
    """The builds of which something is in a build that nobody heated on its way there."""
    raw, waiting = {trace.build.id}, [trace.build]
    while waiting:
        steps = [step for step in waiting.pop().steps if not step.left_out]
        for place, step in enumerate(steps):
            if any(is_cooked(later) for later in steps[place + 1 :]):
                continue
            for item_id in items_of(step):
                maker = maker_of(trace.book, item_id)
                if maker is not None and maker.id not in raw:
                    raw.add(maker.id)
                    waiting.append(maker)
    return raw


class _Build:
    """The cautions of one build. Its trace is made only where a state has to be looked at. ``is_raw``: what it takes in is
    not heated on its way to what is looked at."""

    def __init__(self, outer: Trace, build: Build, *, is_raw: bool) -> None:
        self._outer = outer
        self._is_raw = is_raw
        self._build = build
        self._book = outer.book
        self._steps = [step for step in build.steps if not step.left_out]

    @cached_property
    def _trace(self) -> Trace:
        if self._build.id == self._outer.build.id:
            return self._outer
        return trace_of(self._book, self._build.id, self._outer.source)

    def cautions(self) -> Iterator[StepCaution]:
        """All of them, step by step."""
        for place, step in enumerate(self._steps):
            yield from self._of_words(step)
            yield from self._unheated(place, step)
            if isinstance(step, Infuse):
                yield from self._infusion(step)
            if isinstance(step, Ferment):
                yield from self._ferment(place, step)
            if isinstance(step, Work) and self._heats_spirit(place, step):
                yield self._caution("spirit-near-heat", step)
            yield from self._additives(step)
            yield from self._at_the_bar(step)
        if is_made_ahead_closed(self._build) and not any(isinstance(one, Carbonate) for one in self._steps):
            yield from self._closed_ahead()

    def _caution(
        self, key: str, step: AnyStep, item_ids: Sequence[int] = (), **figures: float
    ) -> StepCaution:
        return StepCaution(key, self._build.id, step.id, tuple(item_ids), tuple(figures.items()))

    def _of_words(self, step: AnyStep) -> Iterator[StepCaution]:
        words = f"{step.words} {getattr(step, 'ice', '')}".casefold()
        if any(word in words for word in CRYOGENIC):
            yield self._caution("cryogenic", step)

    # What is not heated here

    def _is_heated_after(self, place: int) -> bool:
        return any(is_cooked(step) for step in self._steps[place + 1 :])

    def _unheated(self, place: int, step: AnyStep) -> Iterator[StepCaution]:
        if not self._is_raw or self._is_heated_after(place):
            return
        for item_id in items_of(step):
            raw = self._book.raws.get(item_id)
            if raw is not None:
                yield from (self._caution(key, step, (item_id,)) for key in _raw_kinds(raw))
        if isinstance(step, Strain | Blend):
            produce = self._produce_before(place)
            if produce and not (self._has_alcohol and self._strength(step) >= KEEPING_STRENGTH_PCT_VOL):
                yield self._caution("raw-juice", step, produce)

    @cached_property
    def _has_alcohol(self) -> bool:
        """Whether anything that is taken in may hold alcohol; without it no state has to be looked at."""
        items = (self._book.item(item_id) for step in self._steps for item_id in items_of(step))
        return any(not isinstance(item, RawIngredient) or item.composition[ETHANOL] != 0.0 for item in items)

    def _produce_before(self, place: int) -> list[int]:
        """Fruit and vegetables in the vessel that were neither heated nor fermented in it."""
        found: dict[int, None] = {}
        for step in self._steps[:place]:
            if isinstance(step, Ferment) or is_cooked(step):
                found.clear()
            if isinstance(step, Add):
                raw = self._book.raws.get(step.item_id)
                if raw is not None and raw.category in PRODUCE:
                    found[raw.id] = None
        return list(found)

    # Infusions and ferments

    def _infusion(self, step: Infuse) -> Iterator[StepCaution]:
        strength = self._strength(step)
        if strength >= KEEPING_STRENGTH_PCT_VOL:
            return
        items = (step.item_id,)
        found_ph = self._ph(step)
        is_acid = found_ph <= LOW_ACID_PH - PH_MARGIN
        if is_low_acid(self._outer, self._book.item(step.item_id)) and not is_acid:
            yield self._caution("low-acid-infusion", step, items, ph=found_ph, strength_pct_vol=strength)
        after = self._trace.step(step.id).after
        liquid = float(mass_g(after[:, None])[0])
        if liquid > 0.0 and float(after[FAT]) >= FAT_SHARE * liquid:
            yield self._caution("oil-infusion", step, items, fat_pct=100.0 * float(after[FAT]) / liquid)
        if _is_sealed(step) and not _is_cold(step):
            yield self._caution("sealed-warm-infusion", step, items)

    def _ferment(self, place: int, step: Ferment) -> Iterator[StepCaution]:
        unknown = float("nan")
        if step.kind is FermentKind.LACTIC:
            yield self._caution("ferment-salt", step, salt_pct=self._salt_pct(place))
        limits = (step.final_ph, step.discard_above_ph, step.discard_on_day)
        final, above, day = (unknown if one is None else one for one in limits)
        yield self._caution("ferment-ph", step, final_ph=final, discard_above_ph=above, discard_on_day=day)
        yield self._caution("ferment-gas", step)
        yield self._caution("ferment-alcohol", step, strength_pct_vol=self._strength(step))

    def _salt_pct(self, place: int) -> float:
        """Grams of salt in 100 g of all that stands in the vessel before it ferments."""
        before = self._before(place)
        if before is None or not before.vessel_g > 0.0:
            return float("nan")
        return 100.0 * float(before.after[NACL]) / before.vessel_g

    # Spirits near heat

    def _heats_spirit(self, place: int, step: Work) -> bool:
        if not _is_hot(step):
            return False
        before = self._before(place)
        if before is not None and float(before.after[ETHANOL]) > BURNING_SHARE * before.vessel_g:
            return True
        lines = (item_id for one in self._steps for item_id in items_of(one))
        return isinstance(step, HEATED) and any(self._is_spirit(item_id) for item_id in lines)

    def _is_spirit(self, item_id: int) -> bool:
        raw = self._book.raws.get(item_id)
        if raw is not None:
            return (raw.strength_pct_vol or 0.0) >= KEEPING_STRENGTH_PCT_VOL
        maker = maker_of(self._book, item_id)
        if maker is None:
            return False
        strength = self._outer.source.result_now(maker.id).value("strength")
        return strength is not None and strength >= KEEPING_STRENGTH_PCT_VOL

    # Additives

    def _additives(self, step: AnyStep) -> Iterator[StepCaution]:
        if not isinstance(step, Add | Top):
            return
        raw = self._book.raws.get(step.item_id)
        if raw is None or ADDITIVE not in named_hazards(raw.slug, raw.name):
            return
        volume_ml = self._trace.result.value("length")
        grams = self._trace.step(step.id).share.grams
        dose = 1e6 * grams / volume_ml if volume_ml else float("nan")
        yield self._caution(ADDITIVE, step, (raw.id,), mg_per_l=dose)

    # Heat, smoke and pressure of the bar

    def _at_the_bar(self, step: AnyStep) -> Iterator[StepCaution]:
        if isinstance(step, Smoke):
            yield self._caution("smoke-ventilation", step)
        if self._scald_c(step) > SCALDING_C:
            items = (step.item_id,) if isinstance(step, Line) else ()
            yield self._caution("hot-scald", step, items, temperature_c=self._scald_c(step))
        if isinstance(step, Carbonate):
            yield self._pressure(step)
            yield self._caution("gas-asphyxiation", step)
        if isinstance(step, Carbonate) or closes_a_bottle(step):
            yield from self._ferments_again(step)

    def _scald_c(self, step: AnyStep) -> float:
        """How hot something is handled in a drink, in °C; -inf where it is not."""
        if not self._build.is_drink:
            return float("-inf")
        if isinstance(step, Line):
            poured_c = getattr(step, "temperature_c", None)
            return float("-inf") if poured_c is None else float(poured_c)
        if isinstance(step, Chill):
            method = self._book.methods.get(step.method)
            is_hot = method is not None and method.kind is MethodKind.HOT
            served_c = self._trace.result.value("chill") if is_hot else None
            return float("-inf") if served_c is None else served_c
        high = getattr(step, "temperature_high_c", None)
        return float("-inf") if high is None else float(high)

    def _pressure(self, step: Carbonate) -> StepCaution:
        """What stands against the rated pressure: nan where it is not known, which the words then say."""
        vessel = self._book.vessels.get(step.vessel)
        warmest_c = self._book.settings.warmest_c if step.warmest_c is None else step.warmest_c
        gas = self._trace.step(step.id).gas
        return self._caution(
            "pressure",
            step,
            warm_over_kpa=_or_nan(gas.warm_over_kpa if gas is not None else None),
            rated_kpa=_or_nan(vessel.rated_kpa if vessel is not None else None),
            warmest_c=warmest_c,
        )

    def _ferments_again(self, step: AnyStep) -> Iterator[StepCaution]:
        """Live yeast or raw juice, closed in with sugar that it can eat, below the strength that stops it."""
        live = live_items(self._book, self._build, step.id)
        if live:
            yield from self._with_sugar(step, live)

    def _with_sugar(self, step: AnyStep, live: Sequence[int]) -> Iterator[StepCaution]:
        if self._strength(step) >= KEEPING_STRENGTH_PCT_VOL:
            return
        sugar = self._sugar_g_per_l(step)
        if sugar != sugar or sugar > BOTTLED_SUGAR_G_PER_L:
            yield self._caution("refermentation", step, live, sugar_g_per_l=sugar)

    def _closed_ahead(self) -> Iterator[StepCaution]:
        """A batch that stands closed ferments again as a bottle does; what joins it at service is not in it."""
        live = live_items(self._book, self._build)
        batch = self._build.batch
        if batch is not None and batch.citrus_at_service:
            live = tuple(one for one in live if not self._is_juice(one))
        if self._steps and live:
            yield from self._with_sugar(self._steps[-1], live)

    def _is_juice(self, item_id: int) -> bool:
        raw = self._book.raws.get(item_id)
        return raw is not None and raw.category == "juice-fresh"

    def _sugar_g_per_l(self, step: AnyStep) -> float:
        """Sugars that yeast eats in a litre after a step; nan where they are not known, or nothing was computed."""
        after = self._trace.step(step.id).after[:, None]
        volume_ml = float(mixture.volume_ml(after[MASSES])[0])
        if not volume_ml > 0.0 or float(after[UNKNOWN_SUGAR, 0]) > 0.0:
            return float("nan")
        sugar_g = 0.0
        for row in FERMENTED:
            sugar_g += float(after[row, 0])
        return 1000.0 * sugar_g / volume_ml

    # Computed states

    def _before(self, place: int) -> StepTrace | None:
        return self._trace.step(self._steps[place - 1].id) if place else None

    def _strength(self, step: AnyStep) -> float:
        """% vol after a step; 0 where there is no liquid or it cannot be computed: what nobody knows keeps nothing."""
        after = self._trace.step(step.id).after[:, None]
        volume_ml = float(mixture.volume_ml(after[MASSES])[0])
        value = (
            100.0 * float(after[ETHANOL, 0]) / ETHANOL_DENSITY_G_PER_ML / volume_ml
            if volume_ml > 0.0
            else 0.0
        )
        return value if value == value else 0.0

    def _ph(self, step: AnyStep) -> float:
        """The pH after a step; nan where it is not known."""
        after = self._trace.step(step.id).after[:, None]
        liquid_g = float(mass_g(after)[0])
        if not liquid_g > 0.0 or float(after[UNKNOWN_BUFFER, 0]) > BUFFER_LIMIT * liquid_g:
            return float("nan")
        return float(ph(enough_liquid(after[MASSES]), after[CATIONS])[0])


def _raw_kinds(raw: RawIngredient) -> Iterator[str]:
    """What a raw ingredient brings where it is not heated."""
    if not is_fresh(raw):
        return
    if raw.category == "juice-fresh":
        yield "raw-juice"
    if raw.category == "dairy-egg":
        if "eggs" in raw.allergens:
            yield "raw-egg"
        is_sour = raw.typical_ph_low is not None and raw.typical_ph_low <= LOW_ACID_PH
        if "milk" in raw.allergens and not is_sour:
            yield "raw-milk"


def _is_hot(step: Work) -> bool:
    if isinstance(step, HEATED):
        return True
    high = step.temperature_high_c if step.temperature_high_c is not None else step.temperature_low_c
    poured = step.temperature_c if isinstance(step, Infuse) else None
    return isinstance(step, Infuse | Rest | Wash | Blend) and max(high or 0.0, poured or 0.0) >= HOT_C


def _is_sealed(step: Infuse) -> bool:
    words = step.words.casefold()
    return any(word in words for word in SEALED)


def _is_cold(step: Infuse) -> bool:
    """Whether it is said to stand cold; where nothing is said it is not."""
    high = step.temperature_high_c if step.temperature_high_c is not None else step.temperature_low_c
    return high is not None and high <= COLD_C


def _pours_below_zero(trace: Trace) -> Iterator[StepCaution]:
    """What comes straight from a freezer: lines of a drink, a frozen batch, a part that is kept there."""
    book, build = trace.book, trace.build
    freezer_c = book.settings.temperature_c(KeptAt.FREEZER)
    if not build.is_drink:
        if build.kept_at is KeptAt.FREEZER and freezer_c < 0.0:
            yield StepCaution("sub-zero-pour", build.id, None, (build.id,), (("temperature_c", freezer_c),))
        return
    served_pct_vol = _or_nan(trace.result.value("strength"))
    strength = served_pct_vol if served_pct_vol >= KEEPING_STRENGTH_PCT_VOL else float("nan")
    for step in build.steps:
        if is_frozen_batch(book, step):
            served_c = trace.result.value("chill")
            if served_c is None or served_c < 0.0:
                figures = (("temperature_c", _or_nan(served_c)), ("strength_pct_vol", strength))
                yield StepCaution("sub-zero-pour", build.id, step.id, (), figures)
        elif isinstance(step, Line) and not step.left_out:
            item = book.item(step.item_id)
            poured_c = getattr(step, "temperature_c", None)
            at_c = freezer_c if poured_c is None else poured_c
            if item is not None and item.kept_at is KeptAt.FREEZER and at_c < 0.0:
                yield StepCaution("sub-zero-pour", build.id, step.id, (item.id,), (("temperature_c", at_c),))


def _or_nan(value: float | None) -> float:
    return float("nan") if value is None else value
