"""House books whose one drink rests on parts with every kind of step and every field filled in; all of it invented."""

from dataclasses import replace

from msgspec import structs

from washline.chemistry.components import COMPONENTS
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.house import Glass, Ice, JointCost, Measure, Method, MethodKind, Settings, Vessel
from washline.model.item import (
    Batch,
    BatchService,
    Build,
    BuildKind,
    KeptAt,
    Leftover,
    Making,
    Price,
    RawIngredient,
    Sign,
    StepYield,
)
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Blend,
    Carbonate,
    Chill,
    ChillBy,
    Dry,
    Ferment,
    FermentKind,
    Garnish,
    GarnishWay,
    Goal,
    Heat,
    IceState,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Note,
    Per,
    Portion,
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
    WashKind,
    Weight,
)
from washline.model.target import Aim, Target

RAW, TARGET, PART, LEAVINGS, HEEL, DRINK, TWIST = 1, 2, 10, 40, 41, 50, 70
BREW, BREW_STRAIN, CURD, MAKING = 80, 86, 92, 93


def raw_ingredient() -> RawIngredient:
    """A raw ingredient with every field at an unusual value."""
    return RawIngredient(
        id=RAW,
        slug="cider-dry-5",
        name="Cider, dry, 5.0 %",
        category="beer-cider",
        form="liquid",
        composition=tuple(None if name == "maltose" else 4.0 for name in COMPONENTS),
        density_g_per_ml=1.004,
        strength_pct_vol=5.0,
        co2_g_per_l=3.5,
        bitterness=1.5,
        strong_cation_mmol_per_100g=1.25,
        other_acid_name="succinic",
        ph_model="potassium",
        typical_ph_low=3.1,
        typical_ph_high=3.7,
        titratable_acidity_pct=0.5,
        soluble_solids_pct=6.5,
        season_months="9;10",
        sugar_uncertainty_pct=12.0,
        acid_uncertainty_pct=8.0,
        allergens=("sulphites", "unknown"),
        cautions=("trace-alcohol",),
        kept_at=KeptAt.ICE_WELL,
        drop_ml=0.05,
        dash_ml=0.9,
        piece_g=2.5,
        edible_yield=0.75,
        edible_yield_basis="juice",
        house_days=4,
        prices=(Price(3.5, "l", "2026-11-20", "farm gate"), Price(3.75, "l", "2026-11-21")),
        vegan="yes",
        vegetarian="yes",
        source="label",
        source_kind="common-practice",
        from_memory_fields="acids",
        note="cloudy",
    )


def part_steps() -> tuple[AnyStep, ...]:
    """Every kind of step that a part has, in an order that makes sense."""
    return (
        Add(id=11, build_id=PART, place=1.0, item_id=RAW, amount=Amount(1.5, "kg", typed="1½ kg"), temperature_c=80),
        Add(id=12, build_id=PART, place=2.0, item_id=RAW, amount=Amount(2.0, "parts", Basis.PARTS, (11,), "2 parts")),
        Blend(id=13, build_id=PART, place=2.5, words="low", duration_s=20.0),
        Rest(id=14, build_id=PART, place=3.0, duration_s=60.0, temperature_low_c=-18.0, temperature_high_c=4.0),
        Heat(id=15, build_id=PART, place=4.0, final_g=4000.0, ethanol_kept_pct=35.0),
        Reduce(id=16, build_id=PART, place=5.0, final_pct=50.0),
        Strain(id=17, build_id=PART, place=6.0, expected_pct=80.0, low_pct=70.0, high_pct=90.0, leftover_id=LEAVINGS),
        Take(id=18, build_id=PART, place=7.0, amount=Amount(50.0, "ml"), leftover_id=HEEL),
        Take(id=19, build_id=PART, place=8.0, amount=Amount(5.0, "%", Basis.PERCENT_OF_VESSEL)),
        Dry(id=20, build_id=PART, place=9.0, final_pct=90.0, left_out=True),
        Note(id=21, build_id=PART, place=10.0, words="½ jar, 4 °C"),
        Add(id=22, build_id=PART, place=11.0, item_id=RAW,
            amount=Amount(10.0, "%", Basis.PERCENT_OF_LINES, (11, 12, 17), "10 %")),
    )  # fmt: skip


