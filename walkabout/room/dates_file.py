"""Adding closures and terms to a room.toml that a person keeps: at its end, and nothing else of it is touched."""

import os
import tomllib
from collections.abc import Collection, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

import msgspec

from walkabout.room.keep import BACKUPS
from walkabout.room.mistakes import Mistake
from walkabout.room.model import Closure, Term
from walkabout.room.read import FILE, RoomFile, read_room_file
from walkabout.room.toml import read
from walkabout.room.toml_lines import Scanner
from walkabout.room.write import blocks, inline

BEFORE = "room-before-dates.toml"
"""The copy in backups/ of the file as it was before dates were last added."""
MOST = 300
"""So many closures and terms a room may have: each is looked at for every day. Assumed; thirty years' worth."""

_BOM = "\ufeff"

Dated = Closure | Term


class ByHand(ValueError):
    """The dates can only be added by hand; `lines` are what to add."""

    def __init__(self, says: str, lines: tuple[str, ...]) -> None:
        super().__init__(says)
        self.lines = lines


def not_in(entries: Sequence[Dated], there: Collection[Dated]) -> tuple[Dated, ...]:
    """Return the entries whose days are not there yet, each once; what they are called does not matter."""
    seen = {(one.first, one.last) for one in there}
    fresh: list[Dated] = []
    for one in entries:
        if (one.first, one.last) not in seen:
            seen.add((one.first, one.last))
            fresh.append(one)
    return tuple(fresh)


def with_dates(text: str, closures: Sequence[Closure], terms: Sequence[Term]) -> str:
    """Return the text of a room.toml with [[closure]] and [[term]] tables added at its end.

    The text before stays as it is, whatever its line ends. Days that are there already are not added once more.
    Raises ByHand where the file has its closures or terms as a list on one line, ValueError for what is not TOML.
    """
    plain = text.removeprefix(_BOM).replace("\r\n", "\n")
    try:
        data = tomllib.loads(plain)
    except (ValueError, RecursionError) as error:
        raise ValueError(f"{FILE} cannot be read as it is, so nothing is added to it.") from error
    fresh = {"closure": not_in(closures, _there(data, "closure")), "term": not_in(terms, _there(data, "term"))}
    if not any(fresh.values()):
        return text
    for name, entries in fresh.items():
        if entries:
            _must_be_tables(plain, data, name, entries)
    added = "".join(blocks(name, entries) for name, entries in fresh.items()).rstrip("\n") + "\n"
    lead = "" if plain.endswith("\n\n") or not plain else "\n" if plain.endswith("\n") else "\n\n"
    ends = "\r\n" if text.count("\r\n") * 2 > text.count("\n") else "\n"
    return text + (lead + added).replace("\n", ends)


def add_dates(folder: Path, closures: Sequence[Closure], terms: Sequence[Term], kinds: Collection[str]) -> None:
    """Add closures and terms to `folder`/room.toml; nothing is written where all of them are there.

    The file as it was is copied to backups/ first. What is to take its place is read back from the disk before it
    does: all that was there must be there, the dates too, and no mistake more. Raises ValueError, with one sentence,
    where that cannot be; room.toml is then as it was. `kinds` are the kinds of station that have a checklist.
    """
    file = (folder / FILE).resolve()  # a link stays a link
    was = _read(file)
    before = read_room_file(file, folder.resolve().name, kinds)
    if before.room is None:
        raise ValueError(f"{FILE} has a mistake that must be put right first: {_short(before.mistakes)}.")
    # what is not UTF-8 was refused when the room was read
    now = with_dates(was.decode("utf-8"), closures, terms).encode("utf-8", "surrogatepass")
    if now == was:
        return
    count = len(before.room.closures) + len(before.room.terms) + len(closures) + len(terms)
    if count > MOST:
        raise ValueError(f"With these the room would have {count} closures and terms; it may have {MOST}.")
    try:
        _keep(folder, was)
        part = file.with_name(f"{FILE}.{os.getpid()}.part")
        try:
            _write(part, now, file)
            _must_be_right(part, was, before, (*closures, *terms), kinds)
            if _read(file) != was:
                raise ValueError(f"Somebody has changed {FILE} meanwhile. Nothing was written: try again.")
            part.replace(file)
        finally:
            part.unlink(missing_ok=True)
        _sync(file.parent)
    except OSError as error:
        raise ValueError(f"{FILE} cannot be written ({error.strerror or error}). It is as it was.") from error


