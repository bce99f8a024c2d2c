"""The lookup on the full screen: by keys, by mouse, from the round, into jobs and a finding."""

import time
from pathlib import Path
from typing import Any

import msgspec
import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from tests.rooms import write_small_room
from tests.screens.driving import app_for, lookup_ready, shown
from walkabout.diagnosis.consult import Consulted
from walkabout.diagnosis.next_check import NextCheck
from walkabout.jobs.make import caution_of
from walkabout.round.lookup import Lookup
from walkabout.round.lookup_jobs import for_today, offered
from walkabout.screens.app import Walkabout
from walkabout.screens.cause import CauseScreen
from walkabout.screens.causes import CausesScreen
from walkabout.screens.lookup import LookupScreen
from walkabout.screens.signs import SignsScreen
from walkabout.screens.widgets.blocks import Blocks
from walkabout.screens.widgets.onelook import OneLook
from walkabout.screens.widgets.steppicking import StepScreen

WORDS = "white dust on old leaves, no webs"


@pytest.fixture
def app(tmp_path: Path) -> Walkabout:
    """Return the program on a small room."""
    return app_for(write_small_room(tmp_path / "room"))


async def begin(pilot: Pilot[Any], station: str = "pots") -> LookupScreen:
    """Open the lookup and wait until the knowledge is read."""
    screen = LookupScreen(station)
    await pilot.app.push_screen(screen)
    await ready(pilot, screen)
    return screen


async def ready(pilot: Pilot[Any], screen: LookupScreen) -> None:
    """Wait until the knowledge is read."""
    await lookup_ready(pilot)
    assert screen.lookup is not None


async def say(pilot: Pilot[Any], text: str) -> None:
    """Type a line and hand it in."""
    await pilot.press(*text, "enter")
    await pilot.pause()


def seen(screen: LookupScreen) -> dict[str, bool]:
    """Return what the lookup knows of signs."""
    assert screen.lookup is not None
    return {one.key: one.present for one in screen.lookup.seen()}


async def test_from_today_with_keys_alone(app: Walkabout) -> None:
    """L opens it; what is typed is previewed; enter adds it; the causes, the look and the steps follow."""
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l")
        screen = app.screen
        assert isinstance(screen, LookupScreen)
        await ready(pilot, screen)
        assert "Not enough to tell." in shown(app)
        await pilot.press(*WORDS)
        await pilot.pause()
        assert "+ white powder" in shown(app), "previewed before enter"
        assert seen(screen) == {}
        await pilot.press("enter")
        await pilot.pause()
        assert sorted(seen(screen).values()) == [False, True]
        text = shown(app)
        first = screen.lookup.answer().causes[0]  # type: ignore[union-attr]
        assert first.name == "powdery mildew"
        assert "Powdery mildew" in text
        assert f"{first.probability * 100:.0f} % {first.word}" in text.replace("  ", " ")
        assert "for it: white powder" in text
        assert "often behind it:" in text
        assert "One look would tell" in text
        assert "Safe to do now" in text
        assert "anybody" in text
        await pilot.press("escape", "escape")
        assert not isinstance(app.screen, LookupScreen)


def asked(screen: LookupScreen) -> Any:
    """Return the look that is asked for now."""
    assert screen.lookup is not None
    return screen.lookup.answer().next_check


async def test_answering_the_look(app: Walkabout) -> None:
    """1 and 2 answer it from the empty line, y and n in the lists; what cannot be told is not asked again."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        for key, present in (("1", True), ("2", False), ("y", True), ("n", False)):
            while (check := asked(screen)).reading:
                await pilot.press("?")
                await pilot.pause()
            if key == "y":
                await pilot.press("escape")
            await pilot.press(key)
            await pilot.pause()
            assert seen(screen)[check.key] is present
        passed: list[str] = []
        while (check := asked(screen)) is not None and len(passed) < 5:
            assert check.key not in passed
            passed.append(check.key)
            await pilot.press("question_mark" if check.reading else "3")
            await pilot.pause()
        assert passed
        assert not set(passed) & set(seen(screen))


async def test_typing_on_gives_no_answers(app: Walkabout) -> None:
    """After enter the empty line keeps the focus: the letters of the next words are text and answer nothing."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        before = seen(screen)
        assert screen.zone == "line"
        await pilot.press("enter", *"yellow leaves")
        await pilot.pause()
        assert screen.query_one("#say", Input).value == "yellow leaves"
        assert seen(screen) == before
        await pilot.press("space", *"123")
        await pilot.pause()
        assert screen.query_one("#say", Input).value == "yellow leaves 123", "digits are text too while there is text"
        assert seen(screen) == before


