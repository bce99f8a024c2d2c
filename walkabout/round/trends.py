"""The readings and scored answers of a station as series, with what was done beside them.

The round keeps some months in memory; what is older is read from the records, only as far back as is asked for.
"""

from bisect import bisect_left
from collections.abc import Generator, Iterable, Sequence
from datetime import date, timedelta

from walkabout.checklist.model import VERDICTS, Checklist, Question
from walkabout.growing.units import Scales, decimals_shown, shown
from walkabout.insight.series import Point, Series
from walkabout.records.model import Answer
from walkabout.records.model_measured import Hour
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.doubtful import doubtful
from walkabout.round.held import Held
from walkabout.round.here import stand_at, stand_in
from walkabout.round.history import KEPT_DAYS, History, Where
from walkabout.round.logged import Logged, logged_as, logged_id, logged_series
from walkabout.round.marks import change_questions, marks_of
from walkabout.round.wants import IN_SOLUTION, wanted_at

SCORE_STEP = 0.6
"""A scored answer has to move by 0.9 of a place on the average to count as shifted. Assumed."""
MONTHS = 12
"""Files that are looked into in one go, some 5 ms."""
BY_VERDICT = tuple(f"{one} it was" for one in VERDICTS)
"""What the scores are called where the answers are no scale of their own."""
FAILED = "the meter behind them was not to be trusted."
_OTHERWISE_NAMED = ("count", "time", "level", "volume", "mass")


def series_of(opened: Held, station: str, question: str, since: date) -> Series:
    """Return what `series_in_steps` ends with; ValueError likewise."""
    steps = series_in_steps(opened, station, question, since)
    while True:
        try:
            next(steps)
        except StopIteration as done:
            found: Series = done.value
            return found


def series_in_steps(opened: Held, station: str, question: str, since: date) -> Generator[None, None, Series]:
    """Return the answers to one question at one station from a day on, in the units in which the room reads.

    Stations on the same tank share what is read of its solution. A reading behind which a meter had failed its check
    is left out, and said to be. What a logger has read (its id begins with 'logged:') comes by the hour, or by the day.
    Raises ValueError where nothing can be put on a line (a note, a question that is gone).

    It pauses after every few months, so that no key has to wait for years.
    """
    if (logger := logged_as(question)) is not None:
        return (yield from _logged(opened, station, logger, since))
    asked = opened.question(station, question)
    if asked is None:
        raise ValueError("This question is no longer asked, so there is no trend of it.")
    if not is_scored(asked) and asked.reading is None:
        raise ValueError("A note cannot be put on a line, so it has no trend.")
    places = [(place, question) for place in _places(opened, station, asked)]
    renewed = change_questions(opened, station)
    history = yield from _history(opened, [*places, *renewed], since, checks=asked.reading is not None)
    rows = sorted((one for place in places for one in history.all(*place)), key=lambda one: one.at)
    looks = [one for one in rows if one.state == "answered" and one.at.date() >= since]
    changes = [one for place in renewed for one in history.all(*place)]
    marks = marks_of(opened, station, since, [one for one in changes if one.state == "answered"])
    if asked.reading is None:
        scored = [(one, score) for one in looks if (score := score_of(asked, one)) is not None]
        points = tuple(Point(one.at, score, one.key) for one, score in scored)
        labels = tuple(choice.says for choice in asked.choices) if _is_scale(asked) else BY_VERDICT
        return Series(points, "", f'the answer to "{asked.ask}"', None, marks, 0, SCORE_STEP, labels)
    trusted, notes = _trusted(opened, asked, [one for one in looks if one.value is not None], history)
    reading, scales = asked.reading, opened.scales
    unit = shown(0.0, reading.unit, scales)[1]
    decimals = decimals_shown(reading.unit, scales, reading.decimals)
    good = _good(opened, station, asked)
    return Series(
        points=tuple(Point(one.at, _shown(one.value, reading.unit, scales), one.key) for one in trusted),
        unit=unit,
        name=asked.id.replace("-", " ") if reading.quantity in _OTHERWISE_NAMED else reading.quantity,
        good=good[0] if good is not None else None,
        open_ends=good[1] if good is not None else (False, False),
        marks=marks,
        decimals=decimals,
        step=10.0**-decimals,
        notes=notes,
    )


def trends_at(opened: Held, station: str) -> tuple[Question | Logged, ...]:
    """Return what has a trend at a station: readings and scored answers in the order of looking, then loggers."""
    return (*_questions_at(opened, station), *(Logged(logged_id(one), one) for one in logged_at(opened, station)))


def logged_at(opened: Held, station: str) -> dict[str, tuple[Hour, int]]:
    """Return quantity -> the newest hour that a logger has read of it here, and how many there are, by its name."""
    found = opened.records.loggers(opened.today() - timedelta(days=KEPT_DAYS))
    return {quantity: known for (key, quantity), known in sorted(found.items()) if key == station}


def same_question(opened: Held, station: str, quantity: str, unit: str) -> Question | None:
    """Return the question by which people read at this station what a logger reads there too; None without one."""
    checklist = _checklist(opened, station)
    if checklist is None or quantity in _OTHERWISE_NAMED:
        return None
    return next(
        (
            one
            for one in checklist.question
            if one.reading is not None and one.reading.quantity == quantity and one.reading.unit == unit
        ),
        None,
    )


