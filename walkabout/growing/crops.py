"""What each crop wants, read from the crop table beside this file.

Temperatures in °C, humidity in %, EC in mS/cm at 25 °C, daily light in mol/m²/d, spans in days from
sowing, spacing in cm, water in litres for one plant and day. Every value carries its source.
"""

import difflib
import math
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar, get_args

import msgspec
from msgspec import Struct

Group = Literal[
    "leafy",
    "herb",
    "fruiting",
    "legume",
    "root",
    "flower",
    "foliage",
    "fern",
    "succulent",
    "microgreen",
]
GROUPS: tuple[Group, ...] = get_args(Group)

Known = Literal["published", "from memory", "common practice", "assumed"]
"""How a figure is known: seen in a text (or in a page that quotes it), remembered, a rule, a guess."""

T = TypeVar("T")

SHIPPED = Path(__file__).with_name("crops.toml")


class Source(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What stands behind a source's short name."""

    text: str
    known: Known


class Range(Struct, frozen=True, forbid_unknown_fields=True):
    """From `low` to `high`, both inside, in the unit of the value it belongs to."""

    low: float
    high: float
    source: str
    note: str = ""

    def hold(self, value: float) -> bool:
        """Say whether the value is inside."""
        return self.low <= value <= self.high


ABOVE_WATER = "counted above the source water"
"""The note of an EC range that does not count what the water brings."""


class Figure(Struct, frozen=True, forbid_unknown_fields=True):
    """One number, in the unit of the value it belongs to."""

    value: float
    source: str
    note: str = ""


class Crop(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One crop. What does not apply to it, or is not known, is None."""

    key: str
    name: str
    others: tuple[str, ...] = ()
    """What else people call it."""
    botanical: str
    group: Group
    eaten: str = ""
    """The part that is eaten; empty when it is not food."""
    caution: str = ""
    """How it can hurt somebody, in one line."""
    note: str = ""

    day: Range
    night: Range | None = None
    humidity: Range
    light: Range
    spacing: Figure

    chill: Figure | None = None
    """Harm begins below this air temperature."""
    heat: Figure | None = None
    """Harm begins above this air temperature."""
    ph: Range | None = None
    """At the roots: of the solution, or of the potting mix where its note says so."""
    ec: Range | None = None
    solution: Range | None = None
    """Temperature of the solution."""
    hours: Range | None = None
    """Hours of light a day."""
    emerge: Range | None = None
    """Until seedlings show, at 20 to 25 °C."""
    move_on: Range | None = None
    """Until moved on or thinned; for microgreens until they leave the dark."""
    harvest: Range | None = None
    """Until the first harvest; for flowers until they flower."""
    seed: Range | None = None
    """Until the seed is ripe."""
    base: Figure | None = None
    """The temperature below which it does not develop, for heat sums."""
    water_young: Figure | None = None
    water_mature: Figure | None = None

    def values(self) -> Iterator[tuple[str, Range | Figure]]:
        """Yield every value that this crop has, with its name in the table."""
        for name in self.__struct_fields__:
            value = getattr(self, name)
            if isinstance(value, Range | Figure):
                yield name, value

    def wants(self, quantity: str) -> Range | None:
        """Return the range for a quantity as the checklists name it, or None when there is none.

        The lowest air temperature of a day is held against the night's range.
        """
        return getattr(self, _QUANTITIES[quantity]) if quantity in _QUANTITIES else None


_QUANTITIES = {
    "pH": "ph",
    "EC": "ec",
    "air temperature": "day",
    "highest air temperature": "day",
    "lowest air temperature": "night",
    "solution temperature": "solution",
    "humidity": "humidity",
}


class Crops(Struct, frozen=True, kw_only=True):
    """The whole table: `of` by key in the table's order, `sources` by short name."""

    of: Mapping[str, Crop]
    sources: Mapping[str, Source]
    names: Mapping[str, str]
    """Every key, name and other name, plainly written -> key."""

    def __iter__(self) -> Iterator[Crop]:
        return iter(self.of.values())

    def __len__(self) -> int:
        return len(self.of)

    def find(self, text: str) -> Crop | None:
        """Return the crop with exactly this key, name or other name, or None.

        Capitals, hyphens and extra spaces do not count.
        """
        key = self.names.get(_plainly(text))
        return self.of[key] if key else None

    def nearest(self, text: str, most: int = 3) -> tuple[Crop, ...]:
        """Return up to `most` crops whose names look most like the text, best first."""
        wanted = _plainly(text)
        if not wanted:
            return ()
        close = difflib.get_close_matches(wanted, self.names, n=4 * most, cutoff=0.6)
        part = [name for name in self.names if len(wanted) > 2 and wanted in name]
        part.sort(key=lambda name: not name.startswith(wanted))
        keys = dict.fromkeys(self.names[name] for name in (*close, *part))
        return tuple(self.of[key] for key in keys)[:most]


def load(path: Path | None = None) -> Crops:
    """Read a crop table, the shipped one unless told otherwise; each file is read once.

    Raises ValueError, naming the crop and the value, for a table that contradicts itself or the schema,
    and OSError when the file cannot be read.
    """
    return _load(path or SHIPPED)


@cache
def _load(path: Path) -> Crops:
    try:
        return read(path.read_text(encoding="utf-8"))
    except ValueError as error:
        raise ValueError(f"{path.name}: {error}") from None


def read(text: str) -> Crops:
    """Read a crop table from its TOML text; raises ValueError as `load` does."""
    table = tomllib.loads(text)
    unknown = sorted(table.keys() - {"sources", "crop"})
    if unknown:
        raise ValueError(f"'{unknown[0]}' is neither 'sources' nor 'crop'")
    sources = _convert(table.get("sources", {}), dict[str, Source], "sources")
    entries = table.get("crop", [])
    if not isinstance(entries, list):
        raise ValueError("each crop begins with [[crop]], in double brackets")  # noqa: TRY004
    of: dict[str, Crop] = {}
    names: dict[str, str] = {}
    for entry in entries:
        crop = _convert(entry, Crop, _title(entry))
        _check(crop, sources)
        for name in (crop.key, crop.name, *crop.others):
            taken = names.setdefault(_plainly(name), crop.key)
            if taken != crop.key or crop.key in of:
                raise ValueError(f"{crop.key}: the name '{name}' already belongs to {taken}")
        of[crop.key] = crop
    return Crops(of=of, sources=sources, names=names)


def _check(crop: Crop, sources: Mapping[str, Source]) -> None:
    for name, value in crop.values():
        if value.source not in sources:
            near = difflib.get_close_matches(value.source, sources, n=1)
            hint = f"; did you mean '{near[0]}'?" if near else ""
            raise ValueError(f"{crop.key}, {name}: no source is called '{value.source}'{hint}")
        numbers = (value.low, value.high) if isinstance(value, Range) else (value.value,)
        if not all(map(math.isfinite, numbers)):
            raise ValueError(f"{crop.key}, {name}: {numbers[0]:g} is not a number that can be used")
        if isinstance(value, Range) and value.low > value.high:
            raise ValueError(f"{crop.key}, {name}: low {value.low:g} is above high {value.high:g}")


def _convert(data: Any, kind: type[T], title: str) -> T:
    try:
        return msgspec.convert(data, kind)
    except msgspec.ValidationError as error:
        what, _, where = str(error).partition(" - at `$")
        place = f", {where.strip('.`')}" if where.strip(".`") else ""
        raise ValueError(f"{title}{place}: {what[:1].lower()}{what[1:]}") from None


def _title(entry: Any) -> str:
    named = isinstance(entry, dict) and (entry.get("key") or entry.get("name"))
    return str(named or "a crop without a key")


def _plainly(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").replace("’", "'").split())
