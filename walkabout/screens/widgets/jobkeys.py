"""The key lines of the jobs screen, and what is said when a key does not fit what is pointed at."""

from walkabout.records.model import Finding, Job
from walkabout.screens.widgets.keyline import Key

HELP_KEY = Key("?", "all keys", "app.help")
BACK = Key("esc", "back", "screen.back")
FLAG, CLOSED = Key("f", "finding", "app.flag"), Key("h", "closed", "screen.history")
WHO = Key("u", "who", "screen.who")
REST = (BACK, FLAG, CLOSED, WHO, HELP_KEY)
ON_FINDING = (Key("g", "gone", "screen.gone"), Key("s", "still there", "screen.still"))
CAUSE = Key("n", "cause", "screen.cause")
DONE, MEASURE = Key("d", "done", "screen.done"), Key("m", "measure", "screen.measure")
CLOSE, PUT_OFF = Key("c", "close", "screen.close"), Key("o", "put off", "screen.put_off")


def key_row(one: Job | Finding | None, *, past: bool) -> tuple[Key, ...]:
    """Return the keys for what is pointed at; `past` while closed ones are shown, of which only the cause changes."""
    if past:
        named = (CAUSE,) if isinstance(one, Finding) else ()
        return (Key("↑↓", "point", ""), *named, Key("h", "open", "screen.history"), BACK, HELP_KEY)
    if isinstance(one, Finding):
        return (*ON_FINDING, CLOSE, CAUSE, BACK, CLOSED, FLAG, WHO, HELP_KEY)
    if isinstance(one, Job):
        return (MEASURE if one.questions else DONE, CLOSE, PUT_OFF, *REST)
    return REST


def why_not(one: Job | Finding | None, otherwise: str = "") -> str:
    """Say why a key does nothing: there is nothing, it is closed, or what the screen says `otherwise`."""
    if one is None:
        return "Nothing is open here."
    if one.closed is not None:
        return "This is closed and can only be read. h goes back to what is open."
    return otherwise
