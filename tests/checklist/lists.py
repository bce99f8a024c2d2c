"""A short checklist for the tests of this folder, with a struct of every kind in it."""

from pathlib import Path

from walkabout.checklist.model import Checklist
from walkabout.checklist.read import Checklists, read_checklists, shipped_folder

SHORT = """\
# A remark with [brackets] and "quotation marks".
kind = "trough"
title = "Trough"
about = "A trough by the window."
first = "water"

[fault.dry]
says = "the trough has run dry"
per_week = 0.03
hours = 40
lost = 0.5
source = "assumed"

[fault.warm]
says = "the water is too warm"
per_week = 0.02
hours = 72
people = false
source = "assumed"

[[question]]
id = "water"
ask = "How far is the water below the rim?"
how = "Look from the side."
seconds = 6
should = 1
must = 2
after_closure = true
needs = { kit = ["ruler"], groups = ["leafy"], plants = true, younger_than = 30 }
reveals = { dry = 0.9 }

[[question.choices]]
id = "full"
says = "a finger's width"

[[question.choices]]
id = "low"
says = "a hand's width"
verdict = "today"
why = "It falls faster than it is filled."
do = "Fill it."
job = "Fill the trough"
days = 1
ask = ["heat"]
shows = ["dry"]
doubts = ["pH"]

[[question.choices.cases]]
when = { readings = { heat = { at_least = 22 } }, answers = { leaves = ["limp"] }, days = 2 }
verdict = "now"
do = "Fill it now."
who = "adult"
caution = "Keep water away from plugs."
recheck = 1

[[question]]
id = "heat"
ask = "How warm is the water?"
kind = "number"
seconds = 20
should = 3
must = 7
slow = true
reveals = { warm = 0.95, dry = 0.1 }

[question.reading]
quantity = "solution temperature"
unit = "°C"
possible = [0, 45]
likely = [10, 32]
good = [16, 22]
margin = 2
alarm = [5, 35]
decimals = 1
low = { do = "Look at the heat mat." }
high = { verdict = "today", do = "Shade the trough.", hold_days = 1 }
source = "common practice"

[[question]]
id = "leaves"
ask = '''Which of these do you
see on the leaves?'''
kind = "signs"
seconds = 15
should = 2
must = 4
choices = [
  { id = "none", says = "nothing" },  # the healthy one first
  { id = "limp", says = "limp leaves", verdict = "watch", recheck = 1 },
  { id = "torn", says = "torn leaves", verdict = "watch" },
]

[[question]]
id = "else"
ask = "Anything else?"
kind = "note"
seconds = 5
should = 7
must = 14
"""


def put(folder: Path, name: str, text: str) -> Path:
    """Write a checklist of a room's own and return its file."""
    file = folder / "checklists" / f"{name}.toml"
    file.parent.mkdir(exist_ok=True)
    file.write_text(text, "utf-8")
    return file


def read_own(folder: Path, name: str, text: str) -> tuple[Checklist | None, list[str], Checklists]:
    """Write a checklist and read all of its kind; return it, its mistakes without the folder, and everything."""
    put(folder, name, text)
    found = read_checklists(folder, frozenset({name, "room"}))
    lines = [str(mistake).removeprefix(f"{folder / 'checklists'}/") for mistake in found.mistakes]
    return found.of.get(name), lines, found


def line_of(text: str, piece: str) -> int:
    """Return the line of the only line that holds the piece."""
    found = [number for number, line in enumerate(text.split("\n"), 1) if piece in line]
    assert len(found) == 1, (piece, found)
    return found[0]


def shipped_text(name: str) -> str:
    """Return the text of a shipped checklist."""
    return (shipped_folder() / f"{name}.toml").read_text("utf-8")
