"""Reckonings of a lamp's light: what it gives for its watts, and what it takes for a wanted light."""

from msgspec.structs import replace

from walkabout.growing import lamps as of
from walkabout.growing import light
from walkabout.growing.eye import JOULE_NANOMETRES, PAR
from walkabout.reckon.daily_light import DLI, HOURS
from walkabout.reckon.in_full import in_full
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_lamp import (
    AREA,
    EFFICACY,
    MAYBE_LAMP,
    PRICE,
    REACHING,
    WATTS,
    minding_lamp,
    pence,
    read_efficacy,
)
from walkabout.reckon.write import amount, number, plainly

BY_DEFINITION = "definition of the photosynthetic photon efficacy"
SHARE = "share of 0.7 to 0.9 in a small lined room: common practice"
INSTALLING = (
    "Mains beside water: an adult installs and changes lamps, off at the plug and cooled down; wiring is licensed "
    "work; local rules and the employer's risk assessment decide."
)
ULTRAVIOLET = (
    "Ultraviolet hurts eyes and skin: no pupil works with such a lamp; an adult does, screened, by local rules and the "
    "employer's risk assessment."
)
_ODD = "Read it at several places: the middle gets more than the edges."


def work_lamp(
    watts: float,
    area: float | None,
    efficacy: float | None,
    lamp: str | None,
    reaching: float,
    hours: float | None,
) -> Reckoned:
    """Work out what a lamp gives."""
    value, taken, source = read_efficacy(efficacy, lamp)
    photons, per_kwh = of.output(watts, value), of.moles_per_kwh(value)
    lines = [*([taken] if taken else [])]
    lines.append(f"output = {in_full(watts)} W × {in_full(value)} µmol/J = {in_full(photons, 'µmol/s')}")
    results = {"output": Result(photons, "µmol/s", 1, "photons from the lamp")}
    says = [f"The lamp gives {amount(photons, 'µmol/s', 0)}, and {amount(per_kwh, 'mol', 2)} for each kWh."]
    if area is not None:
        ppfd = of.mean_ppfd(photons, area, reaching)
        results = {"ppfd": Result(ppfd, "µmol/m²/s", 1, "mean light on the area")} | results
        lines += _share_line(reaching)
        lines.append(
            f"PPFD = {in_full(photons)} × {in_full(reaching)} ÷ {in_full(area)} m² = {in_full(ppfd, 'µmol/m²/s')}"
        )
        says.insert(0, f"On {amount(area, 'm²')} that makes about {amount(ppfd, 'µmol/m²/s', 0)} on average. {_ODD}")
        if hours is not None:
            day = light.MOLES_PER_HOUR * ppfd * hours
            results["dli"] = Result(day, "mol/m²/d", 2, "light in a day")
            lines.append(f"DLI = 0.0036 × {in_full(ppfd)} × {in_full(hours)} h = {amount(day, 'mol/m²/d', 2)}")
    results["per_kwh"] = Result(per_kwh, "mol/kWh", 3, "photons for a kWh")
    lines.append(f"photons for a kWh = 3.6 × {in_full(value)} = {amount(per_kwh, 'mol/kWh', 3)}")
    if hours is not None:
        used = of.kwh(watts, hours)
        results["energy"] = Result(used, "kWh", 2, "electricity in a day")
        lines.append(f"electricity = {in_full(watts)} W × {in_full(hours)} h ÷ 1000 = {amount(used, 'kWh', 2)} a day")
    results["efficacy"] = Result(value, "µmol/J", 2, "efficacy")
    shared = f"; {SHARE}" if area is not None else ""
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{BY_DEFINITION}; {source}{shared}",
        says=tuple(says),
        cautions=(*((INSTALLING,) if watts > 0 else ()), *minding_lamp(lamp)),
    )


def work_lamp_watts(
    ppfd: float, area: float | None, efficacy: float | None, lamp: str | None, reaching: float
) -> Reckoned:
    """Work out how many watts a wanted light takes."""
    value, taken, source = read_efficacy(efficacy, lamp)
    each = of.watts_per_m2(ppfd, value, reaching)
    lines = [*([taken] if taken else []), *_share_line(reaching)]
    product = f"{in_full(ppfd)} ÷ ({in_full(value)} × {in_full(reaching)})"
    lines += ["power for each m² = PPFD ÷ (efficacy × share)", f"{product} = {in_full(each, 'W/m²')}"]
    results = {"watts_per_m2": Result(each, "W/m²", 1, "power for each m²")}
    says = f"It takes {amount(each, 'W', 0)} of lamp for each square metre, ballast or driver and all."
    if area is not None:
        watts = each * area
        results = {"watts": Result(watts, "W", 1, "power of the lamps")} | results
        lines.append(f"power = {in_full(each)} × {in_full(area)} m² = {amount(watts, 'W', 1)}")
        says = f"Lamps of {amount(watts, 'W', 0)} together light {amount(area, 'm²')} so brightly."
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{BY_DEFINITION}; {source}; {SHARE}",
        says=(says, _ODD),
        cautions=(*((INSTALLING,) if ppfd > 0 else ()), *minding_lamp(lamp)),
    )


