"""Writing down what plantings reach and lose: come up, thinned, flowering, lost; and where the rest is asked."""

from collections.abc import Awaitable, Callable
from datetime import date
from functools import partial

from walkabout.jobs.plantings import count_in, day_in
from walkabout.jobs.stages import WHYS, flowering, germinated, lose, thinned
from walkabout.records.model import Planting
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import DAY_HINT, Changing, walker_of
from walkabout.screens.widgets.asking import Checked, LineScreen, NumberScreen, PickScreen, through
from walkabout.screens.widgets.atstation import standing_at
from walkabout.screens.widgets.choices import Row

LONGEST = 60


class Noting(Changing):
    """A planting of which somebody writes down what it has reached or lost."""

    def __init__(self, app: Walkabout, standing: list[Planting]) -> None:
        super().__init__(app, standing)
        self.why = ""

    async def came_up(self) -> bool:
        """Ask how many came up, and when that was seen."""
        return await through([*self.first(), self._ask_up, self._day_of("When did they come up?", self._write_up)])

    async def was_thinned(self) -> bool:
        """Ask to how many it was thinned, and when."""
        ask = self._day_of("When was it thinned?", self._write_thinned)
        return await through([*self.first(), self._ask_left, ask])

    async def flowers(self) -> bool:
        """Ask since when it flowers."""
        return await through([*self.first(), self._day_of("Since when does it flower?", self._write_flowering)])

    async def were_lost(self) -> bool:
        """Ask how many were lost, why and when."""
        ask = self._day_of("When was that seen?", self._write_lost)
        return await through([*self.first(), self.ask_count, self._ask_why, ask])

    async def _ask_up(self) -> bool:
        now = self.app.opened.clock()

        def check(text: str) -> Checked:
            count = count_in(text, least=0)
            germinated(self.planting, count, "", now)
            return Checked(count)

        return await self._number("How many have come up so far?", check, "what did not come up counts as lost")

    async def _ask_left(self) -> bool:
        return await self._number(
            "How many stand now?", lambda text: Checked(count_in(text, self.planting.count)),
            "what was taken out counts as no loss",
        )  # fmt: skip

    async def _number(self, ask: str, check: Callable[[str], Checked], remark: str) -> bool:
        got = await self.app.push_screen_wait(NumberScreen(ask, check, about=self.words(self.planting), remark=remark))
        self.count = round(got or 0)
        return got is not None

    async def _ask_why(self) -> bool:
        rows = [*(Row(one) for one in WHYS), Row("something else")]
        got = await self.app.push_screen_wait(PickScreen("Why were they lost?", rows, about=self.these()))
        if got is None:
            return False
        if got[0] < len(WHYS):
            self.why = WHYS[got[0]]
            return True
        now = self.app.opened.clock()

        def check(text: str) -> object:
            return lose(self.planting, self.count, text, "", now)

        typed = await self.app.push_screen_wait(
            LineScreen("Why were they lost?", check, about=self.these(), hint="A few words.", most=LONGEST)
        )
        self.why = typed or ""
        return await self._ask_why() if typed is None else True

    def _day_of(self, ask: str, write: Callable[[str, date], None]) -> Callable[[], Awaitable[bool]]:
        """Return the step that asks for a day, then writes it down."""

        async def ask_day() -> bool:
            today = self.app.opened.today()

            def check(text: str) -> object:
                if (day := day_in(text, today)) < self.planting.sown:
                    raise ValueError(f"It was sown only on {self.planting.sown.isoformat()}.")
                return day

            asking = LineScreen(ask, check, about=self.words(self.planting), hint=DAY_HINT, done="write it down")
            got = await self.app.push_screen_wait(asking)
            if got is None:
                return False
            if by := await walker_of(self.app):
                write(by, day_in(got, today))
            else:
                self.app.say("Nothing was written down: it needs somebody's code.", grave=True)
            return True

        return ask_day

    def _write_up(self, by: str, day: date) -> None:
        self.change(by, f"{self.count} came up.", lambda now: germinated(self.now_so(), self.count, by, now, day))

    def _write_thinned(self, by: str, day: date) -> None:
        self.change(by, f"thinned to {self.count}.", lambda now: thinned(self.now_so(), self.count, by, now, day))

    def _write_flowering(self, by: str, day: date) -> None:
        self.change(by, "it flowers.", lambda now: flowering(self.now_so(), by, now, day))

    def _write_lost(self, by: str, day: date) -> None:
        says = f"{self.count} lost, {self.why}."
        self.change(by, says, lambda now: lose(self.now_so(), self.count, self.why, by, now, day))


async def write_down(app: Walkabout, station: str) -> None:
    """Ask what has happened to the plants of a station, and write it down."""
    from walkabout.screens.planting_picking import pick_planting  # noqa: PLC0415 - only what is asked is loaded
    from walkabout.screens.treating import fill_in_wait, not_known, treat_plants  # noqa: PLC0415

    while standing := standing_at(app.opened, station):
        young = [one for one in standing if not one.brought_in]
        budding = [one for one in standing if all(each.stage != "flowering" for each in one.reached)]
        rows: list[tuple[Row, Callable[[], Awaitable[bool]]]] = [
            (Row("picked", "for eating, or not"), partial(pick_planting, app, standing)),
            (Row("lost some"), Noting(app, standing).were_lost),
            (Row("thinned"), Noting(app, standing).was_thinned),
        ]
        if young:
            rows.append((Row("came up", "how many were seen"), Noting(app, young).came_up))
        if budding:
            rows.append((Row("flowers"), Noting(app, budding).flowers))
        treated = Row("something was put on them", "an adult: spray, soap, oil, a drench")
        rows.append((treated, partial(treat_plants, app, station, standing)))
        if open_ones := not_known(app.opened, standing):
            rows.append((Row("a waiting time was found out", "an adult"), partial(fill_in_wait, app, open_ones)))
        ask = PickScreen(
            "What has happened to the plants?", [row for row, _ in rows], about=app.opened.name_of(station)
        )
        got = await app.push_screen_wait(ask)
        if got is None or await rows[got[0]][1]():
            return
    app.say("Nothing grows here to write about.")
