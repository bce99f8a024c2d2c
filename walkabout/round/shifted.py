"""Which readings the next round asks for because their last one brought a shift to light.

This is reckoned whenever a round is planned, before its first question is shown. So a look at the kept history
comes first, which costs some 50 µs a reading; the series with all that stands beside it is only gathered where that
look has found something.
"""

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from walkabout.checklist.model import Quantity
from walkabout.insight.shift import FEWEST, changes, slips
from walkabout.records.model import Answer
from walkabout.round.held import Held

if TYPE_CHECKING:
    from walkabout.insight.series import Series
    from walkabout.insight.trend import Shift

WATCHED: frozenset[Quantity] = frozenset(
    {
        "pH",
        "EC",
        "air temperature",
        "lowest air temperature",
        "highest air temperature",
        "solution temperature",
        "medium temperature",
        "humidity",
        "oxygen",
        "level",
        "flow",
        "illuminance",
    }
)
"""What ought to stay where it is. A plant's height grows, days and what was poured in are counted anew each time."""
LOOKS = 60
"""So many last readings are looked at."""
DAYS = 150
"""Readings older than this count no more: another crop, another season. Assumed."""
SAME = 14
"""Two shifts the same way within so many days are one that is seen better by now. Assumed."""
MATTERS = 0.25
"""A shift matters when it takes up so much of the good range, leaves it, or is about to. Assumed."""
SOON = 14.0
"""Days in which a drift that leaves the range is about to. Assumed."""


class Shifted:
    """Call it with a station and a question: the sentence of a shift that the last reading has shown, or ''.

    A watch lasts for one look: when the next reading is there, the shift is no news any more, and the verdicts of the
    readings themselves say when to look again.
    """

    def __init__(self, opened: Held) -> None:
        self._opened = opened
        self._known: dict[tuple[str, str], tuple[tuple[str, int], str]] = {}

    def __call__(self, station: str, question: str) -> str:
        """Return the sentence, from memory where nothing was read since."""
        rows = self._opened.history.all(station, question)
        if len(rows) < FEWEST:
            return ""
        state = (rows[-1].key, len(rows))
        known = self._known.get((station, question))
        if known is None or known[0] != state:
            known = self._known[station, question] = (state, self._look(station, question, rows))
        return known[1]

    def _look(self, station: str, question: str, rows: list[Answer]) -> str:
        asked = self._opened.question(station, question)
        if asked is None or asked.reading is None or asked.reading.quantity not in WATCHED:
            return ""
        since = self._opened.today() - timedelta(days=DAYS)
        looks = [one for one in rows[-LOOKS:] if one.value is not None and one.at.date() >= since]
        if len(looks) < FEWEST or not _may_have_shifted(looks, 10.0**-asked.reading.decimals):
            return ""
        return self._news(station, question, looks[0].at.date())

    def _news(self, station: str, question: str, since: date) -> str:
        # what a trend needs beside the readings is only loaded where there may be one
        from walkabout.insight.trend import shifts_of  # noqa: PLC0415
        from walkabout.insight.trend_words import shift_says  # noqa: PLC0415
        from walkabout.round.trends import series_of  # noqa: PLC0415

        series = series_of(self._opened, station, question, since)
        now = shifts_of(series)
        if not now or now[-1].explained or not _matters(series, now[-1]):
            return ""
        before = shifts_of(series.first(len(series.points) - 1))
        if any(_same(one, now[-1]) for one in before):
            return ""
        return shift_says(series, now[-1])


def _may_have_shifted(looks: list[Answer], digit: float) -> bool:
    values = [one.value for one in looks if one.value is not None]
    lone = set(slips(values, digit))
    if len(values) - 1 in lone:
        return False  # one reading far off is no shift yet
    kept = [place for place in range(len(values)) if place not in lone]
    first = looks[0].at
    times = [(looks[place].at - first).total_seconds() / 86400 for place in kept]
    return bool(changes(times, [values[place] for place in kept], digit))


def _same(one: "Shift", other: "Shift") -> bool:
    if one.direction != other.direction or not isinstance(one.since, datetime) or not isinstance(other.since, datetime):
        return False
    return abs((one.since.date() - other.since.date()).days) <= SAME


def _matters(series: "Series", shift: "Shift") -> bool:
    """Say whether a shift is worth a look of its own: by how far it goes towards the end of the good range.

    Where the range has one end only, what counts is how much of the way to it the shift has taken.
    """
    from walkabout.insight.trend import pace_of  # noqa: PLC0415 - see above

    if series.bounds is None:
        return True
    low, high = series.bounds
    before, after = shift.change.before, shift.change.after
    room = high - low
    if any(series.open_ends):
        room = before - low if after < before else high - before
    if not low <= after <= high or abs(shift.change.size) >= MATTERS * room:
        return True
    ahead = pace_of(series, (shift,))[1]
    return ahead is not None and ahead.after <= SOON
