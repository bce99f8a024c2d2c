"""The reckoning of stocks: grams for each tank, what may not meet, what no longer dissolves."""

from collections.abc import Mapping, Sequence
from math import isfinite

from walkabout.growing import mixing, recipes
from walkabout.growing import stocks as of
from walkabout.reckon import salt_words as words
from walkabout.reckon.model import Field, Open, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import amount, digits, number, plainly

RECIPE = Field(
    key="recipe",
    says="a recipe",
    kind="text",
    needed=False,
    others=("name", "solution"),
    note="or salts with their g in a litre of finished solution",
)
FACTOR = Field(
    key="factor",
    says="how many times stronger",
    low=1,
    high=1000,
    others=("strength", "concentration", "injector", "ratio", "times"),
    note="100 for a 1:100 injector",
)
VOLUME = Field(
    key="volume",
    says="litres of each stock",
    unit="L",
    low=0.001,
    high=1e5,
    others=("stock_volume", "litres", "liters", "stock_volume_l", "l"),
)
PARTS = Field(key="parts", says="how many tanks", low=1, high=3, default=2.0, others=("tanks", "bottles"))

CLASH_CAUTION = "Concentrates never meet undiluted: pour each into plenty of water and stir before the next; an adult."


def work_stock(
    factor: float,
    volume: float,
    recipe: str | None = None,
    parts: float | None = None,
    amounts: Mapping[str, float] | None = None,
    own: Sequence[recipes.Recipe] = (),
) -> Reckoned:
    """Work out what goes into the tanks of a stock."""
    tanks = 2.0 if parts is None else parts
    if tanks != int(tanks):
        raise ValueError("a stock has 1, 2 or 3 tanks")
    each, title, source = _each(recipe, amounts or {}, own)
    made = of.stock(each, factor, volume, int(tanks))
    worst = _verdict(made)
    results: dict[str, Result] = {}
    for part in made.parts:
        what = f"{mixing.of(part.salt).name}, tank {part.tank}"
        results[part.salt] = Result(part.grams, "g", words.decimals(part.grams, 4), what)
    for tank in made.tanks:
        held = ", ".join(part.salt for part in made.parts if part.tank == tank)
        results[f"tank_{tank.casefold()}"] = Result(held, says=f"what tank {tank} holds")
    results["verdict"] = Result(worst)
    results["dose"] = Result(1000 / factor, "mL", 1, "of each stock for a litre of solution")
    results["makes"] = Result(volume * factor, "L", 0, "litres of solution from it")
    if isfinite(made.highest):
        results["highest_factor"] = Result(made.highest, "", 0, "strongest before crystals or gypsum")
    return Reckoned(
        results=results,
        says=_meaning(made, title, worst, volume),
        working=tuple(_working(made, each, volume, parts)),
        source=f"{source}; g = g/L × factor × L, tanks: {words.EDIBLE}; solubility at 20 °C: table of salts, potassium "
        "nitrate held under 200 g/L because sources differ; gypsum: PHREEQC",
        cautions=(*words.cautions(each), CLASH_CAUTION),
        do=ToDo(
            what=f"Make {volume:g} L of stock for tank {' and '.join(made.tanks)}, {plainly(factor)} times as strong",
            who="adult",
            caution="Gloves and goggles, no dust; local codes and the school's risk assessment decide.",
        )
        if worst in ("good", "close")
        else None,
    )


def _each(
    recipe: str | None, amounts: Mapping[str, float], own: Sequence[recipes.Recipe]
) -> tuple[dict[str, float], str, str]:
    """Return g/L of the finished solution by salt, what it is called, and its source; raises ValueError."""
    given = {key: value for key, value in amounts.items() if value > 0}
    if (recipe is None) == (not given):
        raise ValueError("stock needs a recipe, as in recipe=lettuce, or salts in g/L, as in potassium-nitrate=0.44")
    if recipe is None:
        return given, "this solution", "salts as given"
    found, strength = recipes.find(recipe, (*own, *recipes.known()))
    each = found.per_litre() or recipes.worked_out(found.target, 1.0).grams
    return {key: mass * strength for key, mass in each.items()}, found.name, f"{found.source} ({found.known})"