def drink_steps(build_id: int, first_id: int) -> tuple[AnyStep, ...]:
    """Every kind of step that a drink has besides."""
    amounts = (Amount(2.0, "oz"), Amount(1.0, "l", Basis.TO_VOLUME), Amount(200.0, "g", Basis.TO_MASS))
    first, mark, mass = amounts
    return (
        Add(id=first_id, build_id=build_id, place=1.0, item_id=PART, amount=first),
        Add(id=first_id + 1, build_id=build_id, place=2.0, item_id=HEEL, amount=Amount(2.0, "dash")),
        Chill(id=first_id + 2, build_id=build_id, place=3.0, method="stir", ice="pebbles", ice_g=90.0, count=3.0,
              count_unit="turns", final_ml=120.0),
        Top(id=first_id + 3, build_id=build_id, place=4.0, item_id=RAW, amount=mark, temperature_c=2.0),
        Top(id=first_id + 4, build_id=build_id, place=5.0, item_id=RAW, amount=mass),
        Top(id=first_id + 5, build_id=build_id, place=6.0, item_id=RAW,
            amount=Amount(0.0, "ml", Basis.TO_WASH_LINE, (), "to the wash line")),
        Garnish(id=first_id + 6, build_id=build_id, place=7.0, item_id=LEAVINGS, amount=Amount(1.0, "piece"),
                in_liquid=True),
    )  # fmt: skip


def brew_steps() -> tuple[AnyStep, ...]:
    """The bench steps that version 2 of the format added, and new fields of older ones."""
    return (
        Add(id=81, build_id=BREW, place=1.0, item_id=RAW, amount=Amount(500.0, "g"), weight=Weight.BOUGHT, bought_g=510.5),
        Muddle(id=82, build_id=BREW, place=2.0, words="with a stick", duration_s=30.0),
        Infuse(
            id=83, build_id=BREW, place=3.0, item_id=RAW, amount=Amount(8.0, "%", Basis.PERCENT_OF_LINES, (81,), "8 %"),
            temperature_c=60.0, weight=Weight.TRIMMED, bought_g=44.0, duration_s=900.0, water_given_pct=10.0,
            sugars_given_pct=60.0, acids_given_pct=70.0, salt_given_pct=0.0, solids_given_pct=5.0, given_spread_pct=20.0,
        ),
        Wash(id=84, build_id=BREW, place=4.0, kind=WashKind.MILK, fat_held_pct=95.0, protein_held_pct=82.0,
             acids_held_pct=2.0),
        Rest(id=85, build_id=BREW, place=5.0, duration_s=3600.0),
        Strain(id=BREW_STRAIN, build_id=BREW, place=6.0, way="milk", weighed_g=430.0, leftover_id=CURD, measured_brix=9.5,
               measured_acidity_pct=0.8),
        Ferment(id=87, build_id=BREW, place=7.0, kind=FermentKind.YEAST, gas_lost_g=4.5, final_acidity_pct=0.9,
                final_brix=3.5, final_ph=3.4, discard_above_ph=4.2, discard_on_day=3.0),
        Adjust(id=88, build_id=BREW, place=8.0, goal=Goal.ACIDITY, value=6.0, per=Per.VOLUME,
               portions=(Portion(RAW, 2.0), Portion(HEEL, 1.0))),
        Adjust(id=89, build_id=BREW, place=9.0, goal=Goal.BRIX, like_item_id=PART, portions=(Portion(RAW),)),
        Measurement(id=90, build_id=BREW, place=10.0, quantity=Measurable.PH, value=3.31, instrument="meter",
                    uncertainty=0.05, gain=0.75),
        Reduce(id=91, build_id=BREW, place=11.0, final_brix=30.0, ethanol_way="simmered"),
    )  # fmt: skip


