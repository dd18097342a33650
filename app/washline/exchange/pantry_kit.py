"""Reads what the pantry holds beside ingredients: glasses, methods of chilling, bar measures, ice and vessels."""

from pathlib import Path
from typing import get_args

from washline.exchange.kit_rows import Published
from washline.exchange.table import CellProblem, TableRow, read_table
from washline.model.house import Glass, Ice, Measure, Method, MethodKind, Vessel
from washline.model.item import KeptAt

_GLASS_METHOD_COLUMNS = (
    "kind", "slug", "name", "brim_ml", "usual_fill_ml", "served_with_ice", "usual_ice", "usual_ice_g", "time_s_low",
    "time_s_high", "dilution_pct_low", "dilution_pct_high", "final_temp_c_low", "final_temp_c_high", "method_kind",
    "published", "approach", "tau_s", "core", "ice_g_per_ml", "surface_water_pct", "vessel_j_per_k", "vessel_is_cold",
    "kept_at", "balance_source", "source", "source_kind", "from_memory_fields", "note",
)  # fmt: skip


def glasses_and_methods(
    path: Path, problems: list[CellProblem]
) -> tuple[tuple[Glass, ...], tuple[Method, ...]]:
    """The glasses and the methods of one file, without the lines that have a problem."""
    glasses: list[Glass] = []
    methods: list[Method] = []
    for row in read_table(path, _GLASS_METHOD_COLUMNS, problems, own_key="slug"):
        if row.one_of("kind", ("glass", "method")) == "glass":
            glass = _glass(row)
            glasses.extend([glass] if row.is_good else [])
        else:
            method = _method(row)
            methods.extend([method] if row.is_good and method is not None else [])
    return tuple(glasses), tuple(methods)


def _ice(row: TableRow) -> str:
    ice = row.text("usual_ice")
    return "" if ice == "none" else ice


def _glass(row: TableRow) -> Glass:
    return Glass(
        slug=row.text("slug"),
        name=row.name("name"),
        brim_ml=row.needed_number("brim_ml", low=1.0),
        usual_fill_ml=row.number("usual_fill_ml"),
        ice=_ice(row),
        ice_g=row.number("usual_ice_g") or 0.0,
        source=row.text("source"),
        note=row.text("note"),
    )


def _method(row: TableRow) -> Method | None:
    kind = row.one_of("method_kind", tuple(MethodKind))
    place = row.one_of("kept_at", ("", *KeptAt))
    row.name("balance_source")
    if not row.is_good:
        return None
    return Method(
        slug=row.text("slug"),
        name=row.name("name"),
        kind=MethodKind(kind),
        ice=_ice(row),
        ice_g=row.number("usual_ice_g"),
        time_low_s=row.number("time_s_low"),
        time_high_s=row.number("time_s_high"),
        dilution_low_pct=row.needed_number("dilution_pct_low"),
        dilution_high_pct=row.needed_number("dilution_pct_high"),
        end_low_c=row.needed_number("final_temp_c_low", low=-50.0),
        end_high_c=row.needed_number("final_temp_c_high", low=-50.0),
        published=row.one_of("published", get_args(Published)),
        approach=row.needed_number("approach", high=1.0),
        tau_s=row.needed_number("tau_s", low=0.01),
        core=row.needed_number("core", high=1.0),
        ice_g_per_ml=row.needed_number("ice_g_per_ml", high=100.0),
        surface_water_pct=row.needed_number("surface_water_pct", high=100.0),
        vessel_j_per_k=row.needed_number("vessel_j_per_k"),
        vessel_is_cold=row.is_yes("vessel_is_cold"),
        kept_at=KeptAt(place) if place else None,
        source=row.text("source"),
        source_kind=row.text("source_kind"),
        note=row.text("note"),
    )


def measures(path: Path, problems: list[CellProblem]) -> tuple[Measure, ...]:
    """The bar measures of a file, without the lines that have a problem."""
    found: list[Measure] = []
    columns = ("slug", "name", "value", "unit", "low", "high", "source", "source_kind", "note")
    for row in read_table(path, columns, problems, own_key="slug"):
        measure = Measure(
            slug=row.text("slug"),
            name=row.name("name"),
            value=row.needed_number("value"),
            unit=row.one_of("unit", ("ml", "g")),
            low=row.needed_number("low"),
            high=row.needed_number("high"),
            source=row.text("source"),
            source_kind=row.text("source_kind"),
            note=row.text("note"),
        )
        if row.is_good:
            found.append(measure)
    return tuple(found)


def ices(path: Path, problems: list[CellProblem]) -> tuple[Ice, ...]:
    """The kinds of ice of a file, without the lines that have a problem."""
    found: list[Ice] = []
    columns = (
        "slug", "name", "pace", "temperature_c", "surface_water_pct", "wet_pct", "edge_mm", "piece_g", "source",
        "source_kind", "note",
    )  # fmt: skip
    for row in read_table(path, columns, problems, own_key="slug"):
        ice = Ice(
            slug=row.text("slug"),
            name=row.name("name"),
            pace=row.needed_number("pace", low=0.01, high=100.0),
            temperature_c=row.needed_number("temperature_c", low=-100.0, high=0.0),
            surface_water_pct=row.number("surface_water_pct", high=100.0),
            wet_pct=row.needed_number("wet_pct", high=100.0),
            edge_mm=row.needed_number("edge_mm", low=0.1, high=1000.0),
            piece_g=row.number("piece_g"),
            source=row.name("source"),
            source_kind=row.name("source_kind"),
            note=row.text("note"),
        )
        if row.is_good:
            found.append(ice)
    return tuple(found)


def vessels(path: Path, problems: list[CellProblem]) -> tuple[Vessel, ...]:
    """The bottles, kegs, siphons and jugs of a file, without the lines that have a problem. A rating that is blank is not
    known: such a vessel is not for pressure."""
    found: list[Vessel] = []
    columns = ("slug", "name", "volume_ml", "fill_ml", "rated_kpa", "source", "source_kind", "note")
    for row in read_table(path, columns, problems, own_key="slug"):
        vessel = Vessel(
            slug=row.text("slug"),
            name=row.name("name"),
            volume_ml=row.needed_number("volume_ml", low=1.0),
            fill_ml=row.number("fill_ml", low=1.0),
            rated_kpa=row.number("rated_kpa", low=1.0, high=10_000.0),
            source=row.name("source"),
            source_kind=row.name("source_kind"),
            note=row.text("note"),
        )
        if vessel.fill_ml is not None and vessel.fill_ml > vessel.volume_ml:
            row.refuse("fill_ml", f"expected at most {vessel.volume_ml:g}, found {vessel.fill_ml:g}")
        if row.is_good:
            found.append(vessel)
    return tuple(found)
