"""What is shown of a step of the bar, typed again, is the same step."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs

from tests.presentation.bar_house import ANISE, AT_THE_BAR, CREAM, ICES, PEEL, SALT, VESSELS, bar_house
from washline.model.amount import Amount, Heft
from washline.model.step import (
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    ChillBy,
    Garnish,
    GarnishWay,
    IceState,
    Rinse,
    Smoke,
    Top,
)
from washline.presentation.bar_lines import bar_line
from washline.presentation.house_words import house_words, ice_name
from washline.quantity.formatting import NUMBER_STYLES, NumberStyle
from washline.quantity.step_line import parse_step
from washline.quantity.typed_step import TypedStep
from washline.ui.build.place import Made, Place
from washline.ui.build.step_edits import made_step

BOOK = bar_house()
IDS = {"id": 0, "build_id": 0, "place": 0.0}

tenths = st.integers(1, 4000).map(lambda number: number / 10.0)
cold = st.integers(-300, 0).map(lambda number: number / 10.0)
degrees = st.integers(-300, 800).map(lambda number: number / 10.0)
seconds = st.one_of(
    st.integers(1, 119), st.integers(2, 60).map(lambda m: m * 60), st.integers(4, 48).map(lambda h: h * 1800)
).map(float)
percent = st.integers(1, 1000).map(lambda number: number / 10.0)
ices = st.sampled_from(["", *(ice_name(BOOK, ice.slug) for ice in ICES)])
styles = st.sampled_from([NUMBER_STYLES["en_GB"], NUMBER_STYLES["de_DE"], NUMBER_STYLES["fr_FR"]])
ml = st.builds(
    Amount, tenths, st.sampled_from(["ml", "oz"]), heft=st.sampled_from([Heft.EVEN, Heft.SCANT, Heft.HEAVY])
)
millilitres = st.builds(Amount, tenths, st.just("ml"))


def maybe(strategy: st.SearchStrategy[float]) -> st.SearchStrategy[float | None]:
    return st.one_of(st.none(), strategy)


@st.composite
def chills(draw: st.DrawFn) -> Chill:
    measured = draw(st.sampled_from(["", "melted_g", "final_g", "final_ml"]))
    count = draw(maybe(st.integers(1, 60).map(float)))
    low = draw(maybe(degrees))
    return Chill(
        **IDS,  # type: ignore[arg-type]
        method=draw(st.sampled_from(["stir", "shake", "dry-shake", "blend", "build"])),
        ice=draw(ices),
        ice_g=draw(maybe(tenths)),
        ice_state=draw(st.sampled_from(IceState)),
        ice_c=draw(maybe(cold)),
        vessel_c=draw(maybe(degrees)),
        by=draw(st.sampled_from(ChillBy)),
        count=count,
        count_unit="" if count is None else draw(st.sampled_from(["turns", "passes", "lift", "times round"])),
        end_c=draw(maybe(degrees)),
        duration_s=draw(maybe(seconds)),
        temperature_low_c=low,
        temperature_high_c=low,
        **({measured: draw(tenths)} if measured else {}),  # type: ignore[arg-type]
    )


@st.composite
def strains(draw: st.DrawFn) -> BarStrain:
    low = draw(maybe(degrees))
    return BarStrain(
        **IDS,  # type: ignore[arg-type]
        way=draw(st.sampled_from(BarStrainWay)),
        held_back_ml=draw(maybe(tenths)),
        fresh_ice=draw(ices),
        fresh_ice_g=draw(maybe(tenths)),
        vessel_c=draw(maybe(degrees)),
        duration_s=draw(maybe(seconds)),
        temperature_low_c=low,
        temperature_high_c=low,
        words=draw(st.sampled_from(["", "into a coupe from the fridge", "gently"])),
    )


rinses = st.builds(
    Rinse, **{key: st.just(value) for key, value in IDS.items()}, item_id=st.just(ANISE), amount=millilitres,
    film_ml=maybe(tenths), temperature_c=maybe(degrees),
)  # fmt: skip
floats = st.builds(
    Top, **{key: st.just(value) for key, value in IDS.items()}, item_id=st.just(CREAM), amount=ml,
    temperature_c=maybe(degrees), is_layer=st.just(True),
)  # fmt: skip
on_the_glass = st.builds(
    Garnish, **{key: st.just(value) for key, value in IDS.items()}, item_id=st.sampled_from([PEEL, SALT]),
    amount=st.one_of(st.builds(Amount, tenths, st.just("g")), st.just(Amount(1.0, "piece"))),
    way=st.sampled_from([GarnishWay.RIM, GarnishWay.EXPRESS]), stays_g=st.one_of(st.none(), st.just(0.0), tenths),
)  # fmt: skip
smokes = st.builds(
    Smoke, **{key: st.just(value) for key, value in IDS.items()}, words=st.sampled_from(["", "oak", "hay, covered"]),
    duration_s=maybe(seconds),
)  # fmt: skip
carbonatings = st.builds(
    Carbonate, **{key: st.just(value) for key, value in IDS.items()},
    vessel=st.sampled_from(["", *(vessel.slug for vessel in VESSELS)]),
    over_kpa=maybe(st.integers(0, 900).map(float)), at_c=maybe(degrees), co2_g_per_l=maybe(tenths),
    reached_pct=maybe(percent), fills=maybe(st.integers(1, 9).map(float)), warmest_c=maybe(degrees),
    opening_loss_pct=maybe(percent), duration_s=maybe(seconds),
)  # fmt: skip


def typed_again(step: AnyStep, style: NumberStyle) -> AnyStep:
    line = bar_line(step, BOOK, style)
    typed = parse_step(line, style, house_words(BOOK, is_drink=True))
    assert isinstance(typed, TypedStep), (line, typed)
    made = made_step(Place(BOOK, AT_THE_BAR, None, style), typed)
    assert isinstance(made, Made), (line, made)
    return made.step


def without_text(step: AnyStep) -> AnyStep:
    """The step without the text of its amount, which keeps what was typed."""
    amount = getattr(step, "amount", None)
    return step if amount is None else structs.replace(step, amount=structs.replace(amount, typed=""))


@given(
    st.one_of(chills(), strains(), rinses, floats, on_the_glass, smokes, carbonatings),
    styles,
)
def test_what_is_shown_typed_again_is_the_same_step(step: AnyStep, style: NumberStyle) -> None:
    again = without_text(typed_again(step, style))
    if isinstance(step, Carbonate) and isinstance(again, Carbonate) and step.over_kpa is not None:
        assert again.over_kpa is not None
        assert abs(again.over_kpa - step.over_kpa) < 1e-6
        again = structs.replace(again, over_kpa=step.over_kpa)
    assert again == step, bar_line(step, BOOK, style)


@given(st.one_of(chills(), strains(), rinses, floats, on_the_glass, carbonatings))
def test_what_was_understood_is_what_is_shown(step: AnyStep) -> None:
    style = NUMBER_STYLES["en_GB"]
    line = bar_line(step, BOOK, style)
    again = typed_again(step, style)
    assert bar_line(without_text(again), BOOK, style) == line


def test_ice_in_other_words_is_written_by_its_name() -> None:
    step = Chill(
        **IDS, method="build", ice="one fresh 50 mm cube", ice_g=115.0, words="over the cube, lift once"
    )  # type: ignore[arg-type]
    line = bar_line(step, BOOK)
    assert line == "build 115 g 50 mm cube, over the cube, lift once"
    again = typed_again(step, NUMBER_STYLES["en_GB"])
    assert isinstance(again, Chill)
    assert (again.ice, again.ice_g) == ("50 mm cube", 115.0)
    assert again.words.endswith("over the cube, lift once")


@pytest.mark.parametrize(
    "fields, line",
    [
        ({"vessel_c": 4.0}, "fine strain into a glass at 4 °C"),
        ({"vessel_c": -18.0, "fresh_ice": "50 mm cube"}, "fine strain over 50 mm cube, glass at −18 °C"),
        ({"vessel_c": 4.0, "words": "into a coupe"}, "fine strain, glass at 4 °C, into a coupe"),
        ({"vessel_c": 4.0, "held_back_ml": 3.0}, "fine strain into a glass at 4 °C, 3 ml held back"),
        ({}, "fine strain"),
    ],
)
def test_a_strain_says_how_cold_its_glass_is(fields: dict[str, Any], line: str) -> None:
    step = BarStrain(**IDS, way=BarStrainWay.FINE, **fields)  # type: ignore[arg-type]
    assert bar_line(step, BOOK).replace("\u202f", " ") == line


def test_words_of_a_chill_begin_with_its_method() -> None:
    place = Place(BOOK, AT_THE_BAR, None)
    typed = parse_step("stir gently 30 s", house=house_words(BOOK, is_drink=True))
    assert isinstance(typed, TypedStep)
    made = made_step(place, typed)
    assert isinstance(made, Made)
    assert made.step.words == "stir gently"
    assert made.meaning == "stir, 30 s, gently"


def test_an_ice_of_the_house_is_found_by_the_name_that_a_step_keeps() -> None:
    for ice in ICES:
        assert BOOK.ice_named(ice_name(BOOK, ice.slug)) == ice
    assert replace(BOOK, ices={}).ice_named("cubes") is None
