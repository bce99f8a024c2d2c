"""What crops want, alone or together, and whether a reading suits them."""

from collections.abc import Sequence

from walkabout.growing import bands_published as published
from walkabout.growing.crops import Range
from walkabout.reckon.bands_judged import (
    ASKED,
    PEN,
    Judged,
    decimals,
    judge,
    lifted,
    listed,
    others,
    said,
    span,
    suited,
)
from walkabout.reckon.correcting_words import CONCENTRATE, SPILLS
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.write import plainly

SETS = ("table", "OSU", "Cornell", "trade", "UMass", "research")
ACID = (
    "Correcting a pH takes acid or alkali, an adult's work with goggles and gloves on; the employer's risk assessment "
    "goes first."
)


def work_bands(
    crop: tuple[str, ...],
    ec: float | None,
    ph: float | None,
    solution: float | None,
    air: float | None,
    night: float | None,
    rh: float | None,
    dli: float | None,
    hours: float | None,
    follow: str | None,
    water_ec: float | None,
) -> Reckoned:
    """Work out what crops want together, and judge the readings that were given."""
    plants = tuple({one.key: one for one in _plants(crop)}.values())
    if not plants:
        raise ValueError("bands needs the name of a crop. Example: bands crop=lettuce ec=1.5 ph=6.2")
    given = {"ec": ec, "ph": ph, "solution": solution, "air": air, "night": night, "rh": rh, "dli": dli, "hours": hours}
    readings = {key: value for key, value in given.items() if value is not None}
    by = None if follow == "table" else follow
    asked = [one for one in ASKED if not readings or one.key in readings]
    judged = [(one, judge(one, plants, readings.get(one.key), by, water_ec or 0.0)) for one in asked]
    found = [one for _, one in judged if one is not None]
    unknown = [one.name for one, known in judged if known is None and readings]
    if not found:
        names = listed([one.name for one in plants])
        raise ValueError(f"no figure is known for {names}" + (f": {listed(unknown)}" if unknown else ""))
    lines = ["taken: water_ec = 0 mS/cm"] if water_ec is None and any(one.above_water for one in found) else []
    return Reckoned(
        results=_results(found),
        says=(*_says(found, by), *(f"No figure is known for the {name}." for name in unknown)),
        working=(*lines, *(line for one in found for line in _working(one))),
        source=_source(found),
        cautions=_cautions(found),
        do=_to_do(found),
    )


def _plants(names: Sequence[str]) -> list[published.Plant]:
    """Return the crops; a name with a comma in it ('lettuce, floating raft') comes in two parts and is put together."""
    left, found = list(names), []
    while left:
        both = ", ".join(left[:2])
        if len(left) > 1 and published.known(both):
            found.append(published.plant(both))
            del left[:2]
        else:
            found.append(published.plant(left.pop(0)))
    return found


def _results(found: Sequence[Judged]) -> dict[str, Result]:
    results = {f"{one.asked.key}_verdict": Result(one.verdict, says=one.asked.name) for one in found if one.verdict}
    for one in found:
        key, name, unit = one.asked.key, one.asked.name, one.asked.unit
        low, high = one.together.least.value, one.together.most.value
        places = decimals(unit, low, high)
        if one.together.conflict:
            results[f"{key}_least"] = Result(low, unit, places, f"{name}, at least")
            results[f"{key}_most"] = Result(high, unit, places, f"{name}, at most")
            middle = one.compromise
            results[f"{key}_compromise"] = Result(middle, unit, decimals(unit, middle), f"{name}, middle of the gap")
        else:
            results[f"{key}_low"] = Result(low, unit, places, f"{name}, from")
            results[f"{key}_high"] = Result(high, unit, places, f"{name}, to")
    return results


