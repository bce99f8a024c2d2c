"""Recipes: published nutrient solutions, and the salts that make them.

A recipe says what a litre holds at full strength, mg of each element, and where it was published with
salts, how many grams of which. One without salts gets them worked out from the ordinary ones.
"""

import difflib
import re
import tomllib
from collections.abc import Collection, Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Literal

import msgspec
from msgspec import Struct

from walkabout.growing import mixing
from walkabout.growing.limits import within
from walkabout.growing.salts import Salt

SHIPPED = Path(__file__).with_name("recipes.toml")

Calcium = Literal["double-salt", "tetrahydrate", "bag"]

CALCIUM: Mapping[Calcium, str] = {
    "double-salt": "calcium-nitrate-double",
    "tetrahydrate": "calcium-nitrate",
    "bag": "calcium-nitrate-label",
}
"""Calcium nitrate is sold in kinds that are not alike: the double salt of horticulture, pure or by the usual label
of its bag (15.5 % N, 19 % Ca), has some ammonium in it, the tetrahydrate of the laboratory has none."""

ORDINARY = (
    "potassium-nitrate",
    "monopotassium-phosphate",
    "magnesium-sulfate",
    "potassium-sulfate",
    "iron-dtpa",
    "manganese-sulfate",
    "zinc-sulfate",
    "boric-acid",
    "copper-sulfate",
    "sodium-molybdate",
)
"""What recipes are made of besides calcium nitrate."""

RESERVE = ("ammonium-nitrate", "monoammonium-phosphate", "calcium-chloride")
"""What comes in only where the ordinary salts miss by more than 1 %: each brings ammonium or chloride."""

RARE = ("magnesium-nitrate", "potassium-chloride", "ammonium-sulfate")
"""What comes in last, where these too miss by more than 8 % (assumed)."""

FAR = 3.0
"""So many times the most that any shipped recipe holds is too much for a feed (assumed)."""

NO_FEED = 20.0
"""From so many times on it is a concentrate: a stock is worked out in another way (assumed)."""

STRENGTHS = {"full": 1.0, "half": 0.5, "quarter": 0.25, "third": 1 / 3, "double": 2.0}
"""What people call a strength."""

_WORDS = re.compile(r"[^\w.]+|_|(?<=[a-z])\.?(?=\d)|\.(?!\d)")
_SKIPPED = ("strength", "recipe", "the", "no", "nr", "number")
_PERCENT = re.compile(r"(\d+(?:[.,]\d+)?) ?%")


