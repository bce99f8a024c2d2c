"""Reckonings of acid against alkalinity, where no pH is asked for."""

from walkabout.growing import acid as of
from walkabout.growing.alkalinity import CACO3_PER_MEQ
from walkabout.growing.units import ML_PER_FLUID_OUNCE
from walkabout.reckon import acid_bottle as held
from walkabout.reckon.acid_bottle import ml, poured
from walkabout.reckon.acid_counted import ACID, Counted, counted
from walkabout.reckon.acid_made import from_bottle
from walkabout.reckon.acid_rate import by_rate
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.ph_board import figure
from walkabout.reckon.write import amount, digits, number, plainly

EXTENSION = "UMass Extension, Adjusting Alkalinity with Acids: about 80 % of the alkalinity gone is about pH 5.8"

VOLUME = Field(
    key="volume", says="water to treat", unit="L", low=0.01, high=1e7, starts="litres", others=("litres", "v", "water")
)
ALKALINITY = Field(
    key="alkalinity",
    says="alkalinity of the water",
    unit="mg/L CaCO3",
    low=0,
    high=1000,
    starts="water alkalinity",
    others=("alk", "kh", "caco3", "from"),
)


def work_neutralise(
    volume: float,
    alkalinity: float,
    to: float | None,
    share: float | None,
    acid: str | None,
    strength: float | None,
    percent: float | None,
    density: float | None,
    normality: float | None,
    rate: float | None,
) -> Reckoned:
    """Work out the acid that takes alkalinity out."""
    removed, lines = _removed(alkalinity, to, share)
    if rate is not None:
        if any(one is not None for one in (strength, percent, density, normality)):
            raise ValueError("give the strength or the rate from a table, not both")
        return by_rate(volume, removed, lines, rate)
    used = counted(acid, strength, percent, density, normality)
    meq = of.to_neutralise(alkalinity, alkalinity - removed)
    pour = of.to_pour(meq, volume, used.eq)
    lines += [f"{plainly(removed)} mg/L ÷ 50.04 = {figure(meq)} meq/L", *used.lines()]
    lines.append(f"{figure(meq)} meq/L × {plainly(volume)} L ÷ {plainly(used.eq)} eq/L = {plainly(pour)} mL")
    lines.append(f"{plainly(pour)} mL ÷ 29.57 = {digits(pour / ML_PER_FLUID_OUNCE)} US fl oz")
    return _poured(volume, alkalinity, removed, used, pour, meq, lines)


def _removed(alkalinity: float, to: float | None, share: float | None) -> tuple[float, list[str]]:
    if to is not None and share is not None:
        raise ValueError("give the alkalinity to leave or the share to take out, not both")
    if to is not None:
        if to > alkalinity:
            raise ValueError(
                f"{to:g} mg/L is more than the {alkalinity:g} mg/L there are: acid only takes alkalinity out"
            )
        return alkalinity - to, [
            f"to take out: {plainly(alkalinity)} − {plainly(to)} = {plainly(alkalinity - to)} mg/L"
        ]
    if share is None:
        raise ValueError("how much is to go? Give the alkalinity to leave as 'to', or a share such as share=80%")
    lines = []
    if 0 < share <= 1:
        lines.append(f"taken: a share of {plainly(share)} = {plainly(share * 100)} %")
        share *= 100
    removed = alkalinity * share / 100
    return removed, [
        *lines,
        f"to take out: {plainly(alkalinity)} mg/L × {plainly(share)} ÷ 100 = {plainly(removed)} mg/L",
    ]


def _poured(
    volume: float, alkalinity: float, removed: float, used: Counted, pour: float, meq: float, lines: list[str]
) -> Reckoned:
    made = from_bottle(used.kind, used.bottle, pour * used.bottle.mol, strong=used.strong)
    goes, tank = 0.8 * pour, amount(volume, "L")
    what = f"Add {poured(goes)} of {used.said} to {tank} of water, stir and measure the pH"
    says = [f"It takes {poured(pour)} of {used.said}. Add four fifths first, stir, and measure the pH before the rest."]
    doses = {"volume": ml(pour, "to pour in all"), "first_dose": ml(goes, "to pour first")}
    if made:
        whole = made.much(pour * used.bottle.mol)
        goes = 0.8 * whole
        lines = [*lines, *made.lines]
        what = f"{made.job()}, then add {poured(goes)} of it to {tank} of water, stir and measure the pH"
        then = f"Then add {poured(goes)} of that, stir, and measure the pH before the rest."
        says = [made.order(), f"{then} It takes {poured(whole)} of it in all."]
        doses = {
            "volume": ml(pour, "in all, as it is in the bottle"),
            **made.results(),
            "dose": ml(whole, f"of the {made.said}, in all"),
            "first_dose": ml(goes, f"of the {made.said}, to pour first"),
        }
    if alkalinity and removed / alkalinity > 0.9:
        says.append("With nearly all the alkalinity gone nothing holds the pH: a little too much sends it far down.")
    if used.kind == "phosphoric" and meq > 1:
        says.append("Above 1 meq/L phosphoric acid brings too much phosphorus: take nitric or sulfuric acid.")
    caution = f"{held.CORROSIVE} {held.ONE_LINE}" if used.strong else held.ONE_LINE
    return Reckoned(
        results={
            **doses,
            "equivalents": Result(meq, "meq/L", 3, "acid needed"),
            "fluid_ounces": Result(pour / ML_PER_FLUID_OUNCE, "US fl oz", 2, "the volume in US fluid ounces"),
            "removed": Result(removed, "mg/L CaCO3", 1, "alkalinity taken out"),
            "left": Result(alkalinity - removed, "mg/L CaCO3", 1, "alkalinity left"),
            **used.brings(meq),
        },
        working=tuple(lines),
        source=f"{used.source}; {EXTENSION}; 80 % first: common practice",
        says=(*used.bottle.asks, *says),
        cautions=used.cautions,
        do=ToDo(what=what, who="adult", caution=caution) if pour > 0 else None,
    )


