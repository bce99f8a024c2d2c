"""The term in numbers, in words: one section for each matter, alike on the screen, in lines and on paper.

Every figure has its unit, every section says what it means; its working and what it leaves out stand below it.
"""

from collections.abc import Iterator, Sequence
from datetime import date
from textwrap import shorten

from msgspec import Struct

from walkabout.growing.counting import counted
from walkabout.growing.crops import load
from walkabout.insight.supplies import Stock
from walkabout.insight.term_model import Cleared, CropHarvest, Term
from walkabout.reckon.write import digits, number, plainly

SHORT = 60
"""So many characters of a finding are shown."""
FOR_THE_TEACHER = "For the teacher alone: codes are people. It says who had turns, not who did well."
"""What stands beside rounds by code, wherever they are shown."""


class Row(Struct, frozen=True):
    """One line: what, how much with its unit, and a short remark."""

    name: str
    value: str
    remark: str = ""


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
    so_far = f", counted up to {_day(found.until)}" if found.until < found.last else ""
    so_far += f"; the first record is of {_day(found.begun)}" if found.begun else ""
    year = f"{found.last.year}"
    first = _day(found.first) + (f" {found.first.year}" if found.first.year != found.last.year else "")
    return f"{name[:1].upper()}{name[1:]}: {first} to {_day(found.last)} {year}{so_far}"


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
    rows = [
        Row("a portion", money(found, cost.portion) or "not known", "all costs below ÷ all portions"),
        Row("electricity", money(found, cost.energy) or "not known"),
        Row("water", money(found, cost.water) or "not known"),
        Row("supplies", money(found, cost.supplies) or "not known"),
        Row("together", money(found, cost.total) or "not known"),
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
    rows.append(Row("all lamps", f"{number(energy.kwh, 1)} kWh", money(found, energy.money)))
    # 4.19 kJ for each litre and °C, 85 °C warmer, about a tenth lost: arithmetic, the loss assumed
    return Section(
        key="energy", title="Electricity by lamp", rows=tuple(rows),
        means="Watts × hours on the timer. 1 kWh is what a kettle takes to boil about nine litres.",
        working=tuple(f"{one.key}: {says}" for one in energy.lamps for says in one.working),
        left_out=energy.left_out,
    )  # fmt: skip


def _water(found: Term) -> Section:
    water, solution = found.water, found.solution
    rows = [
        Row(
            one.name,
            f"{number(one.litres, 0)} L",
            f"{number(one.topped, 0)} L on top, {number(one.renewed, 0)} L renewed",
        )
        for one in water.tanks
    ]
    rows.append(Row("all water on record", f"{number(water.litres, 0)} L", money(found, water.money)))
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
            "not known" if one.amount is None else f"{_about(one.amount)} {one.unit}",
            money(found, one.money),
        )
        for one in found.supplies
    ]
    return Section(
        key="supplies", title="Supplies used", rows=tuple(rows) or (Row("none is on the list", ""),),
        means="What went from the shelf: between two counts as counted, since the last one as it usually goes.",
        working=tuple(f"{one.name}: {says}" for one in found.supplies for says in one.working),
    )  # fmt: skip


def _harvest(found: Term) -> Section:
    harvest = found.harvest
    rows = [Row(one.name, _grams(one.grams), _gave(one)) for one in harvest.crops]
    about = f", {number(harvest.by_weight, 1)} of them by weight" if harvest.by_weight else ""
    portions = f"{plainly(round(harvest.all_portions, 1))} portions{about}"
    rows.append(Row("all together", _grams(harvest.grams), portions))
    return Section(
        key="harvest", title="Harvest", rows=tuple(rows),
        means="What was picked to be eaten, fresh from the scales.",
        working=tuple(f"{one.name}: {says}" for one in harvest.crops for says in one.working),
        left_out=harvest.left_out,
    )  # fmt: skip


def _gave(one: CropHarvest) -> str:
    parts = [counted(one.plants, load().find(one.crop))] if one.plants else []
    if one.portions:
        parts.append(f"{plainly(one.portions)} portions")
    if one.by_weight:
        parts.append(f"about {number(one.by_weight, 1)} portions by weight")
    if one.noted_grams:
        parts.append(f"{_grams(one.noted_grams)} noted in words")
    if one.not_eaten:
        parts.append(f"{_grams(one.not_eaten)} not eaten")
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
        Row("together", _minutes(time.total)),
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


def shelf_row(one: Stock, currency: str) -> Row:
    """Say how a supply stands in one line."""
    left = f"{_about(one.now)} {one.supply.unit}"
    weeks = "" if one.weeks is None else f"{number(one.weeks, 0)} week{'' if round(one.weeks) == 1 else 's'}, "
    says = {
        "order now": "order now",
        "order soon": f"order by {_day(one.order_by or one.empty_by)}",
        "enough": "enough" if one.empty_by is None else f"until {_day(one.empty_by)}",
        "not known": "how fast it goes is not known",
    }[one.state]
    buy = ""
    if one.packs is not None and one.state in ("order now", "order soon"):
        price = f", {f'{currency} {number(one.cost)}'.strip()}" if one.cost is not None else ""
        buy = f": {one.packs} pack{'s' if one.packs != 1 else ''}{price}"
    return Row(one.supply.name, left, f"{weeks}{says}{buy}")


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


def _about(value: float) -> str:
    """Write what was reckoned with no more digits than it can hold: three, and never a fraction of a hundred."""
    return plainly(float(digits(value).replace("−", "-")))


def _grams(value: float) -> str:
    return f"{number(value / 1000, 2)} kg" if value >= 1000 else f"{number(value, 0)} g"


def _plants(count: int) -> str:
    return f"{count} plant{'s' if count != 1 else ''}"


def _minutes(value: float) -> str:
    whole = round(value)
    return f"{whole // 60} h {whole % 60} min" if whole >= 60 else f"{whole} min"


def _day(day: date | None) -> str:
    return "" if day is None else f"{day.day} {day:%b}"
