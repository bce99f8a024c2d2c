"""Soybean plants whose disease is known, put to the network and to naive Bayes.

Plants: Michalski and Chilausky 1980, International Journal of Policy Analysis and Information Systems 4(2),
as given to the UCI Machine Learning Repository by Tan and Schlimmer in 1988; see frozen/soybean_large.md.
The published training part teaches and the published test part is judged; no number is fitted to it.

Each value of each question is a sign of its own; a blank was not looked at. A plant has one disease, so the
answer is the probability of each cause given that exactly one is there: its share of the training plants times
P(signs | that cause alone), which `solve` gives when that cause is certain and the others are not there.

Beside it stands scikit-learn's naive Bayes in the same run, smoothed as it comes and as ten folds of the training
part say. Both forms take a blank for information (an answer of its own, or no to every value). In these plants it
is: the gaps come in groups that give some diseases away. A gap on a round does not, so the network skips it; the
figures for plants without a blank show how much of the difference is that.

    python -m tests.published.soybean
"""

import csv
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray
from sklearn.naive_bayes import BernoulliNB, CategoricalNB  # type: ignore[import-untyped]

from walkabout.diagnosis.network import Numbers, solve
from walkabout.diagnosis.next_check import expected_gain

Whole = NDArray[np.int64]
Flags = NDArray[np.bool_]

PLANTS: Final = Path(__file__).with_name("frozen") / "soybean_large.csv"

LEAK: Final = 1e-6
"""P(a value is answered | no disease of the list). Assumed: next to nothing, since every plant here is ill."""

SIZES: Final = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)
"""Made-up plants that smoothing may add to each disease, spread evenly over a question's values."""

ALPHAS: Final = (0.001, 0.01, 0.03, 0.1, 0.3, 1.0)
"""Made-up plants that naive Bayes may add to each value; 1 is what scikit-learn does by itself."""

ENOUGH: Final = 10
"""Training plants that a disease needs to be among the fifteen (Tan and Eshelman 1988 took the same fifteen)."""

ASKED: Final = 5
DRAWS: Final = 5


class Plants(NamedTuple):
    """Some of the plants; `answers`: number of the value, -1 for a blank, shape (plants, questions)."""

    answers: Whole
    disease: Whole


class Survey(NamedTuple):
    """What could be asked, and the two published parts; `kinds`: how many values each question has."""

    questions: tuple[str, ...]
    diseases: tuple[str, ...]
    kinds: Whole
    train: Plants
    test: Plants

    @property
    def starts(self) -> Whole:
        """The number of each question's first sign."""
        return np.cumsum(self.kinds) - self.kinds


class Learnt(NamedTuple):
    """Strengths; `gives`: P(sign | disease), `alone`: ln P(sign | only that disease), both (signs, diseases)."""

    size: float
    base: Numbers
    gives: Numbers
    leak: Numbers
    alone: Numbers


class Score(NamedTuple):
    """How good a set of answers is: share right, log loss in nats, ten-bin calibration gap."""

    right: float
    loss: float
    gap: float


# the plants


@cache
def survey() -> Survey:
    """Read the plants. The values of a question are all those that the questionnaire was answered with."""
    with PLANTS.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    questions = tuple(name for name in rows[0] if name not in {"row", "published_split", "disease"})
    diseases = tuple(sorted({row["disease"] for row in rows}))
    values = {question: sorted({row[question] for row in rows} - {""}) for question in questions}

    def part(name: str) -> Plants:
        mine = [row for row in rows if row["published_split"] == name]
        answers = [[values[one].index(row[one]) if row[one] else -1 for one in questions] for row in mine]
        return Plants(np.array(answers), np.array([diseases.index(row["disease"]) for row in mine]))

    return Survey(questions, diseases, np.array([len(values[one]) for one in questions]), part("train"), part("test"))


@cache
def fifteen() -> Survey:
    """Return the plants of those diseases that have enough training plants to learn from."""
    whole = survey()
    often = np.flatnonzero(np.bincount(whole.train.disease, minlength=len(whole.diseases)) >= ENOUGH)

    def part(plants: Plants) -> Plants:
        mine = np.isin(plants.disease, often)
        return Plants(plants.answers[mine], np.searchsorted(often, plants.disease[mine]))

    kept = tuple(whole.diseases[at] for at in often)
    return whole._replace(diseases=kept, train=part(whole.train), test=part(whole.test))


