"""Reckonings with pH itself: what the carbonate and the phosphate do at it, and how pH is averaged."""

from statistics import fmean

from walkabout.growing import carbonate as of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import digits, number, plainly

PLUMMER = "Plummer and Busenberg 1982, Geochim. Cosmochim. Acta 46:1011-1040"


def work_carbonate(temperature: float, ph: float | None) -> Reckoned:
    """Work out the constants of carbonic acid and water, and the shares at a pH."""
    pk1, pk2, pkw = of.pk1(temperature), of.pk2(temperature), of.pkw(temperature)
    results = {
        "pk1": Result(pk1, "", 3, "carbon dioxide to bicarbonate"),
        "pk2": Result(pk2, "", 3, "bicarbonate to carbonate"),
        "pkw": Result(pkw, "", 3, "water"),
    }
    kelvin = plainly(temperature + 273.15)
    lines = [
        f"T = {plainly(temperature)} + 273.15 = {kelvin} K",
        "pK1 = 356.3094 + 0.06091964 T − 21834.37/T − 126.8339 log T + 1684915/T²",
        "pK2 = 107.8871 + 0.03252849 T − 5151.79/T − 38.92561 log T + 563713.9/T²",
        "pKw = 10576.913/T + 123.7316 log T − 0.1360833 T + 6.996455e-5 T² − 293.2923",
        f"pK1 = {number(pk1, 3)}, pK2 = {number(pk2, 3)}, pKw = {number(pkw, 3)}",
    ]
    says = ["Below pK1 most of it is carbon dioxide, between pK1 and pK2 bicarbonate, above pK2 carbonate."]
    if ph is not None:
        one = of.shares(ph, temperature)
        results = {
            "bicarbonate": Result(one.bicarbonate, "", 3, "share that is HCO3"),
            "dioxide": Result(one.dioxide, "", 3, "share that is CO2"),
            "carbonate": Result(one.carbonate, "", 4, "share that is CO3"),
            **results,
        }
        to_one, to_two = 10 ** (pk1 - ph), 10 ** (ph - pk2)
        lines += [
            f"CO2 for each HCO3: 10^(pK1 − pH) = 10^({number(pk1 - ph, 3)}) = {digits(to_one, 4)}",
            f"CO3 for each HCO3: 10^(pH − pK2) = 10^({number(ph - pk2, 3)}) = {digits(to_two, 4)}",
            f"share of HCO3 = 1 ÷ (1 + {digits(to_one, 4)} + {digits(to_two, 4)}) = {number(one.bicarbonate, 3)}",
        ]
        most = max(("carbon dioxide", one.dioxide), ("bicarbonate", one.bicarbonate), ("carbonate", one.carbonate),
                   key=lambda part: part[1])  # fmt: skip
        says.insert(0, f"At pH {ph:g} most of it, {number(100 * most[1], 0)} %, is {most[0]}.")
    return Reckoned(
        results=results, working=tuple(lines), source=f"{PLUMMER}; pKw as in PHREEQC's phreeqc.dat", says=tuple(says)
    )


def work_phosphate(ph: float) -> Reckoned:
    """Work out which form the phosphate is in."""
    share, ratio = of.dihydrogen_share(ph), 10 ** (ph - of.PHOSPHATE_PK[1])
    eq = of.mean_charge(ph, of.PHOSPHATE_PK)
    return Reckoned(
        results={
            "dihydrogen": Result(share, "", 3, "share that is H2PO4-"),
            "hydrogen": Result(1 - share, "", 3, "share that is HPO4-2"),
            "equivalents_per_mol": Result(eq, "eq/mol", 2, "what one mol of phosphoric acid counts for"),
        },
        working=(
            f"HPO4 for each H2PO4: 10^(pH − 7.2) = 10^({number(ph - 7.2, 2)}) = {digits(ratio, 4)}",
            f"share of H2PO4 = 1 ÷ (1 + {digits(ratio, 4)}) = {number(share, 3)}",
        ),
        source="pK2 of phosphoric acid 7.2, CRC Handbook of Chemistry and Physics, from memory",
        says=(
            f"At pH {ph:g}, {number(100 * share, 0)} % of the phosphate is H2PO4, the form that roots take up best.",
            "The higher the pH, the more of it can drop out with calcium.",
        ),
    )


