"""All causes by class, to look through; enter opens the page of one."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from walkabout.diagnosis.consult import UNLISTED_NAME
from walkabout.diagnosis.evidence import UNLISTED
from walkabout.round.lookup import ready
from walkabout.round.lookup_near import causes_with
from walkabout.round.lookup_pages import KINDS, by_kind
from walkabout.screens.cause import CauseScreen
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.browsing import BrowsingScreen
from walkabout.screens.widgets.keyline import Key


class CausesScreen(BrowsingScreen):
    """Each cause that the lookup knows, and the reasons behind them."""

    CSS_PATH = "browsing.tcss"
    TITLE_OF = "Lookup · causes"
    HINT = "type a part of its name: mildew, iron, mite"
    HELP = (
        "Every cause that the lookup knows, by class, and at the end the usual reasons behind them. Type a part of the "
        "name to find one, or go from class to class with tab. Enter opens its page: what it is, what to look for, how "
        "to confirm it, what looks the same, what to do and who may do it."
    )

    def classes_of(self) -> Sequence[str]:
        """Return the classes of cause."""
        return [KINDS[kind] for kind in by_kind()]

    def entries(self, text: str, chosen: str) -> Sequence[tuple[str, str, Content]]:
        """Return the causes whose names begin as typed."""
        found = {one.key for one in causes_with(ready().known, text)}
        return [
            (KINDS[kind], one.key, plain(one.name))
            for kind, causes in by_kind().items()
            if chosen in ("", KINDS[kind])
            for one in causes
            if one.key in found
        ]

    def full(self, key: str) -> Content:
        """Return in short what it is."""
        cause = ready().known.cause(key)
        if cause is None:
            return plain("")
        others = [plain(f"also: {', '.join(cause.others)}", "$muted")] if cause.others else []
        return lines([plain(cause.name, "bold"), *others, plain(cause.what), plain(""), plain(cause.look)])

    def key_row(self) -> tuple[Key, ...]:
        """Return the keys that work now."""
        return (
            Key("enter", "open", "screen.take"), Key("↑↓", "point", "screen.point(1)"),
            Key("tab", "class", "screen.turn(1)"), Key("esc", "back", "screen.back"), Key("f1", "help", "app.help"),
        )  # fmt: skip

    def take(self, key: str) -> None:
        """Open the page of the cause."""
        if self.is_current:
            self.app.push_screen(CauseScreen(key))


class PickCauseScreen(CausesScreen):
    """The same list, to say which cause it was; what is on no list stands at its end."""

    TITLE_OF = "What did it turn out to be?"
    HELP = (
        "Every cause that the lookup knows, by class, and at the end what is on no list. Type a part of the name to "
        "find one, or go from class to class with tab. Enter says that it was this one; f2 opens its page first; "
        "escape goes back and nothing is written down."
    )
    BINDINGS: ClassVar[list[BindingType]] = [Binding("f2", "page", "its page", tooltip="All that is known of it")]

    def __init__(self, pick: Callable[[str], None]) -> None:
        """`pick` is told the key of the cause, once this screen has gone."""
        super().__init__()
        self._pick = pick

    def classes_of(self) -> Sequence[str]:
        """Return the classes of cause; a reason behind causes is none."""
        return [KINDS[kind] for kind in by_kind() if kind != "reasons"]

    def entries(self, text: str, chosen: str) -> Sequence[tuple[str, str, Content]]:
        """Return the causes whose names begin as typed, and what is on no list."""
        rows = [row for row in super().entries(text, chosen) if row[0] != KINDS["reasons"]]
        wanted = text.casefold().split()
        if not chosen and all(any(word.startswith(one) for word in UNLISTED_NAME.split()) for one in wanted):
            rows.append(("None of these", UNLISTED, plain(UNLISTED_NAME)))
        return rows

    def key_row(self) -> tuple[Key, ...]:
        """Return the keys that work now."""
        return (
            Key("enter", "it was this", "screen.take"), Key("↑↓", "point", "screen.point(1)"),
            Key("f2", "its page", "screen.page"), Key("tab", "class", "screen.turn(1)"),
            Key("esc", "back", "screen.back"), Key("f1", "help", "app.help"),
        )  # fmt: skip

    def take(self, key: str) -> None:
        """Go back, and say which it was."""
        if self.is_current:
            self.app.go_back()
            self.app.call_later(self._pick, key)

    def action_page(self) -> None:
        """Read about the cause pointed at."""
        if self._list.key in ready().known.causes:
            super().take(self._list.key)
