"""Reckonings for handling acids and bases: making them weaker, and how dangerous they are."""

import math

from walkabout.growing import acid as of
from walkabout.growing import hazard
from walkabout.growing.elements import molar_mass
from walkabout.reckon import acid_bottle as held
from walkabout.reckon.acid_bottle import ml, poured
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
    from_: float | None, to: float, volume: float, acid: str | None, percent: float | None, density: float | None
) -> Reckoned:
    """Work out how much of a stronger solution makes a weaker one."""
    kind = held.known(acid, held.EVERY) if acid else None
    if percent is not None and kind is None:
        raise ValueError("percent needs the name of the acid: its mol/L depend on it")
    bottle = held.bottle(kind or "nitric", from_, percent, density)
    if bottle is None:
        raise ValueError("how strong is it now? Give 'from' in mol/L, or acid and percent")
    if to > bottle.mol:
        raise ValueError(
            f"{plainly(to)} mol/L is more than the {digits(bottle.mol)} mol/L there are: water only makes it weaker"
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
    burns = bottle.mol >= 0.5
    if kind:
        made = held.bottle(kind, to, None, None)
        if made and made.by_mass is not None:
            results["label"] = Result(hazard.danger(kind, made.by_mass), says="what comes out")
        cautions, burns = (*bottle.cautions(kind), *cautions), bottle.dangerous(kind)
    elif burns:
        cautions = (held.CORROSIVE, *cautions)
    first = f"Put about {poured(0.8 * volume)} of water into the vessel first"
    return Reckoned(
        results=results,
        working=(
            *bottle.lines,
            "c1 × V1 = c2 × V2, so V1 = c2 × V2 ÷ c1",
            f"V1 = {plainly(to)} mol/L × {plainly(volume)} mL ÷ {plainly(bottle.mol)} mol/L = {poured(strong)}",
            f"water: {plainly(volume)} − {poured(strong).removesuffix(' mL')} = {poured(water)}",
        ),
        source=f"mass balance; {held.HANDBOOK}" if percent is not None else "mass balance",
        says=(
            f"{first}, then stir {poured(strong)} of {name} slowly into it. Once cool, fill up to {poured(volume)}.",
            "Write on the bottle what is in it, its strength and the day.",
        ),
        cautions=cautions,
        do=ToDo(
            what=f"{first}, then stir in {poured(strong)} of {name} ({bottle.said}) and fill up to {poured(volume)}",
            who="adult",
            caution=f"{held.CORROSIVE} {held.ONE_LINE}" if burns else held.ONE_LINE,
        ),
    )


def work_label(substance: str, strength: float | None, percent: float | None) -> Reckoned:
    """Say which hazard label a solution carries, and who may handle it."""
    kind = held.known(substance, held.EVERY)
    if (strength is None) == (percent is None):
        raise ValueError("give the strength once: in mol/L, or in percent by mass")
    top = of.DENSITIES[kind][-1][0]
    lines: list[str] = []
    if percent is None:
        assert strength is not None
        if strength > of.strength(kind, top):
            most = digits(of.strength(kind, top))
            raise ValueError(f"no {of.said(kind)} solution is as strong as {plainly(strength)} mol/L: at most {most}")
        percent, mol = of.percent(kind, strength), strength
        lines.append(f"{plainly(strength)} mol/L × {number(molar_mass(of.FORMULAS[kind]), 2)} g/mol ÷ (10 × density) "
                     f"= {number(percent, 2)} %")  # fmt: skip
    else:
        mol = of.strength(kind, percent) if percent <= top else math.inf
    danger, limits = hazard.danger(kind, percent), hazard.LIMITS[kind]
    who = hazard.handled_by(kind, percent, mol)
    irritant, corrosive = hazard.limits_in_mol(kind)
    for name, share, moles in (("irritant", limits.irritant, irritant), ("corrosive", limits.corrosive, corrosive)):
        if share is not None and moles is not None:
            lines.append(f"{name} from {share:g} % = {digits(moles)} mol/L")
    lines.append(f"{number(percent, 2)} %: {danger}")
    says = [_DANGER[danger], _WHO[who]]
    if kind == "nitric" and percent > hazard.TOXIC_FROM:
        says.append("It is also toxic to breathe: in a fume cupboard only.")
    feeds_fire = (held.FEEDS_FIRE,) if hazard.oxidiser(kind, percent) else ()
    burns = (held.CORROSIVE,) if danger == "corrosive" else ()
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
        cautions=(held.IN_LESSON,) if who == "pupil" else (*burns, *feeds_fire, *held.care(kind)),
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
            Field(key="to", says="strength wanted", unit="mol/L", low=0.0001, high=40, others=("weak", "wanted", "c2")),
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
