"""Reading a table as people save it, and saying in one line what is wrong with it."""

import pytest

from walkabout.insight.trials.table import BadTrial, read_table


@pytest.mark.parametrize(
    ("content", "numbers"),
    [
        (b"g,w\na,1.5\nb,-2\n", [1.5, -2]),
        (b"g;w\r\na;1,5\r\nb;-2\r\n", [1.5, -2]),
        (b"g\tw\na\t1,5\nb\t,25\n", [1.5, 0.25]),
        (b'g,w\na,"1,5"\nb,2\n', [1.5, 2]),
        (b"\xef\xbb\xbfg,w\na,1e-3\nb,+4.\n", [0.001, 4]),
        ("g,w\na,1\nb,−2\n".encode(), [1, -2]),
        ("g,w\na,1\nb,2\n".encode("utf-16"), [1, 2]),
        ("gä,w\na,1\nb,2\n".encode("cp1252"), [1, 2]),
        (b"g|w\n\na|1\n\n b | 2 \n", [1, 2]),
        (b"g,w,\na,1,\nb,2,\n", [1, 2]),
        (b"g,w\na,NA\nb,nan\nc,\nd\ne,7\n", [None, None, None, None, 7]),
    ],
)
def test_a_column_of_numbers(content: bytes, numbers: list[float | None]) -> None:
    """Separators, decimal commas, byte order marks, old encodings, minus signs and gaps are all read."""
    assert read_table(content, "t.csv").numbers("w") == numbers


def test_a_treatment_may_be_called_none() -> None:
    """In a column of words only an empty cell or NA is a gap."""
    assert read_table(b"g,w\nnone,1\nNA,2\n-,3\n", "t.csv").words("g") == ["none", None, "-"]


def test_column_names_are_found_whatever_their_case() -> None:
    """An exact name wins over one that differs by its capitals."""
    table = read_table(b"Weight,weight,Lamp\n1,2,a\n", "t.csv")
    assert table.numbers("weight") == [2]
    assert table.words(" lamp ") == ["a"]


@pytest.mark.parametrize(
    ("content", "column", "says"),
    [
        (b"", "w", "t.csv is empty"),
        (b"\n \n", "w", "t.csv is empty"),
        (b"g,w\n", "w", "has no rows below its first line"),
        (b"\x00\x01", "w", "no table of text"),
        (b"lamp,weight\na,1\n", "wieght", 't.csv:1: there is no column "wieght". Did you mean "weight"?'),
        (b"w,w\n1,1\n", "w", '2 columns are called "w"'),
        (b"g,w\na,1\n\nb,two\n", "w", 't.csv:4: column "w" holds "two", which is no number'),
        (b"g,w\na,=1+2\n", "w", "write the result of the formula"),
        (b"g,w\na,5 g\n", "w", "write the number alone"),
        (b"g,w\na,1_000\n", "w", 'holds "1_000", which is no number'),
        (b"g,w\na,inf\n", "w", 'holds "inf", which is no number'),
        (b"g,w\na,1e308\n", "w", "too large"),
        (b"g;w\na;1.234,5\n", "w", 't.csv:2: column "w" holds "1.234,5", which is no number'),
        (b"g,w\na,1,5\n", "w", "t.csv:2: 3 cells, but 2 columns have a name. A decimal comma?"),
        (b'g,w\n"a,1\nb,2\n', "w", "a quotation mark is opened and not closed"),
    ],
)
def test_what_is_wrong_is_said_in_one_line(content: bytes, column: str, says: str) -> None:
    """The file, the line, the column and what would be right."""
    with pytest.raises(BadTrial) as error:
        read_table(content, "t.csv").numbers(column)
    assert says in str(error.value)
    assert "\n" not in str(error.value)
