"""A small kitchen for tests of the engine: a few raw ingredients, glasses and methods, and a way to write builds down."""

from dataclasses import replace

from washline.chemistry.components import COMPONENTS
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.house import Glass, Ice, Measure, Method, MethodKind, Settings
from washline.model.house import Vessel as PressureVessel
from washline.model.item import Build, BuildKind, KeptAt, Leftover, Price, RawIngredient
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    Dry,
    Ferment,
    Garnish,
    Goal,
    Heat,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Portion,
    Reduce,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
)

WATER, SPIRIT, SUGAR, LEMON, SODA, PEAR, EGG, TEA, SALT, BITTERS, BUTTER, MILK = range(1, 13)
CORDIAL, SPENT, SOUR, LONG = 101, 102, 201, 202


def raw(item_id: int, name: str, grams: dict[str, float], **fields: object) -> RawIngredient:
    """A raw ingredient by its named components; what is not named is none."""
    composition = tuple(grams.get(key, 0.0) for key in COMPONENTS)
    basis: dict[str, object] = {"allergens": (), "prices": (Price(2.0, "kg", "2026-01-01"),)}
    return RawIngredient(id=item_id, slug=name, name=name, composition=composition, **{**basis, **fields})  # type: ignore[arg-type]


RAWS = (
    raw(WATER, "water", {"water": 100.0}),
    raw(SPIRIT, "spirit", {"water": 66.7, "ethanol": 33.3}, density_g_per_ml=0.94805, strength_pct_vol=40.0),
    raw(SUGAR, "sugar", {"sucrose": 100.0}, form="powder", sugar_uncertainty_pct=1.0),
    raw(
        LEMON,
        "lemon juice",
        {"water": 91.0, "citric": 5.0, "glucose": 1.2, "fructose": 1.3, "fibre": 0.5, "insoluble": 1.0},
        kept_at=KeptAt.FRIDGE,
        strong_cation_mmol_per_100g=3.0,
        sugar_uncertainty_pct=20.0,
        acid_uncertainty_pct=10.0,
    ),
    raw(SODA, "soda", {"water": 100.0}, density_g_per_ml=0.9982, co2_g_per_l=7.5, kept_at=KeptAt.FRIDGE),
    raw(
        PEAR,
        "pear",
        {
            "water": 84.0,
            "fructose": 6.5,
            "glucose": 2.8,
            "sucrose": 0.8,
            "malic": 0.2,
            "fibre": 0.7,
            "insoluble": 5.0,
        },
        form="solid",
        edible_yield=0.9,
        edible_yield_basis="edible",
        piece_g=180.0,
    ),
    raw(
        EGG,
        "egg white",
        {"water": 89.0, "protein": 10.9, "nacl": 0.1},
        allergens=("eggs",),
        cautions=("raw-egg",),
    ),
    RawIngredient(
        id=TEA,
        slug="tea",
        name="tea",
        form="solid",
        composition=tuple({"water": 7.0, "insoluble": 60.0, "ethanol": 0.0}.get(key) for key in COMPONENTS),
        allergens=("unknown",),
    ),
    raw(SALT, "salt", {"nacl": 99.0, "water": 1.0}, form="powder"),
    raw(
        BITTERS,
        "bitters",
        {"water": 62.0, "ethanol": 38.0},
        strength_pct_vol=45.0,
        bitterness=10.0,
        dash_ml=0.8,
    ),
    raw(BUTTER, "butter", {"water": 18.0, "protein": 1.0, "fat": 81.0}, form="solid", kept_at=KeptAt.FRIDGE),
    raw(
        MILK,
        "milk",
        {"water": 88.0, "lactose": 5.0, "protein": 3.2, "fat": 3.2, "other_solids": 0.6},
        kept_at=KeptAt.FRIDGE,
        ph_model="none",
    ),
)


def method(slug: str, kind: MethodKind = MethodKind.ON_ICE, **fields: object) -> Method:
    """A method with its ranges left out, which nothing is computed from."""
    ranges = dict.fromkeys(("dilution_low_pct", "dilution_high_pct", "end_low_c", "end_high_c"), 0.0)
    return Method(slug=slug, name=slug.capitalize(), kind=kind, **{**ranges, **fields})  # type: ignore[arg-type]


