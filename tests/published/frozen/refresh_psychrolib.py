"""Write psychrolib.json anew: moist air over a grid at two pressures. Needs PsychroLib (2.5.0 was used)."""

import json
from importlib.metadata import version
from pathlib import Path

import psychrolib


def cases() -> list[dict[str, float]]:
    """Return temperatures, humidities and pressures with what PsychroLib makes of them, in °C, %, kPa, g/m³."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    made = []
    for pressure in (101325.0, 85000.0):
        for air in (5, 10, 15, 18, 20, 22, 25, 28, 30, 35, 40, 45):
            for rh in (20, 40, 55, 70, 85, 95, 100):
                share = rh / 100
                ratio = psychrolib.GetHumRatioFromRelHum(air, share, pressure)
                made.append(
                    {
                        "air": air,
                        "rh": rh,
                        "pressure": pressure / 1000,
                        "svp": psychrolib.GetSatVapPres(air) / 1000,
                        "vpd": psychrolib.GetVaporPressureDeficit(air, ratio, pressure) / 1000,
                        "dew_point": psychrolib.GetTDewPointFromRelHum(air, share),
                        "wet_bulb": psychrolib.GetTWetBulbFromRelHum(air, share, pressure),
                        "mixing_ratio": ratio * 1000,
                        "grams": ratio / psychrolib.GetMoistAirVolume(air, ratio, pressure) * 1000,
                    }
                )
    return [{name: round(value, 5) for name, value in one.items()} for one in made]


if __name__ == "__main__":
    frozen = {"library": f"PsychroLib {version('PsychroLib')}, SI units", "cases": cases()}
    Path(__file__).with_name("psychrolib.json").write_text(json.dumps(frozen) + "\n", encoding="utf-8")
