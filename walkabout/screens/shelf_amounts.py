"""What is typed about supplies: amounts, and words that may not be empty."""

import math
from collections.abc import Callable

from walkabout.insight.shelf import MOST
from walkabout.screens.widgets.asking import Checked


def amount_in(
    alone: float | None, *, above: bool = False, most: float = MOST, whole: bool = False
) -> Callable[[str], Checked]:
    """Return what reads a number from 0, or above it, to `most`; `alone`: what enter alone means, None for nothing."""

    def check(text: str) -> Checked:
        if not text and alone is not None:
            return Checked(alone)
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        fits = (value > 0 if above else value >= 0) and value <= most and (not whole or value == int(value))
        if not fits:
            kind = "whole number" if whole else "number"
            raise ValueError(
                f"Type a {kind} {'above' if above else 'from'} 0{' and up' if above else ''} to {most:,.0f}."
            )
        return Checked(value)

    return check


def needed(typed: str) -> str:
    """Return what was typed; ValueError where it is nothing."""
    if not typed:
        raise ValueError("Type a word or two.")
    return typed
