"""The reckoning of one salt: grams for a target, or what an amount of it gives."""

from collections.abc import Mapping

from walkabout.growing import mixing
from walkabout.growing.limits import within
from walkabout.growing.salts import Salt
from walkabout.growing.units import G_PER_OUNCE
from walkabout.reckon import salt_warnings as warnings
from walkabout.reckon import salt_words as words
from walkabout.reckon.mixing import VOLUME
from walkabout.reckon.model import Field, Open, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import digits, number, plainly

OF = Field(
    key="of",
    says="the element that counts",
    kind="text",
    needed=False,
    others=("element", "nutrient"),
    note="N, P, K, Ca … also nitrate_n, ammonium_n",
)
TARGET = Field(
    key="target",
    says="mg/L of the element wanted",
    unit="mg/L",
    low=0,
    high=1e6,
    needed=False,
    others=("ppm", "wanted", "target_mg_per_l"),
)
SALT = Field(key="salt", says="the salt", kind="text", needed=False, others=("fertiliser", "fertilizer", "product"))
ONE_LITRE = Field(
    key="volume", says="litres of solution", unit="L", low=0.001, high=1e6, default=1.0, others=VOLUME.others,
    starts="litres",
)  # fmt: skip
PERCENT = Field(
    key="percent",
    says="% of the element on the label",
    unit="%",
    low=0.0001,
    high=100,
    needed=False,
    others=("label", "purity", "fraction"),
    note="wins over the pure salt",
)
PER_LITRE = Field(
    key="per_litre",
    says="mg of salt in a litre, when that is known",
    unit="mg/L",
    low=0,
    high=1e6,
    needed=False,
    others=("salt_mg_per_l", "mg_per_litre", "mg_salt_per_l", "per_liter"),
)
MASS = Field(
    key="mass", says="g of salt, when that is known", unit="g", low=0, high=1e7, needed=False,
    others=("grams", "g", "weight"),
)  # fmt: skip
STOCK = Field(
    key="stock", says="g of salt in a litre of stock, when that is known", unit="g/L", low=0, high=2000, needed=False,
    others=("stock_g_per_l", "stock_strength"),
)  # fmt: skip
DOSE = Field(
    key="dose", says="mL of that stock for a litre", unit="mL", low=0, high=1000, needed=False,
    others=("ml_per_litre", "ml_per_l", "dose_ml_per_l"),
)  # fmt: skip


def work_grams(
    of: str | None = None,
    target: float | None = None,
    salt: str | None = None,
    volume: float | None = None,
    percent: float | None = None,
    per_litre: float | None = None,
    mass: float | None = None,
    stock: float | None = None,
    dose: float | None = None,
    amounts: Mapping[str, float] | None = None,
) -> Reckoned:
    """Work out one salt: grams for a target, or what an amount of it gives."""
    litres = 1.0 if volume is None else volume
    element = None if of is None else words.content(of)
    label = _label(element, percent, amounts or {})
    known, held, remark = _held(salt, label)
    name = known.name if known else "the salt"
    if element is not None and not held.get(element):
        holds = ", ".join(key for key in held if key in mixing.ELEMENTS) or "nothing that is counted here"
        raise ValueError(f"{name} holds no {words.said(element)}: it holds {holds}")
    each, lines = _each(element, target, held, name, litres, per_litre, mass, stock, dose)
    whole = each * litres / 1000
    no_litres = mass is not None and litres == ONE_LITRE.default
    rest = warnings.undissolved({known.key: whole}, litres) if known and not no_litres else ""
    far = "" if no_litres else warnings.too_strong({key: each * share for key, share in held.items()})
    taken, which = warnings.which_calcium_nitrate(_unclear(known, salt, label))
    lines += [taken] if taken else []
    if mass is None:
        (shown,) = words.shown(lambda mg: mg * litres / 1000, each)
        lines.append(f"for {litres:g} L: {shown} mg/L × {litres:g} L ÷ 1000 = {digits(whole, 4)} g")
    (shown,) = words.shown(lambda g: g / G_PER_OUNCE, whole, fewest=3, result=3)
    lines.append(f"in ounces: {shown} g ÷ {number(G_PER_OUNCE, 4)} = {digits(whole / G_PER_OUNCE)} oz")
    if litres == ONE_LITRE.default:
        lines.append("taken: volume = 1 L")
    gives = {key: each * share for key, share in held.items()}
    for key, share in held.items():
        mg, part = words.shown(lambda mg, part: mg * part / 100, each, share * 100)
        lines.append(f"{key} = {mg} mg/L × {part} % = {digits(each * share, 4)} mg/L")
    salt_results = {
        "salt_mg_per_l": Result(each, "mg/L", words.decimals(each, 4), "salt in a litre"),
        "grams": Result(whole, "g", words.decimals(whole, 4), f"{name} for {litres:g} L"),
        "ounces": Result(whole / G_PER_OUNCE, "oz", words.decimals(whole / G_PER_OUNCE), "the same in ounces"),
    }
    ordered = sorted(gives, key=lambda key: key != element)
    given = {
        f"gives_{key.casefold()}": Result(gives[key], "mg/L", words.decimals(gives[key], 4), f"{words.said(key)} given")
        for key in ordered
    }
    along = [f"{key} {number(gives[key], 1)}" for key in gives if key != element and key not in mixing.FORMS]
    says = [
        rest,
        warnings.for_ph([known.key] if known else []),
        far,
        f"{words.grams(whole)} of {name} for {litres:g} L.",
        which,
    ]
    says += [f"With it come {', '.join(along)} mg/L."] if along and element else []
    return Reckoned(
        results={**salt_results, **given} if target is not None else {**given, **salt_results},
        says=tuple(line for line in (*says, remark, warnings.small({name: whole})) if line),
        working=tuple(lines),
        source=f"mg/L = mg of salt per L × share; {words.EDIBLE}; shares: {_shares_from(known, bool(label))}",
        cautions=warnings.cautions([known.key] if known else []),
        do=ToDo(
            what=f"Weigh {words.grams(whole)} of {name} for {litres:g} L",
            who="adult",
            caution=warnings.job_caution([known.key] if known else []),
        )
        if target is not None
        else None,
    )


