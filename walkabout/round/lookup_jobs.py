"""What a lookup leaves behind: a finding with its signs, and jobs that bring it back in the round."""

from collections.abc import Sequence
from datetime import timedelta

import msgspec
from msgspec import Struct

from walkabout.diagnosis.evidence import UNLISTED
from walkabout.diagnosis.plan import ToDo
from walkabout.jobs.findings import flag, still_open
from walkabout.jobs.make import already_asked, from_step
from walkabout.records.model import Finding, Job, Verdict
from walkabout.room.model import WHOLE_ROOM, Who, may
from walkabout.round.flagged import Flagged, flag_finding
from walkabout.round.lookup import Lookup
from walkabout.round.opened import OpenRoom

MOST_SIGNS = 3
"""So many signs are named in a finding; a question that looks again has two lines."""
MOST_CAUSES = 2

ONCE = frozenset({"photograph", "wash-hands"})
"""Shared steps that are asked for once for a finding, even after they were done."""


class Made(Struct, frozen=True):
    """What was written down, all together."""

    jobs: tuple[Job, ...]
    finding: Finding | None
    """The finding that the jobs belong to, so that it is looked at again; None where no job was made."""
    before: tuple[Job, ...] = ()
    """Open jobs that asked for the same already."""
    unsaved: str = ""
    """Why it is only in memory so far; '' on disk."""

    @property
    def says(self) -> str:
        """What was done, in a sentence or two."""
        many, asked = len(self.jobs), len(self.before)
        made = {0: "No new job.", 1: "One job written down."}.get(many, f"{many} jobs written down.")
        again = {0: "", 1: "One was asked for already."}.get(asked, f"{asked} were asked for already.")
        return " ".join(part for part in (made, again) if part)


def offered(do: Sequence[ToDo], role: Who) -> tuple[ToDo, ...]:
    """Return the steps of which somebody in this role may make jobs, in the order of doing.

    What waits to see whether it stays, what only licensed people do and what kills is an adult's to ask for.
    """
    if may(role, "adult"):
        return tuple(do)
    return tuple(one for one in do if one.when != "if it stays" and one.who != "licensed" and not one.pesticide)


def for_today(do: Sequence[ToDo], role: Who) -> tuple[ToDo, ...]:
    """Return what may be asked for all at once: today's steps that this role may do; never what kills."""
    return tuple(one for one in do if one.when == "now" and may(role, one.who) and not one.pesticide)


def keep_finding(opened: OpenRoom, lookup: Lookup, station: str, by: str, verdict: Verdict) -> Flagged:
    """Write a finding down with what was seen in a lookup; ValueError when nothing was seen yet.

    What is grave gets the job that asks an adult to decide, as for any finding.
    """
    return flag_finding(opened, station or WHOLE_ROOM, seen_words(lookup), verdict, by, signs=_signs(lookup))


def make_jobs(
    opened: OpenRoom,
    lookup: Lookup,
    chosen: Sequence[ToDo],
    station: str,
    by: str,
    finding: Finding | None = None,
) -> Made:
    """Write down jobs for the chosen steps, and the finding behind them; once they are done it is looked at again.

    An open `finding`, or an open one with the same signs at the station, is taken; else one is opened. What an open
    job at the station asks for already is not asked for twice. ValueError when nothing was seen yet, or for a step
    that is not `offered` to this walker. Each job counts as made a moment after the one before, so that a list keeps
    the plan's order among what is due the same day.
    """
    place, now = station or WHOLE_ROOM, opened.clock()
    if len(offered(chosen, opened.room.role(by))) < len(chosen):
        raise ValueError("One of these steps is an adult's to ask for. Nothing was written down.")
    behind = finding if finding is not None and finding.closed is None else _same(opened, lookup, place)
    new = behind is None
    if behind is None:
        flagged = flag(station=place, seen=seen_words(lookup), verdict="today", by=by, now=now, signs=_signs(lookup))
        days = min((one.recheck for one in chosen), default=flagged.recheck_days)
        behind = msgspec.structs.replace(flagged, recheck_days=days)
    jobs: list[Job] = []
    before: list[Job] = []
    for place_in_plan, step in enumerate(chosen):
        made = now + timedelta(microseconds=place_in_plan)
        job = from_step(step, station=place, by=by, now=made, why=why(lookup, step), finding=behind.key)
        asked = already_asked([*opened.jobs.values(), *jobs], job) or _done_once(opened, step, job)
        if asked is None:
            jobs.append(job)
        elif asked not in jobs:
            before.append(asked)
    if not jobs:
        return Made((), None, tuple(before))
    unsaved = opened.save(*((behind,) if new else ()), *jobs)
    return Made(tuple(jobs), behind, tuple(before), unsaved)


def seen_words(lookup: Lookup) -> str:
    """Return what is seen, in the words of the signs; ValueError when nothing is."""
    names = [one.name for one in lookup.seen() if one.present]
    if not names:
        raise ValueError("Say what is seen first.")
    more = len(names) - MOST_SIGNS
    return ", ".join(names[:MOST_SIGNS]) + (f", and {more} more" if more > 0 else "")


def why(lookup: Lookup, step: ToDo) -> str:
    """Say what a step is for, and how likely each of its causes is."""
    word = {one.key: f"{one.word} {one.name}" for one in lookup.answer().causes if one.key != UNLISTED}
    meant = [word[key] for key in step.causes if key in word][:MOST_CAUSES]
    return f"From a lookup: {', '.join(meant)}." if meant else "From a lookup: it is right whatever the cause is."


def _done_once(opened: OpenRoom, step: ToDo, new: Job) -> Job | None:
    """Return the job, done or not, that has asked for the same once for this finding."""
    alike = (one for one in opened.jobs.values() if (one.finding, one.what) == (new.finding, new.what))
    return next(alike, None) if step.use in ONCE else None


def _signs(lookup: Lookup) -> tuple[str, ...]:
    return tuple(one.key for one in lookup.seen() if one.present)


def _same(opened: OpenRoom, lookup: Lookup, station: str) -> Finding | None:
    """Return the open finding of these very signs at the station."""
    signs = set(_signs(lookup))
    alike = (one for one in still_open(opened.findings.values()) if one.station == station and not one.question)
    return next((one for one in alike if signs and set(one.signs) == signs), None)