def work_light_energy(
    dli: float,
    efficacy: float | None,
    lamp: str | None,
    reaching: float,
    area: float | None,
    price: float | None,
) -> Reckoned:
    """Work out the electricity for the light of a day."""
    value, taken, source = read_efficacy(efficacy, lamp)
    each = of.kwh_for_dli(dli, value, reaching)
    lines = [*([taken] if taken else []), *_share_line(reaching)]
    product = f"{in_full(dli)} ÷ (3.6 × {in_full(value)} × {in_full(reaching)})"
    lines += ["electricity = DLI ÷ (3.6 × efficacy × share)", f"{product} = {in_full(each, 'kWh/m²/d')}"]
    results = {"energy": Result(each, "kWh/m²/d", 3, "electricity for each m² and day")}
    says = [f"Each square metre takes {amount(each, 'kWh', 2)} a day, if all its light comes from lamps."]
    whole = each
    if area is not None:
        whole = each * area
        results["energy_day"] = Result(whole, "kWh", 2, "electricity in a day")
        lines.append(f"{in_full(each)} × {in_full(area)} m² = {in_full(whole, 'kWh')} a day")
    if price is not None:
        where = "in a day" if area is not None else "for each m² and day"
        results["cost"] = Result(whole * price, "", 2, f"cost {where}")
        lines.append(f"cost = {in_full(whole)} kWh × {in_full(price)} = {number(whole * price, 2)} {where}")
        says.append(f"That costs {number(whole * price, 2)} {where}, in the money of the price.")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{BY_DEFINITION}; {source}; {SHARE}",
        says=(*pence(price), *says),
        cautions=minding_lamp(lamp),
    )


def work_efficacy(
    efficacy: float | None, lamp: str | None, watts: float | None, output: float | None, loss: float
) -> Reckoned:
    """Work out the efficacy of a lamp, and what a kWh buys."""
    if output is not None and watts is None:
        raise ValueError("give watts= beside output=, the photons in µmol/s")
    lines: list[str] = []
    if output is not None and watts is not None:
        if watts == 0:
            raise ValueError("watts is 0: a lamp that takes no power gives no light")
        value, source = output / watts, "light and power as given"
        lines.append(f"efficacy = {in_full(output)} µmol/s ÷ {in_full(watts)} W = {in_full(value, 'µmol/J')}")
    else:
        value, taken, source = read_efficacy(efficacy, lamp)
        lines += [taken] if taken else []
    left = of.after_loss(value, loss)
    if loss > 0:
        lines.append(
            f"after {plainly(loss)} % loss: {in_full(value)} × (1 − {in_full(loss)} ÷ 100) = {in_full(left, 'µmol/J')}"
        )
        if left == 0:
            raise ValueError("loss is 100 %: nothing is left of the light")
    per_kwh = of.moles_per_kwh(left)
    lines.append(f"photons for a kWh = 3.6 × {in_full(left)} = {amount(per_kwh, 'mol/kWh', 3)}")
    results = {
        "efficacy": Result(left, "µmol/J", 3, "efficacy"),
        "per_kwh": Result(per_kwh, "mol/kWh", 3, "photons for a kWh"),
    }
    if output is None and loss == 0:
        # The efficacy is what was put in: what comes out leads.
        results = dict(reversed(results.items()))
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=f"{BY_DEFINITION}; {source}" + (f"; a cover takes about 10 %: {of.KUSUMA}" if loss > 0 else ""),
        says=(f"A kWh buys {amount(per_kwh, 'mol', 2)} of photons. The more, the cheaper the light.",),
        cautions=minding_lamp(lamp),
    )


