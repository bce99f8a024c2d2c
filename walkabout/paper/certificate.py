"""A certificate of what a class or a group grew: one page for each, on its side, to be signed by hand.

It is made out to people as the promise names them (a class, an event), or as they were typed; never to a person.
"""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from walkabout.growing.counting import counted, unit_word
from walkabout.growing.units import Scales
from walkabout.insight.term_time import without_codes
from walkabout.insight.term_units import weight
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import BLACK, BOTTOM, GREY, SIDE, SMALL, TOP, Paper, line_height
from walkabout.paper.summed import Grown, summed
from walkabout.reckon.write import number
from walkabout.records.sums import was_kept
from walkabout.round.opened import OpenRoom

MOST = 12
"""So many lines stand on one certificate."""
PEOPLE = 34.0
"""The type of those it is for, points."""
SIGNED = 24.0
"""So much is kept free for the signature, mm."""
LISTS = (22.0, 18.0, 14.0)
"""Type of what was grown, points, the biggest first: the first in which the page holds it, each on one line."""


class Certificate(Struct, frozen=True):
    """For whom, what, and in which days. `shared`: it is what the whole room gave, not what was grown for them."""

    people: str
    room: str
    lines: tuple[str, ...]
    first: date
    last: date
    shared: bool = False


def certificates_of(
    opened: OpenRoom, people: str = "", first: date | None = None, last: date | None = None
) -> tuple[Certificate, ...]:
    """Return one for each class or event to which a promise was kept within the days.

    With `people` only theirs; where nothing was promised to them, what the room gave as a whole. ValueError for days
    that are no span, for a person's code, or where there is nothing to certify.
    """
    if people.strip().casefold() in {code.casefold() for code in opened.room.people}:
        raise ValueError(f"{people.strip()} is a person's code. A certificate is for a class or a group.")
    found = summed(opened, first, last)
    begins, ends = found.term.first, found.term.until
    given: dict[str, list[str]] = {}
    for promise in sorted(opened.promises.values(), key=lambda one: (one.day, one.key)):
        if was_kept(promise) and begins <= promise.day <= ends:
            given.setdefault(promise.people, []).append(_promised(opened, promise.key))
    shared = False
    if people:
        mine = {name: lines for name, lines in given.items() if name.casefold() == people.casefold()}
        shared = not mine
        given = mine or {people: [_given(opened, one) for one in _giving(found.grown)]}
    given = {name: lines for name, lines in given.items() if lines}
    if not given:
        raise ValueError(
            "Nothing was harvested in these days." if people
            else "No promise was kept in these days. Say for whom it is: --for 'class 8b'."
        )  # fmt: skip
    return tuple(
        Certificate(without_codes(name, opened.room), opened.room.name, tuple(lines), begins, ends, shared)
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
        return _gave(name, counted(plants, crop) if plants else "", grams, opened.scales)
    if promise.unit == "g":
        return _gave(name, "", promise.amount, opened.scales)
    return f"{name}: {number(promise.amount, 0)} {unit_word(promise.unit, crop, promise.amount)}"


def _given(opened: OpenRoom, one: Grown) -> str:
    plants = counted(one.plants, opened.crops.find(one.key)) if one.plants else ""
    return _gave(one.name, plants, one.grams + one.noted, opened.scales)


def _gave(name: str, plants: str, grams: float, scales: Scales) -> str:
    weighed = weight(grams, scales) if grams else ""
    return f"{name}: {', '.join(filter(None, (plants, weighed)))}"


# drawing


def _draw(pages: Pages, found: tuple[Certificate, ...]) -> None:
    for number_, one in enumerate(found):
        if number_:
            pages.new_page()
        _one(pages, one)


def _one(pages: Pages, one: Certificate) -> None:
    pages.frame(SIDE - 5, TOP - 10, pages.width + 10, pages.height - TOP - BOTTOM + 18)
    lines = one.lines if len(one.lines) <= MOST else (*one.lines[: MOST - 1], "and more besides")
    days = f"from {_day(one.first)} to {_day(one.last)}:"
    did = "who had a part in what this room grew" if one.shared else "Grown, looked after and harvested in this room"
    above: tuple[tuple[str, float, int, float], ...] = (
        (one.room, 13, 1, 5), ("A certificate for", 16, 1, 1), (one.people, PEOPLE, 2, 4), (f"{did} {days}", 13, 2, 7),
    )  # fmt: skip
    head = sum(len(pages.lines(says, pages.width, size, bold=size == PEOPLE, most=most)) * line_height(size) + gap
               for says, size, most, gap in above)  # fmt: skip
    free = pages.bottom - SIGNED - TOP
    size = next((size for size in LISTS if _fits(pages, lines, size, free - head)), LISTS[-1])
    # what stands above the signature stands in the middle of its place
    pages.y = TOP + max(0.0, free - head - len(lines) * line_height(size)) / 2
    for says, type_, most, gap in above:
        grey = GREY if says is one.room else BLACK
        pages.write(says, type_, bold=type_ == PEOPLE, grey=grey, align="C", most=most)
        pages.gap(gap)
    for line in lines:
        pages.write(line, size, align="C", most=1)
    _sign(pages)


def _fits(pages: Pages, lines: Sequence[str], size: float, free: float) -> bool:
    wide = max((pages.measure(pages.clean(line), size) for line in lines), default=0.0)
    return wide <= pages.width and len(lines) * line_height(size) <= free


def _sign(pages: Pages) -> None:
    y, wide = pages.bottom - 10, 70.0
    for x, says in ((pages.left + 12, "day"), (pages.right - 12 - wide, "for the school")):
        pages.blank(x, y, wide)
        pages.put(says, x, y + 1, wide, SMALL, grey=BLACK, align="C", most=1)


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
