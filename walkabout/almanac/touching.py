"""What to mind at a job at which hands touch plants: the caution of the crop stands beside that of the job."""

from collections.abc import Iterable

from walkabout.growing.crops import Crop

HANDS = "Wash hands afterwards."


def touching(caution: str, crops: Iterable[Crop]) -> str:
    """Return a job's caution with those of the crops that are handled, each crop once; sap means washing hands."""
    own = {crop.key: crop for crop in crops if crop.caution}
    if not own:
        return caution
    said = [
        f"{crop.name[:1].upper()}{crop.name[1:]}: {crop.caution[:1].lower()}{crop.caution[1:]}" for crop in own.values()
    ]
    hands = () if "ash hands" in caution else (HANDS,)
    return " ".join(filter(None, (caution, *said, *hands)))
