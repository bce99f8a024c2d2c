"""Mixing: what salts give in a volume of water, and how much of each salt a target needs.

Contents are mg/L (the same as ppm in a dilute solution) by element symbol, and by form of nitrogen as
'nitrate_n', 'ammonium_n', 'urea_n'. N is the sum of the three: nitrogen held inside a chelate is not
counted, because plants do not take it. Ions are mmol/L; cations and anions meq/L.

The arithmetic is a mass balance, mg/L = g × 1000 × share ÷ L; the shares come from the salt table or
from the label of a bag.
"""

from collections.abc import Collection, Mapping
from functools import cache, lru_cache
from math import sqrt
from types import MappingProxyType

from msgspec import Struct

from walkabout.growing import conductivity, nnls
from walkabout.growing.elements import WEIGHTS, molar_mass
from walkabout.growing.limits import OutOfRange, above, within
from walkabout.growing.salts import Salt, load

FORMS = ("nitrate_n", "ammonium_n", "urea_n")
MAJOR = ("N", "P", "K", "Ca", "Mg", "S")
MINOR = ("Fe", "Mn", "Zn", "B", "Cu", "Mo")
ALONG = ("Cl", "Na", "Si")
ELEMENTS = (*MAJOR, *MINOR, *ALONG)
CONTENTS = (*ELEMENTS, *FORMS)

KITCHEN_SCALE = 1.0
"""What a kitchen scale cannot weigh well, g (common practice)."""

MUCH_AMMONIUM = 0.2
"""The share of ammonium in the nitrogen above which roots may suffer (common practice)."""

_CLOSE = 1.0
"""A target met within so many % needs no further salt (assumed)."""

_SURELY_TOO_MUCH = 2.0
"""Published solubilities of one salt part by up to a half: above twice the figure it is a slip (assumed)."""

_MOST_OF_ANY = 2000.0
"""g/L that a salt without a figure may have: of the salts of the table ammonium nitrate dissolves best, 1920 g/L."""

_ZERO = 10.0
"""A target of nought is a wish to avoid: 10 mg/L of it counts as much as another element missed by 100 % (assumed)."""

_TRACE = 0.002
"""A salt that gives less than this share of every target is left out: nobody could weigh the difference (assumed)."""

Labels = Mapping[str, Mapping[str, float]]
"""Salt key -> element or form of nitrogen -> % by mass on the label of the bag."""


class Mixed(Struct, frozen=True, kw_only=True):
    """What is in a litre."""

    contents: Mapping[str, float]
    """mg/L, of everything in CONTENTS."""
    ions: Mapping[str, float]
    """mmol/L."""

    @property
    def cations(self) -> float:
        """Sum of the positive charges, meq/L."""
        return conductivity.cations(self.ions)

    @property
    def anions(self) -> float:
        """Sum of the negative charges, meq/L."""
        return conductivity.anions(self.ions)

    @property
    def balance(self) -> float:
        """How far the charges are from balancing, %: (cations - anions) ÷ (cations + anions) × 100."""
        return conductivity.imbalance(self.ions)

    @property
    def ec(self) -> float:
        """Estimated EC, mS/cm at 25 °C, good to about 15 %. Raises OutOfRange for a concentrate."""
        return conductivity.estimate(self.ions)


class Found(Struct, frozen=True, kw_only=True):
    """How much of each salt comes nearest to a target, and how near that is."""

    grams: Mapping[str, float]
    """Salt key -> g for the volume, those that are needed only."""
    mixed: Mixed
    off: Mapping[str, float]
    """Element with a target above nought -> (given - target) ÷ target, %."""
    water_has: tuple[str, ...]
    """Elements of which the water alone holds more than the target."""

    @property
    def worst(self) -> float:
        """The largest miss, %, without its sign."""
        return max(map(abs, self.off.values()), default=0.0)


def shares(salt: Salt, label: Mapping[str, float] | None = None) -> dict[str, float]:
    """Return the share by mass (0 to 1) of everything in CONTENTS that the salt holds.

    `label`: element or form of nitrogen -> % by mass, as on the bag; it wins over the pure salt. What the
    label does not name is taken as pure salt diluted alike. Raises OutOfRange for more than 100 %.
    """
    pure = {name: salt.elements.get(name, 0.0) for name in ELEMENTS}
    pure |= {"nitrate_n": salt.nitrate_n, "ammonium_n": salt.ammonium_n, "urea_n": salt.urea_n}
    pure["N"] = sum(pure[form] for form in FORMS)
    for name, percent in (label or {}).items():
        within(f"{name} on the label", percent, 0, 100, "%")
    purity = _purity(pure, label or {})
    whole = {name: share * purity for name, share in pure.items()}
    whole |= {name: percent / 100 for name, percent in (label or {}).items()}
    if label and "N" in label and pure["N"]:
        whole |= {form: pure[form] / pure["N"] * label["N"] / 100 for form in FORMS if form not in label}
    elif label and any(form in label for form in FORMS):
        whole["N"] = sum(whole[form] for form in FORMS)
    return {name: share for name, share in whole.items() if share > 0}


