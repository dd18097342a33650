"""What is computed for a weighing of the house: with the usual figures of its method, and as it is calibrated now."""

from functools import lru_cache

import numpy as np

from washline.chemistry import chilling, mixture
from washline.engine.calibrating import fitted
from washline.engine.compiling_bar import pace_of, way_of
from washline.engine.melting import REGRESSIONS, OnIce, mixed, usual_time
from washline.model.house import Calibration, Ice, Method, Weighing


@lru_cache(maxsize=512)
def usual_g(method: Method, ice: Ice, weighing: Weighing, usual_ice: Ice | None = None) -> float | None:
    """Grams of water taken up by the usual figures, without any calibration; ``None`` where they cannot be computed.
    ``usual_ice`` is the one that the method is usually done on."""
    return _known(fitted(method, ice, (weighing,), usual_ice).computed_g[0])


@lru_cache(maxsize=512)
def calibrated_g(
    method: Method,
    ice: Ice,
    weighing: Weighing,
    calibration: Calibration | None,
    usual_ice: Ice | None = None,
) -> float | None:
    """Grams of water taken up with a calibration; as usual without one."""
    if calibration is None:
        return usual_g(method, ice, weighing, usual_ice)
    pace = pace_of(ice, usual_ice)
    on_ice = _on_ice(method, pace, weighing, calibration)
    usual_j = 0.0 if method.vessel_is_cold else method.vessel_j_per_k
    if not on_ice.published or pace != 1.0 or weighing.vessel_j_per_k != usual_j:
        return _known(on_ice.balance_g().item())
    return _known(mixed(on_ice.published_weight(), on_ice.published_g(), on_ice.balance_g()).item())


def _on_ice(method: Method, pace: float, weighing: Weighing, calibration: Calibration) -> OnIce:
    masses = np.array([[part or 0.0] for part in weighing.composition])
    way, seconds = way_of(method, calibration, pace, weighing.seconds)
    wet_pct = calibration.surface_water_pct
    surface_g = weighing.surface_water_g if wet_pct is None else weighing.ice_g * (wet_pct / 100.0)
    part = way if seconds is None else chilling.approach(seconds, way)
    return OnIce(
        masses,
        mixture.volume_ml(masses),
        mixture.strength_pct_vol(masses),
        np.array([weighing.liquid_c]),
        np.array([weighing.ice_g]),
        np.array([weighing.ice_c]),
        np.array([surface_g]),
        np.array([part]),
        np.array([method.core]),
        np.array([weighing.vessel_j_per_k]),
        np.array([weighing.vessel_c]),
        published=method.published if method.published in REGRESSIONS else "",
        factor=calibration.factor,
        offset=calibration.offset,
        usual_time=usual_time(method, weighing.seconds),
    )


def _known(grams: float) -> float | None:
    return None if grams != grams else float(grams)
