"""Reckonings of the colour of light: what a lux meter sees of it, and what its energy is in photons."""

from msgspec.structs import replace

from walkabout.growing import eye
from walkabout.growing.light_kinds import KINDS, SPECTRA, Kind
from walkabout.reckon.in_full import in_full
from walkabout.reckon.light import glass_of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_light import LAMP, RED_BLUE, which_key, which_light
from walkabout.reckon.write import amount, digits, number, plainly

WHITE_LED = KINDS["white-led"].lux
EYE = "V(λ) of the eye: CIE 1924, now ISO/CIE 23539; 683 lm/W by the definition of the candela"
NOT_A_METER = (
    "Real lux meters stray from the eye's curve, most in deep red and blue: do not measure such light with one."
)
GLARE = (
    "Nobody looks into a blue lamp that is lit, it can hurt eyes; an adult judges it by the employer's risk assessment."
)
BLUE = 500.0
"""Below this, nm, strong light can harm the retina: the blue-light hazard of IEC 62471, from memory."""


def work_meter_sees(wavelength: tuple[float, ...], share: tuple[float, ...] | None, lux: float | None) -> Reckoned:
    """Work out how much of one colour, or of a few, a lux meter sees."""
    if not wavelength:
        raise ValueError("give at least one wavelength in nm, such as wavelength=660")
    shares = share if share is not None else tuple(100 / len(wavelength) for _ in wavelength)
    mixed = len(wavelength) > 1
    k = eye.lux_of_mix(wavelength, shares)
    lines = ["taken: as many photons of each colour"] if mixed and share is None else []
    lines.append("lux of 1 µmol/m²/s = 683 × V(λ) × 119.6266 ÷ λ")
    lines += [_colour_line(one) for one in wavelength]
    if mixed:
        lines += _together(wavelength, shares, k)
    seen = 100 * k / WHITE_LED
    lines.append(f"against a white LED: 100 × {in_full(k)} ÷ {plainly(WHITE_LED)} = {amount(seen, '%', 1)}")
    results = {"factor": Result(k, "lx per µmol/m²/s", 2, "lux for 1 µmol/m²/s")}
    says = [f"For as many photons a lux meter shows {number(seen, 0)} % of what it shows under a white LED."]
    if lux is not None:
        true, wrong = lux / k, lux / WHITE_LED
        results |= {
            "ppfd": Result(true, "µmol/m²/s", 1, "light that is really there"),
            "as_white_led": Result(wrong, "µmol/m²/s", 1, "what a white LED's factor would say"),
        }
        lines.append(f"really: {in_full(lux)} ÷ {in_full(k)} = {amount(true, 'µmol/m²/s', 1)}")
        lines.append(f"as a white LED: {in_full(lux)} ÷ {plainly(WHITE_LED)} = {amount(wrong, 'µmol/m²/s', 1)}")
        says.append(f"{amount(lux, 'lx')} would be {digits(true)} µmol/m²/s, not {digits(wrong)}.")
    results["seen"] = Result(seen, "%", 1, "seen, against a white LED")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=EYE,
        says=(*says, NOT_A_METER),
        cautions=(GLARE,) if min(wavelength) < BLUE else (),
    )


def _colour_line(nm: float) -> str:
    product = f"683 × {in_full(eye.sensitivity(nm))} × {in_full(eye.JOULE_NANOMETRES)} ÷ {in_full(nm)}"
    return f"{in_full(nm)} nm: {product} = {in_full(eye.lux_per_micromole(nm), 'lx')}"


def _together(wavelength: tuple[float, ...], shares: tuple[float, ...], k: float) -> list[str]:
    """Write how the lux of the colours come together, one part in a line where they are many."""
    whole = sum(shares)
    parts = [
        f"{in_full(one)} × {in_full(eye.lux_per_micromole(nm))}" for nm, one in zip(wavelength, shares, strict=True)
    ]
    total = f"÷ {in_full(whole)} = {in_full(k, 'lx')}"
    if len(parts) == 2:
        return [f"together: ({' + '.join(parts)}) {total}"]
    sums = [one * eye.lux_per_micromole(nm) for nm, one in zip(wavelength, shares, strict=True)]
    each = [f"{nm:g} nm: {part} = {in_full(value)}" for nm, part, value in zip(wavelength, parts, sums, strict=True)]
    return [*each, f"together: {in_full(sum(sums))} {total}"]


