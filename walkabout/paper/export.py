"""Everything on record as open data: one table for each kind, and a description of every column beside them.

The folder is a Tabular Data Package of the Frictionless standards: datapackage.json names the tables, and describes
each by a Table Schema. It is written last, so that a folder that has it is whole; files are written beside their
places and renamed, so that there is never half a table.
"""

import hashlib
import os
import shutil
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from walkabout import __version__
from walkabout.almanac.standing import BY_ITSELF
from walkabout.paper.codes import Cleaner
from walkabout.paper.dictionary import GUARD, dictionary_schema, schema
from walkabout.paper.rows import Content, codes_in, content, names_in, row_count
from walkabout.paper.tables import BY_NAME, TABLES
from walkabout.paper.workbook import CannotWrite
from walkabout.paper.writers import Form, writer
from walkabout.paper.written import DICTIONARY, Tables, Written
from walkabout.records import pseudonyms
from walkabout.records.book import Records
from walkabout.room.model import Room
from walkabout.room.read import FILE
from walkabout.room.write import room_text

__all__ = ["DICTIONARY", "MARK", "PACKAGE", "RAW", "CannotWrite", "Exported", "export", "is_export"]

PACKAGE = "datapackage.json"
MARK = "walkabout"
"""The property of a package that says that this program wrote it, and how."""
EDITION = 1
"""Of the tables: a later edition may be more than this program knows."""
OWN_CHECKLISTS = "checklists"
RAW = "logger"
_PART = ".part"

_MEDIA = {
    "csv": "text/csv",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "parquet": "application/vnd.apache.parquet",
}


class Exported(Struct, frozen=True):
    """What an export has written, and what the person should know about it."""

    folder: Path
    tables: tuple[Written, ...]
    pseudonyms: bool
    told: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()
    """The files that are no tables, copied as they are but for room.toml: within the folder, with /."""


def total_rows(everything: Content) -> int:
    """Return about how many rows there will be, for a bar that shows the progress."""
    return sum(row_count(table, everything) for table in TABLES)


def read_all(records: Records, room: Room) -> Content:
    """Read everything that an export writes."""
    return content(records, room)


def export(
    everything: Content,
    room_folder: Path,
    to: Path,
    form: Form = "csv",
    *,
    codes: bool = False,
    raw: bool = False,
    ticks: Callable[[int], None] = lambda _: None,
) -> Exported:
    """Write all tables and their description into the folder `to`.

    `codes` leaves people's codes as they are; `raw` copies the loggers' own files too. `ticks` is told of so many
    more rows now and then. `to` may be missing, empty or an earlier export, which is replaced; FileExistsError
    when it holds anything else, CannotWrite when the form does not hold what is on record, OSError as it comes. What
    `ticks` raises stops it, and nothing is left of it.
    """
    before = _must_be_ours(to)
    told: list[str] = []
    cleaner = None
    if not codes:
        cleaner = Cleaner(_pseudonyms(everything, room_folder / "records", told), names_in(everything))
    fresh = not to.exists()
    to.mkdir(parents=True, exist_ok=True)
    part = to / _PART
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir()
    try:
        made = Tables(writer(form, part), everything, cleaner, ticks)
        made.write()
        extra = _beside(part, room_folder, everything.room, cleaner, raw=raw)
        package = _package(
            made, form, part, extra, everything.room if cleaner is None else cleaner.room(everything.room)
        )
        told += made.told
        package[MARK]["codes"] = "as they are" if codes else "pseudonyms"
        (part / PACKAGE).write_bytes(msgspec.json.format(msgspec.json.encode(package), indent=2) + b"\n")
        _put_in_place(part, to, before)
    finally:
        shutil.rmtree(part, ignore_errors=True)
        if fresh:  # and nothing came of it
            with suppress(OSError):
                to.rmdir()
    told += _codes_left(cleaner) if cleaner is not None else []
    return Exported(to, tuple(made.written), not codes, tuple(told), tuple(extra))


def _codes_left(cleaner: Cleaner) -> list[str]:
    """Say where codes may stand still."""
    told = []
    for number, which, what in (
        (cleaner.left, "of digits alone", "plain number"),
        (cleaner.small, "of letters, written otherwise than in the room,", "plain word"),
    ):
        if number:
            texts = "1 text" if number == 1 else f"{number} texts"
            told.append(f"A code {which} stands in {texts} that people typed, and may be a {what} there.")
    if cleaner.kept:
        told.append(
            f"{cleaner.kept} names of plots or treatments keep the codes in them: with pseudonyms two of them would be"
            " the same."
        )
    return told


