"""On which line a value stands, for every way in which TOML can write one."""

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.checklist.read import shipped_folder
from walkabout.room.mistakes import Mistake
from walkabout.room.toml import Document, read
from walkabout.room.toml_lines import DEEPEST, Place

SHIPPED = sorted(shipped_folder().glob("*.toml"))
CROPS = Path(__file__).parents[2] / "walkabout" / "growing" / "crops.toml"


def document(text: str, folder: Path) -> Document:
    """Write the text to a file and read it; it must be valid."""
    file = folder / "some.toml"
    file.write_bytes(text.encode())
    found = read(file)
    assert isinstance(found, Document), str(found)
    return found


CASES: dict[str, tuple[str, dict[Place, int]]] = {
    "pairs, remarks and empty lines": ("a = 1\n\n# b = 2\nb = 2 # c = 3\nc = 3", {("a",): 1, ("b",): 4, ("c",): 5}),
    "remarks with brackets and quotes": (
        '# [x] """ \'\'\'\na = 1 # ] } "\n# [[y]]\nb = [ # [ "\n 1, # ]\n 2 ]\n',
        {("a",): 2, ("b",): 4, ("b", 0): 5, ("b", 1): 6},
    ),
    "text over several lines": (
        'a = """\n[no]\nb = 1\n\\""" # "" still text\n"""\nc = \'\'\'\n[[no]]\n\'\'\'\nd = 1\n',
        {("a",): 1, ("c",): 6, ("d",): 9},
    ),
    "text that ends with quotation marks": (
        'a = """x"""""\nb = """\n"y""""\nc = \'\'\'z\'\'\'\'\nd = ""\ne = \'\'\n',
        {("b",): 2, ("c",): 4, ("d",): 5, ("e",): 6},
    ),
    "a backslash at the end of a line": (
        'a = """x \\\n   y\\\\"""\nb = "\\\\"\nc = \'\\\'\nd = 1\n',
        {("b",): 3, ("d",): 5},
    ),
    "a list over several lines": (
        "a = [\n  1,\n\n  [2,\n   3],\n  { b = 4 },\n]\nc = 5\n",
        {("a",): 1, ("a", 0): 2, ("a", 1): 4, ("a", 1, 0): 4, ("a", 1, 1): 5, ("a", 2): 6, ("a", 2, "b"): 6, ("c",): 8},
    ),
    "tables on one line": (
        "a = { b = { c = 1, d = [ { e = 2 },\n { e = 3 } ] } }\nf = {}\ng = 1\n",
        {("a", "b", "c"): 1, ("a", "b", "d", 0, "e"): 1, ("a", "b", "d", 1, "e"): 2, ("f",): 3, ("g",): 4},
    ),
    "dotted keys": (
        "a.b.c = 1\na . d = 2\n3.14 = 3\n[x]\ny.z = 4\ny.w = 5\n",
        {("a",): 1, ("a", "b", "c"): 1, ("a", "d"): 2, ("3", "14"): 3, ("x", "y"): 5, ("x", "y", "w"): 6},
    ),
    "quoted keys": (
        '"a.b" = 1\n\'c "d"\' = 2\n"e\\"f\\u00e9" = 3\n"" = 4\n["x.y".\'z]\']\n"k=" = 5\n',
        {("a.b",): 1, ('c "d"',): 2, ('e"fé',): 3, ("",): 4, ("x.y", "z]"): 5, ("x.y", "z]", "k="): 6},
    ),
    "lists of tables": (
        "[[a.b]]\nx = 1\n[[a.b]]\nx = 2\n[[a.b.c]]\ny = 3\n[[a.b.c]]\n[a.b.d]\nz = 4\n[[ a . b ]]\nx = 5\n",
        {
            ("a",): 1,
            ("a", "b", 0): 1,
            ("a", "b", 0, "x"): 2,
            ("a", "b", 1): 3,
            ("a", "b", 1, "x"): 4,
            ("a", "b", 1, "c", 0): 5,
            ("a", "b", 1, "c", 0, "y"): 6,
            ("a", "b", 1, "c", 1): 7,
            ("a", "b", 1, "d", "z"): 9,
            ("a", "b", 2): 10,
            ("a", "b", 2, "x"): 11,
        },
    ),
    "days and times with blanks": (
        "a = 2027-02-15 08:00:00 # x\nb = 08:00:00\nc = [2027-02-15,\n1]\n",
        {("b",): 2, ("c", 1): 4},
    ),
    "lines of Windows": (
        'a = 1\r\n[b]\r\nc = """\r\nd = 2\r\n"""\r\ne = [\r\n1,\r\n2]\r\n',
        {("b", "c"): 3, ("b", "e", 1): 8},
    ),
    "a byte order mark": ("\ufeffa = 1\nb = 2\n", {("a",): 1, ("b",): 2}),
    "what is not there: the nearest thing around it": (
        "[a]\nb = 1\n[[c]]\n[[c]]\nd = [1]\n",
        {("a", "x", "y"): 1, ("c", 1, "x"): 4, ("c", 1, "d", 7): 5, ("c", 9): 3, ("z",): 1, (): 1},
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_lines_of_every_kind_of_toml(name: str, tmp_path: Path) -> None:
    """Each value is found on the line on which it was written."""
    text, lines = CASES[name]
    found = document(text, tmp_path)
    assert {place: found.line(place) for place in lines} == lines


# Generated files: the writer below keeps the line of everything it writes.

ONE_LINE = ["1", "-2.5e3", "true", "2027-02-15", "08:00:00", '"a # [b] = \\" {c"', "'] } # \"'", '""', "''", '"[[x]]"']
SEVERAL = ['"""\n[no]\nx = "1" # no\n"""', "'''\n[[no]]\n# it's\n'''", '"""a""\n\\"""b"""""', '"""x \\\n  y"""']

keys = st.tuples(st.sampled_from(["bare", "quoted", "literal", "dotted"]), st.integers(0, 10**6))
scalars = st.sampled_from(ONE_LINE + SEVERAL)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(st.tuples(inner, st.sampled_from(["", "\n", ' # ] , "\n', "\n\n  "])), max_size=4),
        st.dictionaries(keys, inner, max_size=3),
    ),
    max_leaves=6,
)
statements = st.lists(
    st.one_of(
        st.tuples(st.just("pair"), keys, values),
        st.tuples(st.sampled_from(["table", "list", "again"]), keys, st.booleans()),
        st.tuples(st.sampled_from(["remark", "blank"]), st.none(), st.none()),
    ),
    max_size=12,
)


