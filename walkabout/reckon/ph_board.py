"""What `acid` and `base` share: the carbonate formula on the board, what is poured, and the portions."""

from collections.abc import Mapping

from msgspec import Struct

from walkabout.growing import acid as of
from walkabout.growing import carbonate
from walkabout.growing.acid import Portion, Substance
from walkabout.growing.elements import WEIGHTS, molar_mass
from walkabout.growing.titration import Dose
from walkabout.reckon.acid_bottle import Bottle, ml, poured
from walkabout.reckon.acid_made import Made
from walkabout.reckon.model import Result
from walkabout.reckon.ph_tank import Tank
from walkabout.reckon.write import digits, number, plainly

SOURCE = (
    "constants and calcium pairs of carbonate: Plummer and Busenberg 1982, Geochim. Cosmochim. Acta 46:1011-1040; "
    "activities: Davies equation; 80 % first and 0.5 at a time: common practice"
)
WEAK_SOURCE: Mapping[str, str] = {
    "phosphoric": "pK of phosphoric acid: CRC Handbook, from memory; its calcium pairs: PHREEQC's phreeqc.dat",
    "citric": "pK of citric acid: Bates and Pinching 1949, from memory; calcium citrate: Singh and others 1991, "
    "J. Chem. Eng. Data 36:52-54",
}
"""Where the constants of the weak acids come from."""


class Pour(Struct, frozen=True):
    """What is poured from a bottle, or weighed when there is none."""

    kind: Substance
    volume: float
    """Of the tank, L."""
    bottle: Bottle | None
    made: Made | None
    """The weaker solution that is made of it first; None where it goes in as it is."""

    @property
    def mass(self) -> float:
        """Return the molar mass, g/mol."""
        return molar_mass(of.FORMULAS[self.kind])

    def much(self, millimoles: float) -> float:
        """Return the mL of the bottle, or the g when there is none, for so many mmol/L."""
        each = self.volume * millimoles
        return each / self.bottle.mol if self.bottle else each * self.mass / 1000

    def write(self, millimoles: float) -> str:
        """Write it with its unit, as it goes into the tank."""
        if self.made:
            return poured(self.made.much(self.volume * millimoles))
        return self.given(millimoles)

    def given(self, millimoles: float) -> str:
        """Write it with its unit, as it is in the bottle or the jar."""
        much = self.much(millimoles)
        return poured(much) if self.bottle else f"{digits(much)} g"

    @property
    def of_it(self) -> str:
        """Return what it is: 'nitric acid (0.5 mol/L)'."""
        return of.said(self.kind) + (f" ({self.bottle.said})" if self.bottle else "")

    def results(self, found: Dose, parts: tuple[Portion, ...]) -> dict[str, Result]:
        """Return what to pour or weigh, the whole and the first portion."""
        whole, first = self.much(found.amount), parts[0].amount if parts else 0.0
        steps = {"steps": Result(float(len(parts)), "", 0, "portions, measuring between them")}
        if self.made is None:
            if not self.bottle:
                return {"mass": Result(whole, "g", 2, "to weigh in all"), "first_dose": Result(0.0, "g", 2), **steps}
            return {"volume": ml(whole, "to pour in all"), "first_dose": ml(self.much(first), "to pour first"), **steps}
        pours = ml(self.made.much(self.volume * first), f"of the {self.made.said}, to pour first")
        if not self.bottle:
            return {
                "mass": Result(whole, "g", 2, "to weigh in all"),
                **self.made.results(),
                "first_dose": pours,
                **steps,
            }
        return {
            "volume": ml(whole, "in all, as it is in the bottle"),
            **self.made.results(),
            "dose": ml(self.made.much(self.volume * found.amount), f"of the {self.made.said}, in all"),
            "first_dose": pours,
            **steps,
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
            lines.append(f"{whole} ÷ {plainly(self.bottle.mol)} mol/L = {self.given(found.amount)}")
        else:
            lines.append(f"{whole} × {number(self.mass, 2)} g/mol ÷ 1000 = {self.given(found.amount)}")
        return [*lines, *(self.made.lines if self.made else ())]

    def portion_lines(self, parts: tuple[Portion, ...]) -> list[str]:
        """Return one line for each portion."""
        return [
            f"portion {count}: {self.write(part.amount)}, "
            + (f"to about pH {number(part.reached, 1)}" if part.reached is not None else "then four fifths are in")
            for count, part in enumerate(parts, start=1)
        ]

    def how(self, parts: tuple[Portion, ...]) -> tuple[str, ...]:
        """Say how to go about it."""
        whole, first = self.write(sum(part.amount for part in parts)), self.write(parts[0].amount)
        rest = "Add the rest only if the meter still asks for it."
        if len(parts) > 2:
            rest = f"In {len(parts)} portions the pH moves by no more than 0.5 each time; stop when it is there."
        begin: tuple[str, ...] = (f"Add {first} of {self.of_it} first, stir, wait 15 to 30 minutes and measure.",)
        if self.made:
            begin = (self.made.order(), f"Then add {first} of that, stir, wait 15 to 30 minutes and measure.")
        return (
            *begin,
            f"The whole figure is {whole}{' of it' if self.made else ''}: never pour it all at once.",
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
    name = "left" if to <= ph else "wanted"
    lines.append(
        f"{name} = C f + OH − H = {number(held, 4)} × {number(factor_to, 5)} {water_to} = {figure(left)} meq/L"
    )
    more, less = (alk if held > 0 else itself, left) if to <= ph else (left, alk if held > 0 else itself)
    need = figure(abs(tank.ideal()))
    lines.append(f"formula: {figure(more)} {_added(-less, figure(abs(less)))} = {need} meq/L")
    if tank.phosphorus:
        moles = tank.phosphorus / WEIGHTS["P"]
        lines.append(f"phosphorus in it: {plainly(tank.phosphorus)} mg/L ÷ 30.97 = {figure(moles)} mmol/L")
    return lines


def salts(tank: Tank, found: Dose) -> list[str]:
    """Return how the formula's figure becomes the one that counts, with the salts and the phosphate in the water."""
    lime = tank.water().calcium
    if tank.calcium is None:
        milligrams = number(lime * WEIGHTS["Ca"], 1)
        lines = [f"taken: calcium = alkalinity ÷ 2 = {figure(lime)} mmol/L ({milligrams} mg/L), water not softened"]
    else:
        lines = [f"calcium: {plainly(tank.calcium)} mg/L ÷ 40.08 = {figure(lime)} mmol/L"]
    ideal = abs(tank.ideal())
    if ideal < LEAST or found.equivalents < LEAST:
        return [*lines, f"with the salts (Davies, calcium pairs): {figure(found.equivalents)} meq/L"]
    phosphate = ["the phosphate in it holds the pH too;"] if tank.phosphorus else []
    factor = number(found.equivalents / ideal, 5)
    return [
        *lines,
        *phosphate,
        "in salty water ions count for less, and calcium holds some of them:",
        f"factor for that (Davies, calcium pairs): {factor}, by a computer",
        f"{figure(ideal)} × {factor} = {figure(found.equivalents)} meq/L",
    ]


LEAST = 1e-4
"""meq/L: below it a factor says nothing (assumed)."""


def figure(value: float) -> str:
    """Write a concentration: four decimals, and four digits of what is small."""
    return number(value, 4) if abs(value) >= 0.1 or value == 0 else digits(value, 4)


def _added(value: float, written: str) -> str:
    """Write a term with its sign in front: '+ 0.01', '− 0.01'."""
    return f"{'−' if value < 0 else '+'} {written}"
