"""Today's round as pages to fill in by hand: every station in walking order, every question with its boxes.

Beside each line stands its code; with it the answer is typed in later, on the same day or on another.
"""

from walkabout.checklist.model import COUNTED
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sheet_lines import Line, Sheet, Stop, sheet_of
from walkabout.paper.sizes import BLACK, GREY, HEAD, SMALL, TEXT, TITLE, Paper, line_height
from walkabout.round.opened import OpenRoom

CODE = 16.0
"""The column of codes, mm."""
NOT_LOOKED = 25.0
"""The column of 'not looked', mm."""
BOX = 3.6
NOTE_LINES = 3
"""Lines left free for what nobody asked for."""
NUMBER, BESIDE = 24.0, 76.0
"""A line to write a number on, and that line with its unit and good range, mm."""


def round_sheet(opened: OpenRoom, paper: Paper, walker: str = "") -> bytes:
    """Return today's sheet as a PDF."""
    sheet = sheet_of(opened, walker)
    running = Running(
        sheet.room, "the round, on paper", sheet.day, "To type it in: walkabout sheet --type-in --day DAY"
    )
    return pdf_of(lambda pages: _draw(pages, sheet), paper, running, opened.clock())


def _draw(pages: Pages, sheet: Sheet) -> None:
    pages.write(sheet.room, TITLE, bold=True, most=2)
    pages.write(f"The round of {sheet.day:%A} {sheet.day.day} {sheet.day:%B}. {sheet.about}", grey=GREY)
    pages.gap(4)
    _who_and_when(pages, sheet.walker)
    if sheet.stops:
        pages.gap(2)
        pages.write("Tick one box a line; where it says 'all that is seen', as many as there are.", SMALL, grey=GREY)
        pages.write("What nobody looked at is ticked at the right: it comes first tomorrow.", SMALL, grey=GREY)
    for stop in sheet.stops:
        _stop(pages, stop)
    if sheet.later:
        pages.gap(0 if pages.need(45) else 7)
        pages.write("In the course of the day", HEAD, bold=True)
        pages.write("Looks that take an instrument, a count or an adult.", SMALL, grey=GREY)
        for stop in sheet.later:
            _stop(pages, stop)
    _notes(pages)


def _who_and_when(pages: Pages, walker: str) -> None:
    fields = (("Walked by (code)", 34.0, walker), ("Began at", 28.0, ""), ("Ended at", 28.0, ""))
    x, step = pages.left, line_height(TEXT)
    pages.need(step + 3)
    for says, width, filled in fields:
        long = pages.measure(says) + 2
        pages.put(says, x, pages.y, long, most=1)
        pages.blank(x + long, pages.y + step, width)
        pages.put(filled, x + long + 1, pages.y, width, bold=True, most=1)
        x += long + width + 6
    pages.gap(step + 2)


def _stop(pages: Pages, stop: Stop) -> None:
    first = _height(pages, stop.lines[0])
    broke = pages.need(14 + first)
    pages.gap(0 if broke else 6)
    _head(pages, stop, again=False)
    for number, line in enumerate(stop.lines):
        if pages.need(_height(pages, line)) and number:
            _head(pages, stop, again=True)
        _question(pages, line)


def _head(pages: Pages, stop: Stop, *, again: bool) -> None:
    name = f"{stop.name}, continued" if again else stop.name
    grown = pages.lines(stop.grows, pages.width / 2, SMALL, most=1)[0]
    beside = pages.measure(grown, SMALL) + (4 if grown else 0)
    high = line_height(HEAD)
    pages.put(grown, pages.left, pages.y + 1.4, pages.width, SMALL, grey=GREY, align="R", most=1)
    pages.gap(max(high, pages.put(name, pages.left, pages.y, pages.width - beside, HEAD, bold=True, most=2)) + 0.6)
    pages.rule(0.35, BLACK)
    pages.gap(2.2)


def _middle(pages: Pages) -> float:
    return pages.width - CODE - NOT_LOOKED


def _ask(line: Line) -> str:
    many = " (all that is seen)" if line.kind == "signs" else ""
    who = f" ({line.who})" if line.who else ""
    return f"{line.ask}{many}{who}"


def _height(pages: Pages, line: Line) -> float:
    """Return how much height a question takes."""
    asked = len(pages.lines(_ask(line), _middle(pages), bold=True, most=4)) * line_height(TEXT)
    why = len(pages.lines(line.why, _middle(pages), SMALL, most=2)) * line_height(SMALL) if line.why else 0
    if _on_one_row(pages, line):
        return line_height(TEXT) + why + 4.2
    answers = len(_rows(pages, line)) * (line_height(TEXT) + 1.0) if line.choices else line_height(TEXT) + 2.9
    return asked + why + answers + 3.2


