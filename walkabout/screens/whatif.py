"""What if so many of a crop are sown today, in a week, in two: the days and the places, shown while one types."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.content import Content

from walkabout.almanac.model import StageName
from walkabout.growing.counting import noun
from walkabout.jobs.plantings import count_in
from walkabout.round.workout import Row
from walkabout.screens.text import plain
from walkabout.screens.widgets.beside import beside
from walkabout.screens.widgets.formpage import FormPage, day_meant
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.reading import columns, head, wrapped
from walkabout.screens.widgets.reckoned import Ways, ways
from walkabout.screens.widgets.stagewords import day_long, day_short

if TYPE_CHECKING:
    from walkabout.almanac.what_if import WhatIf

WEEKS = (0, 1, 2)
"""The sowing on the day that was typed, and so many weeks later."""
LATER = {1: "A week later", 2: "Two weeks later"}
STAGES: tuple[tuple[StageName, str], ...] = (
    ("emergence", "seedlings show"),
    ("move_on", "moves on, thinned"),
    ("flowering", "flowers"),
    ("harvest", "ready"),
    ("seed", "seed is ripe"),
)


class WhatIfScreen(FormPage):
    """Crop, station, number and day above; three sowings beside each other below."""

    NAME = "what if"
    HELP = (
        "What a sowing would come to, on the day you type and one and two weeks later: when it shows, moves on and is "
        "ready, what falls into a closure, whether there are places, and which promise it would help. Nothing is "
        "written down here. Type into the fields; left and right turn the station; f2 lists the crops."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *FormPage.BINDINGS,
        Binding("f3", "later", "a week later", tooltip="Begin a week later"),
    ]

    def __init__(self, station: str = "") -> None:
        super().__init__()
        self._station = station
        self._ways: Ways | None = None
        self._found: list[tuple[date, WhatIf]] = []
        self._wrong = ""

    @property
    def station_key(self) -> str:
        """The station of the form."""
        names = {one.name: one.key for one in self.app.opened.room.stations}
        return names.get(self.typed.get("station", ""), self._station)

    def on_mount(self) -> None:
        """Begin with the station that was chosen, a dozen, today."""
        stations = self.app.opened.room.stations
        first = self.app.opened.room.station(self._station) or next(iter(stations), None)
        self.typed = {"crop": "", "station": first.name if first else "", "count": "12", "day": "today"}
        super().on_mount()
        self._gather()

    @work(group="ways", exclusive=True)
    async def _gather(self) -> None:
        self._ways = await ways(self.app.opened)
        self.changed()

    def fields(self) -> Sequence[Row]:
        """Return the four fields."""
        names = tuple(dict.fromkeys(one.name for one in self.app.opened.room.stations))
        return (
            self.crop_row(),
            Row("station", "grown at", self.typed.get("station", ""), "", must=True, words=names, note="← → turns"),
            Row("count", "how many are sown", self.typed.get("count", ""), "", must=True, note=noun(self.crop())),
            Row("day", "on which day", self.typed.get("day", ""), "", must=False, note="today, in a week, 3 Dec"),
        )

    def keys(self) -> Sequence[Key]:
        """Return the key that moves the day."""
        return (Key("f3", "a week later", "screen.later"),)

    def action_later(self) -> None:
        """Begin a week later."""
        today = self.app.opened.today()
        try:
            day = day_meant(self.typed.get("day", ""), today) + timedelta(weeks=1)
        except ValueError:
            day = today
        self.typed["day"] = day_short(day) if day > today else "today"
        self._fields.show(self.fields())
        self.changed()

    def changed(self) -> None:
        """Reckon what would come of it, beside the screen."""
        self._reckon()

    @work(group="what if", exclusive=True)
    async def _reckon(self) -> None:
        known, crop, station = self._ways, self.crop(), self.station_key
        self._wrong, found = "", []
        if known is not None and crop is not None:
            try:
                count = count_in(self.typed.get("count", ""))
                first = day_meant(self.typed.get("day", ""), known.basis.today)
                days = [first + timedelta(weeks=weeks) for weeks in WEEKS]
                found = await beside(lambda: _all(crop.key, station, count, days, known))
            except ValueError as error:
                says = str(error).rstrip(".")
                self._wrong = f"{says[:1].upper()}{says[1:]}."
        self._found = found
        self.renew()

    def out(self, width: int) -> Sequence[Content]:
        """Return the sowings beside each other, then what is to be said of each."""
        if self._wrong:
            return wrapped(self._wrong, width, "$watch")
        if not self._found:
            says = "Name a crop: what would come of it stands here." if self._ways else "Reckoning the dates …"
            return [plain(says, "$muted")]
        return list(_rows(self._found, width))


def _all(crop: str, station: str, count: int, days: Sequence[date], known: Ways) -> "list[tuple[date, WhatIf]]":
    from walkabout.almanac.what_if import what_if  # noqa: PLC0415 - beside the screen

    return [(day, what_if(crop, station, count, day, known.basis, known.courses, known.learned)) for day in days]


def _rows(found: "Sequence[tuple[date, WhatIf]]", width: int) -> Iterator[Content]:
    each = min(max((width - 19) // len(found), 9), 24)
    yield columns((("sown", 19, "$accent-text"), *((day_long(day), each, "$accent-text bold") for day, _ in found)))
    for stage, words in STAGES:
        spans = [next((one.span for one in would.stages if one.stage == stage), None) for _, would in found]
        if any(spans):
            says = [day_long(span.likely) if span else "" for span in spans]
            yield columns(((words, 19, "$muted"), *((one, each, "") for one in says)))
    first = found[0][1]
    yield plain("")
    for told in first.says:
        yield from wrapped(told, width, "$watch" if told in first.clashes else "")
    said = set(first.says)
    for (_, would), weeks in zip(found[1:], WEEKS[1:], strict=True):
        more = [one for one in would.says[1:] if one not in said and _weighs(one, would)]
        if more:
            yield from head(LATER[weeks])
        for told in more:
            yield from wrapped(told, width, "$watch" if told in would.clashes else "")
    if first.working:
        yield from head("The working, for the first day")
    for told in first.working:
        yield from wrapped(told, width)


def _weighs(says: str, would: "WhatIf") -> bool:
    """Say whether a sentence is about more than the days, which stand above."""
    return says in would.clashes or says in would.says[len(would.says) - len(would.helps) - len(would.places) :]
