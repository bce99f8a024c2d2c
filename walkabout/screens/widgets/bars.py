"""Where things stand in the weeks: which days are shown, and from which cell to which a planting's bar runs.

One cell is one day, so that every date can be read off.
"""

from collections.abc import Collection, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct
from rich.cells import cell_len

from walkabout.almanac.model import Almanac, Course, Foreseen, Row
from walkabout.screens.text import fitted
from walkabout.screens.widgets.stagewords import OUTLOOKS, day_long, label

WEEK = 7
"""Cells of a week: one for each day."""
NAMES = ((70, 12), (140, 17))
"""Under so many columns, the names of the stations have so many cells."""
WIDEST = 24
FEWEST = 3

MOVES = ("move/", "move-on/")
"""How the keys of the jobs begin that take a planting to another station."""

Placed = Mapping[tuple[str, str], Foreseen]
"""(station, planting) -> the promise that is drawn there."""


class Window(Struct, frozen=True):
    """The part of the days that is shown: `weeks` from the Monday `first` on, right of `names` cells of names."""

    first: date
    weeks: int
    names: int

    @property
    def days(self) -> int:
        """How many days are shown: one a cell."""
        return self.weeks * WEEK

    def at(self, day: date) -> int:
        """Return the cell of a day, which may lie outside."""
        return (day - self.first).days

    def shows(self, day: date) -> bool:
        """Say whether a day can be seen."""
        return 0 <= self.at(day) < self.days


class Bar(Struct, frozen=True):
    """A planting's stay at one station, in cells of the window: from `start` up to `end`, which is not part of it."""

    course: Course
    start: int
    end: int
    words: tuple[str, ...] = ()
    """What stands right of it, then the same in fewer words; none where it only passed."""
    promise: Foreseen | None = None


def monday(day: date) -> date:
    """Return the Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def window(width: int, chosen: date, before: Window | None = None) -> Window:
    """Return what is shown on `width` cells with the week of `chosen` in it; it moves as little as it must."""
    names = next((room for least, room in NAMES if width < least), WIDEST)
    weeks = max((width - names) // WEEK, FEWEST)
    week = monday(chosen)
    first = week - timedelta(weeks=weeks // 4)
    if before is not None:
        edge = 1 if weeks > FEWEST else 0
        earliest, latest = week - timedelta(weeks=weeks - 1 - edge), week - timedelta(weeks=edge)
        first = min(max(before.first, earliest), latest)
    return Window(first, weeks, names)


def moving(almanac: Almanac) -> frozenset[str]:
    """Return the keys of the plantings that go to another station; the others are thinned where they stand."""
    return frozenset(one.key.partition("/")[2] for one in almanac.standing if one.key.startswith(MOVES))


def placed(almanac: Almanac) -> dict[tuple[str, str], Foreseen]:
    """Return at which planting each open promise is drawn: the oldest that it can come from and that has none yet."""
    found: dict[tuple[str, str], Foreseen] = {}
    for one in almanac.promises:
        if one.promise.closed is not None:
            continue
        could = [
            (course.planting.sown, course.planting.key, row.station)
            for row in almanac.rows
            for course in row.courses
            if _serves(course, row.station, one) and (row.station, course.planting.key) not in found
        ]
        if could:
            _, planting, station = min(could)
            found[station, planting] = one
    return found


def _serves(course: Course, station: str, foreseen: Foreseen) -> bool:
    planting, promise = course.planting, foreseen.promise
    wanted = planting.key in promise.plantings if promise.plantings else planting.crop == promise.crop
    return wanted and planting.station == station and planting.ended is None


def bars(row: Row, view: Window, today: date, moves: Collection[str], promises: Placed) -> list[Bar]:
    """Return the stays at a station that can be seen, the earliest first."""
    found = [bar for course in row.courses for bar in _stays(course, row.station, view, today, moves, promises)]
    return sorted(found, key=lambda one: (one.start, one.end, one.course.planting.key))


def _stays(
    course: Course, station: str, view: Window, today: date, moves: Collection[str], promises: Placed
) -> list[Bar]:
    planting = course.planting
    found = []
    for at, move in enumerate(planting.moves):
        if move.station != station:
            continue
        last = at == len(planting.moves) - 1
        ends = planting.ended if last else planting.moves[at + 1].day
        if ends is None:
            ends = _leaves(course, today, moves) or view.first + timedelta(days=view.days + 1)
        start, end = view.at(move.day), max(view.at(ends), view.at(move.day) + 1)
        if end > 0 and start < view.days:
            promise = promises.get((station, planting.key)) if last else None
            words = _promised(course, promise) if promise else (label(course, today, moves), course.name)
            found.append(Bar(course, start, end, words if last else (), promise))
    return found


def _promised(course: Course, promise: Foreseen) -> tuple[str, ...]:
    stands = OUTLOOKS[promise.outlook][2]
    return f"{course.name}, {day_long(promise.promise.day)}: {stands}", f"{course.name}: {stands}", stands


def _leaves(course: Course, today: date, moves: Collection[str]) -> date | None:
    """Return when a planting leaves the station where it stands: moved on, or picked to the end; None when never."""
    stage = course.stage("move_on")
    if stage is not None and stage.reached is None and course.planting.key in moves:
        return max(stage.span.likely, today + timedelta(days=1))
    return None if course.until is None else max(course.until, today + timedelta(days=1))


def words_at(bar: Bar, view: Window) -> tuple[int, str]:
    """Return from which cell on a bar's words stand, and the words.

    Right of the bar and of its promise's mark; where there is no room, over the bar right of the mark, in fewer
    words if need be; where the promise cannot be seen, over the bar's end.
    """
    if not bar.words:
        return min(max(bar.end, 0), view.days), ""
    marked = -1 if bar.promise is None else view.at(bar.promise.promise.day)
    after = max(bar.end, marked + 1, 0) + 1
    if after + cell_len(bar.words[0]) <= view.days:
        return after, bar.words[0]
    room = view.days - 1
    if 0 <= marked < view.days:
        room = view.days - marked - 2
    says = next((one for one in bar.words if cell_len(one) <= room), "" if marked >= 0 else bar.words[-1])
    if 0 <= marked < view.days:
        return min(marked + 2, view.days), says
    if cell_len(says) > view.days * 2 // 3:  # it would hide more of the bar than it tells
        says = bar.words[-1]
    says = fitted(says, min(cell_len(says), view.days - 1))
    return view.days - cell_len(says), says


def lanes(of: Sequence[Bar], view: Window) -> list[list[Bar]]:
    """Put bars that do not meet, their words counted in, beside each other; what stands is above what has ended."""
    found: list[tuple[int, list[Bar]]] = []
    for bar in of:
        start, says = words_at(bar, view)
        begins, end = max(min(bar.start, start - 1), 0), max(start + cell_len(says), min(bar.end, view.days))
        free = next((at for at, (taken, _) in enumerate(found) if taken < begins), None)
        if free is None:
            found.append((end, [bar]))
        else:
            found[free] = (end, [*found[free][1], bar])
    return sorted((lane for _, lane in found), key=lambda lane: all(one.course.planting.ended for one in lane))
