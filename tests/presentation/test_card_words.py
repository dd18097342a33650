"""The sentences of a card's method, its garnish and its keeping, step kind by step kind."""

import dataclasses

import pytest
from msgspec.structs import replace

from tests.presentation.cards import card_of, card_with_steps, drink_with
from tests.presentation.small_house import (
    BITTERS,
    CORDIAL,
    GIN,
    LEAF,
    OTHER,
    SODA,
    SUGAR,
    VERJUS,
    VERMOUTH,
    house,
)
from washline.model.amount import Amount, Basis, Heft, millilitres
from washline.model.house import MethodKind
from washline.model.item import KeptAt
from washline.model.step import (
    Add,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Blend,
    Chill,
    Ferment,
    Garnish,
    GarnishWay,
    Heat,
    Infuse,
    Note,
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
)
from washline.presentation.card_words import Pour, ice_of, is_in_glass, sentence, short_names


def head(place: int) -> dict[str, float | int]:
    """What every step has."""
    return {"id": 500 + place, "build_id": OTHER, "place": float(place)}


def gin(place: int = 1) -> Add:
    """45 ml of gin."""
    return Add(**head(place), item_id=GIN, amount=millilitres(45.0))


@pytest.mark.parametrize(
    "step, words",
    [
        (Blend(**head(2), duration_s=90.0), "Blend: 90\u202fs."),
        (
            Rest(**head(2), duration_s=2700.0, temperature_low_c=35.0, temperature_high_c=40.0),
            "Rest: 35–40\u202f°C (95–105\u202f°F), 45\u202fmin.",
        ),
        (Rest(**head(2), words="covered, in the fridge"), "Covered, in the fridge."),
        (Heat(**head(2), temperature_high_c=75.0), "Heat: 75\u202f°C (165\u202f°F)."),
        (Reduce(**head(2), final_g=400.0), "Reduce: to 400\u202fg."),
        (Strain(**head(2), expected_pct=90.0), "Strain."),
        (Strain(**head(2), weighed_g=40.0), "Strain: 40\u202fg weighed."),
        (Note(**head(2), words="double strain"), "Double strain."),
        (Take(**head(2), amount=millilitres(10.0)), "Pour away 10\u202fml."),
        (Chill(**head(2), method="build", duration_s=25.0), "Build on the cube: 25\u202fs."),
        (Chill(**head(2), method="no-such", ice="cubes 30 mm"), "No-such: cubes 30 mm."),
        (Chill(**head(2), method="no-such", words="shake on cubes", ice="cubes 30 mm"), "Shake on cubes."),
        (Chill(**head(2), method="build", words="lift once", count=1.0, count_unit="lift"), "Lift once."),
    ],
)  # fmt: skip
def test_step_is_one_short_sentence(step: AnyStep, words: str) -> None:
    assert card_with_steps([gin(), step], ice_g=0.0).method[-1] == words


def test_step_left_out_has_no_sentence() -> None:
    assert card_with_steps([gin(), Note(**head(2), words="double strain", left_out=True)]).method == (
        "Pour dry gin.",
    )


@pytest.mark.parametrize(
    "count, words",
    [
        (1, "Pour dry gin."),
        (2, "Pour both, in order."),
        (3, "Pour all three, in order."),
        (12, "Pour all 12, in order."),
    ],
)
def test_lines_that_follow_one_another_are_one_sentence(count: int, words: str) -> None:
    assert card_with_steps([gin(place) for place in range(1, count + 1)]).method == (words,)


def test_lines_behind_another_step_are_told_apart() -> None:
    stir = Note(**head(3), words="stir")
    card = card_with_steps([gin(1), gin(2), stir, gin(4), gin(5), Note(**head(6), words="lift"), gin(7)])
    assert card.method == (
        "Pour the first two, in order.", "Stir.", "Add the next two, in order.", "Lift.", "Add dry gin.",
    )  # fmt: skip


def test_ice_of_the_glass_is_named_first_only_where_it_chills_the_drink() -> None:
    on_ice = Chill(**head(2), method="build", count=10.0, count_unit="turns")
    shaken = Chill(**head(2), method="shake", words="shake on cubes")
    assert card_with_steps([gin(), on_ice], ice="one cube").method[0] == "One cube in the glass."
    assert card_with_steps([gin(), shaken], ice="one cube").method[0] == "Pour dry gin."


def test_item_poured_hot_says_so_instead_of_where_it_stands() -> None:
    line = Add(
        **head(1), item_id=VERJUS, amount=millilitres(30.0), temperature_c=80.0, words="freshly boiled"
    )
    assert card_with_steps([line]).pours[0].note == "at 80\u202f°C (175\u202f°F) · freshly boiled"


def test_item_of_the_freezer_is_poured_below_zero() -> None:
    book = drink_with([gin()])
    book = book.with_raw(replace(book.raws[GIN], kept_at=KeptAt.FREEZER))
    assert card_of(book, OTHER).pours[0].note == "−18\u202f°C"