def _unclear(known: Salt | None, typed: str | None, label: Mapping[str, float]) -> list[str]:
    """Return the salt's key where its name alone does not say which one is meant, and no label does."""
    if known is None or label or any(sure in (typed or "").casefold() for sure in ("tetra", "4h2o", "4-h")):
        return []
    return [known.key]


def _shares_from(known: Salt | None, label: bool) -> str:  # noqa: FBT001
    if known is None:
        return "the label given"
    return f"the label given, the rest {known.source}" if label else known.source


def _each(
    element: str | None,
    target: float | None,
    held: Mapping[str, float],
    name: str,
    litres: float,
    per_litre: float | None,
    mass: float | None,
    stock: float | None,
    dose: float | None,
) -> tuple[float, list[str]]:
    """Return mg of salt in a litre and how it was found; raises ValueError unless exactly one way is given."""
    if (stock is None) != (dose is None):
        raise ValueError("a stock needs both: stock (g/L) and dose (mL for a litre)")
    ways = [one for one in (target, per_litre, mass, stock) if one is not None]
    if len(ways) != 1:
        raise ValueError("give one of: target (mg/L of the element), per_litre (mg of salt), mass (g), stock with dose")
    if target is not None:
        if element is None:
            raise ValueError("a target needs its element: of=N, of=Ca …")
        share = held[element]
        each = target / share
        (shown,) = words.shown(lambda part: target / part, share)
        return each, [
            f"{name}: {digits(share * 100, 4)} % {element}",
            f"salt = target ÷ share = {plainly(target)} mg/L ÷ {shown} = {digits(each, 4)} mg/L",
        ]
    if per_litre is not None:
        return per_litre, []
    if mass is not None:
        each = mass * 1000 / litres
        return each, [f"{plainly(mass)} g × 1000 ÷ {litres:g} L = {digits(each, 4)} mg/L of salt"]
    strong, poured = stock or 0.0, dose or 0.0
    each = strong * poured
    return each, [f"{plainly(strong)} g/L × {plainly(poured)} mL/L = {digits(each, 4)} mg/L of salt"]


def _label(element: str | None, percent: float | None, amounts: Mapping[str, float]) -> dict[str, float]:
    label = dict(words.as_element(name, value) for name, value in amounts.items())
    if percent is not None:
        if element is None:
            raise ValueError("percent needs its element: of=N, of=Ca …")
        label[element] = percent
    for name, value in label.items():
        within(f"{name} on the label", value, 0, 100, "%")
    return label


def _held(salt: str | None, label: Mapping[str, float]) -> tuple[Salt | None, dict[str, float], str]:
    """Return the salt, its shares by content, and a remark where label and salt do not match."""
    if salt is None:
        if not label:
            raise ValueError(
                "say which salt, or what its label holds: salt=potassium-nitrate, or percent=15.5 with of=N"
            )
        return None, {name: value / 100 for name, value in label.items() if value > 0}, ""
    one = mixing.of(salt)
    remark = ""
    if one.key == "calcium-nitrate" and (label.get("N", 0) > 14 or label.get("Ca", 0) > 18):
        one = mixing.of("calcium-nitrate-double")
        remark = "With that label it is the double salt of horticulture, not the tetrahydrate: some N is ammonium."
    pure = mixing.shares(one)
    for name, value in label.items():
        if value / 100 <= pure.get(name, 1.0) * 1.05:
            continue
        oxide = next((oxide for oxide, element in words.OXIDES.items() if element == name), "")
        held = f"{value:g} % is more {name} than pure {one.name} holds ({pure[name] * 100:.1f} %)"
        if oxide:
            raise ValueError(f"{held}: a label that counts {oxide} is written {oxide}={value:g}")
        remark = f"{held}: look at the label again."
    return one, mixing.shares(one, label), remark


RECKONINGS = (
    Reckoning(
        name="grams",
        subject="solution",
        title="Grams of one salt",
        about="How many grams of one salt give a wanted mg/L of a nutrient, or what an amount of it gives, and what "
        "else comes along.",
        fields=(OF, TARGET, SALT, ONE_LITRE, PERCENT, PER_LITRE, MASS, STOCK, DOSE),
        open=Open(
            says="what else the label says, in %, such as Ca=19 or P2O5=52",
            unit="%",
            find=words.percent,
            high=100,
            example="Ca=19",
        ),
        work=work_grams,
        example="of=N target=150 salt=calcium-nitrate-double volume=60",
        others=("single-salt", "weigh", "grams-for", "salt-for-target"),
    ),
)
