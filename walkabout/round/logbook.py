"""The logbook: what is on record at each station, and what has shifted, in words that every face shows alike."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from msgspec import Struct

from walkabout.checklist.model import Question
from walkabout.insight.shift import FEWEST
from walkabout.insight.trend import shifts_of
from walkabout.insight.trend_words import difference, good_words, number, shift_says, unseen, upper
from walkabout.records.model import Answer
from walkabout.records.model_measured import Hour
from walkabout.room.model import WHOLE_ROOM, Room
from walkabout.round.history import KEPT_DAYS
from walkabout.round.logged import Logged, logged_as, logged_series
from walkabout.round.opened import OpenRoom
from walkabout.round.shifted import WATCHED
from walkabout.round.trends import is_scored, logged_at, same_question, series_of, trends_at
from walkabout.round.words import answer_words

if TYPE_CHECKING:
    from walkabout.insight.series import Series
    from walkabout.insight.slope import Slope
    from walkabout.insight.trend import Trend

TWO_WEEKS, TWELVE_WEEKS, YEAR = 14, 84, 365
EVER = date(1970, 1, 1)
"""The first day of a span that has all there is."""
MONTHS = 3
"""Files that are read in one go, some 5 ms, when years are read back."""
BY_THE_HOUR = "what a logger read, by the hour: the mean of each"
_OWN_NAMES = ("count", "time", "level", "volume", "mass")
"""Quantities of which a station may have several: they are called by the question's key."""


class Chosen(Struct, frozen=True):
    """A span of days up to today, and what it is called: 'the last two weeks', 'all there is'."""

    name: str
    since: date


class Recorded(Struct, frozen=True, kw_only=True):
    """One reading or scored answer of a station, and its last answer."""

    station: str
    question: str
    name: str
    """'pH', or the question where answers are picked."""
    last: str
    at: datetime
    verdict: str
    looks: int
    """How many times it was looked at in the months that are kept at hand."""


class Moved(Struct, frozen=True, kw_only=True):
    """Something that has shifted: where, which reading, since when, and the sentence."""

    station: str
    question: str
    since: datetime
    says: str


def spans(room: Room, today: date) -> tuple[Chosen, ...]:
    """Return the spans one can look at, the shortest first: two weeks, the term (else 12 weeks), a year, all."""
    term = next((one for one in room.terms if one.first <= today <= one.last), None)
    if term is not None and (today - term.first).days > TWO_WEEKS:
        middle = Chosen(f"this term{f', {term.name}' if term.name else ''}", term.first)
    else:
        middle = Chosen("the last 12 weeks", today - timedelta(days=TWELVE_WEEKS - 1))
    return (
        Chosen("the last two weeks", today - timedelta(days=TWO_WEEKS - 1)),
        middle,
        Chosen("the last year", today - timedelta(days=YEAR - 1)),
        Chosen("all there is", EVER),
    )


def name_of(question: Question) -> str:
    """Return what a reading is called, or the question where answers are picked."""
    if question.reading is None:
        return question.ask
    return question.id.replace("-", " ") if question.reading.quantity in _OWN_NAMES else question.reading.quantity


def stations(opened: OpenRoom) -> tuple[tuple[str, str], ...]:
    """Return (key, name) of the room as a whole and of each station, in walking order."""
    return ((WHOLE_ROOM, "The room"), *((one.key, one.name) for one in opened.room.stations))


def title_of(opened: OpenRoom, station: str, question: str) -> str:
    """Return what stands over a trend: 'Air temperature', 'Air temperature, by logger', or the question itself."""
    if (logger := logged_as(question)) is not None:
        return upper(logger.name)
    asked = opened.question(station, question)
    return upper(name_of(asked)) if asked is not None else question


def asked_of(opened: OpenRoom, station: str, question: str) -> str:
    """Return the whole of what was asked; of a logger, what is shown of it."""
    if logged_as(question) is not None:
        return BY_THE_HOUR
    asked = opened.question(station, question)
    return asked.ask if asked is not None else "This question is no longer asked."


def in_order(opened: OpenRoom, station: str) -> list[Question | Logged]:
    """Return what has a trend at a station: readings first, then loggers, then answers, each in the order of looking.

    Each has the `id` by which its series is asked for.
    """
    return sorted(trends_at(opened, station), key=_rank)


def recorded(opened: OpenRoom, station: str) -> tuple[Recorded, ...]:
    """Return what is on record at a station, with the last answer to each."""
    found = []
    loggers = logged_at(opened, station)
    for question in in_order(opened, station):
        if isinstance(question, Logged):
            hour, count = loggers[question.quantity]
            found.append(_recorded_hour(opened, station, question, hour, count))
            continue
        looks = _looks(opened, station, question)
        if looks:
            last = max(looks, key=lambda one: one.at)
            found.append(
                Recorded(
                    station=station,
                    question=question.id,
                    name=name_of(question),
                    last=answer_words(question, last, scales=opened.scales),
                    at=last.at,
                    verdict=last.verdict,
                    looks=len(looks),
                )
            )
    return tuple(found)


