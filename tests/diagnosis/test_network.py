"""The network gives the exact probability of every cause."""

import itertools
import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from walkabout.diagnosis import network
from walkabout.diagnosis.network import Contradiction, Numbers, Solved, solve

FROZEN = json.loads((Path(__file__).parents[1] / "published/frozen/noisy_or_cases.json").read_text(encoding="utf-8"))
"""Two networks and seven sets of findings, solved by two general libraries (pgmpy 1.1.2, pyAgrum 3.3.1)."""

CASES = [
    pytest.param(net, case, id=f"{net['causes']}causes-{len(case['present'])}there-{len(case['absent'])}not")
    for net in FROZEN["nets"]
    for case in net["cases"]
]


def numbers_of(net: dict[str, object]) -> tuple[Numbers, Numbers, Numbers]:
    """Return prior, leak and strengths (signs x causes) of a frozen network."""
    gives = np.zeros((net["signs"], net["causes"]))
    for cause, sign, strength in net["links"]:
        gives[sign, cause] = strength
    return np.array(net["prior"]), np.array(net["leak"]), gives


def look(prior: Numbers, leak: Numbers, gives: Numbers, present: list[int], absent: list[int]) -> Solved:
    """Solve with these signs there and those not."""
    return solve(prior, np.prod(1 - gives[absent], axis=0), gives[present], leak[present])


def enumerated(prior: Numbers, leak: Numbers, gives: Numbers, present: list[int], absent: list[int]) -> Numbers:
    """Return P(cause | evidence) by adding up the full joint, 2 to the number of causes."""
    causes = len(prior)
    on, whole = np.zeros(causes), 0.0
    for states in itertools.product((0, 1), repeat=causes):
        there = np.array(states, dtype=bool)
        not_shown = (1 - leak) * np.prod(1 - gives[:, there], axis=1)
        weight = math.prod(np.where(there, prior, 1 - prior)) * math.prod(not_shown[absent])
        weight *= math.prod(1 - not_shown[present])
        whole += weight
        on += weight * there
    return on / whole


@pytest.mark.parametrize(("net", "case"), CASES)
def test_it_agrees_with_two_general_libraries(net: dict[str, object], case: dict[str, list[float]]) -> None:
    """Every posterior of the frozen cases is met within 1e-9."""
    prior, leak, gives = numbers_of(net)
    found = look(prior, leak, gives, case["present"], case["absent"]).on[0]
    assert np.abs(found - np.array(case["posterior"])).max() < 1e-9


@pytest.mark.parametrize("case", range(300))
def test_it_agrees_with_the_full_joint(case: int) -> None:
    """On random networks of up to twelve causes every posterior is that of brute force, within 1e-9."""
    rng = np.random.default_rng(case)
    causes, signs = int(rng.integers(1, 13)), int(rng.integers(1, 15))
    prior, leak = rng.uniform(0.0005, 0.7, causes), rng.uniform(0.0005, 0.3, signs)
    gives = rng.uniform(0, 1, (signs, causes)) * (rng.random((signs, causes)) < rng.uniform(0.1, 0.9))
    order = rng.permutation(signs).tolist()
    cut = int(rng.integers(0, min(signs, 8) + 1))
    present, absent = order[:cut], order[cut : cut + int(rng.integers(0, signs - cut + 1))]
    found = look(prior, leak, gives, present, absent).on[0]
    assert np.abs(found - enumerated(prior, leak, gives, present, absent)).max() < 1e-9


@st.composite
def situations(draw: st.DrawFn) -> tuple[Numbers, Numbers, Numbers, list[int], list[int]]:
    """Draw a network with some signs there and some not."""
    causes, signs = draw(st.integers(1, 7)), draw(st.integers(1, 8))
    chance = st.floats(0.001, 0.6)
    strength = st.sampled_from([0.0, 0.0, 0.003, 0.08, 0.35, 0.75, 0.95])
    prior = np.array(draw(st.lists(chance, min_size=causes, max_size=causes)))
    leak = np.array(draw(st.lists(st.floats(0.001, 0.3), min_size=signs, max_size=signs)))
    rows = st.lists(strength, min_size=causes, max_size=causes)
    gives = np.array(draw(st.lists(rows, min_size=signs, max_size=signs)))
    said = draw(st.lists(st.sampled_from(["there", "not", "unlooked"]), min_size=signs, max_size=signs))
    present = [at for at, one in enumerate(said) if one == "there"]
    absent = [at for at, one in enumerate(said) if one == "not"]
    return prior, leak, gives, present, absent


@given(situations())
def test_probabilities_are_probabilities(situation: tuple[Numbers, Numbers, Numbers, list[int], list[int]]) -> None:
    """Every probability lies in [0, 1], and that of the evidence too."""
    found = look(*situation)
    assert ((found.on >= 0) & (found.on <= 1)).all()
    assert (found.log_evidence <= 1e-12).all()


@given(situations(), st.randoms(use_true_random=False))
def test_the_order_of_the_evidence_does_not_matter(situation, random) -> None:  # type: ignore[no-untyped-def]
    """Signs said in another order give the same probabilities."""
    prior, leak, gives, present, absent = situation
    before = look(prior, leak, gives, present, absent).on
    random.shuffle(present)
    random.shuffle(absent)
    assert np.allclose(look(prior, leak, gives, present, absent).on, before, atol=1e-12)


