"""What `acid` and `base` share: the fields for a tank, the carbonate formula on the board, and the portions."""

from msgspec import Struct

from walkabout.growing import acid as of
from walkabout.growing import carbonate
from walkabout.growing.acid import Portion, Substance
from walkabout.growing.alkalinity import CACO3_PER_MEQ
from walkabout.growing.elements import WEIGHTS, molar_mass
from walkabout.growing.titration import Dose, Water, water
from walkabout.reckon.acid_bottle import Bottle, ml, poured
from walkabout.reckon.model import Field, Result
from walkabout.reckon.write import digits, number, plainly

SOURCE = (
    "constants and calcium pairs of carbonate: Plummer and Busenberg 1982, Geochim. Cosmochim. Acta 46:1011-1040; "
    "activities: Davies equation; 80 % first and 0.5 at a time: common practice"
)
USUAL = 25.0
"""The temperature taken when none is given, °C."""
MUCH_DIOXIDE = 3.0
"""mmol/L of carbon dioxide: more than a tank in open air keeps (assumed), so the alkalinity is likely not its own."""

VOLUME = Field(
    key="volume", says="solution in the tank", unit="L", low=0.01, high=1e6, starts="litres", others=("litres", "v")
)
PH = Field(
    key="ph", says="pH now", unit="pH", low=4, high=10, starts="pH", others=("from", "ph_start", "start", "ph_now")
)
TO = Field(
    key="to",
    says="pH wanted",
    unit="pH",
    low=4,
    high=10,
    starts="wanted pH",
    others=("target", "ph_target", "wanted", "aim"),
)
ALKALINITY = Field(
    key="alkalinity",
    says="alkalinity of what is in the tank",
    unit="mg/L CaCO3",
    low=0,
    high=1000,
    starts="alkalinity",
    others=("alk", "kh", "caco3"),
    note="that of the water when it is fresh; 0 for rain and demineralised water",
)
TEMPERATURE = Field(
    key="temperature",
    says="temperature of the solution",
    unit="°C",
    low=0,
    high=50,
    needed=False,
    starts="solution temperature",
    others=("temp", "t", "water_temperature"),
    note="25 °C when it is not known",
)
PHOSPHORUS = Field(
    key="phosphorus",
    says="phosphorus already in the solution",
    unit="mg/L",
    low=0,
    high=500,
    needed=False,
    starts="phosphorus",
    others=("p",),
    note="feed holds its pH too; about 31 mg/L in many recipes",
)


class Tank(Struct, frozen=True):
    """The tank as it was described."""

    volume: float
    ph: float
    to: float
    caco3: float
    """Alkalinity, mg/L CaCO3."""
    temperature: float | None
    phosphorus: float | None
    """mg/L"""

    @property
    def warm(self) -> float:
        """Return its temperature, or the usual one, °C."""
        return USUAL if self.temperature is None else self.temperature

    @property
    def meq(self) -> float:
        """Return its alkalinity in meq/L."""
        return self.caco3 / CACO3_PER_MEQ

    def water(self) -> Water:
        """Return it as closed water."""
        return water(self.meq, self.ph, self.warm, (self.phosphorus or 0) / WEIGHTS["P"])

    def ideal(self) -> float:
        """Return the strong acid by the carbonate formula alone, meq/L; negative when a base is needed."""
        return carbonate.strong_acid(self.meq, self.ph, self.to, self.warm)

    def too_much_dioxide(self) -> bool:
        """Say whether this alkalinity at this pH asks for more carbon dioxide than an open tank keeps."""
        held = carbonate.carbon(self.meq, self.ph, self.warm)
        return held * carbonate.shares(self.ph, self.warm).dioxide > MUCH_DIOXIDE


