"""Reckonings of how much plants drink: by crop and stage, by leaf cover, by growth, by light."""

from walkabout.growing import water_use as of
from walkabout.reckon.drinking import (
    DLI,
    DLI_REF,
    EACH,
    ESTIMATE,
    PLANTS,
    STAGE,
    VPD,
    VPD_REF,
    Drunk,
    drunk_by,
    fraction,
    whole,
)
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_crop import MAYBE_CROP, which_crop
from walkabout.reckon.write import amount, number, plainly

DRY, EFFICIENCY = 5.0, 3.0
"""What is taken for the dry matter of a plant, %, and for the dry matter grown for each litre, g."""
LANGENFELD = "Langenfeld and others 2022, Sustainability 14(16):10204"
BARBOSA = "Barbosa and others 2015, Int. J. Environ. Res. Public Health 12:6879-6891 (lettuce, 20 L/kg)"
ALBERTA = "Alberta Agriculture page opp4580 (150 to 200 mL/m² for 100 J/cm², under glass)"
BVAD = "NASA, Baseline Values and Assumptions Document, from memory (closed leaf cover, growth chamber)"


def work_water_use(
    crop: str | None,
    plants: float | None,
    stage: str | None,
    each: float | None,
    vpd: float | None,
    dli: float | None,
    canopy: float | None,
    plants_m2: float | None,
    vpd_ref: float | None,
    dli_ref: float | None,
) -> Reckoned:
    """Work out what a plant, and all of them, drink a day."""
    if each is not None:
        _alone("each", stage=stage, vpd=vpd, dli=dli, canopy=canopy, plants_m2=plants_m2)
        drunk = Drunk(each, (f"given: {amount(each, 'L')} a plant and day",), ("the litres given",))
    elif plants_m2 is not None or canopy is not None:
        _alone("canopy", stage=stage, vpd=vpd, dli=dli)
        drunk = _by_canopy(crop, canopy, plants_m2)
    elif crop is not None:
        drunk = drunk_by(crop, stage, vpd, dli, vpd_ref, dli_ref)
    else:
        raise ValueError("give crop=, or each= litres a plant and day, or canopy= and plants_m2=")
    low, high = drunk.each * (1 - of.ESTIMATE_MARGIN), drunk.each * (1 + of.ESTIMATE_MARGIN)
    one = Result(drunk.each, "L/day", 3, "for one plant")
    results, lines = {"each": one}, list(drunk.working)
    if plants is not None:
        total = drunk.each * whole(plants)
        results = {"per_day": Result(total, "L/day", 2, "for all plants"), **results}
        lines.append(f"{plainly(plants)} plants × {plainly(drunk.each)} L = {plainly(total)} L/day")
    results |= {
        "each_low": Result(low, "L/day", 3, "for one plant, perhaps as little as"),
        "each_high": Result(high, "L/day", 3, "for one plant, perhaps as much as"),
    }
    lines.append(
        f"± {of.ESTIMATE_MARGIN * 100:.0f} % (assumed): {number(low, 3)} to {number(high, 3)} L a plant and day"
    )
    return Reckoned(
        results=results,
        working=tuple(lines),
        source="; ".join(dict.fromkeys(drunk.sources)),
        says=(f"One plant drinks about {_volume(drunk.each)} a day.", ESTIMATE),
    )


def _by_canopy(crop: str | None, canopy: float | None, plants_m2: float | None) -> Drunk:
    if plants_m2 is None or plants_m2 <= 0:
        raise ValueError("give plants_m2=, the plants on a square metre, with canopy=")
    lines: list[str] = []
    sources = ("the litres given",)
    if canopy is None:
        if crop is None:
            raise ValueError("give canopy=, the litres a square metre of leaves drinks a day, or crop=")
        found = which_crop(crop)
        canopy = of.CANOPY.get(found.key)
        if canopy is None:
            raise ValueError(
                f"no figure for a square metre of {found.name} was found: give canopy=, 1.8 to 2.2 indoors"
            )
        lines.append(f"taken: closed cover of {found.name} = {plainly(canopy)} L/m²/day")
        sources = (BVAD,)
    each = of.by_canopy(canopy, plants_m2)
    lines.append(f"{plainly(canopy)} L/m²/day ÷ {plainly(plants_m2)} plants/m² = {number(each, 4)} L a plant and day")
    return Drunk(each, tuple(lines), sources)


