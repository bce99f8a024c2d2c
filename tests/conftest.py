"""Every test stands alone: its own data folder, no settings of the person who runs it, one time zone."""

import os
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import settings

# A slow machine is no failure; on a machine that decides about a change, the same cases are tried every time.
settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Return how many processes run the tests: those of a screen mostly wait, so there are more than processors."""
    return 3 * (os.cpu_count() or 1)


@pytest.fixture(scope="session")
def kept_copies(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of kept copies that all tests of a process share.

    A copy says itself which file it was made of, so one test cannot mislead another; making all of them anew for
    every test took most of the time.
    """
    return tmp_path_factory.mktemp("copies")


@pytest.fixture(autouse=True)
def alone(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch, kept_copies: Path
) -> Iterator[Path]:
    """Point everything the program writes by itself into a folder of this test; return that folder."""
    own = tmp_path_factory.mktemp("own")
    (own / "data").mkdir()
    # what is suggested to somebody without a home would lie in the folder that the tests were started in
    (own / "home").mkdir()
    # where links are not allowed each test makes its own
    with suppress(OSError):
        (own / "data" / "cache").symlink_to(kept_copies, target_is_directory=True)
    for name in ("WALKABOUT_ROOM", "WALKABOUT_PLAIN", "NO_COLOR", "XDG_DATA_HOME", "COLUMNS", "LINES"):
        monkeypatch.delenv(name, raising=False)
    for name, value in {
        "HOME": str(own / "home"),
        "USERPROFILE": str(own / "home"),
        "WALKABOUT_DATA": str(own / "data"),
        "TEXTUAL_ANIMATIONS": "none",
        "LC_ALL": "C.UTF-8",
        "LANG": "C.UTF-8",
        "TZ": "UTC",
    }.items():
        monkeypatch.setenv(name, value)
    if hasattr(time, "tzset"):
        time.tzset()
    yield own
    monkeypatch.delenv("TZ")
    if hasattr(time, "tzset"):
        time.tzset()
