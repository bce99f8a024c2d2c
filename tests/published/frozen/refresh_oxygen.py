"""Write oxygen.json anew: the oxygen that fresh water holds by gsw. Needs gsw (3.6.23 was used) and numpy.

gsw.O2sol_SP_pt gives µmol of O2 in a kg of water at one atmosphere, from the same measurements (Garcia and
Gordon 1992); times the molar mass of O2 and the density of the water that is mg/L.
"""

import json
from importlib.metadata import version
from pathlib import Path

import gsw

MOLAR_MASS = 31.9988


def mg_per_litre(temperature: float) -> float:
    """Return mg/L at `temperature` °C and salinity 0."""
    density = gsw.rho_t_exact(0.0, temperature, 0.0)
    return float(gsw.O2sol_SP_pt(0.0, temperature)) * MOLAR_MASS * 1e-3 * float(density) / 1000


if __name__ == "__main__":
    rows = [[t / 2, round(mg_per_litre(t / 2), 6)] for t in range(81)]
    frozen = {"library": f"gsw {version('gsw')}, O2sol_SP_pt and rho_t_exact", "rows": rows}
    Path(__file__).with_name("oxygen.json").write_text(json.dumps(frozen) + "\n", encoding="utf-8")
