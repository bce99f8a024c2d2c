"""Taking a person's code out of a room's records, once it has been typed twice."""

from datetime import date
from pathlib import Path

from walkabout.exits import ATTEND, DONE, WRONG_USE
from walkabout.plain.dialogue import Dialogue, Ended
from walkabout.records.book import NotSaved, Records
from walkabout.room.mistakes import Mistake, nearest
from walkabout.room.read import FILE
from walkabout.room.toml import read
from walkabout.room.write import is_code


def purge_code(folder: Path, code: str, *, sure: bool, dialogue: Dialogue | None = None) -> int:
    """Take `code` out of the records in `folder` and return the exit status; room.toml is left to a person."""
    dialogue = dialogue or Dialogue()
    if not is_code(code):
        dialogue.say(f'"{code}" is not a code. A code is two or three letters or digits.')
        return WRONG_USE
    if code not in (named := _named(folder)) and (alike := nearest(code, named)).startswith("Did") and not sure:
        dialogue.say(f"{code} stands in no entry of {FILE}. {alike}")
    try:
        if not sure and not _typed_again(dialogue, code):
            dialogue.say("That is not the same code: nothing was changed.")
            return ATTEND
    except Ended:
        dialogue.say("Stopped: nothing was changed.")
        return ATTEND
    records = Records.open(folder, date.today())  # noqa: DTZ011 - the month on this machine's wall
    try:
        changed = records.purge(code)
        records.close()
    except NotSaved as error:
        dialogue.say(f"{error} Run the same command again.")
        return ATTEND
    dialogue.say(*records.told, f"{code} was taken out of {changed} record{'s' if changed != 1 else ''}.")
    dialogue.say(_line_to_go(folder, code))
    return DONE


def _typed_again(dialogue: Dialogue, code: str) -> bool:
    says = f"{code} is taken out of all records and cannot be put back. Type the code once more."
    return dialogue.ask(says) == code


def _named(folder: Path) -> list[str]:
    """Return the codes that room.toml names, as far as it can be read."""
    document = read(folder / FILE)
    people = {} if isinstance(document, Mistake) else document.data.get("people", {})
    return list(people) if isinstance(people, dict) else []


def _line_to_go(folder: Path, code: str) -> str:
    """Say which line of room.toml still names the code, '' when none does."""
    document = read(folder / FILE)
    if isinstance(document, Mistake):
        return f"{folder / FILE} cannot be read: take {code} out of it by hand, if it stands there."
    if code not in _named(folder):
        return ""
    line = document.line(("people", code))
    return f"{folder / FILE}:{line}: the entry for {code} must go too. Take it out with a text editor."
