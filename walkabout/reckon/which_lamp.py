"""From what is typed for the shape of a lamp, or for what it gives, to what the reckonings take."""

from difflib import get_close_matches

from walkabout.growing import lamps as of
from walkabout.growing.distance import SHAPES, Face, Shape
from walkabout.growing.light_kinds import KINDS
from walkabout.reckon.light import glass_of
from walkabout.reckon.model import Field
from walkabout.reckon.which_light import LAMP, which_key
from walkabout.reckon.write import amount, plainly

_MEANT: dict[Shape, str] = {
    "point": "bulb, spot, spotlight, small",
    "tube": "line, strip, batten, bar, linear, fluorescent tube, line tube",
    "panel": "square, square panel, rectangle, rectangular, rectangular panel, board, bank, bank tubes, tubes, flat",
    "disc": "disk, round, circle, circular, round panel, ring, dome",
}
"""Other words for each shape."""


def which_face(
    shape: str | None, width: float | None, length: float | None, diameter: float | None = None
) -> tuple[Face, str]:
    """Return the shining face of a lamp, and the line that says what was taken ('' where nothing was).

    The sizes in cm, above zero; a lamp with a diameter is a disc. Raises ValueError for an unknown shape, and for
    sizes that are missing or too many.
    """
    if diameter is not None:
        if (shape is not None and _shape(shape) != "disc") or width is not None or length is not None:
            raise ValueError("diameter= is of a round lamp: leave width= and length= out, or leave diameter= out")
        return Face("disc", diameter), ""
    sizes = [one for one in (width, length) if one is not None]
    if shape is None:
        if not sizes:
            return Face(), "taken: a lamp so small that it is a point"
        if len(sizes) == 1:
            return Face("panel", sizes[0], sizes[0]), f"taken: a square panel, {amount(sizes[0], 'cm')} each side"
        return Face("panel", sizes[0], sizes[1]), f"taken: a panel {_by(sizes)}"
    known = _shape(shape)
    if known == "point":
        return Face(), "taken: a point, whatever the lamp's size" if sizes else ""
    if not sizes:
        needed = {"tube": "length= of the tube", "disc": "width= of the disc, its diameter"}
        raise ValueError(f"give {needed.get(known, 'width= and length= of the panel')}, in cm")
    if known == "tube":
        size = length if length is not None else sizes[0]
        return Face("tube", 0.0, size), "the width of a tube is left out" if len(sizes) == 2 else ""
    if known == "disc":
        if len(sizes) == 2 and sizes[0] != sizes[1]:
            raise ValueError("a disc has one width, its diameter: leave length= out, or write shape=panel")
        return Face("disc", sizes[0]), ""
    if len(sizes) == 1:
        return Face("panel", sizes[0], sizes[0]), f"taken: a square panel, {amount(sizes[0], 'cm')} each side"
    return Face("panel", sizes[0], sizes[1]), ""


def _shape(text: str) -> Shape:
    plain = " ".join(
        word
        for word in text.casefold().replace("-", " ").replace("_", " ").split()
        if word not in ("uniform", "lambertian", "a", "of", "lamp", "source")
    )
    known: dict[str, Shape] = {word: one for one, words in _MEANT.items() for word in (one, *words.split(", "))}
    if plain in known:
        return known[plain]
    near = get_close_matches(plain, known, n=1, cutoff=0.6)
    hint = f"did you mean {known[near[0]]}?" if near else f"it is one of {', '.join(SHAPES)}"
    raise ValueError(f"shape: there is no '{text}' here: {hint}")


def _by(sizes: list[float]) -> str:
    return f"{plainly(sizes[0])} × {amount(sizes[1], 'cm')}"


def read_efficacy(efficacy: float | None, lamp: str | None, name: str = "efficacy") -> tuple[float, str, str]:
    """Return the efficacy, µmol/J, the line that says what was taken ('' where it was given), and whose figure it is.

    An efficacy that was given stands before the kind of lamp. `name` is the key of its field. Raises ValueError.
    """
    if efficacy is not None:
        return efficacy, "", "efficacy as given"
    if lamp is None:
        raise ValueError(f"give {name}= in µmol/J, from the maker's sheet, or the kind of lamp: lamp=white-led")
    found = of.EFFICACIES.get(_limit(lamp)) or of.EFFICACIES.get(which_key(lamp))
    if found is None:
        known = ", ".join(of.EFFICACIES)
        raise ValueError(f"no published efficacy was found for '{lamp}': give {name}= in µmol/J, or one of {known}")
    return found.value, f"taken: {amount(found.value, 'µmol/J')}, {found.says}", f"efficacy: {found.source}"


def minding_lamp(lamp: str | None) -> tuple[str, ...]:
    """Return what to mind near a lamp of this name, also near the best that LEDs may become; raises ValueError."""
    return () if lamp is None or _limit(lamp) in of.EFFICACIES.keys() - KINDS.keys() else glass_of(lamp)


def pence(price: float | None) -> tuple[str, ...]:
    """Ask whether a price for a kWh is in pence or cents, where it is so high that it may well be."""
    if price is None or price < MOST_PRICE:
        return ()
    asked = f"{plainly(price)} for a kWh is much: is that pence or cents?"
    return (f"{asked} Then the cost is in pence or cents too, or write price={plainly(price / 100)}.",)


def _limit(text: str) -> str:
    return "-".join(text.casefold().replace("-", " ").replace("_", " ").split())


EFFICACY = Field(
    key="efficacy",
    says="photons for a joule (efficacy)",
    unit="µmol/J",
    low=0.01,
    high=of.MOST_EFFICACY,
    needed=False,
    starts="efficacy",
    others=("ppe", "umol_per_joule", "photon_efficacy", "efficiency"),
    note="from the maker's sheet",
)
MAYBE_LAMP = Field(
    key="lamp",
    says="or the kind of lamp",
    kind="text",
    words=tuple(of.EFFICACIES),
    needed=False,
    starts="lamp of known efficacy",
    others=LAMP.others,
)
REACHING = Field(
    key="reaching",
    says="share that reaches the crop",
    low=0.01,
    high=1,
    default=of.REACHING,
    others=("fraction", "share", "utilisation", "utilization", "fraction_reaching_crop", "fraction_reaching"),
    note="1 is all of it",
)
WATTS = Field(
    key="watts",
    says="power from the mains",
    unit="W",
    low=0,
    high=1e6,
    starts="watts",
    others=("power", "w", "wattage"),
    note="with ballast or driver",
)
AREA = Field(
    key="area",
    says="area that is lit",
    unit="m²",
    low=0.0001,
    high=100_000,
    needed=False,
    others=("a", "lit_area", "m2"),
)
PRICE = Field(
    key="price",
    says="price of a kWh",
    low=0,
    high=1e6,
    needed=False,
    starts="price",
    others=("tariff", "per_kwh", "price_per_kwh", "rate", "cost_per_kwh"),
    note="in the room's currency",
)
MOST_PRICE = 3.0
"""Pounds, euros or dollars for a kWh, of which a fraction is usual. Assumed."""
