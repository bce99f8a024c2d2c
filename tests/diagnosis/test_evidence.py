"""What somebody saw becomes numbers: reliability, general answers, crop, readings, what was confirmed here."""

import math

import numpy as np
import pytest

from tests.diagnosis.made_up import cause, knowledge, sign
from walkabout.diagnosis.evidence import Table, number, tabulate
from walkabout.diagnosis.model import Against, Cause, Crop, General, Measure, Shift, Value
from walkabout.diagnosis.situation import Answer, Reading, Situation
from walkabout.diagnosis.strengths import (
    AGAINST,
    BASE,
    EFFECT,
    GIVES,
    LOOKUPS,
    NARROW,
    NOT_LISTED,
    NOTICES,
    OTHER_CROP,
    OUT_OF_PLACE,
)


def table_of(*causes: Cause, **more: object) -> Table:
    """Return the table of these causes over signs a to e; e is hard to see."""
    signs = [sign(key, clear="hard" if key == "e" else "plain") for key in "abcde"]
    crops = {
        "basil": Crop(key="basil", name="basil", families=("herb",)),
        "herb": Crop(key="herb", name="herb"),
        "fern": Crop(key="fern", name="fern"),
    }
    ph = Measure(
        key="ph",
        name="pH",
        ask="What is the pH?",
        look="Dip the meter.",
        seconds=60,
        possible=(0, 14),
        usual=(Value(6.0, 0.8), Value(7.5, 0.2)),
        source="made up",
    )
    general = General(key="any-of-abc", name="a, b or c", any=("a", "b", "c"), words=("abc",))
    return tabulate(
        knowledge(signs, list(causes), crops=crops, measures={"ph": ph}, generals={general.key: general}, **more)
    )


def chance(table: Table, now: Situation) -> dict[str, float]:
    """Return P(cause) by key."""
    return dict(zip(table.causes, number(table, now).solve().on[0].tolist(), strict=True))


def test_without_evidence_the_base_rates_come_back() -> None:
    """Knowing nothing, every cause has its written base rate, and something unlisted its own."""
    table = table_of(cause("x", {"a": "always"}, base="common"), cause("y", {"b": "usually"}, base="rare"))
    assert chance(table, Situation()) == pytest.approx(
        {"x": BASE["common"], "y": BASE["rare"], "not-listed": NOT_LISTED}, abs=1e-15
    )


def test_what_was_not_looked_at_says_nothing() -> None:
    """A sign without an answer neither raises nor lowers, unlike one that is not there."""
    table = table_of(cause("x", {"a": "always", "b": "always"}))
    unlooked = chance(table, Situation(answers=(Answer(sign="a"),)))
    denied = chance(table, Situation(answers=(Answer(sign="a"), Answer(sign="b", present=False))))
    assert denied["x"] < unlooked["x"] / 2


@pytest.mark.parametrize("present", [True, False])
def test_an_answer_weighs_as_much_as_the_looker_is_reliable(present: bool) -> None:
    """An adult's answer moves a cause further than a pupil's, and a plain sign further than one that is hard to see."""
    table = table_of(cause("x", {"a": "usually", "e": "usually"}))

    def moved(key: str, by: str) -> float:
        now = Situation(answers=(Answer(sign=key, present=present, by=by),))  # type: ignore[arg-type]
        return abs(math.log(chance(table, now)["x"] / BASE["occasional"]))

    assert moved("e", "adult") > moved("e", "pupil") > 0
    assert moved("a", "pupil") > moved("e", "pupil")


def test_an_answer_is_a_noisy_or_of_what_the_looker_notices() -> None:
    """P(says yes | cause alone) is its strength times the chance that such a looker notices the sign."""
    table = table_of(cause("x", {"e": "usually"}))
    numbered = number(table, Situation(answers=(Answer(sign="e", by="pupil"),)))
    assert numbered.gives[0, 0] == pytest.approx(GIVES["usually"] * NOTICES["hard"]["pupil"])


def test_a_general_answer_is_the_or_of_its_signs() -> None:
    """'a, b or c' raises whatever gives any of them, and says nothing more once one of them is named."""
    table = table_of(cause("x", {"a": "usually"}), cause("y", {"b": "usually"}), cause("z", {"d": "usually"}))
    vague = chance(table, Situation(answers=(Answer(sign="any-of-abc"),)))
    assert vague["x"] == pytest.approx(vague["y"])
    assert vague["x"] > BASE["occasional"] > vague["z"] - 1e-9
    exact = chance(table, Situation(answers=(Answer(sign="a"),)))
    both = chance(table, Situation(answers=(Answer(sign="a"), Answer(sign="any-of-abc"))))
    assert both == pytest.approx(exact)


def test_a_general_answer_narrows_to_what_was_not_denied() -> None:
    """'a, b or c, but not a' leaves b and c."""
    table = table_of(cause("x", {"a": "always"}), cause("y", {"b": "always"}))
    now = Situation(answers=(Answer(sign="any-of-abc"), Answer(sign="a", present=False)))
    assert chance(table, now)["y"] > 20 * chance(table, now)["x"]


