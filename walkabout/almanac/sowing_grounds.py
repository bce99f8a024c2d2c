"""Where a crop may be sown and grown: the stations named, or those of a kind in which such crops grow."""

from collections.abc import Sequence

from msgspec import Struct

from walkabout.almanac.model import Basis
from walkabout.almanac.reached import thins
from walkabout.almanac.wanted import Wanted
from walkabout.growing.crops import Crop
from walkabout.room.model import Station

SHELVES = 2
"""On so many shelves, those with most places, batches are sown."""
GREENS = "greens"
"""The kind of station that is made for microgreens."""
NARROW = (GREENS, "case", "cuttings", "cacti")
"""Kinds of station that are made for one thing: other crops go there only where they have grown there."""


class Grounds(Struct, frozen=True):
    """Where a crop may be sown and grown, and what is to be said about that."""

    stations: tuple[Station, ...]
    shelves: tuple[Station, ...]
    """Empty where it is sown in place."""
    says: tuple[str, ...]


def grounds(crop: Crop, wanted: Wanted, basis: Basis) -> Grounds:
    """Return the stations named, else those of a kind in which the crop or its group has grown, else lit ones."""
    sown_in_place = crop.move_on is None or crop.group == "microgreen" or thins(crop)
    every = basis.room.stations
    shelves = sorted((one for one in every if one.kind == "shelf"), key=lambda one: -(one.places or 0))[:SHELVES]
    if wanted.stations:
        chosen = tuple(one for one in every if one.key in wanted.stations)
        says = [f"Grown at {_names(chosen)}, as you say."]
    else:
        alike = [one for one in basis.plantings if one.crop == crop.key or _group(basis, one.crop) == crop.group]
        stood = {move.station for one in alike for move in one.moves}
        kinds = {one.kind for one in every if one.key in stood and (sown_in_place or one.kind != "shelf")}
        chosen = tuple(one for one in every if one.kind in kinds and one.places is not None)
        says = [f"Grown at {_names(chosen)}: such crops grow at stations of that kind here."]
        if not chosen:
            lit = [one for one in every if one.places is not None and one.lamps]
            small = crop.group == "microgreen"
            own = [one for one in lit if (one.kind == GREENS if small else one.kind not in NARROW)]
            chosen = tuple(one for one in own or lit if sown_in_place or one.kind != "shelf")
            says = [f"Grown at {_names(chosen)}: they have places and a lamp. Name others with --station."]
    if not chosen:
        raise ValueError(
            f"no station is known to take {crop.name}: name one with --station, and write its places into room.toml"
        )
    if not sown_in_place and not shelves:
        says.append("There is no sowing shelf: everything is sown where it is to grow.")
    unknown = [one for one in (*chosen, *(() if sown_in_place else shelves)) if one.places is None]
    if unknown:
        says.append(
            f"room.toml does not say how many places {_names(unknown)} {'has' if len(unknown) == 1 else 'have'}: "
            "room for everything is taken there."
        )
    return Grounds(chosen, () if sown_in_place else tuple(shelves), tuple(says))


def _group(basis: Basis, crop: str) -> str:
    found = basis.crops.find(crop)
    return found.group if found else ""


def _names(stations: Sequence[Station]) -> str:
    names = [one.name for one in stations]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else ""
