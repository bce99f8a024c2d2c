"""The almanac: the term as weeks across and stations down, and what the chosen week brings."""

from typing import ClassVar

from textual import events, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.content import Content
from textual.widgets import Static

from walkabout.almanac.model import Almanac, Entry, Forecast
from walkabout.screens.text import fitted, lines, plain
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.entrylines import entry_lines, load, of_station, of_week, term_of
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.pointlist import NOBODY, PointList
from walkabout.screens.widgets.reckoned import Reckoned, reckoned
from walkabout.screens.widgets.stagewords import day_long
from walkabout.screens.widgets.timeline import HEADING
from walkabout.screens.widgets.weeks import Weeks

LEAST = 6
"""Lines that the list below keeps, its heading counted in."""
ROOMY, WIDE = 34, 96
"""From so many lines and columns on, the next closure stands below in short."""
AROUND = 6
"""Lines of the top line, the key line and the blanks between."""


class Ahead(Static):
    """The next closure in short; a click opens its forecast."""

    async def on_click(self, event: events.Click) -> None:
        """Open the forecast."""
        event.stop()
        await self.screen.run_action("screen.forecast")


class AlmanacScreen(AskingPage):
    """Weeks that only repaint while one moves; the dates are reckoned when the screen opens or something changed."""

    CSS_PATH = "almanac.tcss"
    HELP = (
        "What the dates say. Weeks run across, one cell a day; each station has its plantings as bars: heavy up to "
        "today, light after it, double while it can be picked, crossed where a stage begins. Shaded days are closed. "
        "A promise is a diamond on its day: ◆ on course, ◈ tight, ◇ at risk or not to be kept. Left and right choose "
        "the week, up and down the station. Below stands what the week brings; tab goes there, enter goes to what is "
        "ahead at the station, and enter again looks closer at one of them."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "week(-1)", "week before", tooltip="The week before"),
        Binding("right", "week(1)", "next week", tooltip="The next week"),
        Binding("up", "point(-1)", "up", tooltip="The station above, or the line above in the list"),
        Binding("down", "point(1)", "down", tooltip="The station below, or the line below in the list"),
        Binding("pageup", "week(-4)", "four weeks back", tooltip="Four weeks back"),
        Binding("pagedown", "week(4)", "four weeks on", tooltip="Four weeks on"),
        Binding("home", "now", "this week", tooltip="Back to this week"),
        Binding("enter", "closer", "closer", tooltip="What is ahead at the station; there, look closer at one of them"),
        Binding("tab", "turn", "list", tooltip="Between the weeks and the list below", priority=True),
        Binding("shift+tab", "turn", "list", show=False, tooltip="The same", priority=True),
        Binding("s", "sow", "sow", tooltip="Add a planting at the chosen station"),
        Binding("p", "promise", "promise", tooltip="Promise a harvest"),
        Binding("c", "closure", "closure", tooltip="Add days on which nobody comes, or a term"),
        Binding("w", "what_if", "what if", tooltip="What if something is sown today, or in a week?"),
        Binding("v", "supply", "steady supply", tooltip="A plan of sowings for so much every week"),
        Binding("h", "app.go('handover')", "hand over", tooltip="One page for whoever looks after the room next"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong at the chosen station"),
        Binding("escape", "back", "back", tooltip="From the list to the weeks, from there to where you came from"),
        Binding("q", "leave", "leave", show=False, tooltip="Back to where you came from"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._known: Reckoned | None = None
        self._entries: list[Entry] = []
        self._listing = self._of_station = False
        # made at once: a key may come before the screen is put together
        self._head, self._weeks, self._title = HeadLine(), Weeks(id="weeks"), Static(id="due")
        self._list, self._keys = PointList(id="entries"), KeyLine()
        self._ahead = Ahead(id="ahead-closure")

    @property
    def station_key(self) -> str:
        """The chosen station, for a finding flagged from here."""
        return self._weeks.station

    @property
    def almanac(self) -> Almanac | None:
        """What the dates say; None as long as they are being reckoned."""
        return self._known.almanac if self._known else None

    def compose(self) -> ComposeResult:
        """The weeks, what they bring, the keys."""
        yield self._head
        with Container(id="almanac"):
            yield self._weeks
            yield self._title
            yield self._list
            yield self._ahead
        yield self._keys

    def on_mount(self) -> None:
        """Say that it is being reckoned."""
        self._show()

    def on_screen_resume(self) -> None:
        """Reckon anew: another screen may have changed what the dates hang on."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Keep some lines for the list."""
        self._weeks.styles.max_height = max(event.size.height - AROUND - LEAST, HEADING + 3)
        self.call_after_refresh(self._show)

    def renew(self) -> None:
        """Reckon the dates anew; what stands on the screen stays until they are there."""
        if self.is_mounted:
            self._reckon()

    @work(group="dates", exclusive=True)
    async def _reckon(self) -> None:
        self._known = await reckoned(self.app.opened)
        self._weeks.show(self._known.almanac, self._known.basis.today)
        self._show()

    # showing

    def _show(self) -> None:
        if not self.is_mounted:
            return
        opened, almanac = self.app.opened, self.almanac
        term = term_of(almanac, self._weeks.week) if almanac else ""
        self._head.left = " · ".join(one for one in ("Almanac", term, opened.room.name) if one)
        self._head.right = self.dated
        self._show_list(self._list.pointed if self._listing else NOBODY)

    def _show_list(self, pointed: int) -> None:
        almanac, week = self.almanac, self._weeks.week
        if almanac is None:
            return
        station = self._weeks.station
        self._entries = of_station(almanac, station, week) if self._of_station else of_week(almanac, week)
        names = {row.station: row.name for row in almanac.rows}
        width = (self._list.size.width or self.size.width - 2) - 2
        self._listing = self._listing and bool(self._entries)
        self._show_ahead()
        self._list.show(entry_lines(almanac, self._entries, names, width), pointed if self._listing else NOBODY)
        self._title.update(self._heading(names.get(station, station)))
        self._show_keys()

    def _closure(self) -> Forecast | None:
        """Return the closure that is not over by the chosen week, the nearest."""
        closures = self.almanac.closures if self.almanac else ()
        return next((one for one in closures if one.last >= self._weeks.week), None)

    def _show_ahead(self) -> None:
        """Show the next closure in short, where there is room for it."""
        closure = self._closure()
        self._ahead.display = closure is not None and self.size.height >= ROOMY and self.size.width >= WIDE
        if closure is not None and self._ahead.display:
            from walkabout.screens.closure import short_rows  # noqa: PLC0415 - only where there is room for it

            height = min(len(closure.stations) + 1, self.size.height // 6)
            self._ahead.update(lines(short_rows(closure, self.size.width - 6, height)))

    def _heading(self, name: str) -> Content:
        week = day_long(self._weeks.week)
        about = f"{fitted(name, 22).rstrip()}, from {week} on" if self._of_station else f"The week from {week}"
        says = load(self._entries) if self._entries else "nothing is due"
        return Content("").join([plain(about, "$accent-text"), plain(f"   {says}", "$muted")])

    def _show_keys(self) -> None:
        if self._listing:
            first = [Key("↑↓", "choose", "screen.point(1)"), Key("enter", "open", "screen.closer")]
            first.append(Key("esc", "weeks", "screen.back"))
        else:
            first = [Key("←→", "week", "screen.week(1)"), Key("enter", "open", "screen.closer")]
        keys = [
            Key("s", "sow", "screen.sow"), Key("p", "promise", "screen.promise"), Key("c", "closure", "screen.closure"),
            Key("w", "what if", "screen.what_if"),
        ]  # fmt: skip
        if not self._listing:
            keys.append(Key("esc", "back", "screen.back"))
        more = [
            Key("v", "steady supply", "screen.supply"), Key("tab", "weeks" if self._listing else "list", "screen.turn"),
            Key("↑↓", "station", "screen.point(1)"), Key("home", "this week", "screen.now"),
            Key("h", "hand over", "app.go('handover')"), Key("f", "finding", "app.flag"),
        ]  # fmt: skip
        self._keys.keys = (*first, *keys, *(one for one in more if one.shown != "↑↓" or not self._listing),
                           Key("?", "help", "app.help"))  # fmt: skip

    # moving

    def on_weeks_moved(self, event: Weeks.Moved) -> None:
        """Show what the chosen week or station brings; a click on the chosen station goes to what is ahead there."""
        event.stop()
        if event.again:
            self._list_station()
        elif not self._listing or not self._of_station:
            self._listing = self._of_station = False
            self._show()
        else:
            self._show_list(0)

    def on_point_list_pointed(self, event: PointList.Pointed) -> None:
        """Whoever points at a line is in the list."""
        event.stop()
        if not self._listing and self._entries:
            self._listing = True
            self._show_keys()

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Look closer at the line that was clicked once more."""
        event.stop()
        self._open(event.index)

    def action_week(self, weeks: int) -> None:
        """Choose another week."""
        self._weeks.by_weeks(weeks)

    def action_now(self) -> None:
        """Choose this week."""
        self._weeks.to(self.app.opened.today())

    def action_point(self, step: int) -> None:
        """Move in the list, or choose another station."""
        if self._listing:
            self._list.point(step)
        else:
            self._weeks.by_stations(step)

    def action_turn(self) -> None:
        """Go to the list of the week, or back to the weeks."""
        if self._listing:
            self._to_weeks()
        elif self._entries:
            self._listing = True
            self._show_list(0)
        elif self.almanac:
            self.app.hint("Nothing is due in this week: left and right choose another.")

    def _to_weeks(self) -> None:
        self._listing = self._of_station = False
        self._show()

    def _list_station(self) -> None:
        if self.almanac is None:
            return
        self._of_station = self._listing = True
        self._show_list(0)
        if not self._listing:
            self._of_station = False
            self._show()
            self.app.hint("Nothing is ahead at this station.")

    def action_closer(self) -> None:
        """List what is ahead at the station; in the list, look closer at one of them."""
        if self._listing:
            self._open(self._list.pointed)
        else:
            self._list_station()

    def _open(self, at: int) -> None:
        from walkabout.screens.closer import closer  # noqa: PLC0415 - loaded when something is first looked at

        if self._known is None or not 0 <= at < len(self._entries) or not self.is_current:
            return
        page = closer(self._known.almanac, self._known.basis, self._entries[at])
        if page is not None:
            self.app.push_screen(page)
        else:
            one = self._entries[at]
            self.app.hint(f"{one.says}. {one.detail}".strip() if one.detail else f"{one.says}.")

    def action_forecast(self) -> None:
        """Open the forecast of the next closure."""
        from walkabout.screens.closure import ClosureScreen  # noqa: PLC0415 - loaded when it is first opened

        closure = self._closure()
        if closure is not None and self.is_current and not self._asking:
            self.app.push_screen(ClosureScreen(closure))

    # changing

    def action_sow(self) -> None:
        """Add a planting at the chosen station."""
        from walkabout.screens.planting import add_planting  # noqa: PLC0415

        if self.app.opened.room.station(self.station_key) is None:
            self.app.say("Plants stand at a station: choose one first.")
        else:
            self.ask_through(add_planting(self.app, self.station_key))

    def action_promise(self) -> None:
        """Promise a harvest."""
        from walkabout.screens.promising import add_promise  # noqa: PLC0415

        self.ask_through(add_promise(self.app))

    def action_closure(self) -> None:
        """Add a closure or a term."""
        from walkabout.screens.closing import add_dates_asked  # noqa: PLC0415

        self.ask_through(add_dates_asked(self.app))

    def action_what_if(self) -> None:
        """Ask what would be if something was sown."""
        from walkabout.screens.whatif import WhatIfScreen  # noqa: PLC0415

        if self.is_current and not self._asking:
            self.app.push_screen(WhatIfScreen(self.station_key))

    def action_supply(self) -> None:
        """Plan a steady supply."""
        from walkabout.screens.succession import SuccessionScreen  # noqa: PLC0415

        if self.is_current and not self._asking:
            self.app.push_screen(SuccessionScreen())

    def action_back(self) -> None:
        """From the list to the weeks, from there to where one came from."""
        if self._listing or self._of_station:
            self._to_weeks()
        else:
            self.leave()

    def action_leave(self) -> None:
        """Go back to where one came from."""
        self.leave()
