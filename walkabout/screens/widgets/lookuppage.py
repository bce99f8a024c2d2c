"""What a lookup holds and how it is shown; what is said, answered and opened in it builds on this."""

from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult

from walkabout.room.model import Who, may
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.lookupkeys import Zone, key_row
from walkabout.screens.widgets.lookuplines import Around
from walkabout.screens.widgets.lookupview import LookupView
from walkabout.screens.widgets.onelook import UNKNOWN

if TYPE_CHECKING:  # the knowledge's arithmetic is loaded only when a lookup opens
    from walkabout.round.lookup import Answered, Lookup
    from walkabout.round.lookup_undo import Before

EVERYBODY: tuple[Who, ...] = ("pupil", "adult", "licensed")
ANSWERS: dict[str, "Answered"] = {"1": "yes", "2": "no", "3": "cannot tell"}


class LookupPage(AskingPage):
    """Holds a lookup, shows what is known and what follows from it, and remembers what can be taken back."""

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

    # after something was said

    def _remember(self, says: str) -> None:
        """Keep what is known now, before `says` is taken in."""
        if self.lookup is not None:
            from walkabout.round.lookup_undo import before  # noqa: PLC0415 - with the knowledge

            self._given.append(before(self.lookup, says))

    def _changed(self, *, keep: bool = False) -> None:
        """Show at once what is known now, and then what follows; `keep`: the pointers stay where they are."""
        if self.lookup is not None:
            self._view.show_known(self.lookup, self._around())
            self.call_after_refresh(self._show_what_follows, keep=keep)

    def _show_what_follows(self, *, keep: bool) -> None:
        self.renew()
        if self.lookup is not None and not keep:
            self._view.point_at_first(self.lookup)
