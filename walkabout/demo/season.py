"""Eight weeks of a school's growing room, walked day by day through the program's own rounds."""

from datetime import date, time, timedelta
from pathlib import Path
from random import Random

from walkabout.demo import duties
from walkabout.demo.answers import Look, number, pick
from walkabout.demo.clock import DemoClock, moment
from walkabout.demo.helpers import Helper, seconds, walker_on
from walkabout.demo.plantings import Beds
from walkabout.demo.promises import made_on
from walkabout.demo.room import ADULTS
from walkabout.demo.slips import put_right, slipped
from walkabout.demo.state import beginning
from walkabout.demo.supplies import Shelf
from walkabout.demo.trials import Trials
from walkabout.demo.troubles import LONGEST, Trouble, by_chance, scripted
from walkabout.records.model import Answer, Job
from walkabout.room.calendar import is_walked, next_day
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.begin import begin, measure
from walkabout.round.course import Step
from walkabout.round.opened import OpenRoom
from walkabout.round.pace import WALKING
from walkabout.round.walk import Walk

WEEKS = 8
LEFT_OUT = 26
"""The school day on which nobody walked, counted from 0."""
SKIPPED = {9: "bell", 21: "drum"}
"""School day -> the station that its walker left out."""
SLIP_FROM = 23
"""From this school day on, the next EC of the raft is typed wrong, and put right on the same afternoon."""
CLIMBS_FROM = 16
"""From this school day on the herbs' pH climbs, until an adult has corrected it."""
GNATS_FROM, GNATS_TO = 18, 29
MAT_FROM = 10
"""From this school day on the heat mat of the sowing shelf grows warmer: its probe has slipped out of the tray."""
AJAR = 20
"""From this school day on the nights are cooler: a window no longer shuts, and somebody has noticed."""
COLD = 27
"""About this school day: the Monday after it is a cold one."""
LATE = 5
"""Days after which the meter that failed its check is seen to."""
ARRIVAL = 19
"""Days ago on which a plant was brought in."""
CALM = 6
"""So many last school days bring nothing by chance, so that today's round is an ordinary one."""
FALLING: tuple[tuple[int, str], ...] = ((3, "touching"), (2, "finger"), (1, "hand"))
"""(school days ago, level): the raft's solution falls, and nobody tops it up."""
LIT: dict[int, tuple[str, ...]] = {13: ("raft", "trays"), 32: ("shelf", "raft")}
"""School day -> the stations at which somebody goes round with the lux meter."""
_EMPTY_PLACE = frozenset({"moisture", "tray-warmth", "level"})
"""Looks that mean nothing where nothing grows."""


class SeasonRoom(OpenRoom):
    """A room that nobody else has open: it need not look for others' records, nor tidy up every day."""

    def refresh(self) -> bool:
        """Return False: there is nobody else."""
        return False

    def tidy(self) -> None:
        """Wait for the end of the season."""


def days_of(opened: OpenRoom, today: date) -> list[date]:
    """Return the school days of the eight weeks before today."""
    span = (today - timedelta(days=back) for back in range(7 * WEEKS, 0, -1))
    return [day for day in span if is_walked(opened.room, day)]


def live_through(folder: Path, today: date, seed: int) -> None:
    """Write eight weeks of history, up to yesterday, into the demo room in `folder`."""
    clock = DemoClock(moment(today - timedelta(days=7 * WEEKS), time(8)))
    opened = SeasonRoom(folder, clock)
    with opened.records.together():
        Season(opened, clock, today, Random(seed), seed).run()
    opened.close()


