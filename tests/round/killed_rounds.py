"""Walks a scripted round again and again, each in a process of its own that is killed at a random moment.

Run as a program by test_killed_rounds.py: it loads everything once and forks, so that two hundred
kills take seconds. Prints one line for each kill that went wrong, and the counts at the end.
"""

import os
import random
import shutil
import signal
import sys
import time
from datetime import datetime, timedelta, timezone
from pathlib import Path

from walkabout.round.begin import begin
from walkabout.round.opened import OpenRoom
from walkabout.round.walk import Walk

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=timezone(timedelta(hours=1)))


def answer(walk: Walk) -> str:
    """Answer the open question, every fifth one badly; return the key if it was said to be saved."""
    step = walk.step
    assert step is not None
    if step.question.choices:
        choices = step.question.choices
        outcome = walk.pick([choices[-1 if walk.position % 5 == 4 else 0].id])
    elif step.question.reading is not None:
        outcome = walk.number(round(sum(step.question.reading.likely) / 2, 1))
    else:
        outcome = walk.note("[/b] as typed")
    return "" if outcome.unsaved else outcome.answer.key


def walk_until_killed(folder: Path, pipe: int) -> None:
    """Walk the round over and say each answer that is saved; never returns by itself."""
    walk = begin(OpenRoom(folder, lambda: NOW), "AR")
    os.write(pipe, b"begun\n")
    while walk.step is not None:
        if key := answer(walk):
            os.write(pipe, f"{key}\n".encode())
    walk.finish()
    os.write(pipe, b"done\n")
    time.sleep(60)


def kill_once(folder: Path, moment: float) -> list[str]:
    """Fork a walker, kill it after so many seconds, and return the lines it had written."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        try:
            walk_until_killed(folder, writing)
        finally:
            os._exit(1)
    os.close(writing)
    time.sleep(moment)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with os.fdopen(reading, "rb") as pipe:
        return pipe.read().decode().split()


def wrong_after(folder: Path, lines: list[str]) -> str:
    """Return what is wrong with the room after a kill, or ''."""
    said = [line for line in lines if line not in ("begun", "done")]
    opened = OpenRoom(folder, lambda: NOW)
    there = {one.key: one for one in opened.history.everything()}
    lost = [key for key in said if key not in there]
    if lost:
        return f"{len(lost)} of {len(said)} answers lost"
    rounds = opened.rounds_today()
    if "done" in lines or not said:
        return ""
    if len(rounds) != 1:
        return f"{len(rounds)} rounds on record"
    walk = begin(opened, "AR")
    if walk.record.key != rounds[0].key and rounds[0].ended is None:
        return "the round was begun afresh"
    step = walk.step
    if step is None:
        return ""
    if any((one.station, one.question) == (step.here.key, step.question.id) for one in there.values()):
        return f"asked again: {step.here.key} {step.question.id}"
    # one answer more may be on disk than was said: the kill came between writing and saying
    before = [walk.step_at(index) for index in range(walk.position)]
    if len(before) not in (len(said), len(said) + 1):
        return f"{len(before)} questions passed, {len(said)} answered"
    return ""


def main() -> None:
    """Kill as often as asked: killed_rounds.py ROOM SCRATCH TIMES SEED."""
    room, scratch, times, seed = Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])
    chance, bad, midway = random.Random(seed), 0, 0
    began = time.perf_counter()
    shutil.copytree(room, scratch)
    whole = kill_once(scratch, 3.0)
    assert whole[-1] == "done", whole[-3:]
    # how long a whole round takes here, from the fork on: the kills fall all over it
    shutil.rmtree(scratch)
    shutil.copytree(room, scratch)
    start = time.perf_counter()
    walk = begin(OpenRoom(scratch, lambda: NOW), "AR")
    while walk.step is not None:
        answer(walk)
    longest = (time.perf_counter() - start) * 1.2
    for turn in range(times):
        shutil.rmtree(scratch)
        shutil.copytree(room, scratch)
        lines = kill_once(scratch, chance.uniform(0.0, longest))
        midway += bool(lines) and "done" not in lines
        if wrong := wrong_after(scratch, lines):
            bad += 1
            print(f"kill {turn}: {wrong}")
    print(f"{times} kills, {midway} in the middle of a round, {bad} went wrong, {time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()
