"""Reckonings of what comes and goes in a tank: blends, losses, what builds up."""

from walkabout.growing import correcting
from walkabout.reckon.correcting_words import (
    EC,
    SALT,
    VOLUME,
    litres,
    said,
    strength,
    strong,
    taken,
    worked,
)
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, number, plainly, result

MIXTURE = "mass balance, own derivation; as if plants left all of it behind, which is nearly so for sodium and chloride"
STRAIGHT_PH = "This holds for EC and mg/L, not for pH: measure the pH of the mix."


def work_blend(volume: float, ec: float, other_volume: float, other_ec: float) -> Reckoned:
    """Work out the EC of two waters poured together."""
    found = correcting.blend(((volume, ec), (other_volume, other_ec)))
    salt = volume * ec + other_volume * other_ec
    total = volume + other_volume
    return Reckoned(
        results={"ec": strong(found, "EC of the blend"), "volume": litres(total, "the two together")},
        says=(f"Together they are {said(total)} at {strength(found)}.", STRAIGHT_PH),
        working=(
            "EC = (V₁ × EC₁ + V₂ × EC₂) ÷ (V₁ + V₂)",
            f"= ({plainly(volume)} × {plainly(ec)} + {plainly(other_volume)} × {plainly(other_ec)}) ÷ {plainly(total)}",
            f"= {plainly(salt)} ÷ {plainly(total)} = {result(strong(found))}",
        ),
        source=SALT,
    )


def work_fill(water: float, other_water: float, to: float, volume: float | None) -> Reckoned:
    """Work out how much of each of two waters makes a mix of the EC wanted."""
    first = correcting.share_of_water(water, other_water, to)
    second = 1 - first
    results = {
        "share": Result(first, "", 3, "share of the water"),
        "percent": Result(100 * first, "%", 1, "the same in percent"),
        "other_share": Result(second, "", 3, "share of the other water"),
    }
    of = f"({plainly(other_water)} − {plainly(to)}) ÷ ({plainly(other_water)} − {plainly(water)})"
    lines = [
        "share = (EC of the other − wanted) ÷ (EC of the other − EC of the water)",
        f"= {of} = {number(first, 3)}",
    ]
    says = (
        f"Take {number(100 * first, 1)} % of the water at {strength(water)} "
        f"and {number(100 * second, 1)} % of the other at {strength(other_water)}."
    )
    if volume is not None:
        results |= {
            "litres": litres(volume * first, "of the water"),
            "other_litres": litres(volume * second, "of the other water"),
        }
        lines.append(f"of {plainly(volume)} L: {worked(volume * first)} and {worked(volume * second)}")
        says += f" For {said(volume)} that is {said(volume * first)} and {said(volume * second)}."
    return Reckoned(results=results, says=(says, STRAIGHT_PH), working=tuple(lines), source=SALT)


def work_after_loss(volume: float, ec: float, lost: float, uptake_ec: float | None, topup_ec: float | None) -> Reckoned:
    """Work out how strong a tank is after plants and air took water, and after the top-up."""
    uptake = 0.0 if uptake_ec is None else uptake_ec
    if lost >= volume:
        raise ValueError(f"{said(lost)} cannot be lost from {said(volume)}: something has to be left")
    before = correcting.after_loss(volume, ec, lost, uptake)
    lines = [taken("uptake_ec", 0, "mS/cm")] if uptake_ec is None else []
    salt = f"({plainly(ec)} × {plainly(volume)} − {plainly(uptake)} × {plainly(lost)})"
    lines += [
        "EC left = (EC × V − uptake × lost) ÷ (V − lost)",
        f"= {salt} ÷ {plainly(volume - lost)} = {result(strong(before))}",
    ]
    results = {"ec_before_topup": strong(before, "EC before the top-up")}
    says = [f"With {said(volume - lost)} left the EC is {strength(before)}{_way(before, ec)}."]
    if topup_ec is not None:
        after = correcting.after_topup(volume, ec, lost, uptake, topup_ec)
        gain = f"({plainly(topup_ec)} − {plainly(uptake)}) × {plainly(lost)} ÷ {plainly(volume)}"
        lines += [
            "after the top-up: EC + (top-up − uptake) × lost ÷ V",
            f"= {plainly(ec)} + {gain} = {result(strong(after))}",
        ]
        results = {"ec_after_topup": strong(after, "EC after the top-up"), **results}
        says.append(f"Topped up with {strength(topup_ec)} it has {strength(after)}{_way(after, ec)}.")
    as_taken = strength(uptake) if uptake > 0 else "pure water"
    says.append(f"A top-up of {as_taken}, as strong as what the plants take, brings it back to {strength(ec)}.")
    return Reckoned(results=results, says=tuple(says), working=tuple(lines), source=SALT)


