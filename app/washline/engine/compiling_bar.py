"""Compiling what is done at the bar: chilling, straining over ice, rinsing, garnishing and carbonating."""

from math import nan

from washline.engine.chilling import GLASS, IN_A_TIME, TIN
from washline.engine.compiling import Compiler
from washline.engine.melting import REGRESSIONS, usual_time
from washline.engine.program import NONE
from washline.model.book import HouseBook
from washline.model.house import Calibration, Ice, Method, MethodKind, Vessel
from washline.model.item import Build
from washline.model.step import (
    Add,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    ChillBy,
    Garnish,
    IceState,
    Rinse,
)

TIN_J_PER_K = 100.0
"""A tin of 200 g of steel (0.50 J/gK), for a method that has no figure of its own (common practice, no source)."""

USUAL_WET_PCT = 5.0
"""Water that clings to wet ice, where the ice is none of the house's (common practice, no source)."""

FRESH_ICE_APPROACH, FRESH_ICE_CORE = 0.08, 0.5
"""What a drink does on the fresh ice that it is strained over (common practice, no source)."""

USUAL_FILL = 0.95
"""How full a vessel is where nobody has said so."""

_ON_ICE = (MethodKind.ON_ICE, MethodKind.IN_GLASS, MethodKind.ALL_IN)
END, MELT = "end temperature", "melt"
"""What the causes of doubt of a chill are called."""


def compile_chill(compiler: Compiler, step: Chill) -> None:
    """One op: what was weighed, what tells the melt, and where its numbers are."""
    method = compiler.book.methods.get(step.method)
    if method is None:
        compiler.problem(step.id, f"chilling method not known here: {step.method}")
        return
    weighed, amount = _weighed(compiler, step)
    end = compiler.number_or_none(step.end_c, step.id, END)
    if method.kind in _ON_ICE:
        _on_ice(compiler, step, method, (weighed, amount, end))
    elif method.kind is MethodKind.COLD_STORE:
        _in_store(compiler, step, method, (weighed, amount, end))
    else:
        vessel = NONE if method.kind is MethodKind.OTHER else _vessel(compiler, step, method)
        compiler.op(step.id, "chill_by_vessel", weighed, amount, vessel, end)


def _weighed(compiler: Compiler, step: Chill) -> tuple[str, int]:
    """What was weighed or measured, and its number."""
    for words, value in (("melted", step.melted_g), ("mass", step.final_g), ("volume", step.final_ml)):
        if value is not None:
            return words, compiler.number(value)
    return "", NONE


def _in_store(compiler: Compiler, step: Chill, method: Method, given: tuple[str, int, int]) -> None:
    weighed, amount, end = given
    if end == NONE and method.kept_at is None:
        compiler.problem(step.id, f"say where {method.name} stands: freezer or fridge")
        return
    if end == NONE and method.kept_at is not None:
        end = compiler.number(compiler.book.settings.temperature_c(method.kept_at), step.id, END)
    compiler.op(step.id, "chill_in_store", weighed, amount, end)


def _vessel(compiler: Compiler, step: Chill, method: Method) -> int:
    """The first number of what a vessel gives or takes, ``NONE`` where it does neither."""
    j_per_k, vessel_c = vessel_of(compiler.book.settings.room_c, step, method)
    if j_per_k <= 0.0:
        return NONE
    first = compiler.number(j_per_k)
    compiler.number(vessel_c)
    compiler.number(0.0, step.id, END)
    return first


def vessel_of(room_c: float, step: Chill, method: Method) -> tuple[float, float]:
    """J/K and °C of what is cooled beside the drink."""
    if step.vessel_c is not None:
        return method.vessel_j_per_k or TIN_J_PER_K, step.vessel_c
    return (0.0, room_c) if method.vessel_is_cold else (method.vessel_j_per_k, room_c)


def _on_ice(compiler: Compiler, step: Chill, method: Method, given: tuple[str, int, int]) -> None:
    weighed, amount, end = given
    book = compiler.book
    ice = book.ice_named(step.ice or method.ice)
    calibration = book.calibration_of(method.slug, ice)
    pace = pace_of(ice, book.ice_named(method.ice))
    grams = _ice_g(compiler.build, step, method)
    way, seconds = way_of(method, calibration, pace, step.duration_s)
    at = compiler.number(grams or 0.0)
    compiler.number(method.ice_g_per_ml if grams is None else 0.0)
    compiler.number(ice_c_of(ice, step.ice_c))
    compiler.number(surface_share(method, ice, calibration, step.ice_state))
    compiler.number(way)
    compiler.number(seconds or 0.0)
    compiler.number(method.core)
    for number in vessel_of(book.settings.room_c, step, method):
        compiler.number(number)
    compiler.number(1.0 if calibration is None else calibration.factor)
    compiler.number(0.0 if calibration is None else calibration.offset)
    compiler.number(usual_time(method, step.duration_s))
    compiler.number(0.0, step.id, MELT)
    compiler.number(0.0, step.id, "" if end != NONE else END)
    published = _published(step, method, pace)
    by = "balance" if not published else step.by.value
    by += "" if seconds is None else IN_A_TIME
    place = TIN if method.kind is MethodKind.ON_ICE else GLASS
    compiler.op(step.id, "chill_on_ice", weighed, amount, published, by, at, end, place)


