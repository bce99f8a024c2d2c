"""What the reckonings with salts warn of: dangers, amounts that make no sense, what a name leaves open."""

from collections.abc import Iterable, Mapping

from walkabout.growing import mixing, recipes
from walkabout.reckon.salt_words import short
from walkabout.reckon.write import digits, number, plainly

DANGER = (
    "Salts: an adult weighs and dissolves them in gloves and goggles and raises no dust, as local codes and the "
    "school's risk assessment say."
)

_WORST = ("caustic", "ammonium", "stranger")


def cautions(keys: Iterable[str]) -> tuple[str, ...]:
    """Return the dangers of these salts, one line each, with who may weigh them; the worst come first."""
    held = {key: mixing.of(key) for key in keys}
    own = [salt for salt in held.values() if salt.caution and salt.danger not in ("oxidiser", "mild")]
    lines = [DANGER]
    for why in dict.fromkeys(salt.caution for salt in sorted(own, key=lambda one: one.danger not in _WORST)):
        named = ", ".join(short(salt.key) for salt in own if salt.caution == why)
        lines.append(f"{_large(named)}: {why[:1].lower()}{why[1:]}")
    nitrates = [key for key, salt in held.items() if salt.nitrate_n and salt.danger != "ammonium"]
    if nitrates:
        lines.append(
            f"Oxidisers ({', '.join(map(short, nitrates))}): keep dry and apart from acids, paper, wood and heat; an "
            "adult only, as local codes say."
        )
    return tuple(lines)


def job_caution(keys: Iterable[str]) -> str:
    """Return the one line of caution that goes with the job of weighing these salts."""
    worst = next((salt for salt in map(mixing.of, keys) if salt.danger in _WORST), None)
    own = f"{_large(short(worst.key))}: {worst.caution[:1].lower()}{worst.caution[1:]} " if worst else ""
    return f"{own}Gloves and goggles, no dust; local codes and the school's risk assessment decide."


def which_calcium_nitrate(keys: Iterable[str]) -> tuple[str, str]:
    """Return the line of working and the sentence on what was taken for calcium nitrate; both empty without it."""
    if "calcium-nitrate" not in keys:
        return "", ""
    return (
        "taken: calcium nitrate = tetrahydrate, as in a laboratory",
        "Calcium nitrate is counted as the tetrahydrate of a laboratory; a bag usually holds calcium-nitrate-double.",
    )


def too_strong(contents: Mapping[str, float]) -> str:
    """Return a warning where a nutrient is far above what any recipe here holds; empty otherwise."""
    far, most = recipes.too_strong(contents), recipes.strongest()
    if not far:
        return ""
    named = ", ".join(f"{name} {digits(value)} (at most {plainly(most[name])} there)" for name, value in far.items())
    return (
        f"Far stronger than any recipe here, in mg/L: {named}. It harms plants: look at the amounts and their units "
        "again, or thin it before use."
    )


def undissolved(masses: Mapping[str, float], volume: float) -> str:
    """Return a warning where a salt is above its solubility; empty otherwise. Raises OutOfRange far above it."""
    much = mixing.undissolved(masses, volume)
    if not much:
        return ""
    named = ", ".join(f"{short(key)} (at most {plainly(mixing.of(key).solubility or 0)} g/L)" for key in much)
    return f"Not all of it may dissolve at 20 °C: {named}."


def for_ph(keys: Iterable[str]) -> str:
    """Return a sentence about bases and carbonates among the salts, which are no feed; empty without any."""
    named = [short(key) for key in keys if recipes.for_ph(mixing.of(key))]
    if not named:
        return ""
    is_ = "is" if len(named) == 1 else "are"
    return f"{_large(' and '.join(named))} {is_} for the pH, not for feeding: 'base' works out the dose."


def _large(text: str) -> str:
    return text[:1].upper() + text[1:]


def small(masses: Mapping[str, float]) -> str:
    """Return a sentence about what a kitchen scale cannot weigh; empty when it can weigh everything."""
    tiny = [key for key, mass in masses.items() if 0 < mass < mixing.KITCHEN_SCALE]
    if not tiny:
        return ""
    return (
        f"Too little for a kitchen scale (under 1 g): {', '.join(map(short, tiny))}. Use a finer balance, or make a "
        "stock a hundred or a thousand times stronger and measure that out."
    )


def ammonium(mixed: mixing.Mixed) -> str:
    """Return a warning where much of the nitrogen is ammonium; empty otherwise."""
    whole, part = mixed.contents["N"], mixed.contents["ammonium_n"]
    if whole <= 0 or part / whole <= mixing.MUCH_AMMONIUM:
        return ""
    return (
        f"{number(part / whole * 100, 0)} % of the nitrogen is ammonium: more than 20 % can harm roots and pulls the "
        "pH down (common practice)."
    )
