"""What else can be said of a step beside its amount: one line each, which unfolds under the step's row."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from washline.engine.items import edible_yield
from washline.engine.trace import StepTrace
from washline.model.book import HouseBook
from washline.model.item import RawIngredient
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    Carbonate,
    Chill,
    Evaporate,
    Ferment,
    FermentKind,
    Garnish,
    Goal,
    Infuse,
    Measurement,
    Note,
    Per,
    Rinse,
    Strain,
    Top,
    Wash,
    WashKind,
    Weight,
    Work,
)
from washline.presentation.bar_details import LAYER_CHOICES, BarDetails
from washline.presentation.detail import Detail, DetailMaker
from washline.presentation.kitchen_words import (
    GIVEN_FIELDS,
    GOAL_LIKE,
    GOAL_NAMES,
    WAY_NAMES,
    WEIGHT_NAMES,
    goal_unit,
    named,
)
from washline.presentation.measuring import FAR_SIGMAS, QUANTITIES, likely_causes, usual_uncertainty
from washline.presentation.straining_words import usual_yield
from washline.quantity.formatting import EN_DASH, UNIT_SPACE, NumberStyle, format_number, format_trimmed

COOKING_WAYS: Mapping[str, str] = MappingProxyType(
    {
        "": "all, until the water is used up",
        "simmered": "simmered, by its time",
        "stirred_into_boiling": "stirred into boiling, off the heat",
        "flamed": "flamed",
        "stood_overnight": "stood overnight, no heat",
        "baked_on_top": "baked 25 min, not stirred in",
        "closed": "closed",
    }
)
"""How heat takes the alcohol: the keys of ``chemistry.cooking`` in the words of the sheet."""

WASH_CHOICES: Mapping[str, WashKind] = MappingProxyType({"fat": WashKind.FAT, "milk": WashKind.MILK})
FERMENT_CHOICES: Mapping[str, FermentKind] = MappingProxyType(
    {"lactic": FermentKind.LACTIC, "yeast": FermentKind.YEAST}
)
PER_CHOICES: Mapping[str, Per] = MappingProxyType({"weight": Per.MASS, "volume": Per.VOLUME})
GOAL_CHOICES: Mapping[str, Goal] = MappingProxyType({name: goal for goal, name in GOAL_NAMES.items()})
WEIGHT_CHOICES: Mapping[str, Weight] = MappingProxyType(
    {name: weight for weight, name in WEIGHT_NAMES.items()}
)
QUANTITY_CHOICES = MappingProxyType({quantity.name: key for key, quantity in QUANTITIES.items()})
WAY_CHOICES: Mapping[str, str] = MappingProxyType(
    {"no way named": "", **{name: key for key, name in WAY_NAMES.items()}}
)
COOKING_CHOICES: Mapping[str, str] = MappingProxyType({name: key for key, name in COOKING_WAYS.items()})

PORTION = "portion"
ANOTHER = "another"
LIKE = "like_item_id"
LEFTOVER = "leftover"

DETAIL_KEYS: tuple[str, ...] = (
    "words",
    "duration_s",
    "temperature",
    "temperature_c",
    "weight",
    "bought_g",
    *GIVEN_FIELDS.values(),
    "given_spread_pct",
    "wash_kind",
    "fat_held_pct",
    "protein_held_pct",
    "acids_held_pct",
    "way",
    "expected",
    LEFTOVER,
    "measured_brix",
    "measured_acidity_pct",
    "ethanol_way",
    "ethanol_kept_pct",
    "ferment_kind",
    "gas_lost_g",
    "final_acidity_pct",
    "final_brix",
    "final_ph",
    "discard_above_ph",
    "discard_on_day",
    "goal",
    "value",
    "per",
    LIKE,
    ANOTHER,
    "quantity",
    "instrument",
    "uncertainty",
    "gain",
    "ice_g",
    "found",
    "weighed",
    "method",
    "ice",
    "ice_state",
    "ice_c",
    "vessel_c",
    "by",
    "melted_g",
    "final_g",
    "final_ml",
    "end_c",
    "strain_way",
    "held_back_ml",
    "fresh_ice",
    "fresh_ice_g",
    "film_ml",
    "is_layer",
    "garnish_way",
    "stays_g",
    "vessel",
    "co2_g_per_l",
    "over_kpa",
    "at_c",
    "fills",
    "reached_pct",
    "warmest_c",
    "opening_loss_pct",
)
"""Every detail that a step can have but the portions, in an order that never changes within a run."""

_FIRST_CAUSE = len(DETAIL_KEYS)
_FIRST_PORTION = _FIRST_CAUSE + 10


def details_of(step: AnyStep, trace: StepTrace, book: HouseBook, style: NumberStyle) -> tuple[Detail, ...]:
    """The details of a step in the order in which they unfold; none for a note."""
    maker = _Details(step, trace, book, style)
    return tuple(
        replace(detail, place=_place(detail)) if detail.place == 0 else detail for detail in maker.all()
    )


def has_details(step: AnyStep) -> bool:
    """Whether a step has anything to unfold."""
    return not isinstance(step, Note) and isinstance(step, Work | Add | Rinse | Top | Garnish)


def _place(detail: Detail) -> int:
    return DETAIL_KEYS.index(detail.key)


class _Details(DetailMaker):
    def all(self) -> Iterator[Detail]:
        """All details of the step."""
        step = self.step
        own: tuple[tuple[type, Callable[[], Iterator[Detail]]], ...] = (
            (Infuse, self._infuse),
            (Add, self._line),
            (Top, self._line),
            (Wash, self._wash),
            (Strain, self._strain),
            (Evaporate, self._evaporate),
            (Ferment, self._ferment),
            (Adjust, self._adjust),
            (Measurement, self._measure),
        )
        for kind, details in own:
            if isinstance(step, kind):
                yield from details()
                break
        yield from BarDetails(step, self.trace, self.book, self.style).all()
        if isinstance(step, Work) and not isinstance(step, Note | Adjust | Measurement):
            yield from self._work(step)

    # Kinds

    def _work(self, step: Work) -> Iterator[Detail]:
        # A chill, an infusion and an evaporation have another number in their amount, so the time is told here.
        has_other = isinstance(step, Infuse | Strain | Evaporate | Chill | BarStrain | Carbonate)
        if has_other:
            text, unit = time_words(step.duration_s, self.style)
            typed, typed_unit = time_words(step.duration_s, self.typed_style)
            yield Detail("duration_s", "time", text, unit, f"{typed} {typed_unit}".strip())
        if isinstance(step, Carbonate):
            return
        yield self._temperature(step)

    def _temperature(self, step: Work) -> Detail:
        low, high = step.temperature_low_c, step.temperature_high_c
        low, high = (high if low is None else low), (low if high is None else high)
        if low is None or high is None:
            return Detail("temperature", "temperature")
        ends = [format_trimmed(one, 1, self.style) for one in (low, high)]
        text = ends[0] if ends[0] == ends[1] else f"{ends[0]}{EN_DASH}{ends[1]}"
        return Detail("temperature", "temperature", text, "°C", f"{text} °C")

    def _line(self) -> Iterator[Detail]:
        yield self.how()
        step = self.step
        if isinstance(step, Add):
            yield from self._weights(step)
        if isinstance(step, Add | Top):
            yield self.number("temperature_c", "poured at", "°C", self.kept_words(step.item_id))
        if isinstance(step, Top):
            yield self.choice("is_layer", "as a layer", step.is_layer, LAYER_CHOICES)

    def _weights(self, step: Add | Infuse) -> Iterator[Detail]:
        item = self.book.item(step.item_id)
        is_produce = isinstance(item, RawIngredient) and not item.is_poured
        if not is_produce and step.weight is Weight.USED and step.bought_g is None:
            return
        edible = edible_yield(item)
        known = (
            f"edible yield {format_number(edible, 2, self.style)} in the book"
            if edible is not None
            else "its edible yield is not known"
        )
        yield self.choice("weight", "weight meant", step.weight, WEIGHT_CHOICES)
        yield self.number("bought_g", "bought", "g", known, 1)

    def _infuse(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Infuse)
        yield self.how()
        for group, field in GIVEN_FIELDS.items():
            yield self.number(field, f"{group} given", "%", "not known: what it holds counts as unknown", 1)
        yield self.number(
            "given_spread_pct",
            "spread of these",
            "%",
            "none given",
            1,
            "one standard deviation, of each share",
        )
        yield from self._weights(step)
        yield self.number("temperature_c", "put in at", "°C", self.kept_words(step.item_id))

    def _wash(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Wash)
        protein = "none" if step.kind is WashKind.FAT else "the casein, 80 % of a milk's protein"
        yield self.choice("wash_kind", "washes with", step.kind, WASH_CHOICES)
        yield self.number("fat_held_pct", "fat held", "%", "all of it", 1)
        yield self.number("protein_held_pct", "protein held", "%", protein, 1)
        yield self.number("acids_held_pct", "acids held", "%", "none", 1)

    def _strain(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Strain)
        yield self.choice("way", "way", step.way, WAY_CHOICES)
        text = expected_text(step, self.style)
        usual = usual_yield(step.way, self.style)
        yield Detail("expected", "expected", text, "of the vessel" if text else "", text, usual)
        if step.leftover_id is None:
            yield Detail(LEFTOVER, "leftover", is_wide=True, says="type a name to keep it as an item")
        yield self.number("measured_brix", "liquid, true °Bx", "°Bx", "not measured: as in the cake")
        yield self.number(
            "measured_acidity_pct", "liquid, acidity", "% acidity", "not measured: as in the cake"
        )

    def _evaporate(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Evaporate)
        is_set = step.ethanol_kept_pct is not None
        says = "the share typed below counts" if is_set else "retention table, dishes in open vessels"
        yield self.choice(
            "ethanol_way", "alcohol by", step.ethanol_way, COOKING_CHOICES, says if step.ethanol_way else ""
        )
        yield self.number("ethanol_kept_pct", "alcohol that stays", "%", "not weighed", 1)

    def _ferment(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Ferment)
        yield self.choice("ferment_kind", "by", step.kind, FERMENT_CHOICES)
        yield self.number("gas_lost_g", "gas that left", "g", "not weighed")
        if step.kind is FermentKind.LACTIC:
            yield self.number("final_acidity_pct", "acidity reached", "% acidity", "not measured")
        else:
            yield self.number("final_brix", "true °Bx reached", "°Bx", "not measured")
        yield self.number("final_ph", "pH reached", "", "not measured: computed", 2, "as measured: it stands")
        yield self.number("discard_above_ph", "discard above pH", "", "no limit set", 2)
        yield self.number("discard_on_day", "looked at on day", "", "", 1)

    def _adjust(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Adjust)
        yield self.choice("goal", "goal", step.goal, GOAL_CHOICES)
        yield self.number("value", "value", goal_unit(step.goal, step.per), "as much as below")
        if step.goal in (Goal.ACIDITY, Goal.SALT):
            yield self.choice("per", "in 100 of", step.per, PER_CHOICES)
        like = named(self.book, step.like_item_id) if step.like_item_id is not None else ""
        yield Detail(
            LIKE, f"as {GOAL_LIKE[step.goal]} as", like, edit_text=like, is_wide=True, takes_item=True,
            says="" if like else "an item, in place of a value",
        )  # fmt: skip
        yield from self._portions(step)

    def _portions(self, step: Adjust) -> Iterator[Detail]:
        found = dict(self.trace.portions_g)
        for place, portion in enumerate(step.portions):
            grams = found.get(portion.item_id)
            text = format_trimmed(portion.parts, 3, self.style)
            yield Detail(
                PORTION,
                named(self.book, portion.item_id),
                text,
                "part" if portion.parts == 1.0 else "parts",
                f"{format_trimmed(portion.parts, 6, self.typed_style)}",
                f"{format_number(grams, 1, self.style)}{UNIT_SPACE}g found" if grams is not None else "",
                _FIRST_PORTION + place,
                item_id=portion.item_id,
            )
        yield Detail(ANOTHER, "and", is_wide=True, takes_item=True, says="one more, in parts by weight")

    def _measure(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Measurement)
        quantity = QUANTITIES[step.quantity]
        names = tuple(one.name for one in quantity.instruments)
        usual = format_trimmed(usual_uncertainty(step.quantity, step.value, step.instrument), 3, self.style)
        yield self.choice("quantity", "measured", step.quantity, QUANTITY_CHOICES)
        yield Detail(
            "instrument", "with", step.instrument, edit_text=step.instrument, choices=names, is_wide=True,
            says="" if step.instrument else "not named",
        )  # fmt: skip
        yield self.number(
            "uncertainty",
            "± of it",
            quantity.unit,
            f"± {usual} taken: common practice",
            says="one standard deviation",
        )
        gain = format_number(100.0 * step.gain, 0, self.style)
        yield Detail(
            "gain", "taken over", gain, "%", can_edit=False,
            says="of the difference, by both uncertainties",
        )  # fmt: skip
        sigmas = self.trace.residual_sigmas
        if sigmas is not None and abs(sigmas) > FAR_SIGMAS:
            for place, cause in enumerate(likely_causes(step.quantity, sigmas)):
                yield Detail(
                    "likely", "likely", says=f"{cause}: common practice", can_edit=False,
                    place=_FIRST_CAUSE + place,
                )  # fmt: skip


def expected_text(step: Strain, style: NumberStyle) -> str:
    """What a strain is expected to leave, as it is typed: *70 % (62–76 %)*."""
    if step.expected_pct is None:
        return ""
    middle = format_trimmed(step.expected_pct, 3, style)
    if step.low_pct is None or step.high_pct is None:
        return f"{middle} %"
    low, high = format_trimmed(step.low_pct, 3, style), format_trimmed(step.high_pct, 3, style)
    return f"{middle} % ({low}{EN_DASH}{high} %)"


def time_words(seconds: float | None, style: NumberStyle) -> tuple[str, str]:
    """A time as a person says it: 90 s, 45 min, 24 h, 6 days."""
    if seconds is None:
        return "", ""
    if seconds < 120.0:
        return format_trimmed(seconds, 1, style), "s"
    if seconds < 10_800.0:
        return format_trimmed(seconds / 60.0, 1, style), "min"
    if seconds >= 259_200.0 and (seconds / 86_400.0 * 2.0).is_integer():
        return format_trimmed(seconds / 86_400.0, 1, style), "days"
    return format_trimmed(seconds / 3600.0, 1, style), "h"
