"""The term in numbers, in lines and for other programs."""

from collections.abc import Iterator
from typing import Any

import msgspec

from walkabout.insight.term_model import Term
from walkabout.insight.term_words import headline, sections, texts


def term_lines(found: Term) -> list[str]:
    """Return every number with its unit, what it means, its working and what it leaves out."""
    return list(_lines(found))


def _lines(found: Term) -> Iterator[str]:
    yield f"{found.room}. {headline(found)}." if found.room else f"{headline(found)}."
    for section in sections(found, codes=True):
        yield " "
        yield section.title.upper()
        yield section.means
        yield from (f"  {says}" for says in texts(section.rows))
        yield from (f"      working: {says}" for says in section.working)
        yield from (f"      left out: {says}" for says in section.left_out)


def term_facts(found: Term, *, codes: bool = False) -> dict[str, Any]:
    """Return the same as plain values, for JSON. Nobody's code is in it but where rounds by code are asked for."""
    facts: dict[str, Any] = msgspec.to_builtins(found)
    facts["minutes"]["total"] = found.minutes.total
    facts["harvest"]["all_portions"] = found.harvest.all_portions
    for tank, facts_of in zip(found.water.tanks, facts["water"]["tanks"], strict=True):
        facts_of["litres"] = tank.litres
    for name in ("shelf", "buy"):
        for one in facts[name]:
            one["supply"] = _supply(one["supply"])
    if not codes:
        del facts["codes"]
    return facts


def _supply(facts: dict[str, Any]) -> dict[str, Any]:
    """Return a supply without who counted it."""
    kept = {name: value for name, value in facts.items() if name not in ("by", "history")}
    if "counts" in kept:
        kept["counts"] = [{name: value for name, value in one.items() if name != "by"} for one in kept["counts"]]
    return kept