def bar_steps() -> tuple[AnyStep, ...]:
    """The steps at the bar that version 3 of the format added."""
    return (
        Rinse(id=101, build_id=DRINK, place=8.0, item_id=RAW, amount=Amount(10.0, "ml", heft=Heft.SCANT), film_ml=1.25,
              temperature_c=-18.0),
        Chill(id=102, build_id=DRINK, place=9.0, method="stir", ice="pebbles", ice_state=IceState.WET, ice_c=-2.5,
              vessel_c=20.0, by=ChillBy.BALANCE, end_c=-1.5),
        BarStrain(id=103, build_id=DRINK, place=10.0, way=BarStrainWay.FINE, held_back_ml=3.5, fresh_ice="one clear pebble",
                  fresh_ice_g=115.0, vessel_c=4.0, duration_s=5.0),
        Smoke(id=104, build_id=DRINK, place=11.0, words="under a cloche", duration_s=20.0),
        Carbonate(id=105, build_id=DRINK, place=12.0, vessel="bottle", over_kpa=220.0, at_c=2.0, co2_g_per_l=7.0,
                  reached_pct=92.5, fills=3.0, warmest_c=30.0, opening_loss_pct=8.0),
        Top(id=106, build_id=DRINK, place=13.0, item_id=RAW, amount=Amount(15.0, "ml", heft=Heft.HEAVY), is_layer=True),
        Garnish(id=107, build_id=DRINK, place=14.0, item_id=LEAVINGS, amount=Amount(1.0, "piece"), way=GarnishWay.EXPRESS,
                stays_g=0.05),
    )  # fmt: skip


def house() -> HouseBook:
    """The house book of version 3: the second one, and all that was added at the bar."""
    book = second_house()
    drink = book.builds[DRINK]
    batch = Batch(
        serves=20.0, vessel="jar", vessel_count=18.5, service=BatchService.CARBONATED, citrus_at_service=True,
        fizz_at_service=False, salt_pct=70.0, bitters_pct=55.5, round_g=0.5,
    )  # fmt: skip
    drink = structs.replace(
        drink, steps=(*drink.steps, *bar_steps()), fizz_loss_pct=20.0, foam_ml=12.5, batch=batch
    )
    stir = structs.replace(
        book.methods["stir"], kind=MethodKind.COLD_STORE, published="stirred", approach=0.85, tau_s=12.5, core=0.5,
        ice_g_per_ml=1.9, surface_water_pct=2.5, vessel_j_per_k=98.5, vessel_is_cold=False, kept_at=KeptAt.FREEZER,
    )  # fmt: skip
    pebble = Ice(
        slug="pebble", name="Pebble", pace=2.5, temperature_c=-0.5, surface_water_pct=1.0, wet_pct=8.0, edge_mm=10.0,
        piece_g=1.5, source="measured", source_kind="common-practice", note="from the machine",
    )  # fmt: skip
    bottle = Vessel(
        slug="bottle", name="Bottle", volume_ml=212.0, fill_ml=180.0, rated_kpa=600.0, source="its maker",
        source_kind="published", note="crown cap",
    )  # fmt: skip
    jar = Vessel(slug="jar", name="Jar", volume_ml=530.0)
    settings = structs.replace(
        book.settings, foam_allowance_ml=6.0, egg_foam_pct=15.0, glass_w_per_k=0.5, glass_j_per_k=60.0,
        rinse_film_ml=2.0, scant_ml=2.0,
        heavy_ml=3.0, warmest_c=28.0,
    )  # fmt: skip
    return replace(
        book.with_build(drink).with_raw(structs.replace(book.raws[RAW], foams=True)).with_settings(settings),
        methods={"stir": stir},
        ices={"pebble": pebble},
        vessels={"bottle": bottle, "jar": jar},
    )


