"""When the air, the water on a leaf or the warmth at the root lets a disease in.

Temperatures in °C (0 to 50), relative humidity in %, leaf wetness in hours without a break. Each judgement
says what it rests on; none of them says that a disease is there, only that it could come.
"""

from itertools import pairwise

from msgspec import Struct

from walkabout.growing.air import condenses, dew_point, vapour_pressure
from walkabout.growing.limits import within

COHEN = (
    "factorial study of cucumber downy mildew with 72 combinations of temperature, wetness and spores "
    "(abstract seen; Cohen 1977, Canadian Journal of Botany: from memory)"
)
BULGER = "Bulger, Ellis and Madden 1987, Phytopathology 77:1225-1230 (strawberry flowers; abstract seen)"
MASSACHUSETTS = "University of Massachusetts Extension, Botrytis blight of greenhouse crops"
SQUASH = (
    "laboratory study of powdery mildew on squash, Sphaerotheca (Podosphaera) (abstract seen; probably Cheah, "
    "Page and Cox 1996, New Zealand Plant Protection: from memory)"
)
EPHYTIA = "French national research institute, plant-health site (powdery mildew, Golovinomyces)"
TOMATO_MILDEW = "a weather-station maker's page on tomato powdery mildew (weak)"
KENTUCKY = "University of Kentucky PPFS-GH-1, 2016"
LITTRELL = "Littrell and McCarter 1970, Phytopathology 60:704-707 (abstract seen)"
BATES = "Bates and Stanghellini 1984, Plant Disease 68:989-991; Gold and Stanghellini 1985, Phytopathology 75:333-337"
CORNELL = "Brechner and Both, Hydroponic Lettuce Handbook, Cornell University (seen in pages that quote it)"

WET_AT = 90.0
"""A leaf is taken as wet from this relative humidity on, %, where nobody felt it. Common practice."""
FLOWERS_WET = 12.0
"""Hours of wetness from which the risk for flowers is called high: assumed, half of those at which all of
the inoculated strawberry flowers were infected; above it the greenhouse text calls for infection too."""


class Judged(Struct, frozen=True):
    """What conditions mean for one disease: a verdict, the reason in a sentence, whose figures it follows."""

    verdict: str
    why: str
    source: str


def leaf_is_wet(air: float, rh: float, leaf: float | None = None) -> bool:
    """Say whether a leaf is wet, going by the air alone: at or below the dew point, or at 90 % and more.

    `air` and `leaf` (as warm as the air unless given) in °C, `rh` in %. Common practice where there is no
    sensor for wetness. Raises OutOfRange.
    """
    inside = vapour_pressure(air, rh)
    if rh >= WET_AT:
        return True
    return leaf is not None and inside > 0 and condenses(leaf, dew_point(inside))


def downy_mildew(air: float, wet: float) -> Judged:
    """Judge a wet spell of `wet` hours (0 to 240) at `air` °C for downy mildew of cucumber.

    'no infection expected', 'unlikely', 'possible' or 'high'. Tested were 2, 6, 12 and 24 h; the limits
    between them lie on straight lines (assumed). Raises OutOfRange.
    """
    _spell(air, wet)
    if wet < 2:
        return Judged("no infection expected", "The shortest wet spell that let it in was 2 h.", COHEN)
    if air > 28:
        why = "Nothing was infected above 25 °C, but for one case at 28 °C."
        return Judged("no infection expected", why, COHEN)
    if air > 25:
        return Judged("unlikely", "25 °C was the limit, but for one case at 28 °C.", COHEN)
    coldest = _between(wet, ((2, 20), (6, 10), (12, 5)))
    if air < coldest:
        why = f"After {wet:g} h of wetness it needs {coldest:.3g} °C at least, even where spores are many."
        return Judged("no infection expected", why, COHEN)
    best = _between(wet, ((6, 15), (12, 10), (24, 5)))
    if wet >= 6 and best <= air <= 20:
        why = f"From 6 h on infection rises sharply, and after {wet:g} h, {best:.3g} to 20 °C suits it best."
        return Judged("high", why, COHEN)
    if wet < 6:
        return Judged("possible", "Two hours are enough where it is warm, but much more comes from 6 h on.", COHEN)
    return Judged("possible", f"It can get in, but {best:.3g} to 20 °C would suit it better after {wet:g} h.", COHEN)


