"""How many plots a comparison takes, in sentences, with the working, and as plain values."""

from typing import Any

from walkabout.insight.how_many import Found
from walkabout.insight.trials.power import POWER
from walkabout.insight.trials.say import number, short

SOURCE = (
    "Cohen 1988, Statistical Power Analysis for the Behavioral Sciences, 2nd edition, chapters 2, 7 and 8; "
    "Cohen 1992, Psychological Bulletin 112:155-159"
)


def facts(found: Found) -> dict[str, Any]:
    """Return what came out as JSON has it; of a ratio also the two ratios."""
    asked = found.asked
    return {
        "groups": found.groups,
        "difference": found.difference,
        "spread": asked.spread,
        "effect": found.effect,
        "level": asked.level,
        "power": found.power,
        "n": found.n,
        "exact": found.exact,
        **({"ratio": asked.ratio, "other": asked.other} if found.kinds else {}),
        "wanted": found.wanted,
        "power_reached": found.reached,
        "words": words(found),
        "working": working(found),
        "source": SOURCE,
    }


def lines(found: Found) -> list[str]:
    """Return the same as lines to read: the words, the working, the source."""
    return [*words(found), "", "Working", *(f"  {one}" for one in working(found)), "", f"Source: {SOURCE}."]


def words(found: Found) -> list[str]:
    """Return what came out in sentences, and what to bear in mind."""
    return _ratio_words(found) if found.kinds else _group_words(found)


def working(found: Found) -> list[str]:
    """Return the formulas with what was put in, and a printed figure that they agree with."""
    level = f"level {found.asked.level:g}"
    if found.kinds:
        ratio, other = found.asked.ratio, found.asked.other
        return [
            f"w = √(Σ (p − p₀)² ÷ p₀) = {number(found.effect)}, p₀ the shares of {ratio}, p those of {other}",
            f"chi-squared on {found.kinds - 1}, {level}; where {other} is the truth it is shifted by n × w²",
            _rounded(found),
            "printed for w 0.5 on 1 at a power of 0.8: 31 (Cohen 1992, table 2)",
        ]
    groups = found.groups or 2
    if groups == 2:
        return [
            _size_line(found, "d", ""),
            f"t of two groups alike in size, two-sided, {level}, on 2n − 2, shifted by d × √(n ÷ 2)",
            _rounded(found),
            "printed for d 0.5 at a power of 0.8: 64 (Cohen 1992, table 2)",
        ]
    return [
        _size_line(found, "f", f" ÷ √(2 × {groups})"),
        "that is with two groups the difference apart and the others midway, where the least can be seen",
        f"F of groups alike in size, {level}, on {groups - 1} and {groups} × (n − 1), shifted by f² × {groups} × n",
        _rounded(found),
        "printed for f 0.25, three groups and a power of 0.8: 52, before rounding 52.40 (Cohen 1992, table 2)",
    ]


def _group_words(found: Found) -> list[str]:
    asked, difference = found.asked, found.difference or 0.0
    size = short(difference)
    if asked.spread is None:
        size += " standard deviation" if size == "1" else " standard deviations"
    elif found.wanted == "difference":
        size += f" ({short(difference / asked.spread)} standard deviations)"
    between = "" if found.groups == 2 else " between the two groups furthest apart"
    each, often = f"{found.n} plots in each group", _often(found.reached)
    if found.wanted == "n":
        says = [
            f"To find a difference of {size}{between} it takes {each}, {found.n * (found.groups or 2)} in all.",
            f"A difference that large is then found {often}; a smaller one mostly stays hidden.",
        ]
    elif found.wanted == "difference":
        says = [
            f"With {each} the smallest difference{between} that is found {often} is {size}.",
            "A smaller one mostly stays hidden.",
        ]
    else:
        says = [f"With {each} a difference of {size}{between} is found {often}."]
        if found.reached < POWER:
            says.append(f"Common practice asks for {_often(POWER)}: take more plots, or treat them more alike.")
    says.append("A plot is what gets its treatment by itself: a tray of ten plants, treated as one, is one plot.")
    if asked.spread is None:
        says.append("How much plots treated alike differ (--spread) shows in an earlier trial.")
    return says


def _ratio_words(found: Found) -> list[str]:
    ratio, other = found.asked.ratio, found.asked.other
    often = f"if {other} is the truth, that is found out {_often(found.reached)}."
    if found.wanted == "n":
        says = [f"To tell {ratio} from {other}, count {found.n} plants in all: {often}"]
    else:
        says = [f"With {found.n} plants counted in all: {often}"]
        if found.reached < POWER:
            says.append(f"Common practice asks for {_often(POWER)}: count more.")
    if found.n < found.least:
        says.append(f"Below {found.least} in all, fewer than 5 of the rarest kind are expected: chi-squared is rough.")
    says.append("Seeds that do not come up may be mostly of one kind: sow more than must be counted.")
    return says


def _size_line(found: Found, name: str, more: str) -> str:
    asked = found.asked
    if asked.effect is not None:
        return f"{name} = {number(found.effect)}, as given"
    size = "difference" if asked.difference is None else number(abs(asked.difference))
    return f"{name} = {size} ÷ {number(asked.spread or 1.0)}{more} = {number(found.effect)}"


def _rounded(found: Found) -> str:
    if found.exact is None:
        return f"n = {found.n}, as given; the power is {number(found.reached, 4)}"
    return f"n = {number(found.exact, 6)}, rounded up to {found.n}; the power is then {number(found.reached, 4)}"


def _often(power: float) -> str:
    """Write a power as people count: 'about 8 times in 10', 'about 63 times in 100', 'nearly every time'."""
    times = round(100 * power)
    if times >= 100:
        return "nearly every time"
    if times < 2:
        return "hardly ever"
    return f"about {times // 10} times in 10" if times % 10 == 0 and times > 10 else f"about {times} times in 100"
