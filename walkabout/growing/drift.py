"""What it means that the EC, the pH and the level of a tank move as they do.

Derived from the mass balance of `correcting.py` (a tank that loses water faster than salt grows stronger,
and the other way round); what pH says of the form of nitrogen and of roots is common teaching, from
memory. Each reading is 'up', 'down', 'steady' or 'erratic' over some days of looking.
"""

from typing import Literal, get_args

from msgspec import Struct

from walkabout.growing.limits import OutOfRange

Trend = Literal["up", "down", "steady", "erratic"]
TRENDS: tuple[Trend, ...] = get_args(Trend)


class Part(Struct, frozen=True):
    """One half of the reading: a short verdict, what lies behind it, what to do."""

    verdict: str
    means: str
    do: str


class Drift(Struct, frozen=True):
    """What the tank does, what its pH does, and what the two say together where that is more."""

    strength: Part
    ph: Part
    together: str = ""


_STRENGTH: dict[tuple[str, str], Part] = {
    # by the trend of the EC and that of the level
    ("up", "down"): Part(
        "feed too strong",
        "The plants drink water faster than they take up salts, so what is left grows stronger: the feed is too "
        "strong for these conditions.",
        "Top up with plain water or a weaker feed, and see whether the air is hot and dry.",
    ),
    ("down", "down"): Part(
        "feed too weak",
        "The plants take up salts, mostly nitrate, faster than water. Healthy plants can empty a solution so.",
        "Make the feed stronger, unless the EC is still inside the band and the plants look well.",
    ),
    ("steady", "down"): Part(
        "balanced",
        "Water and salts leave in step: the strength of the feed is balanced for these conditions.",
        "Top up with feed as strong as it is now.",
    ),
    ("up", "steady"): Part(
        "salts come in",
        "The level holds and the EC climbs: salts come in faster than the plants take them, by a top-up that is "
        "too strong or hard, by concentrate that was added, or by salt that dissolves late.",
        "Ask who added what, measure the EC of the top-up, stir and measure again.",
    ),
    ("down", "steady"): Part(
        "thinned",
        "The level holds and the EC falls: water replaces what the plants drink, and they take the salts out.",
        "Put feed instead of plain water into the top-up, or strengthen the tank.",
    ),
    ("steady", "steady"): Part(
        "hardly used",
        "Neither water nor salts leave, or the top-up replaces both in step.",
        "If nobody tops it up, look whether the roots drink: pump, roots, light. Seedlings hardly drink.",
    ),
    ("up", "up"): Part(
        "feed came in",
        "Level and EC rise together: feed or concentrate was added, or a doser does not stop.",
        "Ask who added what, and have an adult look at the doser or valve.",
    ),
    ("down", "up"): Part(
        "water came in",
        "The level rises and the EC falls: water came in, from a top-up, an open valve, a leak or condensate.",
        "Find where the water comes from, and strengthen the tank only then.",
    ),
    ("steady", "up"): Part(
        "look at the pump",
        "The level rises and the strength stays: solution drained back out of the pipes because the pump stopped, "
        "or feed of the same strength was added.",
        "Look at once whether the pump runs and every plant gets its water.",
    ),
}

_PH: dict[str, Part] = {
    "up": Part(
        "pH rises",
        "Plants that take nitrate push the pH up, which is usual in good growth; hard, alkaline top-up water does it "
        "too.",
        "An adult corrects it by a small acid dose, not more than about 0.5 at a time.",
    ),
    "down": Part(
        "pH falls",
        "Plants that take ammonium push the pH down, and so do decaying roots or leaves in the water.",
        "Look at the roots and smell the water; ask how much of the feed's nitrogen is ammonium.",
    ),
    "steady": Part("pH holds", "The pH holds: nothing pushes it either way.", "Nothing to do for the pH."),
}

_TOGETHER: dict[tuple[str, str, str], str] = {
    # by EC, pH and level, only where the three say more than the two halves
    ("up", "up", "down"): "Together they point to hard water: its salts and its lime stay behind. Test the water.",
    ("up", "down", "down"): "A strong tank whose pH falls is hard on roots: look at them today.",
    ("down", "up", "down"): "This is strong growth on nitrate: a stronger feed and a small acid correction suit it.",
    ("down", "down", "down"): "They take ammonium along with the rest: a feed with more nitrate would hold the pH.",
    ("up", "up", "steady"): "The automatic top-up is likely hard water. Test its EC and its alkalinity.",
    ("up", "down", "steady"): "Acid raises the EC and lowers the pH: ask whether any was added, and look at the roots.",
    ("down", "up", "steady"): "The top-up water is likely alkaline: test it.",
    (
        "down",
        "down",
        "steady",
    ): "If nobody topped up, something else lives on the salts: look for slime and at the roots.",
    (
        "steady",
        "up",
        "steady",
    ): "Roots that hardly drink do not lift a pH: suspect lime in the medium, or algae.",
    ("steady", "down", "steady"): "Roots that hardly drink, and a falling pH: look for brown, slimy roots today.",
    ("up", "up", "up"): "What came in is alkaline: hard water, potassium carbonate or pH-up. Ask before adding more.",
    ("up", "down", "up"): "Most concentrates are acid: both fit something that was added and not written down.",
    ("down", "up", "up"): "Tap water fits both: it thins the tank, and its lime lifts the pH.",
    (
        "down",
        "down",
        "up",
    ): "Rain, condensate and purified water fit both: they are weak and hold no pH.",
    ("steady", "up", "up"): "If feed was added, the water it was made with is alkaline.",
    ("steady", "down", "up"): "Standing roots rot fast: look at the pump and the roots now.",
}


def read(ec: str, ph: str, level: str) -> Drift:
    """Return what three trends say together; any that is erratic makes its meter the first suspect.

    Raises OutOfRange for a word that is none of `TRENDS`.
    """
    for what, word in (("EC", ec), ("pH", ph), ("level", level)):
        if word not in TRENDS:
            raise OutOfRange(f"the {what} is '{word}': it must be one of {', '.join(TRENDS)}")
    jumping = [what for what, word in (("EC", ec), ("pH", ph), ("level", level)) if word == "erratic"]
    if jumping:
        return Drift(_erratic(jumping), _PH.get(ph, _JUMPING_PH))
    return Drift(_STRENGTH[ec, level], _PH[ph], _TOGETHER.get((ec, ph, level), ""))


def _erratic(jumping: list[str]) -> Part:
    if jumping == ["level"]:
        return Part(
            "check the level",
            "A level that jumps is read at different times, or something drains back and fills again.",
            "Read it at the same hour with the pump in the same state, and watch one full run of the pump.",
        )
    which = " and ".join(jumping)
    more = " Both at once can also be a tank that is badly mixed." if "EC" in jumping and "pH" in jumping else ""
    return Part(
        "check the meter",
        f"{which} jump{'s' if len(jumping) == 1 else ''}: plants do not do that. The meter needs cleaning and "
        f"calibrating, or the tank was not stirred.{more}",
        "Calibrate the meter, stir the tank, and measure twice at the same place before anybody corrects anything.",
    )


_JUMPING_PH = Part(
    "check the pH pen",
    "The pH cannot be read from numbers that jump.",
    "Clean and calibrate the pen in fresh buffers, and correct nothing until two readings agree.",
)
