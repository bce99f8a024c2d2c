"""Standing jobs and what a place holds, in the shipped checklists and in a room's own."""

import re
from pathlib import Path

import pytest

from tests.checklist.lists import SHORT, line_of, read_own
from walkabout.checklist.model import Checklist, Duty, Needs
from walkabout.checklist.read import read_checklists

SHIPPED = read_checklists().of
STATIONS = {kind: one for kind, one in SHIPPED.items() if kind != "room"}
DUTIES = [(kind, name, duty) for kind, one in SHIPPED.items() for name, duty in one.duty.items()]
NAMES = [f"{kind}/{name}" for kind, name, _ in DUTIES]

BLOCKS = """
[duty.scrub]
says = "Scrub the trough"
days = 28
minutes = 15
who = "adult"
needs = { kit = ["brush"], groups = ["leafy"] }
caution = "Wet floor."
why = "Slime feeds flies."
source = "assumed"

[duty.warmth]
says = "Read the thermometer"
days = 7
minutes = 2
settled_by = "heat"
source = "common practice"

[duty.part]
says = "Thin the rows"
days = 0
minutes = 5
at = "thin"
source = "from memory"

[store]
ml = [20, 60]
fails = "the trough runs dry"
saves = ["Fill it", "Shade it"]
source = "reckoned"
"""
WITH = SHORT.replace('\n[[question]]\nid = "water"', f'{BLOCKS}\n[[question]]\nid = "water"')
"""The short checklist with three standing jobs and a store."""


def test_they_are_read(tmp_path: Path) -> None:
    """Everything that is written arrives, and makes no mistake."""
    checklist, said, _ = read_own(tmp_path, "trough", WITH)
    assert said == []
    assert checklist is not None
    assert list(checklist.duty) == ["scrub", "warmth", "part"]
    assert checklist.duty["scrub"] == Duty(
        says="Scrub the trough",
        days=28,
        minutes=15,
        who="adult",
        needs=Needs(kit=("brush",), groups=("leafy",)),
        caution="Wet floor.",
        why="Slime feeds flies.",
        source="assumed",
    )
    assert checklist.store is not None
    assert (checklist.store.ml, checklist.store.dark, len(checklist.store.saves)) == ((20, 60), True, 2)


def test_a_checklist_without_them_is_as_it_was(tmp_path: Path) -> None:
    """Nothing is planned there, and nothing is said."""
    checklist, said, _ = read_own(tmp_path, "trough", SHORT)
    assert said == []
    assert checklist is not None
    assert (checklist.duty, checklist.store) == ({}, None)


