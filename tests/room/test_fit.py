"""Fitting what a person wrote, mistake by mistake."""

from datetime import date
from pathlib import Path
from typing import Literal

import pytest
from msgspec import Struct, field

from walkabout.room.fit import Fitted, fit
from walkabout.room.toml import Document, read


class Leaf(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    word: Literal["red", "green", "blue"] = "red"
    size: float = 1
    count: int | None = None
    day: date | None = None
    yes: bool = False


class Branch(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    key: str
    weight: float
    leaves: tuple[Leaf, ...] = ()
    by_name: dict[str, Leaf] = field(default_factory=dict)
    words: tuple[str, ...] = ()
    ends: tuple[float, float] | None = None
    leaf: Leaf = Leaf()


class Tree(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    name: str = "tree"
    branches: tuple[Branch, ...] = field(default=(), name="branch")
    leaf: dict[str, Leaf] = field(default_factory=dict)


def fitted(text: str, folder: Path) -> Fitted[Tree]:
    return fit(document(text, folder).data, Tree, document(text, folder))


def document(text: str, folder: Path) -> Document:
    (folder / "tree.toml").write_text(text, "utf-8")
    found = read(folder / "tree.toml")
    assert isinstance(found, Document), str(found)
    return found


def said(found: Fitted[Tree], folder: Path) -> list[str]:
    return [str(mistake).removeprefix(f"{folder}/") for mistake in found.mistakes]


def test_what_fits_is_taken_as_it_is(tmp_path: Path) -> None:
    """Every kind of value arrives; a whole number will do for a number, and a day in quotation marks for a day."""
    text = """\
name = "ash"
[[branch]]
key = "a"
weight = 2
words = ["x", "y"]
ends = [1, 2.5]
leaf = { day = "2027-02-15", count = 3.0 }
leaves = [{ word = "blue", yes = true }]
[branch.by_name."a.b"]
day = 2027-02-16
"""
    found = fitted(text, tmp_path)
    assert found.mistakes == ()
    assert found.what == Tree(
        name="ash",
        branches=(
            Branch(
                key="a",
                weight=2.0,
                words=("x", "y"),
                ends=(1.0, 2.5),
                leaf=Leaf(day=date(2027, 2, 15), count=3),
                leaves=(Leaf(word="blue", yes=True),),
                by_name={"a.b": Leaf(day=date(2027, 2, 16))},
            ),
        ),
    )


def test_every_mistake_is_said_at_once_with_its_line(tmp_path: Path) -> None:
    """One reading tells of all of them, in plain words, with the nearest word."""
    text = """\
nmae = "ash"
[[branch]]
key = "a"
weight = "heavy"
[[branch]]
weight = 1
words = "x"
[[branch]]
key = "c"
weight = 1
[branch.by_name.one]
word = "gren"
size = true
[branch.by_name.two]
colour = "red"
[branch.leaf]
count = 1.5
day = "soon"
[leaf]
x = { yes = "yes" }
"""
    assert said(fitted(text, tmp_path), tmp_path) == [
        'tree.toml:1: there is no "nmae" here. Did you mean "name"?',
        'tree.toml:4: weight must be a number, not the text "heavy"',
        'tree.toml:5: "key" is missing',
        'tree.toml:7: words must be a list between [ and ], not the text "x". Write words = ["x"]',
        'tree.toml:12: word cannot be "gren". Did you mean "green"?',
        "tree.toml:13: size must be a number, not true",
        'tree.toml:15: there is no "colour" here. It can be: count, day, size, word, yes',
        "tree.toml:17: count must be a whole number, not the number 1.5",
        'tree.toml:18: day must be a day such as 2027-02-15, not the text "soon"',
        'tree.toml:20: yes must be true or false, not the text "yes"',
    ]


def test_one_bad_field_does_not_lose_its_neighbours(tmp_path: Path) -> None:
    """What is wrong is left out at its usual value; everything beside, above and below it stays."""
    text = """\
name = "ash"
[[branch]]
key = "a"
weight = 1
words = ["x", 5, "z"]
leaves = [{ word = "blue" }, { word = "grey", size = 4 }, 7, { word = "green" }]
[branch.by_name.one]
size = "big"
count = 2
[branch.by_name.two]
count = 3
"""
    found = fitted(text, tmp_path)
    assert len(found.mistakes) == 4
    assert found.what is not None
    branch = found.what.branches[0]
    assert branch.words == ("x", "z")
    assert branch.leaves == (Leaf(word="blue"), Leaf(size=4), Leaf(word="green"))
    assert branch.by_name == {"one": Leaf(count=2), "two": Leaf(count=3)}


def test_a_missing_key_loses_only_its_entry(tmp_path: Path) -> None:
    """The entry without it goes, with the name it carries; those before and behind it stay."""
    text = '[[branch]]\nkey = "a"\nweight = 1\n[[branch]]\nkey = "b"\n[[branch]]\nkey = "c"\nweight = 3\n'
    found = fitted(text, tmp_path)
    assert said(found, tmp_path) == ['tree.toml:4: "weight" is missing in "b"']
    assert found.what is not None
    assert [branch.key for branch in found.what.branches] == ["a", "c"]


def test_a_required_value_of_the_wrong_type_is_one_mistake(tmp_path: Path) -> None:
    """It is not also said to be missing."""
    found = fitted("[[branch]]\nkey = 5\nweight = 1\n", tmp_path)
    assert said(found, tmp_path) == ["tree.toml:2: key must be text between quotation marks, not the number 5"]
    assert found.what == Tree()


def test_later_items_keep_their_line(tmp_path: Path) -> None:
    """A place in what is left leads to its line in the file, whatever was left out before it."""
    text = "".join(
        f'[[branch]]\nkey = "b{number}"\nweight = {number if number in (2, 5, 7) else "true"}\n' for number in range(9)
    )
    text += "[branch.leaf]\nsize = 1\n"
    found = fitted(text, tmp_path)
    assert [mistake.line for mistake in found.mistakes] == [3, 6, 12, 15, 21, 27]
    assert found.what is not None
    there = document(text, tmp_path)
    for index, branch in enumerate(found.what.branches):
        line = there.line(found.written(("branch", index, "key")))
        assert text.split("\n")[line - 1] == f'key = "{branch.key}"'


def test_items_left_out_at_two_depths(tmp_path: Path) -> None:
    """The places of lists inside lists are told apart."""
    text = """\
[[branch]]
key = 1
weight = 1
[[branch]]
key = "b"
weight = 1
words = [
  1,
  "x",
  2,
  "y",
]
"""
    found = fitted(text, tmp_path)
    assert found.what is not None
    assert found.what.branches[0].words == ("x", "y")
    assert found.written(("branch", 0, "words", 0)) == ("branch", 1, "words", 1)
    assert found.written(("branch", 0, "words", 1)) == ("branch", 1, "words", 3)
    assert document(text, tmp_path).line(found.written(("branch", 0, "words", 1))) == 11


def test_one_kind_of_bracket_for_another(tmp_path: Path) -> None:
    """[branch] for [[branch]], and the other way round."""
    assert said(fitted('[branch]\nkey = "a"\n', tmp_path), tmp_path) == [
        "tree.toml:1: branch must be a list between [ and ], not a table. Write [[branch]] with two brackets"
    ]
    assert said(fitted("[[leaf]]\nsize = 1\n", tmp_path), tmp_path) == ["tree.toml:1: leaf must be a table, not a list"]


@pytest.mark.parametrize("written", ["nan", "-nan", "inf", "-inf", "1e999", "1e10", "-1e10", "9" * 400])
def test_numbers_that_are_none(written: str, tmp_path: Path) -> None:
    """Neither nan nor inf nor a number beyond all use is taken for a number."""
    found = fitted(f'name = "ash"\n[leaf.x]\ncount = 2\nsize = {written}\n', tmp_path)
    assert [mistake.line for mistake in found.mistakes] == [4]
    assert found.what == Tree(name="ash", leaf={"x": Leaf(count=2)})


@pytest.mark.parametrize(
    "written", ["0x" + "f" * 6000, "10_000_000", "-9_999_999", "nan", "inf", "1e300", "0.5", "true"]
)
def test_whole_numbers_that_are_none(written: str, tmp_path: Path) -> None:
    """A count is a whole number that a calendar can hold, even one too long to be printed is said."""
    found = fitted(f"[leaf.x]\nsize = 2\ncount = {written}\n", tmp_path)
    assert [mistake.line for mistake in found.mistakes] == [3]
    assert found.what == Tree(leaf={"x": Leaf(size=2)})


@pytest.mark.parametrize(
    "written",
    ["2027-02-15T08:00:00Z", "2027-02-15 08:00:00", "08:00:00", '"2027-02-30"', "0001-01-01", "9999-12-31", "20270215"],
)
def test_days_that_are_none(written: str, tmp_path: Path) -> None:
    """A day is a day of the calendar in a year in which somebody can come; a moment is not a day."""
    found = fitted(f"[leaf.x]\nsize = 2\nday = {written}\n", tmp_path)
    assert [mistake.line for mistake in found.mistakes] == [3]
    assert found.what == Tree(leaf={"x": Leaf(size=2)})


@pytest.mark.parametrize("written", ["2027-02-15", "08:00:00", "1", "true", "[]", "{}", "nan"])
def test_text_is_text(written: str, tmp_path: Path) -> None:
    """Nothing else is taken for a name, a day least of all."""
    found = fitted(f"name = {written}\n", tmp_path)
    assert len(found.mistakes) == 1
    assert found.mistakes[0].says.startswith("name must be text between quotation marks, not ")
    assert found.what == Tree()


def test_pairs_have_two_numbers(tmp_path: Path) -> None:
    """A range with one end, three ends or a text for an end is left out as a whole."""
    for written, says in (
        ("[1]", "ends must have 2 values, not 1"),
        ("[1, 2, 3]", "ends must have 2 values, not 3"),
        ('[1, "2"]', 'ends must be a number, not the text "2"'),
        ("5", "ends must be a list between [ and ], not the number 5"),
    ):
        found = fitted(f'[[branch]]\nkey = "a"\nweight = 1\nends = {written}\n', tmp_path)
        assert said(found, tmp_path) == [f"tree.toml:4: {says}"]
        assert found.what == Tree(branches=(Branch(key="a", weight=1),))


def test_keys_with_odd_letters(tmp_path: Path) -> None:
    """Dots, quotation marks, brackets and line ends in a key lead neither to another place nor to a second line."""
    text = '[[branch]]\nkey = "a"\nweight = 1\n"le.af" = 1\n"x`\\n - at `$.leaf`" = 2\n[leaf."a.b[0]"]\nsize = "x"\n'
    found = fitted(text, tmp_path)
    assert [mistake.line for mistake in found.mistakes] == [4, 5, 7]
    assert all(len(str(mistake).splitlines()) == 1 for mistake in found.mistakes)
    assert found.what == Tree(branches=(Branch(key="a", weight=1),), leaf={"a.b[0]": Leaf()})


def test_whole_or_not_at_all(tmp_path: Path) -> None:
    """An entry of a kind that must be whole goes for any mistake in it; others go on without the value."""
    text = '[[branch]]\nkey = "a"\nweight = 1\nleaf = { sise = 1 }\n[[branch]]\nkey = "b"\nweight = 1\n'
    there = document(text, tmp_path)
    found = fit(there.data, Tree, there, whole=(Branch,))
    assert len(found.mistakes) == 1
    assert found.what is not None
    assert [branch.key for branch in found.what.branches] == ["b"]
    assert found.written(("branch", 0)) == ("branch", 1)


def test_ranges(tmp_path: Path) -> None:
    """A number outside the range of its key is left out; both ends are inside."""
    text = "[leaf]\na = { size = 3 }\nb = { size = 3.01, count = 1 }\nc = { size = -1 }\nd = { size = 0 }\n"
    there = document(text, tmp_path)
    found = fit(there.data, Tree, there, ranges={Leaf: {"size": (0, 3)}})
    assert said(found, tmp_path) == [
        "tree.toml:3: size cannot be 3.01. It can be 0 to 3",
        "tree.toml:4: size cannot be -1. It can be 0 to 3",
    ]
    assert found.what == Tree(leaf={"a": Leaf(size=3), "b": Leaf(count=1), "c": Leaf(), "d": Leaf(size=0)})


def test_a_thousand_mistakes(tmp_path: Path) -> None:
    """There is no number of mistakes at which the rest is given up."""
    text = "".join(f'[[branch]]\nkey = "{number}"\nweight = 1\nwrods = []\n' for number in range(1000))
    found = fitted(text, tmp_path)
    assert [mistake.line for mistake in found.mistakes] == list(range(4, 4004, 4))
    assert found.what is not None
    assert len(found.what.branches) == 1000
