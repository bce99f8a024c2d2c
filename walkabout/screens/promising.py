"""Promising a harvest, changing a promise, calling it off: one question at a time, written down at the last step."""

import asyncio
from collections.abc import Callable, Sequence
from datetime import date, datetime
from typing import get_args

from walkabout.almanac.model import WayOut
from walkabout.growing.counting import counted, noun, unit_word
from walkabout.growing.crops import Crop
from walkabout.jobs.plantings import count_in, in_words
from walkabout.jobs.promises import LONGEST, MOST, amount_words, call_off, change, promise
from walkabout.records.model import Amount, Promise
from walkabout.room.calendar import closure_on, is_walked, next_day
from walkabout.round.opened import OpenRoom
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import save, walker_of
from walkabout.screens.widgets.asking import Checked, LineScreen, NumberScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.cropasking import CropScreen
from walkabout.screens.widgets.days import day_to_come
from walkabout.screens.widgets.stagewords import day_long

UNITS: tuple[Amount, ...] = get_args(Amount)
UNIT_WORDS: dict[Amount, str] = {"portions": "one portion for each who eats", "heads": "whole plants", "g": "by weight"}
UNKNOWN = "is not in the crop table: nothing can be reckoned for it, neither when it is ready nor how much to sow."
DAY_HINT = "A day such as Friday, 3 Dec or 2026-12-03."
FEW_WORDS = "A few words, so that others understand it later."