# What is changed, what is said, which jobs stay and whether the store does.
ALL, NO_SCRUB, NO_WARMTH, NO_PART = (
    ["scrub", "warmth", "part"],
    ["warmth", "part"],
    ["scrub", "part"],
    ["scrub", "warmth"],
)
MISTAKES = {
    "an unknown question": (
        'settled_by = "heat"',
        'settled_by = "haet"',
        'there is no question "haet". Did you mean "heat"?',
        NO_WARMTH,
        True,
    ),
    "a fault is no question": (
        'settled_by = "heat"',
        'settled_by = "warm"',
        'there is no question "warm". Did you mean "water"?',
        NO_WARMTH,
        True,
    ),
    "who may": (
        'minutes = 15\nwho = "adult"',
        'minutes = 15\nwho = "adlut"',
        'who cannot be "adlut". Did you mean "adult"?',
        NO_SCRUB,
        True,
    ),
    "minutes of a whole day": (
        "minutes = 15",
        "minutes = 900",
        "minutes cannot be 900. It can be 0.5 to 480",
        NO_SCRUB,
        True,
    ),
    "no time at all": ("minutes = 15", "minutes = 0", "minutes cannot be 0. It can be 0.5 to 480", NO_SCRUB, True),
    "days of nothing": (
        "days = 28",
        "days = 0",
        "days is 0, so that it would never be over. Give the days between two times, or say at",
        NO_SCRUB,
        True,
    ),
    "days beyond two years": ("days = 28", "days = 1000", "days cannot be 1000. It can be 0 to 730", NO_SCRUB, True),
    "days beside a stage": (
        "days = 0",
        "days = 9",
        '"thin" has no days of its own. Write days = 0',
        NO_PART,
        True,
    ),
    "an unknown stage": ('at = "thin"', 'at = "thn"', 'at cannot be "thn". Did you mean "thin"?', NO_PART, True),
    "an unknown group": (
        'kit = ["brush"], groups = ["leafy"]',
        'kit = ["brush"], groups = ["leavy"]',
        'no crop is in the group "leavy". Did you mean "leafy"?',
        NO_SCRUB,
        True,
    ),
    "an unknown need": (
        'kit = ["brush"], groups',
        'kti = ["brush"], groups',
        'there is no "kti" here. Did you mean "kit"?',
        NO_SCRUB,
        True,
    ),
    "a job that is called nothing": (
        'says = "Scrub the trough"',
        'says = " "',
        "says is empty. Begin with a verb",
        NO_SCRUB,
        True,
    ),
    "a job with an odd name": (
        "[duty.scrub]",
        '[duty."Scrub it"]',
        '"Scrub it" is not a name for a standing job. Use small letters, digits and hyphens',
        NO_SCRUB,
        True,
    ),
    "a store the wrong way round": (
        "ml = [20, 60]",
        "ml = [60, 20]",
        "ml begins at 60 and ends at 20. The lower end comes first",
        ALL,
        False,
    ),
    "a store of nothing": (
        "ml = [20, 60]",
        "ml = [0, 60]",
        "ml cannot be 0 to 60. It can be above 0 to 50000",
        ALL,
        False,
    ),
    "a store of years": (
        "ml = [20, 60]",
        "days = [2, 5000]",
        "days cannot be 2 to 5000. It can be above 0 to 730",
        ALL,
        False,
    ),
    "a store of three": ("ml = [20, 60]", "ml = [1, 2, 3]", "ml must have 2 values, not 3", ALL, False),
    "nothing fails": (
        'fails = "the trough runs dry"',
        'fails = ""',
        "fails is empty. Say what happens first",
        ALL,
        False,
    ),
    "an unknown source of water": (
        "ml = [20, 60]",
        'ml = [20, 60]\nwater = "tnak"',
        'water cannot be "tnak". Did you mean "tank"?',
        ALL,
        False,
    ),
}


@pytest.mark.parametrize("name", MISTAKES)
def test_one_mistake_in_them(name: str, tmp_path: Path) -> None:
    """It is said with its line; what cannot be used goes as a whole, and every question stays."""
    old, new, says, duties, stored = MISTAKES[name]
    head, tail = WITH.split("[duty.scrub]")
    text = head + ("[duty.scrub]" + tail).replace(old, new, 1)
    assert text != WITH
    checklist, said, _ = read_own(tmp_path, "trough", text)
    assert said == [f"trough.toml:{line_of_last(text, new)}: {says}"]
    assert checklist is not None
    assert list(checklist.duty) == duties
    assert (checklist.store is not None) is stored
    assert len(checklist.question) == 4


def line_of_last(text: str, new: str) -> int:
    """Return the line of the changed piece: its last line where it has several, its only one below the first job."""
    start = text.split("\n").index("[duty.warmth]") - 10
    piece = new.rsplit("\n", maxsplit=1)[-1]
    return next(number for number, line in enumerate(text.split("\n"), 1) if number > start and piece in line)


def test_a_store_that_says_nothing(tmp_path: Path) -> None:
    """What lasts neither by its water nor by its days must hang on a tank."""
    text = WITH.replace("ml = [20, 60]\n", "")
    checklist, said, _ = read_own(tmp_path, "trough", text)
    line = line_of(text, "[store]")
    assert said == [f'trough.toml:{line}: it is not said for how long this lasts. Write ml or days, or water = "tank"']
    assert checklist is not None
    assert checklist.store is None
    _, said, _ = read_own(tmp_path, "trough", text.replace("[store]", '[store]\nwater = "tank"'))
    assert said == []


