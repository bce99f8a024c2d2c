"""Which pseudonym stands for which code when records are given away.

They are drawn at random, so that nothing about a person can be read off one, and kept in the room's own folder, so
that two exports of one room fit together. A pseudonym has the shape of a code, so that a room made from an export is a
room like any other.
"""

import random
from collections.abc import Iterable
from pathlib import Path

import msgspec

from walkabout.records import disk
from walkabout.records.purge import NOBODY

FILE = "pseudonyms.json"

_SIGNS = "0123456789ABCDEFGHJKLMNPQRSTUVWXYZ"


def read(folder: Path) -> dict[str, str]:
    """Return code -> pseudonym as kept in a room's folder of records; nothing where that cannot be read."""
    try:
        return msgspec.json.decode((folder / FILE).read_bytes(), type=dict[str, str])
    except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
        return {}


def keep(folder: Path, known: dict[str, str]) -> None:
    """Write them down; OSError where that cannot be done."""
    disk.write_whole(folder / FILE, msgspec.json.format(msgspec.json.encode(known, order="deterministic")))


def forget(folder: Path, code: str) -> None:
    """Take a code out: nobody can find out any more who its pseudonym was."""
    known = read(folder)
    if known.pop(code, None) is not None:
        keep(folder, known)


def drawn(codes: Iterable[str], known: dict[str, str]) -> dict[str, str]:
    """Return `known` with a pseudonym for each of the codes that has none; '--' and nothing stand for themselves."""
    fresh = sorted({*codes} - {*known} - {"", NOBODY})
    taken = {*known, *known.values(), *fresh}
    source = random.SystemRandom()
    return known | dict(zip(fresh, source.sample(_free(taken, len(fresh)), len(fresh)), strict=True))


def _free(taken: set[str], wanted: int) -> list[str]:
    """Return so many pseudonyms that are free: P01 to P99, then those with letters, then longer ones."""
    few = [f"P{number:02}" for number in range(1, 100)]
    more = [f"P{first}{second}" for first in _SIGNS for second in _SIGNS]
    long = [f"P{number}" for number in range(1000, 1000 + wanted + len(taken))]
    for pool in (few, [*few, *more], [*few, *more, *long]):
        free = sorted({*pool} - taken)
        if len(free) >= wanted:
            break
    return free