METHODS = (
    method("stir", published="stirred", approach=0.9, tau_s=13.0, core=0.5, vessel_j_per_k=100.0),
    method("shake", published="shaken", approach=1.0, tau_s=4.5, surface_water_pct=3.0, vessel_j_per_k=100.0),
    method("throw", approach=0.92, tau_s=10.0, vessel_j_per_k=100.0),
    method("swizzle", MethodKind.IN_GLASS, approach=0.95, tau_s=6.7),
    method(
        "build",
        MethodKind.IN_GLASS,
        approach=0.4,
        tau_s=20.0,
        core=0.5,
        vessel_j_per_k=100.0,
        vessel_is_cold=False,
    ),
    method("blend", MethodKind.ALL_IN, approach=1.0, tau_s=4.0, ice_g_per_ml=1.5),
    method("dry-shake", MethodKind.NO_ICE, vessel_j_per_k=100.0),
    method("freezer-batch", MethodKind.COLD_STORE, kept_at=KeptAt.FREEZER),
    method("fridge-batch", MethodKind.COLD_STORE, kept_at=KeptAt.FRIDGE),
    method("hot-build", MethodKind.HOT, vessel_j_per_k=120.0, vessel_is_cold=False),
    method("carbonate", MethodKind.OTHER),
)
ICES = (
    Ice(slug="cubes", name="30 mm cubes"),
    Ice(slug="cube", name="50 mm cube", pace=0.7, piece_g=115.0),
    Ice(slug="crushed", name="crushed", pace=3.0, wet_pct=8.0),
    Ice(slug="cold", name="ice of the deep freezer", temperature_c=-18.0),
)
VESSELS = (
    PressureVessel(slug="bottle", name="750 ml bottle", volume_ml=770.0, fill_ml=740.0, rated_kpa=600.0),
    PressureVessel(slug="weak", name="weak bottle", volume_ml=500.0, rated_kpa=150.0),
    PressureVessel(slug="jug", name="jug", volume_ml=1000.0),
)
MEASURES = (
    Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.4, high=1.1),
    Measure(slug="barspoon", name="Bar spoon", value=5.0, unit="ml", low=2.5, high=5.0),
    Measure(slug="drop-water", name="Drop", value=0.05, unit="ml", low=0.04, high=0.06),
    Measure(slug="drop-spirit", name="Drop", value=0.03, unit="ml", low=0.018, high=0.04),
    Measure(slug="drop-syrup", name="Drop", value=0.055, unit="ml", low=0.04, high=0.07),
)


class Vessel:
    """Writes the steps of one build down, in order."""

    def __init__(self, build_id: int) -> None:
        self.build_id = build_id
        self.steps: list[AnyStep] = []

    @property
    def base(self) -> dict[str, object]:
        place = len(self.steps) + 1
        return {"id": self.build_id * 1000 + place, "build_id": self.build_id, "place": float(place)}

    def put(self, step: AnyStep) -> "Vessel":
        self.steps.append(step)
        return self

    def add(self, item_id: int, number: float, unit: str = "g", **fields: object) -> "Vessel":
        return self.put(Add(item_id=item_id, amount=Amount(number, unit), **self.base, **fields))  # type: ignore[arg-type]

    def share(self, item_id: int, number: float, basis: Basis, *places: int) -> "Vessel":
        of = tuple(self.build_id * 1000 + place for place in places)
        unit = "g" if basis is Basis.TO_MASS else "%"
        return self.put(Add(item_id=item_id, amount=Amount(number, unit, basis, of), **self.base))  # type: ignore[arg-type]

    def top(
        self, item_id: int, number: float, unit: str = "ml", basis: Basis = Basis.ABSOLUTE, **fields: object
    ) -> "Vessel":
        return self.put(Top(item_id=item_id, amount=Amount(number, unit, basis), **self.base, **fields))  # type: ignore[arg-type]

    def strain(self, **fields: object) -> "Vessel":
        return self.put(Strain(**self.base, **fields))  # type: ignore[arg-type]

    def heat(self, **fields: object) -> "Vessel":
        return self.put(Heat(**self.base, **fields))  # type: ignore[arg-type]

    def dry(self, **fields: object) -> "Vessel":
        return self.put(Dry(**self.base, **fields))  # type: ignore[arg-type]

    def take(
        self, number: float, unit: str = "g", basis: Basis = Basis.ABSOLUTE, **fields: object
    ) -> "Vessel":
        return self.put(Take(amount=Amount(number, unit, basis), **self.base, **fields))  # type: ignore[arg-type]

    def reduce(self, **fields: object) -> "Vessel":
        return self.put(Reduce(**self.base, **fields))  # type: ignore[arg-type]

    def muddle(self) -> "Vessel":
        return self.put(Muddle(**self.base))  # type: ignore[arg-type]

    def infuse(self, item_id: int, number: float, unit: str = "g", **fields: object) -> "Vessel":
        return self.put(Infuse(item_id=item_id, amount=Amount(number, unit), **self.base, **fields))  # type: ignore[arg-type]

    def wash(self, **fields: object) -> "Vessel":
        return self.put(Wash(**self.base, **fields))  # type: ignore[arg-type]

    def ferment(self, **fields: object) -> "Vessel":
        return self.put(Ferment(**self.base, **fields))  # type: ignore[arg-type]

    def adjust(
        self, goal: Goal, value: float | None, *items: int | tuple[int, float], **fields: object
    ) -> "Vessel":
        portions = tuple(Portion(*item) if isinstance(item, tuple) else Portion(item) for item in items)
        return self.put(Adjust(goal=goal, value=value, portions=portions, **self.base, **fields))  # type: ignore[arg-type]

    def measure(self, quantity: Measurable, value: float, **fields: object) -> "Vessel":
        return self.put(Measurement(quantity=quantity, value=value, **self.base, **fields))  # type: ignore[arg-type]

    def chill(self, method: str, **fields: object) -> "Vessel":
        return self.put(Chill(method=method, **self.base, **fields))  # type: ignore[arg-type]

    def bar_strain(self, way: BarStrainWay = BarStrainWay.STRAIN, **fields: object) -> "Vessel":
        return self.put(BarStrain(way=way, **self.base, **fields))  # type: ignore[arg-type]

    def rinse(self, item_id: int, number: float, unit: str = "ml", **fields: object) -> "Vessel":
        return self.put(Rinse(item_id=item_id, amount=Amount(number, unit), **self.base, **fields))  # type: ignore[arg-type]

    def carbonate(self, vessel: str = "bottle", **fields: object) -> "Vessel":
        return self.put(Carbonate(vessel=vessel, **self.base, **fields))  # type: ignore[arg-type]

    def smoke(self) -> "Vessel":
        return self.put(Smoke(**self.base))  # type: ignore[arg-type]

    def garnish(self, item_id: int, number: float, unit: str = "g", **fields: object) -> "Vessel":
        return self.put(Garnish(item_id=item_id, amount=Amount(number, unit), **self.base, **fields))  # type: ignore[arg-type]

    def build(self, kind: BuildKind = BuildKind.DRINK, **fields: object) -> Build:
        basis: dict[str, object] = {"name": f"build {self.build_id}", "glass": "highball"}
        return Build(id=self.build_id, kind=kind, steps=tuple(self.steps), **{**basis, **fields})  # type: ignore[arg-type]