def _verdict(made: of.Stock) -> str:
    if any(product > of.GYPSUM_DROPS for product in made.gypsum.values()):
        return "drops out"
    if any(part.fit == "too strong" for part in made.parts):
        return "too strong"
    certain = any(one.surely and one.why != of.GYPSUM for one in made.clashes)
    if certain or any(product > of.GYPSUM_SAFE for product in made.gypsum.values()):
        return "doubtful"
    return "close" if any(part.fit == "close" for part in made.parts) else "good"


def _meaning(made: of.Stock, title: str, verdict: str, volume: float) -> tuple[str, ...]:
    says = []
    worried = any(product > of.GYPSUM_SAFE for product in made.gypsum.values())
    for tank in made.tanks:
        held = words.listed({part.salt: part.grams for part in made.parts if part.tank == tank})
        says.append(f"Tank {tank}, {volume:g} L of water: {held}.")
    pour = amount(1000 / made.factor, "mL", 1)
    stir = "; stir the first in before the next" if len(made.tanks) > 1 else ""
    says.append(f"For a litre of {title} take {pour} of each tank{stir}.")
    if verdict == "drops out":
        says.insert(0, "Do not make it like this: calcium and sulfate in one tank drop out as gypsum.")
    for part in made.parts:
        salt, strong = words.short(part.salt), number(part.per_litre, 0)
        if part.fit == "too strong" and part.limit:
            most = f"no more than {plainly(part.limit)} g/L is safe"
            says.insert(0, f"Too strong: {salt} would be {strong} g/L, and {most}. Take a smaller factor.")
        if part.fit == "close" and part.limit:
            says.append(f"{salt}: {strong} g/L of at most {plainly(part.limit)}; below 15 °C crystals may form.")
        if part.fit == "not known":
            says.append(
                f"How much {words.short(part.salt)} dissolves is not known here: look for a rest at the bottom."
            )
    for why in dict.fromkeys(one.why for one in made.clashes if one.why != of.GYPSUM or worried):
        pairs = [one for one in made.clashes if one.why == why]
        first = dict.fromkeys(words.short(one.one) for one in pairs)
        second = dict.fromkeys(words.short(one.other) for one in pairs)
        says.append(f"In one tank, {' and '.join(first)} with {', '.join(second)}: {why}.")
    if any(of.GYPSUM_SAFE < product <= of.GYPSUM_DROPS for product in made.gypsum.values()):
        says.append("Gypsum may drop out: this is at the edge. Two tanks are safer.")
    says.append(words.small({part.salt: part.grams for part in made.parts}))
    return tuple(line for line in says if line)


def _working(made: of.Stock, each: Mapping[str, float], volume: float, parts: float | None) -> list[str]:
    lines = [
        f"{words.short(part.salt)}: {digits(each[part.salt], 4)} g/L × {plainly(made.factor)} × {volume:g} L = "
        f"{digits(part.grams, 4)} g"
        for part in made.parts
    ]
    lines += [
        f"{words.short(part.salt)}: {digits(part.per_litre)} g/L in tank {part.tank}, at most {plainly(part.limit)} g/L"
        for part in made.parts
        if part.limit and part.per_litre > part.limit / 20
    ]
    lines += [
        f"tank {tank}: Ca × SO4 = {number(product, 0)} (mmol/L)²; safe to {of.GYPSUM_SAFE:g}, gypsum above "
        f"{of.GYPSUM_DROPS:g}"
        for tank, product in made.gypsum.items()
    ]
    lines.append(f"dose = 1000 mL ÷ {plainly(made.factor)} = {amount(1000 / made.factor, 'mL', 1)} of each tank per L")
    if parts == PARTS.default:
        lines.append("taken: parts = 2")
    return lines


RECKONINGS = (
    Reckoning(
        name="stock",
        subject="solution",
        title="Concentrated stocks",
        about="What to weigh into two or three tanks of concentrate, whether it dissolves, and which salts must stay "
        "apart.",
        fields=(RECIPE, FACTOR, VOLUME, PARTS),
        open=Open(
            says="a salt with its g in a litre of finished solution",
            unit="g/L",
            find=words.salt,
            high=1000,
            example="calcium-nitrate-double=0.486",
        ),
        work=work_stock,
        own_recipes=True,
        example="recipe=lettuce factor=100 volume=10",
        others=("stocks", "concentrate", "concentrates", "stock-solution", "injector"),
    ),
)
