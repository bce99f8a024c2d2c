"""New plants standing apart: how long, and the weekly look that reminds of them."""

from collections.abc import Iterable
from datetime import datetime, timedelta

import msgspec

from walkabout.checklist.model import Choice, Question
from walkabout.records.model import Finding, Happening, Planting

APART_DAYS = 28
"""How long new plants stand apart: three weeks (Colorado State Extension) to six (Clemson HGIC), as relayed."""
LOOK_DAYS = 7
"""How often they are looked at meanwhile. Common practice."""


def reminder(planting: Planting, by: str, now: datetime) -> Finding:
    """Return what reminds of looking each week at a planting that stands apart from today on."""
    until = now.date() + timedelta(days=APART_DAYS)
    name = f"{planting.crop.replace('-', ' ')} {planting.label}".strip()
    says = f"new plants stand apart until {until.day} {until:%b}: {name}"
    return Finding(
        key=_reminder_key(planting),
        station=planting.station,
        seen=says,
        verdict="watch",
        by=by,
        at=now,
        planting=planting.key,
        recheck=now.date() + timedelta(days=LOOK_DAYS),
        recheck_days=LOOK_DAYS,
        history=(Happening(at=now, by=by, says=says),),
    )


def _reminder_key(planting: Planting) -> str:
    return f"f-{planting.key}"


def reminds_of_newcomers(finding: Finding) -> bool:
    """Say whether this finding is the weekly look at plants that stand apart."""
    return bool(finding.planting) and finding.key == f"f-{finding.planting}"


def look_at_newcomers(finding: Finding, question: str) -> Question:
    """Return the weekly look at plants that stand apart, under the id `question`.

    A clean look lets them stay apart for another week, and ends it once the time is over.
    """
    over = finding.at.date() + timedelta(days=APART_DAYS)
    last = finding.recheck is None or finding.recheck >= over
    joined = "They may join the others." if last else f"They stay apart until {over.day} {over:%b}."
    return Question(
        id=question,
        ask="What do you see on the new plants with a lens?",
        how=f"Look under three leaves and into the tips, then wash your hands: {finding.seen}.",
        seconds=20,
        should=LOOK_DAYS,
        must=LOOK_DAYS,
        may_not_apply=False,
        choices=(
            Choice(
                id="clean", says="nothing moves, no webs, no fluff", verdict="good" if last else "watch", why=joined
            ),
            Choice(
                id="pests",
                says="something moves, webs, fluff or spots",
                verdict="today",
                why="New plants can bring in pests that reach every station.",
                do="Leave them where they stand apart, wash your hands, and tell an adult.",
                job="Decide what becomes of the new plants",
                caution="Nothing is sprayed, soap included, until the person in charge of pest control agrees.",
            ),
        ),
        source="Colorado State Extension (3 weeks) and Clemson HGIC (6 weeks), as relayed; weekly is common practice",
    )


def reminders_after(finding: Finding, plantings: Iterable[Planting], by: str, now: datetime) -> tuple[Finding, ...]:
    """Return what becomes of the reminder once its planting was moved, split or ended."""
    found = []
    for planting in plantings:
        if planting.key == finding.planting and planting.ended is not None:
            gone = Happening(at=now, by=by, says=f"closed: the planting has ended ({planting.reason})")
            found.append(
                msgspec.structs.replace(
                    finding,
                    closed=now,
                    recheck=None,
                    reason="the planting has ended",
                    history=(*finding.history, gone),
                )
            )
        elif planting.key == finding.planting and planting.station != finding.station:
            found.append(msgspec.structs.replace(finding, station=planting.station))
        elif planting.key != finding.planting and planting.ended is None:
            found.append(
                msgspec.structs.replace(
                    finding, key=_reminder_key(planting), station=planting.station, planting=planting.key
                )
            )
    return tuple(found)
