"""Typing a filled-in sheet in: what becomes of its lines, and of mistakes."""

from datetime import timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.paper.printed import text
from tests.rooms import write_small_room
from walkabout.cli import cli
from walkabout.commands.options import today
from walkabout.paper.sheet import round_sheet
from walkabout.paper.sheet_lines import sheet_of
from walkabout.paper.sizes import A4
from walkabout.records.book import Records
from walkabout.round.on_paper import code_of
from walkabout.round.opened import OpenRoom


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_small_room(tmp_path / "a room")


def typed_in(folder: Path, lines: list[str], *args: str) -> Result:
    """Type lines and Enter alone."""
    command = ["--room", str(folder), "sheet", "--type-in", *args]
    return CliRunner().invoke(cli, command, input="".join(f"{one}\n" for one in (*lines, "")))


def test_typing_a_sheet_in(folder: Path) -> None:
    """Codes and answers become a round of that day, by the walker on the sheet; mistakes are said and write nothing."""
    on = today() - timedelta(days=1)
    with_room = OpenRoom(folder)
    door = with_room.checklists["room"].question[0]
    tub = with_room.checklists["raft"].question
    ph = next(one for one in tub if one.reading is not None and one.reading.quantity == "pH")
    with_room.close()
    lines = [
        f"{code_of('room', door.id)} 1",
        "zzz 2",
        f"{code_of('tub', ph.id)} 99",
        f"{code_of('tub', ph.id)} 5,9",
        f"{code_of('tub', tub[0].id).upper()}: n",
        f"{code_of('tub', tub[0].id)}",
    ]
    result = typed_in(folder, lines, "--day", on.isoformat(), "--as", "k7", "--at", "08:05")

    assert result.exit_code == 0, result.output
    assert '"zzz" is no code of a line here' in result.output
    assert "The answer is missing" in result.output
    assert f"{door.ask}" in result.output
    assert "Saved: 3 lines" in result.output
    records = Records.open(folder, today())
    answers = records.answers(on)
    (record,) = records.rounds(on)
    records.close()
    by = {(one.station, one.question): one for one in answers}
    assert {(one.at.date(), f"{one.at:%H:%M}", one.walker) for one in answers} == {(on, "08:05", "K7")}
    assert by["room", door.id].choices == (door.choices[0].id,)
    assert by["tub", ph.id].value == 5.9
    assert by["tub", tub[0].id].state == "not looked"
    assert (record.day, record.walker, record.ended is not None) == (on, "K7", True)

    again = typed_in(folder, [f"{lines[0][:4]} 2"], "--day", on.isoformat(), "--as", "AR", "--at", "09:00")
    assert "Answered on that day already" in again.output
    assert "Nothing was typed in." in again.output


def test_a_whole_printed_sheet_can_be_typed_in(folder: Path) -> None:
    """Every code on a printed sheet is known again, and typing all of them leaves nothing of the plan open."""
    opened = OpenRoom(folder)
    sheet = sheet_of(opened, "AR")
    printed = text(round_sheet(opened, A4, "AR"))
    opened.close()
    codes_ = [line.code for stop in (*sheet.stops, *sheet.later) for line in stop.lines]
    assert all(code in printed for code in codes_)
    result = typed_in(folder, [f"{one} n" for one in codes_], "--as", "AR", "--at", "00:01")

    assert f"Saved: {len(codes_)} lines" in result.output, result.output
    assert "no code of a line" not in result.output


def test_who_and_when_are_asked(folder: Path) -> None:
    """Without a code and a time both are asked; a finding on the sheet is written down for its day."""
    on = today() - timedelta(days=2)
    answers = ["9", "1", "half past", "08:20", "f", "", "a puddle", "1"]
    result = typed_in(folder, answers, "--day", on.isoformat())

    assert result.exit_code == 0, result.output
    assert "Who walked, by the sheet?" in result.output
    assert "Type the time as hours and minutes" in result.output
    records = Records.open(folder, today())
    (finding,) = records.findings()
    records.close()
    assert (finding.seen, finding.at.date(), f"{finding.at:%H:%M}", finding.by) == ("a puddle", on, "08:20", "AR")


def test_the_code_itself_says_who_walked_and_q_leaves(folder: Path) -> None:
    """A code is as good as its number in the list, small letters too; q and escape leave, and nothing is written."""
    result = typed_in(folder, ["zz", "k7", "08:20", "q"])
    assert 'Nobody here has the code "zz"' in result.output
    assert "Type the number or the code. q leaves." in result.output
    assert "When did it begin?" in result.output
    assert "Nothing was typed in." in result.output

    for left in (["q"], ["\x1b"], ["K7", "Q"]):
        result = typed_in(folder, left)
        assert result.exit_code == 0, result.output
        assert "Nothing was typed in." in result.output
        assert "Type the code of a line" not in result.output


def test_a_number_that_hardly_can_be_is_asked_about(folder: Path) -> None:
    """An unusual number is taken only when the sheet says so; an impossible one never."""
    opened = OpenRoom(folder)
    ph = next(one for one in opened.checklists["raft"].question if one.reading and one.reading.quantity == "pH")
    opened.close()
    code = code_of("tub", ph.id)
    refused = typed_in(folder, [f"{code} 10", "n"], "--as", "AR", "--at", "00:01")
    assert "Nothing was typed in." in refused.output
    taken = typed_in(folder, [f"{code} 10", "y"], "--as", "AR", "--at", "00:01")
    assert "Saved: 1 line " in taken.output
    assert "That means:" in taken.output
    assert "Written down: pH 10." in taken.output
    assert "?." not in refused.output


def test_when_it_ended_is_asked_at_the_end(folder: Path) -> None:
    """The sheet's second time is asked after the lines, by an option too; a time before the first is not taken."""
    opened = OpenRoom(folder)
    door = opened.checklists["room"].question[0]
    opened.close()
    on = today() - timedelta(days=1)
    line = f"{code_of('room', door.id)} 1"
    asked = typed_in(
        folder, [line, "", "soon", "08:00", "08:11"], "--day", on.isoformat(), "--as", "K7", "--at", "08:05"
    )
    assert "When did it end?" in asked.output
    assert "It began at 08:05" in asked.output
    before = on - timedelta(days=1)
    typed_in(folder, [line], "--day", before.isoformat(), "--as", "K7", "--at", "08:05", "--ended", "8:09")
    untold = typed_in(
        folder, [line, "", ""], "--day", (on - timedelta(days=2)).isoformat(), "--as", "K7", "--at", "08:05"
    )
    assert untold.exit_code == 0, untold.output
    wrong = typed_in(folder, [line], "--day", before.isoformat(), "--as", "K7", "--at", "08:05", "--ended", "8:01")
    assert wrong.exit_code == 2
    records = Records.open(folder, today())
    took = {one.day: one.walked_seconds for one in records.rounds(on - timedelta(days=2))}
    records.close()

    assert took == {on: 360, before: 240, on - timedelta(days=2): 0}
    assert CliRunner().invoke(cli, ["--room", str(folder), "sheet", "--ended", "08:09"]).exit_code == 2
