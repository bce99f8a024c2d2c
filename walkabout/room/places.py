"""Where rooms lie on this machine."""

import os
from pathlib import Path

ROOM_VARIABLE = "WALKABOUT_ROOM"
DATA_VARIABLE = "WALKABOUT_DATA"


def data_folder() -> Path:
    """Return the folder for the program's own data: WALKABOUT_DATA, else the user's data folder."""
    if given := os.environ.get(DATA_VARIABLE):
        return _at_home(Path(given))
    from platformdirs import user_data_path  # noqa: PLC0415 - not needed when the room is named

    return user_data_path("walkabout", appauthor=False)


def cache_folder() -> Path:
    """Return the folder for what can be made anew: inside WALKABOUT_DATA, else the user's cache folder."""
    if given := os.environ.get(DATA_VARIABLE):
        return _at_home(Path(given)) / "cache"
    from platformdirs import user_cache_path  # noqa: PLC0415 - as above

    return user_cache_path("walkabout", appauthor=False)


def room_folder(named: Path | None) -> Path:
    """Return the room's folder: the one named, else WALKABOUT_ROOM, else 'room' among the user's data."""
    if named is not None:
        return _at_home(named)
    if given := os.environ.get(ROOM_VARIABLE):
        return _at_home(Path(given))
    return data_folder() / "room"


def demo_folder() -> Path:
    """Return the folder of the demo room, which is never a real one."""
    return data_folder() / "demo"


def _at_home(path: Path) -> Path:
    """Return the path with ~ as the user's own folder; as it is where there is no such user."""
    try:
        return path.expanduser()
    except RuntimeError:
        return path
