"""What can be printed, and printing it: the one place where the command and the screen meet.

A `Wanted` says what; `made` returns the PDF of an open room, `printed` opens the room on the day that is wanted first;
`write_pdf` writes a PDF over nothing that this program did not write.
"""
# ruff: noqa: PLC0415 - each kind of page is loaded only when it is printed

import re
import unicodedata
from datetime import date, datetime, time
from pathlib import Path

from msgspec import Struct

from walkabout.paper.sizes import A4, LETTER, PAPERS, Paper
from walkabout.room.calendar import Clock
from walkabout.round.opened import OpenRoom

LONGEST_NAME = 28
"""Characters of what somebody typed that go into the suggested name of a file."""


class Kind(Struct, frozen=True):
    """Something that can be printed: its name in a command, its title, what it is for, and what it takes.

    `takes` names the fields of `Wanted` besides `what` and `paper`.
    """

    name: str
    title: str
    about: str
    takes: tuple[str, ...] = ()


KINDS = (
    Kind("round", "The round", "boxes to tick by hand, typed in later by their codes", ("day", "walker")),
    Kind("cards", "Station cards", "what good looks like at each station, and what to do first"),
    Kind("labels", "Planting labels", "one for each pot or tray, to be cut apart"),
    Kind("handover", "Handing over", "what a substitute needs to keep everything alive"),
    Kind("plots", "Plots of a trial", "which plot gets what, with columns to write in", ("trial",)),
    Kind("report", "Report", "the term in pictures, for pupils, parents and the head", ("since", "until")),
    Kind("certificate", "Certificate", "what a class or a group grew, to be signed", ("people", "since", "until")),
)
"""In the order in which they are offered."""
WHAT = tuple(one.name for one in KINDS)
FIELDS = {
    "day": "A day to come goes",
    "walker": "Who walks goes",
    "since": "A first day goes",
    "until": "A last day goes",
    "people": "For whom it is goes",
    "trial": "A trial goes",
}
"""How a field begins a sentence that says what it goes with."""
NAMED = {
    "round": "the round", "report": "the report", "certificate": "the certificate", "plots": "the plots of a trial",
}  # fmt: skip


class Wanted(Struct, frozen=True, kw_only=True):
    """What is to be printed. Whatever is left empty is as usual."""

    what: str
    """One of WHAT."""
    paper: str = ""
    """'A4' or 'Letter'; '' as the room's units have it."""
    day: date | None = None
    """The day of the round, today or later."""
    walker: str = ""
    """Who walks, by code."""
    since: date | None = None
    until: date | None = None
    """The first and the last day of a report or a certificate."""
    people: str = ""
    """The class or group that a certificate is for."""
    trial: str = ""
    """The key of a trial, or its number in the list of trials."""


class NotWritten(Exception):
    """The system would not write the file; the text is one sentence."""


# what is wanted


def kind_of(what: str) -> Kind:
    """Return what is printed under a name; ValueError names what there is."""
    found = next((one for one in KINDS if one.name == what), None)
    if found is None:
        raise ValueError(f'"{what}" cannot be printed. There is: {", ".join(WHAT)}.')
    return found


def must_go_together(wanted: Wanted) -> None:
    """Raise ValueError, in one sentence, for something that does not go with what is printed."""
    takes = kind_of(wanted.what).takes
    for field, begins in FIELDS.items():
        if getattr(wanted, field) and field not in takes:
            with_ = " and ".join(NAMED[one.name] for one in KINDS if field in one.takes)
            raise ValueError(f"{begins} with {with_}.")
    if wanted.paper and wanted.paper not in PAPERS:
        raise ValueError(f'"{wanted.paper}" is no paper here. There is: {", ".join(PAPERS)}.')


def paper_of(opened: OpenRoom, wanted: Wanted) -> Paper:
    """Return the paper that is wanted; where none is named, as usual where the room's units are."""
    return PAPERS[wanted.paper] if wanted.paper else usual_paper(opened)


def usual_paper(opened: OpenRoom) -> Paper:
    """Return Letter for a room with US units, else A4."""
    return LETTER if opened.room.units == "US" else A4


def file_name(wanted: Wanted, today: date, of: str = "") -> str:
    """Suggest a name for the file: 'round-2026-11-25.pdf', 'certificate-class-8b-2026-11-25.pdf'.

    `of`: the question of the trial, so that each trial has a file of its own.
    """
    parts = [wanted.what, _in_a_name(wanted.people or of)]
    if wanted.since is not None:
        parts += [wanted.since.isoformat(), "to"]
    parts.append((wanted.day or wanted.until or today).isoformat())
    return f"{'-'.join(filter(None, parts))}.pdf"


