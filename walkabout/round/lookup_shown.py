"""What every face says first of a lookup, and what it leaves out."""

from walkabout.diagnosis.consult import Ranked
from walkabout.diagnosis.plan import ToDo
from walkabout.round.lookup import Lookup

STOP = "Stop: people first."

ALWAYS_THERE = frozenset({"month"})
"""Readings that are no evidence of anything by themselves."""


def danger(lookup: Lookup) -> ToDo | None:
    """Return the step that comes before everything where words of danger to people were typed; None else."""
    return next(iter(lookup.answer().do), None) if lookup.hazards else None


def has_evidence(lookup: Lookup) -> bool:
    """Say whether anything was seen or measured: without it no cause is named."""
    return bool(lookup.seen()) or any(one not in ALWAYS_THERE for one in lookup.readings)


def causes_to_show(lookup: Lookup) -> tuple[Ranked, ...]:
    """Return the ranked causes; none where there is no evidence."""
    return lookup.answer().causes if has_evidence(lookup) else ()
