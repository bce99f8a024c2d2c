"""The whole round as a line dialogue, over the same walk as the full screen."""

from pathlib import Path

from walkabout.exits import ATTEND, DONE
from walkabout.growing.units import shown, words
from walkabout.plain.dialogue import Dialogue, Ended
from walkabout.plain.finding import ask_finding
from walkabout.plain.outcome import job_lines, outcome_lines, summary_lines
from walkabout.plain.question import NotAnAnswer, help_lines, question_lines, station_line, understood
from walkabout.plain.today import mistakes_line
from walkabout.plain.who import ask_walker
from walkabout.records.book import NotSaved
from walkabout.records.model import Round
from walkabout.room.calendar import Clock, local_now
from walkabout.round.begin import begin, take_up
from walkabout.round.course import Step
from walkabout.round.opened import OpenRoom
from walkabout.round.walk import Outcome, Walk
from walkabout.round.walkers import ROLES, find_walker
from walkabout.round.words import minutes_words

ASKS = "Who walks?"
FIRST = "Plain mode: one line at a time. Type an answer and press Enter."
AGAIN = "walkabout round --plain"


def run(
    folder: Path, walker: str = "", again: str = AGAIN, clock: Clock = local_now, dialogue: Dialogue | None = None
) -> int:
    """Walk today's round in lines and return the exit status; CannotOpen when there is no room to walk.

    `walker` is a code, '' to ask who walks; `again` is the command that begins a round in this room.
    """
    dialogue = dialogue or Dialogue()
    dialogue.say(FIRST)
    opened = OpenRoom(folder, clock)
    walk: Walk | None = None
    try:
        try:
            dialogue.say(f"{opened.room.name}, {opened.today():%A} {opened.today().day} {opened.today():%B}.")
            dialogue.say(*opened.told, mistakes_line(len(opened.mistakes)))
            today = opened.today()
            code = find_walker(opened.room, walker, today) if walker else ask_walker(dialogue, opened.room, today, ASKS)
            walk = _begin(dialogue, opened, code)
            if walk is not None:
                _walk(dialogue, walk)
        except (Ended, KeyboardInterrupt):
            return _paused(dialogue, opened, walk, again)
        return DONE if _all_on_disk(dialogue, opened) else ATTEND
    finally:
        try:
            opened.close()
        except NotSaved as error:
            dialogue.say(str(error))


def _begin(dialogue: Dialogue, opened: OpenRoom, walker: str) -> Walk | None:
    """Begin the round or take one up; None when nothing is left to ask."""
    role = ROLES[opened.room.role(walker)]
    dialogue.say(f"{walker}, {role}." if walker else f"Without a code: {role}.")
    open_rounds = [one for one in opened.rounds_today() if one.ended is None]
    mine = [one for one in open_rounds if one.walker == walker]
    others = [one for one in open_rounds if one.walker != walker]
    walk = None
    if not mine and others and _go_on(dialogue, opened, others[-1]):
        walk = take_up(opened, others[-1], walker)
    if walk is None and not mine and not opened.plan(walker).asked:
        dialogue.say("Nothing is left to look at today.", *job_lines(opened, opened.jobs_due(), "Jobs due"))
        return None
    walk = walk or begin(opened, walker)
    begun = walk.position
    if begun:
        dialogue.say(f"Going on at question {begun + 1} of {len(walk)}, {minutes_words(walk.remaining())} to go.")
    else:
        where = len(walk.stations())
        what = f"{len(walk)} question{'s' if len(walk) != 1 else ''} at {where} place{'s' if where != 1 else ''}"
        dialogue.say(f"Today: {what}, {minutes_words(walk.remaining())}.")
    return walk


def _go_on(dialogue: Dialogue, opened: OpenRoom, record: Round) -> bool:
    who, left = record.walker or "Somebody", take_up(opened, record, record.walker)
    at = f"left at question {left.position + 1} of {len(left)}"
    return dialogue.yes(f"{who} began a round at {record.started:%H:%M}, {at}. Go on with it?")


def _walk(dialogue: Dialogue, walk: Walk) -> None:
    """Ask every question; each turn says the question and takes one typed line."""
    place, said_late = "", False
    while True:
        step = walk.step
        if step is None:
            if _at_the_end(dialogue, walk):
                dialogue.say(*summary_lines(walk.opened, walk.finish()))
                return
            place = ""
            continue
        if step.here.key != place:
            place = step.here.key
            dialogue.say(station_line(walk, step))
        if walk.late and not said_late:
            said_late = True
            dialogue.say(f"The round is late: w leaves {len(walk.can_wait())} questions that can wait.")
        typed = dialogue.ask(*question_lines(walk, step))
        if typed.lower() == "r":
            place = ""
        elif typed:
            _take(dialogue, walk, step, typed)


def _at_the_end(dialogue: Dialogue, walk: Walk) -> bool:
    """Say whether the round is over, or somebody went back."""
    while True:
        try:
            typed = dialogue.ask("That was the last question. Enter ends the round, b goes back.").lower()
        except Ended:
            return True  # everything is answered: nothing is left to pause
        if typed in ("", "p"):
            return True
        if typed == "b":
            if walk.back():
                return False
            dialogue.say("There is nothing to go back to.")


