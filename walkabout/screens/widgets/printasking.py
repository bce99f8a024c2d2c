"""The questions of the screen that prints. Each changes what is chosen and says whether it did."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from walkabout.jobs.trials import in_order
from walkabout.round.walkers import ROLES, walkers
from walkabout.screens.widgets.asking import LineScreen, PickScreen, through
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.formpage import day_meant
from walkabout.screens.widgets.printchoice import Chosen
from walkabout.screens.widgets.stagewords import day_long

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout

LONGEST_PATH = 1000


async def ask_day(app: "Walkabout", chosen: Chosen) -> bool:
    """Ask for the day of the round."""
    today = app.opened.today()
    got = await app.push_screen_wait(
        LineScreen("The round of which day?", lambda typed: day_meant(typed, today), hint="today, friday, in a week")
    )
    if got is not None:
        day = day_meant(got, today)
        chosen.day = None if day == today else day
    return got is not None


async def ask_days(app: "Walkabout", chosen: Chosen) -> bool:
    """Ask for the first and the last day of a report."""
    given: list[date | None] = [None, None]

    async def ask(place: int, says: str) -> bool:
        first = given[0] if place else None
        hint = "2026-09-01, 1 Sep 2026; enter alone: as usual"
        about = f"From {day_long(first)}" if first else ""
        got = await app.push_screen_wait(
            LineScreen(says, lambda typed: day_typed(typed, first), about=about, hint=hint)
        )
        if got is not None:
            given[place] = day_typed(got)
        return got is not None

    done = await through([lambda: ask(0, "From which day?"), lambda: ask(1, "To which day?")])
    if done:
        chosen.since, chosen.until = given
    return done


async def ask_walker(app: "Walkabout", chosen: Chosen) -> bool:
    """Ask who walks."""
    known = walkers(app.opened.room, chosen.day or app.opened.today())
    rows = [Row("not said", "filled in by hand"), *(Row(code, ROLES[role]) for code, role in known)]
    got = await app.push_screen_wait(PickScreen("Whose round is it?", rows))
    if got is not None:
        chosen.walker = known[got[0] - 1][0] if got[0] else ""
    return got is not None


async def ask_people(app: "Walkabout", chosen: Chosen) -> bool:
    """Ask for whom a certificate is."""
    hint = "never a person's name; enter alone: one for each to whom a promise was kept"
    got = await app.push_screen_wait(LineScreen("For which class or group?", text=chosen.people, hint=hint))
    if got is not None:
        chosen.people = got
    return got is not None


async def ask_trial(app: "Walkabout", chosen: Chosen) -> bool:
    """Ask which trial."""
    trials = in_order(app.opened.records.trials())
    if not trials:
        app.hint("There is no trial yet. t in the logbook opens the trials, n there sets one up.")
        return False
    rows = [Row(one.question, "closed" if one.closed else "") for one in trials]
    got = await app.push_screen_wait(PickScreen("Which trial?", rows))
    if got is not None:
        chosen.trial = trials[got[0]].key
    return got is not None


async def ask_where(app: "Walkabout", chosen: Chosen) -> bool:
    """Ask for another file or folder; the folder holds for every kind, a name for the one pointed at."""
    before, what = chosen.path(app.opened), chosen.kind.name
    hint = "a folder alone keeps the suggested name"
    got = await app.push_screen_wait(
        LineScreen(
            "Write it to which file?", place_typed, about=f"Now: {before}", text=str(before), hint=hint,
            most=LONGEST_PATH,
        )
    )  # fmt: skip
    if got is None:
        return False
    chosen.folder, name = place_typed(got)
    if not name:
        chosen.named.pop(what, None)
    elif name != before.name:
        chosen.named[what] = name
    return True


def day_typed(typed: str, first: date | None = None) -> date | None:
    """Return the day that was typed, None for none; ValueError for what is no day, or is before `first`."""
    from walkabout.reckon.typed_day import day  # noqa: PLC0415 - seldom typed

    if not typed:
        return None
    try:
        found = day(typed)
    except ValueError as error:
        raise ValueError(f"{error}.") from None
    if first is not None and found < first:
        raise ValueError(f"It ends before it begins on {day_long(first)}.")
    return found


def place_typed(typed: str) -> tuple[Path, str]:
    """Return the folder and the file name that were typed, '' for a folder alone; ValueError says what is wrong."""
    if not typed:
        raise ValueError("Type a file, such as round.pdf, or a folder.")
    try:
        path = Path(typed).expanduser().absolute()
        if path.is_dir():
            return path, ""
        if not path.parent.is_dir():
            raise ValueError(f"There is no folder {path.parent}.")
    except (OSError, RuntimeError) as error:
        raise ValueError(f"{typed} cannot be read as a file: {getattr(error, 'strerror', None) or error}.") from None
    return path.parent, path.name if path.suffix.casefold() == ".pdf" else f"{path.name}.pdf"
