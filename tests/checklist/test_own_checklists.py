"""A room's own checklists, that replace the shipped ones or extend them."""

from pathlib import Path

import pytest

from tests.checklist.lists import SHORT, line_of, put, read_own, shipped_text
from walkabout.checklist.model import Checklist
from walkabout.checklist.read import kinds, read_checklists

SHIPPED = read_checklists().of
RAFT = SHIPPED["raft"]


def alone(checklist: Checklist) -> str:
    """Return the id of a question that no other one names, and whose faults others reveal too."""
    named = {checklist.first}
    for question in checklist.question:
        low_and_high = (question.reading.low, question.reading.high) if question.reading else ()
        for meaning in (*question.choices, *low_and_high, *(case for one in question.choices for case in one.cases)):
            named |= set(meaning.ask)
        for case in (case for one in question.choices for case in one.cases):
            named |= {*case.when.answers, *case.when.readings}
    revealed = [name for question in checklist.question for name in question.reveals]
    return next(
        question.id
        for question in checklist.question
        if question.id not in named and all(revealed.count(name) > 1 for name in question.reveals)
    )


FREE = alone(RAFT)
AT = [question.id for question in RAFT.question].index(FREE)

NOTE = """
[[question]]
id = "{}"
ask = "Anything else here?"
kind = "note"
seconds = 5
should = 7
must = 14
"""
EXTENDS = 'kind = "raft"\nextends = true\n'


def ids(checklist: Checklist | None) -> list[str]:
    assert checklist is not None
    return [question.id for question in checklist.question]


def test_a_kind_of_its_own(tmp_path: Path) -> None:
    """A file is all that a new kind of station needs."""
    checklist, said, found = read_own(tmp_path, "trough", SHORT)
    assert said == []
    assert ids(checklist) == ["water", "heat", "leaves", "else"]
    assert kinds(tmp_path) == tuple(sorted({*SHIPPED, "trough"}))
    assert found.of["room"] == SHIPPED["room"]


def test_it_replaces(tmp_path: Path) -> None:
    """Without `extends` nothing of the shipped one is left."""
    text = 'kind = "raft"\ntitle = "Our tub"\n' + NOTE.format("one") + NOTE.format("two")
    checklist, said, _ = read_own(tmp_path, "raft", text)
    assert said == []
    assert ids(checklist) == ["one", "two"]
    assert checklist is not None
    assert (checklist.title, checklist.fault) == ("Our tub", {})


def test_it_extends(tmp_path: Path) -> None:
    """The same id replaces in its place, a new one is added at the end, and the rest stays as it is shipped."""
    text = EXTENDS + NOTE.format(FREE) + NOTE.format("our-own")
    checklist, said, _ = read_own(tmp_path, "raft", text)
    assert said == []
    assert ids(checklist) == [*ids(RAFT), "our-own"]
    assert checklist is not None
    assert checklist.question[AT].ask == checklist.question[-1].ask == "Anything else here?"
    assert checklist.question[:AT] == RAFT.question[:AT]
    assert checklist.question[AT + 1 : -1] == RAFT.question[AT + 1 :]
    assert (checklist.title, checklist.about, checklist.first) == (RAFT.title, RAFT.about, RAFT.first)
    assert checklist.fault == RAFT.fault


def test_it_extends_with_a_fault_and_a_title(tmp_path: Path) -> None:
    """What the room's file gives counts; faults come together."""
    fault = '[fault.snails]\nsays = "snails have come in"\nper_week = 0.1\nhours = 200\nsource = "assumed"\n'
    text = (
        EXTENDS
        + f'title = "Our tub"\nfirst = "{FREE}"\n'
        + fault
        + NOTE.format("look")
        + "reveals = { snails = 0.5 }\n"
    )
    checklist, said, _ = read_own(tmp_path, "raft", text)
    assert said == []
    assert checklist is not None
    assert (checklist.title, checklist.about, checklist.first) == ("Our tub", RAFT.about, FREE)
    assert set(checklist.fault) == {*RAFT.fault, "snails"}


