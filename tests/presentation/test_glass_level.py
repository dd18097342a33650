"""What stands in the glass, in words: over and under by how much, foam, layers, and what there is no glass for."""

from typing import Any

import pytest
from msgspec import structs

from tests.presentation.glass_house import (
    CREAM,
    DRINK,
    FLOAT_LINE,
    SHAKE,
    SYRUP,
    bar,
    sour,
    step,
    topped,
    with_drink,
)
from washline.engine.traced_ice import Layer
from washline.engine.workings import Workings
from washline.model.amount import millilitres
from washline.model.book import HouseBook
from washline.model.item import BuildKind
from washline.model.step import BarStrain, BarStrainWay, Chill, Top
from washline.presentation.glass_foam import foam_of, foaming_names
from washline.presentation.glass_ice import ice_in_glass, served_ice_words
from washline.presentation.glass_level import (
    Fill,
    GlassLevel,
    Served,
    glass_level,
    served_of,
    why_no_glass,
)


def served(length_ml: float | None, **fields: Any) -> Served:
    """A drink of a density of 1 with a wash line of 160 ml and no ice, but for what a test says."""
    usual: dict[str, Any] = {
        "length_ml": length_ml, "length_served_ml": length_ml, "chill_c": -2.0, "mass_g": length_ml,
        "wash_line_ml": 160.0, "ice_left_g": 0.0,
    }  # fmt: skip
    return Served(**{**usual, **fields})


def level_of(book: HouseBook, at: Served) -> GlassLevel:
    level = glass_level(book, book.builds[DRINK], at)
    assert level is not None
    return level


def lined(book: HouseBook) -> HouseBook:
    """The drink with a wash line of its own, so that the glass's usual fill does not count."""
    return with_drink(book, wash_line_ml=160.0)


@pytest.mark.parametrize(
    ("length_ml", "fill", "words"),
    [
        (160.0, Fill.RIGHT, "Right: at the wash line."),
        (153.0, Fill.RIGHT, "Right: 7 ml under the wash line."),
        (165.0, Fill.RIGHT, "Right: 5 ml over the wash line."),
        (180.0, Fill.OVER_LINE, "Overfull: 20 ml over the wash line."),
        (120.0, Fill.UNDER, "Underfull: 40 ml under the wash line."),
        (212.0, Fill.OVER_BRIM, "Overfull: 12 ml more than the glass holds to its brim."),
        (0.0, Fill.NOT_KNOWN, "Nothing is poured yet. Add a first line in the build."),
    ],
)
def test_over_and_under_are_said_with_by_how_much(length_ml: float, fill: Fill, words: str) -> None:
    level = level_of(lined(bar()), served(length_ml))
    assert (level.fill, level.words.replace("\u202f", " ")) == (fill, words)


def test_a_short_drink_in_a_wide_glass_is_not_underfull_while_it_holds_its_usual_fill() -> None:
    level = level_of(bar(), served(90.0))
    assert level.fill is Fill.RIGHT
    assert level.words.replace("\u202f", " ") == "Right: 70 ml under the wash line."


def test_less_than_the_glass_usually_holds_is_underfull() -> None:
    words = level_of(bar(), served(60.0)).words.replace("\u202f", " ")
    assert words == "Underfull: 100 ml under the wash line, 40 ml under what this glass usually holds."


def test_an_unknown_volume_is_never_an_empty_glass() -> None:
    level = level_of(bar(), served(None, why="the gin is gone"))
    assert level.fill is Fill.NOT_KNOWN
    assert level.words == "The level is not known, because a line cannot be computed: the gin is gone"
    assert next(fact for fact in level.facts if fact.key == "length").figure == "?"


