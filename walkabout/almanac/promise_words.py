"""What is said of a promise, in one or two short sentences."""

from datetime import date
from math import floor

from walkabout.almanac.model import Outlook
from walkabout.almanac.promise_case import Case
from walkabout.almanac.work_back import said
from walkabout.growing.counting import noun, unit_word
from walkabout.growing.crops import Crop
from walkabout.records.model import Amount

_WORDS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def says_of(
    one: Case,
    expected: float,
    outlook: Outlook,
    *,
    nothing: bool,
    sow: tuple[int, date] | None,
    late: bool,
    sowable: bool,
) -> str:
    """Say how a promise stands: what is in hand, what is missing, and what must be sown by when.

    `nothing`: nothing of it grows; `sow`: how many and by which day; `late`: enough stand, but may not be ready;
    `sowable`: what is sown late may still be ready.
    """
    day, sowing = said(one.promise.day), f"sow {sow[0]:,} by {said(sow[1])}" if sow else ""
    if nothing and sow:
        return f"Nothing is sown yet: {sowing}."
    if nothing and sowable:
        return f"Nothing is sown yet, and it is late: what is sown now may not be ready by {day}."
    if nothing:
        return f"Nothing is sown, and it is too late for {day}."
    if one.plots and all(plot.over(one.promise.day) for plot in one.plots):
        says = f"What stands of it will be past its best by {day}."
    elif outlook == "cannot":
        return f"Nothing of it can be ready by {day}."
    elif late and one.plots and all(plot.best(one.promise.day) < 1 for plot in one.plots):
        says = f"Enough {plants(one)} stand for it, but they may be past their best by {day}."
    elif late:
        says = f"Enough {plants(one)} stand for it, but they may not be ready by {day}."
    else:
        says = _counted(one, expected)
    return f"{says[:-1]}; {sowing}." if sow else says


def _counted(one: Case, expected: float) -> str:
    """Say how many of how many are likely, in whole heads and portions, and in tens of grams."""
    unit, wanted = one.promise.unit, one.promise.amount
    likely = floor(expected / 10 + 0.5) * 10.0 if unit == "g" and expected >= 100 else float(floor(expected + 0.5))
    if likely >= wanted:
        be = "are" if unit != "g" else "is"
        return f"{amount_in(likely, unit, one.crop)} {be} likely, for {_number(wanted)} promised."
    missing = wanted - likely
    of = f"{_number(likely)} of {amount_in(wanted, unit, one.crop)}"
    if unit == "g":
        return f"{of} are likely; {amount_in(missing, unit, one.crop)} are missing."
    be = "is" if missing == 1 else "are"
    return f"{of} {'is' if likely == 1 else 'are'} likely; {in_words(missing)} {be} missing."


def amount_in(amount: float, unit: Amount, crop: Crop | None = None) -> str:
    """Write an amount in its unit: '24 heads', '1 portion', '1,250 g'; of small greens '2 trays'."""
    return f"{_number(amount)} {unit_word(unit, crop, amount)}"


def in_words(count: float) -> str:
    """Write a small whole number as a word."""
    return _WORDS[int(count)] if count == int(count) and 0 <= count < len(_WORDS) else _number(count)


def plants(one: Case) -> str:
    """Name what is counted of a crop."""
    return unit_word("heads", one.crop) if one.promise.unit == "heads" else noun(one.crop)


def _number(value: float) -> str:
    rounded = round(value, 1)
    return f"{rounded:,.0f}" if rounded == int(rounded) else f"{rounded:,.1f}"
