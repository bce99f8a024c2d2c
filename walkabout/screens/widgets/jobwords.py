"""Jobs and findings in words: as rows of a list, and one of them in full."""

from datetime import date, datetime, timedelta

from textual.content import Content

from walkabout.jobs.findings import cause_words, still_open
from walkabout.jobs.life import due, ordered
from walkabout.records.model import Finding, Happening, Job
from walkabout.round.endings import FOR
from walkabout.round.opened import OpenRoom
from walkabout.round.words import day_words, stamp
from walkabout.screens.text import GLYPHS, STYLES, plain
from walkabout.screens.widgets.pointed import Entry

HISTORY_DAYS = 30
"""So far back closed jobs and findings can be looked at here."""


def open_entries(opened: OpenRoom) -> list[Entry]:
    """Return the rows of what is open: jobs due, jobs for later, findings."""
    today = opened.today()
    now = due(opened.jobs.values(), today)
    later = [job for job in ordered(opened.jobs.values()) if job.due > today]
    findings = still_open(opened.findings.values())
    rows = [Entry("Jobs due", "head"), *(_job(job, opened) for job in now)]
    if not now:
        rows.append(Entry("Nothing is due. All that was asked for is done.", "remark"))
    if later:
        rows += [Entry("Later", "head"), *(_job(job, opened) for job in later)]
    rows += [Entry("Findings still open", "head"), *(_finding(one, opened) for one in findings)]
    if not findings:
        rows.append(Entry("None. f flags something that looks wrong.", "remark"))
    return rows


def closed_entries(opened: OpenRoom) -> list[Entry]:
    """Return the rows of what was closed in the last days, the newest first."""
    since = opened.today() - timedelta(days=HISTORY_DAYS)
    jobs = [(job.closed, job) for job in opened.jobs.values() if job.closed and job.closed.date() >= since]
    findings = [(one.closed, one) for one in opened.findings.values() if one.closed and one.closed.date() >= since]
    rows = [Entry(f"Jobs closed in the last {HISTORY_DAYS} days", "head")]
    rows += [_closed(job, closed, job.closed_by, opened) for closed, job in sorted(jobs, key=_newest)]
    if not jobs:
        rows.append(Entry("None.", "remark"))
    rows.append(Entry(f"Findings closed in the last {HISTORY_DAYS} days", "head"))
    rows += [_closed(one, closed, _last(one.history), opened) for closed, one in sorted(findings, key=_newest)]
    if not findings:
        rows.append(Entry("None.", "remark"))
    return rows


def _newest(pair: tuple[datetime, Job | Finding]) -> float:
    return -pair[0].timestamp()


def _last(history: tuple[Happening, ...]) -> str:
    return history[-1].by if history else ""


def _job(job: Job, opened: OpenRoom) -> Entry:
    today = opened.today()
    return Entry(
        f"{opened.name_of(job.station)}: {job.what}",
        key=job.key,
        verdict=job.verdict,
        who=job.who,
        stands_out=job.who != "pupil",
        when="late" if job.due < today else day_words(job.due, today),
        late=job.due < today,
    )


def _finding(one: Finding, opened: OpenRoom) -> Entry:
    today = opened.today()
    again = one.recheck is not None and one.recheck <= today
    when = "look now" if again else day_words(one.recheck, today) if one.recheck else ""
    says = f"{opened.name_of(one.station)}: {one.seen}"
    return Entry(
        says, key=one.key, verdict=one.verdict, who=one.who, stands_out=one.who != "pupil", when=when, late=again
    )


def _closed(one: Job | Finding, closed: datetime, by: str, opened: OpenRoom) -> Entry:
    says = one.what if isinstance(one, Job) else one.seen
    when = day_words(closed.date(), opened.today())
    return Entry(f"{opened.name_of(one.station)}: {says}", key=one.key, who=by, when=when)


