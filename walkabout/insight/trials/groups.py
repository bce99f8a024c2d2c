"""What is told of a group of numbers: its facts for programs, its working, and values that lie far out."""

from typing import Any

from walkabout.insight.trials.chances import t_point
from walkabout.insight.trials.outcome import LEVEL, Group, Outlier
from walkabout.insight.trials.say import number


def group_facts(group: Group) -> dict[str, Any]:
    """Return a group as plain values: n, mean with its interval, sd, median, least and most."""
    sd = group.sd
    # Values that are all the same show no spread, so nobody can say how far their mean is to be trusted.
    half = t_point(LEVEL, group.n - 1) * sd / group.n**0.5 if sd else None
    ordered, at = sorted(group.values), group.n // 2
    median = ordered[at] if group.n % 2 else (ordered[at - 1] + ordered[at]) / 2
    return {
        "name": group.name,
        "n": group.n,
        "mean": group.mean,
        "sd": sd,
        "mean_low": None if half is None else group.mean - half,
        "mean_high": None if half is None else group.mean + half,
        "median": median,
        "least": ordered[0],
        "most": ordered[-1],
    }


def group_line(group: Group) -> str:
    """Return the working of a mean and its sd."""
    head = f"{group.name}: mean = sum/n = {number(group.mean * group.n)}/{group.n} = {number(group.mean)}"
    if group.sd is None:
        return head
    return f"{head}; sd = √(Σ (value − mean)²/(n−1)) = √({number(group.squares)}/{group.n - 1}) = {number(group.sd)}"


def far_line(one: Outlier) -> str:
    """Say how far out a value lies, and that it was kept."""
    where = f" (line {one.line})" if one.line else ""
    far = f"{number(one.value)} in {one.group}{where} lies {number(one.statistic, 3)} sd from its mean; the limit is "
    far += number(one.limit, 3)
    if one.statistic <= one.limit:
        far += ", but together with the next one it is too far out"
    return f"{far}. It was kept: look whether it was misread, and drop it only for a reason you can name."
