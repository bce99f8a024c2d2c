"""From what is typed for a lamp ('HPS', 'T5 tube', 'CIE FL11') to the kind of light it stands for."""

import re
from difflib import get_close_matches

from walkabout.growing.light_kinds import FOLLOWS, KINDS, SPECTRA, Follow, Kind, factor, spectrum
from walkabout.reckon.model import Field

RED_BLUE = "red-blue"
RED_BLUE_REFUSED = (
    "a lux meter hardly sees red and blue: under a red-blue lamp it shows about a tenth of what it would under white "
    "light of as many photons. Use a quantum sensor, or the PPFD that the maker gives"
)
CHIEF = (*KINDS, RED_BLUE)

# A name is taken apart into words. It means the first of these kinds of which it has every word that must be there,
# and none but those that may be there too.
_MEANT: tuple[tuple[str, str, str], ...] = (
    ("low-pressure-sodium", "low pressure sodium", "vapour single"),
    ("low-pressure-sodium", "sox", ""),
    ("double-ended", "double ended", "high pressure sodium vapour grow"),
    ("high-pressure-sodium", "sodium", "high pressure single ended mogul base vapour grow"),
    ("high-pressure-sodium", "single ended", "mogul base"),
    ("high-pressure-sodium", "mogul", "base"),
    ("high-pressure-sodium", "son", ""),
    ("ceramic-4200", "4200k", "ceramic metal halide"),
    ("ceramic-4200", "ceramic 4200", "metal halide"),
    ("ceramic-3100", "3100k", "ceramic metal halide red shifted"),
    ("ceramic-3100", "ceramic 3100", "metal halide red shifted"),
    ("ceramic-3100", "ceramic red shifted", "metal halide"),
    ("metal-halide", "halide", "metal quartz high pressure grow"),
    ("violet-led", "violet pumped", "white led high colour rendering phosphor"),
    ("violet-led", "violet white led", "high colour rendering"),
    ("violet-led", "high colour rendering led", "white"),
    ("violet-led", "violet led", "high colour rendering"),
    ("cie-led-rgb1", "red green blue", "led white"),
    ("red-blue", "red", "blue led grow no white narrow band"),
    ("red-blue", "blue", "led grow narrow band"),
    ("red-blue", "purple", "led grow"),
    ("red-blue", "pink", "led grow"),
    ("red-blue", "magenta", "led grow"),
    ("red-blue", "violet", "grow"),
    ("red-blue", "blurple", "led grow red blue"),
    ("cie-fl4", "warm white fluorescent", ""),
    ("cie-fl4", "warm white", ""),
    ("cie-fl6", "daylight fluorescent", ""),
    ("cie-fl11", "three band", "fluorescent"),
    ("cie-fl11", "triphosphor", "fluorescent"),
    ("white-led", "led", "white blue pumped phosphor cool warm neutral daylight panel strip board chip"),
    ("white-led", "blue pumped", "white phosphor"),
    ("white-led", "white", ""),
    ("cool-white", "fluorescent", "cool white compact t5 t8 t12 strip"),
    ("cool-white", "cool white", ""),
    ("cool-white", "t5", "strip"),
    ("cool-white", "t8", "strip"),
    ("cool-white", "t12", "strip"),
    ("cool-white", "energy saver", ""),
    ("incandescent", "incandescent", "filament tungsten halogen"),
    ("incandescent", "tungsten", "filament halogen"),
    ("incandescent", "halogen", ""),
    ("incandescent", "filament", ""),
    ("sun", "sun", "sky full direct outdoors"),
    ("sky", "sky", "blue clear north open without sun no"),
    ("sky", "shade", "open"),
    ("sun", "overcast", "sky"),
    ("sun", "cloudy", "sky"),
    ("sun", "daylight", "sun"),
    ("sun", "sunshine", ""),
    ("sun", "window", "sun"),
    ("sun", "windowsill", "sun"),
    ("sun", "outdoors", "sun"),
    ("sun", "outside", "sun"),
    ("sun", "natural", "sun"),
    ("sun", "solar", ""),
    ("sun", "greenhouse", "sun"),
)  # fmt: skip

_LONG = {
    "whiteled": "white led", "redled": "red led", "blueled": "blue led", "redblue": "red blue",
    "lec": "ceramic metal halide",
    "hps": "high pressure sodium", "hp": "high pressure", "lps": "low pressure sodium", "lp": "low pressure",
    "mh": "metal halide", "cmh": "ceramic metal halide", "de": "double ended", "se": "single ended", "rb": "red blue",
    "rgb": "red green blue", "cri": "colour rendering", "color": "colour", "render": "rendering", "leds": "led",
    "tube": "fluorescent", "tubes": "fluorescent", "cfl": "compact fluorescent", "cwf": "cool white fluorescent",
    "sunlight": "sun", "skylight": "sky", "coolwhite": "cool white", "vapor": "vapour", "tri": "three",
    "halides": "halide", "fluorescents": "fluorescent", "sill": "window",
}  # fmt: skip
"""Short and other forms -> the words that stand in _MEANT."""