def signs(of: Survey, answers: Whole) -> Flags:
    """Return which signs are present, shape (plants, signs)."""
    seen = np.zeros((len(answers), int(of.kinds.sum())), dtype=np.bool_)
    plants, questions = np.nonzero(answers >= 0)
    seen[plants, of.starts[questions] + answers[plants, questions]] = True
    return seen


# learning


def learn(of: Survey) -> Learnt:
    """Learn strengths from the training part, smoothed as leaving out one training plant at a time says is best."""
    seen = signs(of, of.train.answers).astype(np.float64)
    ill = np.eye(len(of.diseases))[of.train.disease]
    counts, plants = seen.T @ ill, ill.sum(axis=0)
    size = min(SIZES, key=lambda one: _left_out(of, seen, ill, one))
    gives = _strengths(of, counts, size)
    leak = np.full(len(gives), LEAK)
    alone = np.array([given_one(gives[[at]], leak[[at]]) for at in range(len(gives))])
    return Learnt(size, plants / plants.sum(), gives, leak, alone)


def given_one(gives: Numbers, leak: Numbers) -> Numbers:
    """Return ln P(present signs | only this cause) for every cause: one row of the network for each."""
    causes = gives.shape[1]
    return solve(np.eye(causes), np.ones((causes, causes)), gives, leak).log_evidence


def _strengths(of: Survey, counts: Numbers, size: float) -> Numbers:
    """Return (times seen + size / values of the question) / (times answered + size), shape (signs, diseases)."""
    answered = np.repeat(np.add.reduceat(counts, of.starts), of.kinds, axis=0)
    return (counts + size / np.repeat(of.kinds, of.kinds)[:, None]) / (answered + size)


def _left_out(of: Survey, seen: Numbers, ill: Numbers, size: float) -> float:
    """Return the log loss on each training plant of what the others teach; the only plant of its kind is left be."""
    counts, plants = seen.T @ ill, ill.sum(axis=0)
    losses = []
    for sign, disease in zip(seen, ill, strict=True):
        others = plants - disease
        if others @ disease == 0:
            continue
        fits = sign @ np.log(_strengths(of, counts - np.outer(sign, disease), size))
        weight = np.where(others > 0, fits + np.log(np.maximum(others, 1.0)), -np.inf)
        losses.append(np.logaddexp.reduce(weight) - weight[disease.argmax()])
    return float(np.mean(losses))


# answering


def exactly_one(base: Numbers, fits: Numbers) -> Numbers:
    """Return P(cause | exactly one is there), shape (plants, causes); `fits`: ln P(signs | only that cause)."""
    weight = np.log(base) + fits
    odds = np.exp(weight - weight.max(axis=1, keepdims=True))
    answer: Numbers = odds / odds.sum(axis=1, keepdims=True)
    return answer


def by_network(of: Survey, learnt: Learnt, answers: Whole) -> Numbers:
    """Answer from everything that was looked at.

    With one cause certain the signs do not depend on each other, so what each says by itself adds up. All at once
    they would be too many: each present sign that is half explained doubles the network's memory.
    """
    return exactly_one(learnt.base, signs(of, answers) @ learnt.alone)


def by_categories(of: Survey, train: Plants, answers: Whole, alpha: float) -> Numbers:
    """Answer by naive Bayes with a blank as one more answer."""
    model = CategoricalNB(alpha=alpha, min_categories=of.kinds + 1).fit(train.answers + 1, train.disease)
    return _spread(of, model.classes_, model.predict_proba(answers + 1))


def by_yes_and_no(of: Survey, train: Plants, answers: Whole, alpha: float) -> Numbers:
    """Answer by naive Bayes on a yes or no for each value; a blank is no for all of its question's values."""
    model = BernoulliNB(alpha=alpha).fit(signs(of, train.answers), train.disease)
    return _spread(of, model.classes_, model.predict_proba(signs(of, answers)))


