"""The lookup in lines: alone, and from the plain round."""

from collections.abc import Callable
from io import StringIO
from pathlib import Path
from typing import Any

import msgspec
import pytest

from tests.round.school import School
from walkabout.diagnosis.consult import Consulted
from walkabout.diagnosis.next_check import NextCheck
from walkabout.growing.crops import load
from walkabout.plain.dialogue import Dialogue, Ended
from walkabout.plain.lookup import LookupDialogue, look_up
from walkabout.plain.wrapping import wrapped
from walkabout.round.lookup import Lookup

WHITE = "white powder on the leaves that rubs off"


def alone(*lines: str) -> tuple[Lookup, str]:
    """Type lines into a lookup without a room; `q` ends it."""
    said, lookup = StringIO(), Lookup(load())
    LookupDialogue(Dialogue(said, StringIO("".join(f"{one}\n" for one in (*lines, "q")))), lookup).run()
    return lookup, said.getvalue()


@pytest.fixture
def school(tmp_path: Path) -> School:
    return School(tmp_path / "room", ["tub", "pots"])


def in_room(school: School, *lines: str, walker: str = "K7", station: str = "pots") -> str:
    said = StringIO()
    look_up(Dialogue(said, StringIO("".join(f"{one}\n" for one in (*lines, "q")))), school.room, station, walker)
    return said.getvalue()


def test_what_is_typed_is_taken_and_answered() -> None:
    """What was understood, the verdict, the causes with word and reason, the next look and how to answer it."""
    lookup, said = alone(WHITE)
    assert "Taken: white powder that rubs off.\n" in said
    assert f"\n{lookup.answer().says}\n" in said
    check = lookup.answer().next_check
    assert check is not None
    assert check.ask in said
    assert f"How: {check.look}" in said
    assert said.rstrip().endswith("The lookup is ended.")


@pytest.mark.parametrize(("key", "present"), [("y", True), ("n", False), ("YES", True)])
def test_one_key_answers_the_look(key: str, present: bool) -> None:
    """Y and n answer the sign that was asked for."""
    before, _ = alone(WHITE)
    check = before.answer().next_check
    assert check is not None
    assert not check.reading
    lookup, _ = alone(WHITE, key)
    assert [(one.key, one.present) for one in lookup.seen()][1:] == [(check.key, present)]


def test_what_cannot_be_told_is_not_asked_again() -> None:
    """? goes on to another look."""
    before, _ = alone(WHITE)
    first = before.answer().next_check
    lookup, _ = alone(WHITE, "?")
    second = lookup.answer().next_check
    assert first is not None
    assert second is None or second.key != first.key
    assert len(lookup.seen()) == 1


class AsksForPh(Lookup):
    """A lookup whose next look is the pH until it is known."""

    def answer(self) -> Consulted:
        measure = self.ready.known.measures["ph"]
        asked = NextCheck(
            key="ph", reading=True, ask=measure.ask, look=measure.look, seconds=60, who="pupil", caution="",
            gain=1.0, separates=("powdery-mildew",), unit=measure.unit,
        )  # fmt: skip
        return msgspec.structs.replace(super().answer(), next_check=None if "ph" in self.readings else asked)


def test_a_reading_that_is_asked_for_is_typed_as_a_number() -> None:
    """A number is taken, with its unit too; y and n are not, and what cannot be is said."""
    lookup, said = AsksForPh(load()), StringIO()
    lookup.say(WHITE)
    LookupDialogue(Dialogue(said, StringIO("y\n15\n6,9 kg\npH 6.9\n7.1\nq\n")), lookup).run()
    assert "Type the number, or ? if it cannot be told" in said.getvalue()
    assert "Type the number, or ? if it cannot be told.\n" in said.getvalue()
    assert "pH is between 0 and 14; '15' cannot be." in said.getvalue()
    assert "'6,9 kg' is not in pH" in said.getvalue()
    assert lookup.readings == {"ph": 6.9}


def test_readings_and_crop_can_be_typed_at_any_time() -> None:
    """ph=6.9 and c basil; mistakes are said in one line and the lookup goes on."""
    lookup, said = alone(WHITE, "ph=6.9", "air=75F", "c arugula", "c xqzqz", "luck=3")
    assert (lookup.readings, lookup.crop) == ({"ph": 6.9, "air": 23.89}, "rocket")
    assert "Taken: pH 6.9." in said
    assert "Crop: rocket." in said
    assert "No crop is called 'xqzqz'." in said
    assert "No reading is called 'luck'." in said


def test_what_is_not_understood_is_said_and_the_nearest_signs_are_offered() -> None:
    """Nonsense is named; something near can be picked, or not."""
    _, said = alone("blorp fizzle")
    assert 'Not understood: "blorp fizzle".' in said
    assert said.count("What is seen?") == 2


def test_what_was_typed_last_can_be_taken_back() -> None:
    """U brings back what was known before, one line after the other, and says which."""
    before, _ = alone(WHITE)
    lookup, said = alone(WHITE, "y", "c basil", "ph=6.9", "u", "u", "u")
    assert [one.key for one in lookup.seen()] == [one.key for one in before.seen()]
    assert (lookup.readings, lookup.crop) == ({}, "")
    assert lookup.answer() == before.answer()
    assert 'Taken back: "ph=6.9".' in said
    assert 'Taken back: "y".' in said
    assert "Nothing was said yet" in alone("u")[1]


