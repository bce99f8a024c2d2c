"""Reading checklists: the shipped ones, and a room's own that replace or extend them."""

from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from walkabout.checklist.model import Checklist, Duty, Question, Store
from walkabout.room.compiled import compiled
from walkabout.room.mistakes import Mistake
from walkabout.room.toml_lines import Place

FOLDER = "checklists"


class Checklists(Struct, frozen=True):
    """The checklist of each kind, and what was wrong in the files."""

    of: dict[str, Checklist]
    mistakes: tuple[Mistake, ...] = ()


def shipped_folder() -> Path:
    """Return the folder of the shipped checklists: inside an installed package, else beside it."""
    package = Path(__file__).parents[1]
    inside = package / FOLDER
    return inside if inside.is_dir() else package.parent / FOLDER


def kinds(room_folder: Path | None = None) -> tuple[str, ...]:
    """Return the kinds that have a checklist, without reading the files."""
    folders = [shipped_folder(), *([room_folder / FOLDER] if room_folder else [])]
    return tuple(sorted({file.stem for folder in folders for file in _files(folder)}))


def read_checklists(room_folder: Path | None = None, only: frozenset[str] | None = None) -> Checklists:
    """Read every checklist, or those of the kinds in `only`; mistakes never keep the others out."""
    found: dict[str, Checklist] = {}
    mistakes: list[Mistake] = []
    for file in _files(shipped_folder()):
        if only is None or file.stem in only:
            _take_shipped(file, found, mistakes)
    if room_folder is not None:
        for file in _files(room_folder / FOLDER):
            if only is None or file.stem in only:
                _take(file, found, mistakes)
    return Checklists(found, tuple(sorted(mistakes)))


def _files(folder: Path) -> list[Path]:
    return sorted(file for file in folder.glob("*.toml") if file.is_file()) if folder.is_dir() else []


def _take_shipped(file: Path, found: dict[str, Checklist], mistakes: list[Mistake]) -> None:
    """Read one of the shipped files, from its kept copy where it has one."""

    def make() -> Checklist | None:
        here: dict[str, Checklist] = {}
        said = len(mistakes)
        _take(file, here, mistakes)
        found.update(here)
        return here.get(file.stem) if len(mistakes) == said else None

    checklist = compiled(file, Checklist, make)
    if checklist is not None:
        found[file.stem] = checklist


def _take(file: Path, found: dict[str, Checklist], mistakes: list[Mistake]) -> None:
    """Read one file and put it in its place among those found before it."""
    # not needed where every file has its kept copy, which is nearly every start
    from walkabout.checklist.check import DUTY, RANGES, STORE, wrong  # noqa: PLC0415
    from walkabout.room.fit import fit  # noqa: PLC0415
    from walkabout.room.toml import read  # noqa: PLC0415

    document = read(file)
    if isinstance(document, Mistake):
        mistakes.append(document)
        return
    fitted = fit(_with_title(document.data), Checklist, document, whole=(Question, Duty, Store), ranges=RANGES)
    mistakes += fitted.mistakes
    one = fitted.what
    if one is None:
        return
    if one.kind != file.stem:
        says = f'the kind is "{one.kind}" but the file is called {file.name}'
        mistakes.append(document.mistake(("kind",), says, f'Write kind = "{file.stem}"'))
        one = msgspec.structs.replace(one, kind=file.stem)
    before = found.get(one.kind)
    if one.extends and before is None:
        says = f'there is no shipped checklist "{one.kind}" to extend'
        mistakes.append(document.mistake(("extends",), says, "Take this line out"))
    for index in _twice(one) if one.extends else ():
        says = f'the id "{one.question[index].id}" is taken already in this file'
        written = fitted.written(("question", index, "id"))
        mistakes.append(document.mistake(written, says, "Give each question its own"))
    whole = _joined(before, one)
    broken = set()
    for question, place, says, right in wrong(whole, _written(document.data)):
        if here := _in_file(place, whole, one):
            broken.add(question)
            mistakes.append(document.mistake(fitted.written(here), says, right))
    duties = {name: duty for name, duty in one.duty.items() if DUTY + name not in broken}
    kept = msgspec.structs.replace(one, duty=duties, store=None if STORE in broken else one.store)
    usable = _joined(before, _without(kept, broken))
    for question, place, says, _ in wrong(usable, _written(document.data)) if one.extends else ():
        if not _in_file(place, usable, one):
            mistakes.append(document.mistake((), f'the shipped "{question or place[1]}" does not go with this: {says}'))
    if usable.question:
        found[one.kind] = _with_known_faults(usable)
    else:
        mistakes.append(document.mistake((), "nothing can be asked from this checklist", "Add a [[question]]"))


