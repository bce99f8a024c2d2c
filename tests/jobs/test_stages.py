"""What a planting reaches, loses and gives adds up, whatever happens to it and in which order."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from walkabout.jobs.plantings import as_of, bring_in, end, move, sow
from walkabout.jobs.stages import NOT_EATEN, flowering, germinated, lose, pick, picked_words, thinned
from walkabout.records.model import Planting
from walkabout.records.sums import NOT_UP, THINNED, grams_picked, lost, picked_whole, started, stood, thinned_out

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
TODAY = NOW.date()
SOWN = date(2026, 11, 1)


def forty() -> Planting:
    return sow(crop="lettuce", station="shelf", count=40, sown=SOWN, by="AR", now=NOW)


def adds_up(one: Planting) -> bool:
    gone = lost(one) + thinned_out(one) + picked_whole(one)
    return one.count >= 0 and started(one) == one.count + gone and (one.count > 0 or one.ended is not None)


def test_what_is_sown_or_brought_in_knows_how_many_it_began_with() -> None:
    """`started` is written down at once for both."""
    brought, _ = bring_in(crop="basil", station="shelf", count=3, sown=SOWN, by="AR", now=NOW)
    assert (forty().started, brought.started) == (40, 3)


def test_what_did_not_come_up_is_lost() -> None:
    """Thirty-four of forty come up: six are lost as not come up, on the day on which that was seen."""
    (up,) = germinated(forty(), 34, "K7", NOW, TODAY - timedelta(days=3))
    assert (up.count, up.started, lost(up)) == (34, 40, 6)
    assert [(one.count, one.why, one.day) for one in up.losses] == [(6, NOT_UP, date(2026, 11, 22))]
    assert [(one.stage, one.count, one.day) for one in up.reached] == [("germinated", 34, date(2026, 11, 22))]
    assert up.history[-1].says == "came up: 34 of 40"


def test_late_seedlings_come_back_at_a_second_count() -> None:
    """The second count takes them out of the lost ones and keeps the first day; fewer than stand is refused."""
    (first,) = germinated(forty(), 30, "K7", NOW, TODAY - timedelta(days=3))
    (second,) = germinated(first, 38, "K7", NOW)
    assert (second.count, lost(second)) == (38, 2)
    assert [(one.day, one.count) for one in second.reached] == [(date(2026, 11, 22), 38)]
    (all_up,) = germinated(second, 40, "K7", NOW)
    assert (all_up.losses, all_up.count) == ((), 40)
    with pytest.raises(ValueError, match=r"from 38 to 40\. Write down as lost"):
        germinated(second, 37, "K7", NOW)


def test_a_sowing_of_which_nothing_comes_up_has_died() -> None:
    """Nought of forty ends it, with the reason."""
    (none,) = germinated(forty(), 0, "K7", NOW)
    assert (none.count, none.ended, none.reason) == (0, TODAY, "died: did not come up")


def test_thinning_is_told_apart_from_loss() -> None:
    """What was taken out on purpose is no loss; what died beside it is."""
    (died,) = lose(forty(), 2, "dried out", "K7", NOW)
    (few,) = thinned(died, 12, "K7", NOW)
    assert (few.count, lost(few), thinned_out(few)) == (12, 2, 26)
    assert few.losses[-1].why == THINNED
    (same,) = thinned(few, 12, "K7", NOW)
    assert (same.losses, len(same.reached)) == (few.losses, 2)


def test_flowering_is_written_down_once() -> None:
    """The first day counts; a second one is refused with it."""
    (open_,) = flowering(forty(), "K7", NOW, date(2026, 11, 20))
    assert (open_.reached[-1].stage, open_.reached[-1].day) == ("flowering", date(2026, 11, 20))
    with pytest.raises(ValueError, match="from 2026-11-20 on"):
        flowering(open_, "K7", NOW)


def test_the_last_plants_lost_end_it() -> None:
    """It has died, for the reason of the last loss."""
    (gone,) = lose(forty(), 40, "mildew", "K7", NOW)
    assert (gone.ended, gone.reason, gone.count, adds_up(gone)) == (TODAY, "died: mildew", 0, True)


def test_picking_whole_plants_ends_it_as_harvested() -> None:
    """Plants leave the count; with the last ones it has ended as harvested, and the grams add up."""
    (some,) = pick(forty(), 30, 2_400, 20, "pr-1", "K7", NOW, signed="AR")
    (rest,) = pick(some, 10, 700, None, "", "K7", NOW, signed="AR")
    assert (some.count, some.ended, some.pickings[0].promise) == (10, None, "pr-1")
    assert (rest.count, rest.ended, rest.reason) == (0, TODAY, "harvested")
    assert (picked_whole(rest), grams_picked(rest)) == (40, 3_100)
    assert "an adult answered before it is eaten: AR" in rest.history[-1].says
    assert picked_words(some.pickings[0]) == "30 plants, 2,400 g, 20 portions"


def test_what_is_cut_grows_on() -> None:
    """No plant leaves the count; an ended one can be picked no more."""
    (cut,) = pick(forty(), 0, 150, None, "", "K7", NOW, signed="AR")
    assert (cut.count, cut.ended, picked_words(cut.pickings[0])) == (40, None, "cut, grows on, 150 g")
    (ended,) = end(cut, "composted", "", 40, "K7", NOW)
    with pytest.raises(ValueError, match="has ended"):
        pick(ended, 0, 10, None, "", "K7", NOW, signed="AR")


@pytest.mark.parametrize(("becomes", "reason"), [(NOT_EATEN[0], "composted"), (NOT_EATEN[1], "kept as a specimen")])
def test_what_nobody_eats_is_written_down_as_that(becomes: str, reason: str) -> None:
    """It needs no adult's answer, makes no portions, keeps no promise, and ends otherwise than harvested."""
    (gone,) = pick(forty(), 40, 300, None, "", "K7", NOW, becomes=becomes)
    assert (gone.reason, gone.pickings[0].grams) == (reason, 300)
    for portions, promise in ((2, ""), (None, "pr-1")):
        with pytest.raises(ValueError, match="no portions"):
            pick(forty(), 1, None, portions, promise, "K7", NOW, becomes=becomes)


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda one: germinated(one, 41, "K7", NOW), "from 0 to 40"),
        (lambda one: germinated(one, 1, "K7", NOW, TODAY + timedelta(days=1)), "still to come"),
        (lambda one: flowering(one, "K7", NOW, SOWN - timedelta(days=1)), "sown only on 2026-11-01"),
        (lambda one: thinned(one, 0, "K7", NOW), "from 1 to 40"),
        (lambda one: lose(one, 41, "x", "K7", NOW), "from 1 to 40"),
        (lambda one: lose(one, 1, " ", "K7", NOW), "why they were lost"),
        (lambda one: lose(one, 1, "thinned", "K7", NOW), "on its own"),
        (lambda one: pick(one, 41, None, None, "", "K7", NOW, signed="AR"), "from 1 to 40"),
        (lambda one: pick(one, -1, 5, None, "", "K7", NOW, signed="AR"), "from 1 to 40"),
        (lambda one: pick(one, 0, None, None, "", "K7", NOW, signed="AR"), "how many plants"),
        (lambda one: pick(one, 1, float("nan"), None, "", "K7", NOW, signed="AR"), "more than 0"),
        (lambda one: pick(one, 1, 0, None, "", "K7", NOW, signed="AR"), "more than 0"),
        (lambda one: pick(one, 1, None, -2, "", "K7", NOW, signed="AR"), "more than 0"),
        (lambda one: pick(one, 1, 5, None, "", "K7", NOW), "an adult answers"),
        (lambda one: pick(one, 1, 5, None, "", "K7", NOW, becomes="sold"), "composted or kept"),
    ],
)
def test_what_cannot_be_is_said_in_one_sentence(act: Callable[[Planting], object], says: str) -> None:
    """Each is a ValueError of one line that says what would be right."""
    with pytest.raises(ValueError, match=says) as raised:
        act(forty())
    assert "\n" not in str(raised.value)


