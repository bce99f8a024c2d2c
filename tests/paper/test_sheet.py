"""The round on paper: what is asked, in which order, with which boxes; and the codes by which it is typed in."""

from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import msgspec
import pytest

from tests.paper.printed import outside, over_the_foot, text, texts
from tests.rooms import NOW
from walkabout.checklist.model import COUNTED
from walkabout.demo.make import make
from walkabout.paper.pages import Pages, Running
from walkabout.paper.sheet import ASK, BESIDE_BOX, CODE, GUTTER, NOT_LOOKED, _height, _rows, round_sheet
from walkabout.paper.sheet_lines import Line, _again, sheet_of
from walkabout.paper.sizes import A4, LETTER
from walkabout.records.model import Answer, Round
from walkabout.round.begin import begin
from walkabout.round.on_paper import Given, TypedIn, code_of
from walkabout.round.opened import OpenRoom

YESTERDAY = NOW - timedelta(days=1)


def on_the_day(opened: OpenRoom, when: datetime = YESTERDAY) -> TypedIn:
    opened.clock = lambda: when
    return TypedIn(opened, "K7")


def test_the_plan_stands_on_it_in_walking_order(opened: OpenRoom) -> None:
    """Every question of the day's plan is there once, station by station as it is walked."""
    sheet, plan = sheet_of(opened, "AR"), opened.plan("AR")

    assert [line.code for stop in sheet.stops for line in stop.lines] == [
        code_of(one.here.key, one.question.id) for one in plan.asked
    ]
    assert [stop.name for stop in sheet.stops] == list(dict.fromkeys(one.here.name for one in plan.asked))
    printed = text(round_sheet(opened, A4, "AR"))
    for stop in sheet.stops:
        assert stop.name in printed
        for line in stop.lines:
            assert f"{line.code} " in printed
            assert line.ask in printed


def test_boxes_numbers_and_not_looked(opened: OpenRoom) -> None:
    """Choices stand with their keys, a number with its unit and good range, and every line has its 'not looked'."""
    sheet = sheet_of(opened)
    printed = text(round_sheet(opened, LETTER))
    lines = [line for stop in (*sheet.stops, *sheet.later) for line in stop.lines]

    assert printed.count("not looked") >= len(sheet.stops) + len(sheet.later)
    alone = printed.split()
    assert alone.count("n") == sum(line.kind in COUNTED or line.kind == "note" for line in lines)
    assert alone.count("0") >= sum(bool(line.choices) for line in lines)
    for line in lines:
        for number, says in enumerate(line.choices, 1):
            assert f"{number} {says}" in printed
        if line.kind in COUNTED and line.good:
            assert f"{line.unit} ({line.good})".strip() in printed
    assert any(line.good for line in lines)
    for says in ("Walked by (code)", "Began at", "Ended at", "Anything else that looked wrong"):
        assert says in printed


def test_every_column_keeps_to_itself() -> None:
    """No choice runs into the other column: a long one has its rows to itself, and the next begins below it."""
    long = Line("mmmm", "What is seen?", "choice", choices=("a " * 60, "short", "b " * 40, "c"))
    with closing(Pages(A4, Running("long choices", "the round", NOW.date()))) as pages:
        pages.columns(2, GUTTER)
        rows = _rows(pages, long)
        widest = [x + BESIDE_BOX + pages.measure(one, ASK) for row in rows for x, text in row for one in text]
        assert max(widest) <= pages.width - CODE - NOT_LOOKED
        assert [len(row) for row in rows] == [1, 0, 0, 1, 1, 0, 0, 1]
        assert pages.measure("mmmm", ASK, bold=True) <= CODE - 0.6


def test_the_demo_room_takes_few_pages(tmp_path: Path) -> None:
    """Eight stations and some sixty questions stand on four pages at most, on either paper, none over the foot."""
    make(tmp_path / "demo", NOW.date())
    opened = OpenRoom(tmp_path / "demo", lambda: NOW)
    for paper in (A4, LETTER):
        data = round_sheet(opened, paper)
        assert len(texts(data)) <= 4
        assert over_the_foot(data, paper) == []
        assert outside(data) == []
    opened.close()


