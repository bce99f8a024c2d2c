"""Public holidays of a country, or of a region in it, as closures.

They come from the `holidays` library, which is an optional part of the installation.
"""

from collections.abc import Iterable
from importlib import import_module
from typing import Any

from walkabout.room.calendar import is_walked
from walkabout.room.fit import USUAL_YEARS
from walkabout.room.mistakes import nearest, shortened
from walkabout.room.model import Closure, Room

NOT_INSTALLED = "Public holidays need one more package. To install it: pip install 'walkabout[holidays]'"
LONGEST_NAME = 80


def public_holidays(place: str, years: Iterable[int], room: Room) -> tuple[Closure, ...]:
    """Return the public holidays on which somebody would walk otherwise, each as a closure of one day.

    `place` is a country's two or three letters, and after a hyphen those of a region: "NZ", "CA-QC". Days that are
    closed already, and days of the week on which nobody walks, are left out. Raises ValueError, with one sentence,
    for a place or a year that is not known, and where the library is not installed.
    """
    library = _library()
    country, region = _place(place, library)
    wanted = sorted(set(years))
    for year in wanted:
        if not USUAL_YEARS[0] <= year <= USUAL_YEARS[1]:
            raise ValueError(f"{year} cannot be meant. Give a year from {USUAL_YEARS[0]} to {USUAL_YEARS[1]}.")
    found = library.country_holidays(country, subdiv=region or None, years=wanted)
    # the library may add the days of a neighbouring year, such as one that is kept on the Friday before
    days = sorted((day, name) for day, name in found.items() if day.year in wanted)
    empty = [year for year in wanted if not any(day.year == year for day, _ in days)]
    if empty:
        raise ValueError(f"No public holidays are known for {place} in {empty[0]}.")
    return tuple(
        Closure(first=day, last=day, name=shortened(" ".join(name.split()), LONGEST_NAME))
        for day, name in days
        if is_walked(room, day)
    )


def _library() -> Any:
    try:
        return import_module("holidays")
    except ImportError as error:
        raise ValueError(NOT_INSTALLED) from error


def _place(typed: str, library: Any) -> tuple[str, str]:
    """Return country and region as the library writes them."""
    country, _, region = (part.strip() for part in typed.strip().partition("-"))
    known: dict[str, list[str]] = library.list_supported_countries()
    found = next((one for one in known if one.casefold() == country.casefold()), None)
    if found is None:
        raise ValueError(
            f'No country is known by the letters "{shortened(country, 20)}". '
            'Write the two or three letters of ISO 3166, such as "NZ", and a region after a hyphen, such as "CA-QC".'
        )
    if not region:
        return found, ""
    own = next((one for one in known[found] if one.casefold() == region.casefold()), None)
    if own is None:
        right = nearest(region, known[found]) or f"It can be: {', '.join(sorted(known[found]))}"
        raise ValueError(f'{found} has no region "{shortened(region, 20)}". {right if known[found] else ""}'.strip())
    return found, own
