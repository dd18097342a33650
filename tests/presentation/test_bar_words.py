"""What rows, details and papers say of the steps of the bar. The figures are those of the engine on a round house; its
own tests hold them against handbooks."""

import re
from dataclasses import dataclass, replace

import pytest
from msgspec import structs

from tests.presentation.bar_house import (
    AT_THE_BAR,
    BOTTLED,
    CARBONATING,
    EXPRESSING,
    FLOATING,
    RIMMING,
    RINSING,
    SMOKING,
    STIRRING,
    STRAINING,
    VERMOUTH_LINE,
    bar_house,
    weighed,
    with_step,
)
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.step import (
    Carbonate,
    ChillBy,
    IceState,
)
from washline.presentation.bar_words import date_words, found_words, glass_words, pressure_words
from washline.presentation.build_rows import BuildRow, RowMaker
from washline.presentation.card_words import CardWords
from washline.presentation.clipboard import as_text
from washline.presentation.flow import flow_of
from washline.presentation.ledger_vessel import Fate, Origin, vessel_of
from washline.presentation.pour_view import PourUnit, pour_view
from washline.presentation.row_words import AmountState, RowKind
from washline.presentation.step_sentences import StepSentences
from washline.quantity.formatting import ENGLISH_STYLE

THIN = "\u202f"


def trace_of(book: HouseBook, build_id: int = AT_THE_BAR) -> Trace:
    return Workings(book).trace(build_id)


def rows_of(book: HouseBook, build_id: int = AT_THE_BAR) -> dict[int, BuildRow]:
    workings = Workings(book)
    rows = RowMaker(book, workings.users_of).rows(workings.trace(build_id))
    return {row.step_id: row for row in rows if row.step_id is not None}


def details_of_step(book: HouseBook, step_id: int, build_id: int = AT_THE_BAR) -> dict[str, BuildRow]:
    workings = Workings(book)
    rows = RowMaker(book, workings.users_of).details(workings.trace(build_id), (step_id,))
    return {row.detail.key: row for row in rows if row.detail is not None}


def changed(book: HouseBook, step_id: int, **fields: object) -> HouseBook:
    step = book.step(AT_THE_BAR, step_id)
    assert step is not None
    return with_step(book, structs.replace(step, **fields))


def plain(text: str) -> str:
    return text.replace(THIN, " ")


@dataclass(frozen=True)
class Still:
    """A meeting of drink and glass, in °C before and after."""

    from_c: float | None
    end_c: float | None


def found_in(book: HouseBook) -> str:
    chill = trace_of(book).step(STIRRING).chill
    assert chill is not None
    return plain(found_words(chill, ENGLISH_STYLE))


def test_every_step_of_the_bar_has_a_mark_of_its_own() -> None:
    kinds = {step_id: row.kind for step_id, row in rows_of(bar_house()).items()}
    assert kinds[RINSING] is RowKind.RINSE
    assert kinds[STRAINING] is RowKind.BAR_STRAIN
    assert kinds[FLOATING] is RowKind.FLOAT
    assert kinds[EXPRESSING] is RowKind.EXPRESS
    assert kinds[RIMMING] is RowKind.RIM
    assert kinds[SMOKING] is RowKind.SMOKE
    assert rows_of(bar_house(), BOTTLED)[CARBONATING].kind is RowKind.CARBONATE


def test_a_rinse_says_what_stays() -> None:
    row = rows_of(bar_house())[RINSING]
    assert (row.name, row.amount, row.unit) == ("anise spirit", "5", "ml")
    assert plain(row.note) == "1.5 ml stays, the rest is poured away"
    own = rows_of(changed(bar_house(), RINSING, film_ml=2.0))[RINSING]
    assert plain(own.note).startswith("2 ml stays")


def test_a_scant_pour_says_so_and_what_it_is() -> None:
    # 0.75 oz of 30 ml less the 2.5 ml that this house pours scant.
    row = rows_of(bar_house())[VERMOUTH_LINE]
    assert (row.amount, row.unit, row.edit_text) == ("scant 0.75", "oz", "scant 0.75 oz")
    assert plain(row.note).startswith("20 ml")