def _on_one_row(pages: Pages, line: Line) -> bool:
    """Say whether a number has its place beside its question."""
    return (
        line.kind in COUNTED
        and pages.measure(pages.clean(_ask(line)), bold=True) <= _middle(pages) - BESIDE - 2
        and pages.measure(_unit(line)) <= BESIDE - NUMBER - 2
    )


def _question(pages: Pages, line: Line) -> None:
    x, top = pages.left + CODE, pages.y
    pages.put(line.code, pages.left, top, CODE - 1.5, bold=True, grey=GREY, most=1)
    if _on_one_row(pages, line):
        pages.put(_ask(line), x, top, _middle(pages), bold=True, most=1)
        _number(pages, line, x + _middle(pages) - BESIDE, top)
        _not_looked(pages, line, top)
        pages.gap(line_height(TEXT))
        if line.why:
            pages.gap(pages.put(line.why, x, pages.y, _middle(pages), SMALL, grey=GREY, most=2))
        pages.gap(4.2)
        return
    pages.gap(pages.put(_ask(line), x, top, _middle(pages), bold=True, most=4))
    if line.why:
        pages.gap(pages.put(line.why, x, pages.y, _middle(pages), SMALL, grey=GREY, most=2))
    pages.gap(0.6)
    _not_looked(pages, line, pages.y if line.choices else pages.y + 1.2)
    if line.choices:
        _boxes(pages, line)
    elif line.kind in COUNTED:
        _number(pages, line, x, pages.y + 1.4)
        pages.gap(line_height(TEXT) + 2.9)
    else:
        pages.blank(x, pages.y + line_height(TEXT) + 1.5, _middle(pages) - 6)
        pages.gap(line_height(TEXT) + 2.9)
    pages.gap(2.6)


def _number(pages: Pages, line: Line, x: float, y: float) -> None:
    pages.blank(x, y + line_height(TEXT), NUMBER)
    end = pages.left + CODE + _middle(pages)
    pages.put(_unit(line), x + NUMBER + 2, y, end - x - NUMBER - 2, most=1)


def _unit(line: Line) -> str:
    return "  ".join(filter(None, (line.unit, f"({line.good})" if line.good else "")))


def _not_looked(pages: Pages, line: Line, y: float) -> None:
    key = "n" if line.kind in (*COUNTED, "note") else "0"
    x = pages.right - NOT_LOOKED + 2
    pages.box(x, y + 0.4, BOX)
    pages.put(f"{key} not looked", x + BOX + 1.4, y + 0.5, NOT_LOOKED - BOX - 3.4, SMALL, most=1)


def _rows(pages: Pages, line: Line) -> list[list[tuple[float, list[str]]]]:
    """Return the choices as rows of (x from the first box, lines of text): as many beside one another as fit."""
    width = _middle(pages) - 6
    rows: list[list[tuple[float, list[str]]]] = [[]]
    x = 0.0
    for number, says in enumerate(line.choices, 1):
        text = pages.lines(f"{number}  {says}", width - BOX - 1.6, most=3)
        long = BOX + 1.6 + max(pages.measure(one) for one in text)
        if rows[-1] and x + long > width:
            rows.append([])
            x = 0.0
        rows[-1].append((x, text))
        x += long + 6
        # a choice of several lines has its rows to itself
        rows.extend([] for _ in text[1:])
    return rows


def _boxes(pages: Pages, line: Line) -> None:
    step = line_height(TEXT) + 1.0
    for row in _rows(pages, line):
        for x, text in row:
            left = pages.left + CODE + x
            pages.box(left, pages.y + 0.4, BOX)
            for number, one in enumerate(text):
                pages.put(one, left + BOX + 1.6, pages.y + number * step, _middle(pages), most=1)
        pages.gap(step)


def _notes(pages: Pages) -> None:
    step = line_height(TEXT) + 5
    pages.gap(0 if pages.need(20 + NOTE_LINES * step) else 7)
    pages.write("Anything else that looked wrong", HEAD, bold=True)
    pages.write("Which station, what is seen, since when. It is typed in as a finding: f.", SMALL, grey=GREY)
    for _ in range(NOTE_LINES):
        pages.gap(step)
        pages.blank(pages.left, pages.y, pages.width)
    pages.gap(2)