Bayes = Callable[[Survey, Plants, Whole, float], Numbers]


def _spread(of: Survey, classes: Whole, answer: Numbers) -> Numbers:
    whole = np.zeros((len(answer), len(of.diseases)))
    whole[:, classes] = answer
    return whole


def tuned(of: Survey, bayes: Bayes) -> float:
    """Return the smoothing with the least log loss over ten folds of the training part, each disease spread evenly."""
    train = of.train
    nth = np.array([int((train.disease[:at] == ill).sum()) for at, ill in enumerate(train.disease)])
    fold = nth % 10
    several = np.bincount(train.disease)[train.disease] > 1

    def loss(alpha: float) -> float:
        answer = np.zeros((len(fold), len(of.diseases)))
        for one in range(10):
            rest = Plants(train.answers[fold != one], train.disease[fold != one])
            answer[fold == one] = bayes(of, rest, train.answers[fold == one], alpha)
        return score(answer[several], train.disease[several]).loss

    return min(ALPHAS, key=loss)


def score(answer: Numbers, disease: Whole) -> Score:
    """Return how good the answers are; the gap weighs each tenth of confidence by the plants in it."""
    right = answer.argmax(axis=1) == disease
    given = np.maximum(answer[np.arange(len(disease)), disease], 1e-15)
    sure = answer.max(axis=1)
    tenth = np.minimum((sure * 10).astype(np.int64), 9)
    gap = sum(abs(float((right[tenth == one] - sure[tenth == one]).sum())) for one in range(10)) / len(disease)
    return Score(float(right.mean()), float(-np.log(given).mean()), gap)


# one question after another


class Asker:
    """Chooses the next question for what is known so far; the same state is worked out once.

    Any number of diseases may be there while it chooses. So an answer counts for its value and against the other
    values of its question: without that nothing would speak against one more disease. (Where exactly one is there,
    the value says it all, and counting the others as well would count the answer twice.)
    """

    def __init__(self, of: Survey, learnt: Learnt) -> None:
        self.of, self.learnt = of, learnt
        self._next: dict[tuple[tuple[int, ...], frozenset[int]], int] = {}

    def after(self, known: tuple[int, ...], asked: frozenset[int]) -> int:
        """Return the question that tells most: `known` are the present signs, `asked` all questions so far."""
        state = (known, asked)
        if state not in self._next:
            self._next[state] = self._best(known, asked)
        return self._next[state]

    def _best(self, known: tuple[int, ...], asked: frozenset[int]) -> int:
        """Try every value of every open question at once.

        P(this value and no other) is P(the others absent) less P(all absent): two rows of absent signs, no new
        present one. A plant has one value of each question, so the values' shares are made to add up to one.
        """
        of, learnt = self.of, self.learnt
        left = [one for one in range(len(of.questions)) if one not in asked]
        answered = [self._without(one) for one in known]
        stays = np.prod([np.ones_like(learnt.base), *answered], axis=0)
        tried = [of.starts[one] + at for one in left for at in range(of.kinds[one])]
        others = np.array([self._without(one) for one in tried])
        none = others * (1.0 - learnt.gives[tried])
        present = np.array(known, dtype=np.int64)
        solved = solve(learnt.base, stays * np.vstack((others, none)), learnt.gives[present], learnt.leak[present])
        part = np.exp(solved.log_evidence - solved.log_evidence.max())
        (some, zero), (with_some, with_zero) = np.split(part, 2), np.split(part[:, None] * solved.on, 2)
        share = np.maximum(some - zero, 1e-15)
        after = np.clip((with_some - with_zero) / share[:, None], 0.0, 1.0)
        gains = []
        first = 0
        for one in left:
            values = slice(first, first + int(of.kinds[one]))
            gains.append(float(expected_gain(share[values] / share[values].sum(), after[values]).sum()))
            first = values.stop
        return left[int(np.argmax(gains))]

    def _without(self, sign: int) -> Numbers:
        """Return P(no other value of this sign's question | each cause alone)."""
        question = int(np.searchsorted(self.of.starts, sign, side="right")) - 1
        first = self.of.starts[question]
        others = [one for one in range(first, first + self.of.kinds[question]) if one != sign]
        absent: Numbers = np.prod(1.0 - self.learnt.gives[others], axis=0)
        return absent