def test_what_is_good_is_never_cut(tmp_path: Path) -> None:
    """Beside the line for a number, or below it where the column is narrow, stands the whole of what is good."""
    make(tmp_path / "demo", NOW.date())
    opened = OpenRoom(tmp_path / "demo", lambda: NOW)
    sheet = sheet_of(opened)
    good = {line.good for stop in (*sheet.stops, *sheet.later) for line in stop.lines if line.good}
    for paper in (A4, LETTER):
        printed = text(round_sheet(opened, paper))
        assert [one for one in good if one not in printed] == []
    opened.close()
    assert len(good) > 8
    with closing(Pages(A4, Running("a long range", "the round", NOW.date()))) as pages:
        pages.columns(2, GUTTER)
        narrow = Line("mmmm", "How much?", "number", unit="micromol/mol", good="good 1,234,567.00 to 2,345,678.00")
        assert _height(pages, narrow) > _height(pages, msgspec.structs.replace(narrow, good="good 1"))


def test_why_a_reading_is_looked_at_again() -> None:
    """The sources at the end are left out, whole or cut short; what is seen is said as it was typed."""
    why = "Look again: 1.66 mS/cm is above 1.50 to 1.60 mS/cm, what lettuce wants (from memory, and …"
    assert _again(why, measured=True) == "Look again: 1.66 mS/cm is above 1.50 to 1.60 mS/cm, what lettuce wants"
    assert _again("Look again: spots (left)", measured=False) == "Look again: spots (left)"
    assert _again("Every round: it is vital.", measured=False) == ""


def test_nothing_is_filled_in(opened: OpenRoom) -> None:
    """No answer of the day before stands on the sheet, and printing writes nothing down."""
    opened.clock = lambda: YESTERDAY
    walk = begin(opened, "AR")
    while walk.step is not None:
        walk.not_looked()
    walk.finish()
    opened.clock = lambda: NOW
    rounds = len(opened.rounds)

    printed = text(round_sheet(opened, A4))
    assert "AR" not in printed.split()
    assert len(opened.rounds) == rounds


def test_when_all_is_looked_at(opened: OpenRoom) -> None:
    """A sheet of a round that is over says that nothing is left, on one page or two."""
    walk = begin(opened, "AR")
    while walk.step is not None:
        question = walk.step.question
        if question.kind in COUNTED and question.reading is not None:
            walk.number(sum(walk.step.question.reading.likely) / 2)  # type: ignore[union-attr]
        elif question.choices:
            walk.pick([question.choices[0].id])
        else:
            walk.note("")
    assert "Nothing is left to look at on this day." in text(round_sheet(opened, A4, "AR"))


def test_codes_stay_and_are_few_alike(opened: OpenRoom) -> None:
    """A code hangs on station and question alone; within a room hardly two lines share one."""
    every = [(here.key, one.id) for here, checklist in opened.places() for one in checklist.question]
    codes = [code_of(*where) for where in every]

    assert code_of("tub", "level") == code_of("tub", "level") != code_of("tub2", "level")
    assert all(len(one) == 4 and one[0].isalpha() and not set(one) & set("aeioul01") for one in codes)
    assert len(codes) - len(set(codes)) <= 1
    sheet = on_the_day(opened)
    for where, code in zip(every, codes, strict=True):
        assert where in sheet.meant(code.upper())


