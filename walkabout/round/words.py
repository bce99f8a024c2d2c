"""Answers, verdicts and days in words: what every face says alike."""

from datetime import date, datetime

from walkabout.checklist.model import Question, Reading, Unit
from walkabout.growing.units import Scales, decimals_shown, shown, words
from walkabout.records.model import Answer
from walkabout.round.wants import Wanted

VERDICT_MEANS = {
    "good": "as it should be",
    "watch": "look again next round",
    "today": "act today",
    "now": "act before leaving the room",
    "stop": "people first: hands off, fetch an adult",
}


def answer_words(question: Question | None, answer: Answer, *, scales: Scales) -> str:
    """Say what was answered: the choices' words, the number with its unit, the note, or the state."""
    if answer.state != "answered":
        return answer.state
    if answer.value is not None:
        decimals = question.reading.decimals if question and question.reading else 2
        return words(answer.value, _unit(question, answer), scales, decimals)
    if answer.choices:
        says = {choice.id: choice.says for choice in question.choices} if question else {}
        return ", ".join(says.get(one, one) for one in answer.choices)
    return answer.note or "nothing to note"


def _unit(question: Question | None, answer: Answer) -> str:
    return question.reading.unit if question and question.reading else answer.unit


def unit_words(unit: Unit, *, scales: Scales) -> str:
    """Return the unit in which a number is typed and shown in this room."""
    name = shown(0, unit, scales)[1]
    return f"ppm ({name.removeprefix('ppm ')})" if name.startswith("ppm ") else name


def good_words(reading: Reading, wanted: Wanted | None, *, scales: Scales) -> str:
    """Say the good range in short: 'good 5.5 to 6.5', 'good up to 26.0', '' when there is none."""
    good = (wanted.low, wanted.high) if wanted is not None else reading.good
    if good is None or good == reading.possible:
        return ""
    decimals = decimals_shown(reading.unit, scales, reading.decimals)
    low, high = (f"{shown(end, reading.unit, scales)[0]:.{decimals}f}" for end in good)
    if good[1] >= reading.possible[1]:
        return f"good from {low}"
    return f"good up to {high}" if good[0] <= reading.possible[0] else f"good {low} to {high}"


def day_words(day: date, today: date) -> str:
    """Say a day near today: 'today', 'yesterday', 'Monday', '3 Nov'."""
    back = (today - day).days
    if back == 0:
        return "today"
    if back == 1:
        return "yesterday"
    if back == -1:
        return "tomorrow"
    if 1 < back < 7:
        return f"{day:%A}"
    return f"{day.day} {day:%b}" if day.year == today.year else f"{day.day} {day:%b %Y}"


def clock_words(seconds: float) -> str:
    """Say a time on foot: '2:10'."""
    whole = max(round(seconds), 0)
    return f"{whole // 60}:{whole % 60:02d}"


def minutes_words(seconds: float) -> str:
    """Say how long something takes: 'about 4 minutes', '30 seconds'."""
    if seconds < 55:
        return f"{seconds:.0f} seconds"
    minutes = max(round(seconds / 60), 1)
    return f"about {minutes} minute{'s' if minutes != 1 else ''}"


def stamp(moment: datetime) -> str:
    """Say a day and a time: 'Wed 25 Nov, 08:03'."""
    return f"{moment:%a} {moment.day} {moment:%b}, {moment:%H:%M}"
