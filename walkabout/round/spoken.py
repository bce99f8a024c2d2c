"""A wanted range, a job or a finding in one line, for faces that speak rather than draw."""

from datetime import date

from walkabout.checklist.model import Reading
from walkabout.growing.units import Scales, words
from walkabout.jobs.life import NO_HURRY
from walkabout.records.model import Finding, Job
from walkabout.room.model import Who, may
from walkabout.round.wants import Wanted
from walkabout.round.words import day_words

WHO_MAY: dict[Who, str] = {
    "pupil": "A pupil may do this.",
    "adult": "Only an adult may do this.",
    "licensed": "Only a licensed person may do this; local codes decide.",
}


def range_words(reading: Reading, wanted: Wanted | None, *, scales: Scales) -> str:
    """Say what is good: 'Wanted: pH 5.8 to pH 6.2, what basil wants (source).', '' where nothing is known."""
    pair = (wanted.low, wanted.high) if wanted is not None else reading.good
    if pair is None:
        return ""
    low, high = (words(one, reading.unit, scales, reading.decimals) for one in pair)
    if pair[0] <= reading.possible[0]:
        ends = f"at most {high}"
    elif pair[1] >= reading.possible[1]:
        ends = f"at least {low}"
    else:
        ends = low if low == high else f"{low} to {high}"
    return f"Wanted: {ends}, {wanted.says if wanted is not None else 'the usual range'}."


def who_words(least: Who, role: Who) -> str:
    """Say who may do a thing, and to somebody who may not, whom to tell."""
    if may(role, least):
        return WHO_MAY[least]
    return f"{WHO_MAY[least]} Tell {'an adult' if least == 'adult' else 'an adult, who calls one'}."


def hours_words(hours: float | None) -> str:
    """Say the hours to loss: 'loss in 40 hours', 'loss in 14 days', 'at once', 'no hurry'."""
    if hours is None or hours >= NO_HURRY:
        return "no hurry"
    if hours < 0.5:
        return "at once"
    if hours < 48:
        return f"loss in {hours:.0f} hour{'s' if round(hours) != 1 else ''}"
    return f"loss in {hours / 24:.0f} days"


def due_words(due: date, today: date) -> str:
    """Say when a job is due."""
    return f"{'overdue since' if due < today else 'due'} {day_words(due, today)}"


def job_words(job: Job, place: str, today: date) -> str:
    """Say a job in one line, with its caution; `place` is the name of its station."""
    who = {"pupil": "a pupil may do it", "adult": "an adult", "licensed": "a licensed person"}[job.who]
    said = f"{place}: {_closed(job.what)} For: {who}. {_sentence(hours_words(job.hours))}"
    said = f"{said} {_sentence(due_words(job.due, today))}"
    return f"{said} Caution: {_closed(job.caution)}" if job.caution else said


def finding_words(finding: Finding, place: str, today: date) -> str:
    """Say a finding in one line."""
    says = f"{place}: {_closed(finding.seen)} Seen {day_words(finding.at.date(), today)} by {finding.by or 'somebody'}."
    return f"{says} Look again: {day_words(finding.recheck, today)}." if finding.recheck else says


def doubtful_words(why: str) -> str:
    """Say why an earlier reading is not to be trusted, or ''."""
    return f"It is doubtful: {_closed(why)}" if why else ""


def _closed(text: str) -> str:
    text = text.strip()
    return text if text.endswith((".", "?", "!")) else f"{text}."


def _sentence(text: str) -> str:
    return _closed(text[:1].upper() + text[1:])
