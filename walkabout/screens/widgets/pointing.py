"""What every list with a pointer has: the wheel moves it, and it stops at both ends."""

from collections.abc import Sequence

from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget


class Pointing(Widget):
    """A list of which one row is pointed at; a subclass says in `point` how the pointer moves."""

    def point(self, step: int) -> bool:
        """Move the pointer by so many rows, no further than the ends; say whether it has moved."""
        raise NotImplementedError

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Go down with the wheel."""
        event.stop()
        self.point(1)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Go up with the wheel."""
        event.stop()
        self.point(-1)


class KeyPointing(Pointing):
    """A list that knows its rows by key, so that the pointer stays where it is when other rows come and go."""

    key: reactive[str] = reactive("", layout=False)
    """The key of the row pointed at; '' when there is none."""

    class Moved(Message):
        """Another row is pointed at, or one was `clicked`; each kind of list has its own, so that screens can tell."""

        def __init__(self, rows: "KeyPointing", key: str, *, clicked: bool = False) -> None:
            super().__init__()
            self.rows = rows
            self.key = key
            self.clicked = clicked

        @property
        def control(self) -> "KeyPointing":
            """The list in which it moved."""
            return self.rows

    @property
    def keys(self) -> list[str]:
        """The keys that can be pointed at, from the top."""
        raise NotImplementedError

    def keep(self, before: Sequence[str], wanted: str = "") -> None:
        """Point at `wanted`, else where it did; when that is gone, at what has taken its place among `before`."""
        keys, wanted = self.keys, wanted or self.key
        if wanted not in keys:
            place = before.index(self.key) if self.key in before else 0
            wanted = keys[min(place, len(keys) - 1)] if keys else ""
        self.set_reactive(KeyPointing.key, wanted)  # nobody is told: the screen itself shows other rows

    def point(self, step: int) -> bool:
        """Move the pointer by so many rows that can be pointed at."""
        keys, before = self.keys, self.key
        if keys:
            at = keys.index(before) if before in keys else 0
            self.key = keys[min(max(at + step, 0), len(keys) - 1)]
        return self.key != before

    def watch_key(self, key: str) -> None:
        """Tell the screen."""
        self.post_message(self.Moved(self, key))
