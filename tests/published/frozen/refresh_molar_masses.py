"""Weigh the formulas that `molar_masses.json` holds, with molmass; not run by the tests.

Needs molmass 2026.1.8, in an environment of its own: `python refresh_molar_masses.py > molar_masses.json`.
Masses in g/mol, fractions by mass.
"""

import json
import sys
from importlib.metadata import version

from molmass import Formula

FORMULAS = (
    "Ca(NO3)2·4H2O",
    "5Ca(NO3)2·NH4NO3·10H2O",
    "KNO3",
    "KH2PO4",
    "K2HPO4",
    "MgSO4·7H2O",
    "Mg(NO3)2·6H2O",
    "MgCl2·6H2O",
    "K2SO4",
    "KCl",
    "CaCl2·2H2O",
    "CaSO4·2H2O",
    "NH4NO3",
    "(NH4)2SO4",
    "NH4H2PO4",
    "(NH4)2HPO4",
    "CO(NH2)2",
    "NaNO3",
    "NaCl",
    "NaHCO3",
    "KOH",
    "KHCO3",
    "K2CO3",
    "K2SiO3",
    "Ca(OH)2",
    "CaCO3",
    "FeSO4·7H2O",
    "NaFeC10H12N2O8·3H2O",
    "NaHFeC14H18N3O10",
    "NaFeC18H16N2O6",
    "H3BO3",
    "Na2B4O7·10H2O",
    "MnSO4·H2O",
    "MnCl2·4H2O",
    "ZnSO4·7H2O",
    "CuSO4·5H2O",
    "Na2MoO4·2H2O",
    "(NH4)6Mo7O24·4H2O",
    "H2MoO4·H2O",
    "MnSO4·4H2O",
    "CaSO4·0.5H2O",
    "P2O5",
    "K2O",
    "SO3",
    "NO3",
    "PO4",
)


def weigh(formula: str) -> dict[str, object]:
    """Return the mass and the fractions of a formula, part by part: molmass reads no halves."""
    total: dict[str, float] = {}
    for part in formula.split("·"):
        digits = part[: len(part) - len(part.lstrip("0123456789."))]
        for item in Formula(part[len(digits) :]).composition().values():
            total[item.symbol] = total.get(item.symbol, 0.0) + item.mass * float(digits or 1)
    whole = sum(total.values())
    return {"mass": round(whole, 6), "fractions": {symbol: round(mass / whole, 8) for symbol, mass in total.items()}}


def main() -> None:
    """Write the answers as JSON."""
    answers = {"made_with": f"molmass {version('molmass')}", "formulas": {one: weigh(one) for one in FORMULAS}}
    json.dump(answers, sys.stdout, indent=1, ensure_ascii=False)
    sys.stdout.write("\n")


if __name__ == "__main__":
    main()
