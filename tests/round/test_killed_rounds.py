"""A round that is killed at any moment loses nothing that was said to be saved, and is taken up."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.rooms import write_small_room

SCRIPT = Path(__file__).with_name("killed_rounds.py")
TIMES = 100


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")
@pytest.mark.parametrize("seed", [1, 2])
def test_two_hundred_kills_lose_nothing(tmp_path: Path, seed: int) -> None:
    """Two hundred rounds, each killed with SIGKILL at a random moment: every saved answer is there."""
    write_small_room(tmp_path / "room")

    ran = subprocess.run(
        [sys.executable, SCRIPT, tmp_path / "room", tmp_path / "scratch", str(TIMES), str(seed)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
    )

    assert ran.stderr == ""
    counts = re.search(r"(\d+) kills, (\d+) in the middle of a round, (\d+) went wrong", ran.stdout)
    assert counts is not None, ran.stdout
    assert (int(counts[1]), int(counts[3])) == (TIMES, 0), ran.stdout
    assert int(counts[2]) >= TIMES // 10, "the kills must fall into rounds for the test to mean anything"
