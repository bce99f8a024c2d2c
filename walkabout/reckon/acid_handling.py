"""Reckonings for handling acids and bases: making them weaker, and how dangerous they are."""

import math

from walkabout.growing import acid as of
from walkabout.growing import hazard
from walkabout.growing.acid import Substance
from walkabout.growing.elements import molar_mass
from walkabout.reckon import acid_bottle as held
from walkabout.reckon.acid_bottle import Bottle, ml, poured
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import digits, number, plainly

SUBSTANCE = Field(
    key="substance",
    says="which acid or base",
    kind="text",
    words=held.EVERY,
    starts="acid",
    others=("acid", "base", "solution", "kind"),
)


def work_dilute(
    from_: float | None,
    to: float | None,
    to_percent: float | None,
    volume: float,
    acid: str | None,
    percent: float | None,
    density: float | None,
) -> Reckoned:
    """Work out how much of a stronger solution makes a weaker one."""
    kind = held.known(acid, held.EVERY) if acid else None
    if kind is None and (percent is not None or to_percent is not None):
        raise ValueError("percent needs the name of the acid: its mol/L depend on it")
    bottle = held.bottle(kind, from_, percent, density)
    if bottle is None:
        raise ValueError("how strong is it now? Give 'from' in mol/L, or acid and percent")
    to, wanted = _wanted(kind, to, to_percent)
    if to > bottle.mol:
        raise ValueError(
            f"{digits(to)} mol/L is more than the {digits(bottle.mol)} mol/L there are: water only makes it weaker"
        )
    strong = of.concentrate(bottle.mol, to, volume)
    water = volume - strong
    name = of.said(kind) if kind else "acid"
    results = {
        "concentrate": ml(strong, "of the strong one"),
        "water": ml(water, "about; fill up to the mark"),
        "times": Result(bottle.mol / to, "", 1, "how many times weaker"),
    }
    cautions: tuple[str, ...] = held.care(kind) if kind else (held.INTO_WATER, held.NO_BLEACH)
    burns, hot = bottle.mol >= 0.5, kind is not None and bottle.hot(kind)
    if kind:
        results["label"] = Result(hazard.danger_of(kind, to), says="what comes out")
        cautions, burns = (*bottle.cautions(kind), *cautions), bottle.dangerous(kind)
    elif burns:
        unnamed = (held.UNNAMED,) if bottle.mol >= held.UNNAMED_FROM else ()
        cautions = (held.CORROSIVE, *unnamed, *cautions)
    vessel = "a heatproof glass that stands in cold water" if hot else "the vessel"
    first = f"Put about {poured(0.8 * volume)} of cold water into {vessel} first"
    slowly = "slowly, a little at a time," if hot else "slowly"
    return Reckoned(
        results=results,
        working=(
            *bottle.lines,
            *wanted,
            "c1 × V1 = c2 × V2, so V1 = c2 × V2 ÷ c1",
            f"V1 = {plainly(to)} mol/L × {plainly(volume)} mL ÷ {plainly(bottle.mol)} mol/L = {poured(strong)}",
            f"water: {plainly(volume)} − {poured(strong).removesuffix(' mL')} = {poured(water)}",
        ),
        source="mass balance" if percent is None and to_percent is None else f"mass balance; {held.HANDBOOK}",
        says=(
            *bottle.asks,
            f"{first}, then stir {poured(strong)} of {name} {slowly} into it. Once cool, fill up to {poured(volume)}.",
            "Write on the bottle what is in it, its strength and the day.",
        ),
        cautions=cautions,
        do=ToDo(
            what=f"{first}, then stir in {poured(strong)} of {name} ({bottle.said}) and fill up to {poured(volume)}",
            who="adult",
            caution=f"{held.CORROSIVE} {held.ONE_LINE}" if burns else held.ONE_LINE,
        ),
    )


def _wanted(kind: Substance | None, to: float | None, to_percent: float | None) -> tuple[float, tuple[str, ...]]:
    """Return the strength wanted in mol/L, and how it was found; raises ValueError unless it is given once."""
    if (to is None) == (to_percent is None):
        raise ValueError(
            "how strong shall it become? Give 'to' in mol/L, or 'to_percent' in percent by mass, one of them"
        )
    if to is not None:
        return to, ()
    assert kind is not None
    assert to_percent is not None
    weight, mass = of.density(kind, to_percent), molar_mass(of.FORMULAS[kind])
    mol = of.strength(kind, to_percent, weight)
    sum_ = f"{plainly(to_percent)} % × {number(weight, 3)} g/mL × 10 ÷ {number(mass, 2)} g/mol"
    return mol, (f"wanted: {sum_} = {plainly(mol)} mol/L",)