def test_share_of_another_line_is_poured_by_what_it_came_to() -> None:
    share = Add(**head(2), item_id=VERJUS, amount=Amount(50.0, "%", Basis.PERCENT_OF_LINES, (501,)))
    pour = card_with_steps([gin(), share]).pours[1]
    # Half the mass of 45 ml of gin: less than half its volume, for verjus is denser than gin.
    assert 18.0 < float(pour.ml) < 22.5


def test_powder_is_weighed() -> None:
    assert (
        card_with_steps([Add(**head(1), item_id=SUGAR, amount=Amount(5.0, "g"))]).pours[0].words == "5\u202fg"
    )


def test_only_the_last_line_is_last() -> None:
    tops = [Top(**head(place), item_id=SODA, amount=millilitres(30.0)) for place in (2, 3)]
    notes = [pour.note for pour in card_with_steps([gin(), *tops]).pours]
    assert notes == ["", "to top · 4\u202f°C", "last, to top · 4\u202f°C"]


@pytest.mark.parametrize(
    "amount, words",
    [
        (Amount(1.0, "leaf"), "1 sorrel leaf"),
        (Amount(2.0, "leaf"), "2\u202fleaves of sorrel leaf"),
        (Amount(0.5, "piece"), "0.5\u202fpiece of sorrel leaf"),
        (Amount(3.0, "drop"), "3\u202fdrops of sorrel leaf"),
    ],
)
def test_garnish_counts_in_its_own_words(amount: Amount, words: str) -> None:
    leaf = Garnish(**head(2), item_id=LEAF, amount=amount)
    assert card_with_steps([gin(), leaf]).garnishes == (words,)


@pytest.mark.parametrize(
    "days, kept_at, words",
    [
        (1, KeptAt.FRIDGE, "pear cordial: 1 day cold"),
        (30, KeptAt.FREEZER, "pear cordial: 30 days frozen"),
        (365, KeptAt.ROOM, "pear cordial: 1 year"),
        (730, KeptAt.ROOM, "pear cordial: 2 years"),
        (0, KeptAt.ICE_WELL, "pear cordial: 0 days on ice"),
    ],
)
def test_house_date_says_how_long_and_where(days: int, kept_at: KeptAt, words: str) -> None:
    book = house()
    book = book.with_build(replace(book.builds[CORDIAL], house_days=days, kept_at=kept_at))
    assert card_of(book, OTHER).keeps == (words,)


def test_short_name_is_the_first_words_unless_two_would_be_called_the_same() -> None:
    book = drink_with(
        [
            Add(**head(n), item_id=item, amount=millilitres(10.0))
            for n, item in enumerate((GIN, VERJUS, BITTERS), 1)
        ]
    )
    for item, name in ((GIN, "Gin, dry"), (VERJUS, "Gin, old"), (BITTERS, "Bitters (house)")):
        book = book.with_raw(replace(book.raws[item], name=name))
    names = short_names(book, book.builds[OTHER])
    assert names == {GIN: "Gin, dry", VERJUS: "Gin, old", BITTERS: "bitters"}


def test_ice_is_that_of_the_drink_before_that_of_the_glass() -> None:
    book = house()
    drink = book.builds[OTHER]
    assert ice_of(book, drink) == ("one cube", 115.0)
    assert ice_of(book, replace(drink, ice="crushed", ice_g=200.0)) == ("crushed", 200.0)
    assert ice_of(book, replace(drink, ice_g=0.0)) == ("", 0.0)
    assert ice_of(book, replace(drink, glass=None)) == ("", 0.0)


@pytest.mark.parametrize(
    "words, details, whole",
    [
        ("lift once.", (), "Lift once."),
        ("ready?", (), "Ready?"),
        ("stir", ("10 turns", ""), "Stir: 10 turns."),
        ("", ("10 turns",), "10 turns."),
        ("", (), ""),
    ],
)
def test_sentence_begins_large_and_ends_once(words: str, details: tuple[str, ...], whole: str) -> None:
    assert sentence(words, details) == whole


def test_drink_without_a_glass_says_so_and_draws_none() -> None:
    card = card_with_steps([Add(**head(1), item_id=VERMOUTH, amount=millilitres(60.0))], glass=None)
    assert card.glass_name == "no glass chosen"
    assert card.ice == ""
    assert card.served is None


def test_lines_of_a_part_stand_in_grams_and_what_is_typed_in_millilitres_in_both() -> None:
    book = house()
    lines = (
        Add(id=501, build_id=CORDIAL, place=1.0, item_id=GIN, amount=millilitres(100.0)),
        Add(
            id=502,
            build_id=CORDIAL,
            place=2.0,
            item_id=VERJUS,
            amount=Amount(10.0, "%", Basis.PERCENT_OF_LINES, (501,)),
        ),
    )
    card = card_of(book.with_build(replace(book.builds[CORDIAL], steps=lines)), CORDIAL)
    assert card.pours[0].words == "100\u202fml"
    assert card.pours[0].note.endswith("\u202fg")
    assert card.pours[1].words.endswith("\u202fg")
    assert [pour.ml for pour in card.pours] == ["", ""]


