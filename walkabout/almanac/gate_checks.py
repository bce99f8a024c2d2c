"""What an adult answers before anybody eats what was grown here. Every answer must be yes.

No answer about a person is written down here: who may not eat what is kept by the school, not by this program.
"""

from collections.abc import Iterable, Iterator

from msgspec import Struct

from walkabout.almanac.model import Basis
from walkabout.records.model import Planting
from walkabout.room.model import Who

CLASSROOM = "USDA Food and Nutrition Service, Produce Safety: handling fresh produce in classrooms"
GARDEN = "County of San Diego, Food Safety for Garden to Cafeteria"


class Check(Struct, frozen=True, kw_only=True):
    """One question to an adult; only yes lets anybody eat."""

    id: str
    ask: str
    why: str
    source: str
    who: Who = "adult"


ALWAYS = (
    Check(
        id="permission",
        ask="Has whoever decides here allowed that people eat what grows in this room?",
        why="Many places ask for a plan, a trained person or a permit: the school and the local authority know.",
        source="Institute of Child Nutrition, Food Safety Tips for School Gardens",
    ),
    Check(
        id="allergies",
        ask="Were allergies and diets asked for in the school's own way, just now, for those who eat?",
        why="Who may not eat something is kept by the school and never written here.",
        source="common practice",
    ),
    Check(
        id="well",
        ask="Is everybody well who picks, prepares and serves, and are cuts covered?",
        why="Somebody who is ill or has an open cut does not handle food.",
        source=GARDEN,
    ),
    Check(
        id="hands",
        ask="Have all who pick, serve and eat washed their hands with soap?",
        why="A gel for hands is only second best.",
        source=CLASSROOM,
    ),
    Check(
        id="water",
        ask="Is the harvest washed under running drinking water, never in the solution?",
        why="The solution of a tank is not drinking water.",
        source=f"{GARDEN}; that it runs is common practice",
    ),
    Check(
        id="cold",
        ask="Is what was cut kept at 5 °C (41 °F) or below or eaten at once, and thrown away if left over?",
        why="Cut leaves feed germs once they are warm.",
        source=CLASSROOM,
    ),
)
SEED = Check(
    id="seed",
    ask="Was the seed untreated, without a coloured coating?",
    why="Treated seed is not food, and nor are young plants from it.",
    source="from memory",
)
RAISED = Check(
    id="raised",
    ask="Were these plants raised as food, and is it known what was put on them before they came?",
    why="Plants for the window sill may carry what is not allowed on food.",
    source="common practice",
)
MAT = Check(
    id="mat",
    ask="Is it cut above the mat, with no seed, root or mat in it, and nothing eaten as raw sprouts?",
    why="Germs of the mat can reach the crop, and raw sprouts have made many people ill.",
    source="Deng, Misra, Baker and Gibson 2021, Horticulturae 7(11):446; Michigan On-Farm Produce Safety, microgreens",
)


def checks_for(plantings: Iterable[Planting], basis: Basis) -> tuple[Check, ...]:
    """Return what is asked before these are eaten, each question once."""
    asked = {one.id: one for planting in plantings for one in _of(planting, basis)}
    return (*ALWAYS, *asked.values()) if asked else ALWAYS


def _of(planting: Planting, basis: Basis) -> Iterator[Check]:
    yield RAISED if planting.brought_in else SEED
    crop = basis.crop(planting)
    if crop is None:
        yield Check(
            id=f"food-{planting.crop}",
            ask=f"Is {planting.crop} surely food, and is only the part taken that is eaten?",
            why="It is not in the crop table, so nothing is known of it here.",
            source="assumed",
        )
        return
    if crop.group == "microgreen":
        yield MAT
    if crop.eaten and (crop.caution or crop.group in ("fruiting", "legume", "root")):
        yield Check(
            id=f"part-{crop.key}",
            ask=f"Of {crop.name}, is only this eaten: {crop.eaten}?",
            why=crop.caution or "Other parts of the plant may make people ill.",
            source="the crop table",
        )
