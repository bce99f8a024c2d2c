"""Reckonings of warmth below: whether it lets damping-off or root rot in."""

from walkabout.growing import disease as of
from walkabout.reckon.disease import CROP, plain
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import amount, plainly, quoted


def work_damping_off(temperature: float, crop: str | None) -> Reckoned:
    """Judge a temperature of the sowing mix for damping-off."""
    plant = plain(crop)
    key = "rye" if plant == "rye" else "tomato" if "tomato" in plant else ""
    judged = of.damping_off(temperature, key)
    says = [
        f"Damping-off by warm-loving Pythium: {judged.verdict}.",
        judged.why,
        *(
            [f"No figures for {crop}: the risk is that for tomato and for the fungus itself."]
            if plant and not key
            else []
        ),
        "Cool-loving kinds of Pythium and Rhizoctonia strike at other temperatures: clean trays, no soaked mix.",
    ]
    return Reckoned(
        results={"verdict": Result(judged.verdict, says="damping-off by warm-loving Pythium")},
        working=(
            "growth: best 35 °C, slight at 15 °C and at 43 °C",
            "rye: none left from 27 °C on, unharmed at 15 °C"
            if key == "rye"
            else "tomato: worst at 27 to 35 °C; grown plants hurt above 23 °C",
            *(["taken: the figures for tomato"] if not key else []),
            f"here: {amount(temperature, '°C')}, so: {judged.verdict}",
        ),
        source=judged.source,
        says=tuple(says),
        do=ToDo(what="Cool the seed tray below 23 °C, let the mix dry at the top between waterings")
        if judged.verdict == "high"
        else None,
    )


def work_root_zone(temperature: float, crop: str | None, follow: str | None) -> Reckoned:
    """Judge the temperature of the solution at the roots."""
    judged = of.root_zone(temperature, follow or "pythium")
    verdict = {"low": "in range", "raised": "warm", "high": "too warm"}[judged.verdict]
    results = {
        "verdict": Result(verdict, says="root zone"),
        "pythium_risk": Result(judged.verdict, says="risk of root rot (Pythium)"),
    }
    limits = "low to 25 °C, raised to 26 °C, high above" if follow == "cornell" else ""
    lines = [f"risk: {limits or 'low to 20 °C, raised to 23 °C, high above'}"]
    lines += [] if follow else ["taken: the limits by Pythium; follow=cornell has those of a lettuce pond"]
    lines.append(f"here: {amount(temperature, '°C')}, so: {verdict}, risk {judged.verdict}")
    says = [_ROOT_SAYS[verdict], judged.why]
    if crop:
        about, line, stands = _for_the_crop(crop, temperature)
        joined = _JOINED.get((verdict == "in range", stands == "in range")) if stands else None
        if joined:
            says.insert(0, joined.format(crop=crop.strip()))
        says.append(about)
        if stands:
            results["crop_verdict"] = Result(stands, says=f"for {crop}")
            lines.append(line)
    if follow != "cornell" and 23 < temperature <= 25:
        says.append("The Cornell handbook lets a lettuce pond reach 25 °C (seen in pages that quote it).")
    if follow == "cornell" and 23 < temperature <= 26:
        says.append("By Pythium's own limits it is too warm: above 23 °C the quick kind takes over.")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=judged.source + ("" if follow else "; the line at 20 °C: common practice"),
        says=tuple(says),
        do=ToDo(what="Shade the tank and look at the roots: they should be pale and firm")
        if verdict == "too warm"
        else None,
    )


_ROOT_SAYS = {
    "in range": "Cool enough, by these limits.",
    "warm": "Near the line: shade the tank and look at the roots.",
    "too warm": "Too warm: cool the solution, and look for brown, slimy roots today.",
}


_JOINED = {
    # (root rot is held off, it suits the crop) -> what to make of it
    (
        False,
        True,
    ): "Two things to weigh: {crop} likes this warmth, but so does root rot, and the rot decides.",
    (True, False): "Two things to weigh: root rot is held off, but {crop} wants another temperature.",
}


def _for_the_crop(crop: str, temperature: float) -> tuple[str, str, str]:
    """Say how a temperature of the solution stands to what the crop table gives: a sentence, a line, a verdict."""
    from walkabout.growing.crops import load  # noqa: PLC0415 - reads the crop table, which most calls do without

    found = load().find(crop)
    if found is None:
        near = load().nearest(crop, 1)
        hint = f": did you mean {near[0].name}?" if near else "."
        return f"The crop table does not know {quoted(crop)}{hint}", "", ""
    if found.solution is None:
        return f"The crop table has no temperature of the solution for {found.name}.", "", ""
    low, high = found.solution.low, found.solution.high
    stands = "too cold" if temperature < low else "too warm" if temperature > high else "in range"
    band = f"{plainly(low)} to {plainly(high)} °C"
    return (
        f"For {found.name} itself {band} suits: {stands}.",
        f"{found.name}: {band} ({found.solution.source}): {stands}",
        stands,
    )


RECKONINGS = (
    Reckoning(
        name="damping-off",
        subject="air",
        title="Damping-off",
        about="Seedlings fall over at the soil when Pythium takes them: how warm the mix is decides which kind.",
        fields=(
            Field(
                key="temperature",
                says="temperature of the mix",
                unit="°C",
                low=0,
                high=50,
                others=("soil", "soil_temperature", "mix", "temp", "t", "air"),
            ),
            CROP,
        ),
        work=work_damping_off,
        example="temperature=29 crop=tomato",
        others=("damping", "seedling-rot", "dampingoff"),
    ),
    Reckoning(
        name="root-zone",
        subject="water",
        title="Warmth at the roots",
        about="A warm solution holds less oxygen and lets root rot in: where the lines are.",
        fields=(
            Field(
                key="temperature",
                says="temperature of the solution",
                unit="°C",
                low=0,
                high=45,
                starts="solution temperature",
                others=("solution", "water", "temp", "t", "root_zone", "water_temperature", "solution_temperature"),
            ),
            CROP,
            Field(
                key="follow",
                says="whose limits to follow",
                kind="word",
                words=("pythium", "cornell"),
                needed=False,
                others=("source", "whose"),
                note="cornell: those of a lettuce pond",
            ),
        ),
        work=work_root_zone,
        example="temperature=22 crop=spinach",
        others=("rootzone", "root-zone-temperature", "root-temperature", "pythium"),
    ),
)
