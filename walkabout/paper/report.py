"""The report of a term for pupils, parents and the head: what was grown, given and lost, in words and pictures.

It speaks of plants and of the room, of no person: no code stands in it, nor who did what.
"""

from collections.abc import Iterator, Sequence
from datetime import date

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
    gave = f" They gave {_grams(grams)}, as far as it was weighed." if grams else ""
    lost = f" {term.losses.plants} plants were lost; why stands below." if term.losses.plants else ""
    return f"{grew}{gave}{lost}"


def _figures(found: Summed) -> Iterator[tuple[str, str]]:
    term = found.term
    yield str(sum(one.began for one in found.grown)), "plants and sowings that grew here"
    yield _grams(sum(one.grams + one.noted for one in found.grown)), "harvested, as far as it was weighed"
    if term.harvest.all_portions >= 1:
        yield number(term.harvest.all_portions, 0), "portions"
    yield f"{term.rounds.walked} of {term.rounds.expected}", "mornings on which the round was walked"


def _harvest(pages: Pages, found: Summed) -> None:
    rows = [(one.name, one.grams + one.noted, one.noted) for one in found.grown if one.grams + one.noted > 0]
    rows = sorted(rows, key=lambda one: -one[1])
    _heading(pages, "What was harvested", 30)
    if not rows:
        pages.write("Nothing was weighed in these weeks.")
        return
    noted = any(one[2] for one in rows)
    bars(pages, [(name, value, part, _grams(value)) for name, value, part in _shortened(rows)])
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
            _grams(one.grams + one.noted) if one.grams + one.noted else "",
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
    seen = f"{counted.opened} thing{'s' if counted.opened != 1 else ''} looked wrong and were written down"
    pages.write(f"{seen}; {counted.closed} were cleared, {counted.still_open} are still looked at.")
    if found.causes:
        causes = ", ".join(f"{name} ({count})" for name, count in found.causes)
        pages.write(f"What was behind it, where an adult could say: {causes}.")


def _cost(pages: Pages, found: Summed) -> None:
    term = found.term
    says = [f"Lamps: {number(term.energy.kwh, 0)} kWh, by their timers."] if term.energy.kwh else []
    if term.water.litres:
        says.append(f"Water that was written down: {number(term.water.litres, 0)} L.")
    if term.minutes.total:
        says.append(f"Time on record: {number(term.minutes.total / 60, 1)} hours, rounds and jobs together.")
    if term.cost.portion is not None:
        says.append(f"A portion cost {number(term.cost.portion, 2)} {term.currency}, as far as prices are known.")
    if not says:
        return
    _heading(pages, "What it took", 16)
    for one in says:
        pages.write(one)


def _known(pages: Pages, found: Summed) -> None:
    term = found.term
    left = (*term.harvest.left_out, *term.energy.left_out, *term.water.left_out, *term.cost.left_out)
    says = list(dict.fromkeys(left))
    if not says:
        return
    pages.gap(0 if pages.need(18) else 6)
    pages.write("Not in these numbers", SMALL, bold=True)
    for one in says:
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


def _grams(grams: float) -> str:
    return f"{number(grams / 1000, 2)} kg" if grams >= 1000 else f"{number(grams, 0)} g"


def _plants(count: int) -> str:
    return f"{count} plant{'s' if count != 1 else ''}"


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
