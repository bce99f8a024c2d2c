"""The lookup: what is seen, what it may be, the one look that would tell, what to do."""

from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.binding import Binding, BindingType

from walkabout.screens.widgets.blocks import Blocks
from walkabout.screens.widgets.lookupkeys import Zone
from walkabout.screens.widgets.lookupopening import LookupOpening
from walkabout.screens.widgets.lookupsaying import LookupSaying

if TYPE_CHECKING:  # the knowledge's arithmetic is loaded only when a lookup opens
    from walkabout.round.lookup import Lookup

SLOW = 0.1
"""Seconds after which it is said that the knowledge is being read."""


class LookupScreen(LookupSaying, LookupOpening):
    """Signs are typed, picked or answered; everything else follows from them at once."""

    CSS_PATH = "lookup.tcss"
    AUTO_FOCUS = ""
    HELP = (
        "Something looks wrong: say what the eye sees, in your own words ('white dust on old leaves, no webs'), and "
        "press enter. What is not there counts as well. On the right stand the causes that may be behind it, none of "
        "them certain, each with what speaks for and against it; then the one look that tells most; then what to do "
        "and who may do it. Go on typing whenever you see more: every letter is text. While the line is empty, 1, 2 "
        "and 3 answer the look (yes, no, cannot tell); where it asks for a number, type it and press enter, or ? if it "
        "cannot be told. Ctrl+z takes back what was said last. Esc leaves the line for the lists, where the keys below "
        "work: there space turns a sign from there to not there, and backspace takes it away."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "enter", "add", tooltip="Add what was typed; in a list, take what is pointed at"),
        Binding("a,slash", "write", "add sign", tooltip="Type more of what is seen"),
        Binding("tab", "signs", "signs", tooltip="The list of signs to pick from", priority=True),
        Binding("up", "point(-1)", "up", tooltip="The one above; from the top of the list into the line"),
        Binding("down", "point(1)", "down", tooltip="The one below; from the line into the list"),
        Binding("left", "zone('known')", "known", tooltip="To the list of what is known"),
        Binding("right", "zone('causes')", "causes", tooltip="To the causes"),
        Binding("1", "answer('1')", "yes", tooltip="The look: yes (in the lists y too)"),
        Binding("2", "answer('2')", "no", tooltip="The look: no (in the lists n too)"),
        Binding("3", "answer('3')", "cannot tell", tooltip="The look: cannot tell; it is not asked again (? too)"),
        Binding("y", "answer('y')", "yes", show=False, tooltip="In the lists: yes"),
        Binding("n", "answer('n')", "no", show=False, tooltip="In the lists: no"),
        Binding("question_mark", "answer('?')", "cannot tell", tooltip="A number that cannot be told"),
        Binding("u,ctrl+z", "undo", "undo", tooltip="Take back what was said last (in the line: ctrl+z)"),
        Binding("space", "flip", "there or not", tooltip="Turn a sign from there to not there, and back"),
        Binding("backspace,delete", "remove", "take away", tooltip="Take away what is pointed at on the left"),
        Binding("c", "cause", "cause", tooltip="All that is known of the cause pointed at"),
        Binding("b", "causes", "all causes", tooltip="All causes by class"),
        Binding("j", "jobs", "make jobs", tooltip="Make jobs of what is to be done"),
        Binding("f", "finding", "finding", tooltip="Keep it as a finding, with its signs"),
        Binding("pagedown", "read(1)", "read on", tooltip="Read on in what to do"),
        Binding("pageup", "read(-1)", "read back", tooltip="Read back"),
        Binding("h,f1", "app.help", "help", tooltip="This page"),
        Binding("escape", "back", "back", tooltip="Out of the line, then back to where you came from"),
    ]

    # reading the knowledge

    def on_mount(self) -> None:
        """Read the knowledge beside the screen, which takes keys meanwhile."""
        self._view.line.focus()
        self._slow = self.set_timer(SLOW, self._tell_it_takes_long)
        self._read_knowledge()
        self.renew()

    @work(thread=True, exit_on_error=False)
    def _read_knowledge(self) -> None:
        """Load the knowledge and what is on record at the station."""
        try:
            from walkabout.round.lookup_start import at_station, recent  # noqa: PLC0415 - only when a lookup opens

            lookup = at_station(self.app.opened, self.station_key, self._walker or self.app.walker)
            lookup.answer()
            lately = recent(self.app.opened, self.station_key)
        except ValueError as error:
            self.app.call_from_thread(self._cannot, str(error))
        else:
            self.app.call_from_thread(self._begin, lookup, lately)

    def _tell_it_takes_long(self) -> None:
        if self.lookup is None:
            self._view.says("What it may be", "reading the knowledge …", "$muted")

    def _cannot(self, why: str) -> None:
        self._slow.stop()
        self._view.says("The knowledge cannot be used.", next(iter(why.splitlines()), ""), "$act")

    def _begin(self, lookup: "Lookup", lately: tuple[str, ...]) -> None:
        self.lookup, self._lately = lookup, lately
        self.renew()
        self._view.show_preview(lookup, self.app.opened.scales)
        if self._hurried:
            self._take_line()

    # keys

    def action_enter(self) -> None:
        """Hand in the number; take what is pointed at; from the line, add what was typed."""
        if self.zone == "line":
            self._take_line()
        elif self._view.look.number.text:
            self._hand_in()
        elif self.zone == "causes":
            self.action_cause()
        else:
            self._take_known(present=True)

    def action_write(self) -> None:
        """Type more of what is seen."""
        self._view.line.focus()

    def action_point(self, step: int) -> None:
        """Move in the list; from the line down into what is known, from its top up into the line."""
        known = self._view.known
        if self.zone == "line":
            if step > 0:
                self._list = "known"
                self.set_focus(None)
        elif self.zone == "causes":
            self._view.causes.point(step)
        elif not known.point(step) and step < 0:
            self.action_write()

    def action_zone(self, zone: Zone) -> None:
        """Go to one of the lists."""
        self._list = zone
        self.set_focus(None)
        self._show_zone()

    def on_blocks_moved(self, event: Blocks.Moved) -> None:
        """A click in a list goes there."""
        event.stop()
        if event.clicked and self.zone != event.rows.id:
            self.action_zone("known" if event.rows is self._view.known else "causes")
        if event.rows is self._view.causes and self.lookup is not None:
            self._view.show_causes(self.lookup)
        self._show_zone()

    def on_blocks_picked(self, event: Blocks.Picked) -> None:
        """Take what was clicked once more, as enter does."""
        event.stop()
        self.action_enter()

    def action_read(self, step: int) -> None:
        """Scroll in what is to be done."""
        self._view.read(step)

    def action_back(self) -> None:
        """Out of the line, then back to where one came from."""
        if self.zone == "line" and self.lookup is not None:
            self.set_focus(None)
        else:
            self.leave()
