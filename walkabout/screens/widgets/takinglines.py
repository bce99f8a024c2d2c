"""What stands on the screen that takes in: the keys of each phase, what can be answered, what an export is for."""

import shlex
from pathlib import Path
from typing import Literal

from textual.content import Content

from walkabout.paper.logger_asking import NOTHING, Question
from walkabout.paper.logger_columns import QUANTITIES
from walkabout.screens.text import plain
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.reading import wrapped

Phase = Literal["path", "asking", "ready", "working", "done"]
KEYS: dict[Phase, tuple[Key, ...]] = {
    "path": (
        Key("enter", "open", "screen.enter"), Key("tab", "complete", "screen.complete"),
        Key("f3", "taken in before", "screen.before"), Key("esc", "back", "screen.back"),
    ),
    "asking": (
        Key("enter", "confirm", "screen.enter"), Key("f2", "list", "screen.pick"),
        Key("esc", "one back", "screen.back"),
    ),
    "ready": (
        Key("enter", "take it in", "screen.enter"), Key("e", "ask anew", "screen.anew"),
        Key("esc", "back", "screen.back"),
    ),
    "working": (Key("esc", "stop", "screen.back"),),
    "done": (
        Key("enter", "another file", "screen.enter"), Key("f3", "taken in before", "screen.before"),
        Key("esc", "back", "screen.back"),
    ),
}  # fmt: skip


def about(question: Question, width: int, wrong: str = "") -> list[Content]:
    """Return what can be answered, but for the quantities where `wrong`, what was said just now, names them."""
    if question.asks == "what":
        found = wrapped(f"Enter confirms what stands there. {NOTHING} leaves the column out.", width, "$muted")
        if ", ".join(sorted(QUANTITIES)) in wrong:
            return found
        says = f"Quantities: {', '.join(QUANTITIES)}. A unit stands behind a colon, as in EC:µS/cm."
        return [*found, plain(""), *wrapped(says, width, "$muted")]
    rows = choices(question)
    found = [
        plain(f"{number:>2}  ", "$accent-text bold").append(plain(says)).append(plain(f"  {remark}", "$muted"))
        for number, (_, says, remark) in enumerate(rows, 1)
    ]
    more = {
        "zone": "Type a number, or a zone such as +01:00 or Europe/Vienna. Enter alone: 1.",
        "station": "Type a number, a key or a name." + (" Enter confirms what stands there." * bool(question.proposal)),
        "order": "Type 1 or 2.",
    }[question.asks]
    return [*wrapped(more, width, "$muted"), plain(""), *found]


def choices(question: Question) -> list[tuple[str, str, str]]:
    """Return what can be picked: the answer, its words, a remark."""
    if question.asks == "what":
        said = question.proposal.partition(":")
        rows = [(f"{name}:{said[2] if name == said[0] else kind.unit}", name) for name, kind in QUANTITIES.items()]
        return [*((answer, name, answer.partition(":")[2]) for answer, name in rows), (NOTHING, "leave it out", "")]
    return [(answer, says, answer if question.asks != "order" else "") for answer, says in question.choices]


def a_room(folder: Path) -> list[Content]:
    """Return what an export of a whole room is for, with the command that makes a room of it."""
    command = f"walkabout take-in {shlex.quote(str(folder))} --room NEW"
    return [
        plain("This folder is an export of a whole room. It makes a new room, beside this one:", ""),
        plain(f"  {command}", "bold"),
        plain("NEW is a folder that is not there yet. Type that in a terminal; this room stays as it is.", "$muted"),
    ]
