"""The round in lines, from the first line to the records on disk."""

from collections.abc import Callable
from datetime import timedelta
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

from walkabout.plain.dialogue import Dialogue
from walkabout.plain.round import FIRST, run
from walkabout.records.model import Answer
from walkabout.round.opened import OpenRoom

Clock = Any
Walk = Callable[..., tuple[int, str]]
Reopened = Callable[[], OpenRoom]

ALL_WELL = ("1", "6.0", "1", "1", "0", "-", "")


def last(opened: OpenRoom, station: str, question: str) -> Answer:
    found = opened.history.last(station, question)
    assert found is not None, f"nothing on record for {question}"
    return found


def test_a_whole_round(walk: Walk, reopened: Reopened) -> None:
    """Each question is asked with its station and number, answered, saved, and the round ends with a summary."""
    status, said = walk(*ALL_WELL)
    opened = reopened()

    assert status == 0
    assert said.startswith(FIRST)
    for line in ("Station 1 of 3: The room", "Station 2 of 3: Raft tub", "Station 3 of 3: Window pots"):
        assert said.count(f"{line}\n") == 1
    assert "Question 2 of 2: What do the leaves show?" in said
    assert "Wanted: pH 5.5 to pH 6.5, the usual range." in said
    assert said.count("\nSaved: ") == 6
    assert "The round is walked: 6 answered, 0 not looked at" in said
    assert last(opened, "tub", "ph").value == 6.0
    assert last(opened, "tub", "leaves").choices == ("well",)
    assert last(opened, "pots", "flies").value == 0
    assert opened.rounds_today()[0].ended is not None
    assert opened.rounds_today()[0].walker == "K7"


def test_no_colour_no_cursor_no_box(walk: Walk) -> None:
    """Nothing but text and line ends is written."""
    _, said = walk(*ALL_WELL)

    assert all(one.isprintable() or one == "\n" for one in said)
    assert not any("\u2500" <= one <= "\u259f" for one in said)


def test_enter_alone_is_never_an_answer(walk: Walk, reopened: Reopened) -> None:
    """Enter alone asks the same question once more and writes nothing down."""
    _, said = walk("", "", "r")

    assert said.count("Question 1 of 1: What do you notice from the doorway?") == 4
    assert said.count("Station 1 of 3: The room") == 2
    assert reopened().history.everything() == []


@pytest.mark.parametrize("typed", ["3", "-1", "1.5", "one", "1 2", "n", "²", "99999999999999999999", "0,1"])
def test_what_is_no_answer_repeats_the_question(walk: Walk, reopened: Reopened, typed: str) -> None:
    """A line that is no answer is said to be none; the question comes once more and nothing is saved."""
    _, said = walk(typed)

    assert said.count("Question 1 of 1: What do you notice from the doorway?") == 2
    assert "Saved" not in said.replace("Everything said as saved", "")
    assert reopened().history.everything() == []


def test_not_looked_is_an_answer_of_its_own(walk: Walk, reopened: Reopened) -> None:
    """0 where one picks, n where one types: both are written down as not looked at, never as good."""
    _, said = walk("0", "n", "0", "0", "n", "n", "")
    opened = reopened()

    assert [one.state for one in opened.history.everything()] == ["not looked"] * 6
    assert [one.verdict for one in opened.history.everything()] == [""] * 6
    assert "as it should be" not in said
    assert "0 answered, 6 not looked at" in said


def test_does_not_apply(walk: Walk, reopened: Reopened) -> None:
    """X is written down where a question may not apply, and refused where it always does."""
    _, said = walk("x", "6", "x")
    opened = reopened()

    assert last(opened, "room", "door").state == "does not apply"
    assert "This question always applies." in said
    assert opened.history.last("tub", "leaves") is None


