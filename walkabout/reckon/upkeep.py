"""Reckonings of upkeep: when to change a solution, how much bleach cleans a tank."""

from walkabout.growing import upkeep
from walkabout.reckon.correcting_words import said, taken, worked
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import amount, plainly

RULE = (
    "no single authority: weekly for beginners (University of Florida, Grow Your Own Vegetables Without Soil); 7 to 14 "
    "days, or top-ups that add up to the tank (common practice); the sodium limit is assumed"
)
BATH = (
    "150 to 200 mg/L for up to 3 h, from a page that quotes an extension bulletin (its spoon of 6 % bleach in a gallon "
    "gives 234); strength as weight in volume, arithmetic"
)
CHANGING = (
    "An adult leads the change, because concentrates are mixed: gloves on, spills wiped up; the old solution goes into "
    "an indoor sink, never into an outdoor drain or a pond; local rules decide."
)
BLEACH = (
    "Bleach is an adult's work: gloves, goggles and open windows; never together with acid or another cleaner, which "
    "frees poisonous chlorine; rinse well. The label and the employer's risk assessment go first."
)


def work_change_due(
    volume: float,
    topped: tuple[float, ...],
    days: float,
    limit: float | None,
    share: float | None,
    sodium: float | None,
    sodium_limit: float | None,
) -> Reckoned:
    """Say whether a solution is due for a change."""
    allowed, part = 14.0 if limit is None else limit, 1.0 if share is None else share
    salt = 60.0 if sodium_limit is None else sodium_limit
    found = upkeep.change_due(volume, topped, days, allowed, share=part, sodium=sodium, sodium_limit=salt)
    most = volume * part
    lines = [taken("limit", allowed, "days")] if limit is None else []
    each = " + ".join(plainly(one) for one in topped)
    lines.append(
        f"top-ups: {f'{each} = ' if len(topped) > 1 else ''}{amount(found.topped, 'L')} of {amount(most, 'L')}"
    )
    lines.append(f"days: {plainly(days)} of {plainly(allowed)}")
    results = {
        "verdict": Result("due" if found.due else "not due", says="a change of the solution"),
        "topped": Result(found.topped, "L", 1, "top-ups in all"),
        "litres_left": Result(found.litres_left, "L", 1, "top-up left until the change"),
        "days_left": Result(found.days_left, "days", 0, "days left until the change"),
    }
    if sodium is not None:
        lines += [taken("sodium_limit", salt, "mg/L")] if sodium_limit is None else []
        lines.append(f"sodium: {plainly(sodium)} of {amount(salt, 'mg/L')}")
    if not found.due:
        left = (
            f"{said(found.litres_left)} of top-up or {amount(found.days_left, 'days')} are left, whichever ends first"
        )
        return Reckoned(results=results, says=(f"Not due: {left}.",), working=tuple(lines), source=RULE)
    why = {
        "top-ups": f"the top-ups of {said(found.topped)} have reached {said(most)}",
        "days": f"day {plainly(days)} has reached the limit of {amount(allowed, 'days')}",
        "sodium": f"sodium has reached its limit of {amount(salt, 'mg/L')}" if sodium is not None else "",
    }
    because = " and ".join(why[one] for one in found.reasons)
    results["reason"] = Result(" and ".join(found.reasons), says="because of")
    return Reckoned(
        results=results,
        says=(f"Due: {because}.", "Plants leave behind what they do not take, and only a change brings it down."),
        working=tuple(lines),
        source=RULE,
        cautions=(CHANGING,),
        do=ToDo(what=f"Change the solution of the tank ({said(volume)})", who="adult", caution=CHANGING),
    )


