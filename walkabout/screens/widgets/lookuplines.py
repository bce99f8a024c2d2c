"""The lines of a lookup: what is known, what it may be, what to do. They only lay out what the lookup says."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from textual.content import Content

from walkabout.growing.units import Scales
from walkabout.jobs.make import caution_of
from walkabout.room.model import Who
from walkabout.screens.text import GLYPHS, STYLES, fitted, plain
from walkabout.screens.widgets.blocks import Block
from walkabout.screens.widgets.pointed import cells

if TYPE_CHECKING:  # the knowledge's arithmetic is loaded only when a lookup opens
    from walkabout.diagnosis.consult import Ranked
    from walkabout.diagnosis.plan import ToDo
    from walkabout.round.lookup import Lookup

ROOMY = 52
"""From so many cells on, what is often behind it stands under every cause, not only under the one pointed at."""
BAR, LONG_BAR = 4, 10
"""Cells of the bar on a narrow and on a wide window: the names need the room more."""
FULL, EMPTY = "━", "·"
"""Cells of a bar; they differ in shape, not only in colour."""
WHEN = {"now": "Safe to do now", "next": "Next", "if it stays": "If it stays"}
MARKS = {True: ("+", "$good"), False: ("−", "$act")}


def sign_line(name: str, *, present: bool, more: str = "") -> Content:
    """Return a sign with its mark; one that is not there says so in words too."""
    mark, style = MARKS[present]
    said = "" if present else " (not there)"
    return Content("").join([plain(f"{mark} ", style), plain(name), plain(f"{said}{more}", "$muted")])


class Around(Struct, frozen=True):
    """What a lookup stands in: who walks, in which units, what was missed just now, what happened lately."""

    allowed: frozenset[Who]
    """Whose work this walker may do."""
    scales: Scales
    missed: str = ""
    """What was not understood of the last line."""
    offered: tuple[str, ...] = ()
    """The signs nearest to it, by key."""
    lately: tuple[str, ...] = ()
    """What happened at the station lately, a line each."""


def reading_line(lookup: "Lookup", measure: str, value: float, scales: Scales) -> str:
    """Say a reading with its name and unit, as the room shows it."""
    from walkabout.round.lookup_typed import reading_said  # noqa: PLC0415 - with the knowledge

    return reading_said(lookup.ready.known.measures[measure], value, scales)


def check_unit(lookup: "Lookup", scales: Scales) -> str:
    """Return the unit of the number that is asked for now; '' when none is, or it has none."""
    from walkabout.round.lookup_typed import unit_of  # noqa: PLC0415 - with the knowledge

    check = lookup.answer().next_check
    return unit_of(lookup.ready.known.measures[check.key], scales) if check and check.reading else ""


def crop_name(lookup: "Lookup", crop: str) -> str:
    """Return the crop's name as it stands in a list."""
    entry = lookup.ready.known.crops.get(crop)
    return entry.name if entry else crop


# what is known


def known_blocks(lookup: "Lookup", around: Around) -> list[Block]:
    """Return the left list: what was not understood with the nearest signs, the signs, the crop, the readings."""
    known, blocks = lookup.ready.known, []
    if around.missed:
        ask = (plain("Was it one of these?", "$watch"),) if around.offered else ()
        blocks.append(Block((plain(f"Not understood: {around.missed}.", "$watch"), *ask)))
        blocks += [
            Block((Content("").join([plain("? ", "$watch"), plain(known.signs[key].name)]),), f"offer:{key}", 2)
            for key in around.offered
        ]
    blocks += [Block((sign_line(one.name, present=one.present),), f"sign:{one.key}", 2) for one in lookup.seen()]
    if lookup.crop:
        blocks.append(Block((plain(f"crop: {crop_name(lookup, lookup.crop)}", "$muted"),), "crop:"))
    blocks += [
        Block((plain(reading_line(lookup, measure, value, around.scales), "$muted"),), f"reading:{measure}", 2)
        for measure, value in lookup.readings.items()
    ]
    if around.lately:
        blocks.append(
            Block((plain(""), plain("Here lately", "$accent-text"), *(plain(one, "$muted") for one in around.lately)))
        )
    return blocks or [Block((plain("Nothing yet. Say it in your own words, or take it from the list.", "$muted"),))]


