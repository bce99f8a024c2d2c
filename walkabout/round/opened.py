"""An open room: what is in its folder, ready for every face of the program."""

from contextlib import suppress
from datetime import date, timedelta
from pathlib import Path

from walkabout.checklist.model import Checklist, Question
from walkabout.checklist.read import FOLDER, kinds, read_checklists
from walkabout.growing.crops import SHIPPED, Crops, load
from walkabout.growing.units import Scales
from walkabout.jobs.findings import LOOK_AGAIN, look_again
from walkabout.jobs.life import due
from walkabout.records.book import NotSaved, Records
from walkabout.records.model import Answer, Finding, Job, Planting, Promise, Round, Treatment
from walkabout.records.model_measured import Measurement, Trial
from walkabout.records.model_supplies import Supply
from walkabout.room.calendar import Clock, hours_alone, is_return, local_now, next_day
from walkabout.room.compiled import compiled
from walkabout.room.keep import keep_good_room, last_good_room
from walkabout.room.mistakes import Mistake
from walkabout.room.model import WHOLE_ROOM, Room
from walkabout.room.read import FILE, RoomFile, read_room
from walkabout.round.aims import aims_mistakes, with_aims
from walkabout.round.days import open_days
from walkabout.round.doubtful import doubtful
from walkabout.round.due import Today
from walkabout.round.here import Here, stand_at, stand_in
from walkabout.round.history import KEPT_DAYS, History
from walkabout.round.pace import Pace
from walkabout.round.plan import ANOTHER, PUT_BY, Plan, plan
from walkabout.round.rates import Rates
from walkabout.round.shifted import Shifted

Record = Answer | Round | Planting | Finding | Job | Promise | Treatment | Supply | Trial | Measurement


class CannotOpen(Exception):
    """Nothing of the room can be used; the text has a line for each mistake."""