def work_bleach(percent: float, volume: float, to: float | None, added: float | None) -> Reckoned:
    """Work out the bleach for a cleaning bath, or the chlorine that some bleach gives."""
    if to is not None and added is not None:
        raise ValueError("give to (mg/L wanted) or added (mL of bleach), not both")
    if added is not None:
        strength = upkeep.chlorine(percent, added, volume)
        results = {
            "chlorine": Result(strength, "mg/L", 0, "chlorine in the bath"),
            "bleach": Result(added, "mL", 1, "bleach to measure out"),
        }
        lines = [
            f"1 mL holds {plainly(percent)} g ÷ 100 mL = {plainly(percent * 10)} mg",
            f"= {plainly(percent * 10)} × {plainly(added)} ÷ {plainly(volume)} = {amount(strength, 'mg/L', 0)}",
        ]
        says = f"{plainly(added)} mL of bleach in {said(volume)} give {amount(strength, 'mg/L', 0)} of chlorine."
    else:
        strength = 200.0 if to is None else to
        needed = upkeep.bleach(percent, strength, volume)
        results = {
            "bleach": Result(needed, "mL", 1, "bleach to measure out"),
            "chlorine": Result(strength, "mg/L", 0, "chlorine in the bath"),
        }
        lines = [taken("to", strength, "mg/L")] if to is None else []
        lines += [
            f"1 mL holds {plainly(percent)} g ÷ 100 mL = {plainly(percent * 10)} mg",
            f"bleach = {plainly(strength)} × {plainly(volume)} ÷ {plainly(percent * 10)} = {worked(needed, 'mL')}",
        ]
        says = (
            f"An adult measures {worked(needed, 'mL')} of bleach into {said(volume)} of water: "
            f"{amount(strength, 'mg/L', 0)}."
        )
    verdict = (
        "too weak"
        if strength < upkeep.WEAKEST_BATH
        else "in range"
        if strength <= upkeep.STRONGEST_BATH
        else "too strong"
    )
    results["verdict"] = Result(verdict, says="as a cleaning bath")
    return Reckoned(
        results=results,
        says=(
            says,
            {
                "too weak": "Weaker than the 150 to 200 mg/L that clean: it may leave germs alive.",
                "in range": "Leave it up to 3 hours, then rinse until nothing smells of chlorine.",
                "too strong": "Stronger than the 150 to 200 mg/L that clean: more is harder on hands, pumps and roots.",
            }[verdict],
            "Take the plants out first: roots suffer from 0.5 mg/L on.",
        ),
        working=tuple(lines),
        source=BATH + "; harm to roots: McGehee and Raudales 2023, HortTechnology 33(1):125-130",
        cautions=(BLEACH,),
        do=ToDo(what=f"Clean the empty tank with bleach ({said(volume)} of water)", who="adult", caution=BLEACH),
    )


RECKONINGS = (
    Reckoning(
        name="change-due",
        subject="solution",
        title="Is a change due",
        about="A solution is changed after some days, or when the top-ups add up to the tank, whichever is first.",
        fields=(
            Field(
                key="volume",
                says="what the tank holds",
                unit="L",
                low=0,
                high=1e6,
                starts="capacity",
                others=("v", "tank"),
            ),
            Field(
                key="topped",
                says="top-ups since the last change",
                unit="L",
                kind="numbers",
                low=0,
                high=1e6,
                others=("topups", "topup", "top_ups", "topped_up"),
                starts="topped since the change",
                note="each after a comma, or their sum",
            ),
            Field(
                key="days",
                says="days since the last change",
                unit="days",
                low=0,
                high=3660,
                others=("day", "age", "since"),
                starts="days since the change",
            ),
            Field(
                key="limit",
                says="days a solution may stay",
                unit="days",
                low=1,
                high=3660,
                needed=False,
                others=("limit_days", "change_days", "most_days"),
                starts="change days",
                note="14 unless given",
            ),
            Field(
                key="share",
                says="how much of the tank the top-ups may add up to",
                low=0.05,
                high=10,
                needed=False,
                others=("part", "topup_share"),
                note="1 unless given; some change at 0.5",
            ),
            Field(
                key="sodium",
                says="sodium in the tank",
                unit="mg/L",
                low=0,
                high=1e5,
                needed=False,
                others=("na",),
            ),
            Field(
                key="sodium_limit",
                says="sodium at which it is changed",
                unit="mg/L",
                low=1,
                high=1e5,
                needed=False,
                others=("na_limit",),
                note="60 unless given (assumed)",
            ),
        ),
        work=work_change_due,
        example="volume=60 topped=12,15,14,10 days=9",
        others=("solution-change", "change-solution", "due"),
    ),
    Reckoning(
        name="bleach",
        subject="solution",
        title="Bleach to clean a tank",
        about="How much bleach makes the weak bath that cleans an empty tank between crops.",
        fields=(
            Field(
                key="percent",
                says="strength of the bleach, weight in volume",
                unit="%",
                low=0.1,
                high=20,
                others=("bleach_percent", "strength", "bleach_percent_wv", "hypochlorite"),
                note="as on the label: 5 % is 5 g in 100 mL",
            ),
            Field(key="volume", says="water", unit="L", low=0, high=1e6, others=("v", "water", "water_l", "litres")),
            Field(
                key="to",
                says="chlorine wanted",
                unit="mg/L",
                low=1,
                high=5000,
                needed=False,
                others=("target", "wanted", "chlorine"),
                note="200 unless given",
            ),
            Field(
                key="added",
                says="bleach that goes in",
                unit="mL",
                low=0,
                high=1e6,
                needed=False,
                others=("ml", "bleach", "bleach_ml"),
                note="to learn what it gives",
            ),
        ),
        work=work_bleach,
        example="percent=5 volume=10",
        others=("chlorine-bath", "disinfect", "cleaning-bath"),
    ),
)
