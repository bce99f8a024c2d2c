"""Every test stands alone: its own data folder, no settings of the person who runs it, one time zone."""

import os
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

# A slow machine is no failure; on a machine that decides about a change, the same cases are tried every time.
settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")


@pytest.fixture(autouse=True)
def alone(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Point everything the program writes by itself into a folder of this test; return that folder."""
    own = tmp_path_factory.mktemp("own")
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