def test_a_part_begins_with_its_own_plants() -> None:
    """Losses and pickings of before stay behind; what was reached goes with both."""
    (up,) = germinated(forty(), 36, "K7", NOW)
    (cut,) = pick(up, 0, 90, None, "", "K7", NOW, signed="AR")
    stays, part = move(cut, "drum", 12, "K7", NOW)
    assert (part.started, part.parted_from, part.losses, part.pickings) == (12, stays.key, (), ())
    assert (stays.started, lost(stays), len(stays.pickings)) == (28, 4, 1)
    assert part.reached == stays.reached == up.reached
    assert adds_up(stays)
    assert adds_up(part)


def test_a_record_of_before_counts_from_what_stands() -> None:
    """Without `started` it began with what stands; the first loss writes that down."""
    old = msgspec.structs.replace(forty(), started=None)
    assert started(old) == 40
    (after,) = lose(old, 3, "broken", "K7", NOW)
    assert (after.started, after.count) == (40, 37)
    halves = move(old, "drum", 10, "K7", NOW)
    assert [one.started for one in halves] == [30, 10]


def test_looking_back_shows_how_many_stood_then() -> None:
    """On the day before a loss all of them stood; what was picked to the end stood too."""
    (less,) = lose(forty(), 5, "dried out", "K7", NOW, date(2026, 11, 20))
    (gone,) = pick(less, 35, None, None, "", "K7", NOW, signed="AR")
    assert [stood(gone, day) for day in (date(2026, 11, 19), date(2026, 11, 20), TODAY)] == [40, 35, 0]
    assert [one.count for one in as_of([gone], date(2026, 11, 19))] == [40]
    assert as_of([gone], TODAY) == []


