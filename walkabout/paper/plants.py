"""Plants in words: small greens are counted in trays."""

from walkabout.growing.crops import Crop


def plants_words(count: int, crop: Crop | None) -> str:
    """Say how many plants: '12 plants', '1 plant'; of small greens '2 trays'."""
    noun = "tray" if crop is not None and crop.group == "microgreen" else "plant"
    return f"{count} {noun}{'' if count == 1 else 's'}"
