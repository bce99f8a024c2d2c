"""Typing a sheet in that was filled in by hand: one line for each line of it, its code and its answer."""

from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path

from walkabout.checklist.model import DOES_NOT_APPLY, NOT_LOOKED, Question
from walkabout.exits import ATTEND, DONE
from walkabout.growing.units import shown
from walkabout.plain.asking import pick, read_time, until
from walkabout.plain.dialogue import Dialogue, Ended, leaves
from walkabout.plain.finding import ask_finding
from walkabout.plain.question import COUNTED, NotAnAnswer, understood
from walkabout.plain.who import ask_walker
from walkabout.records.book import NotSaved
from walkabout.room.calendar import Clock
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.on_paper import Given, TypedIn, Where, Written
from walkabout.round.opened import OpenRoom
from walkabout.round.slips import doubt
from walkabout.round.walkers import find_walker
from walkabout.round.words import VERDICT_MEANS, answer_words

HOW = (
    "Type the code of a line and its answer: kb4t 2, or kb4t 6.1.",
    "n or 0 instead of the answer: nobody looked. x: it does not apply. What has no tick was not looked at: n.",
    "The same code again puts an answer right. f: a finding that stands on the sheet. Enter alone, or q, ends.",
)
WHO = "Who walked, by the sheet?"
ENDED = "When did it end? Enter alone where the sheet does not say."


def run(
    folder: Path,
    day: date,
    walker: str,
    clock: Clock,
    dialogue: Dialogue | None = None,
    at: str = "",
    ended: str = "",
) -> int:
    """Take in a sheet of `day` and return the exit status; CannotOpen when there is no room.

    `walker`: the code of whoever walked, '' to ask; `at`: when it began, '' to ask; `ended`: when it ended, '' to
    ask after the lines; `clock` says what time it is now.
    """
    dialogue = dialogue or Dialogue()
    now = clock()
    when = [now]
    opened = OpenRoom(folder, lambda: when[0])
    try:
        dialogue.say(f"{opened.room.name}, the sheet of {day:%A} {day.day} {day:%B %Y}.", *opened.told)
        try:
            room = opened.room
            code = find_walker(room, walker, day) if walker else ask_walker(dialogue, room, day, WHO)
            began = at or until(dialogue, "When did it begin?", read_time, opened.room.starts, leave=True)
        except Ended:
            dialogue.say("Nothing was typed in.")
            return DONE
        when[0] = min(datetime.combine(day, time.fromisoformat(began), tzinfo=now.tzinfo), now)
        until_when = _end_on(when[0], now)
        until_then = until_when(ended) if ended else None
        sheet = TypedIn(opened, code)
        dialogue.say(*HOW)
        try:
            lines = _lines(dialogue, sheet)
            if lines and until_then is None:
                until_then = until(dialogue, ENDED, until_when)
        except (Ended, KeyboardInterrupt):
            lines = len(sheet.record.asked)
        return _end(dialogue, sheet, lines, until_then)
    finally:
        try:
            opened.close()
        except NotSaved as error:
            dialogue.say(str(error))


def _end_on(began: datetime, now: datetime) -> Callable[[str], datetime | None]:
    """Return a reader of the time at which a round ended; None where nothing was typed."""

    def read(typed: str) -> datetime | None:
        if not typed:
            return None
        ended = datetime.combine(began.date(), time.fromisoformat(read_time(typed)), tzinfo=began.tzinfo)
        if ended < began:
            raise ValueError(f"It began at {began:%H:%M}: it cannot have ended before.")
        if ended > now:
            raise ValueError("That time is still to come.")
        return ended

    return read


def _lines(dialogue: Dialogue, sheet: TypedIn) -> int:
    """Take lines until Enter alone is typed, or q."""
    while (typed := dialogue.ask()) and not leaves(typed):
        if typed.lower() == "f":
            ask_finding(dialogue, sheet.opened, WHOLE_ROOM, sheet.walker)
            continue
        code, _, answer = typed.replace(":", " ", 1).partition(" ")
        where = _where(dialogue, sheet, code)
        if where is not None:
            _take(dialogue, sheet, where, answer.strip())
    return len(sheet.record.asked)


