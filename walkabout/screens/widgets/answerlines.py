"""Answers in words: one line each for the list, and in full for the one that is pointed at."""

from textual.content import Content

from walkabout.records.model import Answer
from walkabout.round.correct import before_it_was_right
from walkabout.round.opened import OpenRoom
from walkabout.round.trend import strip
from walkabout.round.words import answer_words, day_words, stamp
from walkabout.screens.text import GLYPHS, STYLES, fitted, lines, plain, verdict_words

COUNTED_THINGS = ("count", "time", "level", "volume", "mass")
"""Quantities that do not say of what."""
DAY, VERDICT, WHO, MARK = 10, 8, 4, 10


def asked_words(opened: OpenRoom, answer: Answer) -> str:
    """Return the question behind an answer; its id when it is no longer asked."""
    question = opened.question(answer.station, answer.question)
    return question.ask if question else answer.question.replace("-", " ")


def subject(opened: OpenRoom, answer: Answer) -> str:
    """Return what was asked, short: the quantity of a reading, else the question."""
    question = opened.question(answer.station, answer.question)
    if question is None or question.reading is None or question.reading.quantity in COUNTED_THINGS:
        return asked_words(opened, answer)
    return question.reading.quantity


def given_words(opened: OpenRoom, answer: Answer) -> str:
    """Return what was answered."""
    question = opened.question(answer.station, answer.question)
    return answer_words(question, answer, scales=opened.scales)


def answer_line(opened: OpenRoom, answer: Answer, width: int) -> Content:
    """Return one answer in `width` cells: day, question, answer, verdict, who, mark."""
    mark = MARK if width < 100 else 2 * MARK
    room = max(width - DAY - VERDICT - WHO - mark - 3, 16)
    asked = room * 11 // 20
    first = before_it_was_right(opened.history, answer)
    who = first[-1].walker if first else answer.walker
    marks = [*(["doubtful"] if opened.doubt_of(answer) else []), *(["put right"] if first else [])]
    state = answer.verdict if answer.state == "answered" else "not looked"
    verdict = f"{GLYPHS[state]} {answer.verdict}"
    return Content("").join(
        [
            plain(fitted(day_words(answer.at.date(), opened.today()), DAY), "$muted"),
            plain(fitted(subject(opened, answer), asked) + " ", "$muted"),
            plain(fitted(given_words(opened, answer), room - asked) + " "),
            plain(fitted(verdict, VERDICT), STYLES[state]),
            plain(fitted(who, WHO) + " ", "$muted"),
            plain(fitted(", ".join(marks if width >= 100 else marks[:1]), mark), "$watch"),
        ]
    )


def answer_page(opened: OpenRoom, answer: Answer) -> Content:
    """Return all that is known of one answer: its meaning, its doubts, what it put right, its fourteen days."""
    state = answer.verdict if answer.state == "answered" else "not looked"
    says = verdict_words(answer.verdict) if answer.state == "answered" else answer.state
    before = before_it_was_right(opened.history, answer)
    looked = before[-1].walker if before else answer.walker
    rows = [
        plain(asked_words(opened, answer), "bold"),
        Content("").join(
            [
                plain(given_words(opened, answer)),
                plain(f"   {GLYPHS[state]} {says}" if says else "", STYLES[state]),
                plain(f"   {stamp(answer.at)}, {looked}", "$muted"),
            ]
        ),
    ]
    if answer.why:
        rows.append(plain(answer.why, "$muted"))
    if answer.note and (answer.choices or answer.value is not None or answer.state != "answered"):
        rows.append(plain(answer.note, "$muted"))
    if doubt := opened.doubt_of(answer):
        rows.append(plain(f"Doubtful. {doubt}", "$watch"))
    newer = answer
    for old in before:
        rows.append(plain(f"was {given_words(opened, old)}, put right by {newer.walker}: {newer.reason}", "$watch"))
        newer = old
    rows += _fourteen_days(opened, answer)
    return lines(rows)


def _fourteen_days(opened: OpenRoom, answer: Answer) -> list[Content]:
    question = opened.question(answer.station, answer.question)
    if question is None:
        return []
    found = strip(question, answer.station, opened.history, opened.today(), scales=opened.scales)
    if found is None:
        return [plain("last 14 days  fewer than two looks before today", "$muted")]
    return [plain(f"last 14 days  {found.bars()}  {found.says}", "$muted")]
