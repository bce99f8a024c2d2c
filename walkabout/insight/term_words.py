"""The term in numbers, in words: one section for each matter, alike on the screen, in lines and on paper.

Every figure has its unit, every section says what it means; its working and what it leaves out stand below it.
"""

from collections.abc import Iterator, Sequence
from textwrap import shorten

from msgspec import Struct

from walkabout.growing.counting import counted
from walkabout.growing.crops import load
from walkabout.growing.units import LITRES_PER_GALLON, Scales
from walkabout.insight.shelf_words import Row, amount_words, shelf_row
from walkabout.insight.term_model import Cleared, CropHarvest, Term
from walkabout.insight.term_units import rounded, short_day, volume, weight
from walkabout.reckon.write import number, plainly

SHORT = 60
"""So many characters of a finding are shown."""
FOR_THE_TEACHER = "For the teacher alone: codes are people. It says who had turns, not who did well."
"""What stands beside rounds by code, wherever they are shown."""


class Section(Struct, frozen=True, kw_only=True):
    """One matter. `means` says in a sentence what its numbers are."""

    key: str
    title: str
    means: str
    rows: tuple[Row, ...]
    working: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()


def headline(found: Term) -> str:
    """Name the span: 'Autumn term: 1 Sep to 18 Dec 2026, counted up to 25 Nov'."""
    name = found.name or "The span"
    so_far = f", counted up to {short_day(found.until, found.last)}" if found.until < found.last else ""
    so_far += f"; the first record is of {short_day(found.begun, found.last)}" if found.begun else ""
    first, last = short_day(found.first, found.last), f"{short_day(found.last, found.last)} {found.last.year}"
    return f"{name[:1].upper()}{name[1:]}: {first} to {last}{so_far}"


def sections(found: Term, *, codes: bool = False) -> tuple[Section, ...]:
    """Return every section; the rounds by code only where they are asked for."""
    every = (
        _cost(found), _energy(found), _water(found), _supplies(found), _harvest(found), _losses(found),
        _time(found), _findings(found), _buy(found),
    )  # fmt: skip
    return (*every, _codes(found)) if codes and found.codes else every


def money(found: Term, value: float | None) -> str:
    """Write money in the room's own currency; '' for none."""
    return "" if value is None else f"{found.currency} {number(value)}".strip()


def _cost(found: Term) -> Section:
    cost = found.cost
    parts = [cost.energy, cost.water, cost.supplies]
    rows = [
        Row("a portion", money(found, cost.portion) or "not known", "all costs below ÷ all portions"),
        Row("electricity", money(found, cost.energy) or "not known"),
        Row("water", money(found, cost.water) or "not known"),
        Row("supplies", money(found, cost.supplies) or "not known"),
        Row("together", money(found, cost.total) or "not known", _near(parts, cost.total, 2)),
    ]
    means = (
        "What a portion cost, as far as prices are known. Every lamp counts, those over plants that nobody eats too."
    )
    return Section(
        key="cost", title="Cost", means=means, rows=tuple(rows), working=cost.working, left_out=cost.left_out
    )


def _energy(found: Term) -> Section:
    energy = found.energy
    rows = [
        Row(one.key, f"{number(one.kwh, 1)} kWh", ", ".join(filter(None, (money(found, one.money), one.where))))
        for one in energy.lamps
    ]
    near = _near([one.money for one in energy.lamps], energy.money, 2)
    near = near or _near([one.kwh for one in energy.lamps], energy.kwh, 1)
    rows.append(Row("all lamps", f"{number(energy.kwh, 1)} kWh", _listed(money(found, energy.money), near)))
    nine = "two and a half US gallons" if found.scales.us else "nine litres"
    # 4.19 kJ for each litre and °C, 85 °C warmer, about a tenth lost: arithmetic, the loss assumed
    return Section(
        key="energy", title="Electricity by lamp", rows=tuple(rows),
        means=f"Watts × hours on the timer. 1 kWh is what a kettle takes to boil about {nine}.",
        working=tuple(f"{one.key}: {says}" for one in energy.lamps for says in one.working),
        left_out=energy.left_out,
    )  # fmt: skip


