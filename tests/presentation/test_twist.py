"""The comparison in words and figures, on the bay twist of the demo house."""

import pytest

from tests.presentation.demo import demo, readings, side, target_of
from washline.document.twists import line_pairs, reading_differences
from washline.presentation.twist import (
    TwistLine,
    TwistReading,
    changed_words,
    glass_words,
    longest_move_ml,
    only_differences,
    out_words,
    served_line,
    signed,
    twist_lines,
    twist_readings,
)
from washline.quantity.formatting import ENGLISH_STYLE

PARENT, TWIST = "Pear Signal", "Pear Signal, bay twist"


def lines() -> dict[str, TwistLine]:
    parent, twist = side(PARENT), side(TWIST)
    return {one.parent_name: one for one in twist_lines(line_pairs(parent.build, twist.build), parent, twist)}


def compared() -> dict[str, TwistReading]:
    parent, twist = side(PARENT), side(TWIST)
    found = reading_differences(parent.result, twist.result, parent.readings.spread, twist.readings.spread)
    return {one.key: one for one in twist_readings(found, parent, twist, target_of(TWIST))}


def test_a_swapped_line_names_both_and_says_so() -> None:
    line = lines()["Vermouth, dry, 18 %"]
    assert (line.difference, line.twist_name) == ("swapped", "Sherry, fino type, 15 %")


def test_a_line_that_is_the_same_is_quiet() -> None:
    line = lines()["pear-sorrel cordial"]
    assert (line.difference, line.twist_name, line.differs, line.brings) == ("same", "same line", False, ())


def test_a_moved_amount_has_a_signed_figure_and_a_bar_of_its_share() -> None:
    verjus, tincture = lines()["Verjus (unripe grape juice)"], lines()["bay tincture"]
    assert (verjus.difference, verjus.twist_name, verjus.bar) == ("−7.5", "same part", -1.0)
    assert tincture.difference == "+0.8"
    assert tincture.bar == pytest.approx(0.8 / 7.5)


def test_half_the_verjus_brings_half_its_sugar_and_acid() -> None:
    # DEMO: 15 ml of verjus bring 0.4 g sugars and 0.34 g acid, 7.5 ml half of it (total acid, before binding).
    brings = lines()["Verjus (unripe grape juice)"].brings
    assert brings[0] == "−0.2 g sugars"
    assert brings[1].endswith(" g acids")


def test_a_chill_says_the_water_that_it_brings_more() -> None:
    # DEMO: by the balance of heat 28 g melt by throwing over wet ice in tins at room temperature; 10.5 g do on the cube.
    assert lines()["build on ice, short stir in the glass"].brings == ("+17.6 g water",)


def test_a_step_that_the_twist_has_more_is_a_line_of_its_own() -> None:
    pairs = line_pairs(side(PARENT).build, side(TWIST).build)
    told = twist_lines(pairs, side(PARENT), side(TWIST))
    assert [line.twist_name for line in told if not line.parent_name] == ["strain into the glass"]


def test_only_differences_drops_the_same_line() -> None:
    assert len(only_differences(tuple(lines().values()))) == 7


def test_the_foot_says_volumes_glass_and_costs() -> None:
    parent, twist = side(PARENT), side(TWIST)
    longest = longest_move_ml(line_pairs(parent.build, twist.build), parent, twist)
    foot = served_line(parent, twist, longest)
    assert (foot.parent_ml, foot.twist_ml, foot.difference) == ("169", "172", "+3")
    assert foot.cost.endswith("€")
    assert glass_words(twist) == "White-wine glass, no ice"


def test_readings_say_whether_the_change_is_clear() -> None:
    found = compared()
    assert (found["sweetness"].change, found["sweetness"].verdict) == ("+1.3", "clear")
    assert found["acidity"].verdict == "within ±"
    assert found["sweetness"].strip is not None
    assert found["sweetness"].strip.parent == readings(PARENT).result.value("sweetness")


def test_a_difference_is_never_minus_zero() -> None:
    assert [signed(value, 1, ENGLISH_STYLE) for value in (-0.01, 0.0, 1.5, -0.7, None)] == [
        "0",
        "0",
        "+1.5",
        "−0.7",
        "?",
    ]


def test_the_lineage_says_in_short_what_changed() -> None:
    assert changed_words(tuple(lines().values())).startswith("sherry for vermouth, verjus 15 to 7.5 ml")


def test_the_lineage_counts_what_is_out() -> None:
    assert out_words(readings(TWIST), target_of(TWIST)) == "all in band"
    assert out_words(readings(TWIST), demo().targets[325]) != "all in band"
    assert out_words(readings(TWIST), None) == "no target"


def test_a_line_is_read_whole() -> None:
    assert lines()["Verjus (unripe grape juice)"].spoken.startswith(
        "15 ml Verjus (unripe grape juice), −7.5, 7.5 ml same part, −0.2 g sugars"
    )
