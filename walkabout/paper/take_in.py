"""An export becomes a room again: every table is read, checked, and put together to records, nothing lost."""

import hashlib
import os
import shutil
import tomllib
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from pathlib import Path, PurePosixPath
from typing import Any, cast

import msgspec
from msgspec import Struct

from walkabout.paper.export import DICTIONARY, EDITION, PACKAGE
from walkabout.paper.readers import BadExport, read_rows
from walkabout.paper.tables import BY_NAME, FROM_ROOM, TABLES, Table
from walkabout.paper.writers import Form
from walkabout.records import pseudonyms
from walkabout.records.book import Record, Records
from walkabout.records.disk import sync_folder
from walkabout.records.homes import TABLES as RECORD_TABLES
from walkabout.records.purge import NOBODY
from walkabout.room.mistakes import shortened
from walkabout.room.read import FILE

__all__ = ["BadExport", "TakenIn", "take_in"]

_PART = ".part"
_STEP = 500


class TakenIn(Struct, frozen=True):
    """What was taken in: the number of records by table, and what the person should know."""

    folder: Path
    records: dict[str, int]
    told: tuple[str, ...] = ()


class Place(Struct, frozen=True):
    """A row's values by column, and where it stands."""

    file: Path
    line: int
    values: dict[str, Any]


def package_of(path: Path) -> Path | None:
    """Return the description of the export that a path means: the file itself, or the one in the folder; else None."""
    if path.is_dir() and (path / PACKAGE).is_file():
        return path / PACKAGE
    return path if path.name == PACKAGE and path.is_file() else None


def rows_of(package: Path) -> int:
    """Return about how many rows an export has, by the size of its tables: for a bar that shows the progress."""
    sizes = (path.stat().st_size for path in package.parent.iterdir() if path.suffix in _BYTES)
    return int(sum(sizes) / _BYTES[".csv"])


_BYTES = {".csv": 80, ".parquet": 20, ".xlsx": 25}
"""Of a row in a file of each form, about; measured."""


def take_in(
    package: Path, room_folder: Path, *, changed: bool = False, ticks: Callable[[int], None] = lambda _: None
) -> TakenIn:
    """Make the records of `room_folder` from the export that `package` (a datapackage.json) describes.

    The folder may be missing or hold a room without records: its room.toml stays as it is. Either everything is
    taken in or nothing. `changed`: also take in tables that were changed after they were exported. BadExport says
    what does not fit, FileExistsError that there are records already; OSError as it comes.
    """
    _must_have_no_records(room_folder)
    form, files, beside, drawn = _described(package, changed=changed)
    found = {name: _read(path, name, form, ticks) for name, path in files.items()}
    records = _records(found)
    room_folder.mkdir(parents=True, exist_ok=True)
    part = room_folder / _PART
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir()
    try:
        _save(part, records)
        if drawn:
            # what stands in the records now are pseudonyms, and another export keeps them
            pseudonyms.keep(part / "records", {code: code for code in sorted(_codes(found, package.parent / FILE))})
        told = _put_in_place(part, room_folder, package.parent, beside)
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return TakenIn(room_folder, {name: len(many) for name, many in records.items()}, tuple(told))


def _must_have_no_records(room_folder: Path) -> None:
    records = room_folder / "records"
    if records.exists() and any(path.suffix in (".json", ".journal") for path in records.iterdir()):
        raise FileExistsError(f"{room_folder} has records already, and they stay as they are. Name a new folder.")


def _described(package: Path, *, changed: bool) -> tuple[Form, dict[str, Path], tuple[str, ...], bool]:
    """Return the form, the file of each table, what stands beside them, and whether codes are pseudonyms."""
    try:
        told = msgspec.json.decode(package.read_bytes(), type=_Package)
    except (msgspec.MsgspecError, UnicodeDecodeError) as error:
        raise BadExport(f"{package}: this is no export of a room ({error})") from error
    if told.walkabout.edition > EDITION:
        raise BadExport(f"{package}: a later version wrote this export. Take it in with that one")
    files: dict[str, Path] = {}
    sums = {one.path: one.hash for one in told.resources} | told.walkabout.beside
    for name, digest in sums.items():
        path = _inside(package, name)
        if not path.is_file():
            raise BadExport(f"{path}: this file of the export is missing")
        with path.open("rb") as file:
            same = digest == f"sha256:{hashlib.file_digest(file, 'sha256').hexdigest()}"
        if not (same or changed):
            raise BadExport(
                f"{path}: this file was changed since it was exported. To take it in all the same: --changed"
            )
    for one in told.resources:
        if one.name in BY_NAME:
            files[one.name] = _inside(package, one.path)
        elif one.name != DICTIONARY:
            raise BadExport(f'{package}: the table "{shortened(one.name, 40)}" is not known, and would be lost')
    return told.walkabout.form, files, tuple(told.walkabout.beside), told.walkabout.codes == "pseudonyms"


class _Resource(Struct, frozen=True):
    name: str
    path: str
    hash: str


class _Mark(Struct, frozen=True):
    edition: int
    form: Form
    codes: str
    beside: dict[str, str]