ACTS = st.lists(
    st.tuples(st.sampled_from(["up", "thin", "lose", "pick", "cut", "move", "end", "flower"]), st.integers(0, 45)),
    max_size=12,
)


@settings(max_examples=150, deadline=None)
@given(acts=ACTS, count=st.integers(1, 40))
def test_no_plant_is_ever_lost_from_the_count(acts: list[tuple[str, int]], count: int) -> None:
    """Through any row of acts every record adds up, and what all of them began with is what was sown."""
    family = {(one := sow(crop="lettuce", station="a", count=count, sown=SOWN, by="AR", now=NOW)).key: one}
    for place, (what, number) in enumerate(acts):
        one = list(family.values())[place % len(family)]
        other = "b" if one.station == "a" else "a"
        try:
            changed = {
                "up": lambda one=one, n=number: germinated(one, n, "K7", NOW),
                "thin": lambda one=one, n=number: thinned(one, n, "K7", NOW),
                "lose": lambda one=one, n=number: lose(one, n, "dried out", "K7", NOW),
                "pick": lambda one=one, n=number: pick(one, n, None, 1, "", "K7", NOW, signed="AR"),
                "cut": lambda one=one, n=number: pick(one, 0, n, None, "", "K7", NOW, signed="AR"),
                "move": lambda one=one, n=number, to=other: move(one, to, n, "K7", NOW),
                "end": lambda one=one, n=number: end(one, "died", "", n, "K7", NOW),
                "flower": lambda one=one: flowering(one, "K7", NOW),
            }[what]()
        except ValueError:
            continue
        family |= {each.key: each for each in changed}
    ended_whole = [one for one in family.values() if one.ended and one.count]
    assert all(adds_up(one) for one in family.values() if one not in ended_whole)
    assert all(started(one) == one.count + lost(one) + thinned_out(one) + picked_whole(one) for one in ended_whole)
    assert sum(started(one) for one in family.values()) == count
