"""How many lux stand for 1 µmol/m²/s, by the kind of light.

A lux meter weighs colours as an eye does, a leaf does not, so each kind of light has its own factor. It
holds for one kind alone and for a meter that follows the eye's curve.
"""

from collections.abc import Mapping
from typing import Literal, get_args

from msgspec import Struct

from walkabout.growing.units import LUX_PER_FOOTCANDLE

Follow = Literal["1983", "CIE", "2001"]
"""Whose factor: the lists after Thimijan and Heins, a CIE spectrum, a list of 2001."""
FOLLOWS: tuple[Follow, ...] = get_args(Follow)

THIMIJAN = "Thimijan and Heins 1983, HortScience 18(6):818-822, as quoted"
MAKER = "a quantum-sensor maker's public table that extends Thimijan and Heins 1983"
MAKER_FC = "a quantum-sensor maker's public table of foot-candles"
COMPUTED = "computed from CIE 15:2018 spectra; no horticultural paper with a factor was found"
LIST_2001 = "a photobiologist's factors per foot-candle, quoted in a plant-education list, October 2001"
METER_ERROR, LAMP_ERROR = 10.0, 15.0
"""How far such a figure may be off, %: at best (common practice), and where the filling of the lamp matters
(metal halide: 61.8 to 71 lx for each µmol/m²/s by one source or another)."""


class Kind(Struct, frozen=True, kw_only=True):
    """A kind of light."""

    key: str
    says: str
    """What it is, in a few words."""
    lux: float
    """lx for each µmol/m²/s."""
    source: str
    error: float = METER_ERROR
    """How far a figure by this factor may be off, %."""
    cie: str = ""
    """The CIE spectrum that comes nearest, as SPECTRA has it; empty where none does."""
    micromoles_2001: float | None = None
    """µmol/m²/s for each foot-candle in the list of 2001."""
    per_joule: float | None = None
    """µmol in a joule of its light of 400 to 700 nm, Thimijan and Heins 1983."""
    lamp: bool = True
    """Whether somebody can switch it on; daylight changes, so that one reading of it says nothing about the day."""


KINDS: Mapping[str, Kind] = {
    one.key: one
    for one in (
        Kind(key="sun", says="sun and sky", lux=54, source=THIMIJAN, cie="D65", per_joule=4.57, lamp=False),
        Kind(key="sky", says="blue sky without sun", lux=52, source=THIMIJAN, per_joule=4.24, lamp=False),
        Kind(
            key="cool-white", says="cool-white fluorescent tube", lux=74, source=THIMIJAN, cie="FL2",
            micromoles_2001=0.137, per_joule=4.59,
        ),
        Kind(
            key="high-pressure-sodium", says="high-pressure sodium lamp, single-ended", lux=82, source=THIMIJAN,
            cie="HP1", per_joule=4.98,
        ),
        Kind(key="double-ended", says="high-pressure sodium lamp, double-ended", lux=77, source=MAKER),
        Kind(
            key="metal-halide", says="metal halide lamp", lux=71, source=THIMIJAN, error=LAMP_ERROR, cie="HP3",
            micromoles_2001=0.144, per_joule=4.59,
        ),
        Kind(key="ceramic-4200", says="ceramic metal halide lamp, 4200 K", lux=65, source=MAKER, error=LAMP_ERROR),
        Kind(
            key="ceramic-3100", says="ceramic metal halide lamp, 3100 K, with more red", lux=59, source=MAKER,
            error=LAMP_ERROR,
        ),
        Kind(
            key="incandescent", says="incandescent bulb", lux=50, source=THIMIJAN, cie="A", micromoles_2001=0.219,
            per_joule=5.00,
        ),
        Kind(key="white-led", says="white LED, blue chip under phosphor", lux=70, source=COMPUTED, cie="LED-B3"),
        Kind(
            key="violet-led", says="white LED of high colour rendering, violet chip", lux=55, source=COMPUTED,
            cie="LED-V1",
        ),
        Kind(
            key="low-pressure-sodium", says="low-pressure sodium lamp", lux=9.85 * LUX_PER_FOOTCANDLE,
            source=MAKER_FC,
        ),
    )
}  # fmt: skip
"""The kinds of light with a factor of their own, by key."""

