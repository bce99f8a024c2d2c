"""A station in words: in one line for the list, and in full for the one that is pointed at."""

from textual.content import Content

from walkabout.growing.bands import Shared, wanted
from walkabout.growing.units import Scales, words
from walkabout.jobs.findings import still_open
from walkabout.jobs.plantings import in_words
from walkabout.records.model import Finding, Planting
from walkabout.room.model import Lamp, Pump, Station
from walkabout.round.here import stand_at
from walkabout.round.opened import OpenRoom
from walkabout.round.wants import IN_SOLUTION
from walkabout.round.words import day_words
from walkabout.screens.text import GLYPHS, STYLES, fitted, gravest_of, lines, plain
from walkabout.screens.widgets.plantinglines import told, warned

NAME = (12, 22)
"""The narrowest and the widest column of names."""
SHORT = 18
FOUND = 12
QUANTITIES = (("pH", "pH"), ("EC", "mS/cm"), ("air temperature", "°C"), ("humidity", "%"))
"""What a station's plantings are asked for together, with the unit of the crop table."""
LABELS = {"air temperature": "air"}


def standing_at(opened: OpenRoom, station: str) -> list[Planting]:
    """Return what grows at a station, the oldest first."""
    here = [one for one in opened.plantings.values() if one.ended is None and one.station == station]
    return sorted(here, key=lambda one: (one.sown, one.key))


def findings_at(opened: OpenRoom, station: str) -> list[Finding]:
    """Return the open findings at a station, the oldest first."""
    return [one for one in still_open(opened.findings.values()) if one.station == station]


def station_row(opened: OpenRoom, key: str, width: int) -> Content:
    """Return a station in one line of `width` cells: name, what grows, its kit in short, findings."""
    station, today = opened.room.station(key), opened.today()
    grows = "; ".join(in_words(one, opened.crops, today) for one in standing_at(opened, key))
    if station is None:
        grows = "as a whole: door, air, meters, safety"
    short = _short(opened, station) if station else ""
    name = min(max(NAME[0], *(Content(one.name).cell_length for one in opened.room.stations)), NAME[1])
    found = FOUND if width > 90 else 4
    side = SHORT + 2 if width > 64 else 0
    left = max(width - name - side - found - 2, 8)
    return Content("").join(
        [
            plain(fitted(opened.name_of(key), name)),
            plain("  " + fitted(grows or "nothing grows here", left), "" if grows and station else "$muted"),
            plain(fitted(f"  {short}", side), "$muted"),
            _found(findings_at(opened, key), found),
        ]
    )


def _short(opened: OpenRoom, station: Station) -> str:
    room = opened.room
    parts = [f"{room.lamps[key].hours:g} h" for key in station.lamps[:1] if key in room.lamps]
    if station.tank in room.tanks:
        parts.append(words(room.tanks[station.tank].litres, "L", opened.scales, 0))
    parts += list(dict.fromkeys(f"{room.pumps[key].moves}" for key in station.pumps if key in room.pumps))
    return " · ".join(parts)


def _found(findings: list[Finding], width: int) -> Content:
    if not findings:
        return plain(" " * width)
    worst = gravest_of(one.verdict for one in findings)
    words = f" finding{'s' if len(findings) != 1 else ''}" if width == FOUND else ""
    return plain(fitted(f"{GLYPHS[worst]} {len(findings)}{words}", width), STYLES[worst])


def station_page(opened: OpenRoom, key: str, width: int, *, airy: bool = False) -> Content:
    """Return all that is known of a station, `width` cells wide; `airy` sets its parts apart."""
    station = opened.room.station(key)
    parts = [_findings(opened, key, width)]
    if station is not None:
        parts += [_plantings(opened, key, width), _together(opened, station, width)]
    kit = _kit(opened, station) if station else [", ".join(opened.room.kit)] if opened.room.kit else []
    if kit:
        parts.append([plain("Kit", "$accent-text"), *(_hung(plain("  "), plain(one, "$muted"), width) for one in kit)])
    between = [plain("")] if airy else []
    rows = [plain(opened.name_of(key).upper(), "$accent-text bold")]
    for part in parts:
        rows += [*between, *part] if part else []
    return lines(rows)


def _hung(first: Content, text: Content, width: int) -> Content:
    """Return text that begins behind `first` and goes on below its own beginning."""
    indent = first.cell_length
    wrapped = text.wrap(max(width - indent - 1, 12)) or [plain("")]
    return lines([first + wrapped[0], *(plain(" " * indent) + more for more in wrapped[1:])])


