"""What came of an answer, in lines."""

from walkabout.checklist.model import Meaning
from walkabout.records.model import Job
from walkabout.room.model import Who
from walkabout.round.judge import Judgement
from walkabout.round.opened import OpenRoom
from walkabout.round.spoken import due_words, job_words, who_words
from walkabout.round.summary import Summary
from walkabout.round.walk import Outcome
from walkabout.round.words import VERDICT_MEANS, answer_words, minutes_words


def saved_line(what: str, unsaved: str) -> str:
    """Say that something is on disk, or why it is not."""
    if unsaved:
        return f"Not saved yet: {what}. {unsaved} It is tried again with the next answer."
    return f"Saved: {what}."


def outcome_lines(opened: OpenRoom, outcome: Outcome, role: Who) -> list[str]:
    """Return the answer as written down, its verdict and all that follows, each on its own line."""
    answer = outcome.answer
    question = opened.question(answer.station, answer.question)
    lines = [saved_line(answer_words(question, answer, scales=opened.scales), outcome.unsaved)]
    if answer.state == "answered":
        lines += judgement_lines(outcome.judgement, role)
        lines += [_job_line(job, opened) for job in outcome.jobs]
    return lines


def judgement_lines(judgement: Judgement, role: Who) -> list[str]:
    """Return the verdict word and each reason with what to do, who may do it, and the danger."""
    word, means = judgement.verdict, VERDICT_MEANS[judgement.verdict]
    lines = [f"{word.upper() if judgement.alarm else word.capitalize()}: {means}."]
    for meaning in judgement.meanings:
        lines += _meaning_lines(meaning, role)
    return lines


def _meaning_lines(meaning: Meaning, role: Who) -> list[str]:
    lines = [f"Why: {meaning.why}" if meaning.why else ""]
    if meaning.do:
        lines += [f"Do: {meaning.do}", f"Who: {who_words(meaning.who, role)}"]
    lines.append(f"Caution: {meaning.caution}" if meaning.caution else "")
    if meaning.hold_days:
        days = f"{meaning.hold_days} day{'s' if meaning.hold_days != 1 else ''}"
        lines.append(f"Keep apart: these plants stay away from the others for {days}.")
    return lines


def _job_line(job: Job, opened: OpenRoom) -> str:
    return f"Job written down: {job.what}; for {job.who}, {due_words(job.due, opened.today())}."


def summary_lines(opened: OpenRoom, summary: Summary) -> list[str]:
    """Return the round in figures and the jobs of the day by hours to loss."""
    looked = f"{summary.answered} answered, {summary.not_looked} not looked at"
    lines = [f"The round is walked: {looked}, {minutes_words(summary.seconds)}."]
    lines.append("What was not looked at comes first next time." if summary.not_looked else "")
    return [*lines, summary.glad, *job_lines(opened, list(summary.jobs), "Jobs due")]


def job_lines(opened: OpenRoom, jobs: list[Job], title: str) -> list[str]:
    """Return a heading with their number, and a line for each job."""
    if not jobs:
        return [f"{title}: none."]
    today = opened.today()
    rows = [f"{place}. {job_words(job, opened.name_of(job.station), today)}" for place, job in enumerate(jobs, 1)]
    return [f"{title}: {len(jobs)}, by hours to loss.", *rows]
