"""Planting labels: one for each planting that stands, to be cut apart and put into its pot or tray.

Crop, variety, what was written on it, when it was sown and when it is expected; the QR code holds the planting's key.
"""

from datetime import date

from msgspec import Struct

from walkabout.almanac.course import courses
from walkabout.almanac.model import Course
from walkabout.growing.counting import counted
from walkabout.growing.crops import Crop
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import GREY, SMALL, TOP, Paper
from walkabout.records.model import Planting
from walkabout.round.almanac import basis_of
from walkabout.round.opened import OpenRoom

ACROSS, HEIGHT, GUTTER = 2, 35.5, 4.0
"""Labels beside one another, how high each is and what lies between them, mm."""
PAD, QR = 3.0, 23.0
CROP = 15.0
ASK_FIRST = "Ask an adult before tasting."
NO_FOOD = "Not for eating."


class Label(Struct, frozen=True):
    """What stands on one label; `expected` and `caution` are '' where there is nothing to say."""

    key: str
    crop: str
    variety: str
    label: str
    sown: str
    expected: str
    caution: str


def labels_of(opened: OpenRoom) -> tuple[Label, ...]:
    """Return a label for every planting that stands, by walking order of their stations and by age."""
    basis = basis_of(opened)
    order = {one.key: place for place, one in enumerate(opened.room.stations)}
    known = courses(basis)
    standing = sorted(basis.standing, key=lambda one: (order.get(one.station, len(order)), one.sown, one.key))
    return tuple(_label(one, basis.crop(one), known.get(one.key)) for one in standing)


def planting_labels(opened: OpenRoom, paper: Paper) -> bytes:
    """Return the labels as a PDF."""
    labels = labels_of(opened)
    running = Running(opened.room.name, "planting labels", opened.today(), "Cut along the dashed lines.")
    return pdf_of(lambda pages: _draw(pages, labels), paper, running, opened.clock())


def _label(planting: Planting, crop: Crop | None, course: Course | None) -> Label:
    name = crop.name if crop is not None else planting.crop
    how = "came here" if planting.brought_in else "sown"
    return Label(
        key=planting.key,
        crop=name[:1].upper() + name[1:],
        variety=planting.variety,
        label=planting.label,
        sown=f"{how} {_day(planting.sown)}, {counted(planting.count, crop)}",
        expected=_expected(course),
        caution=_caution(crop),
    )


def _caution(crop: Crop | None) -> str:
    """Return whether it is food, and what the crop table warns of; '' for a crop that the table does not know."""
    if crop is None:
        return ""
    if crop.eaten:
        return f"{ASK_FIRST} {crop.caution}".rstrip()
    told = NO_FOOD.rstrip(".").lower() in crop.caution.lower()
    return crop.caution if told else f"{NO_FOOD} {crop.caution}".rstrip()


def _expected(course: Course | None) -> str:
    harvest = course.stage("harvest") if course is not None else None
    if harvest is None:
        return ""
    if harvest.reached is not None:
        return f"picked since {_day(harvest.reached)}"
    early, late = harvest.span.early, harvest.span.late
    if early == late:
        return f"harvest {_day(early)}"
    begins = f"{early.day} {early:%b}" if early.year == late.year else _day(early)
    return f"harvest {begins} to {_day(late)}"


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


# drawing


def _draw(pages: Pages, labels: tuple[Label, ...]) -> None:
    width = (pages.width - GUTTER * (ACROSS - 1)) / ACROSS
    down = int((pages.bottom - TOP) // (HEIGHT + GUTTER))
    if not labels:
        pages.write("Nothing grows here now: there is no label to print.")
    for number, label in enumerate(labels):
        place = number % (ACROSS * down)
        if number and place == 0:
            pages.new_page()
        x = pages.left + place % ACROSS * (width + GUTTER)
        y = TOP + place // ACROSS * (HEIGHT + GUTTER)
        pages.frame(x, y, width, HEIGHT, dashed=True)
        _one(pages, label, x + PAD, y + PAD, width - 2 * PAD)


def _one(pages: Pages, label: Label, x: float, y: float, width: float) -> None:
    beside = width - QR - 1
    pages.qr(label.key, x + width - QR + 2, y - 1, QR)
    pages.put(label.key, x + width - QR + 2, y + QR - 1, QR, SMALL - 2, grey=GREY, align="C", most=1)
    y += pages.put(label.crop, x, y, beside, CROP, bold=True, most=1)
    named = [says for says in (label.variety, label.label) if says.strip()]
    if named:
        y += pages.put(", ".join(named), x, y, beside, SMALL + 1, most=1)
    y += 0.8
    for says in (label.sown, label.expected):
        if says:
            y += pages.put(says, x, y, beside, SMALL + 1, most=1)
    pages.put(label.caution, x, y, beside, SMALL - 1, most=3)
