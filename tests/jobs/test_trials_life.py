"""A trial is set up, measured, corrected and closed; nothing of it is deleted."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import msgspec
import pytest

from walkabout.jobs.trials import (
    close,
    draw_anew,
    exclude,
    in_order,
    is_blind,
    measure,
    name_of,
    open_names,
    ratio_of,
    set_up,
    set_up_ratio,
    standing,
    take_back,
)
from walkabout.records.model_measured import Kind, Measurement, Plot, Trial

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
TODAY = NOW.date()
PLOTS = tuple(
    Plot(name=f"Tub {number}", kind="plant", treatment=treatment, station="tub")
    for number, treatment in enumerate(("as usual", "mat", "mat", "as usual"), 1)
)


def trial(**more: Any) -> Trial:
    given: dict[str, Any] = {
        "question": "Do lettuces grow heavier on a mat?",
        "treatments": ("as usual", "mat"),
        "control": "as usual",
        "plots": PLOTS,
        "response": "fresh weight",
        "unit": "g",
        "seed": 7,
        "by": "AR",
        "now": NOW,
    }
    return set_up(**(given | more))


def weigh(value: float = 42, plot: str = "Tub 1", at: Trial | None = None, **more: Any) -> Measurement:
    return measure(at or trial(), plot, value, **({"day": TODAY, "by": "AR", "now": NOW} | more))


def test_a_trial_is_set_up_with_its_draw() -> None:
    """Plots are counted within their treatment, and the first line of history names the number drawn from."""
    made = trial(question="  Do lettuces\ngrow heavier? ")
    assert made.question == "Do lettuces grow heavier?"
    assert [(one.treatment, one.replicate) for one in made.plots] == [
        ("as usual", 1), ("mat", 1), ("mat", 2), ("as usual", 2),
    ]  # fmt: skip
    assert made.history[0].says == "set up with 4 plots, drawn from the number 7"
    assert "the treatment it had" in trial(seed=0).history[0].says


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"question": " "}, "Write the question"),
        ({"question": "x" * 121}, "at most 120"),
        ({"treatments": ("mat",), "control": "mat"}, "at least 2"),
        ({"treatments": tuple("abcdefghi"), "control": "a"}, "at most 8"),
        ({"treatments": ("mat", "Mat"), "control": "mat"}, "a name of its own"),
        ({"treatments": ("mat", "NA"), "control": "mat"}, "NA"),
        ({"treatments": ("mat", "m" * 41), "control": "mat"}, "at most 40"),
        ({"control": "nothing"}, "control is one of"),
        ({"response": ""}, "what is measured"),
        ({"unit": "g" * 41}, "at most 40"),
        ({"plots": PLOTS[:1]}, "at least one plot"),
        ({"plots": (*PLOTS, PLOTS[0])}, "name of its own"),
        ({"plots": PLOTS * 51}, "at most 200"),
        ({"counts": "colour"}, "number, count, share"),
        ({"worth": 0.0}, "more than 0 %"),
        ({"spread": float("nan")}, "spread"),
    ],
)
def test_what_cannot_be_a_trial_is_said_in_one_sentence(more: dict[str, object], says: str) -> None:
    """A ValueError that says what would be right."""
    with pytest.raises(ValueError, match=says):
        trial(**more)


TRAYS = tuple(Plot(name=f"Tray {number}", kind="tray", treatment="", station="tub") for number in range(1, 4))
THREE_TO_ONE = (Kind(name="green", part=3, other=1), Kind(name="pale", part=1, other=1))


def of_kinds(**more: Any) -> Trial:
    given: dict[str, Any] = {"question": "3 to 1?", "kinds": THREE_TO_ONE, "plots": TRAYS, "by": "AR", "now": NOW}
    return set_up_ratio(**(given | more))


def test_kinds_are_counted_against_a_ratio_without_treatments() -> None:
    """No treatment, no control, nothing drawn; whole numbers of one of its kinds are counted, and 0 is a count."""
    made = of_kinds(sown_each=20)
    assert (made.treatments, made.control, made.seed, made.counts, made.sown_each) == ((), "", 0, "count", 20)
    assert ratio_of(made) == "3:1"
    assert made.history[0].says == "set up to count green and pale against 3:1"
    assert weigh(0, "Tray 1", made, kind="pale").kind == "pale"
    for kind, value, says in (("", 3, "no such kind"), ("blue", 3, "no such kind"), ("green", 2.5, "whole number")):
        with pytest.raises(ValueError, match=says):
            weigh(value, "Tray 1", made, kind=kind)
    with pytest.raises(ValueError, match="no such kind"):
        weigh(3, "Tub 1", trial(), kind="green")


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"kinds": THREE_TO_ONE[:1]}, "2 to 5 kinds"),
        ({"kinds": tuple(Kind(name=one, part=1) for one in "abcdef")}, "2 to 5 kinds"),
        ({"kinds": (Kind(name="green", part=3), Kind(name=" GREEN", part=1))}, "a name of its own"),
        ({"kinds": (Kind(name="green", part=3), Kind(name="na", part=1))}, "NA"),
        ({"kinds": (Kind(name="green", part=3), Kind(name="p" * 41, part=1))}, "at most 40"),
        ({"kinds": (Kind(name="green", part=3), Kind(name="pale", part=0))}, "more than 0"),
        ({"kinds": (Kind(name="green", part=3), Kind(name="pale", part=float("nan")))}, "more than 0"),
        ({"kinds": (Kind(name="green", part=3, other=1), Kind(name="pale", part=1))}, "other ratio"),
        ({"plots": ()}, "at least one plot"),
        ({"plots": PLOTS}, "one of the treatments"),
        ({"sown_each": 0}, "seeds are sown"),
    ],
)
def test_what_cannot_be_a_ratio_is_said_in_one_sentence(more: dict[str, object], says: str) -> None:
    """A ValueError that says what would be right."""
    with pytest.raises(ValueError, match=says):
        of_kinds(**more)


def test_old_records_are_read_and_written_as_they_were() -> None:
    """A trial and a measurement from before there were kinds: nothing is missing, and nothing is added on the disk."""
    for one in (trial(), weigh()):
        written = msgspec.json.decode(msgspec.json.encode(one))
        assert not {"kinds", "kind", "sown_each"} & set(written)
        assert msgspec.convert(written, type(one)) == one
    new = of_kinds()
    assert msgspec.convert(msgspec.json.decode(msgspec.json.encode(new)), Trial) == new


def test_plots_are_drawn_anew_only_before_the_first_measurement() -> None:
    """From then on a plot keeps its treatment; where nothing was drawn there is nothing to draw."""
    turned = tuple(
        msgspec.structs.replace(one, treatment="mat" if one.treatment != "mat" else "as usual") for one in PLOTS
    )
    later = draw_anew(trial(), turned, 9, [], "AR", NOW)
    assert (later.seed, [one.treatment for one in later.plots]) == (9, ["mat", "as usual", "as usual", "mat"])
    assert later.history[-1].says == "drawn anew from the number 9, before it from 7"
    with pytest.raises(ValueError, match="keep their treatment"):
        draw_anew(trial(), turned, 9, [weigh()], "AR", NOW)
    with pytest.raises(ValueError, match="Nothing was drawn"):
        draw_anew(trial(seed=0), turned, 9, [], "AR", NOW)


@pytest.mark.parametrize(
    ("counts", "value", "of", "says"),
    [
        ("number", float("nan"), None, "Type a number"),
        ("number", 1e12, None, "Type a number"),
        ("number", 4, 10, "not a share"),
        ("count", 2.5, None, "whole number"),
        ("count", -1, None, "whole number"),
        ("count", 3, 10, "how many"),
        ("share", 3, None, "such as 7/10"),
        ("share", 3, 0, "such as 7/10"),
        ("share", 11, 10, "11 out of 10 cannot be"),
    ],
)
def test_what_cannot_be_measured_is_refused(counts: Any, value: float, of: int | None, says: str) -> None:
    """Each kind of response takes its own kind of number."""
    with pytest.raises(ValueError, match=says):
        measure(trial(counts=counts), "Tub 1", value, of=of, day=TODAY, by="AR", now=NOW)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (lambda: weigh(plot="Tub 9"), "no such plot"),
        (lambda: weigh(day=TODAY + timedelta(days=1)), "still to come"),
        (lambda: weigh(day=date(2020, 1, 1)), "more than a year"),
        (lambda: weigh(before=weigh()), "why it is corrected"),
        (lambda: weigh(at=close(trial(), "done", "AR", NOW)), "closed"),
    ],
)
def test_measuring_keeps_to_the_trial(wrong: Callable[[], object], says: str) -> None:
    """Its plots, its time, and only as long as it is open."""
    with pytest.raises(ValueError, match=says):
        wrong()


def test_a_correction_stands_in_the_place_of_what_it_replaces() -> None:
    """Both stay on record, with the reason."""
    first = weigh(420)
    second = weigh(42, before=first, reason="a point left out")
    assert (second.replaces, second.reason) == (first.key, "a point left out")
    assert standing([first, second, weigh(40, "Tub 2")])[0] is second


def test_what_is_left_out_keeps_its_value_and_says_why() -> None:
    """It can be counted again, and both are in its history; a correction stays left out."""
    out = exclude(trial(), weigh(), "knocked over", "K7", NOW)
    assert (out.value, out.excluded) == (42, "knocked over")
    assert weigh(41, before=out, reason="slip").excluded == "knocked over"
    back = take_back(trial(), out, "AR", NOW)
    assert [one.says for one in back.history] == ["left out: knocked over", "counted again"]
    for wrong, says in (
        (lambda: exclude(trial(), weigh(), " ", "AR", NOW), "with a reason"),
        (lambda: exclude(trial(), out, "again", "AR", NOW), "left out already"),
        (lambda: take_back(trial(), back, "AR", NOW), "counted already"),
    ):
        with pytest.raises(ValueError, match=says):
            wrong()


def test_names_stay_behind_their_codes_until_they_are_opened() -> None:
    """Opening is written down, and closing opens them; the same seed gives the same codes."""
    made = trial(blind=True)
    assert sorted(made.codes) == ["A", "B"]
    assert made.codes == trial(blind=True).codes
    assert sorted(name_of(made, one) for one in made.treatments) == ["treatment A", "treatment B"]
    opened = open_names(made, "AR", NOW)
    assert (is_blind(opened), name_of(opened, "mat")) == (False, "mat")
    assert "opened" in opened.history[-1].says
    assert not is_blind(close(made, "no difference shown", "AR", NOW))
    with pytest.raises(ValueError, match="are open"):
        open_names(opened, "AR", NOW)


def test_a_trial_is_closed_once_with_a_reason() -> None:
    """Closed ones come after the open ones."""
    closed = close(trial(), " no difference shown ", "AR", NOW)
    assert (closed.closed, closed.reason) == (NOW, "no difference shown")
    with pytest.raises(ValueError, match="is closed"):
        close(closed, "again", "AR", NOW)
    with pytest.raises(ValueError, match="with a reason"):
        close(trial(), " ", "AR", NOW)
    earlier = trial(now=NOW - timedelta(days=9))
    assert in_order([closed, earlier]) == [earlier, closed]
