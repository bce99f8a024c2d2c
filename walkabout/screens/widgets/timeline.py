"""The weeks across and the stations down: pure functions from an almanac and a width to lines of text.

A bar is heavy up to today and light after it, double while it can be picked, and crossed where a stage begins;
a closure is shaded in every line, and what stands in it is in another colour.
"""

from collections.abc import Sequence
from datetime import date, timedelta

from msgspec import Struct
from rich.cells import cell_len
from textual.content import Content

from walkabout.almanac.model import Almanac
from walkabout.screens.text import fitted, plain
from walkabout.screens.widgets.bars import WEEK, Bar, Window, bars, lanes, monday, moving, placed, words_at
from walkabout.screens.widgets.linecells import RAISED, Cell, blank, joined, over, put
from walkabout.screens.widgets.pointed import cells
from walkabout.screens.widgets.stagewords import OUTLOOKS, day_long, day_short, picked_since

POINTER = 2
HEADING = 2
"""Lines above the stations."""
SLIPPING = ("tight", "at risk", "cannot")


class Drawn(Struct, frozen=True):
    """One line, and the station it belongs to; '' for one that belongs to none."""

    content: Content
    station: str = ""


class Paper(Struct, frozen=True):
    """What every line is drawn on."""

    almanac: Almanac
    view: Window
    chosen: date
    today: date
    closed: frozenset[int]
    """The cells of days on which nobody comes."""

    def line(self) -> list[Cell]:
        """Return an empty line: closures shaded, the chosen week on a raised ground, a stroke for today."""
        view, start = self.view, self.view.at(monday(self.chosen))
        line = blank(view.days)
        for at in range(view.days):
            shade = ("░", "$muted") if at in self.closed else (" ", "")
            line[at] = (shade[0], f"{shade[1]} {RAISED}".strip() if start <= at < start + WEEK else shade[1])
        if view.shows(self.today):
            put(line, view.at(self.today), "│", "$accent-text")
        return line


def paper(almanac: Almanac, view: Window, chosen: date, today: date) -> Paper:
    """Return what the lines are drawn on."""
    found: set[int] = set()
    for first, last in [
        *((one.day, one.last or one.day) for one in almanac.entries if one.kind == "closure"),
        *((one.first, one.last) for one in almanac.closures),
    ]:
        found |= set(range(max(view.at(first), 0), min(view.at(last) + 1, view.days)))
    return Paper(almanac, view, chosen, today, frozenset(found))


def heading(view: Window, chosen: date, today: date) -> list[Content]:
    """Return the dates of the Mondays, and below them the mark of today and the stroke under the chosen week."""
    dates, marks = blank(view.days), blank(view.days)
    for week in range(view.weeks):
        day = view.first + timedelta(weeks=week)
        here = day == monday(chosen)
        says = day_short(day) if week == 0 or day.day <= WEEK else str(day.day)
        put(dates, week * WEEK, says, "$accent-text bold" if here else "$muted")
    put(marks, view.at(monday(chosen)), "─" * WEEK, "$accent-text")
    put(marks, view.at(today), "▾", "$accent-text bold")
    empty = plain(" " * view.names)
    return [empty.append(joined(dates)), empty.append(joined(marks))]


