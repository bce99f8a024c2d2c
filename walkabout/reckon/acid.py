"""Reckonings that move the pH: acid to lower it, base to raise it."""

from typing import TypedDict

from msgspec.structs import replace

from walkabout.growing import acid as of
from walkabout.growing.acid import Portion, Substance
from walkabout.growing.alkalinity import CACO3_PER_MEQ
from walkabout.growing.carbonate import mean_charge
from walkabout.growing.elements import WEIGHTS
from walkabout.growing.titration import ACIDS, BASES, dose
from walkabout.reckon import acid_bottle as held
from walkabout.reckon.acid_bottle import Bottle
from walkabout.reckon.acid_made import Made, from_bottle, from_powder
from walkabout.reckon.acid_notes import UNLIKELY, acid_notes, small_note, soft_note, target_note
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.ph_board import SOURCE, WEAK_SOURCE, Pour, board, figure, salts
from walkabout.reckon.ph_tank import ALKALINITY, CALCIUM, PH, PHOSPHORUS, TEMPERATURE, TO, VOLUME, Tank
from walkabout.reckon.write import amount, number


def work_acid(
    volume: float,
    ph: float,
    to: float,
    alkalinity: float,
    acid: str,
    strength: float | None,
    percent: float | None,
    density: float | None,
    normality: float | None,
    temperature: float | None,
    phosphorus: float | None,
    calcium: float | None,
) -> Reckoned:
    """Work out the acid that lowers the pH of closed water."""
    kind = held.known(acid)
    if to > ph:
        raise ValueError(f"pH {to:g} is above pH {ph:g}, and acid only lowers it: to raise it, use 'base'")
    tank, reagent = Tank(volume, ph, to, alkalinity, temperature, phosphorus, calcium), ACIDS[kind]
    start = tank.water()
    found, parts = dose(start, to, reagent), of.portions(start, ph, to, reagent)
    bottle = held.bottle(kind, strength, percent, density, normality, found.counts)
    if bottle is None and kind != "citric":
        raise ValueError(f"how strong is the {of.said(kind)}? Give strength in mol/L, or percent, or normality")
    pour = Pour(kind, volume, bottle, _made(kind, bottle, found.amount * volume))
    by_pk = mean_charge(to, reagent.pks) if reagent.pks else None
    counts = {"equivalents_per_mol": Result(reagent.strong, "eq/mol", 2, "what one mol counts for")}
    if by_pk is not None:
        counts = {
            "equivalents_used": Result(found.counts, "eq/mol", 2, "what one mol was taken to count for"),
            "equivalents_per_mol": Result(by_pk, "eq/mol", 2, "the same by its pK alone"),
        }
    results = pour.results(found, parts) | {
        "equivalents": Result(found.equivalents, "meq/L", 3, "acid needed"),
        "ideal": Result(tank.ideal(), "meq/L", 3, "by the carbonate formula alone"),
        "acid": Result(found.amount, "mmol/L", 3, "acid in each litre"),
        **counts,
        "alkalinity_left": Result(max(alkalinity - found.equivalents * CACO3_PER_MEQ, 0.0), "mg/L CaCO3", 1),
        **held.brought(kind, found.amount),
    }
    if bottle is None:
        hydrate = pour.much(found.amount) * of.CITRIC_MONOHYDRATE / pour.mass
        results["monohydrate"] = Result(hydrate, "g", 2, "to weigh if it is the monohydrate")
    working = [*board(tank), *salts(tank, found), *pour.lines(found, to, by_pk), *pour.portion_lines(parts)]
    notes = [*acid_notes(tank, pour, found, normality), *soft_note(tank, kind, reagent, found)]
    told = _told(tank, pour, parts, notes, (held.INTO_WATER, held.NO_BLEACH), held.ONE_LINE)
    return Reckoned(results=results, working=tuple(working), source=_source(kind, percent), **told)


