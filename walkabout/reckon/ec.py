"""Reckonings of an EC meter: its units, its ppm scales, warm and cold water."""

import msgspec

from walkabout.growing import ec as of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import amount, number, plainly

ISO = "ISO 7888:1985, linear form (as meter manuals print it)"
IDENTITIES = "identities of units; ppm scales are conventions of meters (640: USDA Handbook 60, from memory)"
UNITS = ("mS/cm", "µS/cm", "dS/m", "mS/m", "CF")
_SPELLED = {
    "uS/cm": "µS/cm", "uS": "µS/cm", "umho/cm": "µS/cm", "mS": "mS/cm", "mmho/cm": "mS/cm", "TDS": "ppm",
}  # fmt: skip
_OWN_SCALE = {"ppm500": 500.0, "ppm640": 640.0, "ppm700": 700.0}
_NAMED = {"mS/cm": "ec", "µS/cm": "us_cm", "dS/m": "ds_m", "mS/m": "ms_m", "CF": "cf"}
_SAYS = {
    "µS/cm": "in microsiemens",
    "dS/m": "in decisiemens",
    "mS/m": "in millisiemens for a metre",
    "CF": "as conductivity factor",
}
_DECIMALS = {"mS/cm": 3, "µS/cm": 0, "dS/m": 3, "mS/m": 1, "CF": 1}
_FEED = 20.0
"""mS/cm; what is stronger is no feed."""
_PUREST = 0.002
"""mS/cm; water from a school's filter does not get below it, common practice."""

SCALE = Field(
    key="scale",
    says="scale of a ppm meter",
    unit="ppm per mS/cm",
    low=0.4,
    high=1000,
    needed=False,
    others=("factor", "k", "ppm_scale", "conversion"),
    note="500, 640 or 700 (0.5, 0.64 or 0.7): it stands in the meter's manual",
)


def work_ec(
    ec: float,
    from_: str | None,
    scale: float | None,
    temperature: float | None,
    coefficient: float | None,
    to: str | None,
) -> Reckoned:
    """Turn a reading into mS/cm at 25 °C and into every other unit."""
    if coefficient is not None and temperature is None:
        raise ValueError("a coefficient needs the temperature of the solution: write temperature=20 as well")
    shown = _SPELLED.get(from_ or "", from_ or "mS/cm")
    read, lines = _read(ec, shown, scale)
    says: list[str] = []
    value = read
    if temperature is not None:
        part = _coefficient(coefficient)
        if coefficient is None:
            lines.append(f"taken: a = {of.ISO_COEFFICIENT:g} for each °C (ISO 7888; many meters use 0.02)")
        value = of.at_25(read, temperature, part)
        below = f"(1 + {part:g} × ({plainly(temperature)} − 25))"
        lines.append(f"EC at 25 °C = EC ÷ (1 + a × (T − 25)) = {plainly(read)} ÷ {below}")
        lines.append(f"            = {plainly(read)} ÷ {1 + part * (temperature - 25):.4f} = {number(value, 4)} mS/cm")
    wanted = _SPELLED.get(to or "", to or "")
    which = "EC as read" if temperature is None else "EC at 25 °C"
    results = {"ec": Result(value, "mS/cm", 3, which)}
    if wanted in UNITS:
        results = {"value": Result(of.in_unit(value, wanted), wanted, _DECIMALS[wanted], which), **results}
        per, there = of.PER_MS_CM[wanted], of.in_unit(value, wanted)
        lines.append(f"{plainly(value)} mS/cm × {per:g} = {plainly(there)} {wanted}")
    to_scale = _OWN_SCALE.get(wanted) or (scale if wanted == "ppm" or not shown.startswith("ppm") else None)
    if wanted == "ppm" and to_scale is None:
        raise ValueError(_which_scale(None))
    if to_scale is not None:
        factor = of.scale(to_scale)
        turned = of.ppm(value, factor)
        lines.append(f"on the {factor:g} scale: {plainly(value)} mS/cm × {factor:g} = {plainly(turned)} ppm")
        shown_ppm = {"ppm": Result(turned, "ppm", 0, f"on the {factor:g} scale")}
        results = {**shown_ppm, **results} if wanted.startswith("ppm") else {**results, **shown_ppm}
    results |= _other_units(value)
    if value > _FEED:
        says.append(f"{amount(value, 'mS/cm', 1)} is stronger than a feed ever is: look at the unit again.")
    elif temperature is None:
        says.append(f"This is {amount(value, 'mS/cm', 2)}, taken as it stands.")
        says.append("A meter that compensates shows EC at 25 °C already: never correct its reading a second time.")
    else:
        says.append(f"At 25 °C this solution has {amount(value, 'mS/cm', 2)}: compare this with what the crop wants.")
        says.append("Only for a meter that does not compensate: correcting a reading twice makes it wrong.")
    if temperature is not None and temperature < of.APPROXIMATE_BELOW:
        says.append("Below 10 °C the rule is approximate: warm the sample and measure again.")
    lines = lines or [f"{plainly(value)} mS/cm = {plainly(value)} dS/m = {plainly(value * 1000)} µS/cm"]
    return Reckoned(
        results=results,
        says=tuple(says),
        working=tuple(lines),
        source=IDENTITIES if temperature is None else f"{ISO}; {IDENTITIES}",
    )