def body(on: Paper, station: str, height: int) -> list[Drawn]:
    """Return the stations' lines, at most `height` of them, those of the chosen station among them.

    Where there is not room for all, the other stations keep one line each and say how many they hide; where
    there still is not, the lines around the chosen one are kept.
    """
    named = [*_stations(on), *_foot(on)]
    tight = sum(len(lines) for _, _, lines in named) > height
    groups = [
        (key, _named(lines, name, on.view, here=bool(key) and key == station, tight=tight))
        for key, name, lines in named
    ]
    drawn = [Drawn(line, key) for key, lines in groups for line in lines]
    if len(drawn) <= height:
        return drawn
    mine = [at for at, one in enumerate(drawn) if station and one.station == station] or [0]
    first = min(max(mine[0] - (height - len(mine)) // 2, 0), len(drawn) - height)
    shown = drawn[first : first + height]
    if first and mine[0] > first:
        shown[0] = Drawn(plain(f"  ↑ {_stations_in(drawn[: first + 1])} more", "$muted"))
    left_out = _stations_in(drawn[first + height - 1 :])
    if first + height < len(drawn) and mine[-1] < first + height - 1:
        more = f"  ↓ {left_out} more" if left_out else "  ↓ more"
        shown[-1] = Drawn(plain(more, "$muted"))
    return shown


def _stations_in(drawn: Sequence[Drawn]) -> int:
    return len({one.station for one in drawn if one.station})


def _stations(on: Paper) -> list[tuple[str, str, list[Content]]]:
    moves, promises = moving(on.almanac), placed(on.almanac)
    groups = []
    for row in on.almanac.rows:
        here = bars(row, on.view, on.today, moves, promises)
        lines = [_lane(on, lane) for lane in lanes(here, on.view) or [[]]]
        slips = (one.promise for one in here if one.promise is not None and one.promise.outlook in SLIPPING)
        lines += [_remark(on, one.promise.day, one.says, OUTLOOKS[one.outlook][1]) for one in slips]
        groups.append((row.station, row.name, lines))
    return groups


def _named(lines: list[Content], name: str, view: Window, *, here: bool, tight: bool) -> list[Content]:
    """Put a name left of the first line; where it is tight, that line is all, and says how many it hides."""
    hidden = len(lines) - 1 if tight and not here else 0
    more = f" +{hidden}" if hidden else ""
    room = view.names - POINTER - 1 - len(more)
    words = plain(cells(name, room), "bold" if here else "").append(plain(more, "$accent-text"))
    pointer, empty = plain("▸ " if here else "  ", "$accent-text bold"), plain(" " * view.names)
    first = Content("").join([pointer, words, plain(" "), lines[0]])
    return [first, *(empty.append(one) for one in lines[1 : len(lines) - hidden])]


def _lane(on: Paper, lane: Sequence[Bar]) -> Content:
    line = on.line()
    for bar in lane:
        _draw(line, bar, on)
    if on.view.shows(on.today):
        put(line, on.view.at(on.today), "│", "$accent-text")
    for bar in lane:
        start, says = words_at(bar, on.view)
        if says:
            well = bar.promise is None or bar.promise.outlook not in SLIPPING
            put(line, start - 1, f" {says}", "$muted" if well else "$watch")
            put(line, start + cell_len(says), " ")
        if bar.promise is not None:
            put(line, on.view.at(bar.promise.promise.day), *OUTLOOKS[bar.promise.outlook][:2])
    return joined(line)


def _draw(line: list[Cell], bar: Bar, on: Paper) -> None:
    view, now = on.view, on.view.at(on.today)
    since = picked_since(bar.course, date.max)
    begins = {view.at(one.reached or one.span.likely) for one in bar.course.stages}
    for at in range(max(bar.start, 0), min(bar.end, view.days)):
        past, picked = at < now, since is not None and at >= view.at(since)
        if at in begins and at > bar.start:
            glyph = ("╪" if past else "╤") if picked else "╋" if past else "┼"
        else:
            glyph = "═" if picked else "━" if past else "─"
        style = "$good" if past else "$watch" if at in on.closed else "$muted"
        line[at] = (glyph, over(line[at][1], style))


def _remark(on: Paper, day: date, says: str, style: str, mark: str = "") -> Content:
    """Return a line with a sentence beside a day's cell, moved as far as it needs, and with a mark on the day."""
    line, at, days = on.line(), on.view.at(day), on.view.days
    length = min(cell_len(says), days - 3)
    start = at + 2
    if start + length > days:
        start = at - 1 - length if mark and at - 1 - length > 0 else max(days - length, 2)
    put(line, start - 1, f" {fitted(says, length)} ", style)
    put(line, at, mark, style)
    return joined(line)


def _foot(on: Paper) -> list[tuple[str, str, list[Content]]]:
    """Return the promises for which nothing stands yet, and the closures by name."""
    view = on.view
    drawn = {one.promise.key for one in placed(on.almanac).values()}
    groups = []
    for one in on.almanac.promises:
        if one.promise.key not in drawn and one.promise.closed is None and view.shows(one.promise.day):
            mark, style, words = OUTLOOKS[one.outlook]
            says = f"{one.name}, {day_long(one.promise.day)}: {words}"
            line = _remark(on, one.promise.day, says, style, mark)
            groups.append(("", "promised", [line]))
    for closure in on.almanac.closures:
        first, last = view.at(closure.first), view.at(closure.last)
        if last >= 0 and first < view.days:
            name = closure.name or "nobody comes"
            says = f"{name}: {day_short(closure.first)} to {day_short(closure.last)}"
            groups.append(("", "", [_beside(view, first, last, (says, name))]))
    return groups


def _beside(view: Window, first: int, last: int, words: tuple[str, ...]) -> Content:
    """Return a closure's own line: its shade, with its name right of it, else left of it, else over its end."""
    line = blank(view.days)
    put(line, max(first, 0), "░" * (min(last, view.days - 1) - max(first, 0) + 1), "$watch")
    for says in words:
        length = cell_len(says)
        start = last + 2 if view.days - last - 2 >= length else first - 1 - length
        if start >= 0:
            put(line, start, says, "$watch")
            return joined(line)
    says = fitted(words[-1], min(cell_len(words[-1]), view.days - 2)).rstrip()
    put(line, view.days - cell_len(says) - 1, f" {says}", "$watch")
    return joined(line)
