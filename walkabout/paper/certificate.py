"""A certificate of what a class or a group grew: one page for each, on its side, to be signed by hand.

It is given to people as the promise names them, or as they were typed; never to a person.
"""

from datetime import date

from msgspec import Struct

from walkabout.insight.term_time import without_codes
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import BLACK, BOTTOM, GREY, SIDE, SMALL, TOP, Paper
from walkabout.paper.summed import Grown, summed
from walkabout.reckon.write import number
from walkabout.records.sums import was_kept
from walkabout.round.opened import OpenRoom

MOST = 12
"""So many lines stand on one certificate."""


class Certificate(Struct, frozen=True):
    """For whom, what, and in which days."""

    people: str
    room: str
    lines: tuple[str, ...]
    first: date
    last: date


def certificates_of(
    opened: OpenRoom, people: str = "", first: date | None = None, last: date | None = None
) -> tuple[Certificate, ...]:
    """Return one for each class or event to which a promise was kept within the days.

    With `people` only theirs; where nothing was promised to them, what the room gave as a whole. ValueError for days
    that are no span, or where there is nothing to certify.
    """
    found = summed(opened, first, last)
    begins, ends = found.term.first, found.term.until
    given: dict[str, list[str]] = {}
    for promise in sorted(opened.promises.values(), key=lambda one: (one.day, one.key)):
        if was_kept(promise) and begins <= promise.day <= ends:
            given.setdefault(promise.people, []).append(_promised(opened, promise.key))
    if people:
        mine = {name: lines for name, lines in given.items() if name.casefold() == people.casefold()}
        given = mine or {people: [_gave(one.name, one.plants, one.grams + one.noted) for one in _giving(found.grown)]}
    given = {name: lines for name, lines in given.items() if lines}
    if not given:
        raise ValueError(
            "Nothing was harvested in these days." if people
            else "No promise was kept in these days. Say for whom it is: --for 'class 8b'."
        )  # fmt: skip
    return tuple(
        Certificate(without_codes(name, opened.room), opened.room.name, tuple(lines), begins, ends)
        for name, lines in given.items()
    )


def certificate(
    opened: OpenRoom, paper: Paper, people: str = "", first: date | None = None, last: date | None = None
) -> bytes:
    """Return the certificates as a PDF; ValueError as `certificates_of`."""
    found = certificates_of(opened, people, first, last)
    running = Running("", "what was grown", opened.today())
    return pdf_of(lambda pages: _draw(pages, found), paper, running, opened.clock(), turned=True)


def _giving(grown: tuple[Grown, ...]) -> list[Grown]:
    return [one for one in grown if one.plants or one.grams or one.noted]


def _promised(opened: OpenRoom, key: str) -> str:
    promise = opened.promises[key]
    crop = opened.crops.find(promise.crop)
    name = without_codes(crop.name if crop else promise.crop, opened.room)
    picked = [one for planting in opened.plantings.values() for one in planting.pickings if one.promise == key]
    grams, plants = sum(one.grams or 0 for one in picked), sum(one.count for one in picked)
    if grams or plants:
        return _gave(name, plants, grams)
    return f"{name}: {number(promise.amount, 0)} {promise.unit}"


def _gave(name: str, plants: int, grams: float) -> str:
    weighed = f"{number(grams / 1000, 2)} kg" if grams >= 1000 else f"{number(grams, 0)} g" if grams else ""
    counted = f"{plants} plant{'s' if plants != 1 else ''}" if plants else ""
    return f"{name}: {', '.join(filter(None, (counted, weighed)))}"


# drawing


def _draw(pages: Pages, found: tuple[Certificate, ...]) -> None:
    for number_, one in enumerate(found):
        if number_:
            pages.new_page()
        _one(pages, one)


def _one(pages: Pages, one: Certificate) -> None:
    pages.frame(SIDE - 5, TOP - 10, pages.width + 10, pages.height - TOP - BOTTOM + 18)
    pages.y = TOP + 8
    pages.write(one.room, 12, grey=GREY, align="C", most=1)
    pages.gap(5)
    pages.write(one.people, 30, bold=True, align="C", most=2)
    pages.gap(2)
    pages.write(f"grew, looked after and harvested, from {_day(one.first)} to {_day(one.last)}:", 12, align="C", most=2)
    pages.gap(6)
    lines = one.lines if len(one.lines) <= MOST else (*one.lines[: MOST - 1], "and more besides")
    for line in lines:
        pages.write(line, 14, align="C", most=1)
    _sign(pages)


def _sign(pages: Pages) -> None:
    y, wide = pages.bottom - 10, 70.0
    for x, says in ((pages.left + 12, "day"), (pages.right - 12 - wide, "for the school")):
        pages.blank(x, y, wide)
        pages.put(says, x, y + 1, wide, SMALL, grey=BLACK, align="C", most=1)


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