def test_a_job_settled_by_a_question_that_does_not_fit(tmp_path: Path) -> None:
    """The question's own mistake is said once; the job stays."""
    text = WITH.replace("slow = true", "slwo = true")
    checklist, said, _ = read_own(tmp_path, "trough", text)
    assert len(said) == 1
    assert checklist is not None
    assert list(checklist.duty) == ALL


OWN = """\
kind = "raft"
extends = true

[duty.change]
says = "Renew the solution our way"
days = 10
minutes = 12
who = "adult"
settled_by = "change-due"
source = "last year's notes"

[duty.feed-fish]
says = "Feed the fish"
days = 1
minutes = 1
source = "assumed"
"""


def test_an_extending_file_lays_its_jobs_over_the_shipped_ones(tmp_path: Path) -> None:
    """The same name replaces, a new one is added, the others and the store stay; questions of the shipped one count."""
    checklist, said, _ = read_own(tmp_path, "raft", OWN)
    raft = SHIPPED["raft"]
    assert said == []
    assert checklist is not None
    assert checklist.duty["change"].minutes == 12
    assert checklist.duty == {**raft.duty, "change": checklist.duty["change"], "feed-fish": checklist.duty["feed-fish"]}
    assert checklist.store == raft.store
    assert checklist.question == raft.question


def test_a_broken_job_in_an_extending_file_leaves_the_shipped_one(tmp_path: Path) -> None:
    """Its mistake is named in the room's file."""
    text = (
        OWN.replace('settled_by = "change-due"', 'settled_by = "change-deu"')
        + '\n[store]\nml = [9, 1]\nfails = "x"\nsource = "y"\n'
    )
    checklist, said, _ = read_own(tmp_path, "raft", text)
    assert [one.split(": ", 1)[0] for one in said] == [
        f"raft.toml:{line_of(text, 'change-deu')}",
        f"raft.toml:{line_of(text, 'ml = [9, 1]')}",
    ]
    assert checklist is not None
    assert checklist.duty["change"] == SHIPPED["raft"].duty["change"]
    assert "feed-fish" in checklist.duty
    assert checklist.store == SHIPPED["raft"].store


# the shipped ones


@pytest.mark.parametrize(("kind", "name", "duty"), DUTIES, ids=NAMES)
def test_a_shipped_job(kind: str, name: str, duty: Duty) -> None:
    """It begins with a verb in plain words, says why, how its figures are known, and what can hurt an adult at it."""
    assert duty.says[0].isupper()
    assert duty.says[-1] not in ".!"
    assert len(duty.says) <= 70
    assert duty.why.endswith(".")
    assert len(duty.why) <= 110
    assert "assumed" in duty.source or "memory" in duty.source
    assert 1 <= duty.minutes <= 60
    if duty.settled_by:
        question = SHIPPED[kind].find(duty.settled_by)
        assert question is not None
        if name != "change":
            assert question.should <= duty.days <= question.must or duty.at, "the round asks about as often"
        assert duty.who == question.who or name in ("change", "trellis")
    if duty.who != "pupil" and not duty.settled_by:
        assert duty.caution or name in ("drippers",)


ADULTS_WORK = re.compile(
    r"\b(acid|bleach|alcohol|disinfect|spray|unplug|socket|wiring|climb|ladder|intake|pump|lamps?|concentrate|blade)",
    re.IGNORECASE,
)


@pytest.mark.parametrize(("kind", "name", "duty"), DUTIES, ids=NAMES)
def test_a_pupil_never_gets_an_adults_job(kind: str, name: str, duty: Duty) -> None:
    """No job for a pupil is about acid, disinfectant, pumps, lamps, blades or heights; those for adults say who."""
    if duty.who == "pupil":
        assert ADULTS_WORK.search(duty.says) is None
    elif duty.caution:
        assert re.search(r"adult|licensed|employer|local rules|school's rules", duty.caution)


