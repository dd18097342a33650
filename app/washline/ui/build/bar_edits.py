"""The details of a step of the bar as they are typed: which field of the step each one is, and what may stand in it."""

from collections.abc import Mapping
from types import MappingProxyType

from washline.model.book import HouseBook
from washline.model.step import AnyStep, BarStrain
from washline.presentation.bar_details import (
    AS_THE_METHOD,
    AS_THE_ROOM,
    BY_CHOICES,
    GARNISH_CHOICES,
    LAYER_CHOICES,
    NO_FRESH_ICE,
    NO_VESSEL,
    STATE_CHOICES,
    STRAIN_CHOICES,
)
from washline.presentation.house_words import lower_first
from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import UNIT_SPACE, NumberStyle
from washline.quantity.pressure_text import EXPECTED_PRESSURE, bar_text, parse_pressure
from washline.ui.build.meaning import NotUnderstood
from washline.ui.build.typed_values import NumberField, TemperatureField, chosen, is_empty, one_of

NO_SUCH_METHOD = "No method has this name. Choose one from the list."
NO_ICE_YET = "This house has no ice yet; it is added with the house's data."
NO_VESSEL_YET = "This house has no vessels yet; they are added with the house's data."

Change = tuple[str, dict[str, object]]
"""What a text was understood as, and the fields that it changes."""


def _grams(what: str, example: str, empty: str) -> NumberField:
    expected = f"Expected {what} in grams, such as {example}; empty is {empty}."
    return NumberField(("g", "gram", "grams"), 0.0, 1e6, expected, empty, "g")


def _millilitres(what: str, example: str, empty: str) -> NumberField:
    expected = f"Expected {what} in ml, such as {example}; empty is {empty}."
    return NumberField(("ml", "ml held back", "ml stays"), 0.0, 1e6, expected, empty, "ml")


def _percent(what: str, empty: str) -> NumberField:
    expected = f"Expected {what} in percent from 0 to 100, such as 90 %; empty is {empty}."
    return NumberField(("%", "percent"), 0.0, 100.0, expected, empty, "%")


BAR_NUMBERS: Mapping[str, NumberField] = MappingProxyType(
    {
        "ice_g": _grams("the ice", "200 g", "as usual"),
        "melted_g": _grams("what melted, as weighed,", "27.6 g", "not weighed"),
        "final_g": _grams("what all of it weighs", "124 g", "not weighed"),
        "final_ml": _millilitres("what all of it measures", "118 ml", "not measured"),
        "held_back_ml": _millilitres("what stays in tin and strainer", "3 ml", "not measured"),
        "fresh_ice_g": _grams("the fresh ice", "115 g", "as much as its glass has"),
        "film_ml": _millilitres("what stays of the rinse", "1.5 ml", "as this house counts"),
        "stays_g": _grams("what of it stays", "0.05 g, or 0 g where all is thrown away", "all of it"),
        "co2_g_per_l": NumberField(
            ("g/l", "g per l"), 0.0, 20.0,
            "Expected a level in g of carbon dioxide per litre, such as 7 g/l; empty is what the pressure holds.",
            "what the pressure holds", "g/l",
        ),
        "fills": NumberField(
            ("fills", "fill"), 0.0, 100.0, "Expected how often it is filled, such as 3; empty is not counted.",
            "not counted", "fills",
        ),
        "reached_pct": _percent("the part of the equilibrium that is reached", "all of it"),
        "opening_loss_pct": _percent("what leaves when it is opened", "none"),
    }
)  # fmt: skip

BAR_TEMPERATURES: Mapping[str, TemperatureField] = MappingProxyType(
    {
        "ice_c": TemperatureField(
            -80.0, 0.0, "a temperature of ice, at most 0 °C", "-18 °C", "as the house's ice is"
        ),
        "vessel_c": TemperatureField(-80.0, 100.0, "the temperature of tin or glass", "20 °C", "as usual"),
        "end_c": TemperatureField(
            -80.0, 100.0, "the temperature measured at the end", "-4 °C", "not measured"
        ),
        "at_c": TemperatureField(
            -20.0, 60.0, "how cold it is carbonated", "2 °C", "as cold as the liquid is"
        ),
        "warmest_c": TemperatureField(
            0.0, 60.0, "the warmest place where it stands", "25 °C", "as this house counts"
        ),
    }
)

_GLASS = TemperatureField(-80.0, 100.0, "how cold the glass is", "4 °C", AS_THE_ROOM)


def temperature_field(key: str, step: AnyStep) -> TemperatureField:
    """The field of ``BAR_TEMPERATURES`` that a step means by a key: a strain has no tin."""
    return _GLASS if isinstance(step, BarStrain) else BAR_TEMPERATURES[key]


BAR_CHOICES: Mapping[str, tuple[str, Mapping[str, object]]] = MappingProxyType(
    {
        "ice_state": ("ice_state", STATE_CHOICES),
        "by": ("by", BY_CHOICES),
        "strain_way": ("way", STRAIN_CHOICES),
        "is_layer": ("is_layer", LAYER_CHOICES),
        "garnish_way": ("way", GARNISH_CHOICES),
    }
)
"""The field of the step behind each choice, and the words for its values."""

BAR_PICKS = ("method", "ice", "fresh_ice", "vessel", "over_kpa")
"""Details that are the house's own things by name, or have a reading of their own."""


def picked(book: HouseBook, key: str, text: str, style: NumberStyle) -> Change | NotUnderstood:
    """What a text means as one of ``BAR_PICKS``."""
    if key == "over_kpa":
        return _pressure(text, style)
    if key == "method":
        names = {method.name: slug for slug, method in book.methods.items()}
        slug = text.strip().casefold().replace(" ", "-")
        name = book.methods[slug].name if slug in book.methods else chosen(names, text)
        return (name, {"method": names[name]}) if name is not None else NotUnderstood(NO_SUCH_METHOD)
    return _vessel(book, text) if key == "vessel" else _ice(book, key, text)


def _ice(book: HouseBook, key: str, text: str) -> Change | NotUnderstood:
    none = AS_THE_METHOD if key == "ice" else NO_FRESH_ICE
    more: dict[str, object] = {"fresh_ice_g": None} if key == "fresh_ice" else {}
    if is_empty(text) or text.strip() == none:
        return none, {key: "", **more}
    names = [lower_first(ice.name) for ice in book.ices.values()]
    name = chosen(names, text)
    if name is None and book.ice_named(text) is not None:
        name = " ".join(text.split())
    if name is None:
        return NotUnderstood(one_of([none, *names]) if names else NO_ICE_YET)
    return name, {key: name}


def _vessel(book: HouseBook, text: str) -> Change | NotUnderstood:
    if is_empty(text) or text.strip() == NO_VESSEL:
        return NO_VESSEL, {"vessel": ""}
    names = {lower_first(vessel.name): slug for slug, vessel in book.vessels.items()}
    name = chosen(names, text)
    if name is None:
        return NotUnderstood(one_of(names, 6) if names else NO_VESSEL_YET)
    return name, {"vessel": names[name]}


def _pressure(text: str, style: NumberStyle) -> Change | NotUnderstood:
    if is_empty(text):
        return "what the level needs", {"over_kpa": None}
    kpa = parse_pressure(text, style)
    if isinstance(kpa, ParseProblem):
        return NotUnderstood(EXPECTED_PRESSURE)
    return f"{bar_text(kpa, style)}{UNIT_SPACE}over", {"over_kpa": kpa}