def _kit(opened: OpenRoom, station: Station) -> list[str]:
    room, found = opened.room, []
    found += [_lamp(key, room.lamps[key]) for key in station.lamps if key in room.lamps]
    if station.tank in room.tanks:
        tank = room.tanks[station.tank]
        sharing = [one.name for one in room.stations if one.tank == station.tank and one.key != station.key]
        shared = f", shared with {' and '.join(sharing)}" if sharing else ""
        litres = words(tank.litres, "L", opened.scales, 0)
        found.append(f"Tank {station.tank}: {litres}, changed every {tank.change_days} days{shared}")
    found += [_pump(key, room.pumps[key], scales=opened.scales) for key in station.pumps if key in room.pumps]
    if station.kit:
        found.append(", ".join(station.kit))
    if station.places is not None:
        found.append(f"{station.places} places")
    if station.note:
        found.append(station.note)
    return found


def _lamp(key: str, lamp: Lamp) -> str:
    watts = f", {lamp.watts:g} W" if lamp.watts else ""
    return f"Lamp {key}: {lamp.kind}{watts}, {lamp.hours:g} hours a day from {lamp.on}"


def _pump(key: str, pump: Pump, *, scales: Scales) -> str:
    flow = f", {words(pump.litres_per_hour, 'L', scales, 0)} an hour" if pump.litres_per_hour else ""
    return f"Pump {key}: moves {pump.moves}{flow}{', with a spare' if pump.spare else ''}"


def _together(opened: OpenRoom, station: Station, width: int) -> list[Content]:
    """Say what the plantings want together; for what the solution carries, everything on the tank counts."""
    plantings = list(opened.plantings.values())
    places = {one.key: stand_at(opened.room, one, plantings, opened.crops) for one in opened.room.stations}
    here = places[station.key]
    rows = []
    for quantity, unit in QUANTITIES:
        on_tank = [places[key] for key in here.sharing] if quantity in IN_SOLUTION else [here]
        crops = {crop.key: crop for place in on_tank for crop in place.crops}
        found = wanted(crops.values(), quantity)
        if found is None:
            continue
        label = fitted(LABELS.get(quantity, quantity), 10)
        says = plain(_shared_words(found, unit, scales=opened.scales), "$watch" if found.conflict else "")
        rows.append(_hung(plain(f"  {label}"), says, width))
    return [plain("What they want together", "$accent-text"), *rows] if rows else []


def _shared_words(found: Shared, unit: str, *, scales: Scales) -> str:
    """Say a common range with who sets it, shorter where one crop sets both ends; or the conflict."""
    says = found.says(unit, scales=scales)
    if found.conflict:
        return f"Conflict: {says}"
    if (found.least.names, found.least.sources) == (found.most.names, found.most.sources):
        span = says.partition(":")[0]
        says = f"{span}, as {' and '.join(found.least.names)} likes it ({'; '.join(found.least.sources)})"
        if len(found.least.names) > 1:
            says = says.replace(" likes it", " like it")
    return says.removeprefix("pH ")


def _plantings(opened: OpenRoom, key: str, width: int) -> list[Content]:
    today, rows = opened.today(), []
    for one in standing_at(opened, key):
        label = f", label {one.label}" if one.label else ""
        rows.append(_hung(plain("  "), plain(f"{in_words(one, opened.crops, today)}{label}"), width))
        rows.append(_hung(plain("    "), plain(_moves(opened, one), "$muted"), width))
        if since := told(opened, one):
            rows.append(_hung(plain("    "), plain(since, "$muted"), width))
        rows += [_hung(plain("    ▴ ", "$watch"), plain(says, "$watch"), width) for says in warned(opened, one)]
        if one.apart_until is not None and one.apart_until > today:
            until = f"{one.apart_until.day} {one.apart_until:%b}"
            rows.append(
                _hung(plain("    ▴ ", "$watch"), plain(f"kept apart until {until}, from outside", "$watch"), width)
            )
    return (
        [plain("Plantings", "$accent-text"), *rows]
        if rows
        else [plain("Nothing grows here. Press a to add a planting.")]
    )


def _moves(opened: OpenRoom, planting: Planting) -> str:
    today = opened.today()
    begun = "brought in" if planting.brought_in else "sown"
    first = f"{begun} {day_words(planting.moves[0].day if planting.brought_in else planting.sown, today)}"
    steps = [f"{opened.name_of(one.station)} {day_words(one.day, today)}" for one in planting.moves[1:]]
    return " → ".join([f"{first} at {opened.name_of(planting.moves[0].station)}", *steps])


def _findings(opened: OpenRoom, key: str, width: int) -> list[Content]:
    rows = []
    for one in findings_at(opened, key):
        seen = f"{day_words(one.at.date(), opened.today())} by {one.by or 'somebody'}"
        again = f", look again {day_words(one.recheck, opened.today())}" if one.recheck else ""
        mark = plain(f"  {GLYPHS[one.verdict]} ", STYLES[one.verdict])
        says = Content("").join(
            [plain(f"{one.verdict}: ", STYLES[one.verdict]), plain(one.seen), plain(f"  {seen}{again}", "$muted")]
        )
        rows.append(_hung(mark, says, width))
    return [plain("Open findings", "$accent-text"), *rows] if rows else []
