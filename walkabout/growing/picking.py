"""How long a crop keeps its place once its harvest has begun: picked again and again, or held until wanted.

Days from the first day of harvest to the last that is worth it, by group, with exceptions by crop. Indoors, in the
light and warmth the crop table asks for; a hot room is over sooner.
"""

from collections.abc import Mapping

from msgspec import Struct

from walkabout.growing.crops import Crop, Group, Known


class Lasts(Struct, frozen=True):
    """So many days of harvest, and how that is known."""

    days: float
    known: Known
    source: str


def lasts(crop: Crop) -> Lasts | None:
    """Return how long a crop can be picked or held once ready, days; None where nothing of it is harvested.

    A flower that is not food has its days only where its seed is harvested: they run from ripe seed.
    """
    if not crop.eaten and crop.seed is None:
        return None
    return BY_CROP.get(crop.key) or BY_GROUP.get(crop.group)


def _assumed(days: float, why: str) -> Lasts:
    return Lasts(days, "assumed", why)


def _rule(days: float, why: str) -> Lasts:
    return Lasts(days, "common practice", why)


_HEAD = _assumed(10, "a head that is ready stands about ten days before it bolts or turns bitter")
_LEAVES = _assumed(42, "outer leaves are picked for about six weeks")
_REGROWS = _assumed(21, "two more cuts in about three weeks, then it bolts")
_BUSH = _assumed(120, "a lasting bush: cut a little for months, then start afresh or keep it as a potted plant")
_ROOT = Lasts(
    21,
    "published",
    "Iowa State University Extension, vegetable harvest guide: many root crops keep in the ground for several weeks; "
    "read as three",
)

BY_GROUP: Mapping[Group, Lasts] = {
    "leafy": _HEAD,
    "herb": _LEAVES,
    "fruiting": _assumed(42, "fruit follows fruit for about six weeks"),
    "legume": _assumed(21, "pods follow for about three weeks while they are picked"),
    "root": _ROOT,
    "flower": _assumed(10, "a flush of flowers, or of ripe seed, lasts about ten days"),
    "microgreen": _assumed(4, "cut within about four days, before the true leaves make it tough"),
}

BY_CROP: Mapping[str, Lasts] = {
    "spinach": _assumed(14, "leaves for about two weeks, then it bolts"),
    "chard": _assumed(60, "outer leaves are picked for about two months"),
    "kale": _assumed(60, "outer leaves are picked for about two months"),
    "rocket": _REGROWS,
    "mizuna": _REGROWS,
    "watercress": _LEAVES,
    "cabbage": _assumed(14, "a firm head stands about two weeks before it splits"),
    "broccoli": _rule(5, "cut before the buds open and turn yellow, within a few days"),
    "celery": _assumed(21, "outer stalks, or the whole plant, for about three weeks"),
    "coriander": _assumed(14, "leaves for about two weeks, then it flowers"),
    "dill": _assumed(14, "leaves for about two weeks, then it flowers"),
    "parsley": _assumed(84, "outer stalks are picked for about twelve weeks"),
    "mint": _BUSH,
    "chives": _BUSH,
    "thyme": _BUSH,
    "oregano": _BUSH,
    "sage": _BUSH,
    "rosemary": _BUSH,
    "tomato": _assumed(90, "trusses ripen one after another for about three months"),
    "pepper": _assumed(60, "fruit follows fruit for about two months"),
    "chilli": _assumed(60, "fruit follows fruit for about two months"),
    "aubergine": _assumed(56, "fruit follows fruit for about eight weeks"),
    "strawberry": _assumed(28, "one flush of fruit takes about four weeks"),
    "bean": _assumed(28, "pods follow for about four weeks while they are picked"),
    "runner-bean": _assumed(42, "pods follow for about six weeks while they are picked"),
    "radish": _rule(7, "pull within about a week: then it turns woolly and hot"),
    "turnip": _rule(14, "pull within about two weeks: older ones turn bitter"),
    "leek": _assumed(42, "stands ready for about six weeks"),
    "nasturtium": _assumed(42, "flowers are picked for about six weeks"),
}
