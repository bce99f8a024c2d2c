"""The logbook in lines: what has shifted, what is on record, and of one station the trend of every reading."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from walkabout.insight.series import Point, Series
from walkabout.insight.trend import trend
from walkabout.insight.trend_words import mark_line, span_words
from walkabout.plain.trend import trend_facts
from walkabout.round.heat import heat, heat_says
from walkabout.round.logbook import (
    Chosen,
    good_says,
    in_order,
    newest_first,
    pace_says,
    recorded,
    shifts,
    stations,
    title_of,
)
from walkabout.round.opened import OpenRoom
from walkabout.round.trends import series_of
from walkabout.round.words import day_words


def logbook_lines(opened: OpenRoom, span: Chosen) -> list[str]:
    """Return what has shifted in a span, then each station: its days in words, and what is on record there."""
    moved = newest_first(shifts(opened, span.since))
    lines = [f"{opened.room.name}. Logbook, {span.name}."]
    lines += [f"{opened.name_of(one.station)}: {one.says}" for one in moved] or ["No shift shown."]
    for row in heat(opened, span.since, opened.today()).rows:
        lines.append(f"{heat_says(row)}")
        lines += [f"{row.name}, {line}" for line in _on_record(opened, row.key)]
    return lines


def station_lines(opened: OpenRoom, station: str, span: Chosen) -> list[str]:
    """Return the trend of everything that is on record at a station, in sentences."""
    lines = [f"{opened.name_of(station)}. Logbook, {span.name}."]
    for question in in_order(opened, station):
        series = _series(opened, station, question.id, span)
        if series is None or not series.points:
            continue
        found = trend(series)
        lines += [" ", f"{_headed(title_of(opened, station, question.id))} {span_words(series)}."]
        said = (*found.says, pace_says(series, found), good_says(series))
        lines += [f"  {one}" for one in said if one]
        lines += [f"  {mark_line(series, one)}" for one in series.marks] if not series.scored else []
    return lines if len(lines) > 1 else [*lines, "Nothing is on record there yet."]


def logbook_facts(opened: OpenRoom, span: Chosen) -> dict[str, Any]:
    """Return what `logbook_lines` says as plain values."""
    strips = heat(opened, span.since, opened.today())
    days = {row.key: list(row.verdicts) for row in strips.rows}
    return {
        "room": opened.room.name,
        "since": span.since.isoformat(),
        "until": opened.today().isoformat(),
        "shifted": [
            {
                "station": one.station,
                "name": opened.name_of(one.station),
                "question": one.question,
                "since": one.since.isoformat(),
                "words": one.says,
            }
            for one in newest_first(shifts(opened, span.since))
        ],
        "dates": [one.isoformat() for one in strips.dates],
        "stations": [
            {
                "station": key,
                "name": name,
                "days": days[key],
                "recorded": [
                    {
                        "question": one.question,
                        "name": one.name,
                        "last": one.last,
                        "at": one.at.isoformat(),
                        "verdict": one.verdict,
                        "looks": one.looks,
                    }
                    for one in recorded(opened, key)
                ],
            }
            for key, name in stations(opened)
        ],
    }


def station_facts(opened: OpenRoom, station: str, span: Chosen) -> dict[str, Any]:
    """Return what `station_lines` says as plain values, with the readings and what was done."""
    found = []
    for question in in_order(opened, station):
        series = _series(opened, station, question.id, span)
        if series is None:
            continue
        found.append(
            trend_facts(series, trend(series))
            | {
                "question": question.id,
                "unit": series.unit,
                "title": title_of(opened, station, question.id),
                "good": _good(series),
                "labels": list(series.labels),
                "points": [_point(one) for one in series.points],
                "marks": [{"at": one.at.isoformat(), "kind": one.kind, "says": one.says} for one in series.marks],
            }
        )
    return {
        "room": opened.room.name,
        "station": station,
        "name": opened.name_of(station),
        "since": span.since.isoformat(),
        "until": opened.today().isoformat(),
        "trends": found,
    }


def _on_record(opened: OpenRoom, station: str) -> Iterator[str]:
    today = opened.today()
    for one in recorded(opened, station):
        yield f"{_headed(one.name)} {one.last}, {day_words(one.at.date(), today)}."


def _headed(name: str) -> str:
    return name if name.endswith("?") else f"{name}:"


def _series(opened: OpenRoom, station: str, question: str, span: Chosen) -> Series | None:
    """Return a series; None where a logger has read nothing in the span."""
    try:
        return series_of(opened, station, question, span.since)
    except ValueError:
        return None


def _good(series: Series) -> list[float | None] | None:
    """Return the good range, null for an end that is none."""
    if series.good is None:
        return None
    return [None if none else end for end, none in zip(series.good, series.open_ends, strict=True)]


def _point(one: Point) -> dict[str, object]:
    summed = {} if one.low is None else {"low": one.low, "high": one.high}
    return {"at": _iso(one.at), "value": one.value, "answer": one.key} | summed


def _iso(at: object) -> object:
    return at.isoformat() if isinstance(at, date) else at
