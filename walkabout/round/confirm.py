"""Learning from the room: an adult confirms what a finding turned out to be, and the lookup begins from there.

What is confirmed stays with its finding, closed ones included. The more often a cause was confirmed here, the
likelier it is before anything is seen; `diagnosis/evidence.py` has the arithmetic.
"""

from collections import Counter

from msgspec import Struct

from walkabout.diagnosis.consult import UNLISTED_NAME
from walkabout.diagnosis.evidence import UNLISTED, learned
from walkabout.jobs.findings import confirm_cause, take_back_cause
from walkabout.records.model import Finding
from walkabout.room.mistakes import nearest
from walkabout.round.endings import Ending
from walkabout.round.lookup import Lookup, ready
from walkabout.round.opened import OpenRoom


class Nameable(Struct, frozen=True):
    """A cause that can be confirmed."""

    key: str
    name: str
    remark: str = ""
    """How likely the lookup takes it to be: 'likely'; '' where it was not ranked."""


def confirm(opened: OpenRoom, finding: Finding, cause: str, by: str) -> Ending:
    """Return the finding with its cause, to be written down, and what to say then.

    NotAllowed for anybody but an adult; ValueError for a cause that the knowledge does not rank.
    """
    name = cause_name(cause)
    named = confirm_cause(finding, cause, name, by, opened.room.role(by), opened.clock())
    counts = Counter(confirmed_counts(opened))
    counts[finding.cause] -= bool(finding.cause)
    counts[cause] += 1
    return Ending((named,), f"Written down. {_first_capital(_moved(cause, +counts))}")


def take_back(opened: OpenRoom, finding: Finding, by: str) -> Ending:
    """Return the finding without its confirmed cause; NotAllowed for anybody but an adult, ValueError without one."""
    without = take_back_cause(finding, by, opened.room.role(by), opened.clock())
    return Ending((without,), "Taken back. It no longer counts in this room.")


def confirmed_counts(opened: OpenRoom) -> dict[str, int]:
    """Return how often each cause was confirmed in the room, for findings that are closed as well."""
    return dict(Counter(one.cause for one in opened.findings.values() if one.cause))


def learned_words(opened: OpenRoom, cause: str) -> str:
    """Say how the room has moved a cause: 'powdery mildew: confirmed 3 times in this room, so it is thought of …'.

    '' where it was never confirmed here.
    """
    counts = confirmed_counts(opened)
    return _moved(cause, counts) if counts.get(cause) and cause in ready().table.column else ""


def learned_lines(opened: OpenRoom) -> tuple[str, ...]:
    """Return a line for each cause that was confirmed here, the most frequent first."""
    counts = confirmed_counts(opened)
    said = [learned_words(opened, key) for key in sorted(counts, key=lambda one: (-counts[one], one))]
    return tuple(line for line in said if line)


def _moved(cause: str, counts: dict[str, int]) -> str:
    table = ready().table
    column = table.column[cause]
    before, now = float(table.base[column]), float(learned(table, counts)[column])
    times = {1: "once", 2: "twice"}.get(counts[cause], f"{counts[cause]} times")
    was, is_ = _percent(before), _percent(now)
    if was == is_:
        begins = f"that is too little yet to think of it sooner (it begins at {was})"
    elif now > before:
        begins = f"so it is thought of sooner here (it begins at {is_}, elsewhere at {was})"
    else:
        begins = f"other causes more often, so it is thought of later here (it begins at {is_}, elsewhere at {was})"
    return f"{cause_name(cause)}: confirmed {times} in this room, {begins}"


def _percent(share: float) -> str:
    whole = 100 * share
    return f"{whole:.0f} %" if whole >= 1.95 else f"{whole:.1f} %"


def _first_capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


# which causes can be named


def cause_name(cause: str) -> str:
    """Return what a cause is called; ValueError, with the nearest one, for a key that is not ranked."""
    if cause == UNLISTED:
        return UNLISTED_NAME
    causes = ready().known.causes
    if cause not in causes:
        raise ValueError(f"No cause is called '{cause}'. {nearest(cause, causes)}".strip())
    return causes[cause].name


def ranked_for(opened: OpenRoom, finding: Finding, lookup: Lookup | None = None) -> tuple[Nameable, ...]:
    """Return the causes that a lookup ranks for a finding, the likeliest first.

    Without a `lookup` its signs are looked up afresh, with what is on record at its station.
    """
    lookup = lookup or look_up_finding(opened, finding)
    return tuple(Nameable(one.key, one.name, one.word) for one in lookup.answer().causes)


def look_up_finding(opened: OpenRoom, finding: Finding, walker: str = "") -> Lookup:
    """Return a lookup of what a finding shows: its words, and its signs where a lookup raised it."""
    from walkabout.round.lookup_start import at_station  # noqa: PLC0415 - it counts what is confirmed here

    lookup = at_station(opened, finding.station, walker or finding.by)
    known = lookup.ready.known
    signs = [one for one in finding.signs if one in known.signs or one in known.generals]
    if finding.question or not signs:
        lookup.say(finding.seen)
        return lookup
    words = finding.seen
    for sign in signs:  # the names of its own signs are known exactly; only what else was written is read
        words = words.replace((known.signs.get(sign) or known.generals[sign]).name, "")
    lookup.say(words)
    for sign in signs:
        lookup.set_sign(sign, present=True)
    return lookup
