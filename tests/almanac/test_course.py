"""The course of a planting through its stations."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.almanac.course import course, courses, ready_by
from walkabout.almanac.model import Basis, Conditions, Course, Span, StageName
from walkabout.almanac.pace import Learned, wait
from walkabout.almanac.reached import stages_of
from walkabout.almanac.way import Paces, toward
from walkabout.growing.crops import Crop, load
from walkabout.growing.picking import lasts
from walkabout.growing.stages import usual
from walkabout.records.model import Loss, Move, Picking, Planting, Reached
from walkabout.room.model import Room, Station

TODAY = date(2026, 11, 25)
CROPS = load()
PLACES = {
    "shelf": Conditions(air=21, light=14),
    "raft": Conditions(air=18, light=16),
    "cool": Conditions(air=13, light=16),
    "dim": Conditions(air=18, light=6),
    "sill": Conditions(),
}


def crop(key: str) -> Crop:
    found = CROPS.find(key)
    assert found is not None
    return found


def basis(*plantings: Planting, today: date = TODAY, conditions: dict[str, Conditions] | None = None) -> Basis:
    return Basis(
        room=Room(stations=tuple(Station(key=key, name=key.title(), kind="raft") for key in PLACES)),
        crops=CROPS,
        checklists={},
        today=today,
        plantings=plantings,
        conditions=PLACES if conditions is None else conditions,
    )


def planting(key: str, ago: int, *stays: tuple[int, str], **more: object) -> Planting:
    """A planting sown so many days ago; each stay is (days after sowing, station)."""
    sown = TODAY - timedelta(days=ago)
    path = tuple(Move(day=sown + timedelta(days=days), station=station) for days, station in stays or ((0, "raft"),))
    return Planting(key=f"p-{key}", crop=key, sown=sown, count=12, moves=path, **more)  # type: ignore[arg-type]


def of(one: Planting, **learned: Learned) -> Course:
    return course(one, basis(one), learned)


def span_of(found: Course, name: StageName) -> Span:
    stage = found.stage(name)
    assert stage is not None
    return stage.span


def test_the_tables_days_at_usual_conditions() -> None:
    """Sown today where air and light are the crop's own, its stages come on the table's days, in their order."""
    one = planting("lettuce", 0)
    offers = {"raft": Conditions(air=usual(crop("lettuce")), light=15)}
    found = course(one, basis(one, conditions=offers), {})
    assert [stage.stage for stage in found.stages] == ["emergence", "move_on", "harvest"]
    spans = [span_of(found, "move_on"), span_of(found, "harvest")]
    assert [(span.early, span.late) for span in spans] == [
        (TODAY + timedelta(days=low), TODAY + timedelta(days=high)) for low, high in ((14, 21), (41, 60))
    ]
    assert found.until == spans[1].likely + timedelta(days=10)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from([one.key for one in CROPS if one.harvest]),
    st.integers(0, 90),
    st.lists(st.integers(0, 90), max_size=4),
    st.sampled_from([Conditions(), Conditions(air=16), Conditions(air=20, light=7), Conditions(light=5)]),
)
def test_moving_between_equal_stations_changes_nothing(
    key: str, ago: int, moves: list[int], offers: Conditions
) -> None:
    """Where every station offers the same, a planting that moved is ready when one that stood still is."""
    names = [*("abcde"[: len(moves) + 1])]
    conditions = dict.fromkeys(names, offers)
    days = sorted(day for day in moves if day <= ago)
    path = ((0, "a"), *zip(days, names[1:], strict=False))
    moved, still = planting(key, ago, *path), planting(key, ago, (0, "a"))
    found, stood = (course(one, basis(one, conditions=conditions), {}) for one in (moved, still))
    for name in ("flowering", "harvest", "seed"):
        one, other = found.stage(name), stood.stage(name)  # type: ignore[arg-type]
        assert (one and one.span) == (other and other.span)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from([one.key for one in CROPS if one.harvest]),
    st.lists(st.tuples(st.integers(0, 60), st.sampled_from([*PLACES])), min_size=1, max_size=4),
    st.floats(0.02, 0.98),
    st.floats(0.02, 0.98),
    st.integers(0, 100),
)
def test_a_way_through_several_stations(
    key: str, path: list[tuple[int, str]], one: float, other: float, passed: int
) -> None:
    """Quantiles rise, lead back to their chance, and lie after what has passed; chances rise with the days."""
    days = [0, *sorted(day for day, _ in path)[1:]]
    stays = tuple((day, station) for day, (_, station) in zip(days, path, strict=True))
    way = toward(planting(key, 60, *stays), crop(key), "harvest", Paces(PLACES, {}))
    assert way is not None
    low, high = sorted((one, other))
    assert way.within(low) <= way.within(high)
    assert way.by(way.within(one)) == pytest.approx(one)
    assert way.days(way.usual(33.0)) == pytest.approx(33.0)
    assert way.within(one, passed) >= passed
    chances = [way.by(passed + ahead, passed) for ahead in range(0, 100, 9)]
    assert chances == sorted(chances)


def test_each_day_counts_at_its_own_pace() -> None:
    """Forty days at a pace and the rest at another: the sum of days over factors is what the crop needs."""
    one = crop("lettuce")
    warm, cold = (wait(one, PLACES[key], "harvest") for key in ("raft", "cool"))
    assert warm is not None
    assert cold is not None
    way = toward(planting("lettuce", 0, (0, "cool"), (40, "raft")), one, "harvest", Paces(PLACES, {}))
    assert way is not None
    assert 40 / cold.median + (way.within(0.5) - 40) / warm.median == pytest.approx(1)
    assert min(warm.median, cold.median) < way.within(0.5) < max(warm.median, cold.median)


def test_what_is_to_come_is_reckoned_where_it_stands() -> None:
    """The same lettuce moved into a dim place is later than one moved into a bright one."""
    bright, dim = (of(planting("lettuce", 20, (0, "shelf"), (15, key))) for key in ("raft", "dim"))
    assert span_of(dim, "harvest").likely > span_of(bright, "harvest").likely


def test_nothing_lies_in_the_past() -> None:
    """For every crop, age and station no expected day is before today, and each span is in order."""
    rows = [planting(one.key, ago, (0, place)) for one in CROPS for ago in (0, 3, 20, 60, 500) for place in PLACES]
    for row in rows:
        found = of(row)
        for stage in found.stages:
            assert TODAY <= stage.span.early <= stage.span.likely <= stage.span.late, (row, stage)
        assert found.until is None or found.until >= TODAY


def test_overdue_is_due_today() -> None:
    """A harvest that is long due and not written down stands at today; an early stage as long due has been."""
    found = of(planting("lettuce", 120))
    assert [stage.stage for stage in found.stages] == ["harvest"]
    assert span_of(found, "harvest").early == TODAY


def test_what_is_on_record_is_said_with_its_day() -> None:
    """Coming up, moving and picking have their days; what comes before a recorded stage is not waited for."""
    ago = planting(
        "lettuce", 50, (0, "shelf"), (17, "raft"),
        reached=(Reached(day=TODAY - timedelta(days=46), stage="germinated"),),
        pickings=(Picking(day=TODAY - timedelta(days=4), count=2), Picking(day=TODAY - timedelta(days=2), count=2)),
    )  # fmt: skip
    found = of(ago)
    days = {stage.stage: stage.reached for stage in found.stages}
    assert days == {
        "emergence": TODAY - timedelta(days=46),
        "move_on": TODAY - timedelta(days=33),
        "harvest": TODAY - timedelta(days=4),
    }
    assert found.until == TODAY - timedelta(days=4) + timedelta(days=10)
    moved = of(planting("lettuce", 18, (0, "shelf"), (17, "raft")))
    assert [stage.stage for stage in moved.stages] == ["move_on", "harvest"]


def test_a_stage_that_was_seen_moves_the_later_ones() -> None:
    """Seedlings five days late make a later harvest; seen on the expected day they change nothing but the spread."""
    rows = {}
    for late in (0, 5):
        up = Reached(day=TODAY - timedelta(days=16 - late), stage="germinated")
        rows[late] = toward(planting("lettuce", 18, reached=(up,)), crop("lettuce"), "harvest", Paces(PLACES, {}))
    plain = toward(planting("lettuce", 18), crop("lettuce"), "harvest", Paces(PLACES, {}))
    first, second = rows[0], rows[5]
    assert plain is not None
    assert first is not None
    assert second is not None
    assert second.within(0.5) == pytest.approx(first.within(0.5) + 5)
    assert first.within(0.5) == pytest.approx(plain.within(0.5), abs=2)
    assert first.within(0.9) - first.within(0.1) < plain.within(0.9) - plain.within(0.1)


def test_flowers_seen_move_the_seed() -> None:
    """Rapid-cycling Brassica that flowers four days late has ripe seed about four days later."""
    up = {late: Reached(day=TODAY - timedelta(days=6 - late), stage="flowering") for late in (0, 4)}
    offers = {"raft": Conditions(air=usual(crop("rapid-brassica")), light=20)}
    days = {}
    for late, seen in up.items():
        one = planting("rapid-brassica", 20, reached=(seen,))
        days[late] = span_of(course(one, basis(one, conditions=offers), {}), "seed").likely
    assert days[4] - days[0] == timedelta(days=4)


def test_flowers_flower_and_are_not_harvested() -> None:
    """A marigold has a day of flowering and no harvest; a nasturtium, whose flowers are eaten, has both."""
    assert [stage.stage for stage in of(planting("marigold", 0)).stages] == ["emergence", "move_on", "flowering"]
    assert "harvest" in stages_of(crop("nasturtium"))
    assert "flowering" in stages_of(crop("nasturtium"))
    assert of(planting("marigold", 0)).until is None


def test_what_came_from_outside() -> None:
    """Plants brought in neither come up nor are moved on here, and the days before they came are unsure."""
    outside = planting("lettuce", 30, (25, "raft"), brought_in=True)
    found, here = of(outside), of(planting("lettuce", 30, (0, "raft")))
    assert [stage.stage for stage in found.stages] == ["harvest"]
    wide, narrow = span_of(found, "harvest"), span_of(here, "harvest")
    assert wide.late - wide.early > narrow.late - narrow.early
    assert any(line.startswith("before it came here") for line in found.working)


def test_an_ended_planting_expects_nothing() -> None:
    """What has ended shows what it reached, and keeps its place until then."""
    ended = TODAY - timedelta(days=3)
    found = of(planting("lettuce", 60, ended=ended, reason="harvested: 12 heads"))
    assert [(stage.stage, stage.reached) for stage in found.stages] == [("harvest", ended)]
    assert found.until == ended
    assert of(planting("lettuce", 60, ended=ended, reason="died")).stages == ()


def test_a_crop_that_nobody_knows() -> None:
    """A crop in no table has a course without stages, under the name it was given."""
    found = of(planting("moon grass", 10))
    assert (found.name, found.stages, found.until) == ("moon grass", (), None)


def test_a_fern_stays() -> None:
    """Foliage has no end."""
    assert of(planting("boston-fern", 10)).until is None


def test_thinning_is_the_moving_on_of_radishes() -> None:
    """Radishes are thinned where they stand; a lettuce that was thinned on its shelf is still to be moved."""
    thinned = (Reached(day=TODAY, stage="thinned"),)
    radish, lettuce = (of(planting(key, 8, reached=thinned)).stage("move_on") for key in ("radish", "lettuce"))
    assert radish is not None
    assert radish.reached == TODAY
    assert lettuce is not None
    assert lettuce.reached is None


def test_ready_by() -> None:
    """The chance of readiness rises with the days, is certain once picked, and nothing for what is not eaten."""
    one = planting("lettuce", 30)
    chances = [ready_by(one, TODAY + timedelta(days=ahead), basis(one), {}) for ahead in range(0, 60, 5)]
    assert chances == sorted(chances)
    assert chances[0] < 0.1
    assert chances[-1] > 0.95
    picked = planting("lettuce", 30, pickings=(Picking(day=TODAY, count=1),))
    assert ready_by(picked, TODAY, basis(), {}) == 1
    assert ready_by(picked, TODAY - timedelta(days=1), basis(), {}) == 0
    for nothing in (planting("boston-fern", 300), planting("moon grass", 300)):
        assert ready_by(nothing, TODAY, basis(), {}) == 0


def test_a_slow_room_is_later() -> None:
    """Where lettuce took a fifth longer so far, the next is expected that much later."""
    fast, slow = of(planting("lettuce", 0)), of(planting("lettuce", 0), lettuce=Learned(factor=1.2, seen=4))
    waits = [(span_of(one, "harvest").likely - TODAY).days for one in (fast, slow)]
    assert waits[1] == pytest.approx(waits[0] * 1.2, abs=1)


def test_all_courses_at_once_learn_by_themselves() -> None:
    """`courses` gives every planting its course, with what the room has learned from those that were picked."""
    old = planting(
        "lettuce", 90, pickings=(Picking(day=TODAY - timedelta(days=2), count=2),), losses=(Loss(day=TODAY, count=1),)
    )
    young = planting("lettuce", 0, label="next")
    young = Planting(key="p-young", crop="lettuce", sown=young.sown, count=12, moves=young.moves)
    found = courses(basis(old, young))
    assert set(found) == {"p-lettuce", "p-young"}
    assert span_of(found["p-young"], "harvest").likely > span_of(of(young), "harvest").likely


def test_two_hundred_plantings_each_have_their_course() -> None:
    """Of 200 plantings of every crop at ten stations none is left out; tests/benchmarks/almanac.py times them."""
    keys = [one.key for one in CROPS]
    conditions = {f"s{number}": Conditions(air=16 + number / 2, light=9.0 + number) for number in range(10)}
    rows = []
    for number in range(200):
        ago = number * 7 % 120
        stays = ((0, f"s{number % 10}"), (15, f"s{(number + 3) % 10}"))[: 1 + (ago > 15)]
        one = planting(keys[number % len(keys)], ago, *stays)
        rows.append(Planting(key=f"p-{number}", crop=one.crop, sown=one.sown, count=12, moves=one.moves))
    assert len(courses(basis(*rows, conditions=conditions))) == 200


def test_until_follows_the_picking_table() -> None:
    """The end of a planting is its likely harvest and the days it can be picked, for every crop that is eaten."""
    for one in CROPS:
        found, long = of(planting(one.key, 0)), lasts(one)
        if one.eaten and one.harvest and long:
            assert found.until == span_of(found, "harvest").likely + timedelta(days=long.days)