def pace_of(ice: Ice | None, usual: Ice | None) -> float:
    """How fast an ice chills beside the one that a method is usually done on; without one, beside ice of pace 1."""
    if ice is None:
        return 1.0
    return ice.pace / usual.pace if usual is not None and usual.pace > 0.0 else ice.pace


def _ice_g(build: Build, step: Chill, method: Method) -> float | None:
    """The ice of a chill: as said for it, else that of the glass it is made in, else as usual for the method."""
    if step.ice_g is not None:
        return step.ice_g
    is_served = method.kind is not MethodKind.ON_ICE and build.ice_g is not None
    return build.ice_g if is_served else method.ice_g


def _published(step: Chill, method: Method, pace: float) -> str:
    """The published dilution that may count: empty where it was not made for the ice or the vessel."""
    if method.published not in REGRESSIONS or step.by is ChillBy.BALANCE:
        return ""
    is_usual = step.ice_state is IceState.USUAL and step.vessel_c is None and pace == 1.0
    return method.published if is_usual or step.by is ChillBy.PUBLISHED else ""


def ice_c_of(ice: Ice | None, typed_c: float | None) -> float:
    """How cold the ice is in °C, never above its melting point."""
    usual_c = ice.temperature_c if ice is not None else 0.0
    return min(usual_c if typed_c is None else typed_c, 0.0)


def surface_share(method: Method, ice: Ice | None, calibration: Calibration | None, state: IceState) -> float:
    """Grams of water that cling to each gram of ice."""
    if state is IceState.DRY:
        return 0.0
    if state is IceState.WET:
        return (ice.wet_pct if ice is not None else USUAL_WET_PCT) / 100.0
    if calibration is not None and calibration.surface_water_pct is not None:
        return calibration.surface_water_pct / 100.0
    if ice is not None and ice.surface_water_pct is not None:
        return ice.surface_water_pct / 100.0
    return method.surface_water_pct / 100.0


def way_of(
    method: Method, calibration: Calibration | None, pace: float, seconds: float | None
) -> tuple[float, float | None]:
    """With a time: the time constant on this ice in s, and the time. Without: the part of the way that the method goes in
    its usual time, further on ice that is quicker or where the house found a shorter time constant."""
    tau_s = method.tau_s
    if calibration is not None and calibration.tau_s is not None:
        tau_s = calibration.tau_s
    if seconds is not None and tau_s > 0.0 and pace > 0.0:
        return tau_s / pace, seconds
    quicker = pace * (method.tau_s / tau_s if tau_s > 0.0 else 1.0)
    left: float = (1.0 - min(max(method.approach, 0.0), 1.0)) ** quicker
    return 1.0 - left, None


def compile_bar_strain(compiler: Compiler, step: BarStrain) -> None:
    """Out of the tin, then over fresh ice."""
    compiler.op(step.id, "bar_strain", step.way.value, compiler.number_or_none(step.held_back_ml))
    if step.way is not BarStrainWay.UNSTRAINED:
        compiler.is_holding = False
    _into_glass(compiler, step)
    ice = compiler.book.ice_named(step.fresh_ice)
    grams = step.fresh_ice_g
    if grams is None and step.fresh_ice:
        grams = ice.piece_g if ice is not None and ice.piece_g is not None else _glass_ice_g(compiler)
        if grams is None:
            compiler.problem(step.id, "say how much fresh ice it is strained over, in g")
    if grams is None:
        return
    pace = ice.pace if ice is not None else 1.0
    surface = ice.surface_water_pct if ice is not None else None
    way = 1.0 - (1.0 - FRESH_ICE_APPROACH) ** pace
    at = compiler.number(grams)
    for number in (0.0, ice_c_of(ice, None), (surface or 0.0) / 100.0, way, 0.0, FRESH_ICE_CORE):
        compiler.number(number)
    for number in (0.0, compiler.book.settings.room_c, 1.0, 0.0, 1.0):
        compiler.number(number)
    compiler.number(0.0, step.id, MELT)
    compiler.number(0.0, step.id, END)
    compiler.op(step.id, "chill_on_ice", "", NONE, "", "balance", at, NONE, GLASS)


