"""Reckonings of recipes: the grams that make a nutrient solution, and the recipes that are known."""

from collections.abc import Mapping, Sequence

from walkabout.growing import mixing
from walkabout.growing import recipes as known_recipes
from walkabout.growing.recipes import CALCIUM, Calcium, Recipe
from walkabout.growing.salts import load
from walkabout.reckon import recipe_words as said
from walkabout.reckon import salt_warnings as warnings
from walkabout.reckon import salt_words as words
from walkabout.reckon.mixing import VOLUME
from walkabout.reckon.model import Field, Open, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import digits, number, plainly

NAME = Field(
    key="name",
    says="a recipe",
    kind="text",
    needed=False,
    others=("recipe", "solution"),
    note="hoagland-1, hoagland-2, steiner, lettuce, tomato, tomato-florida-1 to -5",
)
SALTS = Field(
    key="salts",
    says="the salts in the cupboard",
    kind="text",
    needed=False,
    others=("from", "with_salts"),
    note="with commas; the ordinary ones when nothing is given",
)
STRENGTH = Field(
    key="strength",
    says="strength, 1 being full",
    kind="text",
    default="1",
    others=("factor", "scale"),
    note="0.5, 50 % or half; 0.01 to 4",
)
CALCIUM_NITRATE = Field(
    key="calcium_nitrate",
    says="which calcium nitrate",
    kind="word",
    words=tuple(CALCIUM),
    needed=False,
    note="double-salt: of horticulture; tetrahydrate: of the laboratory; bag: 15.5 % N and 19 % Ca",
)


def find_in_recipe(typed: str) -> str:
    """Return the content or oxide that has a target, or 'water_Ca' for what the water holds; raises ValueError."""
    return words.in_water(typed) if words.is_water(typed) else words.percent(typed)


def work_recipe(
    volume: float,
    name: str | None = None,
    salts: str | None = None,
    strength: str | float | None = None,
    calcium_nitrate: str | None = None,
    amounts: Mapping[str, float] | None = None,
    own: Sequence[Recipe] = (),
) -> Reckoned:
    """Work out the grams of each salt for a recipe, shipped or the room's own, or for targets."""
    amounts = amounts or {}
    wanted, counted = said.targets_of({key: value for key, value in amounts.items() if not key.startswith("water_")})
    water = words.water_of(amounts)
    recipe, factor = known_recipes.find(name, (*own, *known_recipes.known())) if name else (None, 1.0)
    factor *= said.read_strength(strength)
    if recipe is None and not wanted:
        raise ValueError("recipe needs a name, as in name=lettuce, or targets in mg/L, as in N=150 K=210")
    if recipe is not None and wanted:
        raise ValueError("give either the name of a recipe or targets in mg/L, not both")
    said.must_be_a_feed(wanted)
    cupboard = _cupboard(salts)
    kind = _calcium(calcium_nitrate)
    found = known_recipes.grams_for(
        recipe or wanted, volume, strength=factor, salts=cupboard, calcium=kind, water=water
    )
    rest = warnings.undissolved(found.grams, volume)
    published = recipe is not None and not cupboard and kind is None and bool(recipe.mmol or recipe.grams)
    lines = said.target_lines(known_recipes.scaled(recipe.target if recipe else wanted, factor), water, found)
    lines = counted + lines
    if recipe is not None and factor != 1:
        lines.insert(0, f"strength {plainly(factor)} of {recipe.name}: every target × {plainly(factor)}")
    if not published and not cupboard and any("calcium-nitrate" in key for key in found.grams):
        lines.append(f"{'taken' if kind is None else 'as asked'}: calcium nitrate = {kind or 'double-salt'}")
    unclear = kind is None and "tetra" not in (salts or "") and "4H2O" not in (salts or "")
    taken, which = warnings.which_calcium_nitrate(found.grams if unclear else ())
    lines += [taken] if taken else []
    for key, mass in found.grams.items():
        (each,) = words.shown(lambda g: g * volume, mass / volume)
        lines.append(f"{words.short(key)}: {each} g in a litre × {volume:g} L = {digits(mass, 4)} g")
    lines += words.contributions(found.grams, volume, recipe.of_bags() if recipe and published else None)
    return Reckoned(
        results={
            **{
                key: Result(mass, "g", words.decimals(mass, 4), mixing.of(key).name)
                for key, mass in found.grams.items()
            },
            **words.given(found.mixed, "gives_"),
            "worst": Result(found.worst, "%", 1, "largest miss"),
            "cations": Result(found.mixed.cations, "meq/L", 2, "sum of the cations"),
            "anions": Result(found.mixed.anions, "meq/L", 2, "sum of the anions"),
            "balance": Result(found.mixed.balance, "%", 1, "cations more than anions"),
            **words.ec_of(found.mixed),
        },
        says=tuple(
            line
            for line in (
                rest,
                warnings.too_strong(found.mixed.contents),
                *said.meaning(
                    volume, recipe, factor, found, published and not water, tuple(recipe.target if recipe else wanted)
                ),
                which,
            )
            if line
        ),
        working=tuple(lines),
        source=_source(recipe, published and not water),
        cautions=warnings.cautions(found.grams),
        do=ToDo(
            what=f"Weigh the salts for {volume:g} L and dissolve them one after the other",
            who="adult",
            caution=warnings.job_caution(found.grams),
            why=f"{words.listed(found.grams)}.",
        )
        if found.grams and not known_recipes.too_strong(found.mixed.contents)
        else None,
    )


