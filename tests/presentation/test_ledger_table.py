"""The ledger in words and figures."""

from tests.engine.kitchen import BITTERS, PEAR, SUGAR, TEA, WATER, Vessel, house
from tests.presentation import demo
from washline.engine.workings import Workings
from washline.model.item import BuildKind
from washline.model.step import FermentKind
from washline.presentation.ledger import ledger_of
from washline.presentation.ledger_table import LedgerRow, LedgerTexts, ledger_texts
from washline.quantity.formatting import NUMBER_STYLES

PART = 301


def texts(name: str, *, is_percent: bool = False, follows: bool = True) -> LedgerTexts:
    one = demo.build(name)
    ledger = ledger_of(demo.workings().trace(one.id), demo.workings(), follows=follows)
    return ledger_texts(ledger, is_percent=is_percent)


def of_part(vessel: Vessel) -> LedgerTexts:
    book = house().with_build(vessel.build(BuildKind.PART, name="part"))
    workings = Workings(book)
    return ledger_texts(ledger_of(workings.trace(PART), workings))


def row(found: LedgerTexts, words: str) -> LedgerRow:
    return next(one for one in (*found.ins, *found.outs) if words in one.name)


def test_it_says_that_it_closes() -> None:
    found = texts("pear-sorrel cordial")
    assert found.in_less_out == "in less out: 0.0\u202fg"
    assert found.closes


def test_totals_stand_under_both_sides() -> None:
    found = texts("sharp apple", follows=False)
    # DEMO 1.11: 1,050 + 2.1 + 20.0 + 30.1
    assert found.all_in == "1,102.2"
    assert found.all_out[0] == "1,102.2"


def test_a_leftover_that_is_reused_says_so_behind_its_name() -> None:
    found = row(texts("pear-sorrel cordial", follows=False), "spent pear")
    assert (found.name, found.note, found.figures[0]) == ("spent pear, into pear leather", "reused", "405.9")


def test_what_is_trimmed_away_holds_nobody_knows_what() -> None:
    found = texts("pear-sorrel cordial")
    trimmed = row(found, "trimmed away")
    assert trimmed.figures[1:4] == ("?", "?", "?")
    assert "not known" in trimmed.spoken
    assert "What was trimmed away is weighed; what it holds is not known." in found.notes


def test_nothing_is_blank_and_less_than_the_last_digit_is_a_dot() -> None:
    found = texts("sharp apple")
    assert row(found, "water, evaporated, malted").figures[1] == ""
    assert row(found, "malted oat lace, left over").figures[2] == "·"


def test_an_unknown_part_makes_its_figures_at_least() -> None:
    # The tea's sugars and acids are blank in its row.
    found = of_part(Vessel(PART).add(TEA, 50.0).add(SUGAR, 100.0))
    assert row(found, "in the bottle").figures[1] == "at least 100.0"
    assert found.all_out[1] == "at least 100.0"


def test_percent_is_of_all_that_went_in() -> None:
    found = texts("sharp apple", is_percent=True, follows=False)
    assert found.heads[0] == "%"
    assert found.all_in == "100.0"
    assert row(found, "Apple juice").figures[0] == "95.3"


def test_used_of_bought_says_of_what() -> None:
    found = texts("sharp apple")
    assert found.used.startswith("used of bought: 84.4\u202f%")
    assert "82.6\u202f% in the bottle" in found.used
    assert "1.8\u202f% in leftovers that are used" in found.used
    assert "1,102.2\u202fg bought" in found.used_tip


def test_a_drink_is_used_in_the_glass() -> None:
    assert "in the glass" in texts("Pear Signal").used


def test_what_a_ferment_turned_is_a_sentence() -> None:
    vessel = Vessel(PART).add(PEAR, 600.0).add(WATER, 1000.0)
    vessel.ferment(kind=FermentKind.LACTIC, gas_lost_g=4.0, final_acidity_pct=0.5)
    notes = of_part(vessel).notes
    assert any(one.startswith("Sugars do not close") and "turned by the ferment" in one for one in notes)


def test_each_row_is_a_sentence_for_a_screen_reader() -> None:
    found = texts("pear-sorrel cordial", follows=False)
    assert row(found, "Malic acid").spoken == "In: Malic acid, DL, 24.0 g"
    spoken = row(found, "spent pear").spoken
    assert spoken.startswith("Out: spent pear, into pear leather, reused, 405.9 g, ")


def test_numbers_are_written_as_the_person_reads_them() -> None:
    one = demo.build("sharp apple")
    ledger = ledger_of(demo.workings().trace(one.id), demo.workings(), follows=False)
    assert ledger_texts(ledger, NUMBER_STYLES["de_DE"]).all_in == "1.102,2"


def test_bitters_of_which_all_is_known_are_no_at_least() -> None:
    found = of_part(Vessel(PART).add(BITTERS, 50.0))
    assert row(found, "in the bottle").figures[1] == ""
