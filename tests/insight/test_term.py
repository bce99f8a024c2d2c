"""The term in numbers: sums that add up, nothing invented, and a line where something is not known."""

from datetime import UTC, date, datetime, timedelta

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from walkabout.growing.crops import load
from walkabout.insight.term import span_of, term
from walkabout.insight.term_energy import changes
from walkabout.insight.term_harvest import noted_grams, picked
from walkabout.insight.term_kept import Kept, Poured, Renewed, Strength
from walkabout.insight.term_model import Term
from walkabout.insight.term_time import without_codes
from walkabout.insight.term_units import rounded, short_day
from walkabout.insight.term_words import headline, sections
from walkabout.records.model import Finding, Happening, Job, Loss, Move, Picking, Planting, Round
from walkabout.records.model_supplies import Counted, Supply
from walkabout.room.model import Closure, Lamp, Person, Prices, Pump, Room, Station, Tank
from walkabout.room.model import Term as RoomTerm
from walkabout.room.solution import Feed, Water

TODAY = date(2026, 11, 25)
"""A Wednesday."""
FIRST, LAST = date(2026, 10, 5), date(2026, 11, 22)
"""Seven whole weeks, Monday to Sunday."""
CROPS = load()
ROOM = Room(
    name="Fernhollow",
    people={"AR": Person(role="adult"), "K7": Person()},
    lamps={
        "bar": Lamp(watts=100, hours=10, since=date(2026, 1, 5)),
        "tube": Lamp(kind="tube", watts=50, hours=16, since=date(2026, 11, 1)),
        "pane": Lamp(kind="window"),
        "bulb": Lamp(kind="incandescent"),
    },
    tanks={"tub": Tank(litres=60), "arch": Tank(litres=30)},
    pumps={"air": Pump(moves="air")},
    stations=(
        Station(key="raft", name="Raft tub", kind="raft", tank="tub", lamps=("bar",)),
        Station(key="vine", name="Beans", kind="vine", tank="arch"),
        Station(key="drum", name="Drum", kind="drum"),
    ),
    closures=(Closure(first=date(2026, 10, 24), last=date(2026, 11, 1), name="half-term"),),
    prices=Prices(currency="EUR", per_kwh=0.5, per_cubic_metre=4.0),
    water=Water(ec=0.4),
    feed=Feed(rise=0.2, parts=2),
)


def at(day: date, hour: int = 9) -> datetime:
    return datetime(day.year, day.month, day.day, hour, tzinfo=UTC)


def planting(key: str = "p", crop: str = "lettuce", **more: object) -> Planting:
    fields: dict[str, object] = {"sown": date(2026, 9, 1), "count": 10, "moves": (Move(day=FIRST, station="raft"),)}
    return Planting(key=key, crop=crop, **(fields | more))  # type: ignore[arg-type]


def walk(day: date, walker: str = "K7", seconds: float = 300, *, ended: bool = True) -> Round:
    end = at(day) + timedelta(seconds=seconds) if ended else None
    return Round(key=f"r-{day}-{walker}", day=day, started=at(day), walker=walker, ended=end, walked_seconds=seconds)


def finding(key: str, opened: date, closed: date | None = None, **more: object) -> Finding:
    fields: dict[str, object] = {
        "station": "raft", "seen": "AR saw brown roots", "verdict": "today", "by": "AR",
        "closed": at(closed, 15) if closed else None,
    }  # fmt: skip
    return Finding(key=key, at=at(opened), **(fields | more))  # type: ignore[arg-type]


def job(key: str, closed: date, reason: str = "done", **more: object) -> Job:
    return Job(
        key=key, what="Scrub", station="raft", who="pupil", due=closed, made=at(closed), by="AR", closed=at(closed),
        reason=reason, **more,  # type: ignore[arg-type]
    )  # fmt: skip


def kept(**more: object) -> Kept:
    return Kept(room=ROOM, crops=CROPS, today=TODAY, **more)  # type: ignore[arg-type]


