"""From what is known of a station to what the fields of a reckoning start from, in the units that the room shows."""

from walkabout.checklist.model import Quantity
from walkabout.growing.bands import wanted
from walkabout.growing.carbonate import HIGHEST, LOWEST
from walkabout.growing.limits import OutOfRange
from walkabout.growing.units import Scales, decimals_shown, shown
from walkabout.room.model import LampKind
from walkabout.round.known import Known
from walkabout.round.light import LIGHTS, light_wanted, lit_by
from walkabout.round.opened import OpenRoom
from walkabout.round.tankwater import as_caco3, phosphorus_mg
from walkabout.round.words import day_words

READINGS: dict[str, tuple[Quantity, str, int]] = {
    "EC": ("EC", "mS/cm", 2),
    "pH": ("pH", "pH", 1),
    "solution temperature": ("solution temperature", "°C", 1),
    "air temperature": ("air temperature", "°C", 1),
    "highest air temperature": ("highest air temperature", "°C", 1),
    "lowest air temperature": ("lowest air temperature", "°C", 1),
    "humidity": ("humidity", "%", 0),
    "oxygen": ("oxygen", "mg/L", 1),
    "lux": ("illuminance", "lx", 0),
    "gap": ("gap", "cm", 0),
}
"""The name a field starts from -> quantity of the reading, its stored unit, decimals."""

STARTS = frozenset({
    *READINGS,
    *("litres", "capacity", "change days", "litres a day", "days since the change", "topped since the change"),
    *("water EC", "water pH", "alkalinity", "phosphorus", "water alkalinity", "water sodium", "water chloride"),
    *("water calcium", "water magnesium", "rise", "altitude", "price", "recipe", "acid", "acid strength", "base"),
    *("base strength", "crop", "crops", "plants", "wanted EC", "wanted pH", "wanted DLI"),
    *("hours", "lamp", "lamp of known efficacy", "watts", "width", "length", "efficacy", "PPFD", "DLI"),
})  # fmt: skip
"""All names that fields may start from."""


def starts(known: Known, scales: Scales) -> dict[str, str]:
    """Return what is known, by the names that fields start from."""
    found: dict[str, str] = {}
    for name, (quantity, unit, decimals) in READINGS.items():
        value = known.value(quantity)
        if value is not None:
            found[name] = _written(value, unit, scales, decimals)
    return _tank(known, scales) | _water(known, scales) | _grows(known, scales) | _lamp(known, scales) | found


def follow_ph(known: Known, ph: float) -> dict[str, str]:
    """Return what a tank holds at another pH than the one on record, by the names that fields start from."""
    try:
        return {"alkalinity": f"{as_caco3(ph, known):.0f}", "phosphorus": f"{phosphorus_mg(known):.0f}"}
    except OutOfRange:
        return {}


def age(known: Known, name: str) -> str:
    """Say from which day a reading is that a field starts from; '' when it is no reading."""
    found = known.readings.get(READINGS[name][0]) if name in READINGS else None
    if found is None or known.today is None:
        return "reckoned for an open tank" if name in ("alkalinity", "phosphorus") else ""
    return f"read {day_words(found.day, known.today)}"


def about(opened: OpenRoom, key: str, scales: Scales | None = None) -> str:
    """Say in short which station it is, how much its tank holds and what grows there."""
    station = opened.room.station(key)
    if station is None:
        return opened.name_of(key)
    parts, scales = [station.name], scales or opened.scales
    if station.tank:
        litres = opened.room.tanks[station.tank].litres
        parts.append(f"{_written(litres, 'L', scales, 0)} {shown(0, 'L', scales)[1]}")
    crops = dict.fromkeys(one.crop for one in opened.plantings.values() if one.ended is None and one.station == key)
    names = [crop.name if (crop := opened.crops.find(one)) else one for one in crops]
    if names:
        parts.append(", ".join(names[:2]) + (f" and {len(names) - 2} more" if len(names) > 2 else ""))
    return " · ".join(parts)


def _tank(known: Known, scales: Scales) -> dict[str, str]:
    if known.tank is None:
        return {}
    litres = _written(known.tank.litres, "L", scales, 1)
    found = {"litres": litres, "capacity": litres, "change days": str(known.tank.change_days)}
    if known.used is not None and known.used > 0:
        found["litres a day"] = f"{known.used:.2f}"
    if known.changed is not None and known.today is not None:
        found["days since the change"] = str((known.today - known.changed).days)
        since = [one for one in known.topped if one.day > known.changed]
        found["topped since the change"] = ";".join(_written(one.value, "L", scales, 1) for one in since) or "0"
    return found


