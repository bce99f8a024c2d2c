"""Mistakes in a checklist: each in one line, where it stands, with what would be right."""

from pathlib import Path

import pytest

from tests.checklist.lists import SHORT, line_of, read_own

ALL = ["water", "heat", "leaves", "else"]
NO_WATER, NO_HEAT, NO_LEAVES = ALL[1:], ["water", "leaves", "else"], ["water", "heat", "else"]


def test_the_short_checklist_is_right(tmp_path: Path) -> None:
    """It has no mistake, so that each change below makes exactly the one that is meant."""
    checklist, said, _ = read_own(tmp_path, "trough", SHORT)
    assert said == []
    assert checklist is not None
    assert [question.id for question in checklist.question] == ALL


# What is changed, what is said, and which questions can still be asked.
MISTAKES = {
    "unknown key": ("slow = true", "slwo = true", 'there is no "slwo" here. Did you mean "slow"?', NO_HEAT),
    "unknown verdict": ('verdict = "now"', 'verdict = "nwo"', 'verdict cannot be "nwo". Did you mean "now"?', NO_WATER),
    "who may": ('who = "adult"', 'who = "adlut"', 'who cannot be "adlut". Did you mean "adult"?', NO_WATER),
    "unknown key in a case": (
        "{ heat = { at_least = 22 } }",
        "{ heat = { atleast = 22 } }",
        'there is no "atleast" here. Did you mean "at_least"?',
        NO_WATER,
    ),
    "a text for a number in a case": (
        "{ heat = { at_least = 22 } }",
        '{ heat = { at_least = "22" } }',
        'at_least must be a number, not the text "22"',
        NO_WATER,
    ),
    "a number for a list in a case": (
        '{ leaves = ["limp"] }',
        "{ leaves = 5 }",
        "leaves must be a list between [ and ], not the number 5",
        NO_WATER,
    ),
    "a list for a table in a case": (
        "{ readings = { heat = { at_least = 22 } }, answers",
        "{ readings = [1], answers",
        "readings must be a table, not a list",
        NO_WATER,
    ),
    "a case without when": (
        "when = { readings",
        "wenn = { readings",
        'there is no "wenn" here. Did you mean "when"?',
        NO_WATER,
    ),
    "a case about an unknown question": (
        '{ leaves = ["limp"] }',
        '{ leafs = ["limp"] }',
        'there is no question "leafs". Did you mean "leaves"?',
        NO_WATER,
    ),
    "a case about an unknown choice": (
        '{ leaves = ["limp"] }',
        '{ leaves = ["lmip"] }',
        'the question "leaves" has no choice "lmip". Did you mean "limp"?',
        NO_WATER,
    ),
    "a case about a number that is none": (
        "{ heat = { at_least = 22 } }",
        "{ leaves = { at_least = 22 } }",
        'there is no number "leaves". It can be: heat',
        NO_WATER,
    ),
    "seconds below nothing": ("seconds = 6", "seconds = -6", "seconds cannot be -6. It can be 0.1 to 3600", NO_WATER),
    "seconds that are none": ("seconds = 6", "seconds = nan", "seconds must be a number, not the number nan", NO_WATER),
    "seconds without end": ("seconds = 6", "seconds = inf", "seconds cannot be inf. It can be 0.1 to 3600", NO_WATER),
    "must before should": (
        "should = 3",
        "should = 8",
        "must (7) comes before should (8). must is the longer one",
        NO_HEAT,
    ),
    "days in the past": ("days = 1\nask", "days = -1\nask", "days cannot be -1. It can be 0 to 366", NO_WATER),
    "a number of places that is none": (
        "decimals = 1",
        "decimals = 99",
        "decimals cannot be 99. It can be 0 to 6",
        NO_HEAT,
    ),
    "a range the wrong way round": (
        "good = [16, 22]",
        "good = [22, 16]",
        "good begins at 22 and ends at 16. The lower end comes first",
        NO_HEAT,
    ),
    "a range beyond what is possible": (
        "likely = [10, 32]",
        "likely = [10, 99]",
        "likely reaches beyond what is possible. Make possible wider or this narrower",
        NO_HEAT,
    ),
    "an alarm the wrong way round": (
        "alarm = [5, 35]",
        "alarm = [35, 5]",
        "alarm begins at 35 and ends at 5. The lower end comes first",
        NO_HEAT,
    ),
    "unknown quantity": (
        'quantity = "solution temperature"',
        'quantity = "solution temprature"',
        'quantity cannot be "solution temprature". Did you mean "solution temperature"?',
        NO_HEAT,
    ),
    "nothing to do": (
        'do = "Fill it now."',
        'do = ""',
        'the verdict "now" says nothing to do. Write do, and who may do it',
        NO_WATER,
    ),
    "an id with blanks": (
        'id = "else"',
        'id = "any thing"',
        '"any thing" is not an id. Use small letters, digits and hyphens',
        ALL[:3],
    ),
    "an empty question": ('ask = "Anything else?"', 'ask = " "', "the question is empty. Write what is asked", ALL[:3]),
    "an empty choice": ('says = "nothing" }', 'says = "" }', "the choice is empty. Write what is picked", NO_LEAVES),
    "a choice twice": (
        'id = "torn"',
        'id = "limp"',
        'the id "limp" is taken already. Give each choice its own',
        NO_LEAVES,
    ),
    "the first choice is not the healthy one": (
        'says = "nothing" }',
        'says = "nothing", verdict = "watch" }',
        'the first choice is the healthy one. Write verdict = "good"',
        NO_LEAVES,
    ),
    "yes, no and perhaps": (
        'kind = "signs"',
        'kind = "yes/no"',
        "yes or no are two choices. Give two, the healthy one first",
        NO_LEAVES,
    ),
    "a note with choices": (
        'kind = "signs"',
        'kind = "note"',
        "a note has no choices. Take them out, or make it one of choice, signs, yes/no",
        NO_LEAVES,
    ),
    "a choice without choices": (
        'kind = "note"',
        'kind = "choice"',
        "0 choices cannot be picked from. Give 2 to 9, the healthy one first",
        ALL[:3],
    ),
    "a number without a reading": (
        'kind = "note"',
        'kind = "number"',
        "a number needs a reading. Add [question.reading] with quantity, unit, possible and likely",
        ALL[:3],
    ),
    "asks an unknown question": (
        'ask = ["heat"]',
        'ask = ["haet"]',
        'there is no question "haet". Did you mean "heat"?',
        ALL,
    ),
    "shows an unknown fault": (
        'shows = ["dry"]',
        'shows = ["dri"]',
        'no [fault.dri] is written down. Did you mean "dry"?',
        ALL,
    ),
    "reveals an unknown fault": (
        "{ warm = 0.95, dry = 0.1 }",
        "{ warm = 0.95, dri = 0.1 }",
        'no [fault.dri] is written down. Did you mean "dry"?',
        ALL,
    ),
    "a chance above one": (
        "{ warm = 0.95, dry = 0.1 }",
        "{ warm = 0.95, dry = 10 }",
        "10 is not a chance. It is above 0 and at most 1",
        ALL,
    ),
    "a fault that nothing reveals": (
        "reveals = { warm = 0.95, dry = 0.1 }",
        "reveals = { dry = 0.1 }",
        "no question reveals warm. Name it in the reveals of a question",
        ALL,
    ),
    "an unknown first question": (
        'first = "water"',
        'first = "watr"',
        'there is no question "watr". Did you mean "water"?',
        ALL,
    ),
    "an id twice": ('id = "heat"', 'id = "water"', 'the id "water" is taken already. Give each question its own', None),
    "a fault without its hours": ("hours = 72\n", "", '"hours" is missing in "the water is too warm"', ALL),
    "a fault that kills more than all": ("lost = 0.5", "lost = 1.5", "lost cannot be 1.5. It can be 0 to 1", ALL),
    "another kind": (
        'kind = "trough"',
        'kind = "throu"',
        'the kind is "throu" but the file is called trough.toml. Write kind = "trough"',
        ALL,
    ),
}