def work_build_up(
    volume: float, start: float, water: float, topped: tuple[float, ...] | None, limit: float | None, ion: str | None
) -> Reckoned:
    """Work out how an ion that plants leave behind builds up, and when it reaches its limit."""
    if topped is None and limit is None:
        raise ValueError("build-up needs topped (litres of top-up in all) or limit (mg/L that must not be passed)")
    name = ion or "sodium"
    results: dict[str, Result] = {}
    lines: list[str] = []
    says: list[str] = []
    if topped is not None:
        total = sum(topped)
        found = correcting.built_up(volume, start, water, total)
        gain = f"{plainly(water)} × {plainly(total)} ÷ {plainly(volume)}"
        results["concentration"] = Result(found, "mg/L", 1, f"{name} after the top-ups")
        lines += [
            "C = start + C of the water × top-ups ÷ V",
            f"= {plainly(start)} + {gain} = {amount(found, 'mg/L', 1)}",
        ]
        says.append(f"After {said(total)} of top-up the tank has {amount(found, 'mg/L', 1)} of {name}.")
        if limit is not None:
            results["verdict"] = Result("over the limit" if found > limit else "within the limit", says=name)
            says[0] += f" The limit given is {amount(limit, 'mg/L')}: {results['verdict'].value}."
    if limit is not None:
        until = correcting.litres_to_limit(volume, start, water, limit)
        if until is None:
            results["topup_to_limit"] = Result("never", says="top-up until the limit")
            lines.append(f"the water brings none: it stays at {amount(start, 'mg/L')}")
            says.append(f"The water brings no {name}: the limit is never reached.")
        elif start >= limit:
            results["topup_to_limit"] = litres(0.0, "top-up until the limit")
            lines.append(f"start {plainly(start)} is not below the limit {amount(limit, 'mg/L')}")
            says.append(f"The {name} is at its limit already: change the solution.")
        else:
            results["topup_to_limit"] = litres(until, "top-up until the limit")
            lines += [
                "top-ups until the limit = (limit − start) × V ÷ C of the water",
                f"= ({plainly(limit)} − {plainly(start)}) × {plainly(volume)} ÷ {plainly(water)} = {worked(until)}",
            ]
            says.append(f"The limit of {amount(limit, 'mg/L')} is reached with {said(until)} of top-up in all.")
    says.append("Plants hardly take it up, so only a change of solution, or purer water, brings it down.")
    return Reckoned(results=results, says=tuple(says), working=tuple(lines), source=MIXTURE)


def _way(now: float, before: float) -> str:
    if correcting.same(now, before):
        return ", as strong as before"
    return f", {'stronger' if now > before else 'weaker'} than before"


_UPTAKE = Field(
    key="uptake_ec",
    says="EC carried off with each litre that the plants drink",
    unit="mS/cm",
    low=0,
    high=50,
    needed=False,
    others=("uptake", "eu", "ec_uptake"),
    note="0, water alone, unless given",
)
_TOPUP = Field(
    key="topup_ec",
    says="EC of the water or feed that fills it up again",
    unit="mS/cm",
    low=0,
    high=50,
    needed=False,
    others=("topup", "top_up_ec", "feed_ec", "ec_topup", "ef"),
)


