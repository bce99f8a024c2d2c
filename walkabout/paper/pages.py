"""Pages of paper: sizes, margins, type, and what is drawn on them. Lengths in mm from the top left, type in points.

Everything is black or dark grey on white, so that a photocopy reads as well. Typed text is only ever drawn, one line
at a time: nothing in it is read as markup.
"""

from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from walkabout import __version__
from walkabout.paper.lettering import needs_shaping, on_paper, runs_from_left, wrapped
from walkabout.paper.sizes import BLACK, BOTTOM, GREY, RULE, SIDE, SMALL, TEXT, TOP, Paper, day_words, line_height

if TYPE_CHECKING:
    from fpdf import FPDF
    from fpdf.fonts import TTFFont

MADE_BY = "walkabout"
"""What the file says of who made it: by it a file of this program is known again."""
FAMILY = "type"
FONTS = Path(__file__).with_name("fonts")
QUIET = 4
"""Modules of white around a QR code; ISO/IEC 18004."""


class Running(Struct, frozen=True):
    """What stands at the head and foot of every page; `room` empty for a page without them."""

    room: str
    title: str
    day: date
    foot: str = ""


class Pages:
    """The pages of one document, and the place on them where the next thing goes."""

    def __init__(self, paper: Paper, running: Running, total: int = 0, *, turned: bool = False) -> None:
        """`total` is how many pages there will be, 0 while nobody knows; `turned` lays the paper on its side."""
        width, height = (paper.height, paper.width) if turned else (paper.width, paper.height)
        self.pdf = _document(width, height)
        self.running = running
        self.total = total
        self.height = height
        self._full = (SIDE, width - SIDE)
        self._columns, self._column, self._gutter, self._from = 1, 0, 0.0, TOP
        self._shapes = frozenset.intersection(*(frozenset(one.cmap) for one in _type_of(self.pdf)))
        self._widths: dict[tuple[str, float, bool], float] = {}
        self.y = TOP
        self.new_page()

    def close(self) -> None:
        """Let go of the files that hold the type."""
        for one in _type_of(self.pdf):
            one.close()

    # where things go

    @property
    def width(self) -> float:
        """How wide a line may be."""
        return (self._full[1] - self._full[0] - self._gutter * (self._columns - 1)) / self._columns

    @property
    def left(self) -> float:
        """Where a line begins."""
        return self._full[0] + self._column * (self.width + self._gutter)

    @property
    def right(self) -> float:
        """Where a line ends."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """Below this nothing but the foot is drawn."""
        return self.height - BOTTOM

    @property
    def count(self) -> int:
        """How many pages there are so far."""
        return self.pdf.page_no()

    def new_page(self) -> None:
        """Begin a page, with its head and foot."""
        self.pdf.add_page()
        self._column, self._from, self.y = 0, TOP, TOP
        if self.running.room:
            self._run()

    def columns(self, count: int, gutter: float = 8.0) -> None:
        """From here on, fill so many columns beside one another."""
        self._columns, self._column, self._gutter, self._from = count, 0, gutter, self.y

    def need(self, height: float) -> bool:
        """Go to the next column or page where `height` is not left here; say whether it did."""
        if self.y + height <= self.bottom or (self.y <= self._from and self._from <= TOP):
            return False
        if self._column + 1 < self._columns:
            self._column += 1
            self.y = self._from
        else:
            self.new_page()
        return True

    def gap(self, height: float) -> None:
        """Leave some white."""
        self.y += height

    # text

    def clean(self, text: str) -> str:
        """Return a text as it can be printed."""
        return on_paper(text, self._shapes)

    def measure(self, text: str, size: float = TEXT, *, bold: bool = False) -> float:
        """Return how wide a cleaned text is."""
        key = (text, size, bold)
        if key not in self._widths:
            with self._set(text, size, bold=bold):
                self._widths[key] = self.pdf.get_string_width(text)
        return self._widths[key]

    def lines(self, text: str, width: float, size: float = TEXT, *, bold: bool = False, most: int = 0) -> list[str]:
        """Return the lines that a text takes."""
        return wrapped(self.clean(text), width, lambda one: self.measure(one, size, bold=bold), most)

    def put(
        self,
        text: str,
        x: float,
        y: float,
        width: float,
        size: float = TEXT,
        *,
        bold: bool = False,
        grey: int = BLACK,
        align: Literal["L", "C", "R"] = "L",
        most: int = 0,
    ) -> float:
        """Draw a text with its top left corner at x, y, within `width`; return the height that it took."""
        step = line_height(size)
        rows = self.lines(text, width, size, bold=bold, most=most)
        for number, row in enumerate(rows):
            with self._set(row, size, bold=bold):
                self.pdf.set_text_color(grey)
                self.pdf.set_xy(x, y + number * step)
                self.pdf.cell(width, step, row, align=align)
        return step * len(rows)

    def write(
        self,
        text: str,
        size: float = TEXT,
        *,
        bold: bool = False,
        grey: int = BLACK,
        indent: float = 0,
        align: Literal["L", "C", "R"] = "L",
        most: int = 0,
    ) -> None:
        """Draw a text where the last thing ended; one that is longer than the page goes on over the next."""
        for row in self.lines(text, self.width - indent, size, bold=bold, most=most):
            self.need(line_height(size))
            width = self.width - indent
            self.put(row, self.left + indent, self.y, width, size, bold=bold, grey=grey, align=align, most=1)
            self.y += line_height(size)

    # figures

    def box(self, x: float, y: float, side: float = 3.6) -> None:
        """Draw a box to tick."""
        self._line_width(0.3)
        self.pdf.rect(x, y, side, side)

    def blank(self, x: float, y: float, width: float) -> None:
        """Draw a line to write on."""
        self._line_width(0.25)
        self.pdf.line(x, y, x + width, y)

    def rule(self, width: float = 0.2, grey: int = RULE) -> None:
        """Draw a line across, where the last thing ended."""
        self._line_width(width, grey)
        self.pdf.line(self.left, self.y, self.right, self.y)

    def upright(self, x: float, y: float, height: float) -> None:
        """Draw a thin line down, between two columns to write in."""
        self._line_width(0.2, RULE)
        self.pdf.line(x, y, x, y + height)

    def frame(self, x: float, y: float, width: float, height: float, *, dashed: bool = False) -> None:
        """Draw a frame, dashed where it is to be cut along."""
        self._line_width(0.2, RULE)
        if dashed:
            self.pdf.set_dash_pattern(dash=1.2, gap=1.6)
        self.pdf.rect(x, y, width, height)
        self.pdf.set_dash_pattern()

    def bar(self, x: float, y: float, width: float, height: float, grey: int = GREY) -> None:
        """Draw a filled bar."""
        if width > 0 and height > 0:
            self.pdf.set_fill_color(grey)
            self.pdf.rect(x, y, width, height, style="F")

    def outline(self, x: float, y: float, width: float, height: float) -> None:
        """Draw a hollow bar."""
        if width > 0 and height > 0:
            self._line_width(0.25)
            self.pdf.rect(x, y, width, height)

    def qr(self, text: str, x: float, y: float, side: float) -> bool:
        """Draw a QR code with its white around it in a square; say whether the text fits into one.

        Error correction Q: a quarter of it may be covered by soil or a drop.
        """
        import segno  # noqa: PLC0415 - only paper needs it

        try:
            sound = text.encode("utf-8", "replace").decode("utf-8")
            code = segno.make(sound, error="q", micro=False, boost_error=False)
        except ValueError:
            return False
        rows = [bytes(row) for row in code.matrix]
        module = side / (len(rows) + 2 * QUIET)
        self.pdf.set_fill_color(BLACK)
        for number, row in enumerate(rows):
            for begin, length in _runs(row):
                left, top = x + (begin + QUIET) * module, y + (number + QUIET) * module
                # a hair of overlap, so that no viewer shows white between two rows
                self.pdf.rect(left, top, length * module, module * 1.03, style="F")
        return True

    # within

    def _run(self) -> None:
        """Draw the head and the foot of a page."""
        left, right = self._full
        width = right - left
        day = day_words(self.running.day)
        beside = self.measure(self.clean(day), SMALL) + 4
        self.put(f"{self.running.room}: {self.running.title}", left, 11, width - beside, SMALL, grey=GREY, most=1)
        self.put(day, left, 11, width, SMALL, grey=GREY, align="R", most=1)
        self._line_width(0.2, RULE)
        self.pdf.line(left, 16, right, 16)
        of = f" of {self.total}" if self.total else ""
        foot = self.height - 13
        self.put(self.running.foot, left, foot, width - 30, SMALL, grey=GREY, most=1)
        self.put(f"page {self.count}{of}", left, foot, width, SMALL, grey=GREY, align="R", most=1)

    def _line_width(self, width: float, grey: int = BLACK) -> None:
        self.pdf.set_draw_color(grey)
        self.pdf.set_line_width(width)

    @contextmanager
    def _set(self, text: str, size: float, *, bold: bool) -> Iterator[None]:
        """Choose the type, with the joining of letters for the time being where the text needs it."""
        self.pdf.set_font(FAMILY, style="B" if bold else "", size=size)
        shaped = needs_shaping(text)
        if shaped:
            self.pdf.set_text_shaping(use_shaping_engine=True, direction="ltr" if runs_from_left(text) else None)
        try:
            yield
        finally:
            if shaped:
                self.pdf.set_text_shaping(use_shaping_engine=False)


def pdf_of(
    draw: Callable[[Pages], None], paper: Paper, running: Running, now: datetime, *, turned: bool = False
) -> bytes:
    """Return a document: drawn once to count its pages, and once more with their number on them."""
    with closing(Pages(paper, running, turned=turned)) as first:
        draw(first)
        total = first.count
    with closing(Pages(paper, running, total, turned=turned)) as pages:
        draw(pages)
        pages.pdf.set_title(pages.clean(f"{running.room}: {running.title}" if running.room else running.title))
        pages.pdf.set_creator(f"{MADE_BY} {__version__}")
        pages.pdf.set_creation_date(now)
        pages.pdf.set_lang("en-GB")
        return bytes(pages.pdf.output())


def _document(width: float, height: float) -> "FPDF":
    from fpdf import FPDF  # noqa: PLC0415 - only paper needs it

    pdf = FPDF(unit="mm", format=(width, height))
    pdf.set_auto_page_break(auto=False)
    pdf.set_margin(0)
    pdf.c_margin = 0
    pdf.alias_nb_pages("")  # else a text that somebody typed could become the number of pages
    pdf.add_font(FAMILY, "", FONTS / "DejaVuSansCondensed.ttf")
    pdf.add_font(FAMILY, "B", FONTS / "DejaVuSansCondensed-Bold.ttf")
    pdf.set_font(FAMILY, size=TEXT)
    return pdf


def _type_of(pdf: "FPDF") -> "list[TTFFont]":
    """Return the plain and the bold type of a document."""
    from fpdf.fonts import TTFFont  # noqa: PLC0415 - only paper needs it

    return [one for one in pdf.fonts.values() if isinstance(one, TTFFont)]


def _runs(row: bytes) -> Iterator[tuple[int, int]]:
    """Yield where dark modules begin in a row, and how many there are."""
    begin = 0
    while (begin := row.find(1, begin)) >= 0:
        end = row.find(0, begin)
        end = len(row) if end < 0 else end
        yield begin, end - begin
        begin = end
