"""The report of a term for pupils, parents and the head: what was grown, given and lost, in words and pictures.

It speaks of plants and of the room, of no person: no code stands in it, nor who did what.
"""

from collections.abc import Iterator, Sequence
from datetime import date

from walkabout.growing.units import G_PER_OUNCE, Scales
from walkabout.insight.term_model import Term
from walkabout.insight.term_units import rounded, volume, weight
from walkabout.insight.term_words import money
from walkabout.paper.charts import bars, columns, figures, table
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import BLACK, GREY, HEAD, SMALL, TITLE, Paper
from walkabout.paper.summed import Summed, summed
from walkabout.reckon.write import number, plainly
from walkabout.round.opened import OpenRoom

MOST_BARS = 14
"""So many crops or causes stand in one picture; the rest is added up."""


def term_report(opened: OpenRoom, paper: Paper, first: date | None = None, last: date | None = None) -> bytes:
    """Return the report as a PDF; ValueError, one sentence, for days that are no span."""
    found = summed(opened, first, last)
    running = Running(opened.room.name, "report of the term", opened.today(), "Written from the room's own records.")
    return pdf_of(lambda pages: _draw(pages, found), paper, running, opened.clock())


def _draw(pages: Pages, found: Summed) -> None:
    term = found.term
    name = term.name or "a part of the year"
    pages.write(f"{name[:1].upper()}{name[1:]} in the growing room", TITLE, bold=True, most=2)
    begun = f"; the first record is of {_day(term.begun)}" if term.begun else ""
    pages.write(f"{_day(term.first)} to {_day(term.until)}{begun}", grey=GREY)
    pages.gap(3)
    pages.write(_opening(found))
    pages.gap(4)
    figures(pages, list(_figures(found)))
    _harvest(pages, found)
    _losses(pages, found)
    _rounds(pages, found)
    _grown(pages, found)
    _noticed(pages, found)
    _cost(pages, found)
    _known(pages, found)


def _opening(found: Summed) -> str:
    crops = [one for one in found.grown if one.began or one.plants or one.grams]
    if not crops:
        return "Nothing was on record as growing in these weeks."
    term = found.term
    grew = f"In these weeks {len(crops)} kind{'s' if len(crops) != 1 else ''} of plant grew in the room."
    grams = sum(one.grams + one.noted for one in found.grown)
    gave = f" They gave {weight(grams, term.scales)}, as far as it was weighed." if grams else ""
    many = "1 plant was" if term.losses.plants == 1 else f"{term.losses.plants} plants were"
    lost = f" {many} lost; why stands below." if term.losses.plants else ""
    return f"{grew}{gave}{lost}"


def _figures(found: Summed) -> Iterator[tuple[str, str]]:
    term = found.term
    yield str(sum(one.began for one in found.grown)), "plants and sowings that grew here"
    yield weight(sum(one.grams + one.noted for one in found.grown), term.scales), "harvested, as far as it was weighed"
    if term.harvest.all_portions >= 1:
        about = f", about {number(term.harvest.by_weight, 0)} of them by weight" if term.harvest.by_weight >= 1 else ""
        yield number(term.harvest.all_portions, 0), f"portions{about}"
    if term.rounds.walked or term.rounds.expected:
        yield f"{term.rounds.walked} of {term.rounds.expected}", "mornings on which the round was walked"


def _harvest(pages: Pages, found: Summed) -> None:
    rows = [(one.name, one.grams + one.noted, one.noted) for one in found.grown if one.grams + one.noted > 0]
    rows = sorted(rows, key=lambda one: -one[1])
    _heading(pages, "What was harvested", 30)
    if not rows:
        pages.write("Nothing was weighed in these weeks.")
        return
    noted = any(one[2] for one in rows)
    scales = found.term.scales
    bars(pages, [(name, value, part, weight(value, scales)) for name, value, part in _shortened(rows)])
    if noted:
        pages.write("Hollow: a weight that somebody only wrote into the last words on a planting.", SMALL, grey=GREY)


def _losses(pages: Pages, found: Summed) -> None:
    _heading(pages, "What was lost, and why", 26)
    if not found.losses:
        pages.write("No loss is on record.")
        return
    rows = _shortened([(why, float(count), 0.0) for why, count in found.losses])
    bars(pages, [(name, value, 0.0, _plants(round(value))) for name, value, _ in rows])


def _rounds(pages: Pages, found: Summed) -> None:
    _heading(pages, "The morning rounds, week by week", 52)
    if not any(one.expected or one.walked for one in found.weeks):
        pages.write("No round was expected, and none was walked.")
        return
    rows = [(f"{one.monday.day} {one.monday:%b}", one.walked, max(one.expected, one.walked)) for one in found.weeks]
    columns(pages, rows)
    closed: dict[str, list[str]] = {}
    for one in found.weeks:
        if one.closed:
            closed.setdefault(one.closed, []).append(f"{one.monday.day} {one.monday:%b}")
    for name, weeks in closed.items():
        pages.write(f"No column in the week of {', '.join(weeks)}: nobody had to come ({name}).", SMALL, grey=GREY)
    pages.write("Filled: days on which somebody walked. Outline: days on which somebody should have.", SMALL, grey=GREY)


