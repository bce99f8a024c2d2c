"""Reckonings of a lamp's bill, and of one lamp against another."""

from msgspec.structs import replace

from walkabout.growing import lamps as of
from walkabout.reckon.daily_light import HOURS
from walkabout.reckon.in_full import in_full
from walkabout.reckon.lamps import INSTALLING
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_lamp import EFFICACY, MAYBE_LAMP, PRICE, WATTS, minding_lamp, pence, read_efficacy
from walkabout.reckon.write import amount, number

SPANS = (("day", "in a day", 1), ("week", "in a week", 7), ("term", "in a term", of.TERM_DAYS))
_MONEY = "money is that of the price"


def work_lamp_cost(watts: float, hours: float, price: float | None, days: float | None) -> Reckoned:
    """Work out the electricity of a lamp and what it costs."""
    day = of.kwh(watts, hours)
    lines = [f"electricity = {in_full(watts)} W × {in_full(hours)} h ÷ 1000 = {in_full(day, 'kWh')} a day"]
    results: dict[str, Result] = {}
    if days is not None:
        whole = of.kwh(watts, hours, days)
        span = amount(days, "days")
        if price is not None:
            results["cost"] = Result(whole * price, "", 2, f"cost in {span}")
        results["energy"] = Result(whole, "kWh", 2, f"electricity in {span}")
        lines.append(f"in {span}: {in_full(day)} × {in_full(days)} = {in_full(whole, 'kWh')}")
        if price is not None:
            lines.append(f"cost in {span} = {in_full(whole)} × {in_full(price)} = {number(whole * price, 2)}")
    if price is not None:
        lines.append(f"cost of a day = {in_full(day)} kWh × {in_full(price)} = {number(day * price, 3)}")
        results |= {f"cost_{name}": Result(day * many * price, "", 2, f"cost {says}") for name, says, many in SPANS}
    results |= {f"energy_{name}": Result(day * many, "kWh", 2, f"electricity {says}") for name, says, many in SPANS}
    lines.append(f"taken: a term = 13 weeks = {of.TERM_DAYS} days")
    says = [*pence(price), *_bill(day, price, days)]
    if price is None and day > 0:
        says.append("Give price= to see what it costs.")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"definition of the kWh; a term of 13 weeks: assumed; {_MONEY}",
        says=tuple(says),
        cautions=(INSTALLING,) if day > 0 else (),
    )


def _bill(day: float, price: float | None, days: float | None) -> tuple[str, ...]:
    """Say what it takes and costs, in the days that were asked for first; `day` is the kWh of one day."""
    if price is None:
        asked = f"In {amount(days, 'days')} it takes {amount(day * days, 'kWh', 2)}. " if days is not None else ""
        return (f"{asked}In a term it takes {amount(day * of.TERM_DAYS, 'kWh', 0)}.",)
    asked = f"It costs {number(day * days * price, 2)} in {amount(days, 'days')}. " if days is not None else ""
    term, week = number(day * price * of.TERM_DAYS, 2), number(day * price * 7, 2)
    return (f"{asked}It costs {term} in a term, {week} in a week.",)


def work_lamp_against_lamp(
    watts: float | None,
    efficacy: float | None,
    lamp: str | None,
    other_watts: float | None,
    other_efficacy: float | None,
    other_lamp: str | None,
    hours: float | None,
    price: float | None,
    days: float,
) -> Reckoned:
    """Hold one lamp against another, for the same photons."""
    one, taken, source = read_efficacy(efficacy, lamp)
    two, other_taken, other_source = read_efficacy(other_efficacy, other_lamp, "other_efficacy")
    saved = of.saving(one, two)
    lines = [*([f"the first: {taken}"] if taken else []), *([f"the other: {other_taken}"] if other_taken else [])]
    lines.append(f"saving = 100 × (1 − {in_full(one)} ÷ {in_full(two)}) = {amount(saved, '%', 1)}")
    verdict = "the other saves" if saved > 0 else "the first saves" if saved < 0 else "no difference"
    results = {
        "saving": Result(saved, "%", 1, "electricity saved by the other"),
        "verdict": Result(verdict, says="which is better"),
    }
    says = [_saves(saved)]
    if watts is not None:
        _watts(watts, one, other_watts, two, results, lines, says)
    elif other_watts is not None:
        raise ValueError("give watts= of the first lamp beside other_watts=, or leave both out")
    if watts is not None and hours is not None:
        _bills(watts, watts * one / two, hours, price, days, results, lines, says)
    sources = dict.fromkeys((source, other_source))
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"same photons for less electricity: 1 − old ÷ new efficacy; {'; '.join(sources)}; {_MONEY}",
        says=(*(pence(price) if watts is not None and hours is not None else ()), *says),
        cautions=tuple(
            dict.fromkeys(
                (*((INSTALLING,) if saved > 0 else ()), *minding_lamp(lamp), *minding_lamp(other_lamp)),
            )
        ),
    )