def found(first: date = FIRST, last: date = LAST, **more: object) -> Term:
    return term(kept(**more), first, last, "autumn term")


# electricity


def test_lamps_by_their_timers() -> None:
    """49 days of 100 W × 10 h are 49 kWh, at the room's price; windows take nothing; a lamp without watts is named."""
    energy = found().energy
    bar, tube = energy.lamps

    assert (bar.key, bar.where, bar.kwh, bar.money) == ("bar", "Raft tub", pytest.approx(49.0), pytest.approx(24.5))
    assert tube.kwh == pytest.approx(50 * 16 * 22 / 1000)
    assert energy.kwh == pytest.approx(bar.kwh + tube.kwh)
    assert any("9 closed days" in line for line in bar.working)
    assert any("bulb" in one for one in energy.left_out)
    assert not any("pane" in one for one in energy.left_out)


def test_a_lamp_counts_from_where_it_is_known() -> None:
    """It hangs since a day, or one like it hung there when the records began; what lies before both is not counted."""
    before = found().energy
    assert "Lamp tube before 1 Nov: it is not on record that it hung there." in before.left_out
    tube = found(plantings=(planting(),)).energy.lamps[1]
    assert tube.kwh == pytest.approx(50 * 16 * 49 / 1000)
    assert any("2026-11-01" in line for line in tube.working)
    long_ago = found(date(2020, 1, 1), date(2020, 2, 1), plantings=(planting(),))
    assert (long_ago.energy.lamps, long_ago.energy.kwh, long_ago.cost.energy) == ((), 0, None)
    assert sum("not on record" in one for one in long_ago.energy.left_out if one.startswith("Lamp")) == 2


def test_closed_days_with_less_light() -> None:
    """Where somebody says that lamps were lit for half of their hours in closures, the nine closed days count half."""
    assert found(closed_light=0.5).energy.lamps[0].kwh == pytest.approx(40 + 4.5)
    assert found(closed_light=0.0).energy.lamps[0].kwh == pytest.approx(40)


def test_no_price_no_money() -> None:
    """Without prices there are kilowatt-hours and litres, and no money; it says so."""
    room = msgspec.structs.replace(ROOM, prices=Prices())
    bare = msgspec.structs.replace(kept(poured=(Poured(FIRST, "raft", 5.0),)), room=room)
    one = term(bare, FIRST, LAST)

    assert (one.energy.money, one.water.money, one.cost.total, one.cost.portion) == (None, None, None, None)
    assert one.energy.kwh > 0
    assert any("price of a kWh" in says for says in one.energy.left_out)
    assert any("cubic metre" in says for says in one.water.left_out)


# water and solution


def test_a_change_is_counted_once() -> None:
    """What answers count back roughly is the change that a job says; two jobs on two days running are one."""
    day = date(2026, 10, 12)
    told = [
        Renewed(day + timedelta(days=2), "tub"),
        Renewed(day, "tub", exact=True),
        Renewed(day + timedelta(days=1), "tub", exact=True),
        Renewed(day, "arch"),
        Renewed(day - timedelta(days=3), "arch"),
        Renewed(day + timedelta(days=9), "tub"),
    ]

    assert [(one.tank, one.day.day) for one in changes(told)] == [("arch", 9), ("tub", 12), ("tub", 21)]


def test_water_by_tank() -> None:
    """What was poured in belongs to the tank of its station; each change is the whole tank."""
    water = found(
        poured=(
            Poured(FIRST, "raft", 4.0),
            Poured(LAST, "vine", 6.0),
            Poured(LAST, "drum", 2.0),
            Poured(LAST + timedelta(days=1), "raft", 9.0),
        ),
        renewed=(Renewed(date(2026, 10, 12), "tub", exact=True), Renewed(date(2026, 11, 2), "tub", exact=True)),
    ).water

    assert {one.name: (one.topped, one.renewed) for one in water.tanks} == {
        "Raft tub": (4.0, 120.0), "Beans": (6.0, 0.0), "Drum": (2.0, 0.0),
    }  # fmt: skip
    assert water.litres == sum(one.litres for one in water.tanks) == 132.0
    assert water.money == pytest.approx(0.132 * 4.0)