def test_a_chill_says_its_ice_and_where_it_ends() -> None:
    note = plain(rows_of(bar_house())[STIRRING].note)
    assert re.match(r"dilution \d+\.\d %, ends −\d+(\.\d)? °C, 180 g cubes, wet$", note), note


def test_what_was_weighed_stands_beside_what_is_computed() -> None:
    book = weighed(bar_house(), 27.6)
    assert plain(rows_of(book)[STIRRING].note).endswith("weighed 27.6 g, 180 g cubes, wet")
    assert plain(details_of_step(book, STIRRING)["weighed"].amount) == "27.6 g on 21 Nov 2026"


def test_a_weighing_of_another_step_is_not_told_here() -> None:
    book = weighed(bar_house(), 27.6)
    other = structs.replace(book.weighings[600], step_id=SMOKING)
    assert "weighed" not in rows_of(replace(book, weighings={600: other}))[STIRRING].note


def test_where_the_published_dilution_was_not_made_for_it_the_balance_counts_and_both_are_told() -> None:
    # Without its vermouth the drink has about 50 % vol before ice; the regression ends at 35.
    book = changed(changed(bar_house(), VERMOUTH_LINE, left_out=True), STIRRING, ice_state=IceState.USUAL)
    chill = trace_of(book).step(STIRRING).chill
    assert chill is not None
    assert chill.melted_g == pytest.approx(chill.balance_g)
    assert re.match(r"melts \d+\.\d g by heat balance; published \d+\.\d; ends −\d", found_in(book)), (
        found_in(book)
    )


def test_a_balance_that_was_asked_for_says_so() -> None:
    told = found_in(changed(bar_house(), STIRRING, by=ChillBy.BALANCE, ice_state=IceState.USUAL))
    assert re.match(r"melts \d+\.\d g by heat balance; ", told), told


def test_melt_as_published_is_told_with_the_balance_beside_it() -> None:
    told = found_in(changed(bar_house(), STIRRING, by=ChillBy.PUBLISHED, ice_state=IceState.USUAL))
    assert re.match(r"melts \d+\.\d g as published; heat balance \d+\.\d; ends −", told), told


def test_a_weighed_melt_says_so_and_keeps_the_computed_ones_beside_it() -> None:
    told = found_in(changed(bar_house(), STIRRING, melted_g=24.0, ice_state=IceState.USUAL))
    assert re.match(r"24\.0 g melted, as weighed; heat balance \d+\.\d", told), told


def test_a_dry_shake_melts_nothing() -> None:
    assert found_in(changed(bar_house(), STIRRING, method="dry-shake", ice="", ice_g=None)).startswith(
        "nothing melts"
    )


def test_ice_that_the_house_does_not_have_is_said() -> None:
    details = details_of_step(changed(bar_house(), STIRRING, ice="hail"), STIRRING)
    assert details["ice"].remark == "no ice of this house has this name"


def test_every_field_of_a_chill_can_be_reached() -> None:
    details = details_of_step(bar_house(), STIRRING)
    reachable = {key for key, row in details.items() if row.has_amount}
    assert reachable >= {
        "method", "ice", "ice_g", "ice_state", "ice_c", "vessel_c", "by", "melted_g", "final_g", "final_ml", "end_c",
        "duration_s", "temperature", "words",
    }  # fmt: skip
    assert details["method"].detail is not None
    assert "Shake on ice, strain" in details["method"].detail.choices
    assert details["ice"].detail is not None
    assert details["ice"].detail.choices[:3] == ("as usual for the method", "cubes", "50 mm cube")
    assert not details["found"].has_amount


@pytest.mark.parametrize(
    "step_id, keys",
    [
        (
            STRAINING,
            {"strain_way", "held_back_ml", "fresh_ice", "fresh_ice_g", "vessel_c", "words", "duration_s"},
        ),
        (RINSING, {"film_ml", "temperature_c", "words"}),
        (FLOATING, {"is_layer", "temperature_c", "words"}),
        (EXPRESSING, {"garnish_way", "stays_g", "words"}),
    ],
)
def test_every_field_at_the_glass_can_be_reached(step_id: int, keys: set[str]) -> None:
    details = details_of_step(bar_house(), step_id)
    assert {key for key, row in details.items() if row.has_amount} >= keys


