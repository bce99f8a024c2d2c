"""Station cards: two on a page, to be cut apart and hung where the walker stops.

What good looks like, the first act when it does not, and a QR code that holds the station's key and nothing else.
"""

from collections.abc import Iterable, Iterator

from msgspec import Struct

from walkabout.almanac.handover_looks import good_answers
from walkabout.checklist.model import VERDICTS, Checklist, Choice, Question, Verdict
from walkabout.paper.pages import Pages, Running, pdf_of
from walkabout.paper.sizes import GREY, SMALL, TEXT, TOP, Paper, line_height
from walkabout.room.model import Who
from walkabout.round.here import Here, applies
from walkabout.round.opened import OpenRoom

LOOKS = 4
"""So many looks stand on a card: it is read in passing."""
NAME = 22.0
QR = 33.0
PAD = 7.0
GRAVE: tuple[Verdict, ...] = ("stop", "now", "today")
WHO: dict[Who, str] = {"pupil": "", "adult": " (for an adult)", "licensed": " (for a licensed person)"}
SIZES = ((12.0, 10.5), (11.0, 9.5), (TEXT, SMALL + 1), (SMALL + 1, SMALL))
"""Type of a question and of an act, the biggest first: the first at which all looks fit is taken."""


class Look(Struct, frozen=True):
    """One look: what to ask oneself, what is good, and the first act where the worst is seen."""

    ask: str
    good: str
    worst: str = ""
    act: str = ""
    who: str = ""
    """' (for an adult)' where not everybody may do it."""


class Card(Struct, frozen=True):
    """A station's card."""

    key: str
    name: str
    kind: str
    looks: tuple[Look, ...]


def cards_of(opened: OpenRoom) -> tuple[Card, ...]:
    """Return a card for every station, in walking order."""
    return tuple(
        Card(here.key, here.name, checklist.title, tuple(_looks(here, checklist, opened)))
        for here, checklist in opened.places()
        if here.station is not None
    )


def station_cards(opened: OpenRoom, paper: Paper) -> bytes:
    """Return the cards as a PDF."""
    cards = cards_of(opened)
    running = Running(opened.room.name, "station cards", opened.today(), "Cut along the dashed line.")
    return pdf_of(lambda pages: _draw(pages, cards), paper, running, opened.clock())


def _looks(here: Here, checklist: Checklist, opened: OpenRoom) -> Iterator[Look]:
    """Yield the looks behind which people or plants are lost soonest, in the order of looking.

    Only what is picked, quick, daily and open to everybody: a card is for whoever passes by.
    """
    able = [
        one
        for one in checklist.question
        if one.choices
        and not one.slow
        and one.should <= 2
        and one.who == "pupil"
        and applies(one, here, opened.today())
    ]
    kept = sorted(able, key=lambda one: _hours(one, checklist))[:LOOKS]
    for question in able:
        if question in kept:
            worst = _worst(question.choices[1:])
            good = good_answers(question)
            yield (
                Look(question.ask, good)
                if worst is None
                else Look(question.ask, good, worst.says, _act(worst), WHO[worst.who])
            )


def _hours(question: Question, checklist: Checklist) -> tuple[bool, float]:
    faults = [checklist.fault[name] for name in question.reveals if name in checklist.fault]
    return not any(one.people for one in faults), min((one.hours for one in faults), default=1e6)


def _worst(choices: Iterable[Choice]) -> Choice | None:
    grave = [one for one in choices if one.verdict in GRAVE and one.do]
    return max(grave, key=lambda one: VERDICTS.index(one.verdict), default=None)


def _act(choice: Choice) -> str:
    caution = f" Take care: {choice.caution}" if choice.caution else ""
    return f"{choice.do}{caution}"


# drawing


def _draw(pages: Pages, cards: tuple[Card, ...]) -> None:
    height = (pages.bottom - TOP - 6) / 2
    if not cards:
        pages.write("There is no station in this room yet.")
    for number, card in enumerate(cards):
        if number and number % 2 == 0:
            pages.new_page()
        top = TOP + 1 + number % 2 * (height + 4)
        pages.frame(pages.left, top, pages.width, height, dashed=True)
        _card(pages, card, top, height)


def _card(pages: Pages, card: Card, top: float, height: float) -> None:
    left, width = pages.left + PAD, pages.width - 2 * PAD
    coded = pages.qr(card.key, pages.right - PAD - QR + 3, top + PAD - 3, QR)
    beside = width - QR - 3
    y = top + PAD
    y += pages.put(card.name, left, y, beside, NAME, bold=True, most=2)
    y += pages.put(card.kind, left, y, beside, TEXT, grey=GREY, most=1)
    pages.put(card.key, pages.right - PAD - QR, top + PAD + QR - 4.5, QR + 3, SMALL, grey=GREY, align="C", most=1)
    if not coded:
        pages.put("This key is too long for a code.", pages.right - PAD - QR, top + PAD, QR, SMALL, grey=GREY, most=3)
    y = max(y + 4, top + PAD + QR + 1)
    left_over = top + height - 3 - y
    sizes = next((one for one in SIZES if _all_high(pages, card, width, one) <= left_over), SIZES[-1])
    for look in card.looks:
        if y + _high(pages, look, width, sizes) > top + height - 3:
            break
        y += _look(pages, look, left, y, width, sizes)
    if not card.looks:
        pages.put("Look whether everything is as it was yesterday.", left, y, width)


def _all_high(pages: Pages, card: Card, width: float, sizes: tuple[float, float]) -> float:
    return sum(_high(pages, one, width, sizes) for one in card.looks)


def _high(pages: Pages, look: Look, width: float, sizes: tuple[float, float]) -> float:
    asks, acts = sizes
    asked = len(pages.lines(_good(look), width, asks, bold=True, most=2)) * line_height(asks)
    act = len(pages.lines(_says(look), width - 5, acts, most=4)) * line_height(acts) if look.act else 0
    return asked + act + 2.4


def _look(pages: Pages, look: Look, left: float, y: float, width: float, sizes: tuple[float, float]) -> float:
    asks, acts = sizes
    down = pages.put(_good(look), left, y, width, asks, bold=True, most=2)
    if look.act:
        down += pages.put(_says(look), left + 5, y + down, width - 5, acts, most=4)
    return down + 2.4


def _good(look: Look) -> str:
    return f"{look.ask}  Good: {look.good}."


def _says(look: Look) -> str:
    return f"If {look.worst}{look.who}: {look.act}"