def test_a_slip_is_questioned_and_y_takes_what_was_meant(walk: Walk, reopened: Reopened) -> None:
    """58 is questioned with pH 5.8; y saves 5.8, and 58 is never on record."""
    _, said = walk("1", "58", "y")

    assert "Did you mean pH 5.8" in said
    assert [one.value for one in reopened().history.all("tub", "ph")] == [5.8]


def test_an_impossible_number_is_never_saved(walk: Walk, reopened: Reopened) -> None:
    """N to a guess at an impossible number asks the question again; a new number can be typed at once."""
    _, said = walk("1", "58", "n", "99999", "58", "6.1")

    assert said.count("Question 1 of 2: What is the pH?") == 3
    assert [one.value for one in reopened().history.all("tub", "ph")] == [6.1]


def test_an_unusual_number_can_stand(walk: Walk, reopened: Reopened) -> None:
    """A number that is only unusual is saved when somebody says that it is right."""
    walk("1", "3.9", "y", "")

    assert last(reopened(), "tub", "ph").value == 3.9


@pytest.mark.parametrize(
    ("typed", "value"), [("6,1", 6.1), ("pH 6.1", 6.1), ("6.1 pH", 6.1), ("+6.", 6.0), (".7e1", None)]
)
def test_numbers_as_people_type_them(walk: Walk, reopened: Reopened, typed: str, value: float | None) -> None:
    """A comma, the unit before or behind and a sign are understood; what is no number is not."""
    walk("1", typed)
    found = reopened().history.last("tub", "ph")

    assert (found.value if found else None) == value


def test_an_alarm_waits_until_it_is_seen_to(walk: Walk, reopened: Reopened) -> None:
    """A stop says why, what to do, who and the danger, makes its job, and waits for Enter."""
    _, said = walk("2", "done", "p")
    opened = reopened()

    for line in (
        "Saved: water on the floor.",
        "STOP: people first: hands off, fetch an adult.",
        "Why: Water may reach the mains.",
        "Do: Stay out.",
        "Who: Only an adult may do this. Tell an adult.",
        "Caution: Mains and water kill.",
        "Press Enter when it is seen to.",
    ):
        assert f"\n{line}\n" in said
    assert said.index("Press Enter") < said.index("Station 2 of 3")
    assert [job.what for job in opened.jobs_due()] == ["Find the leak"]


def test_a_number_far_out_is_an_alarm_too(walk: Walk) -> None:
    """A reading beyond its alarm waits, with the adult's work named as such."""
    _, said = walk("1", "4.2", "")

    assert "NOW: act before leaving the room." in said
    assert "Why: pH 4.2 is below pH 4.5." in said
    assert "Who: Only an adult may do this." in said


def test_several_signs(walk: Walk, reopened: Reopened) -> None:
    """Signs are typed as several numbers; the healthy one cannot stand beside others."""
    _, said = walk("1", "6", "1, 3", "3 2")

    assert '1 means "all well", so it cannot stand beside others.' in said
    assert last(reopened(), "tub", "leaves").choices == ("spots", "dust")
    assert "Job written down: Decide on it; for pupil, due today." in said


def test_back_and_put_right(walk: Walk, reopened: Reopened) -> None:
    """B goes back, says what was answered, and a new answer takes the place of the old one."""
    _, said = walk("b", "2", "", "b", "1", "b", "g", "6")
    opened = reopened()

    assert "This is the first question." in said
    assert "Answered in this round already: water on the floor. g keeps that and goes on." in said
    assert [one.choices for one in opened.history.all("room", "door")] == [("dry",)]
    assert opened.jobs_due() == []
    assert last(opened, "tub", "ph").value == 6


def test_back_from_the_end(walk: Walk, reopened: Reopened) -> None:
    """The last answer can be put right before the round ends."""
    _, said = walk(*ALL_WELL[:-1], "b", "moss on the sill", "")

    assert last(reopened(), "pots", "note").note == "moss on the sill"
    assert "The round is walked: 6 answered" in said


