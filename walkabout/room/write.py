"""Writing a room.toml that a person can read and edit; only ever a new one."""

import os
import re
from collections.abc import Collection, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from walkabout.room.model import WHOLE_ROOM, Room
from walkabout.room.read import FILE

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_CODE = re.compile(r"[A-Za-z0-9]{2,3}")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}
_SPECIAL = re.compile(r'["\\\x00-\x1f\x7f]')
_LONGEST_KEY = 24

_ALWAYS: dict[str, tuple[str, ...]] = {
    "Room": ("name", "units", "minutes", "work_minutes", "days", "starts"),
    "Lamp": ("kind", "watts", "hours", "on"),
    "Tank": ("change_days",),
    "Pump": ("moves", "spare"),
    "Person": ("role",),
}
"""What is written even when it is as usual, because people will want to change it."""

_HEAD = """\
# A growing room. Edit it with any text editor; "walkabout check" names the line of a mistake.
# Text stands between quotation marks, days are written as 2027-02-15, times as "08:00".
# minutes: what the round may take; work_minutes: what the standing jobs of one day may take.

"""
_REMARKS = {
    "people": "# Who walks: a code of two or three letters or digits, never a name.\n"
    "# role: pupil, adult or licensed. until: the last day of the code.\n\n",
    "lamps": "# Lamps: watts, hours a day and the time of switching on. kind: led, tube, window,\n"
    '# "high-pressure sodium", "metal halide" or incandescent. since: the day on which it was put in;\n'
    "# rated_hours: the lit hours after which its maker says to replace it.\n\n",
    "tanks": "# Tanks: litres when full, and the days between two changes of solution.\n"
    "# Stations that name the same tank share it.\n\n",
    "pumps": "# Pumps: what each moves (water or air), and whether a spare one stands ready.\n\n",
    "station": "# The stations, in walking order. kind: the name of a checklist.\n\n",
    "closure": "# Days on which nobody comes, the first and the last included.\n\n",
    "term": "# Terms of the school year, the first and the last day included. They close nothing.\n\n",
    "water": "# The water that fills the tanks: EC in mS/cm, alkalinity in mg/L of CaCO3, the rest in mg/L.\n\n",
    "meters": "# What the EC meter shows, and whether it turns its reading to 25 °C by itself.\n\n",
    "feed": "# The concentrates. rise: by how many mS/cm 1 mL of each part in a litre raises the EC.\n\n",
    "acid": "# What an adult lowers the pH with; strength in mol/L.\n\n",
    "base": "# What an adult raises the pH with; strength in mol/L.\n\n",
    "aims": "# What this room wants for a crop, where it differs from the crop table.\n\n",
    "recipe": "# Recipes of the room's own: mg of each element in a litre.\n\n",
    "prices": "# Money, in the room's own currency.\n\n",
}


_APART = (
    *("people", "lamps", "tanks", "pumps", "stations", "closures", "terms"),
    *("water", "meters", "feed", "acid", "base", "aims", "recipes", "prices"),
)
"""What stands in tables of its own."""


def room_text(room: Room) -> str:
    """Return the room as TOML with remarks; `read_room` gives the same room back.

    Raises ValueError for text that no file can hold (half a surrogate pair).
    """
    text = _HEAD + _pairs(room, leave=_APART) + "\n"
    text += _tables("people", room.people) + _tables("lamps", room.lamps)
    text += _tables("tanks", room.tanks) + _tables("pumps", room.pumps)
    text += _listed("station", room.stations) + _listed("closure", room.closures)
    text += _listed("term", room.terms)
    text += _tables("aims", room.aims) + _listed("recipe", room.recipes)
    for name in ("water", "meters", "feed", "acid", "base", "prices"):
        entry = getattr(room, name)
        if entry is not None and (pairs := _pairs(entry)):
            text += f"{_REMARKS[name]}[{name}]\n{pairs}\n"
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise ValueError("a character here cannot be written to a file") from error
    return text.rstrip("\n") + "\n"


def write_new_room(folder: Path, room: Room) -> Path:
    """Write `folder`/room.toml and return its path; FileExistsError when there is one, OSError as it comes."""
    data = room_text(room).encode("utf-8")
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / FILE
    with file.open("xb") as opened:
        try:
            opened.write(data)
            opened.flush()
            os.fsync(opened.fileno())
        except OSError:
            file.unlink(missing_ok=True)
            raise
    return file


def is_code(text: str) -> bool:
    """Say whether a text can be a person's code: two or three letters or digits."""
    return _CODE.fullmatch(text) is not None


def key_for(name: str, taken: Collection[str]) -> str:
    """Return a key made from a name: small letters, digits and hyphens, unlike those `taken`."""
    stem = re.sub(r"[^a-z0-9]+", "-", name.lower())[:_LONGEST_KEY].strip("-") or "station"
    key, number = stem, 1
    while key in taken or key == WHOLE_ROOM:
        number += 1
        key = f"{stem}-{number}"
    return key


def _tables(name: str, entries: Mapping[str, Struct]) -> str:
    text = "".join(f"[{name}.{_key(key)}]\n{_pairs(entry)}\n" for key, entry in entries.items())
    return _REMARKS[name] + text if text else ""


def blocks(name: str, entries: Collection[Struct]) -> str:
    """Return each entry as a [[name]] table of its own, with an empty line behind it."""
    return "".join(f"[[{name}]]\n{_pairs(entry)}\n" for entry in entries)


def inline(entry: Struct) -> str:
    """Return an entry as a table on one line, as it stands in a list: { from = 2027-02-15, to = 2027-02-19 }."""
    return f"{{ {', '.join(_pairs(entry).splitlines())} }}"


def _listed(name: str, entries: Collection[Struct]) -> str:
    text = blocks(name, entries)
    return _REMARKS[name] + text if text else ""


def _pairs(struct: Struct, leave: Collection[str] = ()) -> str:
    """Return a line for each field that is not as usual, in the order of the model."""
    always = _ALWAYS.get(type(struct).__name__, ())
    lines = []
    for field in msgspec.structs.fields(struct):
        value = getattr(struct, field.name)
        usual = field.default if field.default is not msgspec.NODEFAULT else None
        if field.name in leave or value is None or (value == usual and field.name not in always):
            continue
        lines.append(f"{_key(field.encode_name)} = {_value(value)}\n")
    return "".join(lines)


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _text(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{_key(name)} = {_value(one)}' for name, one in value.items())} }}"
    if isinstance(value, tuple):
        return f"[{', '.join(_value(one) for one in value)}]"
    return str(value)


def _text(text: str) -> str:
    """Write a text on one line: every control character as an escape that TOML knows."""
    return '"' + _SPECIAL.sub(_escaped, text) + '"'


def _escaped(found: re.Match[str]) -> str:
    return _ESCAPES.get(found[0]) or f"\\u{ord(found[0]):04x}"