class Writer:
    """Writes TOML and keeps the line on which each value begins."""

    def __init__(self) -> None:
        self.text = ""
        self.lines: dict[Place, int] = {}
        self.count = 0

    def here(self) -> int:
        return self.text.count("\n") + 1

    def mark(self, place: Place) -> None:
        self.lines.setdefault(place, self.here())

    def key(self, style: str, place: Place) -> Place:
        self.count += 1
        name = {"bare": f"k-{self.count}", "quoted": f'a "{self.count}".b', "literal": f"[{self.count}] #"}
        if style == "dotted":
            first, second = f"k{self.count}", f"in.{self.count}"
            self.mark((*place, first))
            self.mark((*place, first, second))
            self.text += f'{first} . "{second}"'
            return (*place, first, second)
        found = (*place, name[style])
        self.mark(found)
        self.text += {"bare": found[-1], "quoted": f'"a \\"{self.count}\\".b"', "literal": f"'{found[-1]}'"}[style]
        return found

    def value(self, value: Any, place: Place) -> None:
        if isinstance(value, str):
            self.text += value
        elif isinstance(value, list):
            self.text += "["
            for index, (inner, behind) in enumerate(value):
                self.mark((*place, index))
                self.value(inner, (*place, index))
                self.text += "," + behind
            self.text += "]"
        else:
            self.text += "{ "
            for number, ((style, _), inner) in enumerate(value.items()):
                self.text += ", " if number else ""
                found = self.key(style, place)
                self.text += " = "
                self.value(inner, found)
            self.text += " }"


