"""The page for whoever takes over, on paper: the same as on the screen, with lines to write on.

It names nobody; whom to ask is filled in by hand.
"""

from datetime import datetime

from walkabout.almanac.handover import BLANKS, Handover, Line, Section
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import BLACK, GREY, SMALL, TITLE, Paper, line_height

BODY, SECTION = 9.0, 12.0
MARK = 4.0
"""The column of the mark that warns, mm."""


def handover_page(page: Handover, paper: Paper, now: datetime) -> bytes:
    """Return the page as a PDF, two columns wide."""
    running = Running(page.room, "for whoever takes over", page.day, "! needs care. The school's own rules come first.")
    return pdf_of(lambda pages: _draw(pages, page), paper, running, now)


def _draw(pages: Pages, page: Handover) -> None:
    pages.write(page.room, TITLE, bold=True, most=2)
    until = f"{page.until:%A} {page.until.day} {page.until:%B}"
    pages.write(f"For whoever looks after it, from {page.day:%A} {page.day.day} {page.day:%B} to {until}", grey=GREY)
    pages.gap(4)
    pages.columns(2)
    for section in page.sections:
        _section(pages, section)


def _section(pages: Pages, section: Section) -> None:
    first = _height(pages, section.lines[0]) if section.lines else 0
    pages.need(line_height(SECTION) + 6 + min(first, 40))
    pages.write(section.title, SECTION, bold=True)
    pages.gap(0.6)
    pages.rule(0.35, BLACK)
    pages.gap(1.6)
    for line in section.lines:
        _line(pages, line)
    pages.gap(3.4)


def _height(pages: Pages, line: Line) -> float:
    rows = len(pages.lines(line.says, pages.width - MARK, BODY, bold=bool(line.under)))
    under = sum(len(pages.lines(one, pages.width - 2 * MARK, SMALL)) for one in line.under)
    return rows * line_height(BODY) + under * line_height(SMALL) + 1.4


def _line(pages: Pages, line: Line) -> None:
    blank = next((one for one in BLANKS if line.says.startswith(f"{one}:") and not line.says.strip(f"{one}:_ ")), None)
    if blank is not None:
        _to_fill_in(pages, blank)
        return
    # a line and what belongs to it stay together, if they are not longer than half a page
    pages.need(min(_height(pages, line), 110))
    if line.warns:
        pages.put("!", pages.left, pages.y, MARK, BODY, bold=True)
    pages.write(line.says, BODY, bold=bool(line.under), indent=MARK)
    for one in line.under:
        deeper = one.startswith("  ")
        pages.write(one.strip(), SMALL, indent=2 * MARK if deeper else MARK)
    pages.gap(1.4)


def _to_fill_in(pages: Pages, says: str) -> None:
    pages.need(12)
    pages.put(says, pages.left, pages.y, pages.width, SMALL, grey=GREY, most=1)
    pages.gap(9.5)
    pages.blank(pages.left, pages.y, pages.width)
    pages.gap(1.6)
