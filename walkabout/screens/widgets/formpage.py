"""A form above and what comes out of it below: what the planning screens share."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.growing.crops import Crop
from walkabout.jobs.plantings import offered
from walkabout.round.workout import Row
from walkabout.screens.text import lines
from walkabout.screens.widgets.asking import AskingPage
from walkabout.screens.widgets.cropasking import CropScreen
from walkabout.screens.widgets.days import day_to_come
from walkabout.screens.widgets.fields import Fields
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine

WIDEST = 104
COUNTS = {"a": 1, "one": 1, "two": 2, "three": 3, "four": 4, "six": 6}


class FormPage(AskingPage):
    """Fields and a page. A subclass says which fields there are and what follows from them."""

    CSS_PATH = "formpage.tcss"
    NAME = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="The field above"),
        Binding("down", "point(1)", "down", tooltip="The field below"),
        Binding("enter", "enter", "next", tooltip="Go on to the next field"),
        Binding("f2", "crop", "crop", tooltip="Choose the crop from the list"),
        Binding("pageup", "read(-1)", "read back", tooltip="Read back in what comes out"),
        Binding("pagedown", "read(1)", "read on", tooltip="Read on in what comes out"),
        Binding("escape", "back", "back", tooltip="Back to the almanac"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.typed: dict[str, str] = {}
        # made at once: a key may come before the screen is put together
        self._head, self._fields, self._out, self._keys = HeadLine(), Fields(id="fields"), Static(id="out"), KeyLine()
        self._page = VerticalScroll(self._out, id="page", can_focus=False)

    def compose(self) -> ComposeResult:
        """The form, what comes out, the keys."""
        yield self._head
        with Vertical(id="form"):
            yield self._fields
            yield self._page
        yield self._keys

    def on_mount(self) -> None:
        """Type at once."""
        self._fields.show(self.fields())
        self._fields.focus()
        self._fields.begin()
        self.renew()

    def on_resize(self) -> None:
        """Fit it to the width."""
        self.call_after_refresh(self.renew)

    def fields(self) -> Sequence[Row]:
        """Return the rows of the form as they are filled in."""
        raise NotImplementedError

    def keys(self) -> Sequence[Key]:
        """Return the keys of this form alone."""
        return ()

    def changed(self) -> None:
        """Take in that a field has changed."""
        raise NotImplementedError

    def out(self, width: int) -> Sequence[Content]:
        """Return what comes out, in lines of so many columns."""
        raise NotImplementedError

    def renew(self) -> None:
        """Show what is true now."""
        if self.is_mounted:
            self._head.left = f"Almanac · {self.NAME} · {self.app.opened.room.name}"
            self._head.right = self.dated
            self._fields.show(self.fields())
            self._keys.keys = (
                Key("↑↓", "field", "screen.point(1)"), Key("enter", "next", "screen.enter"), *self.keys(),
                Key("f2", "crop", "screen.crop"), Key("esc", "back", "screen.back"),
                Key("pgdn", "read on", "screen.read(1)"), Key("?", "help", "app.help"),
            )  # fmt: skip
            width = min(self._page.scrollable_content_region.width or self.size.width - 6, WIDEST)
            self._out.update(lines(self.out(width)))

    def crop(self) -> Crop | None:
        """Return the crop that was typed, or the nearest to it."""
        typed, crops = self.typed.get("crop", "").strip(), self.app.opened.crops
        if not typed:
            return None
        return crops.find(typed) or next(iter(offered(crops, typed)), None)

    def crop_row(self) -> Row:
        """Return the field of the crop, with the name that is understood beside it."""
        crop, typed = self.crop(), self.typed.get("crop", "")
        meant = crop.name if crop is not None and crop.name != typed.strip().casefold() else ""
        return Row("crop", "crop", typed, "", must=True, note=meant, wrong=bool(typed.strip()) and crop is None)

    def on_fields_changed(self, event: Fields.Changed) -> None:
        """Take in what was typed."""
        event.stop()
        self.typed[event.key] = event.change(self.typed.get(event.key, ""))
        self._fields.show(self.fields())
        self.changed()

    def on_fields_moved(self, event: Fields.Moved) -> None:
        """The line under the form stays as it is."""
        event.stop()

    def action_point(self, step: int) -> None:
        """Move in the form."""
        self._fields.focus()
        self._fields.point(step)

    def action_enter(self) -> None:
        """Go on to the next field."""
        self.action_point(1)

    def action_read(self, step: int) -> None:
        """Scroll what comes out."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 2, 1), animate=False)

    def action_crop(self) -> None:
        """Choose the crop from the list."""
        self.ask_through(self._ask_crop())

    async def _ask_crop(self) -> None:
        got = await self.app.push_screen_wait(CropScreen("Which crop?"))
        crop = self.app.opened.crops.find(got) if got else None
        if crop is not None:
            self.typed["crop"] = crop.name
            self._fields.show(self.fields())
            self.changed()

    def action_back(self) -> None:
        """Go back."""
        self.leave()


def day_meant(text: str, today: date) -> date:
    """Return the day that was typed, today or later: '', 'today', 'in a week', 'in 10 days', '3 Dec', 'friday'.

    ValueError says in a sentence what cannot be taken.
    """
    words = text.casefold().split()
    if words in ([], ["today"], [today.isoformat()]):
        return today
    if words[0] == "in" and len(words) == 3:
        number = int(words[1]) if words[1].isascii() and words[1].isdigit() else COUNTS.get(words[1])
        each = {"day": 1, "week": 7, "month": 30}.get(words[2].removesuffix("s"))
        if number is not None and each is not None and number * each <= 365:
            return today + timedelta(days=number * each)
    try:
        return day_to_come(text, today)
    except ValueError as error:
        says = str(error).replace(" A job is put off to a later day.", "").replace(" or today", "")
        raise ValueError(says) from None
