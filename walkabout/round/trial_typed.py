"""A measurement as it is typed into a trial: what it means, and whether it looks like a slip of the hand."""

import re
from collections.abc import Sequence
from datetime import date
from statistics import median

from msgspec import Struct

from walkabout.records.model_measured import Measurement, Trial
from walkabout.round.trials import days_of, on

FEW, TIMES = 3, 7
"""From so many other values on, one that is so many times larger or smaller is questioned. Assumed."""
MOST = {
    "mm": 5000, "cm": 500, "m": 5, "mg": 1_000_000, "g": 50_000, "kg": 50, "ml": 50_000, "l": 50, "cm²": 10_000,
    "%": 100, "°c": 50, "days": 366, "ph": 14,
}  # fmt: skip
"""The most that is let pass without a question, by unit: the largest a plant of a growing room comes to. Assumed."""
MOST_OF_ANY, MOST_COUNTED = 10_000, 1000
"""The same in any other unit, and of things counted on one plot. Assumed."""
NUMBER = re.compile(r"-?(\d+\.?\d*|\.\d+)", re.ASCII)


class Slip(Struct, frozen=True):
    """Why a number is questioned, and what may have been meant."""

    says: str
    perhaps: float | None = None


def slip(
    trial: Trial, value: float, of: int | None, plot: str, measured: Sequence[Measurement], day: date
) -> Slip | None:
    """Return why a typed number is questioned: far from the other plots of the day, or from the same plot before."""
    others = [one for name, one in on(measured, day).items() if name != plot and not one.excluded]
    if trial.counts == "share":
        totals = {one.of for one in others}
        if len(others) >= FEW and len(totals) == 1 and of not in totals:
            return Slip(f"The others are out of {totals.pop()}, this one is out of {of}.")
        return None
    return _below(value, measured) or _apart(trial, value, others, measured, day) or _beyond(trial, value, measured)


def _apart(
    trial: Trial, value: float, others: Sequence[Measurement], measured: Sequence[Measurement], day: date
) -> Slip | None:
    """Return why a number is far from the other plots of the day, of the days before where there are too few."""
    values = [one.value for one in others]
    if len(values) < FEW:
        before = [
            one.value for each in reversed(days_of(measured)) if each < day for one in on(measured, each).values()
        ]
        values = before[: len(trial.plots)] if len(before) >= FEW else values
    if len(values) < FEW:
        return None
    middle = median(abs(one) for one in values)
    if not middle or not value:
        return None
    times = abs(value) / middle
    if 1 / TIMES < times < TIMES:
        return None
    low, high = min(values), max(values)
    perhaps = next((one for one in (value / 10, value * 10, value / 100, value / 1000, value * 1000)
                    if low / 2 <= one <= high * 2), None)  # fmt: skip
    much = f"about {times:.0f} times" if times >= 1 else f"about a {1 / times:.0f}th of"
    meant = f" Did you mean {perhaps:g}?" if perhaps is not None else ""
    return Slip(f"{value:g} is {much} the others ({low:g} to {high:g}).{meant}", perhaps)


def _below(value: float, measured: Sequence[Measurement]) -> Slip | None:
    """Return why a number below 0 is questioned, unless one was kept before in this trial."""
    if value >= 0 or any(one.value < 0 for one in measured if not one.excluded):
        return None
    return Slip(f"{value:.10g} is below 0. Did you mean {-value:.10g}?", -value)


def _beyond(trial: Trial, value: float, measured: Sequence[Measurement]) -> Slip | None:
    """Return why a number is too large whatever the others are, unless as much was kept before in this trial."""
    kept = [one.value for one in measured if not one.excluded]
    most = MOST_COUNTED if trial.counts == "count" else MOST.get(trial.unit.strip().casefold(), MOST_OF_ANY)
    if abs(value) > most and not any(abs(one) > most for one in kept):
        unit = f" {trial.unit}" if trial.unit else ""
        return Slip(f"{value:.10g}{unit} is very much for a plant: more than {most}{unit}.")
    return None


def typed(trial: Trial, text: str, before: Measurement | None) -> tuple[float, int | None]:
    """Return what was typed into a cell: a number, or '7/10' for a share; ValueError says what would be right.

    For a share '7' alone is out of as many as the plot had before; 'y' and 'n' are 1 and 0 of 1.
    """
    text = " ".join(text.split()).replace(",", ".").replace(" of ", "/").replace(" ", "")
    if trial.counts == "share":
        if text.casefold() in ("y", "yes", "n", "no"):
            return (1.0, 1) if text.casefold().startswith("y") else (0.0, 1)
        first, slash, second = text.partition("/")
        total = second if slash else f"{before.of}" if before and before.of else ""
        if not total.isascii() or not total.isdigit() or not first.isascii() or not first.isdigit():
            raise ValueError("Type how many out of how many, such as 7/10.")
        return float(first), int(total)
    if not NUMBER.fullmatch(text):
        raise ValueError("Type a number, such as 4.2: digits and a point, nothing else.")
    return float(text), None
