"""Adding days on which nobody comes, or a term, to room.toml: one question at a time, written at the last step."""

from datetime import date

import msgspec

from walkabout.checklist.read import kinds
from walkabout.room.calendar import is_walked
from walkabout.room.dates_file import add_dates, not_in
from walkabout.room.model import Closure, Term
from walkabout.screens.app import Walkabout
from walkabout.screens.widgets.asking import LineScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.days import day_to_come
from walkabout.screens.widgets.stagewords import day_long

LONGEST = 40
DAY_HINT = "A day such as Friday, 3 Dec or 2026-12-03."


class Closing:
    """What is known so far of a closure or a term that is being added."""

    def __init__(self, app: Walkabout) -> None:
        self.app = app
        self.term = False
        self.first = self.last = app.opened.today()
        self.name = ""

    def about(self) -> str:
        """Say it in one line."""
        kind = "A term" if self.term else "A closure"
        return f"{kind}{f', from {day_long(self.first)}' if self.first > self.app.opened.today() else ''}"

    async def ask_kind(self) -> bool:
        """Ask whether it is a closure or a term."""
        rows = [Row("days on which nobody comes", "a closure"), Row("a term", "it closes nothing")]
        got = await self.app.push_screen_wait(PickScreen("What is to be added?", rows, about="Goes into room.toml"))
        self.term = got == (1,)
        return got is not None

    async def ask_first(self) -> bool:
        """Ask for the first day."""
        self.first = self.app.opened.today()
        says = "What is its first day?" if self.term else "What is the first day on which nobody comes?"
        got = await self.app.push_screen_wait(LineScreen(says, self._first_in, about=self.about(), hint=DAY_HINT))
        if got is not None:
            self.first = self._first_in(got)
        return got is not None

    def _first_in(self, text: str) -> date:
        today = self.app.opened.today()
        if text.casefold() in ("today", today.isoformat()):
            return today
        if self.term:  # a term that is running may be added too
            try:
                return date.fromisoformat(text)
            except ValueError:
                pass
        return _ahead(text, today)

    async def ask_last(self) -> bool:
        """Ask for the last day."""
        says = "What is its last day?" if self.term else "What is the last day on which nobody comes?"
        hint = f"{DAY_HINT} Enter alone: that one day." if not self.term else DAY_HINT
        about = f"{self.about()}" if self.first > self.app.opened.today() else f"{self.about()}, from today"
        got = await self.app.push_screen_wait(LineScreen(says, self._last_in, about=about, hint=hint))
        if got is not None:
            self.last = self._last_in(got)
        return got is not None

    def _last_in(self, text: str) -> date:
        if not text and not self.term:
            return self.first
        if text == self.first.isoformat():
            return self.first
        today = self.app.opened.today()
        day = _ahead(text, max(self.first, today) if text.isalpha() else today)
        if day < self.first:
            raise ValueError(f"That is before its first day, {day_long(self.first)}.")
        return day

    async def ask_name(self) -> bool:
        """Ask what it is called, then write it into room.toml."""
        about = f"{'A term' if self.term else 'A closure'}: {day_long(self.first)} to {day_long(self.last)}"
        asking = LineScreen(
            "What is it called?", about=about + self._costs(), most=LONGEST, done="write it down",
            hint="Enter alone leaves it without a name.",
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        if got is None:
            return False
        self.name = got
        self._write()
        return True

    def _costs(self) -> str:
        """Say how many rounds fall out."""
        if self.term:
            return ""
        room = self.app.opened.room
        days = [date.fromordinal(at) for at in range(self.first.toordinal(), self.last.toordinal() + 1)]
        rounds = sum(1 for day in days if is_walked(room, day))
        return f". {rounds} round{'s' if rounds != 1 else ''} fall{'s' if rounds == 1 else ''} out"

    def _write(self) -> None:
        opened = self.app.opened
        closures = () if self.term else (Closure(first=self.first, last=self.last, name=self.name),)
        terms = (Term(first=self.first, last=self.last, name=self.name),) if self.term else ()
        try:
            add_dates(opened.folder, closures, terms, kinds(opened.folder))
        except ValueError as error:
            self.app.say(str(error), grave=True, seconds=15)
            return
        fresh = (not_in(closures, opened.room.closures), not_in(terms, opened.room.terms))
        if not any(fresh):
            self.app.say("These days are in room.toml already.")
            return
        # what was written was read back before it took its place: the room in memory gets the same
        opened.room = msgspec.structs.replace(
            opened.room, closures=(*opened.room.closures, *closures), terms=(*opened.room.terms, *terms)
        )
        self.app.say(f"Written into room.toml: {day_long(self.first)} to {day_long(self.last)}.")
        if hasattr(self.app.screen, "renew"):
            self.app.screen.renew()


async def add_dates_asked(app: Walkabout) -> None:
    """Ask for a closure or a term, and write it into room.toml."""
    new = Closing(app)
    await through([new.ask_kind, new.ask_first, new.ask_last, new.ask_name])


def _ahead(text: str, today: date) -> date:
    try:
        return day_to_come(text, today)
    except ValueError as error:
        raise ValueError(str(error).replace(" A job is put off to a later day.", "")) from None
