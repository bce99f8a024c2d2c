"""A closer look at one line of the almanac: a planting's way, a promise with its ways out, a standing job."""

from collections.abc import Iterable, Iterator, Sequence
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content

from walkabout.almanac.model import Almanac, Basis, Course, Entry, Expected, Foreseen, Standing, WayOut
from walkabout.growing.counting import amount_of, sown_words, unit_word
from walkabout.screens.base import Page
from walkabout.screens.closure import WHO, ClosureScreen
from walkabout.screens.text import plain
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.reading import ReadingPage, columns, head, wrapped
from walkabout.screens.widgets.stagewords import OUTLOOKS, day_long, day_short

STAGES = {
    "emergence": "seedlings show",
    "move_on": "moves on, or is thinned",
    "flowering": "flowers",
    "harvest": "ready to be picked",
    "seed": "seed is ripe",
}
OF_PLANTINGS = ("harvest", "emergence", "flowering", "seed", "apart", "move_on")


def closer(almanac: Almanac, basis: Basis, entry: Entry) -> Page | None:
    """Return the page of what stands behind an entry, or None where there is no more to say."""
    kind, _, rest = entry.uid.partition("/")
    if kind in ("closure", "leaving", "visit"):
        closure = next((one for one in almanac.closures if rest.startswith(one.first.isoformat())), None)
        return ClosureScreen(closure) if closure else None
    if kind in ("promise", "sow"):
        promise = next((one for one in almanac.promises if one.promise.key == rest), None)
        return PromiseScreen(promise, basis) if promise else None
    job = None
    if kind == "job":
        job = next((one for one in almanac.standing if rest == f"{one.key}/{one.due}"), None)
        kind, _, rest = job.key.partition("/") if job else ("", "", "")
    courses = {each.planting.key: each for row in almanac.rows for each in row.courses}
    if (kind in OF_PLANTINGS or job is not None) and rest in courses:
        return CourseScreen(courses[rest], almanac, basis)
    return StandingScreen(job, basis) if job else None


class CourseScreen(ReadingPage):
    """A planting from its sowing to its end."""

    HELP = (
        "When each stage of this planting was reached, or between which days it is expected: one time in ten earlier "
        "than the first day, one in ten later than the last. Below stand the jobs it brings, what it is promised for, "
        "and how the days came about."
    )

    def __init__(self, course: Course, almanac: Almanac, basis: Basis) -> None:
        super().__init__()
        self._course, self._almanac, self._basis = course, almanac, basis

    def headline(self) -> str:
        """Name the planting."""
        return f"Almanac · {self._course.name} · {self._basis.name_of(self._course.planting.station)}"

    def rows(self, width: int) -> Sequence[Content]:
        """Return the planting's way, its jobs, its promises, the working."""
        return list(self._rows(width))

    def _rows(self, width: int) -> Iterator[Content]:
        course, planting = self._course, self._course.planting
        kind = f"{course.name} '{planting.variety}'" if planting.variety else course.name
        many = sown_words(planting.count, self._basis.crop(planting), kind)
        yield plain(f"{many}{f' · {planting.label}' if planting.label else ''}", "bold")
        says = f"{'Brought in; sown about' if planting.brought_in else 'Sown'} {day_long(planting.sown)}"
        stays = " → ".join(f"{self._basis.name_of(move.station)} ({day_short(move.day)})" for move in planting.moves)
        yield from wrapped(f"{says}: {stays}", width, "$muted")
        yield from head("Its stages")
        for stage in course.stages:
            yield _stage(stage, width)
        if not course.stages:
            yield plain("The crop table does not know its days.", "$muted")
        if planting.ended is not None:
            yield plain(f"Ended {day_long(planting.ended)}.")
        elif course.until is not None:
            yield plain(f"It keeps its place until about {day_long(course.until)}.")
        jobs = [one for one in self._almanac.standing if one.key.endswith(f"/{planting.key}")]
        if jobs:
            yield from head("Jobs it brings")
        for job in jobs:
            yield from wrapped(f"{day_long(job.day)}: {job.says} ({WHO[job.who]}, {job.minutes:.0f} min)", width)
        mine = [one for one in self._almanac.promises if _of(one, course)]
        if mine:
            yield from head("Promised")
        for one in mine:
            yield from _promise_line(one, width)
        yield from _working(course.working, width)