def job_in_full(job: Job, opened: OpenRoom) -> Content:
    """Return all there is to know about a job."""
    today = opened.today()
    late = f"late since {day_words(job.due, today)}" if job.due < today else f"due {day_words(job.due, today)}"
    rows = [
        plain(job.what, "bold"),
        _facts(
            job.verdict, opened.name_of(job.station), f"for {FOR[job.who]}", late if job.closed is None else "closed"
        ),
    ]
    if job.closed is not None:
        rows.append(plain(f"Closed by {job.closed_by} on {stamp(job.closed)}: {job.reason}"))
    elif left := left_undone(job):
        rows.append(plain(left))
    if job.why:
        rows.append(plain(f"Why: {job.why}"))
    if job.caution:
        rows.append(plain(f"Caution: {job.caution}", "$watch"))
    behind = opened.findings.get(job.finding)
    if behind is not None:
        rows.append(plain(f"Seen by {behind.by} on {_day(behind.at.date())}: {behind.seen}", "$muted"))
        days = job.recheck or behind.recheck_days
        if job.closed is None and behind.closed is None:
            rows.append(plain(f"Once it is done, look again after {_days(days)}.", "$muted"))
    return Content("\n").join([*rows, *_history(job.history)])


def finding_in_full(one: Finding, opened: OpenRoom) -> Content:
    """Return all there is to know about a finding."""
    today = opened.today()
    closes = "anybody may close it" if one.who == "pupil" else f"only {FOR[one.who]} may close it"
    rows = [
        plain(one.seen, "bold"),
        _facts(one.verdict, opened.name_of(one.station), f"seen by {one.by} on {stamp(one.at)}", closes),
    ]
    if one.closed is not None:
        rows.append(plain(f"Closed on {stamp(one.closed)}: {one.reason}"))
    elif one.recheck is not None:
        rows.append(plain(f"Look again: {'now' if one.recheck <= today else day_words(one.recheck, today)}."))
    if one.cause:
        rows.append(plain(f"Cause, confirmed by {one.cause_by}: {cause_words(one)}"))
    else:
        rows.append(plain("Once it is known what it was, an adult says so with n.", "$muted"))
    jobs = [job for job in ordered(opened.jobs.values()) if job.finding == one.key]
    rows += [plain(f"Job open for {FOR[job.who]}: {job.what}", "$muted") for job in jobs]
    return Content("\n").join([*rows, *_history(one.history)])


def _facts(verdict: str, *facts: str) -> Content:
    mark = [plain(f"{GLYPHS[verdict]} {verdict}", STYLES[verdict]), plain(" · ")] if verdict else []
    return Content("").join([*mark, plain(" · ".join(facts))])


def _history(history: tuple[Happening, ...]) -> list[Content]:
    if not history:
        return []
    told = [
        Content("").join([plain(f"{_day(one.at.date())}  {one.by}  ", "$muted"), plain(one.says)]) for one in history
    ]
    return [plain(""), *told]


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"


def left_undone(job: Job) -> str:
    """Say how long it can wait, from when it was seen; '' when no fault stands behind it."""
    if job.hours is None:
        return ""
    if job.verdict == "stop":
        return "People come first: this cannot wait."
    return f"Left undone, plants may be lost {hours_words(job.hours)} (counted from {stamp(job.made)})."


def hours_words(hours: float) -> str:
    """Say hours to loss: 'at once', 'within about 4 hours', 'within about 3 days'."""
    if hours < 1:
        return "at once" if hours <= 0 else "within the hour"
    if hours < 36:
        return f"within about {_count(round(hours), 'hour')}"
    days = hours / 24
    if days < 21:
        return f"within about {_count(round(days), 'day')}"
    return f"within about {_count(round(days / 7), 'week')}"


def _count(number: int, one: str) -> str:
    return f"{number} {one}{'s' if number != 1 else ''}"


def _days(days: int) -> str:
    return _count(days, "day")