class Pour(Struct, frozen=True):
    """What is poured from a bottle, or weighed when there is none."""

    kind: Substance
    volume: float
    """Of the tank, L."""
    bottle: Bottle | None

    @property
    def mass(self) -> float:
        """Return the molar mass, g/mol."""
        return molar_mass(of.FORMULAS[self.kind])

    def much(self, millimoles: float) -> float:
        """Return the mL of the bottle, or the g when there is none, for so many mmol/L."""
        each = self.volume * millimoles
        return each / self.bottle.mol if self.bottle else each * self.mass / 1000

    def write(self, millimoles: float) -> str:
        """Write it with its unit."""
        much = self.much(millimoles)
        return poured(much) if self.bottle else f"{digits(much)} g"

    @property
    def of_it(self) -> str:
        """Return what it is: 'nitric acid (0.5 mol/L)'."""
        return of.said(self.kind) + (f" ({self.bottle.said})" if self.bottle else "")

    def results(self, found: Dose, parts: tuple[Portion, ...]) -> dict[str, Result]:
        """Return what to pour or weigh, the whole and the first portion."""
        whole, first = self.much(found.amount), self.much(parts[0].amount) if parts else 0.0
        steps = Result(float(len(parts)), "", 0, "portions, measuring between them")
        if self.bottle:
            return {"volume": ml(whole, "to pour in all"), "first_dose": ml(first, "to pour first"), "steps": steps}
        return {
            "mass": Result(whole, "g", 2, "to weigh in all"),
            "first_dose": Result(first, "g", 2, "to add first"),
            "steps": steps,
        }

    def lines(self, found: Dose, to: float, by_pk: float | None) -> list[str]:
        """Return the steps from meq/L to what is poured."""
        lines = []
        if found.amount > 0:
            alone = f" ({number(by_pk, 2)} by pK alone)" if by_pk is not None else ""
            lines = [
                f"{of.said(self.kind)}: one mmol counts for {plainly(found.counts)} meq at pH {to:g}{alone}",
                f"{figure(found.equivalents)} ÷ {plainly(found.counts)} = {figure(found.amount)} mmol/L",
            ]
        whole = f"{figure(found.amount)} mmol/L × {plainly(self.volume)} L"
        if self.bottle:
            lines += self.bottle.lines
            return [*lines, f"{whole} ÷ {plainly(self.bottle.mol)} mol/L = {self.write(found.amount)}"]
        return [*lines, f"{whole} × {number(self.mass, 2)} g/mol ÷ 1000 = {self.write(found.amount)}"]

    def portion_lines(self, parts: tuple[Portion, ...]) -> list[str]:
        """Return one line for each portion."""
        return [
            f"portion {count}: {self.write(part.amount)}, "
            + (f"to about pH {number(part.reached, 1)}" if part.reached is not None else "then four fifths are in")
            for count, part in enumerate(parts, start=1)
        ]

    def how(self, parts: tuple[Portion, ...]) -> tuple[str, ...]:
        """Say how to go about it."""
        whole = self.write(sum(part.amount for part in parts))
        rest = "Add the rest only if the meter still asks for it."
        if len(parts) > 2:
            rest = f"In {len(parts)} portions the pH moves by no more than 0.5 each time; stop when it is there."
        return (
            f"Add {self.write(parts[0].amount)} of {self.of_it} first, stir, wait 15 to 30 minutes and measure.",
            f"The whole figure is {whole}: never pour it all at once.",
            rest,
            "Measure again after an hour and next morning: carbon dioxide leaves, and the pH climbs a little.",
        )


def board(tank: Tank) -> list[str]:
    """Return the carbonate formula step by step, with this tank's figures."""
    ph, to, warm, alk = tank.ph, tank.to, tank.warm, tank.meq
    shares = [carbonate.shares(one, warm) for one in (ph, to)]
    factor, factor_to = (one.bicarbonate + 2 * one.carbonate for one in shares)
    itself, itself_to = carbonate.water_itself(ph, warm), carbonate.water_itself(to, warm)
    held = carbonate.carbon(alk, ph, warm)
    left = carbonate.alkalinity(held, to, warm)
    constants = [number(one(warm), 3) for one in (carbonate.pk1, carbonate.pk2, carbonate.pkw)]
    lines = [f"taken: temperature = {warm:g} °C"] if tank.temperature is None else []
    lines.append(f"alkalinity = {number(tank.caco3, 2)} mg/L ÷ 50.04 = {figure(alk)} meq/L")
    lines.append(f"at {warm:g} °C: pK1 {constants[0]}, pK2 {constants[1]}, pKw {constants[2]}")
    lines.append(f"f = (HCO3 + 2 CO3) ÷ carbon: {number(factor, 5)} at pH {ph:g}, {number(factor_to, 5)} at pH {to:g}")
    if held > 0:
        made = f"{number(alk - itself, 4)} ÷ {number(factor, 5)} = {number(held, 4)}"
        lines.append(f"carbon C = (Alk − OH + H) ÷ f = {made} mmol/L")
    else:
        lines.append("carbon C = 0: too little alkalinity for this pH, water alone counts")
    water_to = _added(itself_to, number(abs(itself_to), 4))
    lines.append(f"left = C f + OH − H = {number(held, 4)} × {number(factor_to, 5)} {water_to} = {figure(left)} meq/L")
    then = alk if held > 0 else itself
    lines.append(f"formula: {figure(then)} {_added(-left, figure(abs(left)))} = {figure(tank.ideal())} meq/L")
    if tank.phosphorus:
        moles = tank.phosphorus / WEIGHTS["P"]
        lines.append(f"phosphorus in it: {plainly(tank.phosphorus)} mg/L ÷ 30.97 = {figure(moles)} mmol/L")
    return lines


def figure(value: float) -> str:
    """Write a concentration: four decimals, and four digits of what is small."""
    return number(value, 4) if abs(value) >= 0.1 or value == 0 else digits(value, 4)


def _added(value: float, written: str) -> str:
    """Write a term with its sign in front: '+ 0.01', '− 0.01'."""
    return f"{'−' if value < 0 else '+'} {written}"
