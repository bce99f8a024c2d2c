"""Taking in on the screen: the path, the questions, what came of it, and taking back."""

from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input

from tests.rooms import write_small_room
from tests.screens.driving import app_for, press, shown
from walkabout.paper.export import export, read_all
from walkabout.records.book import Records
from walkabout.round.opened import OpenRoom
from walkabout.screens.taken_before import TakenBeforeScreen
from walkabout.screens.taking_in import TakeInScreen

READINGS = """\
Time;Temp (°C);RH %
25.11.2026 08:00;20,5;55
25.11.2026 08:10;21,5;warm
25.11.2026 08:20;21,5;56
25.11.2026 11:00;21,5;57
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_small_room(tmp_path / "a room")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "shelf log.csv"
    path.write_text(READINGS, encoding="utf-8")
    return path


async def opened(pilot: Pilot[Any]) -> TakeInScreen:
    screen = TakeInScreen()
    await pilot.app.push_screen(screen)
    await pilot.pause()
    return screen


async def until(pilot: Pilot[Any], screen: TakeInScreen | TakenBeforeScreen) -> None:
    """Wait until what is done beside the screen is done."""
    for _ in range(500):
        await pilot.pause(0.01)
        if screen._work is None and getattr(screen, "found", ()) is not None:
            break
    assert screen._work is None
    await pilot.pause()


async def asked_through(pilot: Pilot[Any], screen: TakeInScreen, file: Path, station: str = "tub") -> None:
    """Open a file and answer as proposed, at this station."""
    await press(pilot, str(file), "enter")
    await until(pilot, screen)
    await press(pilot, "enter", station, "enter", "enter", "enter", "2", "enter")


def hours(folder: Path) -> list[tuple[str, str, int]]:
    records = Records.open(folder, date(2026, 11, 25))
    try:
        return sorted((one.station, one.quantity, one.n) for one in records.hours(date.min))
    finally:
        records.close()


async def test_from_a_path_to_the_records(folder: Path, file: Path) -> None:
    """The first rows are shown, each guess waits to be confirmed, nothing is written before the last enter."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        await press(pilot, str(file), "enter")
        await until(pilot, screen)
        assert "25.11.2026 08:10  21,5" in shown(app)
        assert "Column Temp (°C), for example 20,5: which quantity and unit?" in shown(app)
        assert screen.query_one(Input).value == "air temperature:°C"
        await press(pilot, "enter")
        assert "At which station?" in shown(app)
        assert screen.query_one(Input).value == ""
        await press(pilot, "enter")
        assert "Type a station." in shown(app)
        await press(pilot, "tub", "enter", "enter")
        assert screen.query_one(Input).value == "tub"
        await press(pilot, "enter")
        assert "Which clock does the logger keep?" in shown(app)
        await press(pilot, "+01:00", "enter")
        assert screen.phase == "ready"
        assert "RH %: humidity in %, at" in shown(app)
        assert not (folder / "logger").exists()
        await press(pilot, "enter")
        await until(pilot, screen)
        text = " ".join(shown(app).split())
        assert "7 readings of shelf log.csv: 4 hours new, 0 changed, 0 as they were." in text
        assert '"warm" is no number' in text
        assert "1 gap where readings usually come" in text
    assert [one[:2] for one in hours(folder)] == [("tub", "air temperature")] * 2 + [("tub", "humidity")] * 2


async def test_a_path_is_pasted_and_completed(folder: Path, file: Path) -> None:
    """In quotation marks, as file://; tab goes as far as the entries agree."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        for text in (f"'{file}'", file.as_uri()):
            line = screen.query_one(Input)
            line.value = ""
            line.post_message(events.Paste(text))
            await pilot.pause()
            await press(pilot, "enter")
            await until(pilot, screen)
            assert screen.phase == "asking"
            await press(pilot, "escape")
            assert screen.phase == "path"
        screen.query_one(Input).value = f"{file.parent}/she"
        await press(pilot, "tab")
        assert screen.query_one(Input).value == str(file)


async def test_back_through_the_questions(folder: Path, file: Path) -> None:
    """Escape goes to the question before, with what was answered; from the first one to the path."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        await asked_through(pilot, screen, file)
        assert screen.phase == "ready"
        seen = []
        for _ in range(5):
            await press(pilot, "escape")
            seen.append((screen.question.asks if screen.question else "", screen.query_one(Input).value))
        assert seen[0][0] == "zone"
        assert seen[1:] == [
            ("station", "tub"),
            ("what", "humidity:%"),
            ("station", "tub"),
            ("what", "air temperature:°C"),
        ]
        await press(pilot, "escape")
        assert screen.phase == "path"
        assert screen.query_one(Input).value == str(file)
        await press(pilot, "escape")
        assert app.screen is not screen
    assert hours(folder) == []


