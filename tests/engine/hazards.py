"""One small house for every caution that follows from what is done: a part, and a drink that pours it."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from msgspec import structs

from tests.engine.kitchen import SALT, SOUR, SPIRIT, SUGAR, WATER, Vessel, pantry, raw
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.house import Vessel as HouseVessel
from washline.model.item import BuildKind, KeptAt
from washline.model.step import Carbonate, Ferment, FermentKind, Infuse, Rest, Smoke

PART = 101
HERB, JUICE, MILK, BUTTER, CABBAGE, SORBATE, VINEGAR, EGG = range(901, 909)

OWN = (
    raw(HERB, "lovage", {"water": 85.0, "fibre": 15.0}, form="solid", category="herb-spice-tea-coffee"),
    raw(
        JUICE,
        "quince juice",
        {"water": 88.0, "fructose": 10.0, "malic": 2.0},
        category="juice-fresh",
        ph_model="potassium",
        strong_cation_mmol_per_100g=5.0,
        typical_ph_low=3.1,
        typical_ph_high=3.5,
        house_days=3,
    ),
    raw(
        MILK,
        "milk, whole",
        {"water": 88.0, "lactose": 4.8, "protein": 3.3, "fat": 3.9},
        category="dairy-egg",
        allergens=("milk",),
        ph_model="none",
        typical_ph_low=6.5,
        typical_ph_high=6.8,
        house_days=5,
    ),
    raw(EGG, "egg white", {"water": 89.0, "protein": 11.0}, category="dairy-egg", allergens=("eggs",), ph_model="none"),
    raw(BUTTER, "butter", {"water": 16.0, "fat": 84.0}, form="solid", allergens=("milk",)),
    raw(CABBAGE, "cabbage", {"water": 90.0, "glucose": 4.0, "insoluble": 6.0}, form="solid", category="vegetable"),
    raw(SORBATE, "potassium sorbate", {"other_solids": 100.0}, form="powder"),
    raw(
        VINEGAR,
        "cider vinegar",
        {"water": 95.0, "acetic": 5.0},
        category="acid",
        ph_model="potassium",
        strong_cation_mmol_per_100g=1.0,
        typical_ph_low=2.8,
        typical_ph_high=3.3,
    ),
)  # fmt: skip


RATED = HouseVessel(
    slug="rated-bottle", name="Rated bottle", volume_ml=1000.0, fill_ml=900.0, rated_kpa=800.0
)


class Bench(Vessel):
    """Writes a part's steps down, those of the bench too."""

    def infuse(self, item_id: int, number: float, **fields: object) -> "Bench":
        """A solid in the liquid."""
        self.put(Infuse(item_id=item_id, amount=Amount(number, "g"), **self.base, **fields))  # type: ignore[arg-type]
        return self

    def ferment(self, kind: FermentKind, **fields: object) -> "Bench":
        """A ferment."""
        self.put(Ferment(kind=kind, **self.base, **fields))  # type: ignore[arg-type]
        return self

    def smoke(self, **fields: object) -> "Bench":
        """Smoke over what is in the vessel."""
        self.put(Smoke(**self.base, **fields))  # type: ignore[arg-type]
        return self

    def carbonate(self, **fields: object) -> "Bench":
        """Gas under pressure, in the house's rated bottle."""
        fields = {"vessel": RATED.slug, "over_kpa": 200.0, "at_c": 4.0, **fields}
        self.put(Carbonate(**self.base, **fields))  # type: ignore[arg-type]
        return self

    def rest(self, **fields: object) -> "Bench":
        """A wait."""
        self.put(Rest(**self.base, **fields))  # type: ignore[arg-type]
        return self


def bench() -> Bench:
    """A part with nothing in it yet."""
    return Bench(PART)


def cellar() -> HouseBook:
    """The pantry with what these houses need."""
    book = pantry()
    for one in OWN:
        book = book.with_raw(one)
    return replace(book, vessels={**book.vessels, RATED.slug: RATED})


def poured(part: Vessel, **fields: object) -> HouseBook:
    """A house with that part, and a drink that pours a little of it."""
    made = structs.replace(part.build(BuildKind.PART), name="house part", **fields)
    drink = structs.replace(Vessel(SOUR).add(PART, 20.0).add(WATER, 60.0).build(), name="Lantern")
    return cellar().with_build(made).with_build(drink)


def lactic(**fields: object) -> HouseBook:
    """A part fermented in 2 % of salt."""
    vessel = bench()
    vessel.add(CABBAGE, 500.0).add(WATER, 480.0).add(SALT, 20.0)
    return poured(vessel.ferment(FermentKind.LACTIC, gas_lost_g=2.0, final_acidity_pct=0.7, **fields))


def _with(fill: Callable[[Bench], object], **fields: object) -> Callable[[], HouseBook]:
    def make() -> HouseBook:
        vessel = bench()
        fill(vessel)
        return poured(vessel, **fields)

    return make


def _hot_drink() -> HouseBook:
    return cellar().with_build(
        structs.replace(Vessel(SOUR).add(WATER, 120.0, temperature_c=85.0).build(), name="Lantern")
    )


def _frozen_drink() -> HouseBook:
    book = cellar()
    spirit = structs.replace(book.raws[SPIRIT], kept_at=KeptAt.FREEZER)
    return book.with_raw(spirit).with_build(
        structs.replace(Vessel(SOUR).add(SPIRIT, 45.0).build(), name="Lantern")
    )


SCENES: Mapping[str, Callable[[], HouseBook]] = {
    "low-acid-infusion": _with(lambda one: one.add(WATER, 500.0) and one.infuse(HERB, 20.0)),
    "oil-infusion": _with(lambda one: one.add(BUTTER, 300.0) and one.infuse(HERB, 20.0)),
    "sealed-warm-infusion": _with(
        lambda one: (
            one.add(WATER, 500.0) and one.infuse(HERB, 20.0, words="in a sealed bag", temperature_high_c=55.0)
        )
    ),
    "ferment-salt": lactic,
    "ferment-ph": lactic,
    "ferment-gas": lactic,
    "ferment-alcohol": lactic,
    "raw-juice": _with(lambda one: one.add(JUICE, 500.0).add(SUGAR, 100.0)),
    "raw-milk": _with(lambda one: one.add(MILK, 500.0).add(SUGAR, 100.0)),
    "raw-egg": _with(lambda one: one.add(EGG, 100.0)),
    "spirit-near-heat": _with(lambda one: one.add(SPIRIT, 500.0).heat(final_pct=90.0)),
    "cryogenic": _with(lambda one: one.add(WATER, 500.0) and one.rest(words="over dry ice")),
    "additive-limit": _with(lambda one: one.add(WATER, 999.0).add(SORBATE, 0.3)),
    "sub-zero-pour": _frozen_drink,
    "hot-scald": _hot_drink,
    "smoke-ventilation": _with(lambda one: one.add(WATER, 500.0) and one.smoke(words="oak smoke")),
    "pressure": _with(lambda one: one.add(WATER, 900.0) and one.carbonate()),
    "refermentation": _with(
        lambda one: one.add(JUICE, 300.0).add(SUGAR, 30.0).add(WATER, 500.0) and one.rest(words="in a bottle")
    ),
}
"""For each caution of ``engine.step_cautions`` a house whose drink, ``SOUR``, must show it."""
