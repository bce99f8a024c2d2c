"""The keys of a lookup, by where the pointer is."""

from typing import Literal

from walkabout.screens.widgets.keyline import Key

Zone = Literal["line", "known", "causes"]
"""Typing; in the list of what is known; in the list of causes."""

ADD = Key("a", "add sign", "screen.write")
SIGNS = Key("tab", "signs", "screen.signs")
HELP = Key("h", "help", "app.help")


def key_row(zone: Zone, pointed: str, *, typed: bool, steps: bool, said: bool) -> tuple[Key, ...]:
    """Return the keys, the most needed first. `pointed`: the key of the row pointed at on the left.

    `typed`: the line holds text; `steps`: there is something to do; `said`: there is something to take back.
    """
    if zone == "line":
        enter = (Key("enter", "add", "screen.enter"),) if typed else ()
        undo = (Key("^z", "undo", "screen.undo"),) if said else ()
        down, out = Key("↓", "what is known", "screen.point(1)"), Key("esc", "to the lists", "screen.back")
        return (*enter, Key("tab", "list of signs", "screen.signs"), out, *undo, down, Key("f1", "help", "app.help"))
    jobs = (Key("j", "jobs", "screen.jobs"),) if steps else ()
    undo = (Key("u", "undo", "screen.undo"),) if said else ()
    leave = (*jobs, Key("f", "finding", "screen.finding"), Key("esc", "back", "screen.back"), *undo)
    more = (Key("pgdn", "read on", "screen.read(1)"), Key("b", "all causes", "screen.causes"), HELP)
    if zone == "causes":
        known = Key("←", "known", "screen.zone('known')")
        return (ADD, SIGNS, Key("c", "cause", "screen.cause"), *leave, known, *more)
    return (ADD, *_of_row(pointed), Key("→", "causes", "screen.zone('causes')"), *leave, SIGNS, *more)


def _of_row(pointed: str) -> tuple[Key, ...]:
    """Return what can be done with a row of what is known."""
    away = Key("⌫", "take away", "screen.remove")
    if pointed.startswith("offer:"):
        return (Key("enter", "it is there", "screen.enter"), Key("space", "not there", "screen.flip"))
    if pointed.startswith("sign:"):
        return (Key("space", "turn + −", "screen.flip"), away)
    return (away,) if pointed else ()
