"""Taking the codes of people out of what is handed on: those of room.toml, and those that only old records name."""

import re
from collections.abc import Callable, Iterator

from walkabout.almanac.model import Basis
from walkabout.records.model import Happening

SOMEBODY = "somebody"


def without_codes(basis: Basis) -> Callable[[str], str]:
    """Return what puts 'somebody' in the place of every code in a text."""
    codes = sorted({*basis.room.people, *(one for one in _recorded(basis) if _is_code(one))}, key=len, reverse=True)
    if not codes:
        return lambda text: text
    # capitals count where a code is letters alone: "OC" is one, "oc" in a sentence is not
    parts = (f"(?i:{re.escape(one)})" if any(map(str.isdigit, one)) else re.escape(one) for one in codes)
    pattern = re.compile(rf"(?<!\w)(?:{'|'.join(parts)})(?!\w)")
    return lambda text: pattern.sub(SOMEBODY, text)


def _is_code(by: str) -> bool:
    return 2 <= len(by) <= 3 and by.isalnum()


def _recorded(basis: Basis) -> Iterator[str]:
    for planting in basis.plantings:
        yield from (one.by for one in planting.moves)
        yield from (one.by for one in planting.reached)
        yield from (one.by for one in planting.losses)
        yield from (one.by for one in planting.pickings)
        yield from _told(planting.history)
    for finding in basis.findings:
        yield from (finding.by, finding.cause_by)
        yield from _told(finding.history)
    for job in basis.jobs:
        yield from (job.by, job.closed_by)
        yield from _told(job.history)
    for promise in basis.promises:
        yield promise.by
        yield from _told(promise.history)
    for treatment in basis.treatments:
        yield treatment.by
        yield from _told(treatment.history)


def _told(history: tuple[Happening, ...]) -> Iterator[str]:
    return (one.by for one in history)
