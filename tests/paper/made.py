"""Everything that can be printed, by its name, and a room that has given a harvest."""

from collections.abc import Callable, Sequence
from itertools import cycle

import msgspec

from tests.rooms import NOW
from walkabout.paper.cards import station_cards
from walkabout.paper.certificate import certificate
from walkabout.paper.handover_page import handover_page
from walkabout.paper.labels import planting_labels
from walkabout.paper.plot_list import plot_list
from walkabout.paper.report import term_report
from walkabout.paper.sheet import round_sheet
from walkabout.paper.sizes import Paper
from walkabout.records.model import Loss, Picking
from walkabout.records.model_measured import Plot, Trial
from walkabout.round.handover import handover_of
from walkabout.round.opened import OpenRoom


def a_trial(opened: OpenRoom, typed: str = "heavier", *, blind: bool = False, plots: int = 12) -> Trial:
    """Return a trial with what was typed as its question, treatments, response and as the names of its plots."""
    treatments = (f"{typed} mat", "as usual")
    standing = list(opened.plantings.values())
    laid = [
        Plot(
            name=f"{typed} {number + 1}", kind="plant", treatment=treatments[(number * 5 // 3) % 2],
            station=standing[number % 2].station, planting=standing[number % 2].key,
            block=f"block {typed}" if number < plots // 2 else "the other block",
        )
        for number in range(plots)
    ]  # fmt: skip
    return Trial(
        key="tr-1", question=f"Does {typed} help?", treatments=treatments, control="as usual", plots=tuple(laid),
        response=f"weight of {typed}", unit="g", seed=4711, made=NOW, by="AR", how=f"On the small balance, {typed}.",
        blind=blind, codes=("B", "A") if blind else (),
    )  # fmt: skip


MAKES: dict[str, Callable[[OpenRoom, Paper], bytes]] = {
    "round": round_sheet,
    "cards": station_cards,
    "labels": planting_labels,
    "handover": lambda opened, paper: handover_page(handover_of(opened), paper, opened.clock()),
    "plots": lambda opened, paper: plot_list(opened, paper, a_trial(opened, opened.room.name, blind=True)),
    "report": term_report,
    "certificate": lambda opened, paper: certificate(opened, paper, opened.room.name or "class 8b"),
}
MOST_PAGES = {"round": 9, "cards": 4, "labels": 1, "handover": 6, "plots": 3, "report": 3, "certificate": 1}


def harvested(opened: OpenRoom, whys: Sequence[str] = ("dried out",)) -> OpenRoom:
    day = NOW.date()
    for (key, one), why in zip(opened.plantings.items(), cycle(whys), strict=False):
        picked = (Picking(day=day, count=1, grams=120.0),)
        opened.plantings[key] = msgspec.structs.replace(one, pickings=picked, losses=(Loss(day=day, count=2, why=why),))
    return opened