class Promising:
    """What is known so far of a promise that is being made or changed."""

    def __init__(self, app: Walkabout, before: Promise | None = None) -> None:
        self.app = app
        self.before = before
        self.crop = before.crop if before else ""
        self.unit: Amount = before.unit if before else "portions"
        self.amount = before.amount if before else 0.0
        self.day = before.day if before else app.opened.today()
        self.people = before.people if before else ""
        self.plantings: tuple[str, ...] = before.plantings if before else ()
        self._sowing = ""

    @property
    def opened(self) -> OpenRoom:
        """The room."""
        return self.app.opened

    def name(self) -> str:
        """Return the crop's name."""
        crop = self.opened.crops.find(self.crop)
        return crop.name if crop else self.crop

    def about(self) -> str:
        """Say it in one line, as far as it is known."""
        crop = self.opened.crops.find(self.crop)
        amount = f"{self.amount:g} {unit_word(self.unit, crop, self.amount)} of " if self.amount else ""
        day = f", {day_long(self.day)}" if self.day > self.opened.today() else ""
        return f"A promise: {amount}{self.name()}{day}" if self.crop else "A promise"

    async def ask_crop(self) -> bool:
        """Ask for the crop."""
        got = await self.app.push_screen_wait(CropScreen("What is promised?", about=self.about(), eaten=True))
        self.crop, self.amount = got or "", 0.0
        return bool(got)

    async def ask_unit(self) -> bool:
        """Ask in what it is counted; of a crop that nobody knows it is said that nothing can be reckoned."""
        crop = self.opened.crops.find(self.crop)
        words = {"g": "grams", "heads": unit_word("heads", crop)}
        what = UNIT_WORDS | {"heads": f"whole {noun(crop)}"}
        rows = [Row(words.get(one, one), what[one]) for one in UNITS]
        remark = "" if crop else f"{self.crop} {UNKNOWN}"
        asking = PickScreen("In what is it counted?", rows, about=self.about(), caution=remark)
        got = await self.app.push_screen_wait(asking)
        self.unit = UNITS[got[0]] if got else self.unit
        return got is not None

    async def ask_amount(self) -> bool:
        """Ask how much."""
        had = f"enter alone: {self.before.amount:g}" if self.before else ""
        unit = unit_word(self.unit, self.opened.crops.find(self.crop))
        asking = NumberScreen(
            "How much?", self._amount_in, about=self.about(), unit=unit, remark=had,
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        self.amount = got or self.amount
        return got is not None

    def _amount_in(self, text: str) -> Checked:
        if not text and self.before:
            return Checked(self.before.amount)
        if self.unit != "g":
            return Checked(count_in(text, int(MOST[self.unit])))
        try:
            amount = float(text)
        except ValueError:
            raise ValueError("Type the grams, such as 250.") from None
        if not 0 < amount <= MOST["g"]:
            raise ValueError(f"It can be more than 0 and up to {MOST['g']:,.0f} g.")
        return Checked(amount)

    async def ask_day(self) -> bool:
        """Ask for the day; one on which nobody comes is asked once more."""
        had = day_long(self.before.day) if self.before else ""
        asking = LineScreen(
            "For which day?", self._day_in, about=self.about(),
            hint=f"Enter alone leaves it {had}. {DAY_HINT}" if had else DAY_HINT,
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        self.day = self._day_in(got)
        await self._ask_back()
        return True

    def _day_in(self, text: str) -> date:
        if not text and self.before:
            return self.before.day
        try:
            day = day_to_come(text, self.opened.today())
        except ValueError as error:
            raise ValueError(str(error).replace(" A job is put off to a later day.", "")) from None
        room = self.opened.room
        if not is_walked(room, day):
            closure = closure_on(room, day)
            why = f"is in {closure.name or 'a closure'}" if closure else f"is a {day:%A}, on which nobody comes"
            raise ValueError(f"{day_long(day)} {why}. The next open day is {day_long(next_day(room, day))}.")
        return day

    async def _ask_back(self) -> None:
        """Reckon back to the sowing, so that it stands beside the next question."""
        crop = self.opened.crops.find(self.crop)
        self._sowing = await _sowing_words(self.opened, crop, self.amount, self.unit, self.day) if crop else ""

    async def ask_plantings(self) -> bool:
        """Ask what it comes from, where several of the crop stand."""
        standing = [one for one in self.opened.plantings.values() if one.ended is None and one.crop == self.crop]
        if len(standing) < 2:
            return True
        rows = [Row("any of them"), *(Row(self._planting(one.key)) for one in standing)]
        got = await self.app.push_screen_wait(
            PickScreen("From which plantings?", rows, about=self._with_sowing(), ticks=True)
        )
        if got is not None:
            self.plantings = tuple(standing[at - 1].key for at in got if at)
        return got is not None

    def _planting(self, key: str) -> str:
        one = self.opened.plantings[key]
        words = in_words(one, self.opened.crops, self.opened.today())
        return f"{words}, at {self.opened.name_of(one.station)}"

    def _with_sowing(self) -> str:
        return f"{self.about()}\n{self._sowing}" if self._sowing else self.about()

    async def ask_people(self) -> bool:
        """Ask for whom, then write it down."""
        had = self.before.people if self.before else ""
        asking = LineScreen(
            "For whom is it?", _people, about=self._with_sowing(), text=had, most=LONGEST,
            hint="A class or an event, such as class 8b. Never the name of a person.",
            done="go on" if self.before else "write it down",
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        self.people = got
        if self.before is None:
            await _write(self.app, self.about(), self._made)
        return True

    def _made(self, by: str, now: datetime) -> Promise:
        return promise(
            crop=self.crop, amount=self.amount, unit=self.unit, day=self.day, people=self.people, by=by, now=now,
            plantings=self.plantings,
        )  # fmt: skip

    async def ask_why(self) -> bool:
        """Ask why it changes, then write it down."""
        asking = LineScreen(
            "Why does it change?", _reason, about=f"{self.about()} for {self.people}", hint=FEW_WORDS, most=120,
            done="write it down",
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        await _write(self.app, f"{self.about()}. Tell {self.people}.", lambda by, now: self._changed(got, by, now))
        return True

    def _changed(self, why: str, by: str, now: datetime) -> Promise:
        assert self.before is not None
        one = self.opened.promises.get(self.before.key, self.before)
        return change(one, by, now, why, amount=self.amount, unit=self.unit, day=self.day, people=self.people)


async def add_promise(app: Walkabout) -> None:
    """Ask for all that a promise needs, and write it down."""
    new = Promising(app)
    await through([new.ask_crop, new.ask_unit, new.ask_amount, new.ask_day, new.ask_plantings, new.ask_people])


async def change_promise(app: Walkabout, one: Promise) -> None:
    """Ask what changes about a promise, and write it down."""
    new = Promising(app, one)
    await through([new.ask_unit, new.ask_amount, new.ask_day, new.ask_people, new.ask_why])


async def move_promise(app: Walkabout, one: Promise, ways: Sequence[WayOut]) -> None:
    """Ask whether a promise goes to another day, and write it down."""
    rows = [Row("no, leave the day as it is"), *(Row(f"yes: {way.says.rstrip('.')}") for way in ways)]
    about = f"A promise: {amount_words(one)} for {one.people}, {day_long(one.day)}"
    got = await app.push_screen_wait(PickScreen("Move it to another day?", rows, about=about))
    if got and got[0]:
        way = ways[got[0] - 1]
        await _write(
            app, f"It is for {day_long(way.day or one.day)} now. Tell {one.people}.",
            lambda by, now: change(app.opened.promises.get(one.key, one), by, now, way.says, day=way.day),
        )  # fmt: skip


async def call_off_promise(app: Walkabout, one: Promise) -> None:
    """Ask why a promise is called off, and write it down."""
    about = f"A promise: {amount_words(one)} for {one.people}, {day_long(one.day)}"
    asking = LineScreen(
        "Why is it called off?", _reason, about=about, hint=FEW_WORDS, most=120, done="call it off",
    )  # fmt: skip
    got = await app.push_screen_wait(asking)
    if got:
        await _write(
            app, f"It is called off. Tell {one.people}.",
            lambda by, now: call_off(app.opened.promises.get(one.key, one), got, by, now),
        )  # fmt: skip


async def _write(app: Walkabout, says: str, make: Callable[[str, datetime], Promise]) -> None:
    """Write a promise down under a code."""
    by = await walker_of(app)
    if not by:
        app.say("Nothing was written down: it needs somebody's code.", grave=True)
        return
    try:
        made = make(by, app.opened.clock())
    except ValueError as error:
        app.say(f"Nothing was written down. {error}", grave=True)
        return
    save(app, says, made)


async def _sowing_words(opened: OpenRoom, crop: Crop, amount: float, unit: Amount, day: date) -> str:
    """Say what would have to be sown for it, and by when; '' where that is not known."""
    from walkabout.round.almanac import basis_of  # noqa: PLC0415 - only when something is promised

    basis = basis_of(opened)

    def reckon() -> str:
        from walkabout.almanac.learned import learned  # noqa: PLC0415 - beside the screen
        from walkabout.almanac.loss_words import sown_for  # noqa: PLC0415
        from walkabout.almanac.work_back import work_back  # noqa: PLC0415

        known = learned(basis)
        try:
            plan = work_back(crop, amount, unit, day, None, basis, known)
        except ValueError as error:
            return f"{str(error)[:1].upper()}{str(error)[1:]}."
        when = f"by {day_long(plan.sow_by)}"
        if plan.sow_by < basis.today:
            when = f"by {day_long(plan.sow_by)}, which is over: only what stands already can be ready"
        rests = sown_for(plan.count, counted(plan.plants, crop), crop, known)
        return f"From seed it takes {counted(plan.count, crop)} sown {when}. {rests}"

    return await asyncio.to_thread(reckon)


def _people(typed: str) -> str:
    if not typed:
        raise ValueError("Say for which class or event it is, without the name of a person.")
    return typed


def _reason(typed: str) -> str:
    if len(typed) < 3:
        raise ValueError(FEW_WORDS)
    return typed