def work_ppm(ppm: float, scale: float | None, to: float | None) -> Reckoned:
    """Turn the ppm of one meter into EC and into the ppm of others."""
    if scale is None:
        raise ValueError(_which_scale(ppm))
    factor = of.scale(scale)
    value = of.from_ppm(ppm, factor)
    results = {"ec": Result(value, "mS/cm", 3, "EC")}
    lines = [f"EC = ppm ÷ scale = {plainly(ppm)} ÷ {factor:g} = {number(value, 4)} mS/cm"]
    if to is not None:
        other = of.scale(to)
        shown = of.ppm(value, other)
        results = {"ppm": Result(shown, "ppm", 0, f"on the {other:g} scale"), **results}
        lines.append(f"on the {other:g} scale: {number(value, 4)} mS/cm × {other:g} = {plainly(shown)} ppm")
    says = f"{plainly(ppm)} ppm on the {factor:g} scale is {amount(value, 'mS/cm', 2)}."
    return Reckoned(
        results=results | _other_units(value),
        says=(says, "Always write the scale beside ppm."),
        working=tuple(lines),
        source=IDENTITIES,
    )


def _read(ec: float, shown: str, scale: float | None) -> tuple[float, list[str]]:
    """Return the EC, mS/cm, behind a number that stands in the unit `shown`, and the step to it."""
    if shown.startswith("ppm"):
        own = _OWN_SCALE.get(shown)
        if own is None and scale is None:
            raise ValueError(_which_scale(ec))
        if own is not None and scale is not None and of.scale(scale) != own:
            raise ValueError(f"{shown} has the scale {own:g}, and scale={scale:g} says otherwise: leave one out")
        factor = of.scale(own or scale or 0)
        value = of.from_ppm(ec, factor)
        lines = [f"EC = ppm ÷ scale = {plainly(ec)} ÷ {factor:g} = {plainly(value)} mS/cm"]
    else:
        per = of.PER_MS_CM[shown]
        if ec / per > of.STRONGEST:
            raise ValueError(f"{plainly(ec)} {shown} is no EC of water: is it µS/cm? Then write from=uS/cm")
        value = of.from_unit(ec, shown)
        lines = [] if per == 1 else [f"EC = {plainly(ec)} {shown} ÷ {per:g} = {plainly(value)} mS/cm"]
    if 0 < value < _PUREST:
        told = f"{plainly(ec)} {shown} is purer than any water here"
        raise ValueError(f"{told}: where the unit stands behind the number already, leave from= out")
    return value, lines


def _coefficient(given: float | None) -> float:
    """Return the coefficient for each °C, from 0.02 or from 2 (%)."""
    if given is None:
        return of.ISO_COEFFICIENT
    return given / 100 if given >= 1 else given


def _other_units(ec: float) -> dict[str, Result]:
    units = {
        _NAMED[unit]: Result(of.in_unit(ec, unit), unit, _DECIMALS[unit], _SAYS[unit])
        for unit in UNITS
        if _NAMED[unit] != "ec"
    }
    return units | {
        f"ppm_{scale}": Result(of.ppm(ec, scale), "ppm", 0, f"ppm on the {scale} scale") for scale in of.PPM_SCALES
    }


def _which_scale(ppm: float | None) -> str:
    told = 1000 if ppm is None else ppm
    could = ", ".join(f"{told / scale:.2f} mS/cm with scale={scale}" for scale in of.PPM_SCALES)
    return f"ppm says nothing without the meter's scale: {plainly(told)} ppm is {could}"


_WORDS = (*UNITS, *(one for one in _SPELLED if one != "TDS"), "ppm", "TDS", *_OWN_SCALE)
_FROM_SCALE = msgspec.structs.replace(SCALE, others=(*SCALE.others, "from"))
"""Where there is no unit to say, `from` can only mean the scale."""

RECKONINGS = (
    Reckoning(
        name="ec",
        subject="solution",
        title="EC in every unit",
        about="What a conductivity meter shows, in the other units, and what it would show at 25 °C.",
        fields=(
            Field(
                key="ec",
                says="EC as read",
                unit="mS/cm",
                low=0,
                high=200_000,
                starts="EC",
                others=("value", "conductivity", "reading"),
            ),
            Field(
                key="from",
                says="unit of the number",
                kind="word",
                words=_WORDS,
                needed=False,
                others=("unit", "in"),
                note="only for a bare number; mS/cm when nothing is said",
            ),
            SCALE,
            Field(
                key="temperature",
                says="temperature of the solution",
                unit="°C",
                low=0,
                high=50,
                needed=False,
                others=("temp", "t", "water_temperature", "solution_temperature"),
                note="only for a meter that does not compensate",
            ),
            Field(
                key="coefficient",
                says="change for each °C",
                low=0.01,
                high=3,
                needed=False,
                others=("alpha", "a", "compensation"),
                note="0.0191 (ISO 7888) or 0.02, as a part of the EC at 25 °C",
            ),
            Field(
                key="to",
                says="unit wanted first",
                kind="word",
                words=_WORDS,
                needed=False,
                others=("want",),
            ),
        ),
        work=work_ec,
        example="ec=1.8 temperature=20",
        others=("conductivity-units", "ec-25", "ec25", "ec-units", "compensate"),
    ),
    Reckoning(
        name="ppm",
        subject="solution",
        title="ppm of a meter to EC",
        about="Meters that show ppm have three scales. This turns one into EC and into the others.",
        fields=(
            Field(key="ppm", says="ppm as read", unit="ppm", low=0, high=200_000, others=("tds", "reading", "value")),
            _FROM_SCALE,
            Field(
                key="to",
                says="other scale",
                unit=SCALE.unit,
                low=0.4,
                high=1000,
                needed=False,
                others=("to_scale", "other_scale"),
            ),
        ),
        work=work_ppm,
        example="ppm=840 scale=500 to=700",
        others=("tds", "ppm-to-ec", "tds-scale"),
    ),
)
