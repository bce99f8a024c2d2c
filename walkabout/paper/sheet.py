"""Today's round as pages to fill in by hand: every station in walking order, every question with its boxes.

Two columns to a page, so that a room of eight stations takes three or four pages. Beside each line stands its code;
with it the answer is typed in later, on the same day or on another.
"""

from walkabout.checklist.model import COUNTED
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sheet_lines import Line, Sheet, Stop, sheet_of
from walkabout.paper.sizes import BLACK, GREY, HEAD, SMALL, TEXT, TITLE, Paper, line_height
from walkabout.round.opened import OpenRoom

GUTTER = 8.0
"""Between the two columns, mm."""
ASK, STOP = 9.0, 11.5
"""The type of questions and answers, and of a station's name, points."""
CODE = 13.0
"""The column of codes, mm."""
NOT_LOOKED = 9.0
"""The column of boxes for 'not looked', mm."""
BOX, BESIDE_BOX = 3.4, 4.8
"""A box, and where the text beside it begins, mm."""
ROW = line_height(ASK) + 0.9
"""From one row of boxes to the next."""
NUMBER = 19.0
"""A line to write a number on, mm."""
WRITE = 7.4
"""The height that handwriting takes, mm."""
AFTER = 2.0
"""The white below a question, mm."""
NOTE_LINES, FEW_LINES = 4, 2
"""Lines left free for what nobody asked for; a few are enough where more would take a page to themselves."""


def round_sheet(opened: OpenRoom, paper: Paper, walker: str = "") -> bytes:
    """Return today's sheet as a PDF."""
    sheet = sheet_of(opened, walker)
    running = Running(
        sheet.room, "the round, on paper", sheet.day, f"To type it in: walkabout sheet --type-in --day {sheet.day}"
    )
    return pdf_of(lambda pages: _draw(pages, sheet), paper, running, opened.clock())


def _draw(pages: Pages, sheet: Sheet) -> None:
    pages.write(sheet.room, TITLE, bold=True, most=2)
    pages.write(f"The round of {sheet.day:%A} {sheet.day.day} {sheet.day:%B}. {sheet.about}", grey=GREY)
    pages.gap(3)
    _who_and_when(pages, sheet.walker)
    if sheet.stops or sheet.later:
        pages.gap(1)
        for says in (
            "Tick one box a line; where it says 'all that is seen', as many as there are.",
            "What nobody looked at is ticked in the column at the right: it comes first tomorrow.",
        ):
            pages.write(says, SMALL, grey=GREY)
    pages.gap(4)
    pages.columns(2, GUTTER)
    for stop in sheet.stops:
        _stop(pages, stop)
    if sheet.later:
        first = sheet.later[0]
        pages.need(16 + _head_height(pages, first) + _height(pages, first.lines[0]))
        pages.write("In the course of the day", HEAD, bold=True)
        pages.write("Looks that take an instrument, a count or an adult.", SMALL, grey=GREY)
        pages.gap(3)
        for stop in sheet.later:
            _stop(pages, stop)
    _notes(pages)


def _who_and_when(pages: Pages, walker: str) -> None:
    fields = (("Walked by (code)", 34.0, walker), ("Began at", 28.0, ""), ("Ended at", 28.0, ""))
    x, step = pages.left, line_height(TEXT)
    for says, width, filled in fields:
        long = pages.measure(says) + 2
        pages.put(says, x, pages.y, long, most=1)
        pages.blank(x + long, pages.y + step, width)
        pages.put(filled, x + long + 1, pages.y, width, bold=True, most=1)
        x += long + width + 6
    pages.gap(step + 2)


# a station


def _stop(pages: Pages, stop: Stop) -> None:
    pages.need(_head_height(pages, stop) + _height(pages, stop.lines[0]))
    _head(pages, stop, again=False)
    for number, line in enumerate(stop.lines):
        if pages.need(_height(pages, line)) and number:
            _head(pages, stop, again=True)
        _question(pages, line)
    pages.gap(2.6)


def _head_height(pages: Pages, stop: Stop) -> float:
    return _head_lines(pages, stop.name) * line_height(STOP) + (line_height(SMALL) if stop.grows else 0) + 2.6


def _head_lines(pages: Pages, name: str) -> int:
    return len(pages.lines(name, _beside_not_looked(pages), STOP, bold=True, most=2))


def _beside_not_looked(pages: Pages) -> float:
    return pages.width - pages.measure("not looked", SMALL) - 3


def _head(pages: Pages, stop: Stop, *, again: bool) -> None:
    """Draw the name of a station, what grows there, and the name of the column at the right."""
    name = f"{stop.name}, continued" if again else stop.name
    high = pages.put(name, pages.left, pages.y, _beside_not_looked(pages), STOP, bold=True, most=2)
    pages.put("not looked", pages.left, pages.y + 1.2, pages.width, SMALL, grey=GREY, align="R", most=1)
    pages.gap(high)
    if stop.grows and not again:
        pages.gap(pages.put(stop.grows, pages.left, pages.y, pages.width, SMALL, grey=GREY, most=1))
    pages.gap(0.6)
    pages.rule(0.35, BLACK)
    pages.gap(2.0)