def test_concentrate_only_where_it_is_known() -> None:
    """(1.6 − 0.4) ÷ 0.2 × 60 L = 360 mL; of a change without a reading nothing is said to be known."""
    changed = (Renewed(date(2026, 10, 12), "tub", exact=True), Renewed(date(2026, 11, 2), "tub", exact=True))
    read = (Strength(date(2026, 10, 13), "tub", 1.6), Strength(date(2026, 10, 16), "tub", 1.9))
    known = found(renewed=changed, strengths=read).solution
    without = msgspec.structs.replace(ROOM, feed=Feed())
    unknown = term(msgspec.structs.replace(kept(renewed=changed, strengths=read), room=without), FIRST, LAST).solution

    assert (known.ml, known.unknown, known.parts) == (pytest.approx(360.0), 1, 2)
    assert (unknown.ml, unknown.unknown) == (None, 2)
    assert known.doses[1].says.endswith("no EC was read in the week after")
    assert any("room.toml" in one for one in unknown.left_out)


def test_an_ec_that_cannot_be_trusted_is_not_called_missing() -> None:
    """A doubtful reading is not reckoned with, and nobody is told that none was taken."""
    changed = (Renewed(date(2026, 10, 12), "tub", exact=True),)
    (dose,) = found(
        renewed=changed, strengths=(Strength(date(2026, 10, 14), "tub", 1.6, trusted=False),)
    ).solution.doses
    assert dose.ml is None
    assert dose.says == "Raft tub, 12 Oct: not known, no EC of the week after can be trusted"


# harvest, losses, cost


def test_harvest_by_crop() -> None:
    """Grams and portions as written; portions that were not counted come from the weight; the rest is only shown."""
    eaten = "picked: 2 plants, 300 g; an adult answered before it is eaten: AR"
    lines = (
        Happening(at=at(FIRST), by="AR", says=eaten),
        Happening(at=at(FIRST), by="AR", says="picked, composted: x"),
    )
    weighed = planting(pickings=(Picking(day=FIRST, count=2, grams=300.0, portions=4.0), Picking(day=LAST, grams=90.0)),
                       history=lines)  # fmt: skip
    basil = planting("q", "basil", pickings=(Picking(day=LAST, grams=20.0), Picking(day=LAST, count=1)))
    old = planting("r", "lettuce", ended=FIRST, reason="harvested: 12 heads, 1,250 g", count=12)
    harvest = found(plantings=(weighed, basil, old)).harvest
    rows = {one.crop: one for one in harvest.crops}

    assert (rows["lettuce"].grams, rows["lettuce"].portions, rows["lettuce"].plants) == (300.0, 4.0, 14)
    assert (rows["lettuce"].not_eaten, rows["lettuce"].noted_grams) == (90.0, 1250.0)
    assert rows["basil"].by_weight == pytest.approx(4.0)
    assert harvest.all_portions == pytest.approx(8.0)
    assert any("neither weighed nor counted" in one for one in harvest.left_out)
    assert any("words of an ending" in one for one in harvest.left_out)


@pytest.mark.parametrize(
    ("reason", "grams"),
    [
        ("harvested: 12 heads, 620 g", 620.0),
        ("harvested: 1.4 kg", 1400.0),
        ("harvested: 1,4 kg in all", 1400.0),
        ("harvested: 1,250 g", 1250.0),
        ("harvested: 12 heads", None),
        ("harvested: 620 g and 300 g", None),
        ("harvested", None),
        ("died: 620 g of slugs", None),
        ("harvested: 5 good ones", None),
    ],
)
def test_a_weight_in_words(reason: str, grams: float | None) -> None:
    """Only one clear weight in the words of a harvest is read."""
    assert noted_grams(reason) == (pytest.approx(grams) if grams is not None else None)


