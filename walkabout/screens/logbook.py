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
from walkabout.round.logbook import (
    Chosen,
    Moved,
    Recorded,
    newest_first,
    reading_back,
    recorded,
    shifts,
    spans,
    stations,
)
from walkabout.screens.base import Page, once
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.heat import HeatStrips
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.pointed import cells
from walkabout.screens.widgets.pointlist import NOBODY, PointList
from walkabout.screens.widgets.reading import wrapped
from walkabout.screens.widgets.recordedlines import WIDE, recorded_line

LOW = 30
"""Under so many lines everything stands closer."""
AROUND = 8
"""Lines of the top line, the key line, the titles and the blanks between."""


class LogbookScreen(Page):
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
        Binding("left", "span(-1)", "shorter", tooltip="A shorter span"),
        Binding("right", "span(1)", "longer", tooltip="A longer span"),
        Binding("enter", "closer", "open", tooltip="The readings of the station; the trend of a reading"),
        Binding("tab", "turn(1)", "next part", tooltip="What has shifted, the stations, the readings", priority=True),
        Binding("shift+tab", "turn(-1)", "part before", tooltip="The part before", priority=True),
        Binding("t", "trials", "trials", tooltip="Trials: comparisons set up, measured and judged"),
        Binding("n", "term", "the term", tooltip="The term in numbers"),
        Binding("h", "hand_over", "handing over", tooltip="One page for whoever takes over"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong at the chosen station"),
        Binding("escape", "back", "back", tooltip="From the readings to the stations, from there back"),
        Binding("q", "leave", "leave", show=False, tooltip="Back to where you came from"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._span = 1
        self._part = "stations"
        self._moved: tuple[Moved, ...] | None = None
        self._rows: tuple[Recorded, ...] = ()
        # made at once: a key may come before the screen is put together
        self._head, self._moved_title, self._title = HeadLine(), Static(id="moved-title"), Static(id="logbook-title")
        self._shifts, self._list = PointList(id="moved"), PointList(id="logbook-entries")
        self._heat, self._keys = HeatStrips(id="heat"), KeyLine()

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

    def on_screen_resume(self) -> None:
        """Look again: another screen may have changed what is on record."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Share the lines out."""
        self._lay_out(event.size.height)
        self.call_after_refresh(self._show)

    def _lay_out(self, height: int) -> None:
        moved = min(len(self._moved or ()), 2 if height < LOW else 5)
        self._shifts.display = moved > 0
        self._shifts.styles.height = moved
        least = 3 if height < LOW else 8
        if height < LOW and self._part == "readings":
            self._heat.styles.height = 2
            return
        self._heat.styles.height = min(len(stations(self.app.opened)) + 2, max(height - AROUND - moved - least, 4))

    def renew(self) -> None:
        """Look anew; what stands on the screen stays until it is there."""
        if self.is_mounted:
            self._gather()

    @property
    def span(self) -> Chosen:
        """The span that is looked at."""
        return spans(self.app.opened.room, self.app.opened.today())[self._span]

    @work(group="logbook", exclusive=True)
    async def _gather(self) -> None:
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

    def _shift(self) -> Moved | None:
        at = self._shifts.pointed
        return self._moved[at] if self._part == "moved" and self._moved and 0 <= at < len(self._moved) else None

    def _show(self) -> None:
        if not self.is_mounted:
            return
        opened, now = self.app.opened, self.app.opened.clock()
        self._head.left = f"Logbook · {self.span.name} · {opened.room.name}"
        self._head.right = f"{now:%a} {now.day} {now:%b}{f' · {self.app.walker}' if self.app.walker else ''}"
        self._show_moved()
        self._heat.active = self._part == "stations"
        self._show_list()

    def _show_moved(self) -> None:
        opened, moved = self.app.opened, self._moved
        says = "looking" if moved is None else "" if moved else "nothing by more than chance"
        self._moved_title.update(plain("What has shifted", "$accent-text").append(plain(f"   {says}", "$muted")))
        rows = [
            plain("▴ ", "$watch").append(plain(f"{opened.name_of(one.station)}: ", "bold")).append(plain(one.says))
            for one in moved or ()
        ]
        self._shifts.show(rows, max(self._shifts.pointed, 0) if self._part == "moved" else NOBODY)

    def _show_list(self) -> None:
        opened, station = self.app.opened, self.station_key
        self._rows = recorded(opened, station) if station else ()
        listing = self._part == "readings" and bool(self._rows)
        width = (self._list.size.width or self.size.width - 2) - 2
        pointed = min(max(self._list.pointed, 0), len(self._rows) - 1) if listing else NOBODY
        self._list.show([recorded_line(opened, one, width) for one in self._rows], pointed)
        self._show_title(width)
        self._show_keys()

    def _show_title(self, width: int) -> None:
        """Say what the list is about; for a reading, the whole of what was asked."""
        opened, station, one = self.app.opened, self.station_key, self._shift()
        at = self._list.pointed
        if one is not None:
            self._title.update(lines(wrapped(one.says, min(self.size.width - 6, 104))))
        elif self._part == "readings" and 0 <= at < len(self._rows):
            asked = opened.question(station, self._rows[at].question)
            says = asked.ask if asked is not None else self._rows[at].name
            self._title.update(plain(cells(says, max(width - 2, 8)), "$accent-text"))
        else:
            many = f"{len(self._rows)} on record" if self._rows else "nothing is on record yet"
            many += "   last fourteen days at the right" if self._rows and width >= WIDE else ""
            name = plain(opened.name_of(station), "$accent-text") if station else plain("")
            self._title.update(name.append(plain(f"   {many}", "$muted")))

    def _show_keys(self) -> None:
        first = {
            "moved": (Key("enter", "trend", "screen.closer"),),
            "stations": (Key("↑↓", "station", "screen.point(1)"), Key("enter", "readings", "screen.closer")),
            "readings": (Key("↑↓", "reading", "screen.point(1)"), Key("enter", "trend", "screen.closer")),
        }[self._part]
        self._keys.keys = (
            *first, Key("←→", "span", "screen.span(1)"), Key("t", "trials", "screen.trials"),
            Key("n", "the term", "screen.term"),
            Key("esc", "stations" if self._part == "readings" else "back", "screen.back"),
            Key("h", "handing over", "screen.hand_over"),
            Key("tab", "next part", "screen.turn(1)"), Key("l", "lookup", "app.lookup"),
            Key("f", "finding", "app.flag"), Key("?", "help", "app.help"),
        )  # fmt: skip

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
        part = "moved" if event.rows is self._shifts else "readings"
        if part != self._part:
            self._to(part)
        elif part == "moved":
            self._show_list()
        else:
            self._show_title((self._list.size.width or self.size.width - 2) - 2)

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Open what was clicked once more."""
        event.stop()
        self.action_closer()

    def _to(self, part: str) -> None:
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
        parts = [*(["moved"] if self._moved else []), "stations", *(["readings"] if self._rows else [])]
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
        one = self._shift()
        at = self._list.pointed
        if one is not None:
            self._open(one.station, one.question)
        elif self._part == "readings" and 0 <= at < len(self._rows):
            self._open(self._rows[at].station, self._rows[at].question)

    def _open(self, station: str, question: str) -> None:
        from walkabout.screens.trend import TrendScreen  # noqa: PLC0415 - it loads what draws pictures

        if self.is_current:
            self.app.push_screen(TrendScreen(station, question, self._span))

    def action_span(self, step: int) -> None:
        """Choose another span."""
        to = min(max(self._span + step, 0), len(spans(self.app.opened.room, self.app.opened.today())) - 1)
        if to != self._span:
            self._span = to
            self._show()
            self.renew()

    def action_trials(self) -> None:
        """Open the trials."""
        from walkabout.screens.trials import open_trials  # noqa: PLC0415 - loaded when they are first opened

        if self.is_current:
            open_trials(self.app)

    def action_term(self) -> None:
        """Open the term in numbers."""
        from walkabout.screens.term import TermScreen  # noqa: PLC0415 - likewise

        if self.is_current:
            self.app.push_screen(TermScreen())

    def action_hand_over(self) -> None:
        """Open the page for whoever takes over."""
        from walkabout.screens.handover import HandoverScreen  # noqa: PLC0415 - loaded when it is first opened

        if self.is_current:
            self.app.push_screen(HandoverScreen())

    def action_back(self) -> None:
        """From the readings to the stations, from there to where one came from."""
        if self._part == "readings":
            self._to("stations")
        else:
            self.action_leave()

    def action_leave(self) -> None:
        """Go back to where one came from."""
        if once(self):
            self.app.go_back()
