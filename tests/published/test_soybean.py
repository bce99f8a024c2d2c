"""The network on plants whose disease is known, beside scikit-learn's naive Bayes in the same run.

Plants: Michalski and Chilausky 1980 (frozen/soybean_large.md). The tables: `pytest -n 0 -s` on this file. It is one
crop in the open, so it judges the engine; it says nothing about how well the room's own causes are known.
"""

import numpy as np
import pytest

from tests.published.soybean import (
    Survey,
    fifteen,
    given_one,
    judged,
    learn,
    lines,
    question_lines,
    questioned,
    signs,
    survey,
)

WHICH = pytest.mark.parametrize("of", [survey(), fifteen()], ids=["19 diseases", "15 diseases"])


def test_the_plants_are_the_published_ones() -> None:
    """307 plants to learn from and 376 to judge, as published; 290 and 340 of fifteen diseases."""
    whole, often = survey(), fifteen()
    assert (len(whole.questions), len(whole.diseases), len(often.diseases)) == (35, 19, 15)
    assert (len(whole.train.disease), len(whole.test.disease)) == (307, 376)
    assert (len(often.train.disease), len(often.test.disease)) == (290, 340)
    blanks = np.vstack((whole.train.answers, whole.test.answers)) < 0
    assert (int(blanks.sum()), int(blanks.any(axis=1).sum())) == (2337, 121)


def test_with_one_cause_certain_signs_add_up() -> None:
    """A dozen present signs solved together weigh what each weighs by itself, for every cause."""
    whole = survey()
    learnt = learn(whole)
    for plant in signs(whole, whole.test.answers[::94]):
        present = np.flatnonzero(plant)[::2][:12]
        together = given_one(learnt.gives[present], learnt.leak[present])
        assert together == pytest.approx(learnt.alone[present].sum(axis=0), abs=1e-9)


@WHICH
def test_is_as_good_as_naive_bayes_as_it_comes(of: Survey) -> None:
    """Right at least as often, with no more log loss and no wider gap than the better of two forms of naive Bayes.

    On 19 diseases it is a tie in how many are right: 335 of 376 each. On 15 it is 312 of 340 against 308.
    """
    scores = judged(of)
    print("", *lines(of, scores), sep="\n")
    ours = next(by["all"] for name, by in scores.items() if name.startswith("network"))
    plain = [by["all"] for name, by in scores.items() if "as it comes" in name]
    assert len(plain) == 2
    assert ours.right >= max(one.right for one in plain)
    assert ours.loss <= min(one.loss for one in plain)
    assert ours.gap <= min(one.gap for one in plain)


@WHICH
def test_tuned_naive_bayes_is_ahead_only_by_what_the_gaps_give_away(of: Survey) -> None:
    """Without blanks at most a point fewer are right, and log loss is less; with them at most four points fewer.

    Tuned naive Bayes gets every plant with a blank right (80 of 80 when this was written): it learns which disease
    was written down with which gaps.
    """
    scores = judged(of)
    ours = next(by for name, by in scores.items() if name.startswith("network"))
    bayes = [by for name, by in scores.items() if name.startswith("naive Bayes")]
    assert ours["no blank"].right >= max(by["no blank"].right for by in bayes) - 0.01
    assert ours["no blank"].loss < min(by["no blank"].loss for by in bayes)
    assert ours["all"].right >= max(by["all"].right for by in bayes) - 0.04
    assert ours["all"].loss <= min(by["all"].loss for by in bayes) + 0.005


def test_five_chosen_questions_do_nearly_as_well_as_all() -> None:
    """Five chosen one step ahead beat five at random by 30 points and come within 8 points of all 35.

    For comparison: naive Bayes choosing by entropy got .872 with five, .476 at random and .915 with all.
    """
    scores = questioned(survey())
    print("", *question_lines(scores), sep="\n")
    best, random, everything = scores.values()
    assert best.right >= random.right + 0.30
    assert best.loss < random.loss
    assert best.right >= everything.right - 0.08