async def test_what_is_typed_takes_the_place_of_a_proposal(folder: Path, file: Path) -> None:
    """What cannot be is said in one line, and the question stays; f2 lists what there is."""
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        await press(pilot, str(file), "enter")
        await until(pilot, screen)
        await press(pilot, "hue", "enter")
        assert '"hue" is no quantity' in shown(app)
        await press(pilot, "f2")
        assert "carbon dioxide" in shown(app)
        await press(pilot, "2")
        assert screen.query_one(Input).value == "solution temperature:°C"
        screen.query_one(Input).value = "pH"
        await press(pilot, "enter", "1", "enter", "backspace", "enter")
        assert "Type a quantity, or - to leave the column out." in shown(app)
        await press(pilot, "-", "enter", "UTC", "enter")
        assert "Temp (°C): pH in pH" in shown(app)


async def test_a_wrong_path_is_one_line(folder: Path, tmp_path: Path) -> None:
    """A missing file, a folder, a PDF, nothing."""
    (tmp_path / "x.csv").write_bytes(b"%PDF-1.7\n")
    app = app_for(folder)
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await opened(pilot)
        for text, says in (
            ("", "Type the path of a file first."),
            (str(tmp_path / "no.csv"), "There is no file"),
            (str(tmp_path), "is a folder: go on to a file in it."),
            (str(tmp_path / "x.csv"), "this is a PDF"),
        ):
            screen.query_one(Input).value = text
            await press(pilot, "enter")
            await until(pilot, screen)
            assert screen.phase == "path"
            assert says in " ".join(shown(app).split())


async def test_an_export_makes_a_new_room(folder: Path, tmp_path: Path) -> None:
    """The command is given, and this room stays as it is."""
    room = OpenRoom(folder)
    export(read_all(room.records, room.room), folder, tmp_path / "my out")
    room.close()
    app = app_for(folder)
    async with app.run_test(size=(120, 30)) as pilot:
        screen = await opened(pilot)
        await press(pilot, str(tmp_path / "my out"), "enter")
        assert screen.phase == "path"
        # a path is as long as the machine makes it, so the line may break anywhere
        assert "".join(f"take-in'{tmp_path / 'my out'}'--roomNEW".split()) in "".join(shown(app).split())


async def test_a_table_of_an_export_is_no_loggers_file(folder: Path, tmp_path: Path) -> None:
    """It is said in one line what it belongs to, and nothing is asked."""
    room = OpenRoom(folder)
    export(read_all(room.records, room.room), folder, tmp_path / "out")
    room.close()
    app = app_for(folder)
    async with app.run_test(size=(120, 30)) as pilot:
        screen = await opened(pilot)
        await press(pilot, str(tmp_path / "out" / "answers.csv"), "enter")
        assert screen.phase == "path"
        assert "answers.csv belongs to an export of a whole room" in " ".join(shown(app).split())


async def test_another_order_of_days_is_said(folder: Path, tmp_path: Path) -> None:
    """Another order than the last file's is said at last; where days leap in the remembered one it is asked."""
    file = tmp_path / "us.csv"
    app = app_for(folder)
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await opened(pilot)
        file.write_text("Time,pH\n11/10/2026 1:00 PM,6\n11/13/2026 2:00 PM,6.1\n")
        await press(pilot, str(file), "enter")
        await until(pilot, screen)
        await press(pilot, "enter", "tub", "enter", "UTC", "enter", "enter")
        await until(pilot, screen)
        file.write_text("Time,pH\n2026-11-14 00:30,6\n2026-11-15 00:30,6.1\n")
        await press(pilot, "enter", str(file), "enter")
        await until(pilot, screen)
        assert screen.phase == "ready"
        text = " ".join(shown(app).split())
        assert "otherwise here than is remembered of such files: year, month, day." in text
        await press(pilot, "enter")
        await until(pilot, screen)
        file.write_text("Time,pH\n05/11/2026 08:00,6\n06/11/2026 08:00,6.1\n07/11/2026 08:00,6.2\n")
        await press(pilot, "enter", str(file), "enter")
        await until(pilot, screen)
        assert screen.question is not None
        assert screen.question.asks == "order"
        await press(pilot, "1", "enter")
        assert screen.phase == "ready"
        assert "day, month, year" in shown(app)
        await press(pilot, "escape")
        assert screen.question.asks == "order"


