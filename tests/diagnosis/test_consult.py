"""The answer: verdict, ranking with reasons, the next look, what to do."""

import math

import numpy as np
import pytest

from tests.diagnosis.made_up import cause, knowledge, sign
from walkabout.diagnosis.consult import LIKELY, consult, likeliness
from walkabout.diagnosis.evidence import UNLISTED, Table, number, tabulate
from walkabout.diagnosis.explain import weigh
from walkabout.diagnosis.model import Behind, Cause, Crop, Measure, Shared, Shift, Step, Value
from walkabout.diagnosis.next_check import expected_gain
from walkabout.diagnosis.plan import KILLING, SURE, acts
from walkabout.diagnosis.situation import Answer, Reading, Situation

SOURCE = "made up"
SHARED = {
    "photograph": Shared(key="photograph", step="Photograph it", who="pupil", rank=1, source=SOURCE),
    "wash-hands": Shared(key="wash-hands", step="Wash your hands", who="pupil", rank=2, source=SOURCE),
    "set-apart": Shared(key="set-apart", step="Set it apart", who="pupil", rank=3, source=SOURCE),
    "do-not-eat": Shared(key="do-not-eat", step="Nobody eats from it", who="pupil", rank=4, source=SOURCE),
    "hazard-stop": Shared(key="hazard-stop", step="Stop", who="pupil", source=SOURCE),
    "leave-it": Shared(key="leave-it", step="Leave it", who="pupil", source=SOURCE),
}
SPRAY = Step(
    step="Spray it", who="licensed", when="if it stays", pesticide=True, caution="By the label.", source=SOURCE
)
WARM = Step(step="Move it somewhere warmer", when="next", harmless=True, source=SOURCE)
FLUSH = Step(step="Flush the mix", when="next", source=SOURCE)
PH = Measure(
    key="ph",
    name="pH",
    ask="What is the pH of the solution?",
    look="Dip the meter.",
    seconds=30,
    possible=(0, 14),
    usual=(Value(6.0, 0.7), Value(7.6, 0.3)),
    source=SOURCE,
)
HIGH = (Shift(of="ph", at_least=7.2, does="raises strongly", source=SOURCE),)


def table_of(*causes: Cause, reasons: tuple[Cause, ...] = (), measures: bool = False) -> Table:
    """Return a table over signs a to f and the shared steps."""
    return tabulate(
        knowledge(
            [sign(key) for key in "abcdef"],
            list(causes),
            steps=SHARED,
            reasons={one.key: one for one in reasons},
            measures={"ph": PH} if measures else {},
            crops={"basil": Crop(key="basil", name="basil")},
        )
    )


def there(*keys: str) -> Situation:
    """Return these signs as there; '-a' as not there."""
    return Situation(answers=tuple(Answer(sign=key.strip("-"), present=not key.startswith("-")) for key in keys))


MILDEW_A = cause("mildew", {"a": "always"})
MILDEW = cause("mildew", {"a": "always", "b": "usually"}, do=(WARM, SPRAY), eat="no", base="common")
MARKS = cause("marks", {"a": "usually", "c": "always"}, kind="normal", do=(Step(use="leave-it", when="now"),))
SALT = cause("salt", {"d": "always", "e": "usually"}, kind="nutrition", do=(FLUSH,))


# verdicts


def test_nothing_seen_is_not_enough() -> None:
    """Without a sign that is there nothing can be told, whatever was denied."""
    table = table_of(MILDEW, MARKS)
    assert consult(table, Situation()).verdict == "not enough"
    assert consult(table, there("-a")).says == "Not enough to tell."


def test_a_clear_picture_is_likely_and_never_certain() -> None:
    """Its telling signs make a cause likely; its probability stays below one."""
    found = consult(table_of(MILDEW, MARKS, SALT), there("a", "b", "-c"))
    assert (found.verdict, found.causes[0].key) == ("likely", "mildew")
    assert LIKELY <= found.causes[0].probability < 1
    assert found.says == "Likely cause mildew."


