"""Taking a person's code out of the records."""

from collections.abc import Callable
from io import StringIO
from pathlib import Path

import pytest

from walkabout.plain.dialogue import Dialogue
from walkabout.plain.purging import purge_code
from walkabout.round.opened import OpenRoom

Walk = Callable[..., tuple[int, str]]
Reopened = Callable[[], OpenRoom]


def purged(folder: Path, code: str, lines: str = "", *, sure: bool = False) -> tuple[int, str]:
    said = StringIO()
    status = purge_code(folder, code, sure=sure, dialogue=Dialogue(said, StringIO(lines)))
    return status, said.getvalue()


@pytest.mark.parametrize(("lines", "sure"), [("K7\n", False), ("", True)])
def test_a_code_is_taken_out(walk: Walk, folder: Path, reopened: Reopened, lines: str, sure: bool) -> None:
    """Typed twice or with --yes, the code leaves every record; the entry in room.toml is named with its line."""
    walk("1", "6", "p")
    before = (folder / "room.toml").read_text(encoding="utf-8")
    status, said = purged(folder, "K7", lines, sure=sure)
    opened = reopened()

    assert status == 0
    assert "K7 was taken out of 3 records." in said
    assert f"{folder / 'room.toml'}:6: the entry for K7 must go too." in said
    assert {one.walker for one in opened.history.everything()} == {"--"}
    assert {one.value for one in opened.history.all("tub", "ph")} == {6}
    assert (folder / "room.toml").read_text(encoding="utf-8") == before


@pytest.mark.parametrize(
    ("lines", "says"), [("K8\n", "not the same code"), ("\n", "not the same code"), ("", "Stopped")]
)
def test_another_code_changes_nothing(walk: Walk, folder: Path, reopened: Reopened, lines: str, says: str) -> None:
    """A code that is not typed again as it was leaves all records alone, and the status says so."""
    walk("1", "p")
    status, said = purged(folder, "K7", lines)

    assert status == 1
    assert says in said
    assert {one.walker for one in reopened().history.everything()} == {"K7"}


def test_a_name_is_no_code(folder: Path) -> None:
    """A word too long for a code is refused: it may stand in notes about plants."""
    status, said = purged(folder, "rocket", sure=True)

    assert status == 2
    assert '"rocket" is not a code.' in said


def test_a_code_typed_in_other_letters(folder: Path) -> None:
    """A code that is nowhere is answered with the nearest one before it is asked for again."""
    _, said = purged(folder, "k7", "k7\n")

    assert 'k7 stands in no entry of room.toml. Did you mean "K7"?' in said
    assert "k7 was taken out of 0 records." in said