WHERE = {
    "days in the past": "days = -1",
    "must before should": "must = 7",
    "nothing to do": 'verdict = "now"',
    "a fault that nothing reveals": "[fault.warm]",
    "a fault without its hours": "[fault.warm]",
    "yes, no and perhaps": "choices = [",
    "a note with choices": "choices = [",
    "a choice twice": 'says = "torn leaves"',
}
"""Where the mistake stands on another line than the change: a piece of that line."""


@pytest.mark.parametrize("name", [name for name in MISTAKES if name not in ("an id twice", "a case without when")])
def test_one_mistake(name: str, tmp_path: Path) -> None:
    """It is said with its line; the question goes when it cannot be asked so, and every other one stays."""
    old, new, says, left = MISTAKES[name]
    assert SHORT.count(old) == 1, old
    text = SHORT.replace(old, new)
    checklist, said, _ = read_own(tmp_path, "trough", text)
    at_end = name in ("a choice without choices", "a number without a reading")
    line = line_of(text, 'id = "else"') - 1 if at_end else line_of(text, WHERE.get(name, new))
    assert said == [f"trough.toml:{line}: {says}"]
    assert checklist is not None
    assert [question.id for question in checklist.question] == left
    assert checklist.kind == "trough"
    assert all(name in checklist.fault for question in checklist.question for name in question.reveals)
    assert all(0 < chance <= 1 for question in checklist.question for chance in question.reveals.values())