def test_a_general_denial_denies_each_of_its_signs() -> None:
    """'none of a, b, c' is the same as three answers."""
    table = table_of(cause("x", {"a": "usually", "c": "sometimes"}))
    one = chance(table, Situation(answers=(Answer(sign="any-of-abc", present=False),)))
    three = chance(table, Situation(answers=tuple(Answer(sign=key, present=False) for key in "abc")))
    assert one == pytest.approx(three)


def test_of_two_answers_about_one_sign_the_last_counts() -> None:
    """Somebody who looks again and sees better is believed."""
    table = table_of(cause("x", {"a": "always"}))
    again = Situation(answers=(Answer(sign="a"), Answer(sign="a", present=False)))
    assert chance(table, again) == chance(table, Situation(answers=(Answer(sign="a", present=False),)))


def test_the_crop_moves_the_odds() -> None:
    """A cause keeps its odds on its crops, loses most elsewhere, and all but vanishes where it cannot be."""
    wide = cause("wide", {"a": "always"}, crops=("herb",))
    only = cause("only", {"b": "always"}, crops=("herb",), only=True)
    table = table_of(wide, only)
    base = BASE["occasional"] / (1 - BASE["occasional"])

    def odds(crop: str, key: str) -> float:
        found = chance(table, Situation(crop=crop))[key]
        return found / (1 - found) / base

    assert odds("basil", "wide") == pytest.approx(1)
    assert odds("basil", "only") == pytest.approx(1)
    assert odds("fern", "wide") == pytest.approx(OTHER_CROP)
    assert odds("fern", "only") == pytest.approx(OUT_OF_PLACE)
    assert odds("", "only") == pytest.approx(NARROW)
    assert odds("", "wide") == pytest.approx(1)


def test_a_reading_moves_the_odds_by_its_range() -> None:
    """Inside a range the odds change by what it does; both ends are inside; of two that hold the stronger counts."""
    shifts = (
        Shift(of="ph", at_least=7.0, does="raises", source="made up"),
        Shift(of="ph", at_least=7.5, does="raises strongly", source="made up"),
        Shift(of="ph", at_most=6.0, does="lowers", source="made up"),
    )
    table = table_of(cause("x", {"a": "always"}, readings=shifts))
    base = BASE["occasional"] / (1 - BASE["occasional"])

    def factor(value: float) -> float:
        found = chance(table, Situation(readings=(Reading(of="ph", value=value),)))["x"]
        return found / (1 - found) / base

    assert [factor(value) for value in (6.5, 7.0, 7.5, 6.0)] == pytest.approx(
        [1, EFFECT["raises"], EFFECT["raises strongly"], EFFECT["lowers"]]
    )


def test_the_crops_own_range_counts_where_it_is_known() -> None:
    """'Above what the crop wants' is held against the crop's range, and against the written figure without one."""
    shift = Shift(of="ph", at_least=7.2, above_crop=True, does="raises", source="made up")
    table = table_of(cause("x", {"a": "always"}, readings=(shift,)))
    known = chance(table, Situation(readings=(Reading(of="ph", value=6.8, low=5.5, high=6.5),)))
    unknown = chance(table, Situation(readings=(Reading(of="ph", value=6.8),)))
    assert known["x"] > unknown["x"]
    assert unknown["x"] == pytest.approx(BASE["occasional"])


def test_a_sign_against_a_cause_lowers_it_when_it_is_there() -> None:
    """Its presence lowers the odds; its absence says nothing."""
    table = table_of(cause("x", {"a": "always"}, against=(Against(sign="d", source="made up"),)))
    base = BASE["occasional"] / (1 - BASE["occasional"])
    there = chance(table, Situation(answers=(Answer(sign="d"),)))["x"]
    assert there / (1 - there) == pytest.approx(AGAINST * base)
    assert chance(table, Situation(answers=(Answer(sign="d", present=False),)))["x"] == pytest.approx(
        BASE["occasional"], rel=1e-9
    )


def test_what_was_confirmed_here_moves_the_base_rates_and_stays_sane() -> None:
    """Counts add to a prior worth fifty lookups: three of four raise a cause well, and never to certainty."""
    table = table_of(cause("x", {"a": "always"}), cause("y", {"b": "always"}))
    found = chance(table, Situation(confirmed={"x": 3, "unknown": 1}))
    assert found["x"] == pytest.approx((LOOKUPS * BASE["occasional"] + 3) / (LOOKUPS + 3))
    assert found["y"] < BASE["occasional"]
    assert chance(table, Situation(confirmed={"x": 10_000}))["x"] < 1


def test_order_does_not_matter() -> None:
    """The same answers in another order give the same probabilities."""
    table = table_of(cause("x", {"a": "usually", "b": "rarely"}), cause("y", {"b": "usually", "c": "sometimes"}))
    answers = [Answer(sign="a"), Answer(sign="b"), Answer(sign="c", present=False), Answer(sign="any-of-abc")]
    forward = number(table, Situation(answers=tuple(answers))).solve().on
    back = number(table, Situation(answers=tuple(reversed(answers)))).solve().on
    assert np.allclose(forward, back, atol=1e-14)