def _says(found: Sequence[Judged], follow: str | None) -> tuple[str, ...]:
    says = [_sentence(one) for one in found]
    for one in found:
        says += [_other(one, *other) for other in others(one, follow)]
    for one in found:
        # Without a reading there are many notes; those of the solution are the ones that matter.
        noted = one.each if one.verdict or one.asked.key in ("ec", "ph") else ()
        says += [
            f"{_capital(plant.name)}, {one.asked.name}: {wanted.range.note}."
            for plant, wanted in noted
            if wanted.range.note
        ]
    says += [
        f"{follow} has no {one.asked.name} for {plant.name}: {wanted.range.source} is followed instead."
        for one in found
        for plant, wanted in one.each
        if wanted.instead
    ]
    return tuple(says)


def _sentence(one: Judged) -> str:
    name, unit = _capital(one.asked.name), one.asked.unit
    if one.together.conflict:
        wanted = _conflict(one)
    else:
        wanted = f"{span(Range(*one.ends, ''), unit)} ({'; '.join(one.sources)})."
    if one.reading is None:
        return f"{name} for {one.names}: {wanted}"
    reading = said(one.reading, unit) if unit == "pH" else f"{name} {said(one.reading, unit)}"
    verdict = one.verdict if one.verdict == "suits neither" else f"is {one.verdict}"
    if one.verdict != "in range" and suited(one):
        wanted += f" {reading} suits {listed(suited(one))}."
    return f"{reading} {verdict}; for {one.names}: {wanted}{'' if one.together.conflict else _next(one)}"


def _next(one: Judged) -> str:
    if one.one_figure:
        return f" The table gives one figure; within {PEN} of it is as near as a pen can tell (common practice)."
    steps = {
        ("ec", "high"): " Thin the tank with water: see dilute.",
        ("ec", "low"): " The tank needs feed, which an adult measures out: see strengthen.",
        ("ph", "high"): " An adult lowers it, not more than about 0.5 at a time.",
        ("ph", "low"): " An adult raises it, not more than about 0.5 at a time.",
        ("dli", "low"): " Give more hours or more light.",
        ("dli", "high"): " Give fewer hours or less light.",
    }
    return steps.get((one.asked.key, one.verdict), "")


def _conflict(one: Judged) -> str:
    unit, least, most = one.asked.unit, one.together.least, one.together.most
    return (
        f"{listed(least.names)} at least {said(least.value, unit)} ({'; '.join(least.sources)}), "
        f"{listed(most.names)} at most {said(most.value, unit)} ({'; '.join(most.sources)}). "
        f"Nothing suits both: {said(one.compromise, unit)} is the middle of the gap and suits neither."
    )


def _other(one: Judged, name: str, plant: published.Plant, other: published.Wanted, verdict: str) -> str:
    wanted = span(other.range, one.asked.unit) + (" above the water" if other.above_water else "")
    says = f"By {published.load().sets[name].says}, {plant.name}: {wanted} (follow={name})"
    if verdict and one.reading is not None:
        says += f", so {said(one.reading, one.asked.unit)} is {verdict}"
    return f"{says}."


def _working(one: Judged) -> list[str]:
    unit = one.asked.unit
    lines = []
    for plant, wanted in one.each:
        lines.append(f"{plant.name}: {span(wanted.range, unit)} ({wanted.range.source})")
        if wanted.above_water:
            lines.append(f"with the water's {plainly(one.water_ec)}: {span(lifted(wanted, one.water_ec), unit)}")
    least, most = one.together.least.value, one.together.most.value
    if len(one.each) > 1:
        lines.append(f"highest low end {said(least, unit)}, lowest high end {said(most, unit)}")
    if one.together.conflict:
        lines.append(f"({plainly(least)} + {plainly(most)}) ÷ 2 = {said(one.compromise, unit)}")
    if one.reading is not None:
        low, high = (plainly(end) for end in one.ends)
        reading = plainly(one.reading)
        below, above = ("≤", "≥") if one.together.conflict else ("<", ">")
        between = "<" if one.together.conflict else "≤"
        compared = {"low": f"{reading} {below} {low}", "high": f"{reading} {above} {high}"}
        lines.append(f"{compared.get(one.verdict, f'{low} {between} {reading} {between} {high}')}: {one.verdict}")
    return lines


