"""From the name of a crop, as typed, to the crop in the table."""

from walkabout.growing.crops import Crop
from walkabout.reckon.model import Field
from walkabout.reckon.write import quoted

CROP = Field(key="crop", says="the crop", kind="text", others=("plant", "of"), starts="crop")
MAYBE_CROP = Field(key="crop", says="the crop", kind="text", needed=False, others=("plant", "of"), starts="crop")

_STANDS_FOR = {
    "microgreens": "radish-microgreens",
    "microgreen": "radish-microgreens",
    "micro greens": "radish-microgreens",
}
"""A name for many crops -> the one that is taken for it: the quickest and the commonest."""

FOOD = (
    "Food: an adult decides what is eaten, after the school's own rules and its list of allergies; wash it, and eat "
    "nothing from plants or seed that were treated."
)


def which_crop(text: str) -> Crop:
    """Return the crop of this name; raises ValueError that names the nearest."""
    from walkabout.growing.crops import load  # noqa: PLC0415 - the table is read only when a crop is named

    crops = load()
    plain = text.replace("_", " ")
    found = crops.find(_STANDS_FOR.get(_folded(text), "")) or crops.find(text) or crops.find(plain)
    if found is None:
        near = crops.nearest(text, 1)
        hint = f"did you mean {near[0].name}?" if near else "name it as in the crop table, such as lettuce"
        raise ValueError(f"the crop table has no {quoted(text)}: {hint}")
    return found


def stands_for(text: str, crop: Crop) -> list[str]:
    """Return the line of the working for a name that stands for many crops; none for a crop's own name."""
    return [f"taken: crop = {crop.name}, for {' '.join(text.split())}"] if _folded(text) in _STANDS_FOR else []


def _folded(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").replace("_", " ").split())


def food_cautions(crop: Crop) -> tuple[str, ...]:
    """Return what to mind before a crop is eaten; for one that is not food, its own caution alone."""
    own = (crop.caution,) if crop.caution else ()
    return (FOOD, *own) if crop.eaten else own


def sources(*names: str) -> str:
    """Write out the sources that the crop table gives short names, each once; other texts stand as they are."""
    from walkabout.growing.crops import load  # noqa: PLC0415 - as above

    known = load().sources
    kept = {"common practice", "from memory", "trade charts"}
    texts = (known[name].text.rstrip(".") if name in known and name not in kept else name for name in names)
    return "; ".join(dict.fromkeys(texts))