def work_base(
    volume: float,
    ph: float,
    to: float,
    alkalinity: float,
    base: str,
    strength: float | None,
    percent: float | None,
    density: float | None,
    temperature: float | None,
    phosphorus: float | None,
    calcium: float | None,
) -> Reckoned:
    """Work out the base that raises the pH of closed water."""
    kind = held.known(base, held.BASES)
    if to < ph:
        raise ValueError(f"pH {to:g} is below pH {ph:g}, and a base only raises it: to lower it, use 'acid'")
    tank, reagent = Tank(volume, ph, to, alkalinity, temperature, phosphorus, calcium), BASES[kind]
    start = tank.water()
    found, parts = dose(start, to, reagent), of.portions(start, ph, to, reagent)
    bottle = held.bottle(kind, strength, percent, density)
    pour = Pour(kind, volume, bottle, _made(kind, bottle, found.amount * volume))
    brings = -reagent.strong * found.amount
    results = pour.results(found, parts) | {
        "equivalents": Result(found.equivalents, "meq/L", 3, "base needed"),
        "ideal": Result(-tank.ideal(), "meq/L", 3, "by the carbonate formula alone"),
        "base": Result(found.amount, "mmol/L", 3, "base in each litre"),
        "potassium": Result(brings * WEIGHTS["K"], "mg/L", 1, "potassium it brings"),
        "alkalinity_after": Result(alkalinity + brings * CACO3_PER_MEQ, "mg/L CaCO3", 1),
    }
    notes = small_note(pour, found)
    if brings > 1.5:
        notes.append(f"It brings {number(brings * WEIGHTS['K'], 0)} mg/L of potassium, which changes the feed.")
    if reagent.carbon:
        notes.append("It leaves alkalinity behind, which holds the pH steadier than hydroxide does.")
    if tank.too_much_dioxide():
        notes.append("Bubble air through it first: carbon dioxide leaves, and the pH climbs without any base.")
    working = [*board(tank), *salts(tank, found), *pour.lines(found, to, None), *pour.portion_lines(parts)]
    if parts:
        working.append(f"potassium: {figure(brings)} mmol/L × 39.10 = {number(brings * WEIGHTS['K'], 1)} mg/L")
    told = _told(tank, pour, parts, notes, (held.ALKALI, held.RINSE), held.ONE_LINE_BASE)
    return Reckoned(results=results, working=tuple(working), source=_source(kind, percent), **told)


def _made(kind: Substance, bottle: Bottle | None, millimoles: float) -> Made | None:
    if bottle is None:
        return from_powder(kind, millimoles)
    return from_bottle(kind, bottle, millimoles, strong=bottle.dangerous(kind))


def _source(kind: Substance, percent: float | None) -> str:
    return "; ".join(
        [SOURCE, *([WEAK_SOURCE[kind]] if kind in WEAK_SOURCE else []), *([held.HANDBOOK] if percent else [])]
    )


class _Told(TypedDict):
    says: tuple[str, ...]
    cautions: tuple[str, ...]
    do: ToDo | None


def _told(
    tank: Tank, pour: Pour, parts: tuple[Portion, ...], notes: list[str], cautions: tuple[str, ...], caution: str
) -> _Told:
    """Say how to go about it: with what, in which order, by whom."""
    if not parts:
        return {"says": (f"It is at pH {tank.to:g} already: add nothing.",), "cautions": (), "do": None}
    bottle, kind, first = pour.bottle, pour.kind, pour.write(parts[0].amount)
    says = [*target_note(tank), *pour.how(parts), *notes]
    what = f"Add {first} of {pour.of_it} to {amount(tank.volume, 'L')}, stir, wait 15 minutes and measure the pH"
    if pour.made:
        what = (
            f"{pour.made.job()}, then add {first} of it to {amount(tank.volume, 'L')}, stir, wait 15 minutes and "
            "measure the pH"
        )
    if tank.too_much_dioxide():
        says.insert(0, UNLIKELY)
        what = "Measure the alkalinity of the tank itself before anything is added to change its pH"
    if bottle is not None:
        says = [*bottle.asks, *says]
        strong = bottle.cautions(kind)
    else:
        strong = (held.SOLID[kind],) if kind in held.SOLID else ()
    return {"says": tuple(says), "cautions": (*strong, *cautions), "do": ToDo(what=what, who="adult", caution=caution)}


BASE = Field(
    key="base", says="which base", kind="text", words=held.BASES, starts="base", others=("kind", "which", "substance")
)
BASE_STRENGTH = replace(held.STRENGTH, starts="base strength", note="or with % behind it; weighed when left out")

RECKONINGS = (
    Reckoning(
        name="acid",
        subject="solution",
        title="Lower the pH",
        about="How much acid brings the pH down, from the alkalinity that works against it, and in which portions.",
        fields=(VOLUME, PH, TO, ALKALINITY, held.ACID, *held.BOTTLE, TEMPERATURE, PHOSPHORUS, CALCIUM),
        work=work_acid,
        example="volume=60 ph=7.8 to=6.0 alkalinity=100 acid=nitric strength=0.5",
        others=("ph-down", "acid-dose", "lower-ph", "acid-to-ph"),
    ),
    Reckoning(
        name="base",
        subject="solution",
        title="Raise the pH",
        about="How much potassium hydroxide or carbonate brings the pH up, in which portions, and the potassium in it.",
        fields=(VOLUME, PH, TO, ALKALINITY, BASE, BASE_STRENGTH, *held.BOTTLE[1:3], TEMPERATURE, PHOSPHORUS, CALCIUM),
        work=work_base,
        example="volume=60 ph=5.2 to=5.8 alkalinity=5 base=KOH strength=0.1",
        others=("ph-up", "alkali", "base-dose", "raise-ph"),
    ),
)