def work_radiation(ppfd: float | None, radiation: float | None, lamp: str) -> Reckoned:
    """Turn the energy of light into photons, or photons into energy."""
    if (ppfd is None) == (radiation is None):
        raise ValueError("give radiation= in W/m², to find the photons; or ppfd=, to find the energy")
    if which_key(lamp) == RED_BLUE:
        raise ValueError("lamp: no µmol in a joule is known for red-blue lamps: photon-limit has it by wavelength")
    kind = which_light(lamp)
    k, source = _per_joule(kind)
    told = f"{kind.says}: {plainly(k)} µmol in a J"
    factor = Result(k, "µmol/J", 2, "photons in a joule of this light")
    if ppfd is None:
        energy = radiation or 0.0
        photons = energy * k
        results = {"ppfd": Result(photons, "µmol/m²/s", 1, "light on the leaves"), "factor": factor}
        line = f"PPFD = {in_full(energy)} W/m² × {in_full(k)} = {amount(photons, 'µmol/m²/s', 1)}"
        says = f"That is {amount(photons, 'µmol/m²/s', 0)} on the leaves."
    else:
        energy = ppfd / k
        results = {"radiation": Result(energy, "W/m²", 1, "energy of 400 to 700 nm"), "factor": factor}
        line = f"energy = {in_full(ppfd)} µmol/m²/s ÷ {in_full(k)} = {amount(energy, 'W/m²', 1)}"
        says = f"Each square metre gets {amount(energy, 'W', 1)} of light that plants can use."
    warm = "Only light of 400 to 700 nm is meant: of all the sun's warmth that is not quite half (from memory)."
    return Reckoned(
        results=results,
        working=(told, line),
        source=source,
        says=(says, warm) if kind.key == "sun" else (says,),
        cautions=glass_of(lamp),
    )


def _per_joule(kind: Kind) -> tuple[float, str]:
    if kind.per_joule is not None:
        known = "Thimijan and Heins 1983, as quoted" if kind.key in KINDS else kind.source
        return kind.per_joule, f"µmol in a joule: {known}"
    if kind.cie:
        return SPECTRA[kind.cie][1], f"µmol in a joule: computed from the spectrum CIE {kind.cie} (CIE 15:2018)"
    known = ", ".join(one.key for one in KINDS.values() if one.per_joule is not None or one.cie)
    raise ValueError(f"for {kind.says} no figure was found: there is one for {known}")


RECKONINGS = (
    Reckoning(
        name="meter-sees",
        subject="light",
        title="What a lux meter sees",
        about="Why a lux meter is no use under a red-blue lamp: it weighs colours as an eye does, and a leaf does not.",
        fields=(
            Field(
                key="wavelength", says="wavelengths of the light", unit="nm", kind="numbers", low=eye.PAR[0],
                high=eye.PAR[1], others=("wavelengths", "nm", "colours", "colors", "lambda"),
            ),
            Field(
                key="share", says="share of the photons of each", unit="%", kind="numbers", low=0, high=100,
                needed=False, others=("shares", "photons", "parts"),
            ),
            Field(
                key="lux", says="reading of the lux meter", unit="lx", low=0, high=1e6, needed=False,
                others=("illuminance",), starts="lux",
            ),
        ),
        work=work_meter_sees,
        example="wavelength=660,450 share=80,20 lux=1000",
        others=("narrow-band", "lux-per-umol", "red-blue", "lux-of-colour", "eye-sees", "red-blue-lamp"),
    ),
    Reckoning(
        name="radiation",
        subject="light",
        title="Energy and photons",
        about="Light in W/m², as physics books have it, against the photons that a plant counts.",
        fields=(
            Field(
                key="ppfd", says="light on the leaves (PPFD)", unit="µmol/m²/s", low=0, high=10_000, needed=False,
                others=("photons",),
            ),
            Field(
                key="radiation", says="or its energy, 400 to 700 nm", unit="W/m²", low=0, high=2500, needed=False,
                others=("energy", "irradiance", "par_watts", "watts"),
            ),
            replace(LAMP, needed=True),
        ),
        work=work_radiation,
        example="radiation=100 lamp=sun",
        others=("par-watts", "par-energy", "irradiance", "photons-per-joule", "ppfd-from-radiation", "umol-per-joule"),
    ),
)  # fmt: skip