def test_typed_in_for_its_own_day(opened: OpenRoom) -> None:
    """A typed answer has the day and time of the sheet, the walker's code, its verdict and what follows from it."""
    sheet = on_the_day(opened)
    question = opened.checklists["room"].question[0]
    bad = next(choice for choice in question.choices if choice.verdict in ("now", "stop"))
    written = sheet.write(("room", question.id), Given(choices=(bad.id,)))
    assert sheet.finish() == ""

    assert (written.answer.at, written.answer.walker, written.verdict) == (YESTERDAY, "K7", bad.verdict)
    assert opened.findings[f"f-{written.answer.key}"].at == YESTERDAY
    record = next(one for one in opened.records.rounds(YESTERDAY.date()) if one.key == written.answer.round)
    assert (record.day, record.ended, record.walked_seconds) == (YESTERDAY.date(), YESTERDAY, 0)
    assert (record.asked[0].station, record.asked[0].question) == ("room", question.id)


def test_a_line_typed_twice_is_put_right(opened: OpenRoom) -> None:
    """The second answer to the same line takes the place of the first, and what the first had opened is closed."""
    sheet = on_the_day(opened)
    question = opened.checklists["room"].question[0]
    bad = next(choice for choice in question.choices if choice.verdict in ("now", "stop"))
    where = ("room", question.id)
    first = sheet.write(where, Given(choices=(bad.id,)))
    second = sheet.write(where, Given(choices=(question.choices[0].id,)))

    assert second.answer.replaces == first.answer.key
    assert opened.findings[f"f-{first.answer.key}"].closed is not None


def test_what_was_looked_at_since_brings_nothing_about(opened: OpenRoom) -> None:
    """Where somebody has looked after the paper round, the answer is kept with its verdict, without finding or job."""
    question = opened.checklists["room"].question[0]
    bad = next(choice for choice in question.choices if choice.verdict in ("now", "stop"))
    later = Answer(
        key="a-later", round="r-x", at=NOW, walker="AR", station="room", question=question.id,
        choices=(question.choices[0].id,), verdict="good",
    )  # fmt: skip
    opened.save(Round(key="r-x", day=NOW.date(), started=NOW, walker="AR"), later)
    before = (set(opened.findings), set(opened.jobs))
    sheet = on_the_day(opened)
    written = sheet.write(("room", question.id), Given(choices=(bad.id,)))
    sheet.finish()

    assert written.outcome is None
    assert (written.verdict, written.answer.at) == (bad.verdict, YESTERDAY)
    assert (set(opened.findings), set(opened.jobs)) == before
    kept = {one.key for one in opened.records.answers(YESTERDAY.date())}
    assert {written.answer.key, later.key} <= kept


def test_what_follows_is_not_looked_at(opened: OpenRoom) -> None:
    """A question that an answer asks for, and that is not on the paper, is written down as not looked at."""
    sheet = on_the_day(opened)
    places = [(here, checklist) for here, checklist in opened.places() if here.station is not None]
    for here, checklist in places:
        for question in checklist.question:
            asks = next((choice for choice in question.choices if choice.ask and question.who == "pupil"), None)
            if asks is None:
                continue
            sheet.write((here.key, question.id), Given(choices=(asks.id,)))
            more = [one.question for one in sheet.record.asked if one.question != question.id]
            if more:
                sheet.finish()
                left = [one for one in opened.records.answers(YESTERDAY.date()) if one.state == "not looked"]
                assert {one.question for one in left} == set(more)
                return
    pytest.fail("no checklist has an answer that asks for more")


def test_a_number_that_cannot_be_is_refused(opened: OpenRoom) -> None:
    """An impossible number and a choice that is none are refused, and nothing is written."""
    sheet = on_the_day(opened)
    tub = next(checklist for here, checklist in opened.places() if here.key == "tub")
    reading = next(one for one in tub.question if one.reading is not None and one.reading.quantity == "pH")
    with pytest.raises(ValueError, match="cannot be"):
        sheet.write(("tub", reading.id), Given(value=99.0))
    with pytest.raises(ValueError, match="not among the answers"):
        sheet.write(("room", opened.checklists["room"].question[0].id), Given(choices=("no-such",)))
    assert sheet.finish() == ""
    assert opened.records.answers(YESTERDAY.date()) == []