def test_every_field_of_a_carbonating_can_be_reached_and_its_pressure_is_told() -> None:
    details = details_of_step(bar_house(), CARBONATING, BOTTLED)
    assert {key for key, row in details.items() if row.has_amount} >= {
        "vessel", "co2_g_per_l", "over_kpa", "at_c", "fills", "reached_pct", "warmest_c", "opening_loss_pct",
        "duration_s", "words",
    }  # fmt: skip
    assert plain(details["vessel"].remark) == "rated for 6 bar over"
    told = plain(details["found"].amount)
    assert re.fullmatch(
        r"needs \d\.\d+ bar over at 2 °C; \d\.\d+ bar over at 25 °C in the closed vessel, rated for 6 bar",
        told,
    ), told


def test_a_level_is_shown_as_typed_and_a_pressure_in_bar() -> None:
    book = bar_house()
    row = rows_of(book, BOTTLED)[CARBONATING]
    assert (row.amount, row.unit, row.edit_text) == ("6", "g/l", "6 g/l")
    assert plain(row.note).endswith("over at 2 °C, in crown-cap bottle, 200 ml, 3 fills")
    bottled = book.builds[BOTTLED]
    step = bottled.steps[1]
    assert isinstance(step, Carbonate)
    by_pressure = structs.replace(step, co2_g_per_l=None, over_kpa=220.0)
    other = book.with_build(structs.replace(bottled, steps=(bottled.steps[0], by_pressure)))
    row = rows_of(other, BOTTLED)[CARBONATING]
    assert (row.amount, row.unit) == ("2.2", "bar over")
    assert re.match(r"\d\.\d g/l, in crown-cap", plain(row.note)), row.note


def test_a_vessel_of_unknown_rating_is_said_beside_it() -> None:
    book = bar_house()
    bottled = book.builds[BOTTLED]
    jar = structs.replace(bottled.steps[1], vessel="jar-500")
    other = book.with_build(structs.replace(bottled, steps=(bottled.steps[0], jar)))
    details = details_of_step(other, CARBONATING, BOTTLED)
    assert details["vessel"].remark == "its rated pressure is not known: nothing is carbonated in it"


def test_no_gas_has_no_words() -> None:
    assert pressure_words(trace_of(bar_house()).step(STIRRING), ENGLISH_STYLE) == ""


def test_what_is_held_back_is_the_amount_of_a_strain() -> None:
    row = rows_of(bar_house())[STRAINING]
    assert (row.name, row.amount, row.unit, row.amount_state) == (
        "fine strain into the glass", "3", "ml held back", AmountState.WEIGHED,
    )  # fmt: skip
    over = rows_of(changed(bar_house(), STRAINING, fresh_ice="50 mm cube", fresh_ice_g=115.0))[STRAINING]
    assert re.match(r"over 115 g 50 mm cube, melts \d+\.\d g", plain(over.note)), over.note


def test_a_glass_as_warm_as_the_room_warms_the_drink() -> None:
    book = bar_house()
    told = plain(details_of_step(book, STRAINING)["found"].amount)
    found = re.fullmatch(r"the glass warms it from (−\d+\.\d) to (−?\d+\.\d) °C", told)
    assert found is not None, told
    assert plain(rows_of(book)[STRAINING].note) == f"the glass warms it to {found[2]} °C"
    glass = details_of_step(book, STRAINING)["vessel_c"]
    assert (glass.name, glass.amount) == ("glass at", "")
    assert plain(glass.remark) == "as warm as the room, 20 °C"


def test_a_colder_glass_warms_it_less_and_says_how_cold_it_is() -> None:
    def end_c(glass_c: float | None) -> float:
        chill = trace_of(changed(bar_house(), STRAINING, vessel_c=glass_c)).step(STRAINING).chill
        assert chill is not None
        assert chill.end_c is not None
        return chill.end_c

    assert end_c(-18.0) < end_c(4.0) < end_c(None)
    book = changed(bar_house(), STRAINING, vessel_c=4.0)
    assert re.match(r"glass at 4 °C, the glass warms it to −?\d", plain(rows_of(book)[STRAINING].note))
    glass = details_of_step(book, STRAINING)["vessel_c"]
    assert (glass.amount, glass.unit) == ("4", "°C")