def written(plan: list[tuple[str, Any, Any]]) -> Writer:
    writer, table, lists = Writer(), (), {}
    for what, key, value in plan:
        if what == "pair":
            found = writer.key(key[0], table)
            writer.text += "  =\t"
            writer.value(value, found)
            writer.text += " # [x]"
        elif what == "again" and lists:
            name = sorted(lists)[key[1] % len(lists)]
            lists[name] += 1
            table = (name, lists[name])
            writer.mark(table)
            writer.text += f"[[{name}]]"
        elif what in ("table", "list", "again"):
            writer.count += 1
            name = f"t{writer.count}"
            writer.mark((name,))
            writer.text += f"[[{name}]] # ]]" if what == "list" else f"[ {name} ]"
            table = (name, 0) if what == "list" else (name,)
            writer.mark(table)
            lists |= {name: 0} if what == "list" else {}
            if value and what == "list":
                writer.text += "\n"
                writer.mark((*table, "deeper"))
                writer.text += f"[{name}.deeper]"
                table = (*table, "deeper")
        elif what == "remark":
            writer.text += "# \"\"\" [[a]] '''"
        writer.text += "\n"
    return writer


def at(data: Any, place: Place) -> Any:
    for step in place:
        data = data[step]
    return data


@settings(max_examples=400, derandomize=True, deadline=None, database=None)
@given(statements)
def test_lines_of_generated_files(plan: list[tuple[str, Any, Any]]) -> None:
    """Everything that the parser finds is found on the line on which it was written."""
    writer = written(plan)
    data = tomllib.loads(writer.text)
    found = Document(Path("some.toml"), writer.text, data)
    for place, line in writer.lines.items():
        at(data, place)  # the writer and the parser agree that it is there
        assert found.line(place) == line, (place, writer.text)


def ids_by_text(text: str, list_name: str, key: str) -> list[tuple[str, int]]:
    """Find [[list_name]] and the first line behind each that gives `key`, by looking for text alone."""
    found, inside = [], False
    for number, line in enumerate(text.split("\n"), 1):
        if line.startswith("["):
            inside = line.strip() == f"[[{list_name}]]"
        elif inside and (given := re.match(rf"{key} = [\"'](.*?)[\"']", line)):
            found.append((given[1], number))
            inside = False
    return found


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_lines_of_the_shipped_checklists(file: Path) -> None:
    """The id of each question is found where a search for its text finds it."""
    found = read(file)
    assert isinstance(found, Document)
    ids = ids_by_text(file.read_text("utf-8"), "question", "id")
    assert [name for name, _ in ids] == [question["id"] for question in found.data["question"]]
    assert [found.line(("question", index, "id")) for index in range(len(ids))] == [line for _, line in ids]
    lines = file.read_text("utf-8").split("\n")
    for name in found.data["fault"]:
        assert lines[found.line(("fault", name)) - 1] == f"[fault.{name}]"


def test_lines_of_the_crop_table() -> None:
    """The key of each crop is found where a search for its text finds it."""
    found = read(CROPS)
    assert isinstance(found, Document)
    first = next(iter(found.data["crop"][0]))
    keys_found = ids_by_text(CROPS.read_text("utf-8"), "crop", first)
    assert [name for name, _ in keys_found] == [crop[first] for crop in found.data["crop"]]
    assert [found.line(("crop", index, first)) for index in range(len(keys_found))] == [line for _, line in keys_found]


