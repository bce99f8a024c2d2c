"""The term in numbers, in lines and for other programs."""

from collections.abc import Callable, Iterator
from typing import Any

import msgspec

from walkabout.insight.term_model import Term
from walkabout.insight.term_words import headline, sections, texts

UNITS = {
    "kwh": "kWh", "litres": "L", "topped": "L", "renewed": "L", "ml": "mL of each part", "grams": "g",
    "noted_grams": "g", "not_eaten": "g", "portion_grams": "g", "walking": "min", "measuring": "min", "jobs": "min",
    "total of minutes": "min", "days": "days", "weeks": "weeks", "lead_days": "days",
    "amount, now, used, weekly, pack of a supply": "its own unit",
}  # fmt: skip
"""The units of the numbers for other programs: they are these whatever the room reads and writes."""


def term_lines(found: Term, *, codes: bool = False) -> list[str]:
    """Return every number with its unit, what it means, its working and what it leaves out.

    The rounds by code stand there only where they are asked for: the lines may be handed on.
    """
    return list(_lines(found, codes=codes))


def _lines(found: Term, *, codes: bool) -> Iterator[str]:
    yield f"{found.room}. {headline(found)}." if found.room else f"{headline(found)}."
    for section in sections(found, codes=codes):
        yield " "
        yield section.title.upper()
        yield section.means
        yield from (f"  {says}" for says in texts(section.rows))
        yield from (f"      working: {says}" for says in section.working)
        yield from (f"      left out: {says}" for says in section.left_out)


def term_facts(found: Term, clean: Callable[[str], str], *, codes: bool = False) -> dict[str, Any]:
    """Return the same as plain values, for JSON: metric, with the units named, whatever the room reads and writes.

    Nobody's code is in it but where rounds by code are asked for: else `clean` takes codes out of every text.
    """
    facts: dict[str, Any] = msgspec.to_builtins(found)
    del facts["scales"]
    facts["units"] = UNITS | {"money, portion, price, cost": found.currency or "the room's currency"}
    facts["minutes"]["total"] = found.minutes.total
    facts["harvest"]["all_portions"] = found.harvest.all_portions
    for tank, facts_of in zip(found.water.tanks, facts["water"]["tanks"], strict=True):
        facts_of["litres"] = tank.litres
    for name in ("shelf", "buy"):
        for one in facts[name]:
            one["supply"] = _supply(one["supply"])
    if not codes:
        del facts["codes"]
    return facts if codes else _cleaned(facts, clean)


def _cleaned(value: Any, clean: Callable[[str], str]) -> Any:
    """Return a value with every text in it cleaned; what names a field is left as it is."""
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, dict):
        return {name: _cleaned(one, clean) for name, one in value.items()}
    return [_cleaned(one, clean) for one in value] if isinstance(value, (list, tuple)) else value


def _supply(facts: dict[str, Any]) -> dict[str, Any]:
    """Return a supply without who counted it."""
    kept = {name: value for name, value in facts.items() if name not in ("by", "history")}
    if "counts" in kept:
        kept["counts"] = [{name: value for name, value in one.items() if name != "by"} for one in kept["counts"]]
    return kept
