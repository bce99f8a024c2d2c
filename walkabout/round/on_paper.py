"""A round that was walked on paper: the codes of its lines, and writing a filled-in sheet down for its own day.

A line's code stands for a station and a question, not for a place on the sheet: it means the same on every sheet and
still does when the room has changed meanwhile. Nothing of a sheet is kept: what was on it is what is typed in.
"""

import hashlib
from collections.abc import Iterator
from datetime import date, datetime, timedelta

import msgspec
from msgspec import Struct

from walkabout.checklist.model import DOES_NOT_APPLY, NOT_LOOKED, Question
from walkabout.jobs.findings import LOOK_AGAIN
from walkabout.records.keys import new_key
from walkabout.records.model import Answer, Asked, Job, Round, State
from walkabout.round.begin import as_asked
from walkabout.round.follow import fresh_key
from walkabout.round.history import KEPT_DAYS, History
from walkabout.round.judge import Judgement, judge_choices, judge_number
from walkabout.round.measuring import jobs_of_the_day
from walkabout.round.meter import Meant, meant_at
from walkabout.round.opened import OpenRoom, measures
from walkabout.round.plan import plan
from walkabout.round.walk import Outcome, Walk
from walkabout.round.wants import wanted_at

Where = tuple[str, str]
"""A station's key and a question's id."""

_FIRST = "bcdfghjkmnpqrstvwxyz"
_MORE = _FIRST + "23456789"
"""Letters and digits that are hard to misread, without vowels, so that no code is a word."""

BY_PAPER = "Asked on paper."
"""Why a question stands in the plan of a round that was typed in."""
NOT_ON_PAPER = "the paper did not ask it"


def code_of(station: str, question: str) -> str:
    """Return the code of a line: a letter and three letters or digits, always the same for the same question.

    Of 250 questions in a room two share a code in about one room of fifteen: then it is asked which is meant.
    """
    number = int.from_bytes(
        hashlib.blake2b(f"{station}\n{question}".encode("utf-8", "replace"), digest_size=8).digest()
    )
    number, first = divmod(number, len(_FIRST))
    more = ""
    for _ in range(3):
        number, place = divmod(number, len(_MORE))
        more += _MORE[place]
    return _FIRST[first] + more


class Given(Struct, frozen=True):
    """An answer as it stood on paper; a number in its stored unit."""

    state: State = "answered"
    choices: tuple[str, ...] = ()
    value: float | None = None
    note: str = ""


class Written(Struct, frozen=True):
    """What became of a typed line. `outcome` is None where a look since then has settled the matter."""

    answer: Answer
    verdict: str
    outcome: Outcome | None = None
    unsaved: str = ""