def test_an_id_twice(tmp_path: Path) -> None:
    """Answers are kept under the id: the first question of that id counts."""
    text = SHORT.replace('id = "else"', 'id = "leaves"')
    checklist, said, _ = read_own(tmp_path, "trough", text)
    second = [number for number, line in enumerate(text.split("\n"), 1) if line == 'id = "leaves"'][1]
    assert said == [f'trough.toml:{second}: the id "leaves" is taken already. Give each question its own']
    assert checklist is not None
    assert [(question.id, question.kind) for question in checklist.question][-1] == ("leaves", "signs")
    assert len(checklist.question) == 3


def test_a_case_without_its_condition(tmp_path: Path) -> None:
    """A case must never hold always: without a readable when, the question is left out."""
    text = SHORT.replace("when = { readings", "wenn = { readings")
    checklist, said, _ = read_own(tmp_path, "trough", text)
    assert said == [
        f'trough.toml:{line_of(text, "question.choices.cases")}: "when" is missing',
        f'trough.toml:{line_of(text, "wenn")}: there is no "wenn" here. Did you mean "when"?',
    ]
    assert checklist is not None
    assert [question.id for question in checklist.question] == NO_WATER


def test_lines_behind_a_question_that_was_left_out(tmp_path: Path) -> None:
    """What is wrong further down is named with its own line."""
    text = SHORT.replace("seconds = 6", 'seconds = "6"').replace("good = [16, 22]", "good = [22, 16]")
    text = text.replace('id = "torn"', 'id = "limp"')
    _, said, _ = read_own(tmp_path, "trough", text)
    assert [line.split(":")[1] for line in said] == [
        str(line_of(text, piece)) for piece in ('seconds = "6"', "good = [22, 16]", 'says = "torn leaves"')
    ]


def test_a_question_that_was_left_out_is_not_missed_by_others(tmp_path: Path) -> None:
    """Others may go on naming it, and its faults: it is written down, only not right yet."""
    for old, new in (
        ('ask = "How warm is the water?"', "ask = 5"),
        ("should = 2\nmust = 4", 'should = "2"\nmust = 4'),
        ("hours = 40", 'hours = "40"'),
    ):
        text = SHORT.replace(old, new)
        checklist, said, _ = read_own(tmp_path, "trough", text)
        assert len(said) == 1
        assert checklist is not None
        assert len(checklist.question) >= 3
        assert all(name in checklist.fault for question in checklist.question for name in question.reveals)


def test_nothing_is_left(tmp_path: Path) -> None:
    """A checklist of a new kind without one usable question is said and is none."""
    head = 'kind = "trough"\ntitle = "Trough"\n'
    for text in (head, f'{head}[[question]]\nid = "x"\n'):
        checklist, said, _ = read_own(tmp_path, "trough", text)
        assert checklist is None
        assert "trough.toml:1: nothing can be asked from this checklist. Add a [[question]]" in said
