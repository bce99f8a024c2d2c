"""In what a crop is counted: small greens by the tray, all others by the plant."""

from walkabout.growing.crops import Crop


def in_trays(crop: Crop | None) -> bool:
    """Say whether what is counted of a crop are trays; a crop that nobody knows is counted in plants."""
    return crop is not None and crop.group == "microgreen"


def noun(crop: Crop | None, count: float = 2) -> str:
    """Name what is counted: 'plants', 'tray'."""
    word = "tray" if in_trays(crop) else "plant"
    return word if count == 1 else f"{word}s"


def counted(count: int, crop: Crop | None) -> str:
    """Say how many: '12 plants', '1 plant'; of small greens '2 trays'."""
    return f"{count} {noun(crop, count)}"


def unit_word(unit: str, crop: Crop | None, amount: float = 2) -> str:
    """Name a promise's unit ('portions', 'heads' or 'g') for an amount of it; heads of small greens are trays."""
    if unit == "g":
        return unit
    if unit == "heads" and in_trays(crop):
        return noun(crop, amount)
    return unit.removesuffix("s") if amount == 1 else unit


def amount_of(amount: float, unit: str, crop: Crop | None, name: str) -> str:
    """Write an amount of a crop: '24 portions of lettuce', '2 trays of cress', '1250 g of basil'."""
    return f"{amount:g} {unit_word(unit, crop, amount)} of {name}"


def sown_words(count: int, crop: Crop | None, name: str) -> str:
    """Say what is sown: '40 lettuce', of small greens '2 trays of cress'."""
    return f"{counted(count, crop)} of {name}" if in_trays(crop) else f"{count} {name}"
