"""Whose figures to follow: what a crop wants by the crop table, or by one published set of figures.

The sets and their bands stand in bands_published.toml beside this file; crops that only they know are found
here by name like those of the crop table.
"""

import difflib
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import msgspec
from msgspec import Struct

from walkabout.growing import crops
from walkabout.growing.crops import Crop, Range, Source

SHIPPED = Path(__file__).with_name("bands_published.toml")

QUANTITIES: Mapping[str, str] = {
    "ph": "pH",
    "ec": "EC",
    "solution": "temperature of the solution",
    "day": "temperature of the air by day",
    "night": "temperature of the air at night",
    "humidity": "humidity",
    "light": "daily light",
    "hours": "hours of light",
}
"""Ranges that a crop may have, as the crop table names them, and how one says them."""

_YOUNG = ("seedling", "seedlings", "cutting", "cuttings", "plug", "plugs", "transplants")

_ON_RAFTS = dict.fromkeys(("lettuce floating raft", "floating raft lettuce", "lettuce floating rafts"), "raft-lettuce")
"""How published tables write lettuce on rafts -> its key in the crop table."""


class Set(Struct, frozen=True, forbid_unknown_fields=True):
    """Somebody whose figures can be followed."""

    says: str
    sources: tuple[str, ...]


class Band(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One crop's ranges by one set; `above_water`: its EC is counted above the source water."""

    crop: str
    follow: str
    ph: Range | None = None
    ec: Range | None = None
    light: Range | None = None
    above_water: bool = False

    def of(self, quantity: str) -> Range | None:
        """Return the range for a quantity of `QUANTITIES`, or None."""
        return getattr(self, quantity) if quantity in ("ph", "ec", "light") else None


class Name(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A crop that only these sets know."""

    key: str
    name: str
    others: tuple[str, ...] = ()


class Published(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The whole file."""

    above_water: tuple[str, ...]
    sets: Mapping[str, Set]
    sources: Mapping[str, Source]
    band: tuple[Band, ...]
    crop: tuple[Name, ...]


class Plant(Struct, frozen=True):
    """A crop as one asks for it: of the crop table, or (`row` None) only of the published sets."""

    key: str
    name: str
    row: Crop | None


class Wanted(Struct, frozen=True):
    """What a plant wants of one quantity, and by whom."""

    range: Range
    above_water: bool = False
    instead: bool = False
    """Whether the set to follow has no such figure, so that another's was taken."""


@cache
def load() -> Published:
    """Read the shipped sets, once; raises ValueError for a file that contradicts itself."""
    return read(SHIPPED.read_text(encoding="utf-8"))


def read(text: str) -> Published:
    """Read the sets from TOML text; raises ValueError, naming the crop, for what does not fit together."""
    try:
        found = msgspec.convert(tomllib.loads(text), Published)
    except msgspec.ValidationError as error:
        raise ValueError(f"{SHIPPED.name}: {error}") from None
    table = crops.load()
    for name in found.crop:
        taken = next((one for one in (name.key, name.name, *name.others) if table.find(one)), None)
        if taken:
            raise ValueError(f"{name.key}: the crop table has '{taken}' already")
    keys = {*table.of, *(one.key for one in found.crop)}
    for band in found.band:
        if band.crop not in keys or band.follow not in found.sets:
            raise ValueError(f"{band.crop}, {band.follow}: no such crop, or no such set")
        for one in (band.ph, band.ec, band.light):
            if one is not None and one.low > one.high:
                raise ValueError(f"{band.crop}, {band.follow}: low {one.low:g} is above high {one.high:g}")
            if one is not None and one.source not in found.sources and one.source not in table.sources:
                raise ValueError(f"{band.crop}, {band.follow}: no source is called '{one.source}'")
    return found


def plant(text: str) -> Plant:
    """Return the crop of this name; raises ValueError that names the nearest.

    What stands in brackets may be left out, words may change places, and a crop's seedlings are seedlings.
    """
    bare = text.partition("(")[0].partition("/")[0].strip() or text
    for tried in (text, bare, *_turned(bare)):
        found = _find(tried)
        if found is not None:
            return found
    if bare.casefold().split()[-1:] and bare.casefold().split()[-1] in _YOUNG:
        young = _find("seedlings")
        assert young is not None
        return young
    near = [one.name for one in crops.load().nearest(bare, 1)]
    near += difflib.get_close_matches(bare.casefold(), _names(), n=1, cutoff=0.6)
    raise ValueError(f"no crop is called '{text[:40]}'" + (f": did you mean {near[0]}?" if near else ""))


def known(text: str) -> bool:
    """Say whether exactly this is the name of a crop."""
    return _find(text) is not None


def wanted(who: Plant, quantity: str, follow: str | None = None) -> Wanted | None:
    """Return what a plant wants of one of `QUANTITIES` by the set `follow`, or by the crop table.

    A set without a figure gives way to the crop table, and that to any set that has one; None when nobody has.
    """
    own = _own(who, quantity)
    mine = _bands(who, quantity)
    if follow is None:
        return own or next((_of(band, quantity) for band in mine), None)
    for band in mine:
        if band.follow == follow:
            return _of(band, quantity)
    if own is not None and own.range.source in load().sets[follow].sources:
        return own
    other = own or next((_of(band, quantity) for band in mine), None)
    return msgspec.structs.replace(other, instead=True) if other is not None else None


def others(who: Plant, quantity: str, follow: str | None = None) -> Iterator[tuple[str, Wanted]]:
    """Yield the sets, by name, whose range for this quantity is not the one that `wanted` gives."""
    followed = wanted(who, quantity, follow)
    for name in load().sets:
        found = wanted(who, quantity, name)
        if found is not None and not found.instead and (followed is None or found.range != followed.range):
            yield name, found


def source(name: str) -> Source:
    """Return what stands behind a source's short name, here or in the crop table."""
    return load().sources.get(name) or crops.load().sources[name]


def _own(who: Plant, quantity: str) -> Wanted | None:
    found: Range | None = getattr(who.row, quantity) if who.row is not None else None
    return Wanted(found, quantity == "ec" and who.key in load().above_water) if found is not None else None


def _bands(who: Plant, quantity: str) -> list[Band]:
    return [band for band in load().band if band.crop == who.key and band.of(quantity) is not None]


def _of(band: Band, quantity: str) -> Wanted:
    found = band.of(quantity)
    assert found is not None
    return Wanted(found, quantity == "ec" and band.above_water)


def _find(text: str) -> Plant | None:
    row = crops.load().find(text) or crops.load().find(_ON_RAFTS.get(_plainly(text), ""))
    if row is not None:
        return Plant(row.key, row.name, row)
    key = _names().get(_plainly(text))
    name = next((one for one in load().crop if one.key == key), None)
    return Plant(name.key, name.name, None) if name is not None else None


@cache
def _names() -> Mapping[str, str]:
    return {_plainly(name): one.key for one in load().crop for name in (one.key, one.name, *one.others)}


def _turned(text: str) -> Iterator[str]:
    words = text.split()
    if len(words) == 2:
        yield f"{words[1]} {words[0]}"


def _plainly(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").replace(",", " ").split())
