"""House books of any size for the bench, made from the demo house: the same drinks whatever the machine."""

import random
from collections.abc import Callable
from dataclasses import replace

from washline.exchange.demo import demo_house
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    Blend,
    Chill,
    Dry,
    Ferment,
    FermentKind,
    Garnish,
    Goal,
    Heat,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Note,
    Portion,
    Reduce,
    Rest,
    Strain,
    Take,
    Top,
    Wash,
    WashKind,
)

COMMONEST = "lemon-juice"
SPIRITS = ("gin-dry-47", "calvados-40", "vermouth-dry-18", "sloe-gin-26", "sherry-fino-15", "whiskey-rye-50")


def item_by_slug(book: HouseBook, slug: str) -> int:
    """The id of a raw ingredient."""
    return next(raw.id for raw in book.raws.values() if raw.slug == slug)


def part_ids(book: HouseBook) -> tuple[int, ...]:
    """The house-made parts that are poured."""
    names = ("pear-sorrel cordial", "quince shrub", "peel sugar syrup", "rosehip syrup", "cold tea")
    return tuple(build.id for build in book.builds.values() if build.name in names)


class _Steps:
    """Steps of one drink, with ids from the book's sequence."""

    def __init__(self, build_id: int, first_id: int) -> None:
        self.build_id = build_id
        self.next_id = first_id
        self.steps: list[AnyStep] = []

    def base(self) -> dict[str, float | int]:
        base = {"id": self.next_id, "build_id": self.build_id, "place": float(len(self.steps) + 1)}
        self.next_id += 1
        return base

    def put(self, kind: type[AnyStep], /, **fields: object) -> int:
        """Puts a step at the end; its id."""
        base = self.base()
        self.steps.append(kind(**base, **fields))  # type: ignore[arg-type]
        return int(base["id"])

    def grams(self, item_id: int, grams: float) -> int:
        return self.put(Add, item_id=item_id, amount=Amount(grams, "g", typed=f"{grams:g} g"))

    def share(self, item_id: int, pct: float, of: int) -> int:
        return self.put(Add, item_id=item_id, amount=Amount(pct, "%", Basis.PERCENT_OF_LINES, (of,)))

    def add(self, item_id: int, ml: float) -> None:
        self.steps.append(Add(item_id=item_id, amount=Amount(ml, "ml", typed=f"{ml:g} ml"), **self.base()))  # type: ignore[arg-type]


def large_book(drinks: int, seed: int = 20260101) -> HouseBook:
    """The demo house with so many drinks more, each with lemon juice, a spirit and a house-made part."""
    book = demo_house()
    source = random.Random(seed)
    lemon, soda, leaf = (item_by_slug(book, slug) for slug in (COMMONEST, "soda-water", "sorrel-leaf"))
    spirits = [item_by_slug(book, slug) for slug in SPIRITS]
    parts = part_ids(book)
    glasses = ("coupe-large", "highball", "rocks-double")
    targets = list(book.targets)
    builds = dict(book.builds)
    next_id = book.top_id + 1
    for number in range(drinks):
        steps = _Steps(next_id, next_id + 1)
        for _ in range(source.randint(1, 2)):
            steps.add(source.choice(spirits), source.choice((15.0, 30.0, 45.0, 60.0)))
        steps.add(lemon, source.choice((10.0, 15.0, 22.5)))
        steps.add(source.choice(parts), source.choice((7.5, 15.0, 22.5)))
        method = source.choice(("shake", "stir", "throw"))
        steps.steps.append(Chill(method=method, **steps.base()))  # type: ignore[arg-type]
        if source.random() < 0.5:
            steps.steps.append(Top(item_id=soda, amount=Amount(60.0, "ml"), **steps.base()))  # type: ignore[arg-type]
        if source.random() < 0.5:
            steps.steps.append(Garnish(item_id=leaf, amount=Amount(0.6, "g"), **steps.base()))  # type: ignore[arg-type]
        builds[next_id] = Build(
            id=next_id,
            kind=BuildKind.DRINK,
            name=f"Drink {number + 1:,}",
            glass=source.choice(glasses),
            target_id=source.choice(targets),
            steps=tuple(steps.steps),
        )
        next_id = steps.next_id
    return replace(book, builds=builds, top_id=next_id)


