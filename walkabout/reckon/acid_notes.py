"""What is said beside a dose of acid or base: what it does to the feed, and what to think of first."""

from msgspec.structs import replace

from walkabout.growing import acid as of
from walkabout.growing.acid import Substance
from walkabout.growing.alkalinity import HOLDS_NO_PH
from walkabout.growing.titration import Dose, Reagent, dose
from walkabout.reckon.acid_made import MILD
from walkabout.reckon.ph_board import Pour
from walkabout.reckon.ph_tank import Tank
from walkabout.reckon.write import number

UNLIKELY = (
    "Measure the alkalinity of the tank itself first: an open tank hardly keeps so much at this pH, so that much less "
    "may be needed than the figure says."
)


def acid_notes(tank: Tank, pour: Pour, found: Dose, normality: float | None) -> list[str]:
    """What an acid does beside lowering the pH, and where the figure is on thin ice."""
    kind, notes = pour.kind, small_note(pour, found)
    if kind == "phosphoric" and found.equivalents > 1:
        phosphorus = number(of.feeds(kind, found.amount), 0)
        notes.append(
            f"It brings {phosphorus} mg/L of phosphorus where recipes want about 31: above 1 meq/L take nitric or "
            "sulfuric acid."
        )
    if kind == "citric":
        notes.append("Microbes eat citric acid in some days, and the pH comes back: for small corrections only.")
    if normality is not None and kind in ("phosphoric", "citric"):
        notes.append("N was taken as what counts at this pH. A label may count every hydrogen: better give mol/L or %.")
    if tank.caco3 < HOLDS_NO_PH and not tank.phosphorus:
        notes.append("This water hardly holds its pH: a few drops too many send it far down.")
    return notes


def small_note(pour: Pour, found: Dose) -> list[str]:
    """What is too little to be measured well, as it is told."""
    much = pour.much(found.amount)
    if pour.bottle is None:
        mild = f"make a solution of {MILD[pour.kind]:g} mol/L and work it out with strength={MILD[pour.kind]:g}"
        return [f"So little is hard to weigh: {mild}."] if 0 < much < 0.5 else []
    if pour.made and pour.made.much(found.amount * pour.volume) < 5:
        return ["So little is measured with a syringe of 1 mL."]
    little = pour.made is None and 0 < much < 2
    return ["So little is hard to measure: make it weaker first, with 'dilute-acid'."] if little else []


def target_note(tank: Tank) -> list[str]:
    """A pH that no tank of feed should have."""
    if tank.to < 5:
        return ["Below pH 5 roots suffer (general teaching): 5.5 to 6.5 suits most crops."]
    if tank.to > 6.5 and tank.to > tank.ph:
        why = "iron and other trace elements get scarce for the roots, and calcium phosphate drops out"
        return [f"Is pH {tank.to:g} meant? Above 6.5 {why} (general teaching): 5.5 to 6.5 suits most crops."]
    return []


def soft_note(tank: Tank, kind: Substance, reagent: Reagent, found: Dose) -> list[str]:
    """How much more it takes where the calcium that was taken for granted is not there."""
    if tank.calcium is not None or not reagent.pks or found.amount <= 0:
        return []
    soft = dose(replace(tank, calcium=0.0).water(), tank.to, reagent).amount / found.amount - 1
    if soft < 0.02:
        return []
    more = f"it takes up to {number(100 * soft, 0)} % more of {of.said(kind)}"
    return [f"Reckoned for water that was not softened. In softened water {more}: then give its calcium, as calcium=5."]