def work_label(substance: str, strength: float | None, percent: float | None) -> Reckoned:
    """Say which hazard label a solution carries, and who may handle it."""
    kind = held.known(substance, held.EVERY)
    if (strength is None) == (percent is None):
        raise ValueError("give the strength once: in mol/L, or in percent by mass")
    top = of.DENSITIES[kind][-1][0]
    lines: list[str] = []
    if percent is None:
        assert strength is not None
        percent, mol = of.percent(kind, strength), strength
        lines.append(f"{plainly(strength)} mol/L × {number(molar_mass(of.FORMULAS[kind]), 2)} g/mol ÷ (10 × density) "
                     f"= {number(percent, 2)} %")  # fmt: skip
    else:
        mol = of.strength(kind, percent) if percent <= top else math.inf
    danger, limits = hazard.danger(kind, percent, mol), hazard.LIMITS[kind]
    who = hazard.handled_by(kind, percent, mol)
    exact = hazard.limits_in_mol(kind)
    named = (("irritant", limits.irritant, limits.irritant_mol, exact[0]),
             ("corrosive", limits.corrosive, limits.corrosive_mol, exact[1]))  # fmt: skip
    for name, share, listed, moles in named:
        if share is not None and moles is not None:
            school = f"; lists for schools: {listed:g} mol/L" if listed is not None else ""
            lines.append(f"{name} from {share:g} % = {digits(moles)} mol/L{school}")
    by_mol = f", {plainly(mol)} mol/L" if math.isfinite(mol) else ""
    lines.append(f"{number(percent, 2)} %{by_mol}: {danger}{', by the stricter limit' if by_mol else ''}")
    says = [_DANGER[danger], _WHO[who], *held.is_it_meant(percent if strength is None else None)]
    if kind == "nitric" and percent > hazard.TOXIC_FROM:
        says.append("It is also toxic to breathe: in a fume cupboard only.")
    strong = Bottle(mol, percent, "", ()).cautions(kind)
    results = {
        "label": Result(danger, says="hazard to skin and eyes"),
        "who": Result(who, says="who may handle it at least"),
        "percent": Result(percent, "%", 2, "by mass"),
    }
    if math.isfinite(mol):
        results["strength"] = Result(mol, "mol/L", 3)
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{limits.source}; who may handle it: common practice in schools",
        says=tuple(says),
        cautions=(held.IN_LESSON,) if who == "pupil" else (*strong, *held.care(kind)),
    )


_DANGER = {
    "no hazard label": "So weak that CLP asks for no hazard label for skin and eyes; eye protection is still worn.",
    "irritant": "It irritates skin and eyes: goggles and gloves.",
    "corrosive": "It burns skin and eyes: goggles, gloves and coat, and a teacher or technician only.",
}
_WHO = {
    "pupil": "Pupils may handle it in a lesson, with eye protection and a teacher beside them, if the employer's risk "
    "assessment agrees; correcting a tank stays with an adult.",
    "adult": "Too strong for pupils: an adult handles it, as the employer's risk assessment and local codes say.",
}

RECKONINGS = (
    Reckoning(
        name="dilute-acid",
        subject="solution",
        title="Making a weaker acid",
        about="How much of a strong acid or base makes a weaker one, and in which order it is done.",
        fields=(
            Field(
                key="from",
                says="strength now",
                unit="mol/L",
                low=0.0001,
                high=40,
                needed=False,
                others=("strong", "strength", "c1"),
                note="or acid and percent",
            ),
            Field(
                key="to",
                says="strength wanted",
                unit="mol/L",
                low=0.0001,
                high=40,
                needed=False,
                others=("weak", "wanted", "c2"),
                note="or with % behind it",
            ),
            Field(
                key="to_percent",
                says="strength wanted in percent by mass",
                unit="%",
                low=0.001,
                high=100,
                needed=False,
                others=("wanted_percent", "percent_wanted", "weak_percent", "to_w", "w2"),
                note="in the place of the strength wanted",
            ),
            Field(key="volume", says="how much is wanted", unit="mL", low=0.1, high=1e6, others=("v", "v2", "make")),
            Field(
                key="acid",
                says="which acid or base",
                kind="text",
                words=held.EVERY,
                needed=False,
                starts="acid",
                others=("substance", "base", "kind"),
            ),
            held.PERCENT,
            held.DENSITY,
        ),
        work=work_dilute,
        example="acid=phosphoric from=14.6 to=1.0 volume=500",
        others=("dilute-base", "weaker-acid"),
    ),
    Reckoning(
        name="label",
        subject="solution",
        title="Label of a solution",
        about="Whether a solution of acid or base is unlabelled, irritant or corrosive, and who may handle it.",
        fields=(SUBSTANCE, held.STRENGTH, held.PERCENT),
        work=work_label,
        example="substance=sulfuric strength=1.0",
        others=("hazard", "hazard-label", "clp"),
    ),
)