def pantry() -> HouseBook:
    """A house book with raw ingredients and no build."""
    return HouseBook(
        settings=Settings(),
        raws={entry.id: entry for entry in RAWS},
        glasses={"highball": Glass(slug="highball", name="Highball", brim_ml=350.0, ice_g=130.0)},
        methods={entry.slug: entry for entry in METHODS},
        ices={ice.slug: ice for ice in ICES},
        vessels={vessel.slug: vessel for vessel in VESSELS},
        measures={measure.slug: measure for measure in MEASURES},
        top_id=100,
    )


def cordial() -> Build:
    """Pear cordial: strained to a weighed yield, sweetened by a percent of it."""
    vessel = Vessel(CORDIAL).add(PEAR, 1000.0).add(LEMON, 50.0)
    vessel.strain(weighed_g=700.0, expected_pct=70.0, low_pct=60.0, high_pct=76.0, leftover_id=SPENT)
    return vessel.share(SUGAR, 30.0, Basis.PERCENT_OF_LINES, 3).build(BuildKind.PART)


def sour() -> Build:
    """A shaken sour with a house-made part."""
    vessel = Vessel(SOUR).add(SPIRIT, 45.0, "ml").add(LEMON, 22.5, "ml").add(CORDIAL, 22.5, "ml")
    return vessel.chill("shake").build()


def long_drink() -> Build:
    """A long drink with soda and a garnish."""
    vessel = Vessel(LONG).add(SPIRIT, 30.0, "ml").add(CORDIAL, 30.0, "ml").add(BITTERS, 1.0, "dash")
    return vessel.chill("throw", melted_g=20.0).top(SODA, 90.0).garnish(PEAR, 4.0).build()


def house() -> HouseBook:
    """The pantry with the cordial, its spent pear, the sour and the long drink."""
    book = pantry()
    for build in (cordial(), sour(), long_drink()):
        book = book.with_build(build)
    return book.with_leftover(Leftover(id=SPENT, build_id=CORDIAL, name="spent pear"))


def with_raw(book: HouseBook, item_id: int, **grams: float) -> HouseBook:
    """The book with some components of a raw ingredient changed."""
    old = book.raws[item_id]
    parts = dict(zip(COMPONENTS, old.composition, strict=True)) | grams
    new = RawIngredient(
        **{name: getattr(old, name) for name in old.__struct_fields__ if name != "composition"},
        composition=tuple(parts.values()),
    )
    return replace(book, raws={**book.raws, item_id: new})