def test_skipping_a_station(walk: Walk, reopened: Reopened) -> None:
    """S writes the rest of the station down as not looked at and keeps what was answered."""
    _, said = walk("1", "6", "b", "s", "p")
    opened = reopened()

    assert "Saved: 1 question of Raft tub as not looked at." in said
    assert last(opened, "tub", "ph").state == "answered"
    assert last(opened, "tub", "leaves").state == "not looked"
    assert "Station 3 of 3: Window pots" in said


@pytest.mark.parametrize("ending", [("p",), ()], ids=["p", "end of input"])
def test_a_paused_round_is_taken_up(walk: Walk, reopened: Reopened, ending: tuple[str, ...]) -> None:
    """A pause and the end of the input both leave what was saved on disk, and say how to go on there."""
    status, said = walk("1", "6", *ending)
    again, rest = walk("1", "1", "3", "-", "")

    assert status == again == 0
    assert said.endswith(
        "The round is paused. Everything said as saved is on disk. To go on: walkabout round --plain --as K7\n"
    )
    assert "Going on at question 3 of 6" in rest
    assert "Question 2 of 2: What do the leaves show?" in rest
    assert "What is the pH?" not in rest
    assert len(reopened().rounds_today()) == 1


def test_somebody_else_can_go_on(walk: Walk, reopened: Reopened) -> None:
    """A round that another walker left is offered; who goes on is written down with each answer."""
    walk("1", "p")
    _, said = walk("y", "6", "p", walker="AR")
    opened = reopened()

    assert "K7 began a round at 08:00, left at question 2 of 6. Go on with it?" in said
    assert last(opened, "tub", "ph").walker == "AR"
    assert len(opened.rounds_today()) == 1


def test_nothing_left_to_ask(walk: Walk, reopened: Reopened) -> None:
    """A second round on the same day has nothing to ask, says so, and is not written down."""
    walk(*ALL_WELL)
    status, said = walk()

    assert status == 0
    assert "Nothing is left to look at today." in said
    assert len(reopened().rounds_today()) == 1


def test_ctrl_c_pauses(folder: Path, clock: Clock, reopened: Reopened) -> None:
    """Ctrl-C is a pause: status 0, and what was said as saved is on disk."""

    class Typed(StringIO):
        def readline(self, size: int = -1, /) -> str:
            line = super().readline(size)
            if line == "ctrl-c\n":
                raise KeyboardInterrupt
            return line

    said = StringIO()
    status = run(folder, "K7", clock=clock, dialogue=Dialogue(said, Typed("1\nctrl-c\n")))

    assert status == 0
    assert "The round is paused." in said.getvalue()
    assert last(reopened(), "room", "door").choices == ("dry",)


def test_who_walks_is_asked(walk: Walk, reopened: Reopened) -> None:
    """Codes are listed with numbers, ended ones are not; number, code and no code are all taken."""
    _, said = walk("Q1", "z9", "3", "", "ar", "1", "p", walker="")
    _, second = walk("2", "n", "p", walker="")

    assert "1. AR, adult\n2. K7, pupil\n0. somebody without a code" in said
    assert "Z9, pupil" not in said
    assert 'Nobody here has the code "Q1".' in said
    assert "AR, adult.\n" in said
    assert "K7, pupil.\n" in second
    assert last(reopened(), "room", "door").walker == "AR"


def test_a_finding_in_the_midst(walk: Walk, reopened: Reopened) -> None:
    """F asks where, what and how grave, saves it with its job, and comes back to the question."""
    _, said = walk("1", "f", "", "slime [/b] on the rim", "0", "2", "p")
    opened = reopened()
    finding = next(iter(opened.findings.values()))

    assert (finding.station, finding.seen, finding.verdict, finding.by) == (
        "tub",
        "slime [/b] on the rim",
        "today",
        "K7",
    )
    assert [job.what for job in opened.jobs_due()] == ["Decide what to do: slime [/b] on the rim"]
    assert "Saved: Raft tub, slime [/b] on the rim." in said
    assert said.count("Question 1 of 2: What is the pH?") == 2


