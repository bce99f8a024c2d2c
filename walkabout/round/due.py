"""Which questions are due today, each with its reason and its worth."""

import zlib
from collections.abc import Callable, Mapping
from datetime import date, timedelta

from msgspec import Struct

from walkabout.checklist.model import NOT_LOOKED, Checklist, Fault, Meaning, Question
from walkabout.jobs.findings import due_again, look_again, open_at
from walkabout.records.model import Answer, Finding
from walkabout.room.model import Room, Who, may
from walkabout.round.days import open_days
from walkabout.round.here import Here, applies
from walkabout.round.history import History
from walkabout.round.pace import Pace
from walkabout.round.rates import Rates

SURE_ENOUGH = 0.6
"""A quick look that finds a fault at least so often is preferred to a slow one that is surer."""
PEOPLE_FIRST = 20.0
"""What can hurt somebody weighs so many times a lost station. Assumed."""
EARLIEST = 0.5
"""A look may come forward once so much of its longest interval is over. Assumed."""
LONGEST_WHY = 120
"""Characters: a reason is one line."""
UPKEEP = 0.0005
"""The worth per second of a question that reveals no fault (labels, counts), once it is due. Assumed."""


class Due(Struct, frozen=True):
    """One question that today could ask.

    `worth` is the expected loss avoided per second: of each fault the chance that it has begun since
    the last look, that the look finds it, that it would be lost before the next round, and the share
    of the station lost with it. `bound` questions are asked whatever they are worth.
    """

    here: Here
    question: Question
    why: str
    bound: bool
    vital: bool
    seconds: float
    worth: float
    hours: float | None = None
    """Hours to loss of the quickest fault that it reveals."""
    for_walker: bool = True
    """The walker's role may look."""
    early: bool = False
    """Not due by itself: only asked when a coming round would be too long without it."""


def no_shift(_station: str, _question: str) -> str:
    """Return '': nothing is known to have shifted."""
    return ""


class Today(Struct, frozen=True):
    """All that the choice of questions depends on besides the station."""

    room: Room
    day: date
    alone: float
    """Hours to the next round."""
    gap_days: int
    """Days to the next round, closed days left out."""
    returning: bool
    walker: str
    role: Who
    history: History
    findings: tuple[Finding, ...]
    rates: Rates
    pace: Pace
    answered: frozenset[tuple[str, str]]
    """What somebody has answered today in another round."""
    closed: int = 0
    """Closed days since the last round: nobody had to look then, and faults began all the same."""
    dry: Mapping[str, str] = {}
    """After a closure: station -> why it comes first, by the forecast at the end of what it holds."""
    shifted: Callable[[str, str], str] = no_shift
    """Station and question -> the sentence of a shift that its last reading has brought to light, or ''."""


def due_at(here: Here, checklist: Checklist, today: Today) -> list[Due]:
    """Return what this station could be asked today, in the order of looking."""
    fitting = [one for one in checklist.question if applies(one, here, today.day)]
    vital = vital_at(here, checklist, fitting, today)
    first = _first_of(checklist, fitting) if here.key in today.dry else ""
    found = []
    for question in fitting:
        if (here.key, question.id) in today.answered:
            continue
        one = _due(here, checklist, question, vital.get(question.id), today, first=question.id == first)
        if one is not None:
            found.append(one)
    # a finding whose question cannot be asked here any more is looked at again like a flagged one
    askable = {question.id for question in fitting}
    found += [
        _again(here, finding, today)
        for finding in due_again(today.findings, today.day)
        if finding.station == here.key and finding.question not in askable
    ]
    return [one for one in found if (here.key, one.question.id) not in today.answered]


