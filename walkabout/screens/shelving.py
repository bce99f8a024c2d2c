"""Supplies on the shelf: put on the list, counted, changed, taken off; one question at a time."""

from collections.abc import Callable
from datetime import datetime

from walkabout.growing.crops import Crop
from walkabout.growing.units import LITRES_PER_GALLON
from walkabout.insight.shelf import LONGEST, LONGEST_UNIT, MOST, MOST_DAYS, UNITS, US_UNITS, add, change, count, end
from walkabout.insight.shelf_words import shelf_row
from walkabout.insight.supplies import Stock
from walkabout.insight.supply_rate import of, per_words
from walkabout.insight.term_units import short_day, unit_of
from walkabout.insight.trend_words import upper
from walkabout.reckon.write import plainly
from walkabout.records.model_supplies import PERS, Per, Supply
from walkabout.round.opened import OpenRoom
from walkabout.round.term import shelf_of
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import save, walker_of
from walkabout.screens.shelf_amounts import amount_in, needed
from walkabout.screens.widgets.asking import LineScreen, NumberScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row

NOT_KNOWN = -1.0
"""What a number question answers when enter alone is pressed and nothing was known before: no amount is below 0."""
PER_REMARKS: dict[Per, str] = {
    "week": "paper, gloves, whatever goes evenly",
    "change": "a fixed amount for each tank",
    "litre": "concentrate, salts",
    "check": "pH and EC test liquids",
    "sown": "seed, plugs, pots",
    "lamp": "tubes, lamps",
}


