"""The logbook: what has shifted, the days of every station, and what is on record at the chosen one."""

import asyncio
from datetime import timedelta
from typing import ClassVar

from textual import events, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.widgets import Static

from walkabout.round.heat import LONGEST, heat
from walkabout.round.history import KEPT_DAYS
from walkabout.round.logbook import Moved, Recorded, newest_first, reading_back, recorded, shifts, stations
from walkabout.screens.text import lines
from walkabout.screens.widgets.heat import HeatStrips
from walkabout.screens.widgets.logbooklines import Part, asked_lines, keys_in, moved_line, moved_title, on_record
from walkabout.screens.widgets.pointlist import NOBODY, PointList
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.recordedlines import recorded_line
from walkabout.screens.widgets.spanning import SpanPage

LOW = 30
"""Under so many lines everything stands closer."""
AROUND = 9
"""Lines of the top line, the keys, the titles and the blanks between."""
WIDEST = 104


class LogbookScreen(SpanPage):
    """Three parts under each other: up and down go through what has shifted and the stations, enter to the readings."""

    CSS_PATH = "logbook.tcss"
    HELP = (
        "What has been written down. First what has shifted by more than chance, in words; then the days of every "
        "station, each day by its worst verdict; below, what is on record at the chosen station, with its last answer "
        "and the last fourteen days. Up and down choose, enter goes to the readings of the station, and enter there, "
        "or on what has shifted, opens the line over time. Left and right choose the span. The same in lines: "
        "walkabout logbook."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="The one above"),
        Binding("down", "point(1)", "down", tooltip="The one below"),
        Binding("pageup", "point(-5)", "page up", tooltip="Five up"),
        Binding("pagedown", "point(5)", "page down", tooltip="Five down"),
        *SpanPage.BINDINGS,
        Binding("enter", "closer", "open", tooltip="The readings of the station; the trend of a reading"),
        Binding("tab", "turn(1)", "next part", tooltip="What has shifted, the stations, the readings", priority=True),
        Binding("shift+tab", "turn(-1)", "part before", tooltip="The part before", priority=True),
        Binding("t", "app.go('trials')", "trials", tooltip="Trials: comparisons set up, measured and judged"),
        Binding("n", "app.go('term')", "the term", tooltip="The term in numbers"),
        Binding("p", "app.go('paper')", "paper", tooltip="Paper: a sheet for the round, cards, labels, reports"),
        Binding("x", "app.go('export')", "tables out", tooltip="Tables out: all that is on record, for a spreadsheet"),
        Binding("i", "app.go('take-in')", "take in", tooltip="Take in what a logger has read, or tables"),
        Binding("h", "app.go('handover')", "handing over", tooltip="One page for whoever takes over"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong at the chosen station"),
        Binding("escape", "back", "back", tooltip="From the readings to the stations, from there back"),
        Binding("q", "leave", "leave", show=False, tooltip="Back to where you came from"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._part: Part = "stations"
        self._moved: tuple[Moved, ...] | None = None
        self._rows: tuple[Recorded, ...] = ()
        self._moved_title, self._title = Static(id="moved-title"), Static(id="logbook-title")
        self._shifts, self._list = PointList(id="moved"), PointList(id="logbook-entries")
        self._heat = HeatStrips(id="heat")

    @property
    def station_key(self) -> str:
        """The chosen station, for a finding or a lookup from here."""
        one = self._shift()
        return one.station if one is not None else self._heat.key

    @property
    def moved(self) -> tuple[Moved, ...] | None:
        """What has shifted; None as long as it is being looked for."""
        return self._moved

    def compose(self) -> ComposeResult:
        """What has shifted, the days, what is on record."""
        yield self._head
        with Container(id="logbook"):
            yield self._moved_title
            yield self._shifts
            yield self._heat
            yield self._title
            yield self._list
        yield self._keys

    def on_resize(self, event: events.Resize) -> None:
        """Share the lines out."""
        self._lay_out(event.size.height)
        self.call_after_refresh(self._show)

    def _lay_out(self, height: int) -> None:
        moved = min(len(self._moved or ()), 2 if height < LOW else 5)
        self._shifts.display = moved > 0
        self._shifts.styles.height = moved
        least = 2 if height < LOW else 8
        if height < LOW and self._part == "readings":
            self._heat.styles.height = 2
            return
        self._heat.styles.height = min(len(stations(self.app.opened)) + 2, max(height - AROUND - moved - least, 4))

    @work(group="logbook", exclusive=True)
    async def gather(self) -> None:
        """Show the days at once, then look for shifts, a few milliseconds at a time."""
        opened, since, today = self.app.opened, self.span.since, self.app.opened.today()
        first = max(since, today - timedelta(days=LONGEST - 1))
        if first < today - timedelta(days=KEPT_DAYS):
            for _ in reading_back(opened, first):
                await asyncio.sleep(0)
        self._heat.show(heat(opened, first, today))
        self._show()
        found = []
        for one in shifts(opened, since):
            found.append(one)
            await asyncio.sleep(0)
        self._moved = newest_first(found)
        self._part = "stations" if self._part == "moved" and not self._moved else self._part
        self._lay_out(self.size.height)
        self._show()

    # showing

    def headline(self) -> str:
        """Return what stands on the left of the top line."""
        return f"Logbook · {self.span.name} · {self.app.opened.room.name}"

    def _show(self) -> None:
        if not self.is_mounted:
            return
        self.tell()
        self._moved_title.update(moved_title(self._moved))
        pointed = max(self._shifts.pointed, 0) if self._part == "moved" else NOBODY
        self._shifts.show([moved_line(self.app.opened, one, self._width) for one in self._moved or ()], pointed)
        self._heat.active = self._part == "stations"
        self._show_list()

    def _shift(self) -> Moved | None:
        at = self._shifts.pointed
        return self._moved[at] if self._part == "moved" and self._moved and 0 <= at < len(self._moved) else None

    def _reading(self) -> Recorded | None:
        at = self._list.pointed
        return self._rows[at] if self._part == "readings" and 0 <= at < len(self._rows) else None

    @property
    def _width(self) -> int:
        return (self._list.size.width or self.size.width - 2) - 2

    def _show_list(self) -> None:
        opened, station = self.app.opened, self.station_key
        self._heat.marked = station if self._part == "moved" else ""
        self._rows = recorded(opened, station) if station else ()
        listing = self._part == "readings" and bool(self._rows)
        pointed = min(max(self._list.pointed, 0), len(self._rows) - 1) if listing else NOBODY
        self._list.show([recorded_line(opened, one, self._width) for one in self._rows], pointed)
        self._keys.keys = keys_in(self._part)
        self._show_title()

    def _show_title(self) -> None:
        """Say what the list is about; of a shift and of a reading, the whole of it."""
        opened, shift, wide = self.app.opened, self._shift(), min(self.size.width - 6, WIDEST)
        if shift is not None and (row := moved_line(opened, shift)).cell_length > self._width:
            self._title.update(lines(wrapped(row.plain, wide)))
        elif self._reading() is not None:
            self._title.update(lines(asked_lines(opened, self._rows, self._list.pointed, wide)))
        else:
            self._title.update(on_record(opened, self.station_key, len(self._rows), self._width))

    # moving

    def on_heat_strips_pointed(self, event: HeatStrips.Pointed) -> None:
        """Show what is on record at the chosen station; a click on it once more goes to its readings."""
        event.stop()
        if event.again and self._part == "stations":
            self._to("readings")
        elif event.again or self._part == "moved":
            self._to("stations")
        else:
            self._list.pointed = 0 if self._part == "readings" else NOBODY
            self._show_list()

    def on_point_list_pointed(self, event: PointList.Pointed) -> None:
        """Whoever points at a line is in that list."""
        event.stop()
        part: Part = "moved" if event.rows is self._shifts else "readings"
        if part != self._part:
            self._to(part)
        elif part == "moved":
            self._show_list()
        else:
            self._show_title()

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Open what was clicked once more."""
        event.stop()
        self.action_closer()

    def _to(self, part: Part) -> None:
        self._part = part
        self._lay_out(self.size.height)
        self._show()

    def action_point(self, step: int) -> None:
        """Move in the part that one is in; from the first station up to what has shifted, and back."""
        if self._part == "readings":
            self._list.point(step)
        elif self._part == "moved":
            if step > 0 and self._shifts.pointed == len(self._shifts) - 1:
                self._to("stations")
            else:
                self._shifts.point(step)
        elif not self._heat.point(step) and step < 0 and self._moved:
            self._part = "moved"
            self._shifts.pointed = len(self._shifts) - 1
            self._show()

    def action_turn(self, step: int) -> None:
        """Go to the next part that has something in it."""
        parts: list[Part] = ["stations"]
        if self._moved:
            parts.insert(0, "moved")
        if self._rows:
            parts.append("readings")
        at = parts.index(self._part) if self._part in parts else 0
        self._to(parts[(at + step) % len(parts)])

    def action_closer(self) -> None:
        """Open the trend of what is pointed at; from a station, go to its readings."""
        if self._part == "stations":
            if self._rows:
                self._to("readings")
            else:
                self.app.hint("Nothing is on record here yet.")
            return
        one = self._shift() or self._reading()
        if one is not None and self.is_current:
            from walkabout.screens.trend import TrendScreen  # noqa: PLC0415 - it loads what draws pictures

            self.app.push_screen(TrendScreen(one.station, one.question, self._span))

    def action_back(self) -> None:
        """From the readings to the stations, from there to where one came from."""
        if self._part == "readings":
            self._to("stations")
        else:
            self.action_leave()
