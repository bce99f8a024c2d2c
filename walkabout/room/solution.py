"""What a room makes its solution from and measures it with, as room.toml describes it.

Nothing of this has to be written down. What is, lets the program say how much to add instead of only
that something is to be added.
"""

from typing import Literal

from msgspec import Struct, field

ECScale = Literal["mS/cm", "µS/cm", "CF", "ppm 500", "ppm 640", "ppm 700"]
AcidKind = Literal["nitric", "phosphoric", "sulfuric", "citric"]
BaseKind = Literal["potassium hydroxide", "potassium bicarbonate", "potassium carbonate"]


class Water(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The water that fills the tanks. EC in mS/cm at 25 °C, alkalinity in mg/L of CaCO3, the rest in mg/L."""

    ec: float | None = None
    ph: float | None = None
    alkalinity: float | None = None
    calcium: float | None = None
    magnesium: float | None = None
    sodium: float | None = None
    chloride: float | None = None
    note: str = ""


class Meters(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the room's EC meter shows."""

    ec: ECScale = "mS/cm"
    compensates: bool = True
    """It turns its reading to 25 °C by itself, as most do."""


class Feed(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The concentrates that strengthen a solution."""

    rise: float | None = None
    """By how many mS/cm the EC rises when each litre gets 1 mL of each part."""
    parts: int = 2
    recipe: str = ""
    note: str = ""


class Acid(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The diluted acid that an adult lowers the pH with. `strength` in mol/L."""

    kind: AcidKind
    strength: float


class Base(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The solution that an adult raises the pH with. `strength` in mol/L."""

    kind: BaseKind = "potassium hydroxide"
    strength: float


class Aim(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What this room wants for a crop, in the place of what the crop table says."""

    ph: tuple[float, float] | None = None
    ec: tuple[float, float] | None = None
    source: str = "the room's own aim"


CONTENTS = (
    *("N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo", "Cl", "Na", "Si"),
    *("nitrate_n", "ammonium_n", "urea_n"),
)
"""What a recipe may have a target for: elements, and nitrogen by its form."""


class OwnRecipe(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A recipe of the room's own: mg of each element in a litre."""

    name: str
    mg: dict[str, float] = field(default_factory=dict)
    source: str = "the room's own recipe"
