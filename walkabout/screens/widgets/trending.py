"""A series and its trend, gathered so that no key waits for years of records."""

import asyncio
from collections.abc import Generator
from datetime import date
from typing import TypeVar

from walkabout.insight.series import Series
from walkabout.insight.trend import Trend, trend
from walkabout.round.opened import OpenRoom
from walkabout.round.trends import series_in_steps
from walkabout.round.values import Valued, values_in_steps
from walkabout.screens.widgets.beside import beside

Found = TypeVar("Found")

QUICK = 250
"""Readings whose trend takes less than a few hundredths of a second: that is not worth a thread."""


async def gathered(opened: OpenRoom, station: str, question: str, since: date) -> Series:
    """Return a series; ValueError where there can be none.

    Records belong to one thread, so the files are looked into here, a few at a time.
    """
    return await _stepped(series_in_steps(opened, station, question, since))


async def valued(
    opened: OpenRoom, series: Series, station: str, question: str, since: date
) -> tuple[Valued, ...]:  # fmt: skip
    """Return the answers behind a series, the newest first; the files are looked into likewise."""
    return await _stepped(values_in_steps(opened, series, station, question, since))


async def _stepped(steps: Generator[None, None, Found]) -> Found:
    """Return what steps end with; between two of them the screen has its turn."""
    while True:
        try:
            next(steps)
        except StopIteration as done:
            found: Found = done.value
            return found
        await asyncio.sleep(0)


async def trend_of(series: Series) -> Trend:
    """Return the trend, reckoned beside the screen where there are many readings."""
    return trend(series) if len(series.points) <= QUICK else await beside(lambda: trend(series))