class Recipe(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A nutrient solution at full strength."""

    key: str
    name: str
    target: Mapping[str, float]
    """mg/L by element and form of nitrogen."""
    source: str
    known: str
    others: tuple[str, ...] = ()
    crops: tuple[str, ...] = ()
    note: str = ""
    mmol: Mapping[str, float] = {}
    """Salt -> mmol/L."""
    grams: Mapping[str, float] = {}
    """Salt -> g in `litres`."""
    litres: float = 1000.0
    labels: Mapping[str, Mapping[str, float]] = {}
    """Salt -> what its label says, % by mass."""

    def per_litre(self) -> dict[str, float]:
        """Return the published salts, salt key -> g/L; empty where none were published."""
        found: dict[str, float] = {}
        for name, amount in self.mmol.items():
            salt = mixing.of(name)
            found[salt.key] = amount * salt.molar_mass / 1000
        for name, mass in self.grams.items():
            key = mixing.of(name).key
            found[key] = found.get(key, 0.0) + mass / self.litres
        return found

    def of_bags(self) -> dict[str, Mapping[str, float]]:
        """Return the labels by salt key."""
        return {mixing.of(name).key: label for name, label in self.labels.items()}


@cache
def known() -> tuple[Recipe, ...]:
    """Return the shipped recipes, in the order of the file."""
    shipped: dict[str, dict[str, Any]] = tomllib.loads(SHIPPED.read_text(encoding="utf-8"))
    return tuple(msgspec.convert({"key": key, **one}, Recipe) for key, one in shipped.items())


def find(text: str, recipes: Iterable[Recipe] | None = None) -> tuple[Recipe, float]:
    """Return the recipe that `text` names, and the strength named with it ('half-strength Hoagland 1': 0.5).

    Looks in `recipes`, the shipped ones unless given; the first of two with one name counts. Raises ValueError
    that names the nearest, and for a recipe that is not `sound`.
    """
    among = known() if recipes is None else tuple(recipes)
    percent = _PERCENT.search(text)
    strength = float(percent[1].replace(",", ".")) / 100 if percent else 1.0
    words = [word for word in _WORDS.split(_PERCENT.sub(" ", text.casefold())) if word]
    strength *= next((STRENGTHS[word] for word in words if word in STRENGTHS), 1.0)
    plain = " ".join(word for word in words if word not in STRENGTHS and word not in _SKIPPED)
    names: dict[str, Recipe] = {}
    for one in among:
        for name in (one.key, one.name, *one.others):
            names.setdefault(_plain(name), one)
    for name in (_plain(text), plain):
        if name in names:
            return sound(names[name]), 1.0 if name != plain else strength
    near = difflib.get_close_matches(plain, names, n=1, cutoff=0.5)
    hint = f"did you mean {names[near[0]].key}?" if near else f"known are {', '.join(one.key for one in among)}"
    raise ValueError(f"there is no recipe '{text.strip()}': {hint}")


@cache
def _plain(name: str) -> str:
    return " ".join(word for word in _WORDS.split(name.casefold()) if word and word not in _SKIPPED)


def sound(recipe: Recipe) -> Recipe:
    """Return the recipe itself; raises ValueError that names what in it is no element or no amount."""
    for name, amount in recipe.target.items():
        if name not in mixing.CONTENTS:
            raise ValueError(
                f"the recipe '{recipe.name}' has '{name}' in it, which cannot be counted: it may have "
                f"{', '.join(mixing.CONTENTS)}"
            )
        within(f"{name} in the recipe '{recipe.name}'", amount, 0, 1e6, "mg/L")
    return recipe


@cache
def strongest() -> Mapping[str, float]:
    """Return the most of each nutrient that any shipped recipe holds, mg/L by element."""
    return {name: max(recipe.target.get(name, 0.0) for recipe in known()) for name in (*mixing.MAJOR, *mixing.MINOR)}


def too_strong(contents: Mapping[str, float], times: float = FAR) -> dict[str, float]:
    """Return the nutrients (mg/L) of which there is more than so many times what any shipped recipe holds."""
    return {name: contents[name] for name, most in strongest().items() if contents.get(name, 0.0) > times * most}


def scaled(target: Mapping[str, float], strength: float) -> dict[str, float]:
    """Return the target at another strength, 1 being full (0.01 to 4). Raises OutOfRange."""
    within("the strength", strength, 0.01, 4)
    return {name: amount * strength for name, amount in target.items()}


def as_published(recipe: Recipe, volume: float, strength: float = 1.0) -> mixing.Found:
    """Return the recipe's own salts for `volume` L, and how near they come to its own target.

    Raises ValueError for a recipe that was published without salts, OutOfRange for the volume or strength.
    """
    each = recipe.per_litre()
    if not each:
        raise ValueError(f"{recipe.name} was published without salts")
    target = scaled(recipe.target, strength)
    grams = {key: mass * volume * strength for key, mass in each.items()}
    mixed = mixing.mix(grams, volume, labels=recipe.of_bags())
    off = {name: (mixed.contents[name] / wanted - 1) * 100 for name, wanted in target.items() if wanted > 0}
    return mixing.Found(grams=grams, mixed=mixed, off=off, water_has=())


def worked_out(
    target: Mapping[str, float],
    volume: float,
    *,
    salts: Collection[str] = (),
    calcium: Calcium = "double-salt",
    water: Mapping[str, float] | None = None,
    labels: mixing.Labels | None = None,
) -> mixing.Found:
    """Return the grams that bring `volume` L nearest to `target` mg/L, from `salts` (keys) or the ordinary ones.

    Of the ordinary salts, those come first that bring no nutrient without a target; others only where
    these miss by more than 1 %. Raises OutOfRange and ValueError.
    """
    for key in salts:
        _must_feed(key)
    if salts:
        return mixing.nearest(target, volume, salts, water=water, labels=labels)
    ordinary = [key for key in (CALCIUM[calcium], *ORDINARY) if _counts(key, target)]
    first = [key for key in ordinary if _only(key, target)]
    found = mixing.nearest(target, volume, first, reserve=ordinary, water=water, labels=labels)
    for reserve, enough in ((RESERVE, 1.0), ((*RESERVE, *RARE), 8.0)):
        if found.worst > enough:
            spare = [key for key in reserve if _counts(key, target)]
            found = mixing.nearest(target, volume, ordinary, reserve=spare, water=water, labels=labels)
    return found


def grams_for(
    wanted: Recipe | Mapping[str, float],
    volume: float,
    *,
    strength: float = 1.0,
    salts: Collection[str] = (),
    calcium: Calcium | None = None,
    water: Mapping[str, float] | None = None,
) -> mixing.Found:
    """Return the grams for a recipe, or for targets in mg/L, in `volume` L.

    A recipe is made of its own salts, as published where the water holds nothing, else as much less of
    each as the water allows; with `salts` (keys) or a kind of calcium nitrate given, of those. Raises
    OutOfRange and ValueError.
    """
    target = scaled(wanted.target if isinstance(wanted, Recipe) else wanted, strength)
    if not isinstance(wanted, Recipe) or salts or calcium or not (wanted.mmol or wanted.grams):
        return worked_out(target, volume, salts=salts, calcium=calcium or "double-salt", water=water)
    if not any((water or {}).values()):
        return as_published(wanted, volume, strength)
    spare = [key for key in (*ORDINARY, *RESERVE) if _counts(key, target)]
    own, labels = wanted.per_litre(), wanted.of_bags()
    return mixing.nearest(target, volume, own, reserve=spare, water=water, labels=labels)


def for_ph(salt: Salt) -> bool:
    """Say whether a salt of the table is a base or a carbonate, which belongs to the pH and not to a recipe."""
    return any(ion in salt.ions for ion in ("OH-", "HCO3-", "CO3-2")) and "Si" not in salt.elements


def _must_feed(key: str) -> None:
    salt = mixing.of(key)
    if for_ph(salt):
        raise ValueError(f"{salt.name} is for the pH, not for a recipe: leave it out; 'base' works out its dose")


@cache
def _held(key: str) -> tuple[str, ...]:
    return tuple(mixing.held(key))


def _counts(key: str, target: Mapping[str, float]) -> bool:
    """Say whether the salt is there for an element with a target; a salt of a minor one is there for that alone."""
    held = _held(key)
    minor = [name for name in mixing.MINOR if name in held]
    return any(target.get(name, 0) > 0 for name in (minor or held))


def _only(key: str, target: Mapping[str, float]) -> bool:
    """Say whether the salt brings no nutrient without a target; sulfur, chloride and sodium may come along."""
    held = _held(key)
    nitrogen = any(form in target for form in mixing.FORMS)
    return all(
        target.get(name, 0) > 0 or (name == "N" and nitrogen)
        for name in held
        if name in ("N", "P", "K", "Ca", "Mg", *mixing.MINOR)
    )
