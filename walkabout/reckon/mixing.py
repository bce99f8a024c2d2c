"""The reckoning of a mix: what salts give in a volume of water."""

from collections.abc import Mapping

from walkabout.growing import mixing
from walkabout.reckon import salt_warnings as warnings
from walkabout.reckon import salt_words as words
from walkabout.reckon.model import Field, Open, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, digits, number

VOLUME = Field(
    key="volume",
    says="litres of solution",
    unit="L",
    low=0.001,
    high=1e6,
    others=("litres", "liters", "water", "tank", "volume_l", "l"),
    starts="litres",
)


def find_in_mix(typed: str) -> str:
    """Return a salt's key, 'water_Ca' for what the water holds, 'SALT:Ca' for a label; raises ValueError."""
    if words.is_water(typed):
        return words.in_water(typed)
    name, colon, element = typed.partition(":")
    return f"{words.salt(name)}:{words.percent(element)}" if colon else words.salt(name)


def sorted_out(amounts: Mapping[str, float]) -> tuple[dict[str, float], dict[str, float], dict[str, dict[str, float]]]:
    """Part what was typed into salts, the water's contents, and labels by salt; raises ValueError."""
    salts = {key: value for key, value in amounts.items() if not key.startswith("water_") and ":" not in key}
    labels: dict[str, dict[str, float]] = {}
    for key, value in amounts.items():
        name, colon, held = key.partition(":")
        if not colon:
            continue
        if name not in salts:
            raise ValueError(f"'{key}' is a label's %, but no amount of {name} is given")
        element, percent = words.as_element(held, value)
        labels.setdefault(name, {})[element] = percent
    return salts, words.water_of(amounts), labels


def work_mix(volume: float, amounts: Mapping[str, float]) -> Reckoned:
    """Work out what salts give in a volume of water."""
    salts, water, labels = sorted_out(amounts)
    if not any(mass > 0 for mass in salts.values()):
        raise ValueError("mix needs at least one salt with its grams, as in potassium-nitrate=30")
    mixed = mixing.mix(salts, volume, water, labels)
    rest = warnings.undissolved(salts, volume)
    taken, which = warnings.which_calcium_nitrate([key for key in salts if key not in labels])
    lines = [taken] if taken else []
    lines += words.contributions(salts, volume, labels)
    lines += [f"{name} of the water comes on top: {amount(value, 'mg/L', 1)}" for name, value in water.items() if value]
    lines += [f"{ion}: {number(value, 3)} mmol/L" for ion, value in mixed.ions.items() if round(value, 3) > 0]
    if mixed.ions:
        lines.append(
            f"balance = (cations − anions) ÷ (cations + anions) = ({number(mixed.cations)} − {number(mixed.anions)}) ÷ "
            f"{number(mixed.cations + mixed.anions)} = {amount(mixed.balance, '%', 1)}"
        )
    return Reckoned(
        results={
            **words.given(mixed),
            "cations": Result(mixed.cations, "meq/L", 2, "sum of the cations"),
            "anions": Result(mixed.anions, "meq/L", 2, "sum of the anions"),
            "balance": Result(mixed.balance, "%", 1, "cations more than anions"),
            **words.ec_of(mixed),
        },
        says=tuple(
            line
            for line in (
                rest,
                warnings.for_ph(salts),
                warnings.too_strong(mixed.contents),
                _summary(mixed),
                which,
                _balance(mixed, salts, bool(water)),
                warnings.ammonium(mixed),
                warnings.small(salts),
            )
            if line
        ),
        working=tuple(lines),
        source=f"mass balance with {words.BY_WEIGHTS}; EC: sum over the ions, good to about 15 %",
        cautions=warnings.cautions(salts),
    )


def _summary(mixed: mixing.Mixed) -> str:
    shown = [name for name in (*mixing.MAJOR, *mixing.MINOR) if mixed.contents[name] > 0]
    shown = shown or [name for name in mixing.ELEMENTS if mixed.contents[name] > 0]
    return f"A litre holds {', '.join(f'{name} {digits(mixed.contents[name])}' for name in shown)} mg/L."


def _balance(mixed: mixing.Mixed, salts: Mapping[str, float], water: bool) -> str:  # noqa: FBT001
    strangers = [key for key in salts if (one := mixing.of(key)).danger == "stranger" and not one.ions]
    if strangers:
        return f"Which ions {', '.join(strangers)} sets free is not known here: the EC and the charges leave it out."
    if abs(mixed.balance) > 5 and water:
        return "The charges do not balance: the report of the water is not complete, perhaps its hydrogen carbonate."
    return ""


RECKONINGS = (
    Reckoning(
        name="mix",
        subject="solution",
        title="What a mix gives",
        about="How much of each nutrient so many grams of salts give in so many litres, and about which EC it shows.",
        fields=(VOLUME,),
        open=Open(
            says="a salt with its grams; water_Ca= and the like for mg/L in the water; SALT:N= for a label's %",
            unit="g",
            find=find_in_mix,
            unit_of=words.unit_in_mix,
            needed=True,
            example="potassium-nitrate=30",
        ),
        work=work_mix,
        example="volume=60 calcium-nitrate-double=29.2 potassium-nitrate=26.5 monopotassium-phosphate=8.2",
        others=("salt-mix", "mixture", "ppm-of-mix", "nutrients"),
    ),
)