def _in_a_name(typed: str) -> str:
    """Return the letters and digits of a text with hyphens between: nothing in it can be a path."""
    words = re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", typed).casefold())
    return words[:LONGEST_NAME].strip("-")


# making it


def printed(folder: Path, clock: Clock, wanted: Wanted) -> tuple[bytes, Paper]:
    """Open the room in `folder`, on the morning of a day to come where that is wanted; return the PDF and its paper.

    ValueError, in one sentence, for what cannot be; CannotOpen where there is no room.
    """
    must_go_together(wanted)
    ahead = wanted.day is not None and wanted.day > clock().date()
    opened = OpenRoom(folder, _morning(wanted.day) if ahead and wanted.day else clock)
    try:
        return made(opened, wanted), paper_of(opened, wanted)
    finally:
        opened.close()


def made(opened: OpenRoom, wanted: Wanted) -> bytes:
    """Return the PDF that is wanted, as the room is today; ValueError, one sentence, for what cannot be."""
    must_go_together(wanted)
    paper, what = paper_of(opened, wanted), wanted.what
    if what == "round":
        from walkabout.paper.sheet import round_sheet
        from walkabout.round.walkers import find_walker

        _must_be_ahead(wanted.day, opened.today())
        walker = find_walker(opened.room, wanted.walker, opened.today()) if wanted.walker else ""
        return round_sheet(opened, paper, walker)
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
    if what == "plots":
        from walkabout.paper.plot_lines import find_trial
        from walkabout.paper.plot_list import plot_list

        return plot_list(opened, paper, find_trial(opened, wanted.trial))
    if what == "report":
        from walkabout.paper.report import term_report

        return term_report(opened, paper, wanted.since, wanted.until)
    from walkabout.paper.certificate import certificate

    return certificate(opened, paper, wanted.people, wanted.since, wanted.until)


def _must_be_ahead(day: date | None, today: date) -> None:
    if day is not None and day < today:
        raise ValueError(f"{day} is over. To type in a sheet of that day: walkabout sheet --type-in --day {day}")
    if day is not None and day > today:
        raise ValueError(f"This room was opened on {today}: open it on {day} for the round of that day.")


def _morning(day: date) -> Clock:
    """Return a clock that stands on the morning of a day still to come."""
    then = datetime.combine(day, time(7, 30)).astimezone()
    return lambda: then


# writing it


def pages_of(data: bytes) -> int:
    """Return how many pages a PDF of this program has."""
    return data.count(b"/Type /Page\n")


def usual_folder() -> Path:
    """Return where a user's documents lie, else the user's own folder, else where the program was started."""
    from platformdirs import user_documents_path

    try:
        found = [user_documents_path(), Path.home()]
    except (RuntimeError, OSError):
        found = []
    return next((one for one in found if one.is_dir()), Path.cwd())


def write_pdf(path: Path, data: bytes) -> int:
    """Write a PDF and return how many pages it has.

    ValueError, in one sentence, for a name that does not end in .pdf, so that nobody takes it for something else, and
    where something lies there that this program did not write: it is left as it is.
    NotWritten where the system would not write.
    """
    from walkabout.records.disk import write_whole

    if "\0" in str(path):
        raise ValueError("That is no name of a file: there is a letter in it that nobody can type.")
    try:
        path = path.expanduser()
        if path.exists():
            _must_be_ours(path)
        if path.suffix.lower() != ".pdf":
            raise ValueError(f"{path} would be a PDF: name it so that it ends in .pdf, such as {path.stem}.pdf.")
        if not path.parent.is_dir():
            raise NotWritten(f"{path} cannot be written: there is no folder {path.parent}.")
        write_whole(path.resolve(), data)
    except (OSError, RuntimeError) as error:
        why = getattr(error, "strerror", None) or error
        raise NotWritten(f"{path} cannot be written: {why}.") from error
    return pages_of(data)


def _must_be_ours(path: Path) -> None:
    from walkabout.paper.pages import MADE_BY

    if not path.is_file():
        raise ValueError(f"{path} is not a file. Name another one.")
    before = path.read_bytes()
    if not before.startswith(b"%PDF-"):
        raise ValueError(f"{path} is not a PDF. It was left as it is: name another one.")
    if f"/Creator ({MADE_BY} ".encode() not in before:
        raise ValueError(f"{path} is a PDF that somebody else made. It was left as it is: name another one.")
