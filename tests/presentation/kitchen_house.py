"""A kitchen for the tests of the steps by which a house makes its own: the small house with a part that has every one of
them. Compositions are round figures made up for these tests."""

from dataclasses import replace

from msgspec import structs

from tests.presentation.small_house import house, raw
from washline.model.amount import grams
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind, KeptAt, Leftover
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    Ferment,
    FermentKind,
    Goal,
    Heat,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Portion,
    Rest,
    Strain,
    Wash,
    WashKind,
    Weight,
)

WATER, BAY, CITRIC, SALT, BUTTER, LIME, SPIRIT, JUICE = range(40, 48)
KITCHEN, SPENT_BAY = 60, 61
(BASE_LINE, PRODUCE_LINE, INFUSING, MUDDLING, WASHING, HEATING, RESTING_BAY, STRAINING, MEASURING, ADJUSTING,
 FERMENTING) = range(300, 311)  # fmt: skip


def kitchen() -> HouseBook:
    """The small house, a few more raw ingredients and the part *kitchen part*."""
    cold = KeptAt.FRIDGE
    raws = [
        structs.replace(raw(WATER, "Water, still"), slug="water-still"),
        raw(BAY, "bay leaf, fresh", form="solid", glucose=2.0, fibre=30.0, insoluble=10.0, nacl=1.0),
        structs.replace(
            raw(CITRIC, "Citric acid, anhydrous", form="powder", citric=99.5), slug="citric-acid-anhydrous"
        ),
        structs.replace(raw(SALT, "Salt, fine", form="powder", nacl=99.0), slug="salt-table"),
        raw(BUTTER, "butter", form="solid", fat=82.0),
        raw(LIME, "lime juice", kept_at=cold, citric=5.8, sucrose=0.5, glucose=0.6, fructose=0.6),
        raw(SPIRIT, "neutral spirit", ethanol=94.0),
        raw(JUICE, "apple juice", kept_at=cold, fructose=6.0, glucose=2.5, sucrose=2.0, malic=0.5),
    ]
    book = house()
    book = replace(book, raws={**book.raws, **{one.id: one for one in raws}}, top_id=400)
    # One edible yield is enough: 0.90 of the pear.
    pear = next(one for one in book.raws.values() if one.name == "ripe pear")
    book = book.with_raw(structs.replace(pear, edible_yield=0.9, edible_yield_basis="edible"))
    book = book.with_leftover(Leftover(id=SPENT_BAY, build_id=KITCHEN, name="spent bay"))
    return replace(book.with_build(kitchen_part()), top_id=400)


def kitchen_part(*more: AnyStep) -> Build:
    """The part with every step of a kitchen, and more behind them."""

    def place(step_id: int) -> dict[str, int | float]:
        return {"id": step_id, "build_id": KITCHEN, "place": float(step_id)}

    return Build(
        id=KITCHEN, kind=BuildKind.PART, name="kitchen part", kept_at=KeptAt.FRIDGE, pour_ml=20.0,
        steps=(
            Add(**place(BASE_LINE), item_id=JUICE, amount=grams(1000.0)),
            Add(**place(PRODUCE_LINE), item_id=2, amount=grams(200.0), weight=Weight.BOUGHT),
            Infuse(**place(INFUSING), item_id=BAY, amount=grams(20.0), duration_s=172_800.0, temperature_low_c=20.0,
                   temperature_high_c=20.0, water_given_pct=55.0, salt_given_pct=60.0),
            Muddle(**place(MUDDLING), words="gently, 6 times"),
            Wash(**place(WASHING), kind=WashKind.FAT, duration_s=14_400.0),
            Heat(**place(HEATING), final_g=1150.0, duration_s=1200.0, words="simmer"),
            Rest(**place(RESTING_BAY), duration_s=600.0),
            Strain(**place(STRAINING), way="paper", weighed_g=905.0, expected_pct=85.0, low_pct=80.0, high_pct=90.0,
                   leftover_id=SPENT_BAY),
            Measurement(**place(MEASURING), quantity=Measurable.BRIX, value=12.0, instrument="refractometer",
                        uncertainty=0.2, gain=0.5),
            Adjust(**place(ADJUSTING), goal=Goal.ACIDITY, value=2.0,
                   portions=(Portion(CITRIC, 2.0), Portion(3, 3.0))),
            Ferment(**place(FERMENTING), kind=FermentKind.LACTIC, duration_s=518_400.0, gas_lost_g=1.0,
                    final_ph=3.5, temperature_low_c=18.0, temperature_high_c=20.0),
            *more,
        ),
    )  # fmt: skip
