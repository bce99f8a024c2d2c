import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.records import lines

A = lines.line("answers", 1, b'{"key":"a"}')
B = lines.line("answers", 2, b'{"key":"b"}')
C = lines.line("rounds", 1, None)


def said(journal: lines.Journal) -> list[tuple[str, int, bytes | None]]:
    return [(entry.table, entry.id, entry.text) for entry in journal.entries]


def test_lines_read_back_as_written() -> None:
    """A journal gives its records in order; a removed one gives None."""
    journal = lines.read(A + B + C)

    assert said(journal) == [
        ("answers", 1, b'{"key":"a"}'),
        ("answers", 2, b'{"key":"b"}'),
        ("rounds", 1, None),
    ]
    assert (journal.damaged, journal.torn, journal.end) == ([], b"", len(A + B + C))


@pytest.mark.parametrize("cut", range(1, len(B)))
def test_a_line_cut_short_is_not_damage(cut: int) -> None:
    """Wherever the last line was cut, the others are read and nothing counts as damaged."""
    journal = lines.read(A + B[:cut])

    assert said(journal) == said(lines.read(A))
    assert journal.torn == B[:cut]
    assert journal.damaged == []
    assert len(journal.with_unended()) == (2 if cut == len(B) - 1 else 1)


def test_a_cancelled_piece_is_passed_over() -> None:
    """What was cut short and then ended with CAN is neither read nor damage."""
    journal = lines.read(A + B[:9] + lines.CANCEL + C)

    assert said(journal) == said(lines.read(A + C))
    assert journal.damaged == []


def test_a_lost_line_end_loses_no_line() -> None:
    """Two lines that ran together are both read; the odd line is reported."""
    run_together = A[:-1] + b"?" + B
    journal = lines.read(run_together + C)

    assert said(journal) == said(lines.read(A + B + C))
    assert journal.damaged == [run_together[:-1]]


@given(at=st.integers(0, len(A) - 2), byte=st.integers(0, 255))
def test_a_changed_byte_is_noticed(at: int, byte: int) -> None:
    """Any other byte anywhere in a line damages that line, and only that."""
    changed = A[:at] + bytes([byte]) + A[at + 1 :]
    journal = lines.read(changed + B)

    assert said(journal)[-1:] == said(lines.read(B))
    assert (len(journal.entries) == 2) == (changed == A)


@given(st.binary())
def test_any_bytes_can_be_read(data: bytes) -> None:
    """No content of a journal raises."""
    journal = lines.read(data)

    assert journal.end + len(journal.torn) == len(data)