class Shelving:
    """What is known so far of a supply that is being added or changed."""

    def __init__(self, app: Walkabout, before: Supply | None = None) -> None:
        self.app = app
        self.before = before
        self.name = before.name if before else ""
        self.unit = before.unit if before else ""
        self.amount = before.amount if before else 0.0
        self.per: Per = before.per if before else "week"
        self.of = before.of if before else ""
        self.used = before.used if before else None
        self.pack = before.pack if before else None
        self.price = before.price if before else None
        self.lead_days = before.lead_days if before else None

    @property
    def opened(self) -> OpenRoom:
        """The room."""
        return self.app.opened

    def about(self) -> str:
        """Say it in one line, as far as it is known."""
        amount = plainly(self.amount)
        amount = f": {amount} {unit_of(amount, self.unit)}" if self.unit and not self.before else ""
        return f"{self.name}{amount}" if self.name else "A supply"

    async def ask_name(self) -> bool:
        """Ask what it is."""
        asking = LineScreen(
            "What is it called?", needed, about=self.about() if self.before else "A supply", text=self.name,
            hint="As it stands on the shelf: grow mix A, pH 4 liquid, lettuce seed. No brand is needed.", most=LONGEST,
        )  # fmt: skip
        got = await self.app.push_screen_wait(asking)
        self.name = got or self.name
        return got is not None

    async def ask_unit(self) -> bool:
        """Ask in what it is counted."""
        units = US_UNITS if self.opened.scales.us else UNITS
        rows = [*(Row(one) for one in units), Row("something else", "typed")]
        got = await self.app.push_screen_wait(PickScreen("In what is it counted?", rows, about=self.name))
        if got is None:
            return False
        if got[0] < len(units):
            self.unit = units[got[0]]
            return True
        typed = await self.app.push_screen_wait(
            LineScreen("In what is it counted?", needed, about=self.name, hint="sheets, bottles", most=LONGEST_UNIT)
        )
        self.unit = typed or ""
        return typed is not None or await self.ask_unit()

    async def ask_amount(self) -> bool:
        """Ask how much stands there."""
        got = await self._number("How much is on the shelf now?", self.unit, None, must=True)
        self.amount = got or 0.0
        return got is not None

    async def ask_per(self) -> bool:
        """Ask what it goes with."""
        rows = [Row(per_words(one, self.opened.room), PER_REMARKS[one]) for one in PERS]
        got = await self.app.push_screen_wait(PickScreen("What does it go with?", rows, about=self.about()))
        if got is not None and PERS[got[0]] != self.per:
            self.per, self.of, self.used = PERS[got[0]], "", None
        return got is not None

    async def ask_of(self) -> bool:
        """Ask for the one tank, crop or lamp, where there are several."""
        names = self._of_names()
        if len(names) < 2:
            self.of = ""
            return True
        rows = [Row("every one"), *(Row(says) for says in names.values())]
        ask = {"sown": "Of which crop?", "lamp": "For which lamp?"}.get(self.per, "For which tank?")
        got = await self.app.push_screen_wait(PickScreen(ask, rows, about=self.about()))
        if got is not None:
            self.of = ["", *names][got[0]]
        return got is not None

    def _of_names(self) -> dict[str, str]:
        """Return what a supply may be for, with its name."""
        room = self.opened.room
        if self.per in ("change", "litre"):
            stations = {key: [one.name for one in room.stations if one.tank == key] for key in room.tanks}
            return {key: ", ".join(names) or key for key, names in stations.items()}
        if self.per == "sown":
            crops = sorted({one.crop for one in self.opened.plantings.values() if not one.brought_in})
            return {key: self._crop(key) for key in crops}
        return {key: key for key in room.lamps} if self.per == "lamp" else {}

    def _crop(self, key: str) -> str:
        crop: Crop | None = self.opened.crops.find(key)
        return crop.name if crop else key

    async def ask_used(self) -> bool:
        """Ask how much goes each time."""
        named = per_words(self.per, self.opened.room)
        ask = f"How much goes with {named}?" if self.per != "week" else "How much goes in a week?"
        # asked for each gallon where the room reads gallons, kept for each litre
        litres = LITRES_PER_GALLON if self.per == "litre" and self.opened.scales.us else 1.0
        got = await self._number(ask, self.unit, None if self.used is None else self.used * litres)
        self.used = None if got is None or got == NOT_KNOWN else got / litres
        return got is not None

    async def ask_pack(self) -> bool:
        """Ask how much is in a pack."""
        got = await self._number("How much is in a pack?", self.unit, self.pack, above=True)
        self.pack = None if got == NOT_KNOWN else got
        return got is not None

    async def ask_price(self) -> bool:
        """Ask what a pack costs."""
        if self.pack is None:
            self.price = None
            return True
        got = await self._number("What does a pack cost?", self.opened.room.prices.currency, self.price)
        self.price = None if got == NOT_KNOWN else got
        return got is not None

    async def ask_lead(self) -> bool:
        """Ask how long an order takes, then write it down."""
        got = await self._number(
            "How many days from the order to the shelf?", "days", self.lead_days, most=MOST_DAYS, whole=True
        )
        if got is None:
            return False
        self.lead_days = None if got == NOT_KNOWN else round(got)
        await write(self.app, self._made)
        return True

    def _made(self, by: str, now: datetime) -> Supply:
        if self.before is None:
            return add(
                name=self.name, unit=self.unit, amount=self.amount, by=by, now=now, used=self.used, per=self.per,
                of=self.of, pack=self.pack, price=self.price, lead_days=self.lead_days,
            )  # fmt: skip
        return change(
            now_so(self.app, self.before), by, now, name=self.name, used=self.used, per=self.per, of=self.of,
            pack=self.pack, price=self.price, lead_days=self.lead_days,
        )  # fmt: skip

    async def _number(
        self, ask: str, unit: str, had: float | None, *, must: bool = False, above: bool = False, most: float = MOST,
        whole: bool = False,
    ) -> float | None:  # fmt: skip
        """Ask for a number; enter alone leaves what was known, or that it is not known."""
        remark = "" if must else f"enter alone: {plainly(had)}" if had is not None else "enter alone: not known"
        check = amount_in(None if must else NOT_KNOWN if had is None else had, above=above, most=most, whole=whole)
        return await self.app.push_screen_wait(NumberScreen(ask, check, about=self.about(), unit=unit, remark=remark))


