"""A glass as a drawing that is true to volume: its inside, the level of what is in it, and the ice that floats there.

Every glass is a body of revolution whose profile is drawn to scale, so that its inside holds the brim's volume; lengths
are millimetres, heights are counted up from the inner bottom. Profiles are our own, proportioned after common glasses
(common practice, no source).
"""

import csv
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise

from washline.assets import resource

ICE_G_PER_ML = 0.917
"""Density of ice at 0 °C: 0.9167 g/ml, CRC Handbook of Chemistry and Physics, from memory."""

PACKING = 0.58
"""The share of the room between glass walls that loose pieces of ice fill: common practice, no source."""

_SLICES = 160
_MM3_PER_ML = 1000.0


@dataclass(frozen=True)
class GlassForm:
    """The look of a kind of glass. ``profile`` holds (height, radius) of the inside as shares of the inner height.

    ``stem`` and ``base`` are the stem's and the base's height as shares of the inner height (``base`` is the thick glass
    below the inner bottom), ``foot`` the radius of a foot. ``is_smooth`` rounds the profile; ``has_handle`` adds one.
    """

    name: str
    profile: tuple[tuple[float, float], ...]
    stem: float = 0.0
    base: float = 0.03
    foot: float = 0.0
    is_smooth: bool = False
    has_handle: bool = False

    def radius(self, height: float) -> float:
        """The inner radius at a height, both as shares of the inner height."""
        share = min(max(height, 0.0), 1.0) * _SLICES
        index = min(int(share), _SLICES - 1)
        radii = _radii(self)
        return radii[index] + (radii[index + 1] - radii[index]) * (share - index)


@dataclass(frozen=True)
class Ice:
    """Ice in the glass: grams now there and the edge of a piece. ``kind`` is cube, cubes, spear or crushed."""

    mass_g: float
    kind: str
    edge_mm: float

    @property
    def volume_ml(self) -> float:
        """The volume of the ice itself."""
        return self.mass_g / ICE_G_PER_ML


def read_ice(words: str, mass_g: float | None) -> Ice | None:
    """The ice that the pantry's words mean (*one 50 mm cube*, *cubes 30 mm*, *crushed, mounded*, *spear*).

    Without a mass, or with none of it left, there is no ice. A size that is not said is 30 mm, 8 mm for crushed and
    36 mm for a spear.
    """
    if mass_g is None or mass_g <= 0 or not words.strip():
        return None
    size = re.search(r"(\d+(?:\.\d+)?)\s*mm", words)
    if "crushed" in words and "cube" not in words:
        return Ice(mass_g, "crushed", float(size[1]) if size else 8.0)
    if "spear" in words:
        return Ice(mass_g, "spear", float(size[1]) if size else 36.0)
    edge = float(size[1]) if size else 30.0
    is_single = mass_g / ICE_G_PER_ML < 1.5 * edge**3 / _MM3_PER_ML
    return Ice(mass_g, "cube" if is_single else "cubes", edge)


