"""House books of any size for the bench, made from the demo house: the same drinks whatever the machine."""

import random
from dataclasses import replace

from washline.exchange.demo import demo_house
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind
from washline.model.step import Add, AnyStep, Chill, Garnish, Rest, Top

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
