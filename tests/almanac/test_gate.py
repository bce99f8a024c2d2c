"""Before anybody eats: what forbids it, what only warns, and what an adult answers first."""

from datetime import UTC, date, datetime, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac.gate import Gate, gate, refused, waits
from walkabout.almanac.gate_checks import ALWAYS
from walkabout.almanac.model import Basis
from walkabout.growing.crops import load
from walkabout.records.model import Finding, Move, Planting, Treatment, Verdict
from walkabout.room.model import Room, Station

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
TODAY = NOW.date()
SHELF = (Move(day=date(2026, 10, 1), station="shelf"),)
ROOM = Room(
    stations=(Station(key="shelf", name="Sprout rack", kind="shelf"), Station(key="tub", name="Raft tub", kind="raft"))
)


def lettuce(key: str = "p1", **more: object) -> Planting:
    given = {"crop": "lettuce", "sown": date(2026, 10, 1), "count": 12, "moves": SHELF}
    return Planting(key=key, **(given | more))  # type: ignore[arg-type]


def soap(wait_days: int | None = 7, day: date = TODAY - timedelta(days=3), **more: object) -> Treatment:
    at = datetime.combine(day, NOW.time(), UTC)
    given = {"station": "shelf", "what": "soap", "by": "AR", "at": at}
    return Treatment(key="t1", day=day, wait_days=wait_days, **(given | more))  # type: ignore[arg-type]


def finding(verdict: Verdict = "today", **more: object) -> Finding:
    given = {"station": "shelf", "seen": "grey fur", "by": "K7", "at": NOW}
    return Finding(key="f1", verdict=verdict, **(given | more))  # type: ignore[arg-type]


def asked(
    *plantings: Planting, day: date = TODAY, eating: bool = True, eats: dict[str, str] | None = None, **more: object
) -> Gate:
    these = plantings or (lettuce(),)
    given = {"room": ROOM, "crops": load(), "checklists": {}, "today": TODAY, "plantings": these}
    return gate(these[:1], Basis(**(given | more)), day, eating, eats=eats)  # type: ignore[arg-type]


def kinds(found: Gate) -> list[str]:
    return [one.kind for one in found.blocks]


def test_nothing_on_record_leaves_the_gate_to_an_adults_answers() -> None:
    """It is open, and closed all the same until every check is answered with yes by an adult."""
    found = asked()
    ids = [one.id for one in found.checks]
    assert found.open
    assert ids == ["permission", "allergies", "well", "hands", "water", "cold", "seed"]
    assert all(one.who == "adult" and one.source and one.ask.endswith("?") for one in found.checks)
    assert refused(found, ids, "adult") == ""
    assert refused(found, ids, "pupil") == "An adult answers before anybody eats: fetch one."
    for left in ids:
        assert "Not answered with yes" in refused(found, set(ids) - {left}, "adult")


@pytest.mark.parametrize(("ago", "wait", "open_"), [(3, 7, False), (6, 7, False), (7, 7, True), (0, 0, True)])
def test_a_waiting_time_runs_in_whole_days_from_the_treatment(ago: int, wait: int, open_: bool) -> None:
    """Seven days from the first of a month allow eating on the eighth; nought days allow it at once."""
    found = asked(treatments=(soap(wait, TODAY - timedelta(days=ago)),))
    assert found.open is open_
    if not open_:
        assert (kinds(found), found.blocks[0].until) == (["waiting"], TODAY + timedelta(days=wait - ago))
        assert "nobody can make it shorter" in found.blocks[0].ends
        ids = [one.id for one in found.checks]
        assert refused(found, ids, "licensed") == found.blocks[0].says


def test_a_waiting_time_that_nobody_knows_blocks_for_good() -> None:
    """A year later nothing may be eaten still; then an adult fills it in."""
    found = asked(treatments=(soap(None),), day=TODAY + timedelta(days=365))
    assert kinds(found) == ["waiting not known"]
    assert "label" in found.blocks[0].ends


