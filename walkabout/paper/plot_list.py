"""The plots of a trial on paper: which plot gets what, and columns to write measurements in by hand.

A blind trial has two lists, on two sheets of paper even where both sides are printed on: the key, which says what
stands behind each code, for whoever marks the plots; and the list to measure by, on which no treatment stands.
"""

from collections.abc import Sequence

import msgspec

from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.plot_lines import PlotList, PlotRow, list_of
from walkabout.paper.sizes import BLACK, GREY, HEAD, SMALL, TITLE, Paper, line_height
from walkabout.records.model_measured import Trial
from walkabout.round.opened import OpenRoom

ROW = 9.2
"""A row in which a hand can write, mm."""
NUMBER, PLOT, TREATMENT, DAY, REMARK = 8.0, 40.0, 32.0, 19.0, 24.0
"""The columns: number, plot, treatment, each day of measuring, and (at least) what happened, mm."""
KEY_ROW, KEY_PLOT, KEY_CODE = 7.0, 74.0, 12.0
"""The same of the key, on which nobody writes, mm."""
DAYS = 4
"""So many days of measuring stand beside one another, where there is room."""
QR = 25.0
ASK = 9.0
SIZES = (ASK, SMALL, SMALL - 1)
"""Type of a plot's name and its treatment, the biggest first: the first in which it is not cut is taken."""
KEY_TITLE, MEASURE_TITLE = "The key", "To measure"
KEEP_AWAY = "For whoever marks the plots. Whoever measures does not see this page before the trial is over."
NO_NAMES = "Which plot got what does not stand here, so that nobody measures what they hope for."
TYPE_IN = "Type it in on the day: logbook (b), trials (t), then m for its measurements."
"""Where what was written by hand goes: the keys of the program."""
LEFT_EMPTY = "This side stays empty, so that the key and the list to measure by are two sheets of paper."


Columns = Sequence[tuple[float, float, str]]
"""(from the left, width, title) of each column, mm."""


def plot_list(opened: OpenRoom, paper: Paper, trial: Trial) -> bytes:
    """Return the list, of a blind trial both lists, as a PDF."""
    found = list_of(opened, trial)
    title = f"the plots of a trial, {KEY_TITLE.lower()}" if found.blind else "the plots of a trial"
    running = Running(opened.room.name, title, opened.today(), KEEP_AWAY if found.blind else TYPE_IN)
    return pdf_of(lambda pages: _draw(pages, found, running), paper, running, opened.clock())


# drawing


def _draw(pages: Pages, found: PlotList, running: Running) -> None:
    pages.running = running
    if not found.blind:
        _open_list(pages, found)
        return
    _key(pages, found)
    pages.running = Running(running.room, "left empty", running.day)
    if pages.count % 2:
        pages.new_page()
        pages.write(LEFT_EMPTY, SMALL, grey=GREY)
    pages.running = msgspec.structs.replace(
        running, title=f"the plots of a trial, {MEASURE_TITLE.lower()}", foot=NO_NAMES
    )
    pages.new_page()
    _to_measure(pages, found)


def _open_list(pages: Pages, found: PlotList) -> None:
    _head(pages, found, "")
    if not found.kinds:
        _compared(pages, found)
    pages.write(found.drawn, grey=BLACK if found.kinds else GREY)
    _measured(pages, found)
    _table(pages, found, treatments=not found.kinds)


def _key(pages: Pages, found: PlotList) -> None:
    _head(pages, found, KEY_TITLE)
    pages.write(KEEP_AWAY, bold=True)
    pages.gap(2)
    _compared(pages, found)
    pages.write(found.drawn, grey=GREY)
    pages.gap(4)
    code, gets = NUMBER + KEY_PLOT, NUMBER + KEY_PLOT + KEY_CODE
    columns = (
        (0.0, NUMBER, "no."), (NUMBER, KEY_PLOT, "plot"), (code, KEY_CODE, "code"), (gets, pages.width - gets, "gets"),
    )  # fmt: skip
    _titles(pages, columns)
    block = ""
    for row in found.rows:
        block = _block(pages, row, block, columns)
        if pages.need(KEY_ROW):
            _titles(pages, columns)
        named = _named(row)
        fits = pages.measure(pages.clean(named), ASK) <= KEY_PLOT - 2
        cells = (str(row.number), named if fits else row.name, row.code, row.treatment)
        for (x, width, title), says in zip(columns, cells, strict=True):
            pages.put(says, pages.left + x + 0.8, pages.y + 1.2, width - 2, ASK, bold=title == "code", most=1)
        pages.gap(KEY_ROW)
        pages.rule()


def _to_measure(pages: Pages, found: PlotList) -> None:
    _head(pages, found, MEASURE_TITLE)
    pages.write(f"{NO_NAMES} {TYPE_IN}", grey=GREY)
    _measured(pages, found)
    _table(pages, found, treatments=False)


def _head(pages: Pages, found: PlotList, title: str) -> None:
    """Draw the title and the question, with the trial's key as a code at the right."""
    top, beside = pages.y, pages.width - QR - 3
    pages.qr(found.key, pages.right - QR + 2, top - 3, QR)
    pages.put(found.key, pages.right - QR + 2, top + QR - 4, QR, SMALL - 2, grey=GREY, align="C", most=1)
    if title:
        pages.gap(pages.put(title, pages.left, pages.y, beside, TITLE, bold=True, most=1) + 1)
    size = HEAD if title else TITLE - 3
    pages.gap(pages.put(found.question, pages.left, pages.y, beside, size, bold=True, most=5))
    pages.y = max(pages.y + 3, top + QR + 1)