def grey_mould_on_flowers(air: float, wet: float) -> Judged:
    """Judge a wet spell of `wet` hours (0 to 240) at `air` °C for grey mould of strawberry flowers.

    'no infection expected', 'much reduced', 'possible' or 'high' (from FLOWERS_WET on, 15 to 25 °C).
    Raises OutOfRange.
    """
    _spell(air, wet)
    if wet == 0:
        return Judged("no infection expected", "The spores need water on the flower.", BULGER)
    if not 15 <= air <= 25:
        return Judged("much reduced", "Below 15 °C and above 25 °C far fewer flowers were infected.", BULGER)
    if wet >= 24:
        return Judged("high", "At about 20 °C every flower was infected after 24 h of wetness.", BULGER)
    if wet >= FLOWERS_WET:
        why = f"Infection rises with the hours of wetness; from {FLOWERS_WET:g} h on it is called high here (assumed)."
        return Judged("high", why, BULGER)
    return Judged("possible", "Infection rises with the hours of wetness, and about 20 °C suits it best.", BULGER)


def grey_mould_in_the_house(air: float, wet: float, rh: float, least_rh: float = 85) -> Judged:
    """Judge a film of water that stood for `wet` hours (0 to 240) at `air` °C and `rh` % for grey mould.

    'conditions met' when it stood 8 h or more at 13 to 24 °C (55 to 75 °F) and `least_rh` % or more, else
    'conditions not met'. One printing of the text has 85 %, an older one 93 %. Raises OutOfRange.
    """
    _spell(air, wet)
    within("the relative humidity", rh, 0, 100, "%")
    # 55 °F is 12.8 °C and 75 °F is 23.9 °C; the rounded figures are those that people use.
    short = [
        *([f"water stood {wet:g} h, not 8"] if wet < 8 else []),
        *([f"{air:.3g} °C is outside 13 to 24 °C"] if not 12.75 <= air <= 24 else []),
        *([f"{rh:g} % humidity is below {least_rh:g} %"] if rh < least_rh else []),
    ]
    if short:
        return Judged("conditions not met", f"{_capital('; '.join(short))}.", MASSACHUSETTS)
    why = f"It needs water for 8 to 12 h, 13 to 24 °C and {least_rh:g} % humidity or more: all are here."
    return Judged("conditions met", why, MASSACHUSETTS)


def powdery_mildew(air: float, rh: float | None = None, of: str = "both") -> Judged:
    """Judge air of `air` °C and `rh` % for powdery mildew: 'favourable', 'possible', 'unlikely', 'unfavourable'.

    `of` says whose figures: 'podosphaera' (squash, in the laboratory: 15 to 30 °C, 94 % or more),
    'golovinomyces' (18 to 25 °C, best near 95 %, possible when dry), 'tomato' (10 to 35 °C, above 50 %), or
    'both' of the two on cucumbers and squashes: 15 to 30 °C, most likely from 94 %, possible from about
    50 %, for they disagree on dry air. Without `rh` only the temperature is judged. Raises OutOfRange, and
    KeyError for another `of`.
    """
    within("the air temperature", air, 0, 50, "°C")
    if rh is not None:
        within("the relative humidity", rh, 0, 100, "%")
    low, high, likely, least, source = _MILDEWS[of]
    if not low <= air <= high:
        return Judged("unfavourable", f"{air:.3g} °C is outside {low:g} to {high:g} °C, where it lives.", source)
    if rh is None:
        return Judged("possible", f"{low:g} to {high:g} °C suits it; it depends on the humidity.", source)
    if rh >= likely:
        return Judged("favourable", f"{low:g} to {high:g} °C and {likely:g} % humidity or more suit it best.", source)
    if rh >= least:
        return Judged("possible", f"Warm enough; it needs no wet leaf, but likes {likely:g} % and more best.", source)
    if of == "podosphaera":
        return Judged("unfavourable", f"On glass no spore came up below {likely:g} % humidity.", source)
    return Judged("unlikely", f"Below {least:g} % humidity it is rare, though not ruled out.", source)


_MILDEWS = {
    # of -> lowest and highest °C, % from which it is likely, % from which it is possible, source
    "both": (15.0, 30.0, 94.0, 50.0, f"{SQUASH}; {EPHYTIA}"),
    "podosphaera": (15.0, 30.0, 94.0, 94.0, SQUASH),
    "golovinomyces": (18.0, 25.0, 95.0, 0.0, EPHYTIA),
    "tomato": (10.0, 35.0, 90.0, 50.0, TOMATO_MILDEW),
}


