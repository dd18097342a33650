"""Heights of rows: density changes them, and never the type."""

import pytest

from washline.ui.measures import Measures


def test_rows_have_the_heights_of_the_design() -> None:
    usual = Measures()
    assert (usual.build_row, usual.book_drink_row, usual.book_part_row) == (25, 37, 22.5)


def test_roomy_rows_are_higher_and_large_enough_to_hit() -> None:
    roomy = Measures(is_roomy=True)
    assert (roomy.build_row, roomy.book_drink_row, roomy.book_part_row) == (30, 44, 28)
    assert min(roomy.build_row, roomy.book_part_row) >= roomy.smallest_target


@pytest.mark.parametrize(("axes", "height"), [(3, 34), (6, 34), (7, 30), (8, 30), (9, 28), (10, 28)])
def test_readings_stand_closer_where_there_are_many(axes: int, height: float) -> None:
    assert Measures().reading_row(axes) == height


def test_everything_grows_with_the_unit() -> None:
    assert Measures(2.0).build_row == 50
    assert Measures(2.0).px(6) == 12
