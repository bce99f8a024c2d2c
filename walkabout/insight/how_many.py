"""How many plots a comparison takes, and what so many could show: of size of effect, chance and number, the third."""

import math
from typing import Literal

from msgspec import Struct

from walkabout.insight.trials import power as chances
from walkabout.insight.trials.outcome import ALPHA
from walkabout.insight.trials.ratio import read_ratio
from walkabout.insight.trials.say import short

LEAST, MOST = 0.001, 1000
"""The effects that can be planned for: beyond them it takes millions of plots, or no test."""
LEVEL = 1e-6
"""The lowest level: below it the chances leave the numbers that a machine has."""
FEWEST_OF_RAREST = 5
"""Expected of the rarest kind, below which chi-squared is rough: Cochran 1954, Biometrics 10:417-451."""


class Asked(Struct, frozen=True):
    """What somebody gives; None for what is left out. `level` and `power` are chances from 0 to 1.

    `difference` and `spread` have one unit; `effect` stands for both. `n` is of each group, beside a ratio in all.
    """

    difference: float | None = None
    spread: float | None = None
    effect: float | None = None
    groups: int | None = None
    power: float | None = None
    level: float = ALPHA
    n: int | None = None
    ratio: str | None = None
    other: str | None = None


class Found(Struct, frozen=True, kw_only=True):
    """What came out. `n` is of each group, of a ratio in all; `exact` is n before it was rounded up, None if given.

    `difference` is in the unit of the spread, or in standard deviations where there is none. `effect` is Cohen's d of
    two groups, f of more, w of a ratio. `power` is the chance that was asked for, or that came out; `reached` what n
    plots have.
    """

    asked: Asked
    wanted: Literal["n", "difference", "power"]
    effect: float
    power: float
    n: int
    exact: float | None
    reached: float
    groups: int | None = None
    difference: float | None = None
    kinds: int = 0
    """How many parts a ratio has; 0 without one."""
    least: int = 0
    """Of a ratio: how many in all before five of the rarest kind are expected."""


def worked_out(asked: Asked) -> Found:
    """Return what was not given; ValueError in one line for what cannot be reckoned with. Slow: it loads scipy."""
    _must_be_chances(asked)
    if asked.power is not None and asked.n is not None and _sized(asked):
        raise ValueError("A difference, --n and --power are one too many: leave one out, and it is worked out")
    if asked.ratio is not None or asked.other is not None:
        return _of_ratio(asked)
    _must_be_sizes(asked)
    return _of_groups(asked)


def _of_groups(asked: Asked) -> Found:
    groups = asked.groups or 2
    # The widest pair of means apart, the others midway: the least f for its distance (Cohen 1988, section 8.2).
    apart = 1.0 if groups == 2 else math.sqrt(2 * groups)
    level, power = asked.level, asked.power or chances.POWER
    effect = _effect(asked, apart, "d" if groups == 2 else "f")
    wanted: Literal["n", "difference", "power"] = "n" if asked.n is None else "power"
    exact = None
    if asked.n is not None:
        n = asked.n
    else:
        exact = _exact(effect, groups, level, power)
        n = chances.plants(exact)
    if effect is None:
        wanted = "difference"
        effect = _smallest(groups, n, level, power)
    reached = _reached(effect, groups, n, level)
    return Found(
        asked=asked,
        wanted=wanted,
        effect=effect,
        power=reached if wanted == "power" else power,
        n=n,
        exact=exact,
        reached=reached,
        groups=groups,
        difference=abs(asked.difference) if asked.difference is not None else effect * apart * (asked.spread or 1.0),
    )


def _effect(asked: Asked, apart: float, name: str) -> float | None:
    """Return Cohen's d or f; None where it is to be found."""
    if asked.effect is None and asked.difference is None:
        return None
    effect = abs(asked.difference or 0.0) / (asked.spread or 1.0) / apart if asked.effect is None else abs(asked.effect)
    if not LEAST <= effect <= MOST:
        raise ValueError(f"That is {name} = {short(effect)}: from {LEAST:g} to {MOST:g} it can be planned for")
    return effect


