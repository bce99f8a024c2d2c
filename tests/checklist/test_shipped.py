"""The shipped checklists as the program reads them."""

import pytest

from walkabout.checklist.model import PICKED, VERDICTS, Checklist
from walkabout.checklist.read import kinds, read_checklists, shipped_folder

NAMES = sorted(file.stem for file in shipped_folder().glob("*.toml"))


@pytest.fixture(scope="module")
def shipped() -> dict[str, Checklist]:
    return read_checklists().of


def test_they_have_no_mistake() -> None:
    """Not one, neither when they are read from their text nor from their kept copies."""
    assert [str(mistake) for mistake in read_checklists().mistakes] == []
    assert [str(mistake) for mistake in read_checklists().mistakes] == []


def test_there_are_thirteen(shipped: dict[str, Checklist]) -> None:
    """Twelve kinds of station and the room as a whole."""
    assert len(NAMES) == 13
    assert "room" in NAMES
    assert sorted(shipped) == NAMES == list(kinds())


@pytest.mark.parametrize("name", NAMES)
def test_their_size(name: str, shipped: dict[str, Checklist]) -> None:
    """Ten to twenty questions each, of which each has its own id and something that makes it worth asking."""
    checklist = shipped[name]
    assert checklist.kind == name
    assert 10 <= len(checklist.question) <= 20
    assert len({question.id for question in checklist.question}) == len(checklist.question)
    for question in checklist.question:
        assert (
            question.reveals
            or question.kind == "note"
            or question.reading
            or any(choice.verdict != "good" for choice in question.choices)
        ), question.id


@pytest.mark.parametrize("name", NAMES)
def test_no_answer_is_without_its_reason(name: str, shipped: dict[str, Checklist]) -> None:
    """Whatever is not good says why, and from today on what to do first."""
    for question in shipped[name].question:
        if question.kind not in PICKED:
            continue
        for choice in question.choices:
            for meaning in (choice, *choice.cases):
                if meaning.verdict != "good":
                    assert meaning.why.strip() or meaning.do.strip(), (question.id, choice.id)
                if VERDICTS.index(meaning.verdict) >= VERDICTS.index("today"):
                    assert meaning.do.strip(), (question.id, choice.id)


def test_only_those_that_are_wanted() -> None:
    """A room with two kinds of station reads two checklists."""
    assert sorted(read_checklists(only=frozenset({"raft", "vine", "no-such-kind"})).of) == ["raft", "vine"]


def test_the_kept_copies_say_the_same() -> None:
    """The first reading is from the text, the second from what it kept: both are equal, field by field."""
    assert read_checklists().of == read_checklists().of