_IDLE = frozenset(
    ("lamp", "lamps", "light", "lights", "bulb", "bulbs", "source", "sources", "only", "the", "a", "an", "and", "of",
     "like", "type", "with", "standard")
)  # fmt: skip

_CERAMIC = "write ceramic-4200 or ceramic-3100, by its colour in K"
_LOOK = "write white-led if its light looks white, red-blue if it looks pink or violet"
_PINK = "for pink plant-growth tubes no factor was found that could be checked: give factor= (about 33, from memory)"
_TUBE_OR_LED = (
    "for an LED write white-led if its light looks white, red-blue if it looks pink or violet; for a pink tube give "
    "factor= (about 33, from memory)"
)
_UNCLEAR = (
    ({"ceramic", "metal", "halide"}, _CERAMIC),
    ({"plant", "plants", "growth", "grow", "growing", "gro"}, _TUBE_OR_LED),
    ({"fluorescent", "plant", "growth", "grow", "gro", "pink"}, _PINK),
    ({"full", "spectrum", "led", "grow", "growing", "growth", "plant"}, _LOOK),
)
"""A name that has only words out of such a set can be two kinds."""


def which_light(text: str) -> Kind:
    """Return the kind of light of this name; raises ValueError for a red-blue lamp, and for what is not known."""
    key = which_key(text)
    if key == RED_BLUE:
        raise ValueError(f"lamp: {RED_BLUE_REFUSED}")
    return KINDS[key] if key in KINDS else spectrum(key.removeprefix("cie-").upper())


def which_key(text: str) -> str:
    """Return the key of a kind of light: one of KINDS, 'red-blue', or 'cie-…'. Raises ValueError for others."""
    words = _words(text)
    name = [word for word in words if word not in ("cie", "illuminant")]
    for many in (2, 1):
        start = " ".join(name[:many])
        if start in _SPECTRA and (len(start) > 1 or len(name) < len(words)):
            return f"cie-{_SPECTRA[start].casefold()}"
    has = set(words) - _IDLE
    for key, must, may in _MEANT:
        if set(must.split()) <= has <= {*must.split(), *may.split()}:
            return key
    for mixed, hint in _UNCLEAR:
        if has and has <= mixed:
            raise ValueError(f"lamp: '{text}' is not clear: {hint}")
    near = get_close_matches(text.casefold().replace(" ", "-"), CHIEF, n=1, cutoff=0.7)
    hint = f"did you mean {near[0]}?" if near else f"it is one of {', '.join(CHIEF)}"
    raise ValueError(f"lamp: there is no '{text}' here: {hint}")


def read_factor(lamp: str | None, own: float | None, follow: str | None) -> tuple[Kind, float, str]:
    """Return the kind of light, its lx for each µmol/m²/s and whose that is.

    `own` is a factor that was given and stands before any other. Raises ValueError.
    """
    if own is not None:
        kind = which_light(lamp) if lamp is not None else Kind(key="own", says="this light", lux=own, source="")
        return kind, own, "the factor given"
    if lamp is None:
        raise ValueError(f"give lamp=, the kind of light ({', '.join(CHIEF[:4])} …), or factor=")
    kind = which_light(lamp)
    value, source = factor(kind, _followed(follow))
    return kind, value, source


def _followed(text: str | None) -> Follow | None:
    return next((one for one in FOLLOWS if one == text), None)


def _words(text: str) -> list[str]:
    """Take a name apart: no capitals, hyphens or brackets, short forms written out, '4200 K' as '4200k'."""
    plain = " ".join(re.sub(r"[^a-z0-9.]+", " ", text.casefold()).split())
    plain = re.sub(r"\b(\d{4}) k\b", r"\1k", plain)
    return " ".join(_LONG.get(word, word) for word in plain.split()).split()


_SPECTRA = {name.casefold().replace("-", " "): name for name in SPECTRA}


LAMP = Field(
    key="lamp",
    says="kind of light",
    kind="text",
    words=CHIEF,
    needed=False,
    starts="lamp",
    others=("source", "light", "light_source", "kind", "spectrum", "lamp_type", "source_type", "type"),
    note="a CIE lamp too: CIE FL11",
)
FACTOR = Field(
    key="factor",
    says="lux for 1 µmol/m²/s",
    low=1,
    high=400,
    needed=False,
    others=("k", "lux_per_umol", "lux_per_micromole"),
    note="in place of the lamp's own",
)
FOLLOW = Field(
    key="follow",
    says="whose factor",
    kind="word",
    words=FOLLOWS,
    needed=False,
    others=("whose", "list", "by"),
    note="1983 unless given",
)
