"""Ways in which a file is spoiled: by hand, by a bad editor, by a bad disk."""

import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from walkabout.room.mistakes import Mistake

Spoil = Callable[[bytes, int, int], bytes]
"""Takes the file and two numbers that say where; gives the spoiled file."""

VALUES = [
    "nan",
    "-nan",
    "inf",
    "-inf",
    "1e999",
    "-1",
    "-0.0",
    "0",
    "1e300",
    "9" * 30,
    "9" * 5000,
    "0x" + "f" * 5000,
    "true",
    '""',
    '"text"',
    '"8:00"',
    '"é\\u2028\\u0007\\U0010FFFF"',
    '"\\ud800"',
    '"line\\nline"',
    '"""\nline\n[line]\n"""',
    "'''\n'''",
    '"' + "x" * 50_000 + '"',
    "2027-02-15",
    "2027-02-30",
    "0001-01-01",
    "9999-12-31",
    "2027-02-15T08:00:00Z",
    "2027-02-15 24:00:00",
    "08:00:00",
    "1979-05-27T07:32:00+25:00",
    "[]",
    "{}",
    "[[[]]]",
    "[1, 2, 3]",
    "[nan, inf]",
    '["x", 1, {}, [], 2027-02-15]',
    "{ a = { b = { c = [1] } } }",
    '{ "a.b" = 1, "\\n" = 2 }',
    "[" * 100 + "]" * 100,
    "[" * 480 + "]" * 480,
    "[" * 3000 + "]" * 3000,
    "{a=" * 300 + "1" + "}" * 300,
    "",
    "yes",
    "“curly”",
    "null",
]
KEYS = [
    "a.b",
    '"a.b"',
    '"a\\nb"',
    '"\\u001b[31m"',
    "''",
    "'\"'",
    '"' + "k" * 20_000 + '"',
    "é",
    "key",
    "id",
    "kind",
    "when",
    "verdict",
    "a" + ".a" * 60,
    "a" + ".a" * 1500,
    "[x]",
    "[[x]]",
    "`$.x[0]`",
    '" - at `$.x[...]`"',
]
PIECES = [
    *(piece.encode() for piece in "\"'[]{}=.,#\\\n\r\t\x00\x1b\x7f\u2028\ufeffé𝄞"),
    b'"""',
    b"'''",
    b"[[",
    b"]]",
    b"\\u",
    b"\r\n",
    b"\xff",
    b"\xed\xa0\x80",
    b"\xc3",
    b"\xff\xfe",
    b"\xf4\x90\x80\x80",
    b" " * 20_000,
    b"\n" * 300,
    b"[station]\n",
    b"\n[[question]]\n",
    b"\n[question]\n",
    b"\nkind = 1\n",
]


def delete(data: bytes, first: int, second: int) -> bytes:
    at = first % (len(data) + 1)
    return data[:at] + data[at + second % 40 + 1 :]


def repeat(data: bytes, first: int, second: int) -> bytes:
    at = first % (len(data) + 1)
    return data[:at] + data[at : at + second % 400 + 1] * 2 + data[at + second % 400 + 1 :]


def insert(data: bytes, first: int, second: int) -> bytes:
    at = first % (len(data) + 1)
    return data[:at] + PIECES[second % len(PIECES)] + data[at:]


def noise(data: bytes, first: int, second: int) -> bytes:
    at = first % (len(data) + 1)
    some = bytes((second >> shift) & 255 for shift in range(0, 24, 3))
    return data[:at] + some + data[at + second % 9 :]


def cut(data: bytes, first: int, _second: int) -> bytes:
    return data[: first % (len(data) + 1)]


def behead(data: bytes, first: int, _second: int) -> bytes:
    return data[first % (len(data) + 1) :]


def swap_lines(data: bytes, first: int, second: int) -> bytes:
    lines = data.split(b"\n")
    one, other = first % len(lines), second % len(lines)
    lines[one], lines[other] = lines[other], lines[one]
    return b"\n".join(lines)