class PromiseScreen(ReadingPage):
    """A promise: how it stands, what would help, how that came about."""

    HELP = (
        "How sure the promise is, what is in hand, and what would help, the surest first, each with its chance and who "
        "may do it. The number of a way out with another day moves the promise to that day, after asking. e changes "
        "the promise, x calls it off; both ask why, and nothing is deleted."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *ReadingPage.BINDINGS,
        Binding("e", "change", "change", tooltip="Change the amount, the day or the people"),
        Binding("x", "call_off", "call off", tooltip="Call the promise off, with a reason"),
    ]

    def __init__(self, foreseen: Foreseen, basis: Basis) -> None:
        super().__init__()
        self._foreseen, self._basis = foreseen, basis

    def headline(self) -> str:
        """Name the promise."""
        return f"Almanac · promise · {self._foreseen.name} for {self._foreseen.promise.people}"

    def keys(self) -> Iterable[Key]:
        """Return the keys of an open promise."""
        if self._foreseen.promise.closed is None:
            ways = len(self._foreseen.ways)
            if any(one.day for one in self._foreseen.ways):
                yield Key(f"1-{ways}" if ways > 1 else "1", "take a day", "screen.take_day")
            yield Key("e", "change", "screen.change")
            yield Key("x", "call off", "screen.call_off")

    def rows(self, width: int) -> Sequence[Content]:
        """Return how it stands, the ways out, the working."""
        return list(self._rows(width))

    def _rows(self, width: int) -> Iterator[Content]:
        one, promise = self._foreseen, self._foreseen.promise
        mark, style, words = OUTLOOKS[one.outlook]
        crop = self.app.opened.crops.find(promise.crop)
        amount = amount_of(promise.amount, promise.unit, crop, one.name)
        yield from wrapped(f"{amount} for {promise.people}, {day_long(promise.day)}", width, "bold")
        chance = f": {_tenths(one.chance)}" if promise.closed is None and one.outlook != "cannot" else ""
        yield plain(f"{mark} {words}{chance}", style)
        yield from wrapped(one.says, width)
        if promise.closed is None:
            yield from wrapped(
                f"Expected on the day: {one.expected:.0f} {unit_word(promise.unit, crop)}", width, "$muted"
            )
            if one.sow_count:
                day = f"by {day_long(one.sow_by)}" if one.sow_by else "now"
                yield from wrapped(f"To be sure, sow {sown_words(one.sow_count, crop, one.name)} {day}.", width)
                yield from wrapped(one.sow_says, width, "$muted")
        for says in one.blocked:
            yield from wrapped(f"Nothing of it may be eaten: {says}", width, "$act")
        if one.ways:
            yield from head("What would help")
        for number, way in enumerate(one.ways, 1):
            who = "" if way.who == "pupil" else f" ({WHO[way.who]})"
            first = plain(f"{number}  ", "$accent-text bold")
            yield from wrapped(f"{way.says.rstrip('.')}{who}: {_tenths(way.chance)}", width, first=first, hang=3)
        if promise.history:
            yield from head("Its history")
        for each in promise.history:
            yield from wrapped(f"{day_short(each.at.date())} {each.by}: {each.says}", width, "$muted")
        yield from _working(one.working, width)

    def renew(self) -> None:
        """Show the promise as it is on record now; how it stands is reckoned when the almanac comes back."""
        now = self.app.opened.promises.get(self._foreseen.promise.key)
        if now is not None and now != self._foreseen.promise and self.is_current:
            self.app.go_back()
        else:
            super().renew()

    def on_key(self, event: events.Key) -> None:
        """A digit takes a way out that is another day."""
        character = event.character or ""
        if not (character.isdigit() and character.isascii() and 1 <= int(character) <= len(self._foreseen.ways)):
            return
        event.stop()
        way = self._foreseen.ways[int(character) - 1]
        if way.day is None:
            self.app.hint("That is done in the room. Only another day can be taken here.")
        else:
            self._take((way,))

    def action_take_day(self) -> None:
        """Take a way out that is another day; ask which where there are several."""
        self._take(tuple(one for one in self._foreseen.ways if one.day is not None))

    def _take(self, ways: tuple[WayOut, ...]) -> None:
        from walkabout.screens.promising import move_promise  # noqa: PLC0415 - only when something changes

        if self._foreseen.promise.closed is None and ways:
            self.ask_through(move_promise(self.app, self._foreseen.promise, ways))

    def action_change(self) -> None:
        """Change it."""
        from walkabout.screens.promising import change_promise  # noqa: PLC0415

        if self._foreseen.promise.closed is None:
            self.ask_through(change_promise(self.app, self._foreseen.promise))

    def action_call_off(self) -> None:
        """Call it off."""
        from walkabout.screens.promising import call_off_promise  # noqa: PLC0415

        if self._foreseen.promise.closed is None:
            self.ask_through(call_off_promise(self.app, self._foreseen.promise))


