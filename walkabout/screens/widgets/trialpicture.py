"""The pictures of a trial, and the same in words: all plots with means and intervals; growth by day with its curves."""

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec.structs import replace
from textual.content import Content
from textual.geometry import Size

from walkabout.insight.trials.say import number
from walkabout.screens.text import plain
from walkabout.screens.widgets.plot import Picture, Row, Span
from walkabout.screens.widgets.ticks import Tick, numbers

POINT, MEAN, FAR, OUT, WANTED = "•", "◆", "○", "×", "+"
GLYPHS = ("•", "▲", "■", "◆", "+", "▼", "#", "%")
"""One for each treatment, told apart without colour."""
STYLES = ("accent-text", "good", "watch", "act", "words")
ASIDE = 0.3
"""How far right of its points a mean stands; treatments stand 1 apart."""
SPREAD, ASIDES = 0.08, (0, -1, 1, -2, 2, -3, -4, -5)
"""How far equal values stand apart, so that each is seen, and in which order they step aside; the mean stands right."""

LONGEST_UNIT = 4
"""Characters of a unit that still stands beside the picture."""


def points(
    groups: Sequence[Mapping[str, Any]],
    values: Mapping[str, Sequence[float]],
    out: Mapping[str, Sequence[float]],
    far: Mapping[str, Sequence[float]],
    unit: str,
    size: Size,
) -> Picture:
    """Return every value of every treatment, with mean and interval beside it.

    `groups` are those of a result; `out` the values left out, `far` those far from the others, by treatment. Values
    that would stand in the same cell of a picture of this `size` stand beside each other.
    """
    every = [one for each in (*values.values(), *out.values()) for one in each]
    cell = (max(every) - min(every)) * 1.16 / max(size.height - 2, 4) if every else 1.0
    shares = any(one.get("share") is not None for one in groups)
    rows, spans = [], []
    for at, one in enumerate(groups):
        name, style = one["name"], STYLES[at % len(STYLES)]
        odd = list(far.get(name, ()))
        usual = []
        for value in values.get(name, ()):
            if value in odd:
                odd.remove(value)
            else:
                usual.append(value)
        rows.append(Row(_beside(at, usual, cell), style, line=False, glyph=POINT))
        rows.append(Row(_beside(at, far.get(name, ()), cell), style, line=False, glyph=FAR))
        rows.append(Row(_beside(at, out.get(name, ()), cell), "muted", line=False, glyph=OUT))
        middle = 100 * one["share"] if shares else one["mean"]
        low, high = (one.get("share_low"), one.get("share_high")) if shares else (one["mean_low"], one["mean_high"])
        if low is not None and high is not None:
            scale = 100 if shares else 1
            spans.append(Span(at + ASIDE, scale * low, scale * high, "words"))
        rows.append(Row(((at + ASIDE, middle),), "words", line=False, glyph=MEAN))
    every = [y for row in rows for _, y in row.points] + [y for span in spans for y in (span.low, span.high)]
    room = max((size.width - 8) // max(len(groups), 1) - 2, 3)
    y = _ends(every)
    return Picture(
        rows=tuple(rows),
        spans=tuple(spans),
        x=(-0.5, len(groups) - 1 + 0.6),
        y=y,
        x_ticks=tuple((float(at), _short(one["name"], room)) for at, one in enumerate(groups)),
        y_ticks=_scale(y, unit),
        text=" ".join(group_says(one, unit) for one in groups),
    )


def shares(
    groups: Sequence[Mapping[str, Any]], trays: Mapping[str, Sequence[int]], expected: Sequence[float], size: Size
) -> Picture:
    """Return the share of each kind in per cent: of each tray, of all with its interval, and as the ratio has it.

    `expected` are the shares of the ratio, from 0 to 1, in the order of the kinds.
    """
    values = {
        one["name"]: [100 * seen[at] / sum(seen) for seen in trays.values() if sum(seen)]
        for at, one in enumerate(groups)
    }
    picture = points(groups, values if len(trays) > 1 else {}, {}, {}, "%", size)
    wanted = tuple((at - ASIDE, 100 * share) for at, share in enumerate(expected))
    every = [y for row in picture.rows for _, y in row.points] + [y for _, y in wanted]
    y = _ends([*every, *(end for span in picture.spans for end in (span.low, span.high))])
    rows = (*picture.rows, Row(wanted, "accent-text", line=False, glyph=WANTED))
    return replace(picture, rows=rows, y=y, y_ticks=_scale(y, "%"))


def growth(
    series: Mapping[str, Sequence[tuple[float, float]]], curves: Mapping[str, Sequence[tuple[float, float]]], unit: str
) -> Picture:
    """Return the values by day for each treatment, with its fitted curve, or else with a line through the means."""
    rows = []
    for at, (name, pairs) in enumerate(series.items()):
        style = STYLES[at % len(STYLES)]
        line = tuple(curves.get(name, ())) or tuple(means(pairs))
        rows.append(Row(line, style))
        rows.append(Row(tuple(pairs), style, line=False, glyph=GLYPHS[at % len(GLYPHS)]))
    every = [pair for pairs in series.values() for pair in pairs]
    y, last = _ends([value for _, value in every]), max((day for day, _ in every), default=1.0)
    x = (-0.02 * last, 1.02 * last) if last else (-1.0, 1.0)
    return Picture(
        rows=tuple(rows),
        x=x,
        y=y,
        x_ticks=tuple((at, f"day {says}") for at, says in numbers(0, max(last, 1), 5)),
        y_ticks=_scale(y, unit),
        text=" ".join(growth_says(name, pairs, unit) for name, pairs in series.items()),
    )


def means(pairs: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the mean of each day."""
    by: dict[float, list[float]] = {}
    for day, value in pairs:
        by.setdefault(day, []).append(value)
    return [(day, sum(by[day]) / len(by[day])) for day in sorted(by)]


def group_says(one: Mapping[str, Any], unit: str) -> str:
    """Say a treatment's values in a sentence."""
    after = f" {unit}" if unit else ""
    if one.get("share") is not None:
        of = f" of {one['n']}" if "share_of" in one else " of all"
        many = "" if "share_of" in one else f"{one['n']}, "
        return (
            f"{one['name']}: {many}{number(100 * one['share'], 3)} %{of} (95 % interval "
            f"{number(100 * one['share_low'], 3)} to {number(100 * one['share_high'], 3)} %)."
        )
    ends = f"{number(one['least'], 4)} to {number(one['most'], 4)}{after}"
    mean = f"mean {number(one['mean'], 4)}{after}"
    if one["n"] == 1:
        return f"{one['name']}: 1 value, {number(one['mean'], 4)}{after}."
    if one["mean_low"] is None:
        return f"{one['name']}: {one['n']} values, all {number(one['mean'], 4)}{after}: no spread, so no interval."
    interval = f"95 % interval {number(one['mean_low'], 4)} to {number(one['mean_high'], 4)}"
    return f"{one['name']}: {one['n']} values from {ends}; {mean} ({interval})."


def growth_says(name: str, pairs: Sequence[tuple[float, float]], unit: str) -> str:
    """Say a treatment's means by day in a sentence."""
    after = f" {unit}" if unit else ""
    each = ", ".join(f"{number(mean, 3)}{after} on day {day:g}" for day, mean in means(pairs))
    return f"{name}: on average {each}."


def legend(*, far: bool, out: bool) -> Content:
    """Say what the glyphs of the points are."""
    parts = [f"{POINT} a plot", f"{MEAN} mean, 95 % interval"]
    parts += [f"{FAR} far from others"] if far else []
    parts += [f"{OUT} left out"] if out else []
    return plain("   ".join(parts), "$muted")


def ratio_legend(tray: str, ratio: str, *, several: bool) -> Content:
    """Say what the glyphs of a ratio are."""
    parts = [f"{POINT} a {tray}"] if several else []
    return plain("   ".join([*parts, f"{MEAN} all, 95 % interval", f"{WANTED} by {ratio}"]), "$muted")


def growth_legend(names: Sequence[str], curve: str) -> Content:
    """Say which glyph is which treatment."""
    parts = []
    for at, name in enumerate(names):
        parts += [plain(f"{GLYPHS[at % len(GLYPHS)]} ", f"${STYLES[at % len(STYLES)]}"), plain(f"{name}   ", "$muted")]
    return Content("").join([*parts, plain(f"line: {curve}", "$muted")])


def _beside(at: int, values: Sequence[float], cell: float) -> tuple[tuple[float, float], ...]:
    """Return the values at their place; those that are nearer than a cell stand beside each other."""
    seen: dict[int, int] = {}
    found = []
    for value in values:
        row = round(value / cell) if cell else 0
        many = seen.get(row, 0)
        seen[row] = many + 1
        found.append((at + ASIDES[many % len(ASIDES)] * SPREAD, value))
    return tuple(found)


def _scale(y: tuple[float, float], unit: str) -> tuple[Tick, ...]:
    """Return the numbers beside the picture with their unit; a long one would take too much of the picture."""
    after = f" {unit}" if 0 < len(unit) <= LONGEST_UNIT else ""
    return tuple((at, f"{says}{after}") for at, says in numbers(*y, 5))


def _ends(values: Sequence[float]) -> tuple[float, float]:
    if not values:
        return 0.0, 1.0
    low, high = min(values), max(values)
    room = (high - low) * 0.08 or abs(high) * 0.1 or 1.0
    return (0.0 if 0 <= low < room else low - room), high + room


def _short(text: str, room: int) -> str:
    return Content(text).truncate(room, ellipsis=True).plain