class TypedIn:
    """A sheet that is being typed in. `opened` has its clock at the day and time of the paper round."""

    def __init__(self, opened: OpenRoom, walker: str) -> None:
        """Begin; nothing is written before the first line."""
        self.opened = opened
        self.walker = walker
        now = opened.clock()
        self.record = Round(key=new_key("r", now), day=now.date(), started=now, walker=walker)
        self._after: frozenset[Where] = frozenset()
        self._day: History = History(())
        self._go_back()
        today = opened.today_for(walker)
        chosen = plan(opened.places(), today)
        self._planned = {(one.station, one.question): one for one in as_asked(chosen.asked)}
        self.record = msgspec.structs.replace(self.record, returning=today.returning, left=as_asked(chosen.left))
        # the jobs of the day; whoever has walked since has made what was due by then
        walked_since = any(one.started > now and not measures(one) for one in opened.rounds)
        self._jobs: tuple[Job, ...] | None = None
        if not walked_since:
            self._jobs = tuple(jobs_of_the_day(opened, chosen, walker, now))

    @property
    def day(self) -> date:
        """The day of the sheet."""
        return self.record.day

    def meant(self, code: str) -> list[Where]:
        """Return what a code may stand for: one line, seldom two, none when it was misread."""
        typed = code.strip().lower()
        return [where for where in self._askable() if code_of(*where) == typed]

    def answered_that_day(self, where: Where) -> Answer | None:
        """Return what was answered there on that day in another round: it is left as it is."""
        rows = self._day.all(*where)
        same = [one for one in rows if one.at.date() == self.day and one.state == "answered"]
        return next((one for one in reversed(same) if one.round != self.record.key), None)

    def walk_at(self, where: Where) -> Walk:
        """Return the walk, standing at this line: that of the typed round, with the line put into its plan."""
        given = {(one.station, one.question) for one in self._given()}
        done = [one for one in self.record.asked if (one.station, one.question) in given]
        rest = [one for one in self.record.asked if (one.station, one.question) not in given]
        if where not in given:
            rest = [self._line(where), *(one for one in rest if (one.station, one.question) != where)]
        walk = self._walk(msgspec.structs.replace(self.record, asked=(*done, *rest)))
        while walk.step is None or (walk.step.here.key, walk.step.question.id) != where:
            if not walk.back():
                raise ValueError("this line was settled meanwhile, or cannot be asked here any more")
        return walk

    def write(self, where: Where, given: Given) -> Written:
        """Write one line down; ValueError says what is wrong with it."""
        self._go_back()
        if where in self._after:
            return self._only_kept(where, given)
        walk = self.walk_at(where)
        if given.state == NOT_LOOKED:
            outcome = walk.not_looked()
        elif given.state == DOES_NOT_APPLY:
            outcome = walk.does_not_apply()
        elif given.value is not None:
            outcome = walk.number(given.value)
        elif given.choices:
            outcome = walk.pick(given.choices)
        else:
            outcome = walk.note(given.note)
        self.record, self._jobs = walk.record, None
        unsaved = outcome.unsaved or self.opened.save(self.record)
        self._day = self.opened.history
        return Written(outcome.answer, outcome.judgement.verdict, outcome, unsaved)

    def finish(self, ended: datetime | None = None) -> str:
        """End the round; what an answer asked for besides was not looked at. Return '' or why it is not saved.

        `ended`: when it ended, by the sheet, not before it began; None where the sheet does not say so: then its
        time on foot is not known and stays 0.
        """
        given = {(one.station, one.question) for one in self._given()}
        if not given:
            return ""
        now = self.opened.clock()
        left = tuple(
            msgspec.structs.replace(self._blank(one.station, one.question, now), state=NOT_LOOKED, note=NOT_ON_PAPER)
            for one in self.record.asked
            if (one.station, one.question) not in given
            and (one.station, one.question) not in self._after
            and self.opened.question(one.station, one.question) is not None
        )
        ended = max(ended or now, now)
        self.record = msgspec.structs.replace(self.record, ended=ended, walked_seconds=(ended - now).total_seconds())
        return self.opened.save(*left, self.record)

    # within

    def _line(self, where: Where) -> Asked:
        """Return a line as the day's plan asks it, or an answer before it; else the paper alone has asked it."""
        asked = next((one for one in self.record.asked if (one.station, one.question) == where), None)
        return self._planned.get(where) or asked or Asked(station=where[0], question=where[1], why=BY_PAPER)

    def _walk(self, record: Round) -> Walk:
        """Return the walk of this record; the jobs of the day are made with its first answer."""
        unwritten: tuple[Round | Job, ...] = () if self._jobs is None else (record, *self._jobs)
        return Walk(self.opened, record, self.walker, unwritten)

    def _given(self) -> list[Answer]:
        return [one for one in self._day.everything() if one.round == self.record.key]

    def _go_back(self) -> None:
        """See the room's answers as they stood on that day, and note what was looked at later."""
        now = self.opened.clock()
        every = self.opened.records.answers(self.day - timedelta(days=KEPT_DAYS))
        until = [one for one in every if one.at <= now or one.round == self.record.key]
        self._after = frozenset(
            (one.station, one.question) for one in every if one.at > now and one.state == "answered"
        )
        self._day = self.opened.history = History(until)

    def _askable(self) -> Iterator[Where]:
        for here, checklist in self.opened.places():
            yield from ((here.key, one.id) for one in checklist.question)
        for finding in self.opened.findings.values():
            open_then = finding.closed is None or finding.closed.date() >= self.day
            if open_then and finding.at.date() <= self.day:
                yield (finding.station, LOOK_AGAIN + finding.key)

    def _blank(self, station: str, question: str, now: datetime) -> Answer:
        return Answer(
            key=fresh_key(now), round=self.record.key, at=now, walker=self.walker, station=station, question=question
        )

    def _only_kept(self, where: Where, given: Given) -> Written:
        """Keep an answer with its verdict, but let nothing follow: somebody has looked again since."""
        now = self.opened.clock()
        question = self.opened.question(*where)
        if question is None:
            raise ValueError("this line cannot be asked here any more")
        judged, read = Judgement("good"), None
        if given.state == "answered":
            judged, read = self._judged(where, question, given, now)
        before = next((one for one in self._given() if (one.station, one.question) == where), None)
        answer = msgspec.structs.replace(
            self._blank(*where, now),
            state=given.state,
            choices=given.choices,
            value=read.value if read else None,
            unit=question.reading.unit if read and question.reading else "",
            note=read.note if read else given.note,
            doubtful=read.doubtful if read else "",
            verdict=judged.verdict if given.state == "answered" else "",
            why=judged.why,
            shows=judged.shows,
            replaces=before.key if before else "",
            reason="put right in the same round" if before else "",
        )
        if before is None:
            self.record = msgspec.structs.replace(self.record, asked=(*self.record.asked, self._line(where)))
        self._walk(self.record).write_plan()
        self._jobs = None
        unsaved = self.opened.save(answer, self.record)
        return Written(answer, judged.verdict, None, unsaved)

    def _judged(self, where: Where, question: Question, given: Given, now: datetime) -> tuple[Judgement, Meant | None]:
        places = self.opened.places()
        here, checklist = next(both for both in places if both[0].key == where[0])
        if given.value is None:
            return judge_choices(question, given.choices, checklist, here, self.opened.history, now), None
        reading, scales = question.reading, self.opened.scales
        if reading is None or not reading.possible[0] <= given.value <= reading.possible[1]:
            raise ValueError(f"{given.value:g} cannot be")
        read = meant_at(self.opened, where[0], given.value, reading)
        neighbours = [other for other, _ in places if other.station is not None]
        wanted = wanted_at(here, neighbours, reading, scales=scales)
        last = self._day.last_look(*where)
        return judge_number(question, read.value, checklist, wanted, last, scales=scales), read
