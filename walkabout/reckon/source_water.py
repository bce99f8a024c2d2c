"""Reckonings of the water that a solution is made from: is it good enough, and what about its chlorine."""

from walkabout.growing import source_water as of
from walkabout.growing.alkalinity import CACO3_PER_MEQ, HOLDS_NO_PH
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import amount, number, plainly

WEIGHED = "ratio from molar masses; removal: carbon filter and thiosulfate, e-GRO, 17 March 2021"
CHEMICALS = (
    "An adult weighs and adds thiosulfate, by its safety sheet and the school's risk assessment. Chlorine or "
    "bleach and acid never meet: that makes a poisonous gas."
)
ACID = "Acid is an adult's work, in eye protection, by the school's risk assessment."
_IN_POTS = frozenset(("petunia", "petunias", "pot", "pots", "potting", "substrate"))
_TESTED_TO = of.RAFT_LOSS[-1][0]

_NAMES = {
    "ec": "EC",
    "ph": "pH",
    "alkalinity": "alkalinity",
    "na": "sodium",
    "cl": "chloride",
    "ca": "calcium",
    "mg": "magnesium",
    "so4": "sulfate",
    "b": "boron",
    "chlorine": "free chlorine",
}
_USE: dict[str, of.Use] = {
    **{use: use for use in of.USES},
    "recirculating": "closed",
    "run to waste": "open",
    "seedlings": "plugs",
    "plugs/seedlings": "plugs",
}
_REMEDY = {
    "ec": "Mix it with rain water or water from a reverse-osmosis filter.",
    "ph": "The alkalinity matters more than the pH: measure that too.",
    "alkalinity": "An adult can take alkalinity away with acid; rain water mixed in lowers it too.",
    "na": "Sodium gathers in a tank: change the solution more often, or mix in rain water.",
    "cl": "Chloride gathers in a tank: change the solution more often, or mix in rain water.",
    "ca": "Count its calcium as food in the recipe, and keep the pH down so that no scale forms.",
    "mg": "Count its magnesium as food in the recipe.",
    "so4": "Count its sulfur as food in the recipe, or mix in rain water.",
    "b": "Too much boron scorches leaf edges: mix in rain water.",
    "chlorine": "Take the chlorine out first: a carbon filter does it.",
}


def work_source_water(
    ec: float | None,
    ph: float | None,
    alkalinity: float | None,
    na: float | None,
    cl: float | None,
    ca: float | None,
    mg: float | None,
    so4: float | None,
    b: float | None,
    chlorine: float | None,
    use: str,
    ph_by: of.Whose,
) -> Reckoned:
    """Hold each figure of a water report against its limit."""
    values = (ec, ph, alkalinity, na, cl, ca, mg, so4, b, chlorine)
    given = {key: value for key, value in zip(_NAMES, values, strict=True) if value is not None}
    if not given:
        raise ValueError("give at least one figure of the water report: ec=, ph=, alkalinity=, na=, cl= …")
    meant = _USE[use]
    judged = [of.judge(key, value, meant, ph_by) for key, value in given.items()]
    bad = [one for one in judged if one.word in ("high", "low")]
    fair = [one for one in judged if one.word == "usable"]
    overall = "outside" if bad else "usable" if fair else "within all limits"
    results = {"verdict": Result(overall, says="this water"), "use": Result(meant, says="used for")}
    results |= {one.key: Result(one.word, says=one.name) for one in judged}
    if alkalinity is not None:
        results["alkalinity_caco3"] = Result(alkalinity, "mg/L CaCO3", 2, "alkalinity as calcium carbonate")
        results["alkalinity_meq"] = Result(alkalinity / CACO3_PER_MEQ, "meq/L", 3, "alkalinity as milliequivalents")
    if chlorine is not None and meant in ("closed", "open") and 0 < chlorine <= _TESTED_TO:
        results["shoot_loss"] = Result(of.raft_loss(chlorine), "%", 0, "lighter lettuce on rafts")
    return Reckoned(
        results=results,
        working=(f"held against the limits for use = {meant}", *(line for one in judged for line in _lines(one))),
        source="; ".join(of.SOURCES[short] for short in dict.fromkeys(name for one in judged for name in one.sources)),
        says=(_overall(bad, fair, meant), *(_sentence(one) for one in (*bad, *fair))),
        cautions=_cautions(bad),
    )


def _lines(one: of.Judged) -> tuple[str, ...]:
    value = plainly(one.value) if one.key == "ph" else amount(one.value, one.unit)
    lines = (f"{one.name} {value}: {one.word}", f"   {one.band} ({', '.join(one.sources)})")
    return (*lines, f"   {one.other}") if one.other else lines


def _overall(bad: list[of.Judged], fair: list[of.Judged], use: of.Use) -> str:
    if bad:
        return f"Not good as it is for this use ({use}): {_listed(bad)} {'is' if len(bad) == 1 else 'are'} outside."
    if fair:
        return f"It will do for this use ({use}), though {_listed(fair)} could be better."
    return f"Everything given is within its limits for this use ({use})."