def test_a_harmless_picture_is_healthy() -> None:
    """Where a harmless cause explains what is seen and nothing else is likely, all is well."""
    found = consult(table_of(MILDEW, MARKS), there("a", "c", "-b"))
    assert found.verdict == "healthy"
    assert [one.step for one in found.do] == ["Leave it"]


def test_a_sign_of_two_causes_is_unsure_and_names_both() -> None:
    """One sign that two causes share alike leaves both possible."""
    one, other = cause("one", {"a": "usually", "b": "usually"}), cause("other", {"a": "usually", "c": "usually"})
    found = consult(table_of(one, other), there("a"))
    assert found.verdict == "unsure"
    assert "cause one" in found.says
    assert "cause other" in found.says


def test_a_stray_sign_is_not_taken_for_a_cause() -> None:
    """A sign that nothing on the list gives raises only 'something not listed'."""
    found = consult(table_of(MILDEW, SALT), there("f"))
    by_key = {one.key: one.probability for one in found.causes}
    assert found.verdict == "not enough"
    assert max(by_key, key=lambda key: by_key[key]) == UNLISTED


def test_what_is_not_listed_stands_last() -> None:
    """However likely it is: it names nothing that could be looked at."""
    found = consult(table_of(MILDEW, SALT), there("f", "a"))
    assert found.causes[-1].key == UNLISTED
    listed = [one.probability for one in found.causes[:-1]]
    assert listed == sorted(listed, reverse=True)


def test_a_probability_has_a_word() -> None:
    """Likely, possible, unlikely."""
    assert [likeliness(p) for p in (0.9, 0.6, 0.59, 0.15, 0.149, 0.0)] == [
        "likely",
        "likely",
        "possible",
        "possible",
        "unlikely",
        "unlikely",
    ]


# why


def test_the_weight_of_evidence_is_what_leaving_it_out_changes() -> None:
    """The weight of a sign is ln(odds with it / odds without it), and the signs stand in order of weight."""
    table = table_of(MILDEW, MARKS, SALT)
    now = there("a", "b", "-c")
    numbered = number(table, now)
    base = numbered.solve()
    (why,) = weigh(table, now, numbered, base, [0])
    weights = {one.key: one.weight for one in why}

    def log_odds(situation: Situation) -> float:
        p = number(table, situation).solve().on[0, 0]
        return math.log(p / (1 - p))

    for key, rest in {"a": ("b", "-c"), "b": ("a", "-c"), "c": ("a", "b")}.items():
        assert weights[key] == pytest.approx(log_odds(now) - log_odds(there(*rest)), abs=1e-9)
    assert [abs(one.weight) for one in why] == sorted((abs(one.weight) for one in why), reverse=True)


def test_what_speaks_for_and_against_is_told_apart() -> None:
    """A missing sign that the cause usually gives speaks against it, by name."""
    found = consult(table_of(MILDEW, MARKS), there("a", "-b"))
    mildew = next(one for one in found.causes if one.key == "mildew")
    assert [one.name for one in mildew.speaks_for] == ["sign a"]
    assert [one.name for one in mildew.speaks_against] == ["no sign b"]


def test_a_reading_and_the_crop_are_weighed_too() -> None:
    """A reading that raises a cause stands among what speaks for it, with its unit; a foreign crop against."""
    iron = cause("iron", {"a": "always"}, readings=HIGH, crops=("fern",))
    found = consult(
        table_of(iron, measures=True),
        Situation(answers=(Answer(sign="a"),), readings=(Reading(of="ph", value=7.5),), crop="basil"),
    )
    first = next(one for one in found.causes if one.key == "iron")
    assert {one.key: one.name for one in first.speaks_for}["ph"] == "pH 7.5"
    assert {one.key: one.name for one in first.speaks_against}["crop"] == "it is basil"