def work_effect(
    dose: float,
    volume: float,
    acid: str | None,
    strength: float | None,
    percent: float | None,
    density: float | None,
    normality: float | None,
    alkalinity: float | None,
) -> Reckoned:
    """Work out what a dose of acid takes out and brings in."""
    used = counted(acid, strength, percent, density, normality)
    removed = of.neutralised(dose, used.eq, volume)
    meq = removed / CACO3_PER_MEQ
    results = {
        "removed": Result(removed, "mg/L CaCO3", 1, "alkalinity taken out"),
        "equivalents": Result(meq, "meq/L", 3, "acid in each litre"),
        **used.brings(meq),
    }
    lines = [
        *used.lines(),
        f"{plainly(dose)} mL × {plainly(used.eq)} eq/L ÷ {plainly(volume)} L = {figure(meq)} meq/L",
        f"{figure(meq)} meq/L × 50.04 = {number(removed, 1)} mg/L CaCO3",
    ]
    says = [f"It takes {number(removed, 1)} mg/L of alkalinity out, counted as calcium carbonate."]
    if alkalinity is not None:
        left = alkalinity - removed
        results["left"] = Result(max(left, 0.0), "mg/L CaCO3", 1, "alkalinity left")
        lines.append(f"left: {plainly(alkalinity)} − {number(removed, 1)} = {number(left, 1)} mg/L CaCO3")
        if left < 0:
            says.insert(
                0, "Too much: it is more acid than the alkalinity holds, and the pH falls below 4.5. Do not add it."
            )
    for name, one in used.brings(meq).items():
        brings = f"{digits(meq / used.each)} mmol/L"
        lines.append(f"{name}: {brings} brings {number(float(one.value), 1)} mg/L")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=used.source,
        says=(*used.bottle.asks, *says),
        cautions=used.cautions,
    )


RECKONINGS = (
    Reckoning(
        name="neutralise",
        subject="solution",
        title="Acid against alkalinity",
        about="How much acid takes so much alkalinity out of water, in mL and US fluid ounces.",
        fields=(
            VOLUME,
            ALKALINITY,
            Field(
                key="to",
                says="alkalinity to leave",
                unit="mg/L CaCO3",
                low=0,
                high=1000,
                needed=False,
                others=("target", "leave", "left", "target_alkalinity"),
            ),
            Field(
                key="share",
                says="share to take out",
                unit="%",
                low=0,
                high=100,
                needed=False,
                others=("fraction", "remove", "removed", "remove_fraction"),
                note="in the place of what to leave; 80 % comes to about pH 5.8",
            ),
            ACID,
            *held.BOTTLE,
            Field(
                key="rate",
                says="acid for 1 mg/L in 100 US gal, from a table",
                unit="mL",
                low=0,
                high=100,
                needed=False,
                others=("ml_per_100_gal", "table"),
                note="in the place of the strength",
            ),
        ),
        work=work_neutralise,
        example="volume=100 alkalinity=180 to=40 acid=nitric percent=67",
        others=("neutralize", "remove-alkalinity", "acid-for-alkalinity"),
    ),
    Reckoning(
        name="acid-effect",
        subject="solution",
        title="What a dose of acid does",
        about="How much alkalinity a measured dose of acid takes out, and which nutrient it brings.",
        fields=(
            Field(
                key="dose", says="acid that goes in", unit="mL", low=0, high=1e6, others=("acid_volume", "ml", "fl_oz")
            ),
            VOLUME,
            ACID,
            *held.BOTTLE,
            Field(
                key="alkalinity",
                says="alkalinity of the water",
                unit="mg/L CaCO3",
                low=0,
                high=1000,
                needed=False,
                others=("alk", "kh", "caco3"),
            ),
        ),
        work=work_effect,
        example="dose=23 volume=380 acid=sulfuric percent=93",
        others=("acid-removes", "acid-ounces", "alkalinity-removed"),
    ),
)
