"""The long jobs with files: reading one, taking it in, writing tables; each in a thread, and told in lines."""

from pathlib import Path

from msgspec import Struct
from textual.content import Content

from walkabout.paper.export import CannotWrite, Exported, export, read_all, total_rows
from walkabout.paper.export_words import lines_of_export, lines_of_files
from walkabout.paper.logger import Taken, take_in_file
from walkabout.paper.logger_columns import BadLogger
from walkabout.paper.logger_file import LoggerFile, read_logger_file
from walkabout.paper.logger_kept import Taking, remember
from walkabout.paper.logger_words import lines_of_taken
from walkabout.paper.writers import Form
from walkabout.records.book import Records
from walkabout.records.disk import NotSaved, plainly
from walkabout.round.opened import OpenRoom
from walkabout.screens.text import fitted, plain
from walkabout.screens.widgets.beside import Stopped, Work


class Opened(Struct, frozen=True):
    """A file that was read, as bytes and as a table."""

    content: bytes
    file: LoggerFile


class Tables(Struct, frozen=True):
    """What is to be written, and where."""

    folder: Path
    form: Form
    codes: bool
    raw: bool


async def read_file(work: Work, path: Path) -> Opened | str:
    """Return the file, or one line that says why it cannot be used."""

    def job() -> Opened:
        content = path.read_bytes()
        found = Opened(content, read_logger_file(path, content))
        work.ticks(0)
        return found

    try:
        return await work.run(job)
    except BadLogger as error:
        return str(error)
    except Stopped:
        return "Stopped."
    except OSError as error:
        return f"{path} cannot be read: {error.strerror or error}."


async def take_in(
    work: Work, opened: OpenRoom, what: Opened, taking: Taking, *, instead: bool
) -> tuple[Taken | None, list[Content]]:
    """Take a file in; return what came of it, None where it did not, and that in lines."""
    work.steps = len(what.file.rows)

    def job() -> Taken:
        # records belong to one thread: this one writes through its own
        records = Records.open(opened.folder, opened.today())
        try:
            taken = take_in_file(
                what.file, what.content, taking, records, opened.folder, opened.clock(), work.ticks, instead=instead
            )
        finally:
            records.close()
        remember(opened.folder, what.file.names, taking)
        return taken

    try:
        taken = await work.run(job)
    except Stopped:
        return None, [plain("Stopped. Nothing was taken in.", "$watch")]
    except BadLogger as error:
        return None, [plain(f"Nothing was taken in. {error}", "$watch")]
    except NotSaved as error:
        return None, [plain(f"Not all of it was taken in: take the file in once more. {error}", "$watch")]
    except OSError as error:
        says = plainly(error, opened.folder)
        return None, [plain(f"Not all of it was taken in: take the file in once more. {says}", "$watch")]
    *told, last = lines_of_taken(taken)
    found = [plain(last, "bold"), *(plain(one) for one in told)]
    if taken.left:
        says = "To take those back: take the file in again, with e for ask anew, or take it back with f3."
        found.append(plain(says, "$muted"))
    return taken, found


async def write_tables(work: Work, opened: OpenRoom, wanted: Tables) -> tuple[Exported | None, list[Content]]:
    """Write everything on record as tables; return what was written, None where nothing was, and that in lines."""
    folder = wanted.folder
    waits = opened.retry()

    def job() -> tuple[Exported, list[str]]:
        # records belong to one thread: this one reads its own
        records = Records.open(opened.folder, opened.today())
        try:
            everything = read_all(records, opened.room)
            work.says, work.steps = "Writing tables", total_rows(everything)
            made = export(
                everything, opened.folder, folder, wanted.form, codes=wanted.codes, raw=wanted.raw, ticks=work.ticks
            )
            return made, list(records.told)
        finally:
            records.close()

    try:
        made, told = await work.run(job)
    except Stopped:
        return None, [plain("Stopped. Nothing was written.", "$watch")]
    except (FileExistsError, CannotWrite, NotSaved) as error:
        return None, [plain(f"Nothing was written. {error}", "$watch")]
    except OSError as error:
        return None, [plain(f"Nothing was written: {plainly(error, folder)}", "$watch")]
    first, *more = lines_of_export(made, [*told, *([f"Not in the tables yet: {waits}"] if waits else [])])
    found = [plain(first, "bold"), *(plain(one, "$watch") for one in more), plain("")]
    found += [plain(fitted(name, 22)).append(plain(holds, "$muted")) for name, holds in lines_of_files(made)]
    return made, found
