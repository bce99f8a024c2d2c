"""The open days ahead, and how much of the day's work is on each: where a standing job finds its place.

Days are counted from the first one, which is 0. Minutes of work are added up as jobs are placed.
"""

from datetime import date, timedelta
from itertools import chain

from walkabout.room.calendar import closure_on
from walkabout.room.model import WEEKDAYS, Room

LONGEST = 400
"""Days after the last one wanted within which an open day is looked for: longer than any school is closed. Assumed."""
SHORT_ORDER = 3
"""Less than this part of an interval after the last time, a job is not done again because a closure comes. Assumed."""
ROUNDING = 1e-6
"""Minutes that adding up may be off by."""
ONE_DAY = timedelta(days=1)


class OpenDays:
    """Open days from `first` on, for `length` days and on to the next open one; each carries `minutes` at most."""

    def __init__(self, room: Room, first: date, length: int, minutes: float) -> None:
        self.first = first
        self.minutes = minutes
        self.open: list[int] = []
        """The open days, in order."""
        self.before: list[int] = []
        """Of each day, the place in `open` of the last open one up to it; -1 where there is none."""
        self.closing: list[str | None] = []
        """Of each open day, the name of the closure that begins before the next open one; None where none does."""
        day, count = first, 0
        while count < length or (count < length + LONGEST and (not self.open or self.open[-1] < length)):
            usual = WEEKDAYS[day.weekday()] in room.days
            closure = closure_on(room, day)
            if usual and closure is None:
                self.open.append(count)
                self.closing.append(None)
            elif usual and closure is not None and self.closing and self.closing[-1] is None:
                self.closing[-1] = closure.name or "the closure"
            self.before.append(len(self.open) - 1)
            if day == date.max:
                break
            day, count = day + ONE_DAY, count + 1
        self.load = [0.0] * len(self.open)

    def has_room(self, place: int, minutes: float) -> bool:
        """Say whether a job fits on an open day: beside what is there, or alone, however long it is."""
        return not self.load[place] or self.load[place] + minutes <= self.minutes + ROUNDING

    def latest(self, day: int) -> int:
        """Return the place of the last open day up to `day`, or -1."""
        return self.before[min(day, len(self.before) - 1)] if day >= 0 else -1

    def place(
        self, earliest: int, due: int, minutes: float, days: int, previous: int | None, *, seen: bool
    ) -> tuple[int, bool]:
        """Put a job on an open day; return its place, -1 where none is left, and whether all up to `due` were full.

        It is the last one from `earliest` to `due` that has room, else the first one after. `days` is its interval
        and `previous` the day before on which it stands. What must be `seen` to run is not put on the last open day
        before a closure, whatever follows. Where a closed time is longer than the interval, nothing is done twice in
        short order before it.
        """
        last = self.latest(due)
        top = last - 1 if seen and last >= 0 and self.closing[last] is not None else last
        bottom = self.latest(earliest - 1) + 1
        if top >= bottom and previous is not None and self._in_vain(last, top, days, previous):
            top = bottom - 1
        while seen and bottom <= top and previous is not None and self._in_vain(last, bottom, days, previous):
            bottom += 1
        before = range(top, bottom - 1, -1)
        after = range(max(bottom, last + 1), len(self.open))
        fits = (place for place in chain(before, after) if self.has_room(place, minutes))
        place = next((place for place in fits if not seen or self.closing[place] is None), -1)
        if place >= 0:
            self.load[place] += minutes
        return place, place > last and top >= bottom

    def take_back(self, place: int, minutes: float) -> None:
        """Take a job off an open day on which it was put."""
        self.load[place] -= minutes

    def _in_vain(self, last: int, place: int, days: int, previous: int) -> bool:
        """Say whether a closed time breaks the interval anyway, with the last time a short while before this place."""
        if last + 1 >= len(self.open):
            return False
        return self.open[last + 1] - self.open[last] > days and SHORT_ORDER * (self.open[place] - previous) < days