def _solution(key: str, says: str, unit: str, high: float, others: tuple[str, ...]) -> Field:
    return Field(key=key, says=says, unit=unit, low=0, high=high, others=others)


RECKONINGS = (
    Reckoning(
        name="blend",
        subject="solution",
        title="Two waters together",
        about="The EC of a blend, for instance of solution from two tanks, or of rain and tap water.",
        fields=(
            VOLUME,
            EC,
            _solution("other_volume", "litres of the other", "L", 1e6, ("volume2", "v2", "other_litres")),
            _solution("other_ec", "EC of the other", "mS/cm", 50, ("ec2", "e2")),
        ),
        work=work_blend,
        example="volume=30 ec=2.4 other_volume=10 other_ec=0.4",
        others=("mix-waters", "blend-ec", "pour-together"),
    ),
    Reckoning(
        name="fill",
        subject="solution",
        title="Shares of two waters",
        about="How much hard and how much soft water (tap and rain, say) make a mix of the EC wanted.",
        fields=(
            _solution("water", "EC of the first water", "mS/cm", 50, ("water_ec", "ew", "ec_water", "first")),
            _solution(
                "other_water",
                "EC of the other water",
                "mS/cm",
                50,
                ("other", "other_ec", "other_water_ec", "ea", "second"),
            ),
            _solution("to", "EC wanted", "mS/cm", 50, ("target", "wanted", "aim", "target_ec")),
            Field(
                key="volume", says="litres of the mix", unit="L", low=0, high=1e6, needed=False, others=("v", "litres")
            ),
        ),
        work=work_fill,
        example="water=0.7 other_water=0.05 to=0.3",
        others=("mixed-fill", "water-share", "two-waters"),
    ),
    Reckoning(
        name="after-loss",
        subject="solution",
        title="A tank after some days",
        about="How strong a tank becomes when plants and dry air take water, and what the top-up makes of it.",
        fields=(
            VOLUME,
            EC,
            _solution("lost", "litres that are gone", "L", 1e6, ("loss", "lost_litres", "drunk", "evaporated")),
            _UPTAKE,
            _TOPUP,
        ),
        work=work_after_loss,
        example="volume=60 ec=1.8 lost=15 uptake_ec=1.2 topup_ec=0.3",
        others=("after-evaporation", "evaporation", "water-loss"),
    ),
    Reckoning(
        name="build-up",
        subject="solution",
        title="Salt building up",
        about="What plants do not take stays in the tank and grows with every top-up. This says how fast.",
        fields=(
            Field(
                key="volume", says="what the tank holds", unit="L", low=0, high=1e6, starts="capacity", others=("v",)
            ),
            _solution("start", "mg/L in the tank at the start", "mg/L", 1e5, ("c0", "now", "tank", "in_tank")),
            _solution(
                "water", "mg/L in the top-up water", "mg/L", 1e5, ("cw", "in_water", "topup_water", "water_mg_l")
            ),
            Field(
                key="topped",
                says="litres of top-up",
                unit="L",
                kind="numbers",
                low=0,
                high=1e6,
                needed=False,
                others=("topup", "topups", "total_topup", "n"),
                note="in all, or each one after a comma",
            ),
            Field(
                key="limit",
                says="mg/L that must not be passed",
                unit="mg/L",
                low=0,
                high=1e5,
                needed=False,
                others=("c_limit", "most", "max"),
            ),
            Field(
                key="ion",
                says="what builds up",
                kind="word",
                words=("sodium", "chloride"),
                needed=False,
                others=("of", "element"),
                note="sodium unless given; the sum is the same",
            ),
        ),
        work=work_build_up,
        example="volume=100 start=20 water=40 limit=60",
        others=("buildup", "accumulation", "sodium-build-up", "salt-build-up"),
    ),
)
