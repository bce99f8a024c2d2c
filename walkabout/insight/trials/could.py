"""What a trial that showed nothing could have shown: how large a difference it would have found four times in five."""

import math

from walkabout.insight.trials.counted import Counted
from walkabout.insight.trials.design import Trial, unit_of
from walkabout.insight.trials.least import BY_CURVE, least_p
from walkabout.insight.trials.outcome import ALPHA, Outcome
from walkabout.insight.trials.power import POWER, smallest_difference, smallest_f, smallest_paired
from walkabout.insight.trials.say import count, number, share, short
from walkabout.insight.trials.table import as_number
from walkabout.insight.trials.two_groups import differences

MORE_PLOTS = "More plots would show smaller differences."


def could_show(trial: Trial, outcome: Outcome, response: str) -> str:
    """Say how large a difference the trial would have found four times in five, by tests that go by means and spread.

    Of those that count orders only whether so many values could have shown anything.
    """
    if outcome.test.key not in BY_CURVE:
        least = least_p(trial, outcome.test.key)
        if least < ALPHA:
            return MORE_PLOTS
        return (
            f"With so few values this test cannot give a p below {number(least, 2)}, whatever they are: it wants more."
        )
    shares = outcome.difference is not None and outcome.difference.kind.startswith("mean share")
    unit, times = (" percentage points", 100) if shares else (unit_of(response), 1)
    groups = trial.groups
    often = f"found {round(POWER * 5)} times in 5"
    if trial.design == "paired":
        gaps = differences(*groups)
        least, n = smallest_paired(gaps.n), count(gaps.n, "pair")
        far = f"{short(times * least * (gaps.sd or 0))}{unit}"
        return f"With {n} only a mean difference of about {far} or more would be {often}."
    freedom = sum(one.n for one in groups) - len(groups)
    sd = math.sqrt(math.fsum(one.squares for one in groups) / freedom) if freedom else 0.0
    if trial.design == "blocked" or not sd:
        return MORE_PLOTS
    if len(groups) == 2:
        least = smallest_difference(groups[0].n, groups[1].n)
        n = f"{groups[0].n} and {groups[1].n} values"
        return f"With {n} only a difference of about {short(times * least * sd)}{unit} or more would be {often}."
    even = len(groups) / math.fsum(1 / one.n for one in groups)
    if even < 2:
        return MORE_PLOTS
    # The widest pair of means apart, the others between them: the least f for its distance (Cohen 1988, section 8.2).
    least = smallest_f(len(groups), even) * math.sqrt(2 * len(groups))
    n = f"about {even:.0f} values in each"
    return f"With {n}, groups would have to lie about {short(times * least * sd)}{unit} apart to be {often}."


def share_could_show(counted: Counted) -> str:
    """Say what share the first group would have needed, by Cohen's h, to be told from the second."""
    (_, first), (name, second) = zip(counted.groups, counted.table, strict=True)
    n1, n2 = sum(first), sum(second)
    base = second[counted.told] / n2
    # 1.96 and 0.84: the normal points for a two-sided 5 % and a power of 80 %.
    step = (1.96 + 0.8416) * math.sqrt(1 / n1 + 1 / n2)
    angle = 2 * math.asin(math.sqrt(base))
    ends = [share(math.sin(end / 2) ** 2) for end in (angle - step, angle + step) if 0 <= end <= math.pi]
    if not ends:
        return f"With {n1} and {n2} counted, hardly any difference could have been shown."
    if len(ends) == 2:
        far = f"below about {ends[0]} or above about {ends[1]}"
    else:
        far = f"{'below' if angle - step >= 0 else 'above'} about {ends[0]}"
    return f"Against {share(base)} in {named(name)}, only a share {far} would be found 4 times in 5."


def named(name: str) -> str:
    """Put marks about a name that is a number: two with a minus between them would read as a sum."""
    return name if as_number(name) is None else f'"{name}"'
