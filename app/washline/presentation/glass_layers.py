"""Layers that are floated on a drink, and whether they stay there: each is held against what lies under it."""

from collections.abc import Sequence
from dataclasses import dataclass

from washline.engine.traced_ice import Layer
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.step import items_of
from washline.presentation.glass_foam import name_of
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_number

THINNEST_ML = 0.05
"""Less than this is no layer."""

_MIXES_WITHIN_G_PER_ML = 0.003


@dataclass(frozen=True, slots=True)
class Floated:
    """A layer by its name; ``sinks`` says in words why it will not stay on top, empty where it will."""

    name: str
    ml: float
    density_g_per_ml: float | None
    sinks: str


def floated(
    book: HouseBook,
    build: Build,
    layers: Sequence[Layer],
    length_ml: float | None,
    mass_g: float | None,
    style: NumberStyle = ENGLISH_STYLE,
) -> tuple[Floated, ...]:
    """The layers of a drink of a volume and mass, from the lowest up; they are counted in both."""
    lines = {step.id: items_of(step) for step in build.steps}
    thick = [layer for layer in layers if (layer.ml or 0.0) >= THINNEST_ML]
    beneath = _density_below(thick, length_ml, mass_g)
    found = []
    for layer in thick:
        name = name_of(book, lines[layer.step_id][0]) if lines.get(layer.step_id) else "a layer"
        density = layer.density_g_per_ml
        found.append(Floated(name, layer.ml or 0.0, density, _sinks(name, density, beneath, style)))
        if density is not None and beneath is not None:
            beneath = min(density, beneath)
    return tuple(found)


def _density_below(layers: Sequence[Layer], length_ml: float | None, mass_g: float | None) -> float | None:
    """The density in g/ml of the drink without its layers."""
    if length_ml is None or mass_g is None:
        return None
    below_ml = length_ml - sum(layer.ml or 0.0 for layer in layers)
    below_g = mass_g - sum(layer.grams for layer in layers)
    return below_g / below_ml if below_ml > 0.0 else None


def _sinks(name: str, density: float | None, beneath: float | None, style: NumberStyle) -> str:
    if density is None or beneath is None or density <= beneath - _MIXES_WITHIN_G_PER_ML:
        return ""
    figures = f"{format_number(density, 3, style)} on {format_number(beneath, 3, style)}{UNIT_SPACE}g/ml"
    is_heavier = density > beneath + _MIXES_WITHIN_G_PER_ML
    words = "will sink: it is heavier than what it lies on" if is_heavier else "will mix: nearly as heavy"
    return f"{name} {words}, {figures}."
