"""`walkabout handover`: one page of text, or the same as JSON, with nobody on it."""

import json
import re
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.almanac.test_handover import TITLES
from walkabout.cli import cli
from walkabout.demo.make import make


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    room = tmp_path_factory.mktemp("demo") / "room"
    make(room, date.today())  # noqa: DTZ011 - the command reads this machine's day
    return room


def ran(folder: Path, *args: str) -> Result:
    return CliRunner().invoke(cli, ["handover", "--room", str(folder), *args])


def test_it_is_one_page_with_every_part(folder: Path) -> None:
    """Each part has its heading; the whole demo room with eight stations stays near a hundred lines."""
    done = ran(folder)
    assert done.exit_code == 0
    rows = [row for row in done.output.splitlines() if row.strip()]
    assert [row for row in rows if row.isupper()] == [title.upper() for title in TITLES]
    assert 50 <= len(rows) <= 110
    assert max(map(len, rows)) <= 300


def test_it_names_nobody(folder: Path) -> None:
    """No code of the room stands anywhere, in text or in JSON."""
    text = open_text(folder)
    codes = re.findall(r"^(\w+) = \{ role", text, re.MULTILINE)
    assert len(codes) == 6
    for output in (ran(folder).output, ran(folder, "--json").output):
        assert not set(codes) & set(re.findall(r"\w+", output))


def test_json_says_the_same(folder: Path) -> None:
    """The same sections as plain values."""
    facts = json.loads(ran(folder, "--json").output)
    assert [one["title"] for one in facts["sections"]] == TITLES
    says = [line["says"] for one in facts["sections"] for line in one["lines"]]
    printed = ran(folder).output
    assert all(one in printed for one in says)


def test_without_a_room_it_says_so(tmp_path: Path) -> None:
    """One clear line, and the status of wrong use."""
    done = ran(tmp_path / "nowhere")
    assert done.exit_code == 2
    assert "Traceback" not in done.output
    assert done.output.strip()


def test_what_was_typed_steers_no_terminal(tmp_path: Path) -> None:
    """Escape sequences and line breaks in names are written out."""
    folder = tmp_path / "room"
    folder.mkdir()
    text = 'name = "A\\u001b[31mroom\\nB"\n[[station]]\nkey = "sill"\nname = "S\\u001b]0;x\\u0007"\nkind = "pots"\n'
    (folder / "room.toml").write_text(text, encoding="utf-8")
    done = ran(folder)
    assert done.exit_code == 0
    assert "\x1b" not in done.output
    assert "\x07" not in done.output
    assert done.output.count("TAKE CARE") == 1


def open_text(folder: Path) -> str:
    return (folder / "room.toml").read_text(encoding="utf-8")
