"""Setting up a new room by asking."""

import shlex
from pathlib import Path
from typing import get_args

from msgspec import Struct

from walkabout.exits import ATTEND, DONE, WRONG_USE
from walkabout.growing.units import Scales
from walkabout.plain.asking import read_day, read_days, read_number, read_text, read_time, read_word, several, until
from walkabout.plain.dialogue import Dialogue, Ended
from walkabout.plain.stations import Parts, ask_station, room_kit
from walkabout.room.model import WHO, Closure, Person, Room, Units, Weekday, Who
from walkabout.room.read import FILE
from walkabout.room.write import is_code, write_new_room

UNITS: tuple[Units, ...] = get_args(Units)
LONGEST_ROUND = 60.0


class Given(Struct, frozen=True):
    """What the command line said already; the rest is asked."""

    name: str = ""
    units: Units | None = None
    minutes: float | None = None
    days: tuple[Weekday, ...] = ()
    starts: str = ""


def set_up(folder: Path, given: Given, dialogue: Dialogue | None = None) -> int:
    """Ask for a room and write `folder`/room.toml; return the exit status. One that is there stays as it is."""
    dialogue = dialogue or Dialogue()
    file = folder / FILE
    if file.exists() or (folder.exists() and not folder.is_dir()):
        what = "there is a room already" if file.exists() else "this is a file, not a folder"
        dialogue.say(f"{file if file.exists() else folder}: {what}. It was left as it is.")
        return WRONG_USE
    try:
        room = _ask_room(dialogue, folder, given)
        written = write_new_room(folder, room)
    except (Ended, KeyboardInterrupt):
        dialogue.say("Stopped before the end: nothing was written.")
        return ATTEND
    except FileExistsError:
        dialogue.say(f"{file}: somebody has made a room here meanwhile. It was left as it is.")
        return WRONG_USE
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        dialogue.say(f"{file}: nothing could be written ({why}).")
        return ATTEND
    named = shlex.quote(str(folder))
    dialogue.say(
        f"Written: {written}. It is a text file: lamps, people and closures can be changed in it at any time.",
        f"Next, look for mistakes: walkabout check {named}",
        f"Then walk the first round: walkabout --room {named} round",
    )
    return DONE


def _ask_room(dialogue: Dialogue, folder: Path, given: Given) -> Room:
    usual = Room()
    dialogue.say(f"A new room in {folder}.", "Nothing is written before the last answer; Ctrl-C stops at any time.")
    name = given.name or until(dialogue, "What is the room called?", read_text, folder.resolve().name or "growing room")
    units = given.units or _units(until(dialogue, f"Units: {' or '.join(UNITS)}?", read_word(UNITS), usual.units))
    minutes = given.minutes or until(
        dialogue, "How many minutes may the round take?", read_number(1, LONGEST_ROUND), f"{usual.minutes:g}"
    )
    days = given.days or until(dialogue, "On which days does somebody walk?", read_days, " ".join(usual.days))
    starts = given.starts or until(dialogue, "When is the round usually walked?", read_time, usual.starts)
    kit = several(dialogue, "What does the room have? Some questions need it.", room_kit())
    parts = Parts()
    while ask_station(dialogue, parts, kit, scales=Scales(units == "US")):
        pass
    return Room(
        name=name,
        units=units,
        minutes=minutes,
        days=days,
        starts=starts,
        kit=kit,
        people=_ask_people(dialogue),
        lamps=parts.lamps,
        tanks=parts.tanks,
        pumps=parts.pumps,
        stations=tuple(parts.stations),
        closures=_ask_closures(dialogue),
    )


def _units(word: str) -> Units:
    return next(units for units in UNITS if units == word)


def _ask_people(dialogue: Dialogue) -> dict[str, Person]:
    """Ask for codes and roles, one a line, until a line is empty."""
    people: dict[str, Person] = {}
    dialogue.say(
        "Who walks? Type a code of two or three letters or digits and a role, such as: K7 pupil",
        f"Roles: {', '.join(WHO)}. Never type a name. A third word is the last day of the code, such as 2027-07-16.",
    )

    def read(typed: str) -> tuple[str, Person] | None:
        if not typed:
            return None
        code, role, until_day, *more = [*typed.split(), "", ""][: max(len(typed.split()), 3)]
        if more or not is_code(code):
            raise ValueError(f'"{code}" is not a code. Type two or three letters or digits, a blank and a role.')
        if code.lower() in (one.lower() for one in people):
            raise ValueError(f"{code} is taken already. Type another code.")
        return code, Person(role=_role(role), until=read_day(until_day) if until_day else None)

    while (person := until(dialogue, "Code and role, Enter alone when all are typed.", read)) is not None:
        people[person[0]] = person[1]
    return people


def _role(typed: str) -> Who:
    word = read_word(WHO)(typed)
    return next(role for role in WHO if role == word)


def _ask_closures(dialogue: Dialogue) -> tuple[Closure, ...]:
    """Ask for closures, one a line, until a line is empty."""
    closures: list[Closure] = []
    dialogue.say("When does nobody come? Type the first day, the last day and a name: 2026-12-19 2027-01-03 winter")

    def read(typed: str) -> Closure | None:
        if not typed:
            return None
        first, _, rest = typed.partition(" ")
        last, _, name = rest.strip().partition(" ")
        closure = Closure(first=read_day(first), last=read_day(last or first), name=name.strip())
        if closure.last < closure.first:
            raise ValueError("This closure ends before it begins. Type the first day first.")
        return closure

    while (
        closure := until(dialogue, "First day, last day, name; Enter alone when there are no more.", read)
    ) is not None:
        closures.append(closure)
    return tuple(sorted(closures, key=lambda one: one.first))
