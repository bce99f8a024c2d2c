"""Reading checklists: the shipped ones, and a room's own that replace or extend them."""

from pathlib import Path

import msgspec
from msgspec import Struct

from walkabout.checklist.model import Checklist
from walkabout.room.compiled import compiled
from walkabout.room.mistakes import Mistake
from walkabout.room.toml import Place

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
    from walkabout.checklist.check import wrong  # noqa: PLC0415
    from walkabout.room.fit import fit  # noqa: PLC0415
    from walkabout.room.toml import read  # noqa: PLC0415

    document = read(file)
    if isinstance(document, Mistake):
        mistakes.append(document)
        return
    one, wrong_here = fit(document.data, Checklist, document, ())
    mistakes += wrong_here
    if one is None:
        return
    if one.kind != file.stem:
        says = f'the kind is "{one.kind}" but the file is called {file.name}'
        mistakes.append(document.mistake(("kind",), says, f'Write kind = "{file.stem}"'))
        one = msgspec.structs.replace(one, kind=file.stem)
    before = found.get(one.kind)
    whole = _joined(before, one) if one.extends and before else one
    broken = set()
    for question, place, says, right in wrong(whole):
        broken.add(question)
        mistakes.append(document.mistake(_in_file(place, whole, one), says, right))
    found[one.kind] = _without(whole, broken) if broken else whole


def _joined(before: Checklist, more: Checklist) -> Checklist:
    """Lay the room's questions over the shipped ones: the same id replaces, a new one is added."""
    mine = {question.id: question for question in more.question}
    kept = [mine.pop(question.id, question) for question in before.question]
    return msgspec.structs.replace(
        before,
        title=more.title or before.title,
        about=more.about or before.about,
        first=more.first or before.first,
        fault=before.fault | more.fault,
        question=(*kept, *mine.values()),
    )


def _in_file(place: Place, whole: Checklist, one: Checklist) -> Place:
    """Turn a place in the joined checklist into one in the file that was read last."""
    if whole is one or place[0] != "question" or not isinstance(place[1], int):
        return place
    ids = [question.id for question in one.question]
    name = whole.question[place[1]].id
    return ("question", ids.index(name), *place[2:]) if name in ids else ()


def _without(checklist: Checklist, broken: set[str]) -> Checklist:
    """Leave out the questions that cannot be asked as they are written."""
    return msgspec.structs.replace(checklist, question=tuple(one for one in checklist.question if one.id not in broken))
