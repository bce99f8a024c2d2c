"""What can be printed: what goes with what, what the file is called, and writing over nothing that is not ours."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.paper.made import a_trial, harvested
from tests.paper.printed import reader, sizes, text
from tests.rooms import NOW, write_small_room
from walkabout.commands import sheet
from walkabout.paper.making import (
    FIELDS,
    KINDS,
    WHAT,
    NotWritten,
    Wanted,
    file_name,
    made,
    pages_of,
    printed,
    usual_folder,
    write_pdf,
)
from walkabout.round.opened import OpenRoom

TODAY = NOW.date()


def test_every_kind_can_be_made(opened: OpenRoom) -> None:
    """Each is made as a PDF of as many pages as a second library counts; the command knows the same kinds."""
    harvested(opened).save(a_trial(opened))
    for one in KINDS:
        data = made(opened, Wanted(what=one.name, people="class 8b" if one.name == "certificate" else ""))
        assert pages_of(data) == len(reader(data).pages) > 0
    assert sheet.WHAT == WHAT


def test_what_does_not_go_together_is_said(opened: OpenRoom) -> None:
    """Each field is refused, in one sentence, by every kind that does not take it."""
    given = {"day": TODAY, "walker": "AR", "since": TODAY, "until": TODAY, "people": "8b", "trial": "1"}
    assert given.keys() == FIELDS.keys()
    for one in KINDS:
        for field, value in given.items():
            if field not in one.takes:
                with pytest.raises(ValueError, match=r"^[A-Z][^.]* goes with the [^.]*\.$"):
                    made(opened, Wanted(what=one.name, **{field: value}))  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="cannot be printed"):
        made(opened, Wanted(what="postcards"))
    with pytest.raises(ValueError, match="no paper here"):
        made(opened, Wanted(what="cards", paper="A3"))


def test_the_round_of_another_day(tmp_path: Path) -> None:
    """A day to come opens the room on its morning; one that is over is refused and says how it is typed in."""
    folder = write_small_room(tmp_path / "room")
    ahead = TODAY + timedelta(days=2)
    data, paper = printed(folder, lambda: NOW, Wanted(what="round", day=ahead, paper="Letter"))
    assert f"{ahead:%A} {ahead.day} {ahead:%B %Y}" in text(data)
    assert (paper.name, sizes(data)) == ("Letter", {(215.9, 279.4)})
    with pytest.raises(ValueError, match=r"is over.*--type-in --day 2026-11-24"):
        printed(folder, lambda: NOW, Wanted(what="round", day=TODAY - timedelta(days=1)))


@pytest.mark.parametrize(
    ("wanted", "of", "name"),
    [
        (Wanted(what="round"), "", "round-2026-11-25.pdf"),
        (Wanted(what="round", day=date(2026, 12, 1)), "", "round-2026-12-01.pdf"),
        (Wanted(what="report", since=date(2026, 9, 1)), "", "report-2026-09-01-to-2026-11-25.pdf"),
        (Wanted(what="certificate", people="Class 8b"), "", "certificate-class-8b-2026-11-25.pdf"),
        (Wanted(what="certificate", people="../../etc/x"), "", "certificate-etc-x-2026-11-25.pdf"),
        (Wanted(what="certificate", people="Größe: Ω?"), "", "certificate-grösse-ω-2026-11-25.pdf"),
        (Wanted(what="certificate", people='\\..:*?"<>|\n'), "", "certificate-2026-11-25.pdf"),
        (Wanted(what="plots", trial="1"), "Is a mat better?", "plots-is-a-mat-better-2026-11-25.pdf"),
    ],
)
def test_suggested_names(wanted: Wanted, of: str, name: str) -> None:
    """A name says what and of which day, and nothing that was typed makes it a path."""
    assert file_name(wanted, TODAY, of) == name
    assert len(file_name(wanted, TODAY, "word " * 500)) < 100


def test_where_it_goes_by_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Into the documents where there is such a folder, else into the user's own folder."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "none"))
    monkeypatch.delenv("XDG_DOCUMENTS_DIR", raising=False)
    assert usual_folder() == tmp_path
    (tmp_path / "Documents").mkdir()
    assert usual_folder() == tmp_path / "Documents"


def test_only_our_own_files_are_written_over(opened: OpenRoom, tmp_path: Path) -> None:
    """A new file and our own are written; anything else is left byte for byte, with one sentence."""
    data = made(opened, Wanted(what="cards"))
    ours = tmp_path / "ours.pdf"
    assert write_pdf(ours, b"%PDF-1.3\n/Creator (walkabout 0)\n") == 0
    assert write_pdf(ours, data) == len(reader(data).pages)
    assert ours.read_bytes() == data
    for name, before in (("notes.txt", b"marks"), ("other.pdf", b"%PDF-1.7\n/Creator (x)\n"), ("empty.pdf", b"")):
        other = tmp_path / name
        other.write_bytes(before)
        with pytest.raises(ValueError, match="left as it is"):
            write_pdf(other, data)
        assert other.read_bytes() == before
    with pytest.raises(ValueError, match=r"ends in .pdf, such as round.pdf"):
        write_pdf(tmp_path / "round.txt", data)
    with pytest.raises(ValueError, match=r"ends in .pdf"):
        write_pdf(tmp_path / "round", data)
    with pytest.raises(ValueError, match="is not a file"):
        write_pdf(tmp_path, data)
    with pytest.raises(ValueError, match="no name of a file"):
        write_pdf(tmp_path / "a\0b.pdf", data)
    with pytest.raises(NotWritten, match="there is no folder"):
        write_pdf(tmp_path / "gone" / "x.pdf", data)
    assert sorted(one.name for one in tmp_path.iterdir() if one.is_file()) == [
        "empty.pdf", "notes.txt", "other.pdf", "ours.pdf",
    ]  # fmt: skip
