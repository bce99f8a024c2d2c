"""The answers behind a trend as rows: when, what was read, how it was judged, and what is to be known of it."""

from collections.abc import Collection, Generator, Iterator, Mapping
from datetime import date, datetime, timedelta
from statistics import fmean

from msgspec import Struct

from walkabout.insight.series import Point, Series
from walkabout.insight.trend_words import number
from walkabout.records.model import Answer
from walkabout.round.correct import before_it_was_right
from walkabout.round.history import KEPT_DAYS, History
from walkabout.round.opened import OpenRoom
from walkabout.round.trend import DAYS, Strip
from walkabout.round.trends import MONTHS, series_of
from walkabout.round.words import answer_words

ROWS = 100
"""Rows that are made in one go, a few milliseconds."""


class Valued(Struct, frozen=True, kw_only=True):
    """One row. `verdict` is 'not looked' where nobody did, '' where nothing was judged."""

    at: datetime
    says: str
    """The number with its unit, or the answer."""
    verdict: str = ""
    place: int = 0
    """Which reading of the line it is, counted from 1, the oldest, as the working counts; 0 where it is none."""
    notes: tuple[str, ...] = ()
    """Sentences: where it was read if not here, why it was judged so, doubts, what it was before it was put right."""


def values_of(opened: OpenRoom, series: Series, station: str, question: str, since: date) -> tuple[Valued, ...]:
    """Return what `values_in_steps` ends with."""
    steps = values_in_steps(opened, series, station, question, since)
    while True:
        try:
            next(steps)
        except StopIteration as done:
            found: tuple[Valued, ...] = done.value
            return found


def values_in_steps(
    opened: OpenRoom, series: Series, station: str, question: str, since: date
) -> Generator[None, None, tuple[Valued, ...]]:  # fmt: skip
    """Return the answers behind a series, the newest first, with those that the series leaves out.

    Where there are no answers, as of what a logger has read, the points of the series are the rows. It pauses every few
    milliseconds, so that no key has to wait for years.
    """
    history = yield from _history(opened, station, question, since)
    places = {one.key: place for place, one in enumerate(series.points, 1)}
    rows = []
    for one in _answers(opened, history, station, question, places):
        if one.at.date() >= since:
            rows.append(_valued(opened, history, one, station, places))
            if len(rows) % ROWS == 0:
                yield
    if not rows:
        rows = [
            Valued(
                at=one.at,
                says=number(series, one.value),
                place=place if series.days is None else 0,
                notes=tuple(_between(series, one)),
            )
            for place, one in enumerate(series.points, 1)
            if isinstance(one.at, datetime)
        ]
    return tuple(sorted(rows, key=lambda one: one.at, reverse=True))


def logged_strip(opened: OpenRoom, station: str, question: str) -> Strip | None:
    """Return what a logger read on the last fourteen days, the mean of each; None with fewer than two days of it."""
    days = [opened.today() - timedelta(days=back) for back in range(DAYS, 0, -1)]
    try:
        series = series_of(opened, station, question, days[0])
    except ValueError:
        return None
    read: dict[date, list[float]] = {}
    for one in series.points:
        if isinstance(one.at, datetime) and one.at.date() in days:
            read.setdefault(one.at.date(), []).append(one.value)
    means = {day: fmean(values) for day, values in read.items()}
    if len(means) < 2:
        return None
    low, spread = min(means.values()), max(means.values()) - min(means.values())
    levels = {day: (mean - low) / spread if spread else 0.5 for day, mean in means.items()}
    return Strip(tuple(levels.get(day) for day in days), f"{number(series, low)} to {number(series, low + spread)}")


def _history(opened: OpenRoom, station: str, question: str, since: date) -> Generator[None, None, History]:
    """Return the history that reaches back far enough."""
    if since >= opened.today() - timedelta(days=KEPT_DAYS):
        return opened.history
    places = {(place, question) for place in opened.sharing(station) or (station,)}
    answers = []
    for month, many in enumerate(opened.records.answers_by_month(places, since), 1):
        answers += many
        if month % MONTHS == 0:
            yield
    return History(answers)


def _answers(
    opened: OpenRoom, history: History, station: str, question: str, trusted: Collection[str]
) -> Iterator[Answer]:  # fmt: skip
    """Yield the answers at a station, and of others on its tank if what was read there counts here too."""
    for place in opened.sharing(station) or (station,):
        rows = history.all(place, question)
        if place == station or any(one.key in trusted for one in rows):
            yield from rows


def _between(series: Series, point: Point) -> Iterator[str]:
    """Yield what was lowest and highest in the hour or on the day that a logger's mean stands for."""
    if point.low is not None and point.high is not None and point.low < point.high:
        yield f"Lowest {number(series, point.low)}, highest {number(series, point.high)}."


def _valued(opened: OpenRoom, history: History, answer: Answer, station: str, places: Mapping[str, int]) -> Valued:
    """Return a row; `places` says by its key which reading of the line an answer is."""
    asked = opened.question(answer.station, answer.question)
    notes = [f"Read at {opened.name_of(answer.station)}."] if answer.station != station else []
    if answer.verdict not in ("", "good") and answer.why:
        notes.append(answer.why)
    if answer.note and (answer.choices or answer.value is not None):
        notes.append(f'Note: "{answer.note}"')
    doubt = opened.doubt_of(answer)
    if not doubt and places and answer.key not in places and answer.value is not None:
        doubt = "A meter had failed its check."
    if doubt:
        notes.append(f"Doubtful, left out of the line: {doubt}")
    newer = answer
    for old in before_it_was_right(history, answer):
        said = answer_words(asked, old, scales=opened.scales)
        notes.append(f"Put right by {newer.walker}: {newer.reason.rstrip('.')}. It was {said}.")
        newer = old
    return Valued(
        at=answer.at,
        place=places.get(answer.key, 0),
        says=answer_words(asked, answer, scales=opened.scales),
        verdict=answer.verdict if answer.state == "answered" else "not looked" if answer.state == "not looked" else "",
        notes=tuple(notes),
    )
