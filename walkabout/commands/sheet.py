"""What is printed: the round, cards, labels, the handover page, reports; and typing a filled-in sheet in."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from datetime import date, datetime
from pathlib import Path

import click

from walkabout.commands.options import Options, json_option, must_have_room, print_json, room_option, visible
from walkabout.exits import DONE

WHAT = ("round", "cards", "labels", "handover", "plots", "report", "certificate")
"""As in walkabout.paper.making, which is loaded only to print."""


@click.command()
@click.argument("what", metavar=f"[{'|'.join(WHAT)}]", type=click.Choice(WHAT), default="round")
@click.option("--to", "file", metavar="FILE.pdf", default="", help="Where to write it; - for standard output.")
@click.option(
    "--paper",
    "size",
    type=click.Choice(("A4", "Letter"), case_sensitive=False),
    default=None,
    help="The size of the paper; as usual where the room's units are.",
)
@click.option("--day", metavar="DAY", default="", help="The day of the round on paper; today when not given.")
@click.option("--as", "walker", metavar="CODE", default="", help="Who walks, or walked, by code.")
@click.option("--trial", metavar="TRIAL", default="", help="Plots: the trial's key, or its number in the list.")
@click.option("--from", "since", metavar="DAY", default="", help="Report, certificate: the first day.")
@click.option("--to-day", "until", metavar="DAY", default="", help="Report, certificate: the last day.")
@click.option("--for", "people", metavar="TEXT", default="", help="Certificate: the class or group, no person's name.")
@click.option("--type-in", is_flag=True, help="Type in a round sheet that was filled in by hand.")
@click.option("--at", metavar="TIME", default="", help="With --type-in: when that round began, such as 08:05.")
@click.option("--ended", metavar="TIME", default="", help="With --type-in: when it ended, such as 08:11.")
@json_option
@room_option
@click.pass_obj
def sheet(
    options: Options,
    what: str,
    file: str,
    size: str | None,
    day: str,
    walker: str,
    trial: str,
    since: str,
    until: str,
    people: str,
    at: str,
    ended: str,
    *,
    type_in: bool,
    as_json: bool,
) -> int:
    """Print something of the room as a PDF.

    The round to fill in by hand, station cards and planting labels with QR codes, the page for whoever takes over,
    the plots of a trial, a report of the term, a certificate for a class. With --type-in a filled-in sheet is written
    down for its own day. A file that this command did not write is never written over.
    """
    from walkabout.paper.making import NotWritten, Wanted, pages_of, printed, write_pdf
    from walkabout.room.calendar import local_now
    from walkabout.round.opened import CannotOpen

    folder = must_have_room(options)
    on = _day(day, "--day")
    if type_in:
        _must_be_a_dialogue(what, file, trial=trial, as_json=as_json)
        now = local_now()
        return _type_in(folder, on or now.date(), walker, at, ended, now)
    if at or ended:
        raise click.UsageError(f"{'--at' if at else '--ended'} goes with --type-in.")
    if not file:
        raise click.UsageError("Say where to write it: walkabout sheet --to round.pdf, or --to - for standard output.")
    if file == "-" and as_json:
        raise click.UsageError("--json does not go with --to -: both would come out of standard output.")
    wanted = Wanted(
        what=what, paper=size or "", day=on, walker=walker, since=_day(since, "--from"),
        until=_day(until, "--to-day"), people=people, trial=trial,
    )  # fmt: skip
    try:
        data, paper = printed(folder, local_now, wanted)
        pages = pages_of(data) if file == "-" else write_pdf(Path(file), data)
    except (CannotOpen, ValueError) as error:
        raise click.UsageError(visible(str(error))) from error
    except NotWritten as error:
        raise click.ClickException(visible(str(error))) from error
    if file == "-":
        click.echo(data, nl=False)
    elif as_json:
        print_json({"what": what, "file": file, "paper": paper.name, "pages": pages, "bytes": len(data)})
    else:
        click.echo(visible(f"Written: {file}{f', {pages} pages' if pages > 1 else ''}."))
    return DONE


def _must_be_a_dialogue(what: str, file: str, *, trial: str, as_json: bool) -> None:
    if file or what != "round" or trial:
        raise click.UsageError("--type-in goes with the round alone, and writes no file.")
    if as_json:
        raise click.UsageError(
            "--type-in asks line by line and gives no result of its own: walkabout logbook --json shows what is kept."
        )


def _type_in(folder: Path, on: date, walker: str, at: str, ended: str, now: datetime) -> int:
    from walkabout.plain.asking import read_time
    from walkabout.plain.typed_in import run
    from walkabout.room.calendar import local_now
    from walkabout.round.history import KEPT_DAYS
    from walkabout.round.opened import CannotOpen

    if on > now.date():
        raise click.UsageError(f"{on} is still to come.")
    if (now.date() - on).days > KEPT_DAYS:
        raise click.UsageError(f"{on} is more than {KEPT_DAYS} days ago: too long to judge what stood there.")
    try:
        return run(folder, on, walker, local_now, at=read_time(at) if at else "", ended=ended)
    except (CannotOpen, ValueError) as error:
        raise click.UsageError(visible(str(error))) from error


def _day(typed: str, option: str) -> date | None:
    if not typed:
        return None
    from walkabout.plain.asking import read_day
    from walkabout.reckon.typed_day import day

    try:
        return read_day(day(typed).isoformat())
    except ValueError as error:
        raise click.UsageError(visible(f"{option}: {error}")) from error
