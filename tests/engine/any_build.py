"""Builds of any steps, drawn at random: every kind of step that the engine knows."""

from collections.abc import Sequence

from hypothesis import strategies as st

from tests.engine.kitchen import (
    BUTTER,
    CORDIAL,
    EGG,
    LEMON,
    METHODS,
    MILK,
    PEAR,
    SALT,
    SODA,
    SPENT,
    SPIRIT,
    SUGAR,
    WATER,
    Vessel,
)
from washline.model.amount import Basis
from washline.model.item import Build, BuildKind
from washline.model.step import (
    BarStrainWay,
    ChillBy,
    FermentKind,
    GarnishWay,
    Goal,
    IceState,
    Measurable,
    Per,
    WashKind,
    Weight,
)

ITEMS = (WATER, SPIRIT, SUGAR, LEMON, SODA, PEAR, EGG, SALT, CORDIAL, BUTTER, MILK)
_POURED_KINDS = ("strain", "weigh", "heat", "dry", "take", "share", "top")
BAR_KINDS = (*_POURED_KINDS, "chill", "garnish", "bar strain", "rinse", "carbonate", "smoke")
CLOSED_KINDS = (*BAR_KINDS, "infuse", "wash", "muddle", "brix", "adjust", "measured strain", "bought")
"""The kinds of steps that only move matter."""
ALL_KINDS = (*CLOSED_KINDS, "ferment", "measure")


def percents(draw: st.DrawFn) -> float | None:
    return draw(st.none() | st.floats(0.0, 100.0))


def put_bar_step(draw: st.DrawFn, vessel: Vessel, kind: str) -> None:
    if kind == "strain":
        vessel.strain(expected_pct=draw(st.floats(10.0, 100.0)), leftover_id=draw(st.none() | st.just(SPENT)))
    elif kind == "weigh":
        vessel.strain(
            weighed_g=draw(st.floats(0.0, 900.0)),
            leftover_weighed_g=draw(st.none() | st.floats(0.0, 300.0)),
        )
    elif kind == "heat":
        vessel.heat(
            final_pct=draw(st.floats(5.0, 110.0)),
            ethanol_kept_pct=draw(st.none() | st.floats(0.0, 100.0)),
        )
    elif kind == "dry":
        vessel.dry(final_g=draw(st.floats(0.0, 800.0)))
    elif kind == "take":
        vessel.take(draw(st.floats(0.0, 400.0)))
    elif kind == "chill":
        put_chill(draw, vessel)
    elif kind == "share":
        vessel.share(draw(st.sampled_from(ITEMS)), draw(st.floats(0.0, 100.0)), Basis.PERCENT_OF_VESSEL)
    elif kind == "top":
        vessel.top(SODA, draw(st.floats(1.0, 900.0)), "ml", Basis.TO_VOLUME)
    elif kind == "garnish":
        vessel.garnish(
            PEAR,
            draw(st.floats(0.0, 9.0)),
            in_liquid=draw(st.booleans()),
            way=draw(st.sampled_from(list(GarnishWay))),
            stays_g=draw(st.none() | st.floats(0.0, 9.0)),
        )
    elif kind == "bar strain":
        vessel.bar_strain(
            draw(st.sampled_from(list(BarStrainWay))),
            held_back_ml=draw(st.none() | st.floats(0.0, 20.0)),
            fresh_ice_g=draw(st.none() | st.floats(0.0, 300.0)),
            vessel_c=draw(st.none() | st.floats(-20.0, 60.0)),
            fresh_ice=draw(st.sampled_from(["", "cube", "cold"])),
        )
    elif kind == "rinse":
        vessel.rinse(
            draw(st.sampled_from((SPIRIT, LEMON, SODA))),
            draw(st.floats(0.0, 20.0)),
            film_ml=draw(st.none() | st.floats(0.0, 10.0)),
            temperature_c=draw(st.none() | st.floats(-18.0, 60.0)),
        )
    elif kind == "carbonate":
        vessel.carbonate(
            draw(st.sampled_from(["bottle", "weak"])),
            over_kpa=draw(st.floats(0.0, 500.0)),
            co2_g_per_l=draw(st.none() | st.floats(0.0, 12.0)),
            at_c=draw(st.none() | st.floats(0.0, 20.0)),
            reached_pct=draw(st.none() | st.floats(10.0, 100.0)),
            opening_loss_pct=draw(st.none() | st.floats(0.0, 60.0)),
        )
    else:
        vessel.smoke()


