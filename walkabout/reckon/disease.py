"""The reckoning of one spell of wetness or damp air: whether a mildew or grey mould could get in."""

from walkabout.growing import disease as of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import amount

MOULD_CAUTION = (
    "Mould spores trouble people with asthma or allergies: they keep away, and an adult bags mouldy parts "
    "on the spot, without shaking them; the school's risk assessment decides."
)
AIR_THE_LEAVES = ToDo(what="Give the leaves room, open the vents, and water in the morning")

DISEASES = {
    # what may be typed -> the disease meant
    "downy mildew": "downy mildew",
    "grey mould": "grey mould",
    "powdery mildew": "powdery mildew",
    "any": "any",
    "gray mold": "grey mould",
    "gray mould": "grey mould",
    "grey mold": "grey mould",
    "botrytis": "grey mould",
    "mildew": "powdery mildew",
    "any leaf disease": "any",
}
FOLLOW = {
    "grey mould": ("flowers", "greenhouse", "greenhouse-93"),
    "powdery mildew": ("both", "podosphaera", "golovinomyces", "tomato"),
}
_ALARMING = ("high", "conditions met", "favourable")
_MEANS = {
    "no infection expected": "No infection is expected from this.",
    "unlikely": "Infection is unlikely.",
    "possible": "Infection is possible: look at the leaves over the next days.",
    "high": "The risk is high: dry the leaves, and look at them every day for two weeks.",
    "much reduced": "Infection is much reduced at this temperature, but not ruled out.",
    "conditions met": "The conditions are met: dry the leaves, and look for grey fluff every day.",
    "conditions not met": "The conditions are not met.",
    "favourable": "This air favours it: look at the leaves every day, the old and shaded ones first.",
    "unfavourable": "This does not favour it.",
}
_EASY = ("no infection expected", "unlikely", "much reduced", "conditions not met", "unfavourable")
"""Verdicts after which nobody has to do anything."""
_CUCURBITS = ("cucumber", "courgette", "squash", "pumpkin", "melon", "gourd", "zucchini", "marrow")

DISEASE = Field(key="disease", says="disease", kind="word", words=tuple(DISEASES), others=("illness", "of"))
AIR = Field(
    key="air",
    says="temperature while it was wet or damp",
    unit="°C",
    low=0,
    high=50,
    starts="air temperature",
    others=("temperature", "temp", "t", "air_temperature"),
)
WET = Field(
    key="wet",
    says="how long the leaf or flower was wet",
    unit="h",
    low=0,
    high=240,
    needed=False,
    others=("wetness", "leaf_wet", "flower_wet", "wet_hours", "leaf_wetness", "hours", "film"),
    note="without a break",
)
RH = Field(
    key="rh",
    says="relative humidity",
    unit="%",
    low=0,
    high=100,
    needed=False,
    starts="humidity",
    others=("humidity", "relative_humidity"),
)
CROP = Field(key="crop", says="crop", kind="text", needed=False, others=("plant",))
WHOSE = Field(
    key="follow",
    says="whose figures to follow",
    kind="word",
    words=tuple(word for words in FOLLOW.values() for word in words),
    needed=False,
    others=("source", "whose"),
    note="grey mould: flowers or a greenhouse text; powdery mildew: which fungus",
)


def work_infection(
    disease: str, air: float, wet: float | None, rh: float | None, crop: str | None, follow: str | None
) -> Reckoned:
    """Judge one spell of wetness or damp air for one disease."""
    kind = DISEASES[disease]
    if follow is not None and follow not in FOLLOW.get(kind, ()):
        known = ", ".join(FOLLOW.get(kind, ())) or "no other source"
        raise ValueError(f"for {kind} there is no '{follow}' to follow: there is {known}")
    plant = plain(crop)
    more: dict[str, Result] = {}
    rule: tuple[str, ...]
    if kind == "downy mildew":
        judged, rule = of.downy_mildew(air, _needed(kind, wet)), _DOWNY
    elif kind == "grey mould":
        judged, rule, more = _grey_mould(air, _needed(kind, wet), rh, follow)
    elif kind == "powdery mildew":
        whose = follow or ("tomato" if "tomato" in plant else "both")
        judged, rule = of.powdery_mildew(air, rh, whose), _POWDERY[whose]
    else:
        judged, rule = of.any_leaf_disease(rh, wet), ("damp: 90 % humidity or more, or a wet leaf",)
    stricter = _stricter(judged, more)
    says = [*_first(judged, stricter), judged.why, *_for_crop(kind, plant, crop)]
    if kind == "powdery mildew" and rh is None:
        says.append("No humidity was given, so only the temperature was judged.")
    alarming = judged.verdict in _ALARMING or (stricter is not None and stricter.value in _ALARMING)
    return Reckoned(
        results={"verdict": Result(judged.verdict, says=kind if kind != "any" else "leaf diseases"), **more},
        working=(*rule, _given(air, wet, rh), f"so: {judged.verdict}"),
        source=judged.source,
        says=(*says, "It says that a disease could come, not that it is there."),
        cautions=(MOULD_CAUTION,) if alarming else (),
        do=AIR_THE_LEAVES if alarming else None,
    )