def drop_line(data: bytes, first: int, second: int) -> bytes:
    lines = data.split(b"\n")
    at = first % len(lines)
    del lines[at : at + second % 3 + 1]
    return b"\n".join(lines)


def repeat_line(data: bytes, first: int, second: int) -> bytes:
    lines = data.split(b"\n")
    lines.insert(second % len(lines), lines[first % len(lines)])
    return b"\n".join(lines)


def other_line_ends(data: bytes, first: int, _second: int) -> bytes:
    return data.replace(b"\n", [b"\r\n", b"\r", b"\n\r"][first % 3])


def other_encoding(data: bytes, first: int, _second: int) -> bytes:
    return data.decode("utf-8", "replace").encode(["utf-16", "utf-8-sig", "latin-1"][first % 3], "replace")


def _pairs(data: bytes) -> list[re.Match[bytes]]:
    """Find key = value, also in tables on one line and in dotted keys."""
    return list(re.finditer(rb"([A-Za-z0-9_-]+) = (\"[^\"\n]*\"|\[[^\]\n]*\]|[^\s,}\n]+)", data))


def other_value(data: bytes, first: int, second: int) -> bytes:
    if not (pairs := _pairs(data)):
        return data
    start, end = pairs[first % len(pairs)].span(2)
    return data[:start] + VALUES[second % len(VALUES)].encode() + data[end:]


def other_key(data: bytes, first: int, second: int) -> bytes:
    if not (pairs := _pairs(data)):
        return data
    start, end = pairs[first % len(pairs)].span(1)
    return data[:start] + KEYS[second % len(KEYS)].encode() + data[end:]


def misspell(data: bytes, first: int, second: int) -> bytes:
    words = list(re.finditer(rb"[a-z]{3,}", data))
    if not words:
        return data
    start, _ = words[first % len(words)].span()
    at = start + second % 2
    return data[:at] + data[at + 1 : at + 2] + data[at : at + 1] + data[at + 2 :]


BY_HAND: tuple[Spoil, ...] = (other_value, other_value, other_key, misspell, drop_line, swap_lines, repeat_line)
BY_ACCIDENT: tuple[Spoil, ...] = (
    delete,
    repeat,
    insert,
    insert,
    noise,
    cut,
    behead,
    swap_lines,
    other_line_ends,
    other_encoding,
)


def spoiled_files(good: str, ways: tuple[Spoil, ...], most: int) -> st.SearchStrategy[bytes]:
    """Return the good file, spoiled in one to `most` ways."""
    where = st.integers(0, 2**31)
    steps = st.lists(st.tuples(st.sampled_from(ways), where, where), min_size=1, max_size=most)

    def spoil(plan: list[tuple[Spoil, int, int]]) -> bytes:
        data = good.encode()
        for way, first, second in plan:
            data = way(data, first, second)
        return data

    return steps.map(spoil)


def try_all(files: st.SearchStrategy[bytes], examples: int, use: Callable[[bytes], str]) -> Counter[str]:
    """Call `use` with so many files, the same ones every time; return how often it gave which word."""
    seen: Counter[str] = Counter()

    @settings(
        max_examples=examples,
        derandomize=True,
        deadline=None,
        database=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
    @given(files)
    def one(data: bytes) -> None:
        seen[use(data)] += 1

    one()
    return seen


def judge(mistakes: tuple[Mistake, ...], file: Path) -> None:
    """Each mistake names this file and a line that is in it, and is said in one line that can be printed."""
    lines = len(file.read_bytes().removesuffix(b"\n").split(b"\n"))
    for mistake in mistakes:
        assert mistake.file == file
        assert mistake.file.is_file()
        assert 1 <= mistake.line <= lines, mistake
        said = str(mistake)
        assert len(said.splitlines()) == 1
        assert said.isprintable(), said
        assert said.encode("utf-8")
        assert mistake.says.strip()
        assert len(said) < 700 + len(str(file))
