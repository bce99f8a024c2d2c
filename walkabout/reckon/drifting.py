"""What a drift means: how EC, pH and level have moved together over some days."""

from walkabout.growing import drift
from walkabout.reckon.correcting_words import CONCENTRATE, SPILLS
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.room.model import Who

DRIFT = "derived from the mass balance of salt and water; what pH says of nitrogen and roots is from memory"


def work_drift(ec: str, ph: str, level: str) -> Reckoned:
    """Read the trends of EC, pH and level together."""
    found = drift.read(ec, ph, level)
    jumps = "erratic" in (ec, ph, level)
    says = [f"{found.strength.means} {found.strength.do}", f"{found.ph.means} {found.ph.do}"]
    if found.together:
        says.append(found.together)
    # An erratic pH alone is said once: both parts would name the same meter.
    if jumps and ph == "erratic":
        says = says[:1]
    cautions: tuple[str, ...] = (ACID,) if ph == "up" and not jumps else ()
    who, caution = _WHO.get(found.strength.verdict, ("pupil", ""))
    if caution:
        cautions = (caution, *cautions)
    return Reckoned(
        results={
            "verdict": Result(found.strength.verdict, says="what EC and level tell"),
            "ph": Result(found.ph.verdict, says="what the pH does"),
        },
        says=tuple(says),
        working=(f"EC {ec}, pH {ph}, level {level}", _why(ec, ph, level)),
        source=DRIFT,
        cautions=cautions,
        do=None
        if found.strength.verdict in ("balanced", "hardly used")
        else ToDo(what=found.strength.do.rstrip("."), who=who, caution=caution),
    )


ACID = (
    "Acid is an adult's work: goggles and gloves on, acid into water and never the other way round; the employer's "
    "risk assessment goes first."
)


_WHO: dict[str, tuple[Who, str]] = {
    "feed too strong": ("pupil", SPILLS),
    "feed too weak": ("adult", CONCENTRATE),
    "thinned": ("adult", CONCENTRATE),
}


def _why(ec: str, ph: str, level: str) -> str:
    if "erratic" in (ec, ph, level):
        return "a reading that jumps says nothing of the plants"
    return {
        "up": "EC = salt ÷ water: it rises when water leaves faster than salt",
        "down": "EC = salt ÷ water: it falls when salt leaves faster than water",
        "steady": "EC = salt ÷ water: it holds when both leave, or come, in step",
    }[ec]


def _trend(key: str, says: str, others: tuple[str, ...]) -> Field:
    return Field(key=key, says=says, kind="word", words=drift.TRENDS, others=others)


RECKONINGS = (
    Reckoning(
        name="drift",
        subject="solution",
        title="What drift tells",
        about="EC, pH and level move together for a reason. Say how each has moved over some days.",
        fields=(
            _trend("ec", "how the EC has moved", ("ec_trend", "strength")),
            _trend("ph", "how the pH has moved", ("ph_trend",)),
            _trend("level", "how the level has moved", ("level_trend", "volume", "water")),
        ),
        work=work_drift,
        example="ec=up ph=steady level=down",
        others=("read-drift", "tank-drift"),
    ),
)