def test_nothing_to_extend(tmp_path: Path) -> None:
    """It is said, and the file stands for itself."""
    checklist, said, _ = read_own(tmp_path, "trough", 'kind = "trough"\nextends = true\n' + NOTE.format("look"))
    assert said == ['trough.toml:2: there is no shipped checklist "trough" to extend. Take this line out']
    assert ids(checklist) == ["look"]
    assert checklist is not None
    assert checklist.title == "trough"


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ('kind = "raft"\ntitle = "Our tub\n', 2, "this is not TOML: a text is not closed"),
        ('kind = "raft"\n[[question]\n', 2, "this is not TOML"),
        ("", 1, '"kind" is missing'),
        ('kind = "raft"\ntitle = "x"\n', 1, "nothing can be asked from this checklist"),
        ('kind = "raft"\ntitle = "x"\n' + NOTE.format("look").replace("5", '"5"'), 8, "seconds must be a number"),
        ('kind = "raft"\ntitle = "x"\nquestion = "look"\n', 3, "question must be a list"),
        ('kind = "raft"\ntitle = 5\n' + NOTE.format("look"), 2, "title must be text"),
    ],
)
def test_a_broken_one_leaves_the_shipped_one(text: str, line: int, says: str, tmp_path: Path) -> None:
    """It is named with its line; the shipped checklist of that kind stays, and so do the others."""
    put(tmp_path, "trough", SHORT)
    checklist, said, _ = read_own(tmp_path, "raft", text)
    assert any(one.startswith(f"raft.toml:{line}: {says}") for one in said), said
    assert checklist == RAFT
    everything = read_checklists(tmp_path)
    assert {name: everything.of[name] for name in SHIPPED} == SHIPPED
    assert ids(everything.of["trough"]) == ["water", "heat", "leaves", "else"]


@pytest.mark.parametrize(
    ("old", "new"),
    [("seconds = 5", 'seconds = "5"'), ('kind = "note"', 'kind = "choice"'), ("must = 14", "must = 2")],
)
def test_a_broken_question_leaves_the_shipped_one(old: str, new: str, tmp_path: Path) -> None:
    """Of a file that extends, the question that is right counts, and where one is not, the shipped one is asked."""
    text = EXTENDS + NOTE.format(FREE).replace(old, new) + NOTE.format("our-own")
    checklist, said, _ = read_own(tmp_path, "raft", text)
    assert len(said) == 1
    assert ids(checklist) == [*ids(RAFT), "our-own"]
    assert checklist is not None
    assert checklist.question[AT] == RAFT.question[AT]


def test_an_id_twice_in_a_file_that_extends(tmp_path: Path) -> None:
    """The second one is said and left out."""
    text = EXTENDS + NOTE.format("look") + NOTE.format("look").replace("else", "more")
    checklist, said, _ = read_own(tmp_path, "raft", text)
    second = [number for number, line in enumerate(text.split("\n"), 1) if line.startswith("id =")][1]
    assert said == [f'raft.toml:{second}: the id "look" is taken already in this file. Give each question its own']
    assert checklist is not None
    assert checklist.question[-1].ask == "Anything else here?"
    assert ids(checklist).count("look") == 1


def test_a_mistake_in_a_file_that_extends_is_named_in_it(tmp_path: Path) -> None:
    """The line is the one in the room's file, however many shipped questions come before it."""
    text = EXTENDS + NOTE.format("good-one") + NOTE.format("bad-one").replace("must = 14", "must = 3")
    _, said, found = read_own(tmp_path, "raft", text)
    assert said == [f"raft.toml:{line_of(text, 'must = 3')}: must (3) comes before should (7). must is the longer one"]
    assert found.mistakes[0].file == tmp_path / "checklists" / "raft.toml"


def test_a_shipped_question_that_does_not_go_with_it(tmp_path: Path) -> None:
    """A choice was taken away that a shipped question names: it is said which one, and that one is still asked."""
    names = {
        (name, picked)
        for question in RAFT.question
        for choice in question.choices
        for case in choice.cases
        for name, picked in case.when.answers.items()
        if name != question.id
    }
    name, picked = sorted(names)[0]
    text = EXTENDS + NOTE.format(name)
    checklist, said, _ = read_own(tmp_path, "raft", text)
    assert said
    assert all(one.startswith('raft.toml:1: the shipped "') for one in said)
    assert any(f'has no choice "{picked[0]}"' in one for one in said)
    assert ids(checklist) == ids(RAFT)


def test_a_folder_without_checklists(tmp_path: Path) -> None:
    """Other files, folders and a file in the place of the folder do no harm."""
    assert read_checklists(tmp_path).of == SHIPPED
    put(tmp_path, "trough", SHORT).rename(tmp_path / "checklists" / "trough.toml.old")
    (tmp_path / "checklists" / "raft.toml").mkdir()
    found = read_checklists(tmp_path)
    assert (found.of, found.mistakes) == (SHIPPED, ())
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "checklists").write_text("not a folder", "utf-8")
    assert read_checklists(tmp_path / "other").of == SHIPPED


def test_a_shipped_file_copied_into_the_room(tmp_path: Path) -> None:
    """To change a shipped checklist one copies it: the copy reads as the shipped one does."""
    for name in SHIPPED:
        put(tmp_path, name, shipped_text(name))
    found = read_checklists(tmp_path)
    assert (found.of, found.mistakes) == (SHIPPED, ())
