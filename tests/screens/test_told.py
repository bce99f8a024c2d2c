"""Short messages: they come and go, and one that is late holds nothing up."""

import asyncio
from pathlib import Path

import pytest

from tests.rooms import write_small_room
from tests.screens.driving import app_for, shown
from walkabout.screens.told import LEAST, Told


def test_a_message_that_is_over_still_has_a_moment() -> None:
    """Its time is over, and a timer set by it rings all the same."""
    late = Told("Written down.", timeout=-0.003)
    assert late.has_expired
    assert late.time_left == LEAST
    assert not Told("Written down.", timeout=6).has_expired


async def test_a_message_that_runs_out_while_it_is_shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The program goes on: the framework alone would go round in a timer that should have rung already."""
    app = app_for(write_small_room(tmp_path / "room"))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.pause()
        # as if its time ran out just after it was looked at
        monkeypatch.setattr(Told, "has_expired", property(lambda one: False))
        app.say("Gone in a moment", seconds=-0.003)
        await pilot.pause(0.02)
        assert "Gone in a moment" in shown(app)
        await asyncio.sleep(LEAST)
        await pilot.pause(0.1)
        assert "Gone in a moment" not in shown(app)
