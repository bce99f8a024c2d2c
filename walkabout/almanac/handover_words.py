"""What every handover page says, whatever the room: who may do what, what to look at everywhere, what to beware of.

Common practice throughout; the school's rules, local codes and licensed people decide.
"""

from walkabout.room.model import Who

MAY: tuple[tuple[str, str], ...] = (
    ("Anybody", "looks, counts, writes down, and tops up with plain water to the mark, hands out of the tank."),
    (
        "An adult",
        "handles plugs, pumps, lamps, concentrates, blades and cleaning agents, and says what is eaten.",
    ),
    ("A licensed person", "opens fittings and wiring, and puts plant protection products on plants."),
)
"""Who may do what; the school's own rules come first."""

EVERYWHERE = (
    "From the doorway, then at every station: floor and plugs dry, no smoke or burnt smell, lamps and glass whole, "
    "guards on. If not: hands off, everybody back, fetch an adult."
)
"""Said once for all stations, in place of the questions about people's safety of each."""

TANKS = "Where there is a tank: top it up to its mark with plain water from a jug, and write down the litres."

MAINS = "Water and mains"
"""How a caution begins that the page gives once, for all stations."""
_WATER = (
    f"{MAINS} can kill: touch nothing wet, and leave what has tripped off. An adult cuts the supply; a licensed "
    "electrician decides."
)
_BROKEN = (
    "A broken lamp or broken glass: everybody out, door shut; an adult sees to it. Eyes or skin that hurt hours later: "
    "the nurse or a doctor."
)
_EATEN = (
    "Nothing is sprayed, soap included, and nothing is tasted before an adult has cleared the harvest. Wash hands "
    "after plants, mix and water."
)
CAUTIONS: tuple[str, ...] = (
    _WATER,
    "Smoke, a burnt smell or buzzing: everybody out, call an adult, follow the building's fire rules.",
    _BROKEN,
    "Lamps are hot and bright: nobody looks into them or touches them.",
    "Acid, base and concentrates stay locked away; only an adult who has been shown how uses them.",
    _EATEN,
    "Nobody is here alone out of hours unless somebody knows when they come and go.",
    "The school's rules, local codes and the employer's risk assessment come before this page.",
)
"""Common practice; local codes and licensed people decide."""

KNOWN = "Known already: report it again only if it grows. Nothing from there is eaten before an adult has looked."
COLD = 5.0
"""°C: cut produce is kept so cold, or colder. Food Standards guidance and the FDA Food Code (41 °F), from memory."""
EATING = (
    "Before anybody eats, an adult clears it: allergies asked through the school's own channels, hands and food "
    "washed in drinking water, cut produce kept at {cold} or below, nobody ill, no waiting time or open finding."
)

WHO_SAID: dict[Who, str] = {"pupil": "anybody", "adult": "an adult", "licensed": "a licensed person"}