def test_pickings_without_their_lines_count_as_eaten() -> None:
    """Where the history does not say what became of a picking, it was picked to be eaten."""
    one = planting(pickings=(Picking(day=FIRST, grams=5.0),))

    assert [eaten for _, eaten in picked(one)] == [True]


def test_losses_by_why_add_up() -> None:
    """Each plant lost stands under one why; thinning and composting are no losses; codes in a why are not shown."""
    one = planting(losses=(Loss(day=FIRST, count=3, why="Rotted"), Loss(day=FIRST, count=5, why="thinned"),
                           Loss(day=LAST, count=2, why="rotted "), Loss(day=LAST, count=1, why="AR dropped it")),
                   ended=LAST, reason="died: pump stood still", count=4)  # fmt: skip
    other = planting("q", ended=LAST, reason="composted: old", count=6)
    sick = finding("f", FIRST, cause="root-rot")
    losses = found(plantings=(one, other), findings=(sick,), causes={"root-rot": "root rot"}).losses
    rows = {each.why: each.plants for each in losses.whys}

    assert rows == {"rotted": 5, "pump stood still": 4, "somebody dropped it": 1}
    assert losses.plants == sum(rows.values())
    assert losses.composted == 6
    assert [(each.why, each.plants) for each in losses.causes] == [("root rot", 1)]


def test_what_a_portion_cost() -> None:
    """Electricity, water and priced supplies, divided by all portions; what has no price is named."""
    counts = (Counted(day=FIRST - timedelta(days=1), amount=100.0), Counted(day=LAST, amount=40.0))
    fields = {"unit": "mL", "amount": 40.0, "counted": LAST, "counts": counts}
    mix = Supply(key="s", name="Mix", pack=10.0, price=2.0, **fields)  # type: ignore[arg-type]
    seed = Supply(key="t", name="Seed", **fields)  # type: ignore[arg-type]
    one = found(
        supplies=(mix, seed),
        poured=(Poured(FIRST, "raft", 1000.0),),
        plantings=(planting(pickings=(Picking(day=FIRST, portions=10.0),)),),
    )

    assert (one.cost.water, one.cost.supplies) == (pytest.approx(4.0), pytest.approx(12.0))
    assert one.cost.total == pytest.approx(one.cost.energy + 4.0 + 12.0)  # type: ignore[operator]
    assert one.cost.portion == pytest.approx(one.cost.total / 10)  # type: ignore[operator]
    assert any("Seed" in says for says in one.cost.left_out)


# time, rounds, findings


def test_rounds_of_those_expected() -> None:
    """Weekends and the closure ask for none; a round on such a day is one besides; measuring walks are none."""
    days = [FIRST + timedelta(days=ahead) for ahead in range(5)]
    walks = (*(walk(day) for day in days), walk(date(2026, 10, 10), "AR"), walk(FIRST, "AR", 0, ended=False))
    one = found(rounds=walks, measured=(walk(LAST, "K7", 60),), begun=FIRST)

    # seven weeks of five days, less the five of the closed week
    assert (one.rounds.expected, one.rounds.walked, one.rounds.besides, one.rounds.unfinished) == (30, 5, 1, 1)
    assert [(each.code, each.rounds) for each in one.codes] == [("AR", 2), ("K7", 5)]
    assert (one.minutes.walking, one.minutes.measuring, one.minutes.rounds_without) == (30.0, 1.0, 1)


def test_nobody_was_expected_before_the_first_record() -> None:
    """The room began to be walked within the span: the days before do not count, and the head line says so."""
    one = found(rounds=(walk(date(2026, 11, 16)),), begun=date(2026, 11, 16))

    assert (one.rounds.expected, one.rounds.walked) == (5, 1)
    assert "first record is of 16 Nov" in headline(one)


