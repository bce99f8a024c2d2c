"""What a person is told of tables that are taken out of a room: the same words on every face."""

from datetime import date
from pathlib import Path
from typing import Literal

from walkabout.paper.export import DICTIONARY, OWN_CHECKLISTS, PACKAGE, RAW, Exported, is_export
from walkabout.paper.writers import Form
from walkabout.room.read import FILE

FORMS: dict[Form, str] = {
    "csv": "CSV: a file for each table, opens in any program",
    "xlsx": "spreadsheet: one file, a sheet for each table",
    "parquet": "Parquet: for programs that reckon with large tables",
}
WHO = "An adult does this, and answers for whom the tables are given to: they hold what everybody wrote."
CODES = {
    False: "Everybody's code is replaced by another one, the same in every export; in notes as far as it can be told"
    " from a word. Which is whose stands in no table.",
    True: "Codes as they are: whoever knows a pupil's code sees what that pupil did. Keep such tables among the staff.",
}
LOOK = "Look through what people typed before you give the tables away: a name may stand there."
LOOK_FOR_CODES = (
    "In such texts, and in the names of plots and treatments, the program cannot find every code: one in small letters"
    " may be a word, and one of digits a number."
)
AS_THEY_ARE = "The loggers' own files are copied as they are: their names, and every word in them. Codes in them stay."

Standing = Literal["new", "ours", "other"]


def usual_name(room_folder: Path, today: date) -> str:
    """Return what the folder of an export is usually called: the room's own folder and the day are in it."""
    return f"{room_folder.resolve().name or 'room'}-tables-{today:%Y-%m-%d}"


def standing_of(to: Path) -> Standing:
    """Return whether a folder would be new (or is empty), is an earlier export, or holds anything else."""
    try:
        return "ours" if is_export(to) else "new"
    except (FileExistsError, OSError):
        return "other"


def standing_words(standing: Standing) -> str:
    """Return what becomes of the folder."""
    return {
        "new": "The folder is made when it is written.",
        "ours": "An earlier export lies there and will be replaced.",
        "other": "Something else lies there and stays as it is: name a new or an empty folder.",
    }[standing]


def lines_of_export(made: Exported, left_out: list[str]) -> list[str]:
    """Return what was written, about people's codes, and what one should know."""
    rows = sum(one.rows for one in made.tables if one.name != DICTIONARY)
    who = "People's codes are replaced by pseudonyms." if made.pseudonyms else "People's codes stand as they are."
    says = f"{rows} rows in {len(made.tables)} tables are in {made.folder}. {who}"
    return [says, *cautions(made), *made.told, *left_out]


def cautions(made: Exported) -> list[str]:
    """Return what to look through before the tables are given away."""
    found = [LOOK, LOOK_FOR_CODES] if made.pseudonyms else [LOOK]
    if any(name.startswith(f"{OWN_CHECKLISTS}/") for name in made.beside):
        found.append(f"{OWN_CHECKLISTS}/ is copied as it is: look through that too.")
    if any(name.startswith(f"{RAW}/") for name in made.beside):
        found.append(f"{RAW}/ is copied as it is, with the files' own names: look through that too.")
    return found


def lines_of_files(made: Exported) -> list[tuple[str, str]]:
    """Return each file or folder that an export has written, and what is in it."""
    files: dict[str, list[str]] = {}
    for one in made.tables:
        files.setdefault(one.file, []).append(f"{one.rows} {'row' if one.rows == 1 else 'rows'}")
    found = [(file, many[0] if len(many) == 1 else f"{len(many)} tables, each a sheet") for file, many in files.items()]
    found += [(PACKAGE, "what every column is, for other programs"), (FILE, "the room")]
    for folder, what in ((OWN_CHECKLISTS, "the room's own checklists"), (RAW, "the loggers' own files")):
        if any(name.startswith(f"{folder}/") for name in made.beside):
            found.append((f"{folder}/", what))
    return found