class StandingScreen(ReadingPage):
    """One time of a standing job."""

    HELP = "What the job is for, when it is due by its interval, and on which day it is planned and why."

    def __init__(self, standing: Standing, basis: Basis) -> None:
        super().__init__()
        self._standing, self._basis = standing, basis

    def headline(self) -> str:
        """Name the job."""
        return f"Almanac · job · {self._basis.name_of(self._standing.station)}"

    def rows(self, width: int) -> Sequence[Content]:
        """Return what is known of it."""
        one = self._standing
        found = [*wrapped(one.says, width, "bold")]
        found.append(plain(f"{self._basis.name_of(one.station)} · {WHO[one.who]} · {one.minutes:.0f} min", "$muted"))
        if one.caution:
            found += wrapped(f"Caution: {one.caution}", width, "$watch")
        found += [plain(""), plain(f"Planned for {day_long(one.day)}.")]
        if one.due != one.day:
            moved = f" ({one.moved})" if one.moved else ""
            found += wrapped(f"By its interval it is due {day_long(one.due)}{moved}.", width)
        found += wrapped(one.why, width) if one.why else []
        if one.asked:
            found += wrapped("The round asks for it: no job is made of it.", width, "$muted")
        return found


def _stage(one: Expected, width: int) -> Content:
    words = STAGES[one.stage]
    if one.reached is not None:
        return columns((("✓ ", 2, "$good"), (words, 26, ""), (day_long(one.reached), max(width - 28, 12), "")))
    span = one.span
    between = f"{day_short(span.early)} to {day_short(span.late)}"
    about = f"about {day_long(span.likely)}"
    return columns((("  ", 2, ""), (words, 26, ""), (about, 19, ""), (between, max(width - 47, 14), "$muted")))


def _of(one: Foreseen, course: Course) -> bool:
    promise, planting = one.promise, course.planting
    return planting.key in promise.plantings if promise.plantings else planting.crop == promise.crop


def _promise_line(one: Foreseen, width: int) -> list[Content]:
    mark, style, words = OUTLOOKS[one.outlook]
    says = f"{day_long(one.promise.day)}, {one.promise.people}: {words}. {one.says}"
    return wrapped(says, width, first=plain(f"{mark} ", style), hang=2)


def _tenths(chance: float) -> str:
    """Say a chance the way one says it: 'about 7 times in 10'."""
    if chance >= 0.95:
        return "almost sure"
    tenths = round(chance * 10)
    return f"about {tenths} time{'s' if tenths != 1 else ''} in 10" if tenths else "hardly ever"


def _working(working: Sequence[str], width: int) -> Iterator[Content]:
    if working:
        yield from head("The working")
    for says in working:
        yield from wrapped(says, width)
