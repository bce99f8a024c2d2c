"""Everything that can be printed, by its name, and a room that has given a harvest."""

from collections.abc import Callable, Sequence
from itertools import cycle

import msgspec

from tests.rooms import NOW
from walkabout.paper.cards import station_cards
from walkabout.paper.certificate import certificate
from walkabout.paper.handover_page import handover_page
from walkabout.paper.labels import planting_labels
from walkabout.paper.report import term_report
from walkabout.paper.sheet import round_sheet
from walkabout.paper.sizes import Paper
from walkabout.records.model import Loss, Picking
from walkabout.round.handover import handover_of
from walkabout.round.opened import OpenRoom

MAKES: dict[str, Callable[[OpenRoom, Paper], bytes]] = {
    "round": round_sheet,
    "cards": station_cards,
    "labels": planting_labels,
    "handover": lambda opened, paper: handover_page(handover_of(opened), paper, opened.clock()),
    "report": term_report,
    "certificate": lambda opened, paper: certificate(opened, paper, opened.room.name or "class 8b"),
}
MOST_PAGES = {"round": 9, "cards": 4, "labels": 1, "handover": 6, "report": 3, "certificate": 1}


def harvested(opened: OpenRoom, whys: Sequence[str] = ("dried out",)) -> OpenRoom:
    day = NOW.date()
    for (key, one), why in zip(opened.plantings.items(), cycle(whys), strict=False):
        picked = (Picking(day=day, count=1, grams=120.0),)
        opened.plantings[key] = msgspec.structs.replace(one, pickings=picked, losses=(Loss(day=day, count=2, why=why),))
    return opened
