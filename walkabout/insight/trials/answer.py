"""The answer in one line, before anything else is said: what was seen, and whether chance alone could make it."""

import re
from collections.abc import Sequence

from walkabout.insight.trials.could import named
from walkabout.insight.trials.design import unit_of
from walkabout.insight.trials.fits import Fit
from walkabout.insight.trials.outcome import ALPHA, Outcome
from walkabout.insight.trials.say import number, short
from walkabout.insight.trials.words import NARROW


def answer(outcome: Outcome, response: str, doubt: str = "") -> str:
    """Return what a trial shows in a sentence or two; `doubt` is what speaks against it, '' for nothing.

    The interval, the chance and what was not shown are for the words: this claims no more than they do.
    """
    if "ratio" in outcome.more:
        return " ".join(one for one in (_ratio(outcome), doubt) if one)
    return f"{_seen(outcome, response)} {_judged(outcome, doubt)}"


def fit_answer(fits: Sequence[tuple[str, Fit]], response: str, over: str) -> str:
    """Return what fitted lines or curves show, each with the name of its group: the slope, or where it heads."""
    unit, said = unit_of(response), []
    for name, found in fits:
        head = f"{name}: " if name else ""
        if found.curve == "line":
            slope = found.terms[1].value
            way = "rises" if slope > 0 else "falls"
            line = f"{head}{response} {way} by {short(abs(slope))}{unit} for each 1 of {over}."
            said.append(line[:1].upper() + line[1:])
            if found.p is not None:
                near = "just " if abs(found.p - ALPHA) <= NARROW else ""
                said.append(
                    f"That is {near}more than chance makes."
                    if found.p < ALPHA
                    else f"Chance alone could {near}make that, so no slope is shown."
                )
        else:
            said.append(f"{head}the curve ({found.curve}) heads for {short(found.terms[0].value)}{unit} of {response}.")
    return " ".join(one[:1].upper() + one[1:] for one in said)


def _seen(outcome: Outcome, response: str) -> str:
    unit = unit_of(response)
    what = re.sub(r"\s*[(\[][^()\[\]]*[)\]]\s*$", "", response) if unit else response
    head = what[:1].upper() + what[1:]
    gap = outcome.difference
    if gap is None:
        if outcome.pairs:
            widest = max(outcome.pairs, key=lambda one: abs(one.value))
            return (
                f"{head}: {_apart(named(widest.first), named(widest.second), widest.value, unit)}, the widest of all."
            )
        return f"{head}: the groups are not all alike."
    first, second = named(gap.first), named(gap.second)
    value = gap.value
    if "share" in gap.kind:
        value, unit = 100 * value, " %"
    if gap.kind.startswith("share of "):
        head = gap.kind[:1].upper() + gap.kind[1:]
    unit = " percentage points" if unit == " %" else unit
    if not value:
        return f"{head}: no difference was seen between {first} and {second}."
    middle = (
        "typically" if gap.kind.startswith("shift") else "as counted" if head.startswith("Share of ") else "on average"
    )
    return f"{head}: {_apart(first, second, value, unit)} {middle}."


def _apart(first: str, second: str, value: float, unit: str) -> str:
    return f"{first} is {short(abs(value))}{unit} {'above' if value > 0 else 'below'} {second}"


def _judged(outcome: Outcome, doubt: str) -> str:
    if doubt:
        return "Whether that is more than chance is in doubt: two tests read it differently."
    p, gap = outcome.test.judged, outcome.difference
    reaches = gap is not None and gap.low is not None and gap.high is not None and gap.low <= 0 <= gap.high
    just = "just " if abs(p - ALPHA) <= NARROW or (p < ALPHA and reaches) else ""
    if p < ALPHA:
        return f"That is {just}more than chance makes."
    return f"Chance alone could {just}make that, so nothing is shown."


def _ratio(outcome: Outcome) -> str:
    names, counts = outcome.more["outcomes"], outcome.more["counts"]
    parts = ":".join(number(one) for one in outcome.more["ratio"])
    seen = f"{' : '.join(names)} came {' : '.join(map(str, counts))}."
    near = abs(outcome.test.p - ALPHA) <= NARROW
    fits = outcome.test.p >= ALPHA
    goes = ("just goes" if near else "goes") if fits else ("does not quite go" if near else "does not go")
    return f"{seen[:1].upper()}{seen[1:]} That {goes} with {parts}."
