"""Write titration.json anew: PHREEQC's acid and base doses for closed calcium bicarbonate waters.

Needs phreeqpython (1.6.2 was used, with its phreeqc.dat; for citric acid the species below are added to
it). Each dose is the difference between two solutions: one with the alkalinity and the pH of the start,
and one with the same carbon and calcium at the target pH, the reagent making up the charges.
"""

import json
from importlib.metadata import version
from pathlib import Path
from typing import Any

from phreeqpython import PhreeqPython

ALKALINITY = (0, 10, 25, 50, 100, 150, 200, 300)
"""mg/L CaCO3; 50.04 of them are 1 meq/L."""
PH = (8.5, 8.0, 7.5, 7.0, 6.5, 6.0, 5.5, 5.0)
TEMPERATURE = (15, 20, 25)
FEW = ((50, 7.0, 6.0), (100, 7.5, 5.8), (150, 8.0, 6.0), (150, 8.0, 5.5), (250, 7.8, 6.5), (300, 8.2, 5.8))
UP = ((0, 5.5, 6.5), (25, 5.5, 6.0), (50, 5.0, 6.0), (100, 5.8, 6.5), (100, 6.0, 7.0), (200, 6.5, 7.0))
CITRATE = """
SOLUTION_MASTER_SPECIES
Cit Cit-3 2.0 Cit 189.10
SOLUTION_SPECIES
Cit-3 = Cit-3
Cit-3 + H+ = HCit-2
    log_k 6.40
Cit-3 + 2H+ = H2Cit-
    log_k 11.16
Cit-3 + 3H+ = H3Cit
    log_k 14.29
Ca+2 + Cit-3 = CaCit-
    log_k 4.85
END
"""
TRACE = 1e-7


class Closed:
    """A water at its start, and what brings it to another pH."""

    def __init__(
        self, engine: PhreeqPython, caco3: float, ph: float, temperature: float, phosphorus: float = 0
    ) -> None:
        self.engine, self.temperature = engine, temperature
        start: dict[str, Any] = {"units": "mmol/kgw", "pH": ph, "temp": temperature}
        if caco3:
            start |= {"Alkalinity": caco3 / 50.04, "Ca": caco3 / 100.08}
            # Phosphate counts as alkalinity; what it and its potassium leave over is made up by sodium or chloride.
            start |= {"P": phosphorus, "K": phosphorus, "Na": f"{TRACE} charge"} if phosphorus else {}
            start["Ca"] = start["Ca"] if phosphorus else f"{caco3 / 100.08} charge"
        else:
            # Without alkalinity an acid water holds carbon dioxide, and any other a trace of base.
            start |= {"C(4)": "1e-3 charge"} if ph < 7 else {"Na": f"{TRACE} charge"}
        made = engine.add_solution(start)
        self.held = {
            "C(4)": made.total_element("C", units="mmol"),
            "Ca": made.total_element("Ca", units="mmol"),
            "P": phosphorus,
            "K": phosphorus,
            "Na": made.total_element("Na", units="mmol"),
        }
        made.forget()

    def needs(self, ph: float, name: str, carbon: float = 0) -> float:
        """Return the mmol/L of the thing called `name` that balance the charges at `ph`."""
        target: dict[str, Any] = {"units": "mmol/kgw", "pH": ph, "temp": self.temperature}
        target |= {key: amount for key, amount in self.held.items() if amount > 0}
        before = target.pop(name, 0) if name in ("K", "P") else 0
        if carbon:
            target["C(4)"] += carbon
        made = self.engine.add_solution(target | {name: f"{before + TRACE} charge"})
        needed = made.total_element(name.split("(", maxsplit=1)[0], units="mmol") - before
        made.forget()
        return float(needed)


def with_carbon(water: Closed, ph: float, each: float) -> float:
    """Return the mmol/L of carbonate salt, `each` mol of potassium in it, by repeated substitution."""
    added = 0.0
    for _ in range(200):
        added += 0.7 * (water.needs(ph, "K", carbon=max(added, 1e-9)) / each - added)
    return added


def rows(plain: PhreeqPython, citric: PhreeqPython) -> dict[str, list[list[float]]]:
    """Return rows of alkalinity mg/L CaCO3, pH, target pH, °C and one or two doses in mmol/L."""
    waters = [(a, p) for a in ALKALINITY for p in PH if a or p != 7]  # pure water has its pH of about 7 by itself
    grid = [(a, p, to, t) for t in TEMPERATURE for a, p in waters for to in PH if to < p]
    few, up = [(*one, t) for t in (15, 25) for one in FEW], [(*one, t) for t in (15, 25) for one in UP]
    return {
        "nitric": [[*one, Closed(plain, one[0], one[1], one[3]).needs(one[2], "N(5)")] for one in grid],
        "phosphoric": [[*one, Closed(plain, one[0], one[1], one[3]).needs(one[2], "P")] for one in grid],
        "sulfuric": [[*one, Closed(plain, one[0], one[1], one[3]).needs(one[2], "S(6)")] for one in few],
        "citric": [[*one, Closed(citric, one[0], one[1], one[3]).needs(one[2], "Cit")] for one in few],
        "nitric, phosphorus 1 mmol/L": [
            [*one, Closed(plain, one[0], one[1], one[3], 1.0).needs(one[2], "N(5)")] for one in few
        ],
        "potassium hydroxide": [[*one, Closed(plain, one[0], one[1], one[3]).needs(one[2], "K")] for one in up],
        "potassium bicarbonate": [[*one, with_carbon(Closed(plain, one[0], one[1], one[3]), one[2], 1)] for one in up],
        "potassium carbonate": [[*one, with_carbon(Closed(plain, one[0], one[1], one[3]), one[2], 2)] for one in up],
    }


if __name__ == "__main__":
    # Without a name the library takes another file of constants.
    plain, citric = PhreeqPython(database="phreeqc.dat"), PhreeqPython(database="phreeqc.dat")
    citric.ip.run_string(CITRATE)
    found = rows(plain, citric)
    text = ",\n".join(
        f' "{name}": [\n' + ",\n".join("  " + json.dumps([round(x, 6) for x in one]) for one in made) + "\n ]"
        for name, made in found.items()
    )
    library = f"phreeqpython {version('phreeqpython')}, phreeqc.dat; alkalinity mg/L CaCO3, pH, target pH, °C, mmol/L"
    head = f' "library": "{library}"'
    Path(__file__).with_name("titration.json").write_text(f"{{\n{head},\n{text}\n}}\n", encoding="utf-8")
