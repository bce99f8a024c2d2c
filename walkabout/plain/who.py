"""Who walks, by the number in the list or by the code itself."""

from datetime import date

from walkabout.plain.dialogue import Dialogue, Ended, leaves
from walkabout.room.model import Room
from walkabout.round.walkers import ROLES, find_walker, walkers

NOBODY = "somebody without a code, who may do what a pupil may"


def ask_walker(dialogue: Dialogue, room: Room, day: date, question: str) -> str:
    """Return the code of whoever walked on a day, '' for somebody who has none; Ended where somebody leaves."""
    known = walkers(room, day)
    rows = [f"{number}. {code}, {ROLES[role]}" for number, (code, role) in enumerate(known, 1)]
    while True:
        typed = dialogue.ask(question, *rows, f"0. {NOBODY}", "Type the number or the code. q leaves.")
        if leaves(typed):
            raise Ended
        if typed == "0":
            return ""
        if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(known):
            return known[int(typed) - 1][0]
        if typed:
            try:
                return find_walker(room, typed, day)
            except ValueError as error:
                dialogue.say(str(error))
