"""What is printed: the round, cards, labels, the handover page, reports; and typing a filled-in sheet in."""
# ruff: noqa: PLC0415 - what a command needs is imported inside it, so that help and mistakes are said at once

from datetime import date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from walkabout.commands.options import Options, must_have_room, room_option, visible
from walkabout.exits import DONE

if TYPE_CHECKING:
    from walkabout.paper.sizes import Paper
    from walkabout.room.calendar import Clock
    from walkabout.round.opened import OpenRoom

WHAT = ("round", "cards", "labels", "handover", "report", "certificate")


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
@click.option("--from", "since", metavar="DAY", default="", help="Report, certificate: the first day.")
@click.option("--to-day", "until", metavar="DAY", default="", help="Report, certificate: the last day.")
@click.option("--for", "people", metavar="TEXT", default="", help="Certificate: the class or group, no person's name.")
@click.option("--type-in", is_flag=True, help="Type in a round sheet that was filled in by hand.")
@click.option("--at", metavar="TIME", default="", help="With --type-in: when that round was walked, such as 08:05.")
@room_option
@click.pass_obj
def sheet(
    options: Options,
    what: str,
    file: str,
    size: str | None,
    day: str,
    walker: str,
    since: str,
    until: str,
    people: str,
    at: str,
    *,
    type_in: bool,
) -> int:
    """Print something of the room as a PDF.

    The round to fill in by hand, station cards and planting labels with QR codes, the page for whoever takes over,
    a report of the term, a certificate for a class. With --type-in a filled-in sheet is written down for its own day.
    A file that this command did not write is never written over.
    """
    from walkabout.room.calendar import local_now

    folder = must_have_room(options)
    now = local_now()
    on = _day(day, "--day")
    if type_in:
        if file or what != "round":
            raise click.UsageError("--type-in goes with the round alone, and writes no file.")
        return _type_in(folder, on or now.date(), walker, at, now)
    if not file:
        raise click.UsageError("Say where to write it: walkabout sheet --to round.pdf, or --to - for standard output.")
    _must_go_together(what, day=day, at=at, walker=walker, since=since, until=until, people=people)
    if on is not None and on < now.date():
        raise click.UsageError(f"{on} is over. To type in a sheet of that day: walkabout sheet --type-in --day {on}")
    clock = local_now if on is None or on == now.date() else _morning(on)
    opened = _open(folder, clock)
    try:
        data = _made(
            opened, what, _paper(opened, size), (_day(since, "--from"), _day(until, "--to-day")), walker, people
        )
    except ValueError as error:
        raise click.UsageError(visible(str(error))) from error
    finally:
        opened.close()
    _write(data, file)
    return DONE


def _made(
    opened: "OpenRoom", what: str, paper: "Paper", days: tuple[date | None, date | None], walker: str, people: str
) -> bytes:
    """Return the PDF that was asked for; ValueError, one sentence, for what cannot be."""
    if what == "round":
        from walkabout.paper.sheet import round_sheet
        from walkabout.round.walkers import find_walker

        return round_sheet(opened, paper, find_walker(opened.room, walker, opened.today()) if walker else "")
    if what == "cards":
        from walkabout.paper.cards import station_cards

        return station_cards(opened, paper)
    if what == "labels":
        from walkabout.paper.labels import planting_labels

        return planting_labels(opened, paper)
    if what == "handover":
        from walkabout.paper.handover_page import handover_page
        from walkabout.round.handover import handover_of

        return handover_page(handover_of(opened), paper, opened.clock())
    if what == "report":
        from walkabout.paper.report import term_report

        return term_report(opened, paper, *days)
    from walkabout.paper.certificate import certificate

    return certificate(opened, paper, people, *days)


def _must_go_together(what: str, *, day: str, at: str, walker: str, since: str, until: str, people: str) -> None:
    if at:
        raise click.UsageError("--at goes with --type-in.")
    if (day or walker) and what != "round":
        raise click.UsageError("--day and --as go with the round.")
    if (since or until) and what not in ("report", "certificate"):
        raise click.UsageError("--from and --to-day go with the report and the certificate.")
    if people and what != "certificate":
        raise click.UsageError("--for goes with the certificate.")


def _type_in(folder: Path, on: date, walker: str, at: str, now: datetime) -> int:
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
        return run(folder, on, walker, local_now, at=read_time(at) if at else "")
    except (CannotOpen, ValueError) as error:
        raise click.UsageError(visible(str(error))) from error


def _open(folder: Path, clock: "Clock") -> "OpenRoom":
    from walkabout.round.opened import CannotOpen, OpenRoom

    try:
        return OpenRoom(folder, clock)
    except CannotOpen as error:
        raise click.UsageError(visible(str(error))) from error


def _morning(day: date) -> "Clock":
    """Return a clock that stands on the morning of a day still to come."""
    then = datetime.combine(day, time(7, 30)).astimezone()
    return lambda: then


def _paper(opened: "OpenRoom", size: str | None) -> "Paper":
    from walkabout.paper.sizes import A4, LETTER, PAPERS

    if size is None:
        return LETTER if opened.room.units == "US" else A4
    return PAPERS[size]


def _day(typed: str, option: str) -> date | None:
    if not typed:
        return None
    from walkabout.plain.asking import read_day
    from walkabout.reckon.typed_day import day

    try:
        return read_day(day(typed).isoformat())
    except ValueError as error:
        raise click.UsageError(visible(f"{option}: {error}")) from error


def _write(data: bytes, file: str) -> None:
    """Write the PDF, but over nothing that this program did not write."""
    from walkabout.paper.pages import MADE_BY
    from walkabout.records.disk import write_whole

    if file == "-":
        click.echo(data, nl=False)
        return
    path = Path(file).expanduser()
    try:
        if path.exists():
            if not path.is_file():
                raise click.UsageError(visible(f"{file} is not a file. Name another one."))
            before = path.read_bytes()
            if not before.startswith(b"%PDF-"):
                raise click.UsageError(visible(f"{file} is not a PDF. It was left as it is: name another one."))
            if f"/Creator ({MADE_BY} ".encode() not in before:
                says = f"{file} is a PDF that somebody else made. It was left as it is: name another one."
                raise click.UsageError(visible(says))
        write_whole(path.resolve(), data)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise click.ClickException(visible(f"{file} cannot be written: {why}.")) from error
    pages = data.count(b"/Type /Page\n")
    click.echo(visible(f"Written: {file}{f', {pages} pages' if pages > 1 else ''}."))