def test_ice_takes_room_by_archimedes() -> None:
    # A 125 ml cube has 114.6 g. In water it displaces its weight, 114.6 ml, where it floats freely.
    book = with_drink(bar(), glass="rocks", ice="one 50 mm cube")
    level = level_of(book, served(185.4, ice_left_g=114.6))
    assert level.drawn.room_ml == pytest.approx(300.0 - 114.6, abs=0.5)
    over = level_of(book, served(195.4, ice_left_g=114.6))
    assert over.words.replace("\u202f", " ") == "Overfull: 10 ml more than the glass holds beside its ice."


def test_what_is_shaken_with_egg_white_foams_and_the_foam_counts_to_the_wash_line() -> None:
    book = lined(sour(bar()))
    level = level_of(book, served(150.0))
    assert level.drawn.foam_ml == pytest.approx(30.0)
    assert level.words.replace("\u202f", " ") == "Overfull: 20 ml over the wash line with its foam."
    fact = next(fact for fact in level.facts if fact.key == "foam")
    assert fact.note.replace("\u202f", " ") == "20 % of the liquid: egg white, shaken"


def test_foam_that_the_brim_does_not_hold_is_overfull_with_its_foam() -> None:
    words = level_of(lined(sour(bar())), served(180.0)).words.replace("\u202f", " ")
    assert words == "Overfull with its foam: 16 ml more than the glass holds to its brim."


def test_what_foams_but_is_only_stirred_has_no_foam() -> None:
    book = sour(bar())
    steps = book.builds[DRINK].steps
    stirred = with_drink(book, steps=(*steps[:-1], step(Chill, SHAKE, method="stir", melted_g=20.0)))
    assert foaming_names(stirred, stirred.builds[DRINK]) == ()
    assert foaming_names(book, book.builds[DRINK]) == ("egg white",)


def test_a_dry_shake_foams_too() -> None:
    book = sour(bar())
    dry = with_drink(book, steps=(*book.builds[DRINK].steps[:-1], step(Chill, SHAKE, method="dry-shake")))
    assert foaming_names(dry, dry.builds[DRINK]) == ("egg white",)


def test_the_foam_set_for_a_drink_wins() -> None:
    book = with_drink(sour(bar()), foam_ml=12.0)
    foam = foam_of(book, book.builds[DRINK], 150.0)
    assert (foam.ml, foam.words) == (12.0, "as set for this drink")


def test_the_head_of_a_fizzy_drink_is_left_free_above_its_wash_line() -> None:
    book = topped(bar())
    foam = foam_of(book, book.builds[DRINK], 140.0)
    assert (foam.ml, foam.has_room) == (5.0, True)
    assert level_of(book, served(160.0)).words == "Right: at the wash line."


def layered(item_id: int) -> HouseBook:
    float_ = step(Top, FLOAT_LINE, item_id=item_id, amount=millilitres(20.0), is_layer=True)
    book = bar()
    return with_drink(book, steps=(*book.builds[DRINK].steps, float_))


def test_a_heavy_layer_on_a_light_drink_will_sink() -> None:
    # 80 ml of the drink weigh 76.4 - 26.4 = 76 g below the syrup: 0.95 g/ml under 1.32.
    layer = Layer(FLOAT_LINE, 26.4, 20.0, 1.32)
    level = level_of(layered(SYRUP), served(100.0, mass_g=102.4, layers=(layer,)))
    assert [words.replace("\u202f", " ") for words in level.sinks] == [
        "heavy syrup will sink: it is heavier than what it lies on, 1.320 on 0.950 g/ml."
    ]
    assert "will sink" in level.spoken
    assert level.drawn.floats_ml == ()


def test_a_light_layer_floats_and_is_named() -> None:
    layer = Layer(FLOAT_LINE, 19.0, 20.0, 0.95)
    level = level_of(layered(CREAM), served(100.0, mass_g=103.0, layers=(layer,)))
    assert (level.sinks, level.layer_names) == ((), ("cream",))
    assert level.drawn.floats_ml == (20.0,)
    assert level.drawn.float_bottoms_mm[0] < level.drawn.surface_mm