def _alone(key: str, **others: object) -> None:
    given = [name for name, value in others.items() if value is not None]
    if given:
        raise ValueError(f"{key} already says what a plant drinks: leave out {' and '.join(given)}")


def _volume(litres: float) -> str:
    return amount(litres * 1000, "mL", 0) if litres < 1 else amount(litres, "L", 1)


def work_water_for_growth(
    fresh: float, dry: float, efficiency: float, per_kg: float | None, heads: float | None, days: float | None
) -> Reckoned:
    """Work out the water that growing a plant takes."""
    share = fraction(dry)
    lines = [
        f"taken: {what} = {amount(value, unit)}"
        for what, value, default, unit in (("dry matter", dry, DRY, "%"), ("growth", efficiency, EFFICIENCY, "g/L"))
        if value == default and per_kg is None
    ]
    if per_kg is not None:
        water = per_kg * fresh / 1000
        lines.append(f"{plainly(fresh / 1000)} kg × {plainly(per_kg)} L/kg = {number(water)} L")
        source = f"the litres for a kg as given; published: {BARBOSA}"
    else:
        water = of.for_growth(fresh, share, efficiency)
        lines += [
            f"dry matter = {plainly(fresh)} g × {plainly(share)} = {number(fresh * share)} g",
            f"water = {number(fresh * share)} g ÷ {plainly(efficiency)} g/L = {number(water)} L",
        ]
        source = (
            f"{LANGENFELD}: 3 g of dry matter for each litre, to 6 in damp air rich in CO2; 5 % dry: common practice"
        )
    results = {"water": Result(water, "L", 2, "for one plant")}
    if heads is not None:
        results["total"] = Result(water * whole(heads), "L", 1, "for all")
        lines.append(f"{plainly(heads)} × {number(water)} L = {number(water * heads, 1)} L")
    if days is not None:
        results["each"] = Result(water / days, "L/day", 4, "mean for one plant")
        lines.append(f"{number(water)} L ÷ {plainly(days)} days = {number(water / days, 4)} L a plant and day")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=source,
        says=(
            f"To grow {amount(fresh, 'g')} the plant drinks about {number(water, 1)} L.",
            "What evaporates from open water comes on top.",
            "A mean over the whole life: little at first, most in the last days." if days is not None else ESTIMATE,
        ),
    )


def work_water_by_light(radiation: float, per_100j: float | None, plants_m2: float | None) -> Reckoned:
    """Work out what a crop under glass drinks on a day with so much sun."""
    rate = 175.0 if per_100j is None else per_100j
    area = of.by_light(radiation, rate)
    lines = ["taken: 175 mL/m² for 100 J/cm², the middle of 150 to 200"] if per_100j is None else []
    lines.append(f"{plainly(radiation)} ÷ 100 × {plainly(rate)} ÷ 1000 = {number(area, 3)} L/m²/day")
    results = {"per_m2": Result(area, "L/m²/day", 3, "for a square metre")}
    if plants_m2 is not None:
        each = of.by_canopy(area, plants_m2)
        results = {"each": Result(each, "L/day", 3, "for one plant"), **results}
        lines.append(
            f"{number(area, 3)} L/m²/day ÷ {plainly(plants_m2)} plants/m² = {number(each, 3)} L a plant and day"
        )
    if per_100j is None:
        low, high = of.by_light(radiation, 150), of.by_light(radiation, 200)
        results |= {
            "per_m2_low": Result(low, "L/m²/day", 3, "for a square metre, at 150"),
            "per_m2_high": Result(high, "L/m²/day", 3, "for a square metre, at 200"),
        }
        lines.append(f"at 150 and at 200 mL/m²: {number(low, 3)} and {number(high, 3)} L/m²/day")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=ALBERTA,
        says=(
            "For big cucumber, tomato or pepper plants under glass, with the sun as measured outside.",
            "Under lamps there is no such sun: go by leaf cover or by your own tank instead.",
        ),
    )


