"""A series and its trend, gathered so that no key waits for years of records."""

import asyncio
from datetime import date, timedelta

from walkabout.insight.series import Series
from walkabout.insight.trend import Trend, trend
from walkabout.round.history import KEPT_DAYS
from walkabout.round.logbook import reading_back
from walkabout.round.opened import OpenRoom
from walkabout.round.trends import series_of
from walkabout.screens.widgets.reckoned import beside

QUICK = 250
"""Readings whose trend takes less than a few hundredths of a second: that is not worth a thread."""


async def gathered(opened: OpenRoom, station: str, question: str, since: date) -> Series:
    """Return a series; ValueError where there can be none.

    Records belong to one thread, so the files are read here, a few at a time; what is in memory by then is sorted out
    beside the screen. Should somebody write meanwhile, it is done once more, here.
    """
    if since >= opened.today() - timedelta(days=KEPT_DAYS):
        return series_of(opened, station, question, since)
    for _ in reading_back(opened, since):
        await asyncio.sleep(0)
    try:
        return await beside(lambda: series_of(opened, station, question, since))
    except RuntimeError:
        return series_of(opened, station, question, since)


async def trend_of(series: Series) -> Trend:
    """Return the trend, reckoned beside the screen where there are many readings."""
    return trend(series) if len(series.points) <= QUICK else await beside(lambda: trend(series))
