"""What Today says, in lines and for other programs."""

from collections import Counter
from contextlib import closing
from pathlib import Path
from typing import Any

import msgspec

from walkabout.checklist.model import NOT_LOOKED, VERDICTS
from walkabout.plain.dialogue import Dialogue, Ended
from walkabout.plain.outcome import job_lines
from walkabout.room.calendar import Clock, local_now
from walkabout.round.opened import OpenRoom
from walkabout.round.spoken import finding_words
from walkabout.round.today import Days, TodayPage, today_page
from walkabout.round.words import day_words


def today_lines(opened: OpenRoom, page: TodayPage) -> list[str]:
    """Return the state of the room, one thing a line."""
    today = opened.today()
    rows = [finding_words(one, opened.name_of(one.station), today) for one in page.findings]
    return [
        f"{opened.room.name}, {today:%A} {today.day} {today:%B}.",
        page.headline,
        page.detail,
        *job_lines(opened, list(page.jobs), "Jobs due"),
        f"Findings open: {len(rows) or 'none'}.",
        *(f"{place}. {row}" for place, row in enumerate(rows, 1)),
        *(f"Ahead, {day_words(one.day, today)}: {one.says}." for one in page.ahead),
        *(_days_line(one, len(page.dates)) for one in page.days if any(one.verdicts)),
        *opened.told,
        mistakes_line(len(opened.mistakes)),
    ]


def today_facts(opened: OpenRoom, page: TodayPage) -> dict[str, Any]:
    """Return the same as plain values, for JSON; each job and finding with the name of its station."""
    facts: dict[str, Any] = msgspec.to_builtins(page)
    for one in (*facts["jobs"], *facts["findings"]):
        one["name"] = opened.name_of(one["station"])
    told, mistakes = list(opened.told), len(opened.mistakes)
    return {"room": opened.room.name, "day": opened.today().isoformat(), **facts, "told": told, "mistakes": mistakes}


def mistakes_line(count: int) -> str:
    """Say that the files people edit have mistakes, and which command lists them; '' without any."""
    if not count:
        return ""
    return f"The room's files have {count} mistake{'s' if count > 1 else ''}: walkabout check lists them."


def say_today(folder: Path, again: str, clock: Clock = local_now, dialogue: Dialogue | None = None) -> bool:
    """Say what Today says and ask whether to walk the round now; CannotOpen when there is no room to open."""
    dialogue = dialogue or Dialogue()
    with closing(OpenRoom(folder, clock)) as opened:
        page = today_page(opened)
        dialogue.say(*today_lines(opened, page))
    try:
        return not page.walked and dialogue.yes("Walk the round now?")
    except Ended:
        dialogue.say(f"To walk it later: {again}")
        return False


def _days_line(days: Days, count: int) -> str:
    """Say a station's strip in words: 'Raft tub, last 14 days: 9 good, 1 watch, 4 without a round'."""
    found = Counter(days.verdicts)
    said = [f"{found[one]} {one}" for one in (*VERDICTS, NOT_LOOKED) if found[one]]
    said += [f"{found['']} without a round"] if found[""] else []
    return f"{days.name}, last {count} days: {', '.join(said)}."
