"""The page for whoever takes over, on paper: the same as on the screen, with lines to write on.

It names nobody; whom to ask is filled in by hand.
"""

from contextlib import closing
from datetime import datetime

from walkabout.almanac.handover import BLANKS, Handover, Line, Section
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import BLACK, GREY, SMALL, TITLE, Paper, line_height

SECTION = 12.0
SIZES = ((9.0, SMALL), (8.5, 7.5))
"""Type of a line and of what stands under it, points, the bigger first: the smaller where that saves a third page."""
SHEET = 2
"""Pages: both sides of one sheet, to hang on a door."""
FILL_IN = 12.0
"""The height of a line to write on, with what belongs there above it, mm."""
Sizes = tuple[float, float]
MARK = 4.0
"""The column of the mark that warns, mm."""


def handover_page(page: Handover, paper: Paper, now: datetime) -> bytes:
    """Return the page as a PDF, two columns wide."""
    running = Running(page.room, "for whoever takes over", page.day, "! needs care. The school's own rules come first.")
    sizes = next((one for one in SIZES if _pages(page, paper, running, one) <= SHEET), SIZES[0])
    return pdf_of(lambda pages: _draw(pages, page, sizes), paper, running, now)


def _pages(page: Handover, paper: Paper, running: Running, sizes: Sizes) -> int:
    with closing(Pages(paper, running)) as pages:
        _draw(pages, page, sizes)
        return pages.count


def _draw(pages: Pages, page: Handover, sizes: Sizes) -> None:
    pages.write(page.room, TITLE, bold=True, most=2)
    until = f"{page.until:%A} {page.until.day} {page.until:%B}"
    pages.write(f"For whoever looks after it, from {page.day:%A} {page.day.day} {page.day:%B} to {until}", grey=GREY)
    pages.gap(4)
    pages.columns(2)
    # on paper whom to ask stands first: it is filled in before the page is hung up, and looked for in a hurry
    for section in sorted(page.sections, key=lambda one: not _to_ask(one)):
        _section(pages, section, sizes)


def _to_ask(section: Section) -> bool:
    return all(_blank_of(line) for line in section.lines)


def _section(pages: Pages, section: Section, sizes: Sizes) -> None:
    first = _height(pages, section.lines[0], sizes) if section.lines else 0
    # whom to ask is filled in at once, so it stands in one place
    blanks = FILL_IN * len(section.lines) if _to_ask(section) else 0
    pages.need(line_height(SECTION) + 6 + max(min(first, 40), blanks))
    pages.write(section.title, SECTION, bold=True)
    pages.gap(0.6)
    pages.rule(0.35, BLACK)
    pages.gap(1.6)
    for line in section.lines:
        _line(pages, line, sizes)
    pages.gap(3.4)


def _height(pages: Pages, line: Line, sizes: Sizes) -> float:
    body, small = sizes
    rows = len(pages.lines(line.says, pages.width - MARK, body, bold=bool(line.under)))
    under = sum(len(pages.lines(one, pages.width - 2 * MARK, small)) for one in line.under)
    return rows * line_height(body) + under * line_height(small) + 1.4


def _line(pages: Pages, line: Line, sizes: Sizes) -> None:
    blank = _blank_of(line)
    if blank:
        _to_fill_in(pages, blank)
        return
    # a line and what belongs to it stay together, if they are not longer than half a page
    body, small = sizes
    pages.need(min(_height(pages, line, sizes), 110))
    if line.warns:
        pages.put("!", pages.left, pages.y, MARK, body, bold=True)
    pages.write(line.says, body, bold=bool(line.under), indent=MARK)
    for one in line.under:
        deeper = one.startswith("  ")
        pages.write(one.strip(), small, indent=2 * MARK if deeper else MARK)
    pages.gap(1.4)


def _blank_of(line: Line) -> str:
    """Return what is to be filled in by hand, '' for a line that says something."""
    return next((one for one in BLANKS if line.says.startswith(f"{one}:") and not line.says.strip(f"{one}:_ ")), "")


def _to_fill_in(pages: Pages, says: str) -> None:
    pages.need(FILL_IN)
    pages.put(says, pages.left, pages.y, pages.width, SMALL, grey=GREY, most=1)
    pages.gap(9.5)
    pages.blank(pages.left, pages.y, pages.width)
    pages.gap(1.6)
