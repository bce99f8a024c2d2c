"""What a planting has reached, lost and given, in short lines; and what was put on it and is not over."""

from collections import Counter
from datetime import date

from walkabout.records.model import Planting
from walkabout.records.sums import THINNED, grams_picked, picked_whole, started
from walkabout.round.opened import OpenRoom
from walkabout.round.picking import waiting_words
from walkabout.round.words import day_words

STAGES = {"germinated": "came up", "thinned": "thinned", "flowering": "flowers"}


def told(opened: OpenRoom, planting: Planting) -> str:
    """Say what is on record of it since sowing, in one line; '' where nothing is."""
    today = opened.today()
    parts = [_reached(one.stage, one.day, one.count, today) for one in planting.reached]
    lost = Counter[str]()
    for one in planting.losses:
        if one.why != THINNED:
            lost[one.why or "lost"] += one.count
    parts += [f"{count} {why}" for why, count in lost.items()]
    if planting.pickings:
        whole, grams = picked_whole(planting), grams_picked(planting)
        amounts = [f"{whole} whole"] if whole else []
        amounts += [f"{grams:,.0f} g"] if grams is not None else []
        times = len(planting.pickings)
        parts.append(f"picked {'once' if times == 1 else f'{times} times'}: {', '.join(amounts) or 'not weighed'}")
    began = started(planting)
    first = [f"began with {began}"] if began != planting.count else []
    return " · ".join([*first, *parts])


def warned(opened: OpenRoom, planting: Planting) -> list[str]:
    """Say what was put on it of which the waiting time is not over or not known."""
    return waiting_words(opened, planting) if opened.treatments else []


def _reached(stage: str, day: date, count: int | None, today: date) -> str:
    many = f" ({count})" if count is not None and stage != "flowering" else ""
    return f"{STAGES.get(stage, stage)} {day_words(day, today)}{many}"