@dataclass(frozen=True)
class Glass:
    """One glass with what is in it, all volumes in ml. ``wash_line_ml`` is the liquid that reaches the wash line.

    ``foam_ml`` stands on the liquid; ``floats_ml`` are the layers that lie on the rest of it, counted in the liquid, from
    the lowest up.

    Raises ``ValueError`` for a glass that holds nothing or a liquid below zero.
    """

    form: GlassForm
    brim_ml: float
    liquid_ml: float
    wash_line_ml: float | None = None
    ice: Ice | None = None
    liquid_g_per_ml: float = 1.0
    foam_ml: float = 0.0
    floats_ml: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if not self.brim_ml > 0 or self.liquid_ml < 0:
            raise ValueError(f"a glass of {self.brim_ml} ml cannot hold {self.liquid_ml} ml")

    @cached_property
    def height_mm(self) -> float:
        """The inner height for which the inside holds the brim's volume."""
        volume = _volumes(self.form)[-1]
        return float((self.brim_ml * _MM3_PER_ML / volume) ** (1 / 3))

    def radius_mm(self, height_mm: float) -> float:
        """The inner radius at a height above the inner bottom."""
        return self.form.radius(height_mm / self.height_mm) * self.height_mm

    def volume_ml(self, height_mm: float) -> float:
        """The room from the inner bottom up to a height; the brim's volume at and above the brim."""
        share = min(max(height_mm / self.height_mm, 0.0), 1.0) * _SLICES
        volumes = _volumes(self.form)
        index = min(int(share), _SLICES - 1)
        volume = volumes[index] + (volumes[index + 1] - volumes[index]) * (share - index)
        return volume * self.height_mm**3 / _MM3_PER_ML

    @property
    def draught_share(self) -> float:
        """The share of floating ice that is under the surface (Archimedes)."""
        return min(ICE_G_PER_ML / self.liquid_g_per_ml, 1.0)

    @cached_property
    def ice_height_mm(self) -> float:
        """The height of the ice: of one piece, or of the pile that the pieces make between the walls."""
        if self.ice is None:
            return 0.0
        if self.ice.kind == "cube":
            return float((self.ice.volume_ml * _MM3_PER_ML) ** (1 / 3))
        if self.ice.kind == "spear":
            return self.ice.volume_ml * _MM3_PER_ML / self.ice.edge_mm**2
        widest = max(self.radius_mm(self.height_mm * part) for part in (0.3, 0.5, 0.7))
        return self.ice.volume_ml * _MM3_PER_ML / (PACKING * math.pi * widest**2)

    def submerged_ml(self, level_mm: float) -> float:
        """How much of the ice is under a level: it floats where it can, and stands on the bottom where it cannot."""
        if self.ice is None or self.ice_height_mm <= 0:
            return 0.0
        return self.ice.volume_ml * min(level_mm / self.ice_height_mm, self.draught_share)

    def level_mm(self, liquid_ml: float) -> float:
        """The height that a liquid reaches with the ice in it; more than the brim holds stands at the brim."""
        low, high = 0.0, self.height_mm
        for _ in range(40):
            middle = (low + high) / 2
            is_below = self.volume_ml(middle) - self.submerged_ml(middle) < liquid_ml
            low, high = (middle, high) if is_below else (low, middle)
        return (low + high) / 2

    @cached_property
    def surface_mm(self) -> float:
        """The level of what is in the glass."""
        return self.level_mm(self.liquid_ml)

    @cached_property
    def wash_line_mm(self) -> float | None:
        """The level of the wash line with this ice; ``None`` where the house set none."""
        return None if self.wash_line_ml is None else self.level_mm(self.wash_line_ml)

    @cached_property
    def room_ml(self) -> float:
        """What the brim leaves beside the ice, in ml."""
        return max(self.brim_ml - self.submerged_ml(self.height_mm), 0.0)

    @cached_property
    def foam_top_mm(self) -> float:
        """The height that liquid and foam reach together; more than the brim holds stands at the brim."""
        return self.level_mm(self.liquid_ml + max(self.foam_ml, 0.0))

    @cached_property
    def float_bottoms_mm(self) -> tuple[float, ...]:
        """The heights of the undersides of the layers, from the lowest up."""
        below = max(self.liquid_ml - sum(self.floats_ml), 0.0)
        heights = []
        for layer_ml in self.floats_ml:
            heights.append(self.level_mm(below))
            below += layer_ml
        return tuple(heights)

    @cached_property
    def ice_bottom_mm(self) -> float:
        """The height of the underside of the ice."""
        return max(self.surface_mm - self.draught_share * self.ice_height_mm, 0.0)

    def pieces(self) -> tuple["IcePiece", ...]:
        """The ice as squares and rectangles seen from the front, from the bottom up."""
        return _pieces(self)