def _rank(one: Question | Logged) -> int:
    return 1 if isinstance(one, Logged) else 0 if one.reading is not None else 2


def _recorded_hour(opened: OpenRoom, station: str, logger: Logged, hour: Hour, count: int) -> Recorded:
    series = logged_series([hour], same_question(opened, station, hour.quantity, hour.unit), None, (), opened.scales)
    return Recorded(
        station=station,
        question=logger.id,
        name=logger.name,
        last=number(series, series.points[-1].value),
        at=hour.start,
        verdict="",
        looks=count,
    )


def shifts(opened: OpenRoom, since: date) -> Iterator[Moved | None]:
    """Yield the last shift of every reading that has one since a day, None for every one that has none.

    It pauses after each, some milliseconds apart. What is shared with a tank is told once; a step that something done
    explains is not told.
    """
    begin = max(since, opened.today() - timedelta(days=KEPT_DAYS))
    told: set[tuple[str, ...]] = set()
    for station, _ in stations(opened):
        for question in trends_at(opened, station):
            if not _watched(question):
                continue
            series = series_of(opened, station, question.id, begin)
            keys = (station, question.id) if isinstance(question, Logged) else tuple(one.key for one in series.points)
            found = shifts_of(series) if keys and keys not in told else ()
            told.add(keys)
            if not found or found[-1].explained or not isinstance(found[-1].since, datetime):
                yield None
            else:
                says = shift_says(series, found[-1])
                yield Moved(station=station, question=question.id, since=found[-1].since, says=says)


def newest_first(found: Iterable[Moved | None]) -> tuple[Moved, ...]:
    """Return what has shifted, the newest shift first."""
    return tuple(sorted((one for one in found if one is not None), key=lambda one: one.since, reverse=True))


def reading_back(opened: OpenRoom, since: date) -> Iterator[None]:
    """Read the files of the months back to a day, pausing after every few: years take longer than a key may wait."""
    names = sorted((path.name[:7] for path in (opened.folder / "records").glob("????-??.json")), reverse=True)
    wanted = [name for name in names if name >= since.isoformat()[:7]]
    for last in range(MONTHS - 1, len(wanted) + MONTHS - 1, MONTHS):
        name = wanted[min(last, len(wanted) - 1)]
        if name[:4].isdigit() and name[5:].isdigit() and 1 <= int(name[5:]) <= 12:
            opened.records.rounds(date(int(name[:4]), int(name[5:]), 1))
        yield


def pace_says(series: "Series", trend: "Trend") -> str:
    """Say how fast a reading moves: since it began to, else over the whole span; '' where it stepped or is unknown."""
    pace, since = (trend.pace, " since it began to") if trend.pace is not None else (trend.slope, "")
    stepped = bool(trend.shifts) and trend.pace is None
    if pace is None or series.scored or trend.count < FEWEST or stepped:
        return ""
    if pace.low <= 0 <= pace.high:
        return "It neither rises nor falls steadily over these days."
    if unseen(series, pace):
        least = difference(series, series.step)
        return f"Over these days it moves by less than {least}, the last digit shown: no pace is told."
    way = "rises" if pace.value > 0 else "falls"
    much, spread = _weekly(series, pace)
    return f"It {way} by {much} a week{since} ({spread})."


def good_says(series: "Series") -> str:
    """Say the good range of what grows here now; '' where there is none."""
    good = good_words(series)
    return f"Good for what grows here now: {good}." if good else ""


def _weekly(series: "Series", pace: "Slope") -> tuple[str, str]:
    low, high = sorted((abs(7 * pace.low), abs(7 * pace.high)))
    digits = series.decimals + 1
    unit = "" if series.unit in ("", "pH") else f" {series.unit}"
    return f"{abs(7 * pace.value):.{digits}f}{unit}", f"between {low:.{digits}f} and {high:.{digits}f}"


def _watched(question: Question | Logged) -> bool:
    if isinstance(question, Logged):
        return question.quantity in WATCHED
    return is_scored(question) if question.reading is None else question.reading.quantity in WATCHED


def _looks(opened: OpenRoom, station: str, question: Question) -> list[Answer]:
    places = opened.sharing(station) if question.needs.tank and question.reading is not None else ()
    return [
        one
        for place in (places or (station,))
        for one in opened.history.all(place, question.id)
        if one.state == "answered"
    ]
