"""Asking an adult what a finding turned out to be: from what the lookup ranks, or from the list of all."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from walkabout.jobs.findings import cause_words, must_be_adult
from walkabout.jobs.life import NotAllowed
from walkabout.records.model import Finding
from walkabout.round.endings import Ending
from walkabout.screens.widgets.asking import PickScreen
from walkabout.screens.widgets.choices import Row

if TYPE_CHECKING:
    from walkabout.round.confirm import Nameable
    from walkabout.round.opened import OpenRoom
    from walkabout.screens.jobs import JobsScreen

ASKS = "What did it turn out to be?"
End = Callable[["OpenRoom", Finding], Ending]


def ask_cause(screen: "JobsScreen", finding: Finding, code: str) -> None:
    """Ask for the cause of a finding and write it down under a code; of a confirmed one, whether it stands."""
    try:
        must_be_adult(screen.app.opened.room.role(code))
    except NotAllowed as error:
        screen.app.say(f"{error} u takes another code.", grave=True)
        return
    if finding.cause:
        _ask_whether_it_stands(screen, finding, code)
    else:
        _rank(screen, finding, code)


def _ask_whether_it_stands(screen: "JobsScreen", finding: Finding, code: str) -> None:
    def go(picked: tuple[int, ...] | None) -> None:
        if picked == (0,):
            _rank(screen, finding, code)
        elif picked == (1,):
            from walkabout.round.confirm import take_back  # noqa: PLC0415 - the arithmetic is loaded for a lookup only

            _write(screen, finding, lambda opened, one: take_back(opened, one, code))

    asks = f"Confirmed: {cause_words(finding)}. Does it stand?"
    rows = (Row("it was another cause"), Row("take it back: the cause is not known"))
    screen.app.push_screen(PickScreen(asks, rows, about=_about(screen, finding)), go)


def _rank(screen: "JobsScreen", finding: Finding, code: str) -> None:
    """Look the finding up beside the screen, which takes keys meanwhile, and offer what is ranked."""
    app = screen.app

    def load() -> None:
        from walkabout.round.confirm import ranked_for  # noqa: PLC0415 - as above

        try:
            ranked = ranked_for(app.opened, finding)
        except ValueError as error:
            app.call_from_thread(app.say, f"The knowledge cannot be used: {str(error).splitlines()[0]}", grave=True)
        else:
            app.call_from_thread(_offer, screen, finding, code, ranked)

    screen.run_worker(load, thread=True, exclusive=True, group="cause", exit_on_error=False)


def _offer(screen: "JobsScreen", finding: Finding, code: str, ranked: tuple["Nameable", ...]) -> None:
    if not screen.is_current:
        return  # somebody went elsewhere meanwhile
    about, confirmed = _about(screen, finding), partial(_confirmed, screen, finding, code)

    def go(picked: tuple[int, ...] | None) -> None:
        if picked is not None and picked[0] < len(ranked):
            confirmed(ranked[picked[0]].key)
        elif picked is not None:
            from walkabout.screens.causes import PickCauseScreen  # noqa: PLC0415 - as above

            screen.app.push_screen(PickCauseScreen(confirmed))

    rows = [*(Row(one.name, one.remark) for one in ranked), Row("another one, from the list of all")]
    screen.app.push_screen(PickScreen(ASKS, rows, about=about), go)


def _confirmed(screen: "JobsScreen", finding: Finding, code: str, cause: str) -> None:
    from walkabout.round.confirm import confirm  # noqa: PLC0415 - as above

    _write(screen, finding, lambda opened, one: confirm(opened, one, cause, code))


def _write(screen: "JobsScreen", finding: Finding, end: End) -> None:
    """Write it down as the finding is now, closed or not."""
    opened = screen.app.opened
    opened.refresh()
    try:
        ending = end(opened, opened.findings[finding.key])
    except (NotAllowed, ValueError) as error:
        screen.app.say(f"{error} Nothing has changed.", grave=True)
        return
    screen.keep(ending)


def _about(screen: "JobsScreen", finding: Finding) -> str:
    return f"{screen.app.opened.name_of(finding.station)}: {finding.seen}"