def _source(found: Sequence[Judged]) -> str:
    texts = []
    for name in dict.fromkeys(name for one in found for name in one.sources):
        source = published.source(name)
        text = source.text.rstrip(".")
        plain = source.known == "published" or source.known in text.casefold()
        texts.append(text if plain else f"{text} ({source.known})")
    return "; ".join(texts)


def _cautions(found: Sequence[Judged]) -> tuple[str, ...]:
    verdicts = {one.asked.key: one.verdict for one in found if not one.one_figure}
    cautions = {"low": (CONCENTRATE,), "high": (SPILLS,)}.get(verdicts.get("ec", ""), ())
    return (*cautions, ACID) if verdicts.get("ph") in ("low", "high") else cautions


def _to_do(found: Sequence[Judged]) -> ToDo | None:
    for one in found:
        if one.verdict not in ("low", "high") or one.together.conflict or one.one_figure:
            continue
        end = said(one.ends[1] if one.verdict == "high" else one.ends[0], one.asked.unit)
        if one.asked.key == "ec" and one.verdict == "high":
            return ToDo(what=f"Bring the EC down to {end} with water", caution=SPILLS)
        if one.asked.key == "ec":
            return ToDo(what=f"Bring the EC up to {end}", who="adult", caution=CONCENTRATE)
        if one.asked.key == "ph":
            return ToDo(what=f"Bring the solution to {end}", who="adult", caution=ACID)
    return None


def _capital(text: str) -> str:
    return text if text.startswith("pH") else text[:1].upper() + text[1:]


def _reading(key: str, says: str, unit: str, low: float, high: float, starts: str, others: tuple[str, ...]) -> Field:
    return Field(key=key, says=says, unit=unit, low=low, high=high, needed=False, starts=starts, others=others)


RECKONINGS = (
    Reckoning(
        name="bands",
        subject="solution",
        title="What crops want",
        about="The range that suits everything on one tank or shelf, whose figures these are, and what a reading is.",
        fields=(
            Field(
                key="crop",
                says="crops that grow together",
                kind="words",
                starts="crops",
                others=("crops", "plant", "plants", "for"),
                note="one, or several after commas",
            ),
            _reading("ec", "EC of the solution", "mS/cm", 0, 50, "EC", ("e", "ec_ms_cm", "strength")),
            _reading("ph", "pH of the solution", "pH", 0, 14, "pH", ("acidity",)),
            _reading(
                "solution",
                "temperature of the solution",
                "°C",
                -5,
                60,
                "solution temperature",
                ("water_temperature", "root_zone", "solution_temperature"),
            ),
            _reading(
                "air", "air by day", "°C", -30, 60, "air temperature", ("temperature", "day", "t", "air_temperature")
            ),
            _reading("night", "air at night", "°C", -30, 60, "lowest air temperature", ("night_temperature",)),
            _reading("rh", "relative humidity", "%", 0, 100, "humidity", ("humidity", "relative_humidity")),
            Field(
                key="dli",
                says="light in a day",
                unit="mol/m²/d",
                low=0,
                high=100,
                needed=False,
                starts="DLI",
                others=("light", "daily_light", "daily_light_integral"),
                note="lux says little of what a plant gets: turn it into daily light first",
            ),
            _reading("hours", "hours of light in a day", "h", 0, 24, "hours", ("photoperiod", "daylength")),
            Field(
                key="follow",
                says="whose figures to follow",
                kind="word",
                words=SETS,
                needed=False,
                others=("source", "by", "whose"),
                note="the crop table unless given",
            ),
            Field(
                key="water_ec",
                says="EC of the source water",
                unit="mS/cm",
                low=0,
                high=20,
                needed=False,
                starts="water EC",
                others=("ec_water", "source_ec"),
                note="for figures counted above it, such as lettuce on rafts",
            ),
        ),
        work=work_bands,
        example="crop=lettuce,basil ec=1.5 ph=6.2",
        others=("band", "targets", "crop-targets", "wants", "ranges"),
    ),
)
