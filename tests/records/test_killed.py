"""Programs that are killed, or stopped between any two steps of writing."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tinydb import TinyDB

from tests.records.sample_records import answer, keys, one_of_each, opened
from walkabout.records.book import Records

SAVER = Path(__file__).with_name("saver.py")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork: no cheap programs to kill")
def test_nothing_told_as_saved_is_lost_by_a_kill(room: Path) -> None:
    """Sixty writers in a row are killed at random moments, in folds too: every key they told is there."""
    run = subprocess.run(
        [sys.executable, SAVER, "kills", room, "60"], capture_output=True, text=True, check=True, timeout=120
    )
    told = run.stdout.split()
    records = opened(room)

    assert len({key.split("-")[0] for key in told}) == 60
    assert set(told) <= set(keys(records))
    assert records.told == []
    assert records.fold()
    with TinyDB(room / "records" / "2026-11.json", access_mode="r", encoding="utf-8") as db:
        assert len(db.table("answers")) == len(keys(records))


class Stopped(BaseException):
    """The program ended here."""


class Stopper:
    """Lets the first `steps` moves on the disk happen and ends the program at the next; writes half a piece."""

    MOVES = ("write", "fsync", "replace", "open", "unlink", "rename", "mkdir")

    def __init__(self, monkeypatch: pytest.MonkeyPatch, steps: int, folder: Path) -> None:
        self.left = steps
        self.folder = str(folder)
        for name in self.MOVES:
            monkeypatch.setattr(os, name, self._counting(name, getattr(os, name)))

    def _counting(self, name: str, move: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*args: Any, **options: Any) -> Any:
            place = str(args[0])
            if not isinstance(args[0], int) and (not place.startswith(self.folder) or "lock" in place):
                return move(*args, **options)
            if self.left == 0:
                if name == "write":
                    move(args[0], bytes(args[1])[: len(args[1]) // 2])
                raise Stopped
            self.left -= 1
            return move(*args, **options)

        return counted


def some_work(room: Path, told: list[str]) -> None:
    """Do what writes: saves, a group, folds; name each key once it is saved."""
    records = opened(room)
    for number in (1, 2):
        records.save(answer(number))
        told.append(answer(number).key)
    records.fold()
    records.save(one_of_each()[-1])
    with records.together():
        for number in (3, 4):
            records.save(answer(number))
    told += [answer(number).key for number in (3, 4)]
    records.fold()
    records.save(answer(5))
    told.append(answer(5).key)
    records.close()


def test_a_program_may_stop_between_any_two_steps(tmp_path: Path) -> None:
    """Ended before each single move on the disk: what was told as saved is there, unharmed and untold of."""
    steps, finished = 0, False
    while not finished:
        room = tmp_path / str(steps)
        room.mkdir()
        told: list[str] = []
        with pytest.MonkeyPatch.context() as patch:
            Stopper(patch, steps, room)
            try:
                some_work(room, told)
                finished = True
            except Stopped:
                steps += 1
        for _ in range(2):
            records = opened(room)

            assert set(told) <= set(keys(records)), steps
            assert records.told == [], steps
            records.save(answer(9))
            told.append("a0009")
            records.close()
    assert steps > 60


def test_stopped_and_then_damaged(tmp_path: Path) -> None:
    """Ended anywhere, and then the main file turns out unreadable: the copies and the journal hold it all."""
    steps, finished = 0, False
    while not finished:
        room = tmp_path / str(steps)
        room.mkdir()
        told: list[str] = []
        with pytest.MonkeyPatch.context() as patch:
            Stopper(patch, steps, room)
            try:
                some_work(room, told)
                finished = True
            except Stopped:
                steps += 1
        path = room / "records" / "2026-11.json"
        if path.exists():
            path.write_bytes(path.read_bytes()[:-20])
            records = opened(room)

            assert set(told) <= set(keys(records)), steps
            assert "2026-11.json is damaged" in records.told[0]


def test_stopped_while_mending(room: Path, tmp_path: Path) -> None:
    """Ended at any move while a damaged file is put right: the next opening finds everything."""
    some_work(room, [])
    records = opened(room)
    records.save(answer(6))
    wanted = keys(records)
    path = room / "records" / "2026-11.json"
    path.write_bytes(path.read_bytes()[:-20])
    steps, finished = 0, False
    while not finished:
        copy = tmp_path / str(steps)
        _copy(room, copy)
        with pytest.MonkeyPatch.context() as patch:
            Stopper(patch, steps, copy)
            try:
                opened(copy)
                finished = True
            except Stopped:
                steps += 1

        assert keys(opened(copy)) == wanted
        assert list((copy / "records").glob("2026-11.damaged-*.json"))
    assert steps >= 4


def test_a_torn_line_is_passed_over(room: Path, records: Records) -> None:
    """After a line that was cut short, the next one starts afresh, and nobody is told of damage."""
    journal = room / "records" / "2026-11.journal"
    for number in (1, 2):
        records.save(answer(number))
    journal.write_bytes(journal.read_bytes()[:-15])
    again = opened(room)

    assert keys(again) == ["a0001"]
    again.save(answer(3))
    last = opened(room)
    assert keys(last) == ["a0001", "a0003"]
    assert again.told == last.told == []


def _copy(source: Path, target: Path) -> None:
    import shutil

    shutil.copytree(source, target)