def _pseudonyms(everything: Content, folder: Path, told: list[str]) -> dict[str, str]:
    known = pseudonyms.read(folder)
    drawn = pseudonyms.drawn(codes_in(everything), known)
    if drawn != known:
        try:
            pseudonyms.keep(folder, drawn)
        except OSError:
            told.append("The pseudonyms could not be kept: another export will have others.")
    return {code: stands for code, stands in drawn.items() if code != BY_ITSELF}


def is_export(to: Path) -> bool:
    """Say whether an earlier export lies in a folder; False where it is missing or empty, FileExistsError else."""
    return bool(_must_be_ours(to))


def _must_be_ours(to: Path) -> list[str]:
    """Return the files of an earlier export; FileExistsError when anything else is there."""
    if not to.exists() and not to.is_symlink():
        return []
    if not to.is_dir():
        raise FileExistsError(f"{to} is no folder and was left as it is.")
    if all(path.name == _PART for path in to.iterdir()):
        return []
    try:
        found = msgspec.json.decode((to / PACKAGE).read_bytes())
        mark = found[MARK]
        return [*{str(one["path"]) for one in found["resources"]}, *mark["beside"]]
    except (OSError, ValueError, KeyError, TypeError):
        raise FileExistsError(
            f"{to} holds something else and was left as it is. Name a new or an empty folder."
        ) from None


def _beside(part: Path, room_folder: Path, room: Room, cleaner: Cleaner | None, *, raw: bool) -> list[str]:
    """Write what is no table: room.toml, the room's own checklists, the loggers' own files."""
    if cleaner is None and (room_folder / FILE).is_file():
        shutil.copyfile(room_folder / FILE, part / FILE)
    else:
        text = room_text(room if cleaner is None else cleaner.room(room))
        (part / FILE).write_text(text, encoding="utf-8", newline="\n")
    made = [FILE]
    for name, wanted in ((OWN_CHECKLISTS, "*.toml"), (RAW, "*") if raw else ("", "")):
        for path in sorted((room_folder / name).glob(wanted)) if name else ():
            if path.is_file():
                (part / name).mkdir(exist_ok=True)
                shutil.copyfile(path, part / name / path.name)
                made.append(f"{name}/{path.name}")
    return made


def _package(made: Tables, form: Form, part: Path, extra: list[str], room: Room) -> dict[str, Any]:
    resources = []
    sums: dict[str, tuple[int, str]] = {}
    for one in made.written:
        table = BY_NAME.get(one.name)
        if one.file not in sums:
            sums[one.file] = _sum(part / one.file)
        size, digest = sums[one.file]
        resource: dict[str, Any] = {
            "profile": "tabular-data-resource",
            "name": one.name,
            "path": one.file,
            "title": table.title if table else "Dictionary",
            "description": table.says if table else "Every column of every table, and what it means.",
            "format": form,
            "mediatype": _MEDIA[form],
            "encoding": "utf-8",
            "hash": f"sha256:{digest}",
        }
        if form != "parquet":
            # a validator that opens such a file by its columns counts no bytes, and takes any number for wrong
            resource["bytes"] = size
        if form == "csv":
            resource["dialect"] = {
                "delimiter": ",",
                "lineTerminator": "\r\n",
                "quoteChar": '"',
                "doubleQuote": True,
                "header": True,
            }
        elif form == "xlsx":
            resource["dialect"] = {"header": True, "excel": {"sheet": one.name}}
        resource["schema"] = schema(table, made.holding(table), form) if table else dictionary_schema()
        resources.append(resource)
    return {
        "profile": "tabular-data-package",
        "name": "growing-room",
        "title": room.name or "Growing room",
        "description": f"What is on record in a growing room. {GUARD if form == 'csv' else ''}".strip(),
        "resources": resources,
        MARK: {
            "edition": EDITION,
            "version": __version__,
            "form": form,
            "beside": {name: f"sha256:{_sum(part / name)[1]}" for name in extra},
        },
    }


def _sum(path: Path) -> tuple[int, str]:
    with path.open("rb") as file:
        return path.stat().st_size, hashlib.file_digest(file, "sha256").hexdigest()


def _put_in_place(part: Path, to: Path, before: list[str]) -> None:
    fresh = sorted(path.relative_to(part) for path in part.rglob("*") if path.is_file())
    for name in (*(one for one in fresh if one != Path(PACKAGE)), Path(PACKAGE)):
        with (part / name).open("rb+") as file:
            os.fsync(file.fileno())
        (to / name).parent.mkdir(exist_ok=True)
        (part / name).replace(to / name)
    for old in {*before} - {one.as_posix() for one in fresh}:
        if (path := to / old).resolve().is_relative_to(to.resolve()):
            path.unlink(missing_ok=True)