def test_danger_is_said_before_anything_else() -> None:
    """People first, with the step that comes first."""
    lookup, said = alone("sparks from the plug and yellow leaves")
    stop = said.index("Stop: people first.")
    assert lookup.answer().do[0].step in said[stop:].splitlines()[1]
    assert stop < said.index("Taken: ")


def test_what_is_known_can_be_taken_back() -> None:
    """K numbers it, x takes one back; a number that is not there is said."""
    lookup, said = alone(WHITE, "no webs", "k", "x 9", "x 1")
    assert "1. there: white powder that rubs off" in said
    assert "2. not there: " in said
    assert "x and a number takes one back" in said
    assert [one.present for one in lookup.seen()] == [False]


def test_what_to_do_has_who_and_caution() -> None:
    """Now before next, each with who may do it; and never as certain."""
    lookup, said = alone(WHITE, "d")
    assert "What to do now:" in said
    for step in lookup.answer().do:
        assert step.step in said
    assert said.count("Who: ") >= len(lookup.answer().do)
    assert "it is no proof" in said


def test_the_page_of_a_cause() -> None:
    """P and a name; an unknown one is said."""
    _, said = alone("p oidium", "p qqqq")
    assert "Powdery mildew\nWhat it is\n" in said
    assert "No cause is called 'qqqq'." in said


def test_the_same_answer_is_not_read_out_twice() -> None:
    """After help only the question stands there again."""
    lookup, said = alone(WHITE, "h")
    assert said.count(lookup.answer().says) == 1


def test_without_a_room_nothing_is_written_down() -> None:
    """J and f say where they belong."""
    _, said = alone(WHITE, "j", "f")
    assert said.count("belong to a room: walkabout --room DIR lookup --plain") == 2


def test_the_end_of_the_input_ends_it() -> None:
    """Nothing hangs where nobody types any more."""
    with pytest.raises(Ended):
        LookupDialogue(Dialogue(StringIO(), StringIO("white powder\n")), Lookup(load())).run()


def test_hostile_text_is_shown_as_typed() -> None:
    """Nothing typed can steer the terminal."""
    _, said = alone("\x1b[31mred[/red] \x07", "p \x1b[2J", "c \x1b[2J")
    assert "\x1b" not in said
    assert "\x07" not in said


# in a room


def test_a_station_starts_with_what_is_on_record(school: School) -> None:
    """Crop, age and readings are there before anything is typed."""
    school.written("tub", "ph", 1, value=6.9)
    said = in_room(school, station="tub")
    assert "Known already:\n" in said
    assert "crop: lettuce on rafts\n" in said
    assert "reading: pH 6.9\n" in said


def test_with_several_crops_it_is_asked_which(school: School) -> None:
    """The largest comes first; 0 leaves it open."""
    from walkabout.records.model import Move, Planting

    moves = (Move(day=school.now.date(), station="pots"),)
    school.room.save(Planting(key="p-x", crop="tomato", sown=school.now.date(), count=2, moves=moves))
    said = in_room(school, "2")
    assert "1. basil, 6 plants\n2. tomato, 2 plants\n0. another, or not known\n" in said
    assert "crop: tomato" in said
    assert "crop: " not in in_room(school, "0")


def test_jobs_and_findings_are_written_down(school: School) -> None:
    """What is picked becomes a job; what is kept becomes a finding with its signs; both are on disk."""
    said = in_room(school, WHITE, "j", "1,2", "f", "1")
    assert "Saved: 2 jobs written down." in said
    room = school.again()
    assert len(room.jobs) == 2
    assert {one.signs for one in room.findings.values()} == {("white-powder",)}
    assert "Saved: The pots, " in said or "Saved: white powder that rubs off." in said


def test_nothing_picked_writes_nothing(school: School) -> None:
    """Enter alone makes no job, 0 no finding; and nothing seen makes neither."""
    said = in_room(school, "j", "f", WHITE, "j", "", "f", "0")
    assert said.count("Say what is seen first.") == 2
    assert "No job was written down." in said
    assert "No finding was written down." in said
    assert (school.room.jobs, school.room.findings) == ({}, {})


def test_from_the_plain_round(walk: Callable[..., tuple[int, str]], reopened: Callable[[], Any]) -> None:
    """L opens it where the walk stands; q comes back to the same question, which is still open."""
    status, said = walk("?", "l", WHITE, "f", "1", "q", "p")
    assert status == 0
    assert "l = look up" in said
    assert said.count("What do you notice from the doorway?") >= 2
    assert "The round is paused." in said
    found = list(reopened().findings.values())
    assert [(one.station, one.by) for one in found] == [("room", "K7")]


def test_lines_are_wrapped_for_eighty_columns() -> None:
    """What goes on stands further in; nothing is lost."""
    text = "  " + "a word and another " * 12
    lines = list(wrapped([text, "", "short"]))
    assert max(map(len, lines)) <= 78
    assert " ".join(" ".join(lines).split()) == f"{' '.join(text.split())} short"
    assert lines[1].startswith("    ")