def test_a_usual_reason_stands_behind_and_not_beside() -> None:
    """A reason is never ranked; a reading that shows it raises its share."""
    high = cause("ph-high", {}, kind="reasons", readings=HIGH)
    weak = cause("weak", {}, kind="reasons")
    behind = (
        Behind(cause="ph-high", how="usually", source=SOURCE),
        Behind(cause="weak", how="usually", source=SOURCE),
    )
    table = table_of(cause("iron", {"a": "always"}, behind=behind), reasons=(high, weak), measures=True)
    plain = consult(table, there("a"))
    shown = consult(table, Situation(answers=(Answer(sign="a"),), readings=(Reading(of="ph", value=7.5),)))
    assert {one.key for one in plain.causes} <= {"iron", UNLISTED}
    iron = next(one for one in plain.causes if one.key == "iron")
    assert iron.reasons[0].share == iron.reasons[1].share < 0.5
    reasons = next(one for one in shown.causes if one.key == "iron").reasons
    assert reasons[0].key == "ph-high"
    assert reasons[0].share > 2 * reasons[1].share
    assert sum(one.share for one in reasons) < 1


def test_pairs_are_the_probability_of_both_at_once() -> None:
    """P(both) lies between what independence of the two margins allows at least and at most, and adds up by hand."""
    one, other = cause("one", {"a": "usually"}), cause("other", {"a": "usually", "b": "usually"})
    table = table_of(one, other)
    now = there("a", "b")
    found = consult(table, now)
    numbered = number(table, now)
    pair = next(pair for pair in found.together if {pair.one, pair.other} == {"one", "other"})
    whole = both = 0.0
    for states in np.ndindex(2, 2, 2):
        on = np.array(states, dtype=bool)
        weight = np.prod(np.where(on, numbered.prior, 1 - numbered.prior))
        shown = 1 - (1 - numbered.leak) * np.prod(1 - numbered.gives[:, on], axis=1)
        weight *= np.prod(shown)
        whole += weight
        both += weight * (on[0] and on[1])
    assert pair.probability == pytest.approx(both / whole, abs=1e-9)


# the next look


def test_the_next_look_tells_the_rivals_apart() -> None:
    """With two causes possible, the sign that parts them is asked for, and it is said which it separates."""
    one, other = cause("one", {"a": "usually", "b": "always"}), cause("other", {"a": "usually", "c": "rarely"})
    check = consult(table_of(one, other), there("a")).next_check
    assert check is not None
    assert check.key == "b"
    assert "one" in check.separates
    assert not check.reading


def test_a_quick_look_goes_before_a_slow_one_that_tells_the_same() -> None:
    """Gain counts for each second: of two signs alike the quicker is asked for."""
    one, other = cause("one", {"a": "usually", "b": "usually", "c": "usually"}), cause("other", {"a": "usually"})
    signs = [sign("a"), sign("b", seconds=60), sign("c", seconds=5)]
    table = tabulate(knowledge(signs, [one, other], steps=SHARED))
    check = consult(table, there("a")).next_check
    assert check is not None
    assert check.key == "c"


def test_what_was_answered_or_could_not_be_told_is_not_asked_again() -> None:
    """Neither a known sign nor one that could not be told comes again."""
    one, other = cause("one", {"a": "usually", "b": "always"}), cause("other", {"a": "usually", "c": "usually"})
    table = table_of(one, other)
    first = consult(table, there("a")).next_check
    assert first is not None
    passed = consult(table, Situation(answers=(Answer(sign="a"),), passed=(first.key,))).next_check
    answered = consult(table, there("a", f"-{first.key}")).next_check
    assert all(again is None or again.key not in ("a", first.key) for again in (passed, answered))


def test_it_stops_when_nothing_would_change_what_to_do() -> None:
    """Two causes with the very same remedy need not be told apart."""
    same = (Step(step="Do the one thing", harmless=True, source=SOURCE),)
    one = cause("one", {"a": "always", "b": "always"}, do=same, base="common")
    other = cause("other", {"a": "always", "c": "always"}, do=same, base="common")
    assert consult(table_of(one, other), there("a")).next_check is None