def _purity(pure: Mapping[str, float], label: Mapping[str, float]) -> float:
    """Return how much of a labelled product is the salt: 1 unless its label holds less than the pure salt would."""
    ratios = [percent / 100 / pure[name] for name, percent in label.items() if pure.get(name)]
    return min([1.0, *ratios])


def mix(
    grams: Mapping[str, float], volume: float, water: Mapping[str, float] | None = None, labels: Labels | None = None
) -> Mixed:
    """Return what `grams` (salt key -> g, 0 and more) give in `volume` L of a water that holds `water` mg/L.

    `water`: element, form of nitrogen or 'HCO3' -> mg/L; N without a form is taken as nitrate.
    Raises OutOfRange, and ValueError for a salt that is not in the table.
    """
    above("the volume", volume, 0, "L")
    contents = dict.fromkeys(CONTENTS, 0.0)
    ions: dict[str, float] = {}
    for key, mass in grams.items():
        salt = of(key)
        within(f"the amount of {salt.name}", mass, 0, 1e9, "g")
        for name, share in held(key, labels).items():
            contents[name] += mass * 1000 * share / volume
        moles = mass * _purity(_pure(key), (labels or {}).get(key, {})) / salt.molar_mass / volume * 1000
        for ion, count in salt.ions.items():
            ions[ion] = ions.get(ion, 0.0) + moles * count
    for name, amount in _with_forms(water or {}).items():
        within(f"{name} in the water", amount, 0, 1e6, "mg/L")
        if name in contents:
            contents[name] += amount
        ion, mass = _IN_WATER.get(name, ("", 1.0))
        if ion:
            ions[ion] = ions.get(ion, 0.0) + amount / mass
    return Mixed(contents=contents, ions=ions)


def _with_forms(water: Mapping[str, float]) -> dict[str, float]:
    """Give the nitrogen of a water its forms: what is not said to be ammonium or urea is nitrate."""
    forms = {form: water.get(form, 0.0) for form in FORMS}
    named = sum(forms.values())
    if "nitrate_n" not in water and water.get("N", 0.0) > named:
        forms["nitrate_n"] = water["N"] - named
    return {**{name: amount for name, amount in water.items() if name != "N"}, **forms, "N": sum(forms.values())}


_IN_WATER: Mapping[str, tuple[str, float]] = {
    "nitrate_n": ("NO3-", WEIGHTS["N"]),
    "ammonium_n": ("NH4+", WEIGHTS["N"]),
    "P": ("H2PO4-", WEIGHTS["P"]),
    "S": ("SO4-2", WEIGHTS["S"]),
    "HCO3": ("HCO3-", molar_mass("HCO3")),
    **{name: (f"{name}+", WEIGHTS[name]) for name in ("K", "Na")},
    **{name: (f"{name}+2", WEIGHTS[name]) for name in ("Ca", "Mg")},
    "Cl": ("Cl-", WEIGHTS["Cl"]),
}
"""What an element is in water -> its ion, and mg in a mmol."""


def nearest(
    target: Mapping[str, float],
    volume: float,
    salts: Collection[str],
    *,
    reserve: Collection[str] = (),
    water: Mapping[str, float] | None = None,
    labels: Labels | None = None,
) -> Found:
    """Return the grams of `salts` (keys) that bring `volume` L nearest to `target` mg/L, none of them negative.

    Only elements with a target count, each by how far it is off in % of its target; what the water holds is
    taken off first. A salt of `reserve` comes in only where the others miss by more than 1 %. Raises
    OutOfRange, and ValueError for an unknown salt or element.
    """
    above("the volume", volume, 0, "L")
    for name, wanted in target.items():
        if name not in CONTENTS:
            raise ValueError(f"'{name}' is no element that a target can have: {', '.join(CONTENTS)}")
        within(f"the target for {name}", wanted, 0, 1e6, "mg/L")
    if not any(wanted > 0 for wanted in target.values()):
        raise OutOfRange("the target needs at least one element above 0 mg/L")
    held_labels = {key: tuple(label.items()) for key, label in (labels or {}).items()}
    each, from_water = _each_litre(
        tuple(target.items()),
        tuple(dict.fromkeys(salts)),
        tuple(reserve),
        tuple((water or {}).items()),
        tuple(held_labels.items()),
    )
    grams = {key: amount * volume for key, amount in each.items()}
    mixed = mix(grams, volume, water, labels)
    return Found(
        grams=grams,
        mixed=mixed,
        off={name: (mixed.contents[name] / wish - 1) * 100 for name, wish in target.items() if wish > 0},
        water_has=tuple(name for name, wish in target.items() if wish < from_water[name]),
    )