@dataclass(frozen=True)
class IcePiece:
    """One piece as drawn: centre (x from the axis, height), width, height, turn in degrees."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    turn_deg: float


_TURNS = (-7.0, 5.0, 9.0, -4.0, 2.0, -9.0, 6.0)
_MOST_ROWS = 24


def _pieces(glass: Glass) -> tuple[IcePiece, ...]:
    ice, height = glass.ice, glass.ice_height_mm
    if ice is None:
        return ()
    if ice.kind in ("cube", "spear"):
        width = height if ice.kind == "cube" else ice.edge_mm
        return (IcePiece(0.0, glass.ice_bottom_mm + height / 2, width, height, 0.0),)
    count = ice.volume_ml * _MM3_PER_ML / ice.edge_mm**3
    widest = 2 * max(glass.radius_mm(glass.height_mm * part) for part in (0.3, 0.5, 0.7)) * 0.94
    in_layer = max(1, round(math.pi / 4 * (widest // ice.edge_mm) ** 2))
    rows = min(max(1, round(count / in_layer)), _MOST_ROWS)
    return tuple(piece for row in range(rows) for piece in _row_of_ice(glass, ice, row, rows))


def _row_of_ice(glass: Glass, ice: Ice, row: int, rows: int) -> list[IcePiece]:
    """One layer of a pile as seen from the front; layers are set off from each other as loose pieces lie."""
    y = glass.ice_bottom_mm + (row + 0.5) * glass.ice_height_mm / rows
    room = 2 * glass.radius_mm(min(y, glass.height_mm)) * 0.94
    across = max(1, int(room // ice.edge_mm))
    slack = max(room - across * ice.edge_mm, 0.0)
    aside = slack * (0.36 if row % 2 else -0.36)
    turn_scale = 3.0 if ice.kind == "crushed" else 1.0
    edge = ice.edge_mm * (0.86 if ice.kind == "crushed" else 0.94)
    pieces: list[IcePiece] = []
    for column in range(across):
        turn = _TURNS[(row * 3 + column * 2) % len(_TURNS)]
        x = (column - (across - 1) / 2) * ice.edge_mm + aside
        lift = turn / 40 * ice.edge_mm if across > 1 else 0.0
        pieces.append(IcePiece(x, y + lift, edge, edge, turn * turn_scale))
    return pieces


@cache
def _radii(form: GlassForm) -> tuple[float, ...]:
    """The radius at each slice: straight between the points, or a monotone cubic through them where it is smooth."""
    heights = [index / _SLICES for index in range(_SLICES + 1)]
    slopes = _profile_slopes(form)
    return tuple(_profile_radius(form, slopes, height) for height in heights)


def _profile_slopes(form: GlassForm) -> list[float]:
    """The slope at each point of a smooth profile (Fritsch and Butland 1984, for uneven spacing)."""
    pairs = list(pairwise(form.profile))
    secants = [(end - start) / (high - low) for (low, start), (high, end) in pairs]
    lengths = [high - low for (low, _), (high, _) in pairs]
    slopes = [secants[0]]
    for (before, after), (short, long) in zip(pairwise(secants), pairwise(lengths), strict=True):
        weights = 2 * long + short, long + 2 * short
        rises = before * after > 0
        slopes.append(sum(weights) / (weights[0] / before + weights[1] / after) if rises else 0.0)
    return [*slopes, secants[-1]]


def _profile_radius(form: GlassForm, slopes: Sequence[float], height: float) -> float:
    points = form.profile
    index = next((i for i in range(len(points) - 1) if height <= points[i + 1][0]), len(points) - 2)
    (low, start), (high, end) = points[index], points[index + 1]
    length = high - low
    s = (height - low) / length
    if not form.is_smooth:
        return start + (end - start) * s
    rise = slopes[index] * s * (1 - s) ** 2 - slopes[index + 1] * s * s * (1 - s)
    return start * (1 + 2 * s) * (1 - s) ** 2 + end * s * s * (3 - 2 * s) + length * rise


@cache
def _volumes(form: GlassForm) -> tuple[float, ...]:
    """The volume up to each of the slices of a form of inner height 1, by the trapezoidal rule."""
    areas = [math.pi * form.radius(index / _SLICES) ** 2 for index in range(_SLICES + 1)]
    volumes = [0.0]
    for low, high in pairwise(areas):
        volumes.append(volumes[-1] + (low + high) / 2 / _SLICES)
    return tuple(volumes)


def glass_form(slug: str) -> GlassForm:
    """The form of a glass by its slug: its own, else that of the glass of the table that it is like, else a straight
    tumbler."""
    forms, by_slug = _tables()
    return forms[by_slug.get(like(slug), "rocks")]


def like(slug: str) -> str:
    """The glass of the table that a glass is drawn like: itself, or the longest with whose slug it begins (``coupe-2``);
    empty where there is none."""
    known = [one for one in known_glasses() if slug == one or slug.startswith(f"{one}-")]
    return max(known, key=len, default="")


def known_glasses() -> Sequence[str]:
    """The slugs that have a form of their own."""
    return tuple(_tables()[1])


@cache
def _tables() -> tuple[dict[str, GlassForm], dict[str, str]]:
    forms: dict[str, GlassForm] = {}
    by_slug: dict[str, str] = {}
    with resource("theme", "glasses.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            forms[row["form"]] = _read_form(row)
            by_slug |= dict.fromkeys(row["slugs"].split(), row["form"])
    return forms, by_slug


def _read_form(row: dict[str, str]) -> GlassForm:
    points = (point.split(":") for point in row["profile"].split())
    return GlassForm(
        name=row["form"],
        profile=tuple((float(height), float(radius)) for height, radius in points),
        stem=float(row["stem"]),
        base=float(row["base"]),
        foot=float(row["foot"]),
        is_smooth=row["smooth"] == "yes",
        has_handle=row["handle"] == "yes",
    )
