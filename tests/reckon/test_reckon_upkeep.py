"""The face of upkeep: a change that is due, a cleaning bath."""

import pytest

from walkabout.reckon.read import reckon, split, take
from walkabout.reckon.upkeep import RECKONINGS

FOUND = {one.name: one for one in RECKONINGS}


def run(call):
    """Work out a call as it is typed on the command line."""
    name, *words = call.split()
    return reckon(FOUND[name], take(FOUND[name], split(words)))


@pytest.mark.parametrize(
    ("call", "verdict", "reason"),
    [
        ("change-due volume=60 topped=12,15,14,10 days=9", "not due", None),
        ("change-due volume=60 topped=51 days=9 limit=7", "due", "days"),
        ("change-due volume=60 topped=30 days=9 share=0.5", "due", "top-ups"),
        ("change-due volume=60 topped=10 days=9 sodium=70", "due", "sodium"),
        ("change-due volume=60 topped=10 days=9 sodium=70 sodium_limit=100", "not due", None),
        ("change-due volume=60 topped=60 days=14", "due", "top-ups and days"),
        ("change-due volume=60 topped=0 days=0", "not due", None),
    ],
)
def test_a_change_is_due_for_a_reason(call, verdict, reason):
    """The verdict comes first, with the reason; a change that is due is an adult's job, else nothing is."""
    found = run(call)
    assert next(iter(found.results)) == "verdict"
    assert found.results["verdict"].value == verdict
    assert (found.results["reason"].value if reason else None) == reason
    assert (found.do is not None) == (verdict == "due") == bool(found.cautions)
    assert found.do is None or found.do.who == "adult"
    assert found.says[0].startswith("Due: " if verdict == "due" else "Not due: ")


def test_what_was_taken_is_said():
    """A limit that was not given stands in the working; one that was given does not."""
    assert "taken: limit = 14 days" in run("change-due volume=60 topped=1 days=9").working
    assert run("change-due volume=60 topped=12,15 days=9 limit=10").working == (
        "top-ups: 12 + 15 = 27 L of 60 L",
        "days: 9 of 10",
    )


@pytest.mark.parametrize(
    ("call", "bleach", "chlorine", "verdict"),
    [
        ("bleach percent=5 volume=10", 40, 200, "in range"),
        ("bleach percent=5.25 volume=3.785 added=14.79", 14.79, 205.14, "in range"),
        ("bleach percent=5 volume=10 to=100", 20, 100, "too weak"),
        ("bleach percent=5% volume=10L added=100mL", 100, 500, "too strong"),
    ],
)
def test_a_cleaning_bath(call, bleach, chlorine, verdict):
    """Bleach and chlorine agree either way round; it is an adult's work, never with acid, and rinsed."""
    found = run(call)
    assert found.results["bleach"].value == pytest.approx(bleach)
    assert found.results["chlorine"].value == pytest.approx(chlorine, abs=0.01)
    assert found.results["verdict"].value == verdict
    assert found.do.who == "adult"
    assert all(word in found.cautions[0] for word in ("adult", "never together with acid", "rinse", "open windows"))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        ("bleach percent=5 volume=10 to=200 added=3", "not both"),
        ("bleach percent=50 volume=10", "it must be at most 20 %"),
        ("bleach percent=5 volume=0", "the water is 0 L"),
        ("change-due volume=0 topped=1 days=1", "the volume is 0 L"),
        ("change-due volume=60 days=1", "change-due needs topped"),
        ("change-due volume=60 topped=-1 days=1", "at least 0 L"),
    ],
)
def test_what_cannot_be_is_refused(call, says):
    """One sentence says what would be right."""
    with pytest.raises(ValueError, match=says):
        run(call)


@pytest.mark.parametrize("call", [f"{one.name} {one.example}" for one in RECKONINGS])
def test_every_result_has_words(call):
    """Nothing is shown by its raw key."""
    assert all(one.says for one in run(call).results.values())