def _sentence(one: of.Judged) -> str:
    value = plainly(one.value) if one.key == "ph" else amount(one.value, one.unit)
    if one.key == "alkalinity" and one.word == "low":
        little = "hardly holds its pH" if one.value < HOLDS_NO_PH else "holds its pH less well"
        return f"Alkalinity {value} is low: the water {little}. Measure the pH often."
    if one.key == "ph" and one.word == "low":
        return f"pH {value} is low: held against {one.band}. Measure the alkalinity too, and look for the reason."
    word = "not the best" if one.word == "usable" else "too high for plugs and seedlings" if _plug_ec(one) else one.word
    name = one.name if one.key in ("ph", "ec") else one.name.capitalize()
    return f"{name} {value} is {word} ({one.band}). {_REMEDY[one.key]}"


def _plug_ec(one: of.Judged) -> bool:
    return one.key == "ec" and one.word == "high" and f"{of.EC_LIMIT['plugs']:g}" in one.band


def _cautions(bad: list[of.Judged]) -> tuple[str, ...]:
    keys = {one.key for one in bad if one.word == "high"}
    return ((ACID,) if keys & {"alkalinity", "ph"} else ()) + ((CHEMICALS,) if "chlorine" in keys else ())


def _listed(some: list[of.Judged]) -> str:
    names = [one.name for one in some]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def work_chlorine(chlorine: float, volume: float | None, crop: str | None) -> Reckoned:
    """Work out what free chlorine in the water does to a crop, and what takes it out."""
    substrate = crop is not None and not _IN_POTS.isdisjoint(crop.casefold().replace("-", " ").split())
    dry, crystals = of.thiosulfate(chlorine), of.pentahydrate(chlorine)
    lines = []
    results: dict[str, Result] = {}
    if substrate:
        word = "harmful" if chlorine >= of.SUBSTRATE_HARM else "not harmful"
        lines.append(f"petunias in potting mix suffer from {of.SUBSTRATE_HARM:g} mg/L: {plainly(chlorine)} is {word}")
    else:
        word, more, shown = _on_rafts(chlorine)
        results, lines = shown, [*lines, *more]
    results = {**results, "verdict": Result(word, says="this water")}
    results["thiosulfate"] = Result(dry, "mg/L", 3, "sodium thiosulfate, anhydrous")
    results["pentahydrate"] = Result(crystals, "mg/L", 3, "the same as crystals, 5 H2O")
    results["thiosulfate_most"] = Result(of.thiosulfate_in_acid_water(chlorine), "mg/L", 2, "anhydrous, in acid water")
    ratio = of.THIOSULFATE_MASS / (4 * of.CHLORINE_MASS)
    lines += [
        "S2O3 + 4 Cl2 + 5 H2O → 2 SO4 + 8 Cl + 10 H: 1 thiosulfate for 4 Cl2",
        f"158.10 ÷ (4 × 70.906) = {number(ratio, 4)} mg for each mg of chlorine",
        f"{plainly(chlorine)} × {number(ratio, 4)} = {number(dry, 3)} mg/L anhydrous",
        f"as crystals × 248.18 ÷ 158.10 = {number(crystals, 3)} mg/L",
    ]
    if volume is not None:
        dry_g, crystals_g = dry * volume / 1000, crystals * volume / 1000
        results["thiosulfate_g"] = Result(dry_g, "g", 3, "anhydrous, for the whole volume")
        results["pentahydrate_g"] = Result(crystals_g, "g", 3, "as crystals, for the whole volume")
        lines.append(f"{number(dry, 3)} mg/L × {plainly(volume)} L ÷ 1000 = {number(dry_g, 3)} g anhydrous")
        lines.append(f"{number(crystals, 3)} mg/L × {plainly(volume)} L ÷ 1000 = {number(crystals_g, 3)} g crystals")
    harm = word in ("harmful", "not tried")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{of.SOURCES['petunia article' if substrate else 'raft trial']}; {WEIGHED}",
        says=_chlorine_says(chlorine, word, crop, substrate=substrate),
        cautions=(CHEMICALS,) if chlorine > 0 else (),
        do=ToDo(
            what="Take the chlorine out of the water before it goes into the tank: carbon filter or thiosulfate",
            who="adult",
            caution=CHEMICALS,
        )
        if harm and chlorine > 0
        else None,
    )