def _with_title(data: dict[str, Any]) -> dict[str, Any]:
    """A file that extends another need not repeat its title."""
    return {"title": "", **data} if data.get("extends") is True else data


def _written(data: dict[str, Any]) -> frozenset[str]:
    """Return the names of the questions and faults that are written down, whether or not they fit."""
    questions, faults = data.get("question"), data.get("fault")
    ids = [one.get("id") for one in questions if isinstance(one, dict)] if isinstance(questions, list) else []
    return frozenset([*(one for one in ids if isinstance(one, str)), *(faults if isinstance(faults, dict) else ())])


def _twice(checklist: Checklist) -> list[int]:
    ids = [question.id for question in checklist.question]
    return [index for index, name in enumerate(ids) if name in ids[:index]]


def _joined(before: Checklist | None, more: Checklist) -> Checklist:
    """Lay the room's questions over the shipped ones where they extend them: the same id replaces, a new one is added.

    Of two with the same id the first counts. Faults and standing jobs are laid over by name, what the place holds
    as a whole.
    """
    mine: dict[str, Question] = {}
    for question in more.question:
        mine.setdefault(question.id, question)
    if before is None or not more.extends:
        return msgspec.structs.replace(more, title=more.title or more.kind)
    kept = [mine.pop(question.id, question) for question in before.question]
    return msgspec.structs.replace(
        before,
        title=more.title or before.title,
        about=more.about or before.about,
        first=more.first or before.first,
        fault=before.fault | more.fault,
        duty=before.duty | more.duty,
        store=more.store or before.store,
        question=(*kept, *mine.values()),
    )


def _in_file(place: Place, whole: Checklist, one: Checklist) -> Place:
    """Turn a place in the joined checklist into one in the file that was read last; () when it is not there."""
    if not one.extends:
        return place
    if place[0] == "question" and isinstance(place[1], int):
        ids = [question.id for question in one.question]
        name = whole.question[place[1]].id
        return ("question", ids.index(name), *place[2:]) if name in ids else ()
    if place[0] == "store":
        return place if one.store is not None else ()
    named = {"fault": tuple(one.fault), "duty": tuple(one.duty)}.get(str(place[0]))
    return place if named is None or place[1] in named else ()


def _without(checklist: Checklist, broken: set[str]) -> Checklist:
    """Leave out the questions that cannot be asked as they are written, and the second one of the same id."""
    kept: dict[str, Question] = {}
    for question in checklist.question:
        if question.id not in broken:
            kept.setdefault(question.id, question)
    return msgspec.structs.replace(checklist, question=tuple(kept.values()))


def _with_known_faults(checklist: Checklist) -> Checklist:
    """Let a question reveal only what is written down; otherwise it is asked by its days alone."""
    kept = []
    for question in checklist.question:
        known = {
            name: chance for name, chance in question.reveals.items() if name in checklist.fault and 0 < chance <= 1
        }
        kept.append(msgspec.structs.replace(question, reveals=known) if known != question.reveals else question)
    return msgspec.structs.replace(checklist, question=tuple(kept))