_DOWNY = (
    "lowest: 20 °C after 2 h of wetness, 10 °C after 6 h, 5 °C after 12 h",
    "best: 15 to 20 °C after 6 h, 10 to 20 °C after 12 h, 5 to 20 °C after 24 h",
    "most: 25 °C, once 28 °C; between those hours on a straight line (assumed)",
)
_FLOWERS = (
    "on flowers: best about 20 °C, all infected after 24 h of wetness",
    f"much reduced below 15 °C and above 25 °C; called high from {of.FLOWERS_WET:g} h on (assumed)",
)
_POWDERY = {
    "both": ("15 to 30 °C; most likely from 94 % humidity, possible from about 50 %",),
    "podosphaera": ("15 to 30 °C, best 25 °C; no germination below 94 % humidity, on glass",),
    "golovinomyces": ("18 to 25 °C; best 95 to 98 % humidity, possible at 50 % and less",),
    "tomato": ("10 to 35 °C; above 50 % humidity, best above 90 %",),
}


def _grey_mould(
    air: float, wet: float, rh: float | None, follow: str | None
) -> tuple[of.Judged, tuple[str, ...], dict[str, Result]]:
    """Return the judgement, its rule, and what the other source says: with a humidity the greenhouse text leads."""
    flowers = of.grey_mould_on_flowers(air, wet)
    if follow in ("greenhouse", "greenhouse-93") and rh is None:
        raise ValueError("the greenhouse text on grey mould needs rh, the relative humidity")
    if rh is None:
        return flowers, (*_FLOWERS, "taken: the flower study, as no humidity was given"), {}
    least = 93.0 if follow == "greenhouse-93" else 85.0
    house = of.grey_mould_in_the_house(air, wet, rh, least)
    if follow == "flowers":
        return flowers, _FLOWERS, {"greenhouse": Result(house.verdict, says="by the greenhouse text")}
    rule = f"a film of water for 8 to 12 h, 13 to 24 °C, {least:g} % humidity or more"
    taken = () if follow else ("taken: the greenhouse text's newer printing; an older one has 93 %",)
    return house, (rule, *taken), {"flowers": Result(flowers.verdict, says="by the study on flowers")}


def _stricter(judged: of.Judged, more: dict[str, Result]) -> Result | None:
    """Return what the other source on grey mould says, where it warns and the one that is followed does not."""
    other = next(iter(more.values()), None)
    return other if other is not None and judged.verdict in _EASY and other.value not in _EASY else None


def _first(judged: of.Judged, stricter: Result | None) -> list[str]:
    if stricter is None:
        return [_MEANS[judged.verdict]]
    return [
        f"Two sources disagree: go by the stricter one, {stricter.says.removeprefix('by ')}.",
        _MEANS[str(stricter.value)],
        f"The other one, whose verdict stands first, says: {judged.verdict}.",
    ]


def _needed(kind: str, wet: float | None) -> float:
    if wet is None:
        raise ValueError(f"{kind} needs wet, the hours that the leaf or flower stayed wet")
    return wet


def _for_crop(kind: str, plant: str, crop: str | None) -> list[str]:
    tested = any(name in plant for name in _CUCURBITS)
    if kind == "downy mildew" and plant and not tested:
        return [f"The figures are for cucumber; on {crop} other downy mildews live, so take them as a rough guide."]
    if kind == "powdery mildew" and plant and not tested and "tomato" not in plant:
        return [f"The figures are for cucumbers and squashes; for {crop} take them as a rough guide."]
    if kind == "grey mould" and plant and "strawberr" not in plant:
        return [f"No figures for {crop} alone: grey mould takes nearly every crop."]
    return []


def _given(air: float, wet: float | None, rh: float | None) -> str:
    parts = [amount(air, "°C")]
    parts += [f"wet for {amount(wet, 'h')}"] if wet is not None else []
    parts += [f"{amount(rh, '%')} humidity"] if rh is not None else []
    return f"here: {', '.join(parts)}"


def plain(crop: str | None) -> str:
    """Write a crop's name without capitals and hyphens."""
    return " ".join((crop or "").casefold().replace("-", " ").split())


RECKONINGS = (
    Reckoning(
        name="infection",
        subject="air",
        title="Can the disease get in",
        about="Whether a wet leaf, or damp air, was enough for a mildew or grey mould to get in.",
        fields=(DISEASE, AIR, WET, RH, CROP, WHOSE),
        work=work_infection,
        example='disease="downy mildew" air=20 wet=6',
        others=("infection-risk", "disease", "disease-risk", "leaf-wetness"),
    ),
)
