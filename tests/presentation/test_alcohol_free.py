"""What brings alcohol to a drink and what is left of it. Ethanol weighs 0.78924 g/ml at 20 °C (OIML R 22)."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.presentation.small_house import (
    BITTERS,
    CORDIAL,
    GIN,
    OTHER,
    PEAR,
    SIGNAL,
    SODA,
    VERJUS,
    VERMOUTH,
    house,
    raw,
)
from washline.document.commands.alcohol_free import make_alcohol_free
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.amount import Amount, millilitres
from washline.model.book import HouseBook
from washline.model.house import Swap
from washline.model.item import Build
from washline.model.step import Add, AnyStep, Ferment, FermentKind, Garnish, GarnishWay
from washline.presentation.alcohol_free import (
    AlcoholLine,
    alcohol_lines,
    is_called_alcohol_free,
    may_replace,
    remainder,
    remembered,
    version_name,
)
from washline.presentation.strength_words import STRICTEST, legal_words

TINCTURE, STRONG = 90, 91


def place(step_id: int) -> dict[str, int | float]:
    return {"id": step_id, "build_id": OTHER, "place": float(step_id)}


def add(step_id: int, item_id: int, number: float, unit: str = "ml") -> Add:
    return Add(**place(step_id), item_id=item_id, amount=Amount(number, unit))


def drink(*steps: AnyStep) -> HouseBook:
    """The small house with its other drink made of these steps, and a spirit of 39.456 g ethanol in 100 ml (50 % vol)."""
    book = house()
    book = book.with_raw(raw(STRONG, "strong spirit, 50 %", ethanol=42.43))
    book = replace(book, top_id=500)
    return book.with_build(structs.replace(book.builds[OTHER], steps=steps))


def traced(*steps: AnyStep) -> Trace:
    return Workings(drink(*steps)).trace(OTHER)


def lines(*steps: AnyStep) -> tuple[AlcoholLine, ...]:
    return alcohol_lines(traced(*steps))


def test_only_what_brings_alcohol_is_listed_in_the_order_of_pouring() -> None:
    found = lines(
        add(201, SODA, 100.0), add(202, GIN, 30.0), add(203, VERJUS, 10.0), add(204, VERMOUTH, 20.0)
    )
    assert [line.item_id for line in found] == [GIN, VERMOUTH]


def test_an_item_in_two_lines_is_one_choice_with_both_amounts() -> None:
    found = lines(add(201, GIN, 30.0), add(202, SODA, 50.0), add(203, GIN, 10.0))
    assert [(line.step_ids, line.amount) for line in found] == [((201, 203), "30\u202fml + 10\u202fml")]


def test_a_line_left_out_brings_none() -> None:
    assert lines(structs.replace(add(201, GIN, 30.0), left_out=True), add(202, SODA, 50.0)) == ()


def test_garnish_rim_and_dashes_are_found_too_and_named_by_what_they_are() -> None:
    found = lines(
        add(201, SODA, 100.0),
        add(202, BITTERS, 2.0, "dash"),
        Garnish(**place(203), item_id=GIN, amount=millilitres(1.0)),
        Garnish(**place(204), item_id=VERMOUTH, amount=millilitres(1.0), way=GarnishWay.RIM),
    )
    assert [(line.role, line.is_on_glass) for line in found] == [
        ("poured", False), ("garnish", True), ("rim", True),
    ]  # fmt: skip
    assert found[0].amount == "2\u202fdashes"


def with_tincture(*more: AnyStep) -> HouseBook:
    book = drink(add(201, TINCTURE, 10.0), add(202, SODA, 90.0))
    part = Build(
        id=TINCTURE, kind=book.builds[CORDIAL].kind, name="bay tincture",
        steps=(Add(id=301, build_id=TINCTURE, place=1.0, item_id=GIN, amount=millilitres(100.0)), *more),
    )  # fmt: skip
    return replace(book.with_build(part), top_id=500)


def test_a_house_made_part_names_what_in_it_brings_the_alcohol() -> None:
    found = alcohol_lines(Workings(with_tincture()).trace(OTHER))
    assert len(found) == 1
    assert found[0].within == (house().raws[GIN].name.partition(",")[0].lower(),)


def test_a_part_that_ferments_names_its_ferment() -> None:
    ferment = Ferment(id=302, build_id=TINCTURE, place=2.0, kind=FermentKind.LACTIC)
    found = alcohol_lines(Workings(with_tincture(ferment)).trace(OTHER))
    assert found[0].within[-1] == "its ferment"


def test_what_nobody_knows_is_listed_and_is_no_trace() -> None:
    book = drink(add(201, SODA, 100.0))
    parts = tuple(None if value == 0.0 else 95.0 if value else value for value in book.raws[SODA].composition)
    found = alcohol_lines(
        Workings(book.with_raw(structs.replace(book.raws[SODA], composition=parts))).trace(OTHER)
    )
    assert [(line.item_id, line.is_at_least, line.ethanol_text()) for line in found] == [(SODA, True, "?")]


def test_what_is_left_adds_up_to_the_strength() -> None:
    trace = traced(add(201, STRONG, 10.0), add(202, GIN, 5.0), add(203, SODA, 185.0))
    left = remainder(trace)
    shares = [one.pct_vol or 0.0 for one in left.sources]
    assert sum(shares) == pytest.approx(trace.result.value("strength"), abs=1e-9)
    assert left.sources[0].name == "strong spirit"


def test_two_dashes_of_bitters_are_told_with_their_share() -> None:
    # PHYSICS.md j: 1.9 ml of 45 % vol in 200 ml are 0.43 % vol; the small house's bitters are as strong as they are.
    trace = traced(add(201, BITTERS, 1.9), add(202, SODA, 198.1))
    strength = trace.result.value("strength")
    assert strength is not None
    assert (
        remainder(trace)
        .text()
        .startswith(f"{strength:.1f}\u202f% vol left: {strength:.2f}\u202f% vol from the ")
    )


def test_what_lies_on_the_glass_is_told_in_grams_and_not_counted_in_the_drink() -> None:
    trace = traced(add(201, SODA, 100.0), Garnish(**place(202), item_id=STRONG, amount=millilitres(2.0)))
    left = remainder(trace)
    assert left.strength == "below 0.05\u202f% vol"
    # 2 ml of about 50 % vol: about 0.79 g.
    assert left.source_lines() == ("0.79\u202fg on the glass from the strong spirit",)


def test_a_drink_without_alcohol_still_says_that_traces_are_not_counted() -> None:
    told = remainder(traced(add(201, SODA, 100.0))).text()
    assert told.startswith("Below 0.05\u202f% vol left. Juices, ferments and extracts carry traces")
    assert told.endswith("Check your local rule.")
    assert "0.0 %" not in told


def test_a_version_brings_what_its_rules_leave() -> None:
    book = drink(add(201, STRONG, 30.0), add(202, GIN, 15.0), add(203, SODA, 100.0))
    version = make_alcohol_free(OTHER, [Swap(STRONG, VERJUS), Swap(GIN)], "version")(book)
    left = remainder(Workings(version).trace(book.top_id + 1))
    assert (left.strength, left.sources, left.is_known) == ("below 0.05\u202f% vol", (), True)


def test_the_rules_of_the_house_are_offered_where_they_apply() -> None:
    found = lines(add(201, GIN, 30.0))
    rules = (Swap(GIN, SODA, 0.5), Swap(VERMOUTH))
    assert remembered(rules, found) == {GIN: Swap(GIN, SODA, 0.5)}


def test_what_holds_no_alcohol_is_offered_first_and_no_drink_is() -> None:
    offered = [item.id for item in may_replace(house(), SIGNAL)]
    assert offered.index(SODA) < offered.index(GIN)
    assert offered.index(PEAR) < offered.index(VERMOUTH)
    assert SIGNAL not in offered
    assert OTHER not in offered


@pytest.mark.parametrize(
    ("law", "highest", "name"),
    [
        ("uk", 0.05, "Drift, alcohol-free"),
        (STRICTEST, 0.05, "Drift, low-alcohol"),
        ("us", 0.05, "Drift, less alcohol"),
    ],
)
def test_a_version_is_called_only_what_the_law_allows(law: str, highest: float, name: str) -> None:
    assert version_name("Drift", legal_words(law, highest)) == name


@pytest.mark.parametrize(("law", "is_wrong"), [("uk", False), (STRICTEST, True), ("us", True)])
def test_a_name_that_says_more_than_the_law_allows_is_found(law: str, is_wrong: bool) -> None:
    assert is_called_alcohol_free("Drift, alcohol free", legal_words(law, 0.05)) is is_wrong
    assert not is_called_alcohol_free("Drift", legal_words(law, 0.05))
