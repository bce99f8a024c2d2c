"""The room's own aims: the pH and the EC that it wants for a crop, in the place of the crop table's."""

from collections.abc import Mapping
from pathlib import Path

import msgspec
from msgspec import Struct

from walkabout.growing.crops import ABOVE_WATER, Crop, Crops, Range, Source
from walkabout.room.mistakes import Mistake, one_line, shortened
from walkabout.room.read import FILE
from walkabout.room.solution import Aim
from walkabout.room.toml import read

LONGEST_NAME, LONGEST_SOURCE = 40, 120
"""Characters of a crop's name in a mistake, and of a source in a reason; a line that fills the screen is not read."""


class Aimed(Struct, frozen=True):
    """A crop table with the room's own aims in it."""

    crops: Crops
    wrong: tuple[tuple[str, str, str], ...] = ()
    """(name of the aim, what is wrong with it, what would be right) for each aim that could not be used."""

    @property
    def told(self) -> tuple[str, ...]:
        """A line for each aim that is not used."""
        return tuple(f"{FILE}: {says}, so this aim is not used. {right}".strip() for _, says, right in self.wrong)


def with_aims(crops: Crops, aims: Mapping[str, Aim], water_ec: float | None = None) -> Aimed:
    """Return the crop table as this room wants it: pH and EC at 25 °C (mS/cm) with the aim's own source.

    An EC that is counted above the source water is higher by `water_ec`, where that is known.
    An aim finds its crop by key, name or other name. Of two aims for one crop the first counts.
    """
    of, sources = {crop.key: _above_water(crop, water_ec or 0.0) for crop in crops}, dict(crops.sources)
    taken: dict[str, str] = {}
    wrong: list[tuple[str, str, str]] = []
    for name, aim in aims.items():
        said, crop = _said(name), crops.find(name)
        if crop is None:
            near = crops.nearest(name, 1)
            right = f'Did you mean "{near[0].key}"?' if near else "Write a crop as the crop table names it"
            wrong.append((name, f'no crop is called "{said}"', right))
        elif crop.key in taken:
            wrong.append((name, f'"{said}" is the same crop as "{taken[crop.key]}"', "Keep one of the two"))
        else:
            taken[crop.key] = said
            source = _source(aim)
            sources.setdefault(source, Source(text=source, known="assumed"))
            of[crop.key] = _aimed(of[crop.key], aim, source)
    return Aimed(msgspec.structs.replace(crops, of=of, sources=sources), tuple(wrong))


def aims_mistakes(folder: Path, aimed: Aimed) -> tuple[Mistake, ...]:
    """Return the aims in `folder`/room.toml that cannot be used, each with its line."""
    document = read(folder / FILE) if aimed.wrong else None
    if document is None or isinstance(document, Mistake):
        return ()
    return tuple(sorted(document.mistake(("aims", name), says, right) for name, says, right in aimed.wrong))


def _above_water(crop: Crop, water_ec: float) -> Crop:
    if crop.ec is None or crop.ec.note != ABOVE_WATER or not water_ec:
        return crop
    low, high = round(crop.ec.low + water_ec, 9), round(crop.ec.high + water_ec, 9)
    source = f"{crop.ec.source}, and the water's {water_ec:g} mS/cm"
    return msgspec.structs.replace(crop, ec=Range(low, high, source=source))


def _aimed(crop: Crop, aim: Aim, source: str) -> Crop:
    return msgspec.structs.replace(
        crop,
        ph=Range(*aim.ph, source=source) if aim.ph is not None else crop.ph,
        ec=Range(*aim.ec, source=source) if aim.ec is not None else crop.ec,
    )


def _source(aim: Aim) -> str:
    return shortened(one_line(aim.source).strip(), LONGEST_SOURCE) or Aim().source


def _said(name: str) -> str:
    return shortened(one_line(name), LONGEST_NAME)