class OpenRoom:
    """One room with its checklists and records. Everything that is saved goes through `save`."""

    def __init__(self, folder: Path, clock: Clock = local_now, found: RoomFile | None = None) -> None:
        """Open the room in `folder`; CannotOpen when there is nothing to go on with.

        `found` is what was read of its room.toml just now, where somebody had to know more before the room opens.
        """
        self.folder = folder
        self.clock = clock
        self.told: list[str] = []
        self.mistakes: tuple[Mistake, ...] = ()
        self._dry: tuple[tuple[date, date], dict[str, str]] | None = None
        self.room = self._take_room(found or read_room(folder, kinds(folder)))
        aimed = with_aims(_crops(), self.room.aims, self.room.water.ec)
        self.crops = aimed.crops
        self.told += aimed.told
        self.records = Records.open(folder, clock().date())
        self.told += self.records.told
        self._take_in()

    def _take_room(self, found: RoomFile) -> Room:
        room = found.room
        mistakes = list(found.mistakes)
        if room is None:
            room = last_good_room(self.folder, kinds(self.folder))
            if room is None:
                raise CannotOpen("\n".join(str(mistake) for mistake in mistakes))
            self.told.append(f"{FILE} cannot be read, so the last good copy of it is used. The file was left as it is.")
        elif not mistakes:
            keep_good_room(self.folder)
        wanted = frozenset({WHOLE_ROOM, *(station.kind for station in room.stations)})
        checklists = read_checklists(self.folder, wanted)
        self.checklists: dict[str, Checklist] = checklists.of
        self.mistakes = (*mistakes, *checklists.mistakes)
        return room

    def _take_in(self) -> None:
        today = self.clock().date()
        self.shifted = Shifted(self)
        self.history = History(self.records.answers(today - timedelta(days=KEPT_DAYS)))
        self.rounds = self.records.rounds(today - timedelta(days=KEPT_DAYS))
        self.plantings = {one.key: one for one in self.records.plantings()}
        self.findings = {one.key: one for one in self.records.findings()}
        self.jobs = {one.key: one for one in self.records.jobs()}
        self.promises = {one.key: one for one in self.records.promises()}
        self.treatments = {one.key: one for one in self.records.treatments()}

    # what stands where

    @property
    def scales(self) -> Scales:
        """In what the room reads and writes."""
        return Scales(self.room.units == "US", self.room.meters.ec)

    def today(self) -> date:
        """Return the day by the room's clock."""
        return self.clock().date()

    def places(self) -> list[tuple[Here, Checklist]]:
        """Return the room as a whole and then its stations in walking order, each with its checklist."""
        plantings = list(self.plantings.values())
        found = []
        if WHOLE_ROOM in self.checklists:
            found.append((stand_in(self.room, plantings, self.crops), self.checklists[WHOLE_ROOM]))
        for station in self.room.stations:
            if station.kind in self.checklists:
                here = stand_at(self.room, station, plantings, self.crops)
                found.append((here, self.checklists[station.kind]))
        return found

    def sharing(self, key: str) -> tuple[str, ...]:
        """Return the stations on the same tank as this one, itself included; none without a tank."""
        station = self.room.station(key)
        tank = station.tank if station else ""
        return tuple(one.key for one in self.room.stations if tank and one.tank == tank)

    def name_of(self, key: str) -> str:
        """Return the name of a station, or of the room as a whole."""
        station = self.room.station(key)
        return station.name if station else "The room" if key == WHOLE_ROOM else key

    def question(self, station: str, question: str) -> Question | None:
        """Return a question as it can be asked at a station, a second look at a finding included."""
        if question.startswith(LOOK_AGAIN):
            finding = self.findings.get(question.removeprefix(LOOK_AGAIN))
            return look_again(finding) if finding else None
        found = self.room.station(station)
        # a station that is gone from room.toml asks nothing
        checklist = self.checklists.get(found.kind if found else station if station == WHOLE_ROOM else "")
        return checklist.find(question) if checklist else None

    def doubt_of(self, answer: Answer) -> str:
        """Return why an answer is not to be trusted, or ''."""
        question = self.question(answer.station, answer.question)
        return doubtful(answer, question, self.checklists.get(WHOLE_ROOM), self.history)

    # what today asks

    def last_walked(self) -> date | None:
        """Return the last day before today on which a round was walked."""
        today = self.today()
        return max((one.day for one in self.rounds if one.day < today and not measures(one)), default=None)

    def today_for(self, walker: str) -> Today:
        """Gather what today's questions depend on."""
        now, room = self.clock(), self.room
        ahead = next_day(room, now.date())
        places = self.places()
        last = self.last_walked()
        returning = is_return(room, now.date(), last)
        planned = {(here.key, one.id): one.seconds for here, checklist in places for one in checklist.question}
        return Today(
            room=room,
            day=now.date(),
            alone=hours_alone(room, now),
            gap_days=open_days(room, now.date(), ahead),
            returning=returning,
            walker=walker,
            role=room.role(walker),
            history=self.history,
            findings=tuple(self.findings.values()),
            rates=Rates(self.history, now.date()),
            pace=Pace(self.history, planned),
            answered=self.answered_today(),
            closed=(now.date() - last).days - open_days(room, last, now.date()) if returning and last else 0,
            dry=self._run_dry(last) if returning and last else {},
            shifted=self.shifted,
        )

    def _run_dry(self, last: date) -> dict[str, str]:
        """Return what has run dry since the last round, reckoned once a day: it does not hang on today's answers."""
        day = (self.today(), last)
        if self._dry is None or self._dry[0] != day:
            from walkabout.round.returning import run_dry  # noqa: PLC0415 - only the first round back asks for it

            self._dry = (day, run_dry(self, last))
        return self._dry[1]

    def answered_today(self) -> frozenset[tuple[str, str]]:
        """Return what has been looked at today."""
        today = self.today()
        return frozenset(
            where
            for where in self.history.places()
            if (last := self.history.last(*where)) and last.at.date() == today and last.state != "not looked"
        )

    def plan(self, walker: str) -> Plan:
        """Return today's questions for this walker."""
        return plan(self.places(), self.today_for(walker))

    def rounds_today(self) -> list[Round]:
        """Return today's rounds, the first begun first."""
        today = self.today()
        return sorted((one for one in self.rounds if one.day == today), key=lambda one: one.started)

    def jobs_due(self) -> list[Job]:
        """Return the open jobs that are due by today, by hours to loss."""
        return due(self.jobs.values(), self.today())

    def good_days(self, station: str) -> int:
        """Return for how many of its last days with a look a station had nothing wrong, counted from today."""
        worst: dict[date, bool] = {}
        for answer in self.history.at_station(station):
            if answer.state == "answered":
                worst[answer.at.date()] = worst.get(answer.at.date(), True) and answer.verdict in ("good", "")
        days = 0
        for day in sorted(worst, reverse=True):
            if not worst[day]:
                break
            days += 1
        return days

    # what is written down

    def save(self, *records: Record) -> str:
        """Write records down, all together; return '' or why they are only in memory so far."""
        unsaved = ""
        try:
            with self.records.together():
                for record in records:
                    self.records.save(record)
        except NotSaved as error:
            unsaved = str(error)
        for record in records:
            self._remember(record)
        return unsaved

    def _remember(self, record: Record) -> None:
        if isinstance(record, Answer):
            self.history.add(record)
        elif isinstance(record, Round):
            self.rounds = [*(one for one in self.rounds if one.key != record.key), record]
        elif isinstance(record, Planting):
            self.plantings[record.key] = record
        elif isinstance(record, Finding):
            self.findings[record.key] = record
        elif isinstance(record, Promise):
            self.promises[record.key] = record
        elif isinstance(record, Treatment):
            self.treatments[record.key] = record
        elif isinstance(record, Supply | Trial | Measurement):
            return  # read from the records when somebody asks
        else:
            self.jobs[record.key] = record

    def refresh(self) -> bool:
        """Take in what another program has written; say whether there was anything."""
        if not self.records.refresh():
            return False
        self._take_in()
        return True

    def retry(self) -> str:
        """Try again to save what is only in memory; return '' or why it still is."""
        try:
            self.records.retry()
        except NotSaved as error:
            return str(error)
        return ""

    def tidy(self) -> None:
        """Fold what was appended into the month's file; a full disk now is told at the next save."""
        with suppress(NotSaved, OSError):
            self.records.fold()

    def close(self) -> None:
        """Tidy up; everything that was shown as saved is on disk already."""
        self.records.close()


def measures(record: Round) -> bool:
    """Say whether a round only does a measuring job: its first question gives the job's reason."""
    return bool(record.asked) and record.asked[0].why in (PUT_BY, ANOTHER)


def _crops() -> Crops:
    return compiled(SHIPPED, Crops, load) or load()


def check(folder: Path) -> tuple[Mistake, ...]:
    """Return every mistake in a room's files, in the checklists, the shipped ones included, and in the knowledge."""
    from walkabout.round.knowledge_check import knowledge_mistakes  # noqa: PLC0415 - a round reads no knowledge

    checklists = (*read_checklists(folder if (folder / FOLDER).is_dir() else None).mistakes, *knowledge_mistakes())
    if not folder.exists():
        return checklists
    found = read_room(folder, kinds(folder))
    aims = aims_mistakes(folder, with_aims(_crops(), found.room.aims)) if found.room is not None else ()
    return (*sorted((*found.mistakes, *aims)), *checklists)