def test_a_layer_as_heavy_as_the_drink_will_mix() -> None:
    layer = Layer(FLOAT_LINE, 20.0, 20.0, 1.0)
    level = level_of(layered(CREAM), served(100.0, mass_g=100.0, layers=(layer,)))
    assert level.sinks[0].startswith("cream will mix: nearly as heavy")


def test_a_part_has_no_glass_and_a_drink_without_one_is_told_to_choose() -> None:
    book = bar()
    drink = book.builds[DRINK]
    part = structs.replace(drink, kind=BuildKind.PART, name="pear cordial")
    bare = structs.replace(drink, glass=None)
    assert why_no_glass(book, None) == "No drink or part is open."
    assert why_no_glass(book, part).startswith("pear cordial is a house-made part")
    assert why_no_glass(book, bare).startswith("No glass is chosen for Test drink. Choose one below")
    assert glass_level(book, bare, served(100.0)) is None
    assert why_no_glass(book, drink) == ""


def test_the_ice_over_which_it_is_strained_is_the_ice_in_the_glass() -> None:
    book = with_drink(bar(), glass="rocks")
    assert served_ice_words(book, book.builds[DRINK]) == "one 50 mm cube"
    fresh = step(BarStrain, 210, fresh_ice="crushed", fresh_ice_g=150.0)
    strained = with_drink(book, steps=(*book.builds[DRINK].steps, fresh))
    assert served_ice_words(strained, strained.builds[DRINK]) == "crushed"


def test_ice_that_is_swizzled_stays_in_the_glass_and_ice_that_is_stirred_does_not() -> None:
    book = with_drink(bar(), glass="rocks")
    for method, words in (("swizzle", "crushed"), ("stir", "one 50 mm cube")):
        built = with_drink(book, steps=(step(Chill, SHAKE, method=method, ice="crushed"),))
        assert served_ice_words(built, built.builds[DRINK]) == words


def test_a_drink_poured_with_its_ice_keeps_the_ice_of_its_shake_and_a_strained_one_does_not() -> None:
    shake = step(Chill, SHAKE, method="shake", ice="cubes", ice_g=200.0)
    for way, words in ((BarStrainWay.UNSTRAINED, "cubes"), (BarStrainWay.STRAIN, "")):
        built = with_drink(bar(), steps=(shake, step(BarStrain, 210, way=way)))
        assert served_ice_words(built, built.builds[DRINK]) == words


@pytest.mark.parametrize(
    ("words", "kind", "edge_mm"),
    [
        ("Crushed", "crushed", 8.0),
        ("spear", "spear", 36.0),
        ("cubes 25 mm", "cubes", 25.0),
        ("", "cubes", 30.0),
    ],
)
def test_the_houses_ice_is_drawn_as_it_is(words: str, kind: str, edge_mm: float) -> None:
    drawn = ice_in_glass(bar(), words, 130.0)
    assert drawn is not None
    assert (drawn.kind, drawn.edge_mm) == (kind, edge_mm)


def test_no_ice_left_is_no_ice() -> None:
    assert ice_in_glass(bar(), "cubes", 0.0) is None


def test_a_trace_tells_what_is_served() -> None:
    book = topped(bar())
    trace = Workings(book).trace(DRINK)
    at = served_of(trace)
    assert at.length_ml == pytest.approx(trace.result.value("length"))
    assert at.wash_line_ml == pytest.approx(0.8 * 200.0 - 5.0)
    assert at.ice_left_g == 0.0


def test_every_fact_is_read_aloud_with_its_figure() -> None:
    level = level_of(lined(bar()), served(153.0))
    spoken = level.spoken.replace("\u202f", " ")
    assert spoken.startswith("Right: 7 ml under the wash line. Liquid 153 ml, at 20 °C. As served 153 ml")
    assert "Ice left none, no ice in the glass when it is served" in spoken