def vital_at(here: Here, checklist: Checklist, fitting: list[Question], today: Today) -> dict[str, tuple[str, Fault]]:
    """Return question id -> the quickest fault for which it is the surest look.

    A fault is vital when its hours to loss end before the next round. Only one question is vital for
    it: the quick one that finds it most surely, or a slow one where no quick look is sure enough. One
    that the walker may look at is preferred to one that asks for an adult.
    """
    surest: dict[str, tuple[str, Fault]] = {}
    for name, fault in checklist.fault.items():
        if fault.hours >= today.alone and not fault.people:
            continue
        looks = [one for one in fitting if name in one.reveals]
        looks = [one for one in looks if may(today.role, one.who)] or looks
        quick = [one for one in looks if not one.slow and one.reveals[name] >= SURE_ENOUGH]
        if fault.people and fault.hours >= today.alone:
            quick = [one for one in quick if one.should == 1]
            looks = []
        best = max(quick or looks, key=lambda one: one.reveals[name], default=None)
        if best is not None and (best.id not in surest or fault.hours < surest[best.id][1].hours):
            surest[best.id] = (name, fault)
    return surest


def _first_of(checklist: Checklist, fitting: list[Question]) -> str:
    """Return the id of the question that opens a station's first round back."""
    ids = [one.id for one in fitting]
    return checklist.first if checklist.first in ids else ids[0] if ids else ""


def _due(
    here: Here,
    checklist: Checklist,
    question: Question,
    vital: tuple[str, Fault] | None,
    today: Today,
    *,
    first: bool = False,
) -> Due | None:
    last = today.history.last(here.key, question.id)
    look = today.history.last_look(here.key, question.id)
    age = age_of(here, question, today)
    finding = open_at(today.findings, here.key, question.id)
    why = ""
    bound, early = True, False
    if first:
        why = today.dry[here.key]
    elif finding is not None and finding.recheck is not None and finding.recheck <= today.day:
        why = f"Look again: this was noticed on {_day(finding.at.date(), today.day)}."
    elif last is not None and last.state == "not looked":
        why = f"Not looked at on {_day(last.at.date(), today.day)}."
    elif look is not None and look is last and look.verdict == "watch" and age >= _watch_days(question, look):
        why = f"Look again: {_lower(look.why) or 'it was not quite as it should be.'}"
    elif question.reading is not None and (shifted := today.shifted(here.key, question.id)):
        why = shifted
    elif vital is not None:
        why = _vital_why(vital[1], today)
    elif today.returning and question.after_closure:
        why = "Asked on the first day back."
    elif age + today.gap_days > question.must:
        why = f"Never longer than {_days(question.must)} without this look."
    elif age >= question.should:
        bound = False
        why = _should_why(checklist, question, look, age)
    elif age >= question.must * EARLIEST and not question.slow:
        bound, early = False, True
        why = f"A little early, since a coming round would be too long. {_should_why(checklist, question, look, age)}"
    else:
        return None
    seconds = today.pace.seconds(here.key, question, today.walker)
    hours = min((checklist.fault[name].hours for name in question.reveals), default=None)
    return Due(
        here=here,
        question=question,
        why=in_one_line(why),
        bound=bound,
        vital=vital is not None,
        seconds=seconds,
        worth=worth(here, checklist, question, age, today) / seconds,
        hours=hours,
        for_walker=may(today.role, question.who),
        early=early,
    )


def worth(here: Here, checklist: Checklist, question: Question, age: float, today: Today) -> float:
    """Return the share of a station that the look is expected to save (people weigh more).

    After a closure a fault has had the closed days to begin on as well, though nobody had to look on them.
    """
    days = max(age, 1) + (today.closed if today.returning else 0)
    saved = UPKEEP * question.seconds * age / question.should
    for name, chance in question.reveals.items():
        fault = checklist.fault[name]
        begun = min(today.rates.of(here.key, name, fault.per_week) * days / 7, 1.0)
        in_time = min(today.alone / fault.hours, 1.0)
        saved += begun * chance * fault.lost * in_time * (PEOPLE_FIRST if fault.people else 1.0)
    return saved