def sixty_lines(book: HouseBook) -> tuple[HouseBook, int]:
    """The book with one drink of sixty lines, three of them house-made parts, and its id."""
    build_id = book.top_id + 1
    steps = _Steps(build_id, build_id + 1)
    source = random.Random(60)
    liquids = [raw.id for raw in book.raws.values() if raw.is_poured and raw.density_g_per_ml]
    for part in part_ids(book)[:3]:
        steps.add(part, 10.0)
    for item_id in source.sample(liquids, 52):
        steps.add(item_id, 2.5)
    for _ in range(3):
        steps.steps.append(Rest(duration_s=60.0, **steps.base()))  # type: ignore[arg-type]
    steps.steps.append(Chill(method="shake", **steps.base()))  # type: ignore[arg-type]
    steps.steps.append(
        Top(item_id=item_by_slug(book, "soda-water"), amount=Amount(60.0, "ml"), **steps.base())
    )  # type: ignore[arg-type]
    drink = Build(
        id=build_id,
        kind=BuildKind.DRINK,
        name="Sixty lines",
        glass="highball",
        target_id=next(iter(book.targets)),
        steps=tuple(steps.steps),
    )
    return book.with_build(drink), build_id


NESTED = ("Bench outer", "Bench middle", "Bench inner")
"""The parts of ``forty_steps``, each in the one before it."""


def forty_steps(book: HouseBook) -> HouseBook:
    """The book with a house-made part of forty steps of every kind, and three nested parts in it."""
    for name, fill in zip(reversed(NESTED), (_inner, _middle, _outer), strict=True):
        book = _with_part(book, name, fill)
    return _with_part(book, "Forty steps", _forty)


def _with_part(book: HouseBook, name: str, fill: Callable[["_Bench"], None]) -> HouseBook:
    build_id = book.top_id + 1
    bench = _Bench(book, build_id)
    fill(bench)
    return book.with_build(Build(id=build_id, kind=BuildKind.PART, name=name, steps=tuple(bench.steps.steps)))


class _Bench:
    """One part of the bench being written: items by slug or name."""

    def __init__(self, book: HouseBook, build_id: int) -> None:
        self.book = book
        self.steps = _Steps(build_id, build_id + 1)

    def item(self, name: str) -> int:
        """The raw ingredient of a slug, or the part of a name."""
        parts = {build.name: build.id for build in self.book.builds.values()}
        return parts.get(name) or item_by_slug(self.book, name)

    def infuse(self, slug: str, grams: float) -> None:
        """A solid that gives all of its water and half of the rest."""
        self.steps.put(
            Infuse, item_id=self.item(slug), amount=Amount(grams, "g"), duration_s=7200.0, water_given_pct=100.0,
            sugars_given_pct=50.0, acids_given_pct=50.0, salt_given_pct=50.0, solids_given_pct=20.0, given_spread_pct=20.0,
        )  # fmt: skip

    def strain(self, way: str, pct: float) -> None:
        """A strain that was not weighed, so that what is typed above it moves all below."""
        self.steps.put(Strain, way=way, expected_pct=pct, low_pct=pct - 5.0, high_pct=pct + 5.0)

    def adjust(self, goal: Goal, value: float, *slugs: str) -> None:
        """Brought to a reading."""
        portions = tuple(Portion(self.item(slug), 1.0 + place) for place, slug in enumerate(slugs))
        self.steps.put(Adjust, goal=goal, value=value, portions=portions)


