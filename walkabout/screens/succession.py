"""A steady supply: so much every week, and the sowings that give it, searched for beside the screen."""

import asyncio
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.content import Content

from walkabout.round.workout import Row
from walkabout.screens.text import plain
from walkabout.screens.widgets.beside import beside
from walkabout.screens.widgets.formpage import FormPage, day_meant
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.planlines import plan_rows
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.reckoned import Ways, ways
from walkabout.screens.widgets.stagewords import day_long

if TYPE_CHECKING:
    from walkabout.almanac.succession import SuccessionPlan

EVERY = ("week", "2 weeks", "3 weeks", "4 weeks")
ANYWHERE = "wherever it grows"
FIRST_WEEKS, WEEKS = 6, 10
"""The form begins with a wish for so many weeks, from so many weeks on. Assumed."""


class SuccessionScreen(FormPage):
    """What is wanted above; the plan below, with what falls short and the nearest that would fit."""

    NAME = "a steady supply"
    HELP = (
        "So much of a crop every week, from a day to a day: when to sow how many, where they grow, when they move on "
        "and when they are ready, so that no station holds more than its places and nothing is sown, moved or picked "
        "while nobody is there. Where it cannot be, it says which weeks fall short, why, and what every week could "
        "have instead: f4 takes that. The plan is an offer; nothing is written down."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *FormPage.BINDINGS,
        Binding("f3", "plan", "plan", tooltip="Look for the sowings (enter in the last field does it too)"),
        Binding("f4", "nearest", "take the offer", tooltip="Plan with what every week could have"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._plan: SuccessionPlan | None = None
        self._says = ""
        self._wrong = self._searching = False

    def on_mount(self) -> None:
        """Begin with ten weeks from in six weeks on."""
        today = self.app.opened.today()
        first = today + timedelta(weeks=FIRST_WEEKS, days=-today.weekday())
        last = first + timedelta(weeks=WEEKS, days=-3)
        self.typed = {
            "crop": "", "amount": "", "every": EVERY[0], "first": first.isoformat(), "last": last.isoformat(),
            "station": ANYWHERE,
        }  # fmt: skip
        super().on_mount()

    def fields(self) -> Sequence[Row]:
        """Return what is wanted, field by field."""
        names = (ANYWHERE, *dict.fromkeys(one.name for one in self.app.opened.room.stations))
        typed = self.typed
        return (
            self.crop_row(),
            Row("amount", "how much", typed.get("amount", ""), "", must=True, note="12 heads, 20 portions, 500 g"),
            Row("every", "every", typed.get("every", ""), "", must=True, words=EVERY, note="← → turns it"),
            Row("first", "from", typed.get("first", ""), "", must=True, note=self._day_note("first")),
            Row("last", "to", typed.get("last", ""), "", must=True, note=self._day_note("last")),
            Row("station", "grown at", typed.get("station", ""), "", must=True, words=names),
        )

    def _day_note(self, key: str) -> str:
        try:
            return day_long(self._day(key))
        except ValueError:
            return "2027-01-11, 11 Jan, in 6 weeks"

    def _day(self, key: str) -> date:
        return day_meant(self.typed.get(key, ""), self.app.opened.today())

    def keys(self) -> Sequence[Key]:
        """Return the keys that search."""
        offer = (Key("f4", "take the offer", "screen.nearest"),) if self._offered else ()
        return Key("f3", "plan", "screen.plan"), *offer

    @property
    def _offered(self) -> bool:
        """Say whether less than what is wanted would fit every week."""
        return self._plan is not None and 0 < self._plan.nearest_amount < self._plan.wanted.amount

    def changed(self) -> None:
        """What was found belongs to what was wanted before."""
        self.workers.cancel_group(self, "plan")
        self._plan, self._says, self._wrong, self._searching = None, "", False, False
        self.renew()

    def action_enter(self) -> None:
        """Go on to the next field; from the last one, plan."""
        if not self._fields.point(1):
            self.action_plan()

    def action_plan(self) -> None:
        """Look for the sowings."""
        self._plan, self._wrong, self._searching = None, False, True
        self._says = "Reading what stands where"
        self.renew()
        self._search()

    def action_nearest(self) -> None:
        """Plan with what every week could have."""
        if self._plan is None or not self._offered:
            self.app.hint("There is an offer where a plan falls short and less would fit every week.")
            return
        from walkabout.almanac.wanted import said  # noqa: PLC0415 - loaded with the plan

        crop = self.app.opened.crops.of[self._plan.wanted.crop]
        self.typed["amount"] = said(self._plan.nearest_amount, self._plan.wanted.unit, crop)
        self.action_plan()

    @work(group="plan", exclusive=True)
    async def _search(self) -> None:
        loop = asyncio.get_running_loop()
        searching = asyncio.current_task()

        def progress(says: str) -> None:
            loop.call_soon_threadsafe(tell, says)

        def tell(says: str) -> None:
            if self._searching and searching is not None and not searching.done() and not searching.cancelling():
                self._says = says
                self.renew()

        try:
            typed = self._typed()
            known = await ways(self.app.opened)
            station = next((one.key for one in known.basis.room.stations if one.name == self.typed["station"]), "")
            self._plan = await beside(lambda: _planned(typed, (station,) if station else (), known, progress))
        except ValueError as error:
            says = str(error).rstrip(".").replace("--every", "every").replace("with --station", "below 'grown at'")
            self._says, self._wrong = f"{says[:1].upper()}{says[1:]}.", True
        self._searching = False
        self.renew()
        self._page.scroll_home(animate=False)

    def _typed(self) -> tuple[str, str, str, str, str]:
        """Return crop, amount, weeks, first and last day; ValueError, in a sentence, for what is missing."""
        crop, first, last = self.crop(), self._day("first"), self._day("last")
        if crop is None:
            raise ValueError("Name the crop.")
        if not self.typed.get("amount", "").strip():
            raise ValueError("Say how much is wanted every time: 12 heads, 20 portions, 500 g.")
        return crop.key, self.typed["amount"], self.typed["every"], first.isoformat(), last.isoformat()

    def out(self, width: int) -> Sequence[Content]:
        """Return the plan, how far the search is, or what is missing."""
        if self._plan is not None:
            return list(plan_rows(self._plan, width, self.app.opened.name_of))
        if self._searching:
            return [plain(f"{self._says} …", "$accent-text")]
        if self._wrong:
            return wrapped(self._says, width, "$watch")
        return wrapped("Fill in what is wanted; f3 looks for the sowings.", width, "$muted")


def _planned(
    typed: tuple[str, str, str, str, str], stations: tuple[str, ...], known: Ways, progress: Callable[[str], None]
) -> "SuccessionPlan":
    from walkabout.almanac.succession import plan  # noqa: PLC0415 - beside the screen
    from walkabout.almanac.wanted import read_wanted  # noqa: PLC0415 - as above

    wanted = read_wanted(*typed, stations, known.basis)
    return plan(wanted, known.basis, known.courses, known.learned, progress)