def _saves(saved: float) -> str:
    if saved == 0:
        return "Both lamps take as much electricity for the same light."
    if saved > 0:
        return f"For the same light the other lamp takes {number(saved, 0)} % less electricity."
    return f"For the same light the other lamp takes {number(-saved, 0)} % more electricity: keep the first."


def _watts(
    watts: float,
    one: float,
    other_watts: float | None,
    two: float,
    results: dict[str, Result],
    lines: list[str],
    says: list[str],
) -> None:
    """Say how many watts of the other lamp give as much, and what two lamps that were named give."""
    photons = of.output(watts, one)
    same = photons / two
    results["output"] = Result(photons, "µmol/s", 1, "photons of the first")
    results["same_watts"] = Result(same, "W", 1, "the other, for as much light")
    lines.append(f"the first gives {in_full(watts)} W × {in_full(one)} = {in_full(photons, 'µmol/s')}")
    lines.append(f"the other gives as much with {in_full(photons)} ÷ {in_full(two)} = {in_full(same, 'W')}")
    if other_watts is None:
        return
    others = of.output(other_watts, two)
    results["other_output"] = Result(others, "µmol/s", 1, "photons of the other")
    lines.append(f"the other gives {in_full(other_watts)} W × {in_full(two)} = {in_full(others, 'µmol/s')}")
    if photons > 0:
        share = 100 * others / photons
        results["light_share"] = Result(share, "%", 1, "light of the other against the first")
        lines.append(f"light: 100 × {in_full(others)} ÷ {in_full(photons)} = {amount(share, '%', 1)} of the first")
        says.append(f"As they are, the other gives {number(share, 0)} % of the light of the first.")


def _bills(
    watts: float,
    same: float,
    hours: float,
    price: float | None,
    days: float,
    results: dict[str, Result],
    lines: list[str],
    says: list[str],
) -> None:
    """Add the electricity of both lamps for the same light, and its cost."""
    first, other = of.kwh(watts, hours, days), of.kwh(same, hours, days)
    span = amount(days, "days")
    results["energy"] = Result(first, "kWh", 2, f"electricity of the first, {span}")
    results["other_energy"] = Result(other, "kWh", 2, f"of the other, as much light, {span}")
    results["energy_saved"] = Result(first - other, "kWh", 2, f"electricity saved in {span}")
    taken = f"taken: a term = 13 weeks = {of.TERM_DAYS} days" if days == of.TERM_DAYS else ""
    lines += [taken] if taken else []
    time = f"{in_full(hours)} h × {in_full(days)} ÷ 1000"
    lines.append(f"the first: {in_full(watts)} W × {time} = {in_full(first, 'kWh')}")
    lines.append(f"the other: {in_full(same)} W × {time} = {in_full(other, 'kWh')}")
    if price is None:
        return
    saved = (first - other) * price
    results["cost_saved"] = Result(saved, "", 2, f"money saved in {span}")
    results["cost"] = Result(first * price, "", 2, f"cost of the first, {span}")
    results["other_cost"] = Result(other * price, "", 2, f"cost of the other, as much light, {span}")
    lines.append(f"saved: ({in_full(first)} − {in_full(other)}) × {in_full(price)} = {number(saved, 2)}")
    if saved > 0:
        says.append(f"That saves {number(saved, 2)} in {span}.")


_DAYS = Field(
    key="days", says="days", unit="days", low=0, high=36_525, needed=False, others=("d", "for", "span", "period"),
    note="a term is 91",
)  # fmt: skip

RECKONINGS = (
    Reckoning(
        name="lamp-cost",
        subject="light",
        title="What a lamp costs to run",
        about="Electricity and money for a day, a week, a term, or as many days as you say.",
        fields=(WATTS, HOURS, PRICE, _DAYS),
        work=work_lamp_cost,
        example="watts=400 hours=16 price=0.25",
        others=("lamp-energy", "electricity", "energy-cost", "running-cost", "kwh", "lamp-electricity", "cost"),
    ),
    Reckoning(
        name="lamp-against-lamp",
        subject="light",
        title="One lamp against another",
        about="What a better lamp saves for the same light: in electricity, and with watts, hours and price in money.",
        fields=(
            replace(WATTS, needed=False),
            replace(EFFICACY, says="efficacy of the first", others=(*EFFICACY.others, "old", "old_efficacy")),
            MAYBE_LAMP,
            replace(WATTS, key="other_watts", says="power of the other", needed=False, starts="",
                    others=("new_watts", "watts2", "watts_2")),
            replace(EFFICACY, key="other_efficacy", says="efficacy of the other", starts="",
                    others=("new", "new_efficacy", "efficacy2", "efficacy_2", "other")),
            replace(MAYBE_LAMP, key="other_lamp", says="or its kind", starts="", others=("new_lamp", "lamp2")),
            replace(HOURS, needed=False),
            PRICE,
            replace(_DAYS, default=float(of.TERM_DAYS)),
        ),
        work=work_lamp_against_lamp,
        example="efficacy=1.02 other_efficacy=1.7",
        others=("compare-lamps", "lamp-saving", "saving", "lamps", "lamp-comparison", "better-lamp"),
    ),
)  # fmt: skip
