"""Reckonings of the salts: what is in one, and which ones there are."""

from walkabout.growing import concentration
from walkabout.growing import salts as of
from walkabout.growing.elements import NAMES, WEIGHTS, counts
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import digits, number, plainly

WEIGHED = "standard atomic weights of IUPAC (abridged, from memory)"
TANKS: dict[str, str] = {
    "calcium": "tank with calcium",
    "sulfate": "tank without calcium",
    "phosphate": "tank without calcium",
    "chelate": "tank with calcium",
    "either": "either tank",
    "alone": "no stock tank",
}
_WHY: dict[str, str] = {
    "calcium": "Keep it out of the stock tank with sulfates and phosphates: calcium makes a crust with them.",
    "sulfate": "Keep it out of the stock tank with calcium: together they make gypsum, which drops out.",
    "phosphate": "Keep it out of the stock tank with calcium: together they drop out as calcium phosphate.",
    "chelate": "It usually goes into the stock tank with calcium.",
    "either": "It may go into either stock tank.",
    "alone": "It goes into no stock tank.",
}
_UNKNOWN = "Not in the table here: an adult reads its safety data sheet; the school's risk assessment decides."
_COMPAT = "stock tanks: extension teaching (Mattson 2018, e-GRO Edible Alert 3(5))"


def work_salt(name: str, element: str | None) -> Reckoned:
    """Say what a salt holds."""
    salt = of.load().known(name)
    shown = {"molar_mass": Result(salt.molar_mass, "g/mol", 2, "molar mass")} | _held(salt)
    if element is not None:
        symbol = concentration.species(element).name
        if symbol.casefold() not in shown:
            raise ValueError(f"{salt.name} holds no {symbol}: it has {', '.join(salt.elements) or 'no nutrient'}")
        shown = {symbol.casefold(): shown[symbol.casefold()], **shown}
    if salt.solubility is not None:
        shown["solubility"] = Result(salt.solubility, "g/L", 0 if salt.solubility >= 10 else 3, "solubility at 20 °C")
    listed = bool(of.load().find(name))
    if listed:
        shown["tank"] = Result(TANKS[salt.with_], says="goes into")
    shown["formula"] = Result(salt.formula)
    inside = " and ".join(f"{number(part * 100, 1)} g {symbol}" for symbol, part in salt.elements.items())
    says = [f"100 g of {salt.name} hold {inside or 'no nutrient'}."]
    says += [_WHY[salt.with_]] if listed else []
    says += [salt.note] if salt.note else []
    if salt.label:
        says.append("These are figures of a usual label: what stands on your bag wins.")
    if salt.solubility is not None:
        says.append("Make a stock much weaker than it could dissolve: cold nights and other salts lower the limit.")
    sources = [salt.source if salt.label else f"formula, {WEIGHED}"]
    sources += [f"solubility: {salt.solubility_source}"] if salt.solubility is not None else []
    return Reckoned(
        results=shown,
        says=tuple(says),
        working=_label_working(salt) if salt.label else _formula_working(salt),
        cautions=(salt.caution or _UNKNOWN,) if salt.caution or not listed else (),
        source="; ".join([*sources, *([_COMPAT] if listed else [])]),
    )


def work_salts(element: str | None) -> Reckoned:
    """List the salts of the table, or those that bring an element, the richest first."""
    table = tuple(of.load())
    if element is None:
        return Reckoned(
            results={salt.key: Result(salt.formula, says=salt.name) for salt in table},
            says=("To see what is in one of them, ask for it by name or formula.",),
            working=(f"{len(table)} salts and label products, in the order of the table",),
            source=f"formulas; {WEIGHED}",
        )
    symbol = concentration.species(element).name
    holding = sorted((salt for salt in table if salt.elements.get(symbol)), key=lambda salt: -salt.elements[symbol])
    if not holding:
        raise ValueError(f"no salt of the table brings {symbol}")
    best = holding[0]
    called = NAMES.get(symbol, symbol)
    return Reckoned(
        results={salt.key: Result(salt.elements[symbol] * 100, "%", 2, salt.name) for salt in holding},
        says=(
            f"{len(holding)} of them bring {called}; choose by what else each brings and by how it dissolves.",
            "What stands on a bag wins over this table.",
        ),
        working=(
            f"% {symbol} = 100 × atoms × {plainly(WEIGHTS[symbol])} ÷ molar mass, or as the label says",
            *_share(best, symbol),
        ),
        source=f"formulas, {WEIGHED}; label products: usual labels",
    )