def test_today_is_expected_once_it_was_walked() -> None:
    """The day is not over: without a round it is not counted against anybody."""
    before = found(TODAY, TODAY, begun=FIRST).rounds
    after = found(TODAY, TODAY, begun=FIRST, rounds=(walk(TODAY),)).rounds

    assert (before.expected, before.walked) == (0, 0)
    assert (after.expected, after.walked) == (1, 1)


def test_minutes_of_jobs() -> None:
    """Only jobs that were done count, as planned; those without a time are said; measuring counts on its own walk."""
    jobs = (job("a", FIRST, minutes=20.0), job("b", FIRST, "no need", minutes=9.0), job("c", LAST),
            job("d", LAST, minutes=5.0, questions=("ph",)))  # fmt: skip
    time = found(jobs=jobs).minutes

    assert (time.jobs, time.jobs_done, time.jobs_without) == (20.0, 2, 1)
    assert time.total == 20.0


def test_findings_and_how_long_they_took() -> None:
    """Opened, closed and still open; the quickest and the slowest, without anybody's code."""
    early = finding("a", FIRST - timedelta(days=9), FIRST)
    quick, slow = finding("b", FIRST, FIRST), finding("c", FIRST, FIRST + timedelta(days=8))
    one = found(findings=(early, quick, slow, finding("d", LAST), finding("e", LAST, TODAY))).findings

    assert (one.opened, one.closed, one.still_open) == (4, 3, 2)
    assert one.quickest is not None
    assert one.slowest is not None
    assert (one.quickest.finding, one.slowest.finding) == ("b", "a")
    assert one.slowest.seen == "somebody saw brown roots"


# spans


def test_the_span_that_is_meant() -> None:
    """The term that runs; for twelve weeks after it that one still; else the last twelve weeks."""
    autumn = RoomTerm(first=date(2026, 9, 1), last=date(2026, 12, 18), name="autumn term")
    room = msgspec.structs.replace(ROOM, terms=(autumn,))

    def span(today: date, of: Room = room) -> tuple[date, date, str]:
        return span_of(Kept(room=of, crops=CROPS, today=today))

    assert span(TODAY) == (autumn.first, autumn.last, "autumn term")
    assert span(date(2027, 1, 20)) == (autumn.first, autumn.last, "autumn term")
    assert span(date(2027, 6, 1))[:2] == (date(2027, 3, 10), date(2027, 6, 1))
    assert span(TODAY, ROOM)[:2] == (TODAY - timedelta(days=83), TODAY)


@pytest.mark.parametrize(
    ("first", "last", "says"),
    [
        (TODAY + timedelta(days=1), TODAY + timedelta(days=9), "still to come"),
        (LAST, FIRST, "before it begins"),
        (date(2010, 1, 1), TODAY, "ten years at most"),
    ],
)
def test_no_such_span_is_one_sentence(first: date, last: date, says: str) -> None:
    """A span that lies ahead, goes backwards or is too long has no numbers."""
    with pytest.raises(ValueError, match=says):
        found(first, last)


def test_days_of_another_year_say_so() -> None:
    """What lies in another year than what stands beside it has its year; so do days of the working."""
    one = found(TODAY, TODAY + timedelta(days=60))
    assert headline(one) == "Autumn term: 25 Nov 2026 to 24 Jan 2027, counted up to 25 Nov 2026"
    old = found(date(2025, 9, 1), LAST, renewed=(Renewed(date(2025, 10, 12), "tub", exact=True),))
    assert any("(12 Oct 2025)" in line for tank in old.water.tanks for line in tank.working)
    assert short_day(date(2027, 12, 8), TODAY) == "8 Dec 2027"