def _source(recipe: Recipe | None, published: bool) -> str:  # noqa: FBT001
    how = "least squares without negative amounts (Lawson and Hanson 1974), each element by its % of the target"
    if recipe is None:
        return f"targets as given; {how}; {words.BY_WEIGHTS}"
    return f"{recipe.source} ({recipe.known}); " + ("its own salts" if published else f"salts by {how}")


def _cupboard(typed: str | None) -> tuple[str, ...]:
    """Return the keys of the salts that were typed, with commas or with spaces; raises ValueError."""
    if not typed or not typed.strip():
        return ()
    parts = [part.strip() for part in typed.replace(";", ",").replace("+", ",").split(",") if part.strip()]
    if len(parts) == 1 and load().find(parts[0]) is None and all(load().find(part) for part in parts[0].split()):
        parts = parts[0].split()
    return tuple(dict.fromkeys(words.salt(part) for part in parts))


def _calcium(typed: str | None) -> Calcium | None:
    return next((kind for kind in CALCIUM if kind == typed), None)


def work_recipes(name: str | None = None, strength: str | float | None = None, own: Sequence[Recipe] = ()) -> Reckoned:
    """List the known recipes, or one of them, with what they give."""
    factor = said.read_strength(strength)
    if name:
        one, named = known_recipes.find(name, (*own, *known_recipes.known()))
        return _one(one, factor * named)
    listed = tuple({one.key: one for one in (*known_recipes.known(), *own)}.values())
    return Reckoned(
        results={one.key: Result(_in_short(one, factor), "", 0, one.name) for one in listed},
        says=(f"{len(listed)} recipes are known; name=… shows one of them in full.",),
        working=tuple(f"{one.key}: {one.name}; {', '.join(one.crops)}" for one in listed),
        source="; ".join(dict.fromkeys(f"{one.source} ({one.known})" for one in listed)),
    )


def _in_short(recipe: Recipe, factor: float) -> str:
    main = [key for key in mixing.MAJOR if key in recipe.target]
    return ", ".join(f"{key} {number(recipe.target[key] * factor, 0)}" for key in main) + " mg/L"


def _one(recipe: Recipe, factor: float) -> Reckoned:
    target = known_recipes.scaled(recipe.target, factor)
    each = recipe.per_litre()
    lines = [f"{words.short(key)}: {digits(mass * factor, 4)} g in a litre" for key, mass in each.items()]
    lines += [
        f"{key}: {plainly(value)} mg/L × strength {plainly(factor)} = {plainly(value * factor)} mg/L"
        for key, value in recipe.target.items()
        if factor != 1
    ]
    held = {
        key.casefold(): Result(value, "mg/L", words.decimals(value, 4), words.said(key))
        for key, value in target.items()
    }
    salts = {
        key: Result(mass * factor, "g", words.decimals(mass * factor, 4), f"{mixing.of(key).name}, in a litre")
        for key, mass in each.items()
    }
    mixed = known_recipes.grams_for(recipe, 1.0, strength=factor).mixed
    charges = {
        "cations": Result(mixed.cations, "meq/L", 2, "sum of the cations"),
        "anions": Result(mixed.anions, "meq/L", 2, "sum of the anions"),
        **words.ec_of(mixed),
    }
    return Reckoned(
        results={**held, **salts, **charges},
        says=tuple(line for line in (_what_for(recipe), recipe.note.strip()) if line),
        working=tuple(lines),
        source=f"{recipe.source} ({recipe.known})",
        cautions=warnings.cautions(each),
    )


def _what_for(recipe: Recipe) -> str:
    return f"{recipe.name}: for {', '.join(recipe.crops)}." if recipe.crops else f"{recipe.name}."


RECKONINGS = (
    Reckoning(
        name="recipe",
        subject="solution",
        title="Salts for a recipe",
        about="The grams of each salt for a tank: of a published recipe, or nearest to the mg/L you want, with what "
        "the water already holds taken off.",
        fields=(VOLUME, NAME, SALTS, STRENGTH, CALCIUM_NITRATE),
        open=Open(
            says="an element with its mg/L (N=150), or water_Ca= and the like for what the water holds",
            unit="mg/L",
            find=find_in_recipe,
            unit_of=words.unit_in_recipe,
            example="N=150",
        ),
        work=work_recipe,
        own_recipes=True,
        example="volume=60 name=lettuce",
        others=("formula", "nutrient-solution", "feed", "salts-for-target", "solve"),
    ),
    Reckoning(
        name="recipes",
        subject="solution",
        title="Known recipes",
        about="The published nutrient solutions that are known here, and what a litre of each holds.",
        fields=(NAME, STRENGTH),
        work=work_recipes,
        own_recipes=True,
        example="name=hoagland-1 strength=0.5",
        others=("solutions", "formulas", "known-recipes"),
    ),
)
