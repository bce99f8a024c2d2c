"""The list of signs, by what they are seen on: pick what is there, and what is not."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.browsing import BrowsingScreen
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.lookuplines import MARKS

if TYPE_CHECKING:  # the knowledge's arithmetic is loaded only when a lookup opens
    from walkabout.round.lookup import Lookup


class SignsScreen(BrowsingScreen):
    """Each sign that the lookup knows; what is taken stands in the lookup at once."""

    CSS_PATH = "browsing.tcss"
    TITLE_OF = "Lookup · signs"
    HINT = "type a part of it: white, leaf, web"
    HELP = (
        "Every sign that the lookup knows, by what it is seen on. Type a part of its name to find it, or go from organ "
        "to organ with tab. Enter takes a sign as there, f2 as not there; once more takes it back. Escape goes back to "
        "the lookup. Beside the list stands what is meant and how to look."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f2", "deny", "not there", tooltip="It was looked for and is not there"),
    ]

    def __init__(self, lookup: "Lookup") -> None:
        super().__init__()
        self._lookup = lookup

    def classes_of(self) -> Sequence[str]:
        """Return the organs."""
        from walkabout.round.lookup_near import organs  # noqa: PLC0415 - with the knowledge

        return organs(self._lookup.ready.known)

    def entries(self, text: str, chosen: str) -> Sequence[tuple[str, str, Content]]:
        """Return the signs whose words begin as typed, each with the mark that it has in the lookup."""
        from walkabout.round.lookup_near import signs_with  # noqa: PLC0415 - with the knowledge

        return [
            (sign.organ, sign.key, self._line(sign.key, sign.name))
            for sign in signs_with(self._lookup.ready.known, text, chosen)
        ]

    def _line(self, key: str, name: str) -> Content:
        present = self._present(key)
        mark, style = MARKS[present] if present is not None else (" ", "")
        return Content("").join([plain(f"{mark} ", style), plain(name, "" if present is None else "bold")])

    def _present(self, key: str) -> bool | None:
        return next((one.present for one in self._lookup.seen() if one.key == key), None)

    def full(self, key: str) -> Content:
        """Return what the sign is and how to look for it."""
        sign = self._lookup.ready.known.signs[key]
        rows = [plain(sign.name, "bold"), plain(sign.seen)]
        if sign.place:
            rows.append(plain(f"Where: {sign.place}", "$muted"))
        rows += [plain(""), plain("How to look", "$accent-text"), plain(sign.look)]
        who = "" if sign.who == "pupil" else f", for an {sign.who}"
        rows.append(plain(f"{sign.seconds} s{who}", "$muted" if sign.who == "pupil" else "$watch"))
        if sign.caution:
            rows.append(plain(f"Caution: {sign.caution}", "$watch"))
        return lines(rows)

    def key_row(self) -> tuple[Key, ...]:
        """Return the keys that work now."""
        return (
            Key("enter", "it is there", "screen.take"), Key("f2", "not there", "screen.deny"),
            Key("↑↓", "point", "screen.point(1)"), Key("tab", "organ", "screen.turn(1)"),
            Key("esc", "back", "screen.back"), Key("f1", "help", "app.help"),
        )  # fmt: skip

    def take(self, key: str) -> None:
        """Take the sign as there; once more takes it back."""
        self._set(key, present=True)

    def action_deny(self) -> None:
        """Take the sign as not there; once more takes it back."""
        if self._list.key:
            self._set(self._list.key, present=False)

    def _set(self, key: str, *, present: bool) -> None:
        self._lookup.set_sign(key, None if self._present(key) is present else present)
        self.renew()