def _logged(opened: Held, station: str, logger: Logged, since: date) -> Generator[None, None, Series]:
    hours = opened.records.hours_of(station, logger.quantity, since)
    asked = same_question(opened, station, logger.quantity, hours[0].unit) if hours else None
    good = _good(opened, station, asked) if asked is not None else None
    renewed = change_questions(opened, station)
    history = yield from _history(opened, renewed, since, checks=False)
    changes = [one for place in renewed for one in history.all(*place) if one.state == "answered"]
    return logged_series(hours, asked, good, marks_of(opened, station, since, changes), opened.scales)


def _checklist(opened: Held, station: str) -> Checklist | None:
    found = opened.room.station(station)
    return opened.checklists.get(found.kind if found else station if station == WHOLE_ROOM else "")


def _questions_at(opened: Held, station: str) -> tuple[Question, ...]:
    checklist = _checklist(opened, station)
    if checklist is None:
        return ()
    answered = {where[1] for where in opened.history.places() if where[0] in (opened.sharing(station) or (station,))}
    return tuple(
        one for one in checklist.question if one.id in answered and (one.reading is not None or is_scored(one))
    )


def is_scored(question: Question) -> bool:
    """Say whether the answers go from well to badly, so that they can be put on a line."""
    return question.reading is None and len(question.choices) > 1 and question.kind in ("choice", "yes/no", "signs")


def score_of(question: Question, answer: Answer) -> float | None:
    """Return 0 for the healthy answer and a step less for each place (or verdict) below it; None where nobody looked.

    Answers that stand in the order of three verdicts or more are a scale; of others, such as kinds of insects, the
    verdict counts.
    """
    if answer.state != "answered":
        return None
    if _is_scale(question):
        places = [place for place, choice in enumerate(question.choices) if choice.id in answer.choices]
        return -float(max(places)) if places else None
    return -float(VERDICTS.index(answer.verdict)) if answer.verdict else None


def _is_scale(question: Question) -> bool:
    graver = [VERDICTS.index(choice.verdict) for choice in question.choices]
    return question.kind == "choice" and len(set(graver)) > 2 and graver == sorted(graver)


def _places(opened: Held, station: str, question: Question) -> tuple[str, ...]:
    """Return the stations whose answers count: all on the tank for what is read of its solution."""
    if question.reading is None or not question.needs.tank or question.reading.quantity not in IN_SOLUTION:
        return (station,)
    return tuple(key for key in opened.sharing(station) if opened.question(key, question.id) is not None) or (station,)


def _history(opened: Held, places: Sequence[Where], since: date, *, checks: bool) -> Generator[None, None, History]:
    """Return the history that reaches back far enough: the kept one, or one of what this series needs and no more."""
    if since >= opened.today() - timedelta(days=KEPT_DAYS):
        return opened.history
    meters = [(WHOLE_ROOM, one.id) for one in _meter_checks(opened)] if checks else []
    answers = []
    for place, many in enumerate(opened.records.answers_by_month({*places, *meters}, since), 1):
        answers += many
        if place % MONTHS == 0:
            yield
    return History(answers)


def _meter_checks(opened: Held) -> list[Question]:
    """Return the questions whose answers can make readings doubtful."""
    room = opened.checklists.get(WHOLE_ROOM)
    return [one for one in room.question if any(choice.doubts for choice in one.choices)] if room is not None else []


def _trusted(
    opened: Held, question: Question, looks: Iterable[Answer], history: History
) -> tuple[list[Answer], tuple[str, ...]]:
    """Return the readings that are to be trusted, and a sentence that says how many are not, and why."""
    room = opened.checklists.get(WHOLE_ROOM)
    checked = sorted(answer.at for one in _meter_checks(opened) for answer in history.all(WHOLE_ROOM, one.id))
    known: dict[tuple[int, bool], str] = {}
    trusted: list[Answer] = []
    doubts: dict[str, int] = {}
    for one in looks:
        # between two checks of the meters every reading is as good as the next
        between = (bisect_left(checked, one.at), one.at in checked)
        if one.doubtful:
            why = one.doubtful
        elif (why := known.get(between, "?")) == "?":
            why = known[between] = doubtful(one, question, room, history)
        if why:
            doubts[why] = doubts.get(why, 0) + 1
        else:
            trusted.append(one)
    if not doubts:
        return trusted, ()
    count = sum(doubts.values())
    why = next(iter(doubts)) if len(doubts) == 1 else FAILED
    return trusted, (f"{_many(count)} left out as doubtful: {why}",)


def _many(count: int) -> str:
    return "1 reading was" if count == 1 else f"{count} readings were"


def _good(opened: Held, station: str, question: Question) -> tuple[tuple[float, float], tuple[bool, bool]] | None:
    """Return the good range in the room's units, and for each end whether it is none: no reading may lie beyond it.

    It is what grows here now wants, or the checklist's own.
    """
    reading = question.reading
    if reading is None:
        return None
    plantings = list(opened.plantings.values())
    stations = [stand_at(opened.room, one, plantings, opened.crops) for one in opened.room.stations]
    here = next((one for one in stations if one.key == station), None)
    here = here or stand_in(opened.room, plantings, opened.crops)
    wanted = wanted_at(here, stations, reading, scales=opened.scales)
    good = (wanted.low, wanted.high) if wanted is not None else reading.good
    if good is None:
        return None
    ends = good[0] <= reading.possible[0], good[1] >= reading.possible[1]
    low, high = (_shown(end, reading.unit, opened.scales) for end in good)
    return None if all(ends) else ((low, high), ends)


def _shown(value: float | None, unit: str, scales: Scales) -> float:
    return shown(value or 0.0, unit, scales)[0]