def _on_rafts(chlorine: float) -> tuple[str, list[str], dict[str, Result]]:
    tried = ", ".join(f"{loss:g} at {dose:g}" for dose, loss in of.RAFT_LOSS[1:])
    lines = [f"raft lettuce lighter, % at mg/L: {tried}"]
    if chlorine > _TESTED_TO:
        return "harmful", [*lines, f"{plainly(chlorine)} mg/L is beyond what was tried: more than 92 % lighter"], {}
    loss = of.raft_loss(chlorine)
    lines.append(f"at {plainly(chlorine)} mg/L, on the straight line between: {number(loss, 0)} % lighter")
    word = "none" if chlorine == 0 else "not tried" if chlorine < of.RAFT_LOSS[1][0] else "harmful"
    return word, lines, {"shoot_loss": Result(loss, "%", 0, "lighter lettuce on rafts")}


def _chlorine_says(chlorine: float, word: str, crop: str | None, *, substrate: bool) -> tuple[str, ...]:
    if chlorine == 0:
        return ("No chlorine: nothing to take out.",)
    out = (
        "A carbon filter takes chlorine out; so does a little sodium thiosulfate.",
        "Standing open for a day or two lets free chlorine go (common practice), but not chloramine: ask the supplier.",
        "Acid water can need up to eight times as much thiosulfate: measure the chlorine again afterwards.",
    )
    if substrate:
        first = "Yellow leaves are to be expected." if word == "harmful" else "Potting mix bears this much."
        return (first, *out)
    if word == "not tried":
        first = "Less than the lowest dose tried: the figure is a guess. Take the chlorine out to be safe."
    elif chlorine > _TESTED_TO:
        first = "Harmful: more than was ever tried, and at 4 mg/L lettuce was 92 % lighter. Do not use it as it is."
    else:
        loss = number(of.raft_loss(chlorine), 0)
        first = f"Harmful: lettuce on rafts stays about {loss} % lighter. Do not use it as it is."
        first += " From 1 mg/L it shows within 3 days." if chlorine >= 1 else ""
    lettuce = crop is None or any(word in crop.casefold() for word in ("lettuce", "raft", "rex"))
    other = () if lettuce else (f"Measured on lettuce; for {crop} no figure was found: take it as a warning.",)
    return (first, *other, *out)


def _mg(key: str, *others: str, high: float = 5000) -> Field:
    starts = f"water {_NAMES[key]}" if key in ("na", "cl", "ca", "mg") else ""
    says = _NAMES[key]
    return Field(key=key, says=says, unit="mg/L", low=0, high=high, needed=False, others=others, starts=starts)


RECKONINGS = (
    Reckoning(
        name="source-water",
        subject="water",
        title="Is the water good enough",
        about="Holds the figures of a water report against what plants bear. Give what you have; one is enough.",
        fields=(
            Field(
                key="ec", says="EC", unit="mS/cm", low=0, high=20, needed=False, others=("water_ec",), starts="water EC"
            ),
            Field(
                key="ph", says="pH", unit="pH", low=0, high=14, needed=False, others=("water_ph",), starts="water pH"
            ),
            Field(
                key="alkalinity",
                says="alkalinity",
                unit="mg/L CaCO3",
                low=0,
                high=5000,
                needed=False,
                others=("alk", "caco3", "water_alkalinity"),
                starts="water alkalinity",
            ),
            _mg("na", "sodium"),
            _mg("cl", "chloride"),
            _mg("ca", "calcium"),
            _mg("mg", "magnesium"),
            _mg("so4", "sulfate", "sulphate"),
            _mg("b", "boron", high=100),
            _mg("chlorine", "free_chlorine", "cl2", high=100),
            Field(
                key="use",
                says="what it is used for",
                kind="word",
                words=tuple(_USE),
                default="closed",
                others=("for", "system", "container"),
                note="closed: the solution goes round; open: it runs away; plugs, or pots by their size",
            ),
            Field(
                key="ph_by",
                says="whose word on the pH of water",
                kind="word",
                words=("Dole", "Purdue"),
                default="Dole",
                note="Dole 5.5 to 6.8, Purdue 5.0 to 7.0",
            ),
        ),
        work=work_source_water,
        example="ec=0.45 na=35 cl=60 alkalinity=60",
        others=("water-report", "water-quality", "water-limits", "raw-water"),
    ),
    Reckoning(
        name="chlorine",
        subject="water",
        title="Chlorine in the water",
        about="What the chlorine of tap water does to roots standing in it, and how much thiosulfate takes it out.",
        fields=(
            Field(
                key="chlorine",
                says="free chlorine in the water",
                unit="mg/L",
                low=0,
                high=100,
                others=("cl2", "free_chlorine", "amount", "chlorine_mg_l"),
            ),
            Field(
                key="volume",
                says="water to treat",
                unit="L",
                low=0,
                high=1e6,
                needed=False,
                others=("v", "litres", "tank", "water"),
                starts="litres",
            ),
            Field(
                key="crop",
                says="crop",
                kind="text",
                needed=False,
                others=("plant",),
                note="raft lettuce unless given; petunia stands for plants in potting mix",
            ),
        ),
        work=work_chlorine,
        example="chlorine=1 volume=60",
        others=("dechlorinate", "thiosulfate", "free-chlorine"),
    ),
)
