"""The lookup: what is seen, what it may be, the one look that would tell, what to do."""

from typing import TYPE_CHECKING, ClassVar

from textual import events, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input

from walkabout.room.model import Who, may
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.blocks import Blocks
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.lookupkeys import Zone, key_row
from walkabout.screens.widgets.lookuplines import Around
from walkabout.screens.widgets.lookupview import LookupView
from walkabout.screens.widgets.number import Number, number_in
from walkabout.screens.widgets.onelook import UNKNOWN, OneLook
from walkabout.screens.widgets.sayline import SayLine

if TYPE_CHECKING:  # the knowledge's arithmetic is loaded only when a lookup opens
    from walkabout.round.lookup import Answered, Lookup
    from walkabout.round.lookup_undo import Before

SLOW = 0.1
"""Seconds after which it is said that the knowledge is being read."""
EVERYBODY: tuple[Who, ...] = ("pupil", "adult", "licensed")
ANSWERS: dict[str, "Answered"] = {"1": "yes", "2": "no", "3": "cannot tell"}
LETTERS = {"y": "1", "n": "2", "?": "3"}
"""Letters that answer too, in the lists."""
NO_NUMBER = "Type the number, or ? if it cannot be told."


class LookupScreen(AskingPage):
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

    def __init__(self, station: str = "", walker: str = "") -> None:
        super().__init__()
        self.station_key = station
        self._walker = walker
        self.lookup: Lookup | None = None
        self._list: Zone = "causes"
        self._given: list[Before] = []
        """What was known before each thing that was said, the last one at the end."""
        self._missed = ""
        self._offered: tuple[str, ...] = ()
        self._lately: tuple[str, ...] = ()
        self._hurried = False
        """Enter came before the knowledge was read."""
        # made at once: a key may come before the screen is put together
        self._head, self._view, self._keys = HeadLine("Lookup"), LookupView(), KeyLine()

    def compose(self) -> ComposeResult:
        """The lookup between the top line and the keys."""
        yield self._head
        yield self._view
        yield self._keys

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

    # showing

    @property
    def zone(self) -> Zone:
        """Where keys go: into the line while it has the focus, else into one of the lists."""
        return "line" if self.focused is self._view.line else self._list

    def on_screen_resume(self) -> None:
        """Show what is true now."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Fit the lines to the width."""
        self.call_after_refresh(self.renew)

    def renew(self) -> None:
        """Show what is known and what follows from it."""
        if not self._view.is_mounted:
            return
        now, walker = self.app.opened.clock(), self._walker or self.app.walker
        self._head.left = self._about()
        self._head.right = f"{now:%a} {now.day} {now:%b}{f' · {walker}' if walker else ''}"
        if self.lookup is not None:
            self._view.show(self.lookup, self._around())
        self._show_zone()

    def _around(self) -> Around:
        role = self.app.opened.room.role(self._walker or self.app.walker)
        allowed = frozenset(one for one in EVERYBODY if may(role, one))
        return Around(allowed, self.app.opened.scales, self._missed, self._offered, self._lately)

    def _show_zone(self) -> None:
        typed, steps = bool(self._view.line.value.strip()), bool(self.lookup and self.lookup.answer().do)
        self._keys.keys = key_row(self.zone, self._view.known.key, typed=typed, steps=steps, said=bool(self._given))
        self._view.line.answers = self._line_answers()
        if self.lookup is not None:
            self._view.show_zone(self.lookup, self.zone, self.app.opened.scales)

    def _line_answers(self) -> str:
        """Return the keys that answer from the empty line; digits are the number where one is asked for."""
        check = self.lookup.answer().next_check if self.lookup is not None else None
        return "" if check is None else UNKNOWN if check.reading else "".join(ANSWERS)

    def _about(self) -> str:
        """Say where, and for which crop."""
        opened = self.app.opened
        parts = ["Lookup", opened.name_of(self.station_key) if self.station_key else opened.room.name]
        if self.lookup is not None and self.lookup.crop:
            crop = self.lookup.ready.known.crops.get(self.lookup.crop)
            parts.append(crop.name if crop else self.lookup.crop)
        return " · ".join(parts)

    def on_descendant_focus(self) -> None:
        """Show the keys that work now."""
        self._show_zone()

    def on_descendant_blur(self) -> None:
        """Show the keys that work now."""
        self._show_zone()

    # what is said

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show at once what is understood."""
        event.stop()
        self._view.show_preview(self.lookup, self.app.opened.scales)
        self._show_zone()

    def on_say_line_answered(self, event: SayLine.Answered) -> None:
        """Answer the look from the line."""
        event.stop()
        self.action_answer(event.key)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Add what was typed."""
        event.stop()
        self._take_line()

    def _take_line(self) -> None:
        """Add what was typed; what was not understood is said, with the nearest signs."""
        text, lookup = self._view.line.value.strip(), self.lookup
        self._hurried = lookup is None and bool(text)
        if lookup is None:
            return
        if not text:
            if self._view.look.number.text:
                self._hand_in()
        elif number_in(text.replace(",", ".")) is not None and self._asked_reading:
            self._view.look.number = Number()
            self._view.look.type(text)
            self._hand_in()
        else:
            from walkabout.round.lookup_near import nearest_signs  # noqa: PLC0415 - with the knowledge

            self._remember(f'"{text}"')
            read = lookup.say(text)
            self._missed = ", ".join(read.not_understood)
            self._offered = nearest_signs(lookup.ready.known, self._missed) if self._missed else ()
            self._view.line.value = ""
            self._list = "known" if self._offered else "causes"
            self._changed()

    def _remember(self, says: str) -> None:
        """Keep what is known now, before `says` is taken in."""
        if self.lookup is not None:
            from walkabout.round.lookup_undo import before  # noqa: PLC0415 - with the knowledge

            self._given.append(before(self.lookup, says))

    def action_undo(self) -> None:
        """Take back what was said last, and say what it was."""
        if self.lookup is None or not self._given:
            self.app.hint("Nothing was said yet that could be taken back.")
            return
        from walkabout.round.lookup_undo import take_back  # noqa: PLC0415 - with the knowledge

        self._missed, self._offered = "", ()
        self.app.hint(take_back(self.lookup, self._given.pop()))
        self._changed()

    def _changed(self, *, keep: bool = False) -> None:
        """Show at once what is known now, and then what follows; `keep`: the pointers stay where they are."""
        if self.lookup is not None:
            self._view.show_known(self.lookup, self._around())
            self.call_after_refresh(self._show_what_follows, keep=keep)

    def _show_what_follows(self, *, keep: bool) -> None:
        self.renew()
        if self.lookup is not None and not keep:
            self._view.point_at_first(self.lookup)

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

    def _take_known(self, *, present: bool | None) -> None:
        """Add the sign that is offered, or turn the sign pointed at."""
        what, _, key = self._view.known.key.partition(":")
        if self.lookup is None or what not in ("offer", "sign"):
            return
        if what == "offer":
            self._missed, self._offered = "", ()
            self._remember(self._sign_said(key, there=present is not False))
            self.lookup.set_sign(key, present is not False)
        else:
            there = next(one.present for one in self.lookup.seen() if one.key == key)
            self._remember(self._sign_said(key, there=not there))
            self.lookup.set_sign(key, not there)
        self._changed(keep=what == "sign")

    def _sign_said(self, key: str, *, there: bool) -> str:
        if self.lookup is None:
            return ""
        known = self.lookup.ready.known
        return f"{(known.signs.get(key) or known.generals[key]).name}: {'there' if there else 'not there'}"

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
        if event.clicked and self.zone != event.blocks.id:
            self.action_zone("known" if event.blocks is self._view.known else "causes")
        if event.blocks is self._view.causes and self.lookup is not None:
            self._view.show_causes(self.lookup)
        self._show_zone()

    def on_blocks_picked(self, event: Blocks.Picked) -> None:
        """Take what was clicked once more, as enter does."""
        event.stop()
        self.action_enter()

    def action_flip(self) -> None:
        """Turn a sign from there to not there; a sign that is offered is taken as not there."""
        if self.zone == "known":
            self._take_known(present=False)

    def action_remove(self) -> None:
        """Take away a digit, or what is pointed at in the list of what is known."""
        if self._view.look.rub_out() or self.zone != "known" or self.lookup is None:
            return
        what, _, key = self._view.known.key.partition(":")
        if what == "offer":
            self._missed, self._offered = "", ()
        elif what in ("sign", "reading", "crop"):
            self._remember("that it was taken away")
        if what == "sign":
            self.lookup.set_sign(key, None)
        elif what == "reading":
            self.lookup.set_reading(key, None)
        elif what == "crop":
            self.lookup.set_crop("")
        self._changed(keep=True)

    def on_key(self, event: events.Key) -> None:
        """Digits make the number that is asked for."""
        if self.zone != "line" and self._asked_reading and self._view.look.type(event.character or ""):
            event.prevent_default()
            event.stop()

    @property
    def _asked_reading(self) -> bool:
        check = self.lookup.answer().next_check if self.lookup is not None else None
        return check is not None and check.reading

    def on_one_look_pressed(self, event: OneLook.Pressed) -> None:
        """Take a click on a key of the look as that key."""
        event.stop()
        if event.key == "enter":
            self._hand_in()
        elif event.key == "⌫":
            self._view.look.rub_out()
        elif event.key == UNKNOWN or not self._asked_reading:
            self.action_answer(event.key)
        else:
            self._view.look.type(event.key)

    def _hand_in(self) -> None:
        """Take the number that was typed; one that cannot be is asked for again."""
        look, lookup = self._view.look, self.lookup
        check = lookup.answer().next_check if lookup is not None else None
        if lookup is None or check is None or not check.reading:
            return
        if look.number.value is None:
            look.wrong(NO_NUMBER)
            return
        from walkabout.round.lookup_typed import read_value, reading_said  # noqa: PLC0415 - with the knowledge

        measure = lookup.ready.known.measures[check.key]
        try:
            value = read_value(measure, look.number.text, self.app.opened.scales)
        except ValueError as error:
            look.wrong(str(error))
            if self.zone == "line":  # it still stands there, to be put right
                look.number = Number()
            return
        self._remember(reading_said(measure, value, self.app.opened.scales))
        lookup.set_reading(check.key, value)
        if self._asked_number_in_line():
            self._view.line.value = ""
        self._changed()

    def _asked_number_in_line(self) -> bool:
        return number_in(self._view.line.value.strip().replace(",", ".")) is not None

    def action_answer(self, key: str) -> None:
        """Answer the look; without one, ? asks for help."""
        lookup, said = self.lookup, ANSWERS[LETTERS.get(key, key)]
        check = lookup.answer().next_check if lookup is not None else None
        if lookup is None or check is None:
            if key == "?":
                self.app.action_help()
        elif check.reading and key != UNKNOWN:
            self._view.look.wrong(NO_NUMBER)
        else:
            from walkabout.round.lookup import answer_check  # noqa: PLC0415 - with the knowledge

            self._remember(f"{check.ask} {said}")
            if check.reading:
                lookup.cannot_tell(check.key)
            else:
                answer_check(lookup, said)
            self._changed()

    def action_read(self, step: int) -> None:
        """Scroll in what is to be done."""
        self._view.read(step)

    # other screens

    def action_signs(self) -> None:
        """Pick signs from the list."""
        if self.lookup is not None:
            from walkabout.screens.signs import SignsScreen  # noqa: PLC0415 - only when it opens

            self.app.push_screen(SignsScreen(self.lookup))

    def action_cause(self) -> None:
        """Read all about the cause pointed at."""
        if self.lookup is not None and (key := self._view.causes.key):
            from walkabout.screens.cause import CauseScreen  # noqa: PLC0415 - only when it opens

            if self.lookup.ready.known.cause(key) is None:
                self.app.hint("Nothing is known of that one: it stands for whatever is not on the list.")
            else:
                self.app.push_screen(CauseScreen(key))

    def action_causes(self) -> None:
        """Look through all causes."""
        if self.lookup is not None:
            from walkabout.screens.causes import CausesScreen  # noqa: PLC0415 - only when it opens

            self.app.push_screen(CausesScreen())

    def action_jobs(self) -> None:
        """Make jobs of what is to be done."""
        if self.lookup is not None:
            from walkabout.screens.widgets.lookupasking import ask_jobs  # noqa: PLC0415 - only when it is asked

            self.ask_through(ask_jobs(self.app, self.lookup, self.station_key, self._walker))

    def action_finding(self) -> None:
        """Keep what is seen as a finding."""
        if self.lookup is not None:
            from walkabout.screens.widgets.lookupasking import ask_finding  # noqa: PLC0415 - only when it is asked

            self.ask_through(ask_finding(self.app, self.lookup, self.station_key, self._walker))

    def action_back(self) -> None:
        """Out of the line, then back to where one came from."""
        if self.zone == "line" and self.lookup is not None:
            self.set_focus(None)
        else:
            self.leave()
