"""What Today says, in lines."""

from contextlib import closing
from pathlib import Path

from walkabout.plain.dialogue import Dialogue, Ended
from walkabout.room.calendar import Clock, local_now
from walkabout.round.front import Front, Walked, front
from walkabout.round.opened import OpenRoom
from walkabout.round.spoken import finding_words, job_words
from walkabout.round.words import minutes_words


def today_lines(front: Front) -> list[str]:
    """Return the state of the room, one thing a line."""
    lines = [f"{front.room}, {front.day:%A} {front.day.day} {front.day:%B}.", *_round_lines(front)]
    if front.closest:
        why = f" {front.closest.why}" if front.closest.why else ""
        lines.append(f"Look most closely at {front.closest.name}: {front.closest.ask}{why}")
    lines.append(f"Jobs due: {len(front.jobs)}, by hours to loss." if front.jobs else "Jobs due: none.")
    lines += [
        f"{place}. {job_words(job, front.names[job.station], front.day)}" for place, job in enumerate(front.jobs, 1)
    ]
    lines.append(f"Findings open: {len(front.findings)}." if front.findings else "Findings open: none.")
    lines += [
        f"{place}. {finding_words(finding, front.names[finding.station], front.day)}"
        for place, finding in enumerate(front.findings, 1)
    ]
    return [*lines, *front.told, mistakes_line(front.mistakes)]


def mistakes_line(count: int) -> str:
    """Say that the files people edit have mistakes, and which command lists them; '' without any."""
    if not count:
        return ""
    return f"The room's files have {count} mistake{'s' if count > 1 else ''}: walkabout check lists them."


def _round_lines(front: Front) -> list[str]:
    lines = [_walked(one) for one in front.rounds]
    if front.closure:
        lines.append(f"Nobody is expected today: {front.closure}.")
    elif not front.expected:
        lines.append("Nobody is expected today.")
    if not front.rounds:
        lines.append("The round has not been walked today.")
    if front.questions:
        what = f"{front.questions} question{'s' if front.questions > 1 else ''}"
        where = f"{front.stations} station{'s' if front.stations != 1 else ''}"
        more = "Still to ask" if front.rounds else "It asks"
        lines.append(f"{more}: {what} at {where}, {minutes_words(front.seconds)}.")
    else:
        lines.append("Nothing is left to look at today.")
    return lines


def _walked(one: Walked) -> str:
    who = one.walker or "somebody without a code"
    if one.ended is None:
        return f"A round by {who}, begun at {one.started:%H:%M}, is not finished."
    return f"Walked by {who}, {one.started:%H:%M} to {one.ended:%H:%M}: {one.questions} questions."


def say_today(folder: Path, again: str, clock: Clock = local_now, dialogue: Dialogue | None = None) -> bool:
    """Say what Today says and ask whether to walk the round now; CannotOpen when there is no room to open."""
    dialogue = dialogue or Dialogue()
    with closing(OpenRoom(folder, clock)) as opened:
        state = front(opened)
    dialogue.say(*today_lines(state))
    try:
        return bool(state.questions) and dialogue.yes("Walk the round now?")
    except Ended:
        dialogue.say(f"To walk it later: {again}")
        return False
