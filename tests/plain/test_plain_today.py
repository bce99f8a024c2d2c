"""What Today says, in lines."""

from collections.abc import Callable
from io import StringIO
from pathlib import Path

from walkabout.plain.dialogue import Dialogue
from walkabout.plain.today import say_today, today_facts, today_lines
from walkabout.round.opened import OpenRoom
from walkabout.round.today import today_page

Walk = Callable[..., tuple[int, str]]
Reopened = Callable[[], OpenRoom]


def lines_of(opened: OpenRoom) -> list[str]:
    return today_lines(opened, today_page(opened))


def test_before_the_round(reopened: Reopened) -> None:
    """It says that nobody walked, how much the round asks, and that nothing is due."""
    lines = lines_of(reopened())

    assert lines[0] == "Small [b]room[/b], Wednesday 25 November."
    assert "The round has not been walked today." in lines
    assert any(line.startswith("2 stations, 6 questions, about ") for line in lines)
    assert "Jobs due: none." in lines
    assert "Findings open: none." in lines
    assert not any("last 14 days" in line for line in lines)


def test_after_a_round_with_trouble(walk: Walk, reopened: Reopened) -> None:
    """It names the walker, the jobs with who may do them, the findings, and each station's days in words."""
    walk("2", "", "6", "3", "1", "0", "-", "")
    opened = reopened()
    lines = lines_of(opened)
    facts = today_facts(opened, today_page(opened))

    assert any(line.startswith("The round was walked today by K7") for line in lines)
    assert "Jobs due: 2, by hours to loss." in lines
    assert any(
        line.startswith("1. The room: Find the leak. For: an adult. Loss in 2 hours. Due today. Caution: Mains")
        for line in lines
    )
    assert "Findings open: 2." in lines
    assert "Raft tub, last 14 days: 1 today, 13 without a round." in lines
    assert (facts["day"], facts["walked"]) == ("2026-11-25", True)
    assert [(job["name"], job["what"]) for job in facts["jobs"]] == [
        ("The room", "Find the leak"),
        ("Raft tub", "Decide on it"),
    ]
    assert {one["name"] for one in facts["findings"]} == {"The room", "Raft tub"}


def test_an_unfinished_round_and_a_mistake(walk: Walk, folder: Path, reopened: Reopened) -> None:
    """A round that was left is said to be so, and a mistake in a file names the command that lists it."""
    walk("1", "p")
    file = folder / "room.toml"
    text = file.read_text(encoding="utf-8").replace("litres = 60", 'litres = 60\ncolour = "blue"')
    file.write_text(text, encoding="utf-8")
    lines = lines_of(reopened())

    assert "The round of K7 is not finished." in lines
    assert "The room's files have 1 mistake: walkabout check lists them." in lines


def test_walking_from_today(folder: Path, clock: Callable[[], object]) -> None:
    """The plain room asks whether to walk now; the end of the input says how to walk later."""
    said = StringIO()

    assert say_today(folder, "walkabout round", clock, Dialogue(said, StringIO("maybe\ny\n"))) is True  # type: ignore[arg-type]
    assert say_today(folder, "walkabout round", clock, Dialogue(said, StringIO("n\n"))) is False  # type: ignore[arg-type]
    assert say_today(folder, "walkabout round", clock, Dialogue(said, StringIO(""))) is False  # type: ignore[arg-type]
    assert said.getvalue().endswith("To walk it later: walkabout round\n")