def work_change(from_: float, to: float) -> Reckoned:
    """Work out by what factor the hydrogen ions change."""
    factor = of.hydrogen_factor(from_, to)
    more = factor >= 1
    times = digits(factor if more else 1 / factor)
    if from_ == to:
        says = "The pH is the same, and so are the hydrogen ions."
    else:
        says = f"From pH {from_:g} to {to:g} there are {times} times {'as many' if more else 'fewer'} hydrogen ions."
    return Reckoned(
        results={
            "factor": Result(factor, "", 3 if factor < 10 else 1, "times as many hydrogen ions"),
            "before": Result(10 ** (6 - from_), "µmol/L", 4, "hydrogen ions before"),
            "after": Result(10 ** (6 - to), "µmol/L", 4, "hydrogen ions after"),
        },
        working=(f"factor = 10^(pH before − pH after) = 10^({number(from_ - to, 2)}) = {digits(factor, 4)}",),
        source="the definition of pH (IUPAC): pH = −log10 of the activity of the hydrogen ions",
        says=(
            says,
            "One whole step of pH is always a factor of ten; how much acid it takes depends on the alkalinity.",
        ),
    )


def work_mean(ph: tuple[float, ...]) -> Reckoned:
    """Work out both means of several pH readings."""
    if len(ph) < 2:
        raise ValueError("a mean needs two readings at least, such as ph=6.0,7.0")
    mixture, plain = of.mean_ph(ph), fmean(ph)
    ions = [10 ** (6 - one) for one in ph]
    return Reckoned(
        results={
            "mixture": Result(mixture, "pH", 2, "equal parts mixed, by hydrogen ions"),
            "mean": Result(plain, "pH", 2, "plain mean of the readings"),
            "lowest": Result(min(ph), "pH", 2),
            "highest": Result(max(ph), "pH", 2),
        },
        working=(
            f"hydrogen ions, µmol/L: {', '.join(digits(one) for one in ions[:8])}{' …' if len(ions) > 8 else ''}",
            f"their mean: {digits(fmean(ions), 4)} µmol/L",
            f"6 − log10({digits(fmean(ions), 4)}) = pH {number(mixture, 2)}",
            f"plain mean of the readings = {number(sum(ph), 2)} ÷ {len(ph)} = pH {number(plain, 2)}",
        ),
        source="the definition of pH (IUPAC)",
        says=(
            f"Equal parts mixed come to about pH {number(mixture, 2)}, not {number(plain, 2)}: pH is a power of ten.",
            "That holds only where nothing buffers. Water with alkalinity comes out elsewhere: mix a cup and measure.",
            "To say how a tank was over some days, give the middle reading, the lowest and the highest.",
        ),
    )


PH = Field(key="ph", says="pH", unit="pH", low=4, high=10, starts="pH", others=("at",))

RECKONINGS = (
    Reckoning(
        name="carbonate",
        subject="solution",
        title="Carbonate in water",
        about="What holds the pH of tap water: carbon dioxide, bicarbonate and carbonate, and their constants.",
        fields=(
            Field(
                key="temperature",
                says="temperature of the water",
                unit="°C",
                low=0,
                high=50,
                starts="solution temperature",
                others=("temp", "t", "water"),
            ),
            Field(key="ph", says="pH", unit="pH", low=4, high=10, needed=False, starts="pH", others=("at",)),
        ),
        work=work_carbonate,
        example="temperature=25 ph=6.0",
        others=("carbonic-acid", "pk"),
    ),
    Reckoning(
        name="phosphate",
        subject="solution",
        title="Forms of phosphate",
        about="Which share of the phosphate is in the form that roots take up best.",
        fields=(PH,),
        work=work_phosphate,
        example="ph=6.5",
        others=("h2po4", "phosphate-share"),
    ),
    Reckoning(
        name="ph-change",
        subject="solution",
        title="What a change of pH means",
        about="By what factor the hydrogen ions change between two pH readings.",
        fields=(
            Field(key="from", says="pH before", unit="pH", low=0, high=14, others=("ph", "before", "start")),
            Field(key="to", says="pH after", unit="pH", low=0, high=14, others=("after", "end")),
        ),
        work=work_change,
        example="from=6.8 to=5.8",
        others=("hydrogen-ions", "ph-factor"),
    ),
    Reckoning(
        name="mean-ph",
        subject="solution",
        title="Mean of pH readings",
        about="Why the mean of two pH readings is not the pH of the mixture, and which mean to give.",
        fields=(
            Field(
                key="ph",
                says="the readings",
                unit="pH",
                kind="numbers",
                low=0,
                high=14,
                others=("readings", "values"),
            ),
        ),
        work=work_mean,
        example="ph=6.0,7.0",
        others=("mix-ph", "average-ph", "ph-mean"),
    ),
)