@given(st.lists(st.floats(0, 300), max_size=6), st.integers(0, 2))
def test_sums_add_up_or_say_that_they_are_rounded(parts: list[float], decimals: int) -> None:
    """Where the parts, as they are shown, do not come to the total as it is shown, it says so; else it says nothing."""
    shown = [float(f"{round(one, decimals):.{decimals}f}") for one in parts]
    differs = round(sum(shown) - round(sum(parts), decimals), 6) != 0
    assert rounded(parts, sum(parts), decimals) == ("rounded" if differs else "")


def test_a_us_room_reads_gallons_ounces_and_pounds() -> None:
    """Water and harvest stand in US units, in rows and in the working; the struct itself stays metric."""
    records = kept(
        poured=(Poured(FIRST, "raft", 10.0),), renewed=(Renewed(FIRST, "tub", exact=True),),
        plantings=(planting(pickings=(Picking(day=FIRST, grams=200.0),)),
                   planting("q", "basil", pickings=(Picking(day=FIRST, grams=1000.0),))),
    )  # fmt: skip
    us = term(msgspec.structs.replace(records, room=msgspec.structs.replace(ROOM, units="US")), FIRST, LAST)
    said = {each.key: each for each in sections(us)}
    rows = {row.name: row.value for each in said.values() for row in each.rows}

    assert (us.water.litres, us.harvest.grams) == (70.0, 1200.0)
    assert rows["Raft tub"] == "18.5 US gal"
    assert (rows["lettuce"], rows["basil"]) == ("7.1 oz", "2.20 lb")
    assert "1 × 60 L = 60 L = 15.9 US gal" in " ".join(said["water"].working)
    assert "1000 g = 2.20 lb" in " ".join(said["harvest"].working)
    assert "US gallons" in said["energy"].means


def test_codes_with_a_digit_are_found_in_any_case() -> None:
    """'k7' is nothing but a code; 'ar' may be a word, and stays."""
    assert without_codes("seen by k7 and AR, ar", ROOM) == "seen by somebody and somebody, ar"


def test_a_span_that_runs_is_counted_to_today() -> None:
    """What lies ahead is not counted, and the head line says up to when it is."""
    one = found(TODAY, TODAY + timedelta(days=20))

    assert one.energy.lamps[0].kwh == pytest.approx(1.0)
    assert headline(one) == "Autumn term: 25 Nov to 15 Dec 2026, counted up to 25 Nov"


def test_an_empty_room() -> None:
    """Nothing on record and nothing in the room: every section is there, no number is made up, nothing is divided."""
    one = term(Kept(room=Room(), crops=CROPS, today=TODAY), FIRST, LAST)

    assert (one.cost.portion, one.cost.total, one.harvest.grams, one.rounds.expected) == (None, None, 0, 0)
    texts = [text for each in sections(one, codes=True) for row in each.rows for text in (row.name, row.value)]
    assert all(each.rows for each in sections(one))
    assert not any("nan" in text or "inf" in text for text in texts)


