"""The light of a day held against what a crop wants, and the ways to get there."""

from typing import TYPE_CHECKING

from walkabout.growing import light as of
from walkabout.reckon.model import Result
from walkabout.reckon.write import amount, number, plainly

if TYPE_CHECKING:
    from walkabout.growing.bands_published import Plant

LONG = 18.0
"""Hours of light a day above which not every crop does well. Common practice."""
_KIN = ("solanum", "capsicum")
"""Plants whose leaves turn yellow and sick in light without a dark: tomato and its kin. From memory."""
_STANDS_FOR = dict.fromkeys(("leafy greens", "leafy crops", "leafy", "greens", "leafy vegetables"), "chard") | {
    "herbs": "parsley",
    "fruiting crops": "tomato",
    "fruiting vegetables": "tomato",
}
"""A name for many crops -> one whose figure is the one published for all of them."""


def hold_against(
    crop: str,
    dli: float,
    light: float | None,
    hours: float,
    results: dict[str, Result],
    working: list[str],
    says: list[str],
) -> str:
    """Hold the light of a day, mol/m²/d, against what a crop wants; return whose range that is, written out.

    `light` is the PPFD that makes it; None of daylight, which nobody can set. Raises ValueError.
    """
    from walkabout.growing import bands_published as published  # noqa: PLC0415 - tables, read when a crop is named
    from walkabout.reckon.bands_judged import ASKED, judge, others, span  # noqa: PLC0415

    named = " ".join(crop.casefold().replace("-", " ").replace("_", " ").split())
    plant = published.plant(_STANDS_FOR.get(named, crop))
    if named in _STANDS_FOR:
        working.append(f"taken: crop = {plant.name}, for {named}")
    asked = next(one for one in ASKED if one.key == "dli")
    judged = judge(asked, (plant,), dli, None, 0.0)
    if judged is None:
        raise ValueError(f"no light of a day is known for {plant.name}: leave crop= out")
    band = judged.each[0][1].range
    wants = span(band, asked.unit)
    results["verdict"] = Result(judged.verdict, says=f"for {plant.name}")
    working.append(f"{plant.name} wants {wants}: {number(dli, 2)} is {judged.verdict}")
    hurt = hours > LONG and plant.row is not None and plant.row.botanical.casefold().startswith(_KIN)
    if hurt and light is not None:
        says.append(
            f"Give {plant.name} at most {plainly(LONG)} h of light a day: longer days make its leaves sick "
            "(from memory)."
        )
    says.append(_verdict(plant, judged.verdict, wants))
    if judged.verdict != "in range" and light:
        says.append(_remedy(plant, band.low if judged.verdict == "low" else band.high, light, hours, hurt=hurt))
    says += [
        f"By {published.load().sets[name].says}: {span(other.range, asked.unit)}, so it is {verdict}."
        for name, _, other, verdict in others(judged, None)
    ]
    if band.note:
        says.append(f"{plant.name[:1].upper()}{plant.name[1:]}: {band.note}.")
    return f"range of {plant.name}: {published.source(band.source).text.rstrip('.')}"


def _verdict(plant: "Plant", verdict: str, wants: str) -> str:
    if verdict == "in range":
        return f"Right for {plant.name}, which wants {wants}."
    if verdict == "low":
        return f"Too little for {plant.name}, which wants {wants}."
    return (
        f"More than the range looked at for {plant.name}, {wants}: that is no ceiling, but it may cost electricity for "
        "nothing."
    )


def _remedy(plant: "Plant", edge: float, light: float, hours: float, *, hurt: bool) -> str:
    """Say how the light of a day gets to the edge of what a crop wants: other hours, or light of another strength."""
    wanted = plant.row.hours if plant.row is not None else None
    longest = LONG if hurt else max(wanted.high if wanted is not None else 0, LONG)
    ways = [f"{amount(needed, 'h', 1)} at this light"] if (needed := of.hours_for(edge, light)) <= longest else []
    if hours > longest:
        ways.append(f"{amount(of.ppfd_for(edge, longest), 'µmol/m²/s', 0)} for {plainly(longest)} h")
    elif hours > 0:
        ways.append(f"{amount(of.ppfd_for(edge, hours), 'µmol/m²/s', 0)} for these hours")
    return f"To get to {amount(edge, 'mol/m²/d')}, try {' or '.join(ways)}." if ways else "It needs more light."