def _again(here: Here, finding: Finding, today: Today) -> Due:
    question = look_again(finding)
    seen = "Noticed" if finding.question else f"Flagged by {finding.by or 'somebody'}"
    why = f"{seen} on {_day(finding.at.date(), today.day)}."
    return Due(here, question, why, bound=True, vital=False, seconds=question.seconds, worth=1.0)


def age_of(here: Here, question: Question, today: Today) -> int:
    """Return the days since the question was last seen to, closed days left out.

    That it does not apply counts as seen to. What was never asked counts as asked before the station's
    first day, spread over the question's interval, so that a new room does not ask everything at once.
    """
    seen_to = next((one for one in reversed(today.history.all(here.key, question.id)) if one.state != NOT_LOOKED), None)
    if seen_to is not None:
        since = seen_to.at.date()
    else:
        spread = zlib.crc32(f"{here.key} {question.id}".encode()) % question.should
        since = _began(here, question, today) - timedelta(days=spread + (1 if question.should == 1 else 0))
    return open_days(today.room, since, today.day)


def _began(here: Here, question: Question, today: Today) -> date:
    """Return since when it could have been asked: the first answer here, the plants it asks about, or their age."""
    began = today.history.first_at(here.key) or today.day
    needs, standing = question.needs, here.plantings
    if standing and (needs.plants or needs.groups or needs.crops):
        began = max(began, min(planting.moves[-1].day for planting in standing))
    if standing and needs.older_than is not None:
        began = max(began, min(planting.sown for planting in standing) + timedelta(days=needs.older_than))
    return min(began, today.day)


def _watch_days(question: Question, look: Answer) -> int:
    """Return after how many days something watched is looked at again: what its meaning says, else one."""
    picked = [choice for choice in question.choices if choice.id in look.choices]
    meanings: list[Meaning] = [one for choice in picked for one in (choice, *choice.cases) if one.why in look.why]
    if question.reading:
        meanings += [question.reading.low, question.reading.high]
    return min((one.recheck for one in meanings if one.recheck), default=1)


def _vital_why(fault: Fault, today: Today) -> str:
    alone = f"Before {hours_words(today.alone)} alone"
    if fault.people:
        when = "Every round" if fault.hours < 24 or fault.hours >= today.alone else alone
        return f"{when}, people first: in case {fault.says}."
    when = "Every round" if fault.hours < 24 else alone
    return f"{when}: once {fault.says}, plants last about {hours_words(fault.hours)}."


def _should_why(checklist: Checklist, question: Question, look: Answer | None, age: int) -> str:
    since = f"Last looked at {_days(age)} ago" if look is not None else "Not looked at yet"
    if not question.reveals:
        return f"{since}."
    surest = max(question.reveals, key=lambda name: question.reveals[name])
    fault = checklist.fault[surest]
    return f"{since}; it shows whether {fault.says}."


def in_one_line(why: str) -> str:
    """Cut a reason after a whole sentence, else after a whole word, so that it fits one line."""
    why = " ".join(why.split())
    if len(why) <= LONGEST_WHY:
        return why
    cut = why[:LONGEST_WHY]
    whole = cut.rfind(". ")
    return cut[: whole + 1] if whole >= LONGEST_WHY // 2 else f"{cut[:-2].rsplit(' ', 1)[0].rstrip(',;:.')} …"


def hours_words(hours: float) -> str:
    """Say a time to loss the way people do: '6 hours', '3 days', '2 weeks'."""
    if hours < 1:
        return "less than an hour"
    if hours < 48:
        return f"{hours:.0f} hour{'s' if round(hours) != 1 else ''}"
    if hours < 24 * 14:
        return f"{hours / 24:.0f} days"
    return f"{hours / 168:.0f} weeks"


def _days(days: int) -> str:
    return "a day" if days == 1 else f"{days} days"


def _day(day: date, today: date) -> str:
    return f"{day:%A}" if (today - day).days < 7 else f"{day.day} {day:%B}"


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