DAYS = st.dates(FIRST - timedelta(days=20), LAST)
AMOUNTS = st.floats(0.1, 500)
PICKINGS = st.lists(
    st.builds(Picking, day=DAYS, count=st.integers(0, 5), grams=st.none() | AMOUNTS, portions=st.none() | AMOUNTS),
    max_size=4,
).map(tuple)
LOSSES = st.lists(
    st.builds(
        Loss, day=DAYS, count=st.integers(1, 9), why=st.sampled_from(("rotted", "thinned", "did not come up", ""))
    ),
    max_size=4,
).map(tuple)
PLANTINGS = st.lists(
    st.builds(
        lambda crop, picks, lost, over, why: planting(
            crop=crop, pickings=picks, losses=lost, ended=over, reason=why if over else ""
        ),
        st.sampled_from(("lettuce", "basil", "geranium", "moon-weed")), PICKINGS, LOSSES, st.none() | DAYS,
        st.sampled_from(("died: cold", "harvested: 80 g", "composted", "given away", "")),
    ),
    max_size=4,
).map(tuple)  # fmt: skip
POURED = st.lists(st.builds(Poured, DAYS, st.sampled_from(("raft", "vine", "drum", "gone")), AMOUNTS), max_size=5)
RENEWED = st.lists(st.builds(Renewed, DAYS, st.sampled_from(("tub", "arch", "gone")), st.booleans()), max_size=6)
WALKS = st.lists(st.builds(walk, DAYS, st.sampled_from(("AR", "K7")), st.floats(0, 900)), max_size=6)
FINDINGS = st.lists(st.builds(finding, st.sampled_from("abcd"), DAYS, st.none() | st.just(LAST)), max_size=4)
JOBS = st.lists(
    st.builds(lambda day, took: job("j", day, minutes=took), DAYS, st.none() | st.floats(1, 60)), max_size=4
)
RECORDS = st.builds(
    lambda plantings, poured, renewed, walks, findings, jobs: kept(
        plantings=plantings, poured=tuple(poured), renewed=tuple(renewed), rounds=tuple(walks),
        findings=tuple(findings), jobs=tuple(jobs), strengths=(Strength(date(2026, 10, 20), "tub", 1.5),), begun=FIRST,
    ),
    PLANTINGS, POURED, RENEWED, WALKS, FINDINGS, JOBS,
)  # fmt: skip


@given(RECORDS)
def test_parts_add_up_to_the_whole(records: Kept) -> None:
    """Lamps, tanks, crops, whys and codes add up to their totals, and no total is below nothing."""
    one = term(records, FIRST, LAST)

    assert one.energy.kwh == pytest.approx(sum(each.kwh for each in one.energy.lamps))
    assert one.water.litres == pytest.approx(sum(each.topped + each.renewed for each in one.water.tanks))
    assert one.harvest.grams == pytest.approx(sum(each.grams for each in one.harvest.crops))
    assert one.harvest.all_portions == pytest.approx(sum(each.portions + each.by_weight for each in one.harvest.crops))
    assert one.losses.plants == sum(each.plants for each in one.losses.whys)
    assert one.minutes.walking == pytest.approx(sum(each.minutes for each in one.codes))
    assert one.rounds.walked <= one.rounds.expected
    assert one.cost.total is not None
    assert one.cost.total >= 0


@given(RECORDS, st.integers(1, (LAST - FIRST).days))
def test_two_halves_add_up_to_the_span(records: Kept, cut: int) -> None:
    """Whatever is added up over a span is the same over its two parts."""
    middle = FIRST + timedelta(days=cut)
    whole = term(records, FIRST, LAST)
    halves = [term(records, FIRST, middle - timedelta(days=1)), term(records, middle, LAST)]

    def sums(one: Term) -> list[float]:
        return [
            one.energy.kwh, one.energy.money or 0, one.water.litres, one.solution.ml or 0, one.solution.unknown,
            one.harvest.grams, one.harvest.plants, one.harvest.portions, one.harvest.by_weight, one.losses.plants,
            one.losses.composted, one.minutes.total, one.rounds.expected, one.rounds.walked, one.rounds.besides,
            one.findings.opened, one.findings.closed, one.cost.total or 0, sum(each.rounds for each in one.codes),
        ]  # fmt: skip

    assert [sum(both) for both in zip(*map(sums, halves), strict=True)] == pytest.approx(sums(whole), abs=1e-9)


def test_nobody_is_named_but_where_codes_are_asked_for() -> None:
    """Sections have codes only where asked, with a line that they are for the teacher."""
    records = kept(rounds=(walk(FIRST),), findings=(finding("f", FIRST, FIRST),))
    one = term(records, FIRST, LAST)
    without = [text for each in sections(one) for row in each.rows for text in (row.name, row.value, row.remark)]
    asked = sections(one, codes=True)[-1]

    assert not any("K7" in text or "AR" in text for text in without)
    assert (asked.key, asked.rows[0].name) == ("codes", "K7")
    assert "teacher" in asked.means
