"""The pages of a card: nothing clipped, nothing lost, nothing over anything else, whatever stands on it."""

import dataclasses
import itertools
import re
from collections.abc import Callable

import pytest
from PySide6.QtCore import QRectF

from tests.engine.hazards import PART, SCENES
from tests.engine.kitchen import SOUR
from tests.presentation.cards import card_of, house_with_verjus, signal_card
from tests.presentation.small_house import CORDIAL, house
from tests.ui.papers.long_cards import (
    LONG_NAME,
    ONE_WORD,
    everything_at_once,
    with_all_cautions,
    with_all_of_a_part,
    with_lines,
    with_name,
)
from washline.presentation.card import Card
from washline.presentation.card_box import CautionLine
from washline.presentation.card_pressure import OPENING
from washline.presentation.cautions import DEFERRAL, allergens, cautions
from washline.ui.fonts import Fonts
from washline.ui.papers.card_pages import LaidOut, lay_out
from washline.ui.papers.card_rows import SMALLEST_PX
from washline.ui.papers.marks import FrameMark, PictureMark
from washline.ui.papers.page import A5, HALF_LETTER, Page
from washline.ui.papers.setting import Setter, TextMark

MAKERS: dict[str, Callable[[], Card]] = {
    "plain": signal_card,
    "long name": lambda: with_name(LONG_NAME),
    "one long word": lambda: with_name(ONE_WORD),
    "no lines": lambda: with_lines(0),
    "forty lines": lambda: with_lines(40),
    "all cautions": with_all_cautions,
    "everything": everything_at_once,
    "part": lambda: card_of(house(), CORDIAL),
    "all of a part": with_all_of_a_part,
}
PAGES = [A5, HALF_LETTER]


@pytest.fixture(scope="module", params=itertools.product(MAKERS, PAGES), ids=lambda p: f"{p[0]}-{p[1].key}")
def laid_out(request: pytest.FixtureRequest, paper_fonts: Fonts) -> LaidOut:
    """Each card on each page size."""
    name, page = request.param
    return lay_out(MAKERS[name](), page, paper_fonts)


def texts(laid_out: LaidOut) -> list[list[TextMark]]:
    """The texts of each page."""
    return [[mark for mark in page if isinstance(mark, TextMark)] for page in laid_out.pages]


def words(laid_out: LaidOut) -> str:
    """All that is written on a card, with plain blanks."""
    return plain(" ".join(mark.text for page in texts(laid_out) for mark in page))


def plain(text: str) -> str:
    """Text with one blank between words."""
    return re.sub(r"[\s\u00a0\u202f]+", " ", text).strip()


def test_every_mark_lies_on_its_page(laid_out: LaidOut) -> None:
    sheet = QRectF(0.0, 0.0, laid_out.page.width_px, laid_out.page.height_px)
    outside = [mark for page in laid_out.pages for mark in page if not inside(mark.rect, sheet)]
    assert outside == []


def inside(rect: QRectF, sheet: QRectF) -> bool:
    """Whether a rectangle, which may be a line, lies in another."""
    return (
        rect.left() >= 0
        and rect.top() >= 0
        and rect.right() <= sheet.right()
        and rect.bottom() <= sheet.bottom()
    )


def test_every_text_fits_the_room_that_it_was_given(laid_out: LaidOut, paper_fonts: Fonts) -> None:
    setter = Setter(paper_fonts)
    for mark in itertools.chain(*texts(laid_out)):
        metrics = paper_fonts.metrics(setter.font(mark.style))
        assert metrics.horizontalAdvance(mark.text) <= mark.rect.width() + 0.01
        assert mark.baseline - metrics.ascent() >= mark.rect.top() - 0.01
        assert mark.baseline + metrics.descent() <= mark.rect.bottom() + 0.01


def test_no_text_stands_over_another(laid_out: LaidOut) -> None:
    for page in texts(laid_out):
        for one, other in itertools.combinations(page, 2):
            shared = letters(one).intersected(letters(other))
            assert shared.width() <= 0.5 or shared.height() <= 0.5, (one.text, other.text)