def _water(found: Term) -> Section:
    water, solution = found.water, found.solution
    rows = [
        Row(
            one.name,
            volume(one.litres, found.scales),
            _listed(
                f"{volume(one.topped, found.scales)} on top",
                f"{volume(one.renewed, found.scales)} renewed",
                _near_water([one.topped, one.renewed], one.litres, found.scales),
            ),
        )
        for one in water.tanks
    ]
    near = _near_water([one.litres for one in water.tanks], water.litres, found.scales)
    all_of_it = volume(water.litres, found.scales)
    rows.append(Row("all water on record", all_of_it, _listed(money(found, water.money), near)))
    if solution.doses:
        some = f"not known of {solution.unknown} of {len(solution.doses)} changes" if solution.unknown else ""
        amount = "not known" if solution.ml is None else f"{number(solution.ml, 0)} mL"
        each = f"of each of {solution.parts} parts" if solution.parts > 1 else "in all"
        rows.append(Row("concentrate in it", amount, "; ".join(filter(None, (each, some)))))
    working = [f"{one.name}: {says}" for one in water.tanks for says in one.working]
    return Section(
        key="water", title="Water and salts", rows=tuple(rows),
        means="What was poured in, and the tanks that were filled anew.",
        working=(*working, *(one.says for one in solution.doses)),
        left_out=(*water.left_out, *solution.left_out),
    )  # fmt: skip


def _supplies(found: Term) -> Section:
    rows = [
        Row(
            one.name,
            "not known" if one.amount is None else amount_words(one.amount, one.unit),
            money(found, one.money),
        )
        for one in found.supplies
    ]
    if found.cost.supplies is not None:
        near = _near([one.money for one in found.supplies], found.cost.supplies, 2)
        rows.append(Row("all with a price", money(found, found.cost.supplies), near))
    return Section(
        key="supplies", title="Supplies used", rows=tuple(rows) or (Row("none is on the list", ""),),
        means="What went from the shelf: between two counts as counted, since the last one as it usually goes.",
        working=tuple(f"{one.name}: {says}" for one in found.supplies for says in one.working),
    )  # fmt: skip


def _harvest(found: Term) -> Section:
    harvest = found.harvest
    rows = [Row(one.name, weight(one.grams, found.scales), _gave(one, found.scales)) for one in harvest.crops]
    about = f", {number(harvest.by_weight, 1)} of them by weight" if harvest.by_weight else ""
    portions = f"{plainly(round(harvest.all_portions, 1))} portions{about}"
    counted_, by_weight = ([one.portions for one in harvest.crops], [one.by_weight for one in harvest.crops])
    near = _near([*counted_, *by_weight], harvest.all_portions, 1)
    rows.append(Row("all together", weight(harvest.grams, found.scales), _listed(portions, near)))
    return Section(
        key="harvest", title="Harvest", rows=tuple(rows),
        means="What was picked to be eaten, fresh from the scales.",
        working=tuple(f"{one.name}: {says}" for one in harvest.crops for says in one.working),
        left_out=harvest.left_out,
    )  # fmt: skip


def _gave(one: CropHarvest, scales: Scales) -> str:
    parts = [counted(one.plants, load().find(one.crop))] if one.plants else []
    if one.portions:
        parts.append(f"{plainly(one.portions)} portions")
    if one.by_weight:
        parts.append(f"about {number(one.by_weight, 1)} portions by weight")
    if one.noted_grams:
        parts.append(f"{weight(one.noted_grams, scales)} noted in words")
    if one.not_eaten:
        parts.append(f"{weight(one.not_eaten, scales)} not eaten")
    return ", ".join(parts)


def _losses(found: Term) -> Section:
    losses = found.losses
    rows = [Row(one.why, _plants(one.plants)) for one in losses.whys]
    rows.append(Row("all losses", _plants(losses.plants)))
    if losses.composted:
        rows.append(Row("composted at their end", _plants(losses.composted), "no loss"))
    rows += [
        Row(one.why, f"{one.plants} finding{'s' if one.plants != 1 else ''}", "confirmed by an adult")
        for one in losses.causes
    ]
    return Section(
        key="losses", title="Losses by cause", rows=tuple(rows),
        means="Plants that were lost, and why, in the words of whoever wrote it down. Thinning out is no loss.",
    )  # fmt: skip


