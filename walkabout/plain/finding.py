"""Flagging a finding in lines."""

from walkabout.plain.dialogue import Dialogue
from walkabout.plain.outcome import saved_line
from walkabout.records.model import Verdict
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.flagged import flag_finding
from walkabout.round.judge import ALARMS
from walkabout.round.opened import OpenRoom
from walkabout.round.words import VERDICT_MEANS

GRAVITY: tuple[Verdict, ...] = ("watch", "today", "now", "stop")


def ask_finding(dialogue: Dialogue, opened: OpenRoom, station: str, walker: str) -> bool:
    """Ask where, what and how grave, and write it down; False when somebody thinks better of it."""
    places = [(WHOLE_ROOM, opened.name_of(WHOLE_ROOM)), *((one.key, one.name) for one in opened.room.stations)]
    rows = [f"{number}. {name}" for number, (_, name) in enumerate(places, 1)]
    here = opened.name_of(station)
    where = _pick(dialogue, ["A finding: where is it?", *rows], len(places), f"Enter alone means {here}. c leaves it.")
    if where is None:
        return _left(dialogue)
    at = station if where == 0 else places[where - 1][0]
    seen = dialogue.ask("What is seen, in a few words? No names. Enter alone leaves it.")
    if not seen:
        return _left(dialogue)
    grave = [f"{number}. {VERDICT_MEANS[verdict]}" for number, verdict in enumerate(GRAVITY, 1)]
    picked = 0
    while picked == 0:
        found = _pick(dialogue, ["How grave is it?", *grave], len(GRAVITY), "c leaves it.")
        if found is None:
            return _left(dialogue)
        picked = found
    verdict = GRAVITY[picked - 1]
    flagged = flag_finding(opened, at, seen, verdict, walker)
    dialogue.say(saved_line(f"{opened.name_of(at)}, {seen}", flagged.unsaved))
    if flagged.finding.recheck:
        dialogue.say(f"It is looked at again on {flagged.finding.recheck:%A}.")
    if flagged.job:
        dialogue.say(f"Job written down: {flagged.job.what}; for an adult, due today.")
    if verdict in ALARMS:
        dialogue.ask(f"{verdict.upper()}: {VERDICT_MEANS[verdict]}. Press Enter when it is seen to.")
    return True


def _pick(dialogue: Dialogue, lines: list[str], count: int, enter: str) -> int | None:
    """Return the number typed, 0 for Enter alone, None for leaving."""
    while True:
        typed = dialogue.ask(*lines, f"Type 1 to {count}. {enter}").lower()
        if typed == "c":
            return None
        if not typed:
            return 0
        if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= count:
            return int(typed)
        dialogue.say(f'"{typed}" is not one of these numbers.')


def _left(dialogue: Dialogue) -> bool:
    dialogue.say("No finding was written down.")
    return False