def _exact(effect: float | None, groups: int, level: float, power: float) -> float:
    if effect is None:
        raise ValueError("Give --difference, with --spread; or --n for the smallest difference that so many would find")
    if groups == 2:
        return chances.n_for_difference(effect, level, power)
    return chances.n_for_groups(effect, groups, level, power)


def _smallest(groups: int, n: int, level: float, power: float) -> float:
    if groups == 2:
        return chances.smallest_difference(n, n, level, power)
    return chances.smallest_f(groups, n, level, power)


def _reached(effect: float, groups: int, n: int, level: float) -> float:
    if groups == 2:
        return chances.power_of_difference(effect, n, n, level)
    return chances.power_of_groups(effect, groups, n, level)


def _of_ratio(asked: Asked) -> Found:
    if asked.ratio is None or asked.other is None:
        raise ValueError("Counts take both --ratio and --other: the one that is expected, and the one to tell it from")
    measured = {
        "--difference": asked.difference,
        "--spread": asked.spread,
        "--effect": asked.effect,
        "--groups": asked.groups,
    }
    for name, value in measured.items():
        if value is not None:
            raise ValueError(f"{name} is for measured values: leave it out beside --ratio")
    parts, other = _both_parts(asked.ratio, asked.other)
    w, df = chances.ratio_apart(parts, other), len(parts) - 1
    if w < LEAST:
        raise ValueError(f"--ratio {asked.ratio} and --other {asked.other} are alike: no count tells them apart")
    power = asked.power or chances.POWER
    exact = chances.n_for_w(w, df, asked.level, power) if asked.n is None else None
    n = chances.plants(exact) if exact is not None else asked.n or 0
    reached = chances.power_of_w(w, df, n, asked.level)
    return Found(
        asked=asked,
        wanted="n" if asked.n is None else "power",
        effect=w,
        power=power if asked.n is None else reached,
        n=n,
        exact=exact,
        reached=reached,
        kinds=len(parts),
        least=math.ceil(FEWEST_OF_RAREST * sum(parts) / min(parts) - 1e-9),
    )


def _both_parts(ratio: str, other: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the parts of both ratios in one order: that of the first, where both have names."""
    (names, parts), (others, found) = _parts("--ratio", ratio), _parts("--other", other)
    if len(parts) != len(found):
        raise ValueError(
            f"--ratio {ratio} has {len(parts)} parts, --other {other} has {len(found)}: as many are wanted"
        )
    if names and others:
        if set(names) != set(others):
            raise ValueError(f"--ratio names {', '.join(names)}, --other {', '.join(others)}: they must be the same")
        found = tuple(found[others.index(name)] for name in names)
    return parts, found


def _parts(option: str, text: str) -> tuple[tuple[str, ...], tuple[float, ...]]:
    found = read_ratio(text)
    if found is None:
        raise ValueError(f'{option} "{text}" is no ratio. Write it as 3:1 or 9:3:3:1')
    return found


def _must_be_sizes(asked: Asked) -> None:
    if asked.spread is not None and not (math.isfinite(asked.spread) and asked.spread > 0):
        raise ValueError(f"--spread {asked.spread:g} cannot be: plots treated alike differ, so it is above 0")
    if asked.effect is not None and (asked.difference is not None or asked.spread is not None):
        raise ValueError("--effect stands for --difference and --spread together: give it alone, or those two")
    size = asked.effect if asked.effect is not None else asked.difference
    if size is not None and not (math.isfinite(size) and size):
        raise ValueError("The difference worth finding is a number, and not 0")


def _must_be_chances(asked: Asked) -> None:
    for name, value in (("--level", asked.level), ("--power", asked.power)):
        if value is not None and not 0 < value < 1:
            right = f": for {value:g} % write {value / 100:g}" if 1 <= value < 100 else ": it lies between 0 and 1"
            raise ValueError(f"{name} {value:g} is no chance{right}")
    if asked.level < LEVEL:
        raise ValueError(f"--level {asked.level:g} is lower than can be reckoned with: at least 0.000001")
    power = chances.POWER if asked.power is None else asked.power
    if power <= asked.level:
        raise ValueError(f"The power, {power:g}, must be above the level, {asked.level:g}")


def _sized(asked: Asked) -> bool:
    return any(one is not None for one in (asked.difference, asked.effect, asked.ratio))