def work_photon_limit(wavelength: float, efficiency: float) -> Reckoned:
    """Work out the most photons that a joule can make of one colour."""
    most = of.photon_limit(wavelength, efficiency)
    whole = of.photon_limit(wavelength)
    inside = PAR[0] <= wavelength <= PAR[1]
    lines = [
        f"a µmol of photons costs {_COST} ÷ {in_full(wavelength)} = {amount(JOULE_NANOMETRES / wavelength, 'J', 4)}",
        f"limit = {in_full(wavelength)} ÷ {_COST} = {in_full(whole, 'µmol/J')}",
    ]
    if efficiency != 100:
        product = f"{in_full(efficiency)} ÷ 100 × {in_full(whole)}"
        lines.append(f"{plainly(efficiency)} % of that = {product} = {amount(most, 'µmol/J', 3)}")
    says = [
        f"No lamp of this one colour can give more than {amount(most, 'µmol/J', 2)}.",
        "The longer the wave, the cheaper the photon: red ones cost less than blue ones.",
    ]
    if not inside:
        says.append("Light outside 400 to 700 nm is not counted in a PPFD.")
    return Reckoned(
        results={
            "efficacy": Result(most, "µmol/J", 3, "most photons for a joule"),
            "per_kwh": Result(most * of.MOLES_PER_KWH, "mol/kWh", 2, "photons for a kWh"),
            "verdict": Result("counts" if inside else "does not count", says="in a PPFD (400 to 700 nm)"),
        },
        working=tuple(lines),
        source=f"Planck and Einstein: h c N = 119.627 J nm/µmol, from the SI's constants; used so in {of.KUSUMA}",
        says=tuple(says),
        cautions=(ULTRAVIOLET,) if wavelength < PAR[0] else (),
    )


_COST = in_full(JOULE_NANOMETRES)


def _share_line(reaching: float) -> list[str]:
    return [f"taken: share that reaches the crop = {of.REACHING}"] if reaching == of.REACHING else []


RECKONINGS = (
    Reckoning(
        name="lamp",
        subject="light",
        title="What a lamp gives",
        about="From its watts to photons, to the mean light on an area and to the light of a day.",
        fields=(WATTS, AREA, EFFICACY, MAYBE_LAMP, REACHING, replace(HOURS, needed=False)),
        work=work_lamp,
        example="watts=100 area=1 efficacy=2",
        others=("lamp-output", "fixture", "lamp-ppfd", "mean-ppfd", "fixture-output", "lamp-light", "photon-output"),
    ),
    Reckoning(
        name="lamp-watts",
        subject="light",
        title="Watts for a wanted light",
        about="How much lamp an area needs to be so bright on average.",
        fields=(
            Field(
                key="ppfd", says="light wanted on the leaves", unit="µmol/m²/s", low=0, high=light.MOST_PPFD,
                others=("wanted", "par", "target"),
            ),
            AREA,
            EFFICACY,
            MAYBE_LAMP,
            REACHING,
        ),
        work=work_lamp_watts,
        example="ppfd=200 area=1.2 efficacy=2.5",
        others=("watts-for", "lamp-power", "watts-per-m2", "watts-for-ppfd", "power-for"),
    ),
    Reckoning(
        name="light-energy",
        subject="light",
        title="Electricity for the light",
        about="What the light of a day takes in electricity, when all of it comes from lamps.",
        fields=(DLI, EFFICACY, MAYBE_LAMP, REACHING, AREA, PRICE),
        work=work_light_energy,
        example="dli=17 efficacy=1.7",
        others=("energy-for-dli", "dli-energy", "energy-for-light", "electricity-for-dli", "kwh-for-dli"),
    ),
    Reckoning(
        name="lamp-efficacy",
        subject="light",
        title="Photons for electricity",
        about="How many photons a lamp makes of a joule and of a kWh, and what a cover against water takes away.",
        fields=(
            EFFICACY,
            MAYBE_LAMP,
            replace(WATTS, needed=False),
            Field(
                key="output", says="photons from the lamp", unit="µmol/s", low=0, high=1e6, needed=False,
                others=("ppf", "photons", "photon_output"),
            ),
            Field(
                key="loss", says="lost in a cover", unit="%", low=0, high=100, default=0.0,
                others=("cover", "protection_loss", "protection"), note="against water: about 10",
            ),
        ),
        work=work_efficacy,
        example="efficacy=1.7",
        others=("photons-per-kwh", "mol-per-kwh", "efficacy", "photon-efficacy", "fixture-efficacy", "kwh-photons"),
    ),
    Reckoning(
        name="photon-limit",
        subject="light",
        title="Most photons for a joule",
        about="Each photon costs energy, a blue one more than a red one: so there is a limit that no lamp can pass.",
        fields=(
            Field(
                key="wavelength", says="wavelength of the light", unit="nm", low=280, high=1000,
                others=("nm", "lambda", "colour", "color", "wl"),
            ),
            Field(
                key="efficiency", says="share that becomes light", unit="%", low=0, high=100, default=100.0,
                others=("wall_plug", "wall_plug_efficiency"),
            ),
        ),
        work=work_photon_limit,
        example="wavelength=660",
        others=("efficacy-limit", "largest-efficacy", "max-efficacy", "photon-energy", "maximum-efficacy"),
    ),
)  # fmt: skip
