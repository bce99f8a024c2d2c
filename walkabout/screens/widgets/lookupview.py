"""What a lookup shows: the line and what is known on the left, the causes on the right, the look, the steps."""

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from walkabout.growing.units import Scales
from walkabout.screens.text import plain
from walkabout.screens.widgets.blocks import GUTTER, Block, Blocks
from walkabout.screens.widgets.lookuplines import (
    Around,
    cause_blocks,
    check_unit,
    known_blocks,
    preview,
    step_lines,
    stop_lines,
)
from walkabout.screens.widgets.onelook import OneLook
from walkabout.screens.widgets.sayline import SayLine

if TYPE_CHECKING:  # the knowledge's arithmetic is loaded only when a lookup opens
    from walkabout.round.lookup import Lookup

EXAMPLE, SHORT_EXAMPLE, MORE = "such as: white dust on old leaves", "such as: white dust", "anything more?"
NOTHING_SEEN = (
    "Nothing stands out yet. Say on the left what you see, or answer the look below: what is not there counts too."
)
LONGEST = 300
LOWEST, LOW = 24, 36
"""Under so many lines everything stands close."""


class LookupView(Widget):
    """Lays a lookup out; it holds the line that is typed into and the two lists, and decides nothing."""

    def __init__(self) -> None:
        super().__init__(id="lookup")
        # made at once: a key may come before the screen is put together
        self.line = SayLine(placeholder=EXAMPLE, max_length=LONGEST, id="say")
        self.known, self.causes = Blocks(id="known"), Blocks(id="causes", whole=True)
        self.look = OneLook(id="look")
        self._stop = Static(id="stop")
        self._preview, self._says, self._steps = Static(id="preview"), Static(id="says"), Static(id="steps")
        self._preview_text = ""
        self._page = VerticalScroll(self._steps, id="todo", can_focus=False)

    def compose(self) -> ComposeResult:
        """What is seen beside what it may be; below them the look and the steps."""
        yield self._stop
        with Horizontal(id="seen-and-causes"):
            with Vertical(id="left"):
                yield Static(plain("What do you see?", "$accent-text"))
                yield self.line
                yield self._preview
                yield self.known
            with Vertical(id="right"):
                yield self._says
                yield self.causes
        yield self.look
        yield self._page

    def on_mount(self) -> None:
        """Begin with nothing known."""
        self._preview.display = self._stop.display = False
        self.known.active = self.causes.active = False
        self.says("What it may be")

    def on_resize(self) -> None:
        """Stand close on a low window."""
        self.set_class(self.app.size.height < LOW, "-low")
        self.set_class(self.app.size.height < LOWEST, "-lowest")

    def says(self, head: str, more: str = "", style: str = "bold") -> None:
        """Say something above the causes: beside the heading, or in its place on two lines where it is long."""
        width = max(self._says.size.width, 20)
        says = Content("").join([plain(head, "$accent-text"), plain(f"   {more}" if more else "", style)])
        if says.cell_length > width:
            rows = plain(more, style).wrap(width)
            last = [Content(" ").join(rows[1:]).truncate(width, ellipsis=True)] if rows[1:] else []
            says = Content("\n").join([rows[0], *last])
        self._says.update(says)

    def show(self, lookup: "Lookup", around: Around) -> None:
        """Show what is known and what follows from it."""
        answer, stop = lookup.answer(), stop_lines(lookup, max(self.size.width - 2, 20))
        self._stop.display = stop is not None
        self._stop.update(stop or plain(""))
        self.show_known(lookup, around)
        self.says("What it may be", "" if stop is not None else answer.says)
        self.show_causes(lookup)
        do = answer.do[1:] if stop is not None else answer.do
        self._steps.update(
            step_lines(do, around.allowed, self._page.size.width - 1) if do or stop is None else plain("")
        )

    def show_known(self, lookup: "Lookup", around: Around) -> None:
        """Show what is known, which takes no working out."""
        self.line.placeholder = MORE if lookup.seen() else self._example()
        self.known.show(known_blocks(lookup, around))

    def _example(self) -> str:
        return EXAMPLE if self.line.content_size.width > len(EXAMPLE) else SHORT_EXAMPLE

    def show_causes(self, lookup: "Lookup", pointed: str = "") -> None:
        """Show the causes; while nothing has been seen and nothing stands out, that is said instead."""
        answer, causes = lookup.answer(), self.causes
        if not lookup.seen() and answer.verdict == "not enough":
            causes.show([Block((plain(NOTHING_SEEN, "$muted"),))])
            return
        keys = [one.key for one in answer.causes]
        key = pointed or (causes.key if causes.key in keys else next(iter(keys), ""))
        causes.show(cause_blocks(answer.causes, key, max(causes.size.width - GUTTER, 20)), key)

    def point_at_first(self, lookup: "Lookup") -> None:
        """Point at the likeliest cause, and at the top of what is known."""
        self.show_causes(lookup, next((one.key for one in lookup.answer().causes), ""))
        self.known.key = next(iter(self.known.keys), "")
        self._page.scroll_home(animate=False)

    def show_zone(self, lookup: "Lookup", zone: str, scales: Scales) -> None:
        """Show which keys are free: in the line every letter is text, and the digits while it holds any."""
        self.known.active, self.causes.active = zone == "known", zone == "causes"
        self._preview.display = zone == "line" and bool(self._preview_text)
        answer = lookup.answer()
        check, known = answer.next_check, lookup.ready.known.causes
        apart = [known[key].name for key in check.separates if key in known] if check else []
        tells = f"{apart[0]} from {apart[1]}" if len(apart) > 1 else f"whether it is {apart[0]}" if apart else ""
        unit = check_unit(lookup, scales)
        self.look.show(check, tells, unit=unit, typing=zone == "line", text=bool(self.line.value))

    def show_preview(self, lookup: "Lookup | None", scales: Scales) -> None:
        """Show what is understood of the line so far."""
        shown = preview(lookup, self.line.value, scales) if lookup and self.line.value.strip() else Content("")
        self._preview_text = shown.plain
        self._preview.display = bool(shown.plain) and self.line.has_focus
        self._preview.update(shown)

    def read(self, step: int) -> None:
        """Scroll in what is to be done, by almost a page."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 1, 1), animate=False)
