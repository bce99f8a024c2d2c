"""Work out the EC of nutrient solutions mixed with water that `blends.json` holds, with PHREEQC.

Needs phreeqpython 1.6.2 (PHREEQC 3 by Parkhurst and Appelo, database phreeqc.dat), in an environment of
its own: `python refresh_blends.py > blends.json`; the tests do not run it. Solutions at 25 °C and pH 5.5,
tap water at pH 8.3; `part` litres of solution with 1 - `part` of water.
EC is PHREEQC's specific conductance in mS/cm. Each half of a blend is given with its own EC. No solution has
ammonium, because in a mixture PHREEQC lets it react with nitrate, which does not happen in a tank.
"""

import json
import sys
from importlib.metadata import version

import phreeqpython

SOLUTIONS = {
    "Hoagland 1": {"K": 6, "Ca": 5, "Mg": 2, "N(5)": 15, "P": 1, "S(6)": 2},
    "Steiner": {"K": 7, "Ca": 4.5, "Mg": 2, "N(5)": 12, "P": 1, "S(6)": 3.5},
}
WATERS = {
    "pure": {"K": 0.0001},
    "soft": {"Ca": 0.4, "Mg": 0.1, "Na": 0.3, "Alkalinity": 0.6, "Cl": 0.3, "S(6)": 0.2},
    "hard": {"Ca": 2.2, "Mg": 0.5, "Na": 0.8, "K": 0.1, "Alkalinity": 4.0, "Cl": 1.0, "S(6)": 0.5, "N(5)": 0.3},
}
PARTS = (0.9, 0.75, 0.5)


def main() -> None:
    """Write the answers as JSON."""
    machine = phreeqpython.PhreeqPython()
    answers = []
    for name, ions in SOLUTIONS.items():
        solution = machine.add_solution(ions | {"units": "mmol/kgw", "temp": 25, "pH": 5.5})
        for kind, brought in WATERS.items():
            ph = 7.0 if kind == "pure" else 8.3
            water = machine.add_solution(brought | {"units": "mmol/kgw", "temp": 25, "pH": ph})
            for part in PARTS:
                mixed = machine.mix_solutions({solution: part, water: 1 - part})
                answers.append(
                    {
                        "solution": name,
                        "water": kind,
                        "part": part,
                        "ec": round(solution.sc / 1000, 5),
                        "water_ec": round(water.sc / 1000, 5),
                        "mixed_ec": round(mixed.sc / 1000, 5),
                    }
                )
    made = f"phreeqpython {version('phreeqpython')}, phreeqc.dat"
    json.dump({"made_with": made, "blends": answers}, sys.stdout, indent=1)
    sys.stdout.write("\n")


if __name__ == "__main__":
    main()
