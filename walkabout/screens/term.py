"""The term in numbers on the screen: what it took, gave and lost, and what stands on the shelf."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from walkabout.insight.shelf_words import Row
from walkabout.insight.term_model import Term
from walkabout.insight.term_words import FOR_THE_TEACHER, Section, headline, sections
from walkabout.reckon.write import plainly
from walkabout.round.term import shelf_of, term_of
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import Checked, LineScreen, NumberScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row as Choice
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.reading import ReadingPage, columns, head, wrapped
from walkabout.screens.widgets.stagewords import day_long

NAME, VALUE = 24, 18
"""Cells of the first two columns."""
LEAST, BELOW = 26, 4
"""With fewer cells than this beside them, a remark stands below, set in by so many."""
SPANS = (("the last 4 weeks", 28), ("the last 12 weeks", 84), ("the last 12 months", 365))
"""Spans to choose from besides the terms of room.toml, in days up to today."""
TERMS = 3
"""So many of the latest terms are offered."""


class TermScreen(ReadingPage):
    """Every number with its unit and what it means; the working on a key; supplies counted and added."""

    CSS_PATH = "term.tcss"
    HELP = (
        "What the term took, gave and lost: electricity by lamp, water, supplies, harvest, what a portion cost, "
        "losses, time, findings, and what to buy. s shows another span of days, w the working of every number and "
        "what it leaves out, d says how long the lamps were lit on closed days. a puts a supply on the list, c counts "
        "one, e changes one, x takes one off the list, which an adult decides; b goes to the shelf. k shows the rounds "
        "by code, for the teacher alone: the code of an adult is asked for."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *ReadingPage.BINDINGS,
        Binding("tab", "part(1)", "next part", tooltip="The next part", priority=True),
        Binding("shift+tab", "part(-1)", "part before", tooltip="The part before", priority=True),
        Binding("w", "working", "working", tooltip="Show the working, or hide it"),
        Binding("s", "span", "other days", tooltip="Show another term or other days"),
        Binding("d", "closed_light", "closed days", tooltip="Say how long the lamps were lit on closed days"),
        Binding("b", "shelf", "shelf", tooltip="Go to what stands on the shelf and what to buy"),
        Binding("k", "codes", "rounds by code", tooltip="Show the rounds by code, for an adult, or hide them"),
        Binding("a", "add", "add", tooltip="Put a supply on the list"),
        Binding("c", "count", "count", tooltip="Count a supply"),
        Binding("e", "change", "change", tooltip="Change what is known of a supply"),
        Binding("x", "take_off", "take off", tooltip="Take a supply off the list"),
    ]

    def __init__(self, first: date | None = None, last: date | None = None) -> None:
        super().__init__()
        self._span = first, last
        self._closed_light = 1.0
        self._working = self._codes = False
        self._heads: list[tuple[str, int]] = []
        self.found: Term | None = None

    def headline(self) -> str:
        """Say what this is."""
        return "The term in numbers"

    def renew(self) -> None:
        """Reckon afresh and show it."""
        if self.is_mounted:
            first, last = self._span
            self.found = term_of(self.app.opened, first, last, closed_light=self._closed_light)
            super().renew()
            self._keys.keys = self._keys_now()

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back, but not between two questions."""
        if not self._asking:
            self.renew()

    def rows(self, width: int) -> Sequence[Content]:
        """Return the parts one below the other."""
        assert self.found is not None
        found: list[Content] = list(wrapped(f"{headline(self.found)}.", width, "bold"))
        self._heads = []
        for section in sections(self.found, codes=self._codes):
            self._heads.append((section.key, len(found) + 1))
            found += part(section, width, working=self._working)
            if section.key == "buy":
                some = "    c counts one, e changes one, x takes one off, a puts another on the list"
                none = "    a puts the first supply on the list"
                found.append(plain(some if shelf_of(self.app.opened) else none, "$muted"))
        if self.found.codes and not self._codes:
            found += [*head("Rounds by code"), plain("    for the teacher alone: k shows them", "$muted")]
        return found

    def _keys_now(self) -> tuple[Key, ...]:
        """Return the keys, those for supplies last: they stand once more beside the shelf."""
        supplies = (
            Key("c", "count", "screen.count"), Key("e", "change", "screen.change"),
            Key("x", "take off", "screen.take_off"),
        )  # fmt: skip
        light = (Key("d", "closed days", "screen.closed_light"),)
        codes = (Key("k", "no codes" if self._codes else "codes", "screen.codes"),)
        return (
            Key("tab", "next part", "screen.part(1)"),
            Key("w", "no working" if self._working else "working", "screen.working"),
            Key("s", "days", "screen.span"), Key("esc", "back", "screen.back"), Key("b", "shelf", "screen.shelf"),
            Key("a", "add", "screen.add"), *(supplies if shelf_of(self.app.opened) else ()),
            *light, *(codes if self.found is not None and self.found.codes else ()),
            Key("?", "help", "app.help"),
        )  # fmt: skip

    # moving about

    def action_part(self, step: int) -> None:
        """Go to the next part, or to the one before."""
        at = round(self._page.scroll_y)
        rows = [row for _, row in self._heads]
        after, before = [row for row in rows if row > at], [row for row in rows if row < at]
        row = (min(after) if after else at) if step > 0 else (max(before) if before else 0)
        self._page.scroll_to(y=row, animate=False)

    def action_shelf(self) -> None:
        """Go to what stands on the shelf."""
        self._go_to("buy")

    def action_working(self) -> None:
        """Show the working, or hide it."""
        at = round(self._page.scroll_y)
        here = next((key for key, row in reversed(self._heads) if row <= at), "")
        self._working = not self._working
        self.renew()
        # the page is as long as it will be only once it is drawn
        self.call_after_refresh(self._go_to, here)

    def _go_to(self, key: str) -> None:
        self._page.scroll_to(y=next((row for each, row in self._heads if each == key), 0), animate=False)

    # other days

    def action_span(self) -> None:
        """Ask for other days."""
        self.ask_through(self._ask_span())

    async def _ask_span(self) -> None:
        today = self.app.opened.today()
        begun = [one for one in self.app.opened.room.terms if one.first <= today]
        terms = sorted(begun, key=lambda one: one.first, reverse=True)[:TERMS]
        spans = [(one.first, one.last) for one in terms]
        spans += [(today - timedelta(days=days - 1), today) for _, days in SPANS]
        rows = [Choice(one.name or "a term", f"{day_long(one.first)} to {day_long(one.last)}") for one in terms]
        rows += [Choice(says) for says, _ in SPANS]
        rows.append(Choice("other days", "type the first and the last"))
        got = await self.app.push_screen_wait(PickScreen("Which days?", rows))
        if got is None:
            return
        if got[0] < len(spans):
            self._show(*spans[got[0]])
        else:
            await self._ask_days()

    async def _ask_days(self) -> None:
        typed: dict[str, date] = {}

        def read(text: str) -> date:
            from walkabout.reckon.typed_day import day  # noqa: PLC0415 - seldom typed

            try:
                return day(text)
            except ValueError as error:
                raise ValueError(f"{error}.") from None

        def not_ahead(text: str) -> date:
            if (found := read(text)) > self.app.opened.today():
                raise ValueError("That day is still to come: there are no numbers yet.")
            return found

        def not_before(text: str) -> date:
            if (found := read(text)) < typed["first"]:
                raise ValueError(f"It ends before it begins on {day_long(typed['first'])}.")
            return found

        async def first() -> bool:
            got = await self.app.push_screen_wait(
                LineScreen("From which day?", not_ahead, hint="2026-09-01, 1 Sep 2026")
            )
            typed["first"] = read(got) if got is not None else date.min
            return got is not None

        async def last() -> bool:
            about = f"From {day_long(typed['first'])}"
            got = await self.app.push_screen_wait(
                LineScreen("To which day?", not_before, about=about, hint="2026-12-18, 18 Dec 2026")
            )
            if got is not None:
                self._show(typed["first"], read(got))
            return got is not None

        await through([first, last])

    def _show(self, first: date, last: date) -> None:
        before, self._span = self._span, (first, last)
        try:
            self.renew()
        except ValueError as error:
            self._span = before
            self.app.say(str(error), grave=True)
        self._page.scroll_home(animate=False)

    def action_closed_light(self) -> None:
        """Ask how long the lamps were lit on closed days."""
        self.ask_through(self._ask_closed_light())

    async def _ask_closed_light(self) -> None:
        def check(text: str) -> Checked:
            try:
                value = float(text) if text else 100.0
            except ValueError:
                value = -1.0
            if not 0 <= value <= 100:
                raise ValueError("Type a number from 0 to 100.")
            return Checked(value)

        got = await self.app.push_screen_wait(
            NumberScreen(
                "On closed days, for how much of their hours were the lamps lit?", check, unit="%",
                about=f"Counted now: {plainly(self._closed_light * 100)} %. It holds while this screen is open.",
                remark="enter alone: 100, as the timer runs",
            )
        )  # fmt: skip
        if got is not None:
            self._closed_light = got / 100
            self.renew()

    def action_codes(self) -> None:
        """Show the rounds by code to an adult, or hide them."""
        if self._codes:
            self._codes = False
            self.renew()
        elif self.found is not None and self.found.codes:
            self.ask_through(self._ask_codes())

    async def _ask_codes(self) -> None:
        from walkabout.screens.adult import decided_by  # noqa: PLC0415 - seldom asked

        if await decided_by(self.app, "Rounds by code are for the teacher alone. Whose code?") is not None:
            self._codes = True
            self.renew()
            # the page is as long as it will be only once it is drawn
            self.call_after_refresh(self._go_to, "codes")

    # supplies

    def action_add(self) -> None:
        """Put a supply on the list."""
        from walkabout.screens.shelving import add_supply  # noqa: PLC0415 - only when something changes

        self.ask_through(add_supply(self.app))

    def action_count(self) -> None:
        """Count a supply."""
        from walkabout.screens.shelving import count_supply  # noqa: PLC0415

        if self._has_supplies():
            self.ask_through(count_supply(self.app))

    def action_change(self) -> None:
        """Change what is known of a supply."""
        from walkabout.screens.shelving import change_supply  # noqa: PLC0415

        if self._has_supplies():
            self.ask_through(change_supply(self.app))

    def action_take_off(self) -> None:
        """Take a supply off the list."""
        from walkabout.screens.shelving import take_off_supply  # noqa: PLC0415

        if self._has_supplies():
            self.ask_through(take_off_supply(self.app))

    def _has_supplies(self) -> bool:
        if shelf_of(self.app.opened):
            return True
        self.app.hint("Nothing is on the list yet: a puts the first supply on it.")
        return False


def part(section: Section, width: int, *, working: bool) -> Iterator[Content]:
    """Yield one section in lines of `width` cells."""
    yield from head(section.title)
    means_style = "$watch" if section.means == FOR_THE_TEACHER else "$muted"
    yield from wrapped(section.means, width, means_style)
    for row in section.rows:
        yield from _row(row, width)
    if working:
        for says in section.working:
            yield from wrapped(says, width, "$muted", hang=4)
        for says in section.left_out:
            yield from wrapped(f"Left out: {says}", width, "$muted", hang=4)
    elif section.left_out:
        yield plain("    something is left out: w shows what", "$muted")


def _row(row: Row, width: int) -> Iterator[Content]:
    """Yield a row in its columns; a remark that does not fit goes on below itself."""
    front = columns((("  ", 2, ""), (row.name, NAME, ""), (" ", 1, ""), (row.value, VALUE, "bold")))
    if not row.remark:
        yield front
        return
    hang = 2 + NAME + 1 + VALUE
    if width - hang >= LEAST:
        yield from wrapped(row.remark, width, "$muted", first=front, hang=hang)
        return
    yield front
    yield from wrapped(row.remark, width, "$muted", hang=BELOW)