# a question


def _middle(pages: Pages) -> float:
    return pages.width - CODE - NOT_LOOKED


def _ask(line: Line) -> str:
    many = " (all that is seen)" if line.kind == "signs" else ""
    who = f" ({line.who})" if line.who else ""
    return f"{line.ask}{many}{who}"


def _height(pages: Pages, line: Line) -> float:
    """Return how much height a question takes."""
    asked = len(pages.lines(_ask(line), pages.width - CODE, ASK, bold=True, most=4)) * line_height(ASK)
    why = len(pages.lines(line.why, pages.width - CODE, SMALL, most=3)) * line_height(SMALL) if line.why else 0
    answers = len(_rows(pages, line)) * ROW if line.choices else WRITE + _below(pages, line)
    return asked + why + 0.6 + answers + AFTER


def _question(pages: Pages, line: Line) -> None:
    x, wide = pages.left + CODE, pages.width - CODE
    pages.put(line.code, pages.left, pages.y, CODE - 0.6, ASK, bold=True, grey=GREY, most=1)
    pages.gap(pages.put(_ask(line), x, pages.y, wide, ASK, bold=True, most=4))
    if line.why:
        pages.gap(pages.put(line.why, x, pages.y, wide, SMALL, grey=GREY, most=3))
    pages.gap(0.6)
    first = pages.y if line.choices else pages.y + WRITE - BOX - 0.8
    if line.choices:
        _boxes(pages, line)
    else:
        long = NUMBER if line.kind in COUNTED else _middle(pages) - 3
        foot = pages.y + WRITE - 0.8
        pages.blank(x, foot, long)
        beside = x + long + 2
        below = _below(pages, line)
        says = line.unit if below else _unit(line)
        pages.put(says, beside, foot - line_height(ASK), _beside_number(pages), ASK, most=1)
        if below:
            pages.put(line.good, x, foot + 0.4, _middle(pages), SMALL, grey=GREY, most=1)
        pages.gap(WRITE + below)
    # drawn after the answers, so that it is read after them too
    _not_looked(pages, line, first)
    pages.gap(AFTER)


def _beside_number(pages: Pages) -> float:
    return _middle(pages) - NUMBER - 2


def _below(pages: Pages, line: Line) -> float:
    """Return the height of a line of its own for what is good: 0 where it fits beside the unit."""
    fits = line.kind not in COUNTED or pages.measure(pages.clean(_unit(line)), ASK) <= _beside_number(pages)
    return 0.0 if fits else line_height(SMALL)


def _unit(line: Line) -> str:
    return "  ".join(filter(None, (line.unit, f"({line.good})" if line.good else "")))


def _not_looked(pages: Pages, line: Line, y: float) -> None:
    """Draw the box for what nobody looked at, with the key that is typed for it."""
    key = "n" if line.kind in (*COUNTED, "note") else "0"
    x = pages.right - BOX
    pages.put(key, x - 3.6, y, 2.6, ASK, align="R", most=1)
    pages.box(x, y + 0.3, BOX)


def _rows(pages: Pages, line: Line) -> list[list[tuple[float, list[str]]]]:
    """Return the choices as rows of (x from the first box, lines of text): as many beside one another as fit."""
    width = _middle(pages) - 1
    rows: list[list[tuple[float, list[str]]]] = [[]]
    x, full = 0.0, False
    for number, says in enumerate(line.choices, 1):
        text = pages.lines(f"{number}  {says}", width - BESIDE_BOX, ASK, most=3)
        long = BESIDE_BOX + max(pages.measure(one, ASK) for one in text)
        # a choice of several lines has its rows to itself
        if full or (rows[-1] and (x + long > width or len(text) > 1)):
            rows.append([])
            x = 0.0
        rows[-1].append((x, text))
        x += long + 4
        full = len(text) > 1
        rows.extend([] for _ in text[1:])
    return rows


def _boxes(pages: Pages, line: Line) -> None:
    for row in _rows(pages, line):
        for x, text in row:
            left = pages.left + CODE + x
            pages.box(left, pages.y + 0.3, BOX)
            for number, one in enumerate(text):
                pages.put(one, left + BESIDE_BOX, pages.y + number * ROW, _middle(pages), ASK, most=1)
        pages.gap(ROW)


def _notes(pages: Pages) -> None:
    left = int((pages.bottom - pages.y - 12) // WRITE)
    many = left if FEW_LINES <= left < NOTE_LINES else NOTE_LINES
    pages.need(12 + many * WRITE)
    pages.write("Anything else that looked wrong", STOP, bold=True)
    pages.write("Which station, what is seen, since when. Type it in as a finding: f.", SMALL, grey=GREY)
    for _ in range(many):
        pages.gap(WRITE)
        pages.blank(pages.left, pages.y, pages.width)
    pages.gap(2)
