"""The tank whose pH is moved: the fields that describe it for `acid` and `base`, and what follows from them."""

from msgspec import Struct

from walkabout.growing import carbonate
from walkabout.growing.alkalinity import CACO3_PER_MEQ
from walkabout.growing.elements import WEIGHTS
from walkabout.growing.titration import Water, water
from walkabout.reckon.model import Field

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
CALCIUM = Field(
    key="calcium",
    says="calcium in the solution",
    unit="mg/L",
    low=0,
    high=1000,
    needed=False,
    others=("ca",),
    note="from the alkalinity when it is not known; 0 for softened water",
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
    calcium: float | None = None
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
        lime = None if self.calcium is None else self.calcium / WEIGHTS["Ca"]
        return water(self.meq, self.ph, self.warm, (self.phosphorus or 0) / WEIGHTS["P"], lime)

    def ideal(self) -> float:
        """Return the strong acid by the carbonate formula alone, meq/L; negative when a base is needed."""
        return carbonate.strong_acid(self.meq, self.ph, self.to, self.warm)

    def too_much_dioxide(self) -> bool:
        """Say whether this alkalinity at this pH asks for more carbon dioxide than an open tank keeps."""
        held = carbonate.carbon(self.meq, self.ph, self.warm)
        return held * carbonate.shares(self.ph, self.warm).dioxide > MUCH_DIOXIDE
