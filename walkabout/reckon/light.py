"""Reckonings of a lux meter: what it says about the light that a plant uses."""

from walkabout.growing import light as of
from walkabout.growing.light_kinds import KINDS, Kind
from walkabout.growing.light_kinds import factor as by_list
from walkabout.growing.units import LUX_PER_FOOTCANDLE
from walkabout.reckon.in_full import in_full
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_light import FACTOR, FOLLOW, LAMP, RED_BLUE, read_factor, which_key, which_light
from walkabout.reckon.write import amount, digits, number, plainly

LUX = Field(
    key="lux",
    says="reading of the lux meter",
    unit="lx",
    low=0,
    high=of.MOST_LUX,
    needed=False,
    starts="lux",
    others=("illuminance", "e", "lx", "reading"),
)
FC = Field(
    key="fc",
    says="or its reading in foot-candles",
    unit="fc",
    low=0,
    high=of.MOST_LUX / LUX_PER_FOOTCANDLE,
    needed=False,
    others=("footcandles", "footcandle", "foot_candles"),
)
PPFD = Field(
    key="ppfd",
    says="light on the leaves (PPFD)",
    unit="µmol/m²/s",
    low=0,
    high=of.MOST_PPFD,
    starts="PPFD",
    others=("photons", "par", "light_level", "intensity"),
)
GLASS = "Hot glass: nobody touches the lamp or looks into it; how it is used is for an adult, by local rules."
DISCHARGE = (
    "Hot glass and, where the outer glass is broken, ultraviolet: nobody touches the lamp or looks into it; if it is "
    "broken, leave the room and tell an adult, who switches it off as local rules say."
)
SODIUM = (
    "Hot glass, and sodium inside, which can burn where it meets water: nobody touches the lamp; if it is broken, "
    "leave the room, keep water away and tell an adult, who acts as local rules say."
)
TUBE = (
    "A tube holds a little mercury: if one breaks, leave the room and tell an adult, who airs it and clears up as "
    "local rules say."
)
SUN = "Nobody looks into the sun, with a meter or without: it blinds; an adult decides by the risk assessment."
_HOT = {"incandescent": (GLASS,), "cie-a": (GLASS,), "low-pressure-sodium": (SODIUM,), "sun": (SUN,)} | dict.fromkeys(
    ("high-pressure-sodium", "double-ended", "metal-halide", "ceramic-4200", "ceramic-3100"), (DISCHARGE,)
)
_FAMILIES = {"HP": (DISCHARGE,), "FL": (TUBE,)}
"""What to mind near the CIE lamps whose names start so."""
ERRORS = "reading good to 10 % at best: common practice"


def lux_read(lux: float | None, fc: float | None) -> tuple[float, tuple[str, ...]]:
    """Return the reading in lx and the line that turns it out of foot-candles; raises ValueError without one."""
    if lux is not None and fc is not None:
        raise ValueError("give the reading once, as lux= or as fc= (foot-candles)")
    if fc is None:
        if lux is None:
            raise ValueError("give lux=, the reading of the lux meter, or fc= for foot-candles")
        return lux, ()
    lux = fc * LUX_PER_FOOTCANDLE
    return lux, (f"lux = {in_full(fc)} fc × {in_full(LUX_PER_FOOTCANDLE)} = {in_full(lux)} lx",)


def work_ppfd(
    lux: float | None, lamp: str | None, factor: float | None, follow: str | None, fc: float | None
) -> Reckoned:
    """Turn lux into photons."""
    lux, turned = lux_read(lux, fc)
    kind, k, source = read_factor(lamp, factor, follow)
    ppfd = of.ppfd_from_lux(lux, k)
    margin = ppfd * kind.error / 100
    lines = [
        *turned,
        _factor_line(kind, k, given=factor is not None),
        f"PPFD = lux ÷ factor = {in_full(lux)} ÷ {in_full(k)} = {amount(ppfd, 'µmol/m²/s', 1)}",
        f"± {plainly(kind.error)} %: {_span(ppfd - margin, ppfd + margin)}",
    ]
    says = [f"The leaves get about {amount(ppfd, 'µmol/m²/s', 0)}, give or take {plainly(kind.error)} %."]
    other = _other_list(kind, k, lux) if factor is None else ""
    return Reckoned(
        results={
            "ppfd": Result(ppfd, "µmol/m²/s", 1, "light on the leaves"),
            "factor": Result(k, "lx per µmol/m²/s", 1, "lux for 1 µmol/m²/s"),
            "least": Result(ppfd - margin, "µmol/m²/s", 0, "may be as low as"),
            "most": Result(ppfd + margin, "µmol/m²/s", 0, "may be as high as"),
        },
        working=tuple(lines),
        source=f"factor: {source}; {ERRORS}",
        says=(*says, *([other] if other else []), *minding(kind)),
        cautions=glass(kind),
    )


def work_lux(ppfd: float, lamp: str | None, factor: float | None, follow: str | None) -> Reckoned:
    """Turn photons into lux."""
    kind, k, source = read_factor(lamp, factor, follow)
    lux = of.lux_from_ppfd(ppfd, k)
    margin = lux * kind.error / 100
    return Reckoned(
        results={
            "lux": Result(lux, "lx", 0, "on the lux meter"),
            "footcandles": Result(lux / LUX_PER_FOOTCANDLE, "fc", 1, "the same in foot-candles"),
            "factor": Result(k, "lx per µmol/m²/s", 1, "lux for 1 µmol/m²/s"),
        },
        working=(
            _factor_line(kind, k, given=factor is not None),
            f"lux = PPFD × factor = {in_full(ppfd)} × {in_full(k)} = {amount(lux, 'lx', 0)}",
            _footcandle_line(lux, 1),
            f"± {plainly(kind.error)} %: {number(lux - margin, 0)} to {amount(lux + margin, 'lx', 0)}",
        ),
        source=f"factor: {source}; {ERRORS}",
        says=(f"Look for about {amount(lux, 'lx', 0)} on the lux meter, held flat at the leaves.", *minding(kind)),
        cautions=glass(kind),
    )