def preview(lookup: "Lookup", text: str, scales: Scales) -> Content:
    """Return what is understood so far of the text that is being typed."""
    from walkabout.diagnosis.wording import read_text  # noqa: PLC0415 - with the knowledge

    known, rows, read = lookup.ready.known, [], read_text(lookup.ready.wording, text)
    for found in read.signs:
        entry = known.signs.get(found.sign) or known.generals[found.sign]
        rows.append(sign_line(entry.name, present=found.present))
    if read.crop and read.crop != lookup.crop:
        rows.append(plain(f"crop: {crop_name(lookup, read.crop)}", "$muted"))
    rows += [plain(reading_line(lookup, measure, value, scales), "$muted") for measure, value, _ in read.readings]
    if read.not_understood:
        rows.append(plain(f"not understood so far: {', '.join(read.not_understood)}", "$muted"))
    return Content("\n").join(rows)


# what it may be


def cause_blocks(causes: Sequence["Ranked"], pointed: str, width: int) -> list[Block]:
    """Return a block for each cause: how likely, why, what is often behind it; the one pointed at in full."""
    return [Block((*_head(one, width), *_why(one, width, in_full=one.key == pointed)), one.key) for one in causes]


def _head(one: "Ranked", width: int) -> list[Content]:
    """Return the name and how likely it is; where the name is too long for one line, under each other."""
    percent = f"{one.probability * 100:.0f} %" if one.probability >= 0.01 else "<1 %"
    room = LONG_BAR if width >= ROOMY else BAR
    filled = round(one.probability * room)
    name, beside = _capital(one.name), width - room - 16
    bar = Content("").join([
        plain(FULL * filled, "$accent-text"), plain(EMPTY * (room - filled), "$muted"),
        plain(f" {percent:>5} {fitted(one.word, 8)}"),
    ])  # fmt: skip
    if plain(name).cell_length > beside:
        return [*plain(name, "bold").wrap(width), bar]
    return [Content("").join([plain(f"{cells(name, beside)} ", "bold"), bar])]


def _why(one: "Ranked", width: int, *, in_full: bool) -> list[Content]:
    """Return what speaks most for and most against it, and what in general is often behind it."""
    both = (("for it", one.speaks_for), ("against it", one.speaks_against))
    sides = [f"{says}: {weighed[0].name}" for says, weighed in both if weighed]
    reason = [f"often behind it: {one.reasons[0].name}"] if one.reasons else []
    if not in_full:
        sides = [_both(sides, width - 2)] if sides else []
    rows = sides + reason if in_full or width >= ROOMY else sides or reason
    return [plain(f"  {fitted(row, width - 2).rstrip()}", "$muted") for row in rows]


def _both(sides: Sequence[str], width: int) -> str:
    """Put what speaks for and against into one line; where it is too long, each gives up the same."""
    if len(sides) == 2 and len(sides[0]) + len(sides[1]) + 2 > width:
        room = max((width - 2) // 2, width - 2 - len(sides[1]))
        return f"{fitted(sides[0], room).rstrip()}; {sides[1]}"
    return "; ".join(sides)


def _capital(text: str) -> str:
    return text if text.startswith("pH") else f"{text[:1].upper()}{text[1:]}"


# what to do


def step_lines(do: Sequence["ToDo"], allowed: frozenset[Who], width: int) -> Content:
    """Return the steps by when, each with who may do it and its caution. `allowed`: whose work this walker may do."""
    from walkabout.round.lookup_pages import closed  # noqa: PLC0415 - with the knowledge

    rows: list[Content] = []
    room = max(width - 12, 20)
    for when, head in WHEN.items():
        these = [one for one in do if one.when == when]
        if these:
            rows.append(plain(head, "$accent-text"))
        for one in these:
            who = "anybody" if one.who == "pupil" else one.who
            wrapped = plain(closed(one.step)).wrap(room)
            first = wrapped[0].pad_right(max(room - wrapped[0].cell_length, 0))
            rows.append(
                Content("").join(
                    [plain("  "), first, plain(f" {who}", "$muted" if one.who in allowed else "$watch bold")]
                )
            )
            rows += [plain("  ").append(line) for line in wrapped[1:]]
            if said := caution_of(one):
                rows += [plain("  ").append(line) for line in plain(f"Caution: {closed(said)}", "$watch").wrap(room)]
    return Content("\n").join(rows) if rows else plain("Nothing needs to be done yet.", "$muted")


def stop_lines(lookup: "Lookup", width: int) -> Content | None:
    """Return what comes before everything where words of danger to people were typed; None else."""
    from walkabout.round.lookup_pages import todo_words  # noqa: PLC0415 - with the knowledge
    from walkabout.round.lookup_shown import STOP, danger  # noqa: PLC0415 - with the knowledge

    step = danger(lookup)
    if step is None:
        return None
    rows = [plain(f"{GLYPHS['stop']} {STOP.upper()}", STYLES["stop"]), *plain(todo_words(step), "bold").wrap(width)]
    return Content("\n").join(rows)
