"""The settings of what the guest gets: foam, film, scant and heavy, batches, the warmest place and the law of words."""

from collections.abc import Callable

import pytest

from tests.presentation.costing import house
from tests.ui.costs.bench import Bench, Opener
from tests.ui.settings.test_sheet import choose, row_of, type_into
from washline.presentation.strength_words import laws
from washline.ui.preferences import Preferences
from washline.ui.settings.quantity_row import degrees, millilitres
from washline.ui.settings.sheet import SettingsSheet

Make = Callable[[], tuple[Bench, SettingsSheet]]


@pytest.fixture
def make_sheet(make_bench: Opener) -> Make:
    def make() -> tuple[Bench, SettingsSheet]:
        bench = make_bench(house())
        sheet = SettingsSheet(bench.document, bench.bridge, Preferences(), bench.look)
        bench.qtbot.addWidget(sheet)
        with bench.qtbot.waitExposed(sheet):
            sheet.show()
        return bench, sheet

    return make


@pytest.mark.parametrize(
    ("label", "typed", "field", "value"),
    [
        ("Room for foam", "8 ml", "foam_allowance_ml", 8.0),
        ("Shaken foam", "20", "egg_foam_pct", 20.0),
        ("Glass warms by", "0.5", "glass_w_per_k", 0.5),
        ("Film of a rinse", "2", "rinse_film_ml", 2.0),
        ("Scant", "1/10 oz", "scant_ml", 3.0),
        ("Heavy", "5 ml", "heavy_ml", 5.0),
        ("Salt of a batch", "60", "salt_batch_pct", 60.0),
        ("Bitters of a batch", "55 %", "bitters_batch_pct", 55.0),
        ("Warmest place", "86 F", "warmest_c", 30.0),
        ("Freezer", "-22 °C", "freezer_c", -22.0),
    ],
)
def test_figure_is_typed_and_can_be_undone(
    make_sheet: Make, label: str, typed: str, field: str, value: float
) -> None:
    bench, sheet = make_sheet()
    before = getattr(bench.book.settings, field)
    type_into(row_of(sheet, label), typed)
    assert getattr(bench.book.settings, field) == pytest.approx(value)
    bench.document.undo()
    assert getattr(bench.book.settings, field) == before


def test_wrong_unit_is_refused_where_it_was_typed(make_sheet: Make) -> None:
    bench, sheet = make_sheet()
    row = row_of(sheet, "Scant")
    type_into(row, "3 g")
    assert row.problem.text() == "Expected a volume, such as 2.5 ml or 1/4 oz."
    assert bench.book.settings.scant_ml == 2.5


def test_law_of_words_is_the_strictest_until_another_is_chosen(make_sheet: Make) -> None:
    bench, sheet = make_sheet()
    assert bench.book.settings.wording_law == "strictest"
    choose(row_of(sheet, "Law"), list(laws()).index("uk"))
    assert bench.book.settings.wording_law == "uk"


def test_small_volumes_and_temperatures_are_read_in_any_unit() -> None:
    assert millilitres("1/4 oz", 30.0) == pytest.approx(7.5)
    assert degrees("50 F") == pytest.approx(10.0)
    assert isinstance(degrees("10-20 °C"), str)
    assert isinstance(millilitres("top to wash line", 30.0), str)