async def test_the_last_answer_is_taken_back(app: Walkabout) -> None:
    """Ctrl+z in the line and u in the lists bring back what was known, and say what was taken back."""
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        before, answer, check = seen(screen), screen.lookup.answer(), asked(screen)  # type: ignore[union-attr]
        for keys in (("1", "ctrl+z"), ("3", "ctrl+z"), ("escape", "y", "u")):
            await pilot.press(*keys)
            await pilot.pause()
            assert seen(screen) == before
            assert screen.lookup.answer() == answer  # type: ignore[union-attr]
            toasts = [str(one.render()) for one in app.screen.query("Toast")]
            assert len(toasts) == 1
            assert " ".join(check.ask.split()[:3]) in " ".join(toasts[0].split())
        await pilot.press("u")
        await pilot.pause()
        assert seen(screen) == {}


async def test_letters_in_the_line_are_text(app: Walkabout) -> None:
    """While a line is typed no letter answers, removes or leaves; esc ends the typing and what was half understood."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        assert "1 yes   2 no   3 cannot tell" in shown(app) or asked(screen).reading
        await pilot.press(*"ynajcfbhu l=")
        await pilot.pause()
        assert app.screen is screen
        assert screen.query_one("#say", Input).value == "ynajcfbhu l="
        assert seen(screen) == {}
        assert "not understood so far" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen is screen, "the first escape only leaves the line"
        assert "not understood so far" not in shown(app)


@pytest.mark.parametrize("keys", [(), ("escape",), ("escape", "left"), ("down",)])
async def test_one_pointer_at_most(app: Walkabout, keys: tuple[str, ...]) -> None:
    """Only the list that the arrows move has one; none while the line is typed in."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        await pilot.press(*keys)
        await pilot.pause()
        assert shown(app).count("▸") == (screen.zone != "line")


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_names_and_the_verdict_are_not_cut(app: Walkabout, size: tuple[int, int]) -> None:
    """On a small window they stand on two lines."""
    async with app.run_test(size=size) as pilot:
        screen = await begin(pilot)
        await say(pilot, "new leaves pale between the veins")
        answer = screen.lookup.answer()  # type: ignore[union-attr]
        right = screen.query_one("#right").region
        said = " ".join(line[right.x : right.right].strip() for line in shown(app).splitlines()[right.y : right.bottom])
        assert answer.says in said
        assert answer.causes[0].name.casefold() in said.casefold()


async def test_danger_to_people_comes_first(app: Walkabout) -> None:
    """Words of danger put what to do at once above everything, on any window."""
    async with app.run_test(size=(60, 20)) as pilot:
        screen = await begin(pilot)
        await say(pilot, "sparks from the plug, leaves yellow")
        rows = shown(app).splitlines()
        at = next(y for y, row in enumerate(rows) if "STOP: PEOPLE FIRST." in row)
        assert not any(one.name in " ".join(rows[:at]).casefold() for one in screen.lookup.answer().causes)  # type: ignore[union-attr]
        first = screen.lookup.answer().do[0].step  # type: ignore[union-attr]
        assert " ".join(first.split()[:3]) in rows[at + 1]
        await pilot.press("ctrl+z")
        await pilot.pause()
        assert "STOP" not in shown(app)


async def test_what_was_not_understood_is_said_and_the_nearest_offered(app: Walkabout) -> None:
    """The words are shown as typed, never as markup; enter takes the nearest sign that is offered."""
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await begin(pilot)
        await say(pilot, "zorky [b]fnord[/b]")
        assert "Not understood:" in shown(app)
        assert "[b]fnord" in shown(app)
        assert seen(screen) == {}
        await say(pilot, "raggedy bits")
        await pilot.press("down")
        offered = screen.query_one("#known", Blocks).key
        assert offered.startswith("offer:")
        assert "Was it one of" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert seen(screen)[offered.removeprefix("offer:")] is True
        assert "Not understood" not in shown(app)