@pytest.mark.parametrize(
    ("moves", "hit"),
    [
        (SHELF, True),
        ((*SHELF, Move(day=TODAY, station="tub")), True),
        ((*SHELF, Move(day=TODAY - timedelta(days=3), station="tub")), True),
        ((*SHELF, Move(day=TODAY - timedelta(days=4), station="tub")), False),
        ((Move(day=TODAY - timedelta(days=2), station="shelf"),), False),
        ((Move(day=TODAY - timedelta(days=9), station="tub"), Move(day=TODAY, station="shelf")), False),
    ],
)
def test_a_treatment_stays_with_the_plants_that_got_it(moves: tuple[Move, ...], hit: bool) -> None:
    """It counts for what stood there on that day, wherever it stands now, and not for what came later."""
    assert bool(kinds(asked(lettuce(moves=moves), treatments=(soap(),)))) is hit


def test_a_treatment_of_one_planting_counts_for_its_parts_and_no_others() -> None:
    """A part that was split off later was treated too; its neighbour was not; a lost key counts for all there."""
    part = lettuce("p3", parted_from="p1", moves=(*SHELF, Move(day=TODAY, station="tub")))
    beside, whole = lettuce("p2"), lettuce("p1")
    only = (soap(planting="p1"),)
    assert kinds(asked(part, whole, beside, treatments=only)) == ["waiting"]
    assert kinds(asked(beside, whole, treatments=only)) == []
    assert kinds(asked(beside, whole, treatments=(soap(planting="gone"),))) == ["waiting"]
    early = lettuce("p4", parted_from="p1", moves=(*SHELF, Move(day=date(2026, 11, 2), station="tub")))
    assert kinds(asked(early, whole, treatments=only)) == []


def test_a_treatment_of_the_whole_room_reaches_every_station() -> None:
    """It is written down for the room, and the latest stands first."""
    later = msgspec.structs.replace(soap(1, TODAY, station="room"), key="t2")
    one = lettuce()
    basis = Basis(room=ROOM, crops=load(), checklists={}, today=TODAY, plantings=(one,), treatments=(soap(), later))
    assert [each.key for each in waits(one, basis)] == ["t2", "t1"]


@pytest.mark.parametrize("eating", [True, False])
def test_nobody_touches_plants_before_the_labels_hours_are_over(eating: bool) -> None:
    """It holds for composting too; by the clock it ends at its moment, by the day it counts the whole day."""
    got = (soap(0, TODAY, entry_hours=4.0),)
    assert kinds(asked(eating=eating, treatments=got)) == ["touching"]
    assert asked(eating=eating, treatments=got, day=TODAY + timedelta(days=1)).open
    basis = Basis(room=ROOM, crops=load(), checklists={}, today=TODAY, plantings=(lettuce(),), treatments=got)
    for hours, open_ in ((3.9, False), (4, True)):
        moment = NOW + timedelta(hours=hours)
        assert gate([lettuce()], basis, TODAY, eating, now=moment).open is open_


def test_hours_written_down_a_day_late_count_from_the_end_of_their_day() -> None:
    """Nobody knows at what hour it was done, so the latest counts."""
    late = soap(0, TODAY - timedelta(days=1), entry_hours=12.0, at=NOW)
    assert kinds(asked(treatments=(late,))) == ["touching"]
    assert "11:59 on Wed 25 Nov" in asked(treatments=(late,)).blocks[0].says


@pytest.mark.parametrize(("verdict", "open_"), [("watch", True), ("today", False), ("now", False), ("stop", False)])
def test_an_open_finding_that_is_not_decided_blocks(verdict: Verdict, open_: bool) -> None:
    """A watch only warns; closed ones are gone."""
    found = asked(findings=(finding(verdict),))
    assert found.open is open_
    assert bool(found.warns) is open_
    if not open_:
        assert "It is not decided yet" in found.blocks[0].says
    assert asked(findings=(finding(verdict, closed=NOW),)).warns == ()


@pytest.mark.parametrize(
    ("eat", "verdict", "open_", "warns"),
    [("no", "watch", False, ""), ("clean parts", "today", True, "without marks"), ("yes", "now", True, "look again")],
)
def test_a_confirmed_cause_decides_whether_people_may_eat(eat: str, verdict: Verdict, open_: bool, warns: str) -> None:
    """'no' blocks whatever the verdict; 'clean parts' says which parts; 'yes' warns as long as it is open."""
    found = asked(findings=(finding(verdict, cause="fur"),), eats={"fur": eat})
    assert found.open is open_
    assert warns in " ".join(found.warns)
    if not open_:
        assert "Nothing is eaten from plants with this cause" in found.blocks[0].says