class Season:
    """The season under way: the room's records on one side, what is true in it on the other."""

    def __init__(self, opened: OpenRoom, clock: DemoClock, today: date, rng: Random, seed: int) -> None:
        self.opened = opened
        self.clock = clock
        self.today = today
        self.rng = rng
        self.days = days_of(opened, today)
        self.last = len(self.days) - 1
        self.beds = Beds(today, self.days, ADULTS[0])
        self.shelf = Shelf(self.beds.day, ADULTS[1])
        self.trials = Trials(self.beds.day, ADULTS[0], seed)
        self.state = beginning(self.days[0])
        self.state.cold_on = frozenset({self._monday_after(COLD)})
        self.troubles: list[Trouble] = []
        self.climbing = False
        self.slip: tuple[Answer, float] | None = None
        self.slip_made = False
        self.arrival = today - timedelta(days=ARRIVAL)
        self.arrival_told = False
        self.for_today = ""
        """The one job for a pupil that is left for today."""
        kinds = {station.key: station.kind for station in opened.room.stations} | {WHOLE_ROOM: WHOLE_ROOM}
        self.checklists = {key: opened.checklists[kind] for key, kind in kinds.items() if kind in opened.checklists}

    def run(self) -> None:
        """Live through every school day."""
        for index, day in enumerate(self.days):
            self._morning(index, day)
            if index != LEFT_OUT:
                self._round(index, day)
            self._afternoon(index, day)

    def _monday_after(self, index: int) -> date:
        return next((day for day in self.days[index:] if day.weekday() == 0), self.days[index])

    # the day

    def _morning(self, index: int, day: date) -> None:
        state = self.state
        self.climbing = index >= CLIMBS_FROM and not self._was_corrected("herbs", "ph")
        state.solutions["herbs"].drift = 0.09 if self.climbing else 0.022
        state.breeding = GNATS_FROM <= index <= GNATS_TO
        state.mat_since = self.days[MAT_FROM] if index >= MAT_FROM else None
        state.window_ajar = index > AJAR
        if index > self.last - 4:
            state.nobody_tops_up = frozenset({"raft"})
        state.dawn(day, self.rng)
        for ago, level in FALLING:
            if index == self.last + 1 - ago:
                state.says["raft", "level"] = level
        if day >= self.arrival and not self.arrival_told:
            state.says[WHOLE_ROOM, "new-plants"] = "apart"
        for trouble in self.troubles:
            trouble.age += 1
        self.troubles += scripted(index, self.last)
        if 0 < index <= self.last - CALM:
            self.troubles += by_chance(self.checklists, self.troubles, self.rng)
        if index == 0:
            self.clock.set(day, time(8))
            self.opened.save(*self.beds.on(day))

    def _afternoon(self, index: int, day: date) -> None:
        opened, clock, state = self.opened, self.clock, self.state
        clock.set(day, time(12, 35))
        if index == 14:
            duties.flag_by_hand(opened, "bell", "One leaf of the prayer plant has a brown tip", "watch", "T2")
        if index == AJAR:
            duties.flag_by_hand(opened, WHOLE_ROOM, "The top window no longer shuts by a finger's width", "watch", "OC")
        if index == self.last:
            seen = "White dust under two leaves of the bean at the window"
            duties.flag_by_hand(opened, "sill", seen, "today", "W7")
        if index > self.last - len(FALLING):
            self._watch_the_bath(day)
        duties.do_jobs(opened, clock, state, self.rng, self._measure, lambda job: self._is_left(job, index))
        duties.confirm(opened, clock, self.rng)
        if self.slip is not None:
            wrong, value = self.slip
            clock.set(day, time(15, 20))
            put_right(opened, wrong, value, ADULTS[0], f"typed {wrong.value:g} for {value:g}: the key beside it")
            self.slip = None
        if index > 0 and (changed := self.beds.on(day)):
            opened.save(*changed)
        self._look_at_the_light(index)
        opened.save(*made_on(opened.room, day, self.today, ADULTS[0]), *self.shelf.on(day))
        opened.save(*self.trials.on(day, opened.plantings.values()))
        as_it_is = state.nobody_tops_up | ({"herbs"} if self.climbing else frozenset())
        duties.renew_solutions(opened.room, state, day, self.rng, as_it_is)
        state.dusk(self.rng, before_days=(next_day(opened.room, day) - day).days)
        self.troubles = [one for one in self.troubles if not self._is_over(one)]

    def _was_corrected(self, station: str, question: str) -> bool:
        """Say whether a job that this question's answer asked for has been done."""
        findings = self.opened.findings
        return any(
            job.closed is not None and job.station == station and findings[job.finding].question == question
            for job in self.opened.jobs.values()
            if job.finding in findings
        )

    def _watch_the_bath(self, day: date) -> None:
        """Look at the raft's level after hours where the round did not ask for it: it is seen to fall."""
        look = self.opened.history.last_look("raft", "level")
        if look is None or look.at.date() < day:
            job = duties.job_to_look(self.opened, "raft", "level", ADULTS[0], "It has been falling.")
            if job is not None:
                self._measure(job, walker_on(self.days.index(day)))

    def _look_at_the_light(self, index: int) -> None:
        """Measure the light at some stations once more than the round comes to it."""
        for station in LIT.get(index, ()):
            job = duties.job_to_look(self.opened, station, "light", ADULTS[0], "The meter is here this week.")
            if job is not None:
                self._measure(job, walker_on(index))

    def _is_left(self, job: Job, index: int) -> bool:
        """Say whether nobody does this job today: one is done late, and some are still open today."""
        finding = self.opened.findings.get(job.finding)
        question = finding.question if finding else ""
        if (job.station, question) == (WHOLE_ROOM, "meters"):
            before = any(one.finding == job.finding and one.closed for one in self.opened.jobs.values())
            return not before and (self.state.day - job.due).days < LATE
        if self.slip is not None and job.finding == f"f-{self.slip[0].key}":
            return True
        if index == LEFT_OUT and job.questions:
            return True
        if self.climbing and job.standing == "change/herbs":
            return True
        if index < self.last:
            return False
        kept = {(one.station, name) for one in self.troubles if one.kept for name in one.says}
        flagged = finding is not None and not finding.question
        if job.who == "pupil" and job.verdict not in ("now", "stop") and self.for_today in ("", job.key):
            self.for_today = job.key
            return True
        return flagged or (job.station, question) in kept or bool(job.questions and self.rng.random() < 0.4)

    def _is_over(self, trouble: Trouble) -> bool:
        if trouble.kept:
            return False
        if trouble.looks == 0:
            return not trouble.sure and trouble.age >= LONGEST
        findings = self.opened.findings
        waiting = any(
            finding.station == trouble.station and finding.question in trouble.shown_by
            for job in self.opened.jobs.values()
            if job.closed is None and (finding := findings.get(job.finding)) is not None
        )
        return trouble.looks > trouble.stays and not waiting

    # walking

    def _round(self, index: int, day: date) -> None:
        helper = walker_on(index)
        self.clock.set(day, time(8, 10))
        self.clock.wait(self.rng.randint(0, 400))
        walk = begin(self.opened, helper.code)
        self._walk(walk, helper, skipped=SKIPPED.get(index, ""))

    def _measure(self, job: Job, helper: Helper) -> None:
        self._walk(measure(self.opened, job, helper.code), helper)

    def _walk(self, walk: Walk, helper: Helper, skipped: str = "") -> None:
        station = ""
        while (step := walk.step) is not None:
            if step.here.key != station:
                station = step.here.key
                self.clock.wait(WALKING)
                walk.resume_clock()
            self.clock.wait(seconds(helper, step.question.seconds, self.rng))
            if station == skipped:
                walk.skip_station()
            else:
                self._answer(walk, step, helper)
        walk.finish()

    def _answer(self, walk: Walk, step: Step, helper: Helper) -> None:
        question, here = step.question, step.here
        here_now = tuple(one for one in self.troubles if one.station == here.key)
        look = Look(here, question, self.state.day, self.state, here_now, helper.care, self.rng)
        if not here.plantings and question.id in _EMPTY_PLACE and question.may_not_apply:
            walk.does_not_apply()
        elif question.kind == "note":
            walk.note(self.rng.choice(("All quiet.", "Nothing new.", "The label ink is nearly used up.")))
        elif question.reading is None:
            choice = pick(look)
            walk.pick([choice])
            if question.id == "new-plants" and choice == "apart":
                self.arrival_told = True
        else:
            value = number(look)
            slips = not self.slip_made and self.state.day >= self.days[SLIP_FROM]
            if slips and (here.key, question.id) == ("raft", "ec"):
                self.slip_made = True
                self.slip = (walk.number(slipped(value)).answer, value)
            else:
                walk.number(value)
            if question.reading.quantity == "volume" and here.key in self.state.solutions:
                self.state.solutions[here.key].added = 0.0