@pytest.mark.parametrize("typed", [("c",), ("3", ""), ("3", "wilted", "c")])
def test_a_finding_can_be_left(walk: Walk, reopened: Reopened, typed: tuple[str, ...]) -> None:
    """Somebody who thinks better of a finding leaves nothing on record."""
    _, said = walk("f", *typed, "p")

    assert "No finding was written down." in said
    assert reopened().findings == {}


def test_a_late_round_leaves_what_can_wait(walk: Walk, clock: Clock, reopened: Reopened) -> None:
    """A typed w is refused in time; once the round is late it writes down what can wait, and asks the rest."""
    early = walk("w", "p")[1]
    clock.step = timedelta(seconds=60)
    _, said = walk("1", "6", "1", "w", "1", "")
    answers = reopened().history.everything()

    assert "The round is not late, so nothing has to be left." in early
    assert said.count("The round is late: w leaves 2 questions that can wait.") == 1
    assert "Saved: 2 questions that can wait, as not looked at. They come first next time." in said
    assert [one.question for one in answers if one.state == "not looked"] == ["flies", "note"]
    assert last(reopened(), "pots", "dry").choices == ("yes",)
    assert "The round is walked: 4 answered, 2 not looked at" in said


HOSTILE = [
    "half [/b] open",
    "[red]alert[/red] [@click=app.bell]x[/]",
    "a\\b \\[x] {0} %s $(ls) `id`",
    "ends with \\",
    "naïve 🌱 漢字 👩‍🌾",
    "../../etc",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_what_people_type_is_shown_as_typed(walk: Walk, reopened: Reopened, text: str) -> None:
    """A note comes back as it was typed, both in what is said and in what is on record."""
    _, said = walk("1", "6", "1", "1", "2", text, "")

    assert f"Saved: {text}.\n" in said
    assert last(reopened(), "pots", "note").note == text


def test_control_characters_never_reach_the_terminal(walk: Walk, folder: Path) -> None:
    """Escape sequences in names and notes are made visible."""
    file = folder / "room.toml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("Window pots", "\\u001b[2JPots\\u202e\\u0085"), encoding="utf-8"
    )
    _, said = walk("1", "6", "1", "1", "2", "\x1b]0;x\x07 red\x1b[31m", "p")

    assert all(one.isprintable() or one == "\n" for one in said)
    assert "\\x1b[2JPots\\u202e\\x85" in said
    assert "\\x1b]0;x\\x07 red\\x1b[31m" in said


def test_a_full_disk_is_said(walk: Walk, reopened: Reopened, monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer that could not be written is never said to be saved, and the status says so."""
    monkeypatch.setattr("walkabout.records.storage.JournalStorage.put", _full)
    status, said = walk("1", "p")

    assert status == 1
    assert "Not saved yet: nothing odd." in said
    assert "\nSaved" not in said
    assert "Everything said as saved is on disk" not in said


def _full(*_: object, **__: object) -> None:
    raise OSError(28, "No space left on device")


def test_many_wrong_lines_at_the_end(walk: Walk, reopened: Reopened) -> None:
    """However often something else is typed at the end, it is asked once more, and Enter ends the round."""
    status, said = walk(*ALL_WELL[:-1], *["well"] * 3000, "")

    assert status == 0
    assert said.count("That was the last question.") == 3001
    assert "The round is walked: 6 answered, 0 not looked at" in said
    assert reopened().rounds_today()[0].ended is not None


def test_when_it_was_answered_before(walk: Walk, reopened: Reopened, clock: Clock) -> None:
    """The day of the answer before is written as days are: a month begins with a capital letter."""
    walk(*ALL_WELL)
    clock.now += timedelta(days=9)
    _, said = walk("p")

    assert "\n25 Nov: nothing odd.\n" in said
