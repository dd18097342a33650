"""What a house book of an older version gets from the pantry when it is brought up to date."""

from dataclasses import replace

from msgspec import Struct, structs

from washline.assets import database_file
from washline.exchange.house_file import whole_pantry
from washline.model.book import HouseBook
from washline.model.house import Method

PANTRY = whole_pantry(database_file("seed", "pantry"))
METHODS = {method.slug: method for method in PANTRY.methods}
FOAMING = {raw.slug for raw in PANTRY.raws if raw.foams}
HEAT = (
    "kind", "published", "approach", "tau_s", "core", "ice_g_per_ml", "surface_water_pct", "vessel_j_per_k",
    "vessel_is_cold", "kept_at",
)  # fmt: skip


def with_what_is_usual(book: HouseBook) -> HouseBook:
    """The book with the usual ices and vessels, the heat of the methods that the pantry knows, and what foams."""
    return replace(
        book,
        methods={slug: _as_heat(method) for slug, method in book.methods.items()},
        raws={key: structs.replace(raw, foams=raw.slug in FOAMING) for key, raw in book.raws.items()},
        ices={ice.slug: ice for ice in PANTRY.ices},
        vessels={vessel.slug: vessel for vessel in PANTRY.vessels},
    )


def _as_heat(method: Method) -> Method:
    usual: Struct | None = METHODS.get(method.slug)
    return (
        method if usual is None else structs.replace(method, **{name: getattr(usual, name) for name in HEAT})
    )
