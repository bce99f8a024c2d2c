"""What the reckoning of a recipe reads and says: strengths, targets, and what the grams come to."""

import re
from collections.abc import Mapping

from walkabout.growing import mixing
from walkabout.growing import recipes as known_recipes
from walkabout.growing.recipes import Recipe
from walkabout.reckon import salt_warnings as warnings
from walkabout.reckon import salt_words as words
from walkabout.reckon import units
from walkabout.reckon.write import amount, digits, number, plainly


def read_strength(typed: str | float | None) -> float:
    """Return a strength as a number: '0.5', '50 %', '1/2' and 'half' are one half. Raises ValueError."""
    if typed is None:
        return 1.0
    text = str(typed).strip().casefold()
    word = text.removesuffix("strength").strip(" -")
    if word in known_recipes.STRENGTHS:
        return known_recipes.STRENGTHS[word]
    parts = re.fullmatch(r"(\d+)\s*/\s*([1-9]\d*)", text)
    if parts:
        return int(parts[1]) / int(parts[2])
    if text.endswith("%"):
        return units.number(text.removesuffix("%"), "") / 100
    try:
        return units.number(text, "")
    except ValueError:
        raise ValueError(f"'{typed}' is no strength: write 0.5, 50 % or half") from None


def must_be_a_feed(wanted: Mapping[str, float]) -> None:
    """Refuse targets of a concentrate, mg/L: a stock is worked out in another way. Raises ValueError."""
    far = known_recipes.too_strong(wanted, known_recipes.NO_FEED)
    for name, value in far.items():
        most = plainly(known_recipes.strongest()[name])
        raise ValueError(
            f"{name} {plainly(value)} mg/L is no feed: no recipe here holds more than {most}; for a concentrate give "
            "the feed's mg/L, and its grams to 'stock'"
        )


def targets_of(typed: Mapping[str, float]) -> tuple[dict[str, float], list[str]]:
    """Return the targets by element, and the lines that turn oxides into elements; raises ValueError."""
    targets: dict[str, float] = {}
    lines = []
    for name, value in typed.items():
        element, amount_of_it = words.as_element(name, value)
        if element in targets or (element != name and element in typed):
            raise ValueError(f"{name} and {element} are targets for the same thing: leave one out")
        targets[element] = amount_of_it
        if element != name:
            factor = number(words.oxide_factor(name), 4)
            lines.append(f"{name}: {plainly(value)} mg/L × {factor} = {digits(amount_of_it, 4)} mg/L {element}")
    return targets, lines


def target_lines(target: Mapping[str, float], water: Mapping[str, float], found: mixing.Found) -> list[str]:
    """Return, target by target, what is wanted and what is given, mg/L."""
    lines = []
    for key, wanted in target.items():
        have = found.mixed.contents[key]
        from_water = f" (of it {amount(water[key], 'mg/L', 1)} from the water)" if water.get(key) else ""
        miss = f", {amount(found.off[key], '%', 1)} off" if key in found.off else ""
        lines.append(f"{key}: target {plainly(wanted)}, given {plainly(round(have, 3))} mg/L{from_water}{miss}")
    return lines


def meaning(
    volume: float,
    recipe: Recipe | None,
    factor: float,
    found: mixing.Found,
    published: bool,  # noqa: FBT001
    targets: tuple[str, ...],
) -> tuple[str, ...]:
    """Say what to weigh for `volume` L, what is missed, and what comes along; `targets`: what has one."""
    named = f" of {recipe.name}" if recipe else ""
    at = f" at {plainly(factor)} strength" if recipe and factor != 1 else ""
    says = [_nothing(found)]
    if found.grams:
        says = [f"For {volume:g} L{named}{at}: {words.listed(found.grams)}."]
    if found.water_has:
        says.append(f"The water alone has more than wanted of {_and(found.water_has)}: mix in purer water.")
    off = [f"{key} ({amount(value, '%', 1)})" for key, value in found.off.items() if abs(value) > 1]
    if published:
        says.append(f"The published salts give the published figures within {amount(found.worst, '%', 1)}.")
    elif off and found.grams:
        says.append(f"These salts cannot meet it all; off the target by more than 1 %: {', '.join(off)}.")
    elif found.off and not off:
        says.append("Every target is met within 1 %.")
    along = [
        f"{key} {number(found.mixed.contents[key], 1)}"
        for key in mixing.ELEMENTS
        if key not in targets and found.mixed.contents[key] >= 0.05 and not (key == "N" and _has_form(targets))
    ]
    if along:
        says.append(f"What comes along without a target: {', '.join(along)} mg/L.")
    if abs(found.mixed.balance) > 5:
        says.append("The charges do not balance: something of the water is missing, perhaps its hydrogen carbonate.")
    says += [warnings.ammonium(found.mixed), warnings.small(found.grams), recipe.note.strip() if recipe else ""]
    return tuple(line for line in says if line)


def _nothing(found: mixing.Found) -> str:
    """Say why no salt is to be weighed."""
    short = [key for key, value in found.off.items() if value < -1]
    if not short:
        return "The water alone already has what is wanted."
    return f"No salt was found for {_and(tuple(short))}: name salts that bring it, as in salts=sodium-chloride."


def _has_form(targets: tuple[str, ...]) -> bool:
    return any(form in targets for form in mixing.FORMS)


def _and(names: tuple[str, ...]) -> str:
    return ", ".join(names[:-1]) + (" and " if len(names) > 1 else "") + names[-1]
