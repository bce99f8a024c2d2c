"""The room: its stations in walking order, what grows there, and all that is known of one of them."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.room.model import WHOLE_ROOM
from walkabout.screens.planting import add_planting, end_planting, move_planting
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.atstation import standing_at, station_page, station_row
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.pointlist import PointList

WIDE = 116
"""From so many columns on, what is pointed at stands beside the list."""
ROOMY = 34
"""From so many lines on, the parts of the details are set apart."""


class RoomScreen(AskingPage):
    """A list with a pointer; the rest of the screen belongs to the station pointed at."""

    CSS_PATH = "room.tcss"
    HELP = (
        "The stations in walking order, with what grows at each. Point at one to see its lamps, tank and pumps, what "
        "its plantings want together, where they have stood, and what is open there. Enter shows what was answered at "
        "it, where an answer can be put right. With w it is written down what plants reach, lose and give."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="Point at the station before"),
        Binding("down", "point(1)", "down", tooltip="Point at the next station"),
        Binding("enter", "open", "answers", tooltip="What was answered at this station; put an answer right"),
        Binding("a", "add", "add", tooltip="Add a planting at this station"),
        Binding("w", "write_down", "write down", tooltip="Picked, lost, thinned, came up, flowers, treated"),
        Binding("m", "move", "move", tooltip="Move a planting, or part of it, to another station"),
        Binding("e", "end", "end", tooltip="End a planting, or part of it: harvested, died, given away"),
        Binding("pageup", "scroll(-1)", "page up", tooltip="Read the details further up"),
        Binding("pagedown", "scroll(1)", "page down", tooltip="Read the details further down"),
        Binding("f", "app.flag", "finding", tooltip="Flag something that looks wrong at this station"),
        Binding("escape,q,left", "back", "back", tooltip="Go back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        # made at once: a key may come before the screen is put together
        self._head, self._stations = HeadLine(), PointList(id="stations")
        self._page = VerticalScroll(id="page", can_focus=False)
        self._full, self._wrong = Static(id="station"), Static(id="mistakes")

    @property
    def station_key(self) -> str:
        """The station pointed at, for a finding flagged from here."""
        keys = self._keys()
        return keys[min(max(self._stations.pointed, 0), len(keys) - 1)] if keys else ""

    def compose(self) -> ComposeResult:
        """The list, the details, the keys."""
        yield self._head
        with Container(id="room"):
            yield self._stations
            with self._page:
                yield self._full
                yield self._wrong
        yield KeyLine((
            Key("enter", "answers", "screen.open"), Key("a", "add a planting", "screen.add"),
            Key("w", "write down", "screen.write_down"),
            Key("m", "move", "screen.move"), Key("e", "end", "screen.end"), Key("esc", "back", "screen.back"),
            Key("f", "finding", "app.flag"), Key("?", "help", "app.help"),
        ))  # fmt: skip

    def on_mount(self) -> None:
        """Point at the first station; the room as a whole stands above it."""
        keys = self._keys()
        self._show(1 if len(keys) > 1 and keys[0] == WHOLE_ROOM else 0)

    def on_screen_resume(self) -> None:
        """Fill it afresh when it comes back."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Put the details beside the list where there is room for both."""
        wide = event.size.width >= WIDE
        self.query_one("#room").set_class(wide, "-wide")
        rows = len(self._keys())
        self._stations.styles.height = "1fr" if wide else min(rows, max((event.size.height - 4) // 2, 3))
        self.call_after_refresh(self.renew)

    def renew(self) -> None:
        """Show what is true now."""
        if self.is_mounted:
            self._show(self._stations.pointed)

    def _keys(self) -> list[str]:
        opened = self.app.opened
        whole = [WHOLE_ROOM] if WHOLE_ROOM in opened.checklists else []
        return whole + [one.key for one in opened.room.stations]

    def _show(self, pointed: int) -> None:
        opened, now = self.app.opened, self.app.opened.clock()
        self._head.left = opened.room.name
        self._head.right = f"{now:%A} {now.day} {now:%B}{f' · {self.app.walker}' if self.app.walker else ''}"
        width = (self._stations.size.width or self.size.width - 4) - 2
        self._stations.show([station_row(opened, key, width) for key in self._keys()], pointed)
        self._show_page()

    def _show_page(self) -> None:
        width = self._page.scrollable_content_region.width or self.size.width - 4
        if key := self.station_key:
            full = station_page(self.app.opened, key, width, airy=self.size.height >= ROOMY)
            self._full.update(full)
        else:
            self._full.update(plain("There is no station in room.toml yet."))
        self._wrong.display = bool(self.app.opened.mistakes)
        self._wrong.update(self._mistakes())

    def _mistakes(self) -> Content:
        """List what is wrong in the room's files, as it was found there."""
        rows = [plain("Mistakes in the room's files", "$watch")]
        for one in self.app.opened.mistakes:
            right = f". {one.right}" if one.right else ""
            rows.append(plain(f"  {one.file.name}, line {one.line}: {one.says}{right}"))
        return lines(rows)

    def on_point_list_pointed(self, event: PointList.Pointed) -> None:
        """Show the station that is pointed at now, from its first line."""
        event.stop()
        self._show_page()
        self._page.scroll_home(animate=False)

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Open the station that was clicked once more."""
        event.stop()
        self.action_open()

    def action_point(self, step: int) -> None:
        """Move the pointer."""
        self._stations.point(step)

    def action_scroll(self, step: int) -> None:
        """Read on."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 1, 1), animate=False)

    def action_open(self) -> None:
        """Show what was answered at the station pointed at."""
        from walkabout.screens.station import StationScreen  # noqa: PLC0415 - loaded when it is first opened

        if key := self.station_key:
            self.app.push_screen(StationScreen(key))

    def action_add(self) -> None:
        """Add a planting at the station pointed at."""
        key = self.station_key
        if self.app.opened.room.station(key) is None:
            self.app.say("Plants stand at a station: point at one first.")
            return
        self.ask_through(add_planting(self.app, key))

    def action_write_down(self) -> None:
        """Write down what has happened to the plants of the station pointed at."""
        if standing_at(self.app.opened, self.station_key):
            from walkabout.screens.planting_stages import write_down  # noqa: PLC0415 - loaded when it is first used

            self.ask_through(write_down(self.app, self.station_key))
        else:
            self.app.say("Nothing grows here to write about.")

    def action_move(self) -> None:
        """Move a planting away from the station pointed at."""
        if standing := standing_at(self.app.opened, self.station_key):
            self.ask_through(move_planting(self.app, standing))
        else:
            self.app.say("Nothing grows here that could be moved.")

    def action_end(self) -> None:
        """End a planting at the station pointed at."""
        if standing := standing_at(self.app.opened, self.station_key):
            self.ask_through(end_planting(self.app, standing))
        else:
            self.app.say("Nothing grows here that could end.")

    def action_back(self) -> None:
        """Go back."""
        self.leave()