async def test_a_line_can_be_turned_and_taken_away(app: Walkabout) -> None:
    """In the list of what is known space turns a sign, backspace takes away a sign or a reading; up leads back."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await say(pilot, f"{WORDS}, pH 7.4")
        assert screen.lookup is not None
        assert screen.lookup.readings["ph"] == 7.4
        await pilot.press("escape", "left")
        keys = list(seen(screen))
        known = screen.query_one("#known", Blocks)
        assert known.key == f"sign:{keys[0]}"
        await pilot.press("space")
        assert seen(screen)[keys[0]] is False
        await pilot.press("space", "backspace")
        assert keys[0] not in seen(screen)
        while known.key != "reading:ph":
            await pilot.press("down")
        await pilot.press("delete")
        assert "ph" not in screen.lookup.readings
        for _ in range(8):
            await pilot.press("up")
        await pilot.pause()
        assert screen.zone == "line"


def asks_for_ph(monkeypatch: pytest.MonkeyPatch, lookup: Lookup) -> None:
    """Make the pH the next look until it is known, or cannot be told."""
    answer, measure = lookup.answer, lookup.ready.known.measures["ph"]
    ph = NextCheck(
        key="ph", reading=True, ask=measure.ask, look=measure.look, seconds=60, who="pupil", caution="", gain=1.0,
        separates=("powdery-mildew",), unit=measure.unit,
    )  # fmt: skip

    def asking() -> Consulted:
        told = "ph" in lookup.readings or "ph" in lookup.situation().passed
        return answer() if told else msgspec.structs.replace(answer(), next_check=ph)

    monkeypatch.setattr(lookup, "answer", asking)


async def test_a_number_that_cannot_be_told(app: Walkabout, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a number is asked for, ? in the empty line passes it over; 3 is a number there."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        assert screen.lookup is not None
        asks_for_ph(monkeypatch, screen.lookup)
        screen.renew()
        await pilot.press("3")
        await pilot.pause()
        assert asked(screen).key == "ph"
        assert screen.query_one("#say", Input).value == "3"
        await pilot.press("backspace", "question_mark")
        await pilot.pause()
        assert "ph" in screen.lookup.situation().passed
        assert screen.query_one("#say", Input).value == ""


async def test_a_reading_is_typed_as_a_number(app: Walkabout, monkeypatch: pytest.MonkeyPatch) -> None:
    """Digits go to the reading that is asked for; one that no instrument can show is refused with its range."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await say(pilot, "new leaves pale between the veins")
        lookup = screen.lookup
        assert lookup is not None
        asks_for_ph(monkeypatch, lookup)
        screen.renew()
        await pilot.pause()
        check = asked(screen)
        assert "type the number" in shown(app)
        await pilot.press(*"99", "enter")
        await pilot.pause()
        assert check.key not in lookup.readings
        assert "cannot be" in shown(app)
        await pilot.press("backspace", "backspace", *"6,9", "enter")
        await pilot.pause()
        assert lookup.readings[check.key] == 6.9
        assert screen.query_one("#say", Input).value == ""
        assert "6.9" in shown(app)
        await pilot.press("ctrl+z", "escape", "n")
        await pilot.pause()
        assert "Type the number, or ? if it cannot be told." in shown(app)
        assert check.key not in lookup.readings
        await pilot.press(*"99", "enter", "backspace", "backspace", *"7.1", "enter")
        await pilot.pause()
        assert lookup.readings[check.key] == 7.1


async def test_the_list_of_signs(app: Walkabout) -> None:
    """Typing narrows it down, enter takes a sign as there, f2 as not there, once more takes it back; tab: organs."""
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await begin(pilot)
        await pilot.press("tab")
        await pilot.pause()
        assert isinstance(app.screen, SignsScreen)
        whole = app.screen.query_one(Blocks).keys
        await pilot.press(*"powder")
        await pilot.pause()
        listed = app.screen.query_one(Blocks)
        assert 0 < len(listed.keys) < len(whole)
        key = listed.key
        assert "How to look" in shown(app)
        await pilot.press("enter")
        assert seen(screen) == {key: True}
        await pilot.press("f2")
        assert seen(screen) == {key: False}
        await pilot.press("f2")
        assert seen(screen) == {}
        await pilot.press("escape", "tab")
        await pilot.pause()
        some = set(app.screen.query_one(Blocks).keys)
        assert some < set(whole)
        await pilot.press("shift+tab", *"qqqq")
        await pilot.pause()
        assert "Nothing of that name" in shown(app)
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert app.screen is screen