def test_a_cause_that_the_knowledge_lacks_leaves_the_verdict_to_count() -> None:
    """What is not known is not taken for harmless."""
    assert not asked(findings=(finding("today", cause="gone"),), eats={}).open
    assert asked(findings=(finding("watch", cause="gone"),), eats={}).open


def test_the_shipped_knowledge_is_asked_where_nobody_says() -> None:
    """Grey mould forbids eating, aphids leave what is clean, as the knowledge has it."""
    from walkabout.diagnosis.knowledge import read_knowledge

    known = read_knowledge().causes
    for eat, open_ in (("no", False), ("clean parts", True)):
        cause = next(one.key for one in known.values() if one.eat == eat)
        assert asked(findings=(finding("today", cause=cause),)).open is open_


def test_a_finding_blocks_the_plants_it_is_about() -> None:
    """About the planting itself wherever it stands; about another one beside it, it warns; elsewhere it is silent."""
    moved = lettuce(moves=(*SHELF, Move(day=TODAY, station="tub")))
    beside = lettuce("p2")
    assert not asked(moved, findings=(finding(planting="p1"),)).open
    warned = asked(lettuce(), beside, findings=(finding(planting="p2"),))
    assert (warned.open, len(warned.warns)) == (True, 1)
    silent = asked(findings=(finding(station="tub"),))
    assert (silent.open, silent.warns) == (True, ())


def test_a_danger_to_people_blocks_everything_in_the_room() -> None:
    """'stop' for the room as a whole forbids picking at all; less than that is not about the plants."""
    for eating in (True, False):
        assert kinds(asked(eating=eating, findings=(finding("stop", station="room"),))) == ["finding"]
    assert asked(findings=(finding("now", station="room"),)).open


def test_plants_that_stand_apart_are_not_eaten() -> None:
    """Until their day, and then only with a word on where they were raised."""
    here = lettuce(brought_in=True, apart_until=TODAY + timedelta(days=1))
    assert kinds(asked(here)) == ["apart"]
    over = asked(here, day=TODAY + timedelta(days=1))
    assert over.open
    assert "raised" in [one.id for one in over.checks]


def test_what_is_no_food_never_opens() -> None:
    """A window plant is not eaten; composting it asks nothing."""
    flower = lettuce(crop="geranium")
    assert kinds(asked(flower)) == ["not food"]
    assert asked(flower, eating=False) == Gate(open=True)


def test_each_crop_asks_its_own() -> None:
    """Microgreens ask for the cut, tomatoes for the part, an unknown crop whether it is food at all."""
    greens, fruit = asked(lettuce(crop="radish-microgreens")), asked(lettuce(crop="tomato"))
    assert "mat" in [one.id for one in greens.checks]
    (part,) = [one for one in fruit.checks if one.id == "part-tomato"]
    assert part.ask == "Of tomato, is only this eaten: ripe fruit?"
    assert "green fruit" in part.why
    assert asked(lettuce(crop="[/b] plant")).checks[-1].ask.startswith("Is [/b] plant surely food")


def test_several_plantings_are_asked_together() -> None:
    """Each question comes once, and what forbids one forbids all."""
    one, other = lettuce(), lettuce("p2", crop="geranium")
    basis = Basis(room=ROOM, crops=load(), checklists={}, today=TODAY, plantings=(one, other))
    found = gate([one, other, one], basis, TODAY)
    assert len({each.id for each in found.checks}) == len(found.checks)
    assert kinds(found) == ["not food"]
    assert not gate([], basis, TODAY).open


@settings(max_examples=60, deadline=None)
@given(
    waits_=st.lists(st.tuples(st.integers(0, 20), st.none() | st.integers(0, 30)), max_size=4), ahead=st.integers(0, 40)
)
def test_the_gate_opens_only_when_every_waiting_time_is_over(waits_: list[tuple[int, int | None]], ahead: int) -> None:
    """Whatever was put on, and in whatever order: not before the last of them, and not while one is not known."""
    got = tuple(
        msgspec.structs.replace(soap(wait, TODAY - timedelta(days=ago)), key=f"t{place}")
        for place, (ago, wait) in enumerate(waits_)
    )
    day = TODAY + timedelta(days=ahead)
    over = all(wait is not None and day >= TODAY + timedelta(days=wait - ago) for ago, wait in waits_)
    found = asked(treatments=got, day=day)
    assert found.open is over
    assert (refused(found, {one.id for one in ALWAYS} | {"seed"}, "adult") == "") is over
