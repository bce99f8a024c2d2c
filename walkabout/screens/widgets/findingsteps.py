"""The four steps of flagging a finding: what each asks, how it reads when it is answered, and its keys."""

from textual.content import Content

from walkabout.records.model import Verdict
from walkabout.screens.text import plain
from walkabout.screens.widgets.keyline import Key

STEPS = ("where", "seen", "bad", "who")
ASKS = {"where": "Where is it?", "seen": "What is seen?", "bad": "How bad is it?", "who": "Who saw it?"}
BAD: tuple[tuple[Verdict, str, str], ...] = (
    ("watch", "watch: look again in a few days", "▴ watch"),
    ("today", "today: something must be done today", "■ today"),
    ("now", "now: before anybody leaves the room", "‼ now"),
    ("stop", "stop: people first, hands off, fetch an adult", "‼ stop"),
)


def step_line(step: str, given: str, *, here: bool, answered: bool) -> Content:
    """Return a step in one line: asked now, still to come, or with what was given."""
    if here:
        return Content("").join([plain("▸ ", "$accent-text bold"), plain(ASKS[step], "bold")])
    if not answered:
        return plain(f"  {ASKS[step]}", "$muted")
    return Content("").join([plain("✓ ", "$good"), plain(f"{ASKS[step]} ", "$muted"), plain(given)])


def step_keys(step: str, *, rows: int, has_station: bool, has_code: bool) -> tuple[Key, ...]:
    """Return the keys of a step with so many rows to choose from."""
    leave, back, choose = Key("esc", "leave", "screen.leave"), Key("←", "back", "screen.back"), f"1-{min(rows, 9)}"
    if step == "where":
        keep = (Key("enter", "keep", "screen.hand_in"),) if has_station else ()
        return (*keep, Key(choose, "choose", ""), Key("↑↓", "point", ""), leave)
    if step == "seen":
        return (Key("enter", "go on", "screen.hand_in"), Key("↑", "back", "screen.back"), leave)
    another = (Key("u", "another code", "screen.another"),) if has_code and step == "bad" else ()
    return (Key(choose, "choose", ""), back, *another, leave)