async def test_the_page_of_a_cause(app: Walkabout) -> None:
    """C opens the page of the cause pointed at; a digit a look-alike; escape comes back step by step."""
    async with app.run_test(size=(120, 60)) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        await pilot.press("escape", "c")
        await pilot.pause()
        assert isinstance(app.screen, CauseScreen)
        text = shown(app)
        for head in ("What it is", "What to look for", "Usual reasons", "How to confirm it"):
            assert head in text
        await pilot.press("1")
        await pilot.pause()
        assert "powdery mildew" not in shown(app).splitlines()[1]
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert app.screen is screen


async def test_the_list_of_causes(app: Walkabout) -> None:
    """B lists every cause by class; typing finds one; enter opens its page."""
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await pilot.press("escape", "b")
        await pilot.pause()
        assert isinstance(app.screen, CausesScreen)
        known = screen.lookup.ready.known  # type: ignore[union-attr]
        assert set(app.screen.query_one(Blocks).keys) == {*known.causes, *known.reasons}
        await pilot.press(*"spider mi", "enter")
        await pilot.pause()
        assert isinstance(app.screen, CauseScreen)
        assert "spider mite" in shown(app)


async def test_jobs_are_made_of_the_steps(app: Walkabout) -> None:
    """J asks which; each job says who may do it; nothing that is put on a plant to kill is for a pupil."""
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await begin(pilot)
        await pilot.press("escape", "j")
        await pilot.pause()
        assert app.screen is screen, "nothing was seen yet"
        await pilot.press("a")
        await say(pilot, WORDS)
        do = screen.lookup.answer().do  # type: ignore[union-attr]
        before = set(app.opened.jobs)
        await pilot.press("escape", "j")
        await pilot.pause()
        assert isinstance(app.screen, StepScreen)
        text = shown(app)
        assert all(" ".join(one.step.split()[:3]) in text for one in do[:3])
        assert "anybody" in text
        await pilot.press("2", "enter")
        await pilot.pause()
        await pilot.pause()
        made = [job for key, job in app.opened.jobs.items() if key not in before]
        assert made
        assert {job.station for job in made} == {"pots"}
        steps = {one.step: one for one in do}
        assert all(job.who == steps[job.what].who for job in made if job.what in steps)
        assert all(one.who != "pupil" for one in do if one.pesticide)


@pytest.mark.parametrize("walker", ["K7", "AR"])
async def test_all_at_once_is_what_this_walker_may_do_today(tmp_path: Path, walker: str) -> None:
    """The first row makes jobs of today's steps only, in their order; a pupil is not offered what waits or kills."""
    app = app_for(write_small_room(tmp_path / "room"), walker=walker)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        do = screen.lookup.answer().do  # type: ignore[union-attr]
        await pilot.press("escape", "j")
        await pilot.pause()
        count = len(app.screen.query_one(Blocks).keys) - 1
        assert count == len(offered(do, app.opened.room.role(walker)))
        await pilot.press("1")
        await pilot.pause()
        await pilot.pause()
        made = sorted(app.opened.jobs.values(), key=lambda job: job.made)
        today = for_today(do, app.opened.room.role(walker))
        assert [job.what for job in made] == [one.step for one in today]
        assert today


async def test_a_step_is_ticked_by_a_click_and_shows_its_caution(app: Walkabout) -> None:
    """The row pointed at shows its caution; a click or space ticks, once more takes the tick away."""
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        do = screen.lookup.answer().do  # type: ignore[union-attr]
        at = next(index for index, one in enumerate(do) if caution_of(one))
        await pilot.press("escape", "j")
        await pilot.pause()
        await pilot.press(*["down"] * (at + 1))
        await pilot.pause()
        assert f"Caution: {caution_of(do[at]).split()[0]}" in shown(app)
        await pilot.press("space")
        await pilot.pause()
        assert shown(app).count("[x]") == 1
        row = next(y for y, line in enumerate(shown(app).splitlines()) if "[x]" in line)
        await pilot.click(offset=(14, row))
        await pilot.pause()
        assert shown(app).count("[x]") == 0
        await pilot.click(offset=(14, row))
        await pilot.press("enter")
        await pilot.pause()
        await pilot.pause()
        assert [job.what for job in app.opened.jobs.values()] == [do[at].step]