def letters(mark: TextMark) -> QRectF:
    """Where the letters of a text stand, without the room that the font keeps above and below them."""
    size = mark.style.size_px
    return QRectF(mark.rect.left(), mark.baseline - 0.75 * size, mark.rect.width(), 0.98 * size)


def test_no_text_stands_over_a_picture(laid_out: LaidOut) -> None:
    for page in laid_out.pages:
        pictures = [mark.rect for mark in page if isinstance(mark, PictureMark)]
        for text in (mark for mark in page if isinstance(mark, TextMark)):
            assert not any(picture.intersects(letters(text)) for picture in pictures), text.text


def test_no_letter_is_smaller_than_can_be_read(laid_out: LaidOut) -> None:
    assert min(mark.style.size_px for page in texts(laid_out) for mark in page) >= SMALLEST_PX


def test_every_page_says_whose_it_is(laid_out: LaidOut) -> None:
    for page in texts(laid_out):
        assert any(mark.style.is_serif for mark in page)


def test_boxed_rows_lie_within_their_frame(laid_out: LaidOut) -> None:
    deferral_seen = False
    for page in laid_out.pages:
        frames = [mark.rect for mark in page if isinstance(mark, FrameMark) and not mark.sign]
        for mark in page:
            if isinstance(mark, TextMark) and plain(mark.text).startswith("Information from published"):
                deferral_seen = True
                assert any(frame.contains(mark.rect) for frame in frames)
    assert deferral_seen


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.key)
@pytest.mark.parametrize("key", cautions())
def test_each_caution_is_on_the_paper_with_the_deferral_behind_it(
    key: str, page: Page, paper_fonts: Fonts
) -> None:
    written = words(lay_out(card_of(house_with_verjus(cautions=(key,))), page, paper_fonts))
    assert written.index(plain(cautions()[key].bar)) < written.index(plain(DEFERRAL))


@pytest.mark.parametrize("key", SCENES)
def test_each_caution_of_a_step_is_on_the_paper_of_the_drink_and_of_the_part(
    key: str, paper_fonts: Fonts
) -> None:
    book = SCENES[key]()
    drink = words(lay_out(card_of(book, SOUR), A5, paper_fonts))
    assert drink.index(plain(cautions()[key].bar)) < drink.index(plain(DEFERRAL))
    if PART in book.builds:
        part = words(lay_out(card_of(book, PART), A5, paper_fonts))
        assert part.index(plain(cautions()[key].bench)) < part.index(plain(DEFERRAL))


def test_all_of_a_part_is_on_its_paper(paper_fonts: Fonts) -> None:
    card = with_all_of_a_part()
    written = words(lay_out(card, HALF_LETTER, paper_fonts))
    assert card.keeping is not None
    told = [
        *(one.text for one in card.box.cautions), *(one.ways for one in card.box.may_contain), *card.box.diet,
        *card.method, *card.keeping.date.reasons, *(one.text for one in card.keeping.hurdles), card.keeping.caution,
    ]  # fmt: skip
    assert [text for text in told if plain(text) not in written] == []
    assert "1 year cold" in written
    assert "House dates, not tested." in written


@pytest.mark.parametrize("key", allergens())
def test_each_allergen_is_on_the_paper(key: str, paper_fonts: Fonts) -> None:
    written = words(lay_out(card_of(house_with_verjus(allergens=(key,))), A5, paper_fonts))
    assert f"Contains {allergens()[key].word} from the verjus" in written


def test_unknown_stands_right_under_contains_in_the_same_size(paper_fonts: Fonts) -> None:
    laid_out = lay_out(card_of(house_with_verjus(allergens=("unknown",))), A5, paper_fonts)
    marks = texts(laid_out)[0]
    contains = next(mark for mark in marks if mark.text == "Contains")
    unknown = next(mark for mark in marks if mark.text.startswith("Unknown: verjus."))
    between = [mark for mark in marks if contains.rect.bottom() <= mark.baseline < unknown.rect.top()]
    assert between == []
    assert unknown.style.size_px == contains.style.size_px
    assert unknown.style.weight == contains.style.weight
    assert any(isinstance(mark, FrameMark) and mark.sign == "?" for mark in laid_out.pages[0])


