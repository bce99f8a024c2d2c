"""Everything on both sizes of paper: every letter stands inside, and the pages are few."""

from datetime import date

import pytest

from tests.paper.made import MAKES, MOST_PAGES, harvested
from tests.paper.printed import codes, outside, over_the_foot, reader, sizes, texts
from tests.rooms import NOW
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sheet import round_sheet
from walkabout.paper.sizes import A4, PAPERS, Paper
from walkabout.round.opened import OpenRoom

RUNNING = Running("Fernhollow", "a try", date(2026, 11, 25))


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
@pytest.mark.parametrize("what", MAKES)
def test_size_margins_and_count(opened: OpenRoom, what: str, paper: Paper) -> None:
    """Each page has the size of the paper, every letter stands inside it, and there are no more pages than expected."""
    data = MAKES[what](harvested(opened), paper)

    turned = what == "certificate"
    assert sizes(data) == {(paper.height, paper.width) if turned else (paper.width, paper.height)}
    assert outside(data) == []
    assert over_the_foot(data, paper) == [] or turned
    assert 1 <= len(reader(data).pages) <= MOST_PAGES[what]


def test_head_and_foot() -> None:
    """Each page says room, title and day, and which of how many it is."""
    data = pdf_of(lambda pages: pages.write("word " * 3000), A4, RUNNING, NOW)

    count = len(reader(data).pages)
    assert count > 1
    for number, says in enumerate(texts(data), 1):
        assert "Fernhollow: a try" in says
        assert "Wednesday 25 November 2026" in says
        assert f"page {number} of {count}" in says


def test_a_code_that_is_too_long_is_left_out() -> None:
    """A text that fits into no QR code is refused, and one with letters of any script is read back as it was."""
    fits: list[bool] = []

    def draw(pages: Pages) -> None:
        fits.append(pages.qr("x" * 5000, 20, 30, 30))
        fits.append(pages.qr("büro \u690d", 60, 30, 40))

    assert codes(pdf_of(draw, A4, RUNNING, NOW)) == ["büro \u690d"]
    assert fits[:2] == [False, True]


def test_the_same_room_gives_the_same_file(opened: OpenRoom) -> None:
    """Two sheets of the same morning are the same, byte for byte."""
    assert round_sheet(opened, A4) == round_sheet(opened, A4)