def put_chill(draw: st.DrawFn, vessel: Vessel) -> None:
    weighed = draw(st.sampled_from([None, None, "melted_g", "final_g", "final_ml"]))
    fields = {} if weighed is None else {weighed: draw(st.floats(0.0, 90.0))}
    vessel.chill(
        draw(st.sampled_from([method.slug for method in METHODS])),
        ice=draw(st.sampled_from(["", "cubes", "crushed", "cold"])),
        ice_g=draw(st.none() | st.floats(0.0, 600.0)),
        ice_state=draw(st.sampled_from(list(IceState))),
        ice_c=draw(st.none() | st.floats(-30.0, 0.0)),
        vessel_c=draw(st.none() | st.floats(-18.0, 60.0)),
        by=draw(st.sampled_from(list(ChillBy))),
        duration_s=draw(st.none() | st.floats(0.0, 60.0)),
        end_c=draw(st.none() | st.floats(-8.0, 8.0)),
        **fields,
    )


def put_kitchen_step(draw: st.DrawFn, vessel: Vessel, kind: str) -> None:
    if kind == "infuse":
        vessel.infuse(
            draw(st.sampled_from((PEAR, EGG, LEMON, SALT, BUTTER))),
            draw(st.floats(0.0, 200.0)),
            water_given_pct=percents(draw),
            sugars_given_pct=percents(draw),
            acids_given_pct=percents(draw),
            salt_given_pct=percents(draw),
            solids_given_pct=percents(draw),
        )
    elif kind == "wash":
        vessel.wash(
            kind=draw(st.sampled_from(list(WashKind))),
            fat_held_pct=percents(draw),
            protein_held_pct=percents(draw),
            acids_held_pct=percents(draw),
        )
    elif kind == "muddle":
        vessel.muddle()
    elif kind == "brix":
        vessel.reduce(
            final_brix=draw(st.floats(1.0, 90.0)), ethanol_way=draw(st.sampled_from(["", "flamed"]))
        )
    elif kind == "adjust":
        goal = draw(st.sampled_from(list(Goal)))
        per = draw(st.sampled_from(list(Per)))
        items = draw(st.lists(st.sampled_from(ITEMS), min_size=1, max_size=3, unique=True))
        like = draw(st.none() | st.sampled_from((LEMON, SPIRIT, CORDIAL)))
        value = draw(st.floats(0.1, 60.0)) if like is None else None
        vessel.adjust(goal, value, *items, per=per, like_item_id=like)
    elif kind == "measured strain":
        vessel.strain(
            expected_pct=draw(st.floats(10.0, 100.0)),
            leftover_weighed_g=draw(st.none() | st.floats(0.0, 300.0)),
            measured_brix=draw(st.none() | st.floats(0.1, 60.0)),
            measured_acidity_pct=draw(st.none() | st.floats(0.01, 8.0)),
        )
    elif kind == "bought":
        vessel.add(PEAR, draw(st.floats(0.0, 300.0)), weight=Weight.BOUGHT)
    elif kind == "ferment":
        vessel.ferment(
            kind=draw(st.sampled_from(list(FermentKind))),
            gas_lost_g=draw(st.none() | st.floats(0.0, 20.0)),
            final_acidity_pct=draw(st.none() | st.floats(0.0, 3.0)),
            final_brix=draw(st.none() | st.floats(0.0, 30.0)),
            final_ph=draw(st.none() | st.floats(2.5, 5.0)),
        )
    else:
        quantity = draw(st.sampled_from(list(Measurable)))
        low, high = RANGES[quantity]
        vessel.measure(quantity, draw(st.floats(low, high)), gain=draw(st.floats(0.0, 1.0)))


RANGES = {
    Measurable.MASS: (1.0, 900.0),
    Measurable.VOLUME: (1.0, 900.0),
    Measurable.DENSITY: (0.8, 1.3),
    Measurable.BRIX: (0.0, 60.0),
    Measurable.PH: (2.0, 6.0),
    Measurable.ACIDITY: (0.0, 6.0),
    Measurable.STRENGTH: (0.0, 60.0),
}


@st.composite
def any_build(draw: st.DrawFn, kinds: Sequence[str] = ALL_KINDS) -> Build:
    """A build of any steps, in any order."""
    vessel = Vessel(1001)
    for _ in range(draw(st.integers(1, 4))):
        vessel.add(draw(st.sampled_from(ITEMS)), draw(st.floats(0.0, 500.0)))
    for _ in range(draw(st.integers(0, 6))):
        kind = draw(st.sampled_from(kinds))
        if kind in BAR_KINDS:
            put_bar_step(draw, vessel, kind)
        else:
            put_kitchen_step(draw, vessel, kind)
    return vessel.build(draw(st.sampled_from(list(BuildKind))))
