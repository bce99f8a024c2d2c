"""Work out the conductivities that `conductivity.json` holds, with PHREEQC; not run by the tests.

Needs phreeqpython 1.6.2 (PHREEQC 3 by Parkhurst and Appelo, database phreeqc.dat), in an environment of
its own: `python refresh_conductivity.py > conductivity.json`. Each solution is at 25 °C and pH 5.5 (with
hydrogen carbonate pH 8.3, potassium phosphate as its salt gives it), nitrogen entered as N(5) and N(-3).
`ec` is PHREEQC's specific conductance in mS/cm.
"""

import json
import sys
from importlib.metadata import version

import phreeqpython

HOAGLAND_1 = {"K": 6, "Ca": 5, "Mg": 2, "NO3": 15, "H2PO4": 1, "SO4": 2}
HOAGLAND_2 = {"K": 6, "Ca": 4, "Mg": 2, "NH4": 1, "NO3": 14, "H2PO4": 1, "SO4": 2}
STEINER = {"K": 7, "Ca": 4.5, "Mg": 2, "NO3": 12, "H2PO4": 1, "SO4": 3.5}
LETTUCE = {"K": 5.371, "Ca": 2.249, "Mg": 0.998, "NH4": 0.925, "NO3": 9.797, "H2PO4": 1.0, "SO4": 0.998}
TOMATO = {"K": 8.72, "Ca": 4.24, "Mg": 1.98, "NH4": 0.5, "NO3": 13.0, "H2PO4": 1.26, "SO4": 3.7, "Na": 0.5, "Cl": 0.5}


def times(solution: dict[str, float], factor: float) -> dict[str, float]:
    """Return a solution made stronger or weaker."""
    return {ion: amount * factor for ion, amount in solution.items()}


SOLUTIONS: dict[str, dict[str, float]] = {
    "Hoagland 1": HOAGLAND_1,
    "Hoagland 1, half": times(HOAGLAND_1, 0.5),
    "Hoagland 1, quarter": times(HOAGLAND_1, 0.25),
    "Hoagland 1, tenth": times(HOAGLAND_1, 0.1),
    "Hoagland 1, double": times(HOAGLAND_1, 2),
    "Hoagland 2": HOAGLAND_2,
    "Hoagland 2, half": times(HOAGLAND_2, 0.5),
    "Steiner": STEINER,
    "Steiner, half": times(STEINER, 0.5),
    "lettuce": LETTUCE,
    "lettuce, half": times(LETTUCE, 0.5),
    "tomato": TOMATO,
    "tomato, 1.5 times": times(TOMATO, 1.5),
    "KCl 1": {"K": 1, "Cl": 1},
    "KCl 10": {"K": 10, "Cl": 10},
    "KCl 50": {"K": 50, "Cl": 50},
    "NaCl 10": {"Na": 10, "Cl": 10},
    "NaCl 17.1": {"Na": 17.11, "Cl": 17.11},
    "KNO3 10": {"K": 10, "NO3": 10},
    "NH4NO3 10": {"NH4": 10, "NO3": 10},
    "Ca(NO3)2 5": {"Ca": 5, "NO3": 10},
    "Ca(NO3)2 20": {"Ca": 20, "NO3": 40},
    "Mg(NO3)2 5": {"Mg": 5, "NO3": 10},
    "MgSO4 2": {"Mg": 2, "SO4": 2},
    "MgSO4 10": {"Mg": 10, "SO4": 10},
    "K2SO4 5": {"K": 10, "SO4": 5},
    "KH2PO4 5": {"K": 5, "H2PO4": 5},
    "CaSO4 5": {"Ca": 5, "SO4": 5},
    "NaHCO3 5": {"Na": 5, "HCO3": 5},
    "hard tap water": {"Ca": 2.2, "Mg": 0.5, "Na": 0.8, "K": 0.1, "HCO3": 4.0, "Cl": 1.0, "SO4": 0.5, "NO3": 0.3},
    "soft tap water": {"Ca": 0.4, "Mg": 0.1, "Na": 0.3, "HCO3": 0.6, "Cl": 0.3, "SO4": 0.2},
}

ENTERED = {"NO3": "N(5)", "NH4": "N(-3)", "H2PO4": "P", "SO4": "S(6)", "HCO3": "Alkalinity"}


def main() -> None:
    """Write the answers as JSON."""
    machine = phreeqpython.PhreeqPython()
    answers = []
    for name, ions in SOLUTIONS.items():
        entered: dict[str, object] = {ENTERED.get(ion, ion): amount for ion, amount in ions.items()}
        ph = 8.3 if ions.get("HCO3") else 4.6 if name.startswith("KH2PO4") else 5.5
        entered |= {"units": "mmol/kgw", "temp": 25, "pH": ph}
        solution = machine.add_solution(entered)
        answers.append({"name": name, "ions": ions, "ec": round(solution.sc / 1000, 5)})
        solution.forget()
    json.dump(
        {"made_with": f"phreeqpython {version('phreeqpython')}, phreeqc.dat", "solutions": answers},
        sys.stdout,
        indent=1,
    )
    sys.stdout.write("\n")


if __name__ == "__main__":
    main()