class _Package(Struct, frozen=True):
    resources: tuple[_Resource, ...]
    walkabout: _Mark


def _inside(package: Path, name: str) -> Path:
    """Return the path of a file of the export; BadExport for one outside its folder."""
    parts = PurePosixPath(name).parts
    if not parts or ".." in parts or PurePosixPath(name).is_absolute() or "\\" in name or ":" in name:
        raise BadExport(f'{package}: "{shortened(name, 60)}" is no file within the export')
    return package.parent.joinpath(*parts)


def _read(path: Path, table: str, form: Form, ticks: Callable[[int], None]) -> list[Place]:
    if table in FROM_ROOM:
        return []
    places: list[Place] = []
    seen: set[tuple[object, ...]] = set()
    primary = BY_NAME[table].primary
    for line, values in read_rows(path, table, form):
        missing = next((name for name in primary if name not in values), None)
        if missing is not None:
            raise BadExport(f'{path}:1: the column "{missing}" is missing')
        key = tuple(values[name] for name in primary)
        if key in seen:
            raise BadExport(f"{path}:{line}: this row is there twice: {', '.join(map(str, key))}")
        seen.add(key)
        places.append(Place(path, line, values))
        if len(places) % _STEP == 0:
            ticks(_STEP)
    ticks(len(places) % _STEP)
    return places


def _records(found: dict[str, list[Place]]) -> dict[str, list[Record]]:
    """Put rows together to records, by table, in the order of their rows."""
    within: dict[tuple[str, str], dict[str, list[tuple[int, Any]]]] = {}
    owners = {name: {place.values["key"] for place in found.get(name, ())} for name in RECORD_TABLES.values()}
    for table in TABLES:
        if table.parts:
            _part_out(table, found.get(table.name, []), owners, within)
    made: dict[str, list[Record]] = {}
    for kind, name in RECORD_TABLES.items():
        table = BY_NAME[name]
        fields = {part.field for one in TABLES for part in one.parts if part.table == name}
        made[name] = []
        for place in found.get(name, ()):
            parts = {}
            for field in fields:
                numbered = within.get((name, field), {}).get(place.values["key"], [])
                parts[field] = tuple(one for _, one in sorted(numbered, key=lambda pair: pair[0]))
            made[name].append(cast("Record", _made(table, kind, place, parts)))
    return made


def _part_out(
    table: Table,
    places: list[Place],
    owners: dict[str, set[str]],
    within: dict[tuple[str, str], dict[str, list[tuple[int, Any]]]],
) -> None:
    names = [column.name for column in table.lead]
    parts = {part.called: part for part in table.parts}
    owner = "key" if "about" in names else names[0]
    for place in places:
        called = place.values["about"] if "about" in names else place.values.get("part", "")
        part = parts[called]
        key = place.values[owner]
        if key not in owners[part.table]:
            says = f"{part.table} have no row with the key {shortened(str(key), 40)}, to which this one belongs"
            raise BadExport(f"{place.file}:{place.line}: {says}")
        one = _made(table, table.kind, place, {})
        within.setdefault((part.table, part.field), {}).setdefault(key, []).append((place.values["number"], one))


def _made(table: Table, kind: type[Struct], place: Place, parts: dict[str, Any]) -> Struct:
    values = {column.source: value for column in table.columns if (value := place.values.get(column.name)) is not None}
    try:
        return msgspec.convert(values | parts, kind)
    except msgspec.ValidationError as error:
        raise BadExport(f"{place.file}:{place.line}: this row makes no record: {error}") from error


def _codes(found: dict[str, list[Place]], room_file: Path) -> set[str]:
    codes: set[str] = set()
    for table in TABLES:
        names = [column.name for column in table.columns if column.code]
        codes.update(place.values.get(name, "") for place in found.get(table.name, ()) for name in names)
    with suppress(OSError, ValueError):
        codes.update(tomllib.loads(room_file.read_text(encoding="utf-8")).get("people", {}))
    return codes - {"", NOBODY}


def _save(part: Path, records: dict[str, list[Record]]) -> None:
    # a day with no records, so that nothing is read before it is written
    book = Records.open(part, date.max)
    try:
        with book.together():
            for many in records.values():
                for one in many:
                    book.save(one)
    finally:
        book.close()


def _put_in_place(part: Path, room_folder: Path, export: Path, beside: tuple[str, ...]) -> list[str]:
    """Move the records into the room's folder in one step, and copy what is no table where nothing is in its way."""
    told = []
    for name in beside:
        path = room_folder.joinpath(*PurePosixPath(name).parts)
        if path.exists():
            if path.read_bytes() != (export / name).read_bytes():
                told.append(f"{name} was there already and stays as it is.")
            continue
        path.parent.mkdir(parents=True, exist_ok=True)
        fresh = part / "fresh"
        shutil.copyfile(export / name, fresh)
        fresh.replace(path)
    there = room_folder / "records"
    if there.exists():
        for left in there.iterdir():  # the lock alone, as was looked at before
            left.unlink()
        there.rmdir()
    os.replace(part / "records", there)  # noqa: PTH105 - the one step that counts
    sync_folder(room_folder)
    return told