def test_all_cautions_at_once_are_all_on_the_paper(paper_fonts: Fonts) -> None:
    written = words(lay_out(with_all_cautions(), HALF_LETTER, paper_fonts))
    assert [key for key, one in cautions().items() if plain(one.bar) not in written] == []


def test_forty_lines_go_on_on_further_pages_and_each_names_the_page_of_the_cautions(
    paper_fonts: Fonts,
) -> None:
    laid_out = lay_out(with_lines(40), A5, paper_fonts)
    pages = [plain(" ".join(mark.text for mark in page)) for page in texts(laid_out)]
    assert len(pages) > 1
    box_page = next(number for number, text in enumerate(pages, start=1) if "Contains none recorded" in text)
    for number, text in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}." in text
        assert (f"Contains and cautions: page {box_page}." in text) == (number != box_page)
    assert words(laid_out).count("1,234.5") == 40


def test_card_that_fits_has_one_page_and_says_nothing_of_pages(paper_fonts: Fonts) -> None:
    laid_out = lay_out(signal_card(), A5, paper_fonts)
    assert len(laid_out.pages) == 1
    assert "Page 1" not in words(laid_out)


def test_contains_box_of_an_ordinary_card_ends_within_the_top_two_thirds(paper_fonts: Fonts) -> None:
    for page in PAGES:
        laid_out = lay_out(card_of(house()), page, paper_fonts)
        frame = next(mark.rect for mark in laid_out.pages[0] if isinstance(mark, FrameMark) and not mark.sign)
        assert frame.bottom() <= page.height_px * 2 / 3


def test_rows_stand_in_the_order_in_which_a_card_is_read(paper_fonts: Fonts) -> None:
    card = signal_card(tastes_like="ripe pear", note="45 seconds.")
    written = words(lay_out(card, A5, paper_fonts))
    order = [
        "Pear Signal", "rocks glass", "pour in this order", "dry white vermouth", "Method", "45 seconds.",
        "Garnish", "Contains", "Alcohol", "Information from", "Tastes like", "Melt", "Keeps",
        "House dates", "Figures are computed",
    ]  # fmt: skip
    places = [written.index(word) for word in order]
    assert places == sorted(places)


def test_brim_and_wash_line_stand_behind_the_glass(paper_fonts: Fonts) -> None:
    assert "wash line 175 ml" in words(lay_out(signal_card(), A5, paper_fonts))


def test_what_the_law_calls_a_low_strength_stands_with_it(paper_fonts: Fonts) -> None:
    card = dataclasses.replace(
        signal_card(), wording="may be called low-alcohol (a law). Check your local rule."
    )
    told = words(lay_out(card, A5, paper_fonts))
    assert plain(f"{card.box.alcohol} {card.wording}") in told


def test_a_bottle_under_pressure_has_its_block_in_the_box(paper_fonts: Fonts) -> None:
    card = dataclasses.replace(signal_card(), pressure=("Keep it cold.", OPENING))
    told = words(lay_out(card, A5, paper_fonts))
    assert f"Pressure Keep it cold. {OPENING}" in told
    assert "Pressure" not in words(lay_out(signal_card(), A5, paper_fonts))


def test_cautions_that_run_on_are_torn_into_paragraphs_that_a_page_can_hold(paper_fonts: Fonts) -> None:
    long = [CautionLine(f"key-{index}", f"{index} {'word ' * 60}end{index}.", ()) for index in range(40)]
    card = signal_card()
    card = dataclasses.replace(card, box=dataclasses.replace(card.box, cautions=tuple(long)))
    laid_out = lay_out(card, A5, paper_fonts)
    told = words(laid_out)
    assert len(laid_out.pages) > 1
    assert all(f"end{index}." in told for index in range(40))