RECKONINGS = (
    Reckoning(
        name="water-use",
        subject="water",
        title="What the plants drink",
        about="Litres a plant and day, by crop and how far it is, or shared out from a square metre of leaves.",
        fields=(
            MAYBE_CROP,
            PLANTS,
            STAGE,
            EACH,
            VPD,
            DLI,
            Field(
                key="canopy",
                says="water that a square metre of leaves drinks a day",
                unit="L/m²/day",
                low=0,
                high=30,
                needed=False,
                others=("per_m2", "canopy_l_m2_day", "area_use"),
            ),
            Field(
                key="plants_m2",
                says="plants on a square metre",
                unit="plants/m²",
                low=0.01,
                high=20000,
                needed=False,
                others=("density", "per_square_metre"),
            ),
            VPD_REF,
            DLI_REF,
        ),
        work=work_water_use,
        example="crop=lettuce plants=36 stage=mature",
        others=("plant-water", "drink", "water-per-plant"),
    ),
    Reckoning(
        name="water-for-growth",
        subject="water",
        title="Water to grow a plant",
        about="How much water a plant drinks to reach a weight, from its dry matter or from litres for a kilogram.",
        fields=(
            Field(
                key="fresh",
                says="fresh mass of one plant",
                unit="g",
                low=0,
                high=1e6,
                others=("fresh_g", "mass", "weight"),
            ),
            Field(
                key="dry",
                says="dry matter in it",
                unit="%",
                low=0,
                high=100,
                default=DRY,
                others=("dry_fraction", "dry_matter"),
                note="a number up to 1 is read as a share",
            ),
            Field(
                key="efficiency",
                says="dry matter grown for each litre",
                unit="g/L",
                low=0.1,
                high=50,
                default=EFFICIENCY,
                others=("wue", "wue_g_l"),
            ),
            Field(
                key="per_kg",
                says="litres for a kilogram of fresh plant",
                unit="L/kg",
                low=0,
                high=5000,
                needed=False,
                others=("litres_per_kg", "l_per_kg"),
                note="given, it is used in place of dry matter; lettuce in solution 20",
            ),
            Field(key="heads", says="number of plants", low=1, high=1e6, needed=False, others=("plants", "n")),
            Field(
                key="days",
                says="days to grow it",
                unit="days",
                low=1,
                high=730,
                needed=False,
                others=("crop_days", "time"),
            ),
        ),
        work=work_water_for_growth,
        example="fresh=150 dry=5% efficiency=3",
        others=("growth-water", "water-use-efficiency"),
    ),
    Reckoning(
        name="water-by-light",
        subject="water",
        title="Water by sunlight",
        about="What tall crops under glass drink on a day, from the radiation that a weather station reports.",
        fields=(
            Field(
                key="radiation",
                says="radiation of the day, outside",
                unit="J/cm²",
                low=0,
                high=5000,
                others=("sun", "radiation_j_cm2", "j_cm2"),
            ),
            Field(
                key="per_100j",
                says="water for each 100 J/cm²",
                unit="mL/m²",
                low=0,
                high=1000,
                needed=False,
                others=("ml_per_100j", "ml_m2_per_100j"),
                note="175 unless given; 150 to 200 is published",
            ),
            Field(
                key="plants_m2",
                says="plants on a square metre",
                unit="plants/m²",
                low=0.01,
                high=20000,
                needed=False,
                others=("density", "per_square_metre"),
            ),
        ),
        work=work_water_by_light,
        example="radiation=1500 per_100j=200 plants_m2=1.25",
        others=("radiation-water", "water-by-radiation"),
    ),
)
