"""Writing a picking down: what it is for, what an adult answers before anybody eats, how much, and for whom."""

import math

from walkabout.almanac.gate import Gate
from walkabout.jobs.plantings import count_in
from walkabout.jobs.promises import amount_words
from walkabout.jobs.stages import MOST_GRAMS, MOST_PORTIONS, NOT_EATEN
from walkabout.records.model import Planting
from walkabout.room.model import may
from walkabout.round.endings import long_day
from walkabout.round.picking import gate_now, picked, promises_for
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import Changing, save, walker_of
from walkabout.screens.widgets.asking import Checked, NumberScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row

SHOWN = 3
"""So many reasons are shown at once; the others hold all the same."""


class Picks(Changing):
    """A picking while it is asked for."""

    def __init__(self, app: Walkabout, standing: list[Planting]) -> None:
        super().__init__(app, standing)
        self.becomes = ""
        self.signed = ""
        self.yes: set[str] = set()
        self.whole = True
        self.grams: float | None = None
        self.portions: float | None = None
        self.promise = ""

    async def ask_use(self) -> bool:
        """Ask what it is picked for; what is eaten asks an adult first, and may not be allowed at all."""
        while True:
            found = gate_now(self.app.opened, [self.planting], eating=True)
            rows = [Row(f"nobody eats it: {one}") for one in NOT_EATEN]
            ask, caution = "It may not be eaten now. What becomes of it?", self._blocks(found)
            if found.open:
                rows.insert(0, Row("to be eaten", "an adult answers first"))
                ask, caution = "What is it picked for?", "\n".join(found.warns[:SHOWN])
            got = await self.app.push_screen_wait(
                PickScreen(ask, rows, about=self.words(self.planting), caution=caution)
            )
            if got is None:
                return False
            at = got[0] - found.open
            self.becomes, self.signed = NOT_EATEN[at] if at >= 0 else "", ""
            if await (self._may_be_picked() if self.becomes else self._may_be_eaten(found)):
                return True

    def _blocks(self, found: Gate) -> str:
        shown = [f"{one.says} {one.ends}" for one in found.blocks[:SHOWN]]
        more = len(found.blocks) - SHOWN
        return "\n".join([*shown, *([f"And {more} more."] if more > 0 else [])])

    async def _may_be_picked(self) -> bool:
        """Say what keeps hands off the plants, whatever they are picked for."""
        found = gate_now(self.app.opened, [self.planting], eating=False)
        if not found.open:
            self.app.say(found.blocks[0].says, grave=True, seconds=10)
        return found.open

    async def _may_be_eaten(self, found: Gate) -> bool:
        """Have an adult answer every check with yes."""
        if not await self._adult():
            return False
        self.yes, at = set(), 0
        while at < len(found.checks):
            one = found.checks[at]
            about = f"{self.words(self.planting)}. Before anybody eats, {at + 1} of {len(found.checks)}: {one.why}"
            asking = PickScreen(one.ask, [Row("yes"), Row("no, or nobody knows")], about=about)
            got = await self.app.push_screen_wait(asking)
            if got is None:
                at -= 1
            elif got == (0,):
                self.yes.add(one.id)
                at += 1
            else:
                self.app.say("Then it is not eaten yet. Put it right first, or write down that nobody eats it.")
                return False
            if at < 0:
                return False
        return True

    async def _adult(self) -> bool:
        """Take the code of an adult: the walker's own, or one that is fetched."""
        self.signed = await adult_of(self.app, "An adult answers before anybody eats. Whose code is it?")
        return bool(self.signed)

    async def ask_whole(self) -> bool:
        """Ask whether the plants are gone or grow on."""
        rows = [Row("whole plants", "they are gone"), Row("a part of each", "cut, and it grows on")]
        got = await self.app.push_screen_wait(PickScreen("What was picked?", rows, about=self.words(self.planting)))
        if got is None:
            return False
        self.whole = got == (0,)
        return not self.whole or await self._count() or await self.ask_whole()

    async def _count(self) -> bool:
        most = self.planting.count

        def check(text: str) -> Checked:
            return Checked(count_in(text, most) if text else most)

        asking = NumberScreen("How many plants?", check, about=self.words(self.planting),
                              remark=f"enter alone: all {most}")  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        self.count = round(got or 0)
        return got is not None

    async def ask_grams(self) -> bool:
        """Ask what it weighs."""
        remark = "enter alone: not weighed" if self.whole or not self.becomes else ""
        return await self._amount("How much does it weigh?", "g", MOST_GRAMS, remark, "grams")

    async def ask_portions(self) -> bool:
        """Ask for how many it was enough."""
        if self.becomes:
            self.portions, self.promise = None, ""
            return True
        needed = not self.whole and self.grams is None
        remark = "" if needed else "enter alone: not counted"
        return await self._amount("How many portions?", "portions", MOST_PORTIONS, remark, "portions")

    async def _amount(self, ask: str, unit: str, most: float, remark: str, into: str) -> bool:
        def check(text: str) -> Checked:
            if not text and remark:
                return Checked(0)
            try:
                value = float(text)
            except ValueError:
                value = math.nan
            if not 0 < value <= most:
                raise ValueError(f"Type a number above 0, up to {most:,.0f}.")
            return Checked(value)

        asking = NumberScreen(ask, check, about=self.words(self.planting), unit=unit, remark=remark)
        got = await self.app.push_screen_wait(asking)
        setattr(self, into, got or None)
        return got is not None

    async def ask_promise(self) -> bool:
        """Ask for which promise it is, then write it down."""
        open_ones = [] if self.becomes else promises_for(self.app.opened, self.planting)
        self.promise = ""
        if open_ones:
            rows = [Row(f"{one.people}, {long_day(one.day)}", amount_words(one)) for one in open_ones]
            rows.append(Row("for no promise"))
            asking = PickScreen("For which promise?", rows, about=self.words(self.planting))
            got = await self.app.push_screen_wait(asking)
            if got is None:
                return False
            self.promise = open_ones[got[0]].key if got[0] < len(open_ones) else ""
        # where nobody said who walks, the adult who answered writes it down
        if by := self.app.walker or self.signed or await walker_of(self.app):
            self._write(by)
        else:
            self.app.say("Nothing was written down: it needs somebody's code.", grave=True)
        return True

    def _write(self, by: str) -> None:
        opened = self.app.opened
        try:
            ending = picked(
                opened, self.now_so(), count=self.count if self.whole else 0, grams=self.grams, by=by,
                now=opened.clock(), portions=self.portions, promise=self.promise, becomes=self.becomes,
                signed=self.signed, yes=self.yes,
            )  # fmt: skip
        except ValueError as error:
            self.app.say(f"Nothing was written down. {error}", grave=True, seconds=10)
            return
        save(self.app, ending.says, *ending.records)


async def adult_of(app: Walkabout, ask: str) -> str:
    """Return the code of an adult: the walker's own, else one that is asked for; '' where none is there."""
    role = app.opened.room.role
    if app.walker and may(role(app.walker), "adult"):
        return app.walker
    from walkabout.screens.who import WhoScreen  # noqa: PLC0415 - seldom asked

    code = await app.push_screen_wait(WhoScreen(ask)) or ""
    if code and not may(role(code), "adult"):
        app.say("That is not the code of an adult. Fetch an adult for this.", grave=True)
        return ""
    return code


async def pick_planting(app: Walkabout, standing: list[Planting]) -> bool:
    """Ask for a picking and write it down; False where somebody goes back."""
    new = Picks(app, standing)
    steps = [*new.first(), new.ask_use, new.ask_whole, new.ask_grams]
    return await through([*steps, new.ask_portions, new.ask_promise])