def _where(dialogue: Dialogue, sheet: TypedIn, code: str) -> Where | None:
    """Return the line that a code stands for; two that share a code are told apart by asking."""
    found = sheet.meant(code)
    if not found:
        dialogue.say(f'"{code}" is no code of a line here. Read it once more; nothing was written.')
        return None
    if len(found) == 1:
        return found[0]
    place = pick(dialogue, "Which line is it?", [_asks(sheet, one) for one in found], "neither")
    return None if place is None else found[place]


def _take(dialogue: Dialogue, sheet: TypedIn, where: Where, typed: str) -> None:
    """Write one line down, and say what it was taken for."""
    opened = sheet.opened
    question = opened.question(*where)
    if question is None:
        dialogue.say("This line cannot be asked here any more; nothing was written.")
        return
    asks = _asks(sheet, where)
    before = sheet.answered_that_day(where)
    if before is not None:
        says = answer_words(question, before, scales=opened.scales)
        dialogue.say(f"{asks} Answered on that day already: {says}. It was left as it is.")
        return
    try:
        given = _given(dialogue, sheet, where, question, typed)
        if given is None:
            return
        written = sheet.write(where, given)
    except (NotAnAnswer, ValueError) as error:
        says = f"{error}"
        end = "" if says.endswith((".", "?")) else "."
        dialogue.say(asks, f"{says[:1].upper()}{says[1:]}{end} Nothing was written.")
        return
    dialogue.say(f"{asks} {_said(sheet, question, written)}", written.unsaved)


def _given(dialogue: Dialogue, sheet: TypedIn, where: Where, question: Question, typed: str) -> Given | None:
    """Return the answer that was typed; None where a doubtful number is taken back."""
    scales = sheet.opened.scales
    word = typed.lower()
    if word == "x":
        return Given(state=DOES_NOT_APPLY)
    if word in ("n", "0") and not (word == "0" and question.kind in (*COUNTED, "note")):
        return Given(state=NOT_LOOKED)
    if not typed:
        raise NotAnAnswer("The answer is missing")
    answer = understood(typed, question, scales=scales)
    if answer.not_looked:
        return Given(state=NOT_LOOKED)
    if answer.note is not None:
        return Given(note=answer.note)
    if answer.value is None:
        return Given(choices=answer.choices)
    if question.reading is not None:
        last = sheet.opened.history.last_look(*where)
        days = (sheet.opened.clock() - last.at).total_seconds() / 86400 if last else None
        read = shown(answer.value, question.reading.unit, scales)[0]
        doubted = doubt(read, question.reading, last, days, scales=scales)
        if doubted is not None and doubted.impossible:
            raise NotAnAnswer(doubted.says)
        if doubted is not None and not dialogue.yes(f"{doubted.says} Does the sheet say so?"):
            return None
    return Given(value=answer.value)


def _asks(sheet: TypedIn, where: Where) -> str:
    question = sheet.opened.question(*where)
    return f"{sheet.opened.name_of(where[0])}: {question.ask if question else where[1]}"


def _said(sheet: TypedIn, question: Question, written: Written) -> str:
    says = f"Written down: {answer_words(question, written.answer, scales=sheet.opened.scales)}."
    if written.answer.state != "answered":
        return says
    means = VERDICT_MEANS.get(written.verdict, "")
    if written.outcome is None:
        return f"{says} It was looked at again since, so only the answer is kept."
    made = "".join(f" Job: {job.what}." for job in written.outcome.jobs)
    return says if written.verdict == "good" else f"{says} That means: {means}.{made}"


def _end(dialogue: Dialogue, sheet: TypedIn, lines: int, ended: datetime | None) -> int:
    unsaved = sheet.finish(ended) or sheet.opened.retry()
    if unsaved:
        dialogue.say(f"Not saved: {unsaved}")
        return ATTEND
    what = f"{lines} line{'s' if lines != 1 else ''}"
    dialogue.say(
        f"Saved: {what} of {sheet.day:%A} {sheet.day.day} {sheet.day:%B}." if lines else "Nothing was typed in."
    )
    sheet.opened.tidy()
    return DONE
