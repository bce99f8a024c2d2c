"""Write lamp_spectra.json anew: what a lux is under the CIE's lamps. Needs colour-science (0.4.7 was used).

For each of the CIE's relative spectra S (CIE 15:2018) in steps of 1 nm: lux for each µmol/m²/s of 400 to 700 nm,
683 ∫ S V dλ ÷ ∫ S λ dλ × h c N, and µmol for each joule of 400 to 700 nm. V is the eye's curve of 1924, given
too, every 5 nm from 380 to 780 nm and every 1 nm between 400 and 700 nm.
"""

import json
from importlib.metadata import version
from pathlib import Path

import colour
import numpy as np

JOULE_NANOMETRES = 6.62607015e-34 * 299792458 * 6.02214076e23 * 1e9 / 1e6
"""h c N: joules in a µmol of photons, times their wavelength in nm."""
LEFT_OUT = ("B", "E")
"""No longer among the CIE's (B), and no lamp at all (E)."""


def main() -> None:
    """Write the answers as JSON beside this file."""
    eye = colour.SDS_LEFS["CIE 1924 Photopic Standard Observer"].copy().align(colour.SpectralShape(380, 780, 1))
    nanometres = np.arange(380, 781)
    seen = (nanometres >= 400) & (nanometres <= 700)
    lamps = {}
    for name, spectrum in colour.SDS_ILLUMINANTS.items():
        if name in LEFT_OUT or name.startswith("ISO"):
            continue
        power = spectrum.copy().interpolate(colour.SpectralShape(380, 780, 1), interpolator=colour.LinearInterpolator)
        power = power.values
        lumens = 683 * np.trapezoid(power * eye.values, nanometres)
        photons = np.trapezoid((power * nanometres)[seen], nanometres[seen]) / JOULE_NANOMETRES
        joules = np.trapezoid(power[seen], nanometres[seen])
        lamps[name] = {"lux": round(float(lumens / photons), 3), "per_joule": round(float(photons / joules), 4)}
    frozen = {
        "library": f"colour-science {version('colour-science')}, numpy {version('numpy')}",
        "lamps": lamps,
        "eye": {str(nm): round(float(eye[nm]), 8) for nm in range(380, 781) if nm % 5 == 0 or 400 <= nm <= 700},
    }
    Path(__file__).with_name("lamp_spectra.json").write_text(json.dumps(frozen, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
