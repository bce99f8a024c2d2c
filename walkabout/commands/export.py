"""Everything on record as tables that any program opens."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from walkabout.commands.options import (
    Options,
    json_option,
    must_have_room,
    opened_room,
    print_json,
    room_option,
    visible,
)
from walkabout.commands.progress import progress
from walkabout.exits import ATTEND, DONE

if TYPE_CHECKING:
    from walkabout.paper.writers import Form


@click.command()
@click.option(
    "--to", "to", metavar="DIR", required=True, type=click.Path(path_type=Path), help="A new or empty folder."
)
@click.option(
    "--as", "form", type=click.Choice(["csv", "parquet", "xlsx"]), default="csv", help="The form of the tables: csv."
)
@click.option("--codes", is_flag=True, help="Leave people's codes as they are.")
@click.option("--raw", is_flag=True, help="Copy the loggers' own files too, as they are: codes in them stay.")
@json_option
@room_option
@click.pass_obj
def export(options: Options, to: Path, form: str, *, codes: bool, raw: bool, as_json: bool) -> int:
    """Write everything on record as tables into DIR.

    One table for each kind, with its units; datapackage.json describes every column for other programs, the table
    "dictionary" for people. People's codes are replaced by pseudonyms; in notes as far as they can be told from words
    and numbers, so look through those. An earlier export in DIR is replaced, anything
    else never. walkabout take-in makes a room of it again. An adult does this: the tables hold what everybody wrote.
    Exit status 1 when something was left out.
    """
    from walkabout.paper import export as paper
    from walkabout.paper.export_words import cautions, lines_of_export

    with opened_room(must_have_room(options)) as opened:
        everything = paper.read_all(opened.records, opened.room)
        try:
            with progress(paper.total_rows(everything), "Writing tables") as bar:
                made = paper.export(
                    everything,
                    opened.folder,
                    to.expanduser(),
                    cast("Form", form),
                    codes=codes,
                    raw=raw,
                    ticks=bar.update,
                )
        except (FileExistsError, paper.CannotWrite) as error:
            raise click.UsageError(visible(f"{error}")) from error
        except OSError as error:
            click.echo(visible(f"walkabout: the tables could not be written: {error.strerror or error}."), err=True)
            return ATTEND
        left_out = opened.records.told
    if as_json:
        tables = [{"name": one.name, "file": one.file, "rows": one.rows} for one in made.tables]
        print_json(
            {
                "folder": str(made.folder),
                "tables": tables,
                "codes": "pseudonyms" if made.pseudonyms else "as they are",
                "look": cautions(made),
                "told": [*made.told, *left_out],
            }
        )
    else:
        for line in lines_of_export(made, left_out):
            click.echo(visible(line))
    return ATTEND if left_out else DONE