def _time(found: Term) -> Section:
    time, rounds = found.minutes, found.rounds
    besides = f"and {rounds.besides} on other days" if rounds.besides else ""
    unfinished = f"{rounds.unfinished} not walked to the end" if rounds.unfinished else ""
    remark = "; ".join(filter(None, (besides, unfinished)))
    rows = [
        Row("rounds walked", f"{rounds.walked} of {rounds.expected} days", remark),
        Row("walking", _minutes(time.walking), f"{time.rounds_without} without a time" if time.rounds_without else ""),
        Row("measuring", _minutes(time.measuring)),
        Row("jobs", _minutes(time.jobs), f"{time.jobs_done} done; the time is the planned one"),
        Row("together", _minutes(time.total), _near([time.walking, time.measuring, time.jobs], time.total, 0)),
    ]  # fmt: skip
    left_out = [f"{time.jobs_without} jobs of which nobody said how long they take."] if time.jobs_without else []
    return Section(
        key="time", title="Rounds and time", rows=tuple(rows),
        means="On how many open days somebody walked, and the time it all took.",
        working=(*rounds.working, *time.working), left_out=tuple(left_out),
    )  # fmt: skip


def _findings(found: Term) -> Section:
    one = found.findings
    rows = [
        Row("opened", str(one.opened)), Row("closed", str(one.closed)),
        Row("open at the end", str(one.still_open)),
        *([Row("cleared soonest", _took(one.quickest), _what(one.quickest))] if one.quickest else []),
        *([Row("cleared latest", _took(one.slowest), _what(one.slowest))] if one.slowest else []),
    ]  # fmt: skip
    means = "What was noticed as wrong, and how long it took until it was gone."
    return Section(key="findings", title="Findings", means=means, rows=tuple(rows))


def _took(one: Cleared) -> str:
    hours = one.days * 24
    return f"{number(hours, 0)} h" if hours < 36 else f"{number(one.days, 0)} days"


def _what(one: Cleared) -> str:
    says = one.seen.partition(". ")[0]
    return f"{one.station}: {shorten(says, SHORT, placeholder=' …')}"


def _buy(found: Term) -> Section:
    others = [one for one in found.shelf if one not in found.buy]
    rows = [shelf_row(one, found.currency) for one in (*found.buy, *others)]
    return Section(
        key="buy", title="On the shelf, and what to buy",
        means="How long each lasts at the rate at which it goes; it is to be there before a closure begins.",
        rows=tuple(rows) or (Row("nothing is on the list", ""),),
        working=tuple(f"{one.supply.name}: {says}" for one in found.shelf for says in one.working),
    )  # fmt: skip


def _codes(found: Term) -> Section:
    rows = tuple(
        Row(one.code, f"{one.rounds} round{'s' if one.rounds != 1 else ''}", _minutes(one.minutes))
        for one in found.codes
    )  # fmt: skip
    return Section(key="codes", title="Rounds by code", means=FOR_THE_TEACHER, rows=rows)


def texts(rows: Sequence[Row]) -> Iterator[str]:
    """Yield rows as lines that each stand alone."""
    for row in rows:
        remark = f" ({row.remark})" if row.remark and row.value else row.remark
        yield f"{row.name}: {row.value}{remark}".rstrip(": ")


def _near(parts: Sequence[float | None], total: float | None, decimals: int) -> str:
    """Say 'rounded' where the parts as shown do not add up to the total as shown."""
    return "" if total is None else rounded((one for one in parts if one is not None), total, decimals)


def _near_water(litres: Sequence[float], total: float, scales: Scales) -> str:
    size = LITRES_PER_GALLON if scales.us else 1.0
    return rounded((one / size for one in litres), total / size, 1 if scales.us else 0)


def _listed(*parts: str) -> str:
    return ", ".join(filter(None, parts))


def _plants(count: int) -> str:
    return f"{count} plant{'s' if count != 1 else ''}"


def _minutes(value: float) -> str:
    whole = round(value)
    return f"{whole // 60} h {whole % 60} min" if whole >= 60 else f"{whole} min"