async def test_a_finding_keeps_the_signs(app: Walkabout) -> None:
    """F asks how bad it is, and writes down what is seen with the keys of its signs."""
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        await pilot.press("escape", "f")
        await pilot.pause()
        await pilot.press("2")
        await pilot.pause()
        found = list(app.opened.findings.values())
        assert [(one.station, one.verdict) for one in found] == [("pots", "today")]
        assert set(found[0].signs) == {key for key, present in seen(screen).items() if present}


async def test_from_the_round_with_the_station(app: Walkabout) -> None:
    """In the round l opens the lookup at the station of the question, and escape goes on with the question."""
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("r")
        walking = app.screen
        await pilot.press("l")
        screen = app.screen
        assert isinstance(screen, LookupScreen)
        await ready(pilot, screen)
        assert screen.station_key == walking.station_key  # type: ignore[attr-defined]
        await pilot.press("escape", "escape", "l", "escape", "escape")
        await pilot.pause()
        assert app.screen is walking


async def test_with_the_mouse_alone(app: Walkabout) -> None:
    """Clicks pick a sign from the list, answer the look, point at a cause and open its page."""
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await begin(pilot)

        async def click_key(word: str) -> None:
            row = shown(app).splitlines()[-1]
            await pilot.click(offset=(row.index(word), app.size.height - 1))
            await pilot.pause()

        await click_key("list of signs")
        listed = app.screen.query_one(Blocks)
        await pilot.click(listed, offset=(4, 4))
        await pilot.click(listed, offset=(4, 4))
        await click_key("back")
        assert len(seen(screen)) == 1
        look, before = screen.query_one(OneLook), len(seen(screen))
        row = next(y for y, line in enumerate(shown(app).splitlines()) if "1 yes" in line)
        assert look.region.contains(2, row)
        await pilot.click(offset=(shown(app).splitlines()[row].index("1 yes"), row))
        await pilot.pause()
        assert len(seen(screen)) == before + 1
        await pilot.click("#causes", offset=(4, 0))
        await pilot.click("#causes", offset=(4, 0))
        await pilot.pause()
        assert isinstance(app.screen, CauseScreen)


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (60, 20), (40, 12)])
async def test_on_every_window(app: Walkabout, size: tuple[int, int]) -> None:
    """The likeliest cause is on the screen at any size, and the look and the steps from 60 by 20."""
    async with app.run_test(size=size) as pilot:
        screen = await begin(pilot)
        await say(pilot, WORDS)
        text = shown(app)
        assert "Powdery" in text
        if size[0] >= 60:
            assert screen.lookup.answer().next_check.ask.split()[0] in text  # type: ignore[union-attr]
            assert "Safe to do now" in text
            assert "1 yes" in text
        await pilot.press(
            "tab", "down", "enter", "escape", "escape", "c", "pagedown", "escape", "b", "enter", "escape", "escape"
        )
        await pilot.pause()
        assert app.screen is screen


async def test_it_says_when_the_knowledge_takes_long(app: Walkabout, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys are taken meanwhile, and that it is being read is said; enter is remembered."""
    from walkabout.round import lookup_start

    at_station = lookup_start.at_station

    def slow(*args: Any, **more: Any) -> Any:
        time.sleep(0.6)
        return at_station(*args, **more)

    monkeypatch.setattr(lookup_start, "at_station", slow)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", *WORDS, "enter")
        await pilot.pause(0.2)
        screen = app.screen
        assert isinstance(screen, LookupScreen)
        if screen.lookup is None:
            assert "reading the knowledge" in shown(app)
        await ready(pilot, screen)
        assert len(seen(screen)) == 2


async def test_knowledge_that_cannot_be_used(app: Walkabout, monkeypatch: pytest.MonkeyPatch) -> None:
    """One line says so, and escape goes back."""
    from walkabout.diagnosis.knowledge import NotUsable
    from walkabout.round import lookup_start

    def broken(*args: Any, **more: Any) -> Any:
        raise NotUsable("fungi.toml:3: rust: a fact has no source\nmore of it")

    monkeypatch.setattr(lookup_start, "at_station", broken)
    async with app.run_test(size=(120, 24)) as pilot:
        await pilot.press("l")
        await pilot.pause(0.3)
        assert "The knowledge cannot be used." in shown(app)
        assert "fungi.toml:3" in shown(app)
        await pilot.press("enter", "tab", "escape", "j", "escape")
        await pilot.pause()
        assert not isinstance(app.screen, LookupScreen)
