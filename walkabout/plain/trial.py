"""A trial in lines: words first, then the groups, the difference, the effect, the working, and what to bear in mind."""

from collections.abc import Sequence
from typing import Any

from walkabout.insight.trials.outcome import Outcome
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import chance, number, share, short

WIDEST = 24
"""Characters of a group's name in the table; a longer one is cut."""


def trial_lines(result: Result) -> list[str]:
    """Return a trial as lines to read."""
    outcome = result.outcome
    parts = [
        [_head(result)],
        [*([result.answer] if result.answer else []), result.words],
        _group_table(result.groups),
        _found(outcome) if outcome else [],
        ["To bear in mind", *_inside(result.notes)] if result.notes else [],
        ["Working", *_inside(result.working)],
    ]
    return [line for part in parts if part for line in (*part, "")][:-1]


def _head(result: Result) -> str:
    head = f"{result.response[:1].upper()}{result.response[1:]}"
    if result.by:
        head += f" by {result.by}"
    return f"{head}: {result.design}"


def _group_table(groups: Sequence[dict[str, Any]]) -> list[str]:
    if not groups:
        return []
    titles, cells = _columns(groups)
    names = [_cut(str(one["name"]) or "all") for one in groups]
    wide = max(5, *map(len, names))
    across = [max(len(title), *(len(row[at]) for row in cells)) for at, title in enumerate(titles)]
    rows = [f"{'group':{wide}}  " + "  ".join(f"{one:>{size}}" for one, size in zip(titles, across, strict=True))]
    rows += [
        f"{name:{wide}}  " + "  ".join(f"{one:>{size}}" for one, size in zip(row, across, strict=True))
        for name, row in zip(names, cells, strict=True)
    ]
    return ["Groups", *_inside(rows)]


def _columns(groups: Sequence[dict[str, Any]]) -> tuple[list[str], list[list[str]]]:
    if "share_of" in groups[0]:
        titles = ["n", f"share {_cut(groups[0]['share_of'])}", "95 % interval"]
        return titles, [
            [str(one["n"]), share(one["share"]), f"{share(one['share_low'])} to {share(one['share_high'])}"]
            for one in groups
        ]
    if "share" in groups[0]:
        return ["n", "share"], [[str(one["n"]), share(one["share"])] for one in groups]
    titles = ["n", "mean", "sd", "95 % interval of the mean"]
    rows = []
    for one in groups:
        span = "–" if one["mean_low"] is None else f"{short(one['mean_low'])} to {short(one['mean_high'])}"
        rows.append([str(one["n"]), number(one["mean"], 4), "–" if one["sd"] is None else short(one["sd"]), span])
    return titles, rows


def _found(outcome: Outcome) -> list[str]:
    test, lines = outcome.test, []
    if (gap := outcome.difference) is not None:
        times, points = (100, " percentage points") if "share" in gap.kind else (1, "")
        low, high = (None if one is None else short(times * one) for one in (gap.low, gap.high))
        span = "" if low is None else f" ({gap.level * 100:.0f} % interval {low} to {high})"
        lines.append(f"difference  {gap.of}, {gap.kind}: {short(times * gap.value)}{points}{span}")
    if outcome.difference is None:
        lines += [
            f"difference  {one.of}: {short(one.value)} ({short(one.low)} to {short(one.high)}), {chance(one.p)}"
            for one in outcome.pairs
        ]
    if (effect := outcome.effect) is not None:
        span = "" if effect.low is None else f" ({short(effect.low)} to {short(effect.high)})"
        lines.append(f"effect      {effect.name}: {short(effect.value)}{span}")
    df = test.df
    freedom = "" if df is None else f" on {' and '.join(map(number, df if isinstance(df, tuple) else (df,)))}"
    statistic = "" if test.statistic is None else f"{number(test.statistic)}{freedom}, "
    counted = "" if test.judged == test.p else f" by a curve, {chance(test.judged)} by counting"
    lines.append(f"test        {test.name}: {statistic}{chance(test.p)}{counted}")
    return ["What was found", *_inside(lines)]


def _inside(lines: Sequence[str]) -> list[str]:
    return [f"  {line}" for line in lines]


def _cut(text: str) -> str:
    return text if len(text) <= WIDEST else f"{text[: WIDEST - 1]}…"