def _held(salt: of.Salt) -> dict[str, Result]:
    """Return the per cents of elements, of the forms of nitrogen, and of the oxides of a label."""
    found = {
        symbol.casefold(): Result(part * 100, "%", 2, NAMES.get(symbol, symbol))
        for symbol, part in salt.elements.items()
    }
    forms = (("nitrate", salt.nitrate_n), ("ammonium", salt.ammonium_n), ("urea", salt.urea_n))
    for form, part in forms:
        if part:
            found[f"n_{form}"] = Result(part * 100, "%", 2, f"nitrogen as {form}")
    for symbol, part in salt.elements.items():
        if symbol in ("P", "K", "Ca", "Mg", "S"):
            oxide = concentration.species(concentration.oxide_of(symbol))
            share = part * concentration.mass_ratio(concentration.species(symbol), oxide)
            found[oxide.name.casefold()] = Result(share * 100, "%", 2, f"{symbol} as {oxide.name}")
    return found


def _formula_working(salt: of.Salt) -> tuple[str, ...]:
    atoms = counts(salt.formula)
    parts = " + ".join(
        f"{f'{plainly(count)} × ' if count != 1 else ''}{number(WEIGHTS[symbol], 2)}" for symbol, count in atoms.items()
    )
    lines = [f"{salt.formula}: {', '.join(f'{plainly(count)} {symbol}' for symbol, count in atoms.items())}"]
    lines.append(f"M = {parts} = {number(salt.molar_mass, 2)} g/mol")
    for symbol in salt.elements:
        lines += _share(salt, symbol)
    return tuple(lines)


def _share(salt: of.Salt, symbol: str) -> tuple[str, ...]:
    if salt.label:
        return (f"{salt.key}: {number(salt.elements[symbol] * 100, 1)} % {symbol} on the label",)
    count = counts(salt.formula)[symbol]
    mass = f"{plainly(count)} × {digits(WEIGHTS[symbol], 5)} ÷ {number(salt.molar_mass, 2)}"
    return (f"% {symbol} = 100 × {mass} = {number(salt.elements[symbol] * 100, 2)} %",)


def _label_working(salt: of.Salt) -> tuple[str, ...]:
    pure = of.from_formula(salt.formula)
    lines = [f"taken: label = {', '.join(f'{plainly(part * 100)} % {one}' for one, part in salt.elements.items())}"]
    same = ", ".join(f"{number(pure.elements[one] * 100, 2)} % {one}" for one in salt.elements)
    lines.append(f"the pure salt {salt.formula} would hold {same}")
    return tuple(lines)


ELEMENT = Field(
    key="element",
    says="element to look at",
    kind="text",
    needed=False,
    others=("nutrient", "of"),
    note="symbol or name: Ca, calcium",
)

RECKONINGS = (
    Reckoning(
        name="salt",
        subject="solution",
        title="What is in a salt",
        about="How much of each nutrient a salt holds, how well it dissolves, and which stock tank it goes into.",
        fields=(
            Field(
                key="name",
                says="salt",
                kind="text",
                others=("salt", "formula"),
                note="name or formula: KNO3, Epsom salt, Ca(NO3)2.4H2O",
            ),
            ELEMENT,
        ),
        work=work_salt,
        example="name=KNO3",
        others=("molar-mass", "composition", "salt-composition", "fertiliser", "fertilizer"),
    ),
    Reckoning(
        name="salts",
        subject="solution",
        title="The salts there are",
        about="All salts that are known here, or those that bring one nutrient, the richest first.",
        fields=(ELEMENT,),
        work=work_salts,
        example="",
        others=("salt-table", "fertilisers", "fertilizers"),
    ),
)
