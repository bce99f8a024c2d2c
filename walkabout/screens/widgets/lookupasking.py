"""What a lookup leaves behind, asked for step by step: jobs of what is to be done, a finding."""

from typing import TYPE_CHECKING

from walkabout.room.model import WHOLE_ROOM
from walkabout.round.endings import look_again_words
from walkabout.screens.app import Walkabout
from walkabout.screens.planting import walker_of
from walkabout.screens.widgets.asking import PickScreen
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.findingsteps import BAD

if TYPE_CHECKING:  # the knowledge's arithmetic is loaded only when a lookup opens
    from walkabout.round.lookup import Lookup


async def ask_jobs(app: Walkabout, lookup: "Lookup", station: str, walker: str = "") -> None:
    """Ask which of the steps become jobs, and write them down."""
    from walkabout.round.lookup_jobs import for_today, make_jobs, offered, seen_words  # noqa: PLC0415 - as above
    from walkabout.screens.widgets.steppicking import StepScreen  # noqa: PLC0415 - with the knowledge

    try:
        seen = seen_words(lookup)
    except ValueError as error:
        app.hint(str(error))
        return
    if not lookup.answer().do:
        app.hint("There is nothing to do yet.")
        return
    by = walker or await walker_of(app)
    if not by:
        return
    role = app.opened.room.role(by)
    do = offered(lookup.answer().do, role)
    if not do:
        app.hint("What there is to do is for an adult to ask for.")
        return
    chosen = await app.push_screen_wait(StepScreen(do, for_today(do, role), f"Seen: {seen}"))
    where = await _where(app, station) if chosen else ""
    if chosen and where:
        made = make_jobs(app.opened, lookup, chosen, where, by)
        again = f" {look_again_words(made.finding, app.opened.today())}" if made.finding else ""
        _say(app, f"{made.says}{again}", made.unsaved)


async def ask_finding(app: Walkabout, lookup: "Lookup", station: str, walker: str = "") -> None:
    """Ask how bad it is, and write what is seen down as a finding."""
    from walkabout.round.lookup_jobs import keep_finding, seen_words  # noqa: PLC0415 - with the knowledge

    try:
        seen = seen_words(lookup)
    except ValueError as error:
        app.hint(str(error))
        return
    where = await _where(app, station)
    if not where:
        return
    picked = await app.push_screen_wait(
        PickScreen("How bad is it?", [Row(says) for _, says, _ in BAD], about=f"Seen: {seen}")
    )
    by = (walker or await walker_of(app)) if picked else ""
    if not picked or not by:
        return
    flagged = keep_finding(app.opened, lookup, where, by, BAD[picked[0]][0])
    again = look_again_words(flagged.finding, app.opened.today())
    if flagged.finding.verdict in ("now", "stop"):
        from walkabout.screens.widgets.advice import AdviceScreen  # noqa: PLC0415 - rare

        await app.push_screen_wait(AdviceScreen(flagged, again))
    else:
        _say(app, f"Written down. {again}", flagged.unsaved)


async def _where(app: Walkabout, station: str) -> str:
    """Return the station, '' when nobody says which."""
    if station:
        return station
    places = [*((one.key, one.name) for one in app.opened.room.stations), (WHOLE_ROOM, "The room as a whole")]
    picked = await app.push_screen_wait(PickScreen("Where is it?", [Row(name) for _, name in places]))
    return places[picked[0]][0] if picked else ""


def _say(app: Walkabout, text: str, unsaved: str) -> None:
    app.say(text)
    if unsaved:
        app.say(f"Not on disk yet: {unsaved} It is kept here meanwhile.", grave=True, seconds=15)