async def add_supply(app: Walkabout) -> None:
    """Ask for all that a supply needs, and write it down."""
    new = Shelving(app)
    first = [new.ask_name, new.ask_unit, new.ask_amount, new.ask_per, new.ask_of]
    await through([*first, new.ask_used, new.ask_pack, new.ask_price, new.ask_lead])


async def change_supply(app: Walkabout) -> None:
    """Ask which supply changes, and how."""
    while (one := await _which(app, "Which supply changes?")) is not None:
        new = Shelving(app, one)
        steps = [new.ask_name, new.ask_per, new.ask_of, new.ask_used, new.ask_pack, new.ask_price, new.ask_lead]
        if await through(steps):
            return


async def count_supply(app: Walkabout) -> None:
    """Ask which supply is counted, how much is left, and how much was bought since the count before."""
    while (one := await _which(app, "Which supply did you count?")) is not None:
        if await _counted(app, one):
            return


async def _counted(app: Walkabout, one: Supply) -> bool:
    got: dict[str, float] = {}
    about = f"{one.name}: {of(one, one.amount)} on {short_day(one.counted, app.opened.today())}"

    async def left() -> bool:
        asking = NumberScreen("How much is left?", amount_in(None), about=about, unit=one.unit)
        value = await app.push_screen_wait(asking)
        got["left"] = value or 0.0
        return value is not None

    async def bought() -> bool:
        asking = NumberScreen(
            "How much was bought since then?", amount_in(0.0), about=about, unit=one.unit, remark="enter alone: none",
            done="write it down",
        )  # fmt: skip
        value = await app.push_screen_wait(asking)
        if value is None:
            return False
        await write(app, lambda by, now: count(now_so(app, one), got["left"], value, by, now))
        return True

    return await through([left, bought])


async def take_off_supply(app: Walkabout) -> None:
    """Ask which supply is no longer kept."""
    while (one := await _which(app, "Which supply is no longer kept?")) is not None:
        rows = [Row("no, keep it"), Row("yes, take it off", "what was counted stays on record")]
        got = await app.push_screen_wait(PickScreen(f"Take {one.name} off the list?", rows))
        if got == (1,):
            from walkabout.screens.adult import decided_by  # noqa: PLC0415 - seldom asked

            by = await decided_by(app, f"Taking {one.name} off the list is for an adult. Whose code?")
            if by is None:
                continue
            await _taken_off(app, one, by)
        if got is not None:
            return


async def _taken_off(app: Walkabout, one: Supply, by: str) -> None:
    await write(app, lambda by, now: end(now_so(app, one), by, now), by=by, says=f"{upper(one.name)} is off the list.")


async def write(app: Walkabout, make: Callable[[str, datetime], Supply], *, by: str = "", says: str = "") -> None:
    """Write a supply down under a code, the walker's where none is given, and say how it stands now."""
    by = by or await walker_of(app)
    if not by:
        app.say("Nothing was written down: it needs somebody's code.", grave=True)
        return
    try:
        made = make(by, app.opened.clock())
    except ValueError as error:
        app.say(f"Nothing was written down. {error}", grave=True)
        return
    save(app, says or f"{upper(made.name)}: {of(made, made.amount)}.", made)


def now_so(app: Walkabout, one: Supply) -> Supply:
    """Return the supply as it is by now: somebody else may have changed it meanwhile."""
    return next((each for each in app.opened.records.supplies() if each.key == one.key), one)


async def _which(app: Walkabout, ask: str) -> Supply | None:
    stocks: list[Stock] = shelf_of(app.opened)
    shown = [shelf_row(one, app.opened.room.prices.currency) for one in stocks]
    rows = [Row(one.name, f"{one.value}, {one.remark}") for one in shown]
    got = await app.push_screen_wait(PickScreen(ask, rows))
    return stocks[got[0]].supply if got else None