async def test_taken_back_after_a_question(folder: Path, file: Path) -> None:
    """The list names the file; x asks, no keeps it, yes empties its hours; it can come in again."""
    app = app_for(folder)
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await opened(pilot)
        await asked_through(pilot, screen, file)
        await press(pilot, "enter")
        await until(pilot, screen)
        await press(pilot, "f3")
        before = app.screen
        assert isinstance(before, TakenBeforeScreen)
        await until(pilot, before)
        assert "shelf log.csv" in shown(app)
        assert "4 hours" in shown(app)
        await press(pilot, "x", "1")
        assert len(hours(folder)) == 4
        await press(pilot, "x", "2")
        await until(pilot, before)
        assert "4 hours emptied" in shown(app)
        assert "backups/logger/" in shown(app)
        await press(pilot, "escape", "enter")
        assert hours(folder) == []
        await asked_through(pilot, screen, file, "vine")
        await press(pilot, "enter")
        await until(pilot, screen)
    assert {one[0] for one in hours(folder)} == {"vine"}


async def test_taking_back_is_for_an_adult(folder: Path, file: Path) -> None:
    """A pupil's code is not enough."""
    app = app_for(folder, walker="K7")
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        screen = await opened(pilot)
        await asked_through(pilot, screen, file)
        await press(pilot, "enter")
        await until(pilot, screen)
        await press(pilot, "f3")
        before = app.screen
        assert isinstance(before, TakenBeforeScreen)
        await until(pilot, before)
        await press(pilot, "x")
        assert "Taking back is for an adult. Whose code?" in shown(app)
        await press(pilot, "2")
        assert any("Fetch an adult" in one.message for one in app._notifications)
    assert len(hours(folder)) == 4


async def test_read_otherwise_it_is_offered_to_take_the_first_back(folder: Path, file: Path) -> None:
    """Remembered columns are shown, not asked; e asks anew, and then the readings of before can go."""
    app = app_for(folder)
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await opened(pilot)
        await asked_through(pilot, screen, file)
        await press(pilot, "enter")
        await until(pilot, screen)
        await press(pilot, "enter", str(file), "enter")
        await until(pilot, screen)
        assert screen.phase == "ready"
        await press(pilot, "e", "enter", "vine", "enter", "enter", "enter", "2", "enter", "enter")
        assert "Take those readings back?" in shown(app)
        await press(pilot, "1")
        await until(pilot, screen)
        assert "4 hours that this file gave when it was read otherwise: taken back." in shown(app)
    assert {one[0] for one in hours(folder)} == {"vine"}


async def test_stopped_while_it_is_taken_in(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Escape stops it, nothing is written, and another escape leaves."""
    import threading

    from walkabout.screens.widgets import longjobs

    file = tmp_path / "long.csv"
    rows = (f"{datetime.fromtimestamp(1_795_593_600 + number):%Y-%m-%d %H:%M:%S},20" for number in range(3000))  # noqa: DTZ006 - any clock
    file.write_text("Time,Temp\n" + "\n".join(rows))
    waits, began = threading.Event(), threading.Event()
    real = longjobs.take_in_file

    def slow(*args: Any, **more: Any) -> Any:
        began.set()
        waits.wait(10)
        return real(*args, **more)

    monkeypatch.setattr(longjobs, "take_in_file", slow)
    app = app_for(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        await press(pilot, str(file), "enter")
        await until(pilot, screen)
        await press(pilot, "enter", "tub", "enter", "1", "enter", "enter")
        began.wait(10)
        assert screen.phase == "working"
        await press(pilot, "escape")
        waits.set()
        await until(pilot, screen)
        assert "Stopped. Nothing was taken in." in shown(app)
        assert app.screen is screen
        await press(pilot, "escape")
        assert app.screen is not screen
    assert not (folder / "logger").exists()


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_it_fits(folder: Path, tmp_path: Path, size: tuple[int, int]) -> None:
    """Twenty long columns, hostile names: the column that is asked for is always among those shown."""
    file = tmp_path / "wide.csv"
    names = ["Time", *(f"[bold]Temp {number} very long indeed" for number in range(20))]
    file.write_text(";".join(names) + "\n2026-11-25 08:00" + ";20" * 20 + "\n")
    app = app_for(folder)
    async with app.run_test(size=size) as pilot:
        screen = await opened(pilot)
        await press(pilot, str(file), "enter")
        await until(pilot, screen)
        for number in range(20):
            head = next(line for line in shown(app).splitlines() if "more" in line)
            assert f"[bold]Temp {number} " in head
            await press(pilot, "-", "enter")
        assert "no column was named" in " ".join(shown(app).split())
