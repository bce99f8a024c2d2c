"""What the round shows of a question: the answers, what was put in so far, what is remarked, the keys that work."""

from msgspec import Struct, field
from textual.content import Content

from walkabout.checklist.model import COUNTED
from walkabout.growing.units import Scales
from walkabout.round.course import Step
from walkabout.round.slips import Doubt
from walkabout.round.trend import running_towards, strip
from walkabout.round.walk import Outcome, Walk
from walkabout.round.words import answer_words, clock_words, day_words, good_words, unit_words
from walkabout.screens.text import GLYPHS, STYLES, plain
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.number import Number
from walkabout.screens.widgets.question import Shown

BACK = Key("←", "back", "screen.back")
NOT_LOOKED = Key("n", "not looked", "screen.not_looked")
REST = (
    Key("f", "finding", "app.flag"),
    Key("l", "lookup", "app.lookup"),
    Key("s", "skip station", "screen.skip_station"),
    Key("x", "does not apply", "screen.does_not_apply"),
    Key("p", "pause", "screen.pause"),
    Key("?", "help", "app.help"),
)


class Draft(Struct):
    """What was put in at the open question and is not handed in yet."""

    number: Number | None = None
    """While a number is asked for: what was typed of it."""
    ticked: set[int] = field(default_factory=set)
    """The places of the signs that are ticked."""
    doubt: Doubt | None = None
    """Why the number was not taken at once."""


def draft_for(step: Step | None) -> Draft:
    """Return the empty draft of a question."""
    return Draft(Number() if step is not None and step.question.kind in COUNTED else None)


def shown_of(walk: Walk, step: Step, draft: Draft, said: tuple[Content, ...]) -> Shown:
    """Return the question as it stands: what is ticked or typed, what is doubted, where it is going."""
    opened, question, today = walk.opened, step.question, walk.opened.today()
    reading, station = question.reading, step.here.key
    days = strip(question, station, opened.history, today, scales=opened.scales)
    return Shown(
        where=_where(step),
        ask=question.ask,
        how=question.how,
        rows=_rows(walk, step, draft),
        number=draft.number,
        unit=unit_words(reading.unit, scales=opened.scales) if reading else "",
        remark=_remark(walk, step, opened.scales),
        doubt=_doubt_words(draft.doubt),
        why=running_towards(question, station, opened.history, today) or step.why,
        strip=plain(f"last 14 days  {days.bars()}", "$muted") if days else None,
        said=said,
    )


def _where(step: Step) -> Content:
    return Content("").join(
        [plain(step.here.name.upper(), "$accent-text bold"), plain(f"   {step.number} of {step.of}", "$muted")]
    )


def _rows(walk: Walk, step: Step, draft: Draft) -> tuple[Row, ...]:
    last, given, today = walk.before(), walk.given(), walk.opened.today()
    rows = []
    for index, choice in enumerate(step.question.choices):
        remark = ""
        if given is not None and choice.id in given.choices:
            remark = "answered just now"
        elif last is not None and choice.id in last.choices:
            remark = day_words(last.at.date(), today)
        mark = ("[x] " if index in draft.ticked else "[ ] ") if step.question.kind == "signs" and index else ""
        rows.append(Row(choice.says, remark, mark))
    return tuple(rows)


def _remark(walk: Walk, step: Step, scales: Scales) -> str:
    """Say the last reading and the good range beside a number."""
    opened, reading = walk.opened, step.question.reading
    if reading is None:
        return ""
    remarks = []
    if (last := walk.before()) is not None:
        was = answer_words(step.question, last, scales=scales)
        doubt = ", doubtful" if opened.doubt_of(last) else ""
        remarks.append(f"{day_words(last.at.date(), opened.today())} {was}{doubt}")
    remarks.append(good_words(reading, walk.wanted(), scales=scales))
    return " · ".join(one for one in remarks if one)


def _doubt_words(doubt: Doubt | None) -> str:
    if doubt is None:
        return ""
    take = " Press y to take that." if doubt.perhaps is not None else ""
    keep = "" if doubt.impossible else " Enter once more keeps it as typed."
    return f"{doubt.says}{take}{keep}"


# what was said before, and beside the question


def said_lines(walk: Walk, said: Outcome | None, remarked: str) -> tuple[Content, ...]:
    """Say what the answer before this one meant, what could not be saved, and that it is late."""
    rows = []
    if said is not None and said.judgement.verdict in ("watch", "today"):
        rows.append(said_words(said, walk.opened.name_of(said.answer.station)))
    if remarked:
        rows.append(plain(remarked, "$muted"))
    if walk.unsaved:
        rows.append(plain(f"Not on disk yet: {walk.unsaved} Your answers are kept here meanwhile.", "$act bold"))
    if walk.late:
        waiting = len(walk.can_wait())
        what = "1 question" if waiting == 1 else f"{waiting} questions"
        rows.append(plain(f"Late: {what} can wait; w leaves them for next time.", "$watch"))
    return tuple(rows)


def said_words(outcome: Outcome, station: str) -> Content:
    """Say what an answer meant, in one or two lines."""
    verdict = outcome.judgement.verdict
    meaning = outcome.judgement.meanings[0]
    act = f" {meaning.do}" if meaning.do and verdict != "watch" else ""
    head = plain(f"{GLYPHS[verdict]} {station}, {verdict}: ", STYLES[verdict])
    caution = plain(f" {meaning.caution}" if act and meaning.caution else "", "$watch")
    return Content("").join([head, plain(f"{outcome.judgement.why}{act}"), caution])


def time_line(walk: Walk) -> str:
    """Return the right of the top line: the day, who walks, and how much of the time is gone."""
    now = walk.opened.clock()
    time = f"{clock_words(walk.elapsed())} of {clock_words(walk.opened.room.minutes * 60)}"
    return f"{now:%a} {now.day} {now:%b} · {walk.walker} · {time}"


def keys_for(step: Step) -> tuple[Key, ...]:
    """Return the keys that work at a question, the most needed first."""
    kind, count = step.question.kind, len(step.question.choices)
    if kind in COUNTED:
        first: tuple[Key, ...] = (Key("enter", "hand in", "screen.hand_in"),)
    elif kind == "signs":
        first = (
            Key("space", "as it should be", "screen.healthy"),
            Key(f"2-{count}", "tick", ""),
            Key("enter", "these", "screen.hand_in"),
        )
    else:
        first = (Key("space", "as it should be", "screen.healthy"), Key(f"1-{count}", "answer", ""))
    return (*first, NOT_LOOKED, BACK, *REST)
