"""What to mind at a job at which hands touch plants."""

import re

from walkabout.almanac.touching import touching
from walkabout.checklist.read import read_checklists
from walkabout.growing.crops import load

CROPS = load()


def test_the_sap_of_tomatoes_is_said_beside_the_jobs_own_caution() -> None:
    """Whoever ties in tomatoes reads of the ladder, of the sap, and to wash hands."""
    train = read_checklists().of["vine"].duty["train"]
    assert train.who == "pupil"
    says = touching(train.caution, [CROPS.of["tomato"], CROPS.of["tomato"]])
    assert says.startswith(train.caution)
    assert says.count("Tomato: ") == 1
    assert re.search(r"sap can itch\. Wash hands afterwards\.$", says)


def test_several_crops_have_their_own() -> None:
    """Each crop once, in the order given; hands are washed once."""
    says = touching("Wash hands after mix and feed.", [CROPS.of["celery"], CROPS.of["lettuce"], CROPS.of["tomato"]])
    assert says.index("Celery: ") < says.index("Tomato: ")
    assert "Lettuce" not in says
    assert says.lower().count("wash hands") == 1


def test_a_harmless_crop_adds_nothing() -> None:
    """Lettuce has no caution: the job's own stands alone, and none stays none."""
    assert touching("Steps are for adults.", [CROPS.of["lettuce"]]) == "Steps are for adults."
    assert touching("", []) == ""
