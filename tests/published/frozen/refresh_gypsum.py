"""Write gypsum.json anew: PHREEQC's saturation index of gypsum in concentrates kept in one tank.

Needs phreeqpython (1.6.2 was used, with its phreeqc.dat), 20 °C, pH 5.5. Solutions in mmol per kg of water.
"""

import json
from importlib.metadata import version
from pathlib import Path

from phreeqpython import PhreeqPython

SOLUTIONS = {
    "lettuce": {"K": 5.37, "Ca": 2.25, "Mg": 1.0, "NH4": 0.89, "NO3": 9.86, "P": 1.0, "S": 1.0},
    "hoagland-1": {"K": 6.0, "Ca": 5.0, "Mg": 2.0, "NH4": 0.0, "NO3": 15.0, "P": 1.0, "S": 2.0},
    "hoagland-2": {"K": 6.0, "Ca": 4.0, "Mg": 2.0, "NH4": 1.0, "NO3": 14.0, "P": 1.0, "S": 2.0},
    "steiner": {"K": 7.0, "Ca": 4.5, "Mg": 2.0, "NH4": 0.0, "NO3": 12.0, "P": 1.0, "S": 3.5},
}
FACTORS = (1, 5, 8, 10, 12, 15, 20, 30, 50, 100)
NAMES = {"K": "K", "Ca": "Ca", "Mg": "Mg", "NH4": "N(-3)", "NO3": "N(5)", "P": "P", "S": "S(6)"}


def index(solution: dict[str, float], factor: int) -> float:
    """Return the saturation index of gypsum in the solution made so many times stronger."""
    strong = {NAMES[name]: amount * factor for name, amount in solution.items()}
    made = PhreeqPython().add_solution({"units": "mmol/kgw", "pH": 5.5, "temp": 20, **strong})
    return round(float(made.si("Gypsum")), 3)


if __name__ == "__main__":
    rows = [
        {
            "solution": name,
            "factor": factor,
            "ca": one["Ca"] * factor,
            "so4": one["S"] * factor,
            "index": index(one, factor),
        }
        for name, one in SOLUTIONS.items()
        for factor in FACTORS
    ]
    frozen = {"library": f"phreeqpython {version('phreeqpython')}, phreeqc.dat, 20 °C, pH 5.5", "rows": rows}
    Path(__file__).with_name("gypsum.json").write_text(json.dumps(frozen, indent=1) + "\n", encoding="utf-8")