def test_a_reading_is_asked_for_where_it_tells_most() -> None:
    """With no sign left that parts them, the reading that does is asked for, with its unit."""
    one = cause("one", {"a": "usually"}, readings=HIGH)
    other = cause("other", {"a": "usually"})
    check = consult(table_of(one, other, measures=True), there("a")).next_check
    assert check is not None
    assert (check.key, check.reading, check.ask) == ("ph", True, PH.ask)


def test_an_answer_is_never_expected_to_tell_less_than_nothing() -> None:
    """Expected gain is mutual information: zero where the answer changes nothing, never below."""
    rng = np.random.default_rng(1)
    for _ in range(50):
        outcomes = rng.random((3, 4))
        weights = rng.dirichlet(np.ones(3))
        assert (expected_gain(weights, outcomes) >= 0).all()
    same = np.tile(rng.random(4), (3, 1))
    assert expected_gain(np.array([0.2, 0.3, 0.5]), same) == pytest.approx(np.zeros(4), abs=1e-12)


# what to do


def test_safe_steps_come_first_and_treatment_waits_for_certainty() -> None:
    """While unsure only what is safe for every likely cause is said; a treatment comes with its cause."""
    one = cause("one", {"a": "usually", "b": "usually"}, do=(FLUSH, WARM), spreads=True)
    other = cause("other", {"a": "usually", "c": "usually"}, do=(WARM,), spreads=True)
    table = table_of(one, other)
    unsure, sure = consult(table, there("a")).do, consult(table, there("a", "b", "-c")).do
    assert [step.step for step in unsure][:3] == ["Photograph it", "Wash your hands", "Set it apart"]
    assert WARM.step in {step.step for step in unsure}
    assert FLUSH.step not in {step.step for step in unsure}
    assert FLUSH.step in {step.step for step in sure}


def test_what_kills_waits_longest_and_is_never_a_pupils() -> None:
    """A pesticide step needs a surer cause than any other, and is marked for whoever may do it."""
    assert KILLING > SURE
    table = table_of(MILDEW, MARKS)
    unsure, sure = consult(table, there("a")).do, consult(table, there("a", "b", "-c")).do
    assert SPRAY.step not in {step.step for step in unsure}
    spray = next(step for step in sure if step.step == SPRAY.step)
    assert (spray.who, spray.pesticide, spray.caution) == ("licensed", True, "By the label.")


def test_what_keeps_people_from_harm_comes_before_everything() -> None:
    """A smell of gas is no time for a photograph."""
    leave = Step(step="Leave the room", when="now", people=True, harmless=True, source=SOURCE)
    gas = cause("gas", {"a": "always", "b": "usually"}, do=(WARM, leave))
    assert consult(table_of(gas), there("a", "b")).do[0].step == "Leave the room"


def test_a_plant_that_must_stay_is_not_carried_about() -> None:
    """Where carrying the plant would spread its trouble, nobody is told to set it apart."""
    stays = cause(
        "stays", {"a": "always", "b": "usually"}, stays_put=True, do=(WARM, Step(use="set-apart", when="now"))
    )
    said = {one.step for one in consult(table_of(stays), there("a", "b")).do}
    assert "Set it apart" not in said
    assert WARM.step in said


def test_only_what_spreads_is_set_apart() -> None:
    """A plant that is short of something need not be carried away from its neighbours."""
    spreads = cause("spreads", {"d": "always", "e": "usually"}, spreads=True)
    assert "Set it apart" not in {one.step for one in consult(table_of(SALT), there("d", "e")).do}
    assert "Set it apart" in {one.step for one in consult(table_of(spreads), there("d", "e")).do}


def test_a_danger_to_people_puts_everything_else_off() -> None:
    """With words of danger there is one step and no cause: stop, hands off, fetch an adult."""
    found = consult(table_of(MILDEW), Situation(answers=(Answer(sign="a"),), hazards=("burnt smell",)))
    assert found.says == "Stop: people first. Fetch an adult."
    assert found.causes == ()
    assert found.next_check is None
    assert [one.step for one in found.do] == ["Stop"]