def _compared(pages: Pages, found: PlotList) -> None:
    pages.write("Compared:")
    for name, code in found.treatments:
        is_control = " (the control)" if name == found.control else ""
        pages.write(f"{f'{code}:  ' if code else ''}{name}{is_control}", indent=4)
    pages.gap(1)


def _measured(pages: Pages, found: PlotList) -> None:
    pages.gap(2)
    if not found.kinds:
        pages.write(f"Measured: {found.response}.")
    if found.how.strip():
        pages.write(f"How: {found.how}")
    for says in found.cautions:
        pages.write(f"Take care. {says}", SMALL)
    pages.gap(3)


def _table(pages: Pages, found: PlotList, *, treatments: bool) -> None:
    """Draw the plots in their order, with empty columns: one for each day or kind, and one for what happened."""
    plot = PLOT if treatments else PLOT * 1.25
    front = NUMBER + plot + (TREATMENT if treatments else 0.0)
    left = pages.width - front - REMARK
    titles = found.kinds or _day_titles(found.column, max(1, min(DAYS, int(left // DAY))))
    wide = min(DAY, left / len(titles))
    columns = [(0.0, NUMBER, "no."), (NUMBER, plot, "plot")]
    if treatments:
        columns.append((NUMBER + plot, TREATMENT, "gets"))
    columns += [(front + place * wide, wide, says) for place, says in enumerate(titles)]
    end = front + len(titles) * wide
    columns.append((end, pages.width - end, "what happened"))
    first = len(columns) - len(titles) - 1
    # kinds are counted on one day, all together
    _days(pages, [(front, min(end - front, 2 * DAY), "")] if found.kinds else columns[first:-1])
    _titles(pages, columns)
    block = ""
    for row in found.rows:
        block = _block(pages, row, block, columns)
        if pages.need(ROW):
            _titles(pages, columns)
        _row(pages, row, columns, treatments=treatments)


def _day_titles(column: str, days: int) -> tuple[str, ...]:
    return tuple(f"{number}: {column}" if column else f"{number}" for number in range(1, days + 1))


def _days(pages: Pages, columns: Columns) -> None:
    """Draw the lines for the day of each column, and for who measured."""
    label = pages.left + columns[0][0] - 32
    for says in ("Day", "Measured by (code)"):
        pages.put(says, label, pages.y + 2.2, 30, SMALL, grey=GREY, align="R", most=1)
        for x, width, _ in columns:
            pages.blank(pages.left + x + 1, pages.y + 6.6, width - 3)
        pages.gap(8)
    pages.gap(2)


def _titles(pages: Pages, columns: Columns) -> None:
    for x, width, says in columns:
        pages.put(says, pages.left + x + 0.8, pages.y, width - 1.6, SMALL, grey=GREY, most=1)
    pages.gap(line_height(SMALL) + 0.8)
    pages.rule(0.35, BLACK)


def _block(pages: Pages, row: PlotRow, before: str, columns: Columns) -> str:
    """Draw the name of a block where one begins; return the block that the row stands in."""
    if row.block and row.block != before:
        if pages.need(ROW * 2):
            _titles(pages, columns)
        pages.gap(1.6)
        pages.gap(pages.put(f"Block: {row.block}", pages.left, pages.y, pages.width, SMALL, bold=True, most=1) + 0.6)
        pages.rule()
    return row.block


def _row(pages: Pages, row: PlotRow, columns: Columns, *, treatments: bool) -> None:
    (_, _, _), (x, width, _), *rest = columns
    pages.put(str(row.number), pages.left + 0.8, pages.y + 2.4, NUMBER - 1, ASK, most=1)
    # a long name has both lines for itself: by its end it may be told from the next
    lines, size = _two_lines(pages, row.name, width - 2, bold=True)
    where = row.where if row.where and lines == 1 and not row.name.startswith(row.where) else ""
    low = 0.8 if where or lines > 1 else 2.4
    high = pages.put(row.name, pages.left + x + 0.8, pages.y + low, width - 2, size, bold=True, most=2)
    if where:
        pages.put(where, pages.left + x + 0.8, pages.y + low + high, width - 2, SMALL, grey=GREY, most=1)
    if treatments:
        x, width, _ = rest[0]
        lines, size = _two_lines(pages, row.treatment, width - 2)
        top = pages.y + (0.8 if lines > 1 else 2.4)
        pages.put(row.treatment, pages.left + x + 0.8, top, width - 2, size, most=2)
    for x, _, _ in rest[1 if treatments else 0 :]:
        pages.upright(pages.left + x, pages.y, ROW)
    pages.gap(ROW)
    pages.rule()


def _two_lines(pages: Pages, text: str, width: float, *, bold: bool = False) -> tuple[int, float]:
    """Return how many lines a text takes, two at most, and the biggest type in which it is not cut."""
    for size in SIZES:
        rows = len(pages.lines(text, width, size, bold=bold))
        if rows <= 2:
            return rows, size
    return 2, SIZES[-1]


def _named(row: PlotRow) -> str:
    return f"{row.name}, {row.where}" if row.where and not row.name.startswith(row.where) else row.name