def _water(known: Known, scales: Scales) -> dict[str, str]:
    room, found = known.room, {}
    water = room.water
    if water.ec is not None:
        found["water EC"] = _written(water.ec, "mS/cm", scales, 2)
    ph = known.value("pH")
    if ph is not None and LOWEST <= ph <= HIGHEST:
        found["alkalinity"] = f"{as_caco3(ph, known):.0f}"
        found["phosphorus"] = f"{phosphorus_mg(known):.0f}"
    for name, value in (("water pH", water.ph), ("water alkalinity", water.alkalinity), ("water sodium", water.sodium),
                        ("water chloride", water.chloride), ("water calcium", water.calcium),
                        ("water magnesium", water.magnesium), ("rise", room.feed.rise),
                        ("altitude", room.altitude_m or None), ("price", room.prices.per_kwh)):  # fmt: skip
        if value is not None:
            found[name] = f"{value:g}"
    if room.feed.recipe:
        found["recipe"] = room.feed.recipe
    if room.acid is not None:
        found |= {"acid": room.acid.kind, "acid strength": f"{room.acid.strength:g}"}
    if room.base is not None:
        found |= {"base": room.base.kind.replace(" ", "-"), "base strength": f"{room.base.strength:g}"}
    return found


def _grows(known: Known, scales: Scales) -> dict[str, str]:
    found: dict[str, str] = {}
    crops = list(dict.fromkeys(crop for crop, _ in known.drinking))
    if crops:
        found |= {"crop": crops[0], "crops": ",".join(crops), "plants": str(sum(count for _, count in known.drinking))}
    for name, quantity, unit, decimals in (("wanted EC", "EC", "mS/cm", 2), ("wanted pH", "pH", "pH", 1)):
        shared = wanted(known.crops, quantity)
        if shared is not None:
            found[name] = _written((shared.least.value + shared.most.value) / 2, unit, scales, decimals)
    light = light_wanted(known.here.crops)
    if light is not None:
        found["wanted DLI"] = f"{(light.least.value + light.most.value) / 2:.3g}"
    lux = known.value("illuminance")
    if lux is not None and known.here.lit is not None:
        found |= {"PPFD": f"{known.here.lit.ppfd(lux):.0f}", "DLI": f"{known.here.lit.dli(lux):.1f}"}
    return found


def _lamp(known: Known, scales: Scales) -> dict[str, str]:
    """What the lamps here have in common; two that differ, or a window, are not taken for one lamp."""
    lit = lit_by(known.lamps)
    red_blue = bool(known.lamps) and all(lamp.red_blue for lamp in known.lamps)
    if lit is None and not red_blue:
        return {}
    lamp = known.lamps[0]
    found = {"lamp": "red-blue" if red_blue else LIGHTS[lamp.kind]}
    if lamp.kind in WITH_EFFICACY and not red_blue:
        found["lamp of known efficacy"] = LIGHTS[lamp.kind]
    for name, length in (("gap", lamp.gap_cm), ("width", lamp.width_cm), ("length", lamp.length_cm)):
        if length is not None and len(known.lamps) == 1:
            found[name] = _written(length, "cm", scales, 1)
    if len({one.hours for one in known.lamps}) == 1:
        found["hours"] = f"{lamp.hours:g}"
        watts = sum(one.watts for one in known.lamps)
        if watts and len({one.efficacy for one in known.lamps}) == 1:
            found["watts"] = f"{watts:g}"
            if lamp.efficacy:
                found["efficacy"] = f"{lamp.efficacy:g}"
    return found


WITH_EFFICACY: tuple[LampKind, ...] = ("led", "tube", "high-pressure sodium")
"""Kinds of lamp whose light for each joule has been published."""


def _written(value: float, unit: str, scales: Scales, decimals: int) -> str:
    number, name = shown(value, unit, scales)
    places = decimals_shown(unit, scales, decimals) if unit in (name, "mS/cm") else max(decimals, 1)
    written = f"{number:.{places}f}"
    return written.rstrip("0").rstrip(".") if "." in written else written
