"""The full-screen program: one open room, and the screens on it."""

import asyncio
import gc
import signal
import time
from collections.abc import Iterable
from importlib import import_module
from pathlib import Path
from typing import Any, ClassVar

from textual import events
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.notifications import Notify
from textual.screen import Screen

from walkabout.room.read import RoomFile
from walkabout.round.opened import OpenRoom
from walkabout.screens.theme import DEFAULT, NO_COLOUR, THEMES, no_colour_wanted
from walkabout.screens.told import Told

HINT = 6.0
"""Seconds for which a hint stands."""
TICK = 20.0
"""Seconds between two looks at what another program has written."""
YOUNG = 20_000
"""So many new things are made before waste is looked for: some keys' worth, where Python looks many times a key."""
MAIN = {
    "today": ("today", "TodayScreen"),
    "jobs": ("jobs", "JobsScreen"),
    "room": ("room", "RoomScreen"),
    "almanac": ("almanac", "AlmanacScreen"),
    "handover": ("handover", "HandoverScreen"),
    "logbook": ("logbook", "LogbookScreen"),
    "trials": ("trials", "TrialsScreen"),
    "term": ("term", "TermScreen"),
    "paper": ("paper", "PaperScreen"),
    "export": ("exporting", "ExportScreen"),
    "take-in": ("taking_in", "TakeInScreen"),
}
"""The main screens by name: the module and the class of each."""


