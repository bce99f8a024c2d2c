"""Jobs as lines: what and where, who, by when."""

from collections.abc import Sequence
from datetime import date

from textual.content import Content

from walkabout.jobs.life import words_for
from walkabout.records.model import Job
from walkabout.round.opened import OpenRoom
from walkabout.round.words import day_words
from walkabout.screens.text import GLYPHS, STYLES, fitted, plain

WHO_WIDTH = 16
DUE_WIDTH = 10


def job_line(job: Job, opened: OpenRoom, width: int) -> Content:
    """Return one job in one line of `width` cells: glyph, what and where, who, due."""
    today = opened.today()
    what = f"{opened.name_of(job.station)}: {job.what}"
    room = max(width - WHO_WIDTH - DUE_WIDTH - 3, 10)
    who = words_for(job.who)
    return Content("").join(
        [
            plain(f"{GLYPHS[job.verdict]} ", STYLES[job.verdict]),
            plain(fitted(what, room)),
            plain(" " + fitted(who, WHO_WIDTH), "$watch" if job.who != "pupil" else "$muted"),
            plain(_due(job.due, today), "$act" if job.due < today else "$muted"),
        ]
    )


def job_lines(jobs: Sequence[Job], opened: OpenRoom, width: int) -> Content:
    """Return the jobs under each other."""
    return Content("\n").join(job_line(job, opened, width) for job in jobs)


def _due(due: date, today: date) -> str:
    return "late" if due < today else day_words(due, today)
