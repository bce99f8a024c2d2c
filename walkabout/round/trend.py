"""Where a question's answers are going: the last days in a strip, and what they run towards."""

from datetime import date, timedelta

from msgspec import Struct

from walkabout.checklist.model import VERDICTS, Question
from walkabout.growing.units import Scales, words
from walkabout.records.model import Answer
from walkabout.round.history import History

DAYS = 14
BARS = "▁▂▃▄▅▆▇"
NOTHING = "·"


class Strip(Struct, frozen=True):
    """The last fourteen days: a level from 0 (worst or least) to 1 for each, None without a look."""

    levels: tuple[float | None, ...]
    says: str
    """The same in words, for those who cannot see bars."""

    def bars(self) -> str:
        """Return the strip as block characters."""
        last = len(BARS) - 1
        return "".join(NOTHING if level is None else BARS[round(level * last)] for level in self.levels)


def strip(question: Question, station: str, history: History, today: date, *, scales: Scales) -> Strip | None:
    """Return the strip of a question, or None when there are fewer than two looks to show."""
    looks = {one.at.date(): one for one in history.all(station, question.id) if one.state == "answered"}
    days = [today - timedelta(days=back) for back in range(DAYS, 0, -1)]
    shown = [(day, _height(question, looks[day])) for day in days if day in looks]
    heights = [height for _, height in shown if height is not None]
    if len(heights) < 2:
        return None
    if question.reading is None:
        low, high = -(len(question.choices) - 1.0), 0.0
    else:
        low, high = min(heights), max(heights)
    spread = high - low
    levels = {day: ((height - low) / spread if spread else 0.5) for day, height in shown if height is not None}
    kept = [looks[day] for day, height in shown if height is not None]
    return Strip(tuple(levels.get(day) for day in days), _in_words(question, heights, kept, scales=scales))


def running_towards(question: Question, station: str, history: History, today: date) -> str:
    """Say where a worsening answer ends at this rate, or '' when it does not worsen.

    It takes two steps downwards in a row among the last looks of a week, and goes on in a straight line.
    """
    if question.reading is not None or question.kind != "choice" or len(question.choices) < 3:
        return ""
    graver = [VERDICTS.index(choice.verdict) for choice in question.choices]
    if graver != sorted(graver):
        return ""  # the choices are no scale: what stands last is not where it leads
    looks = [one for one in history.all(station, question.id) if one.state == "answered"][-3:]
    places = [_height(question, one) for one in looks]
    if len(looks) < 3 or None in places or (today - looks[0].at.date()).days > 7:
        return ""
    first, second, third = (place for place in places if place is not None)
    if not first > second > third:
        return ""
    days = (looks[-1].at.date() - looks[0].at.date()).days
    end = -(len(question.choices) - 1.0)
    if days < 1 or third <= end:
        return ""
    ahead = looks[-1].at.date() + timedelta(days=round((third - end) / ((first - third) / days)))
    worst = question.choices[-1].says
    return f'It fell two looks running; at this rate it is "{worst}" {_on(ahead, today)}.' if ahead >= today else ""


def _on(day: date, today: date) -> str:
    if (day - today).days < 2:
        return "today" if day == today else "tomorrow"
    return f"on {day:%A}" if (day - today).days < 7 else f"on {day.day} {day:%b}"


def _height(question: Question, answer: Answer) -> float | None:
    """Return the number read, or how healthy the pick was: 0 for the first choice, -1 for the second."""
    if question.reading is not None:
        return answer.value
    places = [place for place, choice in enumerate(question.choices) if choice.id in answer.choices]
    return -float(max(places)) if places else None


def _in_words(question: Question, heights: list[float], looks: list[Answer], *, scales: Scales) -> str:
    if question.reading is None:
        good = sum(look.verdict in ("", "good") for look in looks)
        return f"as it should be {good} of {len(heights)} times"
    unit, decimals = question.reading.unit, question.reading.decimals
    low, high, last = (words(one, unit, scales, decimals) for one in (min(heights), max(heights), heights[-1]))
    return f"from {low} to {high}, last {last}"