def test_a_cold_glass_cools_a_drink_that_was_not_chilled() -> None:
    warm = changed(changed(bar_house(), STIRRING, left_out=True), STRAINING, vessel_c=-18.0)
    told = plain(details_of_step(warm, STRAINING)["found"].amount)
    assert re.fullmatch(r"the glass cools it from \d+\.\d to \d+\.\d °C", told), told


def test_a_glass_that_neither_warms_nor_cools_says_so() -> None:
    still = Still(-4.04, -4.01)
    assert plain(glass_words(still, ENGLISH_STYLE)) == "the glass leaves it at −4.0 °C"  # type: ignore[arg-type]
    unknown = Still(None, None)
    assert "not known" in glass_words(unknown, ENGLISH_STYLE)  # type: ignore[arg-type]


def test_over_fresh_ice_the_ice_is_told_and_no_warming() -> None:
    book = changed(bar_house(), STRAINING, fresh_ice="50 mm cube", fresh_ice_g=115.0, vessel_c=-18.0)
    assert plain(details_of_step(book, STRAINING)["found"].amount).startswith("melts ")
    note = plain(rows_of(book)[STRAINING].note)
    assert re.match(r"over 115 g 50 mm cube, glass at −18 °C, melts \d+\.\d g", note), note


@pytest.mark.parametrize(
    "fields, sentence",
    [
        ({"vessel_c": 4.0}, "Fine strain into a glass at 4 °C (39 °F)."),
        ({"vessel_c": -20.0}, "Fine strain into a glass at −20 °C (−4 °F)."),
        (
            {"vessel_c": 4.0, "words": "into a coupe from the fridge"},
            "Fine strain into a coupe from the fridge: at 4 °C (39 °F).",
        ),
        ({"words": "into a coupe"}, "Fine strain into a coupe."),
        ({"words": "gently", "vessel_c": 4.0}, "Fine strain into a glass at 4 °C (39 °F): gently."),
        (
            {"fresh_ice": "50 mm cube", "fresh_ice_g": 115.0, "vessel_c": -18.0},
            "Fine strain over fresh 50 mm cube (115 g): glass at −18 °C (0 °F).",
        ),
    ],
)
def test_the_papers_say_how_cold_the_glass_is(fields: dict[str, object], sentence: str) -> None:
    trace = trace_of(changed(bar_house(), STRAINING, **fields))
    assert plain(dict(StepSentences(trace).all())[STRAINING]) == sentence
    assert sentence in [plain(one) for one in CardWords(trace).method("")]


def test_a_peel_is_thrown_away_and_a_rim_stays_in_part() -> None:
    rows = rows_of(bar_house())
    assert plain(rows[EXPRESSING].note) == "2.0 g, expressed, thrown away, not in the liquid"
    assert plain(rows[RIMMING].note) == "2.0 g, on the rim, 0.5 g of it stays, not in the liquid"


def test_a_float_says_so() -> None:
    assert plain(rows_of(bar_house())[FLOATING].note) == "4 °C, floated"


def test_the_papers_tell_each_step_of_the_bar() -> None:
    told = {step_id: plain(text) for step_id, text in StepSentences(trace_of(bar_house())).all()}
    assert (
        told[RINSING] == "Rinse the glass with 5 ml (⅙ oz) anise spirit and pour it out: about 1.5 ml stays."
    )
    assert told[VERMOUTH_LINE] == "Add scant 0.75 oz red vermouth."
    assert told[STIRRING] == "Stir on ice, strain: 30 s, 180 g cubes, wet ice."
    assert told[STRAINING] == "Fine strain into the glass."
    assert told[FLOATING] == "Float 10 ml cream."
    assert told[EXPRESSING] == "Express 1 piece lemon peel over the drink: then throw it away."
    assert told[RIMMING] == "Rim the glass with 2 g flake salt: the rest is thrown away."
    assert told[SMOKING] == "Smoke oak: 20 s."


