"""Who may walk today, by code."""

from datetime import date

from walkabout.room.mistakes import nearest
from walkabout.room.model import Room, Who

ROLES: dict[Who, str] = {"pupil": "pupil", "adult": "adult", "licensed": "licensed person"}


def walkers(room: Room, today: date) -> list[tuple[str, Who]]:
    """Return the codes that have not ended, in the order of room.toml, each with its role."""
    return [
        (code, person.role) for code, person in room.people.items() if person.until is None or person.until >= today
    ]


def find_walker(room: Room, typed: str, today: date) -> str:
    """Return the code that was meant, small or capital letters alike; ValueError says what would be right."""
    person = room.people.get(typed)
    known = [code for code, _ in walkers(room, today)]
    if typed in known:
        return typed
    alike = [code for code in known if code.lower() == typed.lower()]
    if len(alike) == 1:
        return alike[0]
    if person is not None and person.until is not None:
        raise ValueError(f"The code {typed} ended on {person.until.isoformat()}.")
    right = nearest(typed, known) or "Codes stand in room.toml under [people]."
    raise ValueError(f'Nobody here has the code "{typed}". {right}')