def _there(data: Mapping[str, Any], name: str) -> tuple[Dated, ...]:
    """Return the closures or terms of a file that can be read as such; days may be texts."""
    shape: type[Dated] = Closure if name == "closure" else Term
    found: list[Dated] = []
    rows = data.get(name)
    for row in rows if isinstance(rows, list) else ():
        with suppress(msgspec.ValidationError):
            found.append(msgspec.convert(row, shape))
    return tuple(found)


def _must_be_tables(text: str, data: Mapping[str, Any], name: str, fresh: Sequence[Dated]) -> None:
    """Refuse a file that has such entries in another way: TOML cannot add to those from outside."""
    if name not in data:
        return
    scanner = Scanner(text)
    with suppress(IndexError, ValueError, RecursionError):
        scanner.scan()
    if (name,) in scanner.items:
        return
    line = scanner.lines.get((name,), 1)
    if not isinstance(data[name], list):
        raise ValueError(f"{FILE}:{line}: {name} is not a list of tables. Write [[{name}]] with two brackets first.")  # noqa: TRY004 - the file is wrong, not the call
    raise ByHand(
        f"{FILE}:{line}: {name} = [ ... ] is a list in one piece, which only a person can add to. "
        "Nothing was written: put these lines between its brackets by hand.",
        tuple(f"{inline(one)}," for one in fresh),
    )


def _must_be_right(part: Path, was: bytes, before: RoomFile, added: Sequence[Dated], kinds: Collection[str]) -> None:
    """Refuse what was written when it does not say the same as before, and the dates."""
    old, new = _parsed(was), read(part)
    after = read_room_file(part, before.room.name if before.room else "", kinds)
    right = (
        not isinstance(new, Mistake)
        and part.read_bytes().startswith(was)
        and _said(after.mistakes) == _said(before.mistakes)
        and _but_dates(new.data) == _but_dates(old)
        and all(_there(new.data, name)[: len(there)] == there for name, there in _all_there(old).items())
        and not not_in([one for one in added if isinstance(one, Closure)], _there(new.data, "closure"))
        and not not_in([one for one in added if isinstance(one, Term)], _there(new.data, "term"))
    )
    if not right:
        raise ValueError(
            f"Adding the dates would change something else in {FILE}. Nothing was written: add them by hand."
        )


def _parsed(data: bytes) -> dict[str, Any]:
    return tomllib.loads(data.decode("utf-8-sig").replace("\r\n", "\n"))


def _but_dates(data: Mapping[str, Any]) -> str:
    """Return all but the dates as text: what is not a number equals itself there."""
    return repr({key: value for key, value in data.items() if key not in ("closure", "term")})


def _all_there(data: Mapping[str, Any]) -> dict[str, tuple[Dated, ...]]:
    return {name: _there(data, name) for name in ("closure", "term")}


def _said(mistakes: Sequence[Mistake]) -> list[tuple[int, str, str]]:
    return [(one.line, one.says, one.right) for one in mistakes]


def _short(mistakes: Sequence[Mistake]) -> str:
    if not mistakes:
        return "nothing of it can be used"
    first = mistakes[0]
    return f"line {first.line}, {first.says}"


def _read(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise ValueError(f"{file} cannot be read ({error.strerror or error}).") from error


def _keep(folder: Path, was: bytes) -> None:
    copy = folder / BACKUPS / BEFORE
    copy.parent.mkdir(exist_ok=True)
    part = copy.with_suffix(f".{os.getpid()}.part")
    _write(part, was, None)
    part.replace(copy)


def _write(part: Path, data: bytes, like: Path | None) -> None:
    with part.open("wb") as opened:
        opened.write(data)
        opened.flush()
        os.fsync(opened.fileno())
    if like is not None:
        part.chmod(like.stat().st_mode & 0o777)


def _sync(folder: Path) -> None:
    """Make the new name last, where the system can do that; the file itself is safe already."""
    if hasattr(os, "O_DIRECTORY"):
        with suppress(OSError):
            handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)