def second_house() -> HouseBook:
    """The house book of version 2: the first one, and a part with all that was added, which the drink takes in."""
    book = first_house()
    brew = Build(
        id=BREW, kind=BuildKind.PART, name="milk brew", steps=brew_steps(), may_contain=("celery", "unknown"),
        acts_as_id=RAW, value_per_kg=12.5, keeps_by="frozen in cubes", price=4.5, labour_min=25.0, waste_pct=3.0,
    )  # fmt: skip
    curd = Leftover(
        id=CURD,
        build_id=BREW,
        name="curd",
        bitterness=3.5,
        acts_as_id=RAW,
        value_per_kg=1.25,
        may_contain=("nuts",),
    )
    raw = structs.replace(book.raws[RAW], may_contain=("sesame",))
    pour = Add(id=94, build_id=DRINK, place=2.5, item_id=BREW, amount=Amount(20.0, "ml"))
    drink = book.builds[DRINK]
    drink = structs.replace(drink, steps=(*drink.steps[:2], pour, *drink.steps[2:]), price=11.5)
    book = book.with_raw(raw).with_build(brew).with_leftover(curd).with_build(drink)
    for making_id, date, weighed_g in ((MAKING, "2026-11-02", 425.5), (MAKING + 2, "2026-11-16", 431.0)):
        yields = (StepYield(BREW_STRAIN, 552.0, weighed_g),)
        book = book.with_making(Making(id=making_id, build_id=BREW, date=date, yields=yields, note="cloudy"))
    return book.with_settings(structs.replace(book.settings, joint_cost=JointCost.VALUE))


def first_house() -> HouseBook:
    """The house book that version 1 of the format could say; its top id is that of its last step."""
    part = Build(
        id=PART, kind=BuildKind.PART, name="fennel cider syrup", note="two jars", steps=part_steps(),
        kept_at=KeptAt.FREEZER, house_days=12, bitterness=2.0, drop_ml=0.06, dash_ml=0.7, piece_g=3.0, pour_ml=20.0,
        added_allergens=("celery",),
    )  # fmt: skip
    drink = Build(
        id=DRINK, kind=BuildKind.DRINK, name="Fennel Rye", note="slow", steps=drink_steps(DRINK, DRINK + 1), glass="rocks",
        ice="", ice_g=0.0, wash_line_ml=180.0, target_id=TARGET, tastes_like="fennel and rye bread",
        if_off=(Sign("flat", "open a fresh one"), Sign("thin", "")),
    )  # fmt: skip
    leftovers = (
        Leftover(
            id=LEAVINGS, build_id=PART, name="stewed fennel", kept_at=KeptAt.ROOM, house_days=1, piece_g=4.0
        ),
        Leftover(id=HEEL, build_id=PART, name="spent leaves"),
    )
    aims = (
        Aim("strength", 0.0, 0.0, 0.5, True, "law texts", "limit"),
        Aim("length", 1.0, 2.0, 3.0),
        Aim("chill", -5.0, -3.0, -1.0),
        Aim("salt", 0.01, 0.02, 0.03),
    )
    return replace(
        HouseBook(
            settings=Settings(house_name="The Saltmarsh Rooms", currency="GBP", oz_ml=28.4130625, room_c=19.0),
            raws={RAW: raw_ingredient()},
            builds={PART: part, DRINK: drink},
            leftovers={one.id: one for one in leftovers},
            targets={TARGET: Target(id=TARGET, name="stirred, spirit-forward", aims=aims)},
            glasses={"rocks": Glass(slug="rocks", name="Rocks glass, single", brim_ml=250.0, usual_fill_ml=180.0,
                                  ice="pebbles", ice_g=60.0,
                                  wash_line_ml=190.0, source="measured", note="thick")},
            methods={"stir": Method(slug="stir", name="Stir on ice, strain", ice="pebbles", ice_g=90.0,
                                     time_low_s=3.0,
                                     time_high_s=9.0, dilution_low_pct=10.0, dilution_high_pct=30.0, end_low_c=-4.0,
                                     end_high_c=1.0, source="measured", source_kind="common-practice", note="by hand")},
            measures={"dash": Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.5, high=1.0,
                                      source="measured", source_kind="common-practice", note="ours")},
        ),
        top_id=DRINK + 20,
    )  # fmt: skip
