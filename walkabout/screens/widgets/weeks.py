"""The weeks on the screen: a chosen week and a chosen station, moved with the keys or the mouse."""

from datetime import date, timedelta

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from walkabout.almanac.model import Almanac
from walkabout.screens.text import plain
from walkabout.screens.widgets.bars import WEEK, Window, monday, window
from walkabout.screens.widgets.timeline import HEADING, Drawn, body, heading, paper


class Weeks(Widget):
    """Shows an almanac; nothing is reckoned here, so that moving only repaints."""

    DEFAULT_CSS = """
    Weeks { height: auto; width: 1fr; }
    """

    class Moved(Message):
        """Another week or station is chosen; `again` when the chosen station was clicked once more."""

        def __init__(self, weeks: "Weeks", *, again: bool = False) -> None:
            super().__init__()
            self.weeks = weeks
            self.again = again

        @property
        def control(self) -> "Weeks":
            """The weeks in which it moved."""
            return self.weeks

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.week = self._today = date.min
        self.station = ""
        self._almanac: Almanac | None = None
        self._view: Window | None = None
        self._drawn: list[Drawn] = []

    def show(self, almanac: Almanac, today: date) -> None:
        """Show another almanac; the chosen week and station stay where they are still there."""
        grown = self._almanac is None or self._lines(almanac) != self._lines(self._almanac)
        if self._almanac is None:
            self.week = monday(today)
        self._almanac, self._today = almanac, today
        keys = [row.station for row in almanac.rows]
        if self.station not in keys:
            self.station = keys[0] if keys else ""
        self.week = self._within(self.week)
        self.refresh(layout=grown)

    @property
    def _stations(self) -> list[str]:
        return [row.station for row in self._almanac.rows] if self._almanac else []

    def _within(self, week: date) -> date:
        if self._almanac is None:
            return week
        return min(max(week, monday(self._almanac.first)), monday(self._almanac.last))

    # moving

    def by_weeks(self, weeks: int) -> None:
        """Choose the week so many weeks later, no further than what was reckoned."""
        self.to(self.week + timedelta(weeks=weeks))

    def to(self, day: date) -> None:
        """Choose the week of a day."""
        if self._almanac is not None:
            self._choose(self._within(monday(day)), self.station)

    def by_stations(self, step: int) -> None:
        """Choose the station so many rows further down."""
        keys = self._stations
        if keys:
            at = keys.index(self.station) if self.station in keys else 0
            self._choose(self.week, keys[min(max(at + step, 0), len(keys) - 1)])

    def _choose(self, week: date, station: str) -> None:
        if (week, station) != (self.week, self.station):
            self.week, self.station = week, station
            self.refresh()
            self.post_message(self.Moved(self))

    # drawing

    @staticmethod
    def _lines(almanac: Almanac) -> int:
        """Return more lines than can be needed: the layout gives as many as there is room for."""
        courses = sum(max(len(row.courses), 1) for row in almanac.rows)
        return HEADING + courses + 2 * len(almanac.promises) + len(almanac.closures)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the lines that all would take at this width; the screen says how many there may be."""
        if self._almanac is None:
            return 1
        view = window(width, self.week, self._view)
        on = paper(self._almanac, view, self.week, self._today)
        return HEADING + len(body(on, self.station, self._lines(self._almanac)))

    def render(self) -> Content:
        """Draw the weeks around the chosen one."""
        if self._almanac is None:
            return plain("Reckoning the dates …", "$muted")
        width, height = self.size.width, max(self.size.height, HEADING + 1)
        self._view = window(width, self.week, self._view)
        on = paper(self._almanac, self._view, self.week, self._today)
        self._drawn = body(on, self.station, height - HEADING)
        rows = [*heading(self._view, self.week, self._today), *(one.content for one in self._drawn)]
        if not self._almanac.rows:
            rows.append(plain("There is no station in room.toml yet.", "$muted"))
        return Content("\n").join(rows)

    def on_click(self, event: events.Click) -> None:
        """Choose the week and the station that were clicked."""
        at = event.get_content_offset(self)
        if at is None or self._view is None or self._almanac is None:
            return
        event.stop()
        row = at.y - HEADING
        station = self._drawn[row].station if 0 <= row < len(self._drawn) else ""
        week = self.week
        if self._view.names <= at.x < self._view.names + self._view.days:
            week = self._view.first + timedelta(weeks=(at.x - self._view.names) // WEEK)
        week, before = self._within(week), (self.week, self.station)
        self._choose(week, station or self.station)
        if station and before == (week, station):
            self.post_message(self.Moved(self, again=True))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Go down with the wheel."""
        event.stop()
        self.by_stations(1)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Go up with the wheel."""
        event.stop()
        self.by_stations(-1)