def _take(dialogue: Dialogue, walk: Walk, step: Step, typed: str) -> None:
    """Do what one typed line asks for."""
    word = typed.lower()
    if word == "p":
        raise Ended
    if word == "?":
        dialogue.say(*help_lines(step, late=walk.late))
    elif word == "b":
        if not walk.back():
            dialogue.say("This is the first question.")
    elif word == "g" and walk.given() is not None:
        walk.forward()
    elif word == "f":
        ask_finding(dialogue, walk.opened, step.here.key, walk.walker)
        walk.resume_clock()
    elif word == "l":
        _look_up(dialogue, walk, step)
    elif word == "s":
        _skip(dialogue, walk, step)
    elif word == "w":
        _leave(dialogue, walk)
    else:
        try:
            _tell(dialogue, walk, walk.does_not_apply() if word == "x" else _answer(dialogue, walk, step, typed))
        except (NotAnAnswer, ValueError) as error:
            dialogue.say(_sentence(str(error)))


def _answer(dialogue: Dialogue, walk: Walk, step: Step, typed: str) -> Outcome | None:
    """Hand in the answer that was typed; None when it was taken back as a slip."""
    scales = walk.opened.scales
    answer = understood(typed, step.question, scales=scales)
    if answer.not_looked:
        return walk.not_looked()
    if answer.note is not None:
        return walk.note(answer.note)
    if answer.value is None:
        return walk.pick(answer.choices)
    value = _past_doubt(dialogue, walk, step, answer.value)
    return None if value is None else walk.number(value)


def _past_doubt(dialogue: Dialogue, walk: Walk, step: Step, value: float) -> float | None:
    """Question a number until it stands, in its stored unit; None when it is taken back."""
    reading, scales = step.question.reading, walk.opened.scales
    if reading is None:
        return value
    while True:
        doubt = walk.question_number(shown(value, reading.unit, scales)[0])
        if doubt is None:
            return value
        as_typed = words(value, reading.unit, scales, reading.decimals)
        if doubt.perhaps is not None:
            meant = words(doubt.perhaps, reading.unit, scales, reading.decimals)
            no = "n = type it again." if doubt.impossible else f"n = no, {as_typed} is right."
            options = f"y = yes, {meant}. {no} Or type the number again."
        elif doubt.impossible:
            dialogue.say(doubt.says)
            return None
        else:
            options = f"y = {as_typed} is right. n = type it again. Or type the number again."
        typed = dialogue.ask(doubt.says, options)
        word = typed.lower()
        if word in ("y", "yes"):
            if doubt.perhaps is None:
                return value
            value = doubt.perhaps
        elif word == "p":
            raise Ended
        elif word in ("n", "no"):
            return None if doubt.impossible or doubt.perhaps is None else value
        elif word not in ("", "r"):
            try:
                again = understood(typed, step.question, scales=scales).value
            except NotAnAnswer as error:
                dialogue.say(str(error))
            else:
                value = value if again is None else again


def _tell(dialogue: Dialogue, walk: Walk, outcome: Outcome | None) -> None:
    """Say what came of an answer; an alarm waits until it is seen to."""
    if outcome is None:
        return
    dialogue.say(*outcome_lines(walk.opened, outcome, walk.opened.room.role(walk.walker)))
    if outcome.judgement.alarm:
        dialogue.ask("Press Enter when it is seen to.")
        walk.resume_clock()


def _look_up(dialogue: Dialogue, walk: Walk, step: Step) -> None:
    from walkabout.plain.lookup import look_up  # noqa: PLC0415 - the knowledge is loaded only for a lookup

    try:
        look_up(dialogue, walk.opened, step.here.key, walk.walker)
    except ValueError as error:
        dialogue.say("The knowledge cannot be used.", str(error))
    walk.resume_clock()


def _skip(dialogue: Dialogue, walk: Walk, step: Step) -> None:
    """Skip what is left of the station; an answer that the walk went back to is kept."""
    while walk.step is not None and walk.step.here.key == step.here.key and walk.forward():
        pass
    if walk.step is None or walk.step.here.key != step.here.key:
        return
    skipped = walk.skip_station()
    unsaved = walk.unsaved
    what = f"{len(skipped)} question{'s' if len(skipped) != 1 else ''} of {step.here.name} as not looked at"
    dialogue.say(f"Not saved yet: {what}. {unsaved}" if unsaved else f"Saved: {what}.")


def _leave(dialogue: Dialogue, walk: Walk) -> None:
    if not walk.late:
        dialogue.say("The round is not late, so nothing has to be left.")
        return
    left = walk.leave_what_can_wait()
    what = f"{left} question{'s' if left != 1 else ''} that can wait, as not looked at"
    unsaved = walk.unsaved
    dialogue.say(f"Not saved yet: {what}. {unsaved}" if unsaved else f"Saved: {what}. They come first next time.")


def _paused(dialogue: Dialogue, opened: OpenRoom, walk: Walk | None, again: str) -> int:
    """Say that the round stands still, and how to go on."""
    on_disk = _all_on_disk(dialogue, opened)
    if walk is None:
        dialogue.say(f"No round was begun. To walk it: {again}")
    else:
        saved = " Everything said as saved is on disk." if on_disk else ""
        code = f" --as {walk.walker}" if walk.walker else ""
        dialogue.say(f"The round is paused.{saved} To go on: {again}{code}")
    return DONE if on_disk else ATTEND


def _all_on_disk(dialogue: Dialogue, opened: OpenRoom) -> bool:
    """Try once more to save what waits; say why it cannot be saved."""
    unsaved = opened.retry()
    dialogue.say(f"Not saved: {unsaved}" if unsaved else "")
    return not unsaved


def _sentence(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?")) else f"{text}."
