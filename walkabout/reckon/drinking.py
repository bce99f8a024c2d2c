"""What one plant drinks, as the reckonings of plants and of tanks both ask and tell it."""

from msgspec import Struct

from walkabout.growing import water_use as of
from walkabout.growing.crops import Crop
from walkabout.reckon import units
from walkabout.reckon.model import Field
from walkabout.reckon.which_crop import stands_for, which_crop
from walkabout.reckon.write import amount, number, plainly, quoted

ESTIMATE = "An estimate: your own tank tells better. Write its level down for a week and use that."
SCALED = "light and VPD: simplified Penman-Monteith, Baille and others 1994, from memory; bounds assumed"

PLANTS = Field(
    key="plants", says="number of plants", low=1, high=1e5, needed=False, others=("n", "heads"), starts="plants"
)
EACH = Field(
    key="each",
    says="litres that one plant drinks a day",
    unit="L/day",
    low=0,
    high=100,
    needed=False,
    others=("q", "per_plant", "litres_each", "q_l"),
    note="for one plant, not for a square metre",
)
STAGE = Field(
    key="stage",
    says="how far the plants are",
    kind="text",
    needed=False,
    note="seedling, young, vegetative, flowering, fruiting, mature, or a share such as 60 %; mature unless given",
)
VPD = Field(
    key="vpd",
    says="dryness of the air (VPD)",
    unit="kPa",
    low=0,
    high=10,
    needed=False,
    note="0.8 kPa is what the table holds for",
)
DLI = Field(
    key="dli", says="daily light", unit="mol/m²/d", low=0, high=80, needed=False, others=("daily_light", "light")
)
VPD_REF = Field(key="vpd_ref", says="VPD that the estimate is for", unit="kPa", low=0.05, high=10, needed=False)
DLI_REF = Field(
    key="dli_ref", says="daily light that the estimate is for", unit="mol/m²/d", low=0.1, high=80, needed=False
)


def whole(plants: float) -> float:
    """Return the number of plants; raises ValueError for a part of a plant."""
    if plants != int(plants):
        raise ValueError(f"plants is {plainly(plants)}: count whole plants")
    return plants


class Drunk(Struct, frozen=True):
    """What one plant drinks: L/day, how that came about, and where it is from."""

    each: float
    working: tuple[str, ...]
    sources: tuple[str, ...]


def drunk_by(
    crop: str,
    stage: str | None,
    vpd: float | None,
    dli: float | None,
    vpd_ref: float | None = None,
    dli_ref: float | None = None,
) -> Drunk:
    """Return what one plant of a crop drinks, moved by light and dryness; raises ValueError."""
    found = which_crop(crop)
    if found.water_mature is None:
        raise ValueError(f"the crop table has no water figure for {found.name}: give each=, litres a plant and day")
    young, mature = found.water_young.value if found.water_young else None, found.water_mature.value
    lines = stands_for(crop, found)
    if stage is None:
        lines.append("taken: stage = mature")
    word = _WORDS.get((stage or "mature").strip().casefold(), (stage or "mature").strip().casefold())
    if word in of.PART_GROWN and not (word == "flowering" and found.key in of.FLOWERING):
        word = f"{100 * of.PART_GROWN[word]:g}%"
        lines.append(f"taken: {stage} = {word.rstrip('%')} % of the way to full growth (assumed)")
    each, step = _at_stage(word, found, young, mature)
    lines.append(f"{found.name}, {step}")
    factor, more = _moved(found, vpd, dli, vpd_ref, dli_ref)
    if more:
        lines += [*more, f"{plainly(each)} × {plainly(factor)} = {plainly(each * factor)} L a plant and day"]
    known = {figure.source for figure in (found.water_young, found.water_mature) if figure is not None}
    from walkabout.growing.crops import load  # noqa: PLC0415 - the table is read only when a crop is named

    said = [load().sources[name].text.rstrip(".") for name in sorted(known)]
    return Drunk(each * factor, tuple(lines), (*said, *((SCALED,) if more else ())))


_WORDS = {
    # other words for a stage, without capitals -> the stage
    "seedlings": "seedling", "sprout": "seedling", "young plant": "young", "just moved on": "young",
    "full": "mature", "full grown": "mature", "full-grown": "mature", "fruiting": "mature", "fruit": "mature",
    "in fruit": "mature", "bearing": "mature", "harvest": "mature", "flower": "flowering", "in flower": "flowering",
    "blooming": "flowering", "bloom": "flowering", "growing": "vegetative", "leafy": "vegetative",
}  # fmt: skip


def _at_stage(word: str, crop: Crop, young: float | None, mature: float) -> tuple[float, str]:
    start = "a seedling's" if young is None else "young"
    low = of.each_plant(young, mature, 0)
    if word == "seedling":
        each = of.seedling(young, mature)
        return each, f"seedling: {number(each, 3)} L a plant and day"
    if word == "young":
        return low, f"young: {number(low, 3)} L a plant and day"
    if word == "mature":
        return mature, f"mature: {number(mature, 3)} L a plant and day"
    if word == "flowering" and crop.key in of.FLOWERING:
        each = of.FLOWERING[crop.key]
        return each, f"flowering: {number(each, 3)} L a plant and day (estimate)"
    share = _share(word)
    each = of.each_plant(young, mature, share)
    put_in = f"{plainly(low)} + {plainly(share)} × ({plainly(mature)} − {plainly(low)})"
    return each, f"from {start} to mature: {put_in} = {plainly(each)} L"


def _share(stage: str) -> float:
    try:
        share = fraction(units.number(stage, "%"))
    except ValueError:
        known = "seedling, young, vegetative, flowering, fruiting, mature or a share such as 60 %"
        raise ValueError(f"{quoted(stage)} is no stage: it is {known}") from None
    if not 0 <= share <= 1:
        raise ValueError(f"stage {stage} is no share of full growth: it lies between 0 and 100 %")
    return share


def fraction(percent: float) -> float:
    """Return a share of 1 from a percentage; a bare number up to 1 is the share itself: 0.75 is 75 %."""
    return percent if percent <= 1 else percent / 100


def _moved(
    crop: Crop, vpd: float | None, dli: float | None, vpd_ref: float | None, dli_ref: float | None
) -> tuple[float, list[str]]:
    if (vpd_ref is not None and vpd is None) or (dli_ref is not None and dli is None):
        raise ValueError("vpd_ref goes with vpd=, and dli_ref with dli=")
    light = None if dli is None else (dli, dli_ref or (crop.light.low + crop.light.high) / 2)
    dry = None if vpd is None else (vpd, vpd_ref or of.VPD_REFERENCE)
    factor = of.factor(light, dry)
    lines, ratios = [], []
    for name, pair, given, unit, whence in (
        ("DLI", light, dli_ref, "mol/m²/d", "middle of the crop's band"),
        ("VPD", dry, vpd_ref, "kPa", "assumed"),
    ):
        if pair is not None:
            if given is None:
                lines.append(f"taken: {name} of the estimate = {amount(pair[1], unit)} ({whence})")
            ratios.append(pair[0] / pair[1])
            lines.append(f"{name} {plainly(pair[0])} ÷ {plainly(pair[1])} = {plainly(ratios[-1])}")
    if len(ratios) == 2:
        lines.append(f"mean of both = {plainly(sum(ratios) / 2)}")
    if ratios and abs(factor - sum(ratios) / len(ratios)) > 1e-9:
        lines.append(f"kept between {of.LEAST_FACTOR:g} and {of.MOST_FACTOR:g}: {plainly(factor)}")
    return factor, lines
