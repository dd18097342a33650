"""What the rows of a house-made part say of its steps, in the tree and as text. Figures follow from ``kitchen_house``."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.presentation.kitchen_house import (
    ADJUSTING,
    BASE_LINE,
    CITRIC,
    FERMENTING,
    HEATING,
    INFUSING,
    KITCHEN,
    LIME,
    MEASURING,
    MUDDLING,
    PRODUCE_LINE,
    STRAINING,
    WASHING,
    kitchen,
)
from washline.document.commands import steps
from washline.document.commands.command import Command
from washline.engine.workings import Workings
from washline.model.item import BuildKind
from washline.model.step import Adjust, Goal, Measurable, Measurement, Per, Portion, Weight
from washline.presentation.build_rows import FIRST_DETAIL_ROW, LEFTOVER_ROW, BuildRow, Key, RowMaker
from washline.presentation.clipboard import as_text
from washline.presentation.kitchen_words import computed_words, residual_words
from washline.presentation.measuring import QUANTITIES, instrument_named, likely_causes, usual_uncertainty
from washline.presentation.row_words import AmountState, RowKind
from washline.presentation.step_details import DETAIL_KEYS, details_of
from washline.presentation.step_sentences import StepSentences
from washline.presentation.straining_words import usual_yield
from washline.presentation.strength_words import reading_number
from washline.presentation.through_build import through_build
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.step_line import parse_step
from washline.quantity.typed_step import TypedStep

THIN = "\u202f"


def maker_of(*commands: Command, style: NumberStyle = ENGLISH_STYLE) -> tuple[RowMaker, Workings]:
    book = kitchen()
    for command in commands:
        book = command(book)
    workings = Workings(book)
    return RowMaker(book, workings.users_of, style), workings


def row(key: Key | int, *commands: Command, style: NumberStyle = ENGLISH_STYLE) -> BuildRow:
    maker, workings = maker_of(*commands, style=style)
    wanted = key if isinstance(key, tuple) else (key,)
    return next(one for one in maker.rows(workings.trace(KITCHEN)) if one.key == wanted)


def details(step_id: int, *commands: Command) -> dict[str, BuildRow]:
    maker, workings = maker_of(*commands)
    rows = maker.details(workings.trace(KITCHEN), (step_id,))
    return {one.detail.key: one for one in rows if one.detail is not None}


def sentence(step_id: int, *commands: Command) -> str:
    _, workings = maker_of(*commands)
    trace = workings.trace(KITCHEN)
    return dict(StepSentences(trace).all())[step_id].replace(THIN, " ")


def setting(step_id: int, **fields: object) -> Command:
    return steps.set_step(KITCHEN, step_id, **fields)


# Rows


def test_produce_as_bought_says_what_of_it_went_in() -> None:
    bought = row(PRODUCE_LINE)
    # 200 g x 0.90.
    assert (bought.amount, bought.note) == ("200", f"= 180.0{THIN}g trimmed, edible yield 0.90")


def test_a_trimmed_weight_says_what_was_bought_for_it() -> None:
    trimmed = row(PRODUCE_LINE, setting(PRODUCE_LINE, weight=Weight.TRIMMED, bought_g=250.0))
    assert trimmed.note == f"trimmed, 250.0{THIN}g bought, edible yield 0.80"


def test_a_weight_as_used_says_nothing_of_it() -> None:
    assert row(PRODUCE_LINE, setting(PRODUCE_LINE, weight=Weight.USED)).note == ""


def test_an_infusion_says_how_long_how_warm_and_what_it_gives() -> None:
    infused = row(INFUSING)
    assert (infused.kind, infused.name, infused.amount, infused.unit) == (
        RowKind.INFUSE,
        "bay leaf, fresh",
        "20",
        "g",
    )
    assert (
        infused.note == f"infused 48{THIN}h, 20{THIN}°C, gives 55{THIN}% of its water, 60{THIN}% of its salt"
    )


def test_an_infusion_of_which_nothing_is_known_says_so() -> None:
    infused = row(INFUSING, setting(INFUSING, water_given_pct=None, salt_given_pct=None))
    assert infused.note.endswith("what it gives is not known")


def test_steps_that_bring_nothing_say_what_is_in_the_vessel_and_what_is_held() -> None:
    # 1,000 + 180 + 20 g; of the leaf 55 % of 57 g water a 100 g and 60 % of 1 g salt have gone to the liquid.
    assert row(MUDDLING).remark == "vessel 1,200.0 g, 13.6 g of it held"
    assert row(HEATING).remark == "vessel 1,150.0 g, 13.6 g of it held"


def test_in_a_drink_the_vessel_is_not_told_at_each_step() -> None:
    book = kitchen()
    drink = structs.replace(book.builds[KITCHEN], kind=BuildKind.DRINK)
    workings = Workings(replace(book, builds={**book.builds, KITCHEN: drink}))
    rows = RowMaker(workings.book, workings.users_of).rows(workings.trace(KITCHEN))
    assert all("vessel" not in one.remark for one in rows)


def test_a_wash_a_strain_and_a_ferment_are_called_by_their_way() -> None:
    assert row(WASHING).name == "fat wash"
    assert row(STRAINING).name == "strain through paper"
    assert row(STRAINING, setting(STRAINING, way="")).name == "strain"
    assert row(FERMENTING).name == "ferment, lactic"


def test_a_weighed_strain_still_says_its_estimate() -> None:
    strained = row(STRAINING)
    # 85 % of 1,150 g.
    assert (strained.amount_state, strained.note) == (AmountState.WEIGHED, "estimate was 978")


def test_a_leftover_says_what_it_is_made_of() -> None:
    # 245 g: 13.6 g leaf with 0.4 g sugars, 5.4 g insoluble, 226 g liquid with 24.6 g sugars and 1.07 g malic acid.
    assert row((STRAINING, LEFTOVER_ROW)).remark.startswith(f"10.2{THIN}% sugars, 0.42{THIN}% acids")


def test_a_measurement_stands_beside_the_computed_value() -> None:
    measured = row(MEASURING)
    assert (measured.name, measured.amount, measured.unit) == ("measure °Bx", "12", "°Bx")
    assert measured.amount_state is AmountState.WEIGHED
    # 123.2 g sugars, 5.4 g malic acid and 0.1 g salt in 1,131 g of liquid are 11.4 °Bx; acids bend light less than sugar.
    assert measured.note.startswith("computed 11.2, refractometer ± 0.2")


def test_a_computed_strength_is_never_written_as_none() -> None:
    command = setting(MEASURING, quantity=Measurable.STRENGTH, value=0.3, uncertainty=0.2, instrument="")
    _, workings = maker_of(command)
    trace = workings.trace(KITCHEN).step(MEASURING)
    measured = row(MEASURING, command)
    assert trace.computed is not None
    assert measured.note.split(", ")[0] == f"computed {reading_number('strength', trace.computed, 1)}"
    dry = replace(trace, computed=0.0, reconciled=0.02, residual_sigmas=1.5)
    step = workings.trace(KITCHEN).book.step(KITCHEN, MEASURING)
    assert isinstance(step, Measurement)
    assert computed_words(step, dry, ENGLISH_STYLE) == "computed below 0.05"
    assert residual_words(step, dry, ENGLISH_STYLE).endswith("counts as below 0.05")
    sugar = structs.replace(step, quantity=Measurable.BRIX)
    assert computed_words(sugar, dry, ENGLISH_STYLE) == "computed 0.0"


def test_a_measurement_far_off_says_so_with_what_is_likely() -> None:
    problem = row(MEASURING, setting(MEASURING, value=20.0)).problem
    assert "σ above computed: fruit sweeter than the table, or steam that was not counted" in problem


def test_a_measurement_far_off_lists_what_is_likely_among_its_details() -> None:
    maker, workings = maker_of(setting(MEASURING, value=20.0))
    rows = maker.details(workings.trace(KITCHEN), (MEASURING,))
    told = [one.remark for one in rows if one.name == "likely"]
    assert told[0] == "fruit sweeter than the table: common practice"
    assert len({one.key for one in rows}) == len(rows)


def test_a_measurement_near_by_says_how_far_and_what_counts() -> None:
    measured = row(MEASURING, setting(MEASURING, value=11.3))
    assert measured.problem == ""
    assert "σ" in measured.remark or measured.remark.startswith("as computed")
    assert measured.remark.endswith(("counts as 11.2", "counts as 11.3"))


def test_an_adjustment_says_the_grams_of_each_portion() -> None:
    adjusted = row(ADJUSTING)
    assert adjusted.name == "Citric acid + malic acid 2:3"
    assert (adjusted.amount, adjusted.unit) == ("to 2", "% acidity")
    first, _, second = adjusted.note.removeprefix("= ").removesuffix(f"{THIN}g").partition(" + ")
    # Parts 2 : 3 by weight.
    assert float(second) / float(first) == pytest.approx(1.5, rel=0.02)


def test_an_adjustment_that_is_met_already_says_so() -> None:
    adjusted = row(ADJUSTING, setting(ADJUSTING, value=0.1))
    assert "already above" in adjusted.problem


def test_an_adjustment_can_be_to_be_like_an_item() -> None:
    adjusted = row(ADJUSTING, setting(ADJUSTING, like_item_id=LIME, value=None))
    assert (adjusted.amount, adjusted.unit, adjusted.edit_text) == (
        "as sour",
        "as lime juice",
        "as sour as lime juice",
    )


def test_an_adjustment_by_volume_says_so_in_its_unit() -> None:
    assert row(ADJUSTING, setting(ADJUSTING, per=Per.VOLUME)).unit == f"g/100{THIN}ml acidity"


def test_a_ferment_says_its_ph_as_measured_or_as_computed() -> None:
    assert "pH 3.5 measured" in row(FERMENTING).note
    assert "computed" in row(FERMENTING, setting(FERMENTING, final_ph=None)).note


def test_six_days_are_told_as_days_and_two_as_hours() -> None:
    assert (row(FERMENTING).amount, row(FERMENTING).unit) == ("6", "days")
    assert f"48{THIN}h" in row(INFUSING).note


def test_a_ferment_without_a_time_shows_what_was_measured() -> None:
    untimed = row(FERMENTING, setting(FERMENTING, duration_s=None))
    assert (untimed.amount, untimed.unit, untimed.edit_text) == ("to 3.5", "pH", "pH 3.5")


def test_a_reduction_to_a_reading_shows_it() -> None:
    reduced = row(HEATING, setting(HEATING, final_brix=20.0))
    assert (reduced.amount, reduced.unit, reduced.edit_text) == ("to 20", "°Bx", "20 °Bx")


def test_what_is_typed_again_holds_no_mark_of_thousands() -> None:
    assert row(HEATING).edit_text == "1150 g"


def test_a_step_left_out_finds_nothing() -> None:
    assert row(ADJUSTING, steps.leave_out(KITCHEN, [ADJUSTING])).note == ""


def test_every_row_of_the_part_can_be_copied_as_text_and_most_are_read_as_steps_again() -> None:
    maker, workings = maker_of()
    rows = maker.rows(workings.trace(KITCHEN))
    for key in (INFUSING, WASHING, STRAINING, MEASURING, ADJUSTING, FERMENTING):
        line = as_text([one for one in rows if one.key == (key,)])
        words = " ".join(" ".join(line.split("\t")[:2]).split())
        found = parse_step(words)
        assert isinstance(found, TypedStep), words


def test_the_new_steps_have_a_column_through_the_build() -> None:
    _, workings = maker_of()
    labels = [point.label for point in through_build(workings.trace(KITCHEN), most=20).points]
    assert labels == [
        "apple juice", "+ ripe pear", "+ bay leaf", "fat wash", "heat", "strain", "measured",
        "+ Citric acid + malic acid", "ferment, bottled",
    ]  # fmt: skip


# Details


def test_each_detail_of_an_infusion_is_a_row_of_its_own() -> None:
    rows = details(INFUSING)
    assert (rows["water_given_pct"].amount, rows["water_given_pct"].unit) == ("55", "%")
    assert rows["sugars_given_pct"].amount == ""
    assert rows["sugars_given_pct"].remark == "not known: what it holds counts as unknown"
    assert rows["temperature"].amount == "20"
    assert all(one.step_id == INFUSING and not one.is_step for one in rows.values())


def test_the_keys_of_details_stay_the_same_whatever_else_is_told() -> None:
    before = details(FERMENTING)["final_ph"].key
    after = details(FERMENTING, setting(FERMENTING, gas_lost_g=None))["final_ph"].key
    assert before == after == (FERMENTING, FIRST_DETAIL_ROW - DETAIL_KEYS.index("final_ph"))


def test_a_strain_offers_the_usual_yield_of_its_way_marked_as_common_practice() -> None:
    assert details(STRAINING)["expected"].remark == f"usual 85–95{THIN}%, common practice"
    assert usual_yield("", ENGLISH_STYLE) == ""


def test_a_strain_without_a_leftover_offers_to_name_one() -> None:
    named = structs.replace(kitchen().builds[KITCHEN].steps[7], leftover_id=None)
    _, workings = maker_of()
    trace = workings.trace(KITCHEN)
    found = details_of(named, trace.step(STRAINING), workings.book, ENGLISH_STYLE)
    assert [one.says for one in found if one.key == "leftover"] == ["type a name to keep it as an item"]


def test_each_portion_of_an_adjustment_is_a_row_with_the_grams_found() -> None:
    _, workings = maker_of()
    step = workings.book.step(KITCHEN, ADJUSTING)
    assert isinstance(step, Adjust)
    found = details_of(step, workings.trace(KITCHEN).step(ADJUSTING), workings.book, ENGLISH_STYLE)
    portions = [one for one in found if one.key == "portion"]
    assert [(one.name, one.text, one.unit) for one in portions] == [
        ("Citric acid, anhydrous", "2", "parts"),
        ("malic acid", "3", "parts"),
    ]
    assert all(one.says.endswith(f"{THIN}g found") for one in portions)
    assert len({one.place for one in found}) == len(found)


def test_a_note_has_no_details_and_a_line_of_a_part_opens_the_part() -> None:
    assert row(BASE_LINE).has_details
    maker, workings = maker_of()
    assert maker.details(workings.trace(KITCHEN), (999,)) == ()


# Sentences


@pytest.mark.parametrize(
    "step_id, told",
    [
        (BASE_LINE, "Add 1,000 g apple juice."),
        (PRODUCE_LINE, "Add 200 g ripe pear: as bought."),
        (INFUSING, "Infuse 20 g bay leaf, fresh: 48 h, at 20 °C (70 °F)."),
        (MUDDLING, "Muddle: gently, 6 times."),
        (WASHING, "Wash with the fat: 4 h."),
        (HEATING, "Heat to 1,150 g: simmer, 20 min."),
        (STRAINING, "Filter through paper: weigh the liquid, 905 g last time, keep spent bay."),
        (MEASURING, "Measure °Bx with the refractometer: 12 °Bx last time."),
        (FERMENTING, "Ferment, lactic: to pH 3.5, 6 days, at 18–20 °C (65–70 °F)."),
    ],
)
def test_each_step_is_one_plain_sentence(step_id: int, told: str) -> None:
    assert sentence(step_id) == told


def test_the_sentence_of_an_adjustment_has_the_grams_found() -> None:
    told = sentence(ADJUSTING)
    assert told.startswith("Add ")
    assert told.endswith("g malic acid, to 2 % acidity by weight.")


def test_the_sentence_of_a_ferment_says_when_it_is_thrown_away() -> None:
    told = sentence(FERMENTING, setting(FERMENTING, discard_above_ph=4.2, discard_on_day=4.0))
    assert "discard it if above pH 4.2 on day 4" in told


def test_what_was_not_weighed_yet_says_what_is_expected() -> None:
    assert "about 977.5 g is expected" in sentence(STRAINING, setting(STRAINING, weighed_g=None))


def test_steps_left_out_have_no_sentence() -> None:
    _, workings = maker_of(steps.leave_out(KITCHEN, [WASHING]))
    assert WASHING not in dict(StepSentences(workings.trace(KITCHEN)).all())


# Measuring


def test_every_quantity_has_an_instrument_and_a_likely_cause_on_both_sides() -> None:
    assert set(QUANTITIES) == set(Measurable)
    for quantity, known in QUANTITIES.items():
        assert usual_uncertainty(quantity, 10.0) > 0.0
        assert instrument_named(quantity, known.instruments[0].name) is known.instruments[0]
        assert set(likely_causes(quantity, 4.0)) != set(likely_causes(quantity, -4.0))


def test_an_instrument_that_is_not_known_counts_as_the_usual_one() -> None:
    # Common practice, no source: 0.2 °Bx of a hand refractometer, pH 0.3 of a strip, 0.05 of a meter.
    assert usual_uncertainty(Measurable.BRIX, 10.0, "my own") == 0.2
    assert usual_uncertainty(Measurable.PH, 3.5, "pH meter") == 0.05


def test_salt_and_strength_have_units_of_their_own() -> None:
    goal = setting(ADJUSTING, goal=Goal.STRENGTH, value=10.0)
    assert row(ADJUSTING, goal).unit == "% vol"
    salt = steps.set_portions(KITCHEN, ADJUSTING, [Portion(CITRIC)])
    assert row(ADJUSTING, setting(ADJUSTING, goal=Goal.SALT), salt).unit == "% salt"
