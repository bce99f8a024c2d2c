"""The term in numbers: what a span of days took, gave and lost, and what is to be bought.

    found = term(kept, date(2026, 9, 1), date(2026, 12, 18), "autumn term")

It counts whole days, from the first to the last or to today, whichever comes first; of two spans that meet, the sums
add up to those of both. What is not on record is not known, and is said, never filled in.
"""

from datetime import date, timedelta

from msgspec.structs import replace

from walkabout.insight.supplies import stock, to_buy
from walkabout.insight.supply_rate import Uses
from walkabout.insight.supply_used import used_within
from walkabout.insight.term_energy import energy, solution, water
from walkabout.insight.term_harvest import cost, harvest, losses
from walkabout.insight.term_kept import Kept
from walkabout.insight.term_model import Term
from walkabout.insight.term_time import by_code, findings, minutes, rounds
from walkabout.insight.term_units import scales_of, short_day

WEEKS = 12
"""How far it looks back where room.toml has no term."""
LONGEST_DAYS = 3660
"""Ten years: a longer span is a slip of the hand. Assumed."""


def span_of(kept: Kept) -> tuple[date, date, str]:
    """Return the span that is meant when nobody says one: the term that runs, else the last 12 weeks up to today.

    Until 12 weeks after a term, or until the next one begins, its numbers are still what is wanted.
    """
    today = kept.today
    terms = [one for one in kept.room.terms if one.first <= today and one.last >= today - timedelta(weeks=WEEKS)]
    if terms:
        term_ = max(terms, key=lambda one: one.first)
        return term_.first, term_.last, term_.name or "term"
    return today - timedelta(weeks=WEEKS) + timedelta(days=1), today, f"the last {WEEKS} weeks"


def term(kept: Kept, first: date, last: date, name: str = "") -> Term:
    """Return the numbers of `first` to `last`, both included; ValueError, one sentence, for no such span."""
    if last < first:
        raise ValueError(f"The span would end on {last} before it begins on {first}.")
    if first > kept.today:
        raise ValueError(f"The span begins on {first}: that is still to come, so there are no numbers yet.")
    if (last - first).days > LONGEST_DAYS:
        raise ValueError("A span has ten years at most.")
    until = min(last, kept.today)
    uses = Uses(room=kept.room, today=kept.today, plantings=kept.plantings, checks=kept.checks)
    stood = [one for one in kept.supplies if one.ended is None or one.ended >= first]
    used = tuple(used_within(one, first, until, uses) for one in stood)
    power, drunk, reaped = energy(kept, first, until), water(kept, first, until), harvest(kept, first, until)
    begun = kept.begun if kept.begun is not None and first < kept.begun <= until else None
    spent = cost(power, drunk, used, reaped)
    if begun is not None and spent.portion is not None and power.money:
        early = (
            f"What was picked before {short_day(begun, until)}, when the first record was made: nobody wrote it down, "
            "though the electricity of those days is in the cost."
        )
        spent = replace(spent, left_out=(*spent.left_out, early))
    shelf = tuple(stock(one, uses) for one in kept.supplies if one.ended is None)
    return Term(
        name=name,
        room=kept.room.name,
        first=first,
        last=last,
        until=until,
        begun=begun,
        currency=kept.room.prices.currency,
        scales=scales_of(kept.room),
        energy=power,
        water=drunk,
        solution=solution(kept, first, until),
        supplies=used,
        harvest=reaped,
        cost=spent,
        losses=losses(kept, first, until),
        minutes=minutes(kept, first, until),
        rounds=rounds(kept, first, until),
        findings=findings(kept, first, until),
        shelf=shelf,
        buy=to_buy(shelf),
        codes=by_code(kept, first, until),
    )
