"""Everything there is to do, by name: what the command palette offers beside the keys."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from textual.app import SystemCommand
from textual.screen import Screen

from walkabout.reckon.catalogue import every
from walkabout.screens.theme import THEMES

if TYPE_CHECKING:
    from walkabout.screens.app import Walkabout
    from walkabout.screens.workout import WorkOutScreen

LOOKS = {
    "walkabout-dark": "dark",
    "walkabout-light": "light",
    "walkabout-contrast": "high contrast",
    "walkabout-no-colour": "no colour",
}


def commands(app: "Walkabout", screen: Screen[object]) -> Iterable[SystemCommand]:
    """Yield (title, help, what to call) for what can be done now."""
    from walkabout.screens.trials import open_trials  # noqa: PLC0415 - only when the palette opens
    from walkabout.screens.walking import WalkingScreen, start_walk  # noqa: PLC0415
    from walkabout.screens.workout import WorkOutScreen  # noqa: PLC0415

    if isinstance(screen, WorkOutScreen):
        yield from (
            SystemCommand(f"{one.title} ({one.name})", one.about, _work_out(screen, one.name)) for one in every()
        )
    if not isinstance(screen, WalkingScreen):
        yield SystemCommand("Walk the round", "Begin today's round, or take it up", lambda: start_walk(app))
        yield SystemCommand(
            "Jobs and findings", "What is to be done, and what was noticed", lambda: app.action_go("jobs")
        )
        yield SystemCommand(
            "Stations and plantings", "What stands where; add, move, end", lambda: app.action_go("room")
        )
        yield SystemCommand(
            "Almanac", "Plantings, promises and closures, week by week", lambda: app.action_go("almanac")
        )
        yield SystemCommand("Hand over", "One page for a substitute or a new helper", lambda: app.action_go("handover"))
        yield SystemCommand("Logbook", "What is on record, what has shifted", lambda: app.action_go("logbook"))
        yield SystemCommand("Trials", "Comparisons: set up, measure, see what came out", lambda: open_trials(app))
        yield SystemCommand(
            "The term in numbers",
            "Cost, electricity, water, harvest, losses, what to buy",
            lambda: app.action_go("term"),
        )
        yield SystemCommand(
            "Paper", "The round, cards, labels, handing over, reports: to print", lambda: app.action_go("paper")
        )
        yield SystemCommand(
            "Tables out", "All that is on record, for a spreadsheet or a lesson", lambda: app.action_go("export")
        )
        yield SystemCommand(
            "Take in", "What a logger has read, or tables that were put out", lambda: app.action_go("take-in")
        )
    yield SystemCommand(
        "Work something out", "Light, air, solution, water, growth, with the working", app.action_work_out
    )
    yield SystemCommand(
        "Look something up",
        "From what is seen to what it may be, one look that tells, and what to do",
        app.action_lookup,
    )
    yield SystemCommand("Flag a finding", "Something looks wrong", app.action_flag)
    for theme in THEMES:
        yield SystemCommand(f"Look: {LOOKS[theme.name]}", "Change the colours", _look(app, theme.name))
    yield SystemCommand("Help", "What this screen is for, and its keys", app.action_help)
    yield SystemCommand("Leave", "End the program; everything is on disk", app.action_leave)


def _work_out(screen: "WorkOutScreen", name: str) -> Callable[[], None]:
    return lambda: screen.point_at(name)


def _look(app: "Walkabout", name: str) -> Callable[[], None]:
    def change() -> None:
        app.theme = name

    return change