def any_leaf_disease(rh: float | None, wet: float | None) -> Judged:
    """Judge air of `rh` % and `wet` hours of leaf wetness for leaf diseases in general.

    'favourable' from 90 % on or with any wetness, else 'unfavourable'. Raises OutOfRange, and ValueError
    when neither is given.
    """
    if rh is None and wet is None:
        raise ValueError("give the humidity or the hours of leaf wetness")
    if rh is not None:
        within("the relative humidity", rh, 0, 100, "%")
    if (rh or 0) >= WET_AT or (wet or 0) > 0:
        return Judged("favourable", "Air of 90 % humidity and more, and wet leaves, help most leaf diseases.", KENTUCKY)
    return Judged("unfavourable", "Dry leaves in air below 90 % humidity hold most leaf diseases back.", KENTUCKY)


def damping_off(temperature: float, crop: str = "") -> Judged:
    """Judge a soil or mix of `temperature` °C for damping-off by warm-loving Pythium (P. aphanidermatum).

    'high', 'possible', 'low' or 'no damage in the study'. `crop`: 'tomato', 'rye', or '' for what the
    fungus itself does. Raises OutOfRange.
    """
    within("the temperature of the soil", temperature, 0, 50, "°C")
    if crop == "rye":
        if temperature <= 15:
            return Judged("no damage in the study", "Rye sown at 15 °C came up unharmed.", LITTRELL)
        if temperature >= 27:
            return Judged("high", "No rye came up at 27 °C and above.", LITTRELL)
        return Judged("possible", "Between no damage at 15 °C and total loss at 27 °C.", LITTRELL)
    if 27 <= temperature <= 35:
        return Judged("high", "At 27 to 35 °C it hurt tomato, sown in it, the most.", LITTRELL)
    if temperature > 43:
        return Judged("low", "Above 43 °C it hardly grows, and neither does the crop.", LITTRELL)
    if temperature > 35:
        return Judged("possible", "It grows best at 35 °C and fades until 43 °C.", LITTRELL)
    if temperature > 23:
        return Judged("possible", "Above 23 °C grown plants were hurt too, less than at 27 to 35 °C.", LITTRELL)
    if temperature > 15:
        return Judged("low", "It grows slowly here: 35 °C suits it best, and at 15 °C it hardly grows.", LITTRELL)
    return Judged("low", "At 15 °C it hardly grows.", LITTRELL)


def root_zone(temperature: float, of: str = "pythium") -> Judged:
    """Judge a solution of `temperature` °C (0 to 45) for root rot by Pythium: 'low', 'raised' or 'high' risk.

    `of`: 'pythium' (low to 20 °C, which is common practice, and high above 23 °C, where the quick killer
    takes over) or 'cornell' (a lettuce pond is kept at 25 °C at most, and cooled from 26 °C on). Raises
    OutOfRange, and KeyError for another `of`.
    """
    within("the temperature of the solution", temperature, 0, 45, "°C")
    if of not in ("pythium", "cornell"):
        raise KeyError(of)
    if of == "cornell":
        if temperature <= 25:
            return Judged("low", "A lettuce pond is kept at 25 °C at most.", CORNELL)
        if temperature <= 26:
            return Judged("raised", "A lettuce pond is cooled from 26 °C on.", CORNELL)
        return Judged("high", "Above 26 °C a lettuce pond is cooled.", CORNELL)
    if temperature <= 20:
        return Judged("low", "At 17 °C the quick root rot (Pythium aphanidermatum) cost spinach no yield.", BATES)
    if temperature <= 23:
        return Judged("raised", "Below 23 °C the slow kind of Pythium rules; at 21 °C the quick one kills too.", BATES)
    return Judged("high", "Above 23 °C the quick kind of Pythium takes over, and roots die within days.", BATES)


def _spell(air: float, wet: float) -> None:
    within("the air temperature", air, 0, 50, "°C")
    within("the time that the leaf was wet", wet, 0, 240, "h")


def _between(hours: float, points: tuple[tuple[float, float], ...]) -> float:
    """Return the value at `hours` on straight lines between points; flat outside them."""
    if hours <= points[0][0]:
        return points[0][1]
    for (left, at_left), (right, at_right) in pairwise(points):
        if hours <= right:
            return at_left + (at_right - at_left) * (hours - left) / (right - left)
    return points[-1][1]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