def _inner(bench: _Bench) -> None:
    fruit = bench.steps.grams(bench.item("quince"), 800.0)
    bench.steps.share(bench.item("sugar-white"), 60.0, fruit)
    bench.steps.put(Rest, duration_s=86_400.0)
    bench.steps.share(bench.item("vinegar-cider"), 50.0, fruit)
    bench.infuse("bay-leaf-fresh", 5.0)
    bench.strain("press", 75.0)
    bench.steps.put(Measurement, quantity=Measurable.BRIX, value=37.0, uncertainty=0.2, gain=0.9)
    bench.adjust(Goal.BRIX, 45.0, "sugar-white")


def _middle(bench: _Bench) -> None:
    bench.steps.grams(bench.item("butter-unsalted"), 60.0)
    bench.steps.add(bench.item("whiskey-rye-50"), 700.0)
    bench.steps.grams(bench.item(NESTED[2]), 300.0)
    bench.steps.put(Wash, kind=WashKind.FAT, fat_held_pct=100.0, duration_s=14_400.0)
    bench.strain("paper", 88.0)
    bench.steps.put(Heat, final_pct=97.0, ethanol_kept_pct=90.0)
    bench.steps.put(Measurement, quantity=Measurable.ACIDITY, value=0.6, uncertainty=0.02, gain=0.8)
    bench.adjust(Goal.STRENGTH, 25.0, "water-still")


def _outer(bench: _Bench) -> None:
    bench.steps.grams(bench.item("apple-juice-tart"), 700.0)
    bench.steps.put(Add, item_id=bench.item("agar"), amount=Amount(0.2, "%", Basis.PERCENT_OF_VESSEL))
    bench.steps.add(bench.item(NESTED[1]), 250.0)
    bench.steps.put(Rest, duration_s=1200.0)
    bench.strain("agar", 82.0)
    bench.steps.put(Measurement, quantity=Measurable.BRIX, value=14.0, uncertainty=0.2, gain=0.7)
    bench.adjust(Goal.ACIDITY, 3.0, "citric-acid-anhydrous", "malic-acid")
    bench.steps.put(Take, amount=Amount(50.0, "g"))


def _forty(bench: _Bench) -> None:
    steps, source = bench.steps, random.Random(40)
    liquids = [raw.id for raw in bench.book.raws.values() if raw.is_poured and raw.density_g_per_ml]
    for name in NESTED:
        steps.add(bench.item(name), 100.0)
    for item_id in source.sample(liquids, 15):
        steps.add(item_id, 25.0)
    steps.put(Muddle)
    bench.infuse("samphire-fresh", 20.0)
    bench.infuse("tea-black-leaf", 4.0)
    steps.put(Rest, duration_s=3600.0)
    bench.strain("cloth", 94.0)
    steps.put(Ferment, kind=FermentKind.LACTIC, gas_lost_g=1.0, final_ph=3.5)
    steps.put(Measurement, quantity=Measurable.PH, value=3.4, uncertainty=0.1, gain=0.3)
    steps.grams(bench.item("milk-whole"), 100.0)
    steps.grams(bench.item("cream-35"), 20.0)
    steps.put(Wash, kind=WashKind.MILK, duration_s=2700.0)
    bench.strain("milk", 88.0)
    steps.put(Reduce, final_pct=80.0, ethanol_kept_pct=40.0)
    bench.adjust(Goal.BRIX, 40.0, "sugar-white")
    bench.adjust(Goal.ACIDITY, 2.5, "citric-acid-anhydrous", "malic-acid")
    bench.adjust(Goal.SALT, 0.5, "salt-table")
    steps.put(Measurement, quantity=Measurable.BRIX, value=39.5, uncertainty=0.2, gain=0.9)
    steps.put(Blend, duration_s=60.0)
    steps.put(Heat, final_pct=98.0, ethanol_way="simmered", duration_s=600.0)
    steps.put(Take, amount=Amount(20.0, "g"))
    steps.grams(bench.item("water-still"), 50.0)
    steps.put(Dry, final_pct=99.0, ethanol_kept_pct=100.0)
    steps.put(Note, words="bottled")