def _grown(pages: Pages, found: Summed) -> None:
    if not found.grown:
        return
    _heading(pages, "What was grown", 24)
    rows = [
        (
            one.name,
            plainly(one.began),
            plainly(one.stands),
            plainly(one.lost),
            plainly(one.taken),
            plainly(one.plants),
            weight(one.grams + one.noted, found.term.scales) if one.grams + one.noted else "",
        )
        for one in found.grown
    ]
    table(pages, ("crop", "began", "stand now", "lost", "taken out", "picked whole", "weighed"), rows)
    pages.gap(1)
    says = (
        "Began: what stood on the first day, and what came since; of small greens it is trays. "
        "Taken out: thinned, or composted uneaten. Picked whole: the plant went with the harvest."
    )
    pages.write(says, SMALL, grey=GREY)


def _noticed(pages: Pages, found: Summed) -> None:
    counted = found.term.findings
    _heading(pages, "What was noticed and put right", 16)
    if not counted.opened and not counted.closed and not counted.still_open:
        pages.write("Nothing that looked wrong was written down in these weeks.")
        return
    seen = "1 thing looked wrong and was" if counted.opened == 1 else f"{counted.opened} things looked wrong and were"
    cleared = "1 was" if counted.closed == 1 else f"{counted.closed} were"
    still = "1 is" if counted.still_open == 1 else f"{counted.still_open} are"
    pages.write(f"{seen} written down; {cleared} cleared, {still} still looked at.")
    if found.causes:
        causes = ", ".join(f"{name} ({count})" for name, count in found.causes)
        pages.write(f"What was behind it, where an adult could say: {causes}.")


def _cost(pages: Pages, found: Summed) -> None:
    term = found.term
    says = list(_took(found))
    if not says:
        return
    _heading(pages, "What it took", 16)
    for one in says:
        pages.write(one)
    if term.cost.total is not None:
        _money(pages, term)


def _took(found: Summed) -> Iterator[str]:
    term = found.term
    if term.energy.lamps:
        yield f"Electricity: {number(term.energy.kwh, 0)} kWh for the lamps, reckoned by their timers. {_lamps(found)}"
    if term.water.litres:
        yield f"Water that was written down: {volume(term.water.litres, term.scales)}."
    if term.minutes.total:
        yield f"Time on record: {number(term.minutes.total / 60, 1)} hours, rounds and jobs together."


def _lamps(found: Summed) -> str:
    """Say what each lamp took; a sentence, since the whole report is to stay on one sheet of paper."""
    each = [
        f"{name} {number(kwh, 1)} kWh" + (f" ({money(found.term, price)})" if price is not None else "")
        for name, kwh, price in found.lamps
    ]
    return f"By the place that they light: {', '.join(each)}."


def _money(pages: Pages, term: Term) -> None:
    """Say what it cost, and what stands behind the portions that it is divided by."""
    cost = term.cost
    parts = [("electricity", cost.energy), ("water", cost.water), ("supplies", cost.supplies)]
    known = [f"{name} {money(term, value)}" for name, value in parts if value is not None]
    near = rounded([value for _, value in parts if value is not None], cost.total or 0.0, 2)
    pages.gap(2)
    together = f"{money(term, cost.total)}{f' ({near})' if near else ''}"
    pages.write(f"Money, as far as prices are known: {', '.join(known)}; together {together}.")
    if cost.portion is None:
        return
    pages.write(f"That is {money(term, cost.portion)} for each of {number(term.harvest.all_portions, 1)} portions.")
    by_weight = [one for one in term.harvest.crops if one.by_weight and one.portion_grams]
    if by_weight:
        each = (
            f"{number(one.by_weight, 1)} of {one.name} at {_portion(one.portion_grams or 0, term.scales)}"
            for one in by_weight
        )
        pages.write(f"Not counted but reckoned from their weight: {', '.join(each)} a portion.", SMALL, grey=GREY)


def _portion(grams: float, scales: Scales) -> str:
    """Write the weight of a portion, which is small: in ounces with two digits."""
    return f"{number(grams / G_PER_OUNCE, 2)} oz" if scales.us else f"{plainly(grams)} g"


def _known(pages: Pages, found: Summed) -> None:
    if not found.left_out:
        return
    pages.gap(0 if pages.need(18) else 6)
    pages.write("Not in these numbers", SMALL, bold=True)
    for one in found.left_out:
        pages.write(one, SMALL, grey=GREY)


# within


def _heading(pages: Pages, says: str, follows: float) -> None:
    """Draw a heading together with what follows it, which needs at least so many mm."""
    pages.gap(0 if pages.need(14 + follows) else 7)
    pages.write(says, HEAD, bold=True)
    pages.gap(0.6)
    pages.rule(0.35, BLACK)
    pages.gap(2.4)


def _shortened(rows: Sequence[tuple[str, float, float]]) -> list[tuple[str, float, float]]:
    if len(rows) <= MOST_BARS:
        return list(rows)
    rest = rows[MOST_BARS - 1 :]
    added = (f"{len(rest)} others", sum(one[1] for one in rest), sum(one[2] for one in rest))
    return [*rows[: MOST_BARS - 1], added]


def _plants(count: int) -> str:
    return f"{count} plant{'s' if count != 1 else ''}"


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