def _footcandle_line(lux: float, decimals: int) -> str:
    product = f"{in_full(lux)} ÷ {in_full(LUX_PER_FOOTCANDLE)}"
    return f"foot-candles = lux ÷ factor = {product} = {amount(lux / LUX_PER_FOOTCANDLE, 'fc', decimals)}"


def work_footcandles(lux: float | None, fc: float | None) -> Reckoned:
    """Turn lux into foot-candles, and foot-candles into lux."""
    lux, turned = lux_read(lux, fc)
    footcandles = lux / LUX_PER_FOOTCANDLE
    return Reckoned(
        results={
            "lux": Result(lux, "lx", 3 if lux < 100 else 0, "lux"),
            "footcandles": Result(footcandles, "fc", 3 if lux < 100 else 1, "foot-candles"),
        },
        working=(
            "1 foot-candle = 1 lumen on 1 ft² = 1 ÷ 0.3048² = 10.76391 lx",
            *(turned or (_footcandle_line(lux, 3 if lux < 100 else 1),)),
        ),
        source="definition: a lumen on a square foot; 1 ft = 0.3048 m exactly",
        says=("It is light as the eye sees it. What plants make of it depends on the lamp: work out ppfd.",),
    )


def minding(kind: Kind) -> tuple[str, ...]:
    """Say for which light a factor holds."""
    says = "It holds for this one kind of light alone. Where daylight mixes in, read once more with the lamp off."
    if kind.key == "white-led":
        return (says, "If the lamp has red chips as well, or looks pink, it gives more photons than this.")
    return (says,)


def glass(kind: Kind) -> tuple[str, ...]:
    """Return what to mind near a lamp of this kind, or in the sun."""
    return _HOT.get(kind.key, _FAMILIES.get(kind.cie[:2], ()))


def glass_of(lamp: str | None) -> tuple[str, ...]:
    """Return what to mind near a lamp of this name; raises ValueError for a name that is not known."""
    return () if lamp is None or which_key(lamp) == RED_BLUE else glass(which_light(lamp))


def photon_lines(lux: float, kind: Kind, k: float, *, given: bool) -> tuple[str, ...]:
    """Write how lux became photons, for another reckoning's working."""
    ppfd = lux / k
    return (
        _factor_line(kind, k, given=given),
        f"PPFD = {in_full(lux)} ÷ {in_full(k)} = {in_full(ppfd)} µmol/m²/s",
    )


def _factor_line(kind: Kind, k: float, *, given: bool) -> str:
    if given:
        return f"1 µmol/m²/s is {in_full(k)} lx, as given"
    return f"{kind.says}: 1 µmol/m²/s is {in_full(k)} lx"


def _span(least: float, most: float) -> str:
    return f"{number(least, 0)} to {amount(most, 'µmol/m²/s', 0)}"


def _other_list(kind: Kind, k: float, lux: float) -> str:
    """Say what another published factor would give, where there is one."""
    known = KINDS.get(kind.key)
    others = [(kind.lux, "the lists after 1983")] if known is not None else []
    if known is not None and kind.cie:
        others.append((by_list(kind, "CIE")[0], f"the spectrum CIE {kind.cie}"))
    if known is not None and kind.micromoles_2001 is not None:
        others.append((by_list(kind, "2001")[0], "a list of 2001"))
    said = [f"{digits(lux / one, 3)} by {name}" for one, name in others if abs(one / k - 1) > 0.01]
    return f"Other sources: {', '.join(said)} (follow= chooses)." if said and lux > 0 else ""


RECKONINGS = (
    Reckoning(
        name="ppfd",
        subject="light",
        title="Light for plants from lux",
        about="What a lux meter shows, turned into the light that a plant uses. It needs to know the kind of lamp.",
        fields=(LUX, LAMP, FACTOR, FOLLOW, FC),
        work=work_ppfd,
        example="lux=9000 lamp=white-led",
        others=("lux-to-ppfd", "ppfd-from-lux", "photons", "par", "light", "footcandles-to-ppfd", "fc-to-ppfd"),
    ),
    Reckoning(
        name="lux",
        subject="light",
        title="Lux from light for plants",
        about="What a lux meter will show where the leaves get so much light, to look for the right place.",
        fields=(PPFD, LAMP, FACTOR, FOLLOW),
        work=work_lux,
        example="ppfd=200 lamp=cool-white",
        others=("ppfd-to-lux", "lux-from-ppfd", "lux-for"),
    ),
    Reckoning(
        name="footcandles",
        subject="light",
        title="Lux and foot-candles",
        about="Two units of the same thing, light as the eye sees it. Older books and meters have foot-candles.",
        fields=(LUX, FC),
        work=work_footcandles,
        example="lux=500fc",
        others=("footcandle", "foot-candles", "illuminance", "lux-to-footcandles", "fc", "fc-to-lux"),
    ),
)