def test_an_infusion_and_a_ferment_have_sentences_of_their_own() -> None:
    lines = [
        gin(),
        Infuse(**head(2), item_id=LEAF, amount=Amount(20.0, "g"), duration_s=172800.0),
        Ferment(**head(3), final_ph=3.5, discard_above_ph=4.2, discard_on_day=4.0),
    ]
    card = card_with_steps(lines)
    assert [pour.note for pour in card.pours] == ["", "to infuse"]
    assert card.method == (
        "Pour dry gin.",
        "Infuse 20\u202fg sorrel leaf: 48\u202fh.",
        "Ferment, lactic: to pH 3.5, discard it if above pH 4.2 on day 4.",
    )


def poured(step: AnyStep, **fields: object) -> Pour:
    """The pour of a drink of one line."""
    return card_with_steps([step], **fields).pours[-1]


def of(number: float, heft: Heft, unit: str = "ml") -> Add:
    return Add(**head(1), item_id=GIN, amount=Amount(number, unit, heft=heft))


@pytest.mark.parametrize(
    ("heft", "word"), [(Heft.SCANT, "scant 1"), (Heft.HEAVY, "heavy 1"), (Heft.EVEN, "1")]
)
def test_a_scant_or_heavy_ounce_is_read_at_its_mark(heft: Heft, word: str) -> None:
    pour = poured(of(30.0, heft))
    assert pour.oz == word
    assert not pour.is_rounded


@pytest.mark.parametrize(("heft", "ml"), [(Heft.SCANT, "27.5"), (Heft.HEAVY, "32.5")])
def test_the_millilitres_of_a_scant_or_heavy_pour_are_those_that_are_poured(heft: Heft, ml: str) -> None:
    # Both are 2.5 ml as shipped, a setting of the house.
    assert poured(of(30.0, heft)).ml == ml


def test_a_scant_dash_says_so_in_its_words() -> None:
    assert poured(of(1.0, Heft.SCANT, "dash")).words == "scant 1\u202fdash"


@pytest.mark.parametrize(
    ("ml", "off"), [(20.0, ""), (27.5, "5\u202f% less"), (4.0, "6\u202f% less"), (3.0, "25\u202f% more")]
)
def test_ounces_that_are_off_say_by_how_much(ml: float, off: str) -> None:
    # 27.5 ml are 0.917 oz: seven eighths are 5 % less.
    # 4 ml are 0.1333 oz: an eighth is 6 % less; 3 ml are 0.1 oz: an eighth is 25 % more.
    assert poured(of(ml, Heft.EVEN)).off == off


def test_a_float_says_so_in_line_and_method() -> None:
    card = card_with_steps([gin(), Top(**head(2), item_id=VERMOUTH, amount=millilitres(10.0), is_layer=True)])
    assert "floated" in card.pours[1].note
    assert card.method[-1] == "Float dry white vermouth on top."


def test_a_rinse_is_a_line_of_the_card_that_is_poured_out() -> None:
    card = card_with_steps([Rinse(**head(1), item_id=VERMOUTH, amount=millilitres(5.0)), gin(2)])
    assert card.pours[0].note.startswith("rinse, poured out")
    assert card.pours[0].ml == "5"
    assert card.method[0].startswith("Rinse")
    assert card.method[1] == "Add dry gin."


@pytest.mark.parametrize(
    ("way", "stays_g", "words"),
    [
        (GarnishWay.RIM, None, "rim: 2\u202fg of white sugar"),
        (GarnishWay.EXPRESS, None, "2\u202fg of white sugar, expressed over the drink"),
        (GarnishWay.EXPRESS, 0.1, "2\u202fg of white sugar, expressed over the drink, then thrown away"),
        (GarnishWay.GARNISH, None, "2\u202fg of white sugar"),
    ],
)
def test_a_rim_and_an_expressed_peel_say_what_is_done(
    way: GarnishWay, stays_g: float | None, words: str
) -> None:
    step = Garnish(**head(2), item_id=SUGAR, amount=Amount(2.0, "g"), way=way, stays_g=stays_g)
    assert card_with_steps([gin(), step]).garnishes == (words,)


def test_steps_of_the_bar_have_a_sentence_each() -> None:
    steps = [gin(), BarStrain(**head(2), way=BarStrainWay.FINE), Smoke(**head(3), words="smoke with oak")]
    assert len(card_with_steps(steps).method) == 3


def test_a_method_of_the_house_in_the_glass_counts_as_one() -> None:
    book = house()
    lifted = replace(book.methods["build"], slug="lifted", kind=MethodKind.IN_GLASS)
    book = dataclasses.replace(book, methods={**book.methods, "lifted": lifted})
    assert is_in_glass(book, Chill(**head(2), method="lifted"))
    assert not is_in_glass(book, Chill(**head(2), method="no-such"))
