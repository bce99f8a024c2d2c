"""Programs for the tests that need several: they import no screen, so that they start quickly.

saver.py kills ROOM TIMES     start TIMES writers one after the other and kill each at a random moment;
                              print every key that a writer had been told was saved
saver.py saves ROOM NAME N    save N answers and as many jobs, print each key after it was saved
"""

import os
import random
import select
import signal
import sys
import time
from pathlib import Path

from tests.records.sample_records import answer, one_of_each, opened
from walkabout.records.model import Job

JOB = one_of_each()[-1]


def write_until_killed(room: Path, run: int, out: int) -> None:
    """Save, fold and group without end, telling each key once it is on disk."""
    records = opened(room)
    number = 0
    while True:
        number += 1
        one = answer(key=f"run{run}-{number}")
        records.save(one)
        os.write(out, one.key.encode() + b"\n")
        if number % 5 == 0:
            records.fold()
        if number % 7 == 0:
            with records.together():
                group = [answer(key=f"run{run}-{number}-{member}") for member in range(20)]
                for member in group:
                    records.save(member)
            os.write(out, "".join(f"{member.key}\n" for member in group).encode())


def kills(room: Path, times: int) -> None:
    """Fork writers and kill them; a half-printed key was not promised."""
    chance = random.Random(20261125)
    opened(room).close()
    for run in range(times):
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(reading)
            write_until_killed(room, run, writing)
        os.close(writing)
        told = os.read(reading, 65536)
        until = time.monotonic() + chance.uniform(0, 0.02)
        while (left := until - time.monotonic()) > 0:
            if select.select([reading], [], [], left)[0]:
                told += os.read(reading, 65536)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        while more := os.read(reading, 65536):
            told += more
        os.close(reading)
        sys.stdout.write(told[: told.rfind(b"\n") + 1].decode())


def saves(room: Path, name: str, count: int) -> None:
    """Save answers and jobs, one after the other."""
    assert isinstance(JOB, Job)
    records = opened(room)
    for number in range(count):
        records.save(answer(key=f"{name}-{number}"))
        records.save(Job(**{**{f: getattr(JOB, f) for f in JOB.__struct_fields__}, "key": f"{name}-{number}"}))
        print(f"{name}-{number}", flush=True)
        if number % 50 == 49:
            records.fold()
    print(*records.told, file=sys.stderr, sep="\n", end="")
    records.close()


if __name__ == "__main__":
    if sys.argv[1] == "kills":
        kills(Path(sys.argv[2]), int(sys.argv[3]))
    else:
        saves(Path(sys.argv[2]), sys.argv[3], int(sys.argv[4]))