@given(situations())
def test_an_absent_sign_never_raises_the_cause_that_gives_it_most(situation) -> None:  # type: ignore[no-untyped-def]
    """A sign found absent does not raise a cause that gives it more than any other does, nothing else being present."""
    prior, leak, gives, present, absent = situation
    unlooked = [at for at in range(len(leak)) if at not in present and at not in absent]
    assume(unlooked)
    sign = unlooked[0]
    most = int(np.argmax(gives[sign]))
    before = look(prior, leak, gives, [], absent).on[0, most]
    assert look(prior, leak, gives, [], [*absent, sign]).on[0, most] <= before + 1e-12


@given(situations())
def test_an_absent_sign_lowers_the_only_cause_that_gives_it(situation) -> None:  # type: ignore[no-untyped-def]
    """A sign that one cause alone gives lowers it when it is absent, whatever else is present."""
    prior, leak, gives, present, absent = situation
    unlooked = [at for at in range(len(leak)) if at not in present and at not in absent]
    assume(unlooked)
    gives = gives.copy()
    gives[unlooked[0], 1:] = 0.0
    gives[unlooked[0], 0] = 0.75
    before = look(prior, leak, gives, present, absent).on[0, 0]
    assert look(prior, leak, gives, present, [*absent, unlooked[0]]).on[0, 0] < before


@given(situations())
def test_without_evidence_the_base_rates_come_back(situation) -> None:  # type: ignore[no-untyped-def]
    """Where nothing was looked at, every cause has the probability that it began with."""
    prior, leak, gives, _, _ = situation
    found = look(prior, leak, gives, [], [])
    assert np.allclose(found.on[0], prior, atol=1e-15)
    assert found.log_evidence[0] == 0


@given(situations(), st.integers(0, 6), st.floats(0.1, 5))
def test_several_rows_are_solved_as_each_alone(situation, cause: int, odds: float) -> None:  # type: ignore[no-untyped-def]
    """Rows of priors and absent signs worked out together give what each gives by itself."""
    prior, leak, gives, present, absent = situation
    other = prior.copy()
    at = cause % len(prior)
    other[at] = odds * other[at] / (1 - other[at] + odds * other[at])
    stays = np.prod(1 - gives[absent], axis=0)
    both = solve(np.array([prior, other]), np.array([stays, stays]), gives[present], leak[present])
    for row, one in enumerate((prior, other)):
        alone = solve(one, stays, gives[present], leak[present])
        assert np.allclose(both.on[row], alone.on[0], atol=1e-12)
        assert both.log_evidence[row] == pytest.approx(alone.log_evidence[0])


@given(situations())
def test_a_sign_left_out_of_a_row_is_as_if_not_looked_at(situation) -> None:  # type: ignore[no-untyped-def]
    """A row that leaves out a present sign gives what solving without that sign gives."""
    prior, leak, gives, present, absent = situation
    assume(present)
    stays = np.prod(1 - gives[absent], axis=0)
    rows = len(present)
    all_at_once = solve(np.tile(prior, (rows, 1)), stays, gives[present], leak[present], np.eye(rows, dtype=np.bool_))
    for row, sign in enumerate(present):
        rest = [one for one in present if one != sign]
        alone = look(prior, leak, gives, rest, absent)
        assert np.allclose(all_at_once.on[row], alone.on[0], atol=1e-12)
        assert all_at_once.log_evidence[row] == pytest.approx(alone.log_evidence[0], abs=1e-12)


def test_a_cause_that_gives_every_sign_is_worked_out_both_ways_with_the_same_result(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Taking such a cause as there and as not there in turn changes nothing but the time."""
    rng = np.random.default_rng(3)
    prior, leak = rng.uniform(0.01, 0.3, 9), rng.uniform(0.001, 0.1, 10)
    gives = rng.uniform(0, 1, (10, 9)) * (rng.random((10, 9)) < 0.3)
    gives[:, 4] = 0.2
    split = solve(prior, np.ones(9), gives, leak)
    monkeypatch.setattr(network, "MANY", 99)
    whole = solve(prior, np.ones(9), gives, leak)
    assert np.allclose(split.on, whole.on, atol=1e-13)
    assert np.allclose(split.on[0], enumerated(prior, leak, gives, list(range(10)), []), atol=1e-9)


def test_little_memory_gives_the_same_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the pass forward cannot be kept whole, parts of it are worked out again with the same result."""
    prior, leak, gives = numbers_of(FROZEN["nets"][1])
    case = FROZEN["nets"][1]["cases"][-1]
    whole = look(prior, leak, gives, case["present"], case["absent"])
    monkeypatch.setattr(network, "ROOM", 1)
    again = look(prior, leak, gives, case["present"], case["absent"])
    assert np.allclose(whole.on, again.on, atol=1e-13)
    assert whole.log_evidence[0] == pytest.approx(again.log_evidence[0])


def test_causes_that_share_no_sign_do_not_multiply_the_work() -> None:
    """Forty present signs in twenty groups are solved group by group, as each group alone."""
    gives = np.zeros((40, 40))
    for group in range(20):
        gives[2 * group : 2 * group + 2, 2 * group : 2 * group + 2] = [[0.9, 0.3], [0.2, 0.7]]
    found = solve(np.full(40, 0.05), np.ones(40), gives, np.full(40, 0.02)).on[0]
    alone = solve(np.full(2, 0.05), np.ones(2), gives[:2, :2], np.full(2, 0.02)).on[0]
    assert np.allclose(found.reshape(20, 2), alone, atol=1e-12)


def test_what_cannot_come_about_is_said() -> None:
    """A present sign with neither a cause nor a leak is a contradiction, not a number."""
    with pytest.raises(Contradiction):
        solve(np.array([0.1]), np.ones(1), np.zeros((1, 1)), np.zeros(1))
    with pytest.raises(Contradiction):
        solve(np.array([1.0]), np.zeros(1), np.zeros((0, 1)), np.zeros(0))