def chosen(of: Survey, learnt: Learnt, answers: Whole) -> Whole:
    """Return the answers with all but the chosen questions blank; a question met by a blank is used up."""
    asker = Asker(of, learnt)
    kept = np.full_like(answers, -1)
    for plant, mine in zip(kept, answers, strict=True):
        known: tuple[int, ...] = ()
        asked: frozenset[int] = frozenset()
        for _ in range(ASKED):
            one = asker.after(known, asked)
            asked |= {one}
            plant[one] = mine[one]
            if mine[one] >= 0:
                known = tuple(sorted((*known, int(of.starts[one] + mine[one]))))
    return kept


def at_random(answers: Whole, seed: int) -> Whole:
    """Return the answers with all but some questions blank, drawn anew for each plant."""
    order = np.random.default_rng(seed).random(answers.shape).argsort(axis=1)
    return np.where(order < ASKED, answers, -1)


# the tables


def judged(of: Survey) -> dict[str, dict[str, Score]]:
    """Return the scores on the test part by method, each for all plants and for those without a blank.

    Where the training part itself says that naive Bayes is best as it comes, the two are one row.
    """
    train, test = of.train, of.test
    learnt = learn(of)
    answers = {f"network, blanks skipped (m {learnt.size:g})": by_network(of, learnt, test.answers)}
    for name, bayes in (("naive Bayes, blank an answer", by_categories), ("naive Bayes, yes and no", by_yes_and_no)):
        for alpha in (1.0, tuned(of, bayes)):
            how = "as it comes" if alpha == 1.0 else "tuned"
            answers.setdefault(f"{name}, {how} (alpha {alpha:g})", bayes(of, train, test.answers, alpha))
    full = (test.answers >= 0).all(axis=1)
    return {
        name: {"all": score(answer, test.disease), "no blank": score(answer[full], test.disease[full])}
        for name, answer in answers.items()
    }


def questioned(of: Survey) -> dict[str, Score]:
    """Return the scores on the test part after five chosen questions, five random ones (mean of draws) and all."""
    learnt, test = learn(of), of.test
    drawn = [score(by_network(of, learnt, at_random(test.answers, seed)), test.disease) for seed in range(DRAWS)]
    return {
        f"{ASKED} chosen": score(by_network(of, learnt, chosen(of, learnt, test.answers)), test.disease),
        f"{ASKED} at random, mean of {DRAWS} draws": Score(*np.mean(drawn, axis=0).tolist()),
        f"all {len(of.questions)}": score(by_network(of, learnt, test.answers), test.disease),
    }


def lines(of: Survey, scores: dict[str, dict[str, Score]]) -> Iterator[str]:
    """Yield the table of methods as text."""
    full = int((of.test.answers >= 0).all(axis=1).sum())
    taught, tested = len(of.train.disease), len(of.test.disease)
    yield f"{len(of.diseases)} diseases: learned from {taught} plants, judged on {tested}, {full} of them with no blank"
    yield f"{'':<50}{'right':>8}{'loss':>8}{'gap':>8}{'no blank: right':>18}{'loss':>8}{'gap':>8}"
    for name, by in scores.items():
        one, other = by["all"], by["no blank"]
        yield f"{name:<50}" + "".join(f"{x:8.3f}" for x in one) + f"{other[0]:18.3f}{other[1]:8.3f}{other[2]:8.3f}"


def question_lines(scores: dict[str, Score]) -> Iterator[str]:
    """Yield the table of questions as text."""
    yield f"{'questions, 19 diseases':<50}{'right':>8}{'loss':>8}{'gap':>8}"
    for name, one in scores.items():
        yield f"{name:<50}" + "".join(f"{x:8.3f}" for x in one)


def main() -> None:
    """Print all tables."""
    for of in (survey(), fifteen()):
        print("\n".join(lines(of, judged(of))), end="\n\n")
    print("\n".join(question_lines(questioned(survey()))))


if __name__ == "__main__":
    main()