def _into_glass(compiler: Compiler, step: BarStrain) -> None:
    """What the glass gives or takes, before the drink meets its ice."""
    settings = compiler.book.settings
    if not compiler.build.is_drink or not settings.glass_j_per_k > 0.0:
        return
    first = compiler.number(settings.glass_j_per_k)
    compiler.number(settings.room_c if step.vessel_c is None else step.vessel_c)
    compiler.number(0.0, step.id, END)
    compiler.op(step.id, "chill_by_vessel", "", NONE, first, NONE)


def _glass_ice_g(compiler: Compiler) -> float | None:
    """The ice in the glass as the drink or its glass says."""
    if compiler.build.ice_g is not None:
        return compiler.build.ice_g
    glass = compiler.book.glass_of(compiler.build)
    return None if glass is None else glass.ice_g


def compile_rinse(compiler: Compiler, step: Rinse) -> None:
    """A line of which a film stays."""
    unit = compiler.unit(step, step.amount)
    if unit is None:
        return
    line = compiler.line_of(step, unit[0], compiler.size(step.amount, *unit))
    if line is None:
        return
    film_ml = compiler.book.settings.rinse_film_ml if step.film_ml is None else step.film_ml
    index = compiler.line(step.id, step.item_id, line.kind, line.amount)
    compiler.op(step.id, "rinse", index, line.basis, line.temperature, line.refers, compiler.number(film_ml))


def compile_garnish(compiler: Compiler, step: Garnish) -> None:
    """On the glass, or into the liquid where it says so; what does not stay is thrown away."""
    if step.in_liquid and step.stays_g is None:
        compiler.add(
            Add(
                id=step.id,
                build_id=step.build_id,
                place=step.place,
                item_id=step.item_id,
                amount=step.amount,
            )
        )
        return
    compiler.is_on_glass = not step.in_liquid
    unit = compiler.unit(step, step.amount)
    compiler.is_on_glass = False
    if unit is None:
        return
    compiler.flush()
    line = compiler.line(step.id, step.item_id, unit[0], compiler.size(step.amount, *unit))
    stays = compiler.number_or_none(step.stays_g)
    compiler.op(step.id, "spray" if step.in_liquid else "garnish", line, stays)


def compile_carbonate(compiler: Compiler, step: Carbonate) -> None:
    """Gas by a level or a pressure, in a vessel that is rated for it; what leaves on opening leaves in the end."""
    vessel = vessel_named(compiler.book, step.vessel)
    if vessel is None or vessel.rated_kpa is None:
        compiler.problem(step.id, _no_vessel(step, vessel))
        return
    if step.co2_g_per_l is None and step.over_kpa is None:
        compiler.problem(step.id, "say how much gas it is to hold, or the pressure")
        return
    settings = compiler.book.settings
    reached = 100.0 if step.reached_pct is None else step.reached_pct
    fill_ml = vessel.volume_ml * USUAL_FILL if vessel.fill_ml is None else vessel.fill_ml
    at = compiler.number(nan if step.co2_g_per_l is None else step.co2_g_per_l)
    compiler.number(nan if step.over_kpa is None else step.over_kpa)
    compiler.number(reached / 100.0)
    compiler.number(settings.warmest_c if step.warmest_c is None else step.warmest_c)
    compiler.number(fill_ml)
    compiler.number(max(vessel.volume_ml - fill_ml, 0.0))
    compiler.number(vessel.rated_kpa)
    by = "pressure" if step.co2_g_per_l is None else "level"
    compiler.op(step.id, "carbonate", by, at, compiler.number_or_none(step.at_c))
    if step.opening_loss_pct:
        compiler.openings.append((step.id, step.opening_loss_pct / 100.0))


def vessel_named(book: HouseBook, words: str) -> Vessel | None:
    """The house's vessel by its slug or its name."""
    vessels = book.vessels
    said = words.strip().casefold()
    by_name = (vessel for vessel in vessels.values() if vessel.name.casefold() == said)
    return vessels.get(words.strip()) or next(by_name, None)


def _no_vessel(step: Carbonate, vessel: Vessel | None) -> str:
    """Why nothing is carbonated."""
    if vessel is not None:
        return f"choose a bottle rated for pressure: nobody knows what {vessel.name} is rated for"
    if step.vessel.strip():
        return f"choose a bottle rated for pressure: {step.vessel.strip()} is no vessel of the house"
    return "choose a bottle rated for pressure: none is named"