def test_the_paper_of_a_carbonating_tells_the_pressures() -> None:
    told = {step_id: plain(text) for step_id, text in StepSentences(trace_of(bar_house(), BOTTLED)).all()}
    assert re.fullmatch(
        r"Carbonate to 6 g/l: in crown-cap bottle, 200 ml, \d\.\d+ bar over the atmosphere, at 2 °C \(36 °F\), 3 fills, "
        r"\d\.\d+ bar over at 25 °C \(77 °F\), rated for 6 bar\.",
        told[CARBONATING],
    ), told[CARBONATING]


def test_rows_of_the_bar_are_copied_as_they_are_typed() -> None:
    rows = list(rows_of(bar_house()).values())
    text = as_text(rows)
    assert "rinse 5 ml anise spirit" in text
    assert "stir 180 g wet cubes, 30 s" in text
    assert "express 1 piece lemon peel, thrown away" in text


def test_what_leaves_at_the_bar_is_told_by_name_and_nothing_is_lost() -> None:
    vessel = vessel_of(trace_of(bar_house()))
    fates = {one.step_id: one.fate for one in vessel.outlets}
    assert fates[RINSING] is Fate.POURED_AWAY
    assert fates[STRAINING] is Fate.HELD_BACK
    assert fates[EXPRESSING] is Fate.THROWN
    assert {one.origin for one in vessel.inflows} >= {Origin.BOUGHT, Origin.ICE}
    came = sum(one.grams for one in vessel.inflows)
    went = sum(one.matter.grams for one in vessel.outlets) + vessel.main.grams + vessel.on_glass.grams
    assert came == pytest.approx(went, rel=1e-9)


def test_dissolved_gas_comes_in_by_name() -> None:
    vessel = vessel_of(trace_of(bar_house(), BOTTLED))
    gas = next(one for one in vessel.inflows if one.origin is Origin.DISSOLVED)
    # 6 g/l in 180 ml.
    assert gas.grams == pytest.approx(1.08, abs=0.005)


def test_lines_are_shown_in_the_unit_that_was_chosen_but_never_a_rinse() -> None:
    book = bar_house()
    workings = Workings(book)
    trace = workings.trace(AT_THE_BAR)
    pour = pour_view(PourUnit.PARTS, book.builds[AT_THE_BAR], book)
    rows = RowMaker(book, workings.users_of, pour=pour).rows(trace)
    assert [(row.amount, row.unit) for row in rows[:3]] == [("5", "ml"), ("2", "parts"), ("scant ¾", "part")]
    assert rows[5].amount == "⅓"


def test_a_row_that_was_remembered_is_made_anew_in_another_unit() -> None:
    book = bar_house()
    workings = Workings(book)
    trace = workings.trace(AT_THE_BAR)
    first = RowMaker(book, workings.users_of)
    first.rows(trace)
    pour = pour_view(PourUnit.OZ, book.builds[AT_THE_BAR], book)
    second = RowMaker(book, workings.users_of, memory=first._memory, pour=pour)
    assert [(row.amount, row.unit) for row in second.rows(trace)[:3]] == [
        ("5", "ml"),
        ("2", "oz"),
        ("scant ¾", "oz"),
    ]


@pytest.mark.parametrize(
    "written, shown", [("2026-11-21", "21 Nov 2026"), ("2026-01-02T10:00", "2 Jan 2026"), ("?", "?")]
)
def test_a_date_is_written_out(written: str, shown: str) -> None:
    assert date_words(written) == shown


@pytest.mark.parametrize("build_id", [AT_THE_BAR, BOTTLED])
def test_the_flow_picture_of_the_bar_loses_nothing(build_id: int) -> None:
    workings = Workings(bar_house())
    flow = flow_of(workings.trace(build_id), workings)
    names = {one.name for one in flow.nodes}
    assert flow.bands
    for one in flow.nodes:
        comes = sum(band.grams for band in flow.bands if band.target == one.key)
        goes = sum(band.grams for band in flow.bands if band.source == one.key)
        for grams in (comes, goes):
            if grams:
                assert grams == pytest.approx(one.grams, rel=1e-6, abs=1e-6)
    if build_id == AT_THE_BAR:
        assert {"poured away", "held back in tin and strainer", "thrown away"} <= names
    else:
        assert "carbon dioxide" in names