class Walkabout(App[int]):
    """Holds the open room; every screen asks it for what it needs and saves through it."""

    AUTO_FOCUS = None
    ENABLE_COMMAND_PALETTE = True
    TITLE = "walkabout"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("question_mark", "help", "help", tooltip="What this screen is for, and every key"),
        Binding("equals_sign", "work_out", "work out", tooltip="Work something out, with the working"),
        Binding("l", "lookup", "lookup", tooltip="From what is seen to what it may be, and what to do"),
        Binding("ctrl+q", "leave", "leave", show=False, priority=True),
        Binding("ctrl+c", "leave", "leave", show=False, priority=True),
    ]

    def __init__(self, opened: OpenRoom, start: str = "today", walker: str = "") -> None:
        # the screen that lies at the bottom does not load its own styles
        bottom = "walking.tcss" if start == "round" and walker else "today.tcss"
        super().__init__(css_path=["app.tcss", bottom])
        self._ending = False
        self._hint_until = self._grave_until = 0.0
        self.opened = opened
        self.walker = walker
        self._start = start
        for theme in THEMES:
            self.register_theme(theme)
        # set before anything is parsed: a change of theme would read every style a second time
        self.set_reactive(Walkabout.theme, NO_COLOUR if no_colour_wanted() else DEFAULT)
        self.stylesheet.set_variables(self.get_css_variables())

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Give Textual's own themes the colours of ours, so that none can break a screen."""
        return dict(THEMES[0].variables)

    def on_mount(self) -> None:
        """Open the first screen; a closed terminal or a kill ends the program cleanly from now on."""
        loop = asyncio.get_running_loop()
        for name in ("SIGHUP", "SIGTERM"):
            if hasattr(signal, name):
                try:
                    loop.add_signal_handler(getattr(signal, name), self.exit, 128 + getattr(signal, name))
                except (NotImplementedError, RuntimeError, ValueError):
                    break  # not on this system, or not in the main thread
        self.call_after_refresh(self._settle)
        self.set_interval(TICK, self.look_for_news)
        if self._start == "round" and not self.walker:
            from walkabout.screens.walking import start_walk  # noqa: PLC0415 - only what opens is loaded

            start_walk(self)
        elif self._start in ("jobs", "room", "almanac", "logbook", "term"):
            self.push_screen(_screen(self._start))

    def get_default_screen(self) -> Screen[None]:
        """Begin with Today, or at once with the round when it is known who walks."""
        if self._start == "round" and self.walker:
            from walkabout.round.begin import begin  # noqa: PLC0415
            from walkabout.screens.walking import WalkingScreen  # noqa: PLC0415

            return WalkingScreen(begin(self.opened, self.walker))
        return _screen("today")

    def go_back(self, name: str = "") -> None:
        """Leave the screen that is open for the one beneath it, Today at the bottom; then open another."""
        if len(self.screen_stack) > 1:
            self.pop_screen()
        elif type(self.screen).__name__ != "TodayScreen":
            self.switch_screen(_screen("today"))
        if name:
            self.call_later(self.action_go, name)

    # what the room says

    def say(self, text: str, *, grave: bool = False, seconds: float = 6) -> None:
        """Show a short message, as typed."""
        if grave:
            self._grave_until = time.monotonic() + seconds
        self.post_message(Notify(Told(text, "", "warning" if grave else "information", seconds)))

    def hint(self, text: str) -> None:
        """Say something in passing; it takes the place of the hint before, so that they do not pile up.

        A grave message that stands is left standing.
        """
        now = time.monotonic()
        if now < self._hint_until and now >= self._grave_until:
            self.clear_notifications()
        self._hint_until = now + HINT
        self.say(text, seconds=HINT)

    def _settle(self) -> None:
        """Do what can wait until the first screen is painted."""
        gc.freeze()
        gc.set_threshold(YOUNG)
        gc.enable()
        self.tell_what_was_found()

    def tell_what_was_found(self) -> None:
        """Say what was damaged or wrong when the room was opened."""
        for sentence in self.opened.told:
            self.say(sentence, grave=True, seconds=20)
        self.opened.told.clear()
        mistakes = self.opened.mistakes
        if mistakes:
            more = f" and {len(mistakes) - 1} more" if len(mistakes) > 1 else ""
            self.say(f"{mistakes[0]}{more}. walkabout check lists them.", grave=True, seconds=15)

    def look_for_news(self) -> None:
        """Take in what another program wrote, and try again to save what could not be saved."""
        if self.opened.records.waiting:
            self.opened.retry()
        if self.opened.refresh() and hasattr(self.screen, "renew"):
            self.screen.renew()

    # actions that work everywhere

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Offer in the palette what can be done now."""
        from walkabout.screens.commands import commands  # noqa: PLC0415

        yield from commands(self, screen)

    def action_help(self) -> None:
        """Show the help of the screen that is open."""
        from walkabout.screens.help import HelpScreen  # noqa: PLC0415

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen))

    def action_go(self, name: str) -> None:
        """Open a main screen, unless it is the one that is open."""
        if type(self.screen).__name__ != MAIN[name][1]:
            self.push_screen(_screen(name))

    def action_flag(self) -> None:
        """Flag a finding from anywhere."""
        from walkabout.screens.finding import FindingScreen  # noqa: PLC0415

        station = getattr(self.screen, "station_key", "")
        self.push_screen(FindingScreen(station=station, walker=self.walker))

    def action_work_out(self, name: str = "") -> None:
        """Work something out for the station that is open."""
        from walkabout.screens.workout import WorkOutScreen  # noqa: PLC0415

        if not isinstance(self.screen, WorkOutScreen):
            self.push_screen(WorkOutScreen(getattr(self.screen, "station_key", ""), name))

    def action_lookup(self) -> None:
        """Look up what may be wrong at the station that is open."""
        from walkabout.screens.lookup import LookupScreen  # noqa: PLC0415

        if not any(isinstance(one, LookupScreen) for one in self.screen_stack):
            walk = getattr(self.screen, "walk", None)
            walker = walk.walker if walk is not None else self.walker
            self.push_screen(LookupScreen(getattr(self.screen, "station_key", ""), walker))

    def action_command_palette(self) -> None:
        """Open the palette, unless the last one is still on its way out."""
        from walkabout.screens.base import Palette  # noqa: PLC0415

        if not any(isinstance(one, Palette) for one in self._nodes):
            wanted = "What do you want to work out?" if hasattr(self.screen, "point_at") else "What do you want to do?"
            self.push_screen(Palette(placeholder=wanted, id="--command-palette"))

    def exit(self, result: int | None = None, return_code: int = 0, message: Any | None = None) -> None:
        """End the program; keys that come from now on are nobody's."""
        self._ending = True
        super().exit(result, return_code, message)

    async def on_event(self, event: events.Event) -> None:
        """Let nothing be pressed while the screens go."""
        if not (self._ending and isinstance(event, events.InputEvent)):
            await super().on_event(event)

    def action_leave(self) -> None:
        """End the program; everything that was shown as saved is on disk."""
        self.exit(0)


def _screen(name: str) -> Screen[None]:
    """Return a main screen by its name; each is loaded when it is first opened."""
    module, screen = MAIN[name]
    made: Screen[None] = getattr(import_module(f"walkabout.screens.{module}"), screen)()
    return made


def run(folder: Path, start: str = "today", walker: str = "", found: RoomFile | None = None) -> int:
    """Open the room in `folder` full-screen and return the exit status; CannotOpen when it cannot.

    `found` is what was read of its room.toml just now.
    """
    opened = OpenRoom(folder, found=found)
    app = Walkabout(opened, start, walker)
    try:
        status = app.run(mouse=True)
    finally:
        opened.close()
    return status or app.return_code or 0
