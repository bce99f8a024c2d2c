"""What the room gave and lost within a span of days, and what a portion cost."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date

from msgspec import Struct

from walkabout.growing.crops import Crop
from walkabout.growing.harvest import load
from walkabout.growing.units import Scales
from walkabout.insight.supply_used import Used
from walkabout.insight.term_kept import Kept
from walkabout.insight.term_model import Cost, CropHarvest, Energy, Harvest, Losses, Lost, WaterUse
from walkabout.insight.term_time import without_codes
from walkabout.insight.term_units import in_ounces, rounded, scales_of
from walkabout.reckon.write import number, plainly
from walkabout.records.model import Picking, Planting
from walkabout.records.sums import HARVESTED, THINNED

PICKED = "picked"
"""What the line of a picking begins with in the history of its planting; 'picked, composted: ...' was not eaten."""
DIED, COMPOSTED = "died", "composted"
"""What the reason of a planting begins with that ended so."""
NO_REASON = "not known"
_WEIGHT = re.compile(r"(?<![\w.,])(\d{1,6}(?:[.,]\d{1,3})?)\s?(g|kg)(?!\w)")


def harvest(kept: Kept, first: date, last: date) -> Harvest:
    """Return what was picked, by crop: whole plants, grams, portions.

    Portions that were not counted are reckoned from the weight where the crop table has a portion. A weight that only
    stands in the words typed when a planting ended is shown apart and is in no sum.
    """
    found: dict[str, _Sum] = {}
    for planting in kept.plantings:
        crop = kept.crops.find(planting.crop)
        one = found.setdefault(planting.crop, _Sum(planting.crop, crop, scales_of(kept.room)))
        for picking, eaten in picked(planting):
            if first <= picking.day <= last:
                one.add(picking, eaten=eaten)
        if planting.ended is not None and first <= planting.ended <= last and planting.reason.startswith(HARVESTED):
            one.end(planting)
    crops = tuple(one.row() for one in sorted(found.values(), key=lambda each: each.name) if one.gave)
    uncounted = sum(one.uncounted for one in found.values())
    left_out = []
    if uncounted:
        left_out.append(f"{uncounted} picking{'s' if uncounted > 1 else ''} neither weighed nor counted in portions.")
    if any(one.noted_grams for one in crops):
        left_out.append("Weights that only stand in the words of an ending: they are shown, and are in no sum.")
    return Harvest(
        crops=crops,
        plants=sum(one.plants for one in crops),
        grams=sum(one.grams for one in crops),
        portions=sum(one.portions for one in crops),
        by_weight=sum(one.by_weight for one in crops),
        left_out=tuple(left_out),
    )


def picked(planting: Planting) -> Iterator[tuple[Picking, bool]]:
    """Yield each picking, and whether it was picked to be eaten: the lines of the history say what became of it."""
    lines = [one.says for one in planting.history if one.says.startswith(PICKED)]
    lines = lines[-len(planting.pickings) :] if len(lines) >= len(planting.pickings) else []
    for at, picking in enumerate(planting.pickings):
        yield picking, not (lines and lines[at].startswith(f"{PICKED}, "))


class _Sum:
    """What one crop gave, while it is added up."""

    def __init__(self, key: str, crop: Crop | None, scales: Scales) -> None:
        self.key, self.scales = key, scales
        self.name = crop.name if crop else key
        portion = load().portion.get(crop.group) if crop is not None and crop.eaten else None
        self.portion = portion.value if portion is not None else None
        self.plants = self.uncounted = self.times = 0
        self.grams = self.portions = self.weighed = self.noted = self.not_eaten = 0.0
        self.gave = False

    def add(self, one: Picking, *, eaten: bool) -> None:
        """Take in a picking."""
        self.gave = True
        if not eaten:
            self.not_eaten += one.grams or 0.0
            return
        self.times += 1
        self.plants += one.count
        self.grams += one.grams or 0.0
        self.portions += one.portions or 0.0
        if one.portions is None and one.grams is not None and self.portion:
            self.weighed += one.grams
        self.uncounted += one.portions is None and one.grams is None

    def end(self, planting: Planting) -> None:
        """Take in a planting that ended as harvested: the plants that stood then, and a weight in its words."""
        if planting.count:
            self.gave = True
            self.plants += planting.count
        if not planting.pickings and (grams := noted_grams(planting.reason)) is not None:
            self.gave = True
            self.noted += grams

    def row(self) -> CropHarvest:
        """Return the sums."""
        by_weight = self.weighed / self.portion if self.portion else 0.0
        lines = []
        if self.times:
            lines.append(f"{self.times} picking{'s' if self.times > 1 else ''}: {self._weighed(self.grams)}")
        if by_weight and self.portion:
            part = f"{plainly(self.weighed)} g not counted in portions ÷ {plainly(self.portion)} g a portion"
            lines.append(f"{part} = {number(by_weight, 1)} portions")
        if self.noted:
            lines.append(f"{self._weighed(self.noted)} read from the words of an ending, in no sum")
        return CropHarvest(
            crop=self.key, name=self.name, plants=self.plants, grams=self.grams, portions=self.portions,
            by_weight=by_weight, portion_grams=self.portion, noted_grams=self.noted, not_eaten=self.not_eaten,
            working=tuple(lines),
        )  # fmt: skip

    def _weighed(self, grams: float) -> str:
        return f"{plainly(grams)} g{in_ounces(grams, self.scales)}"


def noted_grams(reason: str) -> float | None:
    """Return the one weight in the words of a harvest ('harvested: 12 heads, 620 g'), g; None for none or several."""
    found = _WEIGHT.findall(reason) if reason.startswith(f"{HARVESTED}:") else []
    if len(found) != 1:
        return None
    value, unit = found[0]
    if unit == "g" and "," in value and len(value.partition(",")[2]) == 3:
        value = value.replace(",", "")  # 1,250 g: nobody weighs thousandths of a gram
    return float(value.replace(",", ".")) * (1000 if unit == "kg" else 1)


def losses(kept: Kept, first: date, last: date) -> Losses:
    """Return the plants that were lost, by why; what was thinned out on purpose is no loss."""
    whys: Counter[str] = Counter()
    composted = 0
    for planting in kept.plantings:
        for loss in planting.losses:
            if loss.why != THINNED and first <= loss.day <= last:
                whys[_why(without_codes(loss.why, kept.room))] += loss.count
        if planting.ended is None or not first <= planting.ended <= last:
            continue
        how, _, why = planting.reason.partition(": ")
        if how == DIED:
            whys[_why(without_codes(why, kept.room))] += planting.count
        elif how == COMPOSTED:
            composted += planting.count
    seen = [one for one in kept.findings if one.cause and first <= one.at.date() <= last]
    causes = Counter(kept.causes.get(one.cause, one.cause.replace("-", " ")) for one in seen)
    return Losses(whys=_rows(whys), plants=sum(whys.values()), causes=_rows(causes), composted=composted)


def _why(typed: str) -> str:
    return " ".join(typed.casefold().split()) or NO_REASON


def _rows(counted: Counter[str]) -> tuple[Lost, ...]:
    return tuple(Lost(why, count) for why, count in sorted(counted.items(), key=lambda one: (-one[1], one[0])) if count)


class _Part(Struct, frozen=True):
    name: str
    money: float | None


def cost(energy: Energy, water: WaterUse, supplies: Iterable[Used], reaped: Harvest) -> Cost:
    """Return what it cost as far as prices are known, and that by portion; what is left out is said."""
    used = list(supplies)
    priced = [one.money for one in used if one.money is not None]
    parts = (
        _Part("electricity", energy.money),
        _Part("water", water.money),
        _Part("supplies", sum(priced) if priced else None),
    )
    known = [one.money for one in parts if one.money is not None]
    total = sum(known) if known else None
    portions = reaped.all_portions
    left_out = [f"No money is known for {one.name}." for one in parts if one.money is None]
    left_out += [one.says for one in used if one.says]
    left_out.append("Work, the room itself, lamps and kit: they are in no sum.")
    lines = []
    if total is not None:
        sums = " + ".join(f"{one.name} {number(one.money)}" for one in parts if one.money is not None)
        near = rounded(known, total, 2)
        lines.append(f"{sums} = {number(total)}{f', {near}' if near else ''}")
    portion = total / portions if total is not None and portions > 0 else None
    if portion is not None and total is not None:
        more = f", {number(reaped.by_weight, 1)} of them reckoned from weight" if reaped.by_weight else ""
        lines.append(f"{number(total)} ÷ {number(portions, 1)} portions{more} = {number(portion)}")
    return Cost(
        energy=energy.money, water=water.money, supplies=parts[2].money, total=total, portion=portion,
        left_out=tuple(left_out), working=tuple(lines),
    )  # fmt: skip
