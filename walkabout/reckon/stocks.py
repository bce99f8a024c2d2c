"""The reckoning of stocks: grams for each tank, what may not meet, what no longer dissolves."""

import re
from collections.abc import Mapping, Sequence
from math import floor, isfinite

from walkabout.growing import mixing, recipes
from walkabout.growing import stocks as of
from walkabout.growing.limits import above
from walkabout.reckon import salt_warnings as warnings
from walkabout.reckon import salt_words as words
from walkabout.reckon import units
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
    kind="text",
    others=("strength", "concentration", "injector", "ratio", "times"),
    note="1 to 1000; 100 or 1:100 for an injector that gives 1 part in 100",
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


_RATIO = re.compile(r"1\s*(?::|/|in|to)\s*(\d[\d.,]*)", re.IGNORECASE)
_TIMES = re.compile(r"(\S+?)\s*(?:[x×]|times|fold|-fold)", re.IGNORECASE)


def read_factor(typed: str | float) -> float:
    """Return how many times stronger a stock is: '100', '100x', '1:100', '1 %'. Raises ValueError."""
    text = str(typed).strip()
    if ratio := _RATIO.fullmatch(text):
        return units.number(ratio[1], "")
    if text.endswith("%"):
        share = units.number(text.removesuffix("%"), "")
        above("the share of stock", share, 0, "%")
        return 100 / share
    times = _TIMES.fullmatch(text)
    return units.number(times[1] if times else text, "")


def work_stock(
    factor: str | float,
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
    times = read_factor(factor)
    each, title, source = _each(recipe, amounts or {}, own)
    made = of.stock(each, times, volume, int(tanks))
    worst = _verdict(made)
    taken, which = warnings.which_calcium_nitrate(each)
    results: dict[str, Result] = {}
    if worst in _REFUSED:
        results["verdict"] = Result(worst, says="this stock")
        for part in made.parts:
            says = f"{mixing.of(part.salt).name}, would be in a litre of tank {part.tank}"
            results[f"{part.salt}_per_litre"] = Result(part.per_litre, "g/L", words.decimals(part.per_litre), says)
    else:
        for part in made.parts:
            what = f"{mixing.of(part.salt).name}, tank {part.tank}"
            results[part.salt] = Result(part.grams, "g", words.decimals(part.grams, 4), what)
        for tank in made.tanks:
            held = ", ".join(part.salt for part in made.parts if part.tank == tank)
            results[f"tank_{tank.casefold()}"] = Result(held, says=f"what tank {tank} holds")
        results["verdict"] = Result(worst, says="this stock")
        results["dose"] = Result(1000 / times, "mL", 1, "of each stock for a litre of solution")
        results["makes"] = Result(volume * times, "L", 0, "litres of solution from it")
    if isfinite(made.highest):
        results["highest_factor"] = Result(made.highest, "", 0, "strongest before crystals or gypsum")
    return Reckoned(
        results=results,
        says=tuple(
            line
            for line in (*(_refusal(made, worst) if worst in _REFUSED else _meaning(made, title, worst, volume)), which)
            if line
        ),
        working=(*([taken] if taken else []), *_working(made, each, volume, parts, refused=worst in _REFUSED)),
        source=f"{source}; g = g/L × factor × L, tanks: {words.EDIBLE}; solubility at 20 °C: table of salts, potassium "
        "nitrate held under 200 g/L because sources differ; gypsum: PHREEQC",
        cautions=(*warnings.cautions(each), CLASH_CAUTION),
        do=ToDo(
            what=f"Make {volume:g} L of stock for tank {' and '.join(made.tanks)}, {plainly(times)} times as strong",
            who="adult",
            caution=warnings.job_caution(each),
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


_REFUSED = ("drops out", "too strong")


def _refusal(made: of.Stock, verdict: str) -> list[str]:
    """Say why a stock cannot be made, and what could be; no grams, for nobody should weigh them."""
    says = []
    if verdict == "drops out":
        says.append("Do not make it like this: calcium and sulfate in one tank drop out as gypsum.")
        says.append("In two tanks, calcium apart from sulfate, this does not happen: parts=2.")
    says += [
        f"Too strong: {words.short(part.salt)} would be {number(part.per_litre, 0)} g/L, and no more than "
        f"{plainly(part.limit)} g/L is safe."
        for part in made.parts
        if part.fit == "too strong" and part.limit
    ]
    if isfinite(made.highest) and made.highest >= 1:
        says.append(f"With these tanks it may be {_down(made.highest)} times as strong, no more: ask again with that.")
    return says


def _meaning(made: of.Stock, title: str, verdict: str, volume: float) -> list[str]:
    says = []
    worried = any(product > of.GYPSUM_SAFE for product in made.gypsum.values())
    for tank in made.tanks:
        held = words.listed({part.salt: part.grams for part in made.parts if part.tank == tank})
        says.append(
            f"Tank {tank}: {held}; dissolve in about {plainly(0.8 * volume)} L of water, then fill up to {volume:g} L."
        )
    pour = amount(1000 / made.factor, "mL", 1)
    stir = "; stir the first in before the next" if len(made.tanks) > 1 else ""
    says.append(f"For a litre of {title} take {pour} of each tank{stir}.")
    if verdict == "doubtful":
        says.insert(0, "Doubtful: something may drop out in a tank, as said below. Keep calcium in one of its own.")
    for part in made.parts:
        salt, strong = words.short(part.salt), number(part.per_litre, 0)
        if part.fit == "close" and part.limit:
            says.append(f"{salt}: {strong} g/L of at most {plainly(part.limit)}; below 15 °C crystals may form.")
        if part.fit == "not known":
            says.append(f"How much {salt} dissolves is not known here: look for a rest at the bottom.")
    for why in dict.fromkeys(one.why for one in made.clashes if one.why != of.GYPSUM or worried):
        pairs = [one for one in made.clashes if one.why == why]
        first = dict.fromkeys(words.short(one.one) for one in pairs)
        second = dict.fromkeys(words.short(one.other) for one in pairs)
        says.append(f"In one tank, {' and '.join(first)} with {', '.join(second)}: {why}.")
    if worried:
        says.append("Gypsum may drop out: this is at the edge. Two tanks are safer.")
    says.append(warnings.small({part.salt: part.grams for part in made.parts}))
    return says


def _down(value: float) -> str:
    """Write the highest factor without rounding it up."""
    return f"{floor(value)}" if value >= 10 else f"{floor(value * 10) / 10:g}"


def _working(
    made: of.Stock, each: Mapping[str, float], volume: float, parts: float | None, *, refused: bool
) -> list[str]:
    lines = []
    for part in made.parts:
        if refused:
            (mass,) = words.shown(lambda g: g * made.factor, each[part.salt], result=3)
            step = f"{mass} g/L × {plainly(made.factor)} = {digits(part.per_litre)} g/L"
        else:
            (mass,) = words.shown(lambda g: g * made.factor * volume, each[part.salt])
            step = f"{mass} g/L × {plainly(made.factor)} × {volume:g} L = {digits(part.grams, 4)} g"
        lines.append(f"{words.short(part.salt)}: {step}")
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
    if not refused:
        pour = amount(1000 / made.factor, "mL", 1)
        lines.append(f"dose = 1000 mL ÷ {plainly(made.factor)} = {pour} of each tank per L")
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
