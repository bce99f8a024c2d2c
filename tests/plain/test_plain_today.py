"""What Today says, in lines."""

from collections.abc import Callable
from io import StringIO
from pathlib import Path

from walkabout.plain.dialogue import Dialogue
from walkabout.plain.today import say_today, today_lines
from walkabout.round.front import front
from walkabout.round.opened import OpenRoom

Walk = Callable[..., tuple[int, str]]
Reopened = Callable[[], OpenRoom]


def test_before_the_round(reopened: Reopened) -> None:
    """It says that nobody walked, what the round asks and where to look most closely."""
    lines = today_lines(front(reopened()))

    assert lines[0] == "Small [b]room[/b], Wednesday 25 November."
    assert "The round has not been walked today." in lines
    assert any(line.startswith("It asks: 6 questions at 2 stations") for line in lines)
    assert any(line.startswith("Look most closely at ") for line in lines)
    assert "Jobs due: none." in lines
    assert "Findings open: none." in lines


def test_after_a_round_with_trouble(walk: Walk, reopened: Reopened) -> None:
    """It names the walker, the jobs with who may do them, and the findings."""
    walk("2", "", "6", "3", "1", "0", "-", "")
    lines = today_lines(front(reopened()))

    assert any(line.startswith("Walked by K7, 08:00 to 08:0") for line in lines)
    assert "Nothing is left to look at today." in lines
    assert "Jobs due: 2, by hours to loss." in lines
    assert any(
        line.startswith("1. The room: Find the leak. For: an adult. Loss in 2 hours. Due today. Caution: Mains")
        for line in lines
    )
    assert "Findings open: 2." in lines


def test_an_unfinished_round_and_a_mistake(walk: Walk, folder: Path, reopened: Reopened) -> None:
    """A round that was left is said to be so, and a mistake in a file names the command that lists it."""
    walk("1", "p")
    file = folder / "room.toml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("litres = 60", 'litres = 60\ncolour = "blue"'), encoding="utf-8"
    )
    lines = today_lines(front(reopened()))

    assert "A round by K7, begun at 08:00, is not finished." in lines
    assert any(line.startswith("Still to ask: 5 questions") for line in lines)
    assert "The room's files have 1 mistake: walkabout check lists them." in lines


def test_walking_from_today(folder: Path, clock: Callable[[], object]) -> None:
    """The plain room asks whether to walk now; the end of the input says how to walk later."""
    said = StringIO()

    assert say_today(folder, "walkabout round", clock, Dialogue(said, StringIO("maybe\ny\n"))) is True  # type: ignore[arg-type]
    assert say_today(folder, "walkabout round", clock, Dialogue(said, StringIO("n\n"))) is False  # type: ignore[arg-type]
    assert say_today(folder, "walkabout round", clock, Dialogue(said, StringIO(""))) is False  # type: ignore[arg-type]
    assert said.getvalue().endswith("To walk it later: walkabout round\n")
