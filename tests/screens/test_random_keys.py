"""Ten thousand random keys and clicks: nothing raises, and what was answered is on disk."""

import random
from contextlib import suppress
from pathlib import Path

import pytest
from textual.errors import NoWidget
from textual.pilot import OutOfBounds

from tests.rooms import write_small_room
from tests.screens.driving import app_for
from walkabout.records.book import Records

KEYS = [
    *"1234567890" * 3, *"rfjouqnxswpbdcghmaey.,-/?" , "space", "space", "space", "enter", "enter", "enter", "escape",
    "up", "down", "left", "right", "tab", "backspace", "question_mark", "ctrl+p", "pageup", "pagedown", "home", "end",
    "left_square_bracket", "equals_sign", "equals_sign", "f2", "f3", "f4", "delete", "ä", "🌱",
    "l", "l", "l", "shift+tab", "f1",
]  # fmt: skip
RUNS, EACH = 10, 1000


@pytest.mark.parametrize("seed", range(RUNS))
async def test_random_keys(seed: int, tmp_path: Path) -> None:
    """A thousand keys a run, at a size of its own; the program is started again when a key has ended it."""
    chance = random.Random(seed)
    folder = write_small_room(tmp_path / "room")
    size = chance.choice([(80, 24), (120, 40), (60, 20), (200, 60)])
    left = EACH
    while left > 0:
        app = app_for(folder, walker=chance.choice(["AR", "K7", ""]))
        async with app.run_test(size=size, notifications=True) as pilot:
            while left > 0 and app.is_running and not app._exit:
                spot = (chance.randrange(size[0]), chance.randrange(size[1]))
                if chance.random() < 0.06 and app.screen.size.region.contains(*spot):
                    await pilot.pause()
                    with suppress(NoWidget, OutOfBounds):  # the screen beneath went away with the last key
                        await pilot.click(offset=spot)
                else:
                    app.simulate_key(chance.choice(KEYS))
                left -= 1
                if chance.random() < 0.12:
                    await pilot.pause()
            await pilot.pause()
        written = {one.key for one in app.opened.history.everything()}
        app.opened.close()
        records = Records.open(folder, app.opened.today())
        on_disk = {one.key for one in records.answers(app.opened.today().replace(month=1, day=1))}

        assert app.return_code in (None, 0)
        assert written <= on_disk
