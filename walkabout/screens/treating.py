"""Writing down what was put on plants: an adult says what, and the waiting times of its label."""

from collections.abc import Callable
from datetime import date

from walkabout.almanac.gate import waits
from walkabout.jobs.life import NotAllowed
from walkabout.jobs.plantings import day_in, in_words
from walkabout.jobs.treatments import CAUTION, LONGEST, fill_in, treat, waits_words
from walkabout.records.model import Planting, Treatment
from walkabout.round.endings import eaten_again_words
from walkabout.round.opened import OpenRoom
from walkabout.round.words import day_words
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import DAY_HINT, save
from walkabout.screens.planting_picking import adult_of
from walkabout.screens.widgets.asking import LineScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.waitasking import hours_screen, known, wait_screen

ADULT = "Only an adult writes this down. Whose code is it?"


class Treating:
    """Something that was put on plants, while it is asked for."""

    def __init__(self, app: Walkabout, station: str, standing: list[Planting]) -> None:
        self.app = app
        self.stations: tuple[str, ...] = (station,)
        self.station = station
        self.standing = standing
        self.planting = ""
        self.by = ""
        self.what = ""
        self.wait: int | None = None
        self.hours: float | None = None

    def about(self) -> str:
        """Say it in one line."""
        opened = self.app.opened
        one = opened.plantings.get(self.planting)
        which = in_words(one, opened.crops, opened.today()) if one else "all plants"
        return f"{opened.name_of(self.station)}, {which}{f': {self.what}' if self.what else ''}"

    async def ask_adult(self) -> bool:
        """Ask for an adult's code."""
        self.by = await adult_of(self.app, ADULT)
        return bool(self.by)

    async def ask_which(self) -> bool:
        """Ask on which plants it was put, where that is a question; into a shared tank reaches all that drink there."""
        opened = self.app.opened
        sharing = tuple(key for key in opened.sharing(self.station) if key != self.station)
        rows = [Row("all plants here")]
        rows += [Row(in_words(one, opened.crops, opened.today()), one.label) for one in self.standing[:7]]
        if sharing:
            names = " and ".join(opened.name_of(key) for key in sharing)
            rows.append(Row("into the solution", f"it reaches {names} too"))
        self.planting, self.stations = "", (self.station,)
        if len(rows) == 2 and not sharing:
            return True
        asking = PickScreen("Which plants did it reach?", rows, about=opened.name_of(self.station))
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        if sharing and got[0] == len(rows) - 1:
            self.stations = (self.station, *sharing)
        elif got[0]:
            self.planting = self.standing[got[0] - 1].key
        return True

    async def ask_what(self) -> bool:
        """Ask what it was."""

        def check(text: str) -> None:
            if not text:
                raise ValueError("Say what was put on the plants, as it stands on the label.")

        self.what = ""
        asking = LineScreen(
            "What was put on them, as the label calls it?", check, about=self.about(), caution=CAUTION,
            hint="Soap, oil and home mixtures count too. No names of people.", most=LONGEST,
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        self.what = got or ""
        return got is not None

    async def ask_wait(self) -> bool:
        """Ask for the days until anything from there may be eaten."""
        got = await self.app.push_screen_wait(wait_screen(self.about()))
        self.wait = None if (days := known(got)) is None else round(days)
        return got is not None

    async def ask_hours(self) -> bool:
        """Ask for the hours until people may touch the plants."""
        got = await self.app.push_screen_wait(hours_screen(self.about()))
        self.hours = known(got)
        return got is not None

    async def ask_day(self) -> bool:
        """Ask for the day, then write it down."""
        today = self.app.opened.today()
        asking = LineScreen(
            "On which day was that?", lambda text: day_in(text, today),
            about=f"{self.about()}; {waits_words(self.wait, self.hours)}", hint=DAY_HINT, done="write it down",
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        self._write(day_in(got, today))
        return True

    def _write(self, day: date) -> None:
        opened = self.app.opened
        made = _or_say(self.app, lambda: tuple(
            treat(
                station=key, what=self.what, wait_days=self.wait, entry_hours=self.hours, by=self.by,
                role=opened.room.role(self.by), now=opened.clock(), planting=self.planting, day=day,
            )
            for key in self.stations
        ))  # fmt: skip
        if made:
            save(self.app, f"{self.about()}. {eaten_again_words(made[0])}.", *made)


async def treat_plants(app: Walkabout, station: str, standing: list[Planting]) -> bool:
    """Ask what was put on plants and write it down; False where somebody goes back or no adult is there."""
    new = Treating(app, station, standing)
    return await through([new.ask_adult, new.ask_which, new.ask_what, new.ask_wait, new.ask_hours, new.ask_day])


def not_known(opened: OpenRoom, standing: list[Planting]) -> list[Treatment]:
    """Return what these plants got of which the waiting time is not known yet, the oldest first."""
    from walkabout.round.picking import basis_for_gate  # noqa: PLC0415 - a face needs it only here

    basis = basis_for_gate(opened)
    found = {one.key: one for planting in standing for one in waits(planting, basis) if one.wait_days is None}
    return sorted(found.values(), key=lambda one: (one.day, one.at))


async def fill_in_wait(app: Walkabout, open_ones: list[Treatment]) -> bool:
    """Ask for a waiting time that was not known, and write it down."""
    by = await adult_of(app, ADULT)
    if not by:
        return False
    opened, one = app.opened, open_ones[0]
    if len(open_ones) > 1:
        rows = [Row(each.what, day_words(each.day, opened.today())) for each in open_ones]
        got = await app.push_screen_wait(PickScreen("Of what was it found out?", rows))
        if got is None:
            return False
        one = open_ones[got[0]]
    about = f"{opened.name_of(one.station)}, {day_words(one.day, opened.today())}: {one.what}"
    typed = await app.push_screen_wait(wait_screen(about, needed=True))
    days = known(typed)
    if typed is None or days is None:
        return False
    role = opened.room.role(by)
    now_so = opened.treatments.get(one.key, one)
    made = _or_say(app, lambda: (fill_in(now_so, round(days), None, by, role, opened.clock()),))
    if made:
        save(app, f"{about}. {eaten_again_words(made[0])}.", *made)
    return True


def _or_say(app: Walkabout, make: Callable[[], tuple[Treatment, ...]]) -> tuple[Treatment, ...]:
    try:
        return make()
    except (NotAllowed, ValueError) as error:
        app.say(f"Nothing was written down. {error}", grave=True)
        return ()
