"""The ice that stands in a glass: which of the house's ice it is, and how it is drawn."""

import re

from washline.model.book import HouseBook
from washline.model.house import Ice as HouseIce
from washline.model.house import MethodKind
from washline.model.item import Build
from washline.model.step import BarStrain, BarStrainWay, Chill
from washline.presentation.glass import Ice, read_ice

IN_THE_GLASS = (MethodKind.IN_GLASS, MethodKind.ALL_IN)
"""The methods whose ice is served."""

_CRUSHED_UP_TO_MM = 12.0


Icing = Chill | BarStrain
"""A step that leaves its ice in the glass."""


def icing_step(book: HouseBook, build: Build) -> Icing | None:
    """The step whose ice is in the glass when it is served; ``None`` where it is the drink's own or its glass's."""
    in_tin: Chill | None = None
    in_glass: Icing | None = None
    for step in build.steps:
        if step.left_out:
            continue
        if isinstance(step, Chill):
            kind = _kind_of(book, step)
            in_tin = step if kind is MethodKind.ON_ICE else in_tin
            in_glass = step if kind in IN_THE_GLASS else in_glass
        elif isinstance(step, BarStrain):
            is_poured = step.way is BarStrainWay.UNSTRAINED
            in_glass = (in_tin or in_glass) if is_poured else None
            if step.fresh_ice or step.fresh_ice_g is not None:
                in_glass = step
    return in_glass


def _kind_of(book: HouseBook, step: Chill) -> MethodKind | None:
    method = book.methods.get(step.method)
    return method.kind if method is not None else None


def icing_words(step: Icing) -> str:
    """The ice as such a step has it; empty: as usual."""
    return step.ice if isinstance(step, Chill) else step.fresh_ice


def icing_g(step: Icing) -> float | None:
    """Its grams as such a step has them; ``None``: as usual."""
    return step.ice_g if isinstance(step, Chill) else step.fresh_ice_g


def usual_ice(book: HouseBook, build: Build, step: Icing | None) -> tuple[str, float | None]:
    """Ice in words and grams where nobody says otherwise: of the method, or of the glass."""
    glass = book.glass_of(build)
    method = book.methods.get(step.method) if isinstance(step, Chill) else None
    if method is not None:
        return method.ice, method.ice_g
    return (glass.ice, glass.ice_g) if glass is not None else ("", None)


def served_ice_words(book: HouseBook, build: Build) -> str:
    """The ice in the glass as it was last said: over which the drink is strained, on which it is built, or else the
    drink's own or its glass's."""
    step = icing_step(book, build)
    if step is not None and icing_words(step):
        return icing_words(step)
    if step is None and build.ice is not None:
        return build.ice
    return usual_ice(book, build, step)[0]


def ice_in_glass(book: HouseBook, words: str, grams: float | None) -> Ice | None:
    """The ice to draw: a size that the words say, else that of the house's ice which they mean."""
    drawn = read_ice(words or "cubes", grams)
    known = book.ice_named(words)
    if drawn is None or known is None or re.search(r"\d\s*mm", words):
        return drawn
    return read_ice(f"{_kind(known)} {known.edge_mm:g} mm", grams)


def _kind(ice: HouseIce) -> str:
    if "spear" in ice.name.casefold():
        return "spear"
    return "crushed" if ice.edge_mm <= _CRUSHED_UP_TO_MM else "cubes"
