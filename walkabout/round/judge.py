"""What an answer means: verdict, reason, first act and job."""

from collections.abc import Sequence
from datetime import datetime

import msgspec
from msgspec import Struct

from walkabout.checklist.model import VERDICTS, Checklist, Choice, Meaning, Question, Reading, Verdict, gravest
from walkabout.growing.units import Scales, words
from walkabout.records.model import Answer
from walkabout.round.here import Here, holds
from walkabout.round.history import History
from walkabout.round.wants import Wanted

ALARMS: tuple[Verdict, ...] = ("now", "stop")
"""Verdicts that fill the screen before the round goes on."""

_TINY = 1e-6
"""What turning units to and fro may add."""


class Judgement(Struct, frozen=True):
    """What one answer means; `meanings` has the gravest first, and is empty when all is good."""

    verdict: Verdict
    meanings: tuple[Meaning, ...] = ()
    hours: float | None = None
    """Hours to loss of the quickest fault shown."""

    @property
    def alarm(self) -> bool:
        """Whether the round waits until this has been seen to."""
        return self.verdict in ALARMS

    @property
    def why(self) -> str:
        """The reasons, the gravest first."""
        return " ".join(meaning.why for meaning in self.meanings if meaning.why)

    @property
    def shows(self) -> tuple[str, ...]:
        """The faults shown."""
        return tuple(dict.fromkeys(name for meaning in self.meanings for name in meaning.shows))

    @property
    def ask(self) -> tuple[str, ...]:
        """The questions to ask at once."""
        return tuple(dict.fromkeys(name for meaning in self.meanings for name in meaning.ask))


def judge_choices(
    question: Question, picked: Sequence[str], checklist: Checklist, here: Here, history: History, now: datetime
) -> Judgement:
    """Judge picked answers, each by the first of its cases that holds at this station."""
    by_id = {choice.id: choice for choice in question.choices}
    meanings = [_meaning(by_id[one], here, history, now) for one in picked]
    return _judgement(meanings, checklist)


def judge_number(
    question: Question,
    value: float,
    checklist: Checklist,
    wanted: Wanted | None,
    last: Answer | None,
    *,
    scales: Scales,
) -> Judgement:
    """Judge a reading in its stored unit against what grows here, or against the checklist's range."""
    reading = question.reading
    if reading is None:
        return Judgement("good")
    found = [_against_range(value, reading, wanted, scales=scales)]
    if reading.doubling and last is not None and last.value is not None and value > 2 and value > 2 * last.value:
        says = f"More than twice the last count ({last.value:g}): they are breeding."
        # the reason of a high reading is said once
        meaning = msgspec.structs.replace(reading.high, why="") if found[0] is not None else reading.high
        found.append(_graver(meaning, "today", says))
    return _judgement([one for one in found if one is not None], checklist)


def _against_range(value: float, reading: Reading, wanted: Wanted | None, *, scales: Scales) -> Meaning | None:
    good = (wanted.low, wanted.high) if wanted is not None else reading.good
    floor, ceiling = _alarm(reading, wanted)
    read = _shown(value, reading, scales=scales)
    if floor is not None and value < floor - _TINY:
        return _graver(reading.low, "now", f"{read} is below {_shown(floor, reading, scales=scales)}.")
    if ceiling is not None and value > ceiling + _TINY:
        return _graver(reading.high, "now", f"{read} is above {_shown(ceiling, reading, scales=scales)}.")
    # a value that reads like the end of the range is inside it
    last = 0.5 * 10**-reading.decimals - _TINY
    if good is None or good[0] - last <= value <= good[1] + last:
        return None
    end, meaning, side = (good[0], reading.low, "below") if value < good[0] else (good[1], reading.high, "above")
    margin = max(reading.margin, reading.margin_percent / 100 * abs(end))
    verdict: Verdict = "watch" if abs(value - end) <= margin + _TINY else "today"
    source = wanted.says if wanted is not None else "the usual range"
    return _graver(meaning, verdict, f"{read} is {side} {_range(good, reading, scales=scales)}, {source}.")


def _alarm(reading: Reading, wanted: Wanted | None) -> tuple[float | None, float | None]:
    """Return below and above which a reading is an alarm: never what the plants here want."""
    floor, ceiling = reading.alarm or (None, None)
    if wanted is not None and floor is not None and wanted.low > reading.possible[0]:
        floor = min(floor, wanted.low)
    if wanted is not None and ceiling is not None and wanted.high < reading.possible[1]:
        ceiling = max(ceiling, wanted.high)
    return floor, ceiling


def _range(good: tuple[float, float], reading: Reading, *, scales: Scales) -> str:
    """Say a range, or its one end where the other is open."""
    low, high = (_shown(end, reading, scales=scales) for end in good)
    if good[1] >= reading.possible[1] > good[0] > reading.possible[0]:
        return low
    if good[0] <= reading.possible[0] < good[1] < reading.possible[1]:
        return high
    return f"{low} to {high.removeprefix('pH ')}" if reading.unit == "pH" else f"{low.partition(' ')[0]} to {high}"


def _shown(value: float, reading: Reading, *, scales: Scales) -> str:
    return words(value, reading.unit, scales, reading.decimals)


def _graver(meaning: Meaning, verdict: Verdict, says: str) -> Meaning:
    """Return the meaning with at least this verdict; what is only watched asks for no act and no job."""
    worst: Verdict = max(verdict, meaning.verdict, key=VERDICTS.index) if meaning.verdict != "good" else verdict
    why = f"{says} {meaning.why}".strip()
    if worst in ("good", "watch"):
        return msgspec.structs.replace(meaning, verdict=worst, why=why, job="")
    do = meaning.do or "Read it once more, and tell an adult."
    return msgspec.structs.replace(meaning, verdict=worst, why=why, do=do)


def _meaning(choice: Choice, here: Here, history: History, now: datetime) -> Meaning:
    return next((case for case in choice.cases if holds(case.when, here, history, now)), choice)


def _judgement(meanings: Sequence[Meaning], checklist: Checklist) -> Judgement:
    bad = sorted(
        (one for one in meanings if one.verdict != "good" or one.ask or one.hold_days),
        key=lambda one: -VERDICTS.index(one.verdict),
    )
    faults = [checklist.fault[name] for one in bad for name in one.shows if name in checklist.fault]
    verdict = gravest([one.verdict for one in bad])
    return Judgement(verdict, tuple(bad), min((fault.hours for fault in faults), default=None))