SPECTRA: Mapping[str, tuple[float, float]] = {
    # name -> lx for each µmol/m²/s, µmol in a joule of 400 to 700 nm
    "A": (50.256, 5.0133), "C": (53.786, 4.5324), "D50": (56.197, 4.6682), "D55": (56.155, 4.613),
    "D60": (55.888, 4.567), "D65": (55.498, 4.5285), "D75": (54.585, 4.4684), "ID50": (57.157, 4.6546),
    "ID65": (56.306, 4.5169), "FL1": (69.189, 4.3897), "FL2": (76.481, 4.5327), "FL3": (79.733, 4.6257),
    "FL4": (80.529, 4.7047), "FL5": (71.204, 4.3895), "FL6": (79.849, 4.5457), "FL7": (60.58, 4.4772),
    "FL8": (59.432, 4.6406), "FL9": (61.781, 4.6952), "FL10": (74.37, 4.4923), "FL11": (76.039, 4.5728),
    "FL12": (78.121, 4.6992), "FL3.1": (80.321, 4.6979), "FL3.2": (70.889, 4.5973), "FL3.3": (70.719, 4.3857),
    "FL3.4": (58.346, 4.9012), "FL3.5": (58.777, 4.7174), "FL3.6": (59.709, 4.6441), "FL3.7": (78.381, 4.6935),
    "FL3.8": (77.12, 4.5713), "FL3.9": (74.595, 4.4935), "FL3.10": (71.525, 4.4977), "FL3.11": (72.763, 4.4316),
    "FL3.12": (63.951, 4.8075), "FL3.13": (63.498, 4.6653), "FL3.14": (61.712, 4.592), "FL3.15": (57.786, 4.5192),
    "HP1": (85.841, 4.9038), "HP2": (52.558, 5.0614), "HP3": (69.916, 4.7574), "HP4": (67.095, 4.6081),
    "HP5": (61.817, 4.6689), "LED-B1": (67.067, 4.8933), "LED-B2": (67.905, 4.8479), "LED-B3": (69.75, 4.6789),
    "LED-B4": (71.656, 4.5866), "LED-B5": (69.401, 4.4919), "LED-BH1": (73.272, 4.8023),
    "LED-RGB1": (60.538, 4.8891), "LED-V1": (53.078, 4.8739), "LED-V2": (56.573, 4.6581),
}  # fmt: skip
"""The CIE's lamps and daylights. Computed with colour-science 0.4.7 from the spectra of CIE 15:2018."""

DAYLIGHTS = ("C", "D50", "D55", "D60", "D65", "D75", "ID50", "ID65")
"""Those of SPECTRA that stand for daylight."""


def spectrum(name: str) -> Kind:
    """Return the kind of light that a CIE spectrum stands for, `name` as in SPECTRA; raises KeyError."""
    lux, per_joule = SPECTRA[name]
    source = f"computed from the spectrum CIE {name} (CIE 15:2018, taken from colour-science 0.4.7)"
    return Kind(key=f"cie-{name.casefold()}", says=f"light like CIE {name}", lux=lux, source=source, cie=name,
                per_joule=per_joule, lamp=name not in DAYLIGHTS)  # fmt: skip


def factor(kind: Kind, follow: Follow | None = None) -> tuple[float, str]:
    """Return (lx for each µmol/m²/s, source) of a kind of light, by whose list is followed.

    None gives the kind's own factor. Raises ValueError where a list has none for this kind.
    """
    if follow == "1983" and kind.source not in (THIMIJAN, MAKER, MAKER_FC):
        raise ValueError(f"the lists after 1983 have no factor for {kind.says}: leave follow= out")
    if follow == "CIE":
        if not kind.cie:
            raise ValueError(f"no CIE spectrum stands for {kind.says}: leave follow= out")
        return SPECTRA[kind.cie][0], spectrum(kind.cie).source
    if follow == "2001":
        if kind.micromoles_2001 is None:
            known = ", ".join(one.key for one in KINDS.values() if one.micromoles_2001)
            raise ValueError(f"the list of 2001 has no factor for {kind.says}: it has {known}")
        return LUX_PER_FOOTCANDLE / kind.micromoles_2001, LIST_2001
    return kind.lux, kind.source
