"""Adding, moving and ending plantings: one question at a time, written down at the last step."""

from collections.abc import Callable
from datetime import datetime

from walkabout.jobs.newcomers import APART_DAYS
from walkabout.jobs.plantings import ENDS, bring_in, count_in, day_in, end, in_words, move, sow
from walkabout.records.model import Planting
from walkabout.records.sums import HARVESTED
from walkabout.round.opened import Record
from walkabout.round.picking import reminders_of
from walkabout.round.words import day_words
from walkabout.screens.app import Walkabout
from walkabout.screens.widgets.asking import Checked, LineScreen, NumberScreen, PickScreen, Step, through
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.cropasking import LONGEST, CropScreen

DAY_HINT = "Enter alone means today. Or write 2026-11-20, yesterday, 3 days ago, 2 weeks ago."


async def walker_of(app: Walkabout) -> str:
    """Return whose code is written down; ask when it is not known yet."""
    if not app.walker:
        from walkabout.screens.who import WhoScreen  # noqa: PLC0415 - once a day

        app.walker = await app.push_screen_wait(WhoScreen("Whose code is written down?")) or ""
    return app.walker


class Adding:
    """What is known so far of a planting that is being added."""

    def __init__(self, app: Walkabout, station: str) -> None:
        self.app = app
        self.station = station
        self.crop = ""
        self.brought_in = False
        self.variety = ""
        self.count = 0
        self.sown = app.opened.today()

    def about(self) -> str:
        """Say it in one line."""
        crop = self.app.opened.crops.find(self.crop)
        name = crop.name if crop else self.crop
        kind = f"{name} '{self.variety}'" if self.variety else name
        return f"{self.app.opened.name_of(self.station)}: {f'{self.count} ' if self.count else ''}{kind}"

    async def ask_crop(self) -> bool:
        """Ask which crop it is."""
        about = f"A new planting at {self.app.opened.name_of(self.station)}"
        got = await self.app.push_screen_wait(CropScreen("Which crop is it?", about=about))
        self.crop, self.variety, self.count = got or "", "", 0
        return bool(got)

    async def ask_origin(self) -> bool:
        """Ask whether it was sown here; the crop's caution stands here, once."""
        crop = self.app.opened.crops.find(self.crop)
        rows = [Row("sown here"), Row("brought in from outside", f"stands apart for {APART_DAYS} days")]
        asking = PickScreen("Where does it come from?", rows, about=self.about(), caution=crop.caution if crop else "")
        got = await self.app.push_screen_wait(asking)
        self.brought_in = got == (1,)
        return got is not None

    async def ask_variety(self) -> bool:
        """Ask for the variety."""
        asking = LineScreen("Which variety?", about=self.about(), hint="Enter alone leaves it open.", most=LONGEST)
        got = await self.app.push_screen_wait(asking)
        self.variety = got or ""
        return got is not None

    async def ask_count(self) -> bool:
        """Ask how many there are."""
        self.count = 0
        asking = NumberScreen("How many plants or sowings?", lambda text: Checked(count_in(text)), about=self.about())
        got = await self.app.push_screen_wait(asking)
        self.count = round(got or 0)
        return got is not None

    async def ask_day(self) -> bool:
        """Ask for the day of sowing."""
        today = self.app.opened.today()
        ask = "On which day was it sown, as far as known?" if self.brought_in else "On which day was it sown?"
        asking = LineScreen(ask, lambda text: day_in(text, today), about=self.about(), hint=DAY_HINT)
        got = await self.app.push_screen_wait(asking)
        self.sown = day_in(got or "", today)
        return got is not None

    async def ask_label(self) -> bool:
        """Ask for its label, then write it down."""
        days = day_words(self.sown, self.app.opened.today())
        asking = LineScreen(
            "What stands on its label?", about=f"{self.about()}, sown {days}", most=LONGEST,
            hint="Enter alone leaves it without one. No names of people.", done="write it down",
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        await self._save(got)
        return True

    async def _save(self, label: str) -> None:
        opened, by = self.app.opened, await walker_of(self.app)
        if not by:
            self.app.say("Nothing was written down: it needs somebody's code.", grave=True)
            return
        make = bring_in if self.brought_in else sow
        made = make(
            crop=self.crop, station=self.station, count=self.count, sown=self.sown, by=by, now=opened.clock(),
            variety=self.variety, label=label,
        )  # fmt: skip
        planting, *reminder = made if isinstance(made, tuple) else (made,)
        more = ""
        if isinstance(planting, Planting) and planting.apart_until is not None:
            until = f"{planting.apart_until.day} {planting.apart_until:%b}"
            more = f" Keep it apart until {until}: the round asks for a look each week."
        save(self.app, f"{self.about()}.{more}", planting, *reminder)


async def add_planting(app: Walkabout, station: str) -> None:
    """Ask for all that a new planting needs, and write it down."""
    new = Adding(app, station)
    await through([new.ask_crop, new.ask_origin, new.ask_variety, new.ask_count, new.ask_day, new.ask_label])


class Changing:
    """A planting that is being moved or ended, whole or in part."""

    def __init__(self, app: Walkabout, standing: list[Planting]) -> None:
        self.app = app
        self.standing = standing
        self.planting = standing[0]
        self.count = 0
        self.to = ""
        self.how = ""

    def words(self, planting: Planting) -> str:
        """Say a planting in short."""
        return in_words(planting, self.app.opened.crops, self.app.opened.today())

    def these(self) -> str:
        """Say how many of them are meant."""
        words = self.words(self.planting)
        return words if self.count == self.planting.count else f"{self.count} of {words}"

    def first(self) -> list[Step]:
        """Ask which planting only where there are several."""
        return [self.ask_which] if len(self.standing) > 1 else []

    async def ask_which(self) -> bool:
        """Ask which of them."""
        rows = [Row(self.words(one), one.label) for one in self.standing]
        got = await self.app.push_screen_wait(PickScreen("Which planting?", rows))
        if got:
            self.planting = self.standing[got[0]]
        return got is not None

    async def ask_count(self) -> bool:
        """Ask how many of them."""
        most = self.planting.count

        def check(text: str) -> Checked:
            return Checked(count_in(text, most) if text else most)

        asking = NumberScreen("How many of them?", check, about=self.words(self.planting),
                              remark=f"enter alone: all {most}")  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        self.count = round(got or 0)
        return got is not None

    async def ask_station(self) -> bool:
        """Ask where to, then write it down."""
        opened = self.app.opened
        others = [one for one in opened.room.stations if one.key != self.planting.station]
        if not others:
            self.app.say("There is no other station to move it to.")
            return False
        rows = [Row(one.name, self._stands_at(one.key)) for one in others]
        got = await self.app.push_screen_wait(PickScreen("To which station?", rows, about=self.these()))
        if got is None:
            return False
        self.to = others[got[0]].key
        if not await self._may_join():
            return await self.ask_station()
        by = await walker_of(self.app)
        if by:
            says = f"{self.count} moved to {opened.name_of(self.to)}."
            self.change(by, says, lambda now: move(self.now_so(), self.to, self.count, by, now))
        return True

    def _stands_at(self, station: str) -> str:
        opened = self.app.opened
        here = [one for one in opened.plantings.values() if one.ended is None and one.station == station]
        return ", ".join(self.words(one) for one in here)

    async def _may_join(self) -> bool:
        """Ask once more before plants that stand apart come among others."""
        until = self.planting.apart_until
        if until is None or until <= self.app.opened.today() or not self._stands_at(self.to):
            return True
        rows = [Row("no, choose another station"), Row("yes, move them there")]
        about = f"These plants came from outside and stand apart until {until.day} {until:%b}."
        ask = f"Other plants stand at {self.app.opened.name_of(self.to)}. Move them there all the same?"
        return await self.app.push_screen_wait(PickScreen(ask, rows, about=about)) == (1,)

    async def ask_how(self) -> bool:
        """Ask how it ended. What is harvested to be eaten passes the gate first, as any picking does."""
        asking = PickScreen("How did it end?", [Row(one) for one in ENDS], about=self.words(self.planting))
        got = await self.app.push_screen_wait(asking)
        self.how = ENDS[got[0]] if got else ""
        return got is not None

    def is_food(self) -> bool:
        """Say whether anybody may mean to eat it: what the crop table does not know may be food."""
        crop = self.app.opened.crops.find(self.planting.crop)
        return crop is None or bool(crop.eaten)

    async def ask_reason(self) -> bool:
        """Ask for what should be remembered, then write it down."""
        now = self.app.opened.clock()

        def check(text: str) -> object:
            return end(self.planting, self.how, text, self.count, "", now)

        asking = LineScreen(
            "What should be remembered about it?", check, about=f"{self.these()}: {self.how}",
            hint="A weight, a reason, what you would do otherwise. Enter alone leaves it open.", done="write it down",
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        if by := await walker_of(self.app):
            says = f"{self.count} {self.how}. They stay on record."
            self.change(by, says, lambda now: end(self.now_so(), self.how, got, self.count, by, now))
        return True

    def now_so(self) -> Planting:
        """Return the planting as it is by now: somebody else may have changed it meanwhile."""
        return self.app.opened.plantings.get(self.planting.key, self.planting)

    def change(self, by: str, says: str, change: Callable[[datetime], tuple[Planting, ...]]) -> None:
        """Write down what changes it, unless it was changed meanwhile so that this can no longer be."""
        opened = self.app.opened
        try:
            changed = change(opened.clock())
        except ValueError as error:
            self.app.say(f"It was changed meanwhile. {error}", grave=True)
            return
        reminders = reminders_of(opened, self.planting.key, changed, by, opened.clock())
        save(self.app, f"{self.words(self.planting)}: {says}", *changed, *reminders)


async def move_planting(app: Walkabout, standing: list[Planting]) -> None:
    """Ask which planting goes where, and write it down."""
    change = Changing(app, standing)
    await through([*change.first(), change.ask_count, change.ask_station])


async def end_planting(app: Walkabout, standing: list[Planting]) -> None:
    """Ask which planting ends, how and why, and write it down."""
    change = Changing(app, standing)
    while await through([*change.first(), change.ask_how]):
        if change.how == HARVESTED and change.is_food():
            from walkabout.screens.planting_picking import pick_planting  # noqa: PLC0415 - only for what is eaten

            done = await pick_planting(app, [change.planting])
        else:
            done = await through([change.ask_count, change.ask_reason])
        if done:
            return


def save(app: Walkabout, says: str, *records: Record) -> None:
    """Write records down, say so, and show what is true now."""
    unsaved = app.opened.save(*records)
    app.say(f"Not on disk yet: {unsaved}" if unsaved else f"Written down. {says}", grave=bool(unsaved))
    if hasattr(app.screen, "renew"):
        app.screen.renew()