def test_a_plant_that_only_looks_well_is_well() -> None:
    """'Healthy, growing well' and nothing else is an answer too."""
    well = cause("well", {"healthy-otherwise": "usually"}, kind="normal")
    table = tabulate(knowledge([sign("healthy-otherwise"), sign("a")], [MILDEW_A, well], steps=SHARED))
    found = consult(table, there("healthy-otherwise"))
    assert found.verdict == "healthy"
    assert found.says == "It looks well; look again on the next round."


def test_a_rival_is_named_only_when_it_comes_near() -> None:
    """'It may be X or Y' is not said of 58 and 7 percent."""
    one = cause("one", {"a": "usually", "b": "sometimes"}, base="common")
    other = cause("other", {"a": "rarely"}, base="rare")
    found = consult(table_of(one, other), there("a", "-b"))
    assert found.verdict in ("unsure", "likely")
    assert "other" not in found.says


def test_what_is_not_there_is_not_asked_about() -> None:
    """At a raft nobody is asked about the potting mix, nor about fruit on a crop that bears none."""
    one, other = cause("one", {"a": "usually", "b": "always", "c": "always"}), cause("other", {"a": "usually"})
    signs = [sign("a"), sign("b", organ="mix"), sign("c", organ="fruit")]
    crops = {"basil": Crop(key="basil", name="basil", families=("herb",))}
    table = tabulate(knowledge(signs, [one, other], steps=SHARED, crops=crops))
    now = Situation(answers=(Answer(sign="a"),))
    asked = consult(table, now).next_check
    assert asked is not None
    bare = Situation(answers=now.answers, without=("mix",), crop="basil")
    assert consult(table, bare).next_check is None


def test_enough_is_enough() -> None:
    """After six looks that could not be told no more are asked."""
    one, other = cause("one", {"a": "usually", "b": "always"}), cause("other", {"a": "usually", "c": "usually"})
    table = table_of(one, other)
    assert consult(table, there("a")).next_check is not None
    tired = Situation(answers=(Answer(sign="a"),), passed=("u", "v", "w", "x", "y", "z"))
    assert consult(table, tired).next_check is None


def test_while_too_little_is_known_it_is_photographed() -> None:
    """There is always something safe to do."""
    assert [one.step for one in consult(table_of(MILDEW), Situation()).do] == ["Photograph it"]


def test_nobody_eats_from_it_while_a_dangerous_cause_is_possible() -> None:
    """The step comes as soon as one such cause is worth a thought."""
    assert "Nobody eats from it" in {step.step for step in consult(table_of(MILDEW, MARKS), there("a")).do}
    assert "Nobody eats from it" not in {step.step for step in consult(table_of(SALT), there("d", "e")).do}


def test_how_useful_a_step_is_is_the_chance_that_any_of_its_causes_is_there() -> None:
    """It is 1 - P(none of them), not the sum: two causes that share a step count together exactly."""
    one = cause("one", {"a": "usually"}, do=(WARM,), base="common")
    other = cause("other", {"a": "usually"}, do=(WARM,), base="common")
    table = table_of(one, other)
    now = there("a")
    step = next(step for step in consult(table, now).do if step.step == WARM.step)
    numbered = number(table, now)
    whole = neither = 0.0
    for states in np.ndindex(2, 2, 2):
        on = np.array(states, dtype=bool)
        weight = np.prod(np.where(on, numbered.prior, 1 - numbered.prior))
        weight *= 1 - (1 - numbered.leak[0]) * np.prod(1 - numbered.gives[0, on])
        whole += weight
        neither += weight * (not on[0] and not on[1])
    assert step.useful == pytest.approx(1 - neither / whole, abs=1e-9)
    assert set(step.causes) == {"one", "other"}


def test_the_same_probabilities_ask_for_the_same_acts() -> None:
    """Acts follow the probabilities alone, and nothing is done about what is not likely."""
    table = table_of(MILDEW, SALT)
    quiet = np.array([0.01, 0.02, 0.0])
    assert acts(table, quiet) == frozenset()
    assert FLUSH.step in acts(table, np.array([0.01, SURE, 0.0]))
    assert FLUSH.step not in acts(table, np.array([0.01, SURE - 0.01, 0.0]))
