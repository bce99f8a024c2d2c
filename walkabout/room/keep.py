"""The last good copy of room.toml, for the day on which the file is broken."""

import os
from pathlib import Path

from walkabout.room.model import Room
from walkabout.room.read import FILE, read_room_file

BACKUPS = "backups"


def keep_good_room(folder: Path) -> None:
    """Copy a room.toml without mistakes to backups/, when it has changed. A full disk is no reason to stop."""
    copy = folder / BACKUPS / FILE
    try:
        text = (folder / FILE).read_bytes()
        if copy.exists() and copy.read_bytes() == text:
            return
        copy.parent.mkdir(exist_ok=True)
        part = copy.with_suffix(f".{os.getpid()}.part")
        part.write_bytes(text)
        part.replace(copy)
    except OSError:
        return


def last_good_room(folder: Path, kinds: tuple[str, ...]) -> Room | None:
    """Return the room of the last good copy, or None when there is none."""
    return read_room_file(folder / BACKUPS / FILE, folder.resolve().name, kinds).room