SLIPS = {
    "no quotation marks": ("a = 1\nname = Fern room\n", 2, "no value that can be read", 'name = "Fern room"'),
    "curly quotation marks": ("name = “Fern”\n", 1, "no value", 'straight quotation marks: name = "Fern"'),
    "text not closed": ('a = 1\nname = "Fern\nb = 2\n', 2, "quotation mark is missing", "quotation mark is missing"),
    "a colon": ("a = 1\nname: Fern\n", 2, "joined by =", "joined by ="),
    "a key twice": ("a = 1\n\na = 2\n", 3, "this key is written down twice", ""),
    "a table twice": ("[a]\nb = 1\n[a]\n", 3, "this table is written down twice", ""),
    "list not closed": ("a = 1\nb = [1,\n2\n\n", 2, "] is missing", ""),
    "list that goes on": ("a = 1\nb = [1,\n2,\n\n", 2, "ends before the value does", ""),
    "no value": ("a = 1\nb =", 2, "ends before the value does", ""),
    "long text not closed": ('a = 1\nb = """x\n\n\n', 2, "quotation mark is missing", ""),
    "no such day": ("a = 1\nto = 2027-02-30\n", 2, "", "must be in the calendar"),
    "a bare time": ("starts = 8:00\n", 1, "", 'starts = "08:00"'),
    "a NUL": ("a = 1\n\0\n", 2, "", ""),
    "a lone carriage return": ('a = "b\rc"\n', 1, "cannot stand here", ""),
    "too many digits": ("a = 1\nb = " + "9" * 5000 + "\n", 2, "too many digits", ""),
    "half a surrogate pair": ('a = "\\ud800"\n', 1, "must be written twice", ""),
    "a path with backslashes": ('a = 1\nb = "C:\\plants"\n', 2, "must be written twice", ""),
    "a header not closed": ("a = 1\n[[station]\n", 2, "a bracket is missing", ""),
}


@pytest.mark.parametrize("name", SLIPS)
def test_text_that_is_not_toml(name: str, tmp_path: Path) -> None:
    """One mistake names the line and, for the usual slips, what would be right."""
    text, line, says, right = SLIPS[name]
    file = tmp_path / "room.toml"
    file.write_bytes(text.encode())
    found = read(file)
    assert isinstance(found, Mistake)
    assert (found.file, found.line) == (file, line)
    assert says in found.says
    assert right in found.right


@pytest.mark.parametrize("data", [b"a = 1\nb = 'caf\xe9'\n", b"a = 1\n\xed\xa0\x80\n", b"a = 1\n\xff\xfeb\x00\n"])
def test_not_utf8(data: bytes, tmp_path: Path) -> None:
    """A file in another encoding is named with the line of the first wrong character."""
    file = tmp_path / "room.toml"
    file.write_bytes(data)
    found = read(file)
    assert isinstance(found, Mistake)
    assert (found.line, found.says, found.right) == (2, "a character here is not UTF-8", "Save the file as UTF-8 text")


def test_no_file_and_no_text_file(tmp_path: Path) -> None:
    """A missing file, a folder of that name and a name that cannot be are each said in one line."""
    (tmp_path / "room.toml").mkdir()
    for file, says in (
        (tmp_path / "other.toml", "the file is not there"),
        (tmp_path / "room.toml", "the file cannot be read"),
        (tmp_path / "a\0b.toml", "no file can be called so"),
    ):
        found = read(file)
        assert isinstance(found, Mistake)
        assert found.says.startswith(says)


@pytest.mark.parametrize("depth", [DEEPEST - 2, DEEPEST + 1, 200, 300, 400, 480, 500, 1000, 20000])
@pytest.mark.parametrize("shape", ["lists", "tables", "dotted", "header"])
def test_nesting(shape: str, depth: int, tmp_path: Path) -> None:
    """Nesting beyond any use is one mistake however deep it is; below it, the file is read."""
    if shape in ("dotted", "header"):
        depth = min(depth, 2000)
    text = {
        "lists": "x = 1\na = " + "[" * depth + "]" * depth,
        "tables": "x = 1\na = " + "{b = " * depth + "1" + "}" * depth,
        "dotted": "x = 1\n" + "a." * depth + "a = 1",
        "header": "x = 1\n[" + "a." * depth + "a]",
    }[shape]
    file = tmp_path / "room.toml"
    file.write_text(text + "\n", "utf-8")
    found = read(file)
    if depth < DEEPEST:
        assert isinstance(found, Document)
        assert found.line(("a",)) == 2
    else:
        assert isinstance(found, Mistake)
        assert found.says == "lists or tables are nested too deeply"
        assert found.line in (1, 2)
