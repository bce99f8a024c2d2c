"""The plots of a trial on paper: all of it for an open trial, two lists apart for one whose names are hidden."""

from collections.abc import Callable

import msgspec
import pytest

from tests.paper.conftest import HOSTILE
from tests.paper.made import a_trial
from tests.paper.printed import codes, outside, over_the_foot, text, texts
from walkabout.paper.plot_lines import find_trial, list_of
from walkabout.paper.plot_list import KEEP_AWAY, LEFT_EMPTY, NO_NAMES, TYPE_IN, plot_list
from walkabout.paper.sizes import A4, LETTER, PAPERS, Paper
from walkabout.records.model_measured import Kind, Trial
from walkabout.round.opened import OpenRoom


def short(**given: object) -> Trial:
    """Return a trial with short names, as people give them."""
    made = a_trial(OPENED[0], "warm", **given)  # type: ignore[arg-type]
    plots = tuple(msgspec.structs.replace(one, name=f"tray {number}") for number, one in enumerate(made.plots, 1))
    return msgspec.structs.replace(made, plots=plots)


OPENED: list[OpenRoom] = []


@pytest.fixture(autouse=True)
def _room(opened: OpenRoom) -> None:
    OPENED[:] = [opened]


def test_an_open_trial_is_all_there(opened: OpenRoom) -> None:
    """Question, treatments, control, number of the draw, response, each plot with its treatment, and the columns."""
    trial = short()
    printed = text(plot_list(opened, A4, trial))

    for says in (
        trial.question, "warm mat", "as usual (the control)", "from the number 4711", "Measured: weight of warm, in g.",
        "On the small balance, warm.", "Measured by (code)", "Day", "what happened", "1: g", "Block: the other block",
    ):  # fmt: skip
        assert says in printed
    words = printed.split("what happened")[1]
    places = [words.index(f"tray {number} ") for number in range(1, len(trial.plots) + 1)]
    assert places == sorted(places)
    assert words.count("warm mat") == sum(one.treatment == "warm mat" for one in trial.plots)
    assert KEEP_AWAY not in printed
    assert TYPE_IN in printed


def test_a_blind_trial_has_two_lists_on_two_sheets(opened: OpenRoom) -> None:
    """The key names codes and treatments; the list to measure by begins on a sheet of its own and names neither."""
    trial = short(blind=True)
    key, between, measure = texts(plot_list(opened, A4, trial))

    assert KEEP_AWAY in key
    assert "B: warm mat" in key
    assert "A: as usual (the control)" in key
    assert "4711" in key
    assert LEFT_EMPTY in between
    assert "tray" not in between
    assert NO_NAMES in measure
    assert TYPE_IN in measure
    for hidden in ("warm mat", "as usual", "4711", " B ", " A "):
        assert hidden not in measure
    for number in range(1, len(trial.plots) + 1):
        assert f"tray {number}" in key
        assert f"tray {number}" in measure


@pytest.mark.parametrize("plots", [2, 12, 40, 90])
def test_the_list_to_measure_by_never_shares_a_sheet_with_the_key(opened: OpenRoom, plots: int) -> None:
    """However long the key is, the list to measure by begins on a front side."""
    pages = texts(plot_list(opened, LETTER, short(blind=True, plots=plots)))
    first = next(number for number, page in enumerate(pages, 1) if NO_NAMES in page)
    assert first % 2 == 1
    assert not any(NO_NAMES in page for page in pages[: first - 1])
    assert not any(KEEP_AWAY in page for page in pages[first - 1 :])


def test_names_that_were_opened_stand_in_the_list(opened: OpenRoom) -> None:
    """Once the names are open there is one list, with the names."""
    trial = short(blind=True)
    opened_since = msgspec.structs.replace(trial, opened=trial.made)
    pages = texts(plot_list(opened, A4, opened_since))
    assert len(pages) == 1
    assert "warm mat" in pages[0]


def test_what_was_not_drawn_is_said(opened: OpenRoom) -> None:
    """A trial in which each place had its treatment already says so instead of a number."""
    assert "Nothing was drawn" in text(plot_list(opened, A4, msgspec.structs.replace(short(), seed=0)))


@pytest.mark.parametrize(("counts", "says"), [("number", "1: g"), ("count", "1: how many"), ("share", "1: … of …")])
def test_what_is_written_into_a_column(opened: OpenRoom, counts: str, says: str) -> None:
    """A number has its unit, a count and a share say what is meant."""
    trial = msgspec.structs.replace(short(), counts=counts, unit="g" if counts == "number" else "")
    assert says in text(plot_list(opened, A4, trial))


def test_kinds_that_are_counted(opened: OpenRoom) -> None:
    """Where kinds are counted against a ratio, each has its column, and nothing is said of treatments."""
    kinds = (Kind(name="green", part=3), Kind(name="pale", part=1))
    made = short()
    plots = tuple(msgspec.structs.replace(one, treatment="") for one in made.plots)
    trial = msgspec.structs.replace(
        made, treatments=(), control="", plots=plots, counts="count", unit="", kinds=kinds, sown_each=6, how="",
    )  # fmt: skip
    printed = text(plot_list(opened, A4, trial))
    assert "Counted: green : pale against 3:1." in printed
    assert "6 seeds are sown in each plot." in printed
    assert "no. plot green pale what happened" in printed
    for says in ("Compared", "gets", "control", "4711", "1:"):
        assert says not in printed.replace("3:1", "")


def test_food_has_its_caution(opened: OpenRoom) -> None:
    """Where something to eat is on the plots, nobody tastes before an adult is asked; a crop's own caution stands."""
    trial = short()
    assert "Ask an adult before tasting." in text(plot_list(opened, A4, trial))
    geranium = next(one.key for one in opened.plantings.values() if one.crop == "geranium")
    plots = tuple(msgspec.structs.replace(one, planting=geranium) for one in trial.plots)
    only = list_of(opened, msgspec.structs.replace(trial, plots=plots)).cautions
    assert only
    assert all("Geranium" in one for one in only)


def test_the_code_holds_the_key_of_the_trial(opened: OpenRoom) -> None:
    """A second library reads it on each list, on both papers."""
    assert codes(plot_list(opened, A4, short())) == ["tr-1"]
    assert codes(plot_list(opened, LETTER, short(blind=True))) == ["tr-1", "tr-1"]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
@pytest.mark.parametrize("typed", HOSTILE)
def test_whatever_a_plot_is_called(hostile: Callable[[str], OpenRoom], typed: str, paper: Paper) -> None:
    """Nothing leaves the page or runs over the foot, and a list of 12 plots stays short."""
    room = hostile(typed)
    for blind in (False, True):
        data = plot_list(room, paper, a_trial(room, typed, blind=blind))
        assert outside(data) == []
        assert over_the_foot(data, paper) == []
        assert len(texts(data)) <= 7


def test_finding_a_trial(opened: OpenRoom) -> None:
    """By its key, by its number in the list, alone without a word; else what there is is said."""
    with pytest.raises(ValueError, match="no trial in this room"):
        find_trial(opened, "1")
    one = short()
    opened.save(one)
    assert find_trial(opened, "") == one
    other = msgspec.structs.replace(one, key="tr-2", question="Is it the lamp?", closed=one.made)
    opened.save(other)
    assert find_trial(opened, "1") == find_trial(opened, " tr-1 ") == one
    assert find_trial(opened, "2") == find_trial(opened, "tr-2") == other
    for wrong in ("", "0", "3", "tr-9", "lamp"):
        with pytest.raises(ValueError, match=r"by its number: 1 Does warm help\?; 2 Is it the lamp\?"):
            find_trial(opened, wrong)
