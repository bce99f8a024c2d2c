"""The handover page in lines."""

from collections.abc import Iterator
from typing import Any

import msgspec

from walkabout.almanac.handover import Handover


def handover_lines(page: Handover) -> list[str]:
    """Return the page, a heading in capitals above each part, what belongs to a line set in under it."""
    head = f"{page.room}: for whoever looks after it, from {page.day:%A} {page.day.day} {page.day:%B} on"
    return [head, *(line for one in _sections(page) for line in one)]


def _sections(page: Handover) -> Iterator[list[str]]:
    for section in page.sections:
        yield [" ", section.title.upper()]
        for line in section.lines:
            yield [f"{'! ' if line.warns else '  '}{line.says}", *(f"      {one}" for one in line.under)]


def handover_facts(page: Handover) -> dict[str, Any]:
    """Return the same as plain values, for JSON."""
    facts: dict[str, Any] = msgspec.to_builtins(page)
    return facts