@lru_cache(maxsize=128)
def _each_litre(
    target: tuple[tuple[str, float], ...],
    salts: tuple[str, ...],
    reserve: tuple[str, ...],
    water: tuple[tuple[str, float], ...],
    labels: tuple[tuple[str, tuple[tuple[str, float], ...]], ...],
) -> tuple[Mapping[str, float], Mapping[str, float]]:
    """Return g/L by salt, and what the water holds; kept, for while a form is filled in only the volume changes."""
    from_water = mix({}, 1.0, dict(water)).contents
    scale = {name: wanted or _ZERO for name, wanted in target}
    bags = {key: dict(label) for key, label in labels}
    each = {}
    for key in dict.fromkeys((*salts, *reserve)):
        share = held(key, bags)
        each[key] = [share.get(name, 0.0) * 1000 / scale[name] for name, _ in target]
    right = [(wanted - from_water[name]) / scale[name] for name, wanted in target]
    best = _leanest(each, right, salts, reserve)
    return {key: amount for key, amount in best.items() if amount * max(each[key]) > _TRACE}, from_water


def _leanest(
    each: Mapping[str, list[float]], wanted: list[float], salts: tuple[str, ...], reserve: tuple[str, ...]
) -> dict[str, float]:
    """Return g/L by key: of `salts` alone where they do, else with as few of `reserve` as do as well."""
    found, missed = _fitted(each, wanted, salts)
    if not reserve or missed <= _CLOSE:
        return found
    wider, wide_missed = _fitted(each, wanted, tuple(dict.fromkeys((*salts, *reserve))))
    if wide_missed > missed - _CLOSE / 2:
        return found
    for spare in [key for key in reversed(reserve) if key in wider and key not in salts]:
        others = tuple(key for key in wider if key in reserve and key not in salts and key != spare)
        leaner, lean_missed = _fitted(each, wanted, (*salts, *others))
        if lean_missed <= max(wide_missed, _CLOSE):
            wider, wide_missed = leaner, lean_missed
    return wider


def _fitted(
    each: Mapping[str, list[float]], wanted: list[float], salts: tuple[str, ...]
) -> tuple[dict[str, float], float]:
    """Return g/L by key, and the misses in % of their targets as one length (root of the sum of squares)."""
    answer = nnls.solve([each[key] for key in salts], wanted)
    found = {key: amount for key, amount in zip(salts, answer, strict=True) if amount > 1e-9}
    rows = range(len(wanted))
    given = [sum(amount * each[key][row] for key, amount in found.items()) for row in rows]
    return found, sqrt(sum((given[row] - wanted[row]) ** 2 for row in rows)) * 100


def undissolved(grams: Mapping[str, float], volume: float) -> tuple[str, ...]:
    """Return the keys of the salts (key -> g in `volume` L) that would be above their solubility at 20 °C.

    Raises OutOfRange, naming the limit, from twice the solubility on: that is no solution but a slip.
    """
    above("the volume", volume, 0, "L")
    found = []
    for key, mass in grams.items():
        salt = of(key)
        most = salt.solubility or _MOST_OF_ANY
        times = mass / volume / most
        if times > (_SURELY_TOO_MUCH if salt.solubility else 1):
            each = f"{mass / volume:.{0 if mass > 10 * volume else 2}f} g"
            raise OutOfRange(
                f"{salt.name} would be {each} in a litre of water, where no more than {most:g} g dissolves: look at "
                "the amount and its unit again"
            )
        if times > 1:
            found.append(key)
    return tuple(found)


def held(key: str, labels: Labels | None = None) -> Mapping[str, float]:
    """Return the shares of a salt by its key, by its label where it has one: see `shares`."""
    label = (labels or {}).get(key)
    return shares(of(key), label) if label else _pure(key)


@cache
def _pure(key: str) -> Mapping[str, float]:
    return MappingProxyType(shares(of(key)))


def of(key: str) -> Salt:
    """Return the salt of this key, name or formula.

    Raises ValueError that names the nearest, and for acids, bases, bleach and poisons: they are not weighed
    into a feed.
    """
    return load().feed(key)