@pytest.mark.parametrize("kind", STATIONS)
def test_every_kind_says_what_it_holds(kind: str) -> None:
    """What fails first, what makes it last, and how that is known; the safest help needs no one's absence."""
    store = SHIPPED[kind].store
    assert store is not None
    assert store.fails[0].islower()
    assert len(store.saves) >= 2
    assert all(one[0].isupper() and one[-1] not in ".!" for one in store.saves)
    assert re.search(r"assumed|common practice", store.source)


def test_the_room_itself_holds_nothing() -> None:
    """Only stations have roots."""
    assert SHIPPED["room"].store is None


def test_root_zones_hold_water_in_the_order_of_their_size() -> None:
    """Bare roots hold least, 10 to 40 mL, a vine's bucket most, 0.7 to 2 L (reckoned, assumed)."""
    held = [ml(SHIPPED[kind]) for kind in ("film", "drum", "drip", "ebb", "vine")]
    assert held == sorted(held)
    assert [*held[0], *held[-1]] == [10, 40, 700, 2000]
    # 15 to 25 mL of mix give up 40 to 50 % of that; 1.5 L of mix a fifth to a quarter
    assert list(ml(SHIPPED["shelf"])) == pytest.approx([15 * 0.4, 25 * 0.48])
    assert list(ml(SHIPPED["pots"])) == pytest.approx([1500 * 0.2, 1500 * 0.25])


def test_only_what_stores_or_circles_its_water_lasts_for_weeks() -> None:
    """A case and cacti do, mats and cuttings do not last a long weekend."""
    days = {kind: one.store.days for kind, one in STATIONS.items() if one.store and one.store.days}
    assert set(days) == {"case", "cacti", "greens", "cuttings"}
    assert all(days[kind][0] >= 14 for kind in ("case", "cacti"))
    assert all(days[kind][1] <= 3 for kind in ("greens", "cuttings"))


def ml(checklist: Checklist) -> tuple[float, float]:
    assert checklist.store is not None
    assert checklist.store.ml is not None
    return checklist.store.ml


def test_a_solution_is_changed_wherever_there_is_a_tank() -> None:
    """Every kind that asks for the days since the last change has the job of it, for an adult."""
    for checklist in STATIONS.values():
        asks = checklist.find("change-due") is not None
        assert ("change" in checklist.duty) is asks
        if asks:
            change = checklist.duty["change"]
            assert (change.who, change.needs.tank, change.settled_by) == ("adult", True, "change-due")


def test_old_lamps_are_hazardous_waste() -> None:
    """Tubes and discharge lamps hold mercury: local rules say where they go (US EPA), and only adults touch them."""
    lamp = SHIPPED["room"].duty["lamp"]
    assert lamp.who == "adult"
    assert "mercury" in lamp.caution
    assert "local rules" in lamp.caution
    assert "cold" in lamp.caution


TANK_SIDE = re.compile(r"\b(intake|standpipe|air stones?)\b", re.IGNORECASE)


def test_whoever_cleans_an_intake_is_an_adult_in_the_round_too() -> None:
    """A job that an answer makes is for the same people as the standing job about the same parts."""
    seen = 0
    for checklist in STATIONS.values():
        for question in checklist.question:
            ends = (question.reading.low, question.reading.high) if question.reading else ()
            for meaning in (*question.choices, *(one for one in ends if one is not None)):
                for one in (meaning, *getattr(meaning, "cases", ())):
                    if TANK_SIDE.search(one.job):
                        seen += 1
                        assert one.who == "adult", f"{checklist.kind}/{question.id}: {one.job}"
                        assert one.caution
    assert seen >= 5


def test_what_somebody_counts_anyway_is_no_standing_job() -> None:
    """Heads are counted in the round, seed on the shelf of supplies; trifles come seldom."""
    assert "measure" not in SHIPPED["drum"].duty
    assert "supplies" not in SHIPPED["shelf"].duty
    assert SHIPPED["case"].duty["glass"].days >= 84
    assert 28 <= SHIPPED["room"].duty["photo"].days <= 31
