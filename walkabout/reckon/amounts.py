"""What was promised, as people say it: '30', '30 heads', '2 kg', '30 portions'."""

import re
from typing import Literal

from msgspec import Struct

from walkabout.growing import harvest as of
from walkabout.growing.crops import Crop
from walkabout.reckon import units
from walkabout.reckon.write import amount, plainly

PLANTS = (
    "head", "plant", "pot", "bunch", "root", "bulb", "seedling", "piece", "clump", "stem",
)  # fmt: skip
PEOPLE = ("portion", "serving", "person", "people", "pupil", "plate", "salad", "guest", "taste", "helping")
MASSES = ("g", "gram", "kg", "kilo", "kilogram", "mg", "oz", "ounce", "lb", "pound")

_FORM = re.compile(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*(.*?)\s*")


class Promised(Struct, frozen=True):
    """So many plants, grams or portions."""

    count: float
    kind: Literal["plants", "grams", "portions"]


class Needed(Struct, frozen=True, kw_only=True):
    """How many plants a promise takes, with the lines that show how."""

    plants: int
    grams: float | None
    """What those plants weigh, as far as it is known."""
    lines: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def promised(text: str, crop: Crop) -> Promised:
    """Read an amount; a bare number and the crop's own name mean plants. Raises ValueError for anything else."""
    found = _FORM.fullmatch(text)
    unclear = f"the amount '{text}' is not clear: write plants (30), portions (30 portions) or a mass (2 kg)"
    if found is None:
        raise ValueError(unclear)
    word = _singular(found[2].casefold(), crop)
    if word == "" and found[2] and crop.group in ("fruiting", "legume"):
        raise ValueError(f"'{text}' may mean plants or fruit: write '{found[1]} plants', or a mass (2 kg)")
    if word in MASSES:
        spelled = {"gram": "g", "kilo": "kg", "kilogram": "kg", "ounce": "oz", "pound": "lb"}.get(word, word)
        count, kind = units.number(f"{found[1]} {spelled}", "g"), "grams"
    else:
        count = units.number(found[1], "")
        kind = "portions" if word in PEOPLE else "plants" if word in ("", *PLANTS) else ""
    if not kind:
        raise ValueError(unclear)
    if not 0 < count <= 1e6:
        raise ValueError(f"the amount '{text}' must be more than nothing, and less than a million")
    if kind == "plants" and count != int(count):
        raise ValueError(f"plants are counted in whole ones: write {int(count) + 1}, not '{text}'")
    return Promised(count, kind)  # type: ignore[arg-type]


def plants_for(promise: Promised, crop: Crop, grams: float | None, portion: float | None) -> Needed:
    """Return the plants that a promise takes; `grams` from one plant and the `portion` in g replace the table's.

    Raises ValueError where the table has no figure and none is given.
    """
    table = of.load()
    sources: list[str] = []
    lines: list[str] = []
    if grams is None and crop.key in table.plant:
        figure = table.plant[crop.key]
        grams = figure.value
        sources.append(f"mass of one plant: {table.sources[figure.source].text}")
        lines.append(f"taken: {amount(grams, 'g')} from one plant ({_known(table, figure.source)})")
    if promise.kind == "plants":
        count = of.plants_for(promise.count, 1)
        if grams is None:
            return Needed(plants=count, grams=None)
        lines.append(_weigh(count, grams))
        return Needed(plants=count, grams=count * grams, lines=tuple(lines), sources=tuple(sources))
    if grams is None:
        raise ValueError(f"no mass of one plant is known for {crop.name}: give grams=, or the amount in plants")
    mass = promise.count
    if promise.kind == "portions":
        if portion is None:
            if crop.group not in table.portion:
                raise ValueError(f"no portion of {crop.name} is known: give portion= in g")
            given = table.portion[crop.group]
            portion = given.value
            sources.append(f"portion: {table.sources[given.source].text}")
            lines.append(f"taken: {amount(portion, 'g')} for one person ({_known(table, given.source)})")
        mass = promise.count * portion
        lines.append(f"mass = {plainly(promise.count)} × {amount(portion, 'g')} = {amount(mass, 'g')}")
    count = of.plants_for(mass, grams)
    lines.append(f"plants = {plainly(mass)} g ÷ {plainly(grams)} g = {rounded_up(mass / grams, count)}")
    lines.append(_weigh(count, grams))
    return Needed(plants=count, grams=count * grams, lines=tuple(lines), sources=tuple(sources))


def _weigh(count: int, grams: float) -> str:
    return f"they may weigh {count} × {amount(grams, 'g')} = {amount(count * grams, 'g')}"


def rounded_up(exact: float, whole: int) -> str:
    """Write a number and the whole number it was rounded up to: '37.5, so 38', or '20' alone."""
    written = plainly(exact)
    return written if written == str(whole) else f"{written}, so {whole}"


def _known(table: of.Amounts, source: str) -> str:
    one = table.sources[source]
    return source if one.known == "published" else one.known


def _singular(word: str, crop: Crop) -> str:
    names = {name.casefold() for name in (crop.key, crop.name, *crop.others)}
    word = word.removesuffix(" of")
    for plain in (word, word.removesuffix("s"), word.removesuffix("es")):
        if plain in names:
            return ""
        if plain in (*PLANTS, *PEOPLE, *MASSES):
            return plain
    return _with_crop(word, names)


def _with_crop(word: str, names: set[str]) -> str:
    """Read 'heads of lettuce' and 'lettuce plants' as heads and plants."""
    parts = [part.removesuffix("s") for part in word.split() if part != "of"]
    kept = [part for part in parts if part not in names and f"{part}s" not in names]
    if len(kept) == 1 and len(parts) > 1 and kept[0] in (*PLANTS, *PEOPLE, *MASSES, "bunche"):
        return kept[0].replace("bunche", "bunch")
    return word
