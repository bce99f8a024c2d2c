"""The words of the dictionary for what grows, what it needs and where: plantings, promises, supplies, the room."""

from walkabout.paper.column import Column, code, typed
from walkabout.paper.columns import KEY

PLANTINGS = (
    KEY,
    Column("crop", "The crop, by its name in the crop table."),
    Column("sown", "The day on which it was sown."),
    Column("count", "How many plants stand now: what was lost or picked whole has left it."),
    typed("variety", "The variety."),
    typed("label", "What its label says."),
    Column("brought_in", "Whether it came from elsewhere as plants."),
    Column("apart_until", "The last day on which it stands apart from the others."),
    Column("started", "How many were sown or brought in; empty where that was not written down apart."),
    Column("parted_from", "The key of the planting that it was a part of."),
    Column("ended", "The day on which it ended; empty while it grows."),
    typed("reason", "Why it ended."),
)

MOVES = (
    Column("day", "The day on which it came there."),
    Column("station", "The key of the station to which it came."),
    code("by", "The code of whoever moved it."),
)

STAGES = (
    Column("day", "The day on which it was seen."),
    Column("stage", "What it had reached."),
    Column("count", "How many plants stood then; empty where they were not counted."),
    code("by", "The code of whoever saw it."),
)

LOSSES = (
    Column("day", "The day."),
    Column("count", "How many plants were lost."),
    typed("why", "Why."),
    code("by", "The code of whoever wrote it down."),
)

PICKINGS = (
    Column("day", "The day."),
    Column("count", "How many plants were picked whole; 0 where they stay and are cut again."),
    Column("mass_g", "What it weighed.", "g", "grams"),
    Column("portions", "How many portions it made."),
    Column("promise", "The key of the promise that it went to."),
    code("by", "The code of whoever picked."),
)

PROMISES = (
    KEY,
    Column("crop", "The crop, by its name in the crop table."),
    Column("amount", "How much was promised, in the unit of the next column."),
    Column("unit", "The unit of the amount."),
    Column("day", "The day on which it is to be eaten."),
    typed("people", "For whom: a class or an event."),
    Column("made", "When it was promised."),
    code("by", "The code of whoever promised it."),
    Column("eaters", "How many people are to eat."),
    Column("plantings", "The keys of the plantings that it is to come from; empty for any of the crop."),
    Column("closed", "When it was kept or called off; empty while it is open."),
    typed("reason", "How it ended."),
)

SUPPLIES = (
    KEY,
    typed("name", "What it is called."),
    typed("unit", "The unit in which it is counted."),
    Column("amount", "How much there was at the last count, in its unit."),
    Column("counted", "The day of that count."),
    Column("used", "How much of it goes, in its unit, for each of what the next column says."),
    Column("per", "What it goes with."),
    Column("of", "The tank, crop or lamp that it goes with; empty for every one."),
    Column("pack", "How much is in a pack, in its unit."),
    Column("price", "What a pack costs, in the room's currency."),
    Column("lead_days", "Days from the order to the shelf.", "days"),
    Column("ended", "The day from which on it is no longer kept."),
    code("by", "The code of whoever counted it last."),
)

COUNTS = (
    Column("day", "The day of the count."),
    Column("amount", "How much there was, in the supply's unit."),
    Column("bought", "How much was bought since the count before, in the supply's unit."),
    code("by", "The code of whoever counted."),
)

STATIONS = (
    KEY,
    Column("number", "Its place in the round, from 1; empty where it is none."),
    typed("name", "What it is called."),
    Column("kind", "Its kind: the name of its checklist."),
    Column("lamps", "The keys of its lamps."),
    Column("tank", "The key of its tank; stations with the same key share it."),
    Column("tank_L", "What its tank holds when full.", "L", "tank_litres"),
    Column("change_days", "Days between two changes of its solution.", "days"),
    Column("pumps", "The keys of its pumps."),
    typed("kit", "What else stands there."),
    Column("places", "How many plants have a place there."),
    typed("note", "What is noted about it."),
    Column("in_room", "Whether room.toml has it now."),
)

LAMPS = (
    KEY,
    Column("kind", "Its kind."),
    Column("power_W", "What it takes from the mains.", "W", "watts"),
    Column("lit_h_per_day", "How long it is lit each day.", "h/day", "hours"),
    Column("on", "The time of day at which it is switched on."),
    Column("gap_cm", "How far it hangs above the leaves.", "cm"),
    Column("width_cm", "The width of its lit face.", "cm"),
    Column("length_cm", "The length of its lit face.", "cm"),
    Column("efficacy_umol_per_J", "The light that it gives for each joule, as its maker says.", "µmol/J", "efficacy"),
    Column("since", "The day on which it, or its tube, was put in."),
    Column("rated_h", "The lit hours after which its maker says it should be replaced.", "h", "rated_hours"),
    Column("red_blue", "Whether it gives only red and blue light."),
    Column("enclosed", "Whether it is enclosed; empty where that is not known."),
    typed("mark", "The letter on a discharge lamp's glass."),
    typed("note", "What is noted about it."),
)
