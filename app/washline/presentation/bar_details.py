"""What can be said of the steps of the bar beside their amount: of ice, glass, film, rim and pressure."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from washline.model.step import (
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    ChillBy,
    Garnish,
    GarnishWay,
    IceState,
    Rinse,
)
from washline.presentation.bar_words import (
    found_words,
    glass_words,
    met_no_ice,
    pressure_words,
    weighed_words,
)
from washline.presentation.detail import Detail, DetailMaker
from washline.presentation.house_words import ice_words, lower_first, vessel_name
from washline.quantity.formatting import UNIT_SPACE, format_number, format_trimmed
from washline.quantity.pressure_text import KILOPASCALS, bar_text

STATE_CHOICES: Mapping[str, IceState] = MappingProxyType(
    {"as usual": IceState.USUAL, "dry": IceState.DRY, "wet": IceState.WET}
)
BY_CHOICES: Mapping[str, ChillBy] = MappingProxyType(
    {
        "as usual": ChillBy.USUAL,
        "the balance of heat": ChillBy.BALANCE,
        "the published dilution": ChillBy.PUBLISHED,
    }
)
STRAIN_CHOICES: Mapping[str, BarStrainWay] = MappingProxyType(
    {"strain": BarStrainWay.STRAIN, "fine strain": BarStrainWay.FINE, "unstrained": BarStrainWay.UNSTRAINED}
)
LAYER_CHOICES: Mapping[str, bool] = MappingProxyType({"poured in": False, "floated on top": True})
GARNISH_CHOICES: Mapping[str, GarnishWay] = MappingProxyType(
    {
        "on the glass": GarnishWay.GARNISH,
        "on the rim": GarnishWay.RIM,
        "its oil expressed": GarnishWay.EXPRESS,
    }
)
AS_THE_METHOD = "as usual for the method"
NO_FRESH_ICE = "none"
AS_THE_ROOM = "as warm as the room"
NO_VESSEL = "not chosen"


class BarDetails(DetailMaker):
    """The details of a step of the bar."""

    def all(self) -> Iterator[Detail]:
        """All details that only this kind of step has; none for a step of the kitchen."""
        own: tuple[tuple[type, Callable[[], Iterator[Detail]]], ...] = (
            (Chill, self._chill),
            (BarStrain, self._bar_strain),
            (Rinse, self._rinse),
            (Carbonate, self._carbonate),
            (Garnish, self._garnish),
        )
        for kind, details in own:
            if isinstance(self.step, kind):
                yield from details()

    def _garnish(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Garnish)
        yield self.how()
        yield self.choice("garnish_way", "where it goes", step.way, GARNISH_CHOICES)
        yield self.number(
            "stays_g",
            "of it stays",
            "g",
            "all of it",
            says="the rest is thrown away: its cost and allergens count",
        )

    def _ice_names(self) -> Iterator[str]:
        return (lower_first(ice.name) for ice in self.book.ices.values())

    def _chill(self) -> Iterator[Detail]:
        step, book = self.step, self.book
        assert isinstance(step, Chill)
        method = book.methods.get(step.method)
        found = self.trace.chill if not step.left_out else None
        if found is not None:
            yield Detail("found", "found", found_words(found, self.style), is_wide=True, can_edit=False)
        if weighed := weighed_words(book, step, self.style):
            yield Detail("weighed", "weighed", weighed, is_wide=True, can_edit=False)
        yield self.picked(
            "method", "method", method.name if method is not None else step.method, "",
            (one.name for one in book.methods.values()),
        )  # fmt: skip
        yield self.how()
        usual = ice_words(book, method.ice) if method is not None and method.ice else ""
        yield self.picked(
            "ice", "ice", ice_words(book, step.ice), AS_THE_METHOD, self._ice_names(),
            usual if not step.ice else self._ice_known(step.ice),
        )  # fmt: skip
        own = found is not None and step.ice_g is None and found.ice_g > 0.0
        grams = (
            f"as usual for the method, {self.said(found.ice_g, 'g', 0)}" if own and found else AS_THE_METHOD
        )
        yield self.number("ice_g", "weight of it", "g", grams, 1)
        wet = found is not None and found.surface_water_g > 0.0
        yield self.choice(
            "ice_state", "dry or wet", step.ice_state, STATE_CHOICES,
            f"{self.said(found.surface_water_g, 'g')} of water clings to it" if wet and found else "",
        )  # fmt: skip
        ice = book.ice_named(step.ice or (method.ice if method is not None else ""))
        cold = f"as the house's ice is, {self.said(ice.temperature_c, '°C')}" if ice is not None else "0 °C"
        yield self.number("ice_c", "ice at", "°C", cold, 1)
        yield self.number("vessel_c", "tin or glass at", "°C", AS_THE_METHOD, 1)
        yield self.choice("by", "melt by", step.by, BY_CHOICES, _by_words(step))
        yield self.number(
            "melted_g", "melted, weighed", "g", "not weighed", 2, "it replaces what is computed"
        )
        yield self.number("final_g", "weighs in all", "g", "not weighed", 2, "it replaces what is computed")
        yield self.number(
            "final_ml", "measures in all", "ml", "not measured", 2, "it replaces what is computed"
        )
        end = found.end_c if found is not None and step.end_c is None else None
        computed = f"computed {format_number(end, 1, self.style)}{UNIT_SPACE}°C" if end is not None else ""
        yield self.number("end_c", "ends at", "°C", computed or "not measured", 1, "as measured: it stands")

    def _ice_known(self, words: str) -> str:
        return "" if self.book.ice_named(words) is not None else "no ice of this house has this name"

    def _bar_strain(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, BarStrain)
        found = self.trace.chill if not step.left_out else None
        if found is not None:
            words = glass_words(found, self.style) if met_no_ice(found) else found_words(found, self.style)
            yield Detail("found", "found", words, is_wide=True, can_edit=False)
        yield self.choice("strain_way", "way", step.way, STRAIN_CHOICES)
        yield self.how()
        yield self.number("held_back_ml", "held back", "ml", "not measured: none is counted", 2)
        yield self.picked(
            "fresh_ice", "fresh ice", ice_words(self.book, step.fresh_ice), NO_FRESH_ICE, self._ice_names(),
            self._ice_known(step.fresh_ice) if step.fresh_ice else "",
        )  # fmt: skip
        empty = "as much as its glass has" if step.fresh_ice else "none"
        yield self.number("fresh_ice_g", "weight of it", "g", empty, 1)
        room = f"{AS_THE_ROOM}, {self.said(self.book.settings.room_c, '°C')}"
        yield self.number("vessel_c", "glass at", "°C", room, 1)

    def _rinse(self) -> Iterator[Detail]:
        step = self.step
        assert isinstance(step, Rinse)
        film = self.book.settings.rinse_film_ml
        yield self.how()
        yield self.number(
            "film_ml", "film that stays", "ml", f"as this house counts, {self.said(film, 'ml', 2)}", 2,
            "the rest is poured away: its cost and allergens count",
        )  # fmt: skip
        yield self.number("temperature_c", "poured at", "°C", self.kept_words(step.item_id))

    def _carbonate(self) -> Iterator[Detail]:
        step, book = self.step, self.book
        assert isinstance(step, Carbonate)
        if found := pressure_words(self.trace, self.style):
            yield Detail("found", "found", found, is_wide=True, can_edit=False)
        yield self.picked(
            "vessel", "in", vessel_name(book, step.vessel) if step.vessel else "", NO_VESSEL,
            (lower_first(one.name) for one in book.vessels.values()), self._rating(step.vessel),
        )  # fmt: skip
        yield self.how()
        yield self.number("co2_g_per_l", "level", "g/l", "what the pressure holds", 2)
        yield self._pressure(step)
        yield self.number("at_c", "at", "°C", "as cold as the liquid is", 1)
        yield self.number("fills", "fills", "", "not counted", 1)
        yield self.number("reached_pct", "of it reached", "%", "all of it", 1)
        warmest = self.said(book.settings.warmest_c, "°C")
        yield self.number("warmest_c", "stands at most at", "°C", f"as this house counts, {warmest}", 1)
        yield self.number("opening_loss_pct", "lost on opening", "%", "none is counted", 1)

    def _rating(self, slug: str) -> str:
        vessel = self.book.vessels.get(slug)
        if vessel is None:
            return "a vessel rated for pressure is needed"
        if vessel.rated_kpa is None:
            return "its rated pressure is not known: nothing is carbonated in it"
        return f"rated for {bar_text(vessel.rated_kpa, self.style)} over"

    def _pressure(self, step: Carbonate) -> Detail:
        if step.over_kpa is None:
            return Detail("over_kpa", "pressure", says="what the level needs" if step.co2_g_per_l else "")
        bars = step.over_kpa / KILOPASCALS["bar"]
        typed = format_trimmed(bars, 8, self.typed_style)
        says = "the level above counts" if step.co2_g_per_l is not None else ""
        return Detail(
            "over_kpa", "pressure", format_trimmed(bars, 2, self.style), "bar over", f"{typed} bar", says
        )


def _by_words(step: Chill) -> str:
    if any(one is not None for one in (step.melted_g, step.final_g, step.final_ml)):
        return "what was weighed counts"
    is_usual = step.by is ChillBy.USUAL
    return "published where it was made for, the balance of heat elsewhere" if is_usual else ""
